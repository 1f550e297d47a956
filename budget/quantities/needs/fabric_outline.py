"""The outline that geotextile covers: past open edges, not into the house, under neighbours."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from budget.quantities.plan.outlines import rings_of
from budget.quantities.plan.regions import NEAR, close_by, region_of, union
from budget.quantities.plan_lines import Line, lines_of
from budget.quantities.site import Site

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


def beside(sites: Sequence[Site]) -> dict[str, list[BaseGeometry]]:
    """The paving that lies beside each placed part for sure, by the part's name.

    For a part that must be built, parts that may be left out count as none.
    """
    placed = [site.part for site in sites if any(piece.region for piece in site.part.added)]
    regions = [region_of(part) for part in placed]
    close = close_by([region.bounds for region in regions])
    return {
        part.name: [regions[i] for i in others if part.optional or not placed[i].optional]
        for part, others in zip(placed, close, strict=True)
    }


def covered_outline(
    site: Site, neighbours: Sequence[BaseGeometry], past: float, overlap: float
) -> BaseGeometry | None:
    """What geotextile must cover under one part; nothing where its outline is not known.

    Past an open edge it runs on by ``past`` [m], past one against other paving by half an overlap
    [m], so that the geotextile of both parts overlaps, and not at all into the house.
    """
    found = _outline(site)
    if found is None:
        return None
    rows = [piece.row for piece in site.part.added]
    if len(rows) == 1 and not site.part.added[0].region:
        rows = [replace(rows[0], x=0.0, y=0.0, turn=0.0)]
    lines = lines_of(found, neighbours, (), rows, site.materials.job)
    wide = found.buffer(past, join_style="mitre")
    for line in lines.house:
        wide = wide.difference(_beyond(_longer(line, past), found, past * 1.01))
    for line in lines.joined:
        wide = wide.difference(_beyond(line, found, past * 1.01))
        wide = wide.union(_beyond(line, found, overlap / 2))
    return wide.union(found)


def _outline(site: Site) -> BaseGeometry | None:
    """The paved outline, where the shapes' places to each other are known."""
    from shapely import Polygon

    added = site.part.added
    if all(piece.region for piece in added):
        return region_of(site.part)
    if any(piece.region for piece in added):
        return None
    if len(added) > 1 and any(piece.row.shape != "polygon" for piece in added):
        return None
    shapes = [Polygon(rings[0]) for rings in map(rings_of, added) if rings and rings[0]]
    return union(shapes) if len(shapes) == len(added) else None


def _beyond(line: Line, region: BaseGeometry, far: float) -> BaseGeometry:
    """The strip along a line on the side where the region is not."""
    from shapely import LineString

    one, other = (
        LineString(line).buffer(side, single_sided=True, join_style="mitre") for side in (far, -far)
    )
    return min((one, other), key=lambda strip: float(strip.intersection(region).area))


def _longer(line: Line, by: float) -> Line:
    """A line made longer at both ends: the wall of the house goes on.

    It may turn around a corner by as much as a tape errs; the wall does not.
    """
    while len(line) > 2 and math.dist(line[0], line[1]) < 2 * NEAR:
        line = line[1:]
    while len(line) > 2 and math.dist(line[-1], line[-2]) < 2 * NEAR:
        line = line[:-1]
    return (_past(line[1], line[0], by), *line[1:-1], _past(line[-2], line[-1], by))


def _past(before: tuple[float, float], end: tuple[float, float], by: float) -> tuple[float, float]:
    share = by / math.dist(before, end)
    return end[0] + (end[0] - before[0]) * share, end[1] + (end[1] - before[1]) * share
