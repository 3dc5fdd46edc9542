"""What must hold of tables, cubes, paths and stories, whatever the circuit."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, product

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.circuit.elements import Conductor, Contact, Load
from generator.circuit.flat import Circuit
from generator.circuit.moves import move
from generator.circuit.path import Element, Path, find_path
from generator.circuit.potentials import Standing, solve
from generator.circuit.tables import Space, first, states
from tests.circuit.made_circuits import circuits, made, relays, renamed
from tests.circuit.slow_walk import closed, islands


@st.composite
def tables(draw: st.DrawFn) -> tuple[Space, int, int]:
    """Return a space of up to 6 variables with two tables in it."""
    space = Space(draw(st.integers(0, 6)))
    table = st.integers(0, space.full)
    return space, draw(table), draw(table)


def as_set(table: int) -> set[int]:
    return {i for i in range(table.bit_length()) if table & 1 << i}


@given(tables())
def test_tables_are_sets_of_states(given_tables: tuple[Space, int, int]) -> None:
    space, table, _ = given_tables
    every, some = set(range(2**space.count)), as_set(table)
    assert list(states(table)) == sorted(some)
    assert as_set(space.full) == every
    assert as_set(space.no(table)) == every - some
    assert not table or first(table) == min(some)
    for v, value in product(range(space.count), (False, True)):
        assert as_set(space.where(v, value)) == {s for s in every if s // 2**v % 2 == value}
        assert as_set(space.flip(table, v)) == {s ^ 2**v for s in some}


@given(tables(), st.sets(st.integers(0, 5)))
def test_projection_is_for_some_value(
    given_tables: tuple[Space, int, int], over: set[int]
) -> None:
    space, table, _ = given_tables
    over = {v for v in over if v < space.count}
    free = sum(2**v for v in over)
    assert as_set(space.some(table, over)) == {
        s for s in range(space.size) if any(t & ~free == s & ~free for t in as_set(table))}


@given(tables())
def test_a_cube_is_as_wide_as_can_be_and_no_wider(given_tables: tuple[Space, int, int]) -> None:
    space, table, also = given_tables
    within = as_set(table | also)
    for state in as_set(table):
        cube = space.widen(state, table, also)
        assert state in in_cube(space, cube) <= within
        for dropped in cube:
            wider = tuple(pair for pair in cube if pair != dropped)
            assert not in_cube(space, wider) <= within


def in_cube(space: Space, cube: tuple[tuple[int, bool], ...]) -> set[int]:
    return {s for s in range(space.size) if all(s // 2**v % 2 == value for v, value in cube)}


@given(tables())
def test_a_cover_holds_the_table_and_nothing_else(given_tables: tuple[Space, int, int]) -> None:
    space, table, also = given_tables
    covered = set[int]().union(*(in_cube(space, cube) for cube in space.cover(table, also)))
    assert as_set(table) <= covered <= as_set(table | also)
    exactly = set[int]().union(*(in_cube(space, cube) for cube in space.cover(table)))
    assert exactly == as_set(table)


@settings(max_examples=100, deadline=None)
@given(circuits())
def test_every_terminal_is_one_thing_in_every_state(circuit: Circuit) -> None:
    potentials = solve(circuit)
    for terminal in circuit.terminals:
        said = potentials.standings(terminal.name)
        assert set(said) == set(Standing)
        for state in range(potentials.space.size):
            assert [table >> state & 1 for table in said.values()].count(1) == 1


Answers = tuple[dict[str, object], dict[str, int], tuple[object, ...]]


def answers(circuit: Circuit) -> Answers:
    potentials = solve(circuit)
    motion = move(potentials)
    terminals = {t.name: (potentials.standings(t.name), potentials.not_known(t.name))
                 for t in circuit.terminals}
    loads = {load.name: potentials.runs(load) for load in circuit.loads}
    moving = (motion.stable, motion.reachable, motion.endless, motion.layers,
              tuple(motion.races()), tuple(motion.memories()))
    return terminals, loads, moving


@settings(max_examples=100, deadline=None)
@given(circuits() | relays(), st.data())
def test_names_of_terminals_change_no_result(circuit: Circuit, data: st.DataObject) -> None:
    names = [t.name for t in circuit.terminals]
    other = data.draw(st.permutations([f"Y7:{i}" for i in range(len(names))]))
    name = dict(zip(names, other, strict=True))
    called = renamed(circuit, name)
    before, after = answers(circuit), answers(called)
    assert {name[t]: said for t, said in before[0].items()} == after[0]
    assert before[1:] == after[1:]


@settings(max_examples=100, deadline=None)
@given(circuits() | relays(), st.randoms())
def test_the_order_of_what_was_written_changes_no_result(circuit: Circuit, random) -> None:
    def shuffled(elements: tuple) -> tuple:
        return tuple(random.sample(elements, len(elements)))

    def turned(elements: tuple) -> tuple:
        return tuple(replace(e, a=e.b, b=e.a) if random.random() < 0.5 else e
                     for e in shuffled(elements))

    other = replace(
        circuit, terminals=shuffled(circuit.terminals), conductors=turned(circuit.conductors),
        contacts=turned(circuit.contacts), loads=turned(circuit.loads),
        supplies=shuffled(circuit.supplies))
    assert answers(circuit) == answers(other)


def joins(element: Element, state: int, through_loads: bool) -> bool:
    return (isinstance(element, Conductor)
            or (isinstance(element, Contact) and closed(element, state))
            or (isinstance(element, Load) and through_loads))


def assert_sound(path: Path, state: int, through_loads: bool) -> None:
    for here, step in zip(path.terminals, path.steps, strict=False):
        assert {here, step.terminal} == {step.through.a, step.through.b} or (
            step.through.a == step.through.b == here == step.terminal)
        assert joins(step.through, state, through_loads)
    assert len(set(path.terminals)) == len(path.terminals)


@settings(max_examples=150, deadline=None)
@given(circuits(), st.data())
def test_a_path_conducts_from_end_to_end(circuit: Circuit, data: st.DataObject) -> None:
    state = data.draw(st.integers(0, circuit.space.size - 1))
    terminal = st.sampled_from([t.name for t in circuit.terminals])
    start, goal = data.draw(terminal), data.draw(terminal)
    of = islands(circuit, state)
    path = find_path(circuit, state, (start,), goal)
    assert (path is not None) == (of[start] == of[goal])
    if path:
        assert (path.start, path.terminals[-1]) == (start, goal)
        assert_sound(path, state, through_loads=False)


def test_a_path_to_what_is_live_through_a_load_takes_no_short_cut_over_neutral() -> None:
    strip = [f"X1:{i}" for i in range(1, 8)]
    circuit = made(
        [*strip, "X2:1"], list(pairwise(strip)), [("Q1:L", "X1:1", ())],
        [("Q1:L", "Q1:N", "pump", 60.0), ("Q1:N", "X1:7", "motor", 6.0),
         ("X1:7", "X2:1", "motor", 6.0)], 0, [])
    assert solve(circuit).standing("X2:1", 0) is Standing.SOFT_LINE
    path = find_path(circuit, 0, ("Q1:L",), "X2:1", through_loads=True)
    assert path is not None
    assert path.terminals == ("Q1:L", *strip, "X2:1")


@settings(max_examples=150, deadline=None)
@given(circuits(), st.data())
def test_there_is_a_path_to_whatever_is_live(circuit: Circuit, data: st.DataObject) -> None:
    potentials = solve(circuit)
    live = [(t.name, s) for t in circuit.terminals for s in states(potentials.live(t.name))]
    goal, state = data.draw(st.sampled_from(live))
    lines = tuple(supply.line for supply in circuit.supplies)
    path = find_path(circuit, state, lines, goal, through_loads=True)
    assert path is not None
    assert path.start in lines
    assert path.terminals[-1] == goal
    assert_sound(path, state, through_loads=True)
    if potentials.standing(goal, state) is Standing.SOFT_LINE:
        met = {potentials.standing(terminal, state) for terminal in path.terminals}
        assert met == {Standing.LINE, Standing.SOFT_LINE}


@settings(max_examples=150, deadline=None)
@given(circuits() | relays() | relays())
def test_a_story_begins_at_rest_and_goes_one_step_at_a_time(circuit: Circuit) -> None:
    potentials = solve(circuit)
    motion = move(potentials)
    wants = {d.variable: potentials.wished(d.wish) for d in circuit.devices}
    told = {end: motion.story(end) for end in states(motion.reachable)}
    assert 0 in told
    for end, story in told.items():
        assert (story[0], story[-1]) == (0, end)
        for before, after in pairwise(story):
            variable = (before ^ after).bit_length() - 1
            assert before ^ after == 1 << variable
            if circuit.variables[variable].moves:
                assert wants[variable] >> before & 1 == after >> variable & 1
