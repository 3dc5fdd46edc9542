"""Checks that a part speaks only of terminals, switches, positions and loads that it has."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from generator.findings import Finding, Place, mistake, near_miss, one_of
from generator.recipe.articles import Part
from generator.recipe.document import Path
from generator.recipe.moving import names, parse_wish
from generator.recipe.wall import Source, words_of


def unknown(
    kind: str, word: str, known: Iterable[str], place: Place, whose: str, noun: str = ""
) -> Finding:
    """Return the finding that `word` names no such thing, with the nearest that exists.

    `noun` is what the thing is called in the message where that is not its kind.
    """
    known = tuple(dict.fromkeys(known))
    return mistake(
        f"unknown-{kind}", f"{whose} has no {noun or kind} `{word}`.", place,
        found=f"`{word}`",
        expected=one_of(known) if known else f"no {noun or kind} at all",
        hint=near_miss(word, known))


def second_half(place: Place, written: str, name: str) -> Place:
    """Return where `name` begins within `written`, which stands at `place`, quoted or not."""
    start = place.text.find(written, place.column - 1, place.column + len(written))
    return replace(place, column=start + len(written) - len(name) + 1) if start >= 0 else place


def part_mistakes(source: Source, part: Part) -> Iterator[Finding]:
    """Yield every name in a part that names nothing, and figures that rest on nothing."""
    yield from _unfounded(source, part)
    yield from _one_word_for_two(source, part)
    for path, terminal in _terminals_named(part):
        if terminal not in part.terminals:
            yield unknown("terminal", terminal, part.terminals, source.place(*path), "This part")
    for path, load in _loads_named(part):
        if load not in part.loads:
            yield unknown("load", load, part.loads, source.place(*path), "This part")
    yield from _wish_mistakes(source, part)
    for name, contact in part.contacts.items():
        for switch, word in contact.closed_while.items():
            path = ("contacts", name, "closed-while", switch)
            yield from setting_mistakes(part, switch, word, source.key_place(*path),
                                        source.place(*path), "This part")
    for name in part.switches.keys() & part.positions.keys():
        yield mistake("doubled-key", f"`{name}` is a switch and a position.",
                      source.key_place("positions", name).noted("given again here"),
                      source.key_place("switches", name).noted("first given here"),
                      found="one name for two things", expected="two names")


def _unfounded(source: Source, part: Part) -> Iterator[Finding]:
    """Yield a part with ratings, powers or times that nobody can look up."""
    figures = (part.loads or part.positions
               or any(contact.rating for contact in part.contacts.values())
               or any(each.tightens_to or each.strips for each in part.terminals.values()))
    if figures and not part.source:
        yield mistake(
            "missing-key", "This part does not say where its figures come from.",
            source.place("kind"), found="ratings, powers, times or torques, and no `source:`",
            expected="`source:` A published source, common practice, or from memory.")


def _one_word_for_two(source: Source, part: Part) -> Iterator[Finding]:
    for group, changing in (("switches", part.switches), ("positions", part.positions)):
        for name, each in changing.items():
            if each.rest == each.worked:
                yield mistake(
                    "one-word-for-two", f"`{name}` has the same word at rest and worked.",
                    source.place(group, name, "worked"), source.place(group, name, "rest"),
                    found=f"`{each.rest}` twice", expected="two words, for example `off` and `on`")


def _wish_mistakes(source: Source, part: Part) -> Iterator[Finding]:
    known = [*part.loads, *words_of(part)]
    for name, position in part.positions.items():
        place = source.place("positions", name, "moves-while")
        try:
            wish = parse_wish(position.moves_while)
        except ValueError as error:
            yield mistake("wrong-shape", "This does not say when the position moves.", place,
                          found=str(error),
                          expected="a load, or names with `and`, `or`, `not` and brackets")
            continue
        for word in names(wish):
            if word not in known:
                yield unknown("load", word, known, place, "This part", "load, position or switch")


def setting_mistakes(
    part: Part, switch: str, word: str, key: Place, value: Place, whose: str
) -> Iterator[Finding]:
    """Yield what is wrong with `switch: word`, whose two halves stand at `key` and `value`."""
    known = words_of(part)
    noun = "switch or position" if part.positions else "switch"
    if switch not in known:
        yield unknown("switch", switch, known, key, whose, noun)
    elif word not in known[switch]:
        yield unknown("setting", word, known[switch], value, f"`{switch}`")


def _terminals_named(part: Part) -> Iterator[tuple[Path, str]]:
    for group, holders in (("contacts", part.contacts), ("loads", part.loads)):
        for name, holder in holders.items():
            for i, terminal in enumerate(holder.between):
                yield (group, name, "between", i), terminal
    for name, joint in part.joints.items():
        for i, terminal in enumerate(joint):
            yield ("joints", name, i), terminal
    for i, terminal in enumerate(part.closed):
        yield ("closed", i), terminal
    for i, terminal in enumerate(part.heat.also_asks if part.heat else ()):
        yield ("heat", "also-asks", i), terminal


def _loads_named(part: Part) -> Iterator[tuple[Path, str]]:
    for i, load in enumerate(part.heat.fires_while if part.heat else ()):
        yield ("heat", "fires-while", i), load
