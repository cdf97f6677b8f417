"""The search for a layout: a problem goes in, the best layout found comes out with the verdict of the proof.

Each start is relaxed in thin wire, which fixes the weave; the best go on while the wire is thickened in
stages. Work is counted in steps, never in seconds, so that the same problem gives the same layout.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

import numpy as np
from msgspec import structs

from compiler.layout import Circle, Layout, LayoutProblem, RingSize, Verdict, mirrored, rounded_circle
from compiler.prove import prove
from compiler.settle.contacts import linking
from compiler.settle.ends import pointing_outward
from compiler.settle.evening import evened
from compiler.settle.join import joined
from compiler.settle.model import LINKED, MINUS, PLUS, Model, build_model
from compiler.settle.pendants import hung, stripped, whole_of
from compiler.settle.relax import Pose, Pressure, Progress, Relaxation, Template, ring_centres
from compiler.settle.repeats import repeats_of, shortened
from compiler.settle.signs import chosen_signs
from compiler.settle.start import Start, build_starts

_THIN = 0.15  # share of the true wire in which a weave is first put right
_STAGES = (0.3, 0.5, 0.7, 0.85, 0.95)
_ROOM = 1.03  # wires are kept this much farther apart than they must be
_GENTLE = Pressure(shape=0.02, flat=0.02, normal=0.02)
_FAINT = Pressure(shape=0.002, flat=0.002, normal=0.002)
_NONE = Pressure(shape=0.0, flat=0.0, normal=0.0)
_Ending = tuple[Pressure, float, float, float]
_ENDINGS: tuple[_Ending, ...] = (  # pressure, room, share of the steps and calm asked for at the true wire
    (_GENTLE, _ROOM, 0.5, 5e-5),
    (_FAINT, _ROOM, 0.25, 5e-5),
    (_NONE, _ROOM, 0.25, 0.0),
    (_NONE, 1.012, 1.0, 0.0),
    (_NONE, 1.05, 0.5, 0.0),  # wires that creep apart creep faster if more is asked for
)
_FEW_ENDINGS = _ENDINGS[:3]
_NEARLY, _ALMOST = 0.9, 0.98  # clearance from which the last but one is tried, and the last
_EVEN = 0.08  # strain of a layout as regular as its template; a more crooked one is not taken at once
_MORE = 3  # how many more starts are tried after a crooked layout
_AGAIN = (
    0.2  # after a crooked layout the search goes on for as much work again, and at least this share of all
)
_RUNNERS, _GO_ON = 6, 2  # starts that run a first heat together, and how many of those go on
_LINK_WORTH = 1_000_000  # facts of what lies over what, or how a round closes, that one wrong pair outweighs
_WIDE = 200  # a piece of so many rings is given twice the work of a small one
_OVERHEAD = 60  # a step of no rings costs as much as one of this many
_EMPTY = Verdict(proved=True, clearance=2.0, tightest=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """How much work a search may do."""

    heat: int = 40  # steps for each start in thin wire
    first: int = 160  # steps in thin wire, in all, for the best of a few starts
    stage: int = 120  # steps for each thickening
    last: int = 600  # steps at the true wire
    work: int = 300_000  # steps times rings (and some overhead), for few rings; the start in hand is finished


@dataclass(slots=True)
class _Purse:
    """What is left of the budget."""

    work: int
    proved: bool = False  # a layout is known, if a crooked one: only what is right at once may be better

    def pay(self, relaxation: Relaxation) -> None:
        self.work -= relaxation.take_steps() * (relaxation.model.core.size + _OVERHEAD)


def settle(problem: LayoutProblem, budget: Budget | None = None) -> Layout:
    """The best layout found, proved or not; a failed search is told by the verdict, never by an exception."""
    if not problem.rings:
        return Layout(circles=(), verdict=_EMPTY)
    budget = budget or Budget()
    layout = _sought(problem, budget)
    if layout.verdict.proved:
        layout = _with_even_ends(problem, layout, budget)
    return pointing_outward(problem, layout)


def _with_even_ends(problem: LayoutProblem, layout: Layout, budget: Budget) -> Layout:
    """The layout with its ends as regular as its middle, where that is proved."""
    bare = stripped(problem)
    core = evened(bare.core, [layout.circles[ring] for ring in bare.kept])
    if core is None:
        return layout
    circles = tuple(
        rounded_circle(circle.centre, circle.normal, size)
        for circle, size in zip(hung(problem, bare, core), problem.rings, strict=True)
    )
    even = Layout(circles=circles, verdict=prove(problem, circles))
    if not even.verdict.proved:
        even = _again(problem, even, budget)
    return even if even.verdict.proved else layout


def _sought(problem: LayoutProblem, budget: Budget) -> Layout:
    is_twisted = any(closing.half_turns for closing in problem.closings)
    layout = None if is_twisted else _by_repeats(problem, budget)
    if layout is not None:
        return layout
    found: list[tuple[int, float, float, int, Layout]] = []
    purse = _Purse(round(budget.work * (1 + len(problem.rings) / _WIDE)))
    given = purse.work
    proved_at = -1
    # companions move as one body at first; on their own where that finds nothing, or where something lies
    # between
    for merge in (False,) if problem.between else (True, False):
        model = build_model(problem, merge=merge)
        for relaxation in _promising(problem, model, budget, purse):
            if proved_at > 0 and purse.work <= 0:
                break
            # what is known already is only given up for what comes right without long patience
            layout = _thicken(problem, relaxation, budget, _FEW_ENDINGS if purse.proved else _ENDINGS)
            purse.pay(relaxation)
            found.append((*_rank(layout.verdict, relaxation.strain()), len(found), layout))
            if proved_at < 0 and layout.verdict.proved:
                proved_at = len(found)
                purse.proved = True
                purse.work = min(purse.work, max((given - purse.work) // 2, round(_AGAIN * given)))
            even = layout.verdict.proved and (bool(problem.between) or relaxation.strain() < _EVEN)
            if even or purse.work <= 0 or 0 < proved_at <= len(found) - _MORE:
                return min(found, key=lambda item: item[:4])[4]
        if proved_at > 0 or model.bodies == len(problem.rings):
            break
    return min(found, key=lambda item: item[:4])[4]


def _by_repeats(problem: LayoutProblem, budget: Budget) -> Layout | None:
    """A proved layout of a piece that repeats itself, begun from one of fewer repeats; None where that finds none.

    What hangs on a chain with folds or of a hand is hung on its layout; in a sheet the corners are no pendants.
    """
    bare = stripped(problem) if problem.cycles or problem.between else whole_of(problem)
    repeats = repeats_of(bare.core)
    short = None if repeats is None else shortened(bare.core, repeats)
    if (repeats is None or short is None) and not (bare.pendants and problem.cycles):
        return None
    few = _sought(short or bare.core, budget)
    if not few.verdict.proved:
        return None
    circles = few.circles if repeats is None or short is None else joined(bare.core, repeats, few.circles)
    circles = hung(problem, bare, circles)
    whole = _again(problem, Layout(circles=circles, verdict=few.verdict), budget)
    return whole if whole.verdict.proved else None


def slack(problem: LayoutProblem, layout: Layout, budget: Budget | None = None) -> float:
    """The largest factor found by which all wire can be thicker at the same inner diameters, in a proved layout.

    Thickened in steps from the given layout, each begun from the one before; steps grow until one fails, and the last
    that failed is 1 % or less. Below 1 where the layout is not proved: the wire must be that much thinner; 0.0 if no
    thinner wire helped.
    """
    budget = budget or Budget()
    if not layout.verdict.proved:
        for percent in range(95, 25, -5):
            if settle(_thickened(problem, percent / 100), budget).verdict.proved:
                return percent / 100
        return 0.0
    factor, step, current, growing = 1.0, 0.16, layout, True
    while step > 0.009 and factor < 8:
        tried = _thickened(problem, factor + step)
        found = _again(tried, current, budget, _FEW_ENDINGS)  # the many steps of the last are not worth it
        if found.verdict.proved:
            factor, current = factor + step, found
            step *= 2 if growing else 1
        else:
            growing = False
            step /= 2
    return round(factor, 4)


def _thickened(problem: LayoutProblem, factor: float) -> LayoutProblem:
    """The problem with thicker wire: the holes keep their size, so the cores grow by half of what the wire grows."""
    rings = tuple(
        RingSize(
            core_radius=ring.core_radius + ring.tube_radius * (factor - 1),
            tube_radius=ring.tube_radius * factor,
        )
        for ring in problem.rings
    )
    return structs.replace(problem, rings=rings)


def _again(
    problem: LayoutProblem, layout: Layout, budget: Budget, endings: Sequence[_Ending] = _ENDINGS
) -> Layout:
    """A layout of a problem of the same weave, begun from a layout that was proved."""
    model = build_model(problem, merge=not problem.between)
    count = np.bincount(model.body, minlength=model.bodies)
    place, normal = np.zeros((3, model.bodies)), np.zeros((3, model.bodies))
    for axis in range(3):
        centres = np.array([circle.centre[axis] for circle in layout.circles])
        place[axis] = np.bincount(model.body, weights=centres, minlength=model.bodies) / count
        normals = np.array([circle.normal[axis] for circle in layout.circles])
        normal[axis] = np.bincount(model.body, weights=normals, minlength=model.bodies) / count
    shape = place - place.sum(axis=1)[:, None] / model.bodies
    template = Template(place=shape, normal=normal, weight=np.zeros(model.bodies))
    start = Start(pose=Pose(place=place, normal=normal), template=template)
    relaxation = Relaxation(_signed(problem, model, start.pose), template, start.pose)
    return _finish(problem, relaxation, budget, endings)


def _rank(verdict: Verdict, strain: float = 0.0) -> tuple[int, float, float]:
    """Better is less: fewer wrong facts, then wires less too near, then, proved, less unlike the template."""
    lies = len(verdict.wrong_overs) + len(verdict.wrong_closings) + verdict.wrong_poses
    links = len(verdict.wrong_pairs) + len(verdict.wrong_cycles) + len(verdict.wrong_between)
    wrong = links * _LINK_WORTH + lies
    return wrong, -min(verdict.clearance, 1.0), round(strain, 9) if verdict.proved else 0.0


def _promising(problem: LayoutProblem, model: Model, budget: Budget, purse: _Purse) -> Iterator[Relaxation]:
    """The starts after their time in thin wire: the right ones at once, then those with the fewest wrong pairs.

    A few starts at a time run a first heat, and only the best of those that are not right by then go on.
    """
    waiting: list[tuple[int, float, int, Relaxation]] = []
    starts = enumerate(build_starts(problem, model))
    while purse.work > 0 and (group := list(islice(starts, _RUNNERS))):
        slow: list[tuple[int, float, int, Relaxation]] = []
        for number, start in group:
            relaxation = Relaxation(_signed(problem, model, start.pose), start.template, start.pose)
            progress = _heat(relaxation, budget.heat // (2 if purse.proved else 1), purse)
            if progress.wrong == 0:
                yield relaxation
            else:
                slow.append((progress.wrong, -progress.tightest, number, relaxation))
        slow.sort(key=lambda item: item[:3])
        for _, _, number, relaxation in slow[: 0 if purse.proved else _GO_ON]:
            progress = _heat(relaxation, budget.first - budget.heat, purse)
            if progress.wrong == 0:
                yield relaxation
            else:
                waiting.append((progress.wrong, -progress.tightest, number, relaxation))
        waiting += slow[_GO_ON:]
    waiting.sort(key=lambda item: item[:3])
    for _, _, _, relaxation in waiting:
        yield relaxation


def _heat(relaxation: Relaxation, steps: int, purse: _Purse) -> Progress:
    progress = relaxation.run(wire=_THIN, room=_ROOM, pressure=_GENTLE, steps=steps)
    purse.pay(relaxation)
    return progress


def _signed(problem: LayoutProblem, model: Model, pose: Pose) -> Model:
    """The model with signs chosen for its links: the declared loops have theirs, as near to the pose as may be."""
    if not problem.cycles:
        return model
    centres = ring_centres(model, pose, _THIN)
    signs, _ = linking(centres, pose.normal[:, model.body], model.core, model.pair_a, model.pair_b)
    ends = list(zip(model.pair_a.tolist(), model.pair_b.tolist(), strict=True))
    chosen = chosen_signs(problem.cycles, dict(zip(ends, signs.tolist(), strict=True)))
    if chosen is None:
        return model
    wanted = model.wanted.copy()
    for number, link in enumerate(ends):
        if link in chosen and wanted[number] == LINKED:
            wanted[number] = PLUS if chosen[link] > 0 else MINUS
    return replace(model, wanted=wanted)


def _thicken(
    problem: LayoutProblem, relaxation: Relaxation, budget: Budget, endings: Sequence[_Ending]
) -> Layout:
    """The layout after the wire has grown to its true size; given up where the weave does not come right."""
    for wire in _STAGES:
        progress = relaxation.run(wire=wire, room=_ROOM, pressure=_GENTLE, steps=budget.stage)
        if progress.wrong and wire > 0.5:
            return finished(problem, relaxation)
    return _finish(problem, relaxation, budget, endings)


def _finish(
    problem: LayoutProblem, relaxation: Relaxation, budget: Budget, endings: Sequence[_Ending] = _ENDINGS
) -> Layout:
    """The layout at the true wire, drawn to its template as firmly as the proof allows."""
    best: Layout | None = None
    for pressure, room, share, still in endings:
        steps = int(budget.last * share)
        least = _NEARLY if room < _ROOM else _ALMOST if room > _ROOM else 0.0
        if best is not None and least and _rank(best.verdict) > (0, -least):
            break
        relaxation.run(wire=1.0, room=room, pressure=pressure, steps=steps, still=still, close=0.99)
        found = finished(problem, relaxation)
        if best is None or _rank(found.verdict) < _rank(best.verdict):
            best = found
        if found.verdict.proved:
            return found
    assert best is not None
    return best


def finished(problem: LayoutProblem, relaxation: Relaxation) -> Layout:
    """The rounded circles of a relaxation at the true wire, or their mirror image if more is right there; proved."""
    model, pose = relaxation.model, relaxation.pose
    centres = ring_centres(model, pose, 1.0)
    circles = tuple(
        rounded_circle(centres[:, ring], pose.normal[:, model.body[ring]], size)
        for ring, size in enumerate(problem.rings)
    )
    found = _front_to_back(problem, circles)
    if not found.verdict.wrong_overs and not found.verdict.wrong_closings and not found.verdict.wrong_poses:
        return found
    image = _front_to_back(problem, mirrored(circles))
    return image if _rank(image.verdict) < _rank(found.verdict) else found


def _front_to_back(problem: LayoutProblem, circles: tuple[Circle, ...]) -> Layout:
    """The circles, proved; companions that lie front to back the other way change places, which changes no link."""
    verdict = prove(problem, circles)
    if not verdict.wrong_aheads:
        return Layout(circles=circles, verdict=verdict)
    placed = list(circles)
    for fact in verdict.wrong_aheads:
        for ring, other in zip(fact.rings, reversed(fact.rings), strict=True):
            placed[ring] = circles[other]
    again = prove(problem, placed)
    if _rank(again) < _rank(verdict):
        return Layout(circles=tuple(placed), verdict=again)
    return Layout(circles=circles, verdict=verdict)
