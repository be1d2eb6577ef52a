"""Slips in a key's files, each told once, in plain words, at the right line and column (see tests/made_key.py)."""

from __future__ import annotations

from pathlib import Path

import pytest

from made_key import FILES, write_key
from reedmace.faults import Fault
from reedmace.tasks.keys.inspect_key import inspect_key

EXEMPLUM, KEY, CHARACTERS = "species/exemplum.yaml", "key.yaml", "characters.yaml"


def slip(folder: Path, file: str, right: str, wrong: str) -> list[Fault]:
    """The faults of the made key with `wrong` where `right` stood first."""
    assert right in FILES[file]
    write_key(folder / "made-pond", {file: FILES[file].replace(right, wrong, 1)})
    return list(inspect_key(folder / "made-pond").faults)


SLIPS = [
    # file, what stood there, the slip, code, what the carets stand under
    (EXEMPLUM, "english: First", "englsh: First", "unknown-field", "englsh"),
    (EXEMPLUM, "source: plate}", "sorce: plate}", "unknown-field", "sorce"),
    (EXEMPLUM, "unseen: First", "unsen: First", "unknown-field", "unsen"),
    (EXEMPLUM, "english: First Example", "english: 12", "wrong-value", "12"),
    (EXEMPLUM, "english: First Example", "english: ''", "wrong-value", "''"),
    (EXEMPLUM, "english: First Example", "english:", "wrong-value", "english"),
    (EXEMPLUM, "name: Exemplum primum", "name: exemplum primum", "wrong-value", "exemplum primum"),
    (EXEMPLUM, "evidence: sight", "evidence: seen", "wrong-value", "seen"),
    (EXEMPLUM, "evidence: sight", "evidence: {is: seen}", "wrong-value", "seen"),
    (EXEMPLUM, "{pond: main, stream: also}", "[pond, stream]", "wrong-value", "["),
    (EXEMPLUM, "{pond: main, stream: also}", "{pond: mainly}", "wrong-value", "mainly"),
    (EXEMPLUM, "[16, 22]", "[16, 22, 30]", "wrong-value", "["),
    (EXEMPLUM, "[16, 22]", "[16]", "wrong-value", "["),
    (EXEMPLUM, "[16, 22]", "16 to 22", "wrong-value", "16 to 22"),
    (EXEMPLUM, "[16, 22]", "[16, wide]", "wrong-value", "wide"),
    (EXEMPLUM, "share: 0.6", "share: 1.6", "wrong-value", "1.6"),
    (EXEMPLUM, "share: 0.6", "share: 0", "wrong-value", "0"),
    (EXEMPLUM, "first: mid-may", "first: may", "wrong-value", "may"),
    (EXEMPLUM, "first: mid-may", "first: mid-mai", "unknown-third", "mid-mai"),
    (EXEMPLUM, "last: early-september", "last: early-july", "flight-order", "early-july"),
    (EXEMPLUM, "flight: {first", "flight: {is: {first", "yaml-syntax", None),
    (EXEMPLUM, "{mean: 40, sd: 1}", "[40, 900]", "out-of-range", "["),
    (EXEMPLUM, "source: memory", "source: memoir", "unknown-source", "memoir"),
    (EXEMPLUM, "source: memory", "source: [plate, memoir]", "unknown-source", "memoir"),
    (EXEMPLUM, "source: plate", "source: [plate, plates]", "unknown-source", "plates"),
    (EXEMPLUM, "evidence: sight", "evidence: {is: sight, source: plates}", "unknown-source", "plates"),
    (EXEMPLUM, "tail-colour: blue", "tail-colour: green", "unknown-state", "green"),
    (EXEMPLUM, "[blue, black]", "[blue, grey]", "unknown-state", "grey"),
    (EXEMPLUM, "half-open: 0.1", "ajar: 0.1", "unknown-state", "ajar"),
    (EXEMPLUM, "{closed: 0.9, half-open: 0.1}", "{closed: 1, half-open: 0}", "wrong-type", "{"),
    (EXEMPLUM, "{mean: 40, sd: 1}", "{mean: 40, sd: 0}", "range-order", "0"),
    (EXEMPLUM, "{mean: 40, sd: 1}", "{mean: 40, sd: 1e400}", "wrong-type", "{"),
    (EXEMPLUM, "{mean: 40, sd: 1}", f"[33, {'9' * 400}]", "wrong-type", "["),
    (EXEMPLUM, "{mean: 40, sd: 1}", "[40, 40]", "range-order", "["),
    (EXEMPLUM, "{mean: 40, sd: 1}", "61", "wrong-type", "61"),
    (EXEMPLUM, "decided_by: {spur: absent}", "decided_by: {spurs: absent}", "unknown-character", "spurs"),
    (EXEMPLUM, "decided_by: {spur: absent}", "decided_by: {spur: missing}", "unknown-state", "missing"),
    (EXEMPLUM, "decided_by: {spur: absent}", "decided_by: {length: long}", "wrong-type", "length"),
    (EXEMPLUM, "- species: Exemplum alterum", "- species: Exemplum primum", "unknown-lookalike", "Exemplum primum"),
    (EXEMPLUM, "share: 0.6,", "share: 0.6, share_in: {coast: 0.5},", "unknown-region", "coast"),
    (EXEMPLUM, "id: female, title", "id: male, title", "duplicate-id", "male"),
    (EXEMPLUM, "name: Exemplum alterum", "name: Exemplum absens", "duplicate-id", "Exemplum absens"),
    (KEY, "id: pond,", "id: Pond,", "wrong-value", "Pond"),
    (KEY, "version: 0.1.0", "version: 1.0", "wrong-value", "1.0"),
    (KEY, "year: 1901", 'year: "1901"', "wrong-value", '"1901"'),
    (KEY, "rank: pair", "rank: pairs", "wrong-value", "pairs"),
    (KEY, "format: 1", "format: 0", "wrong-value", "0"),
    (KEY, "format: 1", "format: '1'", "wrong-value", "'1'"),
    (KEY, "format: 1", "format: true", "wrong-value", "true"),
    (KEY, "format: 1", "format: 17", "newer-format", "17"),
    (KEY, "NN: [upland, lowland]", "NN: [upland, lowlands]", "unknown-region", "lowlands"),
    (KEY, "NN: [upland, lowland]", "NN: lowlands", "unknown-region", "lowlands"),
    (KEY, "NN: [upland, lowland]", "nn: [upland, lowland]", "wrong-value", "nn"),
    (KEY, "abundance: {lowland: scarce}", "abundance: {lowland: rare}", "unknown-level", "rare"),
    (KEY, "last: mid-july", "last: mid-may", "flight-order", "mid-may"),
    (KEY, "last: mid-july}", "last: mid-july}\n    source: nobody", "unknown-source", "nobody"),
    (KEY, "suborder: Tenuiptera, title: marsh", "suborder: Latiptera, title: marsh", "unknown-suborder", "Latiptera"),
    (KEY, "{name: Paludulidae,", "{name: Exemplidae,", "duplicate-id", "Exemplidae"),
    (CHARACTERS, "range: [20, 60]", "range: [60, 20]", "wrong-value", "["),
    (CHARACTERS, "range: [20, 60]", "range: [20, 1e400]", "wrong-value", "1e400"),
    (CHARACTERS, "    range: [20, 60]\n", "", "missing-field", "id"),
    (
        CHARACTERS,
        "range: [20, 60]",
        "range: [20, 60]\n    states: [{id: a, title: a}, {id: b, title: b}]",
        "wrong-value",
        "states",
    ),
    (CHARACTERS, "range: [20, 60]", "range:", "missing-field", "id"),
    (CHARACTERS, "    beginner: {missed: 0.3, invented: 0.05}\n", "", "missing-field", "id"),
    (CHARACTERS, "      - {id: present, title: a short black spur}\n", "", "wrong-value", "-"),
    (CHARACTERS, "unit: mm", "unit: MM", "wrong-value", "MM"),
    (CHARACTERS, "aliases: [wings]", "needs: wing", "unknown-character", "wing"),
    (CHARACTERS, "aliases: [wings]", "needs: wings-at-rest", "wrong-value", "wings-at-rest"),
    (CHARACTERS, "aliases: [wings]", "needs: tail-colour", "wrong-value", "tail-colour"),
    (KEY, ", absent: 0.00002}", "}", "wrong-value", "{"),
    (KEY, "common: 0.5", "frequent: 0.3, common: 0.5", "wrong-value", "frequent"),
    (CHARACTERS, "missed: 0.1,", "missed: 0.95,", "wrong-value", "0.95"),
    (CHARACTERS, "beginner: {half", "expert: {half", "wrong-value", "expert"),
    (CHARACTERS, "sexes: [male]", "sexes: [Male]", "wrong-value", "Male"),
    (CHARACTERS, "groups: [Exemplum]", "groups: [Exemplar]", "unknown-member", "Exemplar"),
    (CHARACTERS, "id: spur", "id: wings-at-rest", "duplicate-id", "wings-at-rest"),
    (CHARACTERS, "{id: flat,", "{id: closed,", "duplicate-id", "closed"),
    (CHARACTERS, "source: practice\n", "source: nobody\n", "unknown-source", "nobody"),
    (CHARACTERS, "aliases: [wings]", "source: nobody", "unknown-source", "nobody"),
    (CHARACTERS, "source: practice\n", "", "no-source", "id"),
]


@pytest.mark.parametrize(("file", "right", "wrong", "code", "carets"), SLIPS)
def test_a_slip_is_told_at_the_words_that_hold_it(
    tmp_path: Path, file: str, right: str, wrong: str, code: str, carets: str | None
) -> None:
    first = next(fault for fault in slip(tmp_path, file, right, wrong) if fault.code == code)
    assert first.where is not None
    assert first.where.file == f"made-pond/{file}"
    assert first.hint
    if carets is not None:
        excerpt, column = first.where.excerpt, first.where.column
        assert excerpt is not None
        assert column is not None
        pointed = excerpt[column - 1 : column - 1 + first.where.width]
        assert pointed == carets[: len(pointed)]
        assert len(pointed) in (len(carets), 1)


@pytest.mark.parametrize(
    ("file", "right", "wrong"),
    [
        (EXEMPLUM, "english: First", "englsh: First"),
        (EXEMPLUM, "name: Exemplum alterum", "name:"),
        (EXEMPLUM, "spur: absent\n", "spur: absant\n"),
        (CHARACTERS, "question: Is there", "qestion: Is there"),
        (KEY, "licence:", "license:"),
        (KEY, "scope: Three insects", "scope: &it Three insects"),
    ],
)
def test_one_slip_is_one_fault(tmp_path: Path, file: str, right: str, wrong: str) -> None:
    """A misspelt field is not also missing; a list with a wrong item is not also too short."""
    assert len(slip(tmp_path, file, right, wrong)) == 1


def test_one_slip_never_hides_those_of_other_files(tmp_path: Path) -> None:
    folder = write_key(
        tmp_path / "made-pond",
        {
            "key.yaml": FILES["key.yaml"].replace("licence:", "license:"),
            "characters.yaml": "- broken",
            "species/exemplum.yaml": FILES[EXEMPLUM].replace("status: resident", "status: {}").replace(": also", ": a"),
            "species/paludula.yaml": "format: [",
        },
    )
    told = [(fault.where.file.partition("/")[2], fault.code) for fault in inspect_key(folder).faults if fault.where]
    assert told == [
        ("key.yaml", "unknown-field"),
        ("characters.yaml", "missing-field"),
        ("species/exemplum.yaml", "wrong-value"),
        ("species/exemplum.yaml", "wrong-value"),
        ("species/exemplum.yaml", "wrong-value"),
        ("species/paludula.yaml", "yaml-syntax"),
    ]


def test_no_message_speaks_of_the_models_behind_it(tmp_path: Path) -> None:
    """An author meets lists, text and numbers: never tuples, dictionaries, patterns or validators."""
    for file, right, wrong, _, _ in SLIPS:
        for fault in slip(tmp_path, file, right, wrong):
            text = f"{fault.message} {fault.hint}".casefold()
            for word in ("tuple", "dictionary", "pattern", "pydantic", "^[", "input", "instance", "validation"):
                assert word not in text, (wrong, text)


def test_a_key_named_by_a_dot_is_shown_by_its_folders_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_key(tmp_path / "made-pond", {KEY: FILES[KEY].replace("licence:", "license:")})
    monkeypatch.chdir(tmp_path / "made-pond")
    where = inspect_key(Path()).faults[0].where
    assert where is not None
    assert where.file == "made-pond/key.yaml"


@pytest.mark.parametrize("files", [{EXEMPLUM: None, "species/paludula.yaml": None}, {KEY: None}, {CHARACTERS: None}])
def test_what_is_missing_is_named_by_its_path(tmp_path: Path, files: dict[str, None]) -> None:
    faults = inspect_key(write_key(tmp_path / "made-pond", files)).faults
    assert [fault.code for fault in faults] == ["missing-file"]
    assert faults[0].where is not None
    assert faults[0].where.file in (f"made-pond/{next(iter(files))}", "made-pond/species")


def test_a_byte_order_mark_is_no_slip_and_shifts_no_column(tmp_path: Path) -> None:
    """Some editors begin every file with one."""
    folder = write_key(tmp_path / "made-pond", {KEY: b"\xef\xbb\xbf" + FILES[KEY].encode()})
    assert inspect_key(folder).faults == ()
    write_key(folder, {KEY: b"\xef\xbb\xbf" + FILES[KEY].replace("format: 1", "format: 9", 1).encode()})
    where = inspect_key(folder).faults[0].where
    assert where is not None
    assert (where.line, where.column) == (1, 9)


def test_a_file_beside_the_key_is_told_unless_it_is_hidden(tmp_path: Path) -> None:
    """What looks like a species and is not read would be missing without a word; settings of a tool are not meant."""
    folder = tmp_path / "made-pond"
    write_key(folder, FILES)
    for name in ("paludula.yml", "species/PALUDULA.YML", "species/more/paludula.yaml", ".tool.yaml", "notes.txt"):
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text("format: 1\n", encoding="utf-8")
    faults = inspect_key(folder).faults
    assert {fault.code for fault in faults} == {"stray-file"}
    assert [fault.where.file for fault in faults if fault.where] == [
        "made-pond/paludula.yml",
        "made-pond/species/PALUDULA.YML",
        "made-pond/species/more/paludula.yaml",
    ]
