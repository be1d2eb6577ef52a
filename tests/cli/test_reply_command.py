"""`reedmace reply` as somebody uses it: a file of answers comes back, finds its records, and overwrites nothing."""

from __future__ import annotations

import csv
import json
from datetime import date, timedelta
from pathlib import Path

import pytest

from cli.seat import Seat
from reedmace.ledger.store import open_ledger
from reedmace.ledger.submissions import Submission, mark
from reedmace.records.verification import Verification
from reedmace.tasks.replies.columns import guess_reply
from reedmace.tasks.replies.recorder_replies import read_replies
from reedmace.tasks.sheets.rows import look_at

HEAD = "Record ID,Species,Date,Grid ref,Verification,Verified by,Date verified,Comments"
EVIL = "[/x] :bee: \x1b[31mred\u202e שלום"


@pytest.fixture
def walked(log, listed):
    """Three kinds on one walk of 12 July 2025; the sightings by English name, the pairs under `pairs`."""
    log("12 pale m", "3 cop misty", "1 great f #by the sluice", "2 misty m")
    found = {one["vernacular"] + (" pairs" if one["pairs"] else ""): one for one in listed()}
    return {"pale": found["Pale Rushlet"], "pairs": found["Misty Rushlet pairs"], **found}


@pytest.fixture
def answers(tmp_path, tarn_run):
    """Write a file of answers and read it: `answers("pale's id,...")`; gives what the command left behind."""

    def reading(*lines: str, head: str = HEAD, more: tuple[str, ...] = (), name: str = "answers.csv", **rest):
        text = "\n".join((head, *lines)) + "\n"
        (tmp_path / name).write_text(text, encoding="utf-8")
        return tarn_run("reply", name, *more, **rest)

    return reading


def _faulty(folder: Path, name: str = "answers.csv.faults.csv") -> list[dict[str, str]]:
    return list(csv.DictReader((folder / name).read_text(encoding="utf-8-sig").splitlines()))


def test_an_answer_by_id_is_kept_beside_the_record_and_read_twice_adds_nothing(answers, walked, run, listed) -> None:
    """Verifier, status, date and remark; the record reads as before."""
    pale = walked["pale"]
    row = f'{pale["id"]},Pale Rushlet,12/07/2025,SU 431 118,Accepted - correct,Tarn Fenwick,2/11/2025,"nice, thanks"'
    ran = answers(row)
    assert ran.returncode == 0, ran.stderr
    assert "Kept 1 answer from 1 row." in ran.stdout
    assert "Verification" in ran.stderr  # what the columns were taken to mean
    [now] = listed("--species", "Pale Rushlet")
    assert now.pop("verification") == {
        "status": "correct",
        "said": "correct",
        "verifier": "Tarn Fenwick",
        "date": "2025-11-02",
        "remark": "nice, thanks",
        "about": pale["name"],
        "name": "",
    }
    assert now == {field: value for field, value in pale.items() if field != "verification"}
    before = run("ledger", "dump").stdout
    assert "In the ledger already: 1." in answers(row).stdout
    assert run("ledger", "dump").stdout == before
    story = run("ledger", "history", pale["id"]).stdout
    assert "Ada Marsh wrote down the county recorder's reply (nice, thanks)" in " ".join(story.split())
    assert "correct (Tarn Fenwick, 2025-11-02)" in story


@pytest.mark.parametrize(
    ("typed", "status"),
    [
        ("Accepted – considered correct", "considered correct"),
        ("ACCEPTED", "considered correct"),
        ("Not accepted: unable to verify", "unable to verify"),
        ("Not accepted - incorrect", "incorrect"),
        ("Unconfirmed - not reviewed", "not reviewed"),
        ("Unconfirmed - plausible", "plausible"),
        ("confirmed", "correct"),
        ("query", "unconfirmed"),
    ],
)
def test_usual_spellings_mean_one_of_seven(answers, walked, typed: str, status: str) -> None:
    """However a county recorder writes a decision."""
    ran = answers(f"{walked['pale']['id']},,,,{typed},Tarn Fenwick,,", more=("--json",))
    assert ran.returncode == 0, ran.stderr
    assert [one["status"] for one in json.loads(ran.stdout)["answers"]] == [status]


def test_unable_to_verify_is_never_taken_for_incorrect(answers, walked, listed, tmp_path) -> None:
    """The words "not accepted" alone could mean either, so it comes back to be said plainly."""
    ran = answers(f"{walked['pale']['id']},,,,unable to verify,Tarn Fenwick,,", more=("--json",))
    assert ran.returncode == 0
    assert (len(listed("--status", "unconfirmed")), listed("--status", "incorrect")) == (1, [])
    ran = answers(f"{walked['pale']['id']},,,,Not accepted,Tarn Fenwick,,")
    assert ran.returncode == 1
    [row] = _faulty(tmp_path)
    assert (row["fault"], row["what to do"]) == ("status-unclear", "write  incorrect  or  unable to verify")


@pytest.mark.parametrize(
    ("typed", "name", "status"),
    [
        ("Redetermined", "Misty Rushlet", "incorrect"),
        ("re-det.", "Misty Rushlet", "incorrect"),
        ("Not accepted", "Misty Rushlet", "incorrect"),
        ("rejected", "Misty Rushlet", "incorrect"),
        ("Not accepted", "Tarnula", None),
        ("Redetermined", "", None),
        ("reviewed", "Misty Rushlet", None),
    ],
)
def test_another_name_says_what_a_decision_meant(
    answers, walked, tmp_path, typed: str, name: str, status: str | None
) -> None:
    """Whoever names it otherwise says that it was wrong; beside a genus "not accepted" could be that none can."""
    row = f"{walked['pale']['id']},,,,{typed},Tarn Fenwick,,,{name}"
    ran = answers(row, head=f"{HEAD},Correct name", more=("--json",))
    assert [one["status"] for one in json.loads(ran.stdout)["answers"]] == ([status] if status else [])
    if status is None:
        assert [row["fault"] for row in _faulty(tmp_path)] == ["status-unclear"]


def test_what_does_not_fit_comes_back_with_its_fault_and_stops_nobody(answers, walked, tmp_path, run) -> None:
    """No record, another record's id, contradictions, an unknown word; corrected there, the file reads."""
    pale, great = walked["pale"]["id"], walked["Great Skimwing"]["id"] if "Great Skimwing" in walked else ""
    great = great or next(one["id"] for name, one in walked.items() if name.startswith("Great"))
    visit = walked["pale"]["visit_id"]
    lines = (
        f"{pale},Pale Rushlet,12/07/2025,SU 431 118,correct,Tarn Fenwick,,",
        f"{great},Misty Rushlet,13/07/2024,TQ 38,incorrect,Tarn Fenwick,,",  # the id of one, the words of another
        "0000-not-ours,,,,correct,Tarn Fenwick,,",
        f"{visit},,,,correct,Tarn Fenwick,,",
        f"{pale},,,,splendid,Tarn Fenwick,,",
        f"{pale},,,,correct,,,",
        ",Pale Rushlet,12/07/2025,TQ 38,correct,Tarn Fenwick,,",
        f"{pale},,,,,Tarn Fenwick,,",
        "0000-not-ours,,,,,,,",
    )
    ran = answers(*lines)
    assert ran.returncode == 1
    assert "Kept 1 answer from 9 rows." in ran.stdout
    assert "Rows without an answer: 2." in ran.stdout
    found = [(row["line in the file"], row["fault"]) for row in _faulty(tmp_path)]
    assert found == [
        ("3", "reply-of-another"),
        ("4", "matches-nothing"),
        ("5", "not-a-sighting"),
        ("6", "unknown-status"),
        ("7", "verifier-missing"),
        ("8", "matches-nothing"),
    ]
    assert all(row["why"] and row["what to do"] for row in _faulty(tmp_path))
    ran = run("reply", "answers.csv.faults.csv")
    assert "Faulty rows: 6" in ran.stdout  # nothing was corrected, and nothing is lost
    assert [row["Record ID"] for row in _faulty(tmp_path, "answers.csv.faults.csv.faults.csv")] == [
        row["Record ID"] for row in _faulty(tmp_path)
    ]


def test_a_date_that_may_be_the_decisions_corrects_nothing_until_it_is_said(answers, walked, tmp_path, listed) -> None:
    """A column headed "Date" beside a decision: the day of it, or a correction: it comes back to be said."""
    pale, head = walked["pale"], "Record ID,Status,Verifier,Date"
    row = f"{pale['id']},correct,Tarn Fenwick,20/11/2025"
    assert answers(row, head=head, more=("--accept", "all")).returncode == 1
    assert [one["fault"] for one in _faulty(tmp_path)] == ["reply-date-unclear"]
    assert [one["date"] for one in listed() if one["id"] == pale["id"]] == [pale["date"]]
    ran = answers(row, head=head, more=("--map", "Date=date verified", "--json"))
    assert [(one["id"], one["status"]) for one in json.loads(ran.stdout)["answers"]] == [(pale["id"], "correct")]


def test_a_date_later_than_the_writing_down_is_the_decisions(walked, tarn, tmp_path, clean_env) -> None:
    """Nothing is seen after it was written down: so it corrects nothing, and nobody need be asked."""
    file = tmp_path / "answers.csv"
    tomorrow, week = (date.today() + timedelta(days=days) for days in (1, 7))
    for day, kept in ((tomorrow, 0), (week, 1)):
        file.write_text(f"Record ID,Status,Verifier,Date\n{walked['pale']['id']},correct,Tarn Fenwick,{day}\n")
        sheet = look_at(str(file))
        with open_ledger(clean_env["REEDMACE_LEDGER"]) as ledger:
            read = read_replies(ledger, tarn, sheet, guess_reply(sheet.columns), "", date.today() + timedelta(days=30))
        assert [(one.said.date, one.offers) for one in read.answers] == [(str(day), ())] * kept
        assert [fault.code for _, faults in read.faulty for fault in faults] == ["reply-date-unclear"] * (1 - kept)


@pytest.mark.parametrize("word", ["correct", "Accepted", "OK"])
def test_who_accepts_a_record_under_another_name_does_not_accept_ours(answers, walked, tmp_path, listed, word) -> None:
    """Whether that name stands in a column of its own or in the one that was sent."""
    pale = walked["pale"]["id"]
    for head, row in (
        ("Record ID,Status,Verifier,Correct name", f"{pale},{word},Tarn Fenwick,Misty Rushlet"),
        ("Record ID,Species,Status,Verifier", f"{pale},Misty Rushlet,{word},Tarn Fenwick"),
    ):
        assert answers(row, head=head).returncode == 1
        assert _faulty(tmp_path)[-1]["fault"] == "reply-contradicts"
    assert listed("--status", "verified") == []
    said = Verification("considered correct", "p", about="Tarnula pallida", name="Tarnula nebula")
    assert (said.holds_for("Tarnula pallida"), said.holds_for("Tarnula nebula")) == ("", "correct")


@pytest.mark.parametrize("word", ["Accepted - correct", "correct", ""])
def test_who_accepts_a_pair_and_names_one_of_it_contradicts_nothing(log, listed, answers, word: str) -> None:
    """The pair was right, and the name within it is on offer; taken up, it is the verifier's."""
    log("2 pale/misty rushlet")
    [pair] = listed()
    row = f"{pair['id']},{word},Tarn Fenwick,Misty Rushlet"
    ran = answers(row, head="Record ID,Status,Verifier,Correct name", more=("--accept", "all"))
    assert ran.returncode == 0, ran.stderr
    [now] = listed("--status", "verified")
    assert now["name"] == "Tarnula nebula"
    said = Verification("correct", "p", about="Tarnula", name="Tarnula nebula")
    assert (said.holds_for("Tarnula"), said.holds_for("Tarnula nebula")) == ("correct", "correct")
    assert said._replace(name="Mossopa ditonga").holds_for("Tarnula") == ""


@pytest.mark.parametrize(
    ("typed", "date_typed"),
    [("20/11/25", "12/7/25"), ("20-Nov-25", "12-Jul-25"), ("45981", "45850"), ("20.11.2025", "2025-07-12")],
)
def test_days_as_spreadsheets_write_them_are_read(answers, walked, listed, typed: str, date_typed: str) -> None:
    """A year of two digits has one reading beside a record; a number is the spreadsheet's day."""
    row = f"{walked['pale']['id']},correct,Tarn Fenwick,{typed},{date_typed}"
    ran = answers(row, head="Record ID,Status,Verifier,Date verified,Correct date", more=("--json",))
    assert ran.returncode == 0, ran.stderr
    [one] = json.loads(ran.stdout)["answers"]
    assert (one["date"], one["offers"]) == ("2025-11-20", [])


def test_a_day_without_its_year_is_asked_for_the_year_in_full(answers, walked, tmp_path) -> None:
    """Nothing says whose year it would be."""
    row = f"{walked['pale']['id']},correct,Tarn Fenwick,20 November"
    assert answers(row, head="Record ID,Status,Verifier,Date verified").returncode == 1
    [back] = _faulty(tmp_path)
    assert "--century" not in back["what to do"]


def test_a_decision_before_the_sighting_comes_back(answers, walked, tmp_path, listed) -> None:
    """A slip in the one date or the other."""
    row = f"{walked['pale']['id']},correct,Tarn Fenwick,1/1/2025"
    assert answers(row, head="Record ID,Status,Verifier,Date verified").returncode == 1
    assert [one["fault"] for one in _faulty(tmp_path)] == ["reply-too-early"]
    assert listed("--status", "verified") == []


def test_a_column_of_our_ids_is_known_by_its_cells(answers, walked) -> None:
    """Whatever its heading; but not one in which anything else stands."""
    pale = walked["pale"]["id"]
    visit = walked["pale"]["visit_id"]  # an id of ours too, but of no record
    ran = answers(f"{visit},{pale},correct,Tarn Fenwick", head="Walk,Yours,Status,Who")
    assert ran.returncode == 0, ran.stderr
    assert "Kept 1 answer from 1 row." in ran.stdout
    ran = answers(f"{pale},correct,Tarn Fenwick", "mine,correct,Tarn Fenwick", head="Yours,Status,Who")
    assert (ran.returncode, "no-record-columns" in ran.stderr) == (2, True)


def test_two_rows_that_say_different_things_both_come_back(answers, walked, tmp_path, listed) -> None:
    """Neither is taken for the answer; the same twice is one answer."""
    pale = walked["pale"]["id"]
    ran = answers(f"{pale},,,,correct,Tarn Fenwick,,", f"{pale},,,,incorrect,Tarn Fenwick,,")
    assert [row["fault"] for row in _faulty(tmp_path)] == ["reply-twice", "reply-twice"]
    assert "Kept 0 answers" in ran.stdout
    ran = answers(f"{pale},,,,correct,Tarn Fenwick,,", f"{pale},,,,correct,Tarn Fenwick,,")
    assert (ran.returncode, "Kept 1 answer" in ran.stdout) == (0, True)
    assert len(listed("--status", "verified")) == 1


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("Harrowmere, Sallow Farm pond", True),
        ("sallow farm  pond", True),
        ("Harrowmere", True),
        ("Sallow Farm pond, Harrowshire", False),
        ("Sallow", False),
        ("pond", False),
    ],
)
def test_the_name_of_a_place_may_be_a_part_of_it_between_commas(answers, log, typed: str, found: bool) -> None:
    """A village or a pond; of words within a part nobody knows what they mean."""
    log("12 pale m", "--locality", "Harrowmere, Sallow Farm pond")
    row = f'Pale Rushlet,12/07/2025,"{typed}",ok,Tarn Fenwick'
    ran = answers(row, head="Species,Date,Site,Verification,Verified by", more=("--dry-run",))
    assert ("considered correct → Pale Rushlet" in ran.stdout) == found


def test_without_ids_records_are_found_by_name_date_and_place_and_wait_for_a_yes(answers, walked, tmp_path, listed):
    """Both records of a kind on one walk answer to one row; nothing is written until it is confirmed."""
    row = "Misty Rushlet,12/07/2025,SU41,ok,Tarn Fenwick"
    head = "Species,Date,Grid ref,Verification,Verified by"
    ran = answers(row, head=head)
    assert ran.returncode == 1
    assert ran.stdout.count("considered correct → Misty Rushlet") == 2
    assert [one["fault"] for one in _faulty(tmp_path)] == ["match-not-confirmed"]
    assert listed("--status", "verified") == []
    ran = answers(row, head=head, more=("--yes",))
    assert (ran.returncode, "Kept 2 answers from 1 row." in ran.stdout) == (0, True)
    assert len(listed("--status", "verified")) == 2
    ran = answers(row, head=head)  # known already: nothing to confirm
    assert (ran.returncode, "In the ledger already: 2." in ran.stdout) == (0, True)
    ran = answers(
        "Misty Rushlet,12/07/2025,SU41,3 cop,incorrect,Tarn Fenwick",
        head=f"{head}".replace("Verification", "Count,Verification"),
        more=("--yes", "--json"),
    )
    assert [one["id"] for one in json.loads(ran.stdout)["answers"]] == [walked["pairs"]["id"]]


def test_corrections_are_on_offer_until_they_are_accepted(answers, walked, listed, run) -> None:
    """A new name, day, place and count; what was said in the field stays in the history."""
    pale = walked["pale"]
    head = f"{HEAD},Correct name,Correct date,Correct grid ref,Correct count,Correct stage"
    row = f"{pale['id']},,,,incorrect,Tarn Fenwick,2/11/2025,wing bases,Misty Rushlet,13/07/2025,SU 431 119,11,imm"
    ran = answers(row, head=head)
    assert ran.returncode == 0
    assert "Corrections on offer for 1 record; nothing is changed yet:" in ran.stdout
    assert "count: 12 → 11" in ran.stdout
    assert next(one for one in listed() if one["id"] == pale["id"])["name"] == pale["name"]
    ran = answers(row, head=head, more=("--accept", pale["id"][-12:]))
    assert "Corrected: 1 record" in ran.stdout, ran.stdout + ran.stderr
    now = next(one for one in listed() if one["id"] == pale["id"])
    assert (now["vernacular"], now["date"], now["place"]) == ("Misty Rushlet", "2025-07-13", "SU431119")
    assert (now["count"], now["record"]["stage"], now["determiner"]) == (11, "immature", "Tarn Fenwick")
    assert now["verification"]["status"] == "correct"  # under the name that the verifier gave
    assert {one["date"] for one in listed() if one["id"] != pale["id"]} == {"2025-07-12"}
    story = " ".join(run("ledger", "history", pale["id"]).stdout.split())
    assert "Tarn Fenwick named it anew (county recorder's reply: wing bases)" in story
    assert "12, male" in story
    before = run("ledger", "dump").stdout
    ran = answers(row, head=head, more=("--accept", "all"))
    assert run("ledger", "dump").stdout == before
    assert run("ledger", "audit").stdout == "Everything is as it should be.\n"


def test_a_date_that_is_wrong_for_the_whole_walk_amends_the_visit(answers, walked, listed, run) -> None:
    """All sightings get the same day: one entry for the visit, none for the sightings."""
    head = "occurrenceID,identificationVerificationStatus,verified by,new date"
    everything = listed()
    ran = answers(
        *(f"{one['id']},ok,Tarn Fenwick,11/07/2025" for one in everything), head=head, more=("--accept", "all")
    )
    assert ran.returncode == 0, ran.stdout
    assert {(one["date"], one["visit_id"]) for one in listed()} == {("2025-07-11", everything[0]["visit_id"])}
    assert {one["act"] for one in listed()} == {"recorded"}


def test_a_sheet_that_is_older_than_an_amendment_corrects_nothing(answers, walked, run) -> None:
    """The count was amended here after it was sent; the file still says what was sent."""
    pale = walked["pale"]
    assert run("ledger", "amend", pale["id"], "count=13", "--reason", "recounted").returncode == 0
    ran = answers(f"{pale['id']},Pale Rushlet,12,correct,Tarn Fenwick", head="id,species,count,status,verifier")
    assert (ran.returncode, "offer" in ran.stdout) == (0, False)
    ran = answers(f"{pale['id']},Pale Rushlet,14,correct,Tarn Fenwick", head="id,species,count,status,verifier")
    assert "count: 13 → 14" in ran.stdout


def test_a_dry_run_writes_nothing(answers, walked, run, tmp_path) -> None:
    """Neither entries, nor people, nor a file."""
    before = run("ledger", "dump").stdout
    ran = answers(
        *(f"{walked['pale']['id']},,,,correct,Tarn Fenwick,,", "0000,,,,correct,Tarn Fenwick,,"), more=("--dry-run",)
    )
    assert "Would keep 1 answer from 2 rows." in ran.stdout
    assert run("ledger", "dump").stdout == before
    assert not list(tmp_path.glob("*.faults*"))


@pytest.mark.parametrize(
    ("head", "code"),
    [
        ("Species,Date,Verification,Verified by", "no-record-columns"),
        ("id,species,verified by", "no-status-column"),
        ("id,verification", "no-verifier"),
    ],
)
def test_a_file_without_what_an_answer_needs_is_refused_with_the_remedy(answers, walked, head: str, code: str) -> None:
    """Before anything is written; the heading can be named."""
    ran = answers("x,y,z", head=head)
    assert (ran.returncode, code in ran.stderr, "--" in ran.stderr) == (2, True, True)
    ran = answers(
        f"{walked['pale']['id']},right",
        head="Our no.,Say",
        more=(*("--map", "Our no.=id", "--map", "Say=status", "--verifier", "Tarn Fenwick"),),
    )
    assert (ran.returncode, "1 correct" in ran.stdout) == (0, True)


def test_any_delimiter_and_encoding_and_any_text(tmp_path, tarn_run, run, walked, listed) -> None:
    """A spreadsheet's UTF-16 with tabs; hostile text comes back as it went in and reaches the screen as text."""
    text = f"id\tstatus\tverifier\tremark\n{walked['pale']['id']}\tcorrect\tTarn Fenwick\t{EVIL}\n"
    (tmp_path / "a.txt").write_text(text, encoding="utf-16")
    ran = tarn_run("reply", "a.txt")
    assert ran.returncode == 0, ran.stderr
    [now] = listed("--status", "verified")
    assert now["verification"]["remark"] == EVIL
    shown = run("ledger", "history", walked["pale"]["id"]).stdout
    assert "[/x] :bee: \\x1b[31mred\\u202e" in " ".join(shown.split())
    assert "\x1b" not in shown


def test_the_seat_is_asked_for_matches_and_corrections_one_by_one(seat, tmp_path, walked, listed) -> None:
    """A yes for the match, a no for one correction and a yes for the other."""
    head = "Species,Date,Grid ref,Verification,Verified by,Correct name"
    lines = ("Pale Rushlet,12/07/2025,SU41,incorrect,Tarn Fenwick,Misty Rushlet",)
    (tmp_path / "a.csv").write_text("\n".join((head, *lines)) + "\n", encoding="utf-8")
    from tarn import FOLDER

    sat: Seat
    with seat("reply", "a.csv", "--key", FOLDER) as sat:
        sat.wait_for("Are these the records that are meant?")
        sat.type("y")
        sat.wait_for("Take this correction?")
        sat.type("n")
        assert sat.leave() == 0
    assert next(one for one in listed() if one["id"] == walked["pale"]["id"])["vernacular"] == "Pale Rushlet"
    with seat("reply", "a.csv", "--key", FOLDER) as sat:
        sat.wait_for("Take this correction?")
        sat.type("y")
        sat.wait_for("Corrected: 1 record")
        assert sat.leave() == 0
    assert next(one for one in listed() if one["id"] == walked["pale"]["id"])["vernacular"] == "Misty Rushlet"


def test_a_receipt_is_kept_apart_from_verification(run, walked, listed, clean_env) -> None:
    """Loaded 1 of 2; the record is not verified by it, and its history tells it."""
    pale = walked["pale"]
    with open_ledger(clean_env["REEDMACE_LEDGER"]) as ledger:
        ada = ledger.people.me()
        tarn = ledger.people.register("Tarn Fenwick", lambda: "p-tarn")
        made = Submission("sub-0001", tarn, "", "2025-10-01T10:00:00Z", "season.csv", "darwin-core", "d" * 64, 2)
        ledger.submit(made._replace(sent={pale["id"]: mark("a", "b")}), ada, lambda: "e-1")
    ran = run("reply", "--receipt", "0001", "--loaded", "1", "--of", "2", "--remarks", "one had no square")
    assert ran.stdout == "Noted: Tarn Fenwick has loaded 1 of 2 rows of season.csv.\n"
    assert listed("--status", "verified") == []
    story = " ".join(run("ledger", "history", pale["id"]).stdout.split())
    assert "Tarn Fenwick was sent it in season.csv" in story
    assert "noted a receipt (one had no square) Tarn Fenwick has loaded 1 of 2 rows" in story
    assert run("reply", "--receipt", "0001", "--loaded", "3", "--of", "2").returncode == 2
    ran = run("reply", "--receipt", "9999", "--loaded", "1", "--of", "2")
    assert (ran.returncode, "unknown-submission" in ran.stderr) == (2, True)
    assert "receipt-unclear" in run("reply", "--receipt", "0001").stderr
    assert "file-missing" in run("reply").stderr


def test_where_many_records_answer_to_a_row_it_says_how_many_more_there_are(answers, log, tmp_path: Path) -> None:
    """Three ids are named, and that the others are not."""
    for name in ("Ben Sallow", "Cora Reed", "Dan Withy", "Una Wick", "Ida Fell"):
        log("12 pale m", "--by", name)  # a visit each
    ran = answers(",Pale Rushlet,12/07/2025,SU 431 118,correct,Tarn Fenwick,,")
    assert ran.returncode == 1
    [row] = _faulty(tmp_path)
    told = row["what to do"]
    assert told.startswith("give the id of the one that is meant: ")
    assert told.endswith(", or one of 2 more")
    assert len(told.partition(": ")[2].split(", ")) == 4


def test_whoever_decided_is_one_person(answers, walked, tmp_path, listed) -> None:
    """Several come back; a role in brackets is no part of the name, and a year behind it is when."""
    pale, misty = walked["pale"]["id"], walked["Misty Rushlet"]["id"]
    head = HEAD.replace(",Date verified", "")
    row = "{},,,,correct,{},"
    ran = answers(
        row.format(pale, "Tarn Fenwick; Moss Linley"),
        row.format(misty, "Tarn Fenwick (county recorder) 2025"),
        head=head,
    )
    assert [one["fault"] for one in _faulty(tmp_path)] == ["two-verifiers"], ran.stdout
    found = {one["id"]: one.get("verification") for one in listed()}
    assert (found[misty]["verifier"], found[misty]["date"], found[pale]) == ("Tarn Fenwick", "2025", None)
