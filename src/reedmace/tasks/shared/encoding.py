"""How the text of a file is written, where nothing says so: found out from its bytes."""

from __future__ import annotations

import codecs
from typing import IO

LOOKED_AT = 1 << 16  # bytes read at once
_MARKS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))


def encoding_of(head: bytes, rest: IO[bytes]) -> str:
    """Find the encoding: by its mark, by the zero bytes of UTF-16, else UTF-8 where all of it is, else Windows'.

    `head` are the first bytes of a file, of which `rest` has the others.
    """
    for mark, name in _MARKS:
        if head.startswith(mark):
            return name
    if len(head) > 3 and head.count(0) > len(head) // 4:
        return "utf-16-le" if head[1::2].count(0) > head[::2].count(0) else "utf-16-be"
    decoder = codecs.getincrementaldecoder("utf-8")()
    try:
        decoder.decode(head)
        while portion := rest.read(LOOKED_AT):
            decoder.decode(portion)
        decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"
