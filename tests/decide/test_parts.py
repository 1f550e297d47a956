"""Optional parts by their worth, the spending limit, and what forcing a choice does."""

from __future__ import annotations

import dataclasses
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide import compare_options, parts
from budget.decide.model.model import Model, Solved
from budget.decide.outcome import Comparison
from budget.decide.parts import _part_flip, fit, with_parts, worths
from budget.decide.pins import UnknownPin
from budget.decide.plan import Flip, Missing, Plan, Priced
from budget.decide.terms.situation import Situation
from budget.decide.terms.tariffs import bid_money
from budget.decide.whynot import force
from budget.job import Area, CutPiece, Job, Pin, Place, Settings, Wall
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff

#: The base costs 100.00 and 4 h. The bench adds a kit of 300.00 and 5 h, the arbour one of
#: 200.00 and 2 h. An hour is worth 20.00, so the bench takes 400.00 and the arbour 240.00.
BASE, BENCH, ARBOUR = 10000, 30000, 20000


def inputs(make: SimpleNamespace, arbour: int = ARBOUR) -> tuple[Takeoff, Options]:
    takeoff = make.takeoff(
        [
            make.need("Base stone", "Base", {"mass": 4000}, weight=None),
            make.need("Bench kit", "Build", {"count": 1}, part="Bench", optional="Bench"),
            make.need("Arbour kit", "Build", {"count": 1}, part="Arbour", optional="Arbour"),
        ],
        [
            make.amount("Base", 2.0),
            make.amount("Build", 5.0, part="Bench", optional="Bench"),
            make.amount("Build", 2.0, part="Arbour", optional="Arbour"),
        ],
        optional=["Bench", "Arbour"],
    )
    options = make.options(
        offers=[
            make.offer("Base stone", "North", 2500, holds=1000, per="tonne"),
            make.offer("Bench kit", "North", BENCH, measure="count", per="kit"),
            make.offer("Arbour kit", "North", arbour, measure="count", per="kit"),
        ],
        routes=[make.drop("North", 0)],
        methods=[
            make.method("Base", "by hand", 2.0),
            make.method("Build", "by hand", 1.0),
            make.method("Carry", "barrow", 0.0),
        ],
        bids=[make.bid("Base laid", ["Base"], 30000)],
    )  # fmt: skip
    return takeoff, options


def job(bench: float | None, arbour: float | None, limit: float | None = None) -> Job:
    worth = {"Bench": bench, "Arbour": arbour}
    areas = tuple(
        Area(place=Place("Areas", n), part=name, optional=True, worth=value)
        for n, (name, value) in enumerate(worth.items(), 2)
    )
    return Job(settings=Settings(place=Place("Job", 1), spending_limit=limit), areas=areas)


def kept(found: Comparison) -> set[str]:
    assert found.best is not None
    assert found.best.priced is not None
    return set(found.best.priced.plan.parts)


@pytest.mark.parametrize(
    ("bench", "arbour", "expected"),
    [
        (40000, 24000, {"Bench", "Arbour"}),  # worth just what they take
        (39900, 24000, {"Arbour"}),
        (40000, 23900, {"Bench"}),
        (0, 0, set()),
        (None, 0, {"Bench"}),  # nobody said what the bench is worth
    ],
)
def test_a_part_is_kept_when_it_is_worth_what_it_adds(
    make: SimpleNamespace, bench: float | None, arbour: float | None, expected: set[str]
) -> None:
    found = compare_options(job(bench, arbour), *inputs(make))
    assert kept(found) == expected
    for scenario in found.scenarios:
        assert scenario.priced is None or set(scenario.priced.plan.parts) == expected


def test_a_pin_keeps_a_part_that_is_not_worth_it(make: SimpleNamespace) -> None:
    pin = Pin(place=Place("Scenarios", 2), scenario="Mine", choice="part:Bench", value="keep")
    asked = dataclasses.replace(job(0, 0), pins=(pin,))
    found = compare_options(asked, *inputs(make))
    mine = next(s for s in found.scenarios if s.name == "Mine")
    assert mine.priced is not None
    assert set(mine.priced.plan.parts) == {"Bench"}


def test_each_optional_part_has_a_flip(make: SimpleNamespace) -> None:
    found = compare_options(job(50000, 0), *inputs(make))
    flips = {f.choice: f for f in found.flips if f.choice.startswith("part:")}
    bench, arbour = flips["part:Bench"], flips["part:Arbour"]
    assert (bench.value, bench.alternative, bench.cash) == ("keep", "drop", -BENCH)
    assert bench.hours == pytest.approx(-5.0)
    # (500.00 - 300.00) over 5 hours
    assert bench.hour_values == pytest.approx((4000.0,))
    assert (arbour.value, arbour.cash, arbour.hour_values) == ("drop", ARBOUR, ())
    assert "you put its worth at $500, so it is kept" in bench.sentence


def test_the_least_worth_is_given_up_to_hold_the_limit(make: SimpleNamespace) -> None:
    """The base and the bench cost 400.00; the arbour, worth less, is 200.00 more."""
    found = compare_options(job(90000, 80000, limit=45000), *inputs(make))
    fit = found.fit
    assert fit is not None
    assert fit.priced is not None
    assert (fit.left_out, fit.priced.cash) == (("Arbour",), BASE + BENCH)
    assert fit.more == BASE + BENCH + ARBOUR - 45000
    assert fit.sentence in found.notes
    assert [(a.part, a.more, a.worth) for a in fit.adds] == [("Arbour", 15000, 80000)]


def test_parts_given_up_come_back_in_the_order_of_the_money_they_take(
    make: SimpleNamespace,
) -> None:
    """100.00 for the base alone; the arbour then takes 300.00 and the bench 400.00."""
    fit = compare_options(job(90000, 80000, limit=15000), *inputs(make)).fit
    assert fit is not None
    assert fit.left_out == ("Arbour", "Bench")
    assert [(a.part, a.more) for a in fit.adds] == [("Arbour", 15000), ("Bench", 25000)]


def test_of_parts_that_take_the_same_the_one_of_most_worth_comes_back_first(
    make: SimpleNamespace,
) -> None:
    fit = compare_options(job(90000, 80000, limit=15000), *inputs(make, arbour=BENCH)).fit
    assert fit is not None
    assert [(a.part, a.more) for a in fit.adds] == [("Bench", 25000), ("Arbour", 25000)]


def test_a_part_not_worth_what_it_adds_is_not_put_back_for_the_limit(
    make: SimpleNamespace,
) -> None:
    """The bench is not worth it; hiring nothing, the base and the arbour cost 300.00."""
    fit = compare_options(job(0, 80000, limit=25000), *inputs(make)).fit
    assert fit is not None
    assert fit.priced is not None
    assert (fit.left_out, fit.priced.cash) == (("Arbour",), BASE)
    assert not fit.priced.plan.parts


def test_a_limit_below_everything_says_how_much_is_short(make: SimpleNamespace) -> None:
    fit = compare_options(job(90000, 80000, limit=4000), *inputs(make)).fit
    assert fit is not None
    assert fit.priced is None
    assert fit.more == BASE - 4000
    assert fit.sentence.startswith("No plan holds the spending limit: $")
    takeoff, options = inputs(make)
    options = replace(options, checklist=(make.check_line("Permit", "to price"),))
    unpriced = compare_options(job(90000, 80000, limit=4000), takeoff, options).fit
    assert unpriced is not None
    assert unpriced.sentence.startswith("No plan that lacks as few prices holds the spending limit")


def test_nothing_is_fitted_to_a_limit_that_holds(make: SimpleNamespace) -> None:
    assert compare_options(job(90000, 80000, limit=60000), *inputs(make)).fit is None


@pytest.mark.parametrize("seed", range(700, 708))
def test_the_best_plan_within_a_limit_is_that_of_enumeration(
    make: SimpleNamespace, seed: int
) -> None:
    takeoff, options = make.random_job(seed)
    situation = Situation(takeoff, options, "sand", frozenset())
    plans = make.all_priced(situation)
    if not plans:
        return
    limit = sorted(p.cash for p in plans)[len(plans) // 3]
    within = [p for p in plans if p.cash <= limit]
    best = min(within, key=lambda p: (len(p.missing), p.total(2000)))
    solved = Model(situation, most_cash=limit).solve(2000)
    assert solved is not None
    assert len(solved.priced.missing) == len(best.missing)
    # a plan may pass the limit by the cents that rounding lines apart makes
    assert solved.priced.cash <= limit + 2
    assert solved.priced.total(2000) <= best.total(2000) + 2


def test_forcing_a_choice_tells_what_it_costs(make: SimpleNamespace) -> None:
    found = compare_options(job(None, None), *inputs(make))
    forced = force(found, {"step:Base": "hire"})
    # hired: 300.00 and no hours; own: 4 h
    assert (forced.cash, forced.hours) == (30000, pytest.approx(-4.0))
    assert "costs $300 more in cash and saves 4 hours" in forced.sentence
    assert "$220 worse" in forced.sentence
    assert [c for c in forced.changes if c.startswith("Base:")]
    assert force(found, {"step:Build": "hire"}).priced is None
    assert "No bid covers Build" in force(found, {"step:Build": "hire"}).sentence
    with pytest.raises(UnknownPin, match="did you mean step:Base"):
        force(found, {"step:Bsae": "hire"})


def test_walls_and_pieces_add_their_worth_to_their_part() -> None:
    wall = Wall(place=Place("Walls", 2), part="Bench", name="back", unit="Block", optional=True,
                worth=10000.0)  # fmt: skip
    slat = CutPiece(place=Place("Pieces", 2), part="Bench", stock="2x4", length=1.0, optional=True,
                    worth=5000.0)  # fmt: skip
    blank = replace(job(None, None), areas=(), walls=(wall,), pieces=(slat,))
    assert worths(blank) == {"Bench": 15000.0}
    assert worths(replace(blank, pieces=(replace(slat, optional=False),))) == {"Bench": 10000.0}


def test_the_fit_says_what_it_does_without_and_takes_the_better_bedding(
    make: SimpleNamespace,
) -> None:
    """Sand at 40.00 and small gravel at 90.00 under the same base, bench and arbour."""
    takeoff, options = inputs(make)
    prices = (("sand", 4000), ("small gravel", 9000))
    beds = [make.need(f"{name} bed", "Bed", {"mass": 1000}, bedding=name) for name, _ in prices]
    takeoff = replace(
        takeoff, needs=(*takeoff.needs, *beds),
        beddings=(make.bedding("small gravel"), make.bedding("sand")),
    )  # fmt: skip
    offers = [make.offer(f"{name} bed", "North", cents, holds=1000) for name, cents in prices]
    options = replace(options, offers=(*options.offers, *offers))
    fit = compare_options(job(90000, 80000, limit=51000), takeoff, options).fit
    assert fit is not None
    assert fit.priced is not None
    assert fit.left_out == ("Arbour",)
    assert fit.priced.plan.bedding == "sand"
    assert fit.priced.cash == BASE + BENCH + 4000
    assert "Within the spending limit without Arbour: $440 in cash" in fit.sentence
    assert "With $130 more, add Arbour next." in fit.sentence


@pytest.mark.parametrize(("kept", "cash"), [((), 20000), (("Drive",), 50000)])
def test_a_bid_by_the_square_metre_counts_the_parts_that_are_kept(
    make: SimpleNamespace, kept: tuple[str, ...], cash: int
) -> None:
    """10.00 for each of 20 m² of terrace, and for the 30 m² of a drive that may be left out."""
    crew = make.bid("Crew", ["Lay"], 1000, basis="per unit")
    options = make.options(methods=[make.method("Lay", "by hand", 1.0)], bids=[crew])
    takeoff = make.takeoff([], [make.amount("Lay", 20.0)], optional=["Drive"])
    terrace, drive = takeoff.parts
    drive = replace(drive, area=make.fig(30.0, make.AREA))
    takeoff = replace(takeoff, parts=(terrace, drive))
    assert bid_money(Situation(takeoff, options, "sand", frozenset(kept)), crew).value == cash


def solved(cash: int, hours: float, *parts: str, missing: int = 0, gap: float = 0.0) -> Solved:
    """A plan with some parts; not proved if there is a gap."""
    plan = Plan("sand", frozenset(parts), {}, {}, {}, {}, "")
    lacking = (Missing("Kit", "Quotes", ""),) * missing
    priced = Priced(plan, (), lacking, (), (), (), cash, hours, 0.0, 0.0, 0, ())
    return Solved(priced, not gap, gap)


#: 500.00 and 12 h; without the bench 200.00 and 7 h, with an arbour too 700.00 and 14 h.
NOW, WITHOUT = solved(50000, 12.0, "Bench"), solved(20000, 7.0)
MORE = solved(70000, 14.0, "Bench", "Arbour")


def part_flip(other: Solved, name: str, worth: float | None) -> Flip:
    return _part_flip(NOW, other, name, worth, 2000.0, "USD")


def test_what_a_part_adds_is_told_beside_its_worth() -> None:
    """The bench adds 300.00 and 5 h, 400.00 at 20.00 an hour: worth 500.00 up to 40.00 an hour."""
    bench, arbour = part_flip(WITHOUT, "Bench", 50000), part_flip(MORE, "Arbour", 10000)
    assert bench.sentence == (
        "Bench: having it adds $300 in cash and 5 hours of own work, $400 together; you put its "
        "worth at $500, so it is kept."
    )
    assert (bench.cash, bench.hours, bench.hour_values) == (-30000, -5.0, (4000.0,))
    assert arbour.sentence == (
        "Arbour: having it adds $200 in cash and 2 hours of own work, $240 together; you put its "
        "worth at $100, so it is left out."
    )
    assert (arbour.value, arbour.alternative, arbour.hour_values) == ("drop", "keep", ())
    assert (bench.proved, bench.priced) == (True, WITHOUT.priced)


@pytest.mark.parametrize(
    ("other", "worth", "end"),
    [
        (WITHOUT, None, "; it is kept, since you have not said what it is worth to you."),
        (solved(20000, 7.0, missing=1), 50000, ", as far as prices are known; it is kept."),
        (
            solved(20000, 7.0, gap=0.02),
            50000,
            "so it is kept. The other way is the best so far, gap 2.0 %.",
        ),
    ],
)
def test_what_is_not_known_of_a_part_is_said(
    other: Solved, worth: float | None, end: str
) -> None:  # fmt: skip
    assert part_flip(other, "Bench", worth).sentence.endswith(end)


@pytest.mark.parametrize(
    ("other", "worth", "values"),
    [
        (solved(20000, 12.0), 50000, ()),  # no hours: whatever an hour is worth
        (WITHOUT, 30000, ()),  # worth just its cash: only at no value
        (WITHOUT, 30005, (1.0,)),
        (solved(20000, 11.5), 31000, (2000.0,)),  # half an hour
        (solved(20000, 14.0), 20000, (5000.0,)),  # it spares two hours, worth 50.00 each
        (WITHOUT, None, ()),
    ],
)
def test_the_hour_value_at_which_a_part_is_just_worth_it(
    other: Solved, worth: float | None, values: tuple[float, ...]
) -> None:
    assert part_flip(other, "Bench", worth).hour_values == values


@pytest.mark.parametrize(
    ("worth", "small"), [(40739.0, True), (40740.0, False), (39261.0, True), (None, False)]
)
def test_less_than_a_hundredth_at_stake_is_small(worth: float | None, small: bool) -> None:
    """The plan comes to 740.00, the bench to 400.00; without a worth all of that is at stake."""
    assert part_flip(WITHOUT, "Bench", worth).small is small


def test_a_hundredth_at_stake_is_not_small_where_nobody_says_what_a_part_is_worth() -> None:
    """7.40 of 740.00."""
    found = [part_flip(solved(50000 - cents, 12.0), "Bench", None) for cents in (740, 739)]
    assert [flip.small for flip in found] == [False, True]


def test_what_is_cut_out_or_always_built_has_no_worth_of_its_own() -> None:
    rows = [("Bench", 300.0, True, False), ("Bench", 70.0, True, True),
            ("Walk", 50.0, False, False), ("Bench", 40.0, True, False)]  # fmt: skip
    areas = tuple(
        Area(place=Place("Areas", n), part=part, worth=worth, optional=optional, cut_out=cut_out)
        for n, (part, worth, optional, cut_out) in enumerate(rows, 2)
    )
    assert worths(replace(job(None, None), areas=areas)) == {"Bench": 340.0}


def test_a_part_that_changes_which_prices_are_missing_is_kept(make: SimpleNamespace) -> None:
    """Worth nothing, but nobody has priced its kit: totals with unequal gaps are not compared."""
    takeoff, options = inputs(make)
    offers = tuple(offer for offer in options.offers if offer.item != "Bench kit")
    found = compare_options(job(0, 0), takeoff, replace(options, offers=offers))
    assert kept(found) == {"Bench"}


def few_goods(make: SimpleNamespace) -> tuple[Takeoff, Options]:
    """4,000 kg of stone for the base and 1,500 kg for the bench, and North brings no less than 5
    tonnes: without the bench there is no plan."""
    takeoff = make.takeoff(
        [make.need("Stone", "Base", {"mass": 4000}, weight=4000),
         make.need("Stone", "Build", {"mass": 1500}, weight=1500, part="Bench", optional="Bench")],
        [make.amount("Base", 2.0), make.amount("Build", 5.0, part="Bench", optional="Bench")],
        optional=["Bench"], beddings=[make.bedding("sand")],
    )  # fmt: skip
    options = make.options(
        offers=[make.offer("Stone", "North", 10, weight=1)],
        routes=[make.drop("North", 0, least=5000)],
        methods=[make.method("Base", "by hand", 2.0), make.method("Build", "by hand", 1.0),
                 make.method("Carry", "barrow", 0.0)],
        bids=[make.bid("Base laid", ["Base"], 3000)],
    )  # fmt: skip
    return takeoff, options


def test_a_part_without_which_nothing_is_delivered_is_kept(make: SimpleNamespace) -> None:
    """5,500 kg at 0.10 are 550.00, 150.00 more than the limit, and less cannot be had; the best
    plan has the base laid for 30.00 besides."""
    found = compare_options(job(0, 0, limit=40000), *few_goods(make))
    assert kept(found) == {"Bench"}
    fit = found.fit
    assert fit is not None
    assert (fit.priced, fit.more) == (None, 15000)
    assert "150 more is needed even for the least" in fit.sentence


def _fitted(monkeypatch: pytest.MonkeyPatch, most: int) -> list[set[str]]:
    """What is given up, one after the other, where no plan holds the limit."""
    asked: list[set[str]] = []
    monkeypatch.setattr(parts, "MOST_PARTS", most)
    monkeypatch.setattr(parts, "_within", lambda _, out, *__: asked.append(set(out)))
    monkeypatch.setattr(parts, "_least_cash", lambda *_: 90000.0)
    planner: Any = SimpleNamespace(optional=frozenset({"A", "B", "C"}))
    worth = {"A": 1.0, "C": 300.0}
    found = fit(planner, job(None, None, limit=1000), worth, solved(95000, 1.0, "A", "B", "C"), 1.0)
    assert found is not None
    assert found.more == 89000
    return asked


def test_parts_are_given_up_by_what_they_are_worth_together(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A is worth a cent, C three hundred; of B nobody has said."""
    none: set[str] = set()
    assert _fitted(monkeypatch, 1) == [none, {"B"}]
    assert _fitted(monkeypatch, 2) == [none, {"B"}, {"A"}, {"A", "B"}]
    assert _fitted(monkeypatch, 3)[4:] == [{"C"}, {"B", "C"}, {"A", "C"}, {"A", "B", "C"}]


def test_a_part_comes_back_for_nothing_where_the_least_with_it_holds_the_limit(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """10.00 with either: what is worth a cent comes before what nobody has put a worth to."""
    monkeypatch.setattr(parts, "_least_cash", lambda *_: 1000.0)
    out = frozenset({"A", "B"})
    found = parts._to_add(None, frozenset(), out, 1500.0, {"B": 1.0})  # type: ignore[arg-type]
    assert [(a.part, a.more) for a in found] == [("B", 0.0), ("A", 0.0)]


def test_a_limit_that_rounding_passes_is_lowered_by_as_much(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Found at 3 and then 2 cents above 100.00: sought at 99.97, then at 99.95, and given up."""
    asked: list[float] = []
    cash = iter((10003, 10002, 10001, 10001))

    def model(_: Any, ceiling: float, __: Any) -> Any:
        asked.append(ceiling)
        return SimpleNamespace(solve=lambda _: solved(next(cash), 1.0))

    monkeypatch.setattr(parts, "Model", model)
    planner: Any = SimpleNamespace(
        sound=("sand",), takeoff=None, options=None, optional=frozenset(), limit=None
    )
    assert parts._within(planner, frozenset(), 10000.0, 2000.0, 0) is None
    assert asked == [10000.0, 9997.0, 9995.0]


def test_parts_and_choices_stand_by_the_money_at_stake() -> None:
    """At 20.00 an hour: 60.00, 45.00, 30.00 and 20.00; of two alike by name, then by the way."""

    def one(choice: str, cash: int, hours: float, way: str = "b") -> Flip:
        return Flip(choice, "", way, cash, hours, (), "")

    flips = [one("step:Dig", 1000, -2.0), one("bedding", 2000, 2.0), one("part:B", -2000, 0.0)]
    parts = [one("part:A", -4500, 0.0), one("part:B", 2000, 0.0, "a"), one("part:A", -2000, 0.0)]
    found = [(f.choice, f.alternative, f.cash) for f in with_parts(flips, parts, 2000.0)]
    assert found == [
        ("bedding", "b", 2000), ("part:A", "b", -4500), ("step:Dig", "b", 1000),
        ("part:A", "b", -2000), ("part:B", "a", 2000), ("part:B", "b", -2000),
    ]  # fmt: skip
