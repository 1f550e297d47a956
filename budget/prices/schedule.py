"""A seller's delivery fees: the flat fee and the steps of the Delivery sheet, put together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from budget.figures import Figure, constant, largest, minus, product, smallest
from budget.job import DeliveryBasis, DeliveryStep, Supplier
from budget.prices.defaults import Notes
from budget.prices.sums import added
from budget.units import BULK_MASS, DISTANCE, LOOSE_VOLUME, MONEY, Kind, per

_FEE_KINDS: dict[DeliveryBasis, Kind] = {
    "drop": MONEY,
    "load": MONEY,
    "pallet": MONEY,
    "order value": MONEY,
    "ton": per(MONEY, BULK_MASS),
    "volume": per(MONEY, LOOSE_VOLUME),
    "mile": per(MONEY, DISTANCE),
    "mile beyond": per(MONEY, DISTANCE),
}

#: Which goods a fee can only count, whatever it is said to apply to.
_COUNTS_ONLY: dict[DeliveryBasis, str] = {"pallet": "packs", "volume": "bulk"}


@dataclass(frozen=True, slots=True)
class Schedule:
    """What a seller asks to deliver, before tax and before the extra for the drop point."""

    per_drop: Figure  # cents
    per_heap: Figure | None  # cents for a drop of bulk goods, None if as ``per_drop``
    per_mass: Figure | None  # cents per kg
    mass_of: str  # "bulk", "packs", blank for all
    per_volume: Figure | None  # cents per m³
    per_pallet: Figure | None  # cents per pallet beyond the free ones
    free_pallets: float
    value_steps: tuple[tuple[Figure, Figure], ...]  # (order value from, fee of a drop)


def schedule(supplier: Supplier, steps: Sequence[DeliveryStep], notes: Notes) -> Schedule | None:
    """Put a seller's fees together; None if it gives none, or a fee by mile has no distance.

    Fees by drop and by load are for each truck load; a fee by drop with limits is a fee by
    order value. A fee by mile is the fee of the distance band times the whole way; a fee by
    mile beyond counts only the way past ``start``. Pallets before the first fee are free.
    Where several rows give different fees by load, ton, volume or pallet, the dearest counts
    for all of it, and a warning says so, as it does for limits that are not counted.
    """
    steps = sorted(steps, key=lambda s: (s.basis, s.start, s.applies_to, s.fee, s.place.row))
    if supplier.delivery_fee is None and not steps:
        return None
    for step in steps:
        _warn_of_limits(step, notes)
    by_mile = [step for step in steps if step.basis in ("mile", "mile beyond")]
    if by_mile and supplier.distance is None:
        notes.warn(
            supplier, "distance", "distance-not-known", "", "the distance to this seller",
            "Its delivery is charged by distance, so it is not counted until this is filled.",
        )  # fmt: skip
        return None
    flat = None
    if supplier.delivery_fee is not None:
        flat = supplier.figure("delivery_fee", MONEY, f"{supplier.supplier}'s delivery fee")
    return _together(supplier, flat, steps, notes)


def _together(
    supplier: Supplier, flat: Figure | None, steps: Sequence[DeliveryStep], notes: Notes
) -> Schedule:
    packed = _per_truck(supplier, flat, steps, "packs", notes)
    bulk = _per_truck(supplier, flat, steps, "bulk", notes)
    mass = _dearest([s for s in steps if s.basis == "ton"], notes)
    volume = _dearest([s for s in steps if s.basis == "volume"], notes)
    pallets = [s for s in steps if s.basis == "pallet"]
    pallet = _dearest([s for s in pallets if s.fee > 0], notes)
    return Schedule(
        per_drop=packed,
        per_heap=None if _same(packed, bulk) else bulk,
        per_mass=None if mass is None else _fee(mass),
        mass_of="" if mass is None else mass.applies_to,
        per_volume=None if volume is None else _fee(volume),
        per_pallet=None if pallet is None else _fee(pallet),
        free_pallets=_free_pallets(pallets),
        value_steps=_value_steps([s for s in steps if _by_value(s)]),
    )


def _same(one: Figure, other: Figure) -> bool:
    return abs(one.value - other.value) < 1e-9


def _limited(step: DeliveryStep) -> bool:
    return step.start > 0 or step.end is not None


def _by_value(step: DeliveryStep) -> bool:
    return step.basis == "order value" or (step.basis == "drop" and _limited(step))


def _free_pallets(steps: Sequence[DeliveryStep]) -> float:
    """Pallets before the first that is charged."""
    charged = [step.start for step in steps if step.fee > 0]
    free = [step.end or 0 for step in steps if step.fee == 0]
    return max([min(charged, default=0), *free])


def _warn_of_limits(step: DeliveryStep, notes: Notes) -> None:
    if step.basis in ("load", "ton", "volume") and _limited(step):
        notes.warn(
            step, "start", "delivery-limits-not-counted", f"limits on a fee by {step.basis}",
            "a fee without From and To", f"The fee is counted for every {step.basis}.",
        )  # fmt: skip
    if _by_value(step) and step.applies_to:
        notes.warn(
            step, "applies_to", "delivery-limits-not-counted", step.applies_to,
            "a fee by order value for all goods", "The fee is counted for every drop.",
        )  # fmt: skip
    counted = _COUNTS_ONLY.get(step.basis, "")
    if counted and step.applies_to not in ("", counted):
        notes.warn(
            step, "applies_to", "delivery-limits-not-counted", step.applies_to,
            f"a fee by {step.basis} for {counted}", f"The fee is counted for {counted}.",
        )  # fmt: skip


def _fee(step: DeliveryStep) -> Figure:
    name = f"{step.supplier}'s delivery fee by {step.basis}"
    return step.figure("fee", _FEE_KINDS[step.basis], name)


def _dearest(steps: Sequence[DeliveryStep], notes: Notes) -> DeliveryStep | None:
    if not steps:
        return None
    chosen = max(steps, key=lambda step: (step.fee, -step.place.row))
    for step in steps:
        if step.fee != chosen.fee:
            notes.warn(
                step, "fee", "delivery-steps-differ", f"several fees by {step.basis}",
                f"one fee by {step.basis}",
                f"The dearest, in {chosen.cell('fee')}, is counted for every {step.basis}.",
            )  # fmt: skip
    return chosen


def _per_truck(
    supplier: Supplier,
    flat: Figure | None,
    steps: Sequence[DeliveryStep],
    goods: str,
    notes: Notes,
) -> Figure:
    """Cents for each truck load of bulk goods or of goods in packs."""
    mine = [step for step in steps if step.applies_to in ("", goods)]
    fees = [flat]
    for basis in ("drop", "load"):
        step = _dearest([s for s in mine if s.basis == basis and not _by_value(s)], notes)
        fees.append(None if step is None else _fee(step))
    if supplier.distance is not None:
        way = supplier.figure("distance", DISTANCE, f"distance to {supplier.supplier}")
        fees += [_by_mile(step, way) for step in mine if step.basis == "mile" and _in(step, way)]
        fees += [_beyond(step, way) for step in mine if step.basis == "mile beyond"]
    return added("delivery fee of one drop", fees, MONEY)


def _in(step: DeliveryStep, way: Figure) -> bool:
    return step.start <= way.value and (step.end is None or way.value < step.end)


def _by_mile(step: DeliveryStep, way: Figure) -> Figure:
    return product("delivery fee by distance", MONEY, _fee(step), way)


def _beyond(step: DeliveryStep, way: Figure) -> Figure:
    """The fee for the way past the free radius, up to the end of the step."""
    free = step.figure("start", DISTANCE, "free radius")
    if step.end is not None:
        way = smallest("way within the step", way, step.figure("end", DISTANCE, "end of the step"))
    past = minus("way less the free radius", way, free)
    charged = largest("way charged", past, constant(0.0, DISTANCE, "none"))
    return product("delivery fee by distance beyond", MONEY, _fee(step), charged)


def _value_steps(steps: Sequence[DeliveryStep]) -> tuple[tuple[Figure, Figure], ...]:
    """The fee of a drop from each order value on; below the first step the first fee holds."""
    found = []
    for number, step in enumerate(sorted(steps, key=lambda s: (s.start, s.fee))):
        if number:
            start = step.figure("start", MONEY, "order value from")
        else:
            start = constant(0.0, MONEY, "any order")
        found.append((start, _fee(step)))
    return tuple(found)
