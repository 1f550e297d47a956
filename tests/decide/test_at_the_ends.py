"""Rules of the plan at the ends of what they meet: nothing, alike, the last of all; by hand."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import highspy
import numpy as np
import pytest

from budget.decide import compare_options
from budget.decide.calendar.days import Days
from budget.decide.calendar.schedule import schedule
from budget.decide.calendar.tasks import work_of
from budget.decide.calendar.weather import assumed
from budget.decide.comparison import _weighed
from budget.decide.deeper import deepen
from budget.decide.flips import _about, _once, _together
from budget.decide.model.goods import _dominated
from budget.decide.model.model import Model
from budget.decide.pins import Pinned, UnknownPin, read_pins
from budget.decide.plan import Plan, Scenario
from budget.decide.planner import Planner
from budget.decide.programme import highs
from budget.decide.programme.fronts import Front, Ground, TwoCosts
from budget.decide.programme.highs import Table, search
from budget.decide.programme.relaxation import GaveUpError
from budget.decide.programme.search import Seconds
from budget.decide.programme.staircase import Corner, Point, Staircase
from budget.decide.risk.findings import _set_aside
from budget.decide.risk.shares import Share, _shares
from budget.decide.scenarios import ALL_HIRED, ALL_OWN, BEST, MACHINE_WORK, _only, standard_pins
from budget.decide.terms.situation import Situation
from budget.decide.terms.thin import Charge, too_thin
from budget.job import Job, Place, Settings
from budget.prices.bids import ESTIMATE
from budget.prices.options import Answer, Risk

SATURDAY = dt.date(2026, 5, 2)
PLACE = Place("Job", 2)
JOB = Job(settings=Settings(place=PLACE, start=SATURDAY, as_of=SATURDAY, currency="USD"))
HOUR = 2000.0


def test_after_the_last_day_all_hours_are_done() -> None:
    assert Days([True, True], 6.0).done(100.0) == 12.0


@pytest.mark.parametrize(
    ("due", "found"),
    [
        (12.0, (9.0, 12.0)),  # on the first day, four hours into it
        (34.0, (11.0, 14.0)),  # two hours into the second: by the evening of the first
        (38.0, (35.0, 38.0)),  # at the end of the second
    ],
)
def test_whole_work_is_not_parted_by_a_night(due: float, found: tuple[float, float]) -> None:
    """Three hours at a stretch of days of six, from eight in the morning."""
    assert Days([True, True], 6.0).retreat(due, 3.0, whole=True) == found


def test_a_saw_is_used_for_the_hours_of_each_day(make: SimpleNamespace) -> None:
    """Four of six hours are laid, then two are cut, and three on the next day: short days both."""
    options = make.options(
        methods=[make.method("Lay", "by hand", 1.0), make.method("Cut", "saw", 1.0, machine="Saw")],
        machines=[make.machine("Saw", "borrow")], hours_per_day=6,
    )  # fmt: skip
    takeoff = make.takeoff([], [make.amount("Lay", 4.0), make.amount("Cut", 5.0)])
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    (saw,) = schedule(JOB, takeoff, options, priced).machines
    assert (saw.use.days, saw.use.short) == ((0, 1), frozenset((0, 1)))


@pytest.mark.parametrize(("way", "monday"), [("rent", 2), ("buy", -5)])
def test_a_saw_is_paid_when_it_is_bought_or_goes_back(
    make: SimpleNamespace, way: str, monday: int
) -> None:
    """Fourteen hours of cutting from Saturday the 2nd to the next; weeks begin on Monday."""
    saw = make.machine("Saw", "saw", terms=[("week", 9000, 8)] if way == "rent" else (), once=9000)
    saw = replace(saw, once=make.cash(0)) if way == "rent" else saw
    options = make.options(
        methods=[make.method("Cut", "saw", 1.0, machine="Saw")], machines=[saw], hours_per_day=6
    )
    takeoff = make.takeoff([], [make.amount("Cut", 14.0)])
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    found = schedule(JOB, takeoff, options, priced)
    assert [(e.first, e.last) for e in found.entries] == [(0, 7)]
    assert [(w.first, w.cash) for w in found.weeks] == [(monday, 9000)]


def test_only_a_machine_runs(make: SimpleNamespace) -> None:
    """Base with a plate at 0.5 h, carrying 100 kg by hand at 0.002 h; a bowl of unknown weight."""
    needs = [
        make.need("Stone", "Base", {"mass": 100}, weight=100),
        make.need("Bowl", "Base", {"count": 1}),
    ]
    offers = [
        make.offer("Stone", "North", 1, holds=100, weight=100),
        make.offer("Bowl", "North", 1, measure="count", per="each"),
    ]
    by_hand = make.method("Carry", "barrow", 0.002)
    loader = replace(by_hand, machine="Loader", machine_rate=make.fig(0.001, make.PER_MASS))
    for carry, running in ((by_hand, 0.0), (loader, 0.1)):
        options = make.options(
            offers=offers, routes=[make.drop("North", 0)],
            methods=[
                make.method("Base", "plate", 1.0, machine="Plate", machine_rate=0.5),
                make.method("Lay", "by hand", 3.0), carry,
            ],
            machines=[make.machine("Plate", "borrow"), make.machine("Loader", "borrow")],
        )  # fmt: skip
        takeoff = make.takeoff(needs, [make.amount("Base", 2.0), make.amount("Lay", 1.0)])
        situation = Situation(takeoff, options, "sand", frozenset())
        (priced,) = make.all_priced(situation)
        found = {t.step: (t.hours, t.machine_hours) for t in work_of(JOB, situation, priced).tasks}
        assert found == {
            "Base": (2.0, 1.0), "Lay": (3.0, 0.0),
            "Carry": (pytest.approx(0.2), pytest.approx(running)),
        }  # fmt: skip


def test_a_scenario_is_as_sure_as_its_beddings(make: SimpleNamespace) -> None:
    """One bedding is proved at some total; the search of another stopped 5 % above what may be."""
    options = make.options(methods=[make.method("Dig", "by hand", 5.0)])
    takeoff = make.takeoff([], [make.amount("Dig", 2.0)])
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    sure = Scenario(BEST, "sand", {}, True, "", priced, True, 0.0)
    stopped = replace(sure, proved=False, gap=0.05)
    found = _weighed((sure, stopped), BEST, HOUR)
    assert [(s.proved, s.gap) for s in found] == [(False, pytest.approx(0.05))] * 2
    assert _weighed((sure, sure), BEST, HOUR) == (sure, sure)
    assert _weighed((sure, stopped), ALL_OWN, HOUR) == (sure, stopped)


def _changed(choice: str, alternative: str, cash: int) -> Any:
    return SimpleNamespace(choice=choice, alternative=alternative, cash=cash, hours=-1.0)


def test_a_machine_done_without_is_told_by_its_step() -> None:
    dig = _changed("step:Dig", "own: by hand", 500)
    without, dearer = _changed("machine:Digger", "", 500), _changed("machine:Digger", "", 700)
    other, seller = _changed("machine:Digger", "buy", 500), _changed("goods:North", "", 500)
    assert _once([dig, without, dearer, other, seller]) == [dig, dearer, other, seller]


def test_a_way_not_taken_may_be_to_buy_elsewhere(make: SimpleNamespace) -> None:
    """North brings stone to the drive for 100.00, to the site for 190.00; South asks 120.00."""
    options = make.options(
        offers=[
            make.offer("Stone", "North", 10000, measure="count", per="each"),
            make.offer("Stone", "South", 12000, measure="count", per="each"),
        ],
        routes=[
            make.drop("North", 0), make.drop("North", 9000, point="site"), make.drop("South", 0),
        ],
        methods=[make.method("Base", "by hand", 1.0)],
    )  # fmt: skip
    takeoff = make.takeoff(
        [make.need("Stone", "Base", {"count": 1})], [make.amount("Base", 1.0)],
        beddings=[make.bedding("sand")],
    )  # fmt: skip
    found = {
        f.choice: (f.alternative, f.cash) for f in compare_options(JOB, takeoff, options).flips
    }
    assert found["goods:North"] == ("", 2000)


@pytest.mark.parametrize(("site", "drive"), [(0.0, 0.0), (1500.0, 1500.0), (0.0, None)])
def test_of_two_drop_points_alike_one_is_left(
    make: SimpleNamespace, site: float, drive: float | None
) -> None:
    options = make.options(
        offers=[make.offer("Stone", "North", 10000, measure="count", per="each", weight=10)],
        routes=[
            make.drop("North", 500, point=point, place=fee)
            for point, fee in (("site", site), ("drive", drive))
        ],
        methods=[make.method("Base", "by hand", 1.0), make.method("Carry", "barrow", 0.01)],
    )  # fmt: skip
    options = replace(options, carry=dict.fromkeys(options.carry, options.carry["drive"]))
    takeoff = make.takeoff(
        [make.need("Stone", "Base", {"count": 1}, weight=10)], [make.amount("Base", 1.0)]
    )
    found = Model(Situation(takeoff, options, "sand", frozenset())).solve(HOUR)
    assert found is not None
    assert found.priced.cash == 10500 + site
    assert found.priced.plan.routes == {"North": "deliver to drive"}


def test_a_heap_of_unknown_volume_is_not_left_out(make: SimpleNamespace) -> None:
    """It is dearer, but may be less to fetch than the cheaper one of 0.6 m³."""
    stone = {"holds": 1000, "per": "tonne", "weight": 1000, "bulk": True}
    offers = [
        make.offer("Stone", "North", 900, volume=0.6, key="small", **stone),
        make.offer("Stone", "North", 1000, key="not told", **stone),
    ]
    options = make.options(
        offers=offers, routes=[make.drop("North", 0)], methods=[make.method("Base", "by hand", 1.0)]
    )
    takeoff = make.takeoff([make.need("Stone", "Base", {"mass": 900})], [make.amount("Base", 1.0)])
    situation = Situation(takeoff, options, "sand", frozenset())
    bought = [(o, situation.purchase(o, frozenset())) for o in offers]
    assert [_dominated(situation, bought, n) for n in (0, 1)] == [False, False]


@pytest.mark.parametrize(
    ("second", "more", "needless"),
    [
        ("bag", {"free_above": 5000.0}, [False, True]),  # both cost as much to bring
        ("box", {"free_above": 5000.0}, [False, False]),  # may come on fewer pallets
        ("box", {}, [False, True]),
    ],
)
def test_of_quotes_alike_in_everything_the_first_is_left(
    make: SimpleNamespace, second: str, more: dict[str, float], needless: list[bool]
) -> None:
    """10 kg for 9.00 by the bag, quoted again; a fee hangs on the order value, or none does."""
    offers = [
        make.offer("Stone", "North", 900, holds=10, per=per, weight=10, key=key)
        for key, per in (("first", "bag"), ("second", second))
    ]
    routes = [make.drop("North", 0, **more), make.haul("North", 500)]
    options = make.options(offers=offers, routes=routes)
    takeoff = make.takeoff([make.need("Stone", "Base", {"mass": 30})], [])
    situation = Situation(takeoff, options, "sand", frozenset())
    bought = [(o, situation.purchase(o, frozenset())) for o in offers]
    assert [_dominated(situation, bought, n) for n in (0, 1)] == needless


def test_trades_are_sought_among_plans_of_fewest_missing_prices(make: SimpleNamespace) -> None:
    """The drop is not priced, the haul is: the row of missing prices is held below one."""
    options = make.options(
        offers=[make.offer("Stone", "North", 100, measure="count", per="each", weight=10)],
        routes=[make.drop("North", 0, priced=False), make.haul("North", 500)],
        methods=[make.method("Base", "by hand", 1.0), make.method("Carry", "barrow", 0.01)],
    )
    takeoff = make.takeoff(
        [make.need("Stone", "Base", {"count": 1}, weight=10)], [make.amount("Base", 1.0)]
    )
    model = Model(Situation(takeoff, options, "sand", frozenset()), most_cash=1e9)
    assert list(model.ground().limits.values()) == [(-math.inf, 0.5)]


@pytest.fixture
def beds(make: SimpleNamespace) -> Planner:
    """Sand for 50.00 at North or 200.00 at South, stone for 100.00, an hour to lay."""
    needs = [make.need(name, "Lay", {"count": 1}, bedding=name) for name in ("sand", "stone")]
    offers = [
        make.offer(item, seller, price, measure="count", per="each")
        for item, seller, price in (
            ("stone", "North", 10000), ("sand", "North", 5000), ("sand", "South", 20000),
        )
    ]  # fmt: skip
    options = make.options(
        offers=offers, routes=[make.drop("North", 0), make.drop("South", 0)],
        methods=[make.method("Lay", "by hand", 1.0)],
    )  # fmt: skip
    beddings = [make.bedding("sand"), make.bedding("stone")]
    return Planner(make.takeoff(needs, [make.amount("Lay", 1.0)], beddings=beddings), options)


def test_totals_under_pins_pass_no_bedding_over(beds: Planner) -> None:
    """With sand of South pinned stone is best, without it sand."""
    pinned = Pinned({"item:sand": frozenset(("sand @ South, each",))})
    first, free = beds.best(HOUR, pinned), beds.best(HOUR)
    assert [found and found.priced.plan.bedding for found in (first, free)] == ["stone", "sand"]


def test_a_choice_that_is_misspelt_is_found_by_its_name_alone(beds: Planner) -> None:
    with pytest.raises(UnknownPin, match="did you mean step:Lay"):
        read_pins(beds.situations(), {"ly": "own"})


def test_cash_and_hours_of_an_answer() -> None:
    """Two of 3.00 and of half an hour, beside 1.00 and four hours that every answer takes."""
    costs = TwoCosts(np.array([300.0]), np.array([0.5]), Corner(100.0, 4.0), 0, 1)
    assert costs.of(np.array([2.0])) == Corner(700.0, 5.0)


def test_a_front_whose_solver_gave_up_is_not_proved() -> None:
    class GivesUp:
        def ask(self, *_: Any) -> None: ...

        def limit(self, *_: Any) -> None: ...

        def solve_surely(self, _: Any) -> None:
            raise GaveUpError

    costs = TwoCosts(np.zeros(1), np.zeros(1), Corner(0.0, 0.0), 0, 1)
    ground: Any = Ground(GivesUp(), None, np.array([True]), costs, np.zeros(1), {})  # type: ignore[arg-type]
    front = Front.below("sand", ground.box, Corner(450.0, 8.0), 50.0)
    assert front.go_on(ground, Staircase([Point(100, 9), Point(500, 2)]), math.inf)
    assert not front.proved


def test_a_step_beside_another_is_none() -> None:
    stairs = Staircase([Point(100, 9), Point(500, 2)])
    assert not stairs.add(Point(100, 10))
    assert not stairs.add(Point(600, 2))
    assert stairs.add(Point(500, 1))  # fewer hours for the same cash
    assert [(p.cash, p.hours) for p in stairs.points] == [(100, 9), (500, 1)]
    assert stairs.add(Point(90, 9))
    assert [(p.cash, p.hours) for p in stairs.points] == [(90, 9), (500, 1)]


def test_a_search_that_finds_nothing_is_given_more_time_and_then_ends(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Two seconds, four times that, and no more than twenty; none more where nothing fits."""
    asked: list[float] = []

    def run(_: Any, seconds: float) -> None:
        asked.append(seconds)
        assert len(asked) <= 10

    monkeypatch.setattr(highs, "_run", run)
    for status, expected in (
        (highspy.HighsModelStatus.kTimeLimit, [2.0, 8.0, 20.0]),
        (highspy.HighsModelStatus.kInfeasible, [2.0]),
    ):
        asked.clear()
        solver = SimpleNamespace(
            getModelStatus=lambda status=status: status,
            getSolution=lambda: SimpleNamespace(value_valid=False),
        )
        highs._run_until_found(solver, Seconds(2.0, 20.0))
        assert asked == expected


def test_the_solvers_own_search_proves_without_a_gap() -> None:
    """Most of 5x + 4y with 6x + 4y up to 24 and x + 2y up to 6, in whole numbers: 20 at (4, 0)."""
    rows = [({0: 6.0, 1: 4.0}, -math.inf, 24.0), ({0: 1.0, 1: 2.0}, -math.inf, 6.0)]
    table = Table.of([10.0, 10.0], [True, True], rows)
    costs = np.array([-5.0, -4.0])
    found = search(table.searcher(), table, costs, table.box([]), {}, Seconds(60.0, 60.0))
    assert found is not None
    assert (found.values, found.proved, found.gap) == ((4.0, 0.0), True, 0.0)


def test_what_nothing_moves_has_no_share() -> None:
    assert _shares(np.zeros((2, 10))) == [Share(0.0, 0.0)] * 2


@pytest.mark.parametrize(("carriers", "carrying"), [(True, "hire"), (False, None)])
def test_what_standard_scenarios_pin(
    make: SimpleNamespace, carriers: bool, carrying: str | None
) -> None:
    """Digging and the base are machine work, laying is none."""
    steps = ("Dig", "Base", "Lay")
    bids = [make.bid("Carriers", ["Carry"], 100)] if carriers else []
    options = make.options(
        offers=[make.offer("Stone", "North", 1, weight=1)], routes=[make.drop("North", 0)],
        methods=[make.method(s, "by hand", 1.0) for s in (*steps, "Carry")], bids=bids,
    )  # fmt: skip
    takeoff = make.takeoff(
        [make.need("Stone", "Base", {"mass": 1}, weight=1)],
        [make.amount(step, 1.0) for step in steps],
    )
    situation = Situation(takeoff, options, "sand", frozenset())
    pins = {
        name: {
            step: standard_pins(name, situation).get(f"step:{step}") for step in (*steps, "Carry")
        }
        for name in (ALL_OWN, MACHINE_WORK, ALL_HIRED)
    }
    assert pins == {
        ALL_OWN: dict.fromkeys((*steps, "Carry"), "own"),
        MACHINE_WORK: {"Dig": "hire", "Base": "hire", "Lay": "own", "Carry": "own"},
        ALL_HIRED: {**dict.fromkeys(steps, "hire"), "Carry": carrying},
    }


def test_a_step_is_left_to_one_side_only_if_nothing_else_is_allowed(make: SimpleNamespace) -> None:
    options = make.options(
        methods=[make.method("Dig", "by hand", 1.0)], bids=[make.bid("Digger", ["Dig"], 100)]
    )
    situation = Situation(make.takeoff([], [make.amount("Dig", 1.0)]), options, "sand", frozenset())
    own = Pinned({"step:Dig": frozenset(("own: by hand",))})
    assert _only(situation, own, "Dig", "own")
    assert not _only(situation, Pinned(), "Dig", "own")
    assert not _only(situation, Pinned({"step:Dig": frozenset()}), "Dig", "own")


def test_a_thin_base_leaves_its_soil_too(make: SimpleNamespace) -> None:
    """5 cm under 20 m² are 1 m³: base 1 h, dug 2 h, and 6 / 4 of it loose is moved in 0.75 h.

    One box takes up to 5 m³ for 100.00. Who dug no soil off the plot leaves no such charge.
    """
    steps = [make.amount("Dig", 4.0), make.amount("Spoil", 6.0), make.amount("Base", 3.0)]
    methods = [
        make.method(step, "by hand", rate)
        for step, rate in (("Dig", 2.0), ("Spoil", 0.5), ("Base", 1.0))
    ]
    crew = replace(
        make.bid("Crew", ["Dig", "Spoil", "Base"], 90000), base_depth=make.fig(0.10, make.DEPTH)
    )
    options = make.options(methods=methods, disposal=[make.disposal("box", 10000)], bids=[crew])
    for spoil, cash, hours in ((6.0, 10000, 3.75), (0.0, 0, 3.0)):
        takeoff = make.takeoff([], steps, spoil=spoil, base_depth=0.15)
        found = too_thin(Situation(takeoff, options, "sand", frozenset()), crew)
        assert found is not None
        assert (found.cash.value, found.hours.value) == (cash, pytest.approx(hours))


def test_hours_alone_are_worth_their_value(make: SimpleNamespace) -> None:
    assert Charge(None, make.fig(2.0, make.HOURS)).worth(1000.0) == 2000.0
    assert Charge(make.cash(300), None).worth(1000.0) == 300.0


def test_a_usual_wet_spell_is_assumed_in_per_cent() -> None:
    """The coefficient "wet persistence" is 25 % likely."""
    assert "25 %" in {a.value for a in assumed(JOB)}


def test_knowing_a_cause_leaves_less_to_set_aside() -> None:
    """100, 120, 200 and 220 as likely: 220 at 80 %, 60 above the middle; known to be the first or
    the second pair, 10 above its own middle."""
    cash = np.array([100.0, 120.0, 200.0, 220.0])
    assert _set_aside(np.array([0, 0, 1, 1]), cash, 0.8) == pytest.approx(50.0)


def test_what_moves_together_is_told_together() -> None:
    steps = {"Dig": "bid: Crew", "Lay": "own: by hand"}
    plan = Plan("sand", frozenset(), {}, {}, steps, {}, "")
    both = ("step:Dig", "step:Lay")
    assert _about(both, plan) == "All the work"
    assert _about(both[:1], plan) == "Dig"
    assert _together(both[:1], plan) == "hiring “Crew”"
    assert _together(both, plan) == "own hands and hiring “Crew”"


@pytest.mark.parametrize(("tax", "cash"), [(0.0, 18000), (0.1, 19800)])
def test_a_van_is_hired_for_the_trips_to_all_sellers(
    make: SimpleNamespace, tax: float, cash: int
) -> None:
    """Three days of six hours, each to one seller, at 60.00 a day and tax."""
    sellers = ("North", "South", "West")
    needs = [make.need(s, "Base", {"count": 1}, weight=100) for s in sellers]
    options = make.options(
        offers=[make.offer(s, s, 0, measure="count", per="each", weight=100) for s in sellers],
        routes=[
            replace(
                make.haul(s, 900, vehicle="Van", mileage=0, hours=6.0, handling=0.0, hire=6000),
                tax=make.fig(tax, make.RATIO),
            )
            for s in sellers
        ],
        methods=[make.method("Base", "by hand", 0.0), make.method("Carry", "barrow", 0.0)],
        hours_per_day=6,
    )  # fmt: skip
    takeoff = make.takeoff(needs, [make.amount("Base", 1.0)])
    found = Model(Situation(takeoff, options, "sand", frozenset())).solve(HOUR)
    assert found is not None
    assert found.priced.cash == cash


def test_a_bid_is_held_against_the_best_plan_with_the_risks_of_both(make: SimpleNamespace) -> None:
    """Ten hours by hand are 200.00, the bid is 300.00. Rock comes up once in five times and is
    half of the 300.00 then: the owner's with own work, the digger's with the bid. Roots are the
    owner's with both: once in ten times two fifths of it."""
    asked = make.bid("Digger", ["Dig"], 30000, risks=[ESTIMATE, "Ask who pays for roots."])
    digger = replace(asked, scope=(Answer("Rock", "yes"),))
    rock = Risk("Rock", "rock", ("Dig",), True, 0.2, 0.5, None, "a guess", True)
    rain = Risk("Rain", "rain", ("Dig",), False, 0.1, 0.1, None, "a guess", True)
    roots = Risk("Roots", "roots", ("Dig",), True, 0.1, 0.4, None, "a guess", True)
    options = make.options(methods=[make.method("Dig", "by hand", 5.0)], bids=[digger])
    options = replace(options, risks=(rock, rain, roots))
    takeoff = make.takeoff([], [make.amount("Dig", 2.0)], beddings=[make.bedding("sand")])
    deep = deepen(compare_options(JOB, takeoff, options)).deeper
    assert deep is not None
    (one,) = deep.bids
    # rain, not said to be the digger's, is a tenth of a tenth of 300.00
    assert [(left.item, left.money) for left in one.left] == [("Rain", 300), ("Roots", 1200)]
    assert one.over == pytest.approx((30000 + 300 + 1200) - (20000 + 3000 + 1200))
    assert one.risks == ("Ask who pays for roots.",)  # that hours are a guess is told apart
    assert not one.chosen


def test_a_job_without_a_choice_costs_what_nobody_may_choose(make: SimpleNamespace) -> None:
    """A permit of 50.00 alone: within 50.00, not within 49.99."""
    options = make.options(checklist=[make.check_line("Permit", value=5000)])
    situation = Situation(make.takeoff([], []), options, "sand", frozenset())
    for model, cash in (
        (Model(situation), 5000), (Model(situation, 5000), 5000), (Model(situation, 4999), None),
    ):  # fmt: skip
        found = model.solve(HOUR)
        assert (found and found.priced.cash) == cash


def test_a_price_that_is_missing_costs_nothing_yet(make: SimpleNamespace) -> None:
    """A permit alone that nobody has priced holds any limit of cash."""
    options = make.options(checklist=[make.check_line("Permit", "to price")])
    found = Model(Situation(make.takeoff([], []), options, "sand", frozenset()), 0.0).solve(HOUR)
    assert found is not None
    assert (found.priced.cash, found.gaps) == (0, 1)
