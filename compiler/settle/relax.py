"""Rigid rings pushed apart where wires overlap, drawn through each other where their state is wrong.

In: a model, a template, places and normals of bodies. Out: better ones. Every body moves along the forces of
its contacts, divided by their stiffness, with momentum. Besides single bodies the piece as a whole stretches
along the template's axes, because a sheet that must grow everywhere would otherwise grow only from its rim.
"""

import math
from dataclasses import dataclass

import numpy as np

from compiler.settle.contacts import Contacts, find_contacts, follow, linking, near_pairs, pick
from compiler.settle.model import APART, AROUND, INSIDE, LINKED, MINUS, PLUS, Model
from compiler.settle.vectors import Bools, Floats, Ints, cross, dot, length, scatter, total, unit

_STEP = 0.3  # share of a Newton step; a contact moves two bodies in two ways each, so 0.5 is the limit of stability
_MOMENTUM = 0.85
_FASTEST = 0.12  # largest move of one step, in core radii, and largest turn, in radians
_LOOK = 8  # steps between two searches for contacts
_PULL = 0.25  # a wrong pair is drawn by its distance and this share of the core radius beyond


@dataclass(slots=True, kw_only=True)
class Pose:
    """Where the bodies are."""

    place: Floats  # (3, m), mm
    normal: Floats  # (3, m), unit


@dataclass(slots=True, kw_only=True)
class Template:
    """The flat, regular shape that a loose piece is drawn to, and the normals it would like."""

    place: Floats  # (3, m), mm, centred; a row of zeros is an axis along which the piece is flat
    normal: Floats  # (3, m), unit
    weight: Floats  # (m,), how much the normal is wished for, 0 to 1
    tied: bool = (
        False  # whether it may only grow alike along all axes, because its edges have their true ratios
    )
    spreads: bool = True  # whether it is a little larger than the piece, so that what is loose is drawn out


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressure:
    """How hard the template pulls; a share of the stiffness of a contact."""

    shape: float
    flat: float
    normal: float
    stretch: float = 0.01  # the template is this much larger than the piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far a relaxation came."""

    wrong: int  # pairs not in their wanted state
    tightest: float  # least distance over wanted distance among contacts in the right state


def ring_centres(model: Model, pose: Pose, wire: float) -> Floats:
    """Centres (3, n) of the rings when the wire has this share of its true thickness."""
    return pose.place[:, model.body] + pose.normal[:, model.body] * (model.aside * wire)


def pair_codes(model: Model, a: Ints, b: Ints) -> Ints:
    """The wanted codes (q,) of pairs a < b; pairs that are not declared are apart."""
    count = model.core.size
    declared, asked = model.pair_a * count + model.pair_b, a * count + b
    at = np.minimum(np.searchsorted(declared, asked), max(declared.size - 1, 0))
    if not declared.size:
        return np.full(a.size, APART)
    return np.where(declared[at] == asked, model.wanted[at], APART)


def is_right(wanted: Ints, sign: Ints, around: Ints) -> Bools:
    """Which pairs (q,) are in their wanted state."""
    right: Bools = (
        ((wanted == APART) & (sign == 0) & (around == 0))
        | ((wanted == LINKED) & (sign != 0))
        | ((wanted == PLUS) & (sign == 1))
        | ((wanted == MINUS) & (sign == -1))
        | ((wanted == AROUND) & (around == 1))
        | ((wanted == INSIDE) & (around == -1))
    )
    return right


class Relaxation:
    """One run of the search: the pose as it moves, and what is remembered between steps."""

    def __init__(self, model: Model, template: Template, pose: Pose) -> None:
        self.model, self.template = model, template
        self.pose = Pose(place=pose.place.copy(), normal=unit(pose.normal))
        self._steps = 0
        self._drift = np.zeros_like(pose.place)
        self._spin = np.zeros_like(pose.place)
        self._inward = self._inward_sides()
        self._extent = np.array([total(row**2) for row in template.place])

    def run(
        self,
        *,
        wire: float,
        room: float,
        pressure: Pressure,
        steps: int,
        still: float = 0.0,
        close: float = 0.97,
    ) -> Progress:
        """Up to `steps` steps with the wire at this share of its thickness, wires `room` times their sum apart.

        Ends early once every pair is right, no contact is tighter than `close` of what is wanted, and, with
        `still`, no body moves faster than this many core radii a step.
        """
        wanted_gap = self.model.tube * (wire * room)
        progress = Progress(wrong=-1, tightest=0.0)
        self._drift[:] = 0
        self._spin[:] = 0
        for step in range(steps):
            if step % _LOOK == 0:
                self._look(wire, wanted_gap)
            progress, speed = self._step(wire, wanted_gap, pressure)
            self._steps += 1
            calm = speed < still if still else True
            if (
                calm
                and progress.wrong == 0
                and progress.tightest >= close
                and step % _LOOK >= min(2, steps - 1)
            ):
                break
        return progress

    def strain(self) -> float:
        """How unlike the template the piece lies: root mean square error of its ties over their mean length."""
        model, place, shape = self.model, self.pose.place, self.template.place
        if not model.tie_a.size:
            return 0.0
        lies, asked = (
            place[:, model.tie_b] - place[:, model.tie_a],
            shape[:, model.tie_b] - shape[:, model.tie_a],
        )
        error, lengths = 0.0, 0.0
        for axis in range(3):
            extent = total(asked[axis] ** 2)
            scale = total(asked[axis] * lies[axis]) / extent if extent > 0 else 0.0
            error += total((lies[axis] - scale * asked[axis]) ** 2)
            lengths += total(lies[axis] ** 2)
        return math.sqrt(error / max(lengths, 1e-12))

    def take_steps(self) -> int:
        """How many steps were done since this was last asked."""
        steps, self._steps = self._steps, 0
        return steps

    def _inward_sides(self) -> Floats:
        """+1 or -1 (g,): on which side of a companion's normal the other companion lies at the start."""
        model, pose = self.model, self.pose
        side, other = model.body[model.gap_side], model.body[model.gap_other]
        return np.where(dot(pose.place[:, other] - pose.place[:, side], pose.normal[:, side]) < 0, -1.0, 1.0)

    def _gap_contacts(
        self, centres: Floats, normals: Floats, wanted_gap: Floats
    ) -> tuple[Contacts, Floats, int]:
        """Where a ring leaves the gap of its companions: points, pushes (3, c) back into it, and how many are out.

        The point of the ring nearest the middle of the gap is kept on the inner side of either companion's
        disc.
        """
        model = self.model
        ring, side, other = model.gap_ring, model.gap_side, model.gap_other
        towards = (centres[:, side] + centres[:, other]) / 2 - centres[:, ring]
        on_ring = unit(towards - normals[:, ring] * dot(towards, normals[:, ring]))
        inward = normals[:, side] * self._inward
        arm = centres[:, ring] + model.core[ring] * on_ring - centres[:, side]
        depth, needed = dot(arm, inward), wanted_gap[ring] + wanted_gap[side]
        short = depth < needed
        contacts = Contacts(
            pair=np.full(int(short.sum()), -1),
            a=side[short],
            b=ring[short],
            on_a=((arm - inward * depth) / model.core[side])[:, short],
            on_b=on_ring[:, short],
        )
        return contacts, (inward * (needed - depth))[:, short], int((depth <= 0).sum())

    def _look(self, wire: float, wanted_gap: Floats) -> None:
        """Find the pairs that matter for the next steps, and the contacts of those in the right state."""
        model = self.model
        centres = ring_centres(model, self.pose, wire)
        a, b = near_pairs(centres, model.core + wanted_gap + 0.1 * model.core, model.body)
        count = model.core.size
        keys = np.union1d(a * count + b, model.pair_a * count + model.pair_b)
        keys = keys[model.body[keys // count] != model.body[keys % count]]
        self._a, self._b = keys // count, keys % count
        self._wanted = pair_codes(model, self._a, self._b)
        normals = self.pose.normal[:, model.body]
        within = (
            wanted_gap[self._a]
            + wanted_gap[self._b]
            + 0.25 * np.minimum(model.core[self._a], model.core[self._b])
        )
        self._contacts = find_contacts(centres, normals, model.core, self._a, self._b, within)

    def _wrong_contacts(self, wrong: Ints, sign: Ints, centres: Floats, normals: Floats) -> Contacts:
        """For each wrong pair the nearest contact whose crossing brings the wanted state nearer."""
        core = self.model.core
        a, b, wanted = self._a[wrong], self._b[wrong], self._wanted[wrong]
        found = find_contacts(centres, normals, core, a, b, np.full(a.size, np.inf))
        gap = _gap(found, centres, core)
        effect = np.sign(
            dot(gap, cross(cross(normals[:, found.a], found.on_a), cross(normals[:, found.b], found.on_b)))
        ).astype(np.int64)
        after, code = sign[wrong][found.pair] + effect, wanted[found.pair]
        useful = np.where(
            code == LINKED,
            np.abs(after) == 1,
            after == np.where(code == PLUS, 1, np.where(code == MINUS, -1, 0)),
        )
        useful |= ((code == PLUS) | (code == MINUS)) & (after == 0)
        ranked = np.lexsort((length(gap), ~useful, found.pair))
        first = np.ones(ranked.size, dtype=bool)
        first[1:] = found.pair[ranked][1:] != found.pair[ranked][:-1]
        return pick(found, ranked[first])

    def _step(self, wire: float, wanted_gap: Floats, pressure: Pressure) -> tuple[Progress, float]:
        model, pose = self.model, self.pose
        centres, normals = ring_centres(model, pose, wire), pose.normal[:, model.body]
        sign, around = linking(centres, normals, model.core, self._a, self._b)
        right = is_right(self._wanted, sign, around)
        follow(self._contacts, centres, normals, model.core)
        good = pick(self._contacts, right[self._contacts.pair])
        gap = _gap(good, centres, model.core)
        distance = np.maximum(length(gap), 1e-9)
        needed = wanted_gap[good.a] + wanted_gap[good.b]
        tightest = float((distance / needed).min()) if distance.size else np.inf
        touching = distance < needed
        active = pick(good, touching)
        push = (gap[:, touching] / distance[touching]) * (needed - distance)[touching]
        wrong = np.nonzero(~right)[0]
        if wrong.size:
            pulled = self._wrong_contacts(wrong, sign, centres, normals)
            far = _gap(pulled, centres, model.core)
            reach = np.maximum(length(far), 1e-9)
            beyond = _PULL * np.minimum(model.core[pulled.a], model.core[pulled.b])
            push = np.concatenate([push, -(far / reach) * np.minimum(reach + beyond, 4 * beyond)], axis=1)
            active = _joined(active, pulled)
        outside = 0
        if model.gap_ring.size:
            held, inward, outside = self._gap_contacts(centres, normals, wanted_gap)
            active, push = _joined(active, held), np.concatenate([push, inward], axis=1)
        speed = self._move(active, push, centres, pressure)
        return Progress(wrong=int(wrong.size) + outside, tightest=tightest), speed

    def _move(self, active: Contacts, push: Floats, centres: Floats, pressure: Pressure) -> float:
        """Let the forces of the contacts and of the template act for one step; gives the largest move."""
        model, pose, template = self.model, self.pose, self.template
        count = model.bodies
        ends = np.concatenate([active.a, active.b])
        body = model.body[ends]
        force = np.concatenate([-push, push], axis=1)
        at = centres[:, ends] + model.core[ends] * np.concatenate([active.on_a, active.on_b], axis=1)
        arm = at - pose.place[:, body]
        ones = np.ones(body.size)
        stiffness = np.bincount(body, weights=ones, minlength=count).astype(np.float64)
        turning = np.bincount(body, weights=dot(arm, arm), minlength=count).astype(np.float64)
        pulls, torques = scatter(body, force, count), scatter(body, cross(arm, force), count)
        stretch = self._stretch(active, push)
        # the template: neighbours at their places in a shape a little larger than the piece is now
        middle = np.array([total(row) for row in pose.place]) / count
        scale = np.ones(3)
        for axis in range(3):
            if self._extent[axis] > 0:
                scale[axis] = (
                    total((pose.place[axis] - middle[axis]) * template.place[axis]) / self._extent[axis]
                )
            else:
                pulls[axis] -= pressure.flat * (pose.place[axis] - middle[axis])
        tie_a, tie_b = model.tie_a, model.tie_b
        larger = scale * (1 + (pressure.stretch if template.spreads else 0.0))
        asked = (template.place[:, tie_b] - template.place[:, tie_a]) * larger[:, None]
        lack = (asked - (pose.place[:, tie_b] - pose.place[:, tie_a])) * pressure.shape
        lack[self._extent == 0] = 0
        pulls += scatter(tie_b, lack, count) - scatter(tie_a, lack, count)
        degree = np.bincount(np.concatenate([tie_a, tie_b]), minlength=count)
        wish = pressure.normal * template.weight * model.size**2
        torques += cross(pose.normal, template.normal) * wish
        stiffness += pressure.shape * 2 * degree + pressure.flat + 0.05
        turning += wish + 0.05 * model.size**2
        move = _STEP * pulls / stiffness
        turn = _STEP * torques / turning
        turn -= pose.normal * dot(turn, pose.normal)
        if total(dot(pulls, self._drift)) + total(dot(torques, self._spin)) < 0:
            self._drift[:] = 0
            self._spin[:] = 0
        self._drift = _limited(_MOMENTUM * self._drift + move, _FASTEST * model.size)
        self._spin = _limited(_MOMENTUM * self._spin + turn, np.full(count, _FASTEST))
        pose.place = pose.place + self._drift + template.place * stretch[:, None]
        pose.normal = unit(pose.normal + cross(self._spin, pose.normal))
        return float(
            max((length(self._drift) / model.size).max(), length(self._spin).max(), np.abs(stretch).max())
        )

    def _stretch(self, active: Contacts, push: Floats) -> Floats:
        """By which share (3,) of the template the whole piece is to be stretched along each axis."""
        body, shape = self.model.body, self.template.place
        between = shape[:, body[active.b]] - shape[:, body[active.a]]
        size = np.maximum(length(push), 1e-12)
        # for each contact, how much a stretch along each axis opens it; then one Newton step for each stretch
        opens = between * push / size
        if self.template.tied:
            opens, between = opens.sum(axis=0)[None, :], length(between)[None, :]
        wanted = np.array([total(row * size) for row in opens])
        stiffness = np.array(
            [total(row * row) + 0.05 * total(far * far) for row, far in zip(opens, between, strict=True)]
        )
        step = _STEP * wanted / np.maximum(stiffness, 1e-9)
        return np.broadcast_to(np.minimum(np.maximum(step, -0.02), 0.02), (3,))


def _gap(contacts: Contacts, centres: Floats, core: Floats) -> Floats:
    """The vectors (3, c) from the point on a to the point on b."""
    a, b = contacts.a, contacts.b
    return centres[:, b] + core[b] * contacts.on_b - centres[:, a] - core[a] * contacts.on_a


def _joined(one: Contacts, other: Contacts) -> Contacts:
    """The contacts of both."""
    return Contacts(
        pair=np.concatenate([one.pair, other.pair]),
        a=np.concatenate([one.a, other.a]),
        b=np.concatenate([one.b, other.b]),
        on_a=np.concatenate([one.on_a, other.on_a], axis=1),
        on_b=np.concatenate([one.on_b, other.on_b], axis=1),
    )


def _limited(vectors: Floats, most: Floats) -> Floats:
    """The vectors (3, m), shortened to the given lengths."""
    return vectors / np.maximum(length(vectors) / most, 1.0)
