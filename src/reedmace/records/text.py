"""What text a record may hold: anything a person can type, verbatim, save what no file can carry."""

from __future__ import annotations


def unreadable(text: str) -> str | None:
    """Say why this text cannot be kept, or None where it can.

    Half a surrogate pair has no UTF-8 form, and a NUL ends a string for many programs that read such files.
    Everything else stays as typed: line breaks, quotes, emoji, right-to-left marks.
    """
    if "\x00" in text:
        return "it holds a NUL character"
    if not text.isascii():
        try:
            text.encode("utf-8")
        except UnicodeEncodeError:
            return "it holds half a character (a lone surrogate)"
    return None


def unless_blank(text: str) -> str:
    """Give a text as it is, or "" where nothing of it can be seen: blanks of every kind, marks without width."""
    if text.isascii():
        return text if text.strip() else ""
    from unicodedata import category  # seldom needed

    return text if any(not sign.isspace() and category(sign) != "Cf" for sign in text) else ""


def is_absent(status: str) -> bool:
    """Say whether an occurrenceStatus, in the standard's word or as people write it, says that there was nothing."""
    return status.strip().casefold().replace(" ", "") in ("absent", "notdetected")
