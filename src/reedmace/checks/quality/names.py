"""Scientific names: do their parts agree, and is their identifier whole?"""

from __future__ import annotations

import re

from reedmace.checks.quality.outcome import COMPLIANT, Basis, Outcome, Row, Validation, empty, lacking, refused, words

_PARTS = ("genericName", "specificEpithet", "infraspecificEpithet")
# Signs that stand between the parts of a name and are none.
_BETWEEN = words("cf cf. aff aff. nr nr. sp sp. ssp ssp. subsp subsp. var var. f f. form forma agg agg. × x")
_LSID = r"urn:lsid:[A-Za-z0-9.-]+:[A-Za-z0-9._-]+:[^\s:]+(?::[^\s:]+)?"
_WHOLE_ID = re.compile(rf"{_LSID}|urn:uuid:[0-9a-fA-F-]{{36}}|https?://[^\s/]+/\S+|doi:10\.\S+/\S+|gbif:[0-9]+")


def polynomial_consistent(row: Row, basis: Basis) -> Outcome:
    """Does scientificName hold the parts that stand beside it, each in its place?"""
    name = row.get("scientificName", "")
    generic, specific, below = (row.get(part, "").strip() for part in _PARTS)
    if empty(name) or not (generic or specific or below):
        return lacking("scientificName is empty, or none of its parts stands beside it")
    parts = [word for word in name.split() if word.casefold() not in _BETWEEN and not word.startswith("(")]
    epithets = [word for word in parts[1:] if re.fullmatch(r"[a-zë-]+", word)]
    if generic and (not parts or parts[0] != generic):
        return refused(f"genericName {generic} is not the first word of {name}")
    if specific and epithets[:1] != [specific]:
        return refused(f"specificEpithet {specific} is not the epithet of {name}")
    if below and below not in epithets[1:]:
        return refused(f"infraspecificEpithet {below} is not in {name}")
    return COMPLIANT


def name_id_complete(row: Row, basis: Basis) -> Outcome:
    """Does scientificNameID say which register it comes from?"""
    text = row.get("scientificNameID", "")
    if empty(text):
        return lacking("scientificNameID is empty")
    return COMPLIANT if _WHOLE_ID.fullmatch(text.strip()) else refused(f'scientificNameID "{text}" names no register')


VALIDATIONS: dict[str, Validation] = {
    "POLYNOMIAL_CONSISTENT": polynomial_consistent,
    "SCIENTIFICNAMEID_COMPLETE": name_id_complete,
}
