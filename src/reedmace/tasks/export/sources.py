"""What a column of a recipient's own sheet can be filled with, beside the terms of Darwin Core."""

from __future__ import annotations

SOURCES: dict[str, str] = {
    "date": "the date, as the sheet writes dates; a vague date in full",
    "time": "the time, or start and end of the visit",
    "species": "the scientific name, with the determiner's own sign of doubt",
    "english name": "the English name",
    "code": "the recipient's own code for the species",
    "count": "the count, or its band",
    "sex": "male or female; pairs where pairs were counted",
    "stage": "larva, exuvia, emerging, teneral, immature or adult",
    "behaviour": "what it did",
    "pairs": "the number of pairs",
    "evidence": "sight, photo, in hand or exuvia",
    "certainty": "certain, probable or uncertain",
    "recorder": "who saw it",
    "determiner": "who named it",
    "grid reference": "the grid square",
    "place as written": "the reference or position as it was written",
    "locality": "the name of the place",
    "vice-county": "the vice-county's number",
    "vice-county name": "the vice-county's name",
    "habitat": "the habitat",
    "method": "how it was looked for",
    "weather": "the weather as written",
    "remarks": "what no other column says of doubt, stage, sex, behaviour and pairs; then the remarks",
    "visit remarks": "remarks on the visit",
    "id": "the record's own identifier, kept for ever",
    "visit": "the visit's identifier",
    "change": "new, changed or withdrawn since the last submission",
    "verification": "what the county recorder said of the name that stands",
    "verifier": "who verified it",
    "date verified": "the day of that, as the sheet writes dates",
}
VERIFICATION = ("verification", "verifier", "date verified")

# In a sheet with one row for each species of a visit: the same of the visit, and numbers by stage and behaviour.
OF_VISIT = (
    *("date", "time", "species", "english name", "code", "certainty", "recorder", "determiner", "grid reference"),
    *("place as written", "locality", "vice-county", "vice-county name", "habitat", "method", "weather"),
    *("visit remarks", "remarks", "id", "visit", "change", *VERIFICATION),
)
COUNTED: dict[str, str] = {
    "adults": "adults, both of a pair among them; newly emerged insects are not",
    "males": "adult males that were counted singly",
    "females": "adult females that were counted singly",
    "pairs": "pairs, in tandem or copulating",
    "tandem": "pairs in tandem",
    "copulating": "copulating pairs",
    "ovipositing": "insects seen laying eggs",
    "immature": "immature adults",
    "teneral": "tenerals, newly emerged",
    "emerging": "insects emerging",
    "exuviae": "cast skins (exuviae)",
    "larvae": "larvae",
}
SPECIES_SOURCES: dict[str, str] = {**{name: SOURCES[name] for name in OF_VISIT}, **COUNTED}
