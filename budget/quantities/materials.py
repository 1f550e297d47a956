"""What the workbook says of each material, and the documented values where it is silent."""

from __future__ import annotations

from functools import cached_property

from budget.figures import Figure
from budget.job import Job, Product
from budget.reference import coefficient, product_kinds
from budget.units import DENSITY


class Materials:
    """Products and quotes of one job, looked up by name and by kind."""

    def __init__(self, job: Job) -> None:
        """Look up in ``job``."""
        self.job = job

    @cached_property
    def _by_item(self) -> dict[str, Product]:
        rows = sorted(self.job.products, key=lambda p: (p.item, p.kind))
        return {p.item.casefold(): p for p in reversed(rows)}

    def named(self, item: str) -> Product | None:
        """The product of this name."""
        return self._by_item.get(item.casefold())

    def mix(self, name: str) -> tuple[Product, ...]:
        """The pavers of a mixed set, by item."""
        found = [p for p in self.job.products if p.mix and p.mix.casefold() == name.casefold()]
        return tuple(sorted(found, key=lambda p: p.item))

    def of_kind(self, kind: str) -> Product | None:
        """The only product of a kind; nothing if there are none or several."""
        found = [p for p in self.job.products if p.kind.casefold() == kind.casefold()]
        return found[0] if len(found) == 1 else None

    def for_need(self, kind: str, item: str) -> Product | None:
        """The product that a need names, else the only one of its kind."""
        return self.named(item) or self.of_kind(kind)

    def item(self, kind: str) -> str:
        """The standard name of a kind of material, the one quotes use."""
        return product_kinds()[kind].item

    def quoted(self, kind: str) -> bool:
        """Whether some quote is for this kind of material."""
        names = {kind.casefold(), self.item(kind).casefold()}
        names |= {p.item.casefold() for p in self.job.products if p.kind.casefold() == kind}
        return any(q.item.casefold() in names for q in self.job.quotes)

    def density(self, kind: str, item: str) -> Figure:
        """Density as sold: the product's, else the documented one of its kind [kg/m³]."""
        product = self.for_need(kind, item)
        if product and product.density:
            return product.figure("density", DENSITY, f"density of {product.item} as sold")
        return coefficient(product_kinds()[kind].density).figure()
