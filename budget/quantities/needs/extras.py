"""Counted items: what is still to buy of each, and the own hours to build them in."""

from __future__ import annotations

from collections import defaultdict

from budget.figures import Figure, constant, product
from budget.job import Assumption, Extra, Job, Measure
from budget.quantities.formulas.paving import PIECE_MASS
from budget.quantities.materials import Materials
from budget.quantities.needs.feature import optional_part
from budget.quantities.needs.stock import Shelf
from budget.quantities.plan.parts import add
from budget.quantities.takeoff import Need, StepAmount
from budget.reference import product_kinds
from budget.units import COUNT, HOURS, MASS, RATIO, per


def extras(
    job: Job, materials: Materials, shelf: Shelf
) -> tuple[list[Need], list[StepAmount], list[Assumption]]:
    """Needs and own hours of every counted item, the rows of one item in one part together.

    An item without hours is counted as bought only, which the assumptions say.
    """
    rows: dict[tuple[str, str, str], list[Extra]] = defaultdict(list)
    for row in sorted(job.extras, key=lambda r: (r.part, r.item, r.quantity, r.hours_each or 0)):
        rows[row.part, row.item, optional_part(row, job.areas)].append(row)
    needs: list[Need] = []
    steps: list[StepAmount] = []
    assumed: list[Assumption] = []
    for (part, item, optional), found in sorted(rows.items()):
        net = add(f"{item}, {part}", [r.figure("quantity", COUNT, item) for r in found])
        order, cleaning = shelf.take(item, net)
        hours = [_hours(row) for row in found if row.hours_each is not None]
        hours += [cleaning] if cleaning is not None else []
        if hours:
            name = f"building {item}, {part}"
            steps.append(StepAmount("Build", part, add(name, hours), "", optional))
        if any(row.hours_each is None for row in found):
            what = f"own hours to build {item}"
            assumed.append(Assumption(what, "none, as none are given", "", "Extras"))
        if order.value > 0:
            needs.append(_need(part, item, optional, net, order, materials))
    return needs, steps, assumed


def _hours(row: Extra) -> Figure:
    each = row.figure("hours_each", per(HOURS, COUNT), f"hours for one {row.item}")
    return product(f"hours for {row.item}", HOURS, row.figure("quantity", COUNT, row.item), each)


def _need(
    part: str, item: str, optional: str, net: Figure, order: Figure, materials: Materials
) -> Need:
    entry = product_kinds()["extra"]
    measures: dict[Measure, Figure] = {"count": order}
    found = materials.named(item)
    if found and found.weight:
        one = found.figure("weight", PIECE_MASS, f"weight of one {item}")
        measures["mass"] = product(f"weight of {item}", MASS, order, one)
    return Need(
        line=item,
        part=part,
        item=item,
        kind="extra",
        step=entry.step,
        group=entry.group,
        net=net,
        order=order.called(f"{item} to order, {part}"),
        overage=constant(0, RATIO, "nothing extra"),
        why="As counted.",
        measures=measures,
        weight=measures.get("mass"),
        optional=optional,
    )
