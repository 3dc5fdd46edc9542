"""YAML text to a document with places. The only module that reads YAML."""

from __future__ import annotations

import re
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

import yaml

from generator.findings import Finding, Place, Severity, Unreadable
from generator.recipe.document import Document, Value

DEEPEST = 12
"""Levels of nesting a recipe may have; the deepest of ours has six."""

# libyaml reads some ten times faster; the pure reader serves where it was not built in.
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

# What YAML 1.1 section 5.1 calls printable, less the byte order mark inside a text.
_FORBIDDEN = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
_LINE_END = re.compile("\r\n|[\n\r\x85\u2028\u2029]")


def read_document(file: str, content: bytes) -> Document:
    """Return the document in `content`.

    Raises Unreadable with every mistake in characters, YAML or structure that can be told apart.
    """
    text = _decoded(file, content)
    builder = _Builder(file, _LINE_END.split(text))
    builder.refuse_forbidden(text)
    if not builder.mistakes:
        builder.build(text)
    if builder.mistakes or builder.root is None:
        raise Unreadable(builder.mistakes or [builder.empty()])
    return Document(file, builder.root, sha256(content).hexdigest())


def _decoded(file: str, content: bytes) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = content[: error.start].decode("utf-8", "replace")
        lines = _LINE_END.split(before)
        place = Place(file, len(lines), len(lines[-1]) + 1)
        raise Unreadable(
            [
                _mistake(
                    "odd-bytes", place, "This file is not UTF-8 text.",
                    found=f"the byte 0x{content[error.start]:02x}",
                    expected="UTF-8 text",
                    hint="save the file as UTF-8 in the editor",
                )
            ]
        ) from None


def _mistake(rule: str, place: Place, message: str, **words: str) -> Finding:
    return Finding(rule, Severity.ERROR, message, (place,), **words)


@dataclass
class _Open:
    """A list or mapping whose end has not been read yet."""

    value: Value
    key: str | None = None
    last_key: str = ""
    doubled: bool = False


class _Builder:
    """Builds values from YAML events with a stack of its own, so that depth costs nothing."""

    def __init__(self, file: str, lines: list[str]) -> None:
        self.file = file
        self.lines = lines
        self.root: Value | None = None
        self.mistakes: list[Finding] = []
        self.stack: list[_Open] = []
        self.documents = 0

    def place(self, line: int, column: int) -> Place:
        text = self.lines[line] if line < len(self.lines) else ""
        return Place(self.file, line + 1, column + 1, text=text)

    def empty(self) -> Finding:
        return _mistake(
            "wrong-shape", self.place(0, 0), "This file holds nothing.",
            found="an empty file", expected="a recipe that begins with `kind:`",
        )

    def refuse_forbidden(self, text: str) -> None:
        for match in _FORBIDDEN.finditer(text):
            lines = _LINE_END.split(text[: match.start()])
            self.mistakes.append(
                _mistake(
                    "odd-bytes", self.place(len(lines) - 1, len(lines[-1])),
                    "A character that YAML does not allow.",
                    found=f"U+{ord(match.group()):04X}", expected="printable text",
                    hint="delete it; it often comes in by copying from a web page",
                )
            )

    def build(self, text: str) -> None:
        try:
            for event in yaml.parse(text, Loader=_LOADER):
                if not self.take(event):
                    return
        except yaml.MarkedYAMLError as error:
            self.refuse_syntax(error)
        except (yaml.YAMLError, ValueError) as error:
            self.mistakes.append(
                _mistake("not-yaml", self.place(0, 0), "This file is not YAML.", found=str(error))
            )

    def refuse_syntax(self, error: yaml.MarkedYAMLError) -> None:
        mark = error.problem_mark or error.context_mark
        place = self.place(mark.line, mark.column) if mark else self.place(0, 0)
        self.mistakes.append(
            _mistake(
                "not-yaml", place, "This line cannot be read as YAML.",
                found=(error.problem or "").strip(),
                expected="`key: value`, indented with spaces like the lines around it",
                hint="put a text that holds `: `, `#` or a leading `{`, `*`, `&` or `@` in quotes",
            )
        )

    def take(self, event: yaml.Event) -> bool:
        """Take one event; False where reading on would say nothing sensible."""
        if isinstance(event, yaml.DocumentStartEvent):
            return self.start_document(event)
        if isinstance(event, yaml.AliasEvent):
            return self.refuse_anchor(event, f"*{event.anchor}")
        if isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            self.stack.pop()
            return True
        if isinstance(event, yaml.NodeEvent):
            return self.start_value(event)
        return True

    def start_document(self, event: yaml.Event) -> bool:
        self.documents += 1
        if self.documents == 1:
            return True
        return self.refuse(
            event, "not-yaml", "A second document begins here.",
            found="`---`", expected="one recipe a file", hint="put it into a file of its own",
        )

    def start_value(self, event: Any) -> bool:
        place = self.place(event.start_mark.line, event.start_mark.column)
        if event.anchor is not None:
            return self.refuse_anchor(event, f"&{event.anchor}")
        if event.tag is not None and event.tag != "!":
            self.refuse(
                event, "not-yaml", "YAML tags are not used in recipes.",
                found=f"`{event.tag}`", expected="a plain value",
            )
        if isinstance(event, yaml.ScalarEvent):
            return self.take_scalar(event, place)
        value = Value(place)
        if isinstance(event, yaml.MappingStartEvent):
            value.mapping = {}
        else:
            value.listing = []
        return self.attach(event, value) and self.open(event, value)

    def take_scalar(self, event: yaml.ScalarEvent, place: Place) -> bool:
        # An empty plain scalar is "nothing was written here"; "" in quotes is an empty text.
        text = None if event.value == "" and event.style is None else event.value
        return self.attach(event, Value(place, text=text))

    def open(self, event: yaml.Event, value: Value) -> bool:
        self.stack.append(_Open(value))
        if len(self.stack) <= DEEPEST:
            return True
        return self.refuse(
            event, "deep-nesting", "This is nested too deeply.",
            found=f"{len(self.stack)} levels", expected=f"at most {DEEPEST} levels",
            hint="a bracket or brace may be missing its end",
        )

    def attach(self, event: yaml.Event, value: Value) -> bool:
        if not self.stack:
            self.root = self.root or value
            return True
        above = self.stack[-1]
        if above.value.listing is not None:
            above.value.listing.append(value)
            return True
        if above.key is None:
            return self.take_key(event, value)
        self.keep(above, value)
        return True

    def keep(self, above: _Open, value: Value) -> None:
        assert above.value.mapping is not None and above.key is not None
        if not above.doubled:
            above.value.mapping[above.key] = value
        above.last_key, above.key = above.key, None

    def take_key(self, event: yaml.Event, value: Value) -> bool:
        if value.mapping is not None or value.listing is not None:
            return self.refuse(
                event, "wrong-shape", "A list or mapping stands where a key belongs.",
                found="a bracket or brace", expected="a word before the colon",
            )
        above = self.stack[-1]
        above.key = value.text or ""
        above.doubled = above.key in above.value.keys
        if above.doubled:
            self.mistakes.append(self.doubled(above.key, value.place))
        else:
            above.value.keys[above.key] = value.place
        return True

    def doubled(self, key: str, place: Place) -> Finding:
        first = self.stack[-1].value.keys[key]
        holder = self.stack[-2].last_key if len(self.stack) > 1 else ""
        rule, message, hint = _DOUBLED.get(holder, _DOUBLED[""])
        return Finding(
            rule, Severity.ERROR, message.format(key=key),
            (place.noted("given again here"), first.noted("first given here")),
            found=f"`{key}` a second time", expected=f"`{key}` once", hint=hint,
        )

    def refuse_anchor(self, event: yaml.Event, found: str) -> bool:
        return self.refuse(
            event, "anchor-used", "Anchors and aliases are not used in recipes.",
            found=f"`{found}`", expected="the value itself, written out",
            hint="a text that begins with `&` or `*` stands in quotes",
        )

    def refuse(self, event: yaml.Event, rule: str, message: str, **words: str) -> bool:
        mark = event.start_mark
        self.mistakes.append(_mistake(rule, self.place(mark.line, mark.column), message, **words))
        return False


_DESIGNATION = (
    "doubled-designation", "The designation `{key}` is given twice.",
    "give the second one a designation of its own",
)
_DOUBLED = {
    "cores": (
        "core-used-twice", "The core `{key}` is used twice in this cable.",
        "use another core, or a link for the second joint",
    ),
    "parts": _DESIGNATION,
    "cables": _DESIGNATION,
    "links": _DESIGNATION,
    "supplies": _DESIGNATION,
    "": ("doubled-key", "The key `{key}` is given twice.", "delete one of the two"),
}
