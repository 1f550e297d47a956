"""Every way to meet a need or to do a step, flattened so that the decision can choose.

Numbers are SI and cents, before tax unless said. Each option keeps the figures it came from,
so that a priced line can be explained down to the cell.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from budget.figures import Figure
from budget.job import Assumption, DropPoint, Measure, Notice


@dataclass(frozen=True, slots=True)
class Offer:
    """One quote that can meet one item."""

    key: str  # unique and stable: "Base stone @ North Yard, ton" (+ " #2" if repeated)
    item: str  # the need's item
    supplier: str
    measure: Measure
    per: str  # the user's word: ton, bag, pallet
    holds: Figure  # SI amount in one pack, without what has to be picked out
    price: Figure  # cents per pack before tax
    tax: Figure  # tax ratio that applies to it (0 when not taxed or included)
    least: float  # packs, 0 if none
    step: float  # packs are sold in multiples of this (1 for whole packs, 0.5 for half yards)
    weight: Figure | None  # kg per pack
    volume: Figure | None  # m³ per pack, loose, for bulk goods
    deposit: Figure | None  # cents per pack, refundable
    bulk: bool  # tipped in a heap of its own
    expired: bool
    lead_days: float
    restocking: float | None
    cell: str  # the quote's price cell
    breaks: tuple[tuple[Figure, Figure], ...] = ()  # packs from, cents per pack; fewest first
    picking: Figure | None = None  # own hours to pick stones that are too big out of one pack
    in_part: bool = False  # part of a need may be bought here, the rest at other such offers
    back: Figure | None = None  # ratio of its price that an unopened pack brings back; None: kept


@dataclass(frozen=True, slots=True)
class Drop:
    """Delivery by one supplier to one drop point."""

    key: str  # "deliver to drive"
    supplier: str
    point: DropPoint
    per_drop: Figure  # cents for each drop: flat fee, mileage (without the drop point's extra)
    per_mass: Figure | None  # cents per kg
    per_volume: Figure | None  # cents per m³
    per_pallet: Figure | None  # cents per pallet beyond those that are free
    free_pallets: float
    value_steps: tuple[tuple[Figure, Figure], ...]  # (order value from, fee), rising
    free_above: Figure | None  # order value from which the delivery is free
    least: float  # kg a drop must carry, 0 if none
    most: Figure | None  # kg one drop can carry
    heaps_share: bool  # bulk goods may share one drop; else each heap is its own
    tax: Figure  # tax ratio on the fee
    point_fee: Figure | None = None  # cents each drop for the place; due even if delivery is free
    per_heap: Figure | None = None  # cents each drop of bulk goods, where it is not ``per_drop``
    mass_of: str = ""  # what ``per_mass`` counts: "bulk", "packs", blank for all
    pallet_load: Figure | None = None  # kg that fill a pallet, for goods not sold by the pallet
    priced: bool = True  # False: nobody has given a fee; the plan misses a price, never zero


@dataclass(frozen=True, slots=True)
class Haul:
    """Fetching from one supplier with one vehicle."""

    key: str  # "haul with Pickup"
    supplier: str
    vehicle: str
    payload: Figure  # kg a trip, the tightest limit
    payload_why: str  # which limit binds
    bed: Figure | None  # m³ a trip
    distance: Figure  # m there and back
    cost_per_distance: Figure  # cents per m
    drive_hours: Figure  # hours a trip, there and back
    handling: Figure  # hours per kg, loading and unloading
    hire_per_day: Figure | None  # cents, shared between the trips of one day
    tax: Figure  # tax ratio on the hire
    caution: str = ""  # what to mind on the road, to show beside the trips


Route = Drop | Haul


@dataclass(frozen=True, slots=True)
class Method:
    """One way to do one step with own hands."""

    step: str
    method: str
    rate: Figure  # person-hours per SI unit of the step's measure
    people: int  # who can work at once
    machine: str  # equipment name, or blank
    machine_rate: Figure | None  # machine hours per SI unit; None: as long as the people take
    reworked: Figure | None
    walk: Figure | None = None  # Carry only: person-hours per kg and metre from drop to work
    cell: str = ""
    bedding: str = ""  # only under this bedding; blank: always
    alone: bool = False  # the pace of one, whom a second joins at pavers that two must lift
    second: Figure | None = None  # the share of that one's hours for which a second is there

    @property
    def key(self) -> str:
        """The choice value that names this method."""
        return self.method


@dataclass(frozen=True, slots=True)
class Answer:
    """What one bid says about one cost line or risk."""

    item: str
    answer: str  # yes, no, extra; blank: not said
    extra: Figure | None = None  # cents asked on top, tax included
    chance: float | None = None  # the user's own, for this bid
    cost: float | None = None  # cents if it comes up, the user's own

    @property
    def said(self) -> bool:
        """Whether it is known who answers for it."""
        return bool(self.answer)


@dataclass(frozen=True, slots=True)
class Risk:
    """Something that may come up, or be left over, and that somebody has to pay for."""

    item: str
    what: str  # in the middle of a sentence
    steps: tuple[str, ...]  # those it hangs on; none: all
    own: bool  # it falls on the owner too where own hands do these steps
    chance: float  # ratio
    share: float  # of what these steps cost hired, where no cost is given
    cost: float | None  # cents
    source: str
    guess: bool  # the chance is ours, not the user's


@dataclass(frozen=True, slots=True)
class Bid:
    """One offer of hired help."""

    key: str  # the bid's name
    firm: str
    steps: tuple[str, ...]
    price: Figure
    basis: str  # lump, per unit, hourly
    unit_step: str  # per unit: the step whose amount is billed; blank: the paved area
    unit_size: float
    hours: Figure | None
    least: Figure | None
    mobilisation: Figure | None
    tax: Figure
    materials: bool
    equipment: bool
    supervise: Figure
    risks: tuple[str, ...]  # what stays with the owner, in words
    expired: bool
    cell: str
    base_depth: Figure | None = None  # m, compacted, that it prices; None: the job's
    scope: tuple[Answer, ...] = ()  # what it says about cost lines and risks
    deduct: Figure | None = None  # cents less before tax, for steps that it leaves out
    offer: str = ""  # the offer that this is a smaller form of; blank: an offer of its own

    def answer(self, item: str) -> Answer | None:
        """What it says about one cost line or risk, None where nothing is written of it."""
        return next((a for a in self.scope if a.item.casefold() == item.casefold()), None)


@dataclass(frozen=True, slots=True)
class Term:
    """One rental term: what it costs and how much use it covers."""

    name: str  # 4 hours, day, weekend, week, 4 weeks
    price: Figure  # cents before waiver and tax
    days: float  # days of use it covers (0.5 for 4 hours)


@dataclass(frozen=True, slots=True)
class Machine:
    """One way to have one machine."""

    key: str  # "rent from Tool Barn", "borrow", "buy at ..."
    equipment: str
    way: str  # rent, borrow, buy
    source: str
    terms: tuple[Term, ...]  # for rent
    once: Figure  # cents once: bought price less resale, favour; before tax
    once_taxed: Figure  # the part of ``once`` that is taxed
    per_spell: Figure  # cents each spell: cleaning, transport
    waiver: Figure | None  # ratio of the rent
    fuel: Figure | None  # cents per machine hour
    deposit: Figure | None
    hours_a_day: Figure  # machine hours that one hire day covers
    tax: Figure
    fits: bool  # through the narrowest way in
    cell: str
    there_from: dt.date | None = None  # the days on which it can be had; None: always
    there_to: dt.date | None = None
    away: bool = False  # not there on the days on which the work needs it

    @property
    def usable(self) -> bool:
        """Whether the work can have it at all."""
        return self.fits and not self.away

    @property
    def why_not(self) -> str:
        """Why it is of no use here, blank if it is."""
        if not self.fits:
            return "too wide for the way in"
        return "not there when it is needed" if self.away else ""


@dataclass(frozen=True, slots=True)
class DaysOut:
    """How long one machine is out for some steps, as a calendar has it: spells in days."""

    equipment: str
    machine: str  # the key of the way to have it
    steps: frozenset[str]
    days: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class DisposalWay:
    """One way to be rid of spoil."""

    key: str
    kind: str
    price: Figure  # cents per load
    volume: Figure | None  # m³ a load
    weight: Figure | None  # kg included in a load
    over_price: Figure | None  # cents per kg over
    permit: Figure | None  # cents once
    hours: Figure | None  # own hours per m³
    haul: Haul | None  # for own trips to the tip
    tax: Figure
    cell: str


@dataclass(frozen=True, slots=True)
class ChecklistCost:
    """One cost line the job implies."""

    line: str
    group: str
    answer: str  # priced, not needed, in bid, to price
    amount: Figure | None
    bid: str
    hint: str
    cell: str


@dataclass(frozen=True, slots=True)
class Options:
    """Everything the decision may choose from."""

    offers: tuple[Offer, ...]
    routes: Mapping[str, tuple[Route, ...]]  # by supplier
    methods: Mapping[str, tuple[Method, ...]]  # by step
    bids: tuple[Bid, ...]
    machines: Mapping[str, tuple[Machine, ...]]  # by equipment
    disposal: tuple[DisposalWay, ...]
    carry: Mapping[DropPoint, Figure]  # m from each drop point to the work
    checklist: tuple[ChecklistCost, ...]
    hour_value: Figure
    hours_per_day: Figure
    people: int  # own hands: the owner and unpaid helpers
    paid_helpers: int
    helper_pay: Figure | None
    sales_tax: Figure
    card_surcharge: Mapping[str, Figure]  # by supplier
    risks: tuple[Risk, ...] = ()  # that bids may take on or leave with the owner
    assumed: tuple[Assumption, ...] = ()
    warnings: tuple[Notice, ...] = ()
    currency: str = ""  # code of the money, for sentences
    days_out: tuple[DaysOut, ...] = ()  # how long machines are out as the working days fall
