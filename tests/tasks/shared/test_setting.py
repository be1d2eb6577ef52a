"""When and where a look was had: date, place and habitat as typed, and the regions that follow."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.faults import Fault, Refused
from reedmace.keys.model import Key
from reedmace.keys.seasons import parse_third
from reedmace.tasks.shared.setting import Setting, find_habitat, read_setting
from tarn import TODAY


def _read(key: Key, when: str = "", where: str = "", habitat: str = "") -> Setting:
    return read_setting(key, when, where, habitat, today=TODAY)


@pytest.mark.parametrize(
    ("where", "regions"),
    [
        ("SU 43 11", ["lowland"]),
        ("NN 1123 4567", ["upland"]),
        ("SP 5 1", ["lowland", "upland"]),
        ("51.06, -1.31", ["lowland"]),
        ("TQ 30 80", []),
        ("D 12 34", []),
    ],
)
def test_regions_are_those_that_the_100_km_square_overlaps(tarn: Key, where: str, regions: list[str]) -> None:
    """Read off the key's own table; a square that the table does not know has no region, and that is no fault."""
    assert [region.id for region in _read(tarn, where=where).regions] == regions


def test_nothing_said_is_nothing_known(tarn: Key) -> None:
    """Without a word the engine gets no region, no third and no habitat."""
    assert _read(tarn) == Setting()
    circumstances = _read(tarn).circumstances(tarn)
    assert (circumstances.regions, circumstances.third, circumstances.habitat, circumstances.flat) == (
        (),
        None,
        None,
        False,
    )


def test_the_engine_gets_numbers_of_regions_the_third_and_the_habitats_id(tarn: Key) -> None:
    """SP lies in both regions of the made key, and 12 July in the second third of the month."""
    circumstances = _read(tarn, "12 July 2026", "SP 51 06", "brook").circumstances(tarn)
    assert circumstances.regions == (0, 1)
    assert circumstances.third == parse_third("mid-july")
    assert circumstances.habitat == "beck"


@pytest.mark.parametrize(
    ("typed", "habitat"),
    [
        ("beck", "beck"),
        ("running beck", "beck"),
        ("Running-Beck", "beck"),
        ("brook", "beck"),
        ("fast brook", "beck"),
        ("fast-brook", "beck"),
        (" BROOK ", "beck"),
        ("run", "beck"),
        ("mere", "tarn"),
        ("s", "tarn"),
    ],
)
def test_a_habitat_is_known_by_id_title_other_words_or_a_beginning(tarn: Key, typed: str, habitat: str) -> None:
    """People say "brook" or "mere"; the key says which of its habitats that is."""
    found = find_habitat(tarn, typed)
    assert not isinstance(found, Fault)
    assert found[0].id == habitat


@pytest.mark.parametrize(("typed", "hint"), [("broock", "brook"), ("moon", "tarn, beck"), ("", "tarn, beck")])
def test_an_unknown_habitat_is_a_fault_that_names_what_is_known(tarn: Key, typed: str, hint: str) -> None:
    """A slip gets the nearest word; anything else the whole list."""
    fault = find_habitat(tarn, typed)
    assert isinstance(fault, Fault)
    assert (fault.code, fault.said, fault.typed) == ("unknown-habitat", typed, True)
    assert hint in fault.hint


def test_an_exact_habitat_wins_over_a_longer_one_that_begins_alike(key: Key) -> None:
    """In the shipped key `pond` is no short form of anything else."""
    assert find_habitat(key, "pond")[0].id == "pond"
    assert find_habitat(key, "garden pond")[0].id == "garden-pond"


def test_all_three_faults_are_told_at_once(tarn: Key) -> None:
    """One slip never hides the others."""
    with pytest.raises(Refused) as refused:
        _read(tarn, "31 June 2026", "SU 43 1", "moon")
    codes = [fault.code for fault in refused.value.faults]
    assert len(codes) == 3
    assert codes[0] == "impossible-date"
    assert codes[2] == "unknown-habitat"


def test_the_future_may_be_asked_about_but_not_logged(tarn: Key) -> None:
    """The same date reads or is refused by what it is for."""
    assert _read(tarn, "1 August 2026").date.iso == "2026-08-01"
    with pytest.raises(Refused) as refused:
        read_setting(tarn, "1 August 2026", None, None, today=TODAY, future=False)
    assert refused.value.faults[0].code == "date-in-future"


def test_a_month_may_be_asked_about_without_its_year_but_not_logged(tarn: Key) -> None:
    """A record needs the year; the hint names how to write it."""
    assert _read(tarn, "mid June").date.iso == "2026-06-11/2026-06-20"
    with pytest.raises(Refused) as refused:
        read_setting(tarn, "June", None, None, today=TODAY, future=False)
    assert "2026-06" in refused.value.faults[0].hint


@given(st.text(), st.text(), st.text())
def test_no_text_makes_reading_a_setting_raise_anything_but_faults(
    tarn: Key, when: str, where: str, habitat: str
) -> None:
    """Three answers to three questions, or typed faults with a hint each."""
    refused: Refused | None = None
    try:
        setting = _read(tarn, when, where, habitat)
    except Refused as raised:
        refused = raised
    if refused is None:
        assert (setting.place is None) == (not where)
    else:
        assert all(fault.hint for fault in refused.faults)


@pytest.mark.parametrize(
    ("typed", "habitat", "words"),
    [
        ("Ditch", "fen", "Ditch"),
        ("fen", "fen", "fen"),
        ("heath", "bog", "heath"),
        ("mead", "away", "meadow"),
        ("garden-pond", "garden-pond", "garden pond"),
        ("Pond", "pond", "pond"),
        ("  village   pond ", "pond", "village pond"),
    ],
)
def test_the_word_for_a_habitat_stays_beside_what_it_was_taken_for(
    key: Key, typed: str, habitat: str, words: str
) -> None:
    """The key's id is for the engine; of a beginning the whole word stays, of an id its words."""
    found = find_habitat(key, typed)
    assert not isinstance(found, Fault)
    assert (found[0].id, found[1]) == (habitat, words)
