"""A small comparison written by hand, so that outputs can be tested without the other stages."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable

import pytest

from budget.decide.outcome import Comparison
from budget.decide.plan import (
    Arrival,
    Flip,
    FrontierPoint,
    Hire,
    Line,
    Missing,
    Order,
    Plan,
    Priced,
    Scenario,
)
from budget.figures import cents, constant, default, given, product, ratio, solved, whole
from budget.job import Assumption, Job, Notice, Place, Settings
from budget.prices.options import Bid, Drop, Haul, Machine, Options, Term
from budget.quantities.takeoff import Bedding, Need, PartGeometry, StepAmount, Takeoff
from budget.units import (
    AREA,
    COMPACTED_VOLUME,
    COUNT,
    DENSITY,
    DEPTH,
    DISTANCE,
    HOURS,
    LENGTH,
    MASS,
    MONEY,
    RATIO,
    SHORT_TON,
    per,
)

NOTHING = constant(0, RATIO, "no tax")


def settings(name: str) -> Settings:
    return Settings(
        place=Place("Job", 1), name=name, currency="USD", as_of=dt.date(2026, 4, 6), hour_value=2000
    )


def quarter_ring() -> tuple[tuple[float, float], ...]:
    """A 6 m by 4 m rectangle whose upper right corner is a quarter circle of 2 m radius."""
    arc = [
        (4 + 2 * math.cos(math.radians(a)), 2 + 2 * math.sin(math.radians(a)))
        for a in range(0, 91, 3)
    ]
    return ((0.0, 0.0), (6.0, 0.0), *arc, (0.0, 4.0))


def geometry(part: str, outline: tuple[tuple[float, float], ...], **more: object) -> PartGeometry:
    area = given(20.0, AREA, f"{part} area", "Areas!D2")
    length = constant(12.0, LENGTH, "edge")
    return PartGeometry(
        part, area, area, length, length, length, outlines=(outline,) if outline else (), **more
    )  # type: ignore[arg-type]


def base_need(part: str) -> Need:
    area = given(20.0, AREA, "area of the base", "Areas!D2")
    depth = default(0.1, DEPTH, "base depth", "reference:base depth", "a published guide, table 2")
    volume = product("compacted base", COMPACTED_VOLUME, area, depth)
    density = default(2200.0, DENSITY, "density", "reference:density", "a quarry's chart")
    mass = product("base stone", MASS, volume, density)
    return Need(
        "Base stone", part, "Base stone", "base", "Base", "Base", volume, mass,
        constant(0.05, RATIO, "overage"), "uneven ground", {"mass": mass}, mass,
    )  # fmt: skip


def paver_need(part: str) -> Need:
    area = given(20.0, AREA, "paved area", "Areas!D2")
    each = default(
        0.02, per(AREA, COUNT), "area of one paver", "reference:paver", "common practice"
    )
    net = ratio("pavers laid", COUNT, area, each)
    more = constant(1.05, RATIO, "with overage")
    order = product("pavers to order", COUNT, net, more)
    return Need(
        "Paver", part, "Paver", "paver", "Lay", "Paving", net, order,
        constant(0.05, RATIO, "overage"), "cuts and breakage", {"count": order}, None,
    )  # fmt: skip


def goods_line(name: str, supplier: str, packs: float, price: float) -> tuple[Line, Order]:
    count = whole("packs", solved(packs, COUNT, "packs", f"plan:packs {name}"))
    each = given(price, per(MONEY, COUNT), "price a pack", "Quotes!C2")
    money = cents(f"{name} at {supplier}", product("goods", MONEY, count, each))
    line = Line(
        "", "Base" if name == "Base stone" else "Paving", name, int(money.value), 0.0, money, None,
        supplier, f"{count.value:g} packs", f"item:{name}",
    )  # fmt: skip
    order = Order(
        name, f"{name} @ {supplier}", supplier, count.value, "pack", int(money.value), 0,
        2500 if name == "Paver" else 0, 1800.0 if name == "Base stone" else None, 0.05,
        name,
    )  # fmt: skip
    return line, order


def hours_line(step: str, hours: float) -> Line:
    amount = constant(hours, HOURS, f"{step} hours")
    return Line("Terrace", f"{step} work", step, 0, hours, None, amount, choice=f"step:{step}")


def plan(own: bool, bedding: str) -> Plan:
    way = "own: By hand" if own else "bid: Earth & Stone"
    return Plan(
        bedding,
        frozenset(),
        {"Base stone": "Base stone @ North Yard, ton", "Paver": "Paver @ Brickworks"},
        {"North Yard": "deliver to drive", "Brickworks": "haul with Pickup"},
        {"Dig": way, "Base": way, "Lay": "own: By hand"},
        {"Plate compactor": "rent from Tool Barn"} if own else {},
        "keep" if own else "",
    )


def priced(own: bool, bedding: str, missing: tuple[Missing, ...] = ()) -> Priced:
    base, base_order = goods_line("Base stone", "North Yard", 4.2, 4000)
    paver, paver_order = goods_line("Paver", "Brickworks", 11, 9550)
    fee = Line("", "Getting it there", "Delivery, North Yard", 8500, 0.0, None, None, "North Yard")
    lines = [base, paver, fee, hours_line("Lay", 18.0 if bedding == "sand" else 20.0)]
    hires: tuple[Hire, ...] = ()
    if own:
        rent = Line("", "Machines", "Plate compactor", 9000, 0.0, None, None, "Tool Barn", "1 day")
        lines += [rent, hours_line("Dig", 30.0), hours_line("Base", 10.25)]
        hires = (Hire("Plate compactor", "rent from Tool Barn", ("Base: 1 day",), 9000, 10000),)
    else:
        lines.append(Line("", "Hired work", "Earth & Stone", 150000, 0.0, None, None))
    return Priced(
        plan=plan(own, bedding),
        lines=tuple(lines),
        missing=missing,
        orders=(base_order, paver_order),
        arrivals=(
            Arrival("North Yard", "deliver to drive", 8500, 1, 0.0, 1800.0, "one heap"),
            Arrival("Brickworks", "haul with Pickup", 0, 3, 4.5, 1400.0, "payload binds"),
        ),
        hires=hires,
        cash=sum(line.cash for line in lines),
        own_hours=sum(line.own_hours for line in lines),
        helper_hours=0.0,
        clock_hours=40.0,
        deposits=12500 if own else 2500,
        risks=("rain stays with you",) if not own else (),
    )


def options() -> Options:
    ton = constant(SHORT_TON, MASS, "ton")
    money = constant(4000, MONEY, "price")
    drop = Drop(
        "deliver to drive", "North Yard", "drive", money, None, None, None, 0, (), None, 0.0, ton,
        True, NOTHING,
    )  # fmt: skip
    haul = Haul(
        "haul with Pickup", "Brickworks", "Pickup", ton, "payload", None,
        constant(16000.0, DISTANCE, "there and back"), constant(0.03, per(MONEY, DISTANCE), "cost"),
        constant(0.5, HOURS, "drive"), constant(0.001, per(HOURS, MASS), "handling"), None, NOTHING,
    )  # fmt: skip
    machine = Machine(
        "rent from Tool Barn", "Plate compactor", "rent", "Tool Barn",
        (Term("day", constant(9000, MONEY, "day"), 1.0),), money, money, money, None, None,
        constant(10000, MONEY, "deposit"), constant(8, HOURS, "hours a day"), NOTHING, True,
        "Equipment!D2",
    )  # fmt: skip
    bid = Bid(
        "Earth & Stone", "", ("Dig", "Base"), constant(150000, MONEY, "bid"), "lump", "", 1.0, None,
        None, None, NOTHING, False, True, constant(0, HOURS, "supervising"),
        ("rain stays with you",), False, "Bids!D2",
    )  # fmt: skip
    return Options(
        offers=(),
        routes={"North Yard": (drop,), "Brickworks": (haul,)},
        methods={},
        bids=(bid,),
        machines={"Plate compactor": (machine,)},
        disposal=(),
        carry={},
        checklist=(),
        hour_value=given(2000, per(MONEY, HOURS), "value of an own hour", "Job!B9"),
        hours_per_day=constant(8, HOURS, "hours a day"),
        people=1,
        paid_helpers=0,
        helper_pay=None,
        sales_tax=NOTHING,
        card_surcharge={},
    )


def takeoff(part: str) -> Takeoff:
    dig = constant(6.0, COMPACTED_VOLUME, "dig")
    sand = Bedding("sand", "Bedding sand", "Joint sand", constant(0.025, DEPTH, "depth"), False,
                   False, "", "")  # fmt: skip
    gravel = Bedding("small gravel", "Small gravel", "Joint gravel", constant(0.04, DEPTH, "depth"),
                     False, False, "slower to screed", "a published note")  # fmt: skip
    path = ((0.0, 0.0), (5.0, 0.0), (5.0, 1.2), (0.0, 1.2))
    hole = ((1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0))
    return Takeoff(
        needs=(base_need(part), paver_need(part)),
        steps=(
            StepAmount("Dig", part, dig),
            StepAmount("Base", part, dig),
            StepAmount("Lay", part, constant(20.0, AREA, "laying")),
        ),
        beddings=(sand, gravel),
        parts=(
            geometry(part, quarter_ring(), holes=(hole,)),
            geometry("Path", path, optional=True),
            geometry("Corner", ()),
        ),
        spoil=(),
        spoil_density=constant(1400, DENSITY, "spoil"),
        cautions=(("Dig", "Have buried lines marked before digging.", "a city's page"),),
    )


def build(job_name: str = "Demo terrace", part: str = "Terrace") -> Comparison:
    """A complete comparison: two scenarios under sand, one under gravel, one refused."""
    best = Scenario("Mixed hands", "sand", {}, True, "", priced(True, "sand"), True, 0.0)
    gravel = Scenario(
        "Mixed hands", "small gravel", {}, True, "", priced(True, "small gravel"), True, 0
    )
    hired = Scenario("Machine work hired", "sand", {}, True, "", priced(False, "sand"), True, 0.0)
    refused = Scenario("Whole job hired", "sand", {}, False, "no bid covers Lay", None, True, 0.0)
    assert best.priced is not None
    assert hired.priced is not None
    crossing = (hired.priced.cash - best.priced.cash) / (
        best.priced.own_hours - hired.priced.own_hours
    )
    return Comparison(
        job=Job(settings=settings(job_name)),
        takeoff=takeoff(part),
        options=options(),
        scenarios=(best, gravel, hired, refused),
        best=best,
        hired=hired,
        complete=True,
        flips=(
            Flip("step:Dig", "own: By hand", "bid: Earth & Stone", 141000, -40.25, (crossing,),
                 "Hiring Dig costs more cash and takes fewer hours; it flips above that value."),
            Flip("goods:North Yard", "deliver to drive", "haul with Pickup", 900, 5.0, (),
                 "Hauling from North Yard never pays."),
        ),
        frontier=(
            FrontierPoint(0.0, crossing, best.priced, ""),
            FrontierPoint(crossing, math.inf, hired.priced, "Dig and Base are hired"),
        ),
        warnings=(
            Notice("Quotes", 4, "Quotes!F4", "expired-quote", "1 March 2026", "a later date",
                   "Ask for a new price.", "warning"),
        ),
        assumed=(Assumption("Base depth", "4 in", "a published guide, table 2", "Build-up"),),
        missing=(),
        next_step="Everything is priced.",
    )  # fmt: skip


@pytest.fixture(scope="session")
def small_comparison() -> Callable[..., Comparison]:
    """The builder of the small comparison; job and part names can be set."""
    return build
