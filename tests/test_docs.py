"""The pages stay true: examples are run, links lead somewhere, no page names a machine."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parent.parent
PAGES = [PROJECT / name for name in ("README.md", "DEVELOPERS.md", "CHANGELOG.md")] + sorted(
    (PROJECT / "docs").glob("*.md")
)
WITH_EXAMPLES = [page for page in PAGES if "```console\n" in page.read_text(encoding="utf-8")]


@pytest.mark.parametrize("page", WITH_EXAMPLES, ids=lambda page: page.name)
def test_examples_print_what_the_pages_say(cache_home: Path, page: Path) -> None:
    """`python docs/run_examples.py` writes them anew."""
    environment = os.environ | {"REEDMACE_EXAMPLES_CACHE": str(cache_home)}
    ran = subprocess.run(
        [sys.executable, PROJECT / "docs" / "run_examples.py", "--check", page.relative_to(PROJECT)],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr


def anchors(page: Path) -> set[str]:
    """The anchors of a page's headings, as they are made of their words: no signs, dashes for blanks."""
    headings = re.findall(r"^#+ (.*)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_lead_somewhere(page: Path) -> None:
    """To a file, and where they name a heading of a page, to that."""
    for target, anchor in re.findall(r"\]\(([^)#]*)(?:#([^)]*))?\)", page.read_text(encoding="utf-8")):
        if target.startswith("http"):
            continue
        there = page.parent / target if target else page
        assert there.exists(), f"{page.name} links to {target}"
        assert not anchor or anchor in anchors(there), f"{page.name} links to {target}#{anchor}"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_no_page_holds_a_path_of_a_machine(page: Path) -> None:
    assert not re.search(r"/(tmp|root|home|work)/", page.read_text(encoding="utf-8"))


def test_the_readme_begins_with_the_job_and_names_the_two_commands() -> None:
    text = (PROJECT / "README.md").read_text(encoding="utf-8")
    assert text.splitlines()[2].startswith("Reedmace is for people who lead pond walks")
    assert "sh demo/run.sh" in text
    assert "sh tests/run.sh" in text
