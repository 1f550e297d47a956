"""What a base costs its owner that a bid makes thinner than drawn, by hand.

5 cm are missing under 20 m²: 1 m³ of a base of 15 cm, a third of its stone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.terms.situation import Situation
from budget.decide.terms.thin import too_thin
from budget.prices.options import Options

STEPS = {"Dig": 4.0, "Spoil": 6.0, "Base": 3.0}


def charge(
    make: SimpleNamespace, options: Options, covered: Sequence[str], *,
    steps: Sequence[str] = tuple(STEPS), materials: bool = False, spoil: float = 6.0,
) -> tuple[float, float]:  # fmt: skip
    """Cents and own hours beside a bid for some steps, with a base of 10 cm."""
    crew = make.bid("Crew", covered, 90000, materials=materials)
    crew = replace(crew, base_depth=make.fig(0.10, make.DEPTH))
    takeoff = make.takeoff(
        [make.need("Stone", "Base", {"mass": 3000.0}, weight=3000.0)],
        [make.amount(step, STEPS[step]) for step in steps], spoil=spoil, base_depth=0.15,
    )  # fmt: skip
    situation = Situation(takeoff, replace(options, bids=(crew,)), "sand", frozenset())
    found = too_thin(situation, crew)
    assert found is not None
    assert found.depth == pytest.approx(0.05)
    return found.cash.value, found.hours.value


def test_who_digs_nothing_leaves_no_digging(make: SimpleNamespace) -> None:
    """An hour for the base, two for the dig of who was to dig, where there is any."""
    methods = [make.method("Base", "by hand", 1.0), make.method("Dig", "by hand", 2.0)]
    options = make.options(methods=methods)
    assert charge(make, options, ["Base"]) == (0, pytest.approx(1.0))
    assert charge(make, options, ["Dig", "Base"]) == (0, pytest.approx(3.0))
    assert charge(make, options, ["Dig", "Base"], steps=["Base"]) == (0, pytest.approx(1.0))


def test_its_soil_goes_the_cheapest_way(make: SimpleNamespace) -> None:
    """1.5 m³ loose: a box for 100.00, or for 80.00 and 0.1 h a cubic metre, at 20.00 an hour."""
    methods = [make.method("Base", "by hand", 1.0), make.method("Dig", "by hand", 2.0)]
    box, near = make.disposal("box", 10000), make.disposal("near", 8000, hours=0.1)
    options = make.options(methods=methods, disposal=[box, near])
    covered = ["Dig", "Spoil", "Base"]
    assert charge(make, options, covered, steps=["Dig", "Base"]) == (8000, pytest.approx(3.15))
    dear = make.options(methods=methods, disposal=[box, near], hour_value=20000)
    assert charge(make, dear, covered, steps=["Dig", "Base"]) == (10000, pytest.approx(3.0))
    assert charge(make, options, ["Dig", "Base"]) == (0, pytest.approx(3.0))  # spoil is not theirs


@pytest.mark.parametrize(
    ("value", "cash", "hours"), [(8000, 0, 1.0), (9000, 7000, 0.2), (0, 0, 1.0)]
)
def test_it_is_placed_the_way_that_costs_least(
    make: SimpleNamespace, value: float, cash: int, hours: float
) -> None:
    """An hour by hand, or 0.2 h with a plate for 70.00 a day: 0.8 h less, from 87.50 an hour on.

    A plate that does not fit through the way in is none.
    """
    methods = [make.method("Base", "by hand", 1.0)]
    methods.append(make.method("Base", "plate", 0.2, machine="Plate"))
    plates = [
        make.machine("Plate", "rent", terms=[("day", 7000, 1)]),
        make.machine("Plate", "dear", terms=[("day", 7500, 1)]),
        make.machine("Plate", "wide", terms=[("day", 100, 1)], fits=False),
    ]
    options = make.options(methods=methods, machines=plates, hour_value=value)
    assert charge(make, options, ["Base"]) == (cash, pytest.approx(hours))
    alone = make.options(methods=methods, machines=plates[2:], hour_value=value)
    assert charge(make, alone, ["Base"]) == (0, pytest.approx(1.0))


def test_a_paid_helper_takes_half_of_it(make: SimpleNamespace) -> None:
    """Half an hour each, at 18.00: 9.00."""
    methods = [make.method("Base", "by hand", 1.0, people=2)]
    options = make.options(methods=methods, paid_helpers=1, helper_pay=1800)
    assert charge(make, options, ["Base"]) == (900, pytest.approx(0.5))


def test_its_stone_is_bought_of_the_cheapest_and_carried(make: SimpleNamespace) -> None:
    """A tonne of North is 30.00 and 60.00 to bring it, of South 50.00 and 20.00, and 0.1 h to
    pick out stones.

    By barrow 0.001 h a kilogram and 15 m of 0.00002 h: 1.3 h; by sacks 2.0 h.
    """
    stone = {"holds": 1000, "per": "tonne", "weight": 1000, "bulk": True}
    methods = [
        make.method("Base", "by hand", 1.0), make.method("Carry", "sacks", 0.002),
        make.method("Carry", "barrow", 0.001, walk=0.00002),
    ]  # fmt: skip
    options = make.options(
        offers=[
            make.offer("Stone", "North", 3000, **stone),
            make.offer("Stone", "South", 5000, picking=0.1, **stone),
        ],
        routes=[make.drop("North", 6000), make.drop("South", 2000)], methods=methods,
    )  # fmt: skip
    assert charge(make, options, ["Base"]) == (0, pytest.approx(1.0))  # the stone is the owner's
    with_stone = charge(make, options, ["Base"], materials=True)
    assert with_stone == (7000, pytest.approx(1.0 + 0.1 + 1.3))
    carried = charge(make, options, ["Base", "Carry"], materials=True)
    assert carried == (7000, pytest.approx(1.0 + 0.1))


def test_a_helper_whose_pay_nobody_told_costs_nothing_yet(make: SimpleNamespace) -> None:
    methods = [make.method("Base", "by hand", 1.0, people=2)]
    options = make.options(methods=methods, paid_helpers=1)
    assert charge(make, options, ["Base"]) == (0, pytest.approx(0.5))


def test_its_stone_is_fetched_in_own_time(make: SimpleNamespace) -> None:
    """A trip of an hour and 5.00 of road, and 0.002 h a kilogram to load: three hours."""
    stone = make.offer("Stone", "North", 3000, holds=1000, per="tonne", weight=1000, bulk=True)
    options = make.options(
        offers=[stone], routes=[make.haul("North", 1500)],
        methods=[make.method("Base", "by hand", 1.0)],
    )  # fmt: skip
    found = charge(make, options, ["Base"], materials=True)
    assert found == (3500, pytest.approx(1.0 + 3.0))


@pytest.mark.parametrize(
    ("covered", "depth", "steps"),
    [
        (["Base"], None, ["Base"]),  # the bid does not say
        (["Base"], 0.15, ["Base"]),  # as deep as drawn
        (["Dig"], 0.10, ["Dig", "Base"]),  # the base is none of its work
        (["Base"], 0.10, ["Dig"]),  # there is none in this job
    ],
)
def test_nothing_is_left_out_of_a_base_that_is_no_thinner(
    make: SimpleNamespace, covered: Sequence[str], depth: float | None, steps: Sequence[str]
) -> None:
    told = None if depth is None else make.fig(depth, make.DEPTH)
    crew = replace(make.bid("Crew", covered, 90000), base_depth=told)
    options = make.options(methods=[make.method("Base", "by hand", 1.0)], bids=[crew])
    amounts = [make.amount(step, STEPS[step]) for step in steps]
    takeoff = make.takeoff([], amounts, base_depth=0.15)
    assert too_thin(Situation(takeoff, options, "sand", frozenset()), crew) is None


@pytest.mark.parametrize(("kept", "hours", "depth"), [(True, 3.0, 0.10), (False, 1.0, 0.05)])
def test_each_part_lacks_what_it_lacks(
    make: SimpleNamespace, kept: bool, hours: float, depth: float
) -> None:
    """A terrace lacks 5 cm and 3,000 kg of stone a third; a drive that may be left out lacks
    10 cm of 20 and 4,000 kg half; a path is no deeper than the bid makes it, and a bed has no base.

    Each is 20 m²: 1 m³ and 2 m³, an hour each. A tonne is 10.00.
    """
    parts = ("Terrace", "Drive", "Path", "Bed")
    drawn = dict(zip(parts, (0.15, 0.20, 0.10, None), strict=True))
    needs = [
        make.need("Stone", "Base", {"mass": kg}, part=part, optional=optional)
        for part, kg, optional in (
            ("Terrace", 3000.0, ""),
            ("Drive", 4000.0, "Drive"),
            ("Path", 2000.0, ""),
        )
    ]
    others = [make.need(item, "Base", {"mass": 9000.0}) for item in ("Cloth", "Coping")]
    needs += [replace(others[0], kind="geotextile"), replace(others[1], what="wall")]
    needs.append(make.need("Stone", "Lay", {"mass": 7000.0}))
    takeoff = make.takeoff(needs, [make.amount("Base", 3.0)], optional=parts[1:])
    known = tuple(
        replace(
            part, optional=part.part == "Drive",
            base_depth=depth and make.fig(depth, make.DEPTH),
        )
        for part in takeoff.parts
        for depth in [drawn[part.part]]
    )  # fmt: skip
    crew = replace(
        make.bid("Crew", ["Base"], 90000, materials=True), base_depth=make.fig(0.1, make.DEPTH)
    )
    options = make.options(
        offers=[
            make.offer(item, "North", 1000, holds=1000, per="tonne")
            for item in ("Stone", "Cloth", "Coping")
        ],
        routes=[make.drop("North", 0)], methods=[make.method("Base", "by hand", 1.0)], bids=[crew],
    )  # fmt: skip
    there = frozenset(("Drive",)) if kept else frozenset[str]()
    found = too_thin(Situation(replace(takeoff, parts=known), options, "sand", there), crew)
    assert found is not None
    assert found.hours.value == pytest.approx(hours)
    assert found.depth == pytest.approx(depth)
    assert found.cash.value == (3000 if kept else 1000)
