"""Small things that wear or are used up, with the amount that the job's own sizes ask for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from budget.figures import Figure, constant, given, product, ratio, total, whole
from budget.job import Settings
from budget.quantities.needs.cutting_way import StoneCut
from budget.quantities.needs.fabric import pins
from budget.quantities.needs.handling import people_of
from budget.quantities.site import Site
from budget.quantities.stones import USUAL, blade_wear
from budget.quantities.takeoff import Need
from budget.reference import coefficient
from budget.units import COUNT, FLUID, HOURS, LENGTH, NUMBER

BLADES = "Saw blade and its wear"


def consumables(
    sites: Sequence[Site], cuts: Sequence[StoneCut], needs: Sequence[Need], settings: Settings
) -> list[tuple[str, Figure]]:
    """Checklist lines with an amount: blades by length of cut, stakes by edge, pins by overlap,
    drinking water by people and hours."""
    found: list[tuple[str, Figure]] = []
    if sites:
        found.append(("Safety gear", _drink(settings)))
    if cuts:
        found += [(BLADES, figure) for figure in blades(cuts)]
        found.append((BLADES, total("cut in stone or concrete", [cut.length for cut in cuts])))
    edges = [site.part.edge("whole", f"{site.part.name} edge") for site in sites]
    if edges:
        edge = total("edge to set out", edges) if len(edges) > 1 else edges[0]
        spaced = ratio("edge by spacing", NUMBER, edge, coefficient("stake spacing").figure())
        found.append(("Small tools and string", whole("stakes", spaced)))
        found.append(("Small tools and string", edge.called("string")))
    fabric = [need.order for need in needs if need.kind == "geotextile"]
    if fabric:
        found.append(("Geotextile pins", pins(sites[0], total("geotextile", fabric))))
    return found


def _drink(settings: Settings) -> Figure:
    """Drinking water of everybody for one hot day of work [m³]."""
    long = settings.hours_per_day
    hours = (
        coefficient("hours per day").figure()
        if long is None
        else given(long, HOURS, "hours in a day", settings.cell("hours_per_day"))
    )
    people = constant(people_of(settings), COUNT, "people")
    pace = coefficient("drinking water").figure()
    return product("drinking water for a hot day", FLUID, people, hours, pace)


def blades(cuts: Iterable[StoneCut]) -> list[Figure]:
    """Blades worn, those for each material apart, since a blade is made for one.

    A piece twice as thick wears one twice as fast.
    """
    by_material: dict[str, list[StoneCut]] = {}
    for cut in cuts:
        by_material.setdefault(cut.material, []).append(cut)
    found = []
    for material, mine in sorted(by_material.items()):
        name = "diamond blades" if material == USUAL else f"diamond blades for {material}"
        found.append(whole(name, _worn(mine, material)))
    return found


def _worn(cuts: Iterable[StoneCut], material: str) -> Figure:
    usual = coefficient("paver height").figure()
    deep = [
        product(
            "cut in pavers of usual thickness", LENGTH, cut.length,
            ratio("thickness against the usual", NUMBER, cut.height, usual),
        )
        for cut in cuts
    ]  # fmt: skip
    length = total("cut in pavers of usual thickness", deep)
    wear = blade_wear(material)
    if wear:
        length = product("cut in usual pavers that wears as much", LENGTH, length, *wear)
    return ratio("blades worn", NUMBER, length, coefficient("blade life").figure())
