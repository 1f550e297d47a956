"""How far the work is, by rows of Progress: every share worked out by hand.

Laying is 60 on the terrace and 40 on the path.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from budget.job import Place, Progress
from budget.spend.progressing import Done, amounts_of, done_on

AMOUNTS = amounts_of([("Lay", "Terrace", 50.0), ("Lay", "Path", 40.0), ("lay", "terrace", 10.0)])


def row(day: int = 1, line: str = "Lay", **more: Any) -> Progress:
    return Progress(place=Place("Progress", day + 1), date=dt.date(2026, 5, day), line=line, **more)


def done(*rows: Progress, day: int = 20) -> Done:
    return done_on(rows, AMOUNTS, dt.date(2026, 5, day))


def test_amounts_of_one_part_add_up() -> None:
    assert AMOUNTS == {"lay": {"terrace": 60.0, "path": 40.0}}


def test_nobody_said_anything() -> None:
    assert (done().share("Lay"), done().need("Lay")) == (None, None)
    # measured again, but nobody says how much is done
    assert done(row(need=120.0)).share("Lay") is None


def test_a_part_counts_by_its_amount() -> None:
    assert done(row(part="Terrace", percent=0.5)).share("LAY") == pytest.approx(0.3)
    both = done(row(part="Terrace", percent=0.5), row(2, part="Path", percent=1.0))
    assert both.share("Lay") == pytest.approx(0.7)


def test_a_row_of_a_part_overrules_the_whole_there_and_a_later_whole_overrules_it() -> None:
    part = (row(percent=0.5), row(2, part="Path", percent=1.0))
    assert done(*part).share("Lay") == pytest.approx(0.5 * 0.6 + 0.4)
    assert done(*part, row(3, percent=0.9)).share("Lay") == pytest.approx(0.9)
    assert done(*part, day=1).share("Lay") == 0.5


def test_a_quantity_is_set_against_the_amount_or_the_need_measured_again() -> None:
    assert done(row(quantity=25.0)).share("Lay") == pytest.approx(0.25)
    assert done(row(need=125.0), row(2, quantity=25.0)).share("Lay") == pytest.approx(0.2)
    assert done(row(part="Path", quantity=10.0)).share("Lay") == pytest.approx(0.1)
    # the path turns out to be 60: 30 of it are half, and the terrace's 60 are not begun
    grown = done(row(part="Path", need=60.0), row(2, part="Path", quantity=30.0))
    assert grown.share("Lay") == pytest.approx(30 / 120)
    # more than all is all
    assert done(row(quantity=250.0)).share("Lay") == 1.0
    # of what the plan has no amount of, a quantity says nothing
    assert done(row(line="Lamp", quantity=2.0)).share("Lamp") is None
    assert done(row(line="Lamp", percent=0.5)).share("Lamp") == 0.5
    assert done(row(line="Lamp", part="Path", percent=0.5)).share("Lamp") == 0.5


def test_needs_measured_again_by_part() -> None:
    assert done(row(need=130.0)).need("Lay") == 130.0
    # the path is 50 instead of 40, the terrace as planned
    assert done(row(part="Path", need=50.0)).need("Lay") == pytest.approx(110.0)
    # 130 in all, and later the path 10 more than planned
    later = done(row(need=130.0), row(2, part="Path", need=50.0))
    assert later.need("Lay") == pytest.approx(140.0)
    # and then all is measured anew
    assert done(row(need=130.0), row(2, part="Path", need=50.0), row(3, need=135.0)).need(
        "Lay"
    ) == pytest.approx(135.0)
    # a part that the plan does not have adds nothing to the whole
    assert done(row(need=130.0), row(2, part="Shed", need=5.0)).need("Lay") == pytest.approx(130.0)
