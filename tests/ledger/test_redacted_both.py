"""Two copies from which different names were taken come together: what either removed is removed, and nothing else."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.pond import LATER, NOON, begun, healthy, raw, refused, rows, sighting, visit
from reedmace.ledger.redact import REMOVED, pattern
from reedmace.ledger.redacted_both import _Both, aligned
from reedmace.ledger.store import Ledger, open_ledger

NAMES = ("Ben Sallow", "Cora Withy", "Dan", "Cora Sallow Withy")
BOTH = _Both(True, True)

# Names close together, at the ends, twice, one within another, beside signs, in texts that repeat themselves.
texts = st.lists(
    st.sampled_from(
        [*NAMES, "Sallow", "saw", "saw", "by the sluice", "2", "(", ")", "name", "removed", "-", "\n", "ä"]
    ),
    max_size=12,
).map(" ".join)


def without(text: str, *names: str) -> str:
    """A text as it stands when these people were forgotten, one after the other."""
    for name in names:
        text = pattern([name]).sub(REMOVED, text)
    return text


class TestTexts:
    """Two texts of one source."""

    @given(texts, st.sets(st.sampled_from(NAMES)), st.sets(st.sampled_from(NAMES)))
    def test_what_either_removed_is_removed(self, text: str, mine: set[str], theirs: set[str]) -> None:
        """Whichever comes first, and again with either of the two; every word that is left stands in both."""
        one, other = without(text, *sorted(mine)), without(text, *sorted(theirs, reverse=True))
        found = BOTH.text(one, other)
        assert found is not None
        assert BOTH.text(other, one) == found
        assert BOTH.text(found, one) == BOTH.text(one, found) == BOTH.text(other, found) == found
        for name in mine | theirs:
            assert not pattern([name]).search(found)
        for kept in found.split(REMOVED):
            assert kept in one
            assert kept in other

    @given(st.permutations([*NAMES, "one", "two", "three", "four", "five", "six"]), st.sets(st.sampled_from(NAMES)))
    def test_and_nothing_else_is(self, words: list[str], mine: set[str]) -> None:
        """Where every word tells where it stands, the result is the text without all these names."""
        text = " ".join(words)
        one, other = without(text, *sorted(mine)), without(text, *sorted(set(NAMES) - mine))
        assert BOTH.text(one, other) == without(text, *sorted(mine), *sorted(set(NAMES) - mine))

    @given(texts, st.permutations(NAMES[:3]))
    def test_three_copies_in_any_order(self, text: str, names: list[str]) -> None:
        """Each without another name: the same, whichever two come together first."""
        copies = [without(text, name) for name in names]
        results = set()
        for first, second, third in permutations(copies):
            half = BOTH.text(first, second)
            assert half is not None
            results.add(BOTH.text(half, third))
        assert len(results) == 1
        assert None not in results

    @pytest.mark.parametrize(
        ("one", "other"),
        [
            (f"3 azure by {REMOVED}", "4 azure by Ben Sallow"),
            (f"{REMOVED} saw it", f"{REMOVED} heard it"),
            (f"{REMOVED} saw it", "saw it"),  # a name is at least one word
            (f"with {REMOVED}", "with Ben Sallow at the sluice" * 5),
            (f"{REMOVED} and Cora", f"Ben and {REMOVED} at noon"),
            ("a", "b"),
        ],
    )
    def test_what_differs_otherwise_does_not_come_together(self, one: str, other: str) -> None:
        """A number, a word beside the name, a whole sentence."""
        assert BOTH.text(one, other) is None
        assert BOTH.text(other, one) is None

    def test_removals_that_overlap(self) -> None:
        """The last name was taken out of one copy, the first two out of the other: nothing of them is left."""
        assert BOTH.text(f"met {REMOVED} Withy.", f"met Cora {REMOVED}.") == f"met {REMOVED} {REMOVED}."
        assert BOTH.text(f"met {REMOVED}, all", f"met Cora {REMOVED} Withy, all") == f"met {REMOVED}, all"
        assert aligned((None, "x"), ("y", None)) == (None,)

    def test_the_words_themselves_are_no_removal_where_nothing_was_taken_out(self) -> None:
        """Somebody may write "(name removed)"; only in an entry that is marked it stands for a name."""
        assert _Both(False, False).text(f"by {REMOVED}", "by Ben") is None
        assert _Both(True, False).text(f"by {REMOVED}", "by Ben") == f"by {REMOVED}"
        assert _Both(False, True).text(f"by {REMOVED}", "by Ben") is None


def quiet(count: int) -> None:
    """Report no progress."""


def copies_of(folder: Path, words: list[str]) -> list[Path]:
    """Three copies of one ledger whose entries hold these words, each with another person forgotten in it."""
    with begun(folder / "first") as (ledger, ada, mint):
        for name in NAMES[:3]:
            ledger.people.register(name, mint)
        for number, text in enumerate(words, 1):
            made = visit(number, ada, remarks=text, party=text[:10].strip())
            one = sighting(f"n{number}", made.id, typed=text, remarks=f"with {text}")
            ledger.record_walk(made, [one], ada, NOON, mint)
            ledger.amend(one._replace(count=2, count_kind="exact"), f"recounted: {text}", ada, LATER, mint)
        paths = [folder / f"copy {number}" for number in range(3)]
        for path in paths:
            ledger.backup(path)
    for path, name in zip(paths, NAMES, strict=False):
        with open_ledger(path) as copy:
            forget(copy, name)
    return paths


def forget(ledger: Ledger, name: str) -> None:
    """Forget a person, in the words of entries too."""
    ledger.forget(ledger.people.ids_of(name), [name], redact=True)


def dumped(path: Path) -> str:
    """The whole ledger as text."""
    with open_ledger(path) as ledger:
        return "\n".join(ledger.dump())


@settings(max_examples=4)
@given(words=st.lists(texts, min_size=1, max_size=3))
def test_ledgers_come_together_in_any_order(words: list[str]) -> None:
    """Every order gives the same bytes, twice gives the same again, no name is in them, and the file is sound."""
    with TemporaryDirectory() as made:
        folder = Path(made)
        results = set()
        for order in permutations(range(3)):
            here = folder / "".join(map(str, order))
            here.mkdir()
            paths = copies_of(here, words)
            first, *others = (paths[number] for number in order)
            with open_ledger(first) as ledger:
                for other in (*others, *others):
                    ledger.merge(other, quiet)
                assert list(ledger.audit(quiet)) == []
            assert healthy(first)
            text = dumped(first)
            assert not [name for name in NAMES[:3] if pattern([name]).search(text)]
            results.add(text)
        assert len(results) == 1


def test_the_name_is_in_no_byte_of_a_file_that_merged_it_away(tmp_path: Path) -> None:
    """Neither in a page that was given back, nor in the file beside it."""
    paths = copies_of(tmp_path, ["Ben Sallow and Cora Withy by the sluice"])
    with open_ledger(paths[0]) as ledger:
        assert ledger.merge(paths[1], quiet).diverged == ()
        files = b"".join(file.read_bytes() for file in tmp_path.glob("copy 0*"))
    assert b"sluice" in files
    assert not [name for name in (b"Ben Sallow", b"Cora Withy") if name.lower() in files.lower()]


@pytest.mark.parametrize(
    "change",
    [
        "reason = replace(reason, 'recounted', 'guessed') WHERE reason <> ''",
        "body = replace(body, 'sluice', 'weir')",
        "body = replace(body, '\"count\":2', '\"count\":3') WHERE body LIKE '%\"count\":2%'",
        "written_at = '2020-01-01T00:00:00Z'",
        "body = replace(body, '\"taxon\":', '\"taxa\":') WHERE kind = 'sighting'",
        "body = replace(body, 'Aeshna mixta', 'Aeshna grandis') WHERE kind = 'sighting'",
    ],
)
def test_what_was_changed_outside_is_refused_though_names_were_taken_out(tmp_path: Path, change: str) -> None:
    """In either direction, and nothing is written; that the entry is marked excuses nothing."""
    paths = copies_of(tmp_path, ["Ben Sallow and Cora Withy by the sluice"])
    with raw(paths[1]) as connection:
        connection.execute("DROP TRIGGER entry_no_update")
        connection.execute(f"UPDATE entry SET {change}")
        assert connection.execute("SELECT changes()").fetchone()[0]
    for here, there in ((paths[0], paths[1]), (paths[1], paths[0])):
        before = rows(here)
        with open_ledger(here) as ledger, refused("entry-differs"):
            ledger.merge(there, quiet)
        assert rows(here) == before
