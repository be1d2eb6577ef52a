"""Write docs/checks.md from the catalogue of queries, or with --check say whether it is still true.

python docs/build_checks.py            writes the page
python docs/build_checks.py --check    exit code 1 where the page and the catalogue differ
"""

from __future__ import annotations

import sys
from itertools import groupby
from pathlib import Path

from reedmace.checks.codes import every_code

PAGE = Path(__file__).resolve().parent / "checks.md"
HEAD = """\
# Checks

This page is made from the program's own catalogue by `python docs/build_checks.py`; do not edit it.

`reedmace check` looks at every record of the ledger, `reedmace check FILE` at every row of any Darwin Core CSV, and says what is doubtful, why, and what to do about it.
A doubt is a **query**, and a query never blocks: records are often right and odd.

| severity | meaning |
|---|---|
| error | it is no record as it stands |
| doubt | somebody will ask |
| note | worth knowing |

`--why CODE` explains a code, as below.
`--strict` makes the exit code 1 when there is any error or doubt, for scripts.
`--json` gives one query a line: code, severity, the sighting's id, reason, remedy.
`--season YEAR` shows one year's records; the years before count as what went before.
`--county FILE` takes a [county file](county-file.md), which comes before the key and says so.
`--boundaries FILE` takes boundaries of vice-counties as GeoJSON ([places](places.md)).

A query can be answered: `reedmace check --answer ID CODE --reason TEXT`, with the last characters of the record's id as `--ids` shows them.
The answer is an entry of the ledger, with who gave it and when (`--answered` lists them), and the query is not shown again until the record or its visit is changed.

The engine, the key and the county file judge; nothing here is a verification, which is the county recorder's alone.

## What the published validations are

The checks of raw rows follow the draft Biodiversity Data Quality standard (TDWG, 2026-07-29): its definitions of what is asked, of when it cannot be asked, and of what is empty.
All of its 262 published cases for these validations come out as published; there is no exception.
What a list decides is asked of lists held here and never of a network: where another list is named, the answer is that it is not here.
The list of geodetic datums is short, so that a geographic EPSG code that is not in it is left undecided and not called wrong.
A vague date of the current year reaches beyond today until the year is over, and is told so: that is the published definition.

A file is read as UTF-8, or, where it is not, in the encoding that its bytes look like, which is told; with commas, tabs or semicolons, with bare terms, terms with a prefix, or whole addresses as headings.
Columns that the file lacks altogether are told once, and not at every row.
"First here" and "first at this site" are asked of a file only while its rows are in order of their days; of a ledger they always are.
"""


def page() -> str:
    """The whole page."""
    parts = [HEAD]
    for group, entries in groupby(every_code().items(), key=lambda item: item[1].group):
        parts.append(f"\n## {group}\n")
        parts.extend(
            f"\n### {code}\n\n{entry.asks} ({entry.severities})\n{entry.why}\nRemedy: {entry.remedy}\n"
            for code, entry in entries
        )
    return "".join(parts)


def main(arguments: list[str]) -> int:
    """Write the page, or compare it."""
    wanted = page()
    if arguments != ["--check"]:
        PAGE.write_text(wanted, encoding="utf-8")
        return 0
    if PAGE.exists() and PAGE.read_text(encoding="utf-8") == wanted:
        return 0
    sys.stderr.write("docs/checks.md is out of date: run  python docs/build_checks.py\n")
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
