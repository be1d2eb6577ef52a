"""Finding what a name means: any unambiguous part of an English or scientific name, old ones included.

A whole name beats whole words, whole words beat the initials of a name ("lrd"), and those beat beginnings of words; of
beginnings, those of the name's first words one after another ("s haw") beat others. Where several species answer
alike, or one answers only to words that others share (`name_doubts.py`), the name is ambiguous and all of them are
told. `a/b` names a pair that could not be split; a genus, a family or a trade group may be named too ("darter sp.").
"""

from __future__ import annotations

from typing import NamedTuple

from reedmace.faults import Fault
from reedmace.keys import name_fits as fits
from reedmace.keys.model import Group, Key
from reedmace.keys.name_doubts import begun_initials, in_doubt, likeliest_first, plainly
from reedmace.keys.name_fits import all_names, english_name, fitting, joined, words_of
from reedmace.keys.name_groups import group_called, groups_with

UNIDENTIFIED = ("sp", "spp", "species", "agg", "unidentified", "undetermined", "unid", "indet")
_SHOWN = 6  # names that a hint lists


class FoundName(NamedTuple):
    """What a typed name means: one species, several that were not split, or a group.

    `others` are species the key does not describe that were not excluded either.
    """

    typed: str
    species: tuple[int, ...]
    group: Group | None = None
    others: tuple[int, ...] = ()


def find_name(key: Key, typed: str) -> FoundName | Fault:
    """The species, pair or group meant by a typed name."""
    if "/" in typed:
        return _pair(key, typed)
    words = list(words_of(typed))
    bare = [word for word in words if word not in UNIDENTIFIED]
    if not bare:
        return Fault("name-empty", "There is no name here.", "write a name, such as  common blue", typed, typed=True)
    said_so = len(bare) < len(words)
    group = None
    found = set() if said_so else _whole(key, bare)
    if not found:
        group = group_called(key, bare, said_so=said_so)
        if group is not None and not said_so and _of_one(group, bare):
            found, group = set(group.members), None
    if group is not None:
        return FoundName(typed, tuple(sorted(group.members)), group)
    if said_so and (groups := groups_with(key, bare)):
        return _several_groups(typed, groups)
    found = found or _species(key, bare)
    if not found or (said_so and len(found) == 1):
        return _slipped(key, typed, bare, found, said_so=said_so)
    if len(found) > 1 and not said_so and (one := plainly(key, bare, found)) is not None:
        return FoundName(typed, (one,))
    if said_so or len(found) > 1:
        return _ambiguous(key, typed, bare, found, said_so=said_so)
    one = next(iter(found))
    doubted = in_doubt(key, tuple(bare), one)
    return _doubtful(key, typed, doubted, one) if doubted else FoundName(typed, tuple(found))


def could_mean(key: Key, typed: str) -> tuple[int, ...]:
    """The species that an ambiguous name could mean, the commonest first, or that a slip in it explains."""
    words = words_of(typed)
    if any(word in UNIDENTIFIED for word in words):
        return ()
    could_be = likeliest_first(key, words, _fits(key, typed))
    if not could_be:
        from reedmace.keys.name_slips import near_species  # only slips pay for it

        could_be = near_species(key, words)
    return could_be


def key_words(key: Key) -> frozenset[str]:
    """Every word of the names in a key, as they are compared: lower case, plural endings dropped."""
    names = [name for species in key.species for name in all_names(species)]
    names += [name for group in key.groups for name in (group.title, group.scientific or "")]
    return frozenset(word for name in names for word in words_of(name))


def named(key: Key, typed: str) -> FoundName | None:
    """The name that words are, all of them as they stand in the key's names: `wings` are no Yellow-winged Darter."""
    found = find_name(key, typed)
    return found if isinstance(found, FoundName) and key_words(key).issuperset(words_of(typed)) else None


def _slipped(key: Key, typed: str, bare: list[str], found: set[int], *, said_so: bool) -> FoundName | Fault:
    """A name that nothing fits: its words without their vowels are read, else what was nearly typed is told."""
    from reedmace.keys.name_slips import nearest_names, with_vowels  # only slips pay for it

    full = set() if found else with_vowels(key, bare)
    if len(full) == 1:
        read = find_name(key, " ".join((*full.pop(), *(["sp"] if said_so else []))))
        return read._replace(typed=typed) if isinstance(read, FoundName) else read._replace(said=typed)
    hint = nearest_names(key, bare, "write any part of an English or scientific name")
    return Fault("unknown-name", f'Nothing in this key is called "{typed.strip()}".', hint, typed, typed=True)


def _ambiguous(key: Key, typed: str, bare: list[str], found: set[int], *, said_so: bool) -> Fault:
    hint = f"write more of one of them: {_listed(key, likeliest_first(key, bare, found))}"
    group = None if said_so else group_called(key, bare, said_so=True)
    if group is not None and found <= group.members:
        hint += f"; or  {typed.strip()} sp.  for the group"
    return Fault("ambiguous-name", f'"{typed.strip()}" could be {len(found)} species.', hint, typed, typed=True)


def _doubtful(key: Key, typed: str, could_be: tuple[int, ...], found: int) -> Fault:
    if found not in could_be[:_SHOWN]:
        could_be = (*could_be[: _SHOWN - 1], found, *could_be[_SHOWN - 1 :])
    message = f'"{typed.strip()}" is too little of a name to be sure.'
    hint = f"did you mean {'one of: ' if len(could_be) > 1 else ''}{_listed(key, could_be)}"
    return Fault("ambiguous-name", message, f"{hint}{'' if len(could_be) > 1 else '?'}", typed, typed=True)


def _several_groups(typed: str, groups: tuple[Group, ...]) -> Fault:
    shown = " or ".join(f"{group.scientific or group.title} ({group.title})" for group in groups)
    message = f'"{typed.strip()}" is the name of no one group.'
    return Fault("ambiguous-name", message, f"write the group: {shown}", typed, typed=True)


def _listed(key: Key, found: tuple[int, ...]) -> str:
    names = [key.species[index].english for index in found]
    return f"{', '.join(names[:_SHOWN])}{' …' if len(names) > _SHOWN else ''}"


def _pair(key: Key, typed: str) -> FoundName | Fault:
    parts = [part.strip() for part in typed.split("/")]
    # "azure/variable damselfly": the last part may carry the word that belongs to all.
    shared = parts[-1].partition(" ")[2]
    found = [find_name(key, part) for part in parts]
    if shared:
        longer = [find_name(key, f"{part} {shared}") for part in parts[:-1]]
        found[:-1] = [long if isinstance(long, FoundName) else one for long, one in zip(longer, found, strict=False)]
    sure = {index for one in found if isinstance(one, FoundName) for index in one.species}
    species: list[int] = []
    for part, one in zip(parts, found, strict=True):
        # "azure/variable": of several Azures the one that could be taken for a Variable is meant.
        # Two letters are no name, whatever begins with them.
        short = sum(sign.isalnum() for sign in part) < 3
        related = [] if isinstance(one, FoundName) or short else _kin(key, _fits(key, part), sure)
        if isinstance(one, Fault) and len(related) != 1:
            return one._replace(said=typed)
        species += one.species if isinstance(one, FoundName) else related
    return FoundName(typed, tuple(dict.fromkeys(species)))


def _kin(key: Key, found: set[int], of: set[int]) -> list[int]:
    """Of these species those in the genus of others; where that is not one, those in their family."""
    species = key.species
    same_genus = [index for index in found if any(species[index].genus == species[other].genus for other in of)]
    same_family = [index for index in found if any(species[index].family == species[other].family for other in of)]
    return same_genus if len(same_genus) == 1 else same_family


def _fits(key: Key, typed: str) -> set[int]:
    words = list(words_of(typed))
    found = _whole(key, words) or _species(key, words)
    doubted = in_doubt(key, tuple(words), next(iter(found))) if len(found) == 1 else ()
    return set(doubted) or found


def _of_one(group: Group, bare: list[str]) -> bool:
    """Whether the English title of a group of one species was typed: that is how people call the species."""
    return len(group.members) == 1 and " ".join(bare) != " ".join(words_of(group.scientific or ""))


def _whole(key: Key, words: list[str]) -> set[int]:
    return fitting(key, words, fits.whole, all_names)


def _species(key: Key, words: list[str]) -> set[int]:
    """Species whose names fit best: by whole words, else by initials, else by beginnings of words.

    English names come before aliases and scientific names, so that a second English name never hides a first.
    """
    for names in (english_name, all_names):
        for fit in (fits.whole_words, fits.initials, fits.close_beginnings, fits.beginnings):
            if fit is fits.initials:
                # A joined word may give one letter or each of its parts one: "grd" and "gd".
                found = fitting(key, words, fit, english_name) | fitting(key, words, fit, english_name, joined)
            else:
                found = fitting(key, words, fit, names)
            if len(found) > 1 and fit is fits.beginnings and len(words) == 1 and len(words[0]) == 2:
                return found | begun_initials(key, words[0])
            if len(found) > 1 and fit is fits.beginnings and (longer := _only_word(key, words)):
                return fitting(key, longer, fits.whole, all_names) or found
            if found:
                return found
    return fitting(key, words, fits.part_initials, english_name, joined)


def _only_word(key: Key, words: list[str]) -> list[str] | None:
    """The one word of this key's names that a single typed word begins: "emp" is short for "emperor".

    Then it means what the full word would; "blu" begins "blue" and "bluetail", so it is not one word.
    """
    if len(words) != 1 or len(words[0]) < 3:
        return None
    begun = {word for species in key.species for name in all_names(species) for word in words_of(name)}
    begun = {word for word in begun if word.startswith(words[0])}
    return list(begun) if len(begun) == 1 else None
