"""Help: every command of the tree has it, and docs/commands.md tells it word for word."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from reedmace import __version__
from reedmace.cli.main import COMMANDS, cli
from reedmace.cli.usage import example_of

ROOT = Path(__file__).resolve().parents[2]


def tree(command: click.Command, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    """Every command with the words that call it."""
    yield path, command
    if isinstance(command, click.Group):
        context = click.Context(command, info_name=" ".join(path))
        for name in command.list_commands(context):
            below = command.get_command(context, name)
            assert below is not None
            yield from tree(below, (*path, name))


ALL = list(tree(cli))


@pytest.mark.parametrize("path", [path for path, _ in ALL], ids=lambda path: " ".join(path) or "reedmace")
@pytest.mark.parametrize("option", ["--help", "-h"])
def test_every_command_helps(run, path: tuple[str, ...], option: str) -> None:
    """On standard output, with exit code 0 and nothing on standard error; no line wider than 80."""
    ran = run(*path, option)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert ran.stdout.startswith(f"Usage: reedmace {' '.join(path)}".rstrip())
    assert max(map(len, ran.stdout.splitlines())) <= 80


@pytest.mark.parametrize(("path", "command"), ALL, ids=[" ".join(path) or "reedmace" for path, _ in ALL])
def test_every_command_and_every_option_says_what_it_is_for(path: tuple[str, ...], command: click.Command) -> None:
    """No option without a word about it, and a first paragraph that is a sentence."""
    assert command.help
    assert command.help.strip().partition("\n\n")[0].rstrip().endswith(".")
    for parameter in command.params:
        if isinstance(parameter, click.Option):
            assert parameter.help, parameter.opts


def test_the_list_of_commands_is_what_the_commands_say(run) -> None:
    """The short lines of `reedmace --help` name every module that is there."""
    shown = run("--help").stdout
    for name, (_, line) in COMMANDS.items():
        assert f"  {name} " in shown
        assert line in " ".join(shown.split())


def test_the_page_of_commands_is_true() -> None:
    """`docs/commands.md` is built from the help; whoever changes one builds the other."""
    script = ROOT / "docs" / "build_commands.py"
    if not script.exists():
        pytest.skip("the docs are not beside the tests")
    done = subprocess.run([sys.executable, script, "--check"], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    page = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    for path, _ in ALL:
        assert f"## reedmace {' '.join(path)}".rstrip() + "\n" in page


def test_examples_in_the_help_keep_their_lines(run) -> None:
    """An example can be copied from the screen as it stands."""
    assert '    reedmace log 12 common blue m --place "SU 431 118" --date 2026-07-12\n' in run("log", "--help").stdout
    assert "reedmace name wings=closed abdomen-colour=blue spur=present~" in run("name", "--help").stdout
    assert "\\b" not in run("log", "--help").stdout + run("name", "--help").stdout


def test_the_version_is_told(run) -> None:
    """On standard output, from the one place that holds it."""
    ran = run("--version")
    assert (ran.returncode, ran.stdout.split()[-1]) == (0, __version__)


def test_without_a_command_it_helps_and_that_is_wrong_usage(run) -> None:
    """Nothing was asked, so nothing stands on standard output."""
    ran = run()
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "Usage: reedmace" in ran.stderr


@pytest.mark.parametrize(
    ("slip", "meant"), [("hlep", "help"), ("nmae", "name"), ("legder", "ledger"), ("plaice", "place")]
)
def test_a_slip_in_a_command_gets_the_nearest_one(run, slip: str, meant: str) -> None:
    """Wrong usage, with a remedy."""
    ran = run(slip)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert f"did you mean {meant}" in ran.stderr


def test_an_unknown_option_is_wrong_usage(run) -> None:
    """Named, with exit code 2."""
    ran = run("check", "--colour")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "--colour" in ran.stderr


def test_it_runs_as_a_module_too(clean_env: dict[str, str]) -> None:
    """`python -m reedmace` is the same command."""
    done = subprocess.run(
        [sys.executable, "-m", "reedmace", "place", "SU 431 118", "--json"],
        capture_output=True,
        text=True,
        env=clean_env,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert '"square": "SU431118"' in done.stdout


def test_every_command_that_needs_words_has_an_example() -> None:
    """It is what stands in the hint where they are missing; that it is taken is proved with the remedies."""
    for path, command in ALL:
        if any(one.required for one in command.params):
            context = click.Context(command, info_name=path[-1])
            assert example_of(context).startswith(f"reedmace {' '.join(path)} "), path


def test_help_is_a_word_too(run) -> None:
    """Before a command of any group, and by itself."""
    for words, path in (
        (("help",), ()),
        (("help", "log"), ("log",)),
        (("help", "ledger", "amend"), ("ledger", "amend")),
        (("ledger", "help", "amend"), ("ledger", "amend")),
        (("visit", "help"), ("visit",)),
    ):
        ran = run(*words)
        assert (ran.returncode, ran.stderr) == (0, "")
        assert ran.stdout == run(*path, "--help").stdout


def test_commands_stand_in_parts_in_the_order_of_use(run) -> None:
    """Naming first; in a visit, start before end."""
    shown = run("--help").stdout
    assert re.findall(r"^(\w[\w ]+):$", shown, re.MULTILINE) == [
        *("Options", "Naming", "Writing down", "Looking back", "Sending", "Looking up"),
    ]
    assert [line.split()[0] for line in run("visit", "--help").stdout.rpartition("Commands:\n")[2].splitlines()] == [
        *("start", "end", "list", "show"),
    ]
