"""What was read from a YAML file: values that remember their line and column."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from generator.findings import Place

Data = dict[str, Any] | list[Any] | str | None
Step = str | int


@dataclass
class Value:
    """One YAML value: a text, nothing, a list or a mapping whose keys have places too."""

    place: Place
    text: str | None = None
    listing: list[Value] | None = None
    mapping: dict[str, Value] | None = None
    keys: dict[str, Place] = field(default_factory=dict)

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


@dataclass(frozen=True)
class Document:
    """A file that was read whole, with the place of everything in it.

    `digest` is the SHA-256 of its bytes, in hexadecimal.
    """

    file: str
    root: Value
    digest: str = ""

    def place(self, *path: Step) -> Place:
        """Return where the value at `path` stands, or the nearest value above it that exists."""
        value = self.root
        for step in path:
            child = value.child(step)
            if child is None:
                break
            value = child
        return value.place

    def key_place(self, *path: Step) -> Place:
        """Return where the key at the end of `path` stands, or the nearest place above it."""
        value = self.root
        for step in path[:-1]:
            value = value.child(step) or value
        return value.keys.get(str(path[-1]), self.place(*path))
