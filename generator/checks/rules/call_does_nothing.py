"""A zone that calls and gets nothing: its valve stays shut, or no burner fires for it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.evidence import note
from generator.checks.rule import Basis, Known, Rule, Verdict, count, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import HeatSource, Load, Zone
from generator.circuit.potentials import table_or
from generator.circuit.tables import Table
from generator.findings import Finding, Place, Severity, listed


def judge(subject: Subject) -> Verdict:
    """Ask of every zone, in every settled state in which it calls, is supplied and healthy."""
    cases = [(zone, _called(subject, zone)) for zone in subject.circuit.zones]
    return verdict(
        sum(count(called) for _, called in cases), "settled states in which a zone calls",
        (f for zone, called in cases
         for look in (_stays_shut, _stays_cold, _stays_silent)
         for f in look(subject, zone, called)))


def _called(subject: Subject, zone: Zone) -> Table:
    return subject.potentials.condition(zone.call) & subject.able()


def _stays_shut(subject: Subject, zone: Zone, called: Table) -> Iterator[Finding]:
    shut = called & ~subject.opened(zone) if zone.valve else 0
    if shut:
        yield _finding(subject, zone, (shut, called),
                       (subject.starters(zone) if zone.way else ()) or subject.motors(zone),
                       f"`{zone.name}` calls and its valve `{zone.way or zone.valve}` stays shut.")


def _stays_cold(subject: Subject, zone: Zone, called: Table) -> Iterator[Finding]:
    cold = subject.unheated(zone)
    sources = subject.own_sources(zone)
    # An end switch with nothing on one side is the cause, and another rule names it.
    if cold and not subject.bare_switch(zone) and not _said(zone, sources):
        opened = f"its valve `{zone.way or zone.valve}` is open" if zone.valve else "its pump runs"
        yield _finding(
            subject, zone, (cold, called),
            tuple(subject.lacking(source, cold) for source in sources),
            f"`{zone.name}` calls, {opened}, and nothing fires for it.")


def _said(zone: Zone, sources: tuple[HeatSource, ...]) -> bool:
    return any(source.name in zone.served_by for source in sources)


def _stays_silent(subject: Subject, zone: Zone, called: Table) -> Iterator[Finding]:
    """Yield that something does not run that the zone is said to be served by."""
    if zone.valve:
        called &= subject.opened(zone)
    still = {name: called & ~subject.served(zone, name) for name in zone.served_by}
    silent = [name for name, table in still.items() if table]
    if silent:
        sources = {source.name: source for source in subject.circuit.heat_sources}
        loads = (subject.lacking(sources[name], still[name]) if name in sources
                 else subject.circuit.load[name] for name in silent)
        yield _finding(
            subject, zone, (table_or(still.values()), called), tuple(dict.fromkeys(loads)),
            f"`{zone.name}` calls and {listed(silent, 'and')} "
            f"{'stays' if len(silent) == 1 else 'stay'} silent.")


def _finding(subject: Subject, zone: Zone, tables: tuple[Table, Table], loads: tuple[Load, ...],
             message: str) -> Finding:
    nothing, called = tables
    state = subject.earliest(nothing)
    return Finding(
        RULE.name, RULE.severity, message, tuple(_places(subject, loads, zone)),
        found=f"in {count(nothing)} of {count(called)} settled states with this call: "
              + ", ".join(_stands(subject, load, state) for load in loads),
        expected="the call alone opens the valve, and the open valve alone fires the boiler"
        if zone.valve else "the call alone makes all run that serves the zone",
        hint="compare the terminals below with where the call's line comes from",
        state=subject.shown(nothing, called))


def _places(subject: Subject, loads: tuple[Load, ...], zone: Zone) -> Iterator[Place]:
    for load in loads:
        for end in _bare(subject, load):
            yield load.place.noted(f"{note(load)}: nothing lands on {end}")
        ends = subject.landed(load.a) + subject.landed(load.b)
        yield from (core.place.noted(note(core)) for core in ends)
        yield load.place.noted(note(load))
    yield zone.place.noted("the zone that calls")


def _bare(subject: Subject, load: Load) -> list[str]:
    """Return the ends of a load to which nothing leads, from outside or inside its part."""
    led = {end for core in subject.circuit.conductors for end in (core.a, core.b)}
    led |= {end for contact in subject.circuit.contacts for end in (contact.a, contact.b)}
    return [end for end in (load.a, load.b) if end not in led]


def _stands(subject: Subject, load: Load, state: int) -> str:
    return " and ".join(
        f"`{end}` is {subject.stands(end, 1 << state)}" for end in (load.a, load.b))


RULE = Rule(
    "call-does-nothing",
    "Call does nothing",
    Severity.ERROR,
    (
        Basis(Known.PRACTICE, "call, valve, end switch, boiler: each call works without any other"),
        Basis(Known.PUBLISHED, "Approved Document L volume 1 (2021 edition) 5.16: stored hot water "
                               "has a time control independent of heating"),
    ),
    judge,
)
