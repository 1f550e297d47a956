"""What one part needs below the bedding, and the bedding: dig, spoil, fabric, base, bed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from budget.figures import Figure, constant, largest, minus, product, ratio, total
from budget.job import Measure
from budget.quantities.formulas import base, bedding, earthwork
from budget.quantities.formulas.compaction import Compaction, compaction
from budget.quantities.formulas.paving import with_extra
from budget.quantities.moisture import wet_and_dry, wet_words
from budget.quantities.needs.beddings import KIND_OF
from budget.quantities.needs.rubble import Rubble, rubble_of
from budget.quantities.needs.tamping import tamped, tamping_words
from budget.quantities.pavers import surfaces
from budget.quantities.site import Site
from budget.quantities.takeoff import Earthwork, Need, StepAmount
from budget.reference import coefficient
from budget.reference.tables import Ground
from budget.units import (
    BANK_VOLUME,
    BULK_DENSITY,
    BULK_MASS,
    COMPACTED_VOLUME,
    LOOSE_VOLUME,
)


@dataclass(slots=True)
class Dug:
    """Amounts of one part below its base: work, spoil to be rid of, and its weight."""

    steps: list[StepAmount] = field(default_factory=list)
    spoil: list[StepAmount] = field(default_factory=list)
    soil: list[Figure] = field(default_factory=list)  # spoil under the first bedding, m³ loose
    rubble: tuple[Rubble, ...] = ()
    earthwork: Earthwork | None = None


def dig(site: Site, ground: Ground) -> Dug:
    """Amounts to break out, to dig (in the ground) and to be rid of (loose), for each bedding.

    An old surface is part of the depth: what is broken out is not dug once more. Soil that is
    kept for the strips beside the paving is moved to a heap and back, but is no spoil.
    """
    found = Dug(rubble=rubble_of(site.part))
    part = site.part.name
    old = [r.in_place for r in found.rubble]
    broken = [r for r in found.rubble if r.surface.broken]
    for r in broken:
        amount = r.in_place.called(f"old {r.surface.name} to break out, {part}")
        found.steps.append(site.step("Break out", amount))
    for r in found.rubble:
        heap = site.step("Spoil", r.loose.called(f"old {r.surface.name} to be rid of, {part}"))
        found.steps.append(heap)
        found.spoil.append(heap)
    for name in site.beddings:
        bank = _dug(site, name)
        by_hand = _less_old("dig below the old surface", bank, [r.in_place for r in broken])
        soil = _less_old("soil below the old surface", bank, old)
        loose = earthwork.loose_volume(soil, ground.swell_figure())
        only = site.only_under(name)
        found.steps.append(site.step("Dig", by_hand.called(f"dig, {part}"), only))
        found.steps.append(site.step("Spoil", loose.called(f"spoil, {part}"), only))
        left = _not_kept(site, name, loose, ground)
        found.spoil.append(site.step("Spoil", left.called(f"spoil, {part}"), only))
        found.soil = found.soil or [left]
        found.earthwork = found.earthwork or _earthwork(site, name, by_hand)
    return found


def _dug(site: Site, bedding: str) -> Figure:
    """Soil dug to the bottom of the base [m³ bank], by a flat dig or by measured heights."""
    flat = earthwork.bank_volume(site.base_area, site.stack(bedding))
    if site.levels is None:
        return flat
    above = product("ground above the finish", BANK_VOLUME, site.base_area, site.levels.above)
    fill = site.levels.fill[bedding]
    parts = [flat, above]
    if fill.value:
        parts.append(product("not dug, since it is filled", BANK_VOLUME, site.base_area, fill))
    return earthwork.not_below_zero("soil in the ground", total("cut", parts))


def _less_old(name: str, bank: Figure, old: list[Figure]) -> Figure:
    if not old:
        return bank
    return earthwork.not_below_zero(name, minus(name, bank, total("old surface", old)))


def _not_kept(site: Site, bedding: str, loose: Figure, ground: Ground) -> Figure:
    """Spoil less the soil that goes back over the base beside the paving [m³ loose]."""
    if not site.materials.job.settings.keep_soil:
        return loose
    strip = minus("strips beside the paving", site.base_area, site.area)
    depth = total("depth of the strips", (site.height, site.layers.bedding_depth(bedding)))
    room = product("room beside the paving", COMPACTED_VOLUME, strip, depth)
    kept = earthwork.put_back(room, ground.compacted_figure(), ground.swell_figure())
    return earthwork.not_below_zero("spoil not kept", minus("spoil not kept", loose, kept))


def _earthwork(site: Site, bedding: str, cut: Figure) -> Earthwork:
    method = site.levels.method if site.levels else "flat dig"
    fill = fill_of(site)
    name = f"an inch more or less, {site.part.name}"
    inch = earthwork.an_inch(site.base_area).called(name)
    return Earthwork(site.part.name, method, cut.called(f"cut, {site.part.name}"), fill, inch)


def spoil_density(dug: Sequence[Dug], trenches: Sequence[StepAmount], ground: Ground) -> Figure:
    """Density of all spoil as it lies loose [kg/m³]: soil, with rubble by its share."""
    soil = ground.density_figure()
    rubble = [r for below in dug for r in below.rubble]
    if not rubble:
        return soil
    heaps = [f for below in dug for f in below.soil] + [t.amount for t in trenches]
    loose = total("loose soil", heaps)
    mass = product("weight of loose soil", BULK_MASS, loose, soil)
    masses = total("weight of spoil", (mass, *(r.mass for r in rubble)))
    volume = total("loose spoil", (loose, *(r.loose for r in rubble)))
    return ratio("loose density of spoil", BULK_DENSITY, masses, volume)


def fill_of(site: Site) -> Figure:
    """Fill below the base [m³ compacted], the most that any bedding asks for."""
    name = f"fill, {site.part.name}"
    depths = [f for f in (site.levels.fill.values() if site.levels else ()) if f.value > 0]
    if not depths:
        return constant(0, COMPACTED_VOLUME, name)
    depth = largest("average fill", *depths) if len(depths) > 1 else depths[0]
    return product(name, COMPACTED_VOLUME, site.base_area, depth)


def _compacted(site: Site) -> Figure:
    """Base with any fill below it [m³ compacted]."""
    compacted = base.compacted_volume(site.base_area, site.layers.base_depth)
    fill = fill_of(site)
    return total("compacted base and fill", (compacted, fill)) if fill.value else compacted


def plate(site: Site) -> Compaction | None:
    """How the plate compacts the base of a part; nothing without a base, or without a plate."""
    compacted = _compacted(site)
    if tamped(site.materials.job) or compacted.value <= 0:
        return None
    return compaction(site.part.name, site.base_area, compacted, site.optional)


def base_stone(site: Site) -> tuple[list[Need], list[StepAmount]]:
    """The base: compacted, by weight and as sold loose."""
    compacted = _compacted(site)
    if compacted.value <= 0:
        return [], []
    item = site.layers.base_item
    mass = base.base_mass(compacted, coefficient("density base compacted").figure())
    density = site.materials.density("base", item)
    loose = base.loose_base(mass, density)
    extra = coefficient("overage base").figure()
    order = with_extra(f"{item} with extra, loose", loose, extra)
    system = site.materials.job.settings.units
    if tamped(site.materials.job):
        lifts = tamping_words(site.base_area, compacted, system)
    else:
        lifts = compaction(site.part.name, site.base_area, compacted).words(system)
    weight = with_extra(f"weight of {item} with extra", mass, extra)
    why = (
        f"For uneven ground and spill. Compact it in {lifts}. "
        f"Loose it fills {loose.words(system)}, compacted {compacted.words(system)}."
        + wet_and_dry("base", item, weight, site.materials)
    )
    measures: dict[Measure, Figure] = {"volume": order, "mass": weight}
    need = site.need(
        "base", item, net=loose, order=order, overage=extra, why=why, measures=measures
    )
    amount = compacted.called(f"compacted base, {site.part.name}")
    return [need], [site.step("Base", amount)]


def _bedding(site: Site, depth: Figure) -> Figure:
    """Bedding at its depth, and what lies deeper below pavers thinner than the thickest [m³]."""
    even = bedding.bedding_volume(site.area, depth)
    deeper = [
        product(
            f"deeper below {item}", LOOSE_VOLUME, area,
            minus(f"{item} thinner by", site.height, height),
        )
        for item, area, height in surfaces(site.groups)
        if height.value < site.height.value - 1e-9
    ]  # fmt: skip
    return total(even.name, (even, *deeper)) if deeper else even


def bed(site: Site) -> tuple[list[Need], list[StepAmount]]:
    """The bedding, for each one the part may be laid on, and the area to screed."""
    needs = []
    for name in site.beddings:
        kind = KIND_OF[name]
        item = site.materials.item(kind)
        density = site.materials.density(kind, item)
        net = _bedding(site, site.layers.bedding_depth(name))
        if net.value <= 0:
            continue
        extra = coefficient(f"overage {name}").figure()
        order = with_extra(f"{item} with extra", net, extra)
        mass = bedding.bedding_mass(order, density)
        needs.append(
            site.need(
                kind,
                item,
                net=net,
                order=order,
                overage=extra,
                why="For settling under the plate, what sifts into the base, and spill."
                + wet_words(kind, item, site.materials),
                measures={"volume": order, "mass": mass},
                bedding=site.only_under(name),
            )
        )
    return needs, [site.step("Bed", site.area.called(f"bed to screed, {site.part.name}"))]
