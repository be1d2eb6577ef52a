"""Vice-counties by number and by name, in the spellings people use."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.faults import Fault
from reedmace.places.vice_counties import ViceCounty, find_vice_county, vice_counties
from reedmace.places.vice_county_names import WHOLE_NAMES, WORDS


def test_all_are_there():
    """Watson's 112 (1852), the later 113, and Praeger's 40 (1901)."""
    numbers = [county.number for county in vice_counties()]
    assert numbers == [str(n) for n in range(1, 114)] + [f"H{n}" for n in range(1, 41)]
    assert len({county.name for county in vice_counties()}) == 153


@pytest.mark.parametrize("county", vice_counties(), ids=str)
def test_each_is_found_by_its_number_and_its_name(county):
    """Number, number with VC, name, name in capitals, and both together all find it."""
    spellings = [county.number, f"VC{county.number}", county.name, county.name.upper(), str(county)]
    spellings += [
        f"vc {county.number.lower()}",
        county.name.replace("-", " "),
        county.name.replace(" ", "\u00a0"),
    ]
    for spelling in spellings:
        assert find_vice_county(spelling) == county, spelling


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("V.C. 11", "11"),
        ("vc-011", "11"),
        ("VC11 (S. Hants)", "11"),
        ("VC H21", "H21"),
        ("S. Hampshire", "11"),
        ("s hants", "11"),
        ("Sussex, West", "13"),
        ("E Kent", "15"),
        ("N. Wilts", "7"),
        ("SE Yorks", "61"),
        ("Mid-W Yorks", "64"),
        ("Southwest Yorkshire", "63"),
        ("Durham", "66"),
        ("Co. Durham", "66"),
        ("I. of Man", "71"),
        ("Isle of Wight", "10"),
        ("Fife", "85"),
        ("West Inverness", "97"),
        ("W Invernessshire", "97"),
        ("Caernarfonshire", "49"),
        ("Glamorgan", "41"),
        ("Orkney Islands", "111"),
        ("Co. Down", "H38"),
        ("County Dublin", "H21"),
        ("Derry", "H40"),
        ("King's County", "H18"),
        ("Queen’s County", "H14"),
        ("Mid Cork", "H4"),
        ("SE Galway", "H15"),
        ("Channel Isles", "113"),
    ],
)
def test_spellings_people_use(text, number):
    """Case, stops, hyphens, apostrophes, directions and county abbreviations make no difference."""
    found = find_vice_county(text)
    assert isinstance(found, ViceCounty), found
    assert found.number == number


@pytest.mark.parametrize(
    ("text", "code", "remedy"),
    [
        ("", "vice-county-empty", "11"),
        ("0", "vice-county-unknown", "1 to 113"),
        ("114", "vice-county-unknown", "1 to 113"),
        ("H41", "vice-county-unknown", "H40"),
        ("Hampshire", "vice-county-ambiguous", "11 South Hampshire, 12 North Hampshire"),
        ("Yorks", "vice-county-ambiguous", "64 Mid-west Yorkshire"),
        ("East Yorkshire", "vice-county-ambiguous", "61 South-east Yorkshire, 62 North-east Yorkshire"),
        ("Cambrigeshire", "vice-county-unknown", "29 Cambridgeshire"),
        ("Wesmeath", "vice-county-unknown", "H23 Westmeath"),
        ("11 North Hampshire", "vice-county-contradiction", "12 (North Hampshire)"),
        ("12/13", "vice-county-two-answers", "one"),
        ("Zzz", "vice-county-unknown", "number"),
        ("²", "vice-county-unknown", "number"),
        ("\u0661\u0661", "vice-county-unknown", "number"),
    ],
)
def test_what_is_not_one_vice_county_is_refused_with_a_remedy(text, code, remedy):
    """Unknown, ambiguous and contradictory entries each say what to write."""
    fault = find_vice_county(text)
    assert isinstance(fault, Fault)
    assert fault.code == code
    assert remedy in fault.hint
    assert fault.said == text


def test_the_short_forms_lead_somewhere():
    """Every word a short form stands for occurs in a name, and every older name has its number."""
    words = " ".join(county.name for county in vice_counties()).lower().replace("-shire", "shire")
    words = words.replace("channel islands", "channel isles").replace("-", " ")
    for short, long in WORDS.items():
        assert set(long.split()) <= set(words.split()), short
    numbers = {county.number for county in vice_counties()}
    assert set(WHOLE_NAMES.values()) <= numbers


@given(text=st.text())
def test_finding_never_raises_on_any_text(text):
    """Any text gives a vice-county or a fault with a remedy."""
    found = find_vice_county(text)
    assert isinstance(found, ViceCounty) or found.hint
