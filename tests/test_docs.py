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


def test_examples_print_what_the_pages_say(cache_home: Path) -> None:
    """`python docs/run_examples.py` writes them anew."""
    environment = os.environ | {"REEDMACE_EXAMPLES_CACHE": str(cache_home)}
    ran = subprocess.run(
        [sys.executable, PROJECT / "docs" / "run_examples.py", "--check"],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\(([^)#]+)\)", page.read_text(encoding="utf-8")):
        if not target.startswith("http"):
            assert (page.parent / target).exists(), f"{page.name} links to {target}"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_no_page_holds_a_path_of_a_machine(page: Path) -> None:
    assert not re.search(r"/(tmp|root|home|work)/", page.read_text(encoding="utf-8"))


def test_the_readme_begins_with_the_job_and_names_the_two_commands() -> None:
    text = (PROJECT / "README.md").read_text(encoding="utf-8")
    assert text.splitlines()[2].startswith("Reedmace is for people who lead pond walks")
    assert "sh demo/run.sh" in text
    assert "sh tests/run.sh" in text
