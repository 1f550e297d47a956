"""Needs of what is built beside the paving, put together in one place for walls and pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from budget.figures import Figure, constant, product
from budget.job import Area, Assumption, CutPiece, Extra, Measure, Notice, Row, Trench, Wall
from budget.quantities.formulas import base
from budget.quantities.formulas.paving import with_extra
from budget.quantities.layers import base_item_of
from budget.quantities.materials import Materials
from budget.quantities.needs.cutting_way import StoneCut
from budget.quantities.takeoff import CuttingPlan, Need, SpanCheck, StepAmount
from budget.reference import coefficient, product_kinds
from budget.units import MASS, RATIO

#: Step, text, source.
Caution = tuple[str, str, str]
Feature = Wall | CutPiece | Extra | Trench


@dataclass(slots=True)
class Features:
    """Everything that walls or pieces add to the takeoff."""

    needs: list[Need] = field(default_factory=list)
    steps: list[StepAmount] = field(default_factory=list)
    spoil: list[StepAmount] = field(default_factory=list)
    assumed: list[Assumption] = field(default_factory=list)
    notices: list[Notice] = field(default_factory=list)
    cautions: list[Caution] = field(default_factory=list)
    cutting: list[CuttingPlan] = field(default_factory=list)
    spans: list[SpanCheck] = field(default_factory=list)
    cuts: list[StoneCut] = field(default_factory=list)

    def step(self, step: str, part: str, amount: Figure, optional: str) -> StepAmount:
        """Adds an amount of a step, if there is any."""
        found = StepAmount(step, part, amount, "", optional)
        if amount.value > 0:
            self.steps.append(found)
        return found

    def add(self, other: Features) -> None:
        """Takes in everything that another one adds."""
        for name in ("needs", "steps", "spoil", "assumed", "notices", "cutting", "spans", "cuts"):
            getattr(self, name).extend(getattr(other, name))
        self.cautions.extend(c for c in other.cautions if c not in self.cautions)

    def figures(self) -> list[Figure]:
        """The figures of its span checks, for the assumptions behind them."""
        return [figure for check in self.spans for figure in (check.bends, check.limit)]


def optional_part(row: Feature, areas: Sequence[Area]) -> str:
    """The optional part that a feature belongs to; blank if it is kept.

    An optional part takes along all that belongs to it. A feature that is optional itself is a
    part by its own name beside paving that is kept, or else by its part's name.
    """
    same = [a for a in areas if a.part.casefold() == row.part.casefold() and not a.cut_out]
    if same and all(area.optional for area in same):
        return same[0].part
    if isinstance(row, Trench) or not row.optional:
        return ""
    return _own_name(row) if same else row.part


def _own_name(row: Wall | CutPiece | Extra) -> str:
    """What an optional feature is called beside paving; cut pieces are kept or left together."""
    if isinstance(row, CutPiece):
        return f"{row.part}, cut pieces"
    return row.item if isinstance(row, Extra) else row.name


def need(
    kind: str,
    item: str,
    part: str,
    *,
    net: Figure,
    order: Figure,
    extra: Figure | None,
    why: str,
    measures: dict[Measure, Figure],
    optional: str,
    what: str = "",
) -> Need:
    """A need of one kind of material; ``what`` says for which feature of the part."""
    entry = product_kinds()[kind]
    return Need(
        line=item,
        part=part,
        item=item,
        kind=kind,
        step=entry.step,
        group=entry.group,
        net=net,
        order=order.called(f"{item} to order, {what or part}"),
        overage=extra if extra is not None else constant(0, RATIO, "nothing extra"),
        why=why,
        measures=measures,
        weight=measures.get("mass"),
        optional=optional,
        what=what,
    )


def pieces_need(
    kind: str,
    item: str,
    part: str,
    *,
    net: Figure,
    order: Figure,
    extra: Figure | None,
    one: Figure | None,
    why: str,
    optional: str,
    what: str = "",
) -> Need:
    """A need counted in pieces, of known weight each or not."""
    measures: dict[Measure, Figure] = {"count": order}
    if one is not None:
        measures["mass"] = product(f"weight of {item}", MASS, order, one)
    return need(
        kind, item, part, net=net, order=order, extra=extra, why=why, measures=measures,
        optional=optional, what=what,
    )  # fmt: skip


def stone_need(
    part: str, what: str, compacted: Figure, materials: Materials, optional: str
) -> Need:
    """Base stone for a compacted volume, loose and by weight."""
    item = base_item_of(part, materials)
    mass = base.base_mass(compacted, coefficient("density base compacted").figure())
    loose = base.loose_base(mass, materials.density("base", item))
    extra = coefficient("overage base").figure()
    order = with_extra(f"{item} with extra, loose", loose, extra)
    measures: dict[Measure, Figure] = {
        "volume": order,
        "mass": with_extra(f"weight of {item} with extra", mass, extra),
    }
    why = f"Below {what}; the extra is for uneven ground and spill."
    return need(
        "base", item, part, net=loose, order=order, extra=extra, why=why, measures=measures,
        optional=optional, what=what,
    )  # fmt: skip


def notice(
    row: Row, field_name: str, code: str, found: str, expected: str, mend: str,
    severity: str = "warning",
) -> Notice:  # fmt: skip
    """A warning (or problem) about one cell of a feature's row."""
    place = row.place
    return Notice(
        place.sheet, place.row, row.cell(field_name), code, found, expected, mend,
        "problem" if severity == "problem" else "warning",
    )  # fmt: skip
