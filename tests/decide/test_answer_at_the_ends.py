"""What an answer says where it hardly says anything: nothing earned, alike, missing; by hand."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.brief import laid_out
from budget.decide.calendar.leads import LeadTime, lead_times
from budget.decide.calendar.weather import assumed
from budget.decide.flips import Words, flip_sentence
from budget.decide.frontier import crossing, frontier
from budget.decide.outcome import Comparison
from budget.decide.pins import UnknownPin, _nearest
from budget.decide.plan import Plan, Priced, Scenario
from budget.decide.planner import Planner
from budget.decide.pricing.evaluation import evaluate_in
from budget.decide.risk.swaps import swaps
from budget.decide.risk.unknowns import unknowns
from budget.decide.scenarios import BEST
from budget.decide.terms.situation import Situation
from budget.figures import given
from budget.job import Bid, Job, Place, Quote, Settings, Work
from budget.reference import coefficient
from budget.units import HOURS

PLACE = Place("Job", 2)
JOB = Job(settings=Settings(place=PLACE, currency="USD"))
DIGGING = Words("Dig", "own hands", "hiring")


def scenario(cash: int, hours: float, bedding: str = "sand") -> Scenario:
    plan = Plan(bedding, frozenset(), {}, {}, {}, {}, "")
    priced = Priced(plan, (), (), (), (), (), cash, hours, 0.0, 0.0, 0, ())
    return Scenario(BEST, bedding, {}, True, "", priced, True, 0.0)


def answer(best: Scenario | None, hired: Scenario | None) -> Comparison:
    return replace(laid_out(JOB), best=best, hired=hired)


@pytest.mark.parametrize(
    ("hours", "earned"), [(10.0, 3000.0), (0.5, 60000.0), (0.0, None), (-1.0, None)]
)
def test_what_an_hour_earns_against_hiring(hours: float, earned: float | None) -> None:
    """300.00 saved against hiring, which leaves two hours of one's own."""
    found = answer(scenario(70000, 2.0 + hours), scenario(100000, 2.0))
    assert (found.saving, found.hour_earns) == (30000, earned)


def test_nothing_is_earned_where_one_of_the_two_has_no_plan() -> None:
    some, none = scenario(70000, 2.0), replace(scenario(0, 0.0), priced=None)
    for best, hired in ((some, None), (None, some), (some, none), (none, some)):
        found = answer(best, hired)
        assert (found.saving, found.hour_earns, found.all_hired_is_best) == (None, None, False)


def test_hiring_all_may_be_the_best() -> None:
    some = scenario(70000, 2.0)
    assert answer(some, some).all_hired_is_best
    assert not answer(some, scenario(70000, 2.0, "stone")).all_hired_is_best


@pytest.mark.parametrize(
    ("hours", "words"),
    [(0.1, "takes 0.1 hours more"), (-0.1, "saves 0.1 hours"), (0.09, "next to no difference")],
)
def test_a_tenth_of_an_hour_is_a_difference(hours: float, words: str) -> None:
    assert words in flip_sentence(DIGGING, 0, hours, (), 2000.0, "USD")


@pytest.mark.parametrize(
    ("changing", "words"),
    [
        ((2000.0,), "worth more than about $20."),  # at the user's own value
        ((2500.0, 3000.0), "worth less than about $25."),  # the nearer of two
        ((1000.0, 1500.0), "worth more than about $15."),
        ((1500.0, 2500.0), "worth between about $15 and $25."),
    ],
)
def test_between_which_values_of_an_hour_a_choice_wins(
    changing: tuple[float, ...], words: str
) -> None:
    assert words in flip_sentence(DIGGING, 5000, 0.0, changing, 2000.0, "USD")


def test_every_hour_value_has_its_plan(make: SimpleNamespace) -> None:
    """Two hours of digging or 100.00: hired from 50.00 an hour on."""
    options = make.options(
        methods=[make.method("Dig", "by hand", 1.0)], bids=[make.bid("Digger", ["Dig"], 10000)]
    )
    points = frontier(Planner(make.takeoff([], [make.amount("Dig", 2.0)]), options), 2000.0)
    assert [(p.from_value, p.to_value) for p in points] == [
        (0.0, pytest.approx(5000.0)), (pytest.approx(5000.0), float("inf")),
    ]  # fmt: skip
    own, hired = (SimpleNamespace(priced=p.priced) for p in points)
    assert crossing(own, hired) == pytest.approx(5000.0)  # type: ignore[arg-type]
    assert crossing(hired, own) is None  # type: ignore[arg-type]


def test_no_plan_is_missing_between_two(make: SimpleNamespace) -> None:
    """Ten hours each of four steps, or 100.00, 200.00, 300.00 and 400.00: at 10, 20, 30 and 40 an
    hour one more is hired."""
    steps = ("Dig", "Base", "Lay", "Joint")
    options = make.options(
        methods=[make.method(step, "by hand", 1.0) for step in steps],
        bids=[make.bid(f"{step} done", [step], 10000 * n) for n, step in enumerate(steps, 1)],
    )
    takeoff = make.takeoff([], [make.amount(step, 10.0) for step in steps])
    points = frontier(Planner(takeoff, options), 5000.0)
    assert [(p.priced.cash, p.priced.own_hours) for p in points] == [
        (0, 40.0), (10000, 30.0), (30000, 20.0), (60000, 10.0), (100000, 0.0),
    ]  # fmt: skip
    assert [p.from_value for p in points] == pytest.approx([0, 1000, 2000, 3000, 4000])
    assert [p.change for p in points] == [
        "", *(f"{step}: hiring “{step} done” instead of own hands" for step in steps)
    ]  # fmt: skip


def test_a_bid_that_says_no_days_comes_when_it_is_called(make: SimpleNamespace) -> None:
    options = make.options(bids=[make.bid("Digger", ["Dig"], 30000)])
    takeoff = make.takeoff([], [make.amount("Dig", 2.0)])
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    row = Bid(place=Place("Bids", 2), bid="Digger", steps=("Dig",))
    assert lead_times(replace(JOB, bids=(row,)), priced, options)["Digger"] == LeadTime(0, 0, 0)


def test_how_much_rain_lasts_is_told_in_per_cent() -> None:
    lasting = coefficient("wet persistence")
    told = {a.what: a.value for a in assumed(JOB)}
    assert told[lasting.what] == f"{round(100 * lasting.likely)} %"


def test_a_guessed_pace_moves_the_hours_of_hands_and_machine_alike() -> None:
    place = Place("Work", 3, {"likely": "E", "machine_hours": "H"})
    row = Work(place=place, step="Dig", method="loader", low=1, likely=2, high=3, machine_hours=1)
    figures = [given(2.0, HOURS, "pace", "Work!E3"), given(1.0, HOURS, "running", "Work!H3")]
    (pace,) = (u for u in unknowns(replace(JOB, work=(row,)), figures) if "Dig" in u.name)
    assert set(pace.powers) == {("Work!E3", 1), ("Work!H3", 1)}


def test_a_name_unlike_any_is_answered_by_all_of_a_dozen() -> None:
    names = [f"way {letter}" for letter in "abcdefghijklm"]
    for count, told in ((12, True), (13, False)):
        with pytest.raises(UnknownPin) as caught:
            _nearest("zzzzzz", names[:count], "choice")
        assert ("; known: way a, way b" in str(caught.value)) is told


def guessed(make: SimpleNamespace, **ends: Any) -> list[tuple[str, Priced]]:
    """Stone from North at 100.00, guessed, or South at 130.00; sand from East, brought for 9.00."""
    offers = [
        replace(make.offer(item, seller, price, measure="count", per="each"), cell=f"Quotes!C{row}")
        for row, (item, seller, price) in enumerate(
            [("Stone", "North", 10000), ("Stone", "South", 13000), ("Sand", "East", 500)], 2
        )
    ]  # fmt: skip
    offers.append(replace(offers[1], key="the same once more"))
    options = make.options(
        offers=offers, methods=[make.method("Base", "by hand", 1.0)],
        routes=[make.drop("North", 700), make.drop("South", 2400, point="site"),
                make.drop("South", 400), make.drop("East", 900)],
    )  # fmt: skip
    takeoff = make.takeoff(
        [make.need(item, "Base", {"count": 1}) for item in ("Stone", "Sand")],
        [make.amount("Base", 1.0)],
    )
    situation = Situation(takeoff, options, "sand", frozenset())
    best = min(make.all_priced(situation), key=lambda p: p.cash)
    assert best.cash == 10000 + 700 + 500 + 900
    row = Quote(place=Place("Quotes", 2, {"price": "C"}), item="Stone", supplier="North",
                price=10000, per="each", **ends)  # fmt: skip
    return swaps(replace(JOB, quotes=(row,)), situation, best)


@pytest.mark.parametrize("ends", [{"price_low": 9000.0}, {"price_high": 15000.0}])
def test_goods_at_a_guessed_price_may_be_bought_elsewhere(
    make: SimpleNamespace, ends: dict[str, Any]
) -> None:
    """Then North brings nothing any more, South does its cheaper way, and East as before. South
    has two quotes that are alike."""
    for title, priced in (found := guessed(make, **ends)):
        assert title == "Stone from South, per each"
        assert priced.cash == 13000 + 400 + 500 + 900
        assert priced.plan.routes == {"South": "deliver to drive", "East": "deliver to drive"}
    assert len(found) == 2


def test_goods_at_a_firm_price_stay_where_they_are(make: SimpleNamespace) -> None:
    assert guessed(make) == []


def test_goods_beside_a_guessed_price_stay_parted_as_they_were(make: SimpleNamespace) -> None:
    """Three of seven stones from North at 10.00, a guess, the rest from South at 13.00; two of five
    bags from East at 5.00, the rest from West at 6.00. All stone from one seller, the bags as
    before: 70.00 or 91.00 and 28.00, and the drops."""
    sells = [("Stone", "North", 1000), ("Stone", "South", 1300), ("Bag", "East", 500),
             ("Bag", "West", 600)]  # fmt: skip
    offers = [
        replace(make.offer(item, seller, price, measure="count", per="each", in_part=True),
                cell=f"Quotes!C{row}")
        for row, (item, seller, price) in enumerate(sells, 2)
    ]  # fmt: skip
    fees = {"North": 700, "South": 400, "East": 900, "West": 200}
    options = make.options(
        offers=offers, methods=[make.method("Base", "by hand", 1.0)],
        routes=[make.drop(seller, fee) for seller, fee in fees.items()],
    )  # fmt: skip
    takeoff = make.takeoff(
        [make.need("Stone", "Base", {"count": 7}), make.need("Bag", "Base", {"count": 5})],
        [make.amount("Base", 1.0)],
    )
    situation = Situation(takeoff, options, "sand", frozenset())
    north, south, east, west = (offer.key for offer in offers)
    best = evaluate_in(situation, Plan(
        "sand", frozenset(), {"Stone": south, "Bag": west},
        dict.fromkeys(fees, "deliver to drive"), {"Base": "own: by hand"}, {}, "",
        {"Stone": {north: 3.0}, "Bag": {east: 2.0}},
    ))  # fmt: skip
    assert best.cash == 3000 + 5200 + 2800 + 2200
    row = Quote(place=Place("Quotes", 2, {"price": "C"}), item="Stone", supplier="North",
                price=1000, price_high=1500, per="each")  # fmt: skip
    found = swaps(replace(JOB, quotes=(row,)), situation, best)
    assert [(title, priced.cash) for title, priced in found] == [
        ("Stone from North, per each", 7000 + 2800 + 700 + 900 + 200),
        ("Stone from South, per each", 9100 + 2800 + 400 + 900 + 200),
    ]
    assert all(priced.plan.shares == {"Bag": {east: 2.0}} for _, priced in found)


@pytest.mark.parametrize(("chips", "taken"), [(5000, "chips"), (5005, "sand"), (4995, "chips")])
def test_a_bedding_a_few_cents_cheaper_is_taken_and_of_two_alike_the_first_by_name(
    make: SimpleNamespace, chips: float, taken: str
) -> None:
    """Sand is 50.00; whichever of the two stands first."""
    for names in (("chips", "sand"), ("sand", "chips")):
        needs = [make.need(name, "Lay", {"count": 1}, bedding=name) for name in names]
        offers = [
            make.offer(name, "North", price, measure="count", per="each")
            for name, price in (("sand", 5000), ("chips", chips))
        ]
        options = make.options(
            offers=offers, routes=[make.drop("North", 0)],
            methods=[make.method("Lay", "by hand", 1.0)],
        )  # fmt: skip
        beddings = [make.bedding(name) for name in names]
        takeoff = make.takeoff(needs, [make.amount("Lay", 1.0)], beddings=beddings)
        best = Planner(takeoff, options).best(2000.0)
        assert best is not None
        assert best.priced.plan.bedding == taken
