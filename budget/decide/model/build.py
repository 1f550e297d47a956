"""What the parts of the programme share while it is put together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from budget.decide.programme.milp import Programme
from budget.decide.terms.situation import Situation
from budget.job import DropPoint
from budget.prices.options import Haul, Offer

CASH = "cash"
HOURS = "hours"
MISSING = "missing"

#: Goods set down: the drop point, the column that puts them there, and their weight (kg).
Load = tuple[DropPoint, int, float]

#: The columns whose sum says that something holds, each at most one together.
Columns = tuple[int, ...]


#: Own hours of some trips, as terms of columns.
Hours = Sequence[tuple[int, float]]


@dataclass(frozen=True, slots=True)
class Outing:
    """Trips to one seller, or to the tip, with a vehicle, as columns of the programme."""

    way: Haul
    hours: Hours
    most: float  # hours at most
    least: Hours  # for each purchase that may come: the hours it takes alone


@dataclass(frozen=True, slots=True)
class Share:
    """What is bought of one quote where an item is bought of several: counts are steps."""

    offer: Offer
    opened: Columns  # ways to buy, of which at most one is open
    counts: Columns  # steps bought each way
    rest: int  # the column that says that this quote has the rest
    most: int  # steps
    at_most: int  # the row of its steps
    at_least: int  # the row of its steps less the most where the item is bought of several


@dataclass(frozen=True, slots=True)
class Split:
    """An item that may be bought of several quotes while bids bring the materials of some steps."""

    item: str
    column: int
    supplied: frozenset[str]
    shares: tuple[Share, ...]


@dataclass(slots=True)
class Build:
    """A programme under construction, with what its columns mean.

    ``choices`` gives, for a column, the choices that it makes when it is one: these names and
    values are those of :meth:`budget.decide.plan.Plan.choices`.
    """

    situation: Situation
    programme: Programme = field(default_factory=Programme)
    choices: dict[int, Mapping[str, str]] = field(default_factory=dict)
    own: dict[tuple[str, str], int] = field(default_factory=dict)  # step, method
    bids: dict[str, int] = field(default_factory=dict)
    loads: dict[str, list[Load]] = field(default_factory=dict)  # goods set down, by item
    heaviest: dict[str, float] = field(default_factory=dict)  # kg at most, by item
    carried: dict[str, list[tuple[int, float]]] = field(default_factory=dict)
    fixed: dict[str, float] = field(default_factory=dict)  # the same in every plan
    spare: set[int] = field(default_factory=set)  # never needed unless their choice is pinned
    outings: list[Outing] = field(default_factory=list)  # trips with vehicles, to close last
    splits: list[Split] = field(default_factory=list)
    helper_gap: int = -1  # the column that says that helpers' pay is missing

    def choose(
        self, choices: Mapping[str, str], cash: float = 0.0, hours: float = 0.0, missing: float = 0
    ) -> int:
        """A yes-or-no column that makes these choices, with its cents, hours and gaps."""
        column = self.programme.column(_objectives(cash, hours, missing))
        if choices:
            self.choices[column] = choices
        return column

    def amount(
        self, high: float, cash: float = 0.0, hours: float = 0.0, whole: bool = False
    ) -> int:
        """A column that counts or measures something, with cents and hours for each."""
        return self.programme.column(_objectives(cash, hours, 0), high=high, whole=whole)

    def always(self, cash: float, missing: float) -> None:
        """Add what every plan pays or misses."""
        for name, value in ((CASH, cash), (MISSING, missing)):
            self.fixed[name] = self.fixed.get(name, 0.0) + value

    def bids_on(self, step: str, *, materials: bool = False) -> Columns:
        """The columns of the bids that cover a step (only those that bring its materials)."""
        return tuple(
            self.bids[bid.key]
            for bid in self.situation.bids
            if step in bid.steps and (bid.materials or not materials)
        )


def _objectives(cash: float, hours: float, missing: float) -> dict[str, float]:
    pairs = ((CASH, cash), (HOURS, hours), (MISSING, missing))
    return {name: value for name, value in pairs if value}
