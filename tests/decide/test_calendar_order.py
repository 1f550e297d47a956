"""What waits for what, prices that run out, and carrying: each worked out by hand."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.calendar.order import order_of
from budget.decide.calendar.schedule import schedule
from budget.decide.calendar.tasks import work_of
from budget.decide.terms.situation import Situation
from budget.job import CutPiece, Extra, Job, Place, Quote, Settings, Wall, Work
from budget.reference import coefficient

SATURDAY = dt.date(2026, 5, 2)
PLACE = Place("Job", 2)
JOB = Job(settings=Settings(place=PLACE, start=SATURDAY, as_of=dt.date(2026, 4, 1)))


def test_what_comes_first_of_two_prices_that_run_out(make: SimpleNamespace) -> None:
    """Work from Saturday 2 May, seen on 1 April: prices until 20 and 10 April and 9 May."""
    names = ("Bag", "Box", "Can")
    takeoff = make.takeoff(
        [make.need(name, "Base", {"count": 1}) for name in names], [make.amount("Base", 4.0)]
    )
    offers = [
        replace(make.offer(name, "North", 100, measure="count", per="each"), cell=f"Quotes!C{row}")
        for row, name in enumerate(names, 2)
    ]
    options = make.options(
        offers=offers, routes=[make.drop("North", 0)],
        methods=[make.method("Base", "by hand", 1.0)], hours_per_day=6,
    )  # fmt: skip
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    days = (dt.date(2026, 4, 20), dt.date(2026, 4, 10), dt.date(2026, 5, 9))
    quotes = tuple(
        Quote(place=Place("Quotes", row, {"price": "C"}), item=name, supplier="North", price=100,
              per="each", valid_until=until)
        for row, (name, until) in enumerate(zip(names, days, strict=True), 2)
    )  # fmt: skip
    (order,) = schedule(replace(JOB, quotes=quotes), takeoff, options, priced).orders
    assert order.expires == ("Bag", "Box")
    assert order.order == (dt.date(2026, 4, 10) - SATURDAY).days


def test_features_wait_for_the_joints_only_if_they_stand_on_the_paving(
    make: SimpleNamespace,
) -> None:
    steps = ("Base", "Lay", "Joint", "Build")
    takeoff = make.takeoff([], [make.amount(step, 1.0) for step in steps])
    situation = Situation(takeoff, make.options(), "sand", frozenset())

    def before(**rows: Any) -> dict[str, set[str]]:
        links = order_of(replace(JOB, **rows), situation, steps, {}).links
        return {step: {link.task for link in found} for step, found in links.items()}

    def others(found: dict[str, set[str]], step: str) -> dict[str, set[str]]:
        return {s: n for s, n in found.items() if s != step}

    bare = before()
    assert "Joint" not in bare["Build"]
    extra = Extra(place=PLACE, part="Terrace", item="Bowl", quantity=1)
    piece = CutPiece(place=PLACE, part="Bench", stock="2x4", length=1.0)
    wall = Wall(place=PLACE, part="Terrace", name="seat", unit="Block")
    standing = replace(wall, stands="on the paving")
    for rows in ({"extras": (extra,)}, {"pieces": (piece,)}, {"walls": (standing,)}):
        found = before(**rows)
        assert found["Build"] == {"Joint"}
        assert others(found, "Build") == others(bare, "Build")
    assert before(walls=(wall,)) == bare
    # what one step of the Work sheet comes after says nothing of the others
    said = before(work=(Work(place=PLACE, step="Joint", method="by hand", after=("Base",)),))
    assert said["Joint"] == {"Base"}
    assert others(said, "Joint") == others(bare, "Joint")


@pytest.mark.parametrize(
    ("method", "before", "wait"),
    [("By Hand", "Base", 30.0), ("roller", "Bed", 5.0), ("", "Base", 30.0), ("else", "Base", 30.0)],
)
def test_the_row_of_the_method_used_says_what_comes_before_and_how_long_to_wait(
    make: SimpleNamespace, method: str, before: str, wait: float
) -> None:
    """Of a step that is not done by a method of the sheet the first row by name says it."""
    steps = ("Base", "Bed", "Lay", "Joint")
    takeoff = make.takeoff([], [make.amount(step, 1.0) for step in steps])
    situation = Situation(takeoff, make.options(), "sand", frozenset())
    rows = (
        Work(place=PLACE, step="Lay", method="roller", after=("Bed",), wait=5.0),
        Work(place=PLACE, step="Lay", method="by hand", after=("Base",), wait=30.0),
        Work(place=PLACE, step="Joint", method="by hand", after=("Lay",)),
    )
    links = order_of(replace(JOB, work=rows), situation, steps, {"Lay": method}).links
    assert [link.task for link in links["Lay"]] == [before]
    assert [(link.task, link.wait) for link in links["Joint"]] == [("Lay", wait)]


def test_a_wait_of_nothing_that_is_given_is_kept(make: SimpleNamespace) -> None:
    """Polymeric joints are waited for as usual unless the sheet says that nobody waits."""
    steps = ("Joint", "Build")
    joint = replace(make.need("Joint sand", "Joint", {"mass": 20.0}), kind="polymeric sand")
    takeoff = make.takeoff([joint], [make.amount(step, 1.0) for step in steps])
    situation = Situation(takeoff, make.options(), "sand", frozenset())
    extra = Extra(place=PLACE, part="Terrace", item="Bowl", quantity=1)
    usual = coefficient("wait polymeric")
    for rows, wait, listed in (
        ((), usual.likely, [usual.what]),
        ((Work(place=PLACE, step="Joint", method="by hand", wait=0.0),), 0.0, []),
    ):
        job = replace(JOB, extras=(extra,), work=rows)
        found = order_of(job, situation, steps, {})
        assert [(k.task, k.wait) for k in found.links["Build"]] == [("Joint", wait)]
        assert [a.what for a in found.assumed] == listed


def test_carrying_runs_the_machine_for_every_load_and_a_crew_as_long_as_two_people(
    make: SimpleNamespace,
) -> None:
    """2,000 and 500 kg at 0.0005 h are 1.25 machine hours; 0.0008 h a kg by two are 1 h."""
    takeoff = make.takeoff(
        [make.need("Stone", "Base", {"mass": 2000}, weight=2000),
         make.need("Sand", "Lay", {"mass": 500}, weight=500)],
        [make.amount("Base", 1.0), make.amount("Lay", 1.0)],
    )  # fmt: skip
    options = make.options(
        offers=[make.offer("Stone", "North", 1, holds=1000, weight=1000),
                make.offer("Sand", "North", 1, holds=500, weight=500)],
        routes=[make.drop("North", 0)],
        methods=[
            make.method("Base", "by hand", 1.0), make.method("Lay", "by hand", 1.0),
            make.method("Carry", "loader", 0.0008, people=2, machine="Loader",
                        machine_rate=0.0005),
        ],
        bids=[make.bid("Carriers", ["Carry"], 9000)],
        machines=[make.machine("Loader", "borrow")], people=2,
    )  # fmt: skip
    situation = Situation(takeoff, options, "sand", frozenset())
    by_way = {p.plan.steps["Carry"][:3]: p for p in make.all_priced(situation)}
    own, hired = (
        [t for t in work_of(JOB, situation, by_way[way]).tasks if t.step == "Carry"]
        for way in ("own", "bid")
    )
    assert sum(t.machine_hours for t in own) == pytest.approx(1.25)
    assert sum(t.hours for t in hired) == pytest.approx(2500 * 0.0008 / 2)
