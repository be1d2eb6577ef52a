"""The name in a row of a sheet → the taxon of a record, and how sure whoever wrote it was."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, NamedTuple

from reedmace.faults import Fault
from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.records import Taxon
from reedmace.tasks.taxa import taxon_of

_DOUBT = re.compile(r"\s*(?:\?|\((?:probable|possible|\?)\))\s*$", re.I)
_QUALIFIED = re.compile(r"^(?P<genus>[A-Z][a-z]+)\s+(?P<sign>cf\.?|aff\.?|nr\.?)\s+(?P<rest>[a-z-]+)$")
_SP = re.compile(r"\s+(?:spp?\.?|indet\.?)$")
_PARTS = ("authorship", "rank", "vernacular", "kingdom", "phylum", "class_name", "order", "family", "genus")


class NamedAs(NamedTuple):
    """A taxon, and the doubt that stood with its name."""

    taxon: Taxon
    uncertain: bool = False
    qualifier: str = ""


def read_name(key: Key, text: str) -> NamedAs | Fault:
    """Read a name as people write it, in English or science; what the key does not know is a fault."""
    plain = _DOUBT.sub("", text)
    found = find_name(key, plain)
    if isinstance(found, Fault):
        return found._replace(said=text)
    return NamedAs(taxon_of(key, found)._replace(typed=text), plain != text)


def read_scientific(key: Key, fields: Mapping[str, str]) -> NamedAs | Fault:
    """Read a scientific name with what stands beside it; filled up from the key where that knows the name.

    A name that the key does not know is kept as given: a file of the standard says what it means.
    """
    text = fields["scientific_name"].strip()
    authorship = fields.get("authorship", "").strip()
    if authorship and text.endswith(authorship):
        text = text.removesuffix(authorship).strip()
    plain = _DOUBT.sub("", text)
    qualifier = ""
    if found := _QUALIFIED.fullmatch(plain):
        plain, qualifier = found["genus"], f"{found['sign'].rstrip('.')}. {found['rest']}"
    plain = _SP.sub("", plain)
    if not re.search(r"\w", plain):
        return Fault("name-empty", "There is no name here.", "write a name, such as  Aeshna cyanea", text)
    typed = fields.get("name_typed", "").strip()
    choice = tuple(part for part in typed.split(" or ") if part) if " or " in typed else ()
    given: dict[str, Any] = {part: fields[part] for part in _PARTS if fields.get(part)}
    taxon = Taxon(
        scientific_name=plain,
        specific_epithet=fields.get("specific_epithet", ""),
        one_of=choice if len(set(choice)) > 1 else (),
        typed="" if choice else typed,
        **given,
    )
    if not given.keys() >= {"rank", "family"} and not choice:
        known = find_name(key, plain)
        if isinstance(known, FoundName):
            filled = taxon_of(key, known)
            if filled.scientific_name == plain:
                taxon = filled._replace(typed=typed, **given)
    return NamedAs(taxon, plain != text and not qualifier and _SP.search(text) is None, qualifier)
