"""What: the name claimed, never more than was claimed."""

from typing import NamedTuple


class Taxon(NamedTuple):
    """The lowest taxon that holds everything claimed.

    `scientific_name` never carries a qualifier (cf., sp., ?): doubt has fields of its own on the sighting.
    `one_of` names the two or few that could not be split ("Azure or Variable"); then `scientific_name` is the
    group that holds them all. `typed` is what was typed for the name.
    """

    scientific_name: str
    authorship: str = ""
    rank: str = ""
    vernacular: str = ""
    kingdom: str = ""
    phylum: str = ""
    class_name: str = ""
    order: str = ""
    family: str = ""
    genus: str = ""
    specific_epithet: str = ""
    one_of: tuple[str, ...] = ()
    typed: str = ""
