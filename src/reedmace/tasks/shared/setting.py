"""When and where a look was had: date, place and habitat as typed → what the engine takes."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

from reedmace.faults import Fault, Refused, did_you_mean
from reedmace.keys.model import Key, Named
from reedmace.places.place import Place, read_place
from reedmace.tasks.shared.dates import TypedDate, read_day, read_time_of_year

if TYPE_CHECKING:
    from reedmace.records import Naming
    from reedmace.scoring.prior import Circumstances


class Setting(NamedTuple):
    """Everything known of when and where; each part None where nothing was said.

    `habitat_typed` is the word by which the habitat was said.
    """

    date: TypedDate | None = None
    place: Place | None = None
    habitat: Named | None = None
    regions: tuple[Named, ...] = ()
    flat: bool = False
    habitat_typed: str = ""

    def circumstances(self, key: Key) -> Circumstances:
        """As the engine takes it."""
        from reedmace.scoring.prior import Circumstances  # writing down needs no engine

        ids = [region.id for region in key.regions]
        return Circumstances(
            tuple(ids.index(region.id) for region in self.regions),
            self.date.third if self.date else None,
            self.habitat.id if self.habitat else None,
            self.flat,
        )


def read_setting(
    key: Key,
    when: str | None,
    where: str | None,
    habitat: str | None,
    *,
    flat: bool = False,
    today: date,
    future: bool = True,
) -> Setting:
    """Read all three. Raises Refused with every fault at once.

    What is logged (`future` is False) is past, and its year is typed; what is asked about need be neither.
    """
    faults: list[Fault] = []

    def sound(value: Any) -> Any:
        if isinstance(value, Fault):
            faults.append(value)
            return None
        return value

    read = read_time_of_year if future else read_day
    day = sound(read(when, today) if when else None)
    place = sound(read_place(where) if where else None)
    water = sound(find_habitat(key, habitat) if habitat else None)
    if faults:
        raise Refused(*faults)
    named, words = water or (None, "")
    return Setting(day, place, named, regions_of(key, place), flat, words)


def regions_of(key: Key, place: Place | None) -> tuple[Named, ...]:
    """The key's regions that the place's 100 km square overlaps; none where the key does not know the square."""
    named = key.squares.get(place.hundred_km or "", ()) if place else ()
    return tuple(region for region in key.regions if region.id in named)


def find_habitat(key: Key, typed: str) -> tuple[Named, str] | Fault:
    """The habitat meant by its id, its title, another word for it or the beginning of one; and the word it was said by.

    That is `ditch` for what the key calls `fen`; of the beginning of a word the whole word.
    """
    wanted = plain_habitat(typed)
    names = {
        plain_habitat(name): (habitat, name)
        for habitat in reversed(key.habitats)
        for name in (*habitat.words, habitat.title, habitat.id)
    }
    if wanted in names:
        habitat, name = names[wanted]
        return habitat, wanted if name == habitat.id else " ".join(typed.split())
    starting: dict[str, tuple[Named, str]] = {}
    for plain, (habitat, name) in names.items():
        if wanted and plain.startswith(wanted):
            starting.setdefault(habitat.id, (habitat, name.replace("-", " ")))
    if len(starting) == 1:
        return next(iter(starting.values()))
    ids = [habitat.id for habitat in key.habitats]
    return Fault(
        "unknown-habitat",
        f'The key knows no habitat "{typed.strip()}".',
        did_you_mean(wanted, names, f"it knows {', '.join(ids)}"),
        typed,
        typed=True,
    )


def habitat_words(key: Key) -> dict[str, str]:
    """Give the ids of the key's habitats by every whole name of theirs, as `plain_habitat` writes names."""
    return {
        plain_habitat(name): habitat.id
        for habitat in reversed(key.habitats)
        for name in (*habitat.words, habitat.title, habitat.id)
    }


def plain_habitat(name: str) -> str:
    """Give the name of a habitat as names are compared."""
    return " ".join(name.casefold().replace("-", " ").split())


def again_setting(key: Key, naming: Naming, visit_date: str | None, today: date) -> Setting:
    """Read date, place and habitat as they were typed for a naming; "today" was the visit's day."""
    given = naming.circumstances
    relative = given.date.strip().casefold() in ("today", "yesterday")
    return read_setting(
        key,
        (visit_date if relative else given.date) or None,
        given.place or None,
        given.habitat or None,
        flat=given.flat,
        today=today,
    )
