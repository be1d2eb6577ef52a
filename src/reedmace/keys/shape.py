"""What the strict models find wrong with a file's shape → faults in plain words, each at its own line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel, ValidationError

from reedmace.faults import Fault, did_you_mean, nearest
from reedmace.keys.forms import form_of, model_at
from reedmace.keys.tree import Path, Tree, in_short

_NUMBER = ("This must be a number.", "write it with a point:  33.5")
_FIELDS = ("This must hold fields.", "write  field: value  below it, or  {{field: value}}  beside it")
# kind of slip, as pydantic names it → what it means and what to do
_PLAIN = {
    "string_type": ("This must be text.", 'write words; in quotes where they look like a number:  "1901"'),
    "string_too_short": ("This is empty.", "write it, or take the field out"),
    "string_pattern_mismatch": ("This is not written as it must be.", "it must look like {pattern}"),
    "tuple_type": ("This must be a list.", "write  [one, another]"),
    "too_short": ("This list is too short.", "it needs at least {min_length}"),
    "too_long": ("This list is too long.", "it holds at most {max_length}"),
    "dict_type": _FIELDS,
    "model_type": _FIELDS,
    "literal_error": ("This is none of the words known here.", "write one of: {expected}"),
    "float_type": _NUMBER,
    "float_parsing": _NUMBER,
    "finite_number": _NUMBER,
    "int_type": ("This must be a whole number.", "write it without quotes and without a point"),
    "bool_type": ("This must be true or false.", "write  true  or  false"),
    "greater_than": ("This number is too small.", "it must be above {gt:g}"),
    "greater_than_equal": ("This number is too small.", "it must be {ge:g} or more"),
    "less_than_equal": ("This number is too large.", "it must be {le:g} or less"),
}
# Kinds of slip that a word of advice does not mend: the form itself is shown, where there is one.
_SHAPES = {"tuple_type", "too_short", "too_long", "dict_type", "model_type", "missing"}
# pattern of a model → how an author would say it
_LOOKS = {
    r"^[a-z0-9]+(-[a-z0-9]+)*$": "garden-pond: small letters, digits and hyphens",
    r"^(early|mid|late)-[a-z]+$": "mid-june",
    r"^\d{4}-\d{2}-\d{2}$": "2026-05-31: year, month, day",
    r"^\d+\.\d+\.\d+$": "1.2.0: three numbers",
    r"^[A-Z][a-z]+ [a-z-]+$": "Exemplum primum: genus and epithet",
    r"^[A-Z][a-z]+$": "Exemplum: a capital and small letters",
    r"^[a-z]+$": "mm: small letters",
}


def shape_faults(tree: Tree, error: ValidationError, model: type[BaseModel]) -> Iterator[Fault]:
    """Every slip as a fault: code, line, hint."""
    slips = error.errors(include_url=False)
    places = [tuple(slip["loc"]) for slip in slips]
    absent = {path for slip, path in zip(slips, places, strict=True) if slip["type"] == "missing"}
    misspelt = {
        path: (*path[:-1], meant[0])
        for slip, path in zip(slips, places, strict=True)
        if slip["type"] == "extra_forbidden"
        and (meant := nearest(str(path[-1]), [str(other[-1]) for other in absent if other[:-1] == path[:-1]], 1))
    }
    for slip, path in zip(slips, places, strict=True):
        # A list whose items are wrong counts as empty too: that is told once, at the item.
        inside = any(len(other) > len(path) and other[: len(path)] == path for other in places)
        # A field that is missing because it is misspelt is told once too, where it stands.
        if (slip["type"] == "too_short" and inside) or (path in absent and path in misspelt.values()):
            continue
        yield _fault(tree, dict(slip), path, str(misspelt[path][-1]) if path in misspelt else None, model)


def _fault(tree: Tree, slip: dict[str, Any], path: tuple[Any, ...], meant: str | None, model: type[BaseModel]) -> Fault:
    kind = slip["type"]
    last = str(path[-1]) if path else ""
    if kind == "extra_forbidden":
        known = _fields_beside(model, path)
        hint = did_you_mean(
            last, [meant] if meant else known, f"fields here: {', '.join(known)}" if known else "take it out"
        )
        return Fault("unknown-field", f'There is no field "{last}" here.', hint, last, tree.where(path, field=True))
    form = form_of(model, path)
    if kind == "missing" and not isinstance(path[-1], int):
        where = tree.where(_without_tags(path[:-1], tree), field=True)
        return Fault("missing-field", f'The field "{last}" is missing.', f"add  {form or f'{last}: …'}", None, where)
    where = tree.where(_without_tags(path[:-1] if kind == "missing" else path, tree), field=last == "[key]")
    context = dict(slip.get("ctx", {}))
    if kind == "missing":  # an item of a list of fixed length
        message, hint = _PLAIN["too_short"]
        hint = hint.format(min_length=path[-1] + 1)
    elif kind == "value_error":
        text = str(context["error"])
        message, hint = (
            f"{text[0].upper()}{text[1:]}.",
            getattr(context["error"], "hint", "change it as the reason says"),
        )
    else:
        context["pattern"] = _LOOKS.get(context.get("pattern", ""), context.get("pattern"))
        message, hint = _PLAIN.get(kind, (f"{slip['msg'].rstrip('.')}.", "change it as the reason says"))
        hint = hint.format(**context).replace("'", "")
    if form and kind in _SHAPES:
        hint = f"write  {form}"
    return Fault("wrong-value", message, hint, in_short(slip.get("input")), where)


def _without_tags(path: tuple[Any, ...], tree: Tree) -> Path:
    """The path without parts that a model added (`is`, `[key]`) and the file does not have."""
    kept: Path = ()
    for part in path:
        if (*kept, part) in tree.spots:
            kept = (*kept, part)
    return kept


def _fields_beside(model: type[BaseModel], path: tuple[Any, ...]) -> list[str]:
    """The field names that would have been right beside the last part of `path`."""
    here = model_at(model, path[:-1])
    if isinstance(here, type) and issubclass(here, BaseModel):
        return [field.alias or name for name, field in here.model_fields.items()]
    return []
