"""What it is worth to know an unknown, on draws so few that it can be worked out by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from budget.decide.risk import findings as module
from budget.decide.risk.findings import _by_order, _by_plan, _if_sure, _set_aside, findings
from budget.decide.risk.ordering import Order, Stakes
from budget.decide.risk.spread import Spread
from budget.decide.risk.unknowns import Unknown
from budget.figures import given
from budget.units import NUMBER

#: Ten ranges of equal chance, each in both halves of the draws.
TWICE = np.repeat(np.arange(10), 2)
OFTEN = np.tile(TWICE, 100)


def near(number: float) -> Any:
    """Up to the rounding of a float."""
    return pytest.approx(number)


def test_the_plan_is_chosen_by_what_is_known() -> None:
    """A is 10.00, B 8.00 in six of ten ranges and 15.00 in four, so 10.80 on average. Knowing the
    range saves 2.00 in six of ten: 1.20."""
    totals = [("A", np.full(len(OFTEN), 1000.0)), ("B", np.where(OFTEN < 6, 800.0, 1500.0))]
    assert _by_plan(OFTEN, totals, 0) == (near(120), "B")


def test_of_plans_alike_on_average_it_is_held_against_the_best() -> None:
    """A is 10.00; B is 9.00 in nine ranges and 19.00 in one. Against A 1.00 is saved in nine, which
    is sure; against B 9.00 in one of ten, which twenty draws do not make sure."""
    totals = [("A", np.full(20, 1000.0)), ("B", np.where(TWICE < 9, 900.0, 1900.0))]
    assert _by_plan(TWICE, totals, 0) == (near(90), "B")
    assert _by_plan(TWICE, totals, 1) == (0.0, "")
    # of two that are not the best, the first by name
    both = [*totals, ("C", np.full(20, 2000.0))]
    assert _by_plan(TWICE, both, 2) == (near(90), "B")


def test_a_need_that_is_known_is_ordered_exactly() -> None:
    """One over costs 0.10, one short 0.30: eight for needs of one to ten, 0.37 on average."""
    order = Order(OFTEN + 1, Stakes(each=100, again=130, back=90))
    assert order.best == 8
    assert _by_order(OFTEN, SimpleNamespace(order=order)) == near(37)  # type: ignore[arg-type]


def test_a_gain_of_a_cent_is_one() -> None:
    assert _if_sure(np.full(100, 1.0)) == 1.0


def test_the_safe_sum_falls_by_what_is_known() -> None:
    """0.00 or 1.00 by the range, the last two of twenty: safe is 1.00, once it is known 0.50."""
    where = np.tile([18, 19], 10)
    assert _set_aside(where, (where - 18) * 100.0, 0.8) == near(50)
    assert _set_aside(np.zeros(20, int), (where - 18) * 100.0, 0.8) == 0.0


def test_what_is_found_out_is_worth_what_it_moves(monkeypatch: pytest.MonkeyPatch) -> None:
    """A count moves two of three orders, by 0.37 each; looking at it takes half an hour, 10.00."""
    way = {"kind": "price", "how": "ask", "hours": "30", "unit": "min"}
    monkeypatch.setattr(module, "rows", lambda _: [way])
    decided: list[Any] = []
    for key in ("Areas!C2", "Areas!C3", "Areas!C2"):
        demand = SimpleNamespace(needed=given(5.0, NUMBER, "packs", key))
        order = Order(OFTEN + 1, Stakes(each=100, again=130, back=90))
        decided.append(SimpleNamespace(demand=demand, order=order))
    spread = Spread(0.9, 1.0, 1.1)
    known = Unknown("count", "price", spread, (("Areas!C2", 1),), "")
    other = Unknown("pace", "pace", spread, (("Areas!C3", 1),), "")
    cash = np.full(len(OFTEN), 1000.0)
    (found,) = findings(
        [known, other], {"count": OFTEN}, decided, [("A", cash)], 0, cash, 0.8, 2000.0
    )  # fmt: skip
    assert (found.name, found.how, found.effort) == ("count", "ask", near(1000.0))
    assert (found.order, found.plan, found.set_aside) == (near(74), 0.0, 0.0)
