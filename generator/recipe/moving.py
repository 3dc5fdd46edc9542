"""When a device moves: names of loads, positions and switches put together with and, or, not."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

_TOKEN = re.compile(r"\s*([()]|[A-Za-z0-9][A-Za-z0-9.-]*|\S)")


@dataclass(frozen=True)
class Word:
    """A load (true while it runs), or a switch or position (true while it is worked)."""

    name: str


@dataclass(frozen=True)
class Not:
    """The opposite."""

    inner: Wish


@dataclass(frozen=True)
class Both:
    """True where both are."""

    left: Wish
    right: Wish


@dataclass(frozen=True)
class Either:
    """True where one or both are."""

    left: Wish
    right: Wish


Wish = Word | Not | Both | Either


def parse_wish(text: str) -> Wish:
    """Return what `white or (grey and left-end)` says; `not` binds closest, then `and`.

    Raises ValueError in plain words where it says nothing.
    """
    tokens = _TOKEN.findall(text)
    wish, rest = _either(tokens)
    if rest:
        raise ValueError(f"`{rest[0]}` stands where `and`, `or` or the end belongs")
    return wish


def names(wish: Wish) -> Iterator[str]:
    """Yield the names in a wish, in order."""
    match wish:
        case Word(name):
            yield name
        case Not(inner):
            yield from names(inner)
        case Both(left, right) | Either(left, right):
            yield from names(left)
            yield from names(right)


def wanted(wish: Wish, yes: bool = True) -> Iterator[str]:
    """Yield the names that help a wish to hold while they hold; those behind `not` do not."""
    match wish:
        case Word(name):
            if yes:
                yield name
        case Not(inner):
            yield from wanted(inner, not yes)
        case Both(left, right) | Either(left, right):
            yield from wanted(left, yes)
            yield from wanted(right, yes)


def enough(wish: Wish) -> frozenset[str]:
    """Return the names each of which alone makes a wish hold, whatever the others are."""
    match wish:
        case Word(name):
            return frozenset((name,))
        case Not():
            return frozenset()
        case Both(left, right):
            return enough(left) & enough(right)
        case Either(left, right):
            return enough(left) | enough(right)


def renamed(wish: Wish, rename: Callable[[str], str]) -> Wish:
    """Return the same wish with every name changed."""
    match wish:
        case Word(name):
            return Word(rename(name))
        case Not(inner):
            return Not(renamed(inner, rename))
        case Both(left, right):
            return Both(renamed(left, rename), renamed(right, rename))
        case Either(left, right):
            return Either(renamed(left, rename), renamed(right, rename))


def said(wish: Wish) -> str:
    """Return a wish as text, bracketed where it must be and nowhere else."""
    match wish:
        case Word(name):
            return name
        case Not(inner):
            return f"not {_bracketed(inner)}"
        case Both(left, right):
            return f"{_bracketed(left, Both)} and {_bracketed(right, Both)}"
        case Either(left, right):
            return f"{_bracketed(left, Both, Either)} or {_bracketed(right, Both, Either)}"


def _bracketed(wish: Wish, *plain: type) -> str:
    text = said(wish)
    return text if isinstance(wish, (Word, Not, *plain)) else f"({text})"


Rest = tuple[Wish, list[str]]


def _either(tokens: list[str]) -> Rest:
    left, rest = _both(tokens)
    while rest[:1] == ["or"]:
        right, rest = _both(rest[1:])
        left = Either(left, right)
    return left, rest


def _both(tokens: list[str]) -> Rest:
    left, rest = _single(tokens)
    while rest[:1] == ["and"]:
        right, rest = _single(rest[1:])
        left = Both(left, right)
    return left, rest


def _single(tokens: list[str]) -> Rest:
    head, rest = (tokens[0], tokens[1:]) if tokens else ("", [])
    if head == "not":
        inner, rest = _single(rest)
        return Not(inner), rest
    if head == "(":
        inner, rest = _either(rest)
        if rest[:1] != [")"]:
            raise ValueError("a bracket is not closed")
        return inner, rest[1:]
    if head in ("", "and", "or", ")") or not head[0].isalnum():
        raise ValueError(f"{f'`{head}`' if head else 'the end'} stands where a name belongs")
    return Word(head), rest
