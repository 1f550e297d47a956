"""What the measured drawing shows on and around placed parts, and what it can only say."""

from __future__ import annotations

import math
from collections.abc import Iterable

from budget.job import Job, Level, Trench
from budget.quantities.plan_lines import PlanLines, falls, plan_lines
from budget.quantities.takeoff import PartGeometry, Takeoff
from budget.report import words
from budget.report.drawing.outline import Point, box
from budget.report.drawing.plan import measure
from budget.report.drawing.sheet import NOWHERE, Fall, Mark, Site
from budget.units import LENGTH, System, in_words

#: A drop point further off than the paving is long would make the paving small: it is said only.
_FAR = 1.0


def site(job: Job, takeoff: Takeoff) -> Site:
    """Edges, standing things, trenches, heights, drops and falls that have a place on the plan."""
    placed = [p for p in takeoff.parts if p.placed and p.outlines]
    if not placed:
        return NOWHERE
    system = job.settings.units
    lines = plan_lines(job, takeoff)
    slopes = falls(job, takeoff)
    return Site(
        edges=tuple(edge for part in placed for edge in _edges(part, lines[part.part])),
        standing=takeoff.features,
        runs=tuple((run.name, _outline(run)) for run in _by_name(job.trenches) if _placed(run)),
        marks=tuple(_mark(row, system) for row in _spots(job.levels) if _near(row, placed)),
        falls=tuple(
            Fall(
                name,
                math.atan2(-plane.along_y, -plane.along_x),
                f"falls {words.percent(plane.fall)}",
            )
            for name, plane in sorted(slopes.items())
        ),
    )


def kinds(drawn: Site, parts: Iterable[PartGeometry]) -> list[str]:
    """What the key beside the drawing has to explain, in no order."""
    found = [kind for kind, _ in drawn.edges] + [mark.kind for mark in drawn.marks]
    found += ["standing"] * bool(drawn.standing) + ["run"] * bool(drawn.runs)
    found += ["fall"] * bool(drawn.falls)
    for part in parts:
        found += ["optional"] * part.optional + ["cut"] * bool(part.holes)
    return found


def notes(job: Job, takeoff: Takeoff) -> tuple[str, ...]:
    """What belongs to the drawing and has no place on it."""
    system = job.settings.units
    placed = [p for p in takeoff.parts if p.placed and p.outlines]
    found = []
    if placed:
        for name, lines in sorted(plan_lines(job, takeoff).items()):
            if lines.unsure:
                long = in_words(lines.unsure, LENGTH, system)
                found.append(
                    f"{name} has {long} against the house; the workbook does not say which side."
                )
        for row in _spots(job.levels):
            if row.what == "drop point" and not _near(row, placed):
                far = in_words(_gap(row, placed), LENGTH, system, 0)
                found.append(f"{_name(row)} lies {far} away, off the drawing.")
    for run in _by_name(job.trenches):
        if not (placed and _placed(run)):
            found.append(
                f"{run.name} in {run.part}, not placed on the plan: {_sizes(run, system)}."
            )
    return tuple(found)


def drops(job: Job) -> str:
    """How far goods are carried from each place where they may be put down."""
    settings = job.settings
    ways = (
        ("street", settings.carry_street),
        ("drive", settings.carry_drive),
        ("site", settings.carry_site),
    )
    return ", ".join(
        f"{name} {in_words(far, LENGTH, settings.units)}" for name, far in ways if far is not None
    )


def _edges(part: PartGeometry, lines: PlanLines) -> list[tuple[str, tuple[Point, ...]]]:
    held = "optional" if part.optional else "held"
    return [
        *(("joined", line) for line in lines.joined),
        *((held, line) for line in lines.held),
        *(("house", line) for line in lines.house),
    ]


def _by_name(runs: Iterable[Trench]) -> list[Trench]:
    return sorted(runs, key=lambda run: (run.part, run.name, run.length))


def _placed(run: Trench) -> bool:
    return run.x is not None and run.y is not None


def _outline(run: Trench) -> tuple[Point, ...]:
    """The trench as a strip about its middle line, which starts at its place."""
    turn, half = math.radians(run.turn), run.width / 2
    cos, sin = math.cos(turn), math.sin(turn)
    x, y = run.x or 0.0, run.y or 0.0
    corners = ((0.0, -half), (run.length, -half), (run.length, half), (0.0, half))
    return tuple((x + u * cos - v * sin, y + u * sin + v * cos) for u, v in corners)


def _sizes(run: Trench, system: System) -> str:
    long, wide, deep = (measure(m, system) for m in (run.length, run.width, run.depth))
    return f"{long} long, {wide} wide, {deep} deep"


def _spots(levels: Iterable[Level]) -> list[Level]:
    """Rows that can be drawn: a place, and a height unless it is a drop point."""
    found = [
        row
        for row in levels
        if row.x is not None
        and row.y is not None
        and (row.what == "drop point" or row.level is not None)
    ]
    return sorted(found, key=lambda row: (row.x or 0.0, row.y or 0.0, row.what, row.where))


def _mark(row: Level, system: System) -> Mark:
    kind = "drop" if row.what == "drop point" else row.what
    return Mark(
        kind, (row.x or 0.0, row.y or 0.0), _name(row) if kind == "drop" else _height(row, system)
    )


def _name(row: Level) -> str:
    return row.where or "Drop point"


def _height(row: Level, system: System) -> str:
    level = row.level or 0.0
    sign = "-" if level < 0 else "+" if level > 0 else "±"
    text = f"{sign}{measure(abs(level), system)}"
    return text if row.finish is None else f"{text}, finish {measure(row.finish, system)}"


def _near(row: Level, placed: Iterable[PartGeometry]) -> bool:
    """Whether a spot is no further from the paving than the paving is long."""
    (x1, y1), (x2, y2) = _around(placed)
    return _gap(row, placed) <= _FAR * max(x2 - x1, y2 - y1)


def _gap(row: Level, placed: Iterable[PartGeometry]) -> float:
    """How far a spot is from the box around the paving, in m."""
    (x1, y1), (x2, y2) = _around(placed)
    x, y = row.x or 0.0, row.y or 0.0
    return math.hypot(max(x1 - x, 0.0, x - x2), max(y1 - y, 0.0, y - y2))


def _around(placed: Iterable[PartGeometry]) -> tuple[Point, Point]:
    return box([point for part in placed for ring in part.outlines for point in ring])
