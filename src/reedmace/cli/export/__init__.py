"""`reedmace export`: a season as a file for a county recorder; and what is kept about recipients."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from reedmace.cli.lazy import LazyGroup
from reedmace.cli.options import json_option, key_option, ledger_option, load, season_option, writer_option
from reedmace.cli.output import say_json
from reedmace.faults import Fault, Refused

if TYPE_CHECKING:
    from reedmace.checks.query import Grounds
    from reedmace.ledger.store import Ledger
    from reedmace.tasks.export.profiles import ExportProfile
    from reedmace.tasks.export.season import Asked, Exported

COMMANDS = {
    "log": ("export.log", "List what was sent to whom, when, and what they said of it."),
    "profiles": ("export.profiles", "List what is kept about recipients, or show one."),
}
FILE = click.Path(path_type=Path)
SIDES = ["100 m", "1 km", "2 km", "5 km", "10 km"]


@click.group(name="export", cls=LazyGroup, lazy=COMMANDS, invoke_without_command=True)
@season_option("Sightings")
@click.option("--to", "to", type=FILE, metavar="FILE", help="The file to write: .csv, or .zip for an archive.")
@click.option("--for", "recipient", metavar="NAME", help="Who it is for; what is kept about them is used.")
@click.option("--profile", type=FILE, metavar="FILE", help="What they want, as a small YAML file.")
@click.option("--save", is_flag=True, help="Keep this for --for NAME, for the next time.")
@click.option("--since-last", is_flag=True, help="Only what is new, changed or withdrawn since they last got some.")
@click.option("--again", type=click.IntRange(1), metavar="N", help="Make what was sent to them as number N once more.")
@click.option("--draft", is_flag=True, help="Write the file, but do not note it as sent.")
@click.option("--since", metavar="DATE", help="From this day, month or year on.")
@click.option("--until", metavar="DATE", help="Up to this day, month or year.")
@click.option(
    "--vice-county", "counties", multiple=True, metavar="VC", help="Only this vice-county; several times for more."
)
@click.option(
    "--place", "places", multiple=True, metavar="PLACE", help="In this square, or with this in its name or its visit's."
)
@click.option(
    "--species", multiple=True, metavar="NAME", help="Only this species, genus or group; several times for more."
)
@click.option("--certainty", type=click.Choice(["certain", "probable", "all"]), help="At least this sure.")
@click.option(
    "--status", type=click.Choice(["recorded", "amended", "diverged"]), help="Only those never or once amended."
)
@click.option(
    "--licence", type=click.Choice(["cc0", "cc-by", "cc-by-nc"]), help="What others may do; cc-by if not said."
)
@click.option("--dataset", metavar="NAME", help="A name for the whole, such as your garden's or group's.")
@click.option("--cover", metavar="FILE", help="Also write the covering page of what is sent: .html or .md")
@click.option("--public", is_flag=True, help="For everybody: sensitive places blurred, people as initials, no remarks.")
@click.option("--county", type=FILE, metavar="FILE", help="For --public and --cover: a county file.")
@click.option("--precision", type=click.Choice(SIDES), help="Places no finer than this.")
@click.option("--force", is_flag=True, help="Replace the file if it is there.")
@writer_option
@key_option
@ledger_option
@json_option
@click.pass_context
def command(context: click.Context, /, **given: Any) -> None:
    """Write a season as a Darwin Core file, or the recipient's own sheet.

    Every record keeps its identifier for ever; the same ledger gives the same file, byte for byte. The exact
    places of protected species are in it: send it to the county recorder, do not publish it. What may be
    published is written with --public.

    \b
      reedmace export --season 2026 --to season.csv
      reedmace export --season 2026 --to 2026.zip --for "Tarn Fenwick" --save
      reedmace export --season 2027 --to 2027.zip --for "Tarn Fenwick"
    """
    if context.invoked_subcommand is not None:
        return
    if given["to"] is None:
        hint = f"for example:  reedmace export --season {given['season'] or 2026} --to season.csv"
        raise Refused(Fault("word-missing", "--to FILE is needed: the file to write.", hint, typed=True))
    from reedmace.cli.export.children import tell_children
    from reedmace.cli.observing import name_of_observer
    from reedmace.cli.surroundings import ledger_path, new_id
    from reedmace.cli.without_visit import tell_without_visit
    from reedmace.ledger.store import open_ledger

    if given["cover"] is not None and given["again"] is not None:
        message = "--cover tells of what is sent now, not of what --again makes once more."
        raise Refused(Fault("cover-again", message, "leave one of them out", typed=True))
    with open_ledger(ledger_path(given["ledger_name"]), create=False) as ledger:
        recipient, newcomer, profile = _profile(ledger, given)
        noted = bool(given["save"] or ((recipient or newcomer) and not given["draft"]))
        if noted:
            # Asked before anything is written: a file that was sent but not noted would be sent again as new.
            name_of_observer(ledger, given["by"], new_id)
        # Somebody new is kept only with what is kept of them.
        with ledger.together(keep=noted) if newcomer else nullcontext():
            if newcomer:
                recipient = ledger.people.register(newcomer, new_id)
            _export(ledger, given, recipient, profile, noted=noted)
        tell_without_visit(ledger)
        tell_children(ledger, given, profile)


def _export(
    ledger: Ledger, given: dict[str, Any], recipient: str | None, profile: ExportProfile, *, noted: bool
) -> None:
    from reedmace.cli.export.told import say, say_again, values
    from reedmace.cli.observing import observer
    from reedmace.cli.surroundings import new_id, today, written_at
    from reedmace.tasks.export.profiles import save
    from reedmace.tasks.export.season import Asked, export_again, export_season
    from reedmace.tasks.export.unstated import unstated
    from reedmace.tasks.records.names_wanted import taxa_called

    grounds = _grounds(given) if profile.public or given["cover"] is not None else None
    asked = Asked(
        *(given["season"], given["to"], profile, today(), given["force"]),
        *(recipient, given["since_last"], grounds),
        called=lambda name: taxa_called(ledger, load(given["key_name"]), name),
        habitat_of=_titles(given["key_name"]),
    )
    if given["again"] is not None:
        submission, same = export_again(ledger, asked, given["again"])
        if given["as_json"]:
            told = {"file": str(given["to"]), "rows": submission.rows, "id": submission.id, "sha256": submission.digest}
            say_json(told | {"same": same})
        else:
            say_again(submission, same, given["to"])
        return
    if given["cover"] is not None:
        from reedmace.tasks.export.cover_export import cover_allowed, write_cover

        cover_allowed(asked, given["cover"])
    person = observer(ledger, given["by"], new_id)[0] if noted else None
    done = export_season(ledger, asked)
    silent = unstated(ledger, asked)
    sending = recipient is not None and not given["draft"] and bool(done.digest) and bool(done.rows)
    if given["cover"] is not None:
        write_cover(given["cover"], ledger, asked, done, sending, silent)
    number = None
    if person is not None and recipient is not None and profile.contact:
        ledger.people.set_contact(recipient, profile.contact)
    if person is not None and given["save"]:
        assert recipient
        save(ledger, profile, recipient, person, written_at(), new_id)
    if person is not None and sending:
        number = _note_sent(ledger, asked, done, person)
    if given["as_json"]:
        say_json(values(done, asked, number, given["cover"], silent))
    else:
        say(ledger, done, asked, number, given["cover"], silent)


def _titles(key_name: str | None) -> Callable[[str], str]:
    """Give what gives a habitat's title by its id; the key is read once one is asked for."""
    found: dict[str, str] = {}

    def title(habitat: str) -> str:
        if not found:
            found.update({"": "", **{one.id: one.title for one in load(key_name).habitats}})
        return found.get(habitat, habitat)

    return title


def _grounds(given: dict[str, Any]) -> Grounds:
    """Give what says which places are sensitive: the key, and a county file before it."""
    from reedmace.cli.surroundings import today
    from reedmace.tasks.checking.judging import judging

    return judging(load(given["key_name"]), today(), given["county"])


def _note_sent(ledger: Ledger, asked: Asked, done: Exported, person: str) -> int:
    """Keep what was sent, if it is not the very same as last time; gives its number among those to the recipient."""
    from reedmace.cli.surroundings import new_id, written_at
    from reedmace.tasks.export.changes import submissions_to
    from reedmace.tasks.export.season import is_the_same, submission_of

    assert asked.recipient
    if done.previous is None or not is_the_same(done.previous, done):
        ledger.submit(submission_of(asked, done, written_at(), new_id), person, new_id)
    return len(submissions_to(ledger, asked.recipient))


def _profile(ledger: Ledger, given: dict[str, Any]) -> tuple[str | None, str, ExportProfile]:
    """Give the recipient's person id, or else their name where they are new; and what is wanted for them.

    That is kept from before, or from a file, changed by what was typed.
    """
    from reedmace.tasks.export.profiles import ExportProfile, changed, profile_for, read_profile

    profile = read_profile(given["profile"]) if given["profile"] else None
    name = given["recipient"] or (profile.recipient if profile else "")
    person = None
    if name:
        kept = profile_for(ledger, name)
        if kept is not None:
            person, profile = kept[0], profile or kept[1]
        else:
            person = ledger.people.find(name)
    elif given["save"] or given["since_last"] or given["again"] is not None:
        hint = 'say who it is for:  --for "Tarn Fenwick"'
        raise Refused(Fault("recipient-missing", "Nobody is named who it is for.", hint, typed=True))
    return person, name if person is None else "", changed(profile or ExportProfile(format=1), given)
