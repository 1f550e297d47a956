"""Courses of mixed sizes: where each paver lies and which course comes next, on paper."""

from __future__ import annotations

import itertools

import pytest
from shapely import Polygon

from budget.quantities.laid.mixed_courses import MixedSize, courses, lay_mixed


def test_courses_of_one_size_start_half_a_paver_back_where_joints_would_meet() -> None:
    """50 by 25 cm with a joint of 1 cm: every 51 cm, the second course 25.5 cm further left."""
    put = list(courses((MixedSize(0.5, 0.25, 0.01, 1.0),), 1.6, 0.6, seed=1))
    rows = {y: [one.x for one in each] for y, each in itertools.groupby(put, lambda one: one.y)}
    assert list(rows) == pytest.approx([0.005, 0.265, 0.525])
    first = [0.005, 0.515, 1.025, 1.535]
    second = [-0.25, 0.26, 0.77, 1.28]
    assert list(rows.values()) == [pytest.approx(row) for row in (first, second, first)]


def test_the_course_that_is_furthest_behind_comes_next() -> None:
    """Four fifths in courses of 20 cm, a fifth in courses of 30 cm, 2.4 m wide.

    Of what is laid with one more course of each, the share less what is laid of it in m²:
    0.8 x 0.48 = 0.384 and 0.2 x 0.72 = 0.144; with 0.48 laid 0.288 and 0.24; then the small
    ones, half a paver back, take seven, 1.04 in all: 0.176 and 0.352; after the large 0.752.
    """
    sizes = MixedSize(0.4, 0.2, 0.0, 0.8), MixedSize(0.6, 0.3, 0.0, 0.2)
    put = list(courses(sizes, 2.4, 0.9, seed=1))
    rows = [(y, {one.size for one in each}) for y, each in itertools.groupby(put, lambda p: p.y)]
    assert [size for _, size in rows] == [{0}, {0}, {1}, {0}]
    assert [y for y, _ in rows] == pytest.approx([0, 0.2, 0.4, 0.7])


def test_in_many_courses_each_size_has_its_share_joints_included() -> None:
    """Of 90 m² laid with joints of 4 cm no size is behind or ahead by more than a course."""
    sizes = MixedSize(0.36, 0.16, 0.04, 0.55), MixedSize(0.56, 0.26, 0.04, 0.45)
    laid = [0.0, 0.0]
    for one in courses(sizes, 2.4, 36.0, seed=1):
        laid[one.size] += (one.along + 0.04) * (one.high + 0.04)
    assert sum(laid) > 85
    behind = [size.share * sum(laid) - area for size, area in zip(sizes, laid, strict=True)]
    assert max(map(abs, behind)) < 2.4 * 0.3


@pytest.mark.parametrize("height", [0.7, 0.9])
def test_pavers_upright_in_a_course_are_cut_across_it(height: float) -> None:
    """30 by 30 and 30 by 15 cm in courses of 30 cm: at 70 cm one is cut along 1.5 m, at 90 none.

    Of those cut to 10 cm two come out of one paver.
    """
    room = ((0.0, 0.0), (1.5, 0.0), (1.5, height), (0.0, height))
    sizes = MixedSize(0.3, 0.3, 0.0, 0.6), MixedSize(0.3, 0.15, 0.0, 0.4)
    for layings in zip(*(one.layings for one in lay_mixed((room,), sizes, 0.01)), strict=True):
        assert sum(lay.cut_length for lay in layings) == pytest.approx(1.5 * (height < 0.9))
        assert sum(lay.laid for lay in layings) == pytest.approx(1.5 * height)
        assert [lay.reused for lay in layings] == [lay.cut // 2 for lay in layings]


def test_nothing_is_laid_in_a_hole() -> None:
    """3 by 2 m less a tree's square of 0.7 m."""
    outer = ((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0))
    hole = ((1.1, 0.4), (1.1, 1.1), (1.8, 1.1), (1.8, 0.4))
    sizes = MixedSize(0.3, 0.3, 0.0, 0.6), MixedSize(0.3, 0.15, 0.0, 0.4)
    found = lay_mixed((outer, hole), sizes, 0.01)
    for layings in zip(*(one.layings for one in found), strict=True):
        assert sum(lay.laid for lay in layings) == pytest.approx(6 - 0.49)
    assert [one.area for one in found] == pytest.approx([6 - 0.49] * 2)
    tree = Polygon(hole).buffer(-1e-3)
    shapes = [Polygon(ring) for one in found for ring in (*one.drawn.whole, *one.drawn.cut)]
    assert not any(shape.intersects(tree) for shape in shapes)
