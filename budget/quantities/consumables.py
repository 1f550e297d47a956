"""Small things that wear or are used up, with the amount that the job's own sizes ask for."""

from __future__ import annotations

from collections.abc import Sequence

from budget.figures import Figure, product, ratio, total, whole
from budget.quantities.fabric_needs import pins
from budget.quantities.site import Site
from budget.quantities.takeoff import Need, StepAmount
from budget.reference import coefficient
from budget.units import LENGTH, NUMBER


def consumables(
    sites: Sequence[Site], amounts: Sequence[StepAmount], needs: Sequence[Need]
) -> list[tuple[str, Figure]]:
    """Checklist lines with an amount: blades by length of cut, stakes by edge, pins by overlap."""
    found = []
    cuts = [a.amount for a in amounts if a.step == "Cut" and a.amount.value > 0]
    if cuts:
        length = total("length to cut", cuts) if len(cuts) > 1 else cuts[0]
        found.append(("Saw blade and its wear", whole("diamond blades", _worn(sites))))
        found.append(("Saw blade and its wear", length.called("cut")))
    edges = [site.part.edge("whole", f"{site.part.name} edge") for site in sites]
    if edges:
        edge = total("edge to set out", edges) if len(edges) > 1 else edges[0]
        spaced = ratio("edge by spacing", NUMBER, edge, coefficient("stake spacing").figure())
        found.append(("Small tools and string", whole("stakes", spaced)))
        found.append(("Small tools and string", edge.called("string")))
    fabric = [need.order for need in needs if need.kind == "geotextile"]
    if fabric:
        found.append(("Geotextile pins", pins(sites[0], total("geotextile", fabric))))
    return [(line, figure) for line, figure in found if figure.value > 0 or figure.kind is LENGTH]


def _worn(sites: Sequence[Site]) -> Figure:
    """Blades worn by the cuts of all pavers: a paver twice as thick wears one twice as fast."""
    usual = coefficient("paver height").figure()
    deep = [
        product(
            "cut in pavers of usual thickness", LENGTH, group.cut(),
            ratio("thickness against the usual", NUMBER, group.sizes.height, usual),
        )
        for site in sites for group in site.groups if group.cut().value > 0
    ]  # fmt: skip
    length = total("cut in pavers of usual thickness", deep, LENGTH)
    return ratio("blades worn", NUMBER, length, coefficient("blade life").figure())
