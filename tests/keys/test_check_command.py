"""`reedmace keys check FOLDER`, as somebody runs it who has just edited a key."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from keys.catalogue import cases, run_case
from made_key import FILES, write_key

Run = Callable[..., Any]


def test_a_slip_on_line_10_is_shown_with_file_line_column_the_line_the_reason_and_a_hint(
    run: Run, tmp_path: Path
) -> None:
    case = next(case for case in cases() if case.name == "unknown-field")
    run_case(case, tmp_path)  # writes the key
    ran = run("keys", "check", tmp_path / "made-fen")
    assert ran.returncode == 1
    assert ran.stderr == ""
    assert ran.stdout.startswith(
        "made-fen/species/paludula.yaml:10:5: unknown-field\n"
        "  10 |     statsu: resident\n"
        "     |     ^^^^^^\n"
        'There is no field "statsu" here.\n'
        "hint: did you mean status?\n"
    )
    assert ran.stdout.endswith("\n1 fault\n")


def test_json_tells_the_same_to_other_programs(run: Run, tmp_path: Path) -> None:
    case = next(case for case in cases() if case.name == "unknown-field")
    run_case(case, tmp_path)
    ran = run("keys", "check", "--json", "made-fen", cwd=tmp_path)
    # A bare word is an id; the folder is found because it holds a key.
    assert ran.returncode == 1
    assert json.loads(ran.stdout)["faults"] == [
        {
            "code": "unknown-field",
            "message": 'There is no field "statsu" here.',
            "hint": "did you mean status?",
            "said": "statsu",
            "file": "made-fen/species/paludula.yaml",
            "line": 10,
            "column": 5,
        }
    ]


def test_every_slip_of_every_file_is_told_in_one_run(run: Run, tmp_path: Path) -> None:
    folder = write_key(
        tmp_path / "made-pond",
        {
            "species/exemplum.yaml": FILES["species/exemplum.yaml"]
            .replace("spur: present\n", "spur: presant\n")
            .replace("pond: main", "pnod: main"),
            "species/paludula.yaml": FILES["species/paludula.yaml"].replace("upland: common", "uplands: common"),
        },
    )
    ran = run("keys", "check", folder)
    assert ran.returncode == 1
    assert ran.stdout.count("hint: ") == 4
    assert ran.stdout.endswith("\n4 faults\n")


def test_escape_sequences_in_a_key_never_reach_the_terminal(run: Run, tmp_path: Path) -> None:
    folder = write_key(
        tmp_path / "made-pond", {"species/paludula.yaml": 'format: 1\ngenus: "\\e[31mRed"\n"\\e[2Jb": 1\n'}
    )
    ran = run("keys", "check", folder)
    assert ran.returncode == 1
    assert "\x1b" not in ran.stdout + ran.stderr


def test_a_sound_key_is_counted_and_its_values_told_by_source(run: Run, made_folder: Path) -> None:
    ran = run("keys", "check", made_folder)
    assert ran.returncode == 0
    lines = ran.stdout.splitlines()
    assert lines[:2] == ["Made insects of a made pond 0.1.0", "3 species, 5 guises, 4 characters"]
    assert any(line.split() == ["1", "plate"] for line in lines)
    assert lines[-1] == "no faults"


def test_a_folder_that_is_no_key_is_wrong_usage(run: Run, tmp_path: Path) -> None:
    ran = run("keys", "check", f"{tmp_path}/")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith("key-not-found\n")


def test_naming_with_a_broken_key_shows_its_faults_and_names_nothing(run: Run, tmp_path: Path) -> None:
    folder = write_key(
        tmp_path / "made-pond", {"key.yaml": FILES["key.yaml"].replace("licence: CC0-1.0", "license: CC0-1.0")}
    )
    ran = run("name", "--key", folder, "spur=absent")
    assert (ran.returncode, ran.stdout) == (1, "")
    assert "\nmade-pond/key.yaml:6:1: unknown-field\n  6 | license: CC0-1.0\n" in ran.stderr


def test_the_list_of_keys_breaks_no_word_of_a_title(run: Run) -> None:
    """A narrow screen has the title on a line of its own; a pipe has a line for each key."""
    narrow = run("keys", "list", env={"COLUMNS": "60"}).stdout.splitlines()
    assert all(len(line) <= 60 for line in narrow)
    assert [line for line in narrow if line.startswith("  ")]
    assert " ".join(" ".join(narrow).split()) == " ".join(run("keys", "list").stdout.split())


def test_no_line_of_the_report_is_wider_than_the_screen(run: Run) -> None:
    """Titles and pairs of guises break, what follows a little further in."""
    for key in ("odonata-exuviae", "odonata-britain-ireland"):
        lines = run("keys", "check", key, env={"COLUMNS": "60"}).stdout.splitlines()
        assert max(map(len, lines)) <= 60
