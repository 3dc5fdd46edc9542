"""The tree of questions on any answers at all: it ends, holds every suspect, and asks no danger."""

from __future__ import annotations

from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.recipe.costs import USUAL, Costs
from generator.sitework.coverage import coverage
from generator.sitework.finder.alike import classes
from generator.sitework.finder.choice import End, Tree, tree
from generator.sitework.finder.complaints import Complaint
from generator.sitework.finder.ground import Ground, ground
from generator.sitework.finder.measurement import ANY, JOINED, LOAD, OPEN, Kind, Measurement
from tests.circuit.flagship import flagship

TERMINALS = (*(f"X1:{way}" for way in range(1, 10)), "E1:L", "E1:N", "B1:call")


@cache
def flagship_ground() -> Ground:
    job = flagship()
    return ground(job.fitted, coverage(job.fitted), job.job.conversion.expect)


@st.composite
def measurements(draw: st.DrawFn, suspects: int) -> Measurement:
    """Return a strategy for a question with any answers; who is unsafe or doubtful is any too."""
    reached = flagship_ground()
    kind = draw(st.sampled_from([Kind.METER, Kind.METER, Kind.READ, Kind.SEE]))
    said = draw(st.lists(st.integers(0, 2), min_size=suspects, max_size=suspects))
    unsafe = sum(1 << n for n in range(suspects)
                 if kind is not Kind.METER and draw(st.integers(0, 5)) == 0)
    answers = tuple((word, mask) for which, word in enumerate((JOINED, LOAD, OPEN)) if (
        mask := sum(1 << n for n, each in enumerate(said) if each == which) & ~unsafe))
    opens = dict(answers).get(OPEN, 0)
    doubtful = draw(st.integers(0, (1 << suspects) - 1)) & opens if kind is Kind.METER else 0
    pair = draw(st.lists(st.sampled_from(TERMINALS), min_size=2, max_size=2, unique=True))
    live = kind in (Kind.READ, Kind.SEE)
    at = draw(st.sampled_from(reached.cases)).setting if live else ANY
    probes = () if kind is Kind.SEE else tuple(pair)
    lids = tuple(dict.fromkeys(filter(None, map(reached.lid, probes))))
    return Measurement(kind, at, probes, lids, answers, unsafe, doubtful)


@st.composite
def trees(draw: st.DrawFn) -> tuple[int, list[Measurement], Tree]:
    """Return a strategy for a number of suspects, questions about them, and the tree."""
    count = draw(st.integers(1, 9))
    asked = draw(st.lists(measurements(count), max_size=12))
    reached = flagship_ground()
    complaint = Complaint("made", reached.cases[1], (1 << count) - 1, draw(st.booleans()))
    costs = draw(st.sampled_from([USUAL, Costs(kind="costs", lid=50, valve=0)]))
    return count, asked, tree(reached, complaint, asked, costs)


def reached_with(grown: Tree, number: int, left: int, failing: int) -> list[End]:
    """Return where a suspect ends; `left` are in question, number `failing` is not answered."""
    if isinstance(grown, End):
        return [grown]
    asked = grown.measurement
    assert not asked.unsafe & left
    if failing == 1:
        return reached_with(grown.could_not, number, left, 0)
    ends = []
    for word, then in grown.answers:
        mask = dict(asked.among(left))[word]
        doubted = asked.doubtful >> number & 1 and word == LOAD
        if mask >> number & 1 or doubted:
            ends += reached_with(then, number, mask, max(failing - 1, 0))
    return ends


@settings(deadline=None, max_examples=150)
@given(trees())
def test_every_suspect_is_at_the_end_whatever_could_not_be_measured(
        made: tuple[int, list[Measurement], Tree]) -> None:
    count, _, grown = made
    for number in range(count):
        for failing in range(6):
            ends = reached_with(grown, number, (1 << count) - 1, failing)
            assert ends
            assert all(any(number in group for group in end.classes) for end in ends)


@settings(deadline=None, max_examples=150)
@given(trees())
def test_no_question_tells_members_of_a_class_apart(
        made: tuple[int, list[Measurement], Tree]) -> None:
    count, asked, _ = made
    groups = classes((1 << count) - 1, asked)
    assert sorted(number for group in groups for number in group) == list(range(count))
    for group in groups:
        mask = sum(1 << number for number in group)
        assert all(m.unsafe & mask or len(m.among(mask)) == 1 for m in asked)
