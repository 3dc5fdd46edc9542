"""What was read from a YAML file: values that remember their line and column."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from generator.findings import Finding, Place

Data = dict[str, Any] | list[Any] | str | None
Step = str | int
Path = tuple[Step, ...]


@dataclass
class Value:
    """One YAML value: a text, nothing, a list or a mapping whose keys have places too.

    `braced` is a mapping written in `{...}`; `refused` a value about which a finding already says
    that it cannot stand there.
    """

    place: Place
    text: str | None = None
    listing: list[Value] | None = None
    mapping: dict[str, Value] | None = None
    keys: dict[str, Place] = field(default_factory=dict)
    braced: bool = False
    refused: bool = False

    def data(self) -> Data:
        """Return plain Python values; every scalar stays text, so `on` and `08` stay as written."""
        if self.mapping is not None:
            return {key: value.data() for key, value in self.mapping.items()}
        if self.listing is not None:
            return [value.data() for value in self.listing]
        return self.text

    def child(self, step: Step) -> Value | None:
        """Return the value under a key or an index, if there is one."""
        if self.mapping is not None:
            return self.mapping.get(str(step))
        if self.listing is not None and isinstance(step, int) and step < len(self.listing):
            return self.listing[step]
        return None

    def children(self) -> Iterator[tuple[Step, Value]]:
        """Yield each value with its key or index, in the order written."""
        yield from (self.mapping or {}).items()
        yield from enumerate(self.listing or ())

    def along(self, path: Path) -> Iterator[Value]:
        """Yield this value and those below it along `path`, as far as they exist."""
        value: Value | None = self
        for step in (*path, ""):
            if value is None:
                return
            yield value
            value = value.child(step)


@dataclass(frozen=True)
class Document:
    """A file that was read whole, with the place of everything in it.

    `digest` is the SHA-256 of its bytes, in hexadecimal; `mistakes` are those after which reading
    could go on.
    """

    file: str
    root: Value
    digest: str = ""
    mistakes: tuple[Finding, ...] = ()

    def value(self, *path: Step) -> Value | None:
        """Return the value at `path`, if there is one."""
        found = tuple(self.root.along(path))
        return found[-1] if len(found) == len(path) + 1 else None

    def text(self, *path: Step) -> str:
        """Return the text at `path`, or an empty one."""
        value = self.value(*path)
        return (value.text if value else None) or ""

    def place(self, *path: Step) -> Place:
        """Return where the value at `path` stands, or the nearest value above it that exists."""
        *_, nearest = self.root.along(path)
        return nearest.place

    def key_place(self, *path: Step) -> Place:
        """Return where the key at the end of `path` stands, or the nearest place above it."""
        *_, holder = self.root.along(path[:-1])
        return holder.keys.get(str(path[-1]), self.place(*path))
