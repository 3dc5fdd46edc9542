"""A boiler that runs its pump on has a numbered test of it: the heat must find an open way."""

from __future__ import annotations

import pytest

from generator.circuit.elements import part_of
from generator.sitework.live_tests import LiveTest, live_tests
from generator.sitework.overrun import RUNS_ON
from tests.sitework.shipped import SYSTEMS, shipped, tried

RUNS = "two-zone-pump-overrun"


def made_for(name: str) -> list[LiveTest]:
    return list(live_tests(shipped(name), tried(name)))


def running_on(name: str) -> bool:
    """Return by the files alone whether a boiler drives a pump that stops later than it does."""
    subject = shipped(name)
    pumps = {load.a for load in subject.circuit.loads if load.kind == "pump"}
    fed = {c.a if c.b in pumps else c.b for c in subject.circuit.conductors
           if {c.a, c.b} & pumps}
    net = subject.potentials.nets.of
    return any(
        mounted.part.heat and position.shuts_in != "at once"
        and any(net[f"{part}:{contact.between[1]}"] == net[end] for end in fed
                for contact in mounted.part.contacts.values() if name in contact.closed_while)
        for part, mounted in subject.wall.parts.items()
        for name, position in mounted.part.positions.items())


@pytest.mark.parametrize("name", SYSTEMS)
def test_it_is_there_once_exactly_where_a_boiler_runs_its_pump_on(name: str) -> None:
    made = [test for test in made_for(name) if test.name == RUNS_ON]
    assert len(made) == running_on(name)
    assert all(test.safety and not test.isolated for test in made)


def test_some_system_has_an_overrun_and_some_has_none() -> None:
    assert {running_on(name) for name in SYSTEMS} == {True, False}
    assert running_on(RUNS)


def test_it_follows_a_test_in_which_the_burner_burns_and_comes_before_isolating() -> None:
    made = made_for(RUNS)
    at = next(i for i, test in enumerate(made) if test.name == RUNS_ON)
    assert "on" in [word for what, word in made[at - 1].seen if "burner" in what]
    assert any(test.isolated for test in made[at + 1:])
    assert not any(test.isolated for test in made[:at])


def test_valves_shut_burner_off_pump_runs_and_then_stops_after_the_time_the_part_states() -> None:
    # Overrun of 5 to 10 minutes and an open way round: common practice, no source.
    test = next(test for test in made_for(RUNS) if test.name == RUNS_ON)
    seen = dict(test.seen)
    assert {word for what, word in seen.items() if "valve" in what} == {"shut"}
    assert {word for what, word in seen.items() if "burner" in what} == {"off"}
    assert {word for what, word in seen.items() if what.endswith(" pump")} == {"runs"}
    assert "stops after 5 to 10 minutes" in seen.values()
    assert ("The open way round, or by-pass", "gets warm") in test.seen
    assert any("by-pass comes first" in said for said in test.cautions)
    assert all("at once" not in said for said in test.wait)


def test_the_line_that_calls_the_boiler_is_read_dead_while_the_pump_runs() -> None:
    test = next(test for test in made_for(RUNS) if test.name == RUNS_ON)
    subject = shipped(RUNS)
    net = subject.potentials.nets.of
    boiler = next(load for load in subject.circuit.loads if load.kind == "call input")
    assert [(net[read.terminal] == net[boiler.a], read.volts) for read in test.reads] == [
        (True, "0 V")]
    assert subject.wall.parts[part_of(test.reads[0].terminal)].part.letter == "X"


@pytest.mark.parametrize("name", [name for name in SYSTEMS if running_on(name)])
def test_what_nobody_can_foretell_is_not_asked(name: str) -> None:
    for test in made_for(name):
        if test.name == RUNS_ON:
            assert "not predictable" not in [read.volts for read in test.reads]
            assert not any("goes back" in s.how or "then on" in s.word for s in test.settings)
