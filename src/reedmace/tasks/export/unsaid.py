"""What no column of a recipient's sheet says of doubt, stage, sex, behaviour and pairs → words for its remarks."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import NamedTuple

from reedmace.records import Sighting
from reedmace.tasks.export.cells import Number, number_of, number_written
from reedmace.tasks.export.sources import COUNTED

# Stages other than adult, and the column that counts each.
_STAGES = {
    "immature": "immature",
    "teneral": "teneral",
    "emerging": "emerging",
    "exuvia": "exuviae",
    "larva": "larvae",
}
_DOUBTS = {"uncertain": "name in doubt", "probable": "name probable"}
_PAIRED = ("copulating", "tandem")


def columns_of(sighting: Sighting) -> list[str]:
    """Give the columns that a sighting counts in, where a sheet has one row a species."""
    columns = [_STAGES.get(sighting.stage or "", "adults")]
    if sighting.pairs:
        columns += ["pairs", _paired(sighting)]
    elif sighting.sex and columns == ["adults"]:
        columns.append(f"{sighting.sex}s")
    if "ovipositing" in sighting.behaviour:
        columns.append("ovipositing")
    return [column for column in columns if column in COUNTED]


def record_unsaid(sighting: Sighting, columns: Collection[str]) -> list[str]:
    """Give what no column says of a record that has a row of its own; a column of Darwin Core will do as well."""
    words = _doubt(sighting, columns)
    if sighting.stage not in (None, "adult") and not _among(columns, "stage", "lifeStage"):
        skin = sighting.stage == sighting.evidence == "exuvia"
        words += [] if skin and "evidence" in columns else [str(sighting.stage)]
    if sighting.sex and not sighting.pairs and not _among(columns, "sex"):
        words.append(sighting.sex)
    acts = () if _among(columns, "behaviour", "behavior") else sighting.behaviour
    if sighting.pairs and not _among(columns, "pairs", "occurrenceRemarks"):
        how = _how(_paired(sighting)) if acts else ""
        words.append(_insects(_pairs(sighting), _Kind("pair", "pairs", how)))
        acts = _without_paired(acts)
    return [*words, *acts]


def species_unsaid(sightings: Sequence[Sighting], columns: Collection[str]) -> list[str]:
    """Give what no column says of one species of a visit: the doubt about its name, then numbers of what was seen."""
    numbers: dict[_Kind, Number] = {}
    for sighting in sightings:
        kind = _uncounted(sighting, columns)
        if kind is not None:
            number = _pairs(sighting) if sighting.pairs else number_of(sighting)
            numbers[kind] = numbers.get(kind, Number()).plus(number)
    return [*_doubt(sightings[0], columns), *(_insects(number, kind) for kind, number in numbers.items())]


class _Kind(NamedTuple):
    """Words for insects alike: one, more than one, and what stands behind."""

    one: str
    more: str
    behind: str = ""


def _doubt(sighting: Sighting, columns: Collection[str]) -> list[str]:
    """Give the doubt that no column shows.

    The scientific name carries `?` and signs such as `cf.`, but no "probable", and no sign behind several names.
    """
    term = "identificationQualifier" in columns
    signed = term or ("species" in columns and not sighting.taxon.one_of)
    word = _DOUBTS.get(sighting.certainty or "", "")
    if sighting.qualifier and not signed:
        return [f"{word or 'name in doubt'} ({sighting.qualifier})"]
    shown = signed if sighting.certainty == "uncertain" else term and not sighting.qualifier
    return [word] if word and not shown and "certainty" not in columns else []


def _uncounted(sighting: Sighting, columns: Collection[str]) -> _Kind | None:
    """Give what no column counts of a sighting, None where all of it is counted."""
    stage = sighting.stage if sighting.stage in _STAGES else ""
    acts = tuple(act for act in sighting.behaviour if act != "ovipositing" or act not in columns)
    adults = not stage and not _among(columns, *columns_of(sighting))
    if sighting.pairs:
        # Where one kind of pairs and all pairs are counted, the rest are the other kind.
        counted = _paired(sighting) in columns or len({"pairs", *_PAIRED} & set(columns)) > 1
        how, acts = "" if counted else _how(_paired(sighting)), _without_paired(acts)
        one, more = "pair", "pairs"
        said = bool(how)
    else:
        # Those that lay eggs are females.
        laying = sighting.sex == "female" and "ovipositing" in sighting.behaviour and "ovipositing" in columns
        sex = "" if laying or (not stage and f"{sighting.sex}s" in columns) else sighting.sex or ""
        one, more = _nouns(stage, sex, adults)
        how, said = "", bool(sex)
    if not (said or acts or adults or (stage and _STAGES[stage] not in columns)):
        return None
    if sighting.pairs and stage:
        one, more = f"{stage} {one}", f"{stage} {more}"
    behind = ", ".join(acts)
    return _Kind(one, more, f"{how}{', ' if behind and one else ' ' if behind else ''}{behind}")


def _nouns(stage: str, sex: str, adults: bool) -> tuple[str, str]:
    """Give what insects are called, one and more than one of them; nothing where the number says enough."""
    before = [sex] if stage in ("exuvia", "larva") else [stage]
    one, more = {"exuvia": ("exuvia", "exuviae"), "larva": ("larva", "larvae")}.get(
        stage, (sex, f"{sex}s") if sex else ("adult", "adults") if adults else ("", "")
    )
    return " ".join(filter(None, [*before, one])), " ".join(filter(None, [*before, more]))


def _insects(number: Number, kind: _Kind) -> str:
    """Give a number with what it counts: `2 females, ovipositing`, `about 3 pairs in tandem`, `some larvae`."""
    noun = kind.one if number == Number(1, 1) else kind.more
    return " ".join(filter(None, [number_written(number, {}, "some"), noun])) + kind.behind


def _pairs(sighting: Sighting) -> Number:
    """Give how many pairs; what is said of the individuals' number holds for theirs."""
    pairs, insects = sighting.pairs or 0, number_of(sighting)
    high = None if insects.high is None else max(pairs, insects.high // 2)
    return insects._replace(low=pairs, high=high, uncounted=False)


def _paired(sighting: Sighting) -> str:
    return "copulating" if "copulating" in sighting.behaviour else "tandem"


def _how(paired: str) -> str:
    return " copulating" if paired == "copulating" else " in tandem"


def _without_paired(acts: Iterable[str]) -> tuple[str, ...]:
    return tuple(act for act in acts if act not in _PAIRED)


def _among(columns: Collection[str], *wanted: str) -> bool:
    return not set(wanted).isdisjoint(columns)
