"""Rows that say what is to be built: areas, levels, walls, pieces, products."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from budget.job.rows import Row

Shape = Literal[
    "rectangle", "triangle", "circle", "half circle", "quarter circle", "ring", "ellipse",
    "polygon", "measured", "walked", "offsets", "curved offsets",
]  # fmt: skip


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

    A drop point needs no height: it only says where goods are put down.
    Heights are in m above any one mark. Positions are on the plan of the placed areas; without
    them a spot counts toward the average only.
    """

    where: str = ""
    part: str = ""  # blank: every part
    what: Literal["ground", "sill", "drop point"] = "ground"
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
    x: float | None = None  # m on the plan: where its middle line starts
    y: float | None = None  # m
    turn: float = 0.0  # degrees against the clock from x: the way it runs


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildUp(Row):
    """One layer standard. Blank values take the documented defaults."""

    name: str
    base_item: str = ""
    base_depth: float | None = None  # m, compacted
    bedding: str = ""  # one of the beddings; blank: every bedding that has a quote
    bedding_depth: float | None = None  # m
    joint_filler: str = ""  # joint sand, polymeric sand, joint gravel; blank: usual for bedding
    geotextile: bool | None = None
    restraint: str = ""  # edging, concrete haunch, none
    overrun: float | None = None  # m of base past the edge
    spike_spacing: float | None = None  # m
    turned_up: float | None = None  # m of geotextile up the sides of the dig


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
    optional: bool = False
    worth: float | None = None  # cents


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
    optional: bool = False
    worth: float | None = None  # cents


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
    if_short: str = ""  # more of the same, another lot, no more; blank: usual for its kind
    back_width: float | None = None  # m, of a wall unit narrower at its back
    size: str = ""  # nominal size of timber, such as 2x4; its true size comes from PS 20
    wall: float | None = None  # m, wall of a tube
    mix: str = ""  # the mixed set it belongs to; Areas names the set as its paver
    share: float | None = None  # ratio of the set's area; blank: as much as each other size
    per_band: float | None = None  # pieces
    per_layer: float | None = None  # pieces
    per_pallet: float | None = None  # pieces
    spikes: float | None = None  # that come with one piece of edging
    material: str = ""  # of a paver, wall unit or cap; blank: concrete
