"""Goods bought at several quotes at once: only where it is allowed, and then exactly the best."""

from __future__ import annotations

import dataclasses
import datetime as dt
from types import SimpleNamespace

import pytest
from split_jobs import split_job

from budget.decide.brief import plan_of
from budget.decide.model.model import Model, Solved
from budget.decide.model.splits import parted
from budget.decide.pins import Pinned, UnknownPin, read_pins
from budget.decide.plan import Plan, Priced
from budget.decide.planner import Planner
from budget.decide.pricing.evaluation import evaluate, evaluate_in
from budget.decide.risk.demand import demands
from budget.decide.shares import SEVERAL
from budget.decide.terms.situation import Situation
from budget.figures import recalculate
from budget.job import Place, Settings
from budget.prices.options import Drop, Options
from budget.quantities.takeoff import Takeoff

#: Cents by which the rounding of lines may part a plan and the programme's own sum.
ROUNDING = 2.0
NORTH, SOUTH = "Joint sand @ North, bag", "Joint sand @ South, bag"
SHARED = f"2 of {SOUTH} + rest of {NORTH}"


def solved(takeoff: Takeoff, options: Options, hour_value: float, pin: str = "") -> Solved | None:
    allowed = {"item:Joint sand": frozenset((pin,))} if pin else {}
    return Model(Situation(takeoff, options, "sand", frozenset())).solve(hour_value, allowed)


@pytest.mark.parametrize(
    "seed", [pytest.param(n, marks=pytest.mark.thorough) if n in (5, 6) else n for n in range(14)]
)  # these two have many plans
def test_the_programme_finds_the_best_of_all_ways_to_part_a_need(
    make: SimpleNamespace, seed: int
) -> None:
    finds_the_best(make, seed)


def test_the_jobs_try_all_that_a_delivery_may_ask(make: SimpleNamespace) -> None:
    """But for a fee that nobody has given, and a pallet that holds a tonne in all of them."""
    assert make.asked_alike(map(split_job, range(14))) == {"pallet_load", "priced"}


@pytest.mark.thorough
@pytest.mark.parametrize("seed", range(1000, 1200))
def test_it_does_on_many_more_jobs(make: SimpleNamespace, seed: int) -> None:
    finds_the_best(make, seed)


def finds_the_best(make: SimpleNamespace, seed: int) -> None:
    takeoff, options = split_job(seed)
    hour_value = (0.0, 500.0, 2000.0, 6000.0)[seed % 4]
    best, _ = make.best_by_hand(Situation(takeoff, options, "sand", frozenset()), hour_value)
    found = solved(takeoff, options, hour_value)
    if best is None:
        assert found is None
        return
    assert found is not None
    assert found.proved
    assert len(found.priced.missing) == len(best.missing)
    assert -1e-6 <= found.priced.total(hour_value) - best.total(hour_value) <= ROUNDING


@pytest.mark.parametrize("seed", range(300, 340))
def test_to_allow_it_never_raises_the_optimum(seed: int) -> None:
    takeoff, options = split_job(seed)
    whole = dataclasses.replace(
        options, offers=tuple(dataclasses.replace(o, in_part=False) for o in options.offers)
    )
    before, after = (solved(takeoff, o, 2000.0) for o in (whole, options))
    if before is not None:
        assert before.priced.plan.shares == {}
        assert after is not None
        assert after.priced.total(2000.0) <= before.priced.total(2000.0) + ROUNDING


@pytest.fixture(scope="module")
def job(make: SimpleNamespace) -> tuple[Takeoff, Options]:
    """Seven bags of sand are needed; South must be paid 60.00 at least to bring it for nothing.

    North: caps for 100.00, sand at 5.00 a bag, each delivery 30.00, free above 130.00.
    South: posts for 50.00, sand at 6.00 a bag, each delivery 45.00, free above 60.00.
    """
    needs = [
        make.need("Cap", "Build", {"count": 1}, weight=40.0),
        make.need("Post", "Build", {"count": 1}, weight=10.0),
        make.need("Joint sand", "Joint", {"mass": 170.0}, weight=170.0),
    ]
    sand = {"holds": 25.0, "weight": 25.0, "in_part": True}
    offers = [
        make.offer("Cap", "North", 10000, measure="count", per="each", weight=40.0),
        make.offer("Post", "South", 5000, measure="count", per="each", weight=10.0),
        make.offer("Joint sand", "North", 500, **sand),
        make.offer("Joint sand", "South", 600, **sand),
    ]
    routes = [make.drop("North", 3000, free_above=13000), make.drop("South", 4500, free_above=6000)]
    methods = [
        make.method("Build", "by hand", 1.0), make.method("Joint", "by hand", 0.1),
        make.method("Carry", "barrow", 0.0),
    ]  # fmt: skip
    steps = [make.amount("Build", 1.0), make.amount("Joint", 20.0)]
    return make.takeoff(needs, steps), make.options(offers=offers, routes=routes, methods=methods)


def test_two_bags_are_bought_of_the_dearer_seller_to_be_brought_for_nothing(
    job: tuple[Takeoff, Options],
) -> None:
    """All of North: 100.00 + 7 x 5.00 = 135.00, free; South 50.00 and 45.00 to bring it: 230.00.
    All of South: 100.00 + 30.00; 50.00 + 7 x 6.00 = 92.00, free: 222.00.
    Two of South, five of North: 100.00 + 25.00 = 125.00, not free above 130.00: 30.00;
    50.00 + 12.00 = 62.00, free: 217.00. One of South, six of North: 130.00, free; 56.00 and
    45.00: 231.00. Three of South: 120.00 + 30.00 + 68.00 = 218.00. So two and five it is.
    """
    found = solved(*job, 0.0)
    assert found is not None
    assert found.priced.cash == 21700
    assert found.priced.plan.choices()["item:Joint sand"] == SHARED
    whole = [solved(*job, 0.0, key) for key in (NORTH, SOUTH)]
    assert [s.priced.cash for s in whole if s] == [23000, 22200]


def changed(job: tuple[Takeoff, Options], **fields: object) -> tuple[Takeoff, Options]:
    """The same job with other quotes for sand, by seller."""
    takeoff, options = job
    offers = tuple(
        dataclasses.replace(o, **fields.get(o.supplier, {}))  # type: ignore[call-overload]
        if o.item == "Joint sand"
        else o
        for o in options.offers
    )
    return takeoff, dataclasses.replace(options, offers=offers)


def replace_routes(options: Options, *routes: Drop) -> Options:
    """The same options, some sellers' routes others."""
    return dataclasses.replace(
        options, routes={**options.routes, **{route.supplier: (route,) for route in routes}}
    )


def test_the_rest_is_the_least_that_is_sold(job: tuple[Takeoff, Options]) -> None:
    """South sells no less than two, and of six bags of North one is left to buy.

    100.00 + 30.00, free; 50.00 + 12.00, free: 192.00.
    """
    found = solved(*changed(job, South={"least": 2.0}), 0.0)
    assert found is not None
    assert found.priced.cash == 19200
    assert found.priced.plan.shares == {"Joint sand": {NORTH: 6.0}}


@pytest.mark.parametrize(
    ("holds", "price", "free", "need", "bags", "cash"),
    [(40.0, 800, 14000, 175.0, 4, 22400), (30.0, 600, 13600, 165.0, 5, 22200)],
)
def test_no_bag_is_bought_beyond_the_need_to_be_brought_for_nothing(
    make: SimpleNamespace, job: tuple[Takeoff, Options], holds: float, price: int, free: int,
    need: float, bags: int, cash: int,
) -> None:  # fmt: skip
    """South sells no less than two bags of 10 kg, which make it free. North brings for 30.00.

    Of 40 kg at 8.00: four and two of South are 132.00 + 30.00 + 62.00. A fifth would be 140.00,
    free from there on, but meets the need alone: 140.00, and 50.00 + 45.00. Of 30 kg at 6.00: five
    and two are 130.00 + 30.00 + 62.00; a sixth, 136.00 and free, meets the need alone as well.
    """
    large, small = (make.fig(kg, make.MASS, "holds") for kg in (holds, 10.0))
    takeoff, options = changed(
        job, North={"holds": large, "price": make.cash(price)},
        South={"least": 2.0, "holds": small},
    )  # fmt: skip
    needs = tuple(
        make.need("Joint sand", "Joint", {"mass": need}) if n.item == "Joint sand" else n
        for n in takeoff.needs
    )
    options = replace_routes(options, make.drop("North", 3000, free_above=free))
    found = solved(dataclasses.replace(takeoff, needs=needs), options, 0.0)
    assert found is not None
    assert found.priced.cash == cash
    assert {o.supplier: o.packs for o in found.priced.orders if o.item == "Joint sand"} == {
        "North": bags, "South": 2,
    }  # fmt: skip


def test_bags_go_back_of_the_rest_alone(
    make: SimpleNamespace, job: tuple[Takeoff, Options]
) -> None:
    """Four bags; either sells no less than three, and takes any back for what was paid.

    North is free from 110.00 on, caps for 100.00 and two bags. All of South: 100.00 + 30.00,
    50.00 + 4 x 6.00, free: 204.00. All of North: 120.00, free; 50.00 + 45.00: 215.00. Three of
    South and one of North, of three: 105.00 + 30.00 + 68.00 = 203.00. Three of North and one of
    South: 115.00 + 56.00 + 45.00 = 216.00. Two of each, 172.00, would take bags back to both.
    """
    takeoff, options = changed(
        job, **{
            seller: {"least": 3.0, "back": make.fig(1.0, make.RATIO, "share paid back")}
            for seller in ("North", "South")
        },
    )  # fmt: skip
    options = replace_routes(options, make.drop("North", 3000, free_above=11000))
    needs = tuple(
        make.need("Joint sand", "Joint", {"mass": 100.0}) if n.item == "Joint sand" else n
        for n in takeoff.needs
    )
    takeoff = dataclasses.replace(takeoff, needs=needs)
    found = solved(takeoff, options, 0.0)
    assert found is not None
    assert found.priced.cash == 20300
    assert found.priced.plan.shares == {"Joint sand": {SOUTH: 3.0}}


def test_pallets_of_what_is_bought_in_part_are_counted(
    make: SimpleNamespace, job: tuple[Takeoff, Options]
) -> None:
    """North asks 2.00 a pallet of up to 1,000 kg: one for caps, one for the five bags: 221.00.

    Three of South are 120.00 + 30.00 + 4.00 + 68.00 = 222.00, and all of South 224.00.
    """
    takeoff, options = job
    drop = make.drop("North", 3000, free_above=13000, per_pallet=200)
    found = solved(takeoff, replace_routes(options, drop), 0.0)
    assert found is not None
    assert found.priced.cash == 22100
    assert found.priced.plan.choices()["item:Joint sand"] == SHARED


@pytest.mark.parametrize("step", [1.0, 0.5])
def test_hours_to_pick_count_for_the_quotes_that_need_them(
    make: SimpleNamespace, job: tuple[Takeoff, Options], step: float
) -> None:
    """0.2 h for each bag of North, sold by the half too: of five 120 of 125 kg are used, 0.96 h
    beside three others."""
    picked = {"picking": make.fig(0.2, make.HOURS), "step": step}
    found = solved(*changed(job, North=picked), 100.0)
    assert found is not None
    assert found.priced.plan.choices()["item:Joint sand"] == SHARED
    assert found.priced.own_hours == pytest.approx(3.96)


def test_an_order_is_worth_whole_cents_half_up(
    make: SimpleNamespace, job: tuple[Takeoff, Options]
) -> None:
    """120 kg: North by half bags of 12.5 kg at 2.525, South by bags of 5 kg at 5.00.

    Nine halves, 22.725, are 22.73 with caps 122.73; North is free from 122.74 on. Two of South
    make 60.00, free there: 122.73 + 30.00 + 60.00. All of North is ten halves, free, and 220.25
    with 45.00 at South.
    """
    half, small = (make.fig(kg, make.MASS, "holds") for kg in (25.0, 5.0))
    takeoff, options = changed(
        job, North={"holds": half, "price": make.cash(505), "step": 0.5},
        South={"holds": small, "price": make.cash(500)},
    )  # fmt: skip
    needs = tuple(
        make.need("Joint sand", "Joint", {"mass": 120.0}) if n.item == "Joint sand" else n
        for n in takeoff.needs
    )
    takeoff = dataclasses.replace(takeoff, needs=needs)
    for north, cash, bags in (
        (make.drop("North", 3000, free_above=12274), 21273, 2.0),
        (make.drop("North", 3000, free_above=12273), 18273, 2.0),
        # 50.00 from 122.73 on: eight halves, 120.20 + 30.00, and four of South, 70.00
        (make.drop("North", 0, tiers=[(0, 3000), (12273, 5000)]), 22020, 4.0),
        (make.drop("North", 0, tiers=[(0, 3000), (12274, 5000)]), 21273, 2.0),
    ):
        found = solved(takeoff, replace_routes(options, north), 0.0)
        assert found is not None
        assert found.priced.cash == cash
        assert found.priced.plan.shares == {"Joint sand": {SOUTH: bags}}


def test_the_rest_does_not_hang_on_which_the_solver_names(job: tuple[Takeoff, Options]) -> None:
    """Five of North and two of South: whichever of them is called the rest, it is North's."""
    model = Model(Situation(*job, "sand", frozenset()))
    (split,) = model._build.splits
    named = {share.offer.key: share for share in split.shares}
    for rest in named.values():
        values = [0.0] * model.columns
        values[named[NORTH].counts[0]], values[named[SOUTH].counts[0]] = 5.0, 2.0
        values[rest.rest] = 1.0
        assert parted(model.situation, split, values, ()) == (NORTH, {SOUTH: 2.0})


def test_the_rest_is_of_whom_most_is_bought(job: tuple[Takeoff, Options]) -> None:
    """Two of North and five of South: either may have the rest."""
    model = Model(Situation(*job, "sand", frozenset()))
    (split,) = model._build.splits
    named = {share.offer.key: share for share in split.shares}
    values = [0.0] * model.columns
    values[named[NORTH].counts[0]], values[named[SOUTH].counts[0]] = 2.0, 5.0
    assert parted(model.situation, split, values, ()) == (SOUTH, {NORTH: 2.0})


def with_sand_of_east(
    make: SimpleNamespace, options: Options, price: int, holds: float, least: float = 0.0
) -> Options:
    """Dear sand of a third seller, who brings it for nothing."""
    east = make.offer("Joint sand", "East", price, holds=holds, least=least, in_part=True)
    options = dataclasses.replace(options, offers=(*options.offers, east))
    return replace_routes(options, make.drop("East", 0))


def test_a_small_bag_earns_a_free_delivery_beside_all_the_others(
    make: SimpleNamespace, job: tuple[Takeoff, Options]
) -> None:
    """A bag of 3 kg at 6.00 makes South free, and the rest takes seven of North still.

    100.00 + 35.00, free, and 50.00 + 6.00, free; six of North and seven small bags are 222.00.
    East sells no fewer than five of 25 kg.
    """
    takeoff, options = changed(job, South={"holds": make.fig(3.0, make.MASS, "holds")})
    options = replace_routes(options, make.drop("South", 4500, free_above=5600))
    for known in (options, with_sand_of_east(make, options, 900, 25.0, 5.0)):
        found = solved(takeoff, known, 0.0)
        assert found is not None
        assert found.priced.cash == 19100
        assert found.priced.plan.shares == {"Joint sand": {SOUTH: 1.0}}


def test_two_deliveries_for_nothing_are_not_earned_beyond_the_need(
    make: SimpleNamespace, job: tuple[Takeoff, Options]
) -> None:
    """165 kg: of North 30 kg at 6.00, free from 130.00; of South 10 kg at 6.00, free from 86.00.

    Five and six would be free of both, 216.00, and 45 kg too much; six of North are 136.00, free,
    50.00 and 45.00. A large bag of East, which nobody would buy, excuses nothing.
    """
    large, small = (make.fig(kg, make.MASS, "holds") for kg in (30.0, 10.0))
    takeoff, options = changed(
        job, North={"holds": large, "price": make.cash(600)}, South={"holds": small}
    )
    needs = tuple(
        make.need("Joint sand", "Joint", {"mass": 165.0}) if n.item == "Joint sand" else n
        for n in takeoff.needs
    )
    routes = make.drop("North", 3000, free_above=13000), make.drop("South", 4500, free_above=8600)
    options = replace_routes(options, *routes)
    for known in (options, with_sand_of_east(make, options, 9000, 60.0)):
        found = solved(dataclasses.replace(takeoff, needs=needs), known, 0.0)
        assert found is not None
        assert found.priced.cash == 23100


def test_all_of_a_least_order_but_a_part_of_one_may_lie_beyond_the_need(
    make: SimpleNamespace, job: tuple[Takeoff, Options]
) -> None:
    """South sells no less than three, and of six bags of North one is left to buy.

    100.00 + 30.00, free; 50.00 + 18.00, free: 198.00. Four of North and three are 218.00.
    """
    found = solved(*changed(job, South={"least": 3.0}), 0.0)
    assert found is not None
    assert found.priced.cash == 19800
    assert found.priced.plan.shares == {"Joint sand": {NORTH: 6.0}}


def test_whole_packs_that_are_not_the_rest_are_picked_through(
    make: SimpleNamespace, job: tuple[Takeoff, Options]
) -> None:
    """0.2 h for each of five bags of North, all of them; three hours else."""
    picked = changed(job, North={"picking": make.fig(0.2, make.HOURS)})
    found = solved(*picked, 10000.0, f"5 of {NORTH} + rest of {SOUTH}")
    assert found is not None
    assert found.priced.own_hours == pytest.approx(4.0)


def test_no_quote_of_three_is_bought_beyond_the_need(
    make: SimpleNamespace, job: tuple[Takeoff, Options]
) -> None:
    """165 kg in bags of 30 kg at 6.00 from North, free from 130.00 on, or from East, with bolts for
    50.00, free from 55.00 on, else 45.00; or of 10 kg from South, no less than two.

    Four, one and two are 170 kg: 124.00 + 30.00, 56.00 and 62.00. With a fifth of North, free, it
    would be 35 kg beyond the need; without the one of East 130.00, 95.00 and 62.00.
    """
    large, small = (make.fig(kg, make.MASS, "holds") for kg in (30.0, 10.0))
    takeoff, options = changed(
        job, North={"holds": large, "price": make.cash(600)},
        South={"least": 2.0, "holds": small},
    )  # fmt: skip
    east = [
        make.offer("Bolt", "East", 5000, measure="count", per="each"),
        make.offer("Joint sand", "East", 600, holds=30.0, in_part=True),
    ]
    routes = make.drop("North", 3000, free_above=13000), make.drop("East", 4500, free_above=5500)
    options = replace_routes(dataclasses.replace(options, offers=(*options.offers, *east)), *routes)
    needs = [n for n in takeoff.needs if n.item != "Joint sand"]
    needs += [
        make.need("Joint sand", "Joint", {"mass": 165.0}), make.need("Bolt", "Build", {"count": 1}),
    ]  # fmt: skip
    found = solved(dataclasses.replace(takeoff, needs=tuple(needs)), options, 0.0)
    assert found is not None
    assert found.priced.cash == 15400 + 5600 + 6200


def test_what_goes_back_comes_off_the_order_value_once(
    make: SimpleNamespace, job: tuple[Takeoff, Options]
) -> None:
    """Four bags. North sells no less than three and takes back any for what was paid.

    It is free from 110.00 on: caps for 100.00 and two of three bags, as one goes back; two of
    South are 62.00, free: 172.00.
    """
    back = make.fig(1.0, make.RATIO, "share paid back")
    takeoff, options = changed(job, North={"least": 3.0, "back": back})
    options = replace_routes(options, make.drop("North", 3000, free_above=11000))
    needs = tuple(
        make.need("Joint sand", "Joint", {"mass": 100.0}) if n.item == "Joint sand" else n
        for n in takeoff.needs
    )
    found = solved(dataclasses.replace(takeoff, needs=needs), options, 0.0)
    assert found is not None
    assert found.priced.cash == 17200
    assert found.priced.plan.shares == {"Joint sand": {SOUTH: 2.0}}


def test_the_rest_is_what_meets_most_of_the_need_however_it_is_sold(
    make: SimpleNamespace, job: tuple[Takeoff, Options]
) -> None:
    """North sells the same bags by volume, a tenth of a cubic metre for 170 kg."""
    takeoff, options = job
    needs = tuple(
        dataclasses.replace(n, measures={**n.measures, "volume": make.fig(0.1, make.LOOSE_VOLUME)})
        if n.item == "Joint sand"
        else n
        for n in takeoff.needs
    )
    bag = make.fig(25 / 1700, make.LOOSE_VOLUME, "holds")
    takeoff, options = changed(
        (dataclasses.replace(takeoff, needs=needs), options),
        North={"measure": "volume", "holds": bag},
    )
    found = solved(takeoff, options, 0.0)
    assert found is not None
    assert found.priced.cash == 21700
    assert found.priced.plan.choices()["item:Joint sand"] == SHARED


@pytest.fixture(scope="module")
def best(job: tuple[Takeoff, Options]) -> Priced:
    found = solved(*job, 0.0)
    assert found is not None
    return found.priced


def test_each_part_has_a_line_and_an_order(best: Priced) -> None:
    sand = [li for li in best.lines if li.choice == "item:Joint sand"]
    assert [(li.name, li.quantity, li.supplier, li.cash) for li in sand] == [
        ("Joint sand", "the other 5 bags", "North", 2500),
        ("Joint sand from South, bag", "2 bags", "South", 1200),
    ]
    orders = [o for o in best.orders if o.item == "Joint sand"]
    assert [(o.line, o.packs, o.weight) for o in orders] == [
        ("Joint sand", 5, 125.0), ("Joint sand from South, bag", 2, 50.0),
    ]  # fmt: skip
    # 170 kg less 2 bags of 25 kg: 120 of the 125 kg of five bags are used.
    assert orders[0].left_over == pytest.approx(5 / 125)
    assert orders[1].left_over == 0
    assert best.cash == sum(li.cash for li in best.lines)
    assert len({li.name for li in best.lines}) == len(best.lines)


def test_figures_behind_the_parts_give_the_lines(best: Priced) -> None:
    for li in best.lines:
        if li.money is not None:
            assert recalculate(li.money, {}) == pytest.approx(li.cash)


def test_the_rest_follows_the_need_and_the_parts_stay(
    make: SimpleNamespace, job: tuple[Takeoff, Options], best: Priced
) -> None:
    """At 245 kg the rest is 195 kg in eight bags; at 40 kg two bags are enough and none is left."""
    takeoff, options = job
    for mass, packs in ((245.0, [8, 2]), (40.0, [2])):
        changed = make.need("Joint sand", "Joint", {"mass": mass}, weight=mass)
        needs = (*(n for n in takeoff.needs if n.item != "Joint sand"), changed)
        priced = evaluate(best.plan, dataclasses.replace(takeoff, needs=needs), options)
        assert [o.packs for o in priced.orders if o.item == "Joint sand"] == packs


def test_the_rest_alone_is_unsure(job: tuple[Takeoff, Options], best: Priced) -> None:
    asked = demands(
        Settings(place=Place("Job", 2), as_of=dt.date(2030, 5, 1)),
        Situation(*job, "sand", frozenset()),
        best,
    )
    sand = [(d.order.line, d.asked.value) for d in asked if d.order.item == "Joint sand"]
    assert sand == [("Joint sand", pytest.approx(4.8)), ("Joint sand from South, bag", 2)]


def test_a_plan_is_made_again_from_its_choices(best: Priced) -> None:
    again = plan_of(best.plan.choices())
    assert again == best.plan
    assert again.bought == best.plan.bought


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("2 of South + rest of North", SHARED),
        (f"2 of {SOUTH} + the rest of {NORTH}", SHARED),
        ("3 of north, bag + rest of south", f"3 of {NORTH} + rest of {SOUTH}"),
        ("several quotes", SEVERAL),
        ("South", SOUTH),
    ],
)
def test_a_pin_says_how_a_need_is_parted(
    job: tuple[Takeoff, Options], written: str, meant: str
) -> None:
    planner = Planner(*job)
    pinned = read_pins(planner.situations(), {"item:joint sand": written})
    assert pinned.allowed == {"item:Joint sand": frozenset((meant,))}
    found = planner.best(0.0, pinned)
    assert found is not None
    value = found.priced.plan.choices()["item:Joint sand"]
    assert value == (SHARED if meant == SEVERAL else meant)


def test_a_pin_that_parts_what_comes_from_one_lot_is_refused(job: tuple[Takeoff, Options]) -> None:
    planner = Planner(*job)
    with pytest.raises(UnknownPin):
        read_pins(planner.situations(), {"item:Cap": "1 of North + rest of North"})
    with pytest.raises(UnknownPin):
        read_pins(planner.situations(), {"item:Cap": SEVERAL})


def test_a_pin_dearer_than_the_best_costs_what_it_costs_by_hand(
    job: tuple[Takeoff, Options],
) -> None:
    """Five of South and two of North: 110.00 + 30.00 + 80.00, free = 220.00."""
    found = solved(*job, 0.0, f"5 of {SOUTH} + rest of {NORTH}")
    assert found is not None
    assert found.priced.cash == 22000
    assert found.priced.plan.shares == {"Joint sand": {SOUTH: 5.0}}


@pytest.mark.parametrize("packs", [7.0, 2.5])
def test_no_plan_has_a_part_that_leaves_nothing_or_that_is_not_sold(
    job: tuple[Takeoff, Options], packs: float
) -> None:
    assert solved(*job, 0.0, f"{packs:g} of {SOUTH} + rest of {NORTH}") is None


@pytest.mark.parametrize(
    ("item", "key", "shares", "words"),
    [
        ("Joint sand", NORTH, {SOUTH: 2.5}, "2.5 packs may not be bought"),
        ("Joint sand", NORTH, {SOUTH: 0.0}, "0 packs may not be bought"),
        ("Joint sand", NORTH, {NORTH: 2.0}, "may not be bought in part"),
        ("Joint sand", NORTH, {"Joint sand @ East, bag": 2.0}, "which quote meets"),
        ("Cap", "Cap @ North, each", {"Cap @ North, each": 1.0}, "may not be bought"),
    ],
)
def test_a_plan_that_parts_a_need_wrongly_is_refused(
    job: tuple[Takeoff, Options], best: Priced, item: str, key: str, shares: dict[str, float],
    words: str,
) -> None:  # fmt: skip
    plan: Plan = dataclasses.replace(
        best.plan, offers={**best.plan.offers, item: key}, shares={item: shares}
    )
    with pytest.raises(ValueError, match=words):
        evaluate(plan, *job)


@pytest.mark.parametrize("seed", range(400, 412))
def test_a_best_plan_pinned_to_its_own_parts_stays_as_it_is(seed: int) -> None:
    takeoff, options = split_job(seed)
    planner = Planner(takeoff, options)
    free = planner.best(1000.0)
    assert free is not None
    items = {c: v for c, v in free.priced.plan.choices().items() if c.startswith("item:")}
    pinned = planner.best(1000.0, Pinned({c: frozenset((v,)) for c, v in items.items()}))
    assert pinned is not None
    assert pinned.priced.plan == free.priced.plan
    again = evaluate_in(planner.situation("sand"), plan_of(free.priced.plan.choices()))
    assert again.cash == free.priced.cash
