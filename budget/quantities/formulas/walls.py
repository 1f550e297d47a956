"""Straight walls, columns and steps of units in courses: how many units, caps and what base.

Lengths are in m. A unit's face is its length along the wall, its depth goes through the wall.
"""

from __future__ import annotations

from budget.figures import Figure, constant, minus, product, ratio, total, whole
from budget.units import COMPACTED_VOLUME, COUNT, LENGTH, NUMBER


def courses(height: Figure, unit_height: Figure) -> Figure:
    """Whole courses for a height above the ground.

    Source: a how-to page: wall height over unit height, rounded up; 3.3 ft of 0.67 ft, 5.

    >>> from budget.units import FOOT
    >>> feet = [constant(n * FOOT, LENGTH, "ft") for n in (3.3, 0.67)]
    >>> courses(*feet).value
    5
    """
    return whole(
        "courses above the ground", ratio("height in courses", NUMBER, height, unit_height)
    )


def less_cap(height: Figure, cap_height: Figure | None) -> Figure:
    """What the courses must make up of a height that is measured to the top of the cap."""
    return minus("height below the cap", height, cap_height) if cap_height else height


def run(length: Figure, depth: Figure, corners: Figure) -> Figure:
    """Length that units fill in one course: at each corner one wall butts against the other.

    :param length: outside length of the wall along its faces [m]
    :param depth: depth of a unit [m]
    :param corners: outside corners
    """
    if not corners.value:
        return length
    return minus("length less corners", length, product("corners", LENGTH, corners, depth))


def in_a_course(length: Figure, face: Figure) -> Figure:
    """Units in one course, a part of a unit counted as one.

    Source of the worked count: a Navy builder text: 56 ft of 16 in block, 42 to a course.

    >>> from budget.units import DEPTH, FOOT, INCH
    >>> face = constant(16 * INCH, DEPTH, "block")
    >>> in_a_course(constant(56 * FOOT, LENGTH, "wall"), face).value
    42
    """
    return whole("units in a course", ratio("length in units", NUMBER, length, face))


def halves(all_courses: Figure, ends: Figure) -> Figure:
    """Half units: one at each free end of every other course, so that joints are bonded."""
    half = constant(0.5, NUMBER, "every other course")
    return product("half units", COUNT, all_courses, half, ends)


def round_column(side: Figure, other: Figure, depth: Figure, face: Figure) -> Figure:
    """Units in one course of a column, each unit butting against the next one round.

    The run is around the outside less one unit's depth at each of the four corners.

    >>> from budget.units import DEPTH, INCH
    >>> inches = [constant(n * INCH, DEPTH, "in") for n in (24, 24, 8, 16)]
    >>> round_column(*inches).value
    4
    """
    two = constant(2, NUMBER, "two of each side")
    around = product("around the column", LENGTH, two, total("two sides", (side, other)))
    four = constant(4, NUMBER, "corners")
    left = minus("around less corners", around, product("corners", LENGTH, four, depth))
    return in_a_course(left, face)


def caps(length: Figure, overhang: Figure, ends: Figure, corners: Figure, cap: Figure) -> Figure:
    """Caps along a wall: they run past its free ends, and a mitred corner takes one more.

    :param length: length of the wall [m]
    :param overhang: of the cap past a free end [m]
    :param cap: length of one cap [m]
    """
    past = product("past the ends", LENGTH, ends, overhang)
    row = total("length to cap", (length, past))
    along = whole("caps along the wall", ratio("length in caps", NUMBER, row, cap))
    if not corners.value:
        return along.called("caps")
    mitred = product("caps for mitred corners", COUNT, corners, constant(1, COUNT, "one a corner"))
    return total("caps", (along, mitred))


def risers(rise: Figure, most: Figure) -> Figure:
    """Fewest equal risers for a rise, none higher than ``most``.

    >>> from budget.units import DEPTH, INCH
    >>> risers(*[constant(n * INCH, DEPTH, "in") for n in (21, 7.75)]).value
    3
    """
    return whole("risers", ratio("rise in risers", NUMBER, rise, most))


def fill_under_steps(width: Figure, tread: Figure, riser: Figure, count: Figure) -> Figure:
    """Stone below the treads of a flight [m³ compacted].

    The first tread lies on one riser of it, the second on two; the top riser ends at the
    landing, so that three risers have two treads.

    >>> from budget.units import FOOT
    >>> feet = [constant(n * FOOT, LENGTH, "ft") for n in (4, 1, 0.5)]
    >>> round(fill_under_steps(*feet, constant(3, COUNT, "risers")).value / FOOT**3, 6)
    6.0
    """
    n = int(count.value)
    below = constant(n * (n - 1) / 2, NUMBER, f"risers below the treads of {n} risers")
    return product("stone below the treads", COMPACTED_VOLUME, width, tread, riser, below)
