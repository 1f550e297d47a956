"""Shares of a spread: against closed forms, and against scipy's own indices."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
import pytest
from scipy import stats

from budget.decide.outcome import Comparison
from budget.decide.risk.drawn import Sums
from budget.decide.risk.draws import PACE_CORRELATION, SEED, Roll, changed, rolls, written
from budget.decide.risk.movers import COMMON, movers
from budget.decide.risk.shares import Share, shares
from budget.decide.risk.spread import Spread
from budget.decide.risk.unknowns import PACE, Unknown, unknowns
from budget.figures import Recalculation, given, inputs, product, ratio, total, whole
from budget.units import HOURS, MONEY, NUMBER

PAIRS = 40_000


def found_for(function: Callable[[Any], Any], players: int, low: float, high: float) -> list[Share]:
    """The shares of a function of independent numbers, alike between two ends."""
    random = np.random.default_rng(11)
    one, other = random.uniform(low, high, (2, players, PAIRS))

    def priced(at: slice, turned: Sequence[Any]) -> list[Any]:
        return [
            function(
                np.stack(
                    [
                        np.where(
                            turned[i],
                            np.tile(other[i, at], players + 1),
                            np.tile(one[i, at], players + 1),
                        )
                        for i in range(players)
                    ]
                )
            )
        ]

    return shares(priced, players, PAIRS, random)[0]


def near(found: Sequence[Share], wanted: Sequence[float]) -> None:
    """Each within four of its stated standard errors; together one."""
    assert sum(s.share for s in found) == pytest.approx(1)
    for mine, theirs in zip(found, wanted, strict=True):
        assert abs(mine.share - theirs) < 4 * mine.error + 1e-12
        assert mine.error < 0.01


def test_in_a_sum_a_share_is_the_part_of_the_variance() -> None:
    """4 a + 3 b + 0 c: 16 and 9 of 25."""
    near(found_for(lambda x: 4 * x[0] + 3 * x[1] + 0 * x[2], 3, 0, 1), (16 / 25, 9 / 25, 0))


def ishigami(x: Any) -> Any:
    """The usual test function, a = 7, b = 0.1."""
    return np.sin(x[0]) + 7 * np.sin(x[1]) ** 2 + 0.1 * x[2] ** 4 * np.sin(x[0])


def test_ishigami_against_its_closed_form_and_against_scipy() -> None:
    """Where only pairs work together, a share is midway between first and total index.

    Variances of the parts: Ishigami and Homma 1990 (from memory): (1 + b pi^4/5)^2/2, a^2/8,
    and b^2 pi^8 (1/18 - 1/50) for the first and third together.
    """
    found = found_for(ishigami, 3, -math.pi, math.pi)
    first, second = (1 + 0.1 * math.pi**4 / 5) ** 2 / 2, 49 / 8
    both = 0.01 * math.pi**8 * (1 / 18 - 1 / 50)
    whole_variance = first + second + both
    near(found, [part / whole_variance for part in (first + both / 2, second, both / 2)])
    theirs = stats.sobol_indices(
        func=ishigami, n=4096, dists=[stats.uniform(-math.pi, 2 * math.pi)] * 3, rng=5
    )
    midway = (theirs.first_order + theirs.total_order) / 2
    assert [s.share for s in found] == pytest.approx(list(midway), abs=0.03)


def test_a_step_that_hangs_on_two_is_parted_between_them() -> None:
    """A fee of 1 only if a < p and b < q: V_a = q^2 p(1-p), V_b = p^2 q(1-q), V_ab the rest.

    A straight line would see little of it: the step belongs half to each, as far as it is joint.
    """
    p, q = 0.2, 0.6
    found = found_for(lambda x: ((x[0] < p) & (x[1] < q)).astype(float), 2, 0, 1)
    alone = (q * q * p * (1 - p), p * p * q * (1 - q))
    joint = p * (1 - p) * q * (1 - q)
    near(found, [(part + joint / 2) / (p * q * (1 - p * q)) for part in alone])


def test_three_that_must_meet_share_alike() -> None:
    near(found_for(lambda x: (x > 0.3).all(axis=0).astype(float), 3, 0, 1), [1 / 3] * 3)


def test_the_common_pace_has_what_paces_have_in_common() -> None:
    """Two alike paces of which each takes the common one with chance s, s^2 their correlation.

    With V the variance of one pace, the sum of two has 2 V (1 + s^2). Of that the common pace
    alone explains Var(2 s X) = 4 s^2 V. With one's own part known the middle of that pace is
    known as far as it does not join: (1 - s) V for the own part alone. From these the value of
    every set of sources follows by adding up which of the two paces are known how.
    """
    spread = Spread(0.7, 1.0, 1.6)
    found = [Unknown(f"pace {n}", PACE, spread, ((f"Work!{n}", 1),), PACE) for n in "AB"]
    hours = total("hours", [given(10, HOURS, n, f"Work!{n}") for n in "AB"], HOURS)
    plan = Sums("", total("cash", [given(5, MONEY, "fee", "Fee!1")], MONEY), hours)
    told = movers(plan, found, written([hours]), PAIRS, SEED)
    assert {m.name for m in told} == {COMMON, "pace A", "pace B"}
    assert all(m.cash_share == 0 for m in told)
    s = PACE_CORRELATION**0.5
    # variance explained by sets, in units of V: C common, A and B own parts
    worth = {"": 0.0, "C": 4 * s * s, "A": 1 - s, "B": 1 - s, "AB": 2 * (1 - s)}
    # A known and C known: pace A wholly, of pace B the joined part; both move with C
    worth["CA"] = worth["CB"] = 1 + s * s + 2 * s * s
    worth["CAB"] = 2 * (1 + s * s)
    common = (
        worth["C"] / 3
        + (worth["CA"] - worth["A"]) / 6
        + (worth["CB"] - worth["B"]) / 6
        + (worth["CAB"] - worth["AB"]) / 3
    ) / worth["CAB"]
    mine = next(m for m in told if m.name == COMMON)
    assert abs(mine.hours_share - common) < 4 * mine.hours_error
    assert sum(m.hours_share for m in told) == pytest.approx(1)
    assert (mine.hours_low, mine.hours_high) == pytest.approx((14, 32))


def test_one_pace_alone_is_named_itself() -> None:
    spread = Spread(0.7, 1.0, 1.6)
    found = [Unknown("pace A", PACE, spread, (("Work!A", 1),), PACE)]
    hours = total("hours", [given(10, HOURS, "A", "Work!A")], HOURS)
    plan = Sums("", total("cash", [given(5, MONEY, "fee", "Fee!1")], MONEY), hours)
    told = movers(plan, found, written([hours]), 500, SEED)
    assert [(m.name, m.hours_share) for m in told] == [("pace A", pytest.approx(1))]


def test_what_only_matters_together_with_another_is_listed() -> None:
    """Loads of 2: 1.8 takes one; neither needs a second load alone, both together do."""
    found = [
        Unknown(n, "depth", Spread(0.9, 1.0, 1.1), ((f"Areas!{n}", 1),), "") for n in ("A", "B")
    ]
    one, two = (given(v, NUMBER, n, f"Areas!{n}") for v, n in ((1.0, "A"), (1.8, "B")))
    needed = product("needed", NUMBER, one, two)
    loads = whole("loads", ratio("in loads", NUMBER, needed, given(2, NUMBER, "load", "Load!1")))
    cash = product("cash", MONEY, loads, given(9_000, MONEY, "a load", "Load!2"))
    hours = total("hours", [given(1, HOURS, "h", "H!1")], HOURS)
    told = movers(Sums("", cash, hours), found, written([cash]), 20_000, SEED)
    assert all(m.cash_low == m.cash_high == 9_000 for m in told)
    assert [m.cash_share for m in told] == pytest.approx([0.5, 0.5], abs=0.05)


def test_on_the_terrace_a_share_lies_between_the_indices_that_scipy_finds(
    demo_comparison: Callable[[str], Comparison],
) -> None:
    """First-order index <= share <= total-effect index for what strays by itself (Owen 2014).

    The indices are scipy's, from the plan priced at draws with one source redrawn at a time. A
    free delivery that the order just reaches hangs on every measure and waste at once, so that
    the total indices add up to far more than one while the shares add up to one.
    """
    terrace = demo_comparison("terrace")
    assert terrace.risk is not None
    assert terrace.best is not None
    assert terrace.best.priced is not None
    lines = terrace.best.priced.lines
    cash = total("cash", [line.money for line in lines if line.money is not None], MONEY)
    hours = total("hours", [line.time for line in lines if line.time is not None], HOURS)
    keys = {leaf.key for figure in (cash, hours) for leaf in inputs(figure)}
    everything = unknowns(terrace.job, [cash, hours])
    here = [u for u in everything if any(key in keys for key, _ in u.powers)]
    again = Recalculation([cash], {key for u in here for key, _ in u.powers})
    values, count = written([cash, hours]), 4096
    one, other = (next(rolls(here, count, seed, count)) for seed in (91, 92))

    def priced(roll: Roll) -> Any:
        factors = {u.name: roll.factor(u) for u in here}
        return np.broadcast_to(again.run(changed(here, factors, values))[0], count)

    def turned(name: str) -> Roll:
        if name == COMMON:
            return dataclasses.replace(one, shared=other.shared)
        joins = one.joins if name not in one.joins else {**one.joins, name: other.joins[name]}
        return dataclasses.replace(one, own={**one.own, name: other.own[name]}, joins=joins)

    names = [*(u.name for u in here), COMMON]
    theirs = stats.sobol_indices(
        func={
            "f_A": priced(one)[None, :],
            "f_B": priced(other)[None, :],
            "f_AB": np.stack([priced(turned(name)) for name in names])[:, None, :],
        },
        n=count,
    )
    mine = {m.name: m for m in terrace.risk.movers}
    assert sum(theirs.total_order) > 1.5
    for name, first, whole_index in zip(names, theirs.first_order, theirs.total_order, strict=True):
        share = mine[name].cash_share if name in mine else 0.0
        assert first - 0.05 <= share <= whole_index + 0.05, name


def test_every_pair_counts_and_what_makes_up_for_another_has_no_share() -> None:
    """The second gives back half of what the first takes: its share, less than none, is none, and
    the first has all."""
    one, other = np.random.default_rng(3).normal(size=(2, 500))
    seen: list[int] = []

    def halved(at: slice, turned: Sequence[Any]) -> list[Any]:
        seen.extend(range(at.start, at.stop))
        first, second = (np.where(t, np.tile(other[at], 3), np.tile(one[at], 3)) for t in turned)
        return [first - second / 2]

    [(mine, back)] = shares(halved, 2, 500, np.random.default_rng(4))
    assert (mine.share, back.share) == (pytest.approx(1.0), 0.0)
    assert seen == list(range(500))


def test_what_each_does_alone_is_told_at_both_its_ends() -> None:
    """100.00 from 90.00 to 120.00 and 40.00 from 20.00 to 50.00; the first is in something of
    another plan too, which does not matter here."""
    first = (("Quotes!A", 1), ("Quotes!elsewhere", 1))
    found = [
        Unknown("A", "price", Spread(0.9, 1.0, 1.2), first, ""),
        Unknown("B", "price", Spread(0.5, 1.0, 1.25), (("Quotes!B", 1),), ""),
    ]
    prices = [given(10_000, MONEY, "A", "Quotes!A"), given(4_000, MONEY, "B", "Quotes!B")]
    plan = Sums("", total("cash", prices, MONEY), total("hours", [given(3, HOURS, "h", "H!1")]))
    values = {**written([plan.cash, plan.hours]), "Quotes!elsewhere": 7.0}
    told = {m.name: m for m in movers(plan, found, values, 500, SEED)}
    assert {n: (m.cash_low, m.cash_high) for n, m in told.items()} == {
        "A": (13_000, 16_000), "B": (12_000, 15_000),
    }  # fmt: skip
    assert all(m.hours_low == m.hours_high == 3 for m in told.values())
