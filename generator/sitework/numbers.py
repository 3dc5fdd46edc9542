"""Figures of a system: what each cable carries at worst, what it drops, what an ohmmeter shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.checks.subject import Subject
from generator.circuit.conductors import DROP_LIMIT, Insulation, core_ohms, loop_ohms, voltage_drop
from generator.circuit.currents import Flow, flows, worst
from generator.circuit.elements import Conductor, Contact, Load
from generator.circuit.nodal import VOLTS
from generator.circuit.path import find_path
from generator.circuit.tables import Table, first
from generator.recipe.wall import Laid

Settings = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class CableRun:
    """One cable: length in m, cores in mm², and its figures.

    `amps` is the most in any core, in the states of `settings`, and `carries` what one is made for.
    `drop` is that current over a core and its return, in V; None where no table has the size.
    `core` and `loop` are the most in ohm at 20 °C that an ohmmeter shows, its leads taken off: one
    core from end to end, and any two joined at the far end.
    """

    cable: str
    called: str
    metres: float
    area: float
    amps: float
    settings: Settings
    carries: float
    drop: float | None
    core: float | None
    loop: float | None

    @property
    def percent(self) -> float | None:
        """The drop as a share of 230 V."""
        return None if self.drop is None else 100 * self.drop / VOLTS


@dataclass(frozen=True)
class ContactLoad:
    """A contact or fuse of known rating: the most it carries in A, and that for motors and pumps.

    `made_for` and `inductive_made_for` are its ratings; the second is the bracketed figure, or the
    first again where there is none.
    """

    contact: str
    called: str
    amps: float
    made_for: float
    inductive: float
    inductive_made_for: float
    settings: Settings


@dataclass(frozen=True)
class LoadDrop:
    """A load, its current in A, and the drop in V over all cables from the supply and back."""

    load: str
    says: str
    amps: float
    drop: float
    settings: Settings

    @property
    def percent(self) -> float:
        """The drop as a share of 230 V."""
        return 100 * self.drop / VOLTS

    @property
    def within(self) -> bool:
        """Whether it is inside the guideline of BS 7671 Appendix 4 for what is not lighting."""
        return self.drop <= DROP_LIMIT * VOLTS


@dataclass(frozen=True)
class Numbers:
    """All figures of a system, in the order of the files."""

    cables: tuple[CableRun, ...]
    contacts: tuple[ContactLoad, ...]
    loads: tuple[LoadDrop, ...]


def numbers(subject: Subject) -> Numbers:
    """Return the figures of a system, the worst of every state in which it comes to rest.

    Conductors count as flexible cord (IEC 60228 class 5; BS 7671 Table 4F3B) that runs alone; a
    load whose way has a size that the tables do not have is left out.
    """
    flowing = flows(subject.potentials, subject.settled)
    return Numbers(
        tuple(_run(subject, flowing, laid) for laid in subject.wall.cables.values()),
        tuple(_contact(subject, flowing, each) for each in subject.circuit.contacts if each.amps),
        tuple(drop for load in subject.circuit.loads
              if (drop := _load_drop(subject, flowing, load))))


def _run(subject: Subject, flowing: Iterable[Flow], laid: Laid) -> CableRun:
    cores = (c for c in subject.circuit.conductors if c.cable == laid.designation)
    most = max((worst(flowing, core) for core in cores), key=lambda each: each.amps, default=None)
    amps, states = (most.amps, most.states) if most else (0.0, 0)
    core, loop = _ohms(laid)
    return CableRun(
        laid.designation, laid.cable.name, laid.laid.length, laid.cable.area, amps,
        _shown(subject, states), laid.cable.amps, _drop(laid, amps), core, loop)


def _contact(subject: Subject, flowing: Iterable[Flow], contact: Contact) -> ContactLoad:
    most = worst(flowing, contact)
    return ContactLoad(
        contact.name, subject.wall.parts[contact.part].called, most.amps, contact.amps,
        worst(flowing, contact, inductive=True).amps, contact.inductive or contact.amps,
        _shown(subject, most.states))


def _ohms(laid: Laid) -> tuple[float, float] | tuple[None, None]:
    try:
        return (core_ohms(laid.laid.length, laid.cable.area),
                loop_ohms(laid.laid.length, laid.cable.area))
    except KeyError:
        return None, None


def _drop(laid: Laid, amps: float) -> float | None:
    """Return the drop over a core of a cable and its return."""
    insulation = Insulation.HOT_CORD if laid.cable.heat_resisting else Insulation.CORD
    if laid.cable.area not in insulation.value:
        return None
    return voltage_drop(amps, laid.laid.length, laid.cable.area, insulation)


def _shown(subject: Subject, states: Table) -> Settings:
    """Return what brings the states about, isolators and fuses taken for granted."""
    shown = subject.shown(states, subject.settled) if states else ()
    kinds = {variable.name: variable.kind for variable in subject.circuit.variables}
    return tuple(pair for pair in shown if kinds[pair[0]] not in ("isolator", "fuse"))


def _load_drop(subject: Subject, flowing: Iterable[Flow], load: Load) -> LoadDrop | None:
    """Return the worst drop of a load over the states in which it runs."""
    runs = subject.potentials.runs(load)
    drops = [(drop, flow) for flow in flowing if load in flow.amps and flow.states & runs
             and (drop := _drop_to(subject, flow, load)) is not None]
    if not drops:
        return None
    drop, flow = max(drops, key=lambda pair: pair[0])
    return LoadDrop(load.name, f"{subject.wall.parts[load.part].called}: {load.says}",
                    flow.amps[load][1], drop, _shown(subject, flow.states & runs))


def _drop_to(subject: Subject, flow: Flow, load: Load) -> float | None:
    """Return the drop from the supply to a load and back, core by core along its way."""
    drops = [_core_drop(subject, flow, core) for core in _way(subject, first(flow.states), load)]
    known = [drop for drop in drops if drop is not None]
    return sum(known) if len(known) == len(drops) else None


def _core_drop(subject: Subject, flow: Flow, core: Conductor) -> float | None:
    both = _drop(subject.wall.cables[core.cable], flow.amps.get(core, (0.0, 0.0))[1])
    return None if both is None else both / 2


def _way(subject: Subject, state: int, load: Load) -> Iterator[Conductor]:
    """Yield the cores of cables from the supply's line to a load and on to its neutral."""
    for sources in (subject.lines(), subject.neutrals()):
        for end in (load.a, load.b):
            path = find_path(subject.circuit, state, sources, end)
            for step in path.steps if path else ():
                if isinstance(step.through, Conductor) and step.through.cable:
                    yield step.through
