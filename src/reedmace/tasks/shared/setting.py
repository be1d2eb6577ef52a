"""When and where a look was had: date, place and habitat as typed → what the engine takes."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

from reedmace.faults import Fault, Refused, did_you_mean
from reedmace.keys.matching import either_or, fold, near_misses
from reedmace.keys.model import Key, Named
from reedmace.keys.regions import regions_called, regions_of_square, without_article
from reedmace.places.place import Place, read_place
from reedmace.tasks.shared.dates import TypedDate, read_day, read_time_of_year

if TYPE_CHECKING:
    from reedmace.records import Naming
    from reedmace.scoring.prior import Circumstances


class Setting(NamedTuple):
    """Everything known of when and where; each part None where nothing was said.

    `habitat_typed` is the word by which the habitat was said, `area` a region or a 100 km square, as it was typed in
    place of a place.
    """

    date: TypedDate | None = None
    place: Place | None = None
    habitat: Named | None = None
    regions: tuple[Named, ...] = ()
    flat: bool = False
    habitat_typed: str = ""
    area: str = ""

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

    What is logged (`future` is False) is past, and its year is typed; what is asked about need be neither. Nor need it
    have a place: a region of the key will do, `Wales`, or a 100 km square.
    """
    faults: list[Fault] = []

    def sound(value: Any) -> Any:
        if isinstance(value, Fault):
            faults.append(value)
            return None
        return value

    read = read_time_of_year if future else read_day
    day = sound(read(when, today) if when else None)
    areas = _areas(key, where) if where and future else ()
    place = None if areas else sound(_read_place(key, where, future=future) if where else None)
    water = sound(find_habitat(key, habitat) if habitat else None)
    if faults:
        raise Refused(*faults)
    named, words = water or (None, "")
    said = where.strip() if where and areas else ""
    return Setting(day, place, named, areas or regions_of(key, place), flat, words, said)


def _areas(key: Key, where: str) -> tuple[Named, ...]:
    return regions_called(key, where) or regions_of_square(key, where)


def _read_place(key: Key, where: str, *, future: bool) -> Place | Fault:
    """A place; whoever typed a name is told of the regions that would do, where they would."""
    place = read_place(where)
    if not isinstance(place, Fault) or not future or not key.regions or any(map(str.isdecimal, where)):
        return place
    names = {fold(name): name for one in key.regions for name in (one.title, *one.words)}
    close = [names[name] for name in near_misses(fold(where), names)]
    known = either_or([one.title for one in key.regions])
    meant = f"did you mean {either_or(close)}?" if close else f"a region will do too:  {known}"
    return place._replace(hint=f"{place.hint}; {meant}")


def regions_of(key: Key, place: Place | None) -> tuple[Named, ...]:
    """The key's regions that the place's 100 km square overlaps; none where the key does not know the square."""
    named = key.squares.get(place.hundred_km or "", ()) if place else ()
    return tuple(region for region in key.regions if region.id in named)


def area_said(setting: Setting) -> str:
    """A region or 100 km square that was said, with the regions where these are called otherwise."""
    titles = [region.title for region in setting.regions]
    area = setting.area.upper() if len(setting.area) < 3 else setting.area
    same = len(titles) == 1 and fold(without_article(titles[0])) == fold(without_article(area))
    return titles[0] if same else f"{area} ({', '.join(titles)})"


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
