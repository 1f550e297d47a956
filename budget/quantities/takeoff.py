"""What the job needs: the list of quantities taken off the sketch.

The takeoff knows no seller and no price. It is the same for every plan; what belongs to one
bedding only carries that bedding's name, and what belongs to an optional part carries the part.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from budget.figures import Figure, whole
from budget.job import Assumption, Measure, Notice
from budget.quantities.formulas.compaction import Compaction
from budget.quantities.plan.own_corner import Drawn, Rings
from budget.units import COUNT, DEPTH, Kind, System


@dataclass(frozen=True, slots=True)
class Need:
    """An amount of one material for one part.

    ``net`` is what ends up in the work; ``order`` is net with overage, in the measure the need
    is thought of (a count, a length, an area, or a loose volume). ``measures`` gives the same
    order in every measure a pack may be sold in: ``{"volume": ..., "mass": ...}``; a measure
    that cannot be worked out (the weight of a product of unknown weight) is left out.
    """

    line: str  # the name spend entries use, such as "Base stone"
    part: str
    item: str  # the name quotes use; equals ``line`` unless several parts name the same item
    kind: str  # product kind of budget.reference
    step: str  # the step that uses it up: a bid with materials for that step brings it
    group: str
    net: Figure
    order: Figure
    overage: Figure  # a ratio: order / net - 1 in the same measure
    why: str  # one sentence: what the overage is for
    measures: Mapping[Measure, Figure]
    weight: Figure | None  # mass of the order, None if unknown
    bedding: str = ""  # only under this bedding; blank: always
    optional: str = ""  # the optional part it belongs to; blank: always
    what: str = ""  # the feature of the part it is for, such as a wall; blank: the part itself

    @property
    def place(self) -> str:
        """Part and feature, such as ``Yard, Seat wall``."""
        return ", ".join(word for word in (self.part, self.what) if word)

    @property
    def ordered(self) -> Figure:
        """The order as it is shown: pieces rounded up, since nobody sells a part of one."""
        return whole(self.order.name, self.order) if self.order.kind is COUNT else self.order

    def to_order(self, system: System) -> str:
        """The order in words."""
        return self.ordered.words(system)


@dataclass(frozen=True, slots=True)
class StepAmount:
    """How much of one step one part asks for, in the step's measure."""

    step: str
    part: str
    amount: Figure
    bedding: str = ""
    optional: str = ""


@dataclass(frozen=True, slots=True)
class Bedding:
    """One bedding with its joint filler, as a pair."""

    name: str  # sand, small gravel, screenings, pea gravel
    item: str  # the bedding need's item
    filler: str  # the joint filler need's item
    depth: Figure
    discouraged: bool  # published notes discourage the pair
    allowed: bool  # the user or the product's maker allows it all the same
    note: str  # what the notes say
    source: str


@dataclass(frozen=True, slots=True)
class PatternDrawing:
    """One paver of one part as its pattern was laid out, to draw (rings of corners in m)."""

    item: str
    pattern: str
    start: str  # where laying starts; blank: each shape at a corner of its own
    outlines: Rings
    shapes: tuple[Drawn, ...]
    border: str = ""  # the course and unit along the edge, such as ``soldier course of Brick``
    border_whole: Rings = ()
    border_cut: Rings = ()
    counted: tuple[int, int] = (0, 0)  # whole and cut of the least lucky start, as ordered

    @property
    def whole(self) -> Rings:
        """Whole pavers as they lie on the plan [m]; none where there are very many."""
        return tuple(ring for shape in self.shapes for ring in shape.whole)

    @property
    def cut(self) -> Rings:
        """Cut pavers as they lie on the plan [m]."""
        return tuple(ring for shape in self.shapes for ring in shape.cut)

    @property
    def pavers(self) -> int:
        """How many there are to draw, the border left out."""
        return sum(len(shape.seen_whole) + len(shape.seen_cut) for shape in self.shapes)

    def cut_only(self) -> PatternDrawing:
        """The same without its whole pavers."""
        return replace(self, shapes=tuple(replace(shape, seen_whole=()) for shape in self.shapes))


@dataclass(frozen=True, slots=True)
class PartGeometry:
    """One part as it lies: areas and edges, and an outline to draw (m), if it has one."""

    part: str
    area: Figure
    base_area: Figure  # with the overrun past open edges
    edge: Figure  # exterior edge
    restrained: Figure
    cut_length: Figure
    outlines: tuple[tuple[tuple[float, float], ...], ...] = ()  # added shapes
    holes: tuple[tuple[tuple[float, float], ...], ...] = ()  # cut out of them
    optional: bool = False
    labels: tuple[tuple[float, float, str], ...] = ()  # where to write which dimension
    placed: bool = False  # the outlines lie where they are on the plan
    laid: tuple[PatternDrawing, ...] = ()  # the patterns, where the outline is known
    base_depth: Figure | None = None  # m, compacted; None: not known


@dataclass(frozen=True, slots=True)
class Earthwork:
    """Cut and fill of one part, apart, and what an inch of depth means there."""

    part: str
    method: str  # flat dig, grid method, average depth
    cut: Figure  # m³ in the ground, under the first bedding
    fill: Figure  # m³ compacted, below the base
    inch: Figure  # m³ in the ground for one inch more or less


@dataclass(frozen=True, slots=True)
class Cut:
    """Some stock lengths that are cut alike."""

    item: str  # the stock, as on Quotes
    stock: float  # m
    times: int
    lengths: tuple[float, ...]  # m, of the pieces in order along it
    names: tuple[str, ...]  # of the same pieces
    left: float  # m, after the saw has taken its width


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """How the pieces of one stock are cut; proved when no plan needs less."""

    stock: str
    parts: tuple[str, ...]
    kerf: float  # m; 0: no saw
    cuts: tuple[Cut, ...]
    proved: bool
    bound: str  # what proves it, or how it is cut, in words
    unit: str = "stock length"
    size: Kind = DEPTH  # how lengths are told

    @property
    def count(self) -> int:
        """Stock lengths used."""
        return sum(cut.times for cut in self.cuts)


@dataclass(frozen=True, slots=True)
class SpanCheck:
    """How far one candidate beam bends under a piece's load, against the limit."""

    part: str
    piece: str
    item: str
    bends: Figure  # m
    limit: Figure  # m
    price: float | None = None  # cents, the lowest quoted for one; None: not quoted
    chosen: bool = False  # the stock that the piece is cut from

    @property
    def holds(self) -> bool:
        """Whether it bends no more than the limit."""
        return self.bends.value <= self.limit.value * (1 + 1e-9)


@dataclass(frozen=True, slots=True)
class Takeoff:
    """Every quantity of the job."""

    needs: tuple[Need, ...]
    steps: tuple[StepAmount, ...]
    beddings: tuple[Bedding, ...]
    parts: tuple[PartGeometry, ...]
    spoil: tuple[StepAmount, ...]  # loose volume to be rid of, by part
    spoil_density: Figure  # loose density of the spoil
    assumed: tuple[Assumption, ...] = ()
    warnings: tuple[Notice, ...] = ()
    cautions: tuple[tuple[str, str, str], ...] = ()  # step, text, source
    earthwork: tuple[Earthwork, ...] = ()
    compaction: tuple[Compaction, ...] = ()  # of the base, by part
    cutting: tuple[CuttingPlan, ...] = ()
    spans: tuple[SpanCheck, ...] = ()
    consumables: tuple[tuple[str, Figure], ...] = ()  # checklist line, how much it asks for
    not_split: str = ""  # what is to be cut and no splitter parts, such as porcelain
    way_to_cut: str = ""  # which way of cutting pavers and wall units suits, and why
    features: tuple[tuple[str, tuple[tuple[float, float], ...]], ...] = ()  # placed: outlines, m
