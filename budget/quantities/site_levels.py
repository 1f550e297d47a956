"""Measured heights of one part: how far the ground lies above its finish, and what is filled."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.figures import Figure, laid_out
from budget.job import Job, Level, Notice
from budget.numerals import how_many
from budget.quantities.formulas.levels import (
    Means,
    Plane,
    average_depth,
    falling,
    means,
    plane_through,
)
from budget.quantities.formulas.levels import surface as triangles
from budget.quantities.plan.parts import Part
from budget.quantities.plan.regions import region_of
from budget.reference import coefficient
from budget.units import DEPTH, RATIO, in_words

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from budget.quantities.formulas.levels import Spot

#: Rounding of tapes and levels (m) before a height is held against a rule.
_SLACK = 0.005
#: A fall this share of the published least one passes: 1/4 in per ft is printed as 2 %.
_NOMINAL = 0.98


@dataclass(frozen=True, slots=True)
class SiteLevels:
    """Mean heights of the ground over one part, for each bedding it may be laid on [m]."""

    method: str
    above: Figure  # ground above the finish, below zero where it lies lower
    fill: Mapping[str, Figure]


def levels_of(
    part: Part, stacks: Mapping[str, float], job: Job
) -> tuple[SiteLevels | None, list[Notice]]:
    """What measured heights say about one part; nothing where none are given.

    Between three spots or more with places, on a placed part, the ground is taken as a surface
    (the grid method where they form a grid). Otherwise each spot stands for the same share of
    the area (the average-depth method).

    :param stacks: from the finish to the bottom of the dig, for each bedding [m]
    """
    rows = rows_of(job, part.name)
    ground = [r for r in rows if r.what == "ground" and r.level is not None]
    if not ground:
        return None, []
    region = region_of(part)
    finish = finish_of(rows, region)
    if finish is None:
        text = f"no finish heights for {part.name}"
        expected = "a sill, or the finish at each spot"
        mend = "Until then it is dug as if the ground were level."
        return None, [_notice(ground[0], "finish", "finish-unknown", text, expected, mend)]
    found: dict[str, Means] = {}
    spots: list[Spot] = [(r.x, r.y, r.level) for r in ground if _has_place(r)]  # type: ignore[misc]
    net = [] if region.is_empty else triangles(spots)
    beyond = plane_through(spots)
    for name, stack in stacks.items():
        if net and beyond:
            found[name] = means(region, net, finish, beyond, stack)
        else:
            found[name] = average_depth([_above(r, finish, region) for r in ground], stack)
    method = "grid method" if net else "average depth"
    notices = _against(rows, finish, region, job)
    return _figures(part, found, method, len(spots if net else ground)), notices


def rows_of(job: Job, part: str) -> list[Level]:
    """The measured heights that count for one part, in a settled order."""
    rows = [
        r
        for r in job.levels
        if r.what != "drop point" and r.part.casefold() in ("", part.casefold())
    ]
    return sorted(rows, key=lambda r: (r.x or 0, r.y or 0, r.level or 0, r.where, r.place.row))


def _figures(part: Part, found: Mapping[str, Means], method: str, count: int) -> SiteLevels:
    source = f"{method} over {how_many(count, 'spot')} of Levels"
    some = next(iter(found.values()))
    name = f"average ground above the finish, {part.name}"
    above = laid_out(some.above, DEPTH, name, f"levels of {part.name}", source)
    fill = {
        bedding: laid_out(
            mean.fill, DEPTH, f"average fill, {part.name}", f"fill of {part.name} {bedding}", source
        )
        for bedding, mean in found.items()
    }
    return SiteLevels(method, above, fill)


def _has_place(row: Level) -> bool:
    return row.x is not None and row.y is not None


def _above(row: Level, finish: Plane, region: BaseGeometry) -> float:
    """Ground above the finish at one spot [m]."""
    level = row.level or 0.0
    if row.finish is not None:
        return level - row.finish
    if row.x is not None and row.y is not None:
        return level - finish.height(row.x, row.y)
    middle = region.centroid
    at = (0.0, 0.0) if region.is_empty else (middle.x, middle.y)
    return level - finish.height(*at)


def finish_of(rows: Sequence[Level], region: BaseGeometry) -> Plane | None:
    """The one plane that the paving finishes in, if it can be known.

    Three finish heights with places set it. Otherwise the sill does: the paving starts below it
    and falls away from it. One or two finish heights alone set a plane through them.
    """
    marks: list[Spot] = [
        (r.x, r.y, r.finish)  # type: ignore[misc]
        for r in rows
        if _has_place(r) and r.finish is not None
    ]
    if len(marks) >= 3:
        return plane_through(marks)
    sill = _sill(rows)
    if sill is not None:
        return _from_sill(sill, region)
    if marks:
        return plane_through(marks)
    heights = [r.finish for r in rows if r.finish is not None]
    return Plane(sum(heights) / len(heights)) if heights else None


def _sill(rows: Sequence[Level]) -> Level | None:
    found = [r for r in rows if r.what == "sill" and (r.level is not None or r.finish is not None)]
    return found[0] if found else None


def _from_sill(sill: Level, region: BaseGeometry) -> Plane:
    drop = coefficient("below sill").likely
    height = sill.finish if sill.finish is not None else (sill.level or 0.0) - drop
    fall = sill.fall if sill.fall is not None else coefficient("fall").likely
    x, y = sill.x or 0.0, sill.y or 0.0
    if sill.toward is not None:
        return falling(x, y, height, sill.toward, fall)
    if region.is_empty or not _has_place(sill):
        return Plane(height)
    import math

    middle = region.centroid
    away = math.degrees(math.atan2(middle.y - y, middle.x - x))
    return falling(x, y, height, away, fall)


def _against(rows: Sequence[Level], finish: Plane, region: BaseGeometry, job: Job) -> list[Notice]:
    """What is wrong with a finish plane: too flat, toward the house, or above the sill."""
    least, system = coefficient("least fall"), job.settings.units
    found = []
    if any(_has_place(r) for r in rows) and finish.fall < least.likely * _NOMINAL:
        row = next(r for r in rows if r.finish is not None or r.what == "sill")
        text = f"a fall of {in_words(finish.fall, RATIO, system)}"
        expected = f"at least {least.figure().words(system)} ({least.cited})"
        mend = "Water may stand; it is computed as you wrote it."
        found.append(_notice(row, "finish", "flat-fall", text, expected, mend))
    sill = _sill(rows)
    if sill is None or sill.x is None or sill.y is None:
        return found
    here = finish.height(sill.x, sill.y)
    drop = coefficient("below sill")
    if sill.level is not None and here > sill.level - drop.low + _SLACK:
        text = f"paving {in_words(sill.level - here, DEPTH, system)} below the sill"
        low = in_words(drop.low, DEPTH, system)
        expected = f"at least {low} ({drop.cited}), unless the door must be step-free"
        mend = "Lower the finish, or ask about a drain before the door."
        found.append(_notice(sill, "level", "above-sill", text, expected, mend))
    middle = region.centroid
    if not region.is_empty and finish.height(middle.x, middle.y) > here + _SLACK:
        mend = "Turn the fall around, or drain the foot of the wall."
        text = "paving that falls toward the house"
        found.append(_notice(sill, "toward", "falls-to-house", text, "a fall away from it", mend))
    return found


def _notice(row: Level, field: str, code: str, found: str, expected: str, mend: str) -> Notice:
    place = row.place
    return Notice(place.sheet, place.row, row.cell(field), code, found, expected, mend, "warning")
