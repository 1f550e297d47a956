"""Where a plan's lines are gathered while it is priced."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from budget.decide.plan import Arrival, Hire, Line, Missing, Order, Plan, Priced
from budget.figures import Figure
from budget.units import round_half_up


@dataclass(slots=True)
class Ledger:
    """Lines of money and hours, and what belongs beside them."""

    lines: list[Line] = field(default_factory=list)
    missing: list[Missing] = field(default_factory=list)
    orders: list[Order] = field(default_factory=list)
    arrivals: list[Arrival] = field(default_factory=list)
    hires: list[Hire] = field(default_factory=list)
    risks: list[str] = field(default_factory=list)
    helper_hours: list[Figure] = field(default_factory=list)
    clock_hours: float = 0.0
    deposits: int = 0
    held: list[Figure] = field(default_factory=list)

    def deposit(self, figure: Figure | None) -> int:
        """Note a refundable deposit, if there is one; returns it in whole cents."""
        if figure is None:
            return 0
        cents = round_half_up(figure.value)
        self.deposits += cents
        self.held.append(figure)
        return cents

    def line(
        self,
        name: str,
        group: str,
        money: Figure | None = None,
        time: Figure | None = None,
        *,
        part: str = "",
        supplier: str = "",
        quantity: str = "",
        choice: str = "",
    ) -> None:
        """Add a line; its money is in whole cents already."""
        cash = 0 if money is None else round_half_up(money.value)
        hours = 0.0 if time is None else float(time.value)
        self.lines.append(
            Line(part, group, name, cash, hours, money, time, supplier, quantity, choice)
        )

    def gap(self, what: str, sheet: str, hint: str) -> None:
        """Note something that the plan implies and nobody has priced."""
        found = Missing(what, sheet, hint)
        if found not in self.missing:
            self.missing.append(found)

    def risk(self, words: Iterable[str]) -> None:
        """Note what stays with the owner."""
        self.risks += [text for text in words if text not in self.risks]

    def priced(self, plan: Plan) -> Priced:
        """The whole plan, its totals the sums of its lines."""
        return Priced(
            plan=plan,
            lines=tuple(self.lines),
            missing=tuple(self.missing),
            orders=tuple(self.orders),
            arrivals=tuple(self.arrivals),
            hires=tuple(self.hires),
            cash=sum(line.cash for line in self.lines),
            own_hours=sum(line.own_hours for line in self.lines),
            helper_hours=sum(figure.value for figure in self.helper_hours),
            clock_hours=self.clock_hours,
            deposits=self.deposits,
            risks=tuple(self.risks),
            held=tuple(self.held),
        )
