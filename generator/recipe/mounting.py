"""Checks what is written of each part on the wall: its letter, its fuse, its enclosure."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding, mistake
from generator.recipe.articles import SwitchKind
from generator.recipe.wall import Mounted, Wall


def mounting_mistakes(wall: Wall) -> Iterator[Finding]:
    """Yield every part with a wrong letter, a fuse too many or none, or itself as enclosure."""
    for mounted in wall.parts.values():
        yield from _wrong_letter(mounted)
        yield from _wrong_fuse(wall, mounted)
        yield from _inside_itself(wall, mounted)


def _wrong_letter(mounted: Mounted) -> Iterator[Finding]:
    part = mounted.part
    if not mounted.designation.startswith(part.letter):
        yield mistake(
            "wrong-letter", f"`{mounted.designation}` does not begin with the letter of this part.",
            mounted.place, mounted.source.place("letter").noted(f"the letter of: {part.name}"),
            found=f"`{mounted.designation}`",
            expected=f"`{part.letter}` and a number (IEC 81346-2)")


def _wrong_fuse(wall: Wall, mounted: Mounted) -> Iterator[Finding]:
    name, fuse = mounted.designation, mounted.placed.fuse
    holds = any(switch.kind is SwitchKind.FUSE for switch in mounted.part.switches.values())
    if holds and fuse is None:
        yield mistake(
            "missing-key", f"`{name}` does not say which fuse is in it.", mounted.place,
            found="no `fuse:`", expected="`fuse:` Fuse fitted, in A.")
    if fuse is not None and not holds:
        yield mistake(
            "fuse-without-holder", f"`{name}` holds no fuse.",
            wall.source.key_place("parts", name, "fuse"), found=f"`fuse: {fuse:g}`",
            expected="a part with a switch of the kind fuse", hint="leave the key out")


def _inside_itself(wall: Wall, mounted: Mounted) -> Iterator[Finding]:
    """Yield a part that sits in itself, at once or by way of others."""
    name, within = mounted.designation, [mounted.designation]
    while (inside := wall.system.parts[within[-1]].inside) in wall.system.parts:
        if inside in within:
            break
        within.append(inside)
    if inside == name:
        yield mistake(
            "inside-itself", f"`{name}` sits inside itself.",
            wall.source.place("parts", name, "inside"), found=" inside ".join([*within, name]),
            expected="the part in whose enclosure it sits")
