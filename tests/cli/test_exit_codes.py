"""Exit codes and streams: 0 done, 1 faults in the data, 2 wrong usage, 3 our own bug; results on stdout only."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tarn import FOLDER

MARKS = ("wings=closed", "colour=blue")


def test_what_is_done_is_0_with_its_result_on_standard_output(tarn_run) -> None:
    """And nothing on standard error."""
    ran = tarn_run("name", *MARKS)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "Pale Rushlet" in ran.stdout


@pytest.mark.parametrize(
    "arguments",
    [
        ("name", "wings=sideways"),
        ("name", *MARKS, "--date", "31 June 2026"),
        ("name", *MARKS, "--place", "SU 431"),
        ("name", *MARKS, "--habitat", "moon"),
        ("name", *MARKS, "--eye", "eagle"),
        ("log", "5 zebra", "--place", "SU 43 11"),
        ("place", "ZZ 12 34"),
    ],
)
def test_what_was_typed_wrong_is_2_and_told_on_standard_error(tarn_run, arguments: tuple[str, ...]) -> None:
    """With nothing on standard output and no traceback."""
    ran = tarn_run(*arguments)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "Traceback" not in ran.stderr
    assert ran.stderr.strip()


def test_faults_in_the_data_are_1(run, tmp_path: Path) -> None:
    """A key with a slip in it, a ledger that is none."""
    folder = tmp_path / "slip"
    folder.mkdir()
    for path in FOLDER.rglob("*.yaml"):
        (folder / path.relative_to(FOLDER)).parent.mkdir(exist_ok=True)
        (folder / path.relative_to(FOLDER)).write_text(path.read_text().replace("status: resident", "statsu: resident"))
    ran = run("name", *MARKS, "--key", folder)
    assert (ran.returncode, ran.stdout) == (1, "")
    # One slip in each of six species: all six are told, each with its place and a hint.
    assert ran.stderr.count("did you mean") == 6
    assert "slip/species/mossopa.yaml:10:5: unknown-field" in ran.stderr
    assert run("keys", "check", folder).returncode == 1
    (tmp_path / "no.ledger").write_text("dear diary, " * 100)
    assert run("ledger", "list", "--ledger", tmp_path / "no.ledger").returncode == 1


BROKEN = """
import sys
from unittest import mock
from reedmace.cli import main

def broken(*_):
    raise ZeroDivisionError("on purpose")

with mock.patch("reedmace.cli.options.load", broken), mock.patch("reedmace.cli.name.load", broken):
    sys.exit(main._run(sys.argv[1:]))
"""


def test_our_own_bug_is_3_with_a_traceback_and_where_to_report_it(clean_env, tmp_path: Path) -> None:
    """The one case where a traceback is shown: it is ours, and says so."""
    done = subprocess.run(
        [sys.executable, "-c", BROKEN, "name", *MARKS], capture_output=True, text=True, env=clean_env, check=False
    )
    assert (done.returncode, done.stdout) == (3, "")
    assert "ZeroDivisionError: on purpose" in done.stderr
    assert "a bug in Reedmace" in done.stderr
    assert "report" in done.stderr


def test_a_reader_that_has_gone_is_no_fault(log, clean_env, tmp_path: Path) -> None:
    """`reedmace ledger list | head -1` ends quietly, also with a ledger longer than a pipe holds."""
    assert log(*["1 pale m  # " + "x" * 60] * 1500).returncode == 0
    script = Path(sys.executable).parent / "reedmace"
    done = subprocess.run(
        f"'{script}' ledger list --json | head -1",
        shell=True,
        capture_output=True,
        text=True,
        env=clean_env,
        cwd=tmp_path,
        check=False,
    )
    assert done.stderr == ""
    assert len(done.stdout.splitlines()) == 1


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device here that is always full")
@pytest.mark.parametrize("arguments", [("--help",), ("name", *MARKS), ("name", *MARKS, "--json"), ("ledger", "list")])
def test_output_that_finds_no_room_is_1_and_told(log, clean_env, tmp_path: Path, arguments: tuple[str, ...]) -> None:
    """`reedmace ledger list > list.txt` on a full disk: what is in the list is not there, and nobody may think so."""
    assert log("1 pale m").returncode == 0
    key = ("--key", FOLDER) if arguments[0] == "name" else ()
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [Path(sys.executable).parent / "reedmace", *arguments, *key],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            env=clean_env,
            cwd=tmp_path,
            check=False,
        )
    assert done.returncode == 1
    assert done.stderr == (
        "output-not-written\n"
        "What should have been shown could not be written: No space left on device.\n"
        "hint: make room where the output goes, and ask again; nothing in the ledger is lost\n"
    )


def test_check_strict_tells_by_its_exit_code_whether_there_is_a_doubt(tarn_run, log) -> None:
    """For scripts: a note is no doubt; without --strict queries are no failure."""
    log("1 pale m")
    assert tarn_run("check", "--strict").returncode == 0
    log("1 pale f")
    assert tarn_run("check").returncode == 0
    assert tarn_run("check", "--strict").returncode == 1
