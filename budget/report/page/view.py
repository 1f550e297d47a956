"""What every section of the page shares: how to say numbers, and the shape of a table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from budget.decide.outcome import Comparison
from budget.decide.plan import Arrival, Priced, Scenario
from budget.figures import Figure
from budget.prices.options import Drop
from budget.report import words
from budget.report.page.how import How, explained, how
from budget.units import MASS, System, in_words

#: What is said of goods that come without a fee.
FREE = "free of charge"


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table: its title, and whether it holds numbers."""

    title: str
    number: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its cells as text, the first one naming the row."""

    cells: tuple[str, ...]
    how: tuple[How, ...] = ()
    note: str = ""
    marked: str = ""  # what the row is tagged as, if it stands out
    sums: bool = False  # adds up the rows above it


@dataclass(frozen=True, slots=True)
class Table:
    """A table ready to print: every number in it is already text."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    foot: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True)
class View:
    """A comparison with its ways of saying things."""

    comparison: Comparison
    system: System = field(init=False)
    currency: str = field(init=False)
    known: Mapping[int, str] = field(init=False)  # figures explained in a place of their own

    def __post_init__(self) -> None:
        """Take the unit system and the currency from the job."""
        settings = self.comparison.job.settings
        object.__setattr__(self, "system", settings.units)
        object.__setattr__(self, "currency", settings.currency)
        object.__setattr__(self, "known", explained(self.comparison))

    @property
    def priced(self) -> Priced | None:
        """The best plan with its price, if there is one."""
        best = self.comparison.best
        return best.priced if best else None

    @property
    def best_plan(self) -> str:
        """What the plan of the answer is called: best, while prices are missing so far only."""
        return f"best plan{self.comparison.so_far}"

    @property
    def hour_value(self) -> float:
        """The value of an own hour that the plans are compared at, in cents."""
        return self.comparison.options.hour_value.value

    def money(self, cents: float) -> str:
        """Money to the cent."""
        return words.money(cents, self.currency)

    def round_money(self, cents: float) -> str:
        """Money to the whole unit, for headlines."""
        return words.money_round(cents, self.currency)

    def money_more(self, cents: float) -> str:
        """A difference in money with its sign: ``+$12.00``."""
        return f"+{self.money(cents)}" if cents > 0 else self.money(cents)

    def hours_more(self, number: float) -> str:
        """A difference in hours with its sign."""
        text = words.hours(number)
        return f"+{text}" if number > 0 else text

    def weight(self, kilograms: float | None) -> str:
        """A weight, or a dash where it is not known."""
        return "not known" if kilograms is None else in_words(kilograms, MASS, self.system)

    def fee(self, arrival: Arrival) -> str:
        """What it costs to bring one seller's goods; a fee nobody has given is never zero."""
        routes = self.comparison.options.routes.get(arrival.supplier, ())
        chosen = next((r for r in routes if r.key == arrival.route), None)
        if isinstance(chosen, Drop) and not chosen.priced:
            return "delivery fee not yet priced"
        return f"{self.money(arrival.fee)} with tax" if arrival.fee else FREE

    def figure(self, figure: Figure | None) -> str:
        """A figure with its unit."""
        return "not known" if figure is None else figure.words(self.system)

    def how(self, title: str, figure: Figure | None, whole: bool = False) -> tuple[How, ...]:
        """The explanation of one figure; nothing where there is nothing to explain.

        ``whole`` follows it down to its inputs, even through figures explained elsewhere.
        """
        if figure is None:
            return ()
        return (how(title, figure, self.system, {} if whole else self.known),)

    def feasible(self) -> list[Scenario]:
        """The scenarios that can be built, in their order."""
        return [s for s in self.comparison.scenarios if s.feasible and s.priced is not None]


def group_order(plans: Sequence[Priced]) -> list[str]:
    """The groups of all lines of some plans, in the order they are first met."""
    seen: dict[str, None] = {}
    for plan in plans:
        for line in plan.lines:
            seen.setdefault(line.group, None)
    return list(seen)
