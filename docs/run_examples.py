"""Run the examples in README.md and docs/*.md and put what they print where it belongs.

Every ```console block holds lines beginning with `$ ` and, under each, what the command prints. Nobody types
that by hand: this script does.

    python docs/run_examples.py            write the pages anew
    python docs/run_examples.py --check    exit 1, with the difference, where a page is out of date

Names of pages behind that (docs/ledger.md) stand for all of them.

The installed `reedmace` runs in an empty home of its own; the blocks of one page share it, in their order.
What a page shows as a file is there: a ```yaml block whose first line is a remark with a path (`# pond/key.yaml`)
is that file, and one with `, continued` behind the path is the next piece of it.
"""

from __future__ import annotations

import difflib
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

PROJECT = Path(__file__).resolve().parent.parent
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.DOTALL | re.MULTILINE)
PIECE = re.compile(r"^```yaml\n# (\S+/\S+?)(, continued)?\n(.*?)^```$", re.DOTALL | re.MULTILINE)
WIDTH = "80"


def main(arguments: list[str]) -> int:
    """Go through the pages named, or all."""
    check = arguments[:1] == ["--check"]
    named = [PROJECT / name for name in arguments[check:]]
    stale = 0
    for page in named or [PROJECT / "README.md", *sorted((PROJECT / "docs").glob("*.md"))]:
        text = page.read_text(encoding="utf-8")
        if "```console\n" not in text:
            continue
        fresh = rewritten(text)
        if fresh == text:
            continue
        stale += 1
        if check:
            name = page.relative_to(PROJECT).as_posix()
            diff = difflib.unified_diff(text.splitlines(), fresh.splitlines(), name, "what it prints", lineterm="")
            print("\n".join(diff))
        else:
            page.write_text(fresh, encoding="utf-8")
    return 1 if check and stale else 0


def rewritten(text: str) -> str:
    """The page with every console block run."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        write_files(text, home)
        environment = {
            "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ.get('PATH', '')}",
            "HOME": folder,
            "XDG_CACHE_HOME": os.environ.get("REEDMACE_EXAMPLES_CACHE", str(home / "cache")),
            "REEDMACE_LEDGER": str(home / "walks.ledger"),
            "COLUMNS": WIDTH,
            "LC_ALL": "C.UTF-8",
            "NO_COLOR": "1",
        }
        return BLOCK.sub(lambda block: f"```console\n{_run_block(block[1], home, environment)}```", text)


def write_files(text: str, folder: Path) -> None:
    """Write the files that a page shows piece by piece into a folder."""
    for name, more, piece in PIECE.findall(text):
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if bool(more) != path.is_file():
            sys.exit(f"{name}: {'continued before it began' if more else 'begun twice'}")
        with path.open("a", encoding="utf-8") as file:
            file.write(piece)


def _run_block(block: str, home: Path, environment: dict[str, str]) -> str:
    commands: list[str] = []
    for line in block.splitlines():
        here = re.search(r"<<'(\w+)'", commands[-1]) if commands else None
        if here and here[1] not in commands[-1].split("\n"):
            commands[-1] += "\n" + line  # a document that the command takes, up to its end
        elif line.startswith("$ "):
            commands.append(line[2:])
        elif commands and commands[-1].endswith("\\"):
            commands[-1] += "\n" + line
    return "".join(f"$ {command}\n{_printed(command, home, environment)}" for command in commands)


def _printed(command: str, home: Path, environment: dict[str, str]) -> str:
    """Standard output, and standard error after it when the command failed."""
    ran = subprocess.run(
        ["sh", "-c", command],
        cwd=home,
        env=environment,
        capture_output=True,
        text=True,
        stdin=subprocess.DEVNULL,
        check=False,
    )
    shown = ran.stdout if ran.returncode == 0 else ran.stdout + ran.stderr
    return shown.rstrip("\n") + "\n" if shown.strip() else ""


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
