"""The tasks that a plan consists of, and whose hours and machines each has: by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.calendar.network import Task
from budget.decide.calendar.tasks import work_of
from budget.decide.plan import Priced
from budget.decide.terms.situation import Situation
from budget.job import Bid, Job, Place, Settings

PLACE = Place("Job", 2)
JOB = Job(settings=Settings(place=PLACE))


def tasks_of(
    make: SimpleNamespace, steps: Mapping[str, float], *, goods: Sequence[Any] = (),
    job: Job = JOB, spoil: float = 0.0, hired: Sequence[str] = (), **options: Any,
) -> tuple[dict[str, Task], Priced]:  # fmt: skip
    """The tasks of the one plan that hires just those steps, by name.

    Goods are an item, its seller, the step that uses it, its kilograms (None: not known) and the
    hours of picking stones out of it.
    """
    needs = [
        make.need(item, step, {"count": 1}, weight=weight) for item, _, step, weight, _ in goods
    ]
    offers = [
        make.offer(item, seller, 100, measure="count", per="each", weight=weight, picking=picking)
        for item, seller, _, weight, picking in goods
    ]
    takeoff = make.takeoff(needs, [make.amount(s, n) for s, n in steps.items()], spoil=spoil)
    built = make.options(offers=offers, **options)
    situation = Situation(takeoff, built, "sand", frozenset())
    (priced,) = (
        p for p in make.all_priced(situation)
        if {s for s, way in p.plan.steps.items() if way.startswith("bid")} == set(hired)
    )  # fmt: skip
    found = work_of(job, situation, priced).tasks
    assert sum(t.own_hours for t in found) == pytest.approx(priced.own_hours)
    return {t.name: t for t in found}, priced


def links(task: Task) -> list[str]:
    return [link.task for link in task.after]


def test_goods_are_fetched_then_carried_then_picked_through_just_before_their_step(
    make: SimpleNamespace,
) -> None:
    """Gravel for the bed from North, fetched in 2 trips of 1.5 h and 2 h of loading; stone for the
    base from South and caps from West, both brought."""
    found, _ = tasks_of(
        make, {"Base": 2.0, "Edge": 3.0, "Bed": 5.0, "Build": 7.0},
        goods=[("Gravel", "North", "Bed", 1000, 0.25), ("Stone", "South", "Base", 3000, None),
               ("Cap", "West", "Build", None, None)],
        routes=[make.haul("North", 900, hours=1.5, handling=0.002), make.drop("South", 0),
                make.drop("West", 0)],
        methods=[*(make.method(s, "by hand", 0.1) for s in ("Base", "Edge", "Bed", "Build")),
                 make.method("Carry", "barrow", 0.001)],
    )  # fmt: skip
    fetch, pick = found["Fetch from North"], found["Picking stones out of Gravel"]
    assert (fetch.hours, fetch.own_hours, fetch.how) == (5.0, 5.0, "2 trips")
    assert (pick.hours, pick.how) == (0.25, "own hands")
    # 4,000 kg at 0.001 h; caps of unknown weight take no time
    carrying = {t.name: t for t in found.values() if t.step == "Carry"}
    assert {name: t.hours for name, t in carrying.items()} == {
        "Carry for Base": 3.0, "Carry for Bed": 1.0,
    }  # fmt: skip
    assert all((t.machine, t.machine_hours) == ("", 0.0) for t in found.values())
    # each just before its step, in this order, and after the step before
    in_turn = ["Edge", "Fetch from North", "Carry for Bed", "Picking stones out of Gravel", "Bed"]
    orders = [found[name].order for name in in_turn]
    assert orders == sorted(set(orders))
    assert [links(found[name]) for name in in_turn[1:4]] == [
        [], ["Fetch from North"], ["Fetch from North", "Carry for Bed"],
    ]  # fmt: skip
    assert set(in_turn[1:4]) < set(links(found["Bed"]))
    for step, goods in (("Base", ("South",)), ("Edge", ()), ("Build", ("West",))):
        assert not set(links(found[step])) & {"Fetch from North", in_turn[3]}
        assert found[step].goods == goods
    assert found["Carry for Base"].goods == ("South",)
    assert found["Bed"].goods == found["Carry for Bed"].goods == ()


def test_picking_waits_for_no_carrying_that_is_not_there(make: SimpleNamespace) -> None:
    found, _ = tasks_of(
        make, {"Bed": 5.0}, goods=[("Gravel", "North", "Bed", None, 0.25)],
        routes=[make.drop("North", 0)], methods=[make.method("Bed", "by hand", 0.1)],
    )  # fmt: skip
    pick = found["Picking stones out of Gravel"]
    assert (links(pick), pick.goods) == ([], ("North",))


def test_what_takes_no_time_is_still_on_the_calendar(make: SimpleNamespace) -> None:
    """Fetched and carried in no hours at all."""
    found, priced = tasks_of(
        make, {"Base": 2.0}, goods=[("Stone", "North", "Base", 500, None)],
        routes=[make.haul("North", 900, hours=0.0, handling=0.0)],
        methods=[make.method("Base", "by hand", 0.2), make.method("Carry", "barrow", 0.0)],
    )  # fmt: skip
    assert priced.own_hours == pytest.approx(0.4)
    for name in ("Fetch from North", "Carry for Base"):
        task = found[name]
        assert (task.hours, task.own_hours, task.machine_hours) == (0.0, 0.0, 0.0)
    assert found["Fetch from North"].how == ""


def test_sellers_of_one_hired_vehicle_are_fetched_from_before_the_first_step_of_all(
    make: SimpleNamespace,
) -> None:
    """South's stone is for the base; North's sand, for the bed, comes in the same round."""
    van: dict[str, Any] = {"vehicle": "Van", "hire": 6000, "hours": 1.0, "handling": 0.0}
    found, _ = tasks_of(
        make, {"Base": 2.0, "Bed": 3.0},
        goods=[("Sand", "North", "Bed", 300, None), ("Stone", "South", "Base", 300, None)],
        routes=[make.haul("North", 900, **van), make.haul("South", 900, **van)],
        methods=[make.method("Base", "by hand", 0.2), make.method("Bed", "by hand", 0.2),
                 make.method("Carry", "barrow", 0.001)],
    )  # fmt: skip
    orders = {found[f"Fetch from {s}"].order for s in ("North", "South")}
    assert len(orders) == 1
    assert max(orders) < found["Carry for Base"].order < found["Base"].order


@pytest.mark.parametrize("seller", ["North", "Fetch from here"])
def test_hours_of_fetching_are_there_once_whatever_the_seller_is_called(
    make: SimpleNamespace, seller: str
) -> None:
    found, _ = tasks_of(
        make, {"Base": 2.0}, goods=[("Stone", seller, "Base", 500, None)],
        routes=[make.haul(seller, 900, hours=1.5, handling=0.0)],
        methods=[make.method("Base", "by hand", 0.2), make.method("Carry", "barrow", 0.001)],
    )  # fmt: skip
    assert set(found) == {f"Fetch from {seller}", "Carry for Base", "Base"}


@pytest.mark.parametrize(
    ("rate", "hours"),
    [(0.0005, 1.0), (0.0002, 0.6)],  # h a kilogram of the loader
)
def test_carrying_lasts_as_long_as_people_or_the_machine_do(
    make: SimpleNamespace, rate: float, hours: float
) -> None:
    """2,000 kg at 0.0003 h are 0.6 h of one; the bowl, of unknown weight, adds nothing."""
    found, _ = tasks_of(
        make, {"Base": 1.0, "Build": 1.0},
        goods=[("Stone", "North", "Base", 2000, None), ("Bowl", "North", "Build", None, None)],
        routes=[make.drop("North", 0)], machines=[make.machine("Loader", "borrow")],
        methods=[make.method("Base", "by hand", 1.0), make.method("Build", "by hand", 1.0),
                 make.method("Carry", "loader", 0.0003, machine="Loader", machine_rate=rate)],
    )  # fmt: skip
    carry = found["Carry for Base"]
    assert (carry.machine, carry.hours) == ("Loader", pytest.approx(hours))
    assert (carry.own_hours, carry.machine_hours) == pytest.approx((0.6, 2000 * rate))


@pytest.mark.parametrize(("rate", "hours"), [(3.0, 12.0), (1.5, 8.0)])
def test_a_step_lasts_as_long_as_people_or_the_machine_do(
    make: SimpleNamespace, rate: float, hours: float
) -> None:
    """4 m³ of base at 2 h for one; digging 0.3 m³ takes 0.6 h and no machine."""
    found, _ = tasks_of(
        make, {"Dig": 0.3, "Base": 4.0}, machines=[make.machine("Plate", "borrow")],
        methods=[make.method("Dig", "by hand", 2.0),
                 make.method("Base", "plate", 2.0, machine="Plate", machine_rate=rate)],
    )  # fmt: skip
    told = {n: (t.hours, t.own_hours, t.machine, t.machine_hours) for n, t in found.items()}
    assert told == {"Dig": (0.6, 0.6, "", 0.0), "Base": (hours, 8.0, "Plate", 4.0 * rate)}


@pytest.mark.parametrize("brings", [True, False])
def test_a_crew_without_machines_is_lent_that_of_the_fastest_way(
    make: SimpleNamespace, brings: bool
) -> None:
    """Of 4 m³ the plate runs 0.75 h each; the digging has a spade alone."""
    found, _ = tasks_of(
        make, {"Dig": 3.0, "Base": 4.0}, hired=("Dig", "Base"),
        machines=[make.machine("Plate", "borrow"), make.machine("Roller", "borrow")],
        methods=[make.method("Dig", "by hand", 2.0), make.method("Base", "by hand", 1.0),
                 make.method("Base", "roller", 3.0, machine="Roller", machine_rate=0.5),
                 make.method("Base", "plate", 2.0, machine="Plate", machine_rate=0.75)],
        bids=[make.bid("Crew", ["Dig", "Base"], 5000, equipment=brings)],
    )  # fmt: skip
    lent = ("", 0.0) if brings else ("Plate", 3.0)
    told = {n: (t.own_hours, t.machine, t.machine_hours) for n, t in found.items()}
    assert told == {"Dig": (0.0, "", 0.0), "Base": (0.0, *lent)}


def test_days_of_a_crew_are_parted_evenly_where_nobody_knows_its_steps(
    make: SimpleNamespace,
) -> None:
    """Three days of eight hours for two steps that have no way of one's own."""
    row = Bid(place=PLACE, bid="Crew", steps=("Dig", "Base"), work_days=3.0)
    found, _ = tasks_of(
        make, {"Dig": 3.0, "Base": 4.0}, hired=("Dig", "Base"),
        bids=[make.bid("Crew", ["Dig", "Base"], 5000)],
        job=Job(settings=JOB.settings, bids=(row,)),
    )  # fmt: skip
    assert {n: t.hours for n, t in found.items()} == {"Dig": 12.0, "Base": 12.0}


@pytest.mark.parametrize(
    ("ways", "hours"),
    [([("barrow", 2.0, 1), ("sack", 3.0, 2)], 0.75), ([("barrow", 2.0, 1)], 1.0), ([], 0.0)],
)
def test_a_crew_carries_as_fast_as_the_fastest_way_however_little(
    make: SimpleNamespace, ways: Sequence[tuple[str, float, int]], hours: float
) -> None:
    """A bowl of half a kilogram: 2 h a kilogram for one, or 3 h for two."""
    found, _ = tasks_of(
        make, {"Build": 1.0}, goods=[("Bowl", "North", "Build", 0.5, None)], hired=("Carry",),
        routes=[make.drop("North", 0)], bids=[make.bid("Carriers", ["Carry"], 900)], people=2,
        methods=[make.method("Build", "by hand", 1.0),
                 *(make.method("Carry", name, rate, people=n) for name, rate, n in ways)],
    )  # fmt: skip
    assert found["Carry for Build"].hours == pytest.approx(hours)


def test_calls_and_checks_follow_the_last_that_the_crew_does(make: SimpleNamespace) -> None:
    """Two crews; three hours of calls for one of them hold nothing up."""
    found, _ = tasks_of(
        make, {"Dig": 3.0, "Base": 4.0, "Lay": 2.0, "Joint": 2.0},
        hired=("Dig", "Base", "Lay"),
        methods=[make.method("Joint", "by hand", 1.0)],
        bids=[make.bid("Ground crew", ["Dig", "Base"], 5000, supervise=3.0),
              make.bid("Pavers", ["Lay"], 9000)],
    )  # fmt: skip
    calls = found["Supervise Ground crew"]
    assert (calls.hours, calls.own_hours, calls.who) == (0.0, 3.0, "")
    assert links(calls) == ["Base"]
    assert calls.order == found["Base"].order
    assert "Supervise Pavers" not in found


def test_the_soil_is_driven_off_after_it_is_carried_off_and_before_the_next(
    make: SimpleNamespace,
) -> None:
    found, _ = tasks_of(
        make, {"Dig": 3.0, "Spoil": 4.0, "Fabric": 5.0}, spoil=4.0,
        methods=[make.method(s, "by hand", 0.5) for s in ("Dig", "Spoil", "Fabric")],
        disposal=[make.disposal("trips", 2000, hours=0.5)],
    )  # fmt: skip
    trips = found["Spoil disposal"]
    assert (trips.hours, links(trips)) == (2.0, ["Spoil"])
    assert found["Spoil"].order < trips.order < found["Fabric"].order
