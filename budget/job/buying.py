"""Rows that say what goods cost and how they arrive."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from budget.job.rows import Row

#: What one quote's price is for, and what its packs are measured in.
Measure = Literal["count", "length", "area", "volume", "mass"]


@dataclass(frozen=True, slots=True)
class PriceBreak:
    """From this many packs on, every pack costs this much [cents]."""

    packs: float
    price: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Quote(Row):
    """One price. ``holds`` is SI in ``measure`` for one pack (1 piece for ``each``)."""

    item: str
    supplier: str
    price: float | None = None  # cents per pack; None: not yet priced
    price_low: float | None = None
    price_high: float | None = None
    per: str = "each"
    holds: float = 1.0
    measure: Measure = "count"
    least: float | None = None  # packs
    step: float | None = None  # sold in steps of this many packs (bulk); None: 1 pack
    weight: float | None = None  # kg per pack
    lead_days: float | None = None
    valid_until: dt.date | None = None
    taxed: bool = True
    deposit: float | None = None  # cents per pack, refundable
    restocking: float | None = None  # ratio
    oversize: float | None = None  # ratio of a lot of bedding that is stones too big for it
    in_part: bool = False  # only part of the need may be bought here, the rest at other quotes
    breaks: tuple[PriceBreak, ...] = ()  # fewest packs first
    note: str = ""

    def break_cell(self, step: PriceBreak) -> str:
        """The address of one price break, told apart from the others of its cell."""
        return f"{self.cell('breaks')} from {step.packs:g}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplier(Row):
    """One seller and its flat delivery fee. Blank drop points are not offered."""

    supplier: str
    distance: float | None = None  # m one way
    delivery_fee: float | None = None  # cents per drop
    free_above: float | None = None  # cents of order value before tax
    least_per_drop: float | None = None  # kg
    most_per_drop: float | None = None  # kg
    street: float | None = None  # cents extra to set down at the street
    drive: float | None = None
    site: float | None = None
    heaps_share: bool = False  # may bulk heaps share one drop
    delivery_taxed: bool = False
    pickup: bool = True
    card_surcharge: float | None = None  # ratio
    lead_days: float | None = None
    lead_low: float | None = None  # the fewest days that it may take; blank: a usual range
    lead_high: float | None = None
    open_days: tuple[str, ...] = ()  # weekdays; blank: Monday to Saturday
    return_days: float | None = None  # days in which unused goods are taken back
    note: str = ""


DeliveryBasis = Literal[
    "drop", "load", "pallet", "ton", "volume", "mile", "mile beyond", "order value"
]


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveryStep(Row):
    """One step of a fee schedule that is not flat. ``start`` and ``end`` are SI or cents.

    ``fee`` is cents per drop (drop, order value), per load, per pallet, per kg (ton), per m³
    (volume) or per m (mile, mile beyond).
    """

    supplier: str
    basis: DeliveryBasis
    start: float = 0.0
    end: float | None = None
    fee: float = 0.0
    applies_to: str = ""  # "bulk", "packs" or blank for all


@dataclass(frozen=True, slots=True, kw_only=True)
class Disposal(Row):
    """One way to be rid of spoil."""

    way: str
    kind: str = "box"  # keep, give away, box, tipper, own trips
    price: float | None = None  # cents per load
    volume: float | None = None  # m³ a load may hold
    weight: float | None = None  # kg included in the price
    over_price: float | None = None  # cents per kg over
    permit: float | None = None  # cents once
    hours: float | None = None  # own hours per m³ beyond moving it to the heap
    vehicle: str = ""  # for own trips


@dataclass(frozen=True, slots=True, kw_only=True)
class Vehicle(Row):
    """One vehicle, alone or with a trailer. Weights in kg."""

    vehicle: str
    payload: float | None = None
    people: float | None = None  # weight of people aboard
    tow_limit: float | None = None
    trailer_empty: float | None = None
    trailer_gross: float | None = None
    tongue: float | None = None  # ratio
    bed_volume: float | None = None  # m³
    cost_per_distance: float | None = None  # cents per m
    hire_per_day: float | None = None  # cents
    load_rate: float | None = None  # person-hours per kg to load
    unload_rate: float | None = None  # person-hours per kg to unload
