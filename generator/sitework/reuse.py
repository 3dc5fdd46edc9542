"""What is left without supply when a cable is taken over for something else."""

from __future__ import annotations

from generator.checks.subject import JobSubject, Subject
from generator.circuit.elements import Load
from generator.sitework.changes import Changes, Fate


def left_without(job: JobSubject, changes: Changes) -> dict[str, tuple[str, ...]]:
    """Return by cable taken over the loads that ran over it alone and never run again."""
    return {cable.designation: loads for cable in changes.cables if cable.fate is Fate.REUSED
            and (loads := _left(job, cable.designation))}


def _left(job: JobSubject, cable: str) -> tuple[str, ...]:
    cores = [c for c in job.found.circuit.conductors if c.cable == cable]
    carried = {load.name: load for core in cores for load, _ in job.found.only_through(core)}
    return tuple(f"-{load.part} {job.job.found.parts[load.part].called}"
                 for load in carried.values() if not _runs(job.fitted, load))


def _runs(side: Subject, load: Load) -> bool:
    still = side.circuit.load.get(load.name)
    return bool(still and side.potentials.runs(still) & side.reachable)
