"""Every code a query can have: what it asks, why, and what to do about it.

`reedmace check --why CODE` shows an entry, and docs/checks.md is made from all of them.
"""

from __future__ import annotations

from typing import NamedTuple


class Entry(NamedTuple):
    """One code. `severities` it may have; `asks` in a sentence; `why` it matters; `remedy`."""

    group: str
    severities: str
    asks: str
    why: str
    remedy: str


COMPLETE, PLACE, SEASON, NAME, BODY, HISTORY, CARE, FILE = (
    "Is it a record?",
    "Is it where it says?",
    "Is it likely here and now?",
    "Does the name stand on enough?",
    "Do sex, stage and numbers go together?",
    "Beside the records before it",
    "What wants care",
    "Rows of a Darwin Core file",
)
_CHECK_BOTH = "Look at letters and figures on the map again, and correct the record or answer the query."
_SEND = "Add a photograph or a description, say what decided, or send it as the pair or the genus."

CODES: dict[str, Entry] = {
    "who-missing": Entry(
        COMPLETE, "error", "Nobody is named as the observer.",
        "A county recorder must know whom to ask. A party without names counts as somebody.", "Say who saw it."),
    "what-missing": Entry(
        COMPLETE, "error", "No name is given.", "Without a name it is no record.", "Name it, if only as a group."),
    "when-missing": Entry(
        COMPLETE, "error", "No date is given.", "Without a date it is no record; a vague one will do.",
        "Give the date, as exact as it is known: a year is better than nothing."),
    "where-missing": Entry(
        COMPLETE, "error", "No grid reference or position is given.",
        "A name of a place may be one of several, and maps are made from squares.", "Give six figures or better."),
    "date-impossible": Entry(
        COMPLETE, "error", "The date is none, such as 31 June.", "Day and month were swapped, or a figure was misread.",
        "Look it up in the notebook; give the month alone rather than guess."),
    "date-in-future": Entry(
        COMPLETE, "error", "The date is still to come.", "The year is the usual slip.", "Correct the date."),
    "date-very-old": Entry(
        COMPLETE, "doubt", "The date lies before 1748.",
        "Names of animals count from 1758 (Linnaeus); an older date is nearly always a lost figure.",
        "Check the year."),
    "named-before-seen": Entry(
        COMPLETE, "doubt", "It was named on a day before it was seen.", "One of the two dates is wrong.",
        "Check both."),
    "date-vague": Entry(
        COMPLETE, "note", "The date is a month, a year or a span.", "Flight periods are made from exact days.",
        "Give the day if it is known; leave it vague if it is not."),
    "time-in-the-dark": Entry(
        COMPLETE, "doubt", "The visit or the sighting was before 4 in the morning or after 11 at night.",
        "An hour of the afternoon written without pm is the usual slip. Of a visit it is asked once; where its method"
        " speaks of light it is not asked.", "Correct the time."),
    "time-outside-visit": Entry(
        COMPLETE, "doubt", "The sighting has a time of its own, before its visit began or after it ended.",
        "One of the two times is wrong, or it was seen on another visit.", "Check both."),
    "place-coarse": Entry(
        COMPLETE, "note, doubt", "The square is larger than the county recorder likes.",
        "Six figures (100 m) tell one pond from the next. A note up to 1 km, a doubt above. The county file may ask"
        " for more or less.", "Give a finer reference if the spot is known. Never make figures up."),
    "square-without-land": Entry(
        PLACE, "doubt", "The key's table of 100 km squares does not have this one.",
        "It is sea, another country, or the letters are wrong. Ships and rigs do report migrants.", _CHECK_BOTH),
    "outside-county": Entry(
        PLACE, "doubt", "The vice-county or the square is none of those in the county file.",
        "The letters may be wrong, or the record belongs to another county recorder.", _CHECK_BOTH),
    "looks-swapped": Entry(
        PLACE, "doubt", "With easting and northing swapped the square lies where it was expected.",
        "It is the commonest slip in grid references.", "Write the reference that is suggested, if it is right."),
    "vice-county-against-square": Entry(
        PLACE, "doubt", "The vice-county does not lie where the square does.",
        "An Irish vice-county has no British square. With --boundaries, the square is looked for in the boundary of"
        " the vice-county named.", "Check the number and the reference."),
    "out-of-season": Entry(
        SEASON, "note, doubt", "The day lies outside the flight period of the species.",
        "Up to ten days is a note: early and late insects happen, and seasons move. The county file's dates come"
        " before the key's.", "Check date and name. A photograph helps whoever has to decide."),
    "out-of-range": Entry(
        SEASON, "doubt", "The species is not known from here.",
        "Either it is news, or a look-alike. The county file comes before the key.", _SEND),
    "vagrant-here": Entry(
        SEASON, "doubt", "The species comes here only now and then.", "Such records need more than a name.", _SEND),
    "rare-here": Entry(
        SEASON, "note", "By the county file the species is rare here.", "Such records are asked about.", _SEND),
    "unlikely-habitat": Entry(
        SEASON, "note", "The key does not give this habitat for the species.", "Insects wander; names slip.",
        "Check the name."),
    "evidence-wanted": Entry(
        NAME, "doubt", "The key, or the county file, asks more than a sight record of this form.",
        "Some forms cannot be told by a look. Without a sex, it is said what each form needs.", _SEND),
    "names-differ": Entry(
        NAME, "doubt", "The English name is that of another species than the scientific name.",
        "One of the two was mistyped, or a column was sorted by itself.", "Look up which was meant, and name it anew."),
    "not-in-key": Entry(
        NAME, "note", "The key does not have this name.",
        "Season, range and evidence are looked at by the key; of a name that it lacks silence means nothing.",
        "Check it with a key that has it (--key NAME), or look whether it is spelt right."),
    "key-disagrees": Entry(
        NAME, "doubt", "The key put another name first.", "The observer may be right and the answers wrong.",
        "Say in the remarks what decided for this name."),
    "never-settled": Entry(
        NAME, "doubt", "The key had not settled on one name.", "The answers fit two or more.",
        "Send the pair or the group, or say what decided."),
    "close-runner-up": Entry(
        NAME, "doubt", "Another name had a tenth of the key's weight or more.", "One answer may have made the difference.",
        "Look at the mark that splits them."),
    "look-alike-open": Entry(
        NAME, "doubt", "The mark that decides against a look-alike was not looked at.",
        "What was not looked at was not ruled out.", "Look at it next time, or send the pair."),
    "sex-impossible": Entry(
        BODY, "doubt", "A male lays eggs, or the answers were those of the other sex.",
        "Colour is a poor judge of sex.", "Look for the bump under segment 2, the claspers, the ovipositor."),
    "stage-impossible": Entry(
        BODY, "note, doubt", "The stage does not go with the behaviour, the evidence or the form.",
        "A cast skin does not fly, and a newly emerged insect does not lay eggs.", "Correct stage or behaviour."),
    "pair-arithmetic": Entry(
        BODY, "doubt", "Pairs and count do not agree.", "A pair is two insects, a male and a female, and has no one sex.",
        "Count two for each pair, and single insects as a sighting of their own."),
    "count-out-of-proportion": Entry(
        HISTORY, "doubt", "The count is more than ten times the largest of five or more before it, or over 10,000.",
        "A figure too many is easily typed. Mass flights happen.", "Check it; if it was so, say how it was counted."),
    "written-twice": Entry(
        HISTORY, "doubt", "The same name, day, place, sex, stage, behaviour, count and time stand twice.",
        "One sighting was written twice, or two identical ones were made.", "Take one back if it is the same."),
    "counted-twice": Entry(
        HISTORY, "doubt", "Another visit of that day has the same insects at the same place.",
        "Two people's tallies of one walk are the same insects: the larger count, not the sum.",
        "Keep the larger count and take back the other."),
    "far-from-site": Entry(
        HISTORY, "doubt", "The place is more than 2 km from where its site was before, or is registered.",
        "Letters go wrong across the line of a 100 km square; then the likely reference is said.", _CHECK_BOTH),
    "first-here": Entry(
        HISTORY, "note", "The name is new to these records, which hold an earlier year.",
        "A first is worth a second look. Of a file it is asked while its rows are in order of their days.",
        "A photograph makes it a better first."),
    "first-at-site": Entry(
        HISTORY, "note", "The name is new to its site, which was visited on an earlier day.",
        "A first is worth a second look. Of a file it is asked while its rows are in order of their days.",
        "Check name and place; then be glad."),
    "protected": Entry(
        CARE, "note", "The species is protected by law.", "Taking or keeping it, or its skin, may be an offence.",
        "Send it to the county recorder; do not publish the exact place."),
    "sensitive": Entry(
        CARE, "note", "By the county file its exact places are not to be published.",
        "Visitors or collectors could harm it.", "Publish nothing finer than the square the county file names."),
    "site-withheld": Entry(
        CARE, "note", "By the register of sites not everybody may see where the site is.",
        "The owner, or the wardens, have asked for it.", "Leave it out of what is published, or blur it."),
    "child-named": Entry(
        CARE, "note, doubt", "The words of the record speak of a child, or of somebody who may be one by name.",
        "Children's names go into nothing.",
        "Take a name out with  reedmace ledger forget NAME --redact ; count children in the party."),
}  # fmt: skip
