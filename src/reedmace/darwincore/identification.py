"""What it was named, by whom, and on what grounds."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from reedmace.darwincore.csvfile import one_line
from reedmace.darwincore.wording import sentences
from reedmace.records import Naming, Sighting

if TYPE_CHECKING:
    from reedmace.darwincore.exact import Earlier

# How many lines of the ranking are told, and from what probability.
_TOLD, _LEAST = 5, 0.005
DOUBT = {"uncertain": "?", "probable": "probable"}


def identification_terms(sighting: Sighting, name_of: Callable[[str], str]) -> dict[str, str]:
    """Give the terms of the name. The determiner is a person or nobody, never the program."""
    taxon, naming = sighting.taxon, sighting.naming
    return {
        "scientificName": taxon.scientific_name,
        "scientificNameAuthorship": taxon.authorship,
        "taxonRank": taxon.rank,
        "specificEpithet": taxon.specific_epithet,
        "vernacularName": taxon.vernacular,
        "kingdom": taxon.kingdom,
        "phylum": taxon.phylum,
        "class": taxon.class_name,
        "order": taxon.order,
        "family": taxon.family,
        "genus": taxon.genus,
        "verbatimIdentification": " or ".join(taxon.one_of) or taxon.typed,
        "identificationQualifier": one_line(sighting.qualifier) or DOUBT.get(sighting.certainty or "", ""),
        "identifiedBy": name_of(sighting.determiner) if sighting.determiner else "",
        "dateIdentified": sighting.determined_on or "",
        "identificationReferences": key_words(naming) if naming else "",
        "identificationRemarks": grounds(sighting.evidence or "", naming),
    }


def identification_rows(
    sighting: Sighting, earlier: Sequence[Earlier], name_of: Callable[[str], str], verification: str = ""
) -> list[dict[str, str]]:
    """Give a row for each determination, the oldest first; the last is the accepted one.

    Their ids are worked out from the sighting's, so that they are the same in every copy of the ledger.
    """
    found = []
    for number, one in enumerate([*(one.sighting for one in earlier), sighting], 1):
        found.append(
            {
                **identification_terms(one, name_of),
                "occurrenceID": sighting.id,
                "identificationID": f"{sighting.id}#{number}",
                "isAcceptedIdentification": "true" if number > len(earlier) else "false",
                "identificationVerificationStatus": verification if number > len(earlier) else "",
            }
        )
    return found


def named_before(earlier: Sequence[Earlier], name_of: Callable[[str], str]) -> list[str]:
    """Give earlier names, the oldest first: `Aeshna mixta? (Ada Marsh, 2026-06-14)`.

    When a name was written into the ledger says nothing of when it was given: a record may be years old by then.
    """
    told = []
    for one in earlier:
        seen = one.sighting
        doubt = one_line(seen.qualifier) or DOUBT.get(seen.certainty or "", "")
        who = name_of(seen.determiner) if seen.determiner else ""
        said = ", ".join(filter(None, (who, seen.determined_on)))
        name = " or ".join(seen.taxon.one_of) or seen.taxon.scientific_name
        doubted = f"{name}{'?' if doubt == '?' else f' {doubt}' if doubt else ''}"
        told.append(f"{doubted} ({said})".replace("|", "/") if said else doubted.replace("|", "/"))
    return told


def grounds(evidence: str, naming: Naming | None) -> str:
    """Give what a name rests on, in words: the evidence, and what the key said."""
    return sentences(f"Evidence: {evidence}" if evidence else "", *(_told(naming) if naming else []))


def key_words(naming: Naming) -> str:
    """Give the key by its id, version and digest."""
    return f"{naming.key_id} {naming.key_version} (digest {naming.key_digest})"


def _told(naming: Naming) -> list[str]:
    """Tell the key's answers, verdict and ranking in words."""
    program = f" by reedmace {naming.reedmace}" if naming.reedmace else ""
    eye = f", {naming.eye} eye" if naming.eye else ""
    given = naming.circumstances
    around = [f"{word} {text}" for word, text in zip(("date", "place", "habitat"), given, strict=False) if text]
    if given.flat:
        around.append("all species taken as equally common")
    answers = ", ".join(f"{answer.character} = {answer.typed}" for answer in naming.answers)
    verdict = " ".join(part for part in (naming.verdict, naming.verdict_name) if part)
    return [
        f"Key {naming.key_id} {naming.key_version} used{program}{eye}",
        f"Answers: {answers}" if answers else "",
        f"When and where: {', '.join(around)}" if around else "",
        f"Verdict: {verdict}" if verdict else "",
        f"Ranking: {_ranking(naming)}" if naming.ranking else "",
    ]


def _ranking(naming: Naming) -> str:
    shown = [row for row in naming.ranking if row.probability >= _LEAST][:_TOLD] or naming.ranking[:1]
    lines = [f"{row.name}{f' ({row.guise})' if row.guise else ''} {_probability(row.probability)}" for row in shown]
    rest = len(naming.ranking) - len(shown)
    return ", ".join([*lines, *([f"and {rest} less likely"] if rest else [])])


def _probability(value: float) -> str:
    """Give a probability to three decimals, never rounded up to certainty or down to nothing."""
    if value < 0.0005:
        return "under 0.001"
    return "over 0.999" if value > 0.9995 else f"{value:.3f}"
