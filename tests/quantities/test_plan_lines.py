"""Edges of placed parts by what lies beyond them, against lengths counted on paper."""

import itertools
import math

import pytest

from budget.job import Level, Place
from budget.quantities import take_off
from budget.quantities.plan.regions import NEAR
from budget.quantities.plan_lines import falls, plan_lines
from budget.units import FOOT, INCH


def feet(lines):
    long = sum(math.dist(a, b) for line in lines for a, b in itertools.pairwise(line))
    return pytest.approx(long / FOOT, abs=0.2)  # a tape is 0.03 ft at each end of a line


def level(what="ground", **values):
    return Level(place=Place("Levels", 5), what=what, **values)


def lines(job):
    found = take_off(job)
    held = {part.part: part.restrained.value / FOOT for part in found.parts}
    return plan_lines(job, found), held


def test_a_walk_against_a_terrace(make):
    """20 x 10 ft against the house with one long side; a 4 x 15 ft walk at the other."""
    job = make.job(
        make.area("Terrace", length=20, width=10, x=0, y=0, house_edge=20),
        make.area("Walk", length=4, width=15, x=8, y=-15),
    )
    found, held = lines(job)
    terrace, walk = found["Terrace"], found["Walk"]
    assert feet(terrace.joined) == 4
    assert feet(walk.joined) == 4
    # one long side is whole and free, the other is broken by the walk: so it is the whole one
    assert feet(terrace.house) == 20
    assert {round(y / FOOT) for line in terrace.house for _, y in line} == {10}
    assert feet(terrace.held) == 36
    assert feet(walk.held) == 34
    assert held == {"Terrace": pytest.approx(36), "Walk": pytest.approx(34)}
    assert terrace.unsure == walk.unsure == 0


def test_a_side_that_could_be_either_is_not_guessed(make):
    job = make.job(make.area("Terrace", length=20, width=10, x=0, y=0, house_edge=20))
    found, _ = lines(job)
    assert found["Terrace"].house == ()
    assert found["Terrace"].unsure == pytest.approx(20 * FOOT)


def test_the_door_tells_which_side_is_against_the_house(make):
    sill = level("sill", x=10 * FOOT, y=10 * FOOT, level=0.2, toward=270, fall=0.02)
    area = make.area("Terrace", length=20, width=10, x=0, y=0, house_edge=20)
    job = make.job(area, levels=(sill,))
    found, _ = lines(job)
    assert {round(y / FOOT) for line in found["Terrace"].house for _, y in line} == {10}
    plane = falls(job, take_off(job))["Terrace"]
    assert plane.fall == pytest.approx(0.02)
    assert plane.along_y == pytest.approx(0.02)  # it rises toward the house


def test_level_paving_falls_nowhere(make):
    spots = tuple(level(x=x, y=y, level=0.1, finish=0.0) for x, y in ((0, 0), (3, 0), (0, 3)))
    area = make.area("Terrace", length=20, width=10, x=0, y=0)
    for rows in (spots, (level(x=0, y=0, level=0.1),)):  # of the second no finish is known
        job = make.job(area, levels=rows)
        assert falls(job, take_off(job)) == {}


def test_a_narrow_side_that_could_be_either_is_not_guessed(make):
    job = make.job(make.area("Walk", length=20, width=2.5, x=0, y=0, house_edge=2.5))
    found, _ = lines(job)
    assert found["Walk"].unsure == pytest.approx(2.5 * FOOT)


def test_two_sides_of_a_triangle_against_the_house(make):
    """12 and 5 ft of 12, 5 and 13."""
    area = make.area("Terrace", shape="triangle", length=12, width=5, x=0, y=0, house_edge=17)
    found, _ = lines(make.job(area))
    assert feet(found["Terrace"].house) == 17
    assert feet(found["Terrace"].held) == 13


def test_a_door_in_one_side_does_not_tell_the_second(make):
    """Of 30 ft one side of 20 with the door, a foot from its end, and one of both of 10."""
    sill = level("sill", x=1 * FOOT, y=10 * FOOT, level=0.2, toward=270, fall=0.02)
    area = make.area("Terrace", length=20, width=10, x=0, y=0, house_edge=30)
    found, _ = lines(make.job(area, levels=(sill,)))
    assert found["Terrace"].house == ()
    assert found["Terrace"].unsure == pytest.approx(30 * FOOT)


@pytest.mark.parametrize(("errors", "held"), [(4.5, 2), (3.5, 1)])
def test_a_gap_between_walks_is_held_if_it_is_more_than_a_tape_errs(make, errors, held):
    """What a tape errs is taken off at both ends of the gap; what is left is drawn from twice as
    much on."""
    gap = errors * NEAR / FOOT
    job = make.job(
        make.area("Terrace", length=20, width=10, x=0, y=0),
        make.area("Walk", length=8, width=15, x=0, y=-15),
        make.area("Way", length=12 - gap, width=15, x=8 + gap, y=-15),
    )
    found, _ = lines(job)
    assert len(found["Terrace"].held) == held


def test_paving_that_may_be_left_out_does_not_hold_an_edge(make):
    job = make.job(
        make.area("Terrace", length=20, width=10, x=0, y=0),
        make.area("Walk", length=4, width=15, x=8, y=-15, optional=True),
    )
    found, held = lines(job)
    assert feet(found["Terrace"].held) == 60
    assert held["Terrace"] == pytest.approx(60)
    assert feet(found["Walk"].joined) == 4


def test_a_column_in_the_paving_holds_the_edge_around_it(make):
    """A 2 ft column in a 10 x 10 ft terrace: 8 ft of edge against it, 40 ft held."""
    column = make.wall("post", kind="column", length=2, height=3, x=5, y=5, stands="in the paving")
    block = make.product("Block", "wall unit", length=8, width=8, height=4 * INCH)
    area = make.area("Terrace", length=10, width=10, x=0, y=0)
    found, held = lines(make.job(area, walls=(column,), products=(block,)))
    assert feet(found["Terrace"].joined) == 8
    assert feet(found["Terrace"].held) == 40
    assert held["Terrace"] == pytest.approx(40)


def test_a_drop_point_is_no_measured_height(make):
    area = make.area("Terrace", length=10, width=10, x=0, y=0)
    drop = level("drop point", x=-3.0, y=0.0, where="drive")
    bare, with_drop = take_off(make.job(area)), take_off(make.job(area, levels=(drop,)))
    assert [s.amount.value for s in bare.spoil] == [s.amount.value for s in with_drop.spoil]
    assert bare.warnings == with_drop.warnings


def test_parts_without_a_place_have_no_such_lines(make):
    assert lines(make.job(make.area("Terrace", length=10, width=10)))[0] == {}
