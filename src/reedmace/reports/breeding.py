"""Breeding status of a species at a site over years: derived by named, versioned rules, never typed.

The rules are data (rule_sets/*.toml): each has a status and what must have been seen for it; the first that holds
gives the status, and is told together with the records that made it hold. Adults alone prove no breeding (Raebel
et al. 2010), and "regular presence" is a matter of figures, which stand in the rule set with their source.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping, Sequence
from importlib.resources import files
from typing import Any, NamedTuple

from reedmace.faults import Fault, Refused, did_you_mean
from reedmace.records import Sighting, Visit

STATUSES = ("confirmed", "probable", "possible", "adult present")
SCORED = ("sex", "stage", "behaviour")


class Rule(NamedTuple):
    """One rule.

    `any`: one record that fits one of these conditions is enough. `each`: every condition needs a record, all
    `within` one "visit" or one "year"; then `years` such years are needed (`in_a_row`: one after another), each
    with at least `individuals` insects. A condition maps sex, stage or behaviour to the words that will do; sex
    may be "pair" or "none".
    """

    status: str
    name: str
    any: tuple[Mapping[str, tuple[str, ...]], ...] = ()
    each: tuple[Mapping[str, tuple[str, ...]], ...] = ()
    within: str = "year"
    years: int = 1
    in_a_row: bool = False
    individuals: int = 0


class RuleSet(NamedTuple):
    """Rules in the order in which they are tried."""

    id: str
    version: str
    title: str
    source: str
    rules: tuple[Rule, ...]


class Seen(NamedTuple):
    """A sighting as the rules see it."""

    sighting: Sighting
    visit: Visit
    year: int

    @property
    def sex(self) -> str:
        """Male, female, pair or none."""
        return "pair" if self.sighting.pairs else self.sighting.sex or "none"

    @property
    def stage(self) -> str:
        """The stage; what was seen without one was an adult."""
        return self.sighting.stage or "adult"


class Status(NamedTuple):
    """What was derived: the status, the rule that fired, and the records that made it hold, oldest first.

    `uncertain` counts records left out because their name was uncertain.
    """

    taxon: str
    vernacular: str
    site: str
    first_year: int
    last_year: int
    status: str
    rule: str
    evidence: tuple[Seen, ...]
    records: int
    uncertain: int


def rule_set_names() -> tuple[str, ...]:
    """The rule sets that are there."""
    folder = files("reedmace.reports") / "rule_sets"
    return tuple(sorted(one.name.removesuffix(".toml") for one in folder.iterdir() if one.name.endswith(".toml")))


def read_rules(name: str) -> RuleSet:
    """Read a rule set by its name; raises `Refused` for an unknown one."""
    if name not in rule_set_names():
        hint = did_you_mean(name, rule_set_names(), f"there are {', '.join(rule_set_names())}")
        raise Refused(Fault("unknown-rules", f'There is no rule set "{name}".', hint, name, typed=True))
    text = (files("reedmace.reports") / "rule_sets" / f"{name}.toml").read_text(encoding="utf-8")
    return rules_of(tomllib.loads(text))


def rules_of(data: Mapping[str, Any]) -> RuleSet:
    """A rule set from plain data; raises ValueError where it says what no rule can."""
    rules = []
    for one in data["rule"]:
        known = {name: value for name, value in one.items() if name not in ("any", "each")}
        conditions = {name: tuple(_condition(each) for each in one.get(name, ())) for name in ("any", "each")}
        rule = Rule(**known, **conditions)
        if rule.status not in STATUSES or bool(rule.any) == bool(rule.each) or rule.within not in ("visit", "year"):
            raise ValueError(f"rule {rule.name!r} has no known status, or not one of any and each")
        rules.append(rule)
    return RuleSet(data["id"], data["version"], data["title"], data["source"], tuple(rules))


def _condition(data: Mapping[str, Sequence[str]]) -> Mapping[str, tuple[str, ...]]:
    unknown = set(data) - set(SCORED)
    if unknown or not data:
        raise ValueError(f"a condition knows {', '.join(SCORED)}, not {', '.join(unknown) or 'nothing'}")
    return {name: tuple(words) for name, words in data.items()}


def statuses(rules: RuleSet, rows: Iterable[tuple[Sighting, Visit]]) -> list[Status]:
    """The status of every species at every site, by name and site; sightings above species level say nothing."""
    groups: dict[tuple[str, str], list[Seen]] = {}
    doubtful: dict[tuple[str, str], int] = {}
    for sighting, visit in rows:
        year = _year(visit)
        if sighting.taxon.rank != "species" or sighting.taxon.one_of or year is None:
            continue
        place = (sighting.taxon.scientific_name, site_of(sighting, visit))
        if sighting.certainty == "uncertain" or sighting.qualifier:
            doubtful[place] = doubtful.get(place, 0) + 1
        else:
            groups.setdefault(place, []).append(Seen(sighting, visit, year))
    found = []
    for (taxon, site), seen in sorted(groups.items()):
        seen.sort(key=lambda one: (one.visit.date or "", one.sighting.id))
        fired = _first(rules, seen)
        if fired is None:
            continue
        rule, evidence = fired
        years = [one.year for one in seen]
        name = seen[-1].sighting.taxon.vernacular
        left = doubtful.get((taxon, site), 0)
        found.append(
            Status(taxon, name, site, min(years), max(years), rule.status, rule.name, evidence, len(seen), left)
        )
    return found


def site_of(sighting: Sighting, visit: Visit) -> str:
    """What a status is told for: the site's or the place's name, else its 1 km square, else what was typed."""
    place = sighting.place or visit.place
    if place.locality:
        return place.locality
    if place.square and place.side_m and place.side_m < 1000:
        digits = place.square.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
        letters, half = place.square[: len(place.square) - len(digits)], len(digits) // 2
        return f"{letters}{digits[:2]}{digits[half : half + 2]}"
    return place.square or place.typed


def _year(visit: Visit) -> int | None:
    from reedmace.records import span

    days = span(visit.date) if visit.date else None
    return days.year if days else None


def _first(rules: RuleSet, seen: list[Seen]) -> tuple[Rule, tuple[Seen, ...]] | None:
    for rule in rules.rules:
        evidence = _fires(rule, seen)
        if evidence:
            return rule, evidence
    return None


def _fires(rule: Rule, seen: list[Seen]) -> tuple[Seen, ...]:
    """The records that make a rule hold; empty where it does not."""
    if rule.any:
        return tuple(one for one in seen if any(_fits(condition, one) for condition in rule.any))
    held: dict[int, tuple[Seen, ...]] = {}
    for together in _together(rule.within, seen):
        fitting = [[one for one in together if _fits(condition, one)] for condition in rule.each]
        evidence = tuple(one for one in together if any(one in ones for ones in fitting))
        number = sum(one.sighting.count or 1 for one in evidence)
        if all(fitting) and number >= rule.individuals:
            held.setdefault(together[0].year, ())
            held[together[0].year] += evidence
    years = _run(sorted(held)) if rule.in_a_row else sorted(held)
    return tuple(one for year in years for one in held[year]) if len(years) >= rule.years else ()


def _together(within: str, seen: list[Seen]) -> list[list[Seen]]:
    groups: dict[object, list[Seen]] = {}
    for one in seen:
        groups.setdefault(one.visit.id if within == "visit" else one.year, []).append(one)
    return list(groups.values())


def _run(years: list[int]) -> list[int]:
    """The longest run of years one after another, the latest of several."""
    best: list[int] = []
    run: list[int] = []
    for year in years:
        run = [*run, year] if run and year == run[-1] + 1 else [year]
        if len(run) >= len(best):
            best = run
    return best


def _fits(condition: Mapping[str, tuple[str, ...]], seen: Seen) -> bool:
    return (
        ("sex" not in condition or seen.sex in condition["sex"])
        and ("stage" not in condition or seen.stage in condition["stage"])
        and ("behaviour" not in condition or any(act in condition["behaviour"] for act in seen.sighting.behaviour))
    )
