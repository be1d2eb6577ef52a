"""General words for places and waters, and words for nobody in particular: where they stand, no person is named."""

from __future__ import annotations

# What a spot is called, in general words.
PLACES = frozenset(
    (
        *("sluice", "bridge", "pond", "ponds", "pool", "pools", "lake", "ditch", "dyke", "dike", "drain", "canal"),
        *("river", "stream", "brook", "burn", "beck", "weir", "lock", "dam", "spring", "well", "water", "inlet"),
        *("outflow", "inflow", "outlet", "culvert", "bank", "shore", "edge", "margin", "island", "jetty", "pier"),
        *("boardwalk", "platform", "path", "track", "lane", "road", "gate", "stile", "fence", "hedge", "wall", "hut"),
        *("hide", "shed", "bench", "house", "farm", "barn", "mill", "church", "school", "garden", "gardens", "yard"),
        *("meadow", "field", "wood", "woods", "copse", "heath", "moor", "bog", "fen", "marsh", "mire", "reserve"),
        *("hollow", "mere", "valley", "hill", "bay", "beach", "quarry", "pit", "pits", "park", "village", "centre"),
        *("reed", "reeds", "reedbed", "rushes", "sedge", "sedges", "lilies", "willow", "willows", "alder", "alders"),
        *("oak", "oaks", "trees", "bushes", "bramble", "brambles", "site", "transect", "section", "corner", "end"),
    )
)
# Those of them that are surnames too: behind a first name they say nothing.
SURNAMES_TOO = frozenset(
    (
        *("bridge", "pool", "lake", "brook", "burn", "weir", "lock", "wells", "banks", "shore", "lane"),
        *("wall", "house"),
        *("mill", "church", "field", "wood", "woods", "heath", "moor", "fen", "marsh", "mere", "hill", "park", "reed"),
        *("meadow", "rivers", "spring", "dyke", "drain", "beck", "bay", "yard", "garden", "gates", "alder", "willow"),
    )
)
ARTICLES = frozenset(("a", "an", "the", "this", "that", "our", "my", "his", "her", "their", "some", "another"))
PRONOUNS = frozenset(
    (
        *("i", "me", "myself", "we", "us", "ourselves", "you", "yourself", "he", "him", "himself", "she", "herself"),
        *("it", "itself", "they", "them", "themselves", "self", "somebody", "someone", "anybody"),
        *("anyone", "everybody"),
        *("everyone", "nobody", "others", "all", "both", "one", "each", "who"),
    )
)
TITLES = frozenset(
    ("mr", "mrs", "ms", "miss", "mx", "dr", "doctor", "prof", "professor", "rev", "revd", "reverend", "sir", "lady")
)
