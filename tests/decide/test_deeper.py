"""Margins worked out by hand; bids and trades against plain enumeration of every plan."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide import compare_options
from budget.decide.brief import plan_briefly
from budget.decide.deeper import bids_alike, deepen
from budget.decide.outcome import Comparison
from budget.decide.plan import Priced
from budget.decide.terms.situation import Situation
from budget.decide.thorough.alike import Alike, Fill, Spread, _fills, _gap, _hourly, spreads
from budget.decide.thorough.growing import between, growths, lay_out
from budget.decide.thorough.leftover import Left
from budget.decide.thorough.margins import Margin, margins
from budget.job import Area, Bid, BuildUp, Disposal, Job, Place, Product, Quote, Settings, Wall
from budget.prices.options import Options
from budget.quantities import take_off
from budget.quantities.takeoff import Takeoff

HOUR = 2000


def place(sheet: str, row: int = 2) -> Place:
    return Place(sheet, row)


def yard(*, holds: float = 1.0, bids: tuple[Bid, ...] = ()) -> Job:
    """A yard of 5 by 4 m: slabs at 30.00 a square metre, stone at 20.00 a tonne."""
    area = Area(
        place=place("Areas"), part="Yard", name="Yard", length=5.0, width=4.0, paver="Slab",
        pattern="running bond", build_up="Layers",
    )  # fmt: skip
    layers = BuildUp(
        place=place("Build-up"), name="Layers", base_depth=0.10, overrun=0.15, bedding="sand",
        geotextile=False, restraint="none",
    )  # fmt: skip
    quotes = (
        Quote(place=place("Quotes", 2), item="Slab", supplier="North", price=3000 * holds,
              per="m²", measure="area", holds=holds, taxed=False),
        Quote(place=place("Quotes", 3), item="Base stone", supplier="North", price=2000,
              per="tonne", measure="mass", holds=1000.0, taxed=False),
    )  # fmt: skip
    settings = Settings(place=place("Job"), units="metric", currency="EUR", hour_value=HOUR)
    return Job(settings=settings, areas=(area,), build_ups=(layers,), quotes=quotes, bids=bids)


def plan_and_margins(job: Job) -> dict[str, Margin]:
    best = plan_briefly(job, every=False).best
    assert best is not None
    assert best.priced is not None
    return {m.what: m for m in margins(job, best.priced.plan, lay_out(job))}


def stone(job: Job) -> float:
    """Kilograms of base stone to order."""
    return sum(n.measures["mass"].value for n in take_off(job).needs if n.item == "Base stone")


def deeper_yard(job: Job, metres: float) -> Job:
    return replace(job, build_ups=(replace(job.build_ups[0], base_depth=0.10 + metres),))


def test_one_more_square_metre_by_hand() -> None:
    found = plan_and_margins(yard())["paving"]
    # 5 % for running bond: 1.05 slabs of 30.00. The stone under it: 0.10 m compacted, as
    # much of that in proportion as lies under the 4 by 5 m and its overrun of 0.15 m.
    under = stone(yard()) / ((5.0 + 0.3) * (4.0 + 0.3)) / 1000 * 2000
    assert found.smooth == pytest.approx(1.05 * 3000 + under, abs=2)


def test_the_next_pack_by_hand() -> None:
    """20 m² and 5 % are 21.0 m²: 3 crates of 8 m², of which 3 m² are left over."""
    found = plan_and_margins(yard(holds=8.0))["paving"]
    crates = [j for j in found.jumps if j.line == "Slab"]
    assert len(crates) == 1
    assert crates[0].cash == 8 * 3000
    # 3 m² left over hold 3 / 1.05 = 2.857 m² more, seen in steps of 0.05 m²
    assert crates[0].after == pytest.approx(2.85, abs=1e-6)


def test_an_inch_of_base_brings_its_dig() -> None:
    found = plan_and_margins(yard())["base"]
    job = yard()
    tonnes = (stone(deeper_yard(job, 0.05)) - stone(job)) / 5 / 1000
    dug = [
        sum(s.amount.value for s in take_off(j).steps if s.step == "Dig")
        for j in (job, deeper_yard(job, 0.05))
    ]
    assert found.unit == "cm"
    assert found.smooth == pytest.approx(tonnes * 2000, abs=2)
    assert dug[1] > dug[0]
    assert found.hours > 0


def test_bids_for_a_lump_sum_are_named_beside_the_margin() -> None:
    """Digging for 1.00 in all, and the base for 0.01 a cubic metre: the first stays as it is."""
    both = (
        Bid(place=place("Bids"), bid="Diggers", steps=("Dig",), price=100),
        Bid(place=place("Bids", 3), bid="Layers", steps=("Base",), price=1, basis="per unit",
            unit="m³"),
    )  # fmt: skip
    found = plan_and_margins(yard(bids=both))["base"]
    assert found.lump == ("Diggers",)


def walled(length: float = 3.0, part: str = "Yard") -> Job:
    """The yard with a wall of blocks of 0.40 by 0.15 m at 4.00, three courses high."""
    wall = Wall(
        place=place("Walls"), part=part, name="Seat wall", kind="wall", length=length,
        height=0.45, unit="Block", buried=0,
    )  # fmt: skip
    block = Product(
        place=place("Products"), item="Block", kind="wall block", length=0.4, width=0.2,
        height=0.15,
    )  # fmt: skip
    quote = Quote(place=place("Quotes", 4), item="Block", supplier="North", price=400, per="each",
                  measure="count", holds=1.0, taxed=False)  # fmt: skip
    plain = yard()
    return replace(plain, walls=(wall,), products=(block,), quotes=(*plain.quotes, quote))


def test_a_metre_more_of_wall_by_hand() -> None:
    """Over three metres more: 3 courses of 15 blocks where 3 of 8 stood, 5 % more to order."""
    found = plan_and_margins(walled())["wall"]
    blocks = 3 * (15 - 8) * 1.05 / 3
    tonnes = (stone(walled(6.0)) - stone(walled())) / 3 / 1000
    assert (found.unit, found.subject) == ("m", "Seat wall")
    assert found.smooth == pytest.approx(blocks * 400 + tonnes * 2000, abs=2)
    assert found.hours > 0


def test_between_one_metre_more_and_the_last_blocks_lie_in_proportion() -> None:
    """Pallets of 33: three courses of 8 are 25.2 with 5 %, of 10 at one metre, of 15 at three.

    33 / 1.05 / 3 are 10.476 a course, so 0.476 more than at one metre, at 2.5 a metre: 1.19 m.
    """
    job = walled()
    pallet = replace(job.quotes[2], holds=33.0, per="pallet", price=13200)
    found = plan_and_margins(replace(job, quotes=(*job.quotes[:2], pallet)))["wall"]
    (jump,) = (j for j in found.jumps if j.line == "Block")
    assert (jump.after, jump.cash) == (pytest.approx(1.1), 13200)


def test_how_far_each_thing_is_followed() -> None:
    """Some square metres, some centimetres of base, some metres of wall; or feet and inches."""
    metric = walled()
    settings = replace(metric.settings, units="imperial")
    found = [
        {g.what: (g.unit, g.span, g.grain) for g in growths(job, frozenset())}
        for job in (metric, replace(metric, settings=settings))
    ]
    assert found == [
        {"paving": ("m²", 4, 0.05), "base": ("cm", 5, 0.05), "wall": ("m", 3, 0.1)},
        {"paving": ("sq ft", 40, 0.5), "base": ("in", 2, 0.05), "wall": ("ft", 8, 0.25)},
    ]


@pytest.mark.parametrize(
    ("units", "area", "depth", "length"),
    [
        ("metric", 3.0, 0.03, 3.0),
        ("imperial", 3 * 0.09290304, 3 * 0.0254, 3 * 0.3048),  # NIST Handbook 44, Appendix C
    ],
)
def test_three_units_more_of_each(units: str, area: float, depth: float, length: float) -> None:
    """Of a yard 5 m long and a wall of 3 m on a base of 10 cm."""
    job = walled()
    job = replace(job, settings=replace(job.settings, units=units))  # type: ignore[arg-type]
    more = {growth.what: growth.grown(3.0) for growth in growths(job, frozenset())}
    assert more["paving"].areas[:-1] == job.areas
    assert more["paving"].areas[-1].area == pytest.approx(area)
    assert more["base"].build_ups[0].base_depth == pytest.approx(0.10 + depth)
    assert more["wall"].walls[0].length == pytest.approx(3.0 + length)


def test_more_paving_is_as_the_largest_shape_of_its_part() -> None:
    """Of 20 m², beside a strip that is longer, a patch of 19 m² and a cut-out."""
    yard_ = walled().areas[0]
    others = (
        {"length": 9.0, "width": 1.0}, {"shape": "measured", "area": 19.0, "perimeter": 18.0},
        {"length": 5.5, "width": 4.0, "cut_out": True},
    )  # fmt: skip
    rows = tuple(
        replace(yard_, place=place("Areas", 3 + n), name=f"Part {n}", paver=f"Brick {n}", **other)  # type: ignore[arg-type]
        for n, other in enumerate(others)
    )
    job = replace(walled(), areas=(*rows, yard_))
    (paving,) = (g for g in growths(job, frozenset()) if g.what == "paving")
    assert (paving.subject, paving.grown(1.0).areas[-1].paver) == ("Yard", "Slab")


def test_a_wall_of_a_part_left_out_does_not_grow() -> None:
    bench = Area(
        place=place("Areas", 3), part="Bench", name="Bench", length=1.0, width=1.0, paver="Slab",
        pattern="running bond", build_up="Layers", optional=True, worth=0.0,
    )  # fmt: skip
    job = walled(part="Bench")
    job = replace(job, areas=(*job.areas, bench))
    assert {(g.what, g.subject) for g in growths(job, frozenset())} == {
        ("paving", "Yard"), ("base", "Layers"),
    }  # fmt: skip
    assert {(g.what, g.subject) for g in growths(job, frozenset(["Bench"]))} == {
        ("paving", "Yard"), ("paving", "Bench"), ("base", "Layers"), ("wall", "Seat wall"),
    }  # fmt: skip


def test_quantities_between_lie_in_proportion(make: SimpleNamespace) -> None:
    small = make.takeoff([make.need("Stone", "Base", {"mass": 1000})], [make.amount("Base", 2.0)])
    large = make.takeoff(
        [
            make.need("Stone", "Base", {"mass": 3000}),
            make.need("Slab", "Lay", {"count": 8}, part="New"),
        ],
        [make.amount("Base", 4.0)],
    )
    found = between(small, large, 0.25)
    assert {n.item: n.order.value for n in found.needs} == {"Stone": 1500, "Slab": 2}
    assert [s.amount.value for s in found.steps] == [2.5]


def test_needs_of_one_name_are_told_apart(make: SimpleNamespace) -> None:
    """Stone under the paving and under a wall of the same part: 1000 and 200 kg, then more."""
    small, large = (
        make.takeoff([make.need("Stone", "Base", {"mass": m}) for m in masses], [])
        for masses in ((1000, 200), (1400, 300))
    )
    assert [n.order.value for n in between(small, large, 0.5).needs] == [1200, 250]
    assert [n.order.value for n in between(small, large, 0.0).needs] == [1000, 200]


def test_a_thin_base_is_filled_at_what_the_missing_depth_costs() -> None:
    def bid(depth: float | None) -> Job:
        row = Bid(
            place=place("Bids"), bid="Base laid", steps=("Dig", "Base"), price=90000,
            materials=True, supervise=1.0, base_depth=depth,
        )  # fmt: skip
        return yard(bids=(row,))

    def gaps(depth: float | None) -> dict[str, tuple[int, float]]:
        found = bids_alike(bid(depth))[1][0]
        assert found.cash == found.price + sum(f.cash for f in found.fills)
        return {f.gap: (f.cash, f.hours) for f in found.fills}

    missing = (stone(yard()) - stone(deeper_yard(yard(), -0.02))) / 1000
    cash, hours = gaps(0.08)["Base too thin"]
    assert cash == math.ceil(missing) * 2000  # an order of its own, in whole tonnes
    # 0.02 m under 5.3 by 4.3 m, dug, laid and carried in at the fastest own pace of each
    options = lay_out(yard()).options
    [dig], [base] = options.methods["Dig"], options.methods["Base"]
    pace = sum(m.rate.value * (1 + m.reworked.value) for m in (dig, base) if m.reworked)
    carry = min(
        m.rate.value + (m.walk.value * options.carry["drive"].value if m.walk else 0.0)
        for m in options.methods["Carry"]
    )
    volume, brought = 0.02 * 5.3 * 4.3, math.ceil(missing) * 1000
    assert hours == pytest.approx(volume * pace + brought * carry)
    assert "Base too thin" not in gaps(0.10)
    assert "Base too thin" not in gaps(None)


def test_a_bid_that_leaves_the_soil_is_filled_with_what_taking_it_away_costs() -> None:
    """Boxes of 5 m³ at 200.00 for the loose soil; the slabs are 21 m² at 30.00."""
    row = Bid(place=place("Bids"), bid="Base laid", steps=("Dig", "Base"), price=90000,
              materials=True)  # fmt: skip
    box = Disposal(place=place("Disposal"), way="Box", kind="box", price=20000, volume=5.0)
    job = replace(yard(bids=(row,)), disposal=(box,))
    soil = sum(s.amount.value for s in take_off(job).spoil)
    (found,) = bids_alike(job)[1]
    fills = {f.gap: f.cash for f in found.fills}
    assert fills["Soil to be rid of"] == math.ceil(soil / 5.0) * 20000
    assert fills["Materials of the other steps"] == 21 * 3000
    assert fills["Work it leaves"] == 0
    how = {f.gap: f.how for f in found.fills}
    assert how["Materials of the other steps"] == ("Slab",)
    assert how["Soil to be rid of"] == ("Spoil disposal",)
    assert "Bed by own hands (screed)" in how["Work it leaves"]
    assert found.cash == 90000 + sum(fills.values())
    assert found.leaves == ("Spoil", "Bed", "Lay", "Cut", "Joint", "Carry")


@pytest.fixture(scope="module")
def small(make: SimpleNamespace) -> tuple[Takeoff, Options]:
    takeoff = make.takeoff(
        [
            make.need("Base stone", "Base", {"mass": 4000}, weight=4000),
            make.need("Slab", "Lay", {"count": 60}, weight=900),
        ],
        [make.amount("Dig", 3.0), make.amount("Base", 2.0), make.amount("Lay", 20.0)],
        spoil=4.0,
    )
    options = make.options(
        offers=[
            make.offer("Base stone", "North", 3000, holds=1000, per="tonne", weight=1000),
            make.offer("Base stone", "South", 2600, holds=1000, per="tonne", weight=1000),
            make.offer("Slab", "North", 900, measure="count", per="each", weight=15),
        ],
        routes=[
            make.drop("North", 6000), make.haul("North", 900, mileage=300),
            make.drop("South", 7000), make.haul("South", 900, mileage=400),
        ],
        methods=[
            make.method("Dig", "by hand", 5.0), make.method("Base", "by hand", 2.0),
            make.method("Base", "compactor", 1.0, machine="Compactor", machine_rate=1.0),
            make.method("Lay", "by hand", 0.5), make.method("Carry", "barrow", 0.001),
        ],
        bids=[
            make.bid("Dug out", ["Dig", "Spoil"], 45000, risks=["You pay for rock."]),
            make.bid("Base laid", ["Base"], 40000, equipment=False, supervise=1),
            make.bid("Laid", ["Lay"], 36000, supervise=2),
            make.bid("All of it", ["Dig", "Spoil", "Base", "Lay"], 150000, materials=True,
                     supervise=3),
        ],
        machines=[make.machine("Compactor", "rent from A", terms=[("day", 6000, 1)]),
                  make.machine("Compactor", "borrow from B", once=5000)],
        disposal=[make.disposal("box", 15000)],
        hour_value=HOUR,
    )  # fmt: skip
    return takeoff, options


@pytest.fixture(scope="module")
def every(make: SimpleNamespace, small: tuple[Takeoff, Options]) -> list[Priced]:
    found = make.all_priced(Situation(*small, "sand", frozenset()))
    assert len(found) > 100
    return list(found)


@pytest.fixture(scope="module")
def deep(small: tuple[Takeoff, Options]) -> Comparison:
    job = Job(settings=Settings(place=place("Job")))
    return deepen(compare_options(job, *small))


def test_each_bid_is_the_cheapest_whole_job_with_it(
    deep: Comparison, small: tuple[Takeoff, Options], every: list[Priced]
) -> None:
    assert deep.deeper is not None
    found = {a.bid: a for a in deep.deeper.bids}
    assert set(found) == {b.key for b in small[1].bids}
    best = min(p.total(HOUR) for p in every)
    for bid in small[1].bids:
        name = f"bid: {bid.key}"
        with_it = [p.total(HOUR) for p in every if name in p.plan.steps.values()]
        one = found[bid.key]
        assert one.total(HOUR) == pytest.approx(min(with_it), abs=1)
        assert one.over == pytest.approx(min(with_it) - best, abs=1)
        assert one.cash == one.price + sum(f.cash for f in one.fills)
        assert one.hours == pytest.approx(one.supervising + sum(f.hours for f in one.fills))
    assert found["Dug out"].risks == ("You pay for rock.",)
    assert "Base" not in found["Base laid"].leaves
    assert set(found["All of it"].leaves) <= {"Carry"}


def test_the_bids_of_the_best_plan_are_named_as_taken(deep: Comparison) -> None:
    assert deep.deeper is not None
    assert deep.best is not None
    assert deep.best.priced is not None
    taken = set(deep.best.priced.plan.steps.values())
    assert {f"bid: {a.bid}" for a in deep.deeper.bids if a.chosen} == {
        value for value in taken if value.startswith("bid: ")
    }


def test_the_spread_is_between_the_cheapest_and_the_dearest(
    deep: Comparison, every: list[Priced]
) -> None:
    assert deep.deeper is not None
    by_step = {step: s for s in deep.deeper.spreads for step in s.steps}
    totals = {
        name: min(p.total(HOUR) for p in every if f"bid: {name}" in p.plan.steps.values())
        for name in ("Laid", "All of it")
    }
    low, high = sorted(totals, key=lambda n: totals[n])
    assert (by_step["Lay"].least, by_step["Lay"].most) == (low, high)
    assert by_step["Lay"].apart == pytest.approx(totals[high] - totals[low], abs=1)


def whole_job(bid: str, covers: str, cash: int, hours: float = 0.0, **more: Any) -> Alike:
    """A whole job with one bid, as far as it is held against others."""
    left = (Left("Rock", (), 1.0, more["risk"], more["risk"], False),) if "risk" in more else ()
    return Alike(
        bid, "", tuple(covers.split()), (), 0, 0.0, (), cash, hours, 0.0, (), "", left,
        more.get("missing", 0), False, True,
    )  # fmt: skip


def test_offers_lie_apart_by_whole_jobs_of_no_more_missing_prices() -> None:
    """At 20.00 an hour: with All 900.00 and a risk of 100.00; with Dig 700.00 and two hours; with
    Lay 800.00. Nobody else builds; one that misses a price is left aside."""
    rows = [
        whole_job("All", "Dig Lay", 90000, risk=10000), whole_job("Dig", "Dig", 70000, 2.0),
        whole_job("Lay", "Lay", 80000), whole_job("Wall", "Build", 50000),
        whole_job("Unknown", "Dig", 100, missing=1),
    ]  # fmt: skip
    assert spreads(rows, 2000.0) == (
        Spread(("Dig",), "Dig", "All", 26000.0), Spread(("Lay",), "Lay", "All", 20000.0),
    )  # fmt: skip
    assert spreads([], 2000.0) == ()


def test_an_hour_more_costs_its_price_with_tax_where_a_bid_is_by_the_hour(
    make: SimpleNamespace,
) -> None:
    crew = replace(make.bid("Crew", ["Dig"], 5000), tax=make.fig(0.1, make.RATIO))
    assert _hourly(crew, yard()) == ""
    assert _hourly(replace(crew, basis="hourly"), yard()).split()[-1] == "€55."


@pytest.mark.parametrize(
    ("choice", "supplier", "gap"),
    [
        ("item:Stone", "North", "Materials of its steps"),
        ("item:Slab", "North", "Materials of the other steps"),
        ("step:Lay", "", "Work it leaves"), ("step:Carry", "", "Bringing and carrying goods"),
        ("goods:North", "North", "Bringing and carrying goods"), ("machine:Plate", "", "Machines"),
        ("disposal", "", "Soil to be rid of"),
        ("", "North", "Bringing and carrying goods"),  # a vehicle hired for several sellers
        ("", "", "Costs outside any step"),
    ],
)  # fmt: skip
def test_which_gap_a_line_fills(
    make: SimpleNamespace, choice: str, supplier: str, gap: str
) -> None:
    needs = [make.need("Stone", "Base", {"mass": 1}), make.need("Slab", "Lay", {"count": 1})]
    at = Situation(make.takeoff(needs, []), make.options(), "sand", frozenset())
    line: Any = SimpleNamespace(name="Any", choice=choice, supplier=supplier)
    assert _gap(at, line, make.bid("Crew", ["Base"], 1)) == gap


def test_a_gap_is_filled_by_all_of_its_lines(make: SimpleNamespace) -> None:
    """Slabs for 30.00 and an hour, caps for 5.00 and half an hour, 20.00 to bring them."""
    lines = [
        SimpleNamespace(name=name, choice=choice, supplier="North", cash=cash, own_hours=hours)
        for name, choice, cash, hours in (
            ("Slab", "item:Slab", 3000, 1.0), ("Delivery", "goods:North", 2000, 0.0),
            ("Cap", "item:Cap", 500, 0.5),
        )
    ]  # fmt: skip
    at = Situation(make.takeoff([], []), make.options(), "sand", frozenset())
    priced: Any = SimpleNamespace(lines=lines)
    assert list(_fills(at, priced, make.bid("Crew", ["Dig"], 1))) == [
        Fill("Materials of the other steps", ("Slab", "Cap"), 3500, 1.5),
        Fill("Bringing and carrying goods", ("Delivery",), 2000, 0.0),
    ]


def test_no_plan_beats_a_trade_and_none_is_missing(deep: Comparison, every: list[Priced]) -> None:
    assert deep.deeper is not None
    found = deep.deeper.trades
    assert found is not None
    front: list[Priced] = []
    for plan in sorted(every, key=lambda p: (p.cash, p.own_hours)):
        if not front or plan.own_hours < front[-1].own_hours - 1e-6:
            front.append(plan)
    shown = [(t.priced.cash, t.priced.own_hours) for t in found.plans]
    points = {(p.cash, round(p.own_hours, 6)) for p in front}
    assert {(cash, round(hours, 6)) for cash, hours in shown} <= points
    assert len(shown) > len(deep.frontier)  # some are best at no hour value
    for plan in front:  # each, or one that has no more hours, within twice the grain
        assert any(
            cash <= plan.cash + 2 * found.grain + 1 and hours <= plan.own_hours + 0.05
            for cash, hours in shown
        )
