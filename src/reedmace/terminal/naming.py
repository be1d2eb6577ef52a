"""The engine's answer on the screen: verdict, ranking, reasons, what to rule out and what to look at next."""

from __future__ import annotations

from reedmace.keys.care import care_on
from reedmace.keys.model import Key
from reedmace.scoring.assessment import Candidate
from reedmace.scoring.explain import Why
from reedmace.scoring.lookalikes import Rival
from reedmace.scoring.looknext import NOTHING, NOTHING_VISIBLE, Look
from reedmace.scoring.verdict import NARROWED, OPEN, OUTSIDE, SETTLED, as_expected, only_outside_bars
from reedmace.tasks.naming.answer_words import say_answer
from reedmace.tasks.naming.expect_here import far_down
from reedmace.tasks.naming.name_insect import Named
from reedmace.tasks.naming.say_why import TELLS, closest_rival, sentence, short_names, weigh
from reedmace.tasks.shared.setting import Setting, area_said
from reedmace.terminal.screen import Screen
from reedmace.terminal.words import EFFORTS, EVIDENCE, joined, percent, times

SHOWN = 5  # candidates shown
LEAST = 0.005  # … and the least probability of one


def show_named(screen: Screen, named: Named, against: int | None = None) -> None:
    """Everything at once, as `reedmace name` prints it; `against` is a species asked about."""
    show_caution(screen, named)
    show_verdict(screen, named)
    screen.blank()
    show_ranking(screen, named)
    show_reasons(screen, named, against)
    show_rule_out(screen, named)
    show_looks(screen, named)
    show_cautions(screen, named)


def show_caution(screen: Screen, named: Named) -> None:
    """What a key asks to be read before anything is named with it."""
    if named.key.caution:
        screen.say((named.key.caution, "yellow"))
        screen.blank()


def show_verdict(screen: Screen, named: Named) -> None:
    """The verdict in plain words, with how sure it is."""
    key, found = named.key, named.assessment
    verdict = found.verdict
    if verdict.word == SETTLED:
        guise = f", {verdict.guise}" if verdict.guise else ""
        screen.say((f"Settled: {verdict.vernacular}", "bold green"), f" ({verdict.name}){guise}")
        if any(rival.excused and not rival.separated for rival in verdict.rivals):
            apart = "told apart from its look-alikes that live here"
        else:
            apart = "told apart from its look-alikes" if verdict.rivals else "nothing listed looks like it"
        screen.say(f"{percent(verdict.probability)} among the species of this key; {apart}.", indent=2)
    elif verdict.word == NARROWED:
        few = len(verdict.members) + len(verdict.others) <= 3 or verdict.rank == "aggregate"
        guise = f", {verdict.guise}" if verdict.guise else ""
        lead = "Narrowed: " if few else "Narrowed to a group: "
        scientific = f" ({verdict.name})" if verdict.name != verdict.vernacular else ""
        screen.say((f"{lead}{verdict.vernacular}", "bold yellow"), f"{scientific}{guise}")
        screen.say(_narrowed_because(named), indent=2)
    elif verdict.word == OPEN:
        screen.say(("Open:", "bold"), " no name would be honest yet.")
        likeliest = [key.species[one.species].english for one in found.candidates[:3]]
        screen.say(f"Likeliest so far: {joined(likeliest)}.", indent=2)
    else:
        screen.say(("Outside this key:", "bold red"), " nothing described here fits these answers.")
        screen.say(
            "Check the answers first. Otherwise it may be a species not described here, a stray from abroad "
            "or one that came with pond plants: photograph it and ask the county recorder.",
            indent=2,
        )
    if named.hinge is not None:
        character = key.characters[named.hinge.character]
        said = f"{character.title.lower()} = {say_answer(character, named.hinge)}"
        screen.say(f"It hangs on one answer: {said}. Look at that again.", indent=2)


def _narrowed_because(named: Named) -> str:
    key, found = named.key, named.assessment
    caps = [rival for rival in found.verdict.rivals if rival.caps]
    held = percent(found.verdict.probability)
    if only_outside_bars(named.tables, found.after, found.verdict):
        if as_expected(named.tables, found.after):
            return (
                f"{held} among the species of this key, and every answer fits it; but here and now it is so little to "
                f"be expected that it may as well be one that this key does not have ({percent(found.after.outside)})."
            )
        return (
            f"{held} among the species of this key, but not every answer fits it: look again, or it may be one that "
            f"this key does not have ({percent(found.after.outside)})."
        )
    if not caps:
        return f"{held} together; not yet enough for one name."
    return f"{held} together; not yet told apart: {joined([english(key, rival) for rival in caps[:4]])}."


def english(key: Key, rival: Rival) -> str:
    """A look-alike's English name."""
    if rival.species is not None:
        return key.species[rival.species].english
    return key.undescribed[rival.undescribed].english if rival.undescribed is not None else rival.name


def shown_of(named: Named, most: int = SHOWN) -> list[Candidate]:
    """The candidates that a ranking shows."""
    candidates = named.assessment.candidates
    return [one for one in candidates if one.probability >= LEAST][:most] or list(candidates[:1])


def show_ranking(screen: Screen, named: Named, most: int = SHOWN) -> None:
    """Who is in the running."""
    key, found = named.key, named.assessment
    shown = shown_of(named, most)
    rows: list[list[str | tuple[str, str]]] = []
    for place, one in enumerate(shown, 1):
        species = key.species[one.species]
        wide = screen.width >= 90
        rows.append(
            [
                f"{place}",
                (species.english, "bold" if place == 1 else ""),
                *([(species.name, "italic")] if wide else []),
                key.guises[one.guise].title if found.after.clues else "",
                percent(one.probability),
            ]
        )
    heads = [
        ("", "right"),
        ("species", "left"),
        *([("", "left")] if screen.width >= 90 else []),
        ("likeliest as", "left"),
        ("chance", "right"),
    ]
    screen.table(heads, rows)
    rest = 1 - sum(one.probability for one in shown)
    notes = []
    if rest >= 0.01:
        notes.append(f"all others together {percent(rest)}")
    if found.after.outside >= 0.01:
        notes.append(f"something not in this key {percent(found.after.outside)}")
    if found.fit is not None and found.fit < 0.05:
        notes.append(
            f"the answers fit the first badly (as badly or worse once in {max(1, round(1 / max(found.fit, 1e-4)))})"
        )
    elif found.fit is None and found.after.clues:
        notes.append("too few answers to judge how well they fit")
    if notes:
        text = "; ".join(notes)
        screen.say(f"{text[0].upper()}{text[1:]}.", indent=2)
    for one in shown:
        if against := far_down(key, named.setting, one.species):
            said = f": not to be expected here and now ({'; '.join(against)})."
            screen.say((key.species[one.species].english, "yellow"), said, indent=2)


def show_reasons(screen: Screen, named: Named, against: int | None = None) -> None:
    """Why the first and not its closest rival (or the one asked for), answer by answer and in one sentence."""
    found = named.assessment
    first = found.candidates[0].species
    if not found.after.clues or found.verdict.word == OUTSIDE:
        if against is not None:
            why_not = "nothing described here fits the answers" if found.after.clues else "nothing has been answered"
            screen.blank()
            screen.say(f"Why not {named.key.species[against].english} can't be said: {why_not}.")
        return
    if against == first:
        screen.blank()
        screen.say(f"{named.key.species[first].english} is the first itself; here it is held against its next rival.")
    other = closest_rival(named) if against in (None, first) else against
    if other is None:
        return
    screen.blank()
    show_why(screen, named, first, other, weigh(named, other))


def show_why(screen: Screen, named: Named, one: int, other: int, weights: Why) -> None:
    """The weights of evidence between two species, as times likelier."""
    key = named.key
    screen.say((f"Why {key.species[one].english} and not {key.species[other].english}", "bold"))
    first, second = short_names([key.species[one].english, key.species[other].english])
    rows: list[list[str]] = []
    for answer, weight in weights.answers:
        character = key.characters[answer.character]
        rows.append([f"{character.title.lower()}: {say_answer(character, answer)}", _speaks(weight, first, second)])
    rows.append(["when and where", _speaks(weights.when_and_where, first, second)])
    if abs(weights.which_form) >= 1:
        rows.append(["which form", _speaks(weights.which_form, first, second)])
    rows.append(["all together", _speaks(weights.total, first, second)])
    screen.table([("", "left"), ("speaks for", "left")], rows)
    expected = not far_down(key, named.setting, one)
    screen.say(sentence(key, one, other, weights, expected=expected), indent=2)


def _speaks(weight: float, first: str, second: str) -> str:
    if abs(weight) < TELLS:
        return "neither"
    return f"{first if weight > 0 else second}, {times(weight)}"


def show_rule_out(screen: Screen, named: Named, most: int = 4) -> None:
    """Look-alikes still to rule out, with the mark that does it and what to write when it can't be seen."""
    key, found = named.key, named.assessment
    verdict = found.verdict
    if verdict.word not in (SETTLED, NARROWED):
        return
    caps = [rival for rival in verdict.rivals if rival.caps]
    excused = [rival for rival in verdict.rivals if rival.excused and not rival.separated]
    wanted = caps if verdict.word == NARROWED else excused
    shown = [rival for rival in wanted if rival.entry][:most]
    if not shown:
        return
    screen.blank()
    head = "To rule out" if verdict.word == NARROWED else "Hardly ever here, but not told apart by these answers"
    screen.say((head, "bold"))
    for rival in shown:
        assert rival.entry is not None
        screen.say((english(key, rival), "bold"), f": {rival.entry.mark}.", indent=2, hang=2)
    if verdict.word == NARROWED:
        from reedmace.tasks.naming.record_name import record_name  # brings the reading of names with it

        screen.say(f"If that can't be seen, write it down as: {record_name(key, verdict).typed}.", indent=2)


def show_looks(screen: Screen, named: Named, most: int = 3) -> None:
    """What to look at next, numbered, with the reason; or that nothing will help."""
    looks, word = named.assessment.looks, named.assessment.verdict.word
    if looks.end == NOTHING and word in (NARROWED, OPEN):
        screen.blank()
        # Only what has a name, be it two, can be sent.
        send = " Send it as it stands: that is a good record." if word == NARROWED else ""
        if only_outside_bars(named.tables, named.assessment.after, named.assessment.verdict):
            send = " Photograph it and send it as doubtful: the county recorder will know."
        screen.say(("Nothing left to look at will change this.", "bold"), send)
        return
    if looks.end == NOTHING_VISIBLE:
        screen.blank()
        screen.say(
            ("Nothing you can see from here will separate these.", "bold"),
            " A photograph of the right part may:",
        )
    if not looks.looks:
        return
    if looks.end is None:
        screen.blank()
        head = "To tell its sex" if word == SETTLED else "Look next"
        screen.say((head, "bold"))
    for number, look in enumerate(looks.looks[:most], 1):
        show_look(screen, named, number, look)


def show_look(screen: Screen, named: Named, number: int, look: Look) -> None:
    """One numbered look with its reason."""
    key = named.key
    character = key.characters[look.character]
    between = short_names([key.species[species].english for species in look.between])
    reason = f"tells apart {joined(between)}" if len(between) > 1 else ""
    how = f"photograph {look.photograph}; leave it where it is" if look.photograph else EFFORTS[character.effort]
    said = f"({how}{'; ' + reason if reason else ''})"
    screen.say(f"{number}  ", (character.question, "cyan"), f" {said}", indent=2, hang=3)


def show_cautions(screen: Screen, named: Named) -> None:
    """What a county recorder will ask for, and protected species among the likely ones."""
    key, found = named.key, named.assessment
    verdict = found.verdict
    if verdict.word in (SETTLED, NARROWED) and verdict.members:
        guise = key.guises[found.candidates[0].guise]
        if guise.evidence != "sight":
            part = f" (of {guise.photograph})" if guise.photograph else ""
            screen.blank()
            screen.say(f"The county recorder will ask for {EVIDENCE[guise.evidence]}{part}.")
        # What a key asks of cast skins it says at the beginning, as its caution.
        for care in care_on("in-hand" if guise.evidence == "hand" else "", guise.age if key.stage == "adult" else ""):
            screen.say(f"{care.text} (as of {care.checked})")
    for one in found.candidates:
        species = key.species[one.species]
        if one.probability > 0.01 and species.more.protection:
            screen.blank()
            # One that the ranking has no room for would come out of the blue.
            rest = "" if one in shown_of(named) else f", among the others with {percent(one.probability)}"
            for note in species.more.protection:
                screen.say((f"{species.english}{rest}: {note['text']}", "yellow"), f" (as of {note['checked']})")


def show_setting(screen: Screen, named: Named) -> None:
    """When and where the look was had."""
    say_setting(screen, named.setting)


def say_setting(screen: Screen, setting: Setting) -> None:
    """When and where, as far as it was said."""
    parts = []
    if setting.date:
        parts.append(setting.date.iso + (f" ({setting.date.assumed})" if setting.date.assumed else ""))
    if setting.place:
        regions = joined([region.title for region in setting.regions]) or "region not known"
        parts.append(f"{setting.place.square or setting.place.typed} ({regions})")
    elif setting.area:
        parts.append(area_said(setting))
    if setting.habitat:
        parts.append(setting.habitat.title)
    if setting.flat:
        parts.append("all species taken as equally likely")
    if parts:
        screen.say(f"When and where: {', '.join(parts)}.")
