"""The bytes of a file to lines of text, and the characters that no recipe may hold."""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.findings import Finding, Place, Unreadable, mistake

# What YAML 1.2.2 section 5.1 calls printable, less the byte order mark inside a text.
_FORBIDDEN = re.compile(
    "[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
# YAML 1.1 also ends a line at these last three, and so do its readers.
_ODD_SPACE = re.compile("^ *(?:- )?(?:[\\w.-]+:)?(?P<odd>[\xa0\u2000-\u200a\u202f\u3000])")
_LINE_END = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


def decoded(file: str, content: bytes) -> str:
    """Return the text of a file; raises Unreadable where the bytes are not UTF-8."""
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if content[:2] in _UTF_16:
            raise Unreadable([_wrong_encoding(Place(file, 1, 1), "UTF-16")]) from None
        lines = lines_of(content[: error.start].decode("utf-8-sig", "replace"))
        tail = lines_of(content[error.start :].decode("utf-8-sig", "replace"))[0]
        place = Place(file, len(lines), len(lines[-1]) + 1, text=cleaned(lines[-1] + tail))
        raise Unreadable([_wrong_encoding(
            place, f"the byte {content[error.start]:02X} (hexadecimal)")]) from None


def _wrong_encoding(place: Place, found: str) -> Finding:
    return mistake(
        "odd-bytes", "This file is not saved as UTF-8 text.", place, found=found,
        expected="UTF-8, in which every letter and sign has its own fixed bytes",
        hint="save it anew from the editor, with the encoding UTF-8")


def lines_of(text: str) -> list[str]:
    """Return the lines as YAML counts them, without their ends."""
    return _LINE_END.split(text)


def cleaned(text: str) -> str:
    """Return the text with a replacement sign for each forbidden character."""
    return _FORBIDDEN.sub("\ufffd", text)


def forbidden(file: str, text: str) -> Iterator[Finding]:
    """Yield the first forbidden character of each line."""
    for number, line in enumerate(lines_of(text), 1):
        found = _FORBIDDEN.search(line)
        if found:
            place = Place(file, number, found.start() + 1, text=cleaned(line))
            yield mistake(
                "odd-bytes", "An invisible control character stands here.", place,
                found=f"the character U+{ord(found.group()):04X}",
                expected="letters, digits, signs and spaces",
                hint="delete it and type the text anew; "
                     "it often comes in by copying from a web page")


def odd_spaces(file: str, text: str) -> Iterator[Finding]:
    """Yield each line indented, or divided after its key, with a space that YAML takes for text."""
    for number, line in enumerate(lines_of(text), 1):
        found = _ODD_SPACE.match(line)
        if found:
            yield mistake(
                "odd-bytes", "A space that is not a plain one stands here.",
                Place(file, number, found.start("odd") + 1, text=cleaned(line)),
                found=f"the character U+{ord(found['odd']):04X}", expected="plain spaces",
                hint="delete it and type spaces; it often comes in by copying from a web page")
