"""The cache of compiled keys: it saves time and is never needed; whatever stands in it, the key is the same."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from zlib import crc32

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from made_key import FILES, write_key
from reedmace.faults import Refused
from reedmace.keys.cache import load_key
from reedmace.keys.digest import folder_digest
from reedmace.keys.model import Key


def kept(cache: Path) -> Path:
    """The one compiled key in a cache."""
    (file,) = cache.glob("*.json")
    return file


def test_the_first_load_keeps_the_key_and_the_second_reads_it(made_folder: Path, tmp_path: Path) -> None:
    cache = tmp_path / "deep" / "down"
    read: list[str] = []
    first = load_key(made_folder, cache, lambda: read.append("first"))
    assert read == ["first"]
    stamp = kept(cache).stat().st_mtime_ns
    second = load_key(made_folder, cache, lambda: read.append("second"))
    assert read == ["first"]
    assert kept(cache).stat().st_mtime_ns == stamp
    assert first == second == load_key(made_folder, None)


def test_the_shipped_key_is_the_same_from_the_cache_as_from_its_files(key: Key, cache_home: Path) -> None:
    from reedmace.keys.shipped import find_key

    assert load_key(find_key(None), cache_home / "reedmace", lambda: pytest.fail("read again")) == key
    assert load_key(find_key(None), None) == key


def test_without_a_cache_nothing_is_kept(made_folder: Path) -> None:
    before = sorted(made_folder.parent.rglob("*"))
    load_key(made_folder, None)
    assert sorted(made_folder.parent.rglob("*")) == before


def test_a_cache_that_cannot_be_written_changes_nothing(made_folder: Path, tmp_path: Path, made_key: Key) -> None:
    """A file where the folder should be, and a folder where the file should be."""
    blocked = tmp_path / "blocked"
    blocked.write_text("a file", encoding="utf-8")
    assert load_key(made_folder, blocked) == load_key(made_folder, blocked / "below") == made_key
    cache = tmp_path / "cache"
    load_key(made_folder, cache)
    file = kept(cache)
    file.unlink()
    (file / "in the way").mkdir(parents=True)
    assert load_key(made_folder, cache) == made_key
    assert [path.name for path in cache.iterdir() if path.suffix != ".seen"] == [file.name], (
        "nothing half written is left"
    )


def test_a_full_disk_changes_nothing(
    made_folder: Path, tmp_path: Path, made_key: Key, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    assert load_key(made_folder, tmp_path / "cache") == made_key
    assert list((tmp_path / "cache").iterdir()) == []


def test_files_that_look_as_they_did_are_not_read_again(
    made_folder: Path, tmp_path: Path, made_key: Key, monkeypatch: pytest.MonkeyPatch
) -> None:
    cache = tmp_path / "cache"
    load_key(made_folder, cache)
    monkeypatch.setattr("reedmace.keys.cache.folder_digest", lambda _: pytest.fail("read again"))
    assert load_key(made_folder, cache) == made_key


def test_a_changed_file_is_noticed_though_its_size_is_the_same(made_folder: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    before = load_key(made_folder, cache)
    header = made_folder / "key.yaml"
    text = header.read_text(encoding="utf-8")
    header.write_text(text.replace(before.title, before.title[::-1]), encoding="utf-8")
    assert load_key(made_folder, cache).title == before.title[::-1]
    header.write_text(text, encoding="utf-8")
    assert load_key(made_folder, cache) == before


def test_a_key_that_is_written_on_does_not_fill_the_cache(made_folder: Path, tmp_path: Path) -> None:
    """Its latest forms stay, and those of other keys."""
    cache = tmp_path / "cache"
    cache.mkdir()
    (cache / "other-0123.json").write_text("another key", encoding="utf-8")
    file = made_folder / "key.yaml"
    for number in range(7):
        file.write_text(f"{file.read_text(encoding='utf-8')}# {number}\n", encoding="utf-8")
        key = load_key(made_folder, cache)
    assert (cache / "other-0123.json").exists()
    forms = sorted(cache.glob(f"{made_folder.name}-*.json"))
    assert len(forms) == 4
    assert any(key.digest[:20] in form.name for form in forms)


@pytest.mark.parametrize("content", [b"", b"\xff", b"x" * 64, b"0" * 64 + b"\n"])
def test_a_spoilt_memory_of_how_the_files_looked_is_harmless(
    made_folder: Path, tmp_path: Path, made_key: Key, content: bytes
) -> None:
    cache = tmp_path / "cache"
    load_key(made_folder, cache)
    (seen,) = cache.glob("*.seen")
    seen.write_bytes(content)
    assert load_key(made_folder, cache) == made_key


def sealed(*lines: bytes) -> bytes:
    """A kept file as the program writes it: checksum and length of each line, then the lines."""
    lines = (*lines, b"[]", b"[]")[:3]
    return b"\n".join((b" ".join(b"%08x %d" % (crc32(line), len(line)) for line in lines), *lines))


DIGEST = b"DIGEST"  # stands for the key's own
HOSTILE = [
    b"",
    b"\n",
    b"null",
    b"\xff\xfe",
    sealed(b""),
    sealed(b"null"),
    sealed(b"[]"),
    sealed(b"{}"),
    sealed(b"17"),
    sealed(b'"text"'),
    sealed(b"[" * 100_000),
    sealed(b'{"digest": "DIGEST"}'),
    sealed(b'{"digest": "DIGEST", "guises": 1, "species": []}'),
    sealed(b'{"digest": "DIGEST", "guises": [{"species": 7, "share_in": []}], "species": []}'),
    sealed(b'{"digest": "DIGEST", "guises": [{"__class__": 1, "share_in": []}], "species": []}'),
]


@pytest.mark.parametrize("content", HOSTILE, ids=range(len(HOSTILE)))
def test_whatever_stands_in_the_cache_the_key_is_read_anew_and_kept_again(
    made_folder: Path, tmp_path: Path, made_key: Key, content: bytes
) -> None:
    cache = tmp_path / "cache"
    load_key(made_folder, cache)
    sound = kept(cache).read_bytes()
    if DIGEST in content:
        content = sealed(content.split(b"\n")[1].replace(DIGEST, made_key.digest.encode()))
    kept(cache).write_bytes(content)
    assert load_key(made_folder, cache) == made_key
    assert kept(cache).read_bytes() == sound


def test_damage_that_still_reads_is_noticed(made_folder: Path, tmp_path: Path, made_key: Key) -> None:
    """A flipped letter leaves good JSON behind, and a key that is wrong."""
    cache = tmp_path / "cache"
    load_key(made_folder, cache)
    sound = kept(cache).read_bytes()
    assert sound.count(b"First Example") > 0
    kept(cache).write_bytes(sound.replace(b"First Example", b"Worst Example"))
    assert load_key(made_folder, cache) == made_key


@settings(deadline=None, max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(cut=st.floats(0, 1), flip=st.none() | st.integers(1, 255))
def test_a_file_cut_off_or_damaged_anywhere_gives_the_same_key(
    made_folder: Path, tmp_path: Path, made_key: Key, cut: float, flip: int | None
) -> None:
    cache = tmp_path / "cache"
    load_key(made_folder, cache)
    sound = bytearray(kept(cache).read_bytes())
    at = min(int(cut * len(sound)), len(sound) - 1)
    if flip:
        sound[at] ^= flip
    else:
        del sound[at:]
    kept(cache).write_bytes(sound)
    assert load_key(made_folder, cache) == made_key


def test_a_kept_key_of_another_folder_or_time_is_not_taken(made_folder: Path, tmp_path: Path) -> None:
    """Stale: the file has the right name, but holds the compiled form of other files."""
    cache = tmp_path / "cache"
    load_key(made_folder, cache)
    name, stale = kept(cache).name, kept(cache).read_bytes()
    old = folder_digest(made_folder)
    write_key(made_folder, {"key.yaml": FILES["key.yaml"].replace("a made pond", "a changed pond")})
    (cache / name.replace(old[:20], folder_digest(made_folder)[:20])).write_bytes(stale)
    changed = load_key(made_folder, cache)
    assert changed.title == "Made insects of a changed pond"
    assert changed.digest == folder_digest(made_folder) != old


def test_a_broken_key_is_refused_with_every_fault_and_never_kept(tmp_path: Path) -> None:
    folder = write_key(
        tmp_path / "made-pond",
        {
            "species/paludula.yaml": FILES["species/paludula.yaml"].replace("flat", "flot"),
            "key.yaml": FILES["key.yaml"].replace("NN: [upland,", "NN: [uplend,"),
        },
    )
    with pytest.raises(Refused) as caught:
        load_key(folder, tmp_path / "cache")
    assert [fault.code for fault in caught.value.faults] == ["unknown-region", "unknown-state"]
    assert not (tmp_path / "cache").exists()


@pytest.mark.parametrize("name", FILES)
def test_a_changed_file_gives_another_digest(made_folder: Path, name: str) -> None:
    before = folder_digest(made_folder)
    path = made_folder / name
    path.write_text(path.read_text(encoding="utf-8") + "# a comment\n", encoding="utf-8")
    assert folder_digest(made_folder) != before


def test_a_file_more_less_or_renamed_gives_another_digest_and_what_is_no_part_of_the_key_does_not(
    made_folder: Path,
) -> None:
    seen = {folder_digest(made_folder)}
    (made_folder / "species" / "new.yaml").write_text("", encoding="utf-8")
    seen.add(folder_digest(made_folder))
    (made_folder / "species" / "new.yaml").rename(made_folder / "species" / "newer.yaml")
    seen.add(folder_digest(made_folder))
    assert len(seen) == 3
    (made_folder / "species" / "newer.yaml").unlink()
    (made_folder / "notes.txt").write_text("weather fine", encoding="utf-8")
    assert folder_digest(made_folder) in seen


def test_moving_text_from_one_file_to_the_next_gives_another_digest(tmp_path: Path) -> None:
    """The files' lengths count, not only their bytes one after another."""
    one = write_key(tmp_path / "one", {"species/exemplum.yaml": "ab", "species/paludula.yaml": "c"})
    other = write_key(tmp_path / "other", {"species/exemplum.yaml": "a", "species/paludula.yaml": "bc"})
    assert folder_digest(one) != folder_digest(other)


def test_the_folders_own_name_and_place_do_not_count(tmp_path: Path) -> None:
    assert folder_digest(write_key(tmp_path / "one")) == folder_digest(write_key(tmp_path / "two" / "three"))


LOADING = """
import json, sys
from pathlib import Path
from reedmace.keys.cache import load_key
key = load_key(Path(sys.argv[1]), Path(sys.argv[2]))
print(json.dumps([key.digest, sorted({name.partition(".")[0] for name in sys.modules})]))
"""


def test_a_kept_key_is_loaded_without_the_libraries_that_read_and_check_files(
    made_folder: Path, tmp_path: Path
) -> None:
    def loading() -> tuple[str, set[str]]:
        done = subprocess.run(
            [sys.executable, "-W", "error", "-c", LOADING, made_folder, tmp_path / "cache"],
            capture_output=True,
            check=True,
        )
        digest, modules = json.loads(done.stdout)
        return digest, set(modules)

    heavy = {"pydantic", "pydantic_core", "ruamel", "rich", "sqlite3"}
    first, cold = loading()
    second, warm = loading()
    assert cold & heavy == {"pydantic", "pydantic_core", "ruamel"}
    assert warm & heavy == set()
    assert first == second == folder_digest(made_folder)


def test_two_programs_that_start_at_once_both_get_the_key(made_folder: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-c", LOADING, made_folder, tmp_path / "cache"]
    both = [subprocess.Popen(command, stdout=subprocess.PIPE) for _ in range(2)]
    told = [json.loads(process.communicate(timeout=60)[0])[0] for process in both]
    assert told == [folder_digest(made_folder)] * 2
    assert kept(tmp_path / "cache").name.startswith("made-pond-")
