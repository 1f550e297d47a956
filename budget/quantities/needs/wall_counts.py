"""What each wall, ring, column and flight of steps is made of: units, caps, runs and its base."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from budget.figures import Figure, constant, minus, product, ratio, total, whole
from budget.job import Wall
from budget.numerals import grouped
from budget.quantities.formulas import rings, walls
from budget.quantities.needs.wall_sizes import Block
from budget.reference import coefficient
from budget.units import (
    AREA,
    BANK_VOLUME,
    COMPACTED_VOLUME,
    COUNT,
    DEPTH,
    LENGTH,
    NUMBER,
    System,
    whole_packs,
)


@dataclass(frozen=True, slots=True)
class Made:
    """One of a row's walls: everything is for one, before ``count`` of them."""

    units: Figure
    caps: Figure | None
    courses: Figure  # all of them, buried ones too
    run: Figure  # m along the middle of the units, for adhesive
    cut: Figure | None  # m of units to be cut
    footing: Figure | None  # m² of levelling pad; none on paving
    pad: Figure  # m
    sunk: Figure | None  # m of buried courses
    stands: Figure  # m² that the units themselves cover
    fill: Figure | None = None  # m³ of stone below treads


def made(row: Wall, unit: Block, cap: Block | None) -> Made:
    """The make-up of one wall of a row. Its sizes must be filled."""
    makers: dict[str, Callable[[Wall, Block, Block | None], Made]] = {
        "wall": _wall,
        "ring": _ring,
        "column": _column,
        "steps": _steps,
    }
    found = makers[row.kind](row, unit, cap)
    return found if own_base(row) else replace(found, footing=None)


def size(row: Wall, field: str) -> Figure:
    """A size of a row [m]: how long it runs, else one that is read as the units' sizes are."""
    runs = field == "length" and row.kind in ("wall", "steps")
    return row.figure(field, LENGTH if runs else DEPTH, f"{field} of {row.name}")


def own_base(row: Wall) -> bool:
    """Whether it stands on stone of its own."""
    return row.stands != "on the paving"


def buried(row: Wall) -> Figure:
    """Courses below the ground."""
    name = "courses below the ground"
    if row.buried is not None:
        return row.figure("buried", COUNT, name)
    if not own_base(row) or row.kind == "steps":
        return constant(0, COUNT, name)
    usual = coefficient("buried courses").figure()
    return product(name, COUNT, usual, constant(1, NUMBER, "whole courses"))


def above(row: Wall, unit: Block, cap: Block | None) -> Figure:
    """Courses above the ground."""
    height = walls.less_cap(size(row, "height"), cap.height if cap else None)
    return walls.courses(height, unit.height)


def _common(
    row: Wall, unit: Block, cap: Block | None
) -> tuple[Figure, Figure, Figure, Figure | None]:
    """All courses, the pad, its reach past each face, and how deep courses are sunk."""
    below = buried(row)
    courses = above(row, unit, cap)
    if below.value:
        courses = total("courses", (courses, below))
    sunk = product("buried courses", DEPTH, below, unit.height) if below.value else None
    return courses, pad_depth(row), coefficient("pad past the wall").figure(), sunk


def pad_depth(row: Wall) -> Figure:
    """Depth of the levelling pad [m]."""
    if row.pad is not None:
        return row.figure("pad", DEPTH, "stone below")
    return coefficient("levelling pad").figure()


def _past(name: str, length: Figure, reach: Figure) -> Figure:
    two = constant(2, NUMBER, "both sides")
    return total(name, (length, product("past both sides", length.kind, two, reach)))


def overhang(unit: Block, cap: Block) -> Figure:
    """How far a cap runs past the end of a wall [m]."""
    if cap.depth.origin == unit.depth.origin == "given" and cap.depth.value > unit.depth.value:
        half = constant(0.5, NUMBER, "each side")
        wider = minus("cap wider than the wall", cap.depth, unit.depth)
        return product("overhang of the cap", DEPTH, half, wider)
    return coefficient("cap overhang").figure()


def _wall(row: Wall, unit: Block, cap: Block | None) -> Made:
    courses, pad, reach, sunk = _common(row, unit, cap)
    length = size(row, "length")
    corners = row.figure("corners", NUMBER, "corners")
    ends = (
        constant(2, NUMBER, "free ends, both unless said otherwise")
        if row.ends is None
        else row.figure("ends", NUMBER, "free ends")
    )
    each = walls.in_a_course(walls.run(length, unit.depth, corners), unit.length)
    halves = walls.halves(courses, ends)
    half = constant(0.5, NUMBER, "two halves from one cut")
    capped = walls.caps(length, overhang(unit, cap), ends, corners, cap.length) if cap else None
    width = _past("width of the pad", unit.depth, reach)
    return Made(
        units=product("wall units", COUNT, each, courses),
        caps=capped,
        courses=courses,
        run=length,
        cut=product("units to halve", LENGTH, halves, half, unit.depth) if halves.value else None,
        footing=product("area of the pad", AREA, _past("length of the pad", length, reach), width),
        pad=pad,
        sunk=sunk,
        stands=product("area below the wall", AREA, length, unit.depth),
    )


def for_overhang(row: Wall, unit: Block, cap: Block, caps: Figure, system: System) -> str:
    """What to know where a cap is bought only because caps run past the ends; else nothing."""
    if row.kind != "wall" or row.length is None:
        return ""
    flush = whole_packs(row.length / cap.length.value) + row.corners
    if flush >= caps.value:
        return ""
    past = overhang(unit, cap).words(system)
    return (
        f"Caps that run {past} past each free end take {grouped(caps.value)}; cut flush with the "
        f"ends, {grouped(flush)} would do."
    )


def ring_diameters(row: Wall, unit: Block) -> tuple[Figure, Figure]:
    """Outer and inner diameter of a ring as asked for [m]."""
    outer = rings.outer_diameter(size(row, "diameter"), row.circle, unit.depth)
    return outer, rings.inner_diameter(outer, unit.depth)


def _ring(row: Wall, unit: Block, cap: Block | None) -> Made:
    courses, pad, reach, sunk = _common(row, unit, cap)
    outer, inner = ring_diameters(row, unit)
    each = rings.units(outer, unit.depth, unit.length, unit.back)
    half = constant(0.5, NUMBER, "middle of the two")
    middle = product("middle diameter", DEPTH, half, total("both diameters", (outer, inner)))
    around = product("around the middle", LENGTH, rings.pi(), middle)
    width = _past("width of the pad", unit.depth, reach)
    return Made(
        units=product("wall units", COUNT, each, courses),
        caps=_ring_caps(outer, unit, cap) if cap else None,
        courses=courses,
        run=around,
        cut=None,
        footing=product("area of the pad", AREA, around, width),
        pad=pad,
        sunk=sunk,
        stands=product("area below the ring", AREA, around, unit.depth),
    )


def _ring_caps(outer: Figure, unit: Block, cap: Block) -> Figure:
    reach = overhang(unit, cap)
    across = _past("diameter over the caps", outer, reach)
    return rings.units(across, cap.depth, cap.length, cap.back).called("caps")


def _column(row: Wall, unit: Block, cap: Block | None) -> Made:
    courses, pad, reach, sunk = _common(row, unit, cap)
    side = size(row, "length")
    depth = unit.depth
    each = walls.round_column(side, side, depth, unit.length)
    four = constant(4, NUMBER, "four sides")
    around = product("around the middle", LENGTH, four, minus("side less a unit", side, depth))
    wide = _past("side of the pad", side, reach)
    return Made(
        units=product("wall units", COUNT, each, courses),
        caps=_tiles(side, side, cap) if cap else None,
        courses=courses,
        run=around,
        cut=None,
        footing=product("area of the pad", AREA, wide, wide),
        pad=pad,
        sunk=sunk,
        stands=product("area below the column", AREA, side, side),
    )


def _tiles(length: Figure, width: Figure, cap: Block) -> Figure:
    """Caps that cover a rectangle, whole ones both ways."""
    along = whole("caps along", ratio("length in caps", NUMBER, length, cap.length))
    deep = whole("caps deep", ratio("depth in caps", NUMBER, width, cap.depth))
    return product("caps", COUNT, along, deep)


def tread(row: Wall) -> Figure:
    """Tread of the steps from front to back [m]."""
    return row.figure("tread", DEPTH, "tread") if row.tread else coefficient("tread").figure()


def risers(row: Wall) -> Figure:
    """Risers of a flight, the one up to the landing included."""
    if row.risers:
        return row.figure("risers", COUNT, "risers")
    return walls.risers(size(row, "height"), coefficient("most riser").figure())


def riser_height(row: Wall) -> Figure:
    """Height of one riser [m]."""
    return ratio("one riser", DEPTH, size(row, "height"), risers(row))


def courses_of_a_riser(row: Wall, unit: Block, cap: Block | None) -> Figure:
    """Courses of units in one riser, below its tread."""
    height = riser_height(row)
    if cap:
        height = walls.less_cap(height, cap.height)
    return walls.courses(height, unit.height).called("courses in a riser")


def _steps(row: Wall, unit: Block, cap: Block | None) -> Made:
    width, deep, count = size(row, "length"), tread(row), risers(row)
    n = int(count.value)
    treads = minus("treads", count, constant(1, COUNT, "the landing is the top one"))
    each = courses_of_a_riser(row, unit, cap)
    front = product("units across", COUNT, count, walls.in_a_course(width, unit.length))
    parts = [product("units in the risers", COUNT, front, each)]
    sides = None
    if n > 1:
        # Both sides of each level below the landing, from the riser back to the landing.
        levels = constant(n * (n - 1), NUMBER, "treads along both sides, all levels together")
        sides = product("both sides of all levels", LENGTH, levels, deep)
        along = walls.in_a_course(sides, unit.length)
        parts.append(product("units in the sides", COUNT, along, each))
    tread_run = product("length of the treads", LENGTH, treads, width)
    both = (deep,) * max(1, n - 1)
    reach = coefficient("pad past the wall").figure()
    row_of_treads = total("treads in a row", both)
    long = _past("length of the pad", row_of_treads, reach)
    wide = _past("width of the pad", width, reach)
    fill = walls.fill_under_steps(width, deep, riser_height(row), count) if n > 1 else None
    below = buried(row)
    return Made(
        units=total("wall units", parts),
        caps=product("treads", COUNT, treads, _tiles(width, deep, cap)) if cap and n > 1 else None,
        courses=product("courses", COUNT, each, count),
        run=total("length of risers and sides", [f for f in (tread_run, sides) if f])
        if n > 1 else width,
        cut=None,
        footing=product("area of the pad", AREA, long, wide),
        pad=pad_depth(row),
        sunk=product("buried courses", DEPTH, below, unit.height) if below.value else None,
        stands=product("area below the steps", AREA, row_of_treads, width),
        fill=fill,
    )  # fmt: skip


def pad_stone(one: Made) -> Figure | None:
    """Stone below one wall [m³ compacted]; none on paving without treads."""
    parts = []
    if one.footing is not None:
        parts.append(product("levelling pad", COMPACTED_VOLUME, one.footing, one.pad))
    if one.fill is not None:
        parts.append(one.fill)
    if not parts:
        return None
    return total("stone below", parts) if len(parts) > 1 else parts[0]


def trench(one: Made) -> Figure | None:
    """Soil dug for one wall [m³ bank]: the pad and the buried courses."""
    if one.footing is None:
        return None
    deep = one.pad
    if one.sunk is not None:
        deep = total("depth of the trench", (one.pad, one.sunk))
    return product("trench", BANK_VOLUME, one.footing, deep)


def beside(one: Made) -> Figure | None:
    """Room beside the buried courses of one wall, above its pad [m³ compacted]."""
    if one.footing is None or one.sunk is None:
        return None
    strip = minus("strips beside the wall", one.footing, one.stands)
    return product("room beside the wall", COMPACTED_VOLUME, strip, one.sunk)


def all_alike(row: Wall, one: Figure, name: str) -> Figure:
    """What one wall asks for, times how many alike there are."""
    if row.count == 1:
        return one.called(name)
    return product(name, one.kind, row.figure("count", NUMBER, f"{row.name}, alike"), one)
