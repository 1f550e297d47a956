"""Trenches for pipe, and pads: what is dug, what goes back, the stone and the pipe to buy."""

from __future__ import annotations

from dataclasses import dataclass, field

from budget.figures import Figure, constant, minus, product, ratio, total
from budget.job import Assumption, Job, Measure, Notice, Trench
from budget.quantities.formulas import base, earthwork
from budget.quantities.formulas.paving import with_extra
from budget.quantities.layers import base_item_of
from budget.quantities.materials import Materials
from budget.quantities.needs.feature import optional_part
from budget.quantities.takeoff import Need, StepAmount
from budget.reference import coefficient, product_kinds
from budget.reference.tables import Ground
from budget.units import BANK_VOLUME, COMPACTED_VOLUME, DEPTH, LENGTH, NUMBER, SMALL_AREA, in_words

_LAID = ("conduit", "drain", "sleeve")
_CAUTION = (
    "Have buried lines marked before a trench is dug. How deep cables and gas lie, and who may "
    "connect them, is for local code and licensed trades."
)


@dataclass(slots=True)
class Trenching:
    """Everything that trenches and pads add to the takeoff."""

    needs: list[Need] = field(default_factory=list)
    steps: list[StepAmount] = field(default_factory=list)
    spoil: list[StepAmount] = field(default_factory=list)
    assumed: list[Assumption] = field(default_factory=list)
    notices: list[Notice] = field(default_factory=list)
    cautions: list[tuple[str, str, str]] = field(default_factory=list)


def trenching(job: Job, materials: Materials, ground: Ground) -> Trenching:
    """Quantities of every trench and pad.

    Soil goes back above the stone and the pipe, compacted; what is left over is spoil.
    """
    found = Trenching()
    for row in sorted(job.trenches, key=lambda r: (r.part, r.name, r.length, r.depth)):
        _one(row, job, materials, ground, found)
    if any(row.what in _LAID for row in job.trenches):
        found.cautions.append(("Dig", _CAUTION, "local code; a city's dig-safely page (811)"))
    return found


def _one(row: Trench, job: Job, materials: Materials, ground: Ground, found: Trenching) -> None:
    optional = optional_part(row, job.areas)
    volume = trench_volume(row)
    stone, pipe = _stone(row, volume), _pipe(row)
    back = _soil_back(row, volume, stone, pipe)
    spoil = _left_over(row, volume, back, ground)

    def step(name: str, amount: Figure) -> StepAmount:
        return StepAmount(name, row.part, amount.called(f"{amount.name}, {row.part}"), "", optional)

    found.steps.append(step("Dig", volume))
    if spoil.value > 0:
        found.steps.append(step("Spoil", spoil))
        found.spoil.append(step("Spoil", spoil))
    if stone.value > 0:
        found.steps.append(step("Base", stone))
        found.needs.append(_stone_need(row, stone, materials, optional))
    if row.item:
        found.needs.append(_pipe_need(row, optional))
        text = "none, the trench counts as dug and filled only"
        found.assumed.append(
            Assumption(f"own hours to lay {row.item}", text, "no hours given", "Trenches")
        )
    found.notices.extend(_deep(row, job))


def trench_volume(row: Trench) -> Figure:
    """Soil dug for one trench or pad [m³ bank], by average end areas where the depth changes."""
    length = row.figure("length", LENGTH, f"length of {row.name}")
    width = row.figure("width", DEPTH, f"width of {row.name}")
    depth = row.figure("depth", DEPTH, f"depth of {row.name}")
    near = product("end area", SMALL_AREA, width, depth)
    if row.far_depth is None:
        return product(f"dig, {row.name}", BANK_VOLUME, near, length)
    far_depth = row.figure("far_depth", DEPTH, f"far depth of {row.name}")
    far = product("far end area", SMALL_AREA, width, far_depth)
    return earthwork.end_areas(near, far, length).called(f"dig, {row.name}")


def _stone(row: Trench, volume: Figure) -> Figure:
    """Stone in it, compacted [m³]: all of a pad, as deep as said in a trench, less the pipe."""
    name = f"stone in {row.name}"
    if row.what == "pad" and row.stone is None:
        return product(name, COMPACTED_VOLUME, volume, constant(1, NUMBER, "filled with stone"))
    if not row.stone:
        return constant(0, COMPACTED_VOLUME, name)
    sizes = [
        row.figure("length", LENGTH, f"length of {row.name}"),
        row.figure("width", DEPTH, f"width of {row.name}"),
        row.figure("stone", DEPTH, "depth of stone"),
    ]
    stone = product(name, COMPACTED_VOLUME, *sizes)
    pipe = _pipe(row)
    if not pipe.value:
        return stone
    left = minus(f"{name} around the pipe", stone, pipe)
    return earthwork.not_below_zero(name, left)


def _pipe(row: Trench) -> Figure:
    """Room that the pipe takes up [m³]."""
    name = f"pipe in {row.name}"
    if not row.diameter:
        return constant(0, COMPACTED_VOLUME, name)
    across = row.figure("diameter", DEPTH, "diameter of the pipe")
    length = row.figure("length", LENGTH, f"length of {row.name}")
    quarter_pi = constant(0.7853981633974483, NUMBER, "pi / 4")
    return product(name, COMPACTED_VOLUME, quarter_pi, across, across, length)


def _soil_back(row: Trench, volume: Figure, stone: Figure, pipe: Figure) -> Figure:
    """Room above stone and pipe that soil goes back into [m³ compacted]."""
    room = product("room of the trench", COMPACTED_VOLUME, volume, constant(1, NUMBER, "all of it"))
    taken = [f for f in (stone, pipe) if f.value]
    if not taken:
        return room.called(f"soil back into {row.name}")
    left = minus("room left", room, total("stone and pipe", taken))
    return earthwork.not_below_zero(f"soil back into {row.name}", left)


def _left_over(row: Trench, volume: Figure, back: Figure, ground: Ground) -> Figure:
    """Spoil that is left [m³ loose]: what was dug, less the soil that goes back compacted."""
    used = ratio("soil back, as in the ground", BANK_VOLUME, back, ground.compacted_figure())
    left = minus("soil left over", volume, used)
    kept = earthwork.not_below_zero("soil left over", left)
    return earthwork.loose_volume(kept, ground.swell_figure()).called(f"spoil, {row.name}")


def _stone_need(row: Trench, stone: Figure, materials: Materials, optional: str) -> Need:
    item = base_item_of(row.part, materials)
    mass = base.base_mass(stone, coefficient("density base compacted").figure())
    loose = base.loose_base(mass, materials.density("base", item))
    extra = coefficient("overage base").figure()
    order = with_extra(f"{item} with extra, loose", loose, extra)
    why = f"For {row.name}; the extra is for uneven ground and spill."
    measures: dict[Measure, Figure] = {
        "volume": order,
        "mass": with_extra(f"weight of {item} with extra", mass, extra),
    }
    return _need("base", item, row, loose, order, extra, why, measures, optional)


def _pipe_need(row: Trench, optional: str) -> Need:
    net = row.figure("length", LENGTH, f"length of {row.name}")
    extra = coefficient("overage pipe").figure()
    order = with_extra(f"{row.item} with extra", net, extra)
    why = "A sleeve now saves lifting the paving later." if row.what == "sleeve" else "Cut ends."
    return _need("extra", row.item, row, net, order, extra, why, {"length": order}, optional)


def _need(
    kind: str,
    item: str,
    row: Trench,
    net: Figure,
    order: Figure,
    extra: Figure,
    why: str,
    measures: dict[Measure, Figure],
    optional: str,
) -> Need:
    entry = product_kinds()[kind]
    return Need(
        line=item, part=row.part, item=item, kind=kind, step=entry.step, group=entry.group,
        net=net, order=order.called(f"{item} to order, {row.name}"), overage=extra, why=why,
        measures=measures, weight=measures.get("mass"), optional=optional, what=row.name,
    )  # fmt: skip


def _deep(row: Trench, job: Job) -> list[Notice]:
    """A trench deep enough to need a ladder, or its sides held."""
    depth = max(row.depth, row.far_depth or 0.0)
    held, ladder = coefficient("trench protection"), coefficient("trench ladder")
    if depth < ladder.likely - 1e-9:
        return []
    system = job.settings.units
    if depth >= held.likely - 1e-9:
        mend = "Its sides must be held or sloped: have a trained person look at it before entry."
        rule = held
    else:
        mend = "Keep a ladder in it, and stay out if its sides crack or lean."
        rule = ladder
    expected = f"less than {rule.figure().words(system)} ({rule.cited})"
    found = f"a trench {in_words(depth, DEPTH, system)} deep"
    place = row.place
    return [
        Notice(place.sheet, place.row, row.cell("depth"), "deep-trench", found, expected, mend,
               "warning")
    ]  # fmt: skip
