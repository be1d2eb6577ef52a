"""How others word what a row says, in our fields; and what has no field, in words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from reedmace.darwincore import undo_wording
from reedmace.faults import Fault
from reedmace.tasks.sheets.counts import read_count
from reedmace.tasks.sheets.datums import another_datum
from reedmace.tasks.sheets.days import in_one_cell
from reedmace.tasks.sheets.fields import Choices
from reedmace.tasks.sheets.instants import in_local_time
from reedmace.tasks.sheets.memory import Fields
from reedmace.tasks.sheets.month_first import FIELD, day_first
from reedmace.tasks.sheets.name_doubts import differ
from reedmace.tasks.sheets.numbers import in_words
from reedmace.tasks.sheets.parts import WORDS_OF_STATUS
from reedmace.tasks.shorthand.field_words import CERTAINTIES


def in_our_words(fields: Fields, choices: Choices, today: date) -> bool:
    """Bring what several cells say together, and what others word in their way into ours, in place.

    True where a time was left out, because its zone is not known for that year.
    """
    for field in [field for field, cell in fields.items() if cell.isspace()]:
        del fields[field]
    undo_wording(fields)
    if quantity := fields.pop("quantity", ""):
        # `5 exuviae`, `3 pairs`; shares of cover and letters are no count, but said all the same.
        counted = not fields.get("count") and not isinstance(read_count(quantity), Fault)
        into = "count" if counted else "remarks"
        fields[into] = "; ".join(filter(None, (fields.get(into, ""), quantity)))
    if not choices.counting:
        _sexes_counted(fields)
    if (datum := fields.get("datum", "")) and another_datum(datum) and not fields.get("place"):
        fields["instants"] = f"{fields.get('latitude')}, {fields.get('longitude')} {datum}"
    if FIELD in fields:
        day_first(fields)
    if "date_to" in fields:
        in_one_cell(fields, today, choices.century, numbers=choices.numbers)
    in_words(fields, choices.numbers)
    return in_local_time(fields, today, choices.century)


def _sexes_counted(fields: Fields) -> None:
    """Take `1m 2f` under Sex for the count, where none is said or it is their sum; in place."""
    field = next((one for one in ("sex", "sex_stage") if any(map(str.isdigit, fields.get(one, "")))), None)
    counts = read_count(fields[field]) if field else ()
    if field is None or isinstance(counts, Fault) or not all(one.sex and one.number for one in counts):
        return
    if fields.get("count", "").strip() in ("", str(sum(one.number or 0 for one in counts))):
        fields["count"] = fields.pop(field)


def read_certainty(said: str) -> tuple[str | None, str]:
    """Read how sure somebody was; what is of another scale than ours comes back in words."""
    plain = said.casefold()
    sure = CERTAINTIES.get(plain.strip("()."), plain)
    if sure in ("certain", "probable", "uncertain"):
        return sure, ""
    return None, f"certainty: {said}" if said else ""


def certainty_of(fields: Mapping[str, str], named: str) -> str | Fault:
    """Give how sure a row is of its name, by the columns for it and by its name (`named`); blank where none says so."""
    sure, _ = read_certainty(fields.get("certainty", "").strip())
    sign = fields.get("qualifier", "").strip()
    by_sign = {"?": "uncertain", "probable": "probable"}.get(sign)
    said = list(dict.fromkeys(one for one in (sure, by_sign, named) if one))
    return differ(said[0], said[1], fields.get("certainty", "")) if len(said) > 1 else "".join(said)


def beyond_status(status: str) -> str:
    """Give what stands in the cell of a status and does not say whether anything was there."""
    said = status.strip()
    return "" if said.casefold().replace(" ", "") in WORDS_OF_STATUS else said


def joined(*words: str) -> str:
    """Join remarks that are not blank."""
    return "; ".join(filter(None, words))
