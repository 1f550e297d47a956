"""One part of the job with everything its quantities are worked out from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from budget.figures import Figure
from budget.job import Measure
from budget.quantities.formulas import earthwork
from budget.quantities.layers import Layers
from budget.quantities.materials import Materials
from budget.quantities.pavers import PaverGroup
from budget.quantities.plan.parts import Part
from budget.quantities.site_levels import SiteLevels
from budget.quantities.takeoff import Need, StepAmount
from budget.reference import product_kinds


@dataclass(frozen=True, slots=True)
class Site:
    """A part, its layers and pavers, and the beddings it may be laid on."""

    part: Part
    layers: Layers
    groups: tuple[PaverGroup, ...]
    beddings: tuple[str, ...]  # one, if the build-up names it
    fillers: Mapping[str, str]  # joint filler kind for each bedding
    area: Figure
    base_area: Figure
    height: Figure  # of the thickest paver
    materials: Materials
    levels: SiteLevels | None = None  # measured heights, if there are any

    @property
    def optional(self) -> str:
        """The name of the part if it may be left out."""
        return self.part.name if self.part.optional else ""

    def stack(self, bedding: str) -> Figure:
        """From the finish down to the bottom of the dig [m]."""
        layers = self.layers
        return earthwork.dig_depth(self.height, layers.bedding_depth(bedding), layers.base_depth)

    def only_under(self, bedding: str) -> str:
        """The bedding a quantity belongs to; blank if this part is always laid on it."""
        return "" if self.layers.bedding else bedding

    def step(self, step: str, amount: Figure, bedding: str = "") -> StepAmount:
        """An amount of one step of this part."""
        return StepAmount(step, self.part.name, amount, bedding, self.optional)

    def need(
        self,
        kind: str,
        item: str,
        *,
        net: Figure,
        order: Figure,
        overage: Figure,
        why: str,
        measures: Mapping[Measure, Figure],
        bedding: str = "",
    ) -> Need:
        """A need of one kind of material for this part."""
        entry = product_kinds()[kind]
        return Need(
            line=item,
            part=self.part.name,
            item=item,
            kind=kind,
            step=entry.step,
            group=entry.group,
            net=net,
            order=order.called(f"{item} to order, {self.part.name}"),
            overage=overage,
            why=why,
            measures=measures,
            weight=measures.get("mass"),
            bedding=bedding,
            optional=self.optional,
        )
