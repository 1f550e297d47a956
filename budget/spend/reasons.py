"""Why a line will come to something else than planned, split so that it adds up to the cent.

* Scope: the work itself is another. Changes agreed, or the plan's own amounts grown with the
  job (a part made larger) at the first price, whichever is more; all of a line not in the plan.
* Quantity: more or less needed for the same work, at the first price of a pack; what a change
  agreed holds of it is scope.
* Pace: days rented and hours billed beyond the plan, at the first price of a day or an hour.
* Price: all the rest, which is what a pack, a firm or a fee costs more or less.
"""

from __future__ import annotations

from budget.spend.baseline import DAY, HOUR
from budget.spend.tracking import Why, WhyHours
from budget.spend.yardstick import PlanLine
from budget.units import round_half_up


def why_money(line: PlanLine, will: int, changes: int, final: float | None, growth: float) -> Why:
    """Split ``will`` less the first plan of a line.

    ``changes`` are cents agreed since; ``final`` is how many packs, days or hours there will be
    in the end; ``growth`` is how much the line's work has grown with the job (1: not at all).
    """
    first = line.first
    over = will - first.cash
    if not first.there:
        return Why(scope=over)
    grown = 0
    more = 0
    if first.packs and line.now.packs is not None and final is not None:
        each = first.cash / first.packs
        larger = 0.0 if line.per in (DAY, HOUR) else line.now.packs - first.packs
        grown = round_half_up(each * larger)
        more = round_half_up(each * (final - first.packs - larger))
    elif growth != 1.0:
        grown = round_half_up(first.cash * (growth - 1.0))
    scope = max(grown, changes, key=abs)
    more -= _within(scope - grown, more)
    by_time = line.per in (DAY, HOUR)
    return Why(
        price=over - scope - more,
        quantity=0 if by_time else more,
        scope=scope,
        pace=more if by_time else 0,
    )


def _within(agreed: int, more: int) -> int:
    """As much of a change agreed as went into more packs; nothing where they differ in sign.

    >>> _within(8605, 10757), _within(8605, 2000), _within(8605, -2000), _within(-300, -500)
    (8605, 2000, 0, -300)
    """
    return min(agreed, more, key=abs) if agreed * more > 0 else 0


def why_hours(line: PlanLine, will: float, growth: float, measured: float) -> WhyHours:
    """Split own hours likewise; ``measured`` is the need measured again over the plan's amount."""
    first = line.first.hours
    if not line.first.there:
        return WhyHours(scope=will)
    scope = first * (growth - 1.0)
    quantity = first * growth * (measured - 1.0)
    return WhyHours(quantity=quantity, scope=scope, pace=will - first - scope - quantity)
