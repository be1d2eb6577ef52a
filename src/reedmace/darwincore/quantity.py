"""How many, and in what state."""

from __future__ import annotations

from reedmace.darwincore.wording import counted, listed, sentences
from reedmace.records import Sighting

# Behaviour that shows, by itself, an adult ready to reproduce. Tandem alone does not.
_REPRODUCTIVE = ("copulating", "ovipositing")


def quantity_terms(sighting: Sighting) -> dict[str, str]:
    """Give the terms of number, sex, stage and behaviour.

    Only an exact count goes into individualCount; an estimate, a lower bound or a band says what it is.
    """
    individuals, quantity, kind = "", "", ""
    count, to = sighting.count, sighting.count_to
    if count is not None:
        if sighting.count_kind == "exact":
            individuals = str(count)
        elif sighting.count_kind == "estimate":
            quantity, kind = _range(count, to), "individuals (estimated)"
        elif sighting.count_kind == "at least" or to is None:
            quantity, kind = str(count), "individuals (at least)"
        else:
            quantity, kind = _range(count, to), "individuals (counted in bands)"
    return {
        "individualCount": individuals,
        "organismQuantity": quantity,
        "organismQuantityType": kind,
        "sex": sighting.sex or "",
        "lifeStage": sighting.stage or "",
        "behavior": listed(sighting.behaviour),
        "reproductiveCondition": (
            "reproductively active" if any(word in sighting.behaviour for word in _REPRODUCTIVE) else ""
        ),
        "occurrenceRemarks": sentences(*pair_words(sighting), "" if sighting.remarks.isspace() else sighting.remarks),
    }


def pair_words(sighting: Sighting) -> tuple[str, str]:
    """Give what is said of pairs in words, before the remarks: those of this line, and those of another line."""
    return _pairs(sighting), _in_pairs(sighting)


def _range(count: int, to: int | None) -> str:
    return str(count) if to is None or to == count else f"{count}-{to}"


def _pairs(sighting: Sighting) -> str:
    """Say pairs in words: no column has room for them, and each is two individuals."""
    if sighting.pairs is None:
        return ""
    how = "copulating" if "copulating" in sighting.behaviour else "in tandem"
    # "At least" and "about" belong to the pairs as to the individuals.
    sign = {"at least": "At least ", "estimate": "About "}.get(sighting.count_kind, "")
    return f"{sign}{counted(sighting.pairs, 'pair', 'pairs')} {how}, a male and a female each"


def _in_pairs(sighting: Sighting) -> str:
    """Say that what was counted held pairs, which are a line of their own."""
    number = sighting.in_pairs
    return f"Counted with {number} more that were paired and have a line of their own" if number else ""
