"""The typed job: what a quotes workbook says, in SI and cents, with the cell of each value.

Every stage after reading speaks these types. A blank cell is ``None``; a blank price is never
zero. Field names match the columns described in :mod:`budget.workbook.sheets`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from budget.figures import Figure, given
from budget.units import Kind, System


@dataclass(frozen=True, slots=True)
class Place:
    """Where a row was read: its sheet, its row number, and the column letter of each field."""

    sheet: str
    row: int
    columns: Mapping[str, str] = field(default_factory=dict)

    def cell(self, name: str) -> str:
        """The address of one field, such as ``Areas!D5`` (the row if it has no column)."""
        return f"{self.sheet}!{self.columns.get(name, 'A')}{self.row}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a sheet."""

    place: Place

    def cell(self, name: str) -> str:
        """The address of one field of this row."""
        return self.place.cell(name)

    def figure(self, name: str, kind: Kind, words: str) -> Figure:
        """A numeric field as a figure that knows its cell. The field must not be blank."""
        value = getattr(self, name)
        if value is None:
            msg = f"{self.cell(name)} is blank"
            raise ValueError(msg)
        return given(float(value), kind, words, self.cell(name))


Shape = Literal[
    "rectangle", "triangle", "circle", "half circle", "quarter circle", "ring", "ellipse",
    "polygon", "measured", "walked", "offsets", "curved offsets",
]  # fmt: skip
DropPoint = Literal["street", "drive", "site"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings(Row):
    """The Job sheet. ``places`` gives the cell of each setting that was filled."""

    name: str = "My outdoor room"
    currency: str = "USD"
    units: System = "imperial"
    as_of: dt.date = dt.date(2000, 1, 1)
    start: dt.date | None = None
    sales_tax: float = 0.0  # ratio
    tax_included: bool = False
    hour_value: float | None = None  # cents per hour
    hours_per_day: float | None = None  # hours
    helpers: int = 0  # unpaid people beside the owner
    paid_helpers: int = 0
    helper_pay: float | None = None  # cents per hour
    spending_limit: float | None = None  # cents
    ground: str = "common earth"
    way_in_width: float | None = None  # m
    way_in: str = "level"  # level, sloped, steps
    carry_street: float | None = None  # m
    carry_drive: float | None = None  # m
    carry_site: float | None = None  # m
    tip_distance: float | None = None  # m
    allow_discouraged: bool = False
    keep_soil: bool = False  # soil for the strips of base beside the paving is kept
    places: Mapping[str, str] = field(default_factory=dict)

    def cell(self, name: str) -> str:
        """The address of one setting."""
        return self.places.get(name, self.place.sheet)


@dataclass(frozen=True, slots=True, kw_only=True)
class Area(Row):
    """One shape of one part. Lengths in m, areas in m²."""

    part: str
    name: str = ""
    shape: Shape = "rectangle"
    length: float | None = None  # rectangle; triangle base; first axis of an ellipse
    width: float | None = None  # rectangle; triangle height; second axis of an ellipse
    diameter: float | None = None  # circle, half, quarter; outer diameter of a ring
    inner_diameter: float | None = None  # ring
    area: float | None = None  # measured
    perimeter: float | None = None  # measured
    cut_out: bool = False
    paver: str = ""
    pattern: str = ""
    border: str = ""  # the unit of a border along the edge; blank: none
    border_course: str = ""  # soldier, sailor; blank: soldier
    house_edge: float = 0.0  # edge against the house: no overdig, no restraint
    joined_edge: float = 0.0  # edge against other paving: no overdig, no restraint
    build_up: str = ""
    optional: bool = False
    worth: float | None = None  # cents
    x: float | None = None  # m on the plan: first corner, centre of anything round
    y: float | None = None  # m on the plan; x and y both given: the shape is placed
    turn: float = 0.0  # degrees against the clock about that point
    old_surface: str = ""  # what lies there now and is broken out, of budget.reference
    old_thickness: float | None = None  # m


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner(Row):
    """One corner, side or offset of a shape, in order around or along it.

    A polygon has x and y. A walked shape has the side from this corner to the next, and from
    the third corner to the last but one the diagonal from the first corner. Offsets have the
    offset as length, and x along the base line where they are not evenly spaced.
    """

    area: str
    order: int
    x: float | None = None  # m
    y: float | None = None  # m
    length: float | None = None  # m, a side or an offset
    diagonal: float | None = None  # m from the first corner


@dataclass(frozen=True, slots=True, kw_only=True)
class Level(Row):
    """One measured level: a spot of ground, or the sill that the paving must stay below.

    Heights are in m above any one mark. Positions are on the plan of the placed areas; without
    them a spot counts toward the average only.
    """

    where: str = ""
    part: str = ""  # blank: every part
    what: Literal["ground", "sill"] = "ground"
    x: float | None = None  # m
    y: float | None = None  # m
    level: float | None = None  # m, of the ground or of the sill
    finish: float | None = None  # m, the paving wanted there
    toward: float | None = None  # degrees against the clock from x: the way the paving falls
    fall: float | None = None  # ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Trench(Row):
    """One trench for a conduit, drain or sleeve, or a pad: a heavier base under a point load.

    Depths are below the ground, or below the bottom of the dig where it runs under paving.
    """

    part: str
    name: str
    what: Literal["conduit", "drain", "sleeve", "pad"] = "conduit"
    length: float  # m
    width: float  # m
    depth: float  # m
    far_depth: float | None = None  # m at the far end; blank: as deep all along
    stone: float | None = None  # m of stone in it; a pad is filled with stone
    item: str = ""  # what is laid in it, bought by length
    diameter: float | None = None  # m outside, of what is laid in it


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildUp(Row):
    """One layer standard. Blank values take the documented defaults."""

    name: str
    base_item: str = ""
    base_depth: float | None = None  # m, compacted
    bedding: str = ""  # sand, small gravel, screenings; blank: every bedding that has a quote
    bedding_depth: float | None = None  # m
    joint_filler: str = ""  # joint sand, polymeric sand, joint gravel; blank: usual for bedding
    geotextile: bool | None = None
    restraint: str = ""  # edging, concrete haunch, none
    overrun: float | None = None  # m of base past the edge
    spike_spacing: float | None = None  # m


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall(Row):
    """One straight wall, ring, column or flight of steps, built of units laid in courses."""

    part: str
    name: str
    kind: Literal["wall", "ring", "column", "steps"] = "wall"
    length: float | None = None  # m: of a wall along its face; side of a column; width of steps
    diameter: float | None = None  # m, of a ring
    circle: Literal["outer", "middle", "inner"] = "outer"  # which circle the diameter means
    height: float | None = None  # m, from the ground to the top of the cap; of steps: whole rise
    risers: int | None = None  # of steps; blank: the fewest of a usual height
    tread: float | None = None  # m, of steps from front to back
    corners: int = 0  # outside corners of a wall
    ends: int | None = None  # free ends of a wall; blank: both
    count: int = 1  # alike ones
    unit: str  # the wall unit, as on Products
    cap: str = ""  # cap, or tread of steps; blank: none
    stands: Literal["beside the paving", "in the paving", "on the paving"] = "beside the paving"
    buried: float | None = None  # courses below the ground
    pad: float | None = None  # m, levelling pad of base stone below the first course
    glue: Literal["caps", "every course", "none"] = "caps"
    liner: float | None = None  # m, outside diameter of what must fit into a ring
    x: float | None = None  # m on the plan: first corner, centre of a ring or column
    y: float | None = None
    turn: float = 0.0  # degrees against the clock


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece(Row):
    """Pieces of one size, cut from stock such as boards, posts or tube."""

    part: str
    name: str = ""
    stock: str  # a product, or a size that several products of different length have
    length: float  # m
    width: float | None = None  # m, of a strip ripped from the stock; blank: as wide as it is
    count: int = 1
    fixings: float | None = None  # screws or bolts in each piece
    pilot: bool = True  # holes are drilled first
    coats: int = 0  # of stain or sealer, on every side
    end_caps: int = 0  # caps for each piece
    pocket: float | None = None  # m, clear width of the bracket, socket or block it goes into
    span: float | None = None  # m between its supports, if it carries a load
    load: float | None = None  # kg spread along it
    on_edge: bool = True  # its larger side stands up


@dataclass(frozen=True, slots=True, kw_only=True)
class Extra(Row):
    """One counted item of one part, such as a fire bowl kit or a bag of adhesive."""

    part: str
    item: str
    quantity: float
    hours_each: float | None = None
    optional: bool = False
    worth: float | None = None  # cents


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock(Row):
    """Something already owned or salvaged, counted in pieces."""

    item: str
    count: float
    usable: float = 1.0  # ratio
    cleaning: float | None = None  # hours each


@dataclass(frozen=True, slots=True, kw_only=True)
class Product(Row):
    """One product as used. True sizes in m, weight of one piece in kg."""

    item: str
    kind: str  # a product kind of budget.reference, such as "paver" or "base"
    length: float | None = None
    width: float | None = None
    height: float | None = None
    joint: float | None = None
    density: float | None = None  # kg/m³ as sold, loose
    weight: float | None = None  # kg each
    holds: float | None = None  # m of one edging piece, or m² of one roll (width below)
    roll_width: float | None = None
    allows: str = ""  # beddings that the maker allows, such as "small gravel"
    back_width: float | None = None  # m, of a wall unit narrower at its back
    size: str = ""  # nominal size of timber, such as 2x4; its true size comes from PS 20
    wall: float | None = None  # m, wall of a tube
    mix: str = ""  # the mixed set it belongs to; Areas names the set as its paver
    share: float | None = None  # ratio of the set's area; blank: as much as each other size
    per_band: float | None = None  # pieces
    per_layer: float | None = None  # pieces
    per_pallet: float | None = None  # pieces


#: What one quote's price is for, and what its packs are measured in.
Measure = Literal["count", "length", "area", "volume", "mass"]


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
    note: str = ""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Equipment(Row):
    """One way to have one machine: rent, borrow or buy. Prices in cents."""

    equipment: str
    way: Literal["rent", "borrow", "buy"] = "rent"
    source: str = ""
    half_day: float | None = None  # 4 hours
    day: float | None = None
    weekend: float | None = None
    week: float | None = None
    month: float | None = None  # 4 weeks
    hours_a_day: float | None = None
    days_a_week: float | None = None
    weekend_days: float | None = None
    price: float | None = None  # bought
    resale: float | None = None
    favour: float | None = None  # what a loan costs: a gift, a repair
    waiver: float | None = None  # ratio of the rent
    fuel: float | None = None  # cents per machine hour
    cleaning: float | None = None  # once a spell
    transport: float | None = None  # both ways, once a spell
    deposit: float | None = None
    taxed: bool = True
    width: float | None = None  # m
    valid_until: dt.date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Work(Row):
    """One method for one step. Rates are person-hours per SI unit of the step's measure."""

    step: str
    method: str
    low: float | None = None
    likely: float | None = None
    high: float | None = None
    people: int = 1
    equipment: str = ""
    machine_hours: float | None = None  # machine hours per SI unit
    reworked: float | None = None  # ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Bid(Row):
    """One offer of hired help, covering one or more steps."""

    bid: str
    firm: str = ""
    steps: tuple[str, ...] = ()
    price: float | None = None  # cents, lump or per unit
    basis: Literal["lump", "per unit", "hourly"] = "lump"
    unit: str = ""  # the step measure that a unit price counts
    unit_size: float = 1.0  # SI size of that unit
    hours: float | None = None  # estimated hours of an hourly bid
    least: float | None = None  # least units or hours billed
    mobilisation: float | None = None
    taxed: bool = False
    materials: bool = False
    equipment: bool = True
    supervise: float | None = None  # own hours
    rain_on_owner: bool | None = None
    rock_on_owner: bool | None = None
    valid_until: dt.date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChecklistLine(Row):
    """One cost line the job implies, and what the user answered."""

    line: str
    answer: Literal["priced", "not needed", "in bid", "to price"] = "to price"
    amount: float | None = None  # cents
    bid: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin(Row):
    """One pinned choice of one named scenario, such as ``step:Dig`` = ``hire``."""

    scenario: str
    choice: str
    value: str


SpendState = Literal[
    "ordered", "delivered", "paid", "returned", "refunded", "deposit paid", "deposit back",
    "change agreed", "worked", "driven",
]  # fmt: skip
ChangeReason = Literal["chosen", "unforeseen"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spend(Row):
    """One entry of what was ordered or paid."""

    date: dt.date
    line: str
    supplier: str = ""
    what: str = ""
    quantity: float | None = None
    amount: float | None = None  # cents before tax
    tax: float | None = None  # cents
    state: SpendState = "paid"
    own_hours: float | None = None
    receipt: str = ""
    reason: ChangeReason | None = None  # of a change: wished for, or met in the ground
    due: dt.date | None = None  # comes on, payable by, back by, returnable until: as its state


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress(Row):
    """How far one step has come, or how much of an item is needed after measuring again.

    ``quantity`` and ``need`` are in the unit in which people read the step or the item.
    """

    date: dt.date
    line: str  # a step, or an item
    part: str = ""  # blank: the whole job
    percent: float | None = None  # ratio
    quantity: float | None = None
    need: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A whole quotes workbook."""

    settings: Settings
    areas: tuple[Area, ...] = ()
    corners: tuple[Corner, ...] = ()
    levels: tuple[Level, ...] = ()
    trenches: tuple[Trench, ...] = ()
    walls: tuple[Wall, ...] = ()
    pieces: tuple[CutPiece, ...] = ()
    build_ups: tuple[BuildUp, ...] = ()
    extras: tuple[Extra, ...] = ()
    stock: tuple[Stock, ...] = ()
    products: tuple[Product, ...] = ()
    quotes: tuple[Quote, ...] = ()
    suppliers: tuple[Supplier, ...] = ()
    delivery: tuple[DeliveryStep, ...] = ()
    disposal: tuple[Disposal, ...] = ()
    vehicles: tuple[Vehicle, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    work: tuple[Work, ...] = ()
    bids: tuple[Bid, ...] = ()
    checklist: tuple[ChecklistLine, ...] = ()
    pins: tuple[Pin, ...] = ()
    spend: tuple[Spend, ...] = ()
    progress: tuple[Progress, ...] = ()


@dataclass(frozen=True, slots=True, order=True)
class Notice:
    """A problem or a warning about one cell of the workbook."""

    sheet: str
    row: int
    cell: str
    code: str
    found: str
    expected: str
    mend: str
    severity: Literal["problem", "warning"] = "problem"

    @property
    def message(self) -> str:
        """One sentence: found, expected, how to mend."""
        found = f"found {self.found}" if self.found else "blank"
        return f"{found}; expected {self.expected}. {self.mend}".strip()


@dataclass(frozen=True, slots=True)
class Assumption:
    """A documented default that was used because the workbook is silent."""

    what: str
    value: str
    source: str
    sheet: str = ""
