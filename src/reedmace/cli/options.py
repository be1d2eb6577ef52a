"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

import click

if TYPE_CHECKING:
    from reedmace.keys.model import Key

F = Callable[..., Any]


class Year(click.ParamType):  # type: ignore[type-arg]  # generic from click 8.4 on
    """A year in four digits, 1600 to 2999."""

    name = "year"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """The year as a number; fails in words for people."""
        typed = str(value).strip()
        if not (typed.isascii() and typed.isdigit() and len(typed) == 4 and 1600 <= int(typed) <= 2999):
            self.fail(f'"{value}" is no year. Write one with four digits, such as 2026.', param, ctx)
        return int(typed)


class Delimiter(click.ParamType):  # type: ignore[type-arg]  # generic from click 8.4 on
    """What parts the cells of a sheet: one sign, or its name."""

    name = "sign"
    named: ClassVar[dict[str, str]] = {
        "tab": "\t",
        "\\t": "\t",
        "comma": ",",
        "semicolon": ";",
        "pipe": "|",
        "bar": "|",
    }

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """The sign; fails in words for people."""
        sign = self.named.get(str(value).strip().casefold(), str(value))
        if len(sign) != 1 or not (sign.isprintable() or sign == "\t") or sign == '"':
            words = "Write one sign, such as ; or its name: comma, semicolon, tab."
            self.fail(f'"{value}" parts no cells. {words}', param, ctx)
        return sign


def delimiter_option(command: F) -> F:
    """--delimiter."""
    words = "What parts the cells, where it is guessed wrong: a sign or its name."
    return click.option("--delimiter", type=Delimiter(), metavar="SIGN", help=words)(command)


class Renamed(click.Option):
    """An option that is shown by its first spelling; the others are earlier ones, which are still taken."""

    def get_help_record(self, ctx: click.Context) -> tuple[str, str] | None:
        """As click does, of the first spelling alone."""
        every = self.opts
        self.opts = every[:1]
        try:
            return super().get_help_record(ctx)
        finally:
            self.opts = every


def season_option(what: str) -> Callable[[F], F]:
    """--season YEAR, with what is taken of it."""
    return click.option("--season", type=Year(), metavar="YEAR", help=f"{what} of one year only.")


def species_option(command: F) -> F:
    """--species, which chooses records by the name they carry."""
    words = "Only this species, genus or group, as in  reedmace log ."
    return click.option("--species", "--name", "name", cls=Renamed, metavar="NAME", help=words)(command)


def place_option(command: F) -> F:
    """--place, which chooses records by where they were made."""
    words = "In this square, or with this in its name or its visit's."
    return click.option("--place", "--site", "place", cls=Renamed, metavar="PLACE", help=words)(command)


def county_option(command: F) -> F:
    """--county."""
    words = "A county recorder's file; it comes before the key."
    return click.option("--county", type=click.Path(path_type=Path), metavar="FILE", help=words)(command)


def boundaries_option(command: F) -> F:
    """--boundaries."""
    words = "Boundaries of vice-counties, as GeoJSON."
    return click.option("--boundaries", type=click.Path(path_type=Path), metavar="FILE", help=words)(command)


def reason_option(command: F) -> F:
    """--reason, where none is no correction."""
    return click.option("--reason", required=True, metavar="TEXT", help="Why, in a few words.")(command)


def key_option(command: F) -> F:
    """--key."""
    return click.option("--key", "key_name", metavar="ID_OR_FOLDER", help="Another key than the one shipped.")(command)


def visit_options(command: F) -> F:
    """--date, --place, --habitat of what is logged: a month alone is no date there."""
    return setting_options(command, "2026-07-12, 12 July 2026, today")


def setting_options(command: F, dates: str = "2026-07-12, 12 July 2026, July, today") -> F:
    """--date, --place, --habitat."""
    for option in (
        click.option("--habitat", metavar="HABITAT", help="Where it lives: garden-pond, lake, river …"),
        click.option(
            "--place", metavar="PLACE", help='Grid reference or position: "SU 431 118", "51.06, -1.31"; or a region.'
        ),
        click.option("--date", "when", metavar="DATE", help=f"When: {dates}."),
    ):
        command = option(command)
    return command


def looking_options(command: F) -> F:
    """--eye, --flat."""
    command = click.option("--flat", is_flag=True, help="Take all species as equally likely, whatever date and place.")(
        command
    )
    return click.option(
        "--eye",
        type=click.Choice(["beginner", "practised"]),
        default="beginner",
        show_default=True,
        help="How practised the observer is.",
    )(command)


def ledger_option(command: F) -> F:
    """--ledger."""
    return click.option("--ledger", "ledger_name", metavar="FILE", help="Another ledger (or set REEDMACE_LEDGER).")(
        command
    )


def by_option(command: F) -> F:
    """--by, of what was seen."""
    return click.option("--by", metavar="NAME", envvar="REEDMACE_BY", help="Who saw and named it, if not you.")(command)


def writer_option(command: F) -> F:
    """--by, of what is said about records that are there."""
    return click.option("--by", metavar="NAME", envvar="REEDMACE_BY", help="Who says so, if not you.")(command)


def json_option(command: F) -> F:
    """--json."""
    return click.option("--json", "as_json", is_flag=True, help="JSON, for other programs.")(command)


def load(key_name: str | None) -> Key:
    """The key asked for, from the cache where it can be."""
    from reedmace.cli.surroundings import cache_folder
    from reedmace.keys.cache import load_key
    from reedmace.keys.shipped import find_key

    def tell() -> None:
        click.echo("Reading a key for the first time takes a few seconds.", err=True)

    return load_key(find_key(key_name), cache_folder(), tell)
