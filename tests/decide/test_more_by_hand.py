"""Single rules of the plan, each with a figure worked out beside it."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from budget.decide.brief import laid_out
from budget.decide.plan import Line
from budget.decide.risk.accuracy import firm_share
from budget.decide.risk.result import Shortfall
from budget.decide.risk.spread import Spread
from budget.decide.risk.unknowns import Unknown
from budget.figures import total
from budget.workbook import read
from tests.conftest import WORKBOOKS


def test_quantities_alone_are_no_complete_answer() -> None:
    """Nothing is planned, so that nothing is said to be priced in full."""
    job = read(WORKBOOKS / "fire-bowl.xlsx").job
    assert job is not None
    found = laid_out(job)
    assert not found.complete
    assert found.best is None


def _line(cash: int, *money: object) -> Line:
    figure = total("together", money) if money else None  # type: ignore[arg-type]
    return Line("", "goods", "line", cash, 0.0, figure, None)


def test_a_line_that_rests_on_one_guess_is_not_firm(make: SimpleNamespace) -> None:
    """60.00 of firm prices and 40.00 of a firm and a guessed one: 60 % are firm."""
    firm, guessed = make.cash(6000, "quoted"), make.cash(1000, "guessed")
    guess = Unknown("price", "price", Spread(0.8, 1.0, 1.2), ((guessed.key, 1),), "")
    lines = [_line(6000, firm), _line(4000, firm, guessed)]
    assert firm_share(lines, [guess]) == pytest.approx(0.6)


def test_an_order_of_a_tenth_more_than_is_needed() -> None:
    found = Shortfall(
        "Paver", "Yard", "pack", 11.0, 10.0, 0.0, (), 0.0, 0.0, 11.0, 0.0, 0.0, (), 0.0, 0.0, "", ""
    )  # fmt: skip
    assert found.extra(11.0) == pytest.approx(0.1)
