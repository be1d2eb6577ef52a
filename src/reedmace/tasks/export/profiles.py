"""Export profiles: what one recipient wants, and how; authored as plain YAML or by options, kept in the ledger.

A profile is kept under its recipient, who is a person of the register: the name stays where it can be forgotten.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, ValidationError, model_validator

from reedmace.checks.county_file import SIDES, Side
from reedmace.darwincore import TERMS
from reedmace.faults import Fault, Refused, Where, cannot_read, did_you_mean
from reedmace.keys.authoring import Authored, Names, Text
from reedmace.keys.shape import shape_faults
from reedmace.keys.tree import in_short, read_tree
from reedmace.ledger.notes import Note
from reedmace.ledger.store import Ledger
from reedmace.places.vice_counties import find_vice_county
from reedmace.tasks.export.sources import SOURCES, SPECIES_SOURCES

FileKind = Literal["csv", "archive", "sheet"]
Licence = Literal["cc0", "cc-by", "cc-by-nc"]
Certainty = Literal["certain", "probable", "all"]
Status = Literal["recorded", "amended", "diverged"]
DateStyle = Literal["31/12/2026", "31.12.2026", "31 Dec 2026", "2026-12-31"]


def _listed(value: Any) -> Any:
    """One number or text stands for a list of it; numbers are as good as text here."""
    values = value if isinstance(value, tuple | list) else (value,)
    return tuple(str(one) if isinstance(one, int) and not isinstance(one, bool) else one for one in values)


def _bands(value: Any) -> Any:
    """A list of ranges stands for ranges that are called as they are written."""
    if not isinstance(value, tuple | list):
        return value
    return {str(one): one for one in value}


def _band(value: Any) -> str:
    """A whole number is a band of just that count."""
    text = value if isinstance(value, str) else str(value) if type(value) is int else ""
    if band_of(text) is None:
        shown = value if isinstance(value, str) else in_short(value)
        raise ValueError(f'"{shown}" is no band of counts: write 1, 2-5 or 501+')
    return text


class Choose(Authored):
    """Which records: every condition given must hold; of several places, species or vice-counties, one must."""

    since: Text | None = None
    until: Text | None = None
    vice_counties: Annotated[tuple[Text, ...], BeforeValidator(_listed)] = Field(default=(), alias="vice-counties")
    places: Names = ()
    species: Names = ()
    certainty: Certainty = "all"
    status: Status | None = None

    @model_validator(mode="after")
    def _known_counties(self) -> Choose:
        for typed in self.vice_counties:
            if isinstance(found := find_vice_county(typed), Fault):
                raise ValueError(f'"{typed}" is no vice-county: {found.message}')
        return self


class SheetLayout(Authored):
    """A recipient's own sheet: headings with what goes below them, and how things are written.

    `rows` says what one row is. `bands` are classes of counts by what they are called, `codes` the recipient's own
    codes for scientific names; `mark` puts a byte-order mark at the beginning.
    """

    columns: dict[Text, Text] = Field(min_length=1)
    rows: Literal["record", "species"] = "record"
    dates: DateStyle = "31/12/2026"
    bands: Annotated[dict[Text, Annotated[str, BeforeValidator(_band)]], BeforeValidator(_bands)] = Field(
        default_factory=dict
    )
    present: str = "present"
    codes: dict[Text, Annotated[str, BeforeValidator(str)]] = Field(default_factory=dict)
    mark: bool = True
    delimiter: Literal[",", ";", "tab"] = ","

    @model_validator(mode="after")
    def _known_sources(self) -> SheetLayout:
        known = SPECIES_SOURCES if self.rows == "species" else {**SOURCES, **TERMS}
        for heading, source in self.columns.items():
            if source not in known and not source.startswith("="):
                hint = did_you_mean(
                    source,
                    known,
                    f"it can be: {', '.join(SPECIES_SOURCES if self.rows == 'species' else SOURCES)}, or a term",
                )
                raise ValueError(f'"{heading}" cannot be filled from "{source}": {hint}')
        return self


class ExportProfile(Authored):
    """Everything about what one recipient gets."""

    format: Literal[1]
    recipient: str = ""
    contact: str = ""
    file: FileKind | None = None
    licence: Licence = "cc-by"
    dataset: str = ""
    public: bool = False
    precision: Side | None = None
    occurrence_status: Literal["present/absent", "detected/notDetected"] = Field(
        default="present/absent", alias="occurrence-status"
    )
    choose: Choose = Choose()
    columns: tuple[Text, ...] = ()
    sheet: SheetLayout | None = None

    @model_validator(mode="after")
    def _fits(self) -> ExportProfile:
        unknown = next((column for column in self.columns if column not in TERMS), None)
        if unknown:
            raise ValueError(f'"{unknown}" is no term of Darwin Core: {did_you_mean(unknown, TERMS, "see the list")}')
        if self.file == "sheet" and self.sheet is None:
            raise ValueError("a sheet needs to be told its columns: add  sheet: {columns: {…}}")
        if self.public and self.file == "sheet":
            raise ValueError("a sheet goes to a recipient in full; the public version is Darwin Core")
        return self

    @property
    def precision_m(self) -> int | None:
        """The side in metres of the finest square that is sent; None for as it was recorded."""
        return SIDES[self.precision] if self.precision else None


def band_of(text: str) -> tuple[int, int | None] | None:
    """Read a band: `1`, `2-5`, `501+`; lowest and highest count, None for no upper end; None where it is none."""
    first, dash, last = (part.strip() for part in text.replace("–", "-").partition("-"))
    open_ended = not dash and first.endswith("+")
    ends = [first.removesuffix("+"), last] if dash else [first.removesuffix("+")]
    if not all(end.isascii() and end.isdigit() for end in ends):
        return None
    low, high = int(ends[0]), None if open_ended else int(ends[-1])
    return (low, high) if low > 0 and (high is None or high >= low) else None


def read_profile(path: Path) -> ExportProfile:
    """Read a profile from a YAML file; raises `Refused` with every fault, each at its line."""
    where = Where(path.name)
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refused(Fault("not-utf8", "The profile is not UTF-8.", "save it as UTF-8", None, where)) from None
    except OSError as error:
        raise cannot_read(path, error, "The profile") from None
    tree, faults = read_tree(text, path.name)
    if not faults:
        value = tree.value or {}
        sheet = value.get("sheet") if isinstance(value, dict) else None
        if isinstance(sheet, dict) and isinstance(sheet.get("codes"), str):
            value = {**value, "sheet": {**sheet, "codes": read_codes(path.parent / sheet["codes"])}}
        try:
            return ExportProfile.model_validate(value)
        except ValidationError as error:
            faults = list(shape_faults(tree, error, ExportProfile))
    raise Refused(*(fault._replace(message=fault.message.replace("A key file", "A profile")) for fault in faults))


def read_codes(path: Path) -> dict[str, str]:
    """Read a recipient's codes: a CSV of a name and its code in each row; raises `Refused` where it is none."""
    import csv

    where = Where(path.name)
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refused(Fault("not-utf8", "The list of codes is not UTF-8.", "save it as UTF-8", None, where)) from None
    except OSError as error:
        raise cannot_read(path, error, "The list of codes") from None
    first = text.partition("\n")[0]
    delimiter = max(",;\t", key=first.count)
    codes: dict[str, str] = {}
    for number, row in enumerate(csv.reader(text.splitlines(), delimiter=delimiter), 1):
        cells = [cell.strip() for cell in row]
        if not any(cells) or (number == 1 and cells[1:2] and cells[1].casefold() == "code"):
            continue
        if len(cells) < 2 or not (cells[0] and cells[1]):
            said, hint = "This row is no name with its code.", "write  Aeshna mixta,2034"
            raise Refused(Fault("not-a-code", said, hint, None, Where(path.name, number, 1, ",".join(row))))
        codes[cells[0]] = cells[1]
    return codes


def save(
    ledger: Ledger, profile: ExportProfile, recipient: str, person: str, written_at: str, new_id: Callable[[], str]
) -> None:
    """Keep a profile for a recipient (a person's id); one from before is followed by this one."""
    body = as_body(profile)
    if "choose" in body:
        # The order of conditions says nothing: the same ones stay the same note, whoever wrote them down.
        body["choose"] = dict(sorted(body["choose"].items()))
    note = Note("profile", f"export:{recipient}", body, "saved again")
    ledger.note(note, person, written_at, new_id)


def as_body(profile: ExportProfile) -> dict[str, Any]:
    """Give a profile as plain values; who the recipient is stands elsewhere."""
    body: dict[str, Any] = profile.model_dump(
        mode="json", by_alias=True, exclude_defaults=True, exclude={"recipient", "contact"}
    )
    return {"format": 1, **body}


def from_body(body: dict[str, Any]) -> ExportProfile:
    """Read a profile from a note's body; raises `Refused` where this version cannot."""
    try:
        return ExportProfile.model_validate(_frozen(body))
    except ValidationError as error:
        hint = "save it again under the same recipient"
        raise Refused(Fault("profile-unread", "This saved profile cannot be read.", hint)) from error


def _frozen(value: Any) -> Any:
    """Lists as tuples, all the way down, as the strict models want them."""
    if isinstance(value, list):
        return tuple(map(_frozen, value))
    return {name: _frozen(one) for name, one in value.items()} if isinstance(value, dict) else value


def saved(ledger: Ledger) -> dict[str, ExportProfile]:
    """Give the profiles that are kept, by the person id of their recipient."""
    notes = ledger.notes("profile")
    return {
        subject.removeprefix("export:"): from_body(note.body)
        for subject, note in notes.items()
        if subject.startswith("export:")
    }


def profile_for(ledger: Ledger, name: str) -> tuple[str, ExportProfile] | None:
    """Give the profile kept for a recipient's name, with the person's id; None where there is none."""
    profiles = saved(ledger)
    return next(((person, profiles[person]) for person in ledger.people.ids_of(name) if person in profiles), None)


def changed(profile: ExportProfile, given: Mapping[str, Any]) -> ExportProfile:
    """Give a profile with what was typed in place of what was kept; None and empty change nothing."""
    choose = {
        "since": given.get("since"),
        "until": given.get("until"),
        "vice_counties": given.get("counties"),
        "places": given.get("places"),
        "species": given.get("species"),
        "certainty": given.get("certainty"),
        "status": given.get("status"),
    }
    whole = {name: given.get(name) for name in ("licence", "dataset", "public", "precision")}
    try:
        chosen = Choose(**_said(profile.choose, choose))
        return ExportProfile(**{**_said(profile, whole), "choose": chosen})
    except ValidationError as error:
        why = str(error.errors()[0]["msg"]).removeprefix("Value error, ")
        hint = "see  reedmace export --help  and docs/export.md"
        raise Refused(Fault("export-asked-wrong", f"{why[0].upper()}{why[1:]}.", hint, typed=True)) from None


def _said(before: Authored, typed: Mapping[str, Any]) -> dict[str, Any]:
    kept = {name: getattr(before, name) for name in type(before).model_fields}
    return kept | {name: value for name, value in typed.items() if value not in (None, (), "", False)}


def as_yaml(profile: ExportProfile, recipient: str) -> str:
    """Give a profile as the YAML file that it could have come from."""
    import io

    from ruamel.yaml import YAML

    out = io.StringIO()
    yaml = YAML(typ="safe", pure=True)
    yaml.default_flow_style = False
    yaml.allow_unicode = True
    yaml.sort_base_mapping_type_on_output = False  # type: ignore[assignment]
    yaml.dump({"format": 1, "recipient": recipient, **as_body(profile)}, out)
    return out.getvalue()
