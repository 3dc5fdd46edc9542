"""Cores whose colour says something else than what they do, and no sleeve puts it right."""

from __future__ import annotations

from generator.checks.rule import Basis, Known, Rule, Verdict, verdict
from generator.checks.subject import Subject
from generator.circuit.elements import Conductor
from generator.findings import Finding, Severity, listed

SAYS = {"BU": "neutral", "GNYE": "earth", "GN": "earth"}
"""What a colour promises; every other colour is a line (BS 7671 Table 51)."""
SLEEVE = {"line": "BN", "neutral": "BU"}

Case = tuple[Conductor, str]
"""A core or link, and what it is in some reachable state."""


def judge(subject: Subject) -> Verdict:
    """Ask of every core and coloured link that carries mains in some state, or is earth."""
    cases = [(core, does) for core in subject.circuit.conductors
             if core.colour and (does := _function(subject, core))]
    wrong = [case for case in cases if _misleads(*case)]
    return verdict(len(cases), "cores and links that carry mains or are earth",
                   (_finding(subject, group) for group in _groups(subject, wrong)))


def _function(subject: Subject, core: Conductor) -> str:
    """Return what a core is in some reachable state: line comes before neutral, then earth."""
    potentials = subject.potentials
    tables = {"line": potentials.line, "neutral": potentials.neutral, "earth": potentials.earth}
    return next((does for does, table in tables.items()
                 if potentials.at(table, core.a) & subject.reachable), "")


def _misleads(core: Conductor, does: str) -> bool:
    # A green-and-yellow core in use as a line is a fault of its own.
    if core.colour == "GNYE":
        return False
    return does == "earth" or _says(core) != does


def _says(core: Conductor) -> str:
    return SAYS.get(core.sleeve or core.colour, "line")


def _groups(subject: Subject, wrong: list[Case]) -> list[list[Case]]:
    """Return the cases, those together that a single core on the wrong way brings about.

    Where a terminal takes what the core's colour says, it is not the colour that is wrong, and
    then it is not for anything else on that net either.
    """
    net = subject.potentials.nets.of
    misled = {(net[core.a], does) for core, does in wrong if _takers(subject, core, does)}
    groups: dict[str, list[Case]] = {}
    for core, does in wrong:
        key = does if (net[core.a], does) in misled else core.name
        groups.setdefault(key, []).append((core, does))
    return list(groups.values())


def _takers(subject: Subject, core: Conductor, does: str) -> list[str]:
    """Return the ends of a core at terminals made for what its colour says and it does not do."""
    if _says(core) == does:
        return []
    return [end for end in (core.a, core.b)
            if subject.circuit.terminal[end].carries == _says(core)]


def _finding(subject: Subject, group: list[Case]) -> Finding:
    cores, (_, does) = [core for core, _ in group], group[0]
    says = " or ".join(dict.fromkeys(map(_says, cores)))
    takers = list(dict.fromkeys(end for core in cores for end in _takers(subject, core, does)))
    return Finding(
        RULE.name, RULE.severity, _message(cores, says, does),
        tuple(core.place.noted(core.name) for core in cores),
        found=", ".join(dict.fromkeys(map(_coloured, cores))),
        expected=_expected(takers, says, does),
        hint=f"{listed(takers, 'and')} and the colour agree: look where the {does} comes from"
        if takers else "")


def _message(cores: list[Conductor], says: str, does: str) -> str:
    one = len(cores) == 1
    who = f"The {cores[0].kind if one else 'cores and links'} " + listed(
        (core.name for core in cores), "and")
    if says == does:
        return f"{who} {'is' if one else 'are'} {does} and not green-and-yellow."
    return f"{who} {'looks' if one else 'look'} like {says} and {'is' if one else 'are'} {does}."


def _coloured(core: Conductor) -> str:
    return f"`{core.colour}`" + (f" sleeved `{core.sleeve}`" if core.sleeve else ", no sleeve")


def _expected(takers: list[str], says: str, does: str) -> str:
    if takers:
        return f"landed on a {says} way"
    if does == "earth":
        return "`GNYE`; no sleeve makes a protective conductor of another colour"
    return f"`sleeve: {SLEEVE[does]}`, at both ends"


RULE = Rule(
    "colour-misleads",
    "Colour misleads about what a core does",
    Severity.ERROR,
    (
        Basis(Known.PUBLISHED, "BS 7671 Table 51; IEC 60445"),
        Basis(Known.MEMORY, "BS 7671 514.3.1 and 514.3.2: marked at both ends"),
    ),
    judge,
)
