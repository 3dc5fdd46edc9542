"""Words of a circuit drawing: what works a contact, what a load is, what is left out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from generator.checks.subject import Subject
from generator.circuit.elements import Condition, Contact, Load, Variable
from generator.circuit.flat import Circuit
from generator.pages.drawings.circuit_values import Look
from generator.pages.wording import terminal

LETTERS = {"motor": "M", "pump": "P", "element": "H", "call input": "C", "electronics": "E",
           "volt-free input": "V"}
"""Letter in the rectangle of a load."""


def resting(when: Condition) -> bool:
    """Tell whether a contact is closed with everything at rest and power off (IEC 61082-1)."""
    return not any(value for _, value in when)


def look_of(circuit: Circuit, contact: Contact) -> Look:
    """Return the symbol of a contact; a fuse is no contact, though it may be drawn out."""
    kinds = {circuit.variables[v].kind for v, _ in contact.when}
    if kinds == {"fuse"}:
        return Look.FUSE
    if resting(contact.when):
        return Look.BREAK
    return Look.ISOLATOR if kinds == {"isolator"} else Look.MAKE


def works(circuit: Circuit, contact: Contact) -> Iterator[str]:
    """Yield what must hold for a contact to be closed, as `water cold`."""
    for v, value in contact.when:
        yield _worked(circuit.variables[v], value, contact)
    if not contact.when:
        yield "always closed"


def _worked(variable: Variable, value: bool, contact: Contact) -> str:
    part, _, name = variable.name.partition(".")
    owner = "" if part == contact.name.partition(".")[0] else f"{terminal(part)} "
    if variable.kind == "fuse":
        return f"fuse {contact.amps:g} A" if contact.amps else "fuse"
    called = "cut-out" if variable.kind == "cut-out" else name
    return f"{owner}{called} {variable.words[value]}"


def short_name(name: str, part: str) -> str:
    """Return a terminal without the part where that stands beside it."""
    owner, _, own = name.partition(":")
    return own if owner == part else terminal(name)


def ends(element: Contact | Load) -> str:
    """Return the two terminals in words."""
    return f"{terminal(element.a)} to {terminal(element.b)}"


def load_lines(circuit: Circuit, load: Load, called: Mapping[str, str]) -> tuple[str, ...]:
    """Return what a load is, in lines: its part, and which of the part's loads it is."""
    part = load.name.partition(".")[0]
    own = [x for x in circuit.loads if x.name.startswith(f"{part}.")]
    name = called.get(part, "")
    # What follows a semicolon explains; there is no room for it beside a symbol.
    which = load.says.partition(";")[0] or load.kind if len(own) > 1 or not name else ""
    return tuple(filter(None, (name, which)))


def load_words(subject: Subject, load: Load, called: Mapping[str, str]) -> str:
    """Return a load that is not drawn, and why."""
    reached = subject.potentials.at(subject.potentials.soft_line, load.a) \
        | subject.potentials.at(subject.potentials.soft_line, load.b)
    why = "never runs" if reached else "no line reaches it"
    if load.volt_free:
        why = "nothing joins its terminals"
    said = ", ".join(load_lines(subject.circuit, load, called))
    return f"{terminal(load.name.partition('.')[0])} {said}: {why}"


def spare_words(contacts: Iterable[Contact]) -> Iterator[str]:
    """Yield the contacts of each part that feed nothing drawn."""
    by_part: dict[str, list[str]] = {}
    for contact in contacts:
        part = contact.name.partition(".")[0]
        pair = " to ".join(short_name(t, part) for t in (contact.a, contact.b))
        by_part.setdefault(part, []).append(pair)
    for part, pairs in by_part.items():
        yield f"{terminal(part)} {'; '.join(pairs)}: feeds nothing drawn here"
