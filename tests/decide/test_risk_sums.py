"""The arithmetic under the risk: classes of estimates, what is sure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from budget.decide.risk.accuracy import class_of
from budget.decide.risk.findings import _if_sure
from budget.decide.risk.ordering import Order, Stakes, costs
from budget.decide.risk.result import Accuracy, Finding, percentile, percentile_error
from budget.decide.risk.unknowns import unknowns
from budget.figures import given, laid_out
from budget.job import Area, BuildUp, Job, Place, PriceBreak, Quote, Settings, Work
from budget.reference import coefficient, rows
from budget.units import AREA, COUNT, DEPTH, HOURS, LENGTH, MONEY


def test_the_class_of_an_estimate_is_that_whose_range_lies_nearest() -> None:
    """The middle of 30 to 75 % is 52.5, of 65 to 100 % 82.5: 72 % is nearer to the second."""
    assert [class_of(share)["class"] for share in (0.12, 0.35, 0.67, 0.72)] == ["4", "3", "2", "1"]


def test_a_gain_counts_only_if_it_is_sure() -> None:
    """A mean of 10 with a standard error of 1 is sure; one of 10 is not, nor half a cent."""
    near, far = (np.tile([-spread, spread], 5000) for spread in (100.0, 1000.0))
    assert _if_sure(10.0 + near) == pytest.approx(10.0)
    assert _if_sure(10.0 + far) == 0.0
    assert _if_sure(np.full(100, 1.5)) == 1.5
    assert _if_sure(np.full(100, 0.5)) == 0.0


def test_what_is_kept_as_spares_is_not_taken_back() -> None:
    """Eight packs at 1.00 for a need of three: one kept at its price, four taken back at 0.80
    less 0.30 for the trip."""
    stakes = Stakes(each=100, again=100, spares=1, back=80, bring_back=30)
    assert float(costs(8, 3, stakes)) == 800 - 100 - (4 * 80 - 30)


def test_the_average_cost_of_an_order_is_that_over_all_draws() -> None:
    needed = np.array([3, 4, 4, 5, 9])
    stakes = Stakes(each=100, again=130, short=50, least=2, back=80, bring_back=30)
    order = Order(needed, stakes)
    for count in range(10):
        wanted = np.mean([float(costs(count, need, stakes)) for need in needed])
        assert order.mean(count) == pytest.approx(wanted)
    means = dict(zip(order.choices.tolist(), order.means.tolist(), strict=True))
    for count, mean in means.items():
        assert mean == pytest.approx(order.mean(count))
    assert order.mean(order.best) == pytest.approx(min(means.values()))


NOWHERE = Job(settings=Settings(place=Place("Job", 1)))


def test_every_coefficient_with_a_range_is_an_unknown() -> None:
    names = [row["name"] for row in rows("ranges") if row["use"] == "coefficient"]
    assert names
    for name in names:
        found = unknowns(NOWHERE, [coefficient(name).figure()])
        assert [(f"reference:{name}", 1)] == [power for u in found for power in u.powers]


def test_what_was_laid_out_on_a_part_shares_its_measuring_error() -> None:
    area = Area(place=Place("Areas", 5), part="Terrace")
    told = [
        laid_out(7.0, LENGTH, "edge", "layout of Slab, Terrace, bond: cut length"),
        laid_out(20.0, AREA, "laid", "layout of Slab, Terrace, bond: laid"),
        laid_out(3.0, DEPTH, "ground", "levels, Terrace, spots"),
        laid_out(9.0, AREA, "other", "layout of Slab, Walk, bond: laid"),
    ]
    (found,) = unknowns(replace(NOWHERE, areas=(area,)), told)
    assert set(found.powers) == {
        ("layout of Slab, Terrace, bond: cut length", 1),
        ("layout of Slab, Terrace, bond: laid", 2),
    }


@pytest.mark.parametrize(
    ("draws", "share", "error"),
    [
        (range(1, 101), 0.8, 4.0),  # 0.04 to each side: 84 and 76
        (range(1, 401), 0.5, 10.0),  # 0.025 to each side: 210 and 190
        ((2, 4, 8, 16), 0.9, 4.0),  # 0.15 to each side, all cases at the most: 16 and 8
        ((2, 4, 8, 16), 0.15, 1.0),  # 0.18 to each side, none at the least: 4 and 2
    ],
)
def test_how_far_draws_may_be_off_at_a_share_of_all_cases(
    draws: Sequence[float], share: float, error: float
) -> None:
    """The draws one binomial standard error to each side, half of what is between them."""
    assert percentile_error(list(draws), share) == error


def test_the_share_that_is_not_passed() -> None:
    """Of eight, six are three quarters; a little more takes the seventh."""
    eight = [10, 20, 30, 40, 50, 60, 70, 80]
    assert [percentile(eight, s) for s in (0.0, 0.75, 0.76, 1.0)] == [10, 60, 70, 80]


@pytest.mark.parametrize(
    ("high", "verdict"),
    [(0.049, "narrower"), (0.05, "within"), (0.2, "within"), (0.21, "wider")],
)
def test_a_range_is_held_against_what_is_published(high: float, verdict: str) -> None:
    found = Accuracy(0.5, 2, 0.1, high, (0.05, 0.15), (0.05, 0.2), "a source")
    assert found.verdict == verdict


def test_what_is_found_out_is_worth_both_that_it_saves() -> None:
    assert Finding("count", "measures", "measure", 700.0, 450.0, "", 90.0, 100.0).worth == 1150.0


def quote(
    row: int, price: float | None, low: float | None, high: float | None, **more: Any
) -> Quote:
    place = Place("Quotes", row, {"price": "C", "breaks": "F"})
    return Quote(place=place, item="Sand", supplier="North", price=price, price_low=low,
                 price_high=high, per="bag", **more)  # fmt: skip


def _priced(*quotes: Quote) -> dict[str, tuple[float, float, set[str]]]:
    """Each unknown price by its name: the ends of its factor, and the cells that it is in once."""
    cells = [q.cell("price") for q in quotes] + [
        q.break_cell(step) for q in quotes for step in q.breaks
    ]
    found = unknowns(replace(NOWHERE, quotes=quotes), [given(7, MONEY, "p", c) for c in cells])
    return {
        u.name: (u.factor.low, u.factor.high, {k for k, n in u.powers if n == 1}) for u in found
    }


@pytest.mark.parametrize(
    ("low", "high", "ends"),
    [
        (300.0, 500.0, (0.75, 1.25)),
        (300.0, None, (0.75, 1.0)),
        (None, 500.0, (1.0, 1.25)),
        (400.0, 500.0, (1.0, 1.25)),
        (400.0, 400.0, None),  # firm
        (None, None, None),
        (450.0, 500.0, None),  # not in order
        (300.0, 350.0, None),
    ],
)
def test_how_far_a_price_may_stray(
    low: float | None, high: float | None, ends: tuple[float, float] | None
) -> None:
    """4.00, after a quote that says no price and one for nothing."""
    blank, free = quote(2, None, 300.0, 500.0), quote(3, 0.0, 0.0, 500.0)
    found = _priced(blank, free, quote(4, 400.0, low, high))
    told = "price of Sand at North, per bag"
    assert found == ({told: (*ends, {"Quotes!C4"})} if ends else {})


def test_quotes_that_are_named_alike_are_told_apart_by_their_ranges() -> None:
    """Whichever row stands first. A price from so many packs on strays as the price does."""
    steps = (PriceBreak(20.0, 350.0), PriceBreak(50.0, 320.0))
    wide, narrow = quote(2, 400.0, 200.0, 500.0, breaks=steps), quote(3, 400.0, 300.0, 500.0)
    told = "price of Sand at North, per bag"
    for rows_ in ((wide, narrow, quote(4, 400.0, 300.0, 600.0)),
                  (quote(4, 400.0, 300.0, 600.0), narrow, wide)):  # fmt: skip
        assert _priced(*rows_) == {
            told: (0.5, 1.25, {"Quotes!C2", "Quotes!F2 from 20", "Quotes!F2 from 50"}),
            f"{told} (2)": (0.75, 1.25, {"Quotes!C3"}),
            f"{told} (3)": (0.75, 1.5, {"Quotes!C4"}),
        }


def test_a_pace_strays_as_the_work_sheet_says_or_as_is_usual() -> None:
    """Documented for own work: from 0.75 to 1.6 times what is written."""
    (row,) = [row for row in rows("ranges") if row["name"] == "own pace"]
    assert (row["low"], row["high"]) == ("0.75", "1.6")
    place = {"likely": "E", "machine_hours": "H"}
    work = (
        Work(place=Place("Work", 2, place), step="Dig", method="by hand", likely=None, low=1.0),
        Work(place=Place("Work", 3, place), step="Lay", method="by hand", likely=2.0),
        Work(place=Place("Work", 4, place), step="Cut", method="saw", likely=2.0, high=5.0),
    )
    leaves = [given(2.0, HOURS, "pace", f"Work!{c}{n}") for c in "EH" for n in (2, 3, 4)]
    found = {u.name: u for u in unknowns(replace(NOWHERE, work=work), leaves)}
    assert {n: (u.factor.low, u.factor.high, u.kind, u.together) for n, u in found.items()} == {
        "pace of Lay, by hand": (0.75, 1.6, "pace", "pace"),
        "pace of Cut, saw": (1.0, 2.5, "pace", "pace"),
    }
    assert set(found["pace of Cut, saw"].powers) == {("Work!E4", 1), ("Work!H4", 1)}


def test_a_measure_without_a_value_or_without_a_part_is_sure() -> None:
    """An area errs twice as a length does; a count, a blank and another sheet's row do not."""
    areas = tuple(Area(place=Place("Areas", n), part=p) for n, p in ((5, "Yard"), (6, "Walk")))
    leaves = [
        given(4.0, LENGTH, "side", "Areas!D5"), given(3.0, LENGTH, "side", "Areas!E6"),
        given(9.0, AREA, "measured", "Areas!H5"), given(3.0, COUNT, "number", "Areas!K5"),
        given(0.0, LENGTH, "side", "Areas!F5"), given(4.0, LENGTH, "side", "Areas!D7"),
        given(4.0, LENGTH, "high", "Walls!D5"),
    ]  # fmt: skip
    found = unknowns(replace(NOWHERE, areas=areas), leaves)
    assert {u.name: set(u.powers) for u in found} == {
        "measures of Yard": {("Areas!D5", 1), ("Areas!H5", 2)},
        "measures of Walk": {("Areas!E6", 1)},
    }
    assert {(u.factor.low, u.factor.high, u.together) for u in found} == {(0.98, 1.02, "")}


def test_what_is_documented_strays_as_its_tables_say() -> None:
    """A screed takes 0.02 h a square foot on sand, from 0.01 to 0.03; a loader 1, from 0.6 to 1.6.
    A depth is in its bed once, whoever has written it; an extra of pavers for each kind of edge."""
    methods = {(r["step"], r["method"], r["bedding"]): r for r in rows("methods")}
    ends = [
        tuple(methods[key][end] for end in ("low", "likely", "high"))
        for key in (("Bed", "screed", "sand"), ("Dig", "mini loader", ""))
    ]
    assert ends == [("0.01", "0.02", "0.03"), ("0.6", "1", "1.6")]
    keys = {
        "pace of Bed, screed, sand": {
            "reference:Bed, screed, sand: likely", "reference:Bed, screed, sand: machine_hours",
        },
        "pace of Dig, mini loader": {
            "reference:Dig, mini loader: likely", "reference:Dig, mini loader: machine_hours",
        },
        "extra pavers, running bond": {
            "reference:pattern running bond straight", "reference:pattern running bond curved",
        },
        "base depth as it turns out": {"Build-up!D4", "reference:base depth"},
        "bedding depth as it turns out": {
            "Build-up!E4", "reference:depth sand", "reference:depth small gravel",
            "reference:depth screenings", "reference:depth pea gravel",
        },
    }  # fmt: skip
    layers = BuildUp(place=Place("Build-up", 4, {"base_depth": "D", "bedding_depth": "E"}), name="")
    leaves = [given(2.0, HOURS, "value", key) for each in keys.values() for key in sorted(each)]
    found = {u.name: u for u in unknowns(replace(NOWHERE, build_ups=(layers,)), leaves)}
    assert {name: set(u.powers) for name, u in found.items()} == {
        name: {(key, 1) for key in each} for name, each in keys.items()
    }
    factors = {name: (u.factor.low, u.factor.high) for name, u in found.items()}
    assert factors == {
        "pace of Bed, screed, sand": (0.5, 1.5), "pace of Dig, mini loader": (0.6, 1.6),
        "extra pavers, running bond": (0.5, 2.0), "base depth as it turns out": (0.9, 1.25),
        "bedding depth as it turns out": (0.9, 1.25),
    }  # fmt: skip
