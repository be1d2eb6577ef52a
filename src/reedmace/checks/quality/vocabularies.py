"""Values that come from a list. The lists are facts of open standards, held here."""

from __future__ import annotations

import re

from reedmace.checks.quality.outcome import (
    COMPLIANT,
    HELD,
    Basis,
    Outcome,
    Row,
    Status,
    Validation,
    empty,
    lacking,
    refused,
    words,
)

# The classes of Darwin Core that say what a record rests on.
BASIS_OF_RECORD = words(
    "PreservedSpecimen FossilSpecimen LivingSpecimen MaterialSample MaterialEntity MaterialCitation Event"
    " HumanObservation MachineObservation Occurrence Organism Taxon"
)
# The type vocabulary of Dublin Core.
TYPES = words(
    "Collection Dataset Event Image InteractiveResource MovingImage PhysicalObject Service Software Sound StillImage"
    " Text"
)
# Darwin Core's recommendation up to 2023, and that of the list of terms issued 2026-05-26.
OCCURRENCE_STATUS = frozenset({"present", "absent", "detected", "notDetected"})
SEX = frozenset({"male", "female", "hermaphrodite", "indeterminate"})
RANKS = words(
    "domain kingdom subkingdom superphylum phylum subphylum superclass class subclass supercohort cohort subcohort"
    " superorder order suborder infraorder superfamily family subfamily tribe subtribe genus subgenus section"
    " subsection series subseries speciesAggregate species subspecificAggregate subspecies variety subvariety form"
    " subform cultivarGroup cultivar strain informal unranked"
)
# ISO 3166-1, two letters; XZ (the high seas) and ZZ (unknown) are its user-assigned codes in use.
COUNTRIES = words(
    "AD AE AF AG AI AL AM AO AQ AR AS AT AU AW AX AZ BA BB BD BE BF BG BH BI BJ BL BM BN BO BQ BR BS BT BV BW BY BZ"
    " CA CC CD CF CG CH CI CK CL CM CN CO CR CU CV CW CX CY CZ DE DJ DK DM DO DZ EC EE EG EH ER ES ET FI FJ FK FM FO"
    " FR GA GB GD GE GF GG GH GI GL GM GN GP GQ GR GS GT GU GW GY HK HM HN HR HT HU ID IE IL IM IN IO IQ IR IS IT JE"
    " JM JO JP KE KG KH KI KM KN KP KR KW KY KZ LA LB LC LI LK LR LS LT LU LV LY MA MC MD ME MF MG MH MK ML MM MN MO"
    " MP MQ MR MS MT MU MV MW MX MY MZ NA NC NE NF NG NI NL NO NP NR NU NZ OM PA PE PF PG PH PK PL PM PN PR PS PT PW"
    " PY QA RE RO RS RU RW SA SB SC SD SE SG SH SI SJ SK SL SM SN SO SR SS ST SV SX SY SZ TC TD TF TG TH TJ TK TL TM"
    " TN TO TR TT TV TW TZ UA UG UM US UY UZ VA VC VE VG VI VN VU WF WS YE YT ZA ZM ZW XZ ZZ"
)
_LICENCE = re.compile(
    r"https?://creativecommons\.org/"
    r"(?:licenses/by(?:-nc)?(?:-nd|-sa)?/(?:1\.0|2\.0|2\.5|3\.0|4\.0)|publicdomain/(?:zero|mark)/1\.0)"
    r"(?:/(?:legalcode|deed)?(?:\.[a-z]{2})?)?",
    re.ASCII,
)


def _listed(term: str, known_words: frozenset[str], example: str, *, any_case: bool = False) -> Validation:
    def known(row: Row, basis: Basis) -> Outcome:
        """Does the value come from its list?"""
        text = row.get(term, "")
        if empty(text):
            return lacking(f"{term} is empty")
        if basis.authority != HELD:
            return Outcome(Status.EXTERNAL, f"no list of {basis.authority} is held here")
        if (text.casefold() if any_case else text) in known_words:
            return COMPLIANT
        return refused(f'{term} "{text}" is no word of its list, such as {example}')

    return known


def licence_standard(row: Row, basis: Basis) -> Outcome:
    """Is license the address of a Creative Commons licence?"""
    text = row.get("license", "")
    if empty(text):
        return lacking("license is empty")
    if basis.authority != HELD:
        return Outcome(Status.EXTERNAL, f"no list of {basis.authority} is held here")
    return COMPLIANT if _LICENCE.fullmatch(text) else refused(f'license "{text}" is no address of such a licence')


VALIDATIONS: dict[str, Validation] = {
    "DCTYPE_STANDARD": _listed("type", TYPES, "Event"),
    "BASISOFRECORD_STANDARD": _listed("basisOfRecord", BASIS_OF_RECORD, "HumanObservation"),
    "OCCURRENCESTATUS_STANDARD": _listed("occurrenceStatus", OCCURRENCE_STATUS, "present"),
    "SEX_STANDARD": _listed("sex", SEX, "female", any_case=True),
    "TAXONRANK_STANDARD": _listed("taxonRank", RANKS, "species"),
    "COUNTRYCODE_STANDARD": _listed("countryCode", COUNTRIES, "GB"),
    "LICENSE_STANDARD": licence_standard,
}
