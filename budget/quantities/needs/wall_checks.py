"""Whether walls, rings, columns and steps fit together, warned about with the cell to change."""

from __future__ import annotations

import math

from budget.job import Job, Notice, Wall
from budget.quantities.formulas import rings
from budget.quantities.needs.feature import notice
from budget.quantities.needs.wall_counts import (
    Made,
    above,
    courses_of_a_riser,
    ring_diameters,
    riser_height,
    tread,
)
from budget.quantities.needs.wall_sizes import Block
from budget.reference import coefficient
from budget.units import DEPTH, System, in_words

_SLIGHT = 1e-6


def check(row: Wall, unit: Block, cap: Block | None, one: Made, job: Job) -> list[Notice]:
    """Every check of one row."""
    system = job.settings.units
    found = _height(row, unit, cap, system) if row.kind != "steps" else []
    found += _too_high(row, unit, one, system)
    found += _cap(row, unit, cap, system)
    if row.kind == "ring":
        found += _ring(row, unit, system) + _liner(row, unit, system)
    if row.kind == "steps":
        found += _steps(row, unit, cap, system)
    return found + _optional(row)


def _optional(row: Wall) -> list[Notice]:
    """Pavers below something that may be left out are bought in any case."""
    if not row.optional or row.stands != "in the paving":
        return []
    expected = "something optional beside or on the paving"
    mend = "The paving is counted as if it were not there, so that it never runs short."
    return [notice(row, "optional", "optional-in-paving", row.name, expected, mend)]


def _depth(value: float, system: System) -> str:
    return in_words(value, DEPTH, system)


def _height(row: Wall, unit: Block, cap: Block | None, system: System) -> list[Notice]:
    """Whole courses rarely make up the height that was asked for."""
    built = above(row, unit, cap).value * unit.height.value + (cap.height.value if cap else 0.0)
    asked = row.height or 0.0
    if abs(built - asked) <= coefficient("height slack").likely + _SLIGHT:
        return []
    found = f"a height of {_depth(asked, system)}"
    expected = f"a height in whole courses: {_depth(built, system)} is what gets built"
    mend = "A seat is comfortable at 16 to 20 in (400 to 500 mm). Change Height or the unit."
    return [notice(row, "height", "height-not-in-courses", found, expected, mend)]


def _too_high(row: Wall, unit: Block, one: Made, system: System) -> list[Notice]:
    """Walls above a published height are for an engineer."""
    limit = coefficient("wall height limit")
    high = one.courses.value * unit.height.value
    if row.kind not in ("wall", "column") or high <= limit.likely + _SLIGHT:
        return []
    found = f"{_depth(high, system)} from its lowest course to the top"
    expected = f"at most {_depth(limit.likely, system)} without an engineer ({limit.cited})"
    mend = "Have a registered engineer look at it, and ask the building office."
    return [notice(row, "height", "wall-too-high", found, expected, mend)]


def _cap(row: Wall, unit: Block, cap: Block | None, system: System) -> list[Notice]:
    """A cap must reach over the wall below it."""
    if cap is None or row.kind == "steps":
        return []
    if row.kind == "column":
        side = row.length or 0.0
        if min(cap.length.value, cap.depth.value) >= side - _SLIGHT:
            return []
        found = f"a cap of {_depth(cap.length.value, system)} on a {_depth(side, system)} column"
        mend = "Several are counted to cover it. Choose a column cap if there should be no joint."
        return [notice(row, "cap", "cap-too-small", found, "a cap as wide as the column", mend)]
    if cap.depth.value >= unit.depth.value - _SLIGHT:
        return []
    found = f"a cap {_depth(cap.depth.value, system)} deep"
    expected = f"at least {_depth(unit.depth.value, system)}, as deep as the wall"
    return [notice(row, "cap", "cap-too-small", found, expected, "Choose a deeper cap.")]


def _backs(unit: Block) -> float:
    return unit.back.value if unit.back else unit.length.value


def _ring(row: Wall, unit: Block, system: System) -> list[Notice]:
    """A ring below the radius that its units close at, or one with wide gaps."""
    outer, _ = ring_diameters(row, unit)
    depth, face, back = unit.depth.value, unit.length.value, _backs(unit)
    if unit.back is not None:
        least = rings.smallest_radius(unit.depth, unit.length, unit.back)
        if math.isfinite(least) and outer.value / 2 < least - _SLIGHT:
            found = f"an outer diameter of {_depth(outer.value, system)}"
            expected = f"at least {_depth(2 * least, system)}, where this unit closes uncut"
            mend = "Make the ring larger, choose a unit with more taper, or cut every unit."
            return [notice(row, "diameter", "ring-needs-cutting", found, expected, mend)]
    count = rings.units(outer, unit.depth, unit.length, unit.back).value
    gap = rings.open_joint(count, depth, face, back)
    most = coefficient("ring gap").likely
    if gap <= most + _SLIGHT:
        return []
    found = f"gaps of {_depth(gap, system)} between {count:.0f} units"
    expected = f"at most {_depth(most, system)}"
    mend = "Choose a unit narrower at its back, or a larger ring, or cut the units to a taper."
    return [notice(row, "unit", "ring-gaps", found, expected, mend)]


def built_inner(row: Wall, unit: Block) -> float:
    """Inner diameter of the ring once its units touch [m]."""
    outer, _ = ring_diameters(row, unit)
    count = rings.units(outer, unit.depth, unit.length, unit.back).value
    around = max(count * unit.length.value, count * _backs(unit) + 2 * math.pi * unit.depth.value)
    return around / math.pi - 2 * unit.depth.value


def _liner(row: Wall, unit: Block, system: System) -> list[Notice]:
    """A liner needs room all round in the ring as it gets built."""
    if row.liner is None:
        return []
    inner, clear = built_inner(row, unit), coefficient("liner clearance")
    if inner >= row.liner + 2 * clear.likely - _SLIGHT:
        return []
    found = f"a liner of {_depth(row.liner, system)} in a ring {_depth(inner, system)} inside"
    expected = f"{_depth(clear.likely, system)} free all round ({clear.cited})"
    mend = "Make the ring larger, or choose a smaller liner."
    return [notice(row, "liner", "liner-does-not-fit", found, expected, mend)]


def _steps(row: Wall, unit: Block, cap: Block | None, system: System) -> list[Notice]:
    """Risers and treads of a size that people can walk, all risers alike."""
    found = []
    riser, most = riser_height(row).value, coefficient("most riser")
    if riser > most.likely + _SLIGHT:
        text = f"at most {_depth(most.likely, system)} ({most.cited})"
        found.append(notice(row, "risers", "step-size", f"risers of {_depth(riser, system)}", text,
                            "Add a riser. Local code decides."))  # fmt: skip
    deep, least = tread(row).value, coefficient("least tread")
    if deep < least.likely - _SLIGHT:
        text = f"at least {_depth(least.likely, system)} ({least.cited})"
        found.append(notice(row, "tread", "step-size", f"treads of {_depth(deep, system)}", text,
                            "Make them deeper. Local code decides."))  # fmt: skip
    built = courses_of_a_riser(row, unit, cap).value * unit.height.value
    built += cap.height.value if cap else 0.0
    slack = coefficient("riser slack")
    if abs(built - riser) > slack.likely + _SLIGHT:
        text = f"courses that make up {_depth(riser, system)}: these make {_depth(built, system)}"
        found.append(notice(row, "unit", "riser-not-in-courses", "a unit that does not fit", text,
                            "All risers must be alike: change the unit, tread or number of risers.",
                            ))  # fmt: skip
    return found
