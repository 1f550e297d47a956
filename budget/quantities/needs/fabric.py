"""Geotextile of one part: strips of the roll, its overlaps, what is turned up, and its pins."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.figures import Figure, constant, laid_out, minus, product, ratio, total, whole
from budget.job import Area, Measure, Product
from budget.quantities.formulas import geotextile
from budget.quantities.laid.fabric_rolls import Strip, Unrolled, plan_of, unroll
from budget.quantities.needs.fabric_outline import beside, covered_outline
from budget.quantities.site import Site
from budget.quantities.takeoff import CuttingPlan, Need, StepAmount
from budget.reference import coefficient
from budget.units import AREA, AREA_MASS, COUNT, LENGTH, MASS, NUMBER, RATIO, in_words
from budget.wording import listed

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

_TAPE = 0.01  # m, no tape is better


@dataclass(frozen=True, slots=True)
class Fabrics:
    """Geotextile of all parts: needs, the work of laying it, and how it comes off its rolls."""

    needs: list[Need]
    steps: list[StepAmount]
    cutting: tuple[CuttingPlan, ...]


@dataclass(frozen=True, slots=True)
class _Cover:
    """Geotextile of one part before it is cut from rolls."""

    site: Site
    net: Figure
    area: Figure
    strips: tuple[float, ...]  # m
    why: str


def fabrics(sites: Sequence[Site]) -> Fabrics:
    """Geotextile under the base, in strips where the roll and the outline are known.

    Where the length of a roll is known too, the strips are cut from rolls: what they lap end to
    end, and the ends that are too short to use, are ordered with the part whose strip it is.
    """
    around = beside(sites)
    covers = [
        _cover(site, around.get(site.part.name, [])) for site in sites if site.layers.geotextile
    ]
    found = _rolls(covers)
    more = found[0].more if found else {}
    needs = [_need(cover, more.get(cover.site.part.name, 0.0)) for cover in covers]
    steps = [
        cover.site.step("Fabric", cover.net.called(f"area of geotextile, {cover.site.part.name}"))
        for cover in covers
    ]
    return Fabrics(needs, steps, (found[1],) if found else ())


def _cover(site: Site, neighbours: Sequence[BaseGeometry]) -> _Cover:
    roll = site.materials.of_kind("geotextile")
    overlap = coefficient("geotextile overlap").figure()
    width = roll_width(site)
    sides = _rectangle_with_overrun(site)
    past = _past(site).value
    outline = covered_outline(site, neighbours, past, overlap.value) if sides is None else None
    net = _net(site)
    if not _known(roll, overlap) or (sides is None and outline is None):
        area = geotextile.lapped_area(net, width, overlap)
        why = "Strips overlap so that soil and stone stay apart."
        return _Cover(site, net, area, (area.value / width.value,), why)
    if sides is not None:
        area = geotextile.strip_area(*sides, width, overlap)
        from shapely import box

        wide = box(0, 0, *(side.value for side in sides))
        why = "Strips overlap so that soil and stone stay apart; laid the better way of the two."
        return _Cover(site, net, area, _lengths(wide, width, overlap), why)
    return _in_strips(site, net, outline, width, overlap)


def _lengths(wide: BaseGeometry, width: Figure, overlap: Figure) -> tuple[float, ...]:
    from budget.quantities.laid.fabric_layout import strips_on

    return tuple(strip.length for strip in strips_on(wide, width.value, overlap.value))


def _rolls(covers: Sequence[_Cover]) -> tuple[Unrolled, CuttingPlan] | None:
    """How the strips come off their rolls, where the length of a roll is known."""
    if not covers:
        return None
    site = covers[0].site
    product, lap = site.materials.of_kind("geotextile"), coefficient("geotextile overlap").likely
    if (
        product is None
        or not product.holds
        or not _known(product, coefficient("geotextile overlap").figure())
    ):
        return None
    roll = product.holds / roll_width(site).value
    if roll <= 2 * lap:
        return None
    strips = [
        Strip(cover.site.part.name, length, bool(cover.site.optional))
        for cover in covers
        for length in cover.strips
    ]
    found = unroll(strips, roll, lap)
    return found, plan_of(product.item, found, roll, lap, site.materials.job.settings.units)


def _need(cover: _Cover, more: float) -> Need:
    """The need of one part, with what it takes to lap its strips end to end [m]."""
    site, order, why = cover.site, cover.area, cover.why
    if more:
        key = f"end laps of geotextile, {site.part.name}"
        words = "end laps and ends of rolls"
        length = laid_out(more, LENGTH, words, key, "rolls cut one strip after another")
        width = roll_width(site)
        order = total("geotextile with end laps", (order, product(words, AREA, length, width)))
        why = f"{why} Where a roll ends a strip goes on from the next, lapped."
    extra = ratio("extra geotextile", RATIO, minus("beyond the area", order, cover.net), cover.net)
    return site.need(
        "geotextile", site.materials.item("geotextile"), net=cover.net, order=order, overage=extra,
        why=why, measures=_measures(site.materials.of_kind("geotextile"), order, roll_width(site)),
    )  # fmt: skip


def pins(site: Site, order: Figure) -> Figure:
    """Pins or staples along the overlaps: the length of all strips by their spacing [count]."""
    length = ratio("length of strips", LENGTH, order, roll_width(site))
    spacing = coefficient("geotextile pin spacing").figure()
    return whole("pins", ratio("strips by spacing", NUMBER, length, spacing))


def roll_width(site: Site) -> Figure:
    """Width of the roll on Products, else the documented one [m]."""
    roll = site.materials.of_kind("geotextile")
    if roll and _known(roll, coefficient("geotextile overlap").figure()):
        return roll.figure("roll_width", LENGTH, "width of the roll")
    return coefficient("geotextile roll width").figure()


def _known(roll: Product | None, overlap: Figure) -> bool:
    return bool(roll and roll.roll_width and roll.roll_width > overlap.value)


def _past(site: Site) -> Figure:
    """How far geotextile reaches past the paving: the base's overrun and what is turned up [m]."""
    turned = site.layers.turned_up()
    past = site.layers.overrun
    return past if turned is None else total("overrun and what is turned up", (past, turned))


def _net(site: Site) -> Figure:
    """Area to cover [m²]: under the base, and up the open sides of the dig as far as turned."""
    turned = site.layers.turned_up()
    if turned is None:
        return site.base_area
    edge = site.part.edge("open", f"{site.part.name} open edge")
    return total(
        f"area under the base and up its sides, {site.part.name}",
        (site.base_area, product("turned up", AREA, edge, turned)),
    )


def _in_strips(
    site: Site, net: Figure, outline: BaseGeometry, width: Figure, overlap: Figure
) -> _Cover:
    """Geotextile in strips laid on an outline."""
    system = site.materials.job.settings.units
    lengths = _lengths(outline, width, overlap)
    words = "strips on the outline with its overrun"
    key = f"strips of geotextile, {site.part.name}"
    length = laid_out(sum(lengths), LENGTH, "length of strips", key, words)
    first = [in_words(n, LENGTH, system, 1) for n in lengths[:6]]
    cut = listed([*first, f"{len(lengths) - 6} more"] if len(lengths) > 6 else first)
    number, lap = "One strip", ""
    if len(lengths) > 1:
        number, lap = f"{len(lengths)} strips", f"; they overlap by {overlap.words(system)}"
    why = f"{number} laid the better way, of {cut}{lap}."
    area = product("geotextile in strips", AREA, length, width)
    return _Cover(site, net, area, lengths, why)


def _measures(roll: Product | None, order: Figure, width: Figure) -> dict[Measure, Figure]:
    weight = coefficient("weight geotextile").figure()
    measures: dict[Measure, Figure] = {"area": order}
    if roll and roll.holds:
        holds = roll.figure("holds", order.kind, "area of a roll")
        measures["count"] = ratio("rolls", COUNT, order, holds)
        measures["length"] = ratio("length of roll", LENGTH, order, width)
        if roll.weight:
            one = roll.figure("weight", MASS, "weight of a roll")
            weight = ratio("weight of geotextile by area", AREA_MASS, one, holds)
    measures["mass"] = product("weight of geotextile", MASS, order, weight)
    return measures


def _rectangle_with_overrun(site: Site) -> tuple[Figure, Figure] | None:
    """Length and width of a part that is one rectangle, with the overrun past its open sides [m].

    Nothing where other paving lies against it, or where it is not whole sides that are against
    the house.
    """
    pieces = site.part.pieces
    piece, row = pieces[0], pieces[0].row
    if len(pieces) != 1 or row.shape != "rectangle" or row.joined_edge:
        return None
    open_ends = _open_ends(row)
    if open_ends is None or abs(piece.edges.open.value + row.house_edge - _around(row)) > _TAPE:
        return None
    sizes = []
    for words, ends in zip(("length", "width"), open_ends, strict=True):
        past = product(f"overrun past {ends} ends", LENGTH, _past(site),
                       constant(ends, NUMBER, "open ends"))  # fmt: skip
        size = row.figure(words, LENGTH, words)
        sizes.append(total(f"{words} with overrun", (size, past)) if ends else size)
    return sizes[0], sizes[1]


def _open_ends(row: Area) -> tuple[int, int] | None:
    """At how many ends of its length and of its width a rectangle is not against the house.

    Of several ways that make up the edge against the house, the one of fewest sides.
    """
    length, width = row.length or 0.0, row.width or 0.0
    sides = sorted(itertools.product(range(3), repeat=2), key=lambda both: (sum(both), both[1]))
    for along, across in sides:
        if abs(along * length + across * width - row.house_edge) < _TAPE:
            return 2 - across, 2 - along
    return None


def _around(row: Area) -> float:
    return 2 * ((row.length or 0.0) + (row.width or 0.0))
