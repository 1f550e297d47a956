"""What changes together when one choice is turned, and other single rules of the answer."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide import compare_options
from budget.decide.brief import best_of, laid_out, plan_of
from budget.decide.calendar.leads import LeadTime, lead_times
from budget.decide.calendar.machines import best_spells
from budget.decide.calendar.order import order_of
from budget.decide.calendar.result import Use
from budget.decide.calendar.schedule import schedule
from budget.decide.calendar.tasks import work_of
from budget.decide.deeper import more_draws
from budget.decide.flips import Words, _about, _moved, _other_side, flip_sentence
from budget.decide.frontier import LEAST_VALUE, MOST_VALUE, _envelope, crossing, frontier
from budget.decide.model.model import Solved
from budget.decide.outcome import Comparison
from budget.decide.parts import leave_out
from budget.decide.pins import Pinned, UnknownPin, read_pins
from budget.decide.plan import Plan
from budget.decide.planner import Planner
from budget.decide.risk.unknowns import unknowns
from budget.decide.terms.situation import Situation
from budget.decide.thorough.growing import growths
from budget.decide.thorough.leftover import worths
from budget.job import Area, Bid, Job, Place, Settings, Supplier, Work
from budget.reference import coefficient

PLACE = Place("Job", 2)
JOB = Job(settings=Settings(place=PLACE, currency="USD", hour_value=2000))


@pytest.mark.parametrize(
    ("now", "then", "together"),
    [
        # one bid takes both over
        (("own: by hand", "own: by hand"), ("bid: X", "bid: X"), ("Dig", "Lay")),
        # one bid leaves both
        (("bid: X", "bid: X"), ("own: by hand", "own: slowly"), ("Dig", "Lay")),
        # another bid digs; what the first had beside goes to own hands, a change of its own
        (("bid: X", "bid: X"), ("bid: Y", "own: by hand"), ("Dig",)),
        # two bids leave, and own hands happen to work alike
        (("bid: X", "bid: Y"), ("own: by hand", "own: by hand"), ("Dig",)),
        # one bid takes over what another had, and what own hands did
        (("bid: X", "own: by hand"), ("bid: Y", "bid: Y"), ("Dig", "Lay")),
        # another way with own hands, while laying changes too
        (("own: by hand", "own: by hand"), ("own: loader", "own: slowly"), ("Dig",)),
        # a bid stays where it is while digging leaves it
        (("bid: X", "bid: X"), ("own: by hand", "bid: X"), ("Dig",)),
    ],
)
def test_steps_move_together_that_one_bid_takes_over_or_leaves(
    now: tuple[str, str], then: tuple[str, str], together: tuple[str, ...]
) -> None:
    steps = ("step:Dig", "step:Lay")
    before, after = (
        plan_of({"bedding": "sand", **dict(zip(steps, ways, strict=True))}) for ways in (now, then)
    )
    assert _moved("step:Dig", before, after) == tuple(f"step:{name}" for name in together)


def test_all_the_work_is_more_than_one_step() -> None:
    steps = {"Dig": "bid: X", "Lay": "bid: X", "Joint": "own: by hand"}
    three = Plan("sand", frozenset(), {}, {}, steps, {}, "")
    one = replace(three, steps={"Dig": "bid: X"})
    assert _about(("step:Dig",), one) == "Dig"
    assert _about(("step:Dig", "step:Lay"), three) == "Dig and Lay"
    assert _about(("step:Dig", "step:Lay", "step:Joint"), three) == "All the work"


@pytest.mark.parametrize(
    ("choice", "now", "then", "across"),
    [
        ("step:Dig", "own: by hand", "own: loader", {"bid: X", "bid: Y"}),
        ("step:Dig", "own: by hand", "bid: X", set()),  # it is the other side already
        ("step:Dig", "bid: X", "bid: Y", {"own: by hand", "own: loader"}),
        ("step:Dig", "bid: X", "own: loader", set()),
        ("step:Dig", "own: by hand", "own: by hand", set()),  # it did not change
        ("goods:North", "own: a", "own: b", set()),  # no step
    ],
)
def test_a_step_is_turned_to_the_other_side_too(
    choice: str, now: str, then: str, across: set[str]
) -> None:
    """From own hands to hire or back, where its best other way is neither."""
    ways = frozenset({"own: by hand", "own: loader", "bid: X", "bid: Y"} - {now})
    best, other = (plan_of({"bedding": "sand", choice: way}) for way in (now, then))
    solved: Any = SimpleNamespace(priced=SimpleNamespace(plan=other))
    found = list(_other_side(choice, ways, best, solved))
    assert found == ([(choice, frozenset(across))] if across else [])


def test_a_step_without_another_side_has_none() -> None:
    """Two own ways and no bid."""
    best, other = (plan_of({"bedding": "sand", "step:Dig": way}) for way in ("own: a", "own: b"))
    solved: Any = SimpleNamespace(priced=SimpleNamespace(plan=other))
    assert list(_other_side("step:Dig", frozenset({"own: b"}), best, solved)) == []


@pytest.mark.parametrize(("loader", "bid", "flips"), [(0.02, 90000, True), (9.0, 20000, False)])
def test_carrying_is_turned_only_where_something_is_carried_either_way(
    make: SimpleNamespace, loader: float, bid: float, flips: bool
) -> None:
    """100 kg at 0.01 h by barrow, and a slower way. Rather than that, a crew brings the stone:
    that is told of the base. Nor is there a flip for what is bought of whom."""
    options = make.options(
        offers=[make.offer("Stone", s, 1, weight=1) for s in ("North", "South")],
        routes=[make.drop("North", 0), make.drop("South", 500)],
        methods=[make.method("Base", "by hand", 1.0), make.method("Carry", "barrow", 0.01),
                 make.method("Carry", "loader", loader)],
        bids=[make.bid("Crew", ["Base"], bid, materials=True)],
    )  # fmt: skip
    takeoff = make.takeoff(
        [make.need("Stone", "Base", {"mass": 100}, weight=100)], [make.amount("Base", 1.0)],
        beddings=[make.bedding("sand")],
    )  # fmt: skip
    found = {f.choice: f for f in compare_options(JOB, takeoff, options).flips}
    assert ("step:Carry" in found) is flips
    assert found["step:Base"].alternative == "bid: Crew"
    assert not [choice for choice in found if choice.startswith("item:")]
    if flips:  # an hour more
        assert (found["step:Carry"].cash, found["step:Carry"].hours) == (0, pytest.approx(1.0))


@pytest.mark.parametrize(
    ("cash", "words"),
    [(50, "costs $0.50 more;"), (49, "next to no difference"), (-50, "saves $0.50;")],
)
def test_half_a_unit_of_money_is_the_least_that_is_told(cash: int, words: str) -> None:
    assert words in flip_sentence(Words("Goods", "delivery", "hauling"), cash, 0.0, (), 0.0, "USD")


@pytest.fixture(scope="module")
def dug(make: SimpleNamespace) -> Comparison:
    """Ten hours of digging by hand at 29.90, or 300.00 to a firm."""
    options = make.options(
        methods=[make.method("Dig", "by hand", 5.0)], bids=[make.bid("Digger", ["Dig"], 30000)],
        hour_value=2990,
    )  # fmt: skip
    job = replace(JOB, settings=replace(JOB.settings, hour_value=2990))
    return compare_options(job, make.takeoff([], [make.amount("Dig", 2.0)]), options)


@pytest.mark.parametrize(
    ("hour_value", "bid", "small"),
    [(2990, 30000, True), (2900, 30000, False), (2000, 20200, False), (2000, 20199, True)],
)
def test_a_flip_is_small_below_a_hundredth_of_the_whole(
    make: SimpleNamespace, hour_value: float, bid: float, small: bool
) -> None:
    """299.00 of own hours or 300.00: a dollar of 299. At 29.00 an hour it is ten of 290, and
    2.00 of 200.00 are just a hundredth."""
    options = make.options(
        methods=[make.method("Dig", "by hand", 5.0)], bids=[make.bid("Digger", ["Dig"], bid)],
        hour_value=hour_value,
    )  # fmt: skip
    job = replace(JOB, settings=replace(JOB.settings, hour_value=hour_value))
    found = compare_options(job, make.takeoff([], [make.amount("Dig", 2.0)]), options)
    (flip,) = [f for f in found.flips if f.choice == "step:Dig"]
    assert (flip.cash, flip.hours, flip.small) == (bid, -10.0, small)
    assert flip.proved
    assert "The other way is" not in flip.sentence


def test_an_answer_is_settled_if_it_is_whole_and_proved(dug: Comparison) -> None:
    best = dug.best
    assert best is not None
    assert dug.settled
    assert (dug.so_far, replace(dug, complete=False).so_far) == ("", " so far")
    assert not replace(dug, complete=False).settled
    assert not replace(dug, best=None).settled
    assert not replace(dug, best=replace(best, proved=False)).settled


def test_a_job_without_any_plan_is_not_complete() -> None:
    assert not laid_out(JOB).complete


def test_the_best_plan_can_be_carried_out(make: SimpleNamespace) -> None:
    options = make.options(methods=[make.method("Dig", "by hand", 5.0)])
    planner = Planner(make.takeoff([], [make.amount("Dig", 2.0)]), options)
    best = best_of(planner, 2000)
    assert best is not None
    assert (best.feasible, best.why_not, best.proved) == (True, "", True)


def test_a_step_waits_for_what_the_method_in_use_waits_for(make: SimpleNamespace) -> None:
    """Joints swept by hand wait for the base, with a machine for the paving."""
    rows = (
        Work(place=Place("Work", 2), step="Joint", method="by hand", after=("Base",)),
        Work(place=Place("Work", 3), step="Joint", method="machine", after=("Lay",)),
    )
    steps = ("Base", "Lay", "Joint")
    takeoff = make.takeoff([], [make.amount(step, 1.0) for step in steps])
    situation = Situation(takeoff, make.options(), "sand", frozenset())

    def before(method: str) -> set[str]:
        found = order_of(replace(JOB, work=rows), situation, steps, {"Joint": method})
        return {link.task for link in found.links["Joint"]}

    assert (before("by hand"), before("MACHINE"), before("another")) == (
        {"Base"}, {"Lay"}, {"Base"},
    )  # fmt: skip


def test_stones_are_picked_out_once_the_gravel_is_carried(make: SimpleNamespace) -> None:
    """2,000 kg from the street, a quarter of an hour of picking a pack, before the bed."""
    takeoff = make.takeoff(
        [make.need("Gravel", "Bed", {"mass": 2000}, weight=2000)], [make.amount("Bed", 20.0)]
    )
    options = make.options(
        offers=[make.offer("Gravel", "North", 1, holds=1000, weight=1000, picking=0.25)],
        routes=[make.drop("North", 0, point="street")],
        methods=[make.method("Bed", "by hand", 0.1),
                 make.method("Carry", "barrow", 0.001, people=1)],
    )  # fmt: skip
    situation = Situation(takeoff, options, "sand", frozenset())
    (priced,) = make.all_priced(situation)
    job = replace(JOB, settings=replace(JOB.settings, start=dt.date(2026, 5, 2)))
    tasks = {task.name: task for task in work_of(job, situation, priced).tasks}
    (carrying,) = [name for name, task in tasks.items() if task.step == "Carry"]
    (picking,) = [task for task in tasks.values() if not task.step]
    assert picking.hours == pytest.approx(0.5)
    assert carrying in {link.task for link in picking.after}
    assert picking.name in {link.task for link in tasks["Bed"].after}


def test_a_bid_of_which_no_row_tells_a_lead_comes_at_once(make: SimpleNamespace) -> None:
    options = make.options(bids=[make.bid("Digger", ["Dig"], 30000)])
    situation = Situation(
        make.takeoff([], [make.amount("Dig", 2.0)]), options, "sand", frozenset()
    )  # fmt: skip
    (priced,) = make.all_priced(situation)
    assert lead_times(JOB, priced, options)["Digger"] == LeadTime(0.0, 0.0, 0.0)


def test_a_density_and_a_share_of_work_are_told_apart(make: SimpleNamespace) -> None:
    figures = [coefficient(name).figure() for name in ("density base loose", "reworked share",
                                                       "overage base")]  # fmt: skip
    kinds = {u.powers[0][0]: u.kind for u in unknowns(JOB, figures)}
    assert kinds["reference:density base loose"] == "density"
    assert kinds["reference:overage base"] == "waste"
    assert kinds["reference:reworked share"] != "density"


def test_a_bid_whose_row_is_blank_of_its_lead_comes_at_once(make: SimpleNamespace) -> None:
    options = make.options(bids=[make.bid("Digger", ["Dig"], 30000)])
    situation = Situation(
        make.takeoff([], [make.amount("Dig", 2.0)]), options, "sand", frozenset()
    )  # fmt: skip
    (priced,) = make.all_priced(situation)
    job = replace(JOB, bids=(Bid(place=Place("Bids", 2), bid="Digger", steps=("Dig",), price=1),))
    assert lead_times(job, priced, options)["Digger"] == LeadTime(0.0, 0.0, 0.0)


def test_a_day_of_hire_is_weighed_with_its_waiver(make: SimpleNamespace) -> None:
    """Used on days 0 and 2: keeping it a day more is 60.00 and half of it for the waiver, 90.00;
    fetching it twice costs 65.00."""
    saw = make.machine("Saw", "rent", terms=[("day", 6000, 1)], per_spell=6500, waiver=0.5)
    assert best_spells(saw, Use((0, 2), 8.0)) == ((0, 0), (2, 2))


def test_a_crew_that_brings_its_machines_runs_none_of_the_owner_s(make: SimpleNamespace) -> None:
    options = make.options(bids=[make.bid("Digger", ["Dig"], 30000)])
    situation = Situation(
        make.takeoff([], [make.amount("Dig", 2.0)]), options, "sand", frozenset()
    )  # fmt: skip
    (priced,) = make.all_priced(situation)
    (dig,) = [task for task in work_of(JOB, situation, priced).tasks if task.step == "Dig"]
    assert (dig.who, dig.machine, dig.machine_hours) == ("Digger", "", 0.0)
    assert dig.own_hours == 0


@pytest.mark.parametrize(
    ("hours", "words"), [(0.1, "takes 0.1 hours more"), (0.09, "next to no difference")]
)
def test_a_tenth_of_an_hour_is_the_least_that_is_told(hours: float, words: str) -> None:
    about = Words("Goods", "delivery", "hauling")
    assert words in flip_sentence(about, 0, hours, (), 2000.0, "USD")


def test_no_hour_earns_anything_where_none_is_spent(dug: Comparison) -> None:
    """The best plan is the firm's: it saves nothing and takes no hour more."""
    hired = dug.hired
    assert hired is not None
    assert replace(dug, best=hired).hour_earns is None
    assert dug.hour_earns == 3000.0


def test_a_plan_that_costs_just_the_limit_holds_it(make: SimpleNamespace) -> None:
    """The firm and a bag are 400.00, best at 40.00 an hour; own digging and the bag are 100.00."""
    options = make.options(
        offers=[make.offer("Bag", "North", 10000, measure="count", per="each")],
        routes=[make.drop("North", 0)], methods=[make.method("Dig", "by hand", 5.0)],
        bids=[make.bid("Digger", ["Dig"], 30000)], hour_value=4000,
    )  # fmt: skip
    takeoff = make.takeoff([make.need("Bag", "Dig", {"count": 1})], [make.amount("Dig", 2.0)])
    job = replace(JOB, settings=replace(JOB.settings, hour_value=4000, spending_limit=10000))
    found = compare_options(job, takeoff, options)
    assert found.best is not None
    assert found.best.priced is not None
    assert found.best.priced.cash == 40000
    assert found.fit is not None
    assert found.fit.priced is not None
    assert found.fit.priced.cash == 10000
    assert (found.fit.left_out, found.fit.more) == ((), 0.0)


@pytest.mark.parametrize(("count", "told"), [(12, True), (13, False)])
def test_a_dozen_names_are_told_to_one_who_knows_none(
    make: SimpleNamespace, count: int, told: bool
) -> None:
    names = [f"Sand {chr(ord('a') + n)}" for n in range(count)]
    takeoff = make.takeoff([], [make.amount("Dig", 2.0)], beddings=map(make.bedding, names))
    options = make.options(methods=[make.method("Dig", "by hand", 5.0)])
    planner = Planner(takeoff, options)
    with pytest.raises(UnknownPin) as said:
        read_pins(planner.situations(), {"bedding": "1234567890"})
    assert ("known: Sand a, " in str(said.value)) is told


def test_a_bedding_that_nobody_can_lay_is_passed_over(make: SimpleNamespace) -> None:
    """Bags of two sellers, one of whom gave no delivery fee, and a way to lay on sand alone."""
    takeoff = make.takeoff(
        [make.need("Bag", "Lay", {"count": 1})], [make.amount("Lay", 1.0)],
        beddings=[make.bedding("sand"), make.bedding("slag")],
    )  # fmt: skip
    options = make.options(
        offers=[make.offer("Bag", seller, 1000, measure="count", per="each") for seller in "NS"],
        routes=[make.drop("N", 500), make.drop("S", 0, priced=False)],
        methods=[make.method("Lay", "by hand", 1.0, bedding="sand")],
    )
    found = Planner(takeoff, options).best(2000.0)
    assert found is not None
    assert (found.priced.plan.bedding, found.priced.cash, found.gaps) == ("sand", 1500, 0)


def test_more_draws_need_no_calendar(dug: Comparison) -> None:
    found = more_draws(replace(dug, calendar=None), 10)
    assert (found.best, found.calendar) == (dug.best, None)


def test_nothing_is_left_out_of_a_job_that_cannot_be_done(make: SimpleNamespace) -> None:
    takeoff = make.takeoff([], [make.amount("Lay", 1.0)], optional=["Path"])
    planner = Planner(takeoff, make.options())
    leave_out(planner, {"Path": 100.0}, 2000.0)
    assert planner.best(2000.0) is None


def _standing(*plans: tuple[int, float]) -> list[Any]:
    return [SimpleNamespace(priced=SimpleNamespace(cash=c, own_hours=h)) for c, h in plans]


def test_plans_cross_only_where_one_takes_cash_and_the_other_hours() -> None:
    """10.00 and 4 h against 30.00 and 2 h: alike at 10.00 an hour."""
    one, dearer, *others = _standing(
        (1000, 4.0), (3000, 2.0), (3000, 5.0), (900, 2.0), (1000, 2.0), (3000, 4.0)
    )
    assert crossing(one, dearer) == 1000.0
    assert crossing(dearer, one) is None
    assert [crossing(one, other) for other in others] == [None] * 4


@pytest.mark.parametrize(
    ("plans", "kept"),
    [
        ([(0, 10.0), (1000, 9.5), (5000, 9.0)], 3),  # half an hour at 20.00 each, then at 80.00
        ([(0, 10.0), (500, 5.0), (1000, 0.0)], 2),  # all alike at 1.00 an hour, and nowhere else
        ([(0, 10.0), (500, 10.0), (1000, 2.0)], 2),  # dearer, and no fewer hours
    ],
)
def test_which_plans_are_best_somewhere(plans: list[tuple[int, float]], kept: int) -> None:
    standing = _standing(*plans)
    assert _envelope(standing[::-1]) == (standing if kept == 3 else [standing[0], standing[2]])


def test_a_plan_between_two_that_is_nowhere_best_is_passed_over() -> None:
    """Nothing and ten hours, or 1,000 and none, cost the same at 100 an hour: there 900 and nine
    hours come to 1,800."""
    plans = [
        SimpleNamespace(priced=SimpleNamespace(cash=cash, own_hours=hours))
        for cash, hours in ((0, 10.0), (900, 9.0), (1000, 0.0))
    ]
    assert _envelope(plans) == [plans[0], plans[2]]  # type: ignore[arg-type]


def _pathed(make: SimpleNamespace) -> Planner:
    """Sand for 90.00 or stone for 100.00; a path that may be left out takes 50.00 with sand."""
    needs = [
        make.need("Sand", "Bed", {"count": 1}, bedding="sand"),
        make.need("Stone", "Bed", {"count": 1}, bedding="stone"),
        make.need("Edge", "Bed", {"count": 1}, bedding="sand", part="Path", optional="Path"),
    ]
    offers = [
        make.offer(item, "North", cents, measure="count", per="each")
        for item, cents in (("Sand", 9000), ("Stone", 10000), ("Edge", 5000))
    ]
    takeoff = make.takeoff(
        needs, [make.amount("Lay", 1.0)], optional=["Path"],
        beddings=[make.bedding("sand"), make.bedding("stone")],
    )  # fmt: skip
    options = make.options(offers=offers, routes=[make.drop("North", 0)],
                           methods=[make.method("Lay", "by hand", 1.0)])  # fmt: skip
    return Planner(takeoff, options)


def test_a_plan_with_a_part_says_nothing_of_plans_without_it(make: SimpleNamespace) -> None:
    """Sand is 90.00 and stone 100.00. With the path sand takes 50.00 more: stone wins there, and
    sand still where the path is left out."""
    planner = _pathed(make)
    planner.leave_out(frozenset({"Path"}))
    found = [planner.best(2000.0, Pinned(kept=frozenset({"Path"}))), planner.best(2000.0)]
    assert [f and (f.priced.plan.bedding, f.priced.cash) for f in found] == [
        ("stone", 10000), ("sand", 9000),
    ]  # fmt: skip


def test_a_plan_with_a_part_says_nothing_of_plans_where_it_is_dropped(
    make: SimpleNamespace,
) -> None:
    """The same path kept: stone for 100.00. Where it is dropped sand, for 90.00."""
    planner = _pathed(make)
    found = [planner.best(2000.0), planner.best(2000.0, Pinned(dropped=frozenset({"Path"})))]
    assert [f and (f.priced.plan.bedding, f.priced.cash) for f in found] == [
        ("stone", 10000), ("sand", 9000),
    ]  # fmt: skip


@pytest.mark.parametrize("stopped", [LEAST_VALUE, 2000.0, MOST_VALUE, 3000.0])
def test_a_search_that_was_stopped_anywhere_leaves_the_frontier_open(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch, stopped: float
) -> None:
    """Ten hours or 300.00: alike at 30.00 an hour, where it is looked at once more."""
    options = make.options(
        methods=[make.method("Dig", "by hand", 5.0)], bids=[make.bid("Digger", ["Dig"], 30000)]
    )
    planner = Planner(make.takeoff([], [make.amount("Dig", 2.0)]), options)
    assert all(point.proved for point in frontier(planner, 2000.0))
    best = Planner.best

    def at(self: Planner, value: float) -> Solved | None:
        found = best(self, value)
        near = abs(value - stopped) < 1e-6 * stopped
        return replace(found, proved=False, gap=0.01) if found and near else found

    monkeypatch.setattr(Planner, "best", at)
    points = frontier(planner, 2000.0)
    assert [point.proved for point in points] == [False, False]


def test_open_days_are_assumed_of_sellers_that_are_used_and_say_nothing(
    make: SimpleNamespace,
) -> None:
    options = make.options(
        offers=[make.offer("Bag", "North", 100, measure="count", per="each")],
        routes=[make.drop("North", 0), make.drop("South", 0)],
        methods=[make.method("Dig", "by hand", 5.0)],
    )  # fmt: skip
    takeoff = make.takeoff([make.need("Bag", "Dig", {"count": 1})], [make.amount("Dig", 2.0)])
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    settings = replace(JOB.settings, start=dt.date(2026, 5, 2), as_of=dt.date(2026, 5, 2))
    given = {"open_days": ("Monday", "Friday")}

    def assumed(north: dict[str, tuple[str, ...]], south: dict[str, tuple[str, ...]]) -> bool:
        rows = (Supplier(place=Place("Suppliers", 2), supplier="North", **north),  # type: ignore[arg-type]
                Supplier(place=Place("Suppliers", 3), supplier="South", **south))  # type: ignore[arg-type]  # fmt: skip
        job = replace(JOB, settings=settings, suppliers=rows)
        found = schedule(job, takeoff, options, priced).assumed
        return "open days of sellers" in {a.what for a in found}

    assert assumed({}, given)
    assert not assumed(given, {})


def test_a_step_is_worth_its_share_by_the_fastest_own_way(make: SimpleNamespace) -> None:
    """Ten hours of digging by hand or four with the loader, and six of laying: of 100.00 for both
    40.00 are for digging. A barrow's hours say nothing of carrying, which is worth nothing there.
    """
    options = make.options(
        methods=[make.method("Dig", "by hand", 5.0), make.method("Dig", "loader", 2.0),
                 make.method("Lay", "by hand", 6.0), make.method("Carry", "barrow", 0.001)],
        bids=[make.bid("Firm", ["Dig", "Lay", "Carry"], 10000)],
    )  # fmt: skip
    takeoff = make.takeoff(
        [make.need("Stone", "Lay", {"mass": 500}, weight=500)],
        [make.amount("Dig", 2.0), make.amount("Lay", 1.0)],
    )
    found = worths(Situation(takeoff, options, "sand", frozenset()))
    assert found == pytest.approx({"Dig": 4000, "Lay": 6000, "Carry": 0})


def test_a_shape_without_a_size_of_its_own_is_not_the_largest() -> None:
    """Half a metre of slabs is larger than a shape of which no size is written."""
    areas = (
        Area(place=Place("Areas", 2), part="Yard", name="a", paver="Slab", length=0.5, width=0.5),
        Area(place=Place("Areas", 3), part="Yard", name="b", paver="Brick"),
    )
    (paving,) = (g for g in growths(replace(JOB, areas=areas), frozenset()) if g.what == "paving")
    assert paving.grown(1.0).areas[-1].paver == "Slab"
