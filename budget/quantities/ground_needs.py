"""What one part needs below the bedding, and the bedding: dig, spoil, fabric, base, bed."""

from __future__ import annotations

from budget.figures import Figure, minus, product, ratio, total
from budget.job import Measure, Product
from budget.quantities import base, bedding, earthwork, geotextile
from budget.quantities.beddings import KIND_OF
from budget.quantities.paving import with_extra
from budget.quantities.site import Site
from budget.quantities.takeoff import Need, StepAmount
from budget.reference import coefficient
from budget.reference.tables import Ground
from budget.units import AREA_MASS, COUNT, LENGTH, MASS, RATIO


def dig(site: Site, ground: Ground) -> tuple[list[StepAmount], list[StepAmount]]:
    """Amounts to dig (in the ground) and to be rid of (loose), for each bedding."""
    digging, spoil = [], []
    for name in site.beddings:
        depth = earthwork.dig_depth(
            site.height, site.layers.bedding_depth(name), site.layers.base_depth
        )
        bank = earthwork.bank_volume(site.base_area, depth)
        loose = earthwork.loose_volume(bank, ground.swell_figure())
        only = site.only_under(name)
        part = site.part.name
        digging.append(site.step("Dig", bank.called(f"dig, {part}"), only))
        spoil.append(site.step("Spoil", loose.called(f"spoil, {part}"), only))
    return digging, spoil


def fabric(site: Site) -> tuple[list[Need], list[StepAmount]]:
    """Geotextile under the base, in strips where the roll width and a rectangle allow it."""
    if not site.layers.geotextile:
        return [], []
    roll = site.materials.of_kind("geotextile")
    overlap = coefficient("geotextile overlap").figure()
    known = bool(roll and roll.roll_width and roll.roll_width > overlap.value)
    width = (
        roll.figure("roll_width", LENGTH, "width of the roll")
        if roll and known
        else coefficient("geotextile roll width").figure()
    )
    sides = _rectangle_with_overrun(site) if known else None
    net = site.base_area
    order = (
        geotextile.strip_area(*sides, width, overlap)
        if sides
        else geotextile.lapped_area(net, width, overlap)
    )
    extra = ratio("extra geotextile", RATIO, minus("beyond the area", order, net), net)
    measures = _geotextile_measures(roll, order, width)
    item = site.materials.item("geotextile")
    why = "Strips overlap so that soil and stone stay apart" + (
        "; laid the better way of the two." if sides else "."
    )
    need = site.need(
        "geotextile", item, net=net, order=order, overage=extra, why=why, measures=measures
    )
    return [need], [site.step("Fabric", net.called(f"area of geotextile, {site.part.name}"))]


def _geotextile_measures(
    roll: Product | None, order: Figure, width: Figure
) -> dict[Measure, Figure]:
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
    past = site.layers.overrun
    both = total("overrun at both ends", (past, past))
    both = product("overrun at both ends", LENGTH, both)
    sizes = [
        total(f"{words} with overrun", (row.figure(words, LENGTH, words), both))
        for words in ("length", "width")
    ]
    return sizes[0], sizes[1]


def base_stone(site: Site) -> tuple[list[Need], list[StepAmount]]:
    """The base: compacted, by weight and as sold loose."""
    layers = site.layers
    compacted = base.compacted_volume(site.base_area, layers.base_depth)
    if compacted.value <= 0:
        return [], []
    item = layers.base_item
    mass = base.base_mass(compacted, coefficient("density base compacted").figure())
    density = site.materials.density("base", item)
    loose = base.loose_base(mass, density)
    extra = coefficient("overage base").figure()
    order = with_extra(f"{item} with extra, loose", loose, extra)
    system = site.materials.job.settings.units
    most = coefficient("lift depth").figure()
    count = int(base.lifts(layers.base_depth, most).value)
    lifts = f"{count} lift" if count == 1 else f"{count} lifts"
    why = (
        f"For uneven ground and spill. Compact it in {lifts} of at most {most.words(system)}; "
        f"loose it fills {loose.words(system)}, compacted {compacted.words(system)}."
    )
    measures: dict[Measure, Figure] = {
        "volume": order,
        "mass": with_extra(f"weight of {item} with extra", mass, extra),
    }
    need = site.need(
        "base", item, net=loose, order=order, overage=extra, why=why, measures=measures
    )
    amount = compacted.called(f"compacted base, {site.part.name}")
    return [need], [site.step("Base", amount)]


def bed(site: Site) -> tuple[list[Need], list[StepAmount]]:
    """The bedding, for each one the part may be laid on, and the area to screed."""
    needs = []
    for name in site.beddings:
        kind = KIND_OF[name]
        item = site.materials.item(kind)
        density = site.materials.density(kind, item)
        net = bedding.bedding_volume(site.area, site.layers.bedding_depth(name))
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
                why="For settling under the plate, what sifts into the base, and spill.",
                measures={"volume": order, "mass": mass},
                bedding=site.only_under(name),
            )
        )
    return needs, [site.step("Bed", site.area.called(f"bed to screed, {site.part.name}"))]
