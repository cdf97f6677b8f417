"""Starts of the search: a template, and the normals that the neighbours of each body ask for.

In: a problem and its model. Out: a few `Start`s, most promising first; the same ones every time. Rings whose
neighbours spread in the plane lie flat, rings whose neighbours lie on a line stand across it, flat neighbours
lean.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random

import numpy as np

from compiler.layout import HintUnit, LayoutProblem
from compiler.settle.collars import set_collars
from compiler.settle.contacts import linking
from compiler.settle.drawing import Graph
from compiler.settle.edges import edge_poses
from compiler.settle.folds import folded_start
from compiler.settle.model import Model, neighbours
from compiler.settle.relax import Pose, Template, ring_centres
from compiler.settle.rosettes import rosette_poses
from compiler.settle.shingles import shingled
from compiler.settle.signs import loop_links
from compiler.settle.space import Spread, closed_screws, leaned, spread_in_space, surface_normals, wrapped
from compiler.settle.strips import strip_poses
from compiler.settle.template import drawn_places, edge_lengths, hinted_places, parts, straight_joints
from compiler.settle.twist import twisted
from compiler.settle.vectors import Bools, Floats, Ints, total, unit

_CLUSTER = 4.0  # in core radii, half the extent of a piece that may be one propeller
_NARROW = 2.5  # in core radii, half the width of a piece that may be one line
_LARGE = 700  # bodies; more are not drawn in space
_PERHAPS, _SURELY = 0.03, 0.05  # by how much the mean square error falls where a weave is drawn in space
_SCATTERED = 3  # starts with random tilts
_REGULAR = 4  # starts of a strip of single rings, or of a rosette
_MIDDLE, _BETTER = (
    0.5,
    0.05,
)  # core radii about the middle of a disc where nothing leans; by how much to lean round it is
# better than to lean one way
_LEAN = 0.45  # tangent of the lean of flat rings that are linked with flat rings


@dataclass(slots=True, kw_only=True)
class Start:
    """Where a search begins."""

    pose: Pose
    template: Template


def build_starts(problem: LayoutProblem, model: Model) -> Iterator[Start]:
    """The starts, most promising first: a chain with folds or half turns, the hinted places, a drawing of our own."""
    if problem.between and model.bodies == len(problem.rings):
        pose, template = folded_start(problem, model)
        yield Start(pose=pose, template=template)
    if model.bodies == len(problem.rings):
        regular = [
            _start(pose.place, pose.normal, pose.normal, np.full(model.bodies, 0.3))
            for pose in (*strip_poses(problem), *rosette_poses(problem), *edge_poses(problem))
        ]
        yield from list(_by_signs(problem, model, regular))[:_REGULAR]
    places, tied = hinted_places(problem, model), problem.hint_unit is HintUnit.MILLIMETRE
    if problem.overs and not problem.cycles and places is not None:
        base = _bases(model, places)[0]
        for place, normal in shingled(problem, model, places, base):
            start = _start(place, normal, normal, np.ones(model.bodies))
            yield Start(pose=start.pose, template=replace(start.template, spreads=False))
    for place, normal in twisted(problem, model):
        yield _start(place, normal, normal, np.zeros(model.bodies))
    spreads, late = _spreads_in_space(model, places)
    if not late:
        yield from _by_signs(problem, model, _space_starts(model, spreads))
    rare: list[Iterator[Start]] = []
    if places is not None:
        usual, scarce = _plain_starts(problem, model, places)
        yield from _tied_or_free(problem, model, usual, tied)
        rare.append(_tied_or_free(problem, model, scarce, tied))
    usual, scarce = _plain_starts(problem, model, drawn_places(model))
    yield from _tied_or_free(problem, model, usual, True)
    for starts in (*rare, _tied_or_free(problem, model, scarce, True)):
        yield from starts
    if late:
        yield from _by_signs(problem, model, _space_starts(model, spreads))


def _spreads_in_space(model: Model, places: Floats | None) -> tuple[list[Spread], bool]:
    """The drawings in space of a weave that does not lie flat, and whether a flat one is better tried before them."""
    if not model.edge_a.size or len(parts(model)) > 1:
        return [], False
    rolled = None if places is None else wrapped(model, places)
    if rolled is None and model.bodies > _LARGE:
        return [], False
    graph = Graph(
        count=model.bodies,
        edge_a=model.edge_a,
        edge_b=model.edge_b,
        lengths=edge_lengths(model),
        joint=straight_joints(model),
    )
    spread, gain = spread_in_space(graph, neighbours(model))
    if rolled is not None:
        return [rolled, spread], False
    return ([spread], gain < _SURELY) if gain > _PERHAPS else ([], False)


def _tied_or_free(problem: LayoutProblem, model: Model, starts: list[Start], tied: bool) -> Iterator[Start]:
    """The starts; tied where the ratios of their axes are known, and then the first also free."""
    for number, start in enumerate(_by_signs(problem, model, starts)):
        start.template.tied = tied
        yield start
        if tied and number == 0:
            yield Start(pose=start.pose, template=replace(start.template, tied=False))


def _by_signs(problem: LayoutProblem, model: Model, starts: list[Start]) -> Iterator[Start]:
    """The starts, those with the fewest loops of the other hand first; collars are put in their places."""
    for start in sorted(starts, key=lambda start: _against(problem, model, start.pose)):
        set_collars(model, start.pose, start.template)
        yield start


def _space_starts(model: Model, spreads: list[Spread]) -> list[Start]:
    """The starts from drawings in space: rings in the surface, leaning where they are linked with one another."""
    out = []
    around, lies = neighbours(model), ~straight_joints(model)
    leaning, colour, _ = _two_colours(model, lies)
    tilt = np.where(leaning, np.where(colour == 0, 1.0, -1.0), 0.0)
    wish = np.where(leaning, 0.3, 1.0)
    for spread in spreads:
        base = surface_normals(spread, around, lies.tolist())
        for normal in leaned(spread, base, tilt) if leaning.any() else [base]:
            start = _start(spread.place, normal, normal, wish)
            out.append(Start(pose=start.pose, template=replace(start.template, tied=True)))
            out.append(start)
    return out


def _against(problem: LayoutProblem, model: Model, pose: Pose) -> int:
    """How many of the declared loops have not the declared product of signs in a pose."""
    if not problem.cycles:
        return 0
    centres = ring_centres(model, pose, 0.0)
    signs, _ = linking(centres, pose.normal[:, model.body], model.core, model.pair_a, model.pair_b)
    sign = dict(
        zip(zip(model.pair_a.tolist(), model.pair_b.tolist(), strict=True), signs.tolist(), strict=True)
    )
    return sum(
        math.prod(sign.get(link, 0) for link in loop_links(cycle)) != cycle.product
        for cycle in problem.cycles
    )


def _plain_starts(problem: LayoutProblem, model: Model, place: Floats) -> tuple[list[Start], list[Start]]:
    """The starts as if every declared pair were linked: the usual ones, and those that are seldom right."""
    extent = np.abs(place).max(axis=1) / float(model.size.max())
    base, lies = _bases(model, place)
    leaning, colour, clean = _two_colours(model, lies)
    wish = np.where(lies & leaning, 0.3, 1.0)
    starts = _hinted_starts(problem, model, place, base, wish)
    if not leaning.any():
        starts.append(_start(place, base, base, wish))
    leaned = _asked_leans(problem, model, place, base, wish, colour)
    for along in _lean_directions(model, place, lies) if leaning.any() else []:
        tilt = np.where(lies, np.where(colour == 0, 1.0, -1.0), 0.0) * _LEAN
        normal = base + np.stack([*(along * tilt), np.zeros(model.bodies)])
        leaned.append(_start(place, unit(normal), base, wish))
    propellers = []
    if leaning.any() and max(extent) < _CLUSTER:
        size = max(math.sqrt(total(place**2) / model.bodies), 1e-9)
        for hand in (1.0, -1.0):  # every link of the same sign
            tilts = hand * _LEAN * np.stack([-place[1], place[0], np.zeros(model.bodies)]) / size * lies
            propellers.append(_start(0.5 * place, unit(base + tilts), base, 0.3 * wish))
    starts += leaned + propellers if clean else propellers + leaned
    rare = _scattered(model, place, base)
    if leaning.any() or not lies.any():
        rare += _line_starts(model, place, extent)
        screws = closed_screws(model, place)
        rare += [_start(place, normal, normal, np.zeros(model.bodies)) for normal in screws]
    return starts, rare


def _asked_leans(
    problem: LayoutProblem, model: Model, place: Floats, base: Floats, wish: Floats, colour: Ints
) -> list[Start]:
    """Starts in which the rings of a sheet lean along its rows as is said of them; none where nothing is.

    Parallel rings are never linked, so where neighbours lean alike they lean across the rows by turns.
    """
    if not problem.leans:
        return []
    tilt = np.zeros(model.bodies)
    along = np.zeros((3, 1))
    for lean in problem.leans:
        tilt[int(model.body[lean.ring])] = -_LEAN if lean.right else _LEAN
        left, right = (int(model.body[ring]) for ring in lean.frame[:2])
        along[:, 0] += place[:, right] - place[:, left]
    along = unit(along)
    across = np.array([-along[1], along[0], along[2]])
    alike = tilt[model.edge_a] * tilt[model.edge_b] > 0
    out = []
    for share in (0.0,) if not alike.any() else (1.0, 0.5, 1.5):
        normal = unit(base + along * tilt + across * np.where(colour == 0, _LEAN, -_LEAN) * share)
        out.append(_start(place, normal, normal if share else base, wish))
    return out


def _bases(model: Model, place: Floats) -> tuple[Floats, Bools]:
    """Normals (3, m) by the rule for flat rings and for those that stand, and which lie flat."""
    around = neighbours(model)
    lies = _lying(model, _spreads(model, place))
    if lies.any():
        return np.where(_even_from(lies, around), _upright(model), _across(model, place, around)), lies
    return _alternating(model, place, around), lies


def _lying(model: Model, spread: Bools) -> Bools:
    """Which bodies lie flat: those whose neighbours spread, and others of the same size where most do."""
    joint = straight_joints(model)
    if not (spread & ~joint).any():
        return spread
    busy = {float(size) for size in model.size[spread & ~joint]}
    mostly = {size for size in busy if 2 * spread[model.size == size].sum() > (model.size == size).sum()}
    lies: Bools = ~joint & (spread | np.array([float(size) in mostly for size in model.size]))
    return lies


def _upright(model: Model) -> Floats:
    """The normals (3, m) of rings that lie flat."""
    normal = np.zeros((3, model.bodies))
    normal[2] = 1.0
    return normal


def _hinted_starts(
    problem: LayoutProblem, model: Model, place: Floats, base: Floats, wish: Floats
) -> list[Start]:
    """The start with the hinted normals, and the rule's where none is hinted; none without such hints."""
    hinted = np.zeros((3, model.bodies))
    for hint in problem.hints:
        if hint.normal is not None:
            hinted[:, int(model.body[hint.ring])] += hint.normal
    given = np.abs(hinted).max(axis=0) > 0
    if not given.any():
        return []
    normal = np.where(given, unit(hinted), base)
    # in a flat sheet the lean is only as much as the wires ask for; elsewhere the hint is the wish
    sheet = bool((place[2] == 0).all())
    flat = given & (np.abs(normal[2]) > 0.35) & sheet
    wished = np.where(flat, _upright(model), normal)
    return [_start(place, normal, wished, np.where(given, np.where(flat, 0.3, 0.5), wish))]


def _scattered(model: Model, place: Floats, base: Floats) -> list[Start]:
    """Starts with normals tilted at random, by a generator with fixed seeds."""
    out = []
    for seed in range(_SCATTERED):
        source = Random(seed)
        tilts = np.array([source.uniform(-1, 1) for _ in range(3 * model.bodies)]).reshape(3, -1)
        out.append(_start(place, unit(base + 0.7 * tilts), base, np.zeros(model.bodies)))
    return out


def _line_starts(model: Model, place: Floats, extent: Floats) -> list[Start]:
    """Screws along x, for what is not wide."""
    if extent[1] > _NARROW:
        return []
    line = place.copy()
    line[1] = 0.0
    return [_start(line, normal, normal, np.zeros(model.bodies)) for normal in _turning(model, line)]


def _start(place: Floats, normal: Floats, wished: Floats, weight: Floats) -> Start:
    return Start(
        pose=Pose(place=place.copy(), normal=unit(normal)),
        template=Template(place=place.copy(), normal=unit(wished), weight=weight),
    )


def _spreads(model: Model, place: Floats) -> Bools:
    """Which bodies (m,) have neighbours in directions that span the plane."""
    a, b = model.edge_a, model.edge_b
    step = unit(place[:, b] - place[:, a])
    sums = np.zeros((3, model.bodies))
    for row, values in enumerate((step[0] ** 2, step[1] ** 2, step[0] * step[1])):
        sums[row] = np.bincount(a, weights=values, minlength=model.bodies)
        sums[row] += np.bincount(b, weights=values, minlength=model.bodies)
    half = (sums[0] + sums[1]) / 2
    swing = np.sqrt(((sums[0] - sums[1]) / 2) ** 2 + sums[2] ** 2)
    spread: Bools = (half - swing) > 0.1 * np.maximum(half + swing, 1e-9)
    return spread


def _across(model: Model, place: Floats, around: list[list[int]]) -> Floats:
    """Normals (3, m) in the plane, across the main direction of each body's neighbours."""
    out = np.zeros((3, model.bodies))
    out[1] = 1.0
    for node, others in enumerate(around):
        if others:
            x = [float(place[0, other] - place[0, node]) for other in others]
            y = [float(place[1, other] - place[1, node]) for other in others]
            xx = math.fsum(u * u for u in x)
            yy = math.fsum(v * v for v in y)
            xy = math.fsum(u * v for u, v in zip(x, y, strict=True))
            angle = 0.5 * math.atan2(2 * xy, xx - yy)
            out[:, node] = (-math.sin(angle), math.cos(angle), 0.0)
    return out


def _even_from(sources: Bools, around: list[list[int]]) -> Bools:
    """Whether the nearest flat body is an even number of links away; (m,)."""
    steps = np.full(len(around), -1, dtype=np.int64)
    queue = [int(node) for node in np.nonzero(sources)[0]]
    steps[queue] = 0
    for node in queue:
        for other in around[node]:
            if steps[other] < 0:
                steps[other] = steps[node] + 1
                queue.append(other)
    even: Bools = steps % 2 == 0
    return even


def _alternating(model: Model, place: Floats, around: list[list[int]]) -> Floats:
    """The normals (3, m) of chains: alternately flat and standing."""
    first = np.zeros(model.bodies, dtype=bool)
    first[[members[0] for members in parts(model)]] = True
    return np.where(_even_from(first, around), _upright(model), _across(model, place, around))


def _turning(model: Model, place: Floats) -> list[Floats]:
    """Normals (3, m) of rings that follow each other along x like the blades of a screw."""
    order = np.argsort(place[0], kind="stable")
    out = []
    for slope in (0.9, 0.5):
        for degrees in (60, -60, 120, -120, 90, -90, 30, -30, 150, -150, 180):
            normal = np.zeros((3, model.bodies))
            for turn, node in enumerate(order):
                angle = math.radians(degrees) * turn
                normal[:, node] = (1.0, math.cos(angle) * slope, math.sin(angle) * slope)
            out.append(unit(normal))
    return out


def _two_colours(model: Model, lies: Bools) -> tuple[Bools, Ints, bool]:
    """Which flat bodies have flat neighbours, a colour 0 or 1 for each, and whether neighbours always differ."""
    flat = [
        (a, b)
        for a, b in zip(model.edge_a.tolist(), model.edge_b.tolist(), strict=True)
        if lies[a] and lies[b]
    ]
    leaning = np.zeros(model.bodies, dtype=bool)
    beside: list[list[int]] = [[] for _ in range(model.bodies)]
    for a, b in flat:
        leaning[[a, b]] = True
        beside[a].append(b)
        beside[b].append(a)
    colour, clean = np.full(model.bodies, -1, dtype=np.int64), True
    for root in range(model.bodies):
        if colour[root] >= 0:
            continue
        colour[root] = 0
        queue = [root]
        for node in queue:
            for other in beside[node]:
                if colour[other] < 0:
                    colour[other] = 1 - colour[node]
                    queue.append(other)
                elif colour[other] == colour[node]:
                    clean = False
    return leaning, colour, clean


def _lean_directions(model: Model, place: Floats, lies: Bools) -> list[Floats]:
    """Directions (2, m) in the plane that are as little as possible in line with the normals of links of flat bodies.

    The two best that are the same all over, and before them that round the middle, where it is better: in a disc.
    """
    keep = lies[model.edge_a] & lies[model.edge_b]
    a, b = model.edge_a[keep], model.edge_b[keep]
    step = unit(place[:, b] - place[:, a])
    ranked: list[tuple[float, int, Floats]] = []
    for number in range(13):
        angle = math.pi * number / 12
        along = np.repeat([[math.cos(angle)], [math.sin(angle)]], model.bodies, axis=1)
        if number == 12:
            far = np.sqrt(place[0] ** 2 + place[1] ** 2)
            along = np.stack([-place[1], place[0]]) / np.maximum(far, _MIDDLE * float(model.size.max()))
        one, other = along[0][a] + along[0][b], along[1][a] + along[1][b]
        strength = np.sort(np.abs(other * step[0] - one * step[1]) / 2)
        ranked.append((-round(float(strength[strength.size // 10]), 6), number, along))
    *straight, about = ranked
    straight.sort(key=lambda item: item[:2])
    out = [straight[0][2], straight[1][2]]
    return [about[2], *out] if about[0] < straight[0][0] - _BETTER else out
