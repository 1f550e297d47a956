"""Pavers of several sizes laid at random: in courses, the sizes drawn by lot.

Courses run along the longest edge. A course is as high as a side that its sizes share; sizes
that share none have courses of their own. In a course the next paver is drawn by lot, and the
further a size is behind its share of the area, the sooner it is drawn. One whose end would meet
the joint below waits a little, and a course of one size starts with half a paver instead. The
lots come from a stated seed, so that the same job always gives the same layout; several seeds
give the range.
"""

from __future__ import annotations

import random
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from budget.quantities.laid.bonds import Unit
from budget.quantities.laid.layout import (
    Frame,
    Laying,
    Layout,
    Sorted,
    counted,
    direction,
    drawn,
    region_in,
    sorted_out,
)
from budget.quantities.plan.own_corner import Rings, from_corner

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

#: The draws that a range is taken over.
SEEDS = (1, 2, 3, 4)
_SAME = 0.003  # m, sides this near make one course: joints take up the rest
_STAGGER = 0.0127  # m, a joint nearer than this to one below runs through
_WAIT = 1.0  # pavers behind its share by which a size is laid all the same


@dataclass(frozen=True, slots=True)
class MixedSize:
    """One size of a mixed set: true sides and joint [m], and its share of the area."""

    length: float
    width: float
    joint: float
    share: float

    @property
    def unit(self) -> Unit:
        """The paver in its cell."""
        long, short = max(self.length, self.width), min(self.length, self.width)
        return Unit(long, short, long + self.joint, short + self.joint)


@dataclass(frozen=True, slots=True)
class _Course:
    """Sizes that share a side, and how high their course is, joint included [m]."""

    side: float
    height: float
    sizes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Put:
    """One paver of a course: its size, its lower left corner and its extent [m]."""

    size: int
    x: float
    y: float
    along: float
    high: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Its left, lower, right and upper side [m]."""
        return self.x, self.y, self.x + self.along, self.y + self.high


def lay_mixed(outline: Rings, sizes: tuple[MixedSize, ...], sliver: float) -> tuple[Layout, ...]:
    """Lay a mixed set on one outline and count each size, for every seed.

    Equal outlines are laid out once.

    :param outline: the outer ring, then holes [m]
    :param sizes: the sizes of the set, with shares that add up to 1
    :param sliver: strips narrower than this [m] are named

    >>> room = ((0.0, 0.0), (1.2, 0.0), (1.2, 1.2), (0.0, 1.2))
    >>> sizes = MixedSize(0.4, 0.2, 0, 0.5), MixedSize(0.2, 0.2, 0, 0.5)
    >>> large, small = lay_mixed((room,), sizes, 0.01)
    >>> {2 * a.units + b.units for a, b in zip(large.layings, small.layings)}
    {36}
    """
    corner, seen = from_corner(outline)
    found = _laid_mixed(seen, sizes, sliver)
    return tuple(replace(one, drawn=replace(one.drawn, corner=corner)) for one in found)


@lru_cache(maxsize=64)
def _laid_mixed(outline: Rings, sizes: tuple[MixedSize, ...], sliver: float) -> tuple[Layout, ...]:
    """A mixed set laid on an outline whose corner is at 0, 0."""
    region = region_in(outline)
    frame = _frame(region)
    inward = frame.inward(region)
    drawn_by = {seed: _sorted(inward, sizes, seed) for seed in SEEDS}
    layings: dict[int, list[Laying]] = {
        seed: [
            counted(one, size.unit, _start(seed), sliver)
            for one, size in zip(found, sizes, strict=True)
        ]
        for seed, found in drawn_by.items()
    }
    best = min(SEEDS, key=lambda seed: _merit(layings[seed], sizes))
    return tuple(
        Layout(
            tuple(layings[seed][i] for seed in SEEDS),
            float(region.area),
            drawn(drawn_by[best][i], frame),
            _start(best),
        )
        for i in range(len(sizes))
    )


def _start(seed: int) -> str:
    return f"lower left corner, in courses drawn by lot (draw {seed})"


def _merit(layings: Sequence[Laying], sizes: Sequence[MixedSize]) -> tuple[int, float, int]:
    """Fewer slivers, then less area of pavers used up, then fewer cuts are better."""
    used = sum(lay.units * size.unit.face for lay, size in zip(layings, sizes, strict=True))
    return sum(lay.slivers for lay in layings), used, sum(lay.cut for lay in layings)


def _frame(region: BaseGeometry) -> Frame:
    """The lower left corner of the rectangle along the longest edge."""
    lean = Frame(0, 0, direction(region))
    left, low, _, _ = lean.inward(region).bounds
    return Frame(*lean.on_plan(left, low), lean.turn)


def _sorted(region: BaseGeometry, sizes: Sequence[MixedSize], seed: int) -> list[Sorted]:
    """The pavers of each size on a region, sorted by how they lie."""
    import numpy as np
    import shapely

    _, _, right, top = region.bounds
    put = list(courses(sizes, right, top, seed))
    found = []
    for i, size in enumerate(sizes):
        boxes = np.array([p.box for p in put if p.size == i]).reshape(-1, 4)
        upright = boxes[:, 3] - boxes[:, 1] > boxes[:, 2] - boxes[:, 0] + 1e-9
        found.append(sorted_out(region, size.unit, shapely.box(*boxes.T), upright))
    return found


def courses(sizes: Sequence[MixedSize], right: float, top: float, seed: int) -> Iterator[Put]:
    """Every paver of a rectangle from 0, 0 to right, top [m], course by course.

    Pavers at the right and at the top may reach over the edge: they are cut.

    >>> [put.box for put in courses((MixedSize(0.5, 0.25, 0, 1),), 1, 0.25, seed=1)]
    [(0.0, 0.0, 0.5, 0.25), (0.5, 0.0, 1.0, 0.25)]
    """
    lots = random.Random(seed)
    kinds = _kinds(sizes)
    laid = [0.0] * len(sizes)
    below: list[float] = []
    y = 0.0
    while y < top - 1e-9:
        course = max(kinds, key=lambda kind: _behind(kind, sizes, laid, right))
        row = list(_row(sizes, course, right, y, laid, below, lots))
        yield from row
        below = [put.x for put in row[1:]]
        y += course.height


def _behind(
    course: _Course, sizes: Sequence[MixedSize], laid: Sequence[float], wide: float
) -> float:
    """How far the sizes of a course are behind their share, with one more course laid [m²]."""
    share = sum(sizes[i].share for i in course.sizes)
    return share * (sum(laid) + course.height * wide) - sum(laid[i] for i in course.sizes)


def _kinds(sizes: Sequence[MixedSize]) -> list[_Course]:
    """The courses of a set: the side that most sizes share first, the shorter of two alike."""
    left = list(range(len(sizes)))
    found = []
    while left:
        sides = {side for i in left for side in (sizes[i].length, sizes[i].width)}
        shared = {side: tuple(i for i in left if _has(sizes[i], side)) for side in sorted(sides)}
        side = max(shared, key=lambda side: (len(shared[side]), -side))
        high = max(_across(sizes[i], side) + sizes[i].joint for i in shared[side])
        found.append(_Course(side, high, shared[side]))
        left = [i for i in left if i not in shared[side]]
    return found


def _has(size: MixedSize, side: float) -> bool:
    return abs(_across(size, side) - side) <= _SAME


def _across(size: MixedSize, side: float) -> float:
    """Its own side that is nearest to that of a course [m]."""
    return min((size.unit.width, size.unit.length), key=lambda own: abs(own - side))


def _along(size: MixedSize, side: float) -> float:
    """Its other side, which runs along a course [m]."""
    return size.length + size.width - _across(size, side)


def _row(
    sizes: Sequence[MixedSize],
    course: _Course,
    right: float,
    y: float,
    laid: list[float],
    below: Sequence[float],
    lots: random.Random,
) -> Iterator[Put]:
    """One course from the left; what is laid of each size is added up in ``laid`` [m²]."""
    x = _first(sizes, course, below)
    while x < right - 1e-9:
        i = _next(sizes, course, right, x, laid, below, lots)
        size = sizes[i]
        along, across = _along(size, course.side), _across(size, course.side)
        yield Put(i, x + size.joint / 2, y + (course.height - across) / 2, along, across)
        x += along + size.joint
        laid[i] += (along + size.joint) * course.height


def _first(sizes: Sequence[MixedSize], course: _Course, below: Sequence[float]) -> float:
    """Where a course starts [m]: one of a single size half a paver back, if joints would meet."""
    size = sizes[course.sizes[0]]
    pace = _along(size, course.side) + size.joint
    meets = len(course.sizes) == 1 and _runs_through(pace, below)
    return -pace / 2 if meets else 0.0


def _next(
    sizes: Sequence[MixedSize],
    course: _Course,
    right: float,
    x: float,
    laid: Sequence[float],
    below: Sequence[float],
    lots: random.Random,
) -> int:
    """The size to lay next: one that closes the course, else one that is behind its share."""
    reached = sum(laid)
    wanted = {}
    for i in course.sizes:
        size = sizes[i]
        end = x + _along(size, course.side) + size.joint
        if abs(end - right) <= size.joint + 1e-9:
            return i
        behind = size.share * (reached + size.unit.cell) - laid[i]
        wanted[i] = behind / size.unit.cell + lots.random()
        if _runs_through(end, below):
            wanted[i] -= _WAIT
    return max(wanted, key=lambda i: (wanted[i], -i))


def _runs_through(x: float, below: Sequence[float]) -> bool:
    """Whether a joint at x lies over one of the course below."""
    at = bisect_left(below, x - _STAGGER)
    return at < len(below) and below[at] <= x + _STAGGER
