"""`reedmace ledger same`: two observers' tallies of one walk, put side by side name by name."""

from __future__ import annotations

import re

import pytest

CHOICES = ("--larger", "--different")


@pytest.fixture
def two(run, tarn_run, owned, listed):
    """What Ada and Ben logged of one walk, in one ledger; gives their visits: `two(["3 pale m"], ["4 pale"])`."""

    def logging(adas: list[str], bens: list[str], *times: str) -> list[str]:
        for name, lines, when in zip(("Ada Marsh", "Ben Sallow"), (adas, bens), times or ("", ""), strict=True):
            page = [f'visit 12/7/2025 @ SU 431 118 "Sallow Farm pond" {when} by "{name}"', *lines]
            ran = tarn_run("log", *page)
            assert ran.returncode == 0, ran.stderr
        return [
            next(one["visit_id"] for one in listed() if one["observers"] == [name])
            for name in ("Ada Marsh", "Ben Sallow")
        ]

    return logging


def counts(listed) -> list[int]:
    """What stands."""
    return sorted(one["count"] for one in listed())


@pytest.mark.parametrize(
    ("adas", "bens", "kept"),
    [
        (["3 pale m"], ["4 pale"], [4]),
        (["3 pale m", "2 pale f"], ["4 pale"], [2, 3]),
        (["3 cop pale"], ["2 pale"], [6]),
        (["2 pale"], ["3 cop pale"], [6]),
        (["12 pale m", "1 pale f"], ["9 pale m", "2 pale f"], [1, 12]),
        (["3 pale ten"], ["4 pale"], [4]),
        (["4 pale m"], ["4 pale"], [4]),
        (["some pale"], ["2 pale"], [2]),
    ],
)
def test_of_each_name_the_larger_total_is_kept_as_a_whole(run, two, listed, adas, bens, kept) -> None:
    """Never a mixture of both, which would count some insects twice."""
    visits = two(adas, bens)
    ran = run("ledger", "same", *visits, "--larger")
    assert ran.returncode == 0, ran.stderr
    assert counts(listed) == kept
    assert len({one["visit_id"] for one in listed()}) == 1
    assert run("ledger", "same").stdout == "Nothing to decide.\n"


def test_what_each_wrote_is_shown_with_names_and_lines_that_can_be_typed(run, two, listed) -> None:
    """At 60 columns too: who wrote what, what --larger would keep, and both choices with their ids."""
    visits = two(["3 pale m", "2 pale f", "3 cop misty"], ["4 pale", "7 misty"])
    shown = run("ledger", "same", env={"COLUMNS": "60"}).stdout
    words = " ".join(shown.split())
    assert "Ada Marsh: 3 male, 2 female (together 5); --larger keeps this" in words
    assert "Ben Sallow: 4 " in words
    assert "Ada Marsh: 3 pairs copulating (together 6)" in words
    assert "Ben Sallow: 7; --larger keeps this" in words
    lines = {choice: re.search(rf"reedmace ledger same (\S+ \S+) {choice}", words) for choice in CHOICES}
    assert [{*line[1].split()} if line else None for line in lines.values()] == [{one[-12:] for one in visits}] * 2
    ran = run(*str(lines["--larger"][0]).split()[1:])
    assert ran.stdout.count("Taken back: ") == 2
    assert ran.stdout.count("Kept: ") == 3
    assert counts(listed) == [2, 3, 7]


def test_cast_skins_and_larvae_are_other_insects_than_those_that_fly(run, two) -> None:
    """They are not put beside each other."""
    two(["3 ex pale"], ["4 pale"])
    assert run("ledger", "same").stdout == "Nothing to decide.\n"


def test_what_was_decided_is_said_where_somebody_decides_again(run, two, listed) -> None:
    """After --larger nothing is left that could be different; --different twice says so; the mind can be changed."""
    visits = two(["3 pale m"], ["4 pale"])
    assert run("ledger", "same", *visits, "--different").stdout == "Noted: different insects.\n"
    assert run("ledger", "same", *visits, "--different").stdout == "Noted already: different insects.\n"
    assert run("ledger", "same", *visits, "--larger").returncode == 0
    assert counts(listed) == [4]
    ran = run("ledger", "same", *visits, "--different")
    assert (ran.returncode, "nothing-in-common" in ran.stderr) == (2, True)
    assert "reedmace ledger reinstate ID" in " ".join(ran.stderr.split())
    assert run("ledger", "same", visits[0], visits[0], "--larger").returncode == 2


def test_one_after_the_other_is_no_walk_of_both(run, two) -> None:
    """One was over when the other began."""
    two(["3 pale m"], ["4 pale"], "10:00-11:00", "11:00-11:30")
    assert run("ledger", "same").stdout == "Nothing to decide.\n"
