"""The notes of care and law beside the keys: dated, sourced, shown where they matter, doubling no species' own."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from reedmace.keys.care import FILE, OCCASIONS, care_notes, care_on, read_care_notes
from reedmace.keys.model import Key
from reedmace.keys.shipped import shipped_folder, shipped_ids


def test_every_note_is_dated_sourced_and_has_an_occasion() -> None:
    notes = care_notes()
    assert len(notes) == len({note.id for note in notes}) >= 7
    for note in notes:
        assert note.when, note.id
        assert set(note.when) <= set(OCCASIONS), note.id
        assert re.fullmatch(r"\d{4}-\d{2}-\d{2}", note.checked)
        assert note.source
        assert note.text.endswith(".")
        assert not note.law or note.area


def test_every_occasion_has_a_note() -> None:
    for occasion in OCCASIONS:
        assert care_on(occasion), occasion


def test_no_note_repeats_what_stands_with_a_species(key: Key) -> None:
    """No species is named in the notes, and no text stands twice."""
    told = {note["text"] for species in key.species for note in species.more.protection}
    for note in care_notes():
        assert note.text not in told
        assert not any(species.english in note.text or species.name in note.text for species in key.species)


def test_the_file_travels_with_the_keys_and_is_no_key() -> None:
    assert (shipped_folder() / FILE).is_file()
    assert FILE not in shipped_ids()


@pytest.mark.parametrize("text", ["note = 1", "[[note]]\nid = 'x'", "[[note", "[[note]]\nid='x'\nchecked=1\n"])
def test_a_broken_file_is_told_to_whoever_reads_it(tmp_path: Path, text: str) -> None:
    """`care_notes` itself keeps silent then: no walk fails for it."""
    (tmp_path / FILE).write_text(text, encoding="utf-8")
    with pytest.raises((KeyError, TypeError, ValueError, AttributeError)):
        read_care_notes(tmp_path / FILE)


@pytest.mark.parametrize(
    ("line", "said", "silent"),
    [
        ("2 pale exuvia", "photograph it where it hangs", "wings touched now"),
        ("1 pale teneral", "wings touched now stay bent", "photograph it where it hangs"),
        ("1 pale m", "", "as of"),
    ],
)
def test_log_says_what_its_sightings_ask(tarn_run, log, line: str, said: str, silent: str) -> None:
    out = " ".join(log(line).stdout.split())
    assert said in out
    assert silent not in out


def test_a_conclusion_that_wants_the_hand_says_how(tarn_run) -> None:
    """Misty Rushlet's female is told in the hand; the male by a photograph."""
    setting = ("--place", "SU 431 118", "--date", "2026-07-01")
    traits = ("wings=closed", "body-colour=green", "eye-colour=brown", "bump=absent", "collar=lobed")
    female = " ".join(tarn_run("name", *traits, *setting).stdout.split())
    assert "Misty Rushlet" in female
    assert "let it go where it was" in female
    traits = ("wings=closed", "body-colour=blue", "eye-colour=blue", "bump=present", "collar=lobed")
    assert "let it go" not in " ".join(tarn_run("name", *traits, *setting).stdout.split())


def test_a_garden_and_a_party_are_thought_of(run, owned) -> None:
    """With the shipped key, which knows garden ponds."""
    setting = ("--place", "SU 431 118", "--date", "2026-07-01")
    garden = " ".join(run("log", "2 large red m", *setting, "--habitat", "garden-pond").stdout.split())
    assert "A garden is private: ask the owner" in garden
    lake = " ".join(run("log", "2 large red m", *setting, "--habitat", "lake").stdout.split())
    assert "private" not in lake
