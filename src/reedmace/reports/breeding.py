"""Breeding status of a species at a site over years: derived by named, versioned rules, never typed.

The rules are data (rule_sets/*.toml): each has a status and what must have been seen for it; the first that holds
gives the status, and is told together with the records that made it hold. Adults alone prove no breeding (Raebel
et al. 2010), and "regular presence" is a matter of figures, which stand in the rule set with their source.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from importlib.resources import files
from typing import Any, NamedTuple

from reedmace.faults import Fault, Refused, did_you_mean
from reedmace.records import Sighting, Span, Visit, span
from reedmace.reports.breeding_sites import one_site, site_names, site_of

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
    """A sighting as the rules see it; `days` are those that its date may mean."""

    sighting: Sighting
    visit: Visit
    days: Span

    @property
    def year(self) -> int | None:
        """The year, None where it lies in one of several."""
        return self.days.year

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


class LeftOut(NamedTuple):
    """Records of one name at one site that no status was derived from, and why not."""

    taxon: str
    vernacular: str
    site: str
    reason: str
    records: int


class Breeding(NamedTuple):
    """What was derived, by name and site, and what was left out."""

    found: tuple[Status, ...]
    left_out: tuple[LeftOut, ...]


UNCERTAIN = "uncertain name"
REJECTED = "name answered incorrect by the county recorder"
ABOVE_SPECIES = "not named to species"
UNDATED = "without a date"
TOO_VAGUE = "date too vague for the years asked for"


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
        enough, needed = (tuple(_condition(each) for each in one.get(name, ())) for name in ("any", "each"))
        rule = Rule(**known, any=enough, each=needed)
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
    return list(breeding(rules, rows).found)


def breeding(
    rules: RuleSet,
    rows: Iterable[tuple[Sighting, Visit]],
    since: int | None = None,
    until: int | None = None,
    rejected: Callable[[Sighting], bool] = lambda _: False,
) -> Breeding:
    """As `statuses`, over the years asked for, with what was left out and why.

    A vague date counts for the years it spans, and is left out where some of them were not asked for. Of a record that
    is `rejected` the county recorder does not accept the name: nothing rests on it.
    """
    rows = list(rows)
    names = site_names(site_of(*row) for row in rows)
    groups: dict[tuple[str, str], list[Seen]] = {}
    left: dict[tuple[str, str, str], list[Sighting]] = {}
    for sighting, visit in rows:
        place = (sighting.taxon.scientific_name, names[one_site(site_of(sighting, visit))])
        days = span(visit.date) if visit.date else None
        reason = REJECTED if rejected(sighting) else _why_not(sighting, days, since, until)
        if reason:
            left.setdefault((*place, reason), []).append(sighting)
        elif days:
            groups.setdefault(place, []).append(Seen(sighting, visit, days))
    found = []
    for (taxon, site), seen in sorted(groups.items()):
        seen.sort(key=lambda one: (one.visit.date or "", one.sighting.id))
        fired = _first(rules, seen)
        if fired is None:
            continue
        rule, evidence = fired
        years = [int(day[:4]) for one in seen for day in one.days]
        name = seen[-1].sighting.taxon.vernacular
        doubtful = len(left.get((taxon, site, UNCERTAIN), ()))
        found.append(
            Status(taxon, name, site, min(years), max(years), rule.status, rule.name, evidence, len(seen), doubtful)
        )
    return Breeding(
        tuple(found),
        tuple(
            LeftOut(taxon, ones[-1].taxon.vernacular, site, reason, len(ones))
            for (taxon, site, reason), ones in sorted(left.items())
        ),
    )


def _why_not(sighting: Sighting, days: Span | None, since: int | None, until: int | None) -> str:
    """Why a record says nothing about breeding; empty where it may."""
    if sighting.taxon.rank != "species" or sighting.taxon.one_of:
        return ABOVE_SPECIES
    if sighting.certainty == "uncertain" or sighting.qualifier:
        return UNCERTAIN
    if days is None:
        return UNDATED
    if (since is not None and int(days.first[:4]) < since) or (until is not None and int(days.last[:4]) > until):
        return TOO_VAGUE
    return ""


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
            year = int(together[0].days.first[:4])
            held[year] = (*held.get(year, ()), *evidence)
    years = _run(sorted(held)) if rule.in_a_row else sorted(held)
    return tuple(one for year in years for one in held[year]) if len(years) >= rule.years else ()


def _together(within: str, seen: list[Seen]) -> list[list[Seen]]:
    """What was seen on one visit, or in one year; a date of several years is in none of them."""
    groups: dict[object, list[Seen]] = {}
    for one in seen:
        together = one.visit.id if within == "visit" else one.year
        if together is not None:
            groups.setdefault(together, []).append(one)
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
