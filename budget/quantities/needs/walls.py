"""What walls, rings, columns and steps need: units, caps, adhesive, stone, digging and hours."""

from __future__ import annotations

from budget.figures import Figure, constant, minus, product, total
from budget.job import Job, Measure, Wall
from budget.quantities.formulas import adhesive, earthwork
from budget.quantities.formulas.paving import with_extra
from budget.quantities.materials import Materials
from budget.quantities.needs.cutting_way import StoneCut
from budget.quantities.needs.feature import (
    Features,
    need,
    notice,
    optional_part,
    pieces_need,
    stone_need,
)
from budget.quantities.needs.handling import two_people
from budget.quantities.needs.stock import Shelf
from budget.quantities.needs.wall_checks import check
from budget.quantities.needs.wall_counts import (
    Made,
    all_alike,
    beside,
    for_overhang,
    made,
    pad_stone,
    trench,
)
from budget.quantities.needs.wall_sizes import Block, cap_of, unit_of
from budget.quantities.stones import material_of
from budget.quantities.takeoff import StepAmount
from budget.reference import coefficient
from budget.reference.tables import Ground
from budget.units import COUNT, HOURS, NUMBER, TUBE_VOLUME

_NEEDED = {
    "wall": ("length", "height"),
    "ring": ("diameter", "height"),
    "column": ("length", "height"),
    "steps": ("length", "height"),
}
_DRY = (
    "Build",
    "Lay walls, rings and steps dry first, and glue only when all of it fits and is level.",
    "common practice",
)


def walling(job: Job, materials: Materials, ground: Ground, shelf: Shelf) -> Features:
    """Quantities of every wall, ring, column and flight of steps."""
    found = Features()
    for row in sorted(job.walls, key=lambda r: (r.part, r.name, r.kind, r.unit, r.place.row)):
        missing = [n for n in _NEEDED[row.kind] if not getattr(row, n) or getattr(row, n) <= 0]
        for field in missing:
            found.notices.append(
                notice(row, field, "size-missing", "", f"{field} of a {row.kind}", "Fill it in.",
                       "problem")
            )  # fmt: skip
        if not missing:
            _one(row, job, materials, ground, shelf, found)
    if job.walls:
        found.cautions.append(_DRY)
    return found


def _one(
    row: Wall, job: Job, materials: Materials, ground: Ground, shelf: Shelf, found: Features
) -> None:
    unit, cap = unit_of(row.unit, materials), cap_of(row.cap, materials)
    one = made(row, unit, cap)
    optional = optional_part(row, job.areas)
    units = all_alike(row, one.units, f"{row.unit} in {row.name}")
    placed = [(unit, units, "wall unit")]
    if cap and one.caps is not None and one.caps.value > 0:
        placed.append((cap, all_alike(row, one.caps, f"{row.cap} on {row.name}"), "cap"))
    for block, net, kind in placed:
        extra = coefficient("overage wall unit").figure()
        order, cleaning = shelf.take(block.item, with_extra(f"{block.item} with extra", net, extra))
        if cleaning is not None:
            found.step("Build", row.part, cleaning.called(f"{cleaning.name}, {row.name}"), optional)
        if order.value > 0:
            why = f"For {row.name}; the extra is for breakage and cuts."
            if kind == "cap" and cap and one.caps:
                why += _overhang(row, unit, cap, one.caps, job)
            found.needs.append(
                pieces_need(kind, block.item, row.part, net=net, order=order, extra=extra,
                            one=block.weight, why=why, optional=optional, what=row.name)
            )  # fmt: skip
        found.step("Build", row.part, _hours(row, block, net), optional)
    if one.cut is not None:
        cut = all_alike(row, one.cut, f"{row.unit} to halve, {row.name}")
        found.step("Cut", row.part, cut, optional)
        material = material_of(materials.named(unit.item))
        found.cuts.append(StoneCut(unit.item, cut, 0.0, unit.height, material, bool(optional)))
    _glue(row, one, cap, materials, optional, found)
    _ground(row, one, materials, ground, optional, found)
    found.notices += check(row, unit, cap, one, job)


def _overhang(row: Wall, unit: Block, cap: Block, caps: Figure, job: Job) -> str:
    said = for_overhang(row, unit, cap, caps, job.settings.units)
    return f" {said}" if said else ""


def _hours(row: Wall, block: Block, net: Figure) -> Figure:
    """Own hours to place blocks; one over the lifting guideline takes two people."""
    each = coefficient("wall hours").figure()
    people = two_people(block.weight)
    return product(f"placing {block.item}, {row.name}", HOURS, net, each, *people)


def _layers(row: Wall, one: Made, cap: Block | None) -> Figure | None:
    """Layers of a wall that are glued."""
    if row.glue == "none" or (row.glue == "caps" and (cap is None or not one.caps)):
        return None
    if row.glue == "caps":
        return constant(1, NUMBER, "glued layer")
    between = minus("layers between courses", one.courses, constant(1, COUNT, "the first course"))
    layers = product("glued layers", NUMBER, between, constant(1, NUMBER, "each"))
    return total("glued layers", (layers, constant(1, NUMBER, "caps"))) if cap else layers


def _glue(
    row: Wall,
    one: Made,
    cap: Block | None,
    materials: Materials,
    optional: str,
    found: Features,
) -> None:
    layers = _layers(row, one, cap)
    if layers is None or layers.value <= 0:
        return
    beads = coefficient("beads").figure()
    length = all_alike(row, one.run, f"length glued, {row.name}")
    bead = adhesive.bead_length(length, beads, layers)
    volume = adhesive.bead_volume(bead, coefficient("bead").figure())
    item = materials.item("adhesive")
    sold = materials.for_need("adhesive", item)
    if sold is not None and sold.kind == "adhesive":
        item = sold.item
    tube = (
        sold.figure("holds", TUBE_VOLUME, "content of a tube")
        if sold is not None and sold.holds
        else coefficient("tube").figure()
    )
    tubes = adhesive.tubes(volume, tube)
    measures: dict[Measure, Figure] = {"count": tubes, "volume": volume, "length": bead}
    found.needs.append(
        need("adhesive", item, row.part, net=tubes, order=tubes, extra=None,
             why="Bought in whole tubes.", measures=measures, optional=optional, what=row.name)
    )  # fmt: skip


def _ground(
    row: Wall,
    one: Made,
    materials: Materials,
    ground: Ground,
    optional: str,
    found: Features,
) -> None:
    """The stone below, and what is dug for it, where it stands on its own base."""
    stone = pad_stone(one)
    if stone is not None and stone.value > 0:
        named = all_alike(row, stone, f"stone below {row.name}")
        found.needs.append(stone_need(row.part, row.name, named, materials, optional))
        found.step("Base", row.part, named, optional)
    bank = trench(one)
    if bank is None:
        return
    dug = all_alike(row, bank, f"dig for {row.name}")
    found.step("Dig", row.part, dug, optional)
    loose = earthwork.loose_volume(dug, ground.swell_figure())
    found.step("Spoil", row.part, loose.called(f"spoil of {row.name}"), optional)
    kept = materials.job.settings.keep_soil
    left = _not_kept(row, one, loose, ground) if kept else loose
    found.spoil.append(
        StepAmount("Spoil", row.part, left.called(f"spoil of {row.name}"), "", optional)
    )


def _not_kept(row: Wall, one: Made, loose: Figure, ground: Ground) -> Figure:
    """Spoil less the soil that goes back beside the buried courses [m³ loose]."""
    room = beside(one)
    if room is None:
        return loose
    rooms = all_alike(row, room, f"room beside {row.name}")
    kept = earthwork.put_back(rooms, ground.compacted_figure(), ground.swell_figure())
    return earthwork.not_below_zero("spoil not kept", minus("spoil not kept", loose, kept))
