"""`--json` as the command contract names it, key by key, so that other programs can rely on it."""

from __future__ import annotations

import json
from typing import Any

import pytest

SETTLED = ("wings=closed", "colour=blue", "bar=present", "collar=straight", "bump=present", "back-mark=cup")
AT = ("--date", "1 July 2026", "--place", "SU 43 11")


def told(ran: Any, code: int = 0) -> Any:
    """The one JSON object on standard output."""
    assert ran.returncode == code, ran.stderr
    return json.loads(ran.stdout)


def shape(value: Any) -> Any:
    """The names and types of a JSON value; a list is shown by its first member."""
    if isinstance(value, dict):
        return {name: shape(member) for name, member in value.items()}
    if isinstance(value, list):
        return [shape(value[0])] if value else []
    return type(value).__name__


def test_name(tarn_run) -> None:
    """Verdict, candidates, outside, fit, expected, look_next, hinge, key."""
    found = told(tarn_run("name", *SETTLED, *AT, "--json"))
    assert shape(found["verdict"]) == {
        "word": "str",
        "name": "str",
        "vernacular": "str",
        "rank": "str",
        "set": ["str"],
        "guise": "str",
        "probability": "float",
    }
    assert found["verdict"]["word"] in ("settled", "narrowed", "open", "outside")
    for one in found["candidates"]:
        assert all(isinstance(why, str) for why in one.pop("far_down"))
    candidate = {"name": "str", "vernacular": "str", "guise": "str", "probability": "float", "evidence": "float"}
    assert [shape(one) for one in found["candidates"]] == [candidate] * 5 + [{**candidate, "evidence": "NoneType"}]
    assert (shape(found["outside"]), shape(found["fit"])) == ("float", "float")
    assert shape(found["expected"]) == [{"name": "str", "vernacular": "str", "probability": "float"}]
    assert found["hinge"] == "collar=straight"
    assert shape(found["key"]) == {"id": "str", "version": "str", "digest": "str"}
    assert found["key"]["id"] == "tarn-flies"


def test_name_look_next(tarn_run) -> None:
    """Character, gain and effort of each look, best gain per effort first."""
    looks = told(tarn_run("name", "colour=green", *AT, "--json"))["look_next"]
    assert {"character": "str", "gain": "float", "effort": "float"}.items() <= shape(looks[0]).items()
    worth = [look["gain"] / look["effort"] for look in looks]
    assert worth == sorted(worth, reverse=True)


def test_name_without_an_answer_has_no_fit_and_no_hinge(tarn_run) -> None:
    """Null, and not missing."""
    found = told(tarn_run("name", "--json"))
    assert (found["fit"], found["hinge"], found["verdict"]["word"]) == (None, None, "open")


def test_place(tarn_run) -> None:
    """System, square, side, corner, centre, uncertainty, region."""
    found = told(tarn_run("place", "SU 431 118", "--json"))
    assert {name: found[name] for name in ("system", "square", "side_m", "easting", "northing", "region")} == {
        "system": "GB",
        "square": "SU431118",
        "side_m": 100,
        "easting": 443100,
        "northing": 111800,
        "region": ["lowland"],
    }
    assert (shape(found["latitude"]), shape(found["longitude"])) == ("float", "float")
    assert found["uncertainty_m"] == 76


def test_place_fault(tarn_run) -> None:
    """A fault is an object too, and wrong usage."""
    found = told(tarn_run("place", "SU 431", "--json"), 2)
    assert shape(found) == {"fault": {"code": "str", "message": "str", "hint": "str", "said": "str"}}


def test_log_gives_the_ids_written(log, listed) -> None:
    """The visit's and the sightings', as they then stand in the ledger."""
    found = told(log("2m 3f pale", "1 great", "--json"))
    kept = listed()
    assert set(found["sightings"]) == {one["id"] for one in kept}
    assert {found["visit"]} == {one["visit_id"] for one in kept}
    assert len(found["sightings"]) == 3


def test_a_dry_run_of_log_gives_what_would_be_written(tarn_run, run, owned) -> None:
    """People by name, and no ids, for there is nothing that has one."""
    found = told(tarn_run("log", "--dry-run", "--json", "visit 2025-07-12 @ SU 431 118 all", "2m 3f pale by Cat Rush"))
    assert (found["dry_run"], found["joins"]) == (True, None)
    assert (found["visit"]["date"], found["visit"]["observers"]) == ("2025-07-12", ["Ada Marsh"])
    assert [(one["count"], one["sex"], one["observers"]) for one in found["sightings"]] == [
        (2, "male", ["Cat Rush"]),
        (3, "female", ["Cat Rush"]),
    ]
    assert {one["typed"] for one in found["sightings"]} == {"2m 3f pale by Cat Rush"}
    assert not {"id", "visit_id", "line_id"} & set(found["sightings"][0])
    assert run("ledger", "list", "--json").stdout == ""


def test_ledger_list_gives_one_object_per_sighting(log, listed) -> None:
    """What, where, when and who, in plain values."""
    log("3 cop pale  # on sedge")
    (found,) = listed()
    plain = {
        name: value for name, value in found.items() if name not in ("id", "visit_id", "line_id", "record", "visit")
    }
    assert plain.pop("written_at").endswith("Z")
    assert 50 < plain.pop("latitude") < 52
    assert -2 < plain.pop("longitude") < -1
    assert plain == {
        "date": "2025-07-12",
        "name": "Tarnula pallida",
        "rank": "species",
        "vernacular": "Pale Rushlet",
        "one_of": [],
        "count": 6,
        "count_kind": "exact",
        "pairs": 3,
        "sex": None,
        "stage": "adult",
        "behaviour": ["copulating"],
        "place": "SU431118",
        "uncertainty_m": 76,
        "locality": "",
        "observers": ["Ada Marsh"],
        "determiner": "Ada Marsh",
        "certainty": None,
        "evidence": None,
        "remarks": "on sedge",
        "typed": "3 cop pale  # on sedge",
        "act": "recorded",
        "verification": None,
    }


def test_check_gives_one_object_per_query(tarn_run, log, listed) -> None:
    """Code, severity, sighting, reason, remedy."""
    log("1 pale f", "1 lone m")
    ran = tarn_run("check", "--json")
    found = [json.loads(line) for line in ran.stdout.splitlines()]
    assert found
    assert {frozenset(one) for one in found} == {frozenset(("code", "severity", "sighting", "reason", "remedy"))}
    assert {one["sighting"] for one in found} == {one["id"] for one in listed()}


def test_keys_check(run) -> None:
    """Counts, values by source, faults."""
    from tarn import FOLDER

    found = told(run("keys", "check", FOLDER, "--json"))
    assert (found["species"], found["guises"], found["characters"], found["faults"]) == (6, 12, 8, [])
    assert shape(found["values_by_source"]) == {"memory": "int", "practice": "int", "fellman": "int"}


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252"])
def test_json_is_json_whatever_the_stream_can_show(log, run, encoding: str) -> None:
    """Signs that the stream lacks are escaped as JSON escapes them."""
    log("1 pale m  # Bédoin 池 🐝")
    ran = run("ledger", "list", "--json", env={"PYTHONIOENCODING": encoding})
    assert json.loads(ran.stdout)["remarks"] == "Bédoin 池 🐝"


def test_people(owned) -> None:
    """One object a line: who is who; how to reach them only where asked for."""
    assert owned("people", "--add", "Ben Sallow", "--contact", "ben@example.org").returncode == 0
    found = [json.loads(line) for line in owned("people", "--json").stdout.splitlines()]
    assert [(one["name"], one["me"], one["forgotten"]) for one in found] == [
        ("Ada Marsh", True, False),
        ("Ben Sallow", False, False),
    ]
    assert all("contact" not in one for one in found)
    found = [json.loads(line) for line in owned("people", "--json", "--contacts").stdout.splitlines()]
    assert [one["contact"] for one in found] == ["", "ben@example.org"]


def test_keys(run) -> None:
    """One object a line: id, version and title."""
    found = [json.loads(line) for line in run("keys", "list", "--json").stdout.splitlines()]
    assert [one["id"] for one in found] == ["odonata-britain-ireland", "odonata-exuviae"]
    assert all(shape(one) == {"id": "str", "version": "str", "title": "str"} for one in found)
