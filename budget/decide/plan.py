"""A plan is a value for every choice; a scenario is a plan found with some choices pinned."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from budget.decide.shares import shared_value
from budget.figures import Figure

OWN = "own"
HIRE = "hire"

#: How the value of a step begins: ``own: METHOD`` or ``bid: NAME``.
METHOD = "own: "
BID = "bid: "


@dataclass(frozen=True, slots=True)
class Plan:
    """A value for every choice. Everything else (packs, trips, days, cents) follows from it."""

    bedding: str
    parts: frozenset[str]  # optional parts that are kept
    offers: Mapping[str, str]  # item -> offer key (only items bought)
    routes: Mapping[str, str]  # supplier -> route key (only suppliers bought from)
    steps: Mapping[str, str]  # step -> "own: METHOD" or "bid: NAME"
    machines: Mapping[str, str]  # equipment -> machine key (only machines used)
    disposal: str  # way, or "" when a bid takes the spoil or there is none
    # item -> packs bought of other offers; its offer above then has the rest
    shares: Mapping[str, Mapping[str, float]] = field(default_factory=dict)

    @property
    def bought(self) -> frozenset[str]:
        """The keys of all offers that something is bought of."""
        first = (key for shares in self.shares.values() for key in shares)
        return frozenset((*self.offers.values(), *first))

    def choices(self) -> dict[str, str]:
        """Every choice by its name, such as ``step:Dig``, in a fixed order.

        Names are ``bedding``, ``part:NAME``, ``item:NAME`` (which quotes), ``goods:SUPPLIER``
        (how its goods come), ``step:NAME``, ``machine:NAME`` and ``disposal``.
        """
        found = {"bedding": self.bedding}
        found |= {f"part:{part}": "keep" for part in sorted(self.parts)}
        found |= {
            f"item:{k}": shared_value(v, self.shares.get(k, {}))
            for k, v in sorted(self.offers.items())
        }
        found |= {f"goods:{k}": v for k, v in sorted(self.routes.items())}
        found |= {f"step:{k}": v for k, v in self.steps.items()}
        found |= {f"machine:{k}": v for k, v in sorted(self.machines.items())}
        if self.disposal:
            found["disposal"] = self.disposal
        return found

    def by_hands(self) -> tuple[list[str], dict[str, list[str]]]:
        """Steps done by own hands, and the others by the bid that covers them."""
        own: list[str] = []
        hired: dict[str, list[str]] = {}
        for step, value in self.steps.items():
            kind, _, name = value.partition(": ")
            if kind == OWN:
                own.append(step)
            else:
                hired.setdefault(name, []).append(step)
        return own, hired


@dataclass(frozen=True, slots=True)
class Line:
    """One row of money or hours in a plan.

    ``cash`` is whole cents, tax included, below zero where money comes back later; lines add up
    to the totals shown. ``money`` and
    ``time`` are the figures behind them, for explanation and for the living workbook.
    """

    part: str  # the part it belongs to, or "" for the whole job
    group: str
    name: str  # spend entries name lines by this
    cash: int
    own_hours: float
    money: Figure | None
    time: Figure | None
    supplier: str = ""
    quantity: str = ""  # in words: "5 ton", "12 bags of 50 lb", "2 days"
    choice: str = ""  # the choice that it hangs on, such as "goods:North Yard"


@dataclass(frozen=True, slots=True)
class Missing:
    """A cost that the plan implies and nobody has priced."""

    what: str
    sheet: str  # which sheet to fill
    hint: str


@dataclass(frozen=True, slots=True)
class Order:
    """What to buy of one offer."""

    item: str
    offer: str
    supplier: str
    packs: float
    per: str
    price: int  # cents before tax
    tax: int
    deposit: int
    weight: float | None  # kg
    left_over: float  # share of the order that the need does not use
    line: str  # the name of its line
    back: float = 0.0  # packs that go back unopened
    credit: int = 0  # cents that they bring back


@dataclass(frozen=True, slots=True)
class Arrival:
    """How one supplier's goods come."""

    supplier: str
    route: str
    fee: int  # cents with tax
    drops: int  # or trips
    hours: float  # own hours of driving and handling
    weight: float  # kg
    note: str  # which limit binds, why the fee is what it is


@dataclass(frozen=True, slots=True)
class Hire:
    """How one machine is had."""

    equipment: str
    machine: str
    spells: tuple[str, ...]  # in words: "Base: 1 day", "Joint: 4 hours"
    cash: int
    deposit: int
    days: float = 0.0  # of all spells, as they are told: to a tenth


@dataclass(frozen=True, slots=True)
class Priced:
    """A plan with its price: what ``evaluate`` returns."""

    plan: Plan
    lines: tuple[Line, ...]
    missing: tuple[Missing, ...]
    orders: tuple[Order, ...]
    arrivals: tuple[Arrival, ...]
    hires: tuple[Hire, ...]
    cash: int  # sum of the lines
    own_hours: float  # sum of the lines
    helper_hours: float
    clock_hours: float
    deposits: int  # refundable, beside the cash
    risks: tuple[str, ...]  # left with the owner, in words
    held: tuple[Figure, ...] = ()  # the deposits, each before it is rounded to the cent

    @property
    def comes_back(self) -> int:
        """Cents that are paid first and come back for goods beyond the need, off the cash."""
        return sum(order.credit for order in self.orders)

    def total(self, hour_value: float) -> float:
        """Cash plus own hours at ``hour_value`` cents an hour, in cents."""
        return self.cash + self.own_hours * hour_value


@dataclass(frozen=True, slots=True)
class Scenario:
    """One scenario under one bedding, solved."""

    name: str  # "All own hands"
    bedding: str
    pins: Mapping[str, str]
    feasible: bool
    why_not: str
    priced: Priced | None
    proved: bool  # the optimum is proved
    gap: float  # relative gap the solver leaves
    discouraged: bool = False  # never best unless allowed

    @property
    def title(self) -> str:
        """The scenario's name with its bedding."""
        return f"{self.name}, {self.bedding} bedding"


@dataclass(frozen=True, slots=True)
class Flip:
    """What forcing one choice the other way does, the rest planned anew."""

    choice: str
    value: str  # as the best plan has it
    alternative: str
    cash: int  # alternative less best, cents
    hours: float
    hour_values: tuple[float, ...]  # cents per hour at which the winner changes
    sentence: str
    choices: tuple[str, ...] = ()  # every choice that moves together, ``choice`` the first
    small: bool = False  # less than one per cent of the plan's total is at stake
    priced: Priced | None = field(default=None, repr=False, compare=False)  # the other plan
    proved: bool = True  # the other plan is proved the best with this choice
    gap: float = 0.0  # share of its total that a better one could save at most


@dataclass(frozen=True, slots=True)
class Addable:
    """A part given up for the spending limit, and what having it back takes."""

    part: str
    more: float  # cents beyond the limit that the least plan with it takes
    worth: float | None  # cents, as the user puts it


@dataclass(frozen=True, slots=True)
class Fit:
    """What can be had within the spending limit, where the best plan does not hold it."""

    limit: float  # cents
    left_out: tuple[str, ...]  # optional parts given up
    priced: Priced | None  # None: no plan holds the limit
    more: float  # cents beyond the limit for the part to add next (or short of any plan)
    sentence: str
    adds: tuple[Addable, ...] = ()  # every part given up, the one to add next first
    change: str = ""  # against the best plan, in words


@dataclass(frozen=True, slots=True)
class FrontierPoint:
    """A plan that is best from one hour value (cents) to the next."""

    from_value: float
    to_value: float  # infinity for the last
    priced: Priced
    change: str  # what changes against the point before, in words
    proved: bool = True  # no search for any point was stopped
