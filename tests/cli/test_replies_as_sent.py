"""Answers to what was sent: about its name, in its cells; what is ours is no answer, and what is theirs is not lost."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

HEAD = "Record ID,Species,Verification,Verified by,Date verified"


@pytest.fixture
def walked(log, listed) -> dict[str, Any]:
    """Three records of 12 July 2025, by English name."""
    log("12 pale m", "2 misty m", "1 great f")
    return {one["vernacular"].split()[0].casefold(): one for one in listed()}


@pytest.fixture
def answers(tmp_path: Path, tarn_run):
    """Write a file of answers and read it; gives what the command left behind."""

    def reading(*lines: str, head: str = HEAD, more: tuple[str, ...] = ()):
        (tmp_path / "answers.csv").write_text("\n".join((head, *lines)) + "\n", encoding="utf-8")
        return tarn_run("reply", "answers.csv", *more)

    return reading


def _told(ran) -> str:
    return " ".join(ran.stdout.split())


def _faults(folder: Path) -> list[str]:
    rows = csv.DictReader((folder / "answers.csv.faults.csv").read_text(encoding="utf-8-sig").splitlines())
    return [row["fault"] for row in rows]


class TestAnAnswerWasAboutAName:
    """Not about the one that the record has by now."""

    @pytest.fixture
    def pale(self, run, tarn_run, walked) -> str:
        """The id of one that was sent as a Pale Rushlet, and then found to be a Misty one."""
        assert run("export", "--season", "2025", "--for", "Tarn Fenwick", "--to", "sent.csv").returncode == 0
        pale = walked["pale"]["id"]
        ran = tarn_run("ledger", "redetermine", pale, "--name", "misty rushlet", "--reason", "wing bases")
        assert ran.returncode == 0, ran.stderr
        return str(pale)

    @pytest.mark.parametrize("name", ["Pale Rushlet", "Tarnula pallida", ""])
    def test_accepted_under_the_name_that_was_sent(self, pale: str, name: str, answers, run, listed) -> None:
        """The name in the row, or where it has none the one that was sent; the new one is not verified by it."""
        ran = answers(f"{pale},{name},correct,Tarn Fenwick,")
        assert ran.returncode == 0, ran.stderr
        assert "Kept 1 answer from 1 row." in ran.stdout
        assert "About a name that the record has no more" in _told(ran)
        assert "Tarnula pallida: correct → now Misty Rushlet" in _told(ran)
        assert listed("--status", "verified") == []
        assert "Tarnula pallida: correct (Tarn Fenwick" in _told(run("ledger", "history", pale))

    def test_the_name_that_we_came_to_ourselves_is_right(self, pale: str, answers, run, listed) -> None:
        """Told that the first name was wrong, and which one is right: the one that it has."""
        ran = answers(
            f"{pale},Pale Rushlet,incorrect,Tarn Fenwick,,Misty Rushlet",
            head=f"{HEAD},Correct name",
        )
        assert ran.returncode == 0, ran.stderr
        assert "on offer" not in ran.stdout
        assert [one["id"] for one in listed("--status", "verified")] == [pale]
        assert "Tarnula pallida: incorrect" in _told(run("ledger", "history", pale))

    def test_who_answers_with_the_name_that_stands_means_that(self, pale: str, answers, listed) -> None:
        """However it was sent."""
        answers(f"{pale},Misty Rushlet,correct,Tarn Fenwick,")
        assert [one["id"] for one in listed("--status", "verified")] == [pale]

    def test_what_a_verifier_gave_is_known_to_verifiers(self, walked, answers, listed) -> None:
        """Renamed as they said, and then accepted without a name: the new one is accepted."""
        misty = walked["misty"]["id"]
        head = "Record ID,Verification,Verified by,Date verified,Correct name"
        answers(f"{misty},incorrect,Tarn Fenwick,1/11/2025,Pale Rushlet", head=head, more=("--accept", "all"))
        answers(f"{misty},correct,Tarn Fenwick,9/11/2025,", head=head)
        assert [one["name"] for one in listed("--status", "verified")] == ["Tarnula pallida"]


class TestWhatWasSentCounts:
    """A cell that reads as the record once stood is an older file only if it was sent like that."""

    def test_a_name_from_before_it_was_sent_is_a_correction(self, walked, answers, tarn_run, run) -> None:
        """Logged as one, sent as another, and the county recorder writes the first: that is their name for it."""
        pale = walked["pale"]["id"]
        tarn_run("ledger", "redetermine", pale, "--name", "misty rushlet", "--reason", "wing bases")
        run("export", "--season", "2025", "--for", "Tarn Fenwick", "--to", "sent.csv")
        ran = answers(f"{pale},Pale Rushlet,incorrect,Tarn Fenwick,")
        assert "name: Misty Rushlet (Tarnula nebula) → Pale Rushlet (Tarnula pallida)" in _told(ran)

    def test_what_no_submission_holds_may_have_been_sent_at_any_time(self, walked, answers, tarn_run) -> None:
        """Then an older reading is an older file."""
        pale = walked["pale"]["id"]
        tarn_run("ledger", "redetermine", pale, "--name", "misty rushlet", "--reason", "wing bases")
        ran = answers(f"{pale},Pale Rushlet,incorrect,Tarn Fenwick,")
        assert "on offer" not in ran.stdout

    PROFILE = """
format: 1
recipient: Moss Linley
sheet:
  bands: {A: 1, B: 2-5, C: 6-20}
  columns:
    Key: id
    Taxon: english name
    Date: date
    Square: grid reference
    Number: count
    Comment: remarks
"""

    def test_our_own_sheet_untouched_says_nothing(self, log, run, tarn_run, tmp_path: Path) -> None:
        """Bands, our words for pairs, an empty decision: no row comes back, and none is an answer."""
        log("3 pale cop", "12 misty m #by the sluice", "1 great?")
        (tmp_path / "linley.yaml").write_text(self.PROFILE)
        ran = run("export", "--season", "2025", "--profile", "linley.yaml", "--for", "Moss Linley", "--to", "sent.csv")
        assert ran.returncode == 0, ran.stderr
        sent = list(csv.reader((tmp_path / "sent.csv").read_text(encoding="utf-8-sig").splitlines()))

        def returned(decision: str, *more: str) -> Any:
            """Send the sheet back with a decision in every row, and a remark behind ours in the first."""
            rows = [[*sent[0], "Decision", "Verified by"], *([*row, decision, ""] for row in sent[1:])]
            rows[1][5] += " - nice!" if decision else ""
            with (tmp_path / "back.csv").open("w", newline="") as file:
                csv.writer(file).writerows(rows)
            return tarn_run("reply", "back.csv", *more)

        ran = returned("")
        assert ran.returncode == 0, ran.stdout
        assert "Kept 0 answers from 3 rows. Rows without an answer: 3." in _told(ran)
        said = json.loads(returned("Correct", "--verifier", "Moss Linley", "--json").stdout)
        assert said["faulty"] == []
        assert [one["status"] for one in said["answers"]] == ["correct"] * 3
        assert [one["remark"] for one in said["answers"]] == ["nice!", "", ""]
        assert [offer for one in said["answers"] for offer in one["offers"]] == []


class TestSeveralVerifiers:
    """Nothing is settled between them in silence."""

    HEAD = "Record ID,Verification,Verified by,Date verified,Correct name"

    def test_all_takes_neither_of_two_corrections(self, walked, answers, listed) -> None:
        """Whether they stand in one file or in two."""
        pale = walked["pale"]["id"]
        ran = answers(
            f"{pale},incorrect,Tarn Fenwick,1/11/2025,Misty Rushlet",
            f"{pale},incorrect,Ola Brisk,2/11/2025,Sunny Rushlet",
            head=self.HEAD,
            more=("--accept", "all"),
        )
        assert ran.returncode == 1
        assert "Not taken: 1 record of which several people say different things" in _told(ran)
        assert "Corrected" not in ran.stdout
        assert pale in [one["id"] for one in listed("--species", "Pale Rushlet")]

    def test_a_correction_that_another_verifier_contradicts_is_not_taken_with_all(
        self, walked, answers, tarn_run
    ) -> None:
        """Who says that our name is right is shown beside it; by its id it is taken all the same."""
        pale = walked["pale"]["id"]
        answers(f"{pale},incorrect,Tarn Fenwick,1/11/2025,Misty Rushlet", head=self.HEAD)
        answers(f"{pale},correct,Ola Brisk,3/11/2025,", head=self.HEAD)
        assert "Ola Brisk says that it is Tarnula pallida" in _told(tarn_run("reply", "--open"))
        ran = tarn_run("reply", "--accept", "all")
        assert (ran.returncode, "Corrected" in ran.stdout) == (1, False)
        assert "Corrected: 1 record" in tarn_run("reply", "--accept", pale).stdout


@pytest.mark.parametrize("heading", ["Verified", "Accepted", "Status", "Verified?"])
@pytest.mark.parametrize("word", ["No", "N", "false"])
def test_no_may_be_said_of_what_nobody_looked_at(walked, answers, tmp_path, heading: str, word: str) -> None:
    """Not verified is not wrong: it comes back to be said plainly."""
    ran = answers(f"{walked['pale']['id']},{word},Tarn Fenwick", head=f"Record ID,{heading},Verified by")
    assert ran.returncode == 1
    assert _faults(tmp_path) == ["status-unclear"]
    assert "incorrect or not reviewed" in ran.stdout


@pytest.mark.parametrize(
    ("word", "meant"),
    [("Accept", "considered correct"), ("to be determined", "not reviewed"), ("TBC", "not reviewed")],
)
def test_other_words_for_a_decision(walked, answers, word: str, meant: str) -> None:
    """As they are written."""
    ran = answers(f"{walked['pale']['id']},,{word},Tarn Fenwick,")
    assert f"1 {meant}" in ran.stdout


class TestDaysAndMonths:
    """A date is never turned in silence."""

    HEAD = "Record ID,Species,Date,Verification,Verified by,Date verified"

    def test_a_file_with_the_month_first_is_asked_about(self, log, listed, answers) -> None:
        """One cell that can only be read so, or the day that was sent, shows it; said for each column it is read."""
        log("3 pale")
        [pale] = listed()
        row = f"{pale['id']},Pale Rushlet,07/12/2025,Correct,Tarn Fenwick,3/11/2026"
        ran = answers(row, head=self.HEAD)
        assert (ran.returncode, "date-order-unclear" in ran.stderr) == (2, True)
        assert '--map "Date=date-month-first" --map "Date verified=verified-on-month-first"' in " ".join(
            ran.stderr.split()
        )
        said = ("--map", "Date=date-month-first", "--map", "Date verified=verified-on-month-first", "--json")
        [one] = json.loads(answers(row, head=self.HEAD, more=said).stdout)["answers"]
        assert (one["date"], one["offers"]) == ("2026-03-11", [])

    def test_an_underscore_in_a_heading_stays_in_the_line_to_type(self, log, listed, answers) -> None:
        """It is the user's own word."""
        log("3 pale")
        [pale] = listed()
        head = "id,survey_date,Verification,Verified by"
        ran = answers(f"{pale['id']},07/12/2025,Correct,Tarn Fenwick", head=head, more=("--map", "survey_date=date"))
        assert '--map "survey_date=date-month-first"' in " ".join(ran.stderr.split())

    @pytest.mark.usefixtures("owned")
    def test_days_that_a_spreadsheet_turned_correct_nothing(self, tarn_run, listed, answers) -> None:
        """It turns those it can read the other way round and leaves the others."""
        for day in ("2 August 2025", "14 May 2025"):
            assert tarn_run("log", "3 pale", "--place", "SU 431 118", "--date", day).returncode == 0
        august, may = sorted(listed(), key=lambda one: one["date"], reverse=True)
        ran = answers(
            f"{august['id']},Pale Rushlet,2025-02-08,Correct,Tarn Fenwick,",
            f"{may['id']},Pale Rushlet,14/05/2025,Correct,Tarn Fenwick,",
            head=self.HEAD,
            more=("--accept", "all"),
        )
        assert ran.returncode == 0, ran.stdout
        assert "1 date came back with day and month the other way round" in _told(ran)
        assert sorted(one["date"] for one in listed()) == ["2025-05-14", "2025-08-02"]


def test_a_sheet_whose_ids_were_sorted_alone_corrects_nothing(log, listed, answers, tmp_path: Path) -> None:
    """Not even where a row differs from its id's record in the name only."""
    log("1 pale", "2 misty", "3 great", "4 lone")
    here = {one["vernacular"].split()[0]: one["id"] for one in listed()}
    names = {"Pale": "Pale Rushlet", "Misty": "Misty Rushlet", "Great": "Great Boulderer", "Lone": "Lone Boulderer"}
    rows = [f"{here['Pale']},Misty Rushlet,12/07/2025,SU431118,correct,Tarn Fenwick"]
    rows += [
        f"{here[one]},{names[other]},{day}/08/2024,TQ 38,correct,Tarn Fenwick"
        for one, other, day in (("Misty", "Great", 13), ("Great", "Lone", 14), ("Lone", "Pale", 15))
    ]
    rows[0] = rows[0].replace("correct", "incorrect")
    ran = answers(*rows, head="Record ID,Species,Date,Grid ref,Verification,Verified by", more=("--accept", "all"))
    assert ran.returncode == 1
    assert _faults(tmp_path) == ["reply-of-another"] * 4
    assert {one["vernacular"] for one in listed()} == set(names.values())


class TestOtherCorrections:
    """Nothing that a verifier writes into a column is dropped without a word."""

    def test_a_sex_that_was_overwritten_is_on_offer(self, walked, answers, listed) -> None:
        """And taken as one."""
        ran = answers(
            f"{walked['great']['id']},male,correct,Tarn Fenwick",
            head="Record ID,Sex,Verification,Verified by",
            more=("--accept", "all"),
        )
        assert "Corrected: 1 record" in ran.stdout
        assert [one["sex"] for one in listed("--species", "Great Boulderer")] == ["male"]

    def test_site_and_vice_county_have_columns_of_their_own(self, walked, answers, listed, run) -> None:
        """The square stays."""
        ran = answers(
            f"{walked['great']['id']},Fen End pond,11,correct,Tarn Fenwick",
            head="Record ID,Correct site,Correct VC,Verification,Verified by",
            more=("--accept", "all"),
        )
        assert "Corrected: 1 record" in ran.stdout, ran.stderr
        [one] = listed("--species", "Great Boulderer")
        assert (one["place"], one["locality"]) == ("SU431118", "Fen End pond")
        history = " ".join(run("ledger", "history", one["id"]).stdout.split())
        assert "place: nothing → SU431118, Fen End pond, VC 11" in history

    def test_a_name_in_doubt_corrects_none(self, walked, answers, tmp_path: Path) -> None:
        """`Misty Rushlet?` is no name to be given for certain."""
        head = "Record ID,Verification,Verified by,Correct name"
        answers(f"{walked['pale']['id']},incorrect,Tarn Fenwick,Misty Rushlet?", head=head)
        assert _faults(tmp_path) == ["name-in-doubt"]


def test_an_answer_about_a_record_that_was_withdrawn_is_told(walked, run, answers) -> None:
    """It is kept in the history, and nothing else becomes of it."""
    pale = walked["pale"]["id"]
    assert run("ledger", "withdraw", pale, "--reason", "seen twice").returncode == 0
    assert "About a record that was withdrawn" in _told(answers(f"{pale},,correct,Tarn Fenwick,"))


def test_ids_in_capitals_are_taken_as_they_are_listed(run, tarn_run, owned, answers, tmp_path: Path) -> None:
    """Ids that came with a sheet may have any letters."""
    (tmp_path / "in.csv").write_text(
        "Record ID,Species,Date,Grid ref,Count\nA/25/3,Pale Rushlet,12/07/2025,SU431118,1\n"
    )
    assert tarn_run("ledger", "import", "in.csv", "--yes").returncode == 0
    answers("A/25/3,correct,Tarn Fenwick,5", head="Record ID,Verification,Verified by,Correct count")
    assert "A/25/3" in tarn_run("reply", "--open").stdout
    assert "Corrected: 1 record" in tarn_run("reply", "--accept", "A/25/3").stdout


def test_a_verifiers_name_that_is_short_for_anothers_is_asked_about(walked, run, answers, tmp_path: Path) -> None:
    """Else one person's answers would stand beside each other as two people's; who is somebody else can be added."""
    pale = walked["pale"]["id"]
    assert answers(f"{pale},,correct,Tarn Fenwick,1/11/2025").returncode == 0
    ran = answers(f"{pale},,incorrect,T. Fenwick,2/11/2025")
    assert (ran.returncode, _faults(tmp_path)) == (1, ["verifier-unclear"])
    assert 'reedmace people --add "T. Fenwick"' in _told(ran)
    run("people", "--add", "T. Fenwick")
    assert answers(f"{pale},,incorrect,T. Fenwick,2/11/2025").returncode == 0


class TestFilesThatAreNoBareTable:
    """What it is, and what to do."""

    def test_a_title_may_stand_above_the_headings(self, walked, answers) -> None:
        """And a greeting."""
        row = f"{walked['pale']['id']},correct,Tarn Fenwick,nice"
        ran = answers("Dear Ada,", "", "Record ID,Verification,Verified by,Comments", row, head="Answers for 2025")
        assert "Kept 1 answer from 1 row." in ran.stdout, ran.stderr
        assert "Above the headings, and passed over: Answers for 2025" in ran.stderr

    @pytest.mark.usefixtures("walked")
    @pytest.mark.parametrize(("signs", "what"), [(b"PK\x03\x04\x14", "workbook"), (b"%PDF-1.7", "PDF")])
    def test_a_workbook_is_told_from_a_table(self, tarn_run, tmp_path: Path, signs: bytes, what: str) -> None:
        """By its first signs, whatever it is called."""
        (tmp_path / "answers.csv").write_bytes(signs + b"\x00\x06\x00 and more")
        ran = tarn_run("reply", "answers.csv", "--verifier", "Tarn Fenwick")
        assert (ran.returncode, "file-no-table" in ran.stderr, what in ran.stderr) == (2, True, True)

    @pytest.mark.usefixtures("walked")
    def test_a_letter_is_told_from_a_table(self, answers) -> None:
        """With the way to note one answer."""
        ran = answers("Your Pale Rushlet of July is fine.", "Tarn", head="Dear Ada!")
        assert (ran.returncode, "no-answers-table" in ran.stderr) == (2, True)
        assert "reedmace reply --about ID --status WORD --verifier NAME" in " ".join(ran.stderr.split())


class TestOneAnswer:
    """Most answers come in a letter, one by one."""

    def test_it_is_kept_like_a_row_of_a_file(self, walked, tarn_run, listed) -> None:
        """With its day and remark; the name that is given is on offer."""
        pale = walked["pale"]["id"]
        said = ("--status", "incorrect", "--name", "misty rushlet", "--verifier", "Tarn Fenwick", "--on", "2/11/2025")
        ran = tarn_run("reply", "--about", pale[-12:], *said, "--remarks", "wing bases")
        assert ran.returncode == 0, ran.stderr
        assert "name: Pale Rushlet (Tarnula pallida) → Misty Rushlet (Tarnula nebula)" in _told(ran)
        assert "Tarn Fenwick, 2025-11-02: incorrect; wing bases" in _told(ran)
        again = tarn_run("reply", "--about", pale, *said, "--remarks", "wing bases")
        assert "In the ledger already: 1." in again.stdout
        assert "Corrected: 1 record" in tarn_run("reply", "--accept", "all").stdout
        assert [one["name"] for one in listed("--status", "verified")] == ["Tarnula nebula"]

    def test_by_itself_a_name_and_its_verifier_are_enough(self, walked, tarn_run, listed) -> None:
        """And the decision alone is."""
        great = walked["great"]["id"]
        assert tarn_run("reply", "--about", great, "--status", "ok", "--verifier", "Tarn").returncode == 0
        assert [one["name"] for one in listed("--status", "verified")] == ["Mossopa grandis"]

    @pytest.mark.parametrize(
        ("more", "code"),
        [
            (("--status", "no", "--verifier", "Tarn"), "status-unclear"),
            (("--status", "correct"), "verifier-missing"),
            (("--verifier", "Tarn"), "answer-missing"),
            (("--status", "correct", "--verifier", "Tarn", "--on", "2/11/2024"), "reply-too-early"),
        ],
    )
    def test_what_does_not_fit_is_refused(self, walked, tarn_run, more: tuple[str, ...], code: str) -> None:
        """With the word that was meant, and nothing written."""
        ran = tarn_run("reply", "--about", walked["pale"]["id"], *more)
        assert (ran.returncode, ran.stdout) == (2, "")
        assert code in ran.stderr


@pytest.mark.parametrize(
    "spelling",
    ["{}", "urn:uuid:{}", "{{{}}}", "'{}", "…{}"],
)
def test_an_id_is_known_in_any_spelling(walked, answers, spelling: str) -> None:
    """As other programs write it, or a spreadsheet."""
    plain = walked["pale"]["id"]
    for one in (plain, plain.upper(), plain.replace("-", "")):
        typed = spelling.format(one[-12:] if spelling.startswith("…") else one)
        ran = answers(f'"{typed}",Pale Rushlet,correct,Tarn Fenwick,1/11/2025')
        assert ran.returncode == 0, (typed, ran.stdout)


def test_a_childs_name_in_a_verifiers_words_comes_back(walked, answers, tmp_path: Path) -> None:
    """It would be kept for ever."""
    head = "Record ID,Verification,Verified by,Comments"
    ran = answers(f"{walked['pale']['id']},correct,Tarn Fenwick,thanks to Poppy (age 7)", head=head)
    assert (ran.returncode, _faults(tmp_path)) == (1, ["child-may-be-named"])
