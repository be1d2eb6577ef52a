"""Whole screens of the made tarn flies, compared with golden files in four forms each."""

from __future__ import annotations

import pytest

from reedmace.faults import Fault, Where
from reedmace.keys.cache import load_sources
from reedmace.keys.model import Key
from reedmace.scoring.tables import Tables
from reedmace.tasks.naming.conversation import begin, step
from reedmace.tasks.naming.expect_here import expect
from reedmace.tasks.naming.name_insect import Named
from reedmace.tasks.naming.tell_apart import tell_apart
from reedmace.tasks.shared.setting import read_setting
from reedmace.terminal.apart_page import show_apart
from reedmace.terminal.expected_list import show_expected
from reedmace.terminal.fault_text import show_faults
from reedmace.terminal.ledger_list import show_sightings
from reedmace.terminal.naming import say_setting, show_named, show_setting
from reedmace.terminal.query_list import show_checked
from reedmace.terminal.screen import Screen
from reedmace.terminal.species_page import show_species
from reedmace.terminal.talk import show_beginning, show_reply
from tarn import FOLDER, TODAY, look
from terminal.golden import check
from terminal.made_records import TRICKY, checked, rows

LOOKS = {
    "settled": "wings=closed colour=blue bar=present collar=straight bump=present back-mark=cup",
    "settled-sex-open": "wings=half-open colour=rust eyes=brown length=38mm bar=absent back-mark=spot~",
    "narrowed": "wings=closed colour=blue bar=present bump=present back-mark=cup",
    "narrowed-other": "wings=closed colour=blue collar=straight bump=present back-mark=cup",
    "narrowed-group": "wings=closed~",
    "narrowed-at-an-end": "bump=present eyes=blue bar=present colour=blue wings=closed collar=lobed",
    "narrowed-from-here": "bar=present wings=closed",
    "narrowed-one": "wings=closed colour=rust bar=present collar=straight bump=absent back-mark=cup",
    "open": "colour=green",
    "open-protected": "wings=flat colour=green eyes=brown bar=present",
    "outside": "wings=flat length=22mm:measured colour=rust eyes=blue bar=present back-mark=none collar=lobed "
    "bump=present",
    "nothing-answered": "",
}


def had(key: Key, name: str) -> Named:
    """One of the looks, with its place and habitat."""
    where = "NN 11 22" if name == "open-protected" else "SU 43 11"
    return look(key, LOOKS[name], where=where, habitat="mere" if name == "settled" else "")


@pytest.mark.parametrize("name", LOOKS)
def test_a_look_named_at_once(tarn: Key, name: str) -> None:
    """Verdict, ranking, reasons, what to rule out, what to look at next, cautions."""
    named = had(tarn, name)

    def show(screen: Screen) -> None:
        show_setting(screen, named)
        show_named(screen, named)

    check(f"look-{name}", show)


def test_the_looks_reach_every_verdict(tarn: Key) -> None:
    """The screens above are no four pictures of the same thing."""
    words = {name: had(tarn, name).assessment.verdict.word for name in LOOKS}
    assert words == {name: "open" if name == "nothing-answered" else name.partition("-")[0] for name in LOOKS}


TALKS = {
    "beginning": [],
    "question": ["wings closed", "back-mark"],
    "question-again": ["back-mark cup~", "change back-mark"],
    "question-number": ["length"],
    "standing-open": ["colour green"],
    "standing-narrowed": ["wings closed", "colour blue", "bar present"],
    "standing-settled": [*LOOKS["settled"].split()],
    "standing-outside": [*LOOKS["outside"].split()],
    "who": ["wings closed", "who"],
    "why": ["wings closed", "bar present~", "length 33", "why great"],
    "against": ["wings closed", "bar present", "back-mark spot", "against"],
    "against-nothing": ["wings closed", "against"],
    "settle": [*LOOKS["narrowed"].split(), "settle"],
    "questions": ["wings closed", "length 31-33 ruler", "collar ?", "questions"],
    "answers": ["wings closed/half-open", "length 31-33 ruler", "collar ?", "answers"],
    "answers-none": ["answers"],
    "help": ["help"],
    "when-and-where": ["where NN 11 22", "answers"],
    "choices": ["brown"],
    "look": ["a gren body, wings folded, by the mere in July, flimsy, eyes not blue"],
    "taken": ["folded~"],
    "fault-value": ["wings", "sideways"],
    "fault-question": ["colur blue"],
    "done": [*LOOKS["narrowed"].split(), "done"],
}


@pytest.mark.parametrize("name", TALKS)
def test_the_last_reply_of_a_talk(tarn: Key, name: str) -> None:
    """The conversation's screens, each after a few lines typed."""
    setting = read_setting(tarn, "1 July 2026", "SU 43 11", None, today=TODAY)
    state = begin(Tables(tarn, "beginner"), setting, TODAY)
    replies = ()
    for line in TALKS[name]:
        state, replies = step(state, line)

    def show(screen: Screen) -> None:
        if not replies:
            show_beginning(screen, state.named)
        for reply in replies:
            show_reply(screen, reply)

    check(f"talk-{name}", show)


def test_two_look_alikes_told_apart(tarn: Key) -> None:
    """What decides, what to write when it can't be seen, and marks by sex and age with what each shows."""
    one = tarn.species[3]
    other = next(entry.species for entry in one.lookalikes if entry.species is not None)
    check(
        "apart-two", lambda screen: show_apart(screen, tarn, tell_apart(Tables(tarn, "beginner"), (one.index, other)))
    )


def test_three_told_apart(tarn: Key) -> None:
    """Three at once: every pair, and marks that tell all of them."""
    check("apart-three", lambda screen: show_apart(screen, tarn, tell_apart(Tables(tarn, "beginner"), (0, 1, 2))))


@pytest.mark.parametrize("species", [0, 3])
def test_one_species(tarn: Key, species: int) -> None:
    """Names, season, range, marks by form, look-alikes, sources."""
    sources = load_sources(FOLDER, None)
    name = tarn.species[species].english.lower().replace(" ", "-")
    check(f"about-{name}", lambda screen: show_species(screen, tarn, species, sources))


def test_what_is_expected_here_and_now(tarn: Key) -> None:
    """Level, season and chance, likeliest first."""
    setting = read_setting(tarn, "1 July 2026", "NN 11 22", None, today=TODAY)

    def show(screen: Screen) -> None:
        say_setting(screen, setting)
        show_expected(screen, tarn, expect(tarn, setting), None)

    check("expected", show)


def test_the_ledger_list(tarn: Key) -> None:
    """Counts, pairs, estimates, doubt, withdrawn ones, and names of places that look like something else."""
    check("ledger-list", lambda screen: show_sightings(screen, rows(tarn)))


def test_an_empty_ledger_list() -> None:
    """Nothing is said to be nothing."""
    check("ledger-list-empty", lambda screen: show_sightings(screen, []))


def test_the_query_list(tarn: Key) -> None:
    """Record by record: how loud, what, why, and what to do."""
    check("query-list", lambda screen: show_checked(screen, checked(tarn)))


def test_a_query_list_without_queries(tarn: Key) -> None:
    """A clean ledger says so in one line."""
    check("query-list-clean", lambda screen: show_checked(screen, checked(tarn)[:1]))


TYPED = Fault("unknown-state", '"sideways" is no state of wings.', "its states are closed, flat", "wings=sideways")
NO_LEDGER = Fault(
    "no-ledger", "There is no ledger here yet.", "log a first sighting to begin one", where=Where("a.ledger")
)
LONG = (
    "  - {name: Tarnula pallida, authority: (Fellman, 1899), english: Pale Rushlet, "
    "statsu: resident, flight: none, more: x}"
)
FAULTS = {
    "typed": [TYPED],
    "two": [TYPED, NO_LEDGER],
    "in-a-file": [
        Fault(
            "unknown-field",
            'This character has no field "rnage".',
            "did you mean  range: [1, 2] ?",
            where=Where("tarn/characters.yaml", 10, 5, "    rnage: [1, 2]", 5),
        )
    ],
    "in-a-long-line": [
        Fault(
            "unknown-field",
            'This species has no field "statsu", and nothing that is written after it on the line can be read as one.',
            "did you mean status?",
            where=Where("tarn/species/tarnula.yaml", 107, LONG.index("statsu") + 1, LONG, 6),
        )
    ],
    "literal": [
        Fault(
            "unknown-name",
            f'Nothing in this key is called "{TRICKY}".',
            "write any part of an English or scientific name",
            f"12 {TRICKY}",
            typed=True,
        )
    ],
}


@pytest.mark.parametrize("name", FAULTS)
def test_faults(name: str) -> None:
    """Place, code, the user's own words, why, and what to do about it."""

    def show(screen: Screen) -> None:
        text = show_faults(FAULTS[name], colour=not screen.console.no_color, width=screen.width, plain=screen.plain)
        screen.file.write(text + "\n")

    check(f"fault-{name}", show)
