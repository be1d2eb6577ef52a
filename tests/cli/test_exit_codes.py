"""Exit codes and streams: 0 done, 1 faults in the data, 2 wrong usage, 3 our own bug; results on stdout only."""

from __future__ import annotations

import json
import shlex
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
    if "--json" in arguments:
        assert json.loads(done.stderr)["fault"]["code"] == "output-not-written"
        return
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


@pytest.mark.parametrize(
    ("closed", "arguments"),
    [
        ("<&-", ["log", "3 pale", "--place", "SU 431 118", "--by", "Ada Marsh", "--key", str(FOLDER)]),
        ("<&-", ["key", "--key", str(FOLDER)]),
        (">&-", ["keys", "list"]),
        ("2>&-", ["keys", "list"]),
    ],
)
def test_streams_that_are_closed_lead_nowhere(clean_env, tarn, closed: str, arguments: list[str]) -> None:
    """As a scheduler starts programs: what was asked for is done."""
    script = Path(sys.executable).parent / "reedmace"
    command = f"{shlex.join([str(script), *arguments])} {closed}"
    done = subprocess.run(["/bin/sh", "-c", command], capture_output=True, text=True, env=clean_env, check=False)
    assert (done.returncode, "Traceback" in done.stderr) == (0, False)


def test_bytes_that_are_no_text_are_told_whatever_the_locale(clean_env, tarn) -> None:
    """Piped in where the system's encoding is strict."""
    script = Path(sys.executable).parent / "reedmace"
    done = subprocess.run(
        [script, "log", "--place", "SU 431 118", "--by", "Ada Marsh", "--key", FOLDER],
        input=b"3 pale # a\xffb\n",
        capture_output=True,
        env=clean_env | {"PYTHONIOENCODING": "utf-8:strict"},
        check=False,
    )
    assert (done.returncode, b"Traceback" in done.stderr) in ((1, False), (2, False))
    assert b"text-unreadable" in done.stderr


@pytest.mark.parametrize("encoding", ["frob", "hex", "utf-16", "idna"])
def test_an_encoding_that_is_none_or_not_this_one(owned, tmp_path: Path, encoding: str) -> None:
    """Typed wrong, so 2, with what there is."""
    (tmp_path / "walks.csv").write_bytes("Date,Species\n12/07/2025,Größe".encode("cp1252"))
    ran = owned("ledger", "import", "walks.csv", "--yes", "--encoding", encoding)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "encoding-" in ran.stderr


def test_a_name_of_a_key_that_no_disk_could_hold(run) -> None:
    """A name like any other that is none."""
    ran = run("keys", "check", "a" * 300)
    assert (ran.returncode, "key-not-found" in ran.stderr) == (2, True)


def test_a_reader_that_stops_early_is_no_fault(log, clean_env, tmp_path: Path) -> None:
    """`reedmace ledger dump | head -1` says nothing on standard error."""
    log(*[f"{number} pale m" for number in range(1, 400)])
    script = Path(sys.executable).parent / "reedmace"
    command = f"{shlex.quote(str(script))} ledger dump | head -1"
    done = subprocess.run(
        ["/bin/sh", "-c", command], capture_output=True, text=True, env=clean_env, cwd=tmp_path, check=False
    )
    assert done.stdout.startswith('{"reedmace ledger"')
    assert done.stderr == ""


def test_signs_that_steer_a_terminal_are_shown_not_obeyed(seat) -> None:
    """Also in what is said of wrong usage, which quotes what was typed."""
    with seat("export", "log", "\x1b[31mfrob") as at:
        assert at.leave() == 2
    assert "\x1b[31mfrob" not in at.seen
    assert r"\x1b[31mfrob" in at.seen
    assert "frob" in at.seen


def test_a_ledger_is_restored_from_what_can_be_read_to_where_one_can_be(owned, tmp_path: Path) -> None:
    """And no folder is left behind where not."""
    (tmp_path / "dump.jsonl").write_text('{"reedmace ledger": 1, "schema": "x"}\n')
    (tmp_path / "file").write_text("mine")
    for source, target, code, exit_code in (
        ("dump.jsonl", "new.ledger", "not-a-dump", 1),
        ("dump.jsonl", "file/new.ledger", "restore-cannot-write", 1),
        ("nowhere", "folder/new.ledger", "file-cannot-read", 2),
    ):
        ran = owned("ledger", "restore", source, "--ledger", target)
        assert (ran.returncode, code in ran.stderr) == (exit_code, True), source
    assert not (tmp_path / "folder").exists()


def test_no_ledger_is_begun_for_one_that_cannot_be_read(run, tmp_path: Path) -> None:
    """Merging what is not there leaves nothing behind."""
    ran = run("ledger", "merge", "nowhere.ledger", "--ledger", "new.ledger")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert not (tmp_path / "new.ledger").exists()


def test_a_folder_that_is_gone_is_told(clean_env: dict[str, str], tmp_path: Path) -> None:
    """The stick was pulled on which somebody stands: no traceback, and what to do."""
    script = shlex.quote(str(Path(sys.executable).parent / "reedmace"))
    for words in ("log 2 emperor --place SU431118 --by Ada", "ledger list", "ledger where", "season 2026"):
        done = subprocess.run(
            ["sh", "-c", f"mkdir gone && cd gone && rmdir ../gone && {script} {words} --ledger walks.ledger"],
            capture_output=True,
            text=True,
            env=clean_env,
            cwd=tmp_path,
            check=False,
        )
        assert done.returncode in (1, 2), done
        assert done.stdout == ""
        assert "hint: " in done.stderr
        assert "Traceback" not in done.stderr
    assert "folder-gone" in done.stderr or "no-ledger" in done.stderr
