"""What is already owned or salvaged: it comes off the order, and it has to be cleaned."""

from __future__ import annotations

from budget.figures import Figure, constant, largest, minus, product, smallest
from budget.job import Stock
from budget.quantities.plan.parts import add
from budget.reference import coefficient
from budget.units import COUNT, HOURS, RATIO


class Shelf:
    """The usable pieces on hand; parts take from it in order of their names."""

    def __init__(self, rows: tuple[Stock, ...]) -> None:
        """Put every row on the shelf."""
        self._left: dict[str, Figure] = {}
        self._each: dict[str, Figure] = {}
        for row in sorted(rows, key=lambda r: (r.item, r.count, r.usable, r.cleaning or 0)):
            key = row.item.casefold()
            usable = product(
                f"usable {row.item} on hand",
                COUNT,
                row.figure("count", COUNT, f"{row.item} on hand"),
                row.figure("usable", RATIO, "usable share"),
            )
            before = [self._left[key]] if key in self._left else []
            self._left[key] = add(f"usable {row.item} on hand", [*before, usable])
            if row.cleaning is not None:
                self._each[key] = row.figure("cleaning", HOURS, f"cleaning one {row.item}")

    def take(self, item: str, order: Figure) -> tuple[Figure, Figure | None]:
        """Take up to ``order`` pieces [count]; what is still to buy, and own hours of cleaning."""
        key = item.casefold()
        left = self._left.get(key)
        if left is None or left.value <= 0:
            return order, None
        taken = smallest(f"{item} taken from what is on hand", left, order)
        self._left[key] = minus(f"{item} left on hand", left, taken)
        none = constant(0, order.kind, "nothing")
        buy = largest(f"{item} to buy", none, minus(f"{item} less those on hand", order, taken))
        each = self._each.get(key) or coefficient("cleaning").figure()
        return buy, product(f"cleaning {item}", HOURS, taken, each)
