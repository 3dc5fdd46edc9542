"""YAML text to a document with places. The only module that reads YAML."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from typing import Any

import yaml

from generator.findings import Finding, Place, Unreadable, mistake
from generator.recipe.characters import cleaned, decoded, forbidden, lines_of, odd_spaces
from generator.recipe.document import Document, Value
from generator.recipe.syntax import explained
from generator.recipe.trouble import Spot, Trouble

DEEPEST = 12
"""Levels of nesting a recipe may have; the deepest of ours has six."""

# libyaml reads some ten times faster; the pure reader serves where it was not built in.
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def read_document(file: str, content: bytes) -> Document:
    """Return the document in `content`, with the mistakes after which reading could go on.

    Raises Unreadable where it could not: with every mistake up to that point.
    """
    text = decoded(file, content)
    builder = _Builder(file, lines_of(cleaned(text)))
    builder.mistakes += [*forbidden(file, text), *(odd := list(odd_spaces(file, text)))]
    if odd:
        raise Unreadable(builder.mistakes)
    builder.build(cleaned(text))
    if builder.root is None or builder.broken:
        raise Unreadable(builder.mistakes or [builder.empty()])
    return Document(file, builder.root, sha256(content).hexdigest(), tuple(builder.mistakes))


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
        self.broken = False

    def place(self, line: int, column: int) -> Place:
        if line >= len(self.lines):
            # libyaml puts an empty document a line behind a comment that ends the file.
            line, column = len(self.lines) - 1, len(self.lines[-1])
        return Place(self.file, line + 1, column + 1, text=self.lines[line])

    def empty(self) -> Finding:
        return mistake(
            "wrong-shape", "This file holds nothing.", self.place(0, 0),
            found="an empty file", expected="a recipe that begins with `kind:`")

    def build(self, text: str) -> None:
        try:
            for event in yaml.parse(text, Loader=_LOADER):
                if not self.take(event):
                    return
        except yaml.MarkedYAMLError as error:
            self.broken = True
            self.mistakes.append(explained(_trouble(self.file, self.lines, error)))
        except (ValueError, OverflowError):
            # So the pure reader meets a backslash code beyond Unicode, without saying where.
            self.broken = True
            self.mistakes.append(explained(_backslash_code(self.file, self.lines)))

    def take(self, event: yaml.Event) -> bool:
        """Take one event; False where reading on would say nothing sensible."""
        if isinstance(event, yaml.DocumentStartEvent):
            return self.start_document(event)
        if isinstance(event, yaml.AliasEvent):
            self.refuse_anchor(event, f"*{event.anchor}")
            return self.attach(event, Value(self.begins(event), text="", refused=True))
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
        self.refuse(
            event, "not-yaml", "A second recipe begins here.", found="a line of three hyphens",
            expected="one recipe in each file", hint="move what follows into a file of its own")
        return False

    def start_value(self, event: Any) -> bool:
        value = Value(self.begins(event))
        if event.anchor is not None:
            self.refuse_anchor(event, f"&{event.anchor}")
        if event.tag is not None:
            value.refused = True
            self.refuse(
                event, "not-yaml", "A text that begins with `!` stands in quotes.",
                found="`!` before the value", expected="the value alone",
                hint="delete the `!` and the word right after it, or put the text in quotes")
        if isinstance(event, yaml.ScalarEvent):
            # An empty plain scalar is "nothing was written here"; "" in quotes is an empty text.
            value.text = event.value if event.value or event.style else None
            self.refuse_backslash_code(event, value)
            return self.attach(event, value)
        if isinstance(event, yaml.MappingStartEvent):
            value.mapping, value.braced = {}, bool(event.flow_style)
        else:
            value.listing = []
        return self.attach(event, value) and self.open(event, value)

    def open(self, event: yaml.Event, value: Value) -> bool:
        self.stack.append(_Open(value))
        if len(self.stack) <= DEEPEST:
            return True
        return self.give_up(
            event, "deep-nesting", "Too many things stand inside one another here.",
            found=f"{len(self.stack)} levels", expected=f"at most {DEEPEST} levels",
            hint="look for an opening `[` or `{` too many, or lines indented further and further")

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
            return self.give_up(
                event, "wrong-shape", "A bracket or brace stands where a key belongs.",
                found="`[` or `{` before the colon", expected="a word before the colon",
                hint="a text that begins with `[` or `{` stands in quotes")
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
        return mistake(
            rule, message.format(key=key),
            place.noted("given again here"), first.noted("first given here"),
            found=f"`{key}` a second time", expected=f"`{key}` once", hint=hint)

    def begins(self, event: Any) -> Place:
        return self.place(event.start_mark.line, event.start_mark.column)

    def refuse_backslash_code(self, event: yaml.ScalarEvent, value: Value) -> None:
        if cleaned(event.value) == event.value:
            return
        value.text, value.refused = cleaned(event.value), True
        self.refuse(
            event, "odd-bytes", "A backslash code in this text makes an invisible character.",
            found="a backslash code", expected="letters, digits, signs and spaces",
            hint="take the backslash out, or put the text in single quotes: `'text'`")

    def refuse_anchor(self, event: yaml.Event, found: str) -> None:
        self.refuse(
            event, "anchor-used", "Recipes do not refer to other places in the file.",
            found=f"`{found}`", expected="the value itself, written out each time",
            hint="a text that begins with `&` or `*` stands in quotes")

    def refuse(self, event: yaml.Event, rule: str, message: str, **words: str) -> None:
        self.mistakes.append(mistake(rule, message, self.begins(event), **words))

    def give_up(self, event: yaml.Event, rule: str, message: str, **words: str) -> bool:
        self.refuse(event, rule, message, **words)
        self.broken = True
        return False


def _trouble(file: str, lines: list[str], error: yaml.MarkedYAMLError) -> Trouble:
    marks = [Spot(mark.line, mark.column) for mark in (error.problem_mark, error.context_mark)
             if mark is not None]
    return Trouble(file, lines, error.problem or "", error.context or "",
                   marks[0] if marks else Spot(0, 0), marks[-1] if marks else Spot(0, 0))


def _backslash_code(file: str, lines: list[str]) -> Trouble:
    spots = [Spot(line, text.index("\\U")) for line, text in enumerate(lines) if "\\U" in text]
    spot = spots[0] if spots else Spot(0, 0)
    return Trouble(file, lines, "escape", "", spot, spot)


_DESIGNATION = (
    "doubled-designation", "The designation `{key}` is given twice.",
    "give the second one a designation of its own",
)
_NAME = (
    "doubled-key", "The name `{key}` is given twice.", "give the second one a name of its own",
)
_DOUBLED = {
    "cores": (
        "core-used-twice", "The core `{key}` is used twice in this cable.",
        "use another core, or a link for the second joint",
    ),
    "parts": _DESIGNATION,
    "cables": _DESIGNATION,
    **dict.fromkeys(("links", "supplies", "zones", "terminals", "switches", "contacts"), _NAME),
    "": ("doubled-key", "The key `{key}` is given twice.", "delete one of the two"),
}
