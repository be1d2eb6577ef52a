"""The ledger put to the rack, one command each (in the tests' environment; short forms run with the tests).

    python tests/ledger/torture.py kill-logging 300     kill -9 while walks are logged
    python tests/ledger/torture.py kill-importing 300   kill -9 while a sheet is imported
    python tests/ledger/torture.py writers 8 500        so many processes, so many sightings each, all at once
    python tests/ledger/torture.py starved 20           files that may not grow beyond a limit, while importing
    python tests/ledger/torture.py steps 300            so many random histories of every kind of step

Each says what it found, and ends with exit code 1 at the first thing lost, doubled, changed or half written.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from ledger.pond import child_command, healthy, rows
from reedmace.ledger.store import open_ledger
from reedmace.ledger.wanted import Wanted
from tarn import FOLDER

ROWS = 600  # of the sheet that is imported
HARMLESS = {"visit-without-sighting"}


def start(folder: Path, *arguments: object) -> subprocess.Popen[str]:
    """Start child.py in a process of its own."""
    command, environment = child_command(*arguments)
    environment |= {"TARN_KEY": str(FOLDER), "TARN_CACHE": str(folder / "cache")}
    return subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def sheet(folder: Path) -> Path:
    """Write a sheet of walks, each of six rows; every hundredth row is faulty."""
    path = folder / "walks.csv"
    lines = ["Date,Grid Ref,Site,Species,No.,Recorder"]
    for number in range(ROWS):
        count = "umpteen" if number % 100 == 50 else str(number + 1)
        day = f"{number // 6 % 28 + 1:02}/06/{1990 + number // 170}"
        lines.append(f"{day},SU 431 118,Sallow Farm,pale rushlet,{count},Ada Marsh")
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def sound(path: Path) -> None:
    """Refuse a ledger in which anything is amiss."""
    assert healthy(path)
    with open_ledger(path, create=False) as ledger:
        found = [one for one in ledger.audit(lambda _: None) if one.code not in HARMLESS]
    assert not found, found


def kept(path: Path) -> list[str]:
    """Give the ids of all sightings, as a later command sees them."""
    with open_ledger(path, create=False) as ledger:
        return [one.id for one, _, _ in ledger.current_sightings(Wanted(withdrawn=True))]


def stop(child: subprocess.Popen[str], after: float) -> str:
    """Kill a child at a moment; gives what it acknowledged, whole lines only."""
    first = child.stdout.readline() if child.stdout is not None else ""
    time.sleep(after)
    child.send_signal(signal.SIGKILL)
    out, err = child.communicate(timeout=60)
    assert not err, err
    whole = out[: out.rindex("\n") + 1] if "\n" in out else ""
    return first + whole


def kill_logging(folder: Path, times: int) -> str:
    """Kill while walks are logged: what was acknowledged is there, and every walk is whole."""
    path, chance = folder / "pond", random.Random(5)
    acknowledged: set[str] = set()
    for _ in range(times):
        acknowledged |= set(stop(start(folder, "until-killed", path), chance.uniform(0, 0.1)).split())
        assert acknowledged <= set(kept(path))
        kinds = [row[3] for row in rows(path)]
        assert kinds.count("visit") == kinds.count("sighting")
    sound(path)
    return f"killed {times} times while logging: all {len(acknowledged):,} acknowledged sightings are there"


def kill_importing(folder: Path, times: int) -> str:
    """Kill while a sheet is imported, again and again: in the end every row is there once."""
    source, chance = sheet(folder), random.Random(6)
    start(folder, "import", folder / "cache-only", source).communicate(timeout=120)
    warm = start(folder, "import", folder / "warm", source)
    assert warm.stdout is not None
    warm.stdout.readline()
    begin = time.perf_counter()
    warm.communicate(timeout=120)
    longest = 1.2 * (time.perf_counter() - begin)
    wanted, cut = len(kept(folder / "warm")), 0
    path, number = folder / "pond0", 0
    for _ in range(times):
        before = len(kept(path)) if path.exists() else 0
        said = stop(start(folder, "import", path, source), chance.uniform(0, longest)).split("\n")
        assert said[0] == "begun", said
        after = kept(path)
        assert before <= len(after) <= wanted
        assert len(set(after)) == len(after)
        cut += len(after) < wanted
        sound(path)
        if len(after) == wanted:
            # All in: begin the next one.
            number += 1
            path = folder / f"pond{number}"
    for faults in folder.glob("walks.csv.faults*"):
        faults.unlink()
    done, err = start(folder, "import", path, source).communicate(timeout=120)
    assert not err, err
    assert len(kept(path)) == wanted
    assert done.split()[-1] == str(ROWS // 100)
    return f"killed {times} times while importing, {cut} times in the middle: every row is there once, {number} sheets"


def writers(folder: Path, processes: int, each: int) -> str:
    """Many processes write at once: everything is there, and nobody saw an error."""
    path = folder / "pond"
    begin = time.perf_counter()
    children = [start(folder, "some", path, each) for _ in range(processes)]
    said: list[str] = []
    for child in children:
        out, err = child.communicate(timeout=600)
        assert (child.returncode, err) == (0, ""), err
        said += out.split()
    assert len(said) == len(set(said)) == processes * each
    assert sorted(kept(path)) == sorted(said)
    sound(path)
    return (
        f"{processes} processes wrote {len(said):,} sightings at once in {time.perf_counter() - begin:.0f} s, no error"
    )


def starved(folder: Path, times: int) -> str:
    """Files may not grow beyond a limit while a sheet is imported: a clear fault, and it is gone on with after."""
    source = sheet(folder)
    start(folder, "import", folder / "warm", source).communicate(timeout=120)
    wanted = len(kept(folder / "warm"))
    codes: dict[str, int] = {}
    for number in range(times):
        path = folder / f"pond{number}"
        limit = 30_000 + number * 1_200_000 // times
        out, err = start(folder, "import", path, source, limit).communicate(timeout=120)
        assert not err, err
        code = out.split("\n")[-2]
        codes[code] = codes.get(code, 0) + 1
        if out.startswith("begun"):  # else there was not even room to begin a ledger
            sound(path)
        start(folder, "import", path, source).communicate(timeout=120)
        assert len(kept(path)) == wanted
        for part in folder.glob(f"pond{number}*"):
            part.unlink()
    return f"starved {times} times: {codes}; each was gone on with to the end"


def steps(times: int) -> str:
    """Random histories of every kind of step."""
    environment = os.environ | {"REEDMACE_MACHINE_EXAMPLES": str(times)}
    test = Path(__file__).with_name("test_machine.py")
    subprocess.run([sys.executable, "-m", "pytest", "-q", "-n", "0", str(test)], env=environment, check=True)
    return f"{times} random histories: no entry lost or changed"


def main(arguments: list[str]) -> int:
    """Run one torture."""
    what, *numbers = arguments or [""]
    some = [int(number) for number in numbers]
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        tortures = {
            "kill-logging": lambda: kill_logging(folder, *(some or [300])),
            "kill-importing": lambda: kill_importing(folder, *(some or [300])),
            "writers": lambda: writers(folder, *(some or [8, 500])),
            "starved": lambda: starved(folder, *(some or [20])),
            "steps": lambda: steps(*(some or [300])),
        }
        if what not in tortures:
            sys.stderr.write(__doc__ or "")
            return 2
        sys.stdout.write(tortures[what]() + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
