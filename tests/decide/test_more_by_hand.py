"""Single rules of the plan, each with a figure worked out beside it."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from budget.decide.brief import laid_out
from budget.decide.calendar.days import DAY, Days
from budget.decide.calendar.site import _assumed
from budget.decide.calendar.tasks import CREW, OWN
from budget.decide.calendar.wet_pass import Wet
from budget.decide.comparison import Comparison
from budget.decide.plan import Line
from budget.decide.pricing.goods import tip_trips
from budget.decide.programme.branching import Most, Search, branch
from budget.decide.programme.highs import Table
from budget.decide.risk.accuracy import accuracy, firm_share
from budget.decide.risk.result import Shortfall
from budget.decide.risk.spread import Spread
from budget.decide.risk.unknowns import Unknown, _numbered, _paces
from budget.decide.terms.situation import SPOIL
from budget.decide.thorough.alike import spreads
from budget.decide.whynot import _sentence
from budget.figures import default, product, total
from budget.job import Job, Place, Settings
from budget.job import Work as WorkRow
from budget.reference import coefficient
from budget.units import RATIO
from budget.workbook import read
from tests.conftest import WORKBOOKS


def test_quantities_alone_are_no_complete_answer() -> None:
    """Nothing is planned, so that nothing is said to be priced in full."""
    job = read(WORKBOOKS / "fire-bowl.xlsx").job
    assert job is not None
    found = laid_out(job)
    assert not found.complete
    assert found.best is None


@pytest.mark.parametrize(("given", "assumed"), [((), True), (("Friday",), False)])
def test_working_days_are_assumed_only_where_none_are_given(
    given: tuple[str, ...], assumed: bool
) -> None:
    job = read(WORKBOOKS / "fire-bowl.xlsx").job
    assert job is not None
    work = SimpleNamespace(tasks=(), uses={})
    for start in (dt.date(2026, 5, 2), None):
        settings = replace(job.settings, working_days=given, start=start)
        found = _assumed(replace(job, settings=settings), work)  # type: ignore[arg-type]
        told = any(a.what == "working days" for a in found)
        assert told is (assumed and start is not None)  # without dates there are no weekdays


def test_branching_starts_from_the_relaxation_and_splits_beside_its_fraction() -> None:
    """Most of 5x + 4y with 6x + 4y up to 24 and x + 2y up to 6: at (3, 1.5) it is 21, in whole
    numbers 20 at (4, 0)."""
    rows = [({0: 6.0, 1: 4.0}, -math.inf, 24.0), ({0: 1.0, 1: 2.0}, -math.inf, 6.0)]
    table = Table.of([10.0, 10.0], [True, True], rows)
    relaxation = table.relaxation()
    relaxation.ask(np.array([-5.0, -4.0]), {})
    search = Search(None, math.inf)
    branch(relaxation, table.box([]), table.whole, search, Most(1, 60.0))
    assert search.proved
    assert search.best is not None
    assert (search.best.tolist(), search.least) == ([4.0, 0.0], -20.0)
    assert search.root is not None
    assert (search.root.values.tolist(), search.root.floor) == (
        pytest.approx([3.0, 1.5]), pytest.approx(-21.0)
    )  # fmt: skip
    below, above = table.box([]).split(1, 1.5)
    assert (below.lows[1], below.highs[1]) == (0.0, 1.0)
    assert (above.lows[1], above.highs[1]) == (2.0, 10.0)


def test_own_trips_to_the_tip_are_made_for_spoil_that_nobody_else_takes() -> None:
    ways = [SimpleNamespace(key="own trips", haul="three trips")]
    plan = SimpleNamespace(disposal="own trips")
    for spoil, taken, trips in (
        (1.0, False, "three trips"),
        (1.0, True, None),
        (None, False, None),
    ):
        at = SimpleNamespace(spoil=spoil, options=SimpleNamespace(disposal=ways))
        bids = (SimpleNamespace(steps=(SPOIL,) if taken else ("Dig",)),)
        assert tip_trips(at, plan, bids) == trips  # type: ignore[arg-type]


def _line(cash: int, *money: object) -> Line:
    figure = total("together", money) if money else None  # type: ignore[arg-type]
    return Line("", "goods", "line", cash, 0.0, figure, None)


def test_a_line_that_rests_on_one_guess_is_not_firm(make: SimpleNamespace) -> None:
    """60.00 of firm prices and 40.00 of a firm and a guessed one: 60 % are firm."""
    firm, guessed = make.cash(6000, "quoted"), make.cash(1000, "guessed")
    guess = Unknown("price", "price", Spread(0.8, 1.0, 1.2), ((guessed.key, 1),), "")
    lines = [_line(6000, firm), _line(4000, firm, guessed)]
    assert firm_share(lines, [guess]) == pytest.approx(0.6)
    # an assumed amount is no guessed price
    half = default(0.5, RATIO, "share", "reference:share", "a habit")
    figure = product("half of it", firm.kind, firm, half)
    assert firm_share([Line("", "goods", "line", 3000, 0.0, figure, None)], []) == 1.0


def test_an_order_of_a_tenth_more_than_is_needed() -> None:
    found = Shortfall(
        "Paver", "Yard", "pack", 11.0, 10.0, 0.0, (), 0.0, 0.0, 11.0, 0.0, 0.0, (), 0.0, 0.0, "", ""
    )  # fmt: skip
    assert found.extra(11.0) == pytest.approx(0.1)
    assert replace(found, bare=0.0).extra(11.0) is None


def test_a_drawn_range_is_told_as_shares_of_its_middle() -> None:
    """9 of 10 and 12 of 10: a tenth less, a fifth more; nine tenths firm are class 1."""
    found = accuracy(0.9, [900.0, 1000.0, 1100.0, 1200.0])
    assert (found.low, found.high) == (pytest.approx(0.1), pytest.approx(0.2))
    assert found.level == 1


def test_a_chance_is_told_with_its_standard_error(
    demo_comparison: Callable[[str], Comparison],
) -> None:
    """The square root of p (1 - p) / n of a share p in n draws."""
    risk = demo_comparison("fire-bowl").risk
    assert risk is not None
    unsure = [s for s in risk.shortfalls if 0 < s.chance < 1]
    assert unsure
    for one in unsure:
        wanted = math.sqrt(one.chance * (1 - one.chance) / risk.draws)
        assert one.chance_error == pytest.approx(wanted)


def test_a_cent_is_a_difference_and_less_is_none() -> None:
    assert "no difference" not in _sentence(1, 0.0, 2000.0, 0, "USD")
    assert "no difference" in _sentence(0, 0.0, 2000.0, 0, "USD")


@pytest.mark.parametrize(("likely", "unsure"), [(None, False), (2.0, True)])
def test_only_a_pace_that_is_written_down_strays(likely: float | None, unsure: bool) -> None:
    place = Place("Work", 3, {"likely": "E", "machine_hours": "H"})
    row = WorkRow(place=place, step="Sweep", method="broom", likely=likely)
    job = Job(settings=Settings(place=Place("Job", 1)), work=(row,))
    names = {u.name for u in _paces(job)}
    assert ("pace of Sweep, broom" in names) is unsure


def _wet(rain: list[int], drying: int, digger: str = OWN) -> Wet:
    """Ten days from six in the morning to two, with rain on some; digging, then the base."""
    wet = np.zeros((1, 10), bool)
    wet[0, rain] = True
    ground = {"wet": "ground", "hours": 8.0, "after": (), "who": "", "whole": False}
    booked = {
        "Dig": SimpleNamespace(task=SimpleNamespace(name="Dig", days=digger, **ground), start=6.0),
        "Base": SimpleNamespace(task=SimpleNamespace(name="Base", days=OWN, **ground), start=30.0),
    }
    site = SimpleNamespace(days={who: Days([True] * 10, 8.0, 6.0) for who in (OWN, CREW)})
    return Wet(site, booked, wet, drying)  # type: ignore[arg-type]


@pytest.mark.parametrize(("drying", "shut"), [(0, [3]), (1, [3, 4]), (2, [3, 4, 5])])
def test_the_ground_dries_for_so_many_days_after_rain(drying: int, shut: list[int]) -> None:
    (open_,) = _wet([3], drying).open[OWN, "ground"].open.tolist()
    assert [day for day, dry in enumerate(open_) if not dry] == shut


def test_digging_softens_for_each_wet_day_until_the_base_lies() -> None:
    """Dug on day 0, the base on day 4; rain on days 1, 2 and 7: two days count. A crew's dig
    is the crew's to do again."""
    again = _wet([1, 2, 7], 0)._soft(np.array([4.0 * DAY]))
    assert float(again[0]) == pytest.approx(2 * coefficient("soft ground").likely * 8.0)
    assert np.all(_wet([1, 2, 7], 0, CREW)._soft(np.array([4.0 * DAY])) == 0.0)


def _offer(bid: str, total: float, steps: str, missing: int = 0) -> SimpleNamespace:
    return SimpleNamespace(
        bid=bid, missing=missing, covers=tuple(steps.split()), total=lambda _: total
    )


def test_offers_for_a_step_lie_so_far_apart() -> None:
    """Three for Dig, 900 to 1,400; two of them for Base; one alone for Lay; and one that misses
    a price is no match for those that do not."""
    offers = [
        _offer("A", 900.0, "Dig Base"), _offer("B", 1400.0, "Dig Lay"),
        _offer("C", 1000.0, "Dig Base"), _offer("D", 100.0, "Dig Base Lay", missing=1),
    ]  # fmt: skip
    found = spreads(offers, 2000.0)  # type: ignore[arg-type]
    assert [(s.steps, s.least, s.most, s.apart) for s in found] == [
        (("Dig",), "A", "B", 500.0), (("Base",), "A", "C", 100.0),
    ]  # fmt: skip


def test_unknowns_of_one_name_are_numbered_from_the_second_on() -> None:
    found = [
        Unknown(name, "price", Spread(low, 1.0, 1.2), (), "")
        for name, low in (("sand", 0.8), ("stone", 0.8), ("sand", 0.9))
    ]
    assert [u.name for u in _numbered(found)] == ["sand", "sand (2)", "stone"]
