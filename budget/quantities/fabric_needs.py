"""Geotextile of one part: strips of the roll, its overlaps, what is turned up, and its pins."""

from __future__ import annotations

from typing import TYPE_CHECKING

from budget.figures import Figure, laid_out, minus, product, ratio, total, whole
from budget.job import Measure, Product
from budget.quantities import geotextile
from budget.quantities.outlines import rings_of
from budget.quantities.regions import region_of, union
from budget.quantities.site import Site
from budget.quantities.takeoff import Need, StepAmount
from budget.reference import coefficient
from budget.units import AREA, AREA_MASS, COUNT, LENGTH, MASS, NUMBER, RATIO, in_words

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


def fabric(site: Site) -> tuple[list[Need], list[StepAmount]]:
    """Geotextile under the base, in strips where the roll and the outline are known."""
    if not site.layers.geotextile:
        return [], []
    roll = site.materials.of_kind("geotextile")
    overlap = coefficient("geotextile overlap").figure()
    width = roll_width(site)
    sides = _rectangle_with_overrun(site)
    outline = _outline(site) if sides is None else None
    net = _net(site)
    if not _known(roll, overlap) or (sides is None and outline is None):
        order = geotextile.lapped_area(net, width, overlap)
        why = "Strips overlap so that soil and stone stay apart."
    elif sides is not None:
        order = geotextile.strip_area(*sides, width, overlap)
        why = "Strips overlap so that soil and stone stay apart; laid the better way of the two."
    else:
        order, why = _in_strips(site, outline, width, overlap)
    extra = ratio("extra geotextile", RATIO, minus("beyond the area", order, net), net)
    item = site.materials.item("geotextile")
    need = site.need(
        "geotextile", item, net=net, order=order, overage=extra, why=why,
        measures=_measures(roll, order, width),
    )  # fmt: skip
    return [need], [site.step("Fabric", net.called(f"area of geotextile, {site.part.name}"))]


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
    """Area to cover [m²]: under the base, and up the sides of the dig as far as it is turned."""
    turned = site.layers.turned_up()
    if turned is None:
        return site.base_area
    edge = site.part.edge("whole", f"{site.part.name} edge")
    return total(
        f"area under the base and up its sides, {site.part.name}",
        (site.base_area, product("turned up", AREA, edge, turned)),
    )


def _in_strips(
    site: Site, outline: BaseGeometry, width: Figure, overlap: Figure
) -> tuple[Figure, str]:
    """Geotextile in strips laid on an outline, the better of both directions [m²]."""
    system = site.materials.job.settings.units
    wide = outline.buffer(_past(site).value, join_style="mitre")
    lengths = geotextile.laid_strips(wide, width.value, overlap.value)
    words = "strips on the outline with its overrun"
    key = f"strips of geotextile, {site.part.name}"
    length = laid_out(sum(lengths), LENGTH, "length of strips", key, words)
    cut = " and ".join(in_words(n, LENGTH, system, 1) for n in lengths[:6])
    more = "" if len(lengths) <= 6 else f" and {len(lengths) - 6} more"
    number = "One strip" if len(lengths) == 1 else f"{len(lengths)} strips"
    why = f"{number} laid the better way, of {cut}{more}; they overlap by {overlap.words(system)}."
    return product("geotextile in strips", AREA, length, width), why


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
    """Length and width of a part that is one open rectangle, with the overrun [m]."""
    pieces = site.part.pieces
    row = pieces[0].row
    if len(pieces) != 1 or row.shape != "rectangle" or row.house_edge or row.joined_edge:
        return None
    past = _past(site)
    both = total("overrun at both ends", (past, past))
    both = product("overrun at both ends", LENGTH, both)
    sizes = [
        total(f"{words} with overrun", (row.figure(words, LENGTH, words), both))
        for words in ("length", "width")
    ]
    return sizes[0], sizes[1]
