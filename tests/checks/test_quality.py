"""The published cases of the Biodiversity Data Quality standard (TDWG, draft of 2026-07-29), every one of them."""

from __future__ import annotations

import csv
from datetime import date

import pytest

from reedmace.checks.quality import VALIDATIONS, Basis, Status
from reedmace.checks.quality.isodate import read_days
from reedmace.checks.raw_rows import GROUPS, TOLD_BY_RULES, RawRows, code_of
from reference import reference

TODAY = date(2026, 7, 12)
STATUS = {
    ("RUN_HAS_RESULT", "COMPLIANT"): Status.COMPLIANT,
    ("RUN_HAS_RESULT", "NOT_COMPLIANT"): Status.NOT_COMPLIANT,
    ("INTERNAL_PREREQUISITES_NOT_MET", ""): Status.INTERNAL,
    ("EXTERNAL_PREREQUISITES_NOT_MET", ""): Status.EXTERNAL,
}
ASKED = set(VALIDATIONS) - TOLD_BY_RULES
# Cases in which our rule differs from the published one, with the reason: none.
DIFFERS: dict[str, str] = {}


def _cases() -> list[dict[str, str]]:
    with reference("bdq_validation_cases.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_every_published_case_comes_out_as_published() -> None:
    wrong = []
    cases = _cases()
    for case in cases:
        row = {name.split(":")[1]: text for name, text in case.items() if name[:4] in ("dwc:", "dc:t", "dcte") and text}
        ask = VALIDATIONS[case["test"].removeprefix("VALIDATION_")]
        found = ask(row, Basis(TODAY, case["bdqval:sourceAuthority"]))
        if (
            found.status is not STATUS[case["expected_status"], case["expected_result"]]
            and case["case_id"] not in DIFFERS
        ):
            wrong.append((case["case_id"], case["test"], row, found))
    assert not wrong
    assert len(cases) == 262
    assert {case["test"].removeprefix("VALIDATION_") for case in cases} == set(VALIDATIONS)


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("2026", "2026-01-01", "2026-12-31"),
        ("2026-02", "2026-02-01", "2026-02-28"),
        ("2024-366", "2024-12-31", "2024-12-31"),
        ("2026-06-14/15", "2026-06-14", "2026-06-15"),
        ("2026-06-14/07-01", "2026-06-14", "2026-07-01"),
        ("2026-06-14T10:00Z/2026-06-14T11:30Z", "2026-06-14", "2026-06-14"),
        ("1980/1981", "1980-01-01", "1981-12-31"),
        ("9999-12", "9999-12-01", "9999-12-31"),
    ],
)
def test_dates_are_read_as_the_days_they_may_mean(text: str, first: str, last: str) -> None:
    days = read_days(text)
    assert days is not None
    assert (days.first.isoformat(), days.last.isoformat()) == (first, last)


@pytest.mark.parametrize(
    "text", ["", "2026-13", "2026-02-30", "2025-366", "2026T10", "2026-06-14/2026-06-13", "14/06/2026", "٢٠٢٦", "0000"]
)
def test_what_is_no_date_is_none(text: str) -> None:
    assert read_days(text) is None


@pytest.mark.parametrize("text", ["nan", "inf", "1_0", "١٠", "0x10", "5,5"])
def test_what_only_a_program_takes_for_a_number_is_none(text: str) -> None:
    assert VALIDATIONS["DECIMALLATITUDE_INRANGE"]({"decimalLatitude": text}, Basis(TODAY)).status is Status.INTERNAL


def test_rows_that_share_a_day_a_place_or_a_name_are_not_judged_by_another_row() -> None:
    """What was remembered of the rows before never changes what is said of this one; every case, forwards and back."""
    rows = [
        {name.split(":")[1]: text for name, text in case.items() if ":" in name and text and "bdqval" not in name}
        for case in _cases()
    ]
    for several in (rows, rows[::-1]):
        header = tuple({term: None for row in rows for term in row})
        raw = RawRows(Basis(TODAY), header)
        for row in several:
            told = {query.code for query in raw.queries([row.get(term, "") for term in header], "x")} - {
                "position-swapped",
                "position-sign",
            }
            unmet = {
                label for label, ask in VALIDATIONS.items() if ask(row, Basis(TODAY)).status is Status.NOT_COMPLIANT
            }
            assert told == {code_of(label) for label in unmet if label in ASKED}


def test_every_validation_asked_belongs_to_one_group() -> None:
    grouped = [label for _, asked in GROUPS for label, _ in asked]
    assert sorted(grouped) == sorted(ASKED)
