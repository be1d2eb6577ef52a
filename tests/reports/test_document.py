"""Printable pages: whatever users typed comes out as text, in Markdown and in HTML."""

from __future__ import annotations

import re
from html.parser import HTMLParser

from hypothesis import given
from hypothesis import strategies as st

from reedmace.reports.document import Facts, Heading, Items, Page, Paragraph, Table, ToFill, html, markdown
from reedmace.reports.strips import Strip, Strips
from reedmace.visible import literal

EVIL = '<script>alert("x")</script> [/x] :bee: \x1b[31m *bold* | `code` \u202eשלום & <b>'


def page(text: str) -> Page:
    """Every kind of block, each holding the text."""
    return Page(
        text,
        (
            *(Heading(text), Heading(text, 3), Paragraph(text), Items((text, "two")), Facts(((text, text),))),
            *(Table((text, "n"), ((text, "1"),), (1,)), ToFill(text, 2)),
            Strips((Strip(text, text, (15, 20), (16, 17)),)),
        ),
    )


class _Text(HTMLParser):
    """Collects tags and text outside of style."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.texts: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self._style = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note a tag."""
        self.tags.append(tag)
        self.attributes += attrs
        self._style = tag == "style"

    def handle_endtag(self, tag: str) -> None:
        """Leave the style."""
        self._style = self._style and tag != "style"

    def handle_data(self, data: str) -> None:
        """Note a text."""
        if not self._style:
            self.texts.append(data)


def parsed(text: str) -> _Text:
    """Read a page of HTML."""
    reader = _Text()
    reader.feed(text)
    return reader


class TestHtml:
    """One file, no scripts, nothing fetched, and every text of a user as text."""

    def test_hostile_text_is_shown(self) -> None:
        """No tag and no attribute comes from a text."""
        whole, plain = html(page(EVIL)), html(page("text"))
        read = parsed(whole)
        assert [tag for tag in read.tags if tag != "bdi"] == parsed(plain).tags
        assert {name for name, _ in read.attributes} == {name for name, _ in parsed(plain).attributes}
        assert "".join(read.texts).count(literal(EVIL)) >= 9
        assert "\x1b" not in whole
        assert "\u202e" not in whole

    @given(st.text(max_size=60))
    def test_any_text_comes_back(self, text: str) -> None:
        """As `visible.literal` shows it, blanks drawn together."""
        read = parsed(html(Page("title", (Paragraph(text),))))
        shown = literal(" ".join(text.split()))
        assert shown in "".join(read.texts)
        assert set(read.tags) <= {*("html", "head", "meta", "title", "style", "body", "h1", "p", "bdi")}

    def test_nothing_is_fetched_and_nothing_runs(self) -> None:
        """No address, no script, and a policy that says so."""
        whole = html(page("text"))
        assert not re.search(r"https?:|src=|href=|<script|url\(|@import", whole)
        assert "default-src 'none'" in whole

    def test_it_is_for_paper_phones_and_the_dark(self) -> None:
        """The style has a form for each; a cell tells its heading where tables become cards."""
        whole = html(page("text"))
        for wanted in ("@media print", "prefers-color-scheme: dark", "max-width: 40rem", 'data-head="text"'):
            assert wanted in whole

    def test_a_whole_question_stands_above_its_answer(self) -> None:
        """A short name stands beside its value."""
        question = "With what: bare eye, binoculars, camera?"
        whole = html(Page("t", (Facts(((question, "8x42"), ("Day", "2026-07-12"))),)))
        assert f'<dt class="long">{question}</dt><dd>8x42</dd>' in whole
        assert "<dt>Day</dt><dd>2026-07-12</dd>" in whole


class TestMarkdown:
    """The same page as text."""

    def test_hostile_text_is_escaped(self) -> None:
        """No sign of markup stands bare, and a table keeps its columns."""
        whole = markdown(page(EVIL))
        assert "\x1b" not in whole
        whole, fenced = re.subn(r"(?ms)^```text\n.*?^```$", "", whole)
        assert fenced == 1
        assert "<script>" not in whole.replace("\\<script\\>", "")
        rows = [line for line in whole.splitlines() if line.startswith("| ") and "---" not in line]
        assert {len(re.findall(r"(?<!\\)\|", row)) for row in rows} == {3}

    @given(st.text(alphabet=st.sampled_from("`~ a\n"), max_size=12))
    def test_no_name_ends_the_fence_of_a_chart(self, name: str) -> None:
        """Whatever its signs, the chart ends with its own line."""
        lines = markdown(Page("t", (Strips((Strip(name, "", (15, 20)),)),))).splitlines()
        inside = lines[lines.index("```text") + 1 : -1]
        assert lines[-1] == "```"
        assert not [line for line in inside if re.match(r" {0,3}```+ *$", line)]

    @given(st.text(alphabet=st.characters(blacklist_categories=("Cs",)), max_size=40))
    def test_a_text_stays_on_its_line(self, text: str) -> None:
        """Whatever it begins with, it is a paragraph and no list, heading or table."""
        lines = markdown(Page("t", (Paragraph(text),))).splitlines()
        assert len(lines) == (3 if text.split() else 1)
        if text.split():
            assert not re.match(r"([-+*=#>|]|[0-9]+[.)]( |$))", lines[2])
