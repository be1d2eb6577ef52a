"""A walk into the ledger: one visit with its sightings, whole or not at all."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest

from reedmace.keys.model import Key
from reedmace.ledger.store import Ledger, open_ledger
from reedmace.places.place import read_place
from reedmace.records import Sighting, Visit
from reedmace.tasks.naming.keep_naming import as_naming
from reedmace.tasks.shared.dates import read_date
from reedmace.tasks.shared.setting import regions_of
from reedmace.tasks.shorthand.line import Line, read_line
from reedmace.tasks.walks.log_walk import Occasion, log_lines, place_of_said
from tarn import TODAY, look

WHEN = "2026-07-12T10:00:00Z"


@pytest.fixture
def new_id() -> Callable[[], str]:
    """Ids that count: id-1, id-2 and so on."""
    numbers = count(1)
    return lambda: f"id-{next(numbers)}"


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """A new ledger."""
    with open_ledger(tmp_path / "walk.ledger") as opened:
        yield opened


def lines(key: Key, *typed: str) -> list[Line]:
    """Lines understood."""
    return [line for line in (read_line(key, text) for text in typed) if isinstance(line, Line)]


def occasion(key: Key, when: str = "12 July 2026", where: str = "SU 431 118", **more: str) -> Occasion:
    """A day at a place."""
    place = read_place(where)
    return Occasion(read_date(when, TODAY), place, regions=regions_of(key, place), **more)


def log(
    ledger: Ledger, key: Key, new_id: Callable[[], str], at: Occasion, *typed: str, name: str = "Ada Marsh"
) -> tuple[Visit, list[Sighting]]:
    """Log lines for somebody."""
    person = ledger.people.register(name, new_id)
    return log_lines(ledger, key, at, lines(key, *typed), person=person, written_at=WHEN, new_id=new_id)


def visits(ledger: Ledger) -> list[Visit]:
    """Every visit as it stands."""
    return [visit for visit, _ in ledger.current_visits()]


def test_what_is_logged_stands_in_the_ledger_as_it_was_returned(tarn: Key, ledger: Ledger, new_id) -> None:
    """The ledger gives back the very values that the task returned."""
    visit, sightings = log(ledger, tarn, new_id, occasion(tarn, habitat="tarn"), "12 pale m", "3 cop misty  # on sedge")
    kept = list(ledger.current_sightings())
    assert {sighting.id for sighting, _, _ in kept} == {sighting.id for sighting in sightings}
    assert {sighting for sighting, _, _ in kept} == set(sightings)
    assert {standing for _, standing, _ in kept} == {visit}
    pairs = next(sighting for sighting in sightings if sighting.pairs)
    assert (pairs.pairs, pairs.count, pairs.sex, pairs.behaviour) == (3, 6, None, ("copulating",))
    assert (pairs.typed, pairs.remarks) == ("3 cop misty  # on sedge", "on sedge")


def test_sightings_of_one_line_share_its_id_and_lines_do_not(tarn: Key, ledger: Ledger, new_id) -> None:
    """`2m 3f` is two sightings of one line, to be taken back together."""
    _, sightings = log(ledger, tarn, new_id, occasion(tarn), "2m 3f pale", "4 pale")
    assert [(one.sex, one.count) for one in sightings] == [("male", 2), ("female", 3), (None, 4)]
    assert sightings[0].line_id == sightings[1].line_id != sightings[2].line_id
    assert len({one.id for one in sightings}) == 3


def test_the_same_day_place_and_person_is_one_visit(tarn: Key, ledger: Ledger, new_id) -> None:
    """Lines logged later the same day belong to the walk that is there."""
    first, _ = log(ledger, tarn, new_id, occasion(tarn), "12 pale m")
    second, _ = log(ledger, tarn, new_id, occasion(tarn), "2 great")
    assert first == second
    assert visits(ledger) == [first]
    assert len(list(ledger.current_sightings())) == 2


@pytest.mark.parametrize(
    "other",
    [
        {"when": "11 July 2026"},
        {"where": "SU 431 119"},
        {"where": "SU 43 11"},
        {"locality": "Sallow Farm"},
        {"remarks": "windy"},
        {"habitat": "beck"},
    ],
)
@pytest.mark.parametrize("plain_first", [True, False])
def test_another_day_place_or_word_is_another_visit(
    tarn: Key, ledger: Ledger, new_id, other: dict[str, str], plain_first: bool
) -> None:
    """What a visit says of its place is said of all its sightings, so a different word is a different visit."""
    occasions = [occasion(tarn), occasion(tarn, **other)]
    for at in occasions if plain_first else reversed(occasions):
        log(ledger, tarn, new_id, at, "12 pale m")
    assert len(visits(ledger)) == 2


def test_another_person_is_another_visit(tarn: Key, ledger: Ledger, new_id) -> None:
    """Two people at one pond keep their own records."""
    log(ledger, tarn, new_id, occasion(tarn), "12 pale m", name="Ada Marsh")
    log(ledger, tarn, new_id, occasion(tarn), "12 pale m", name="Ben Sallow")
    assert len(visits(ledger)) == 2


def test_the_place_keeps_what_was_typed_beside_what_it_means(tarn: Key) -> None:
    """A six-figure square: its side, centre and uncertainty; a position from a phone stays a position."""
    square = place_of_said(tarn, occasion(tarn, where=" SU 431 118 ", locality="Sallow Farm").said())
    assert (square.typed.strip(), square.square, square.side_m, square.system) == ("SU 431 118", "SU431118", 100, "GB")
    assert (square.regions, square.locality) == (("lowland",), "Sallow Farm")
    # ceil(100 / sqrt(2) * 1.0004 + 5) = 76: half the diagonal of the square, and 5 m for the datum.
    assert square.uncertainty_m == 76
    position = place_of_said(tarn, occasion(tarn, where="51.06, -1.31").said())
    assert (position.system, position.latitude, position.longitude) == ("WGS84", 51.06, -1.31)
    # A square derived from a position is never claimed finer than 100 m.
    assert position.side_m is None or position.side_m >= 100


def test_a_doubtful_name_is_kept_as_doubt_and_never_in_the_name(tarn: Key, ledger: Ledger, new_id) -> None:
    """`?` becomes a certainty; the scientific name stays plain."""
    _, (sighting,) = log(ledger, tarn, new_id, occasion(tarn), "1 f misty ?")
    assert sighting.certainty == "uncertain"
    assert sighting.taxon.scientific_name == "Tarnula nebula"


def test_who_wrote_it_named_it_on_the_day_of_the_visit(tarn: Key, ledger: Ledger, new_id) -> None:
    """The determiner is a person, never the program."""
    _, (sighting,) = log(ledger, tarn, new_id, occasion(tarn, "11 July 2026"), "pale")
    assert ledger.people.name_of(sighting.determiner) == "Ada Marsh"
    assert sighting.determined_on == "2026-07-11"


def test_the_reasoning_of_a_conversation_is_kept_with_the_sighting(tarn: Key, ledger: Ledger, new_id) -> None:
    """And reads back equal, ranking and all."""
    naming = as_naming(look(tarn, "wings=closed colour=blue bar=present"))
    person = ledger.people.register("Ada Marsh", new_id)
    log_lines(
        ledger,
        tarn,
        occasion(tarn),
        lines(tarn, "1 pale m"),
        person=person,
        written_at=WHEN,
        new_id=new_id,
        naming=naming,
    )
    ((sighting, _, _),) = ledger.current_sightings()
    assert sighting.naming == naming


def test_nothing_is_written_of_a_walk_that_cannot_be_written_whole(tarn: Key, ledger: Ledger, new_id) -> None:
    """The second line breaks on its way in: the first is not there either."""
    person = ledger.people.register("Ada Marsh", new_id)
    good, bad = lines(tarn, "12 pale m", "3 misty")
    broken = bad._replace(said=bad.said._replace(tallies=(bad.tallies[0]._replace(count=0),)))
    with pytest.raises(Exception, match="zero-count"):
        log_lines(ledger, tarn, occasion(tarn), [good, broken], person=person, written_at=WHEN, new_id=new_id)
    assert visits(ledger) == []
    assert list(ledger.current_sightings()) == []


def test_a_doubted_sex_or_stage_is_not_recorded_as_certain(tarn: Key, ledger: Ledger, new_id) -> None:
    """No sex, and no stage at all rather than the adult that goes without saying; the words stay in the remarks."""
    _, sightings = log(ledger, tarn, new_id, occasion(tarn), "2m? 1f pale", "3 pale ten?", "4 pale", "12? pale")
    assert [(one.count, one.count_kind, one.sex, one.stage, one.certainty) for one in sightings] == [
        (2, "exact", None, "adult", None),
        (1, "exact", "female", "adult", None),
        (3, "exact", None, None, None),
        (4, "exact", None, "adult", None),
        (12, "estimate", None, "adult", None),
    ]
    assert [one.remarks for one in sightings] == ["2m?", "2m?", "ten?", "", "12?"]
    assert sightings[0].typed == "2m? 1f pale"


def test_a_remark_behind_a_photograph_is_no_file(tarn: Key, ledger: Ledger, new_id) -> None:
    """Only what ends as files of photographs do is one."""
    _, [one, other] = log(
        ledger, tarn, new_id, occasion(tarn), 'pale m photo, "on the reeds"', 'pale m photo "the reeds.JPG"'
    )
    assert (one.photos, one.remarks, one.evidence) == ((), "on the reeds", "photo")
    assert ([photo.path for photo in other.photos], other.remarks) == (["the reeds.JPG"], "")
