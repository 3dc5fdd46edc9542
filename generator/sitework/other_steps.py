"""The steps around the wiring: before it, between taking out and connecting, and after it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from generator.circuit.elements import part_of
from generator.recipe.words import SetUp
from generator.sitework.changes import CableChange, Fate
from generator.sitework.competence import FITTED_BY, OPENED_BY, opener
from generator.sitework.coverage import Coverage
from generator.sitework.dead_checks import inspections
from generator.sitework.dead_lines import DeadLine, DeadSheet, dead_sheet
from generator.sitework.dead_stages import work_dead_points, work_isolations, work_notices
from generator.sitework.dead_tests import DeadKind
from generator.sitework.isolation import DeadPoint, Isolation, isolations
from generator.sitework.live_tests import LiveTest, live_tests
from generator.sitework.setting_up import (
    NOT_YET,
    after_the_tests,
    before_the_tests,
    joining,
    last_safety,
)
from generator.sitework.step import Step
from generator.sitework.survey import EARTHING
from generator.sitework.trials import Trials
from generator.sitework.work import Work

PROVE = ("Prove the indicator, test every pair, prove the indicator again.",)


def survey_steps(work: Work) -> tuple[Step, ...]:
    """Return what is looked at before anything is opened."""
    fits = work.job.job.conversion.fits
    return (*(Step(f"See that this is there: {need}") for need in fits.needs),
            *(Step(look) for look in fits.look),
            Step(EARTHING.look, look=(EARTHING.needs, EARTHING.otherwise)),
            *(Step(f"If this is found: {doubt.found}", look=(doubt.then,))
              for doubt in fits.not_with))


def dead_steps(work: Work) -> tuple[Step, ...]:
    """Return every supply made dead, then every box proved dead."""
    isolated = [_isolate(each) for each in work_isolations(work)]
    notices = (Step(f"Hang a notice on -{each.part}: {each.text}", _at(work, each.part), each.part)
               for each in work_notices(work))
    proved = (_prove(point) for point in work_dead_points(work) if not point.later)
    here = isolated[-1].place if isolated else ""
    return (*isolated, *by_place([*notices, *proved], here))


def _isolate(isolation: Isolation) -> Step:
    words = ", ".join(f"{name.split('.')[1]} {word}" for name, word in isolation.settings)
    caution = []
    if isolation.opened:
        caution.append("It is opened on the job: first its circuit off at the consumer unit, "
                       "locked, with a caution notice.")
    if isolation.stays_live:
        live = ", ".join(f"-{terminal}" for terminal in isolation.stays_live)
        where = "in the socket" if isolation.plug else "behind its own switch"
        caution.append(f"Its supply side stays live {where}: {live}.")
    says = f"{isolation.says}, not there yet" if isolation.comes else isolation.says
    return Step(f"Isolate {says} at -{isolation.part} {isolation.called}: {words}",
                isolation.place, isolation.part,
                look=(isolation.locked,) if isolation.locked and not isolation.opened else (),
                caution=tuple(caution))


def _prove(point: DeadPoint) -> Step:
    pairs = "; ".join(f":{row.terminal.partition(':')[2]} to " + ", ".join(
        against.partition(":")[1] + against.partition(":")[2] or against for against in row.against)
        for row in point.rows)
    opened = OPENED_BY.get(point.competence)
    return Step(f"Prove -{point.part} {point.called} dead: {pairs}", point.place, point.part,
                look=PROVE, caution=(opened,) if opened else ())


def fix_steps(work: Work, start: str, end: str) -> tuple[Step, ...]:
    """Return what is fixed on the wall and laid, on the way from one place to another."""
    new = [Step(f"Fix -{part.designation} {part.called}", part.place, part.designation,
                tool=work.part(part.designation).part.tool,
                caution=_only_by(work, FITTED_BY, part.designation))
           for part in work.changes.parts if part.fate is Fate.NEW]
    laid = [_lay(work, cable) for cable in work.changes.cables if cable.fate is Fate.NEW]
    return by_place([*new, *laid, *_brought(work)], start, end)


def _only_by(work: Work, who: Mapping[str, str], *parts: str) -> tuple[str, ...]:
    """Return what is said of parts that only people of a competence of their own may touch."""
    kinds = (opener(work.part(part), work.job.job.fitted) for part in parts)
    return tuple(dict.fromkeys(who[kind] for kind in kinds if kind in who))


def author_steps(work: Work) -> tuple[Step, ...]:
    """Return the author's own steps of taking out, with who may do them where they are done."""
    return tuple(Step(said, caution=_only_by(work, OPENED_BY, *_spoken_of(work, said)))
                 for said in work.job.job.conversion.take_out)


def _spoken_of(work: Work, said: str) -> Iterator[str]:
    """Yield the parts named by designation, and the one that a step begins at: `At the ...`."""
    for name in {**work.job.job.found.parts, **work.job.job.fitted.parts}:
        called = re.escape(work.part(name).called.lower())
        if re.search(rf"-{name}\b", said) or re.match(rf"at the {called}\b", said.lower()):
            yield name


def _lay(work: Work, cable: CableChange) -> Step:
    boxes = list(dict.fromkeys(part_of(end) for core in cable.cores if core.after
                               for end in core.after))
    return Step(f"Lay -{cable.designation} {cable.what}, {cable.length:g} m, between "
                + " and ".join(f"-{box}" for box in boxes), _at(work, boxes[0]) if boxes else "",
                boxes[0] if boxes else "", cable.designation,
                look=("Each end through its own entry, and clamped.",),
                caution=_only_by(work, OPENED_BY, *boxes))


def _brought(work: Work) -> Iterator[Step]:
    """Yield for each box the cables that are there already and whose ends come into it."""
    into: dict[str, dict[str, None]] = {}
    for run in work.place.runs:
        for end in run.ends:
            before, after = (work.outermost(part_of(t)) if t else "" for t in (
                end.before, end.after))
            if run.cable and before and after and before != after:
                into.setdefault(after, {})[run.cable] = None
    for part, cables in into.items():
        named = ", ".join(f"-{cable}" for cable in cables)
        yield Step(f"Bring into -{part} {work.part(part).called}: {named}", _at(work, part), part,
                   look=("Each through an entry of its own, and clamped.",),
                   caution=_only_by(work, OPENED_BY, part))


def check_steps(work: Work, covered: Coverage) -> tuple[Step, ...]:
    """Return what is looked at and measured before the supply comes back."""
    sheet = dead_sheet(covered)
    looks = [Step(f"Look at {each.part}", _at(work, _designation(each.part)),
                  _designation(each.part), look=each.looks)
             for each in inspections(work.job.fitted, work.opened)]
    joined = [_measure(work, line) for line in (*sheet.joined, *sheet.switched)]
    return (*by_place([*looks, *joined]), *_apart(work, sheet), *map(Step, (
        "Earth: every metal part to the main earthing terminal, a low resistance",
        "Polarity: brown is line and blue is neutral in every opened box, sleeves excepted",
        "Insulation: all lines and neutrals joined together to earth, at 500 V d.c.: at least 1 MΩ",
        "Leads off and counted out; what came off for the tests landed again and read again",
        "Look at every terminal once more before a lid goes on")))


def _designation(called: str) -> str:
    return called.removeprefix("-").split()[0]


def _apart(work: Work, sheet: DeadSheet) -> Iterator[Step]:
    if sheet.bare and sheet.apart:
        out = ", ".join(f"-{part}" for part in sheet.bare)
        yield Step(f"Take the electronics off: {out}; each core that comes off insulated")
    for off in sheet.shut if sheet.apart else ():
        cores = ", ".join(f"-{core} off -{way}" for core, way in off.cores)
        yield Step(f"-{off.part} stays shut: {cores}, insulated",
                   _at(work, part_of(off.cores[0][1])), part_of(off.cores[0][1]))
    yield from (_measure(work, line) for line in (*sheet.apart, *sheet.through))


def _measure(work: Work, line: DeadLine) -> Step:
    one, other = (", ".join(f"-{t}" for t in group) for group in (line.one, line.other))
    setting = "".join(f", with -{name} {word}" for name, word in line.settings)
    through = line.kind is DeadKind.THROUGH
    verb = "Through a load" if through else "Joined" if line.joined else "Not joined"
    return Step(f"{verb}{setting}: {one} to {other}", _at(work, part_of(line.one[0])),
                part_of(line.one[0]), look=(line.does,) if line.does else ())


def energise_steps(work: Work) -> tuple[Step, ...]:
    """Return how the supply comes back."""
    words = work.job.job.conversion.first_on
    return (*(Step(said) for said in words), Step("No test lead is left in any box: counted"),
            *switch_on_steps(work),
            Step("Earth fault loop impedance at the furthest metal part; the RCD timed, if there "
                 "is one"))


def switch_on_steps(work: Work) -> tuple[Step, ...]:
    """Return how each way that was locked off comes on again, as the fitted system calls it."""
    lines = {s.name: s.line for wall in (work.job.found, work.job.fitted)
             for s in wall.circuit.supplies}
    fed = {lines[each.supply] for each in work_isolations(work) if _feeds(work, each)}
    steps = [step for each in isolations(work.job.fitted, work.opened)
             if lines[each.supply] in fed for step in _switch_on(work, each)]
    covers = ("Covers on, save the one that is read at. Every call off.",)
    return tuple(replace(step, caution=() if i else covers) for i, step in enumerate(steps))


def _switch_on(work: Work, isolation: Isolation) -> Iterator[Step]:
    """Yield the way at the consumer unit first, where it was off there, then the switch itself."""
    switches = work.part(isolation.part).part.switches
    on = ", ".join(f"{switch} {shape.worked if word == shape.rest else shape.rest}"
                   for name, word in reversed(isolation.settings)
                   for switch in (name.partition(".")[2],) for shape in (switches[switch],))
    says = f"{isolation.says} at -{isolation.part} {isolation.called}: {on}"
    if isolation.opened:
        yield Step(f"At the consumer unit: lock off, the way of {isolation.says} on")
        yield Step(f"Switch on {says}", isolation.place, isolation.part)
    else:
        yield Step(f"Lock off, switch on {says}", isolation.place, isolation.part)


def _feeds(work: Work, isolation: Isolation) -> bool:
    """Return whether a supply feeds anything of the new wiring."""
    joined = work.joins
    return any(isolation.supply in stage.after and stage.after[isolation.supply] & stage.fresh
               for stage in joined)


def test_steps(work: Work, tried: Trials) -> tuple[Step, ...]:
    """Return the tests with the supply on, in order; what is set up comes after the safety tests.

    Until then nothing has shown that the boiler stays off, and that its cut-outs are in the way.
    What would disturb a test comes last.
    """
    made = live_tests(work.job.fitted, tried)
    tests, safety = [_test(number, test) for number, test in enumerate(made, 1)], last_safety(made)
    said = work.job.job.conversion.set_up
    first = (*_set_up(before_the_tests(said)), *(() if said else _joined(work)))
    on = (Step("Supply on again"),) if first and made[safety - 1].isolated else ()
    wait = (Step(NOT_YET[0], caution=NOT_YET[1:]),) if first else ()
    return (*wait, *tests[:safety], *on, *first, *tests[safety:],
            *_set_up(after_the_tests(said)))


def _set_up(steps: Iterable[SetUp]) -> Iterator[Step]:
    for step in steps:
        works = (f"{zone}: {how}" for zone, how in step.works.items())
        yield Step(step.do, look=("If it is broken off here: " + "; ".join(works),)
                   if step.works else ())


def _joined(work: Work) -> Iterator[Step]:
    for name, _, steps in joining(work.job.job):
        yield from (Step(said, _at(work, name), name) for said in steps)


def _test(number: int, test: LiveTest) -> Step:
    settings = ", ".join(f"{s.part} {s.switch} {s.word}" for s in test.settings)
    seen = tuple(f"{what}: {word}" for what, word in test.seen)
    reads = tuple(f"-{r.terminal} to -{r.against}: {r.volts}" if ":" in r.against
                  else f"-{r.terminal} to {r.against}: {r.volts}" for r in test.reads)
    how = tuple(f"{s.part} {s.switch}: {s.how}" for s in test.settings if s.how)
    safety = (*test.cautions, *(("Made on every job: a safety test.",) if test.safety else ()))
    return Step(f"Test {number}, {test.name}: {settings}", look=(*how, *seen, *reads),
                caution=safety)


def close_steps(work: Work) -> tuple[Step, ...]:
    """Return what is set, labelled and left."""
    words = work.job.job.conversion
    notices = (Step(f"Label at {notice.where or '-' + notice.at}: {notice.text}",
                    "" if notice.where else _at(work, notice.at), notice.at)
               for notice in work.job.job.fitted.system.notices)
    return (*(Step(said) for said in words.settings), *by_place(notices),
            *(Step(f"For the record: {said}") for said in words.record))


def by_place(steps: Iterable[Step], start: str = "", end: str = "") -> tuple[Step, ...]:
    """Return steps place by place, each place once: from where one stands to where one goes on."""
    steps = tuple(steps)
    met = list(dict.fromkeys(step.place for step in steps))
    between = [place for place in met if place not in (start, end)]
    places = list(dict.fromkeys((start, *between, end)))
    return tuple(sorted(steps, key=lambda step: places.index(step.place)))


def _at(work: Work, part: str) -> str:
    return work.part(part).placed.at
