"""Prices where one rule ends and the next begins, each with its sum or its words beside it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from budget.figures import Figure, constant, given, recalculate
from budget.job import Disposal, PriceBreak
from budget.prices import flatten, landed, scope
from budget.prices.bids import bid_cost, bids
from budget.prices.checklist import checklist
from budget.prices.defaults import Notes
from budget.prices.disposal import disposal_cost, disposal_ways
from budget.prices.equipment import machines
from budget.prices.forms import in_order, smaller_forms
from budget.prices.hauling import haul, trip_limit
from budget.prices.options import Haul, Machine, Offer
from budget.prices.packs import buy
from budget.prices.quotes import _pack_kind, offers
from budget.prices.routes import routes
from budget.prices.schedule import schedule
from budget.prices.tax import UNTAXED, sales_tax
from budget.prices.terms import Term, rent
from budget.prices.work import methods
from budget.units import (
    BULK_MASS,
    DAYS,
    HOURS,
    LENGTH,
    LOOSE_VOLUME,
    MASS,
    MILE,
    MONEY,
    RATIO,
    SMALL_VOLUME,
)

TENTH = constant(0.1, RATIO, "tax")
DAY = constant(8.0, HOURS, "hours per day")
NO_HOURS = constant(0.0, HOURS, "-")


def money(cents: float, name: str = "money") -> Figure:
    return constant(float(cents), MONEY, name)


# What goes back, and what is left over


def edging(**fields: Any) -> Offer:
    """Two metres a piece, 1.00 each, and 80 % of the price for what goes back."""
    values = {
        "key": "Edging @ A, piece", "item": "Edging", "supplier": "A", "measure": "length",
        "per": "piece", "holds": constant(2.0, LENGTH, "one piece"),
        "price": given(100.0, MONEY, "price", "Quotes!C2"), "tax": UNTAXED, "least": 0, "step": 1,
        "weight": None, "volume": None, "deposit": None, "bulk": False, "expired": False,
        "lead_days": 0, "restocking": None, "cell": "Quotes!C2",
        "back": constant(0.8, RATIO, "paid back"), **fields,
    }  # fmt: skip
    return Offer(**values)


def metres(value: float) -> Figure:
    return given(value, LENGTH, "edge", "need")


@pytest.mark.parametrize(("least", "amount"), [(1, 0.5), (0, 0.5), (4, 0.0)])
def test_nothing_goes_back_where_no_least_order_forces_more(least: float, amount: float) -> None:
    assert buy(edging(least=least), metres(amount)).back is None


def test_half_a_metre_of_four_pieces_sends_three_back() -> None:
    bought = buy(edging(least=4), metres(0.5))
    assert bought.back is not None
    assert (bought.back.packs.value, bought.credit) == (3, pytest.approx(240))


def test_of_one_piece_three_quarters_are_left_over() -> None:
    assert buy(edging(), metres(0.5)).left_over.value == pytest.approx(0.75)


def test_picking_takes_its_hours_for_what_is_used_up() -> None:
    """5 m of pieces of 2 m are 2.5 used up, a fifth of an hour each."""
    bought = buy(edging(picking=constant(0.2, HOURS, "picking")), metres(5))
    assert bought.picking is not None
    assert bought.picking.value == pytest.approx(0.5)


# Quotes


@pytest.fixture
def found(make: Any) -> Any:
    """The offers of some quotes, needs and products."""

    def run(quotes: Any, needs: Any, products: Any = ()) -> tuple[Offer, ...]:
        job = make.job(quotes=tuple(quotes), products=tuple(products))
        return offers(job, make.takeoff(needs), TENTH, Notes("metric"))

    return run


def test_a_pallet_weighs_its_pieces_as_they_are_sold(found: Any, make: Any) -> None:
    """400 at 3 kg; the takeoff's 10 kg each are of another maker."""
    [offer] = found(
        [make.quote("Paver", "A", 90000, per="pallet", holds=400)], [make.need("Paver", "paver")],
        [make.product("Paver", "paver", weight=3.0)],
    )  # fmt: skip
    assert offer.weight is not None
    assert offer.weight.value == 1200


def test_goods_weigh_what_the_product_weighs_that_is_quoted(found: Any, make: Any) -> None:
    """Washed sand at 1,500 kg a cubic metre serves the bedding sand of the job."""
    [offer] = found(
        [make.quote("Washed sand", "A", 2500, per="m³", measure="volume")],
        [make.need("Bedding sand", "bedding sand")],
        [make.product("Washed sand", "bedding sand", density=1500.0)],
    )
    assert offer.weight is not None
    assert (offer.item, offer.weight.value) == ("Bedding sand", 1500)


def test_a_break_at_the_least_that_is_sold_is_no_larger_order(found: Any, make: Any) -> None:
    quote = make.quote("Paver", "A", 100, least=10, breaks=(PriceBreak(packs=10, price=50),))
    assert [o.least for o in found([quote], [make.need("Paver", "paver", 3)])] == [10]


@pytest.mark.parametrize(
    ("fields", "back"),
    [({}, True), ({"breaks": (PriceBreak(packs=10, price=99.0),)}, False)],
)
def test_packs_at_a_price_that_hangs_on_their_number_do_not_go_back(
    found: Any, make: Any, fields: dict[str, Any], back: bool
) -> None:
    quote = make.quote("Paver", "A", 100, restocking=0.2, **fields)
    assert (found([quote], [make.need("Paver", "paver", 3)])[0].back is not None) is back


def test_loose_goods_do_not_go_back(found: Any, make: Any) -> None:
    quote = make.quote("Base stone", "A", 100, per="m³", measure="volume", restocking=0.2)
    assert found([quote], [make.need("Base stone", "base")])[0].back is None


def test_a_piece_is_called_one_and_a_unit_by_its_name(found: Any, make: Any) -> None:
    quotes = [make.quote("Paver", "A", 90), make.quote("Base stone", "A", 3000, per="m³",
                                                       measure="volume")]  # fmt: skip
    said = found(quotes, [make.need("Paver", "paver"), make.need("Base stone", "base")])
    assert {o.item: o.holds.name for o in said} == {"Paver": "one piece", "Base stone": "one m³"}


@pytest.mark.parametrize(
    ("measure", "holds", "kind"),
    [("volume", 0.2, SMALL_VOLUME), ("volume", 0.21, LOOSE_VOLUME), ("mass", 500, MASS),
     ("mass", 500.5, BULK_MASS)],
)  # fmt: skip
def test_a_pack_is_told_in_small_units_up_to_a_fifth_of_a_cubic_metre_or_half_a_tonne(
    measure: Any, holds: float, kind: Any
) -> None:
    assert _pack_kind(measure, holds) is kind


# Landed


def test_what_goes_back_lessens_what_is_landed(make: Any) -> None:
    """8 at 1.00 and a tenth of tax are 8.80; 5 go back at 80 %, with their tax 4.40."""
    paver = make.quote("Paver", "A", 100, least=8, restocking=0.2, taxed=True)
    job = make.job(quotes=(paver,), suppliers=(make.supplier("A", delivery_fee=0.0),),
                   settings=make.settings(sales_tax=0.1))  # fmt: skip
    three, eight = (make.takeoff([make.need("Paver", "paver", n)]) for n in (3, 8))
    [row] = landed(flatten(job, three), three)
    assert row.cash is not None
    assert row.back is not None
    assert (row.back.value, row.cash.value) == (440, 440)
    [whole] = landed(flatten(job, eight), eight)
    assert whole.cash is not None
    assert (whole.back, whole.cash.value) == (None, 880)


def test_the_bedding_that_asks_for_most_by_all_its_parts(make: Any) -> None:
    """Two parts of 2 m³ on sand are more than one of 3 m³ on gravel."""
    needs = [make.need("Base stone", "base", n, bedding=bedding, part=part)
             for n, bedding, part in ((2.0, "sand", "Terrace"), (2.0, "sand", "Walk"),
                                      (3.0, "small gravel", "Terrace"))]  # fmt: skip
    takeoff = make.takeoff(needs)
    stone = make.quote("Base stone", "A", 2500, per="m³", measure="volume")
    job = make.job(quotes=(stone,))
    assert landed(flatten(job, takeoff), takeoff)[0].packs.value == 4


@pytest.mark.parametrize(("needed", "each"), [(0.0, None), (0.5, 500.0)])
def test_a_price_for_each_unit_placed_needs_one_that_is_placed(
    make: Any, needed: float, each: float | None
) -> None:
    """One pack of 2.50 for half a cubic metre comes to 5.00 a cubic metre."""
    stone = make.quote("Base stone", "A", 250, per="m³", measure="volume")
    job = make.job(quotes=(stone,), suppliers=(make.supplier("A", delivery_fee=0.0),),
                   settings=make.settings(sales_tax=0.0))  # fmt: skip
    takeoff = make.takeoff([make.need("Base stone", "base", needed)])
    [row] = landed(flatten(job, takeoff), takeoff)
    assert (row.landed and row.landed.value) == each


def test_loose_goods_are_fetched_in_as_many_trips_as_the_bed_asks_for(make: Any) -> None:
    """4.5 m³, five to buy, in a bed of one: five trips of 10 at no hire, whatever they weigh."""
    stone = make.quote("Base stone", "A", 2500, per="m³", measure="volume")
    truck = make.vehicle("Truck", payload=30100.0, people=100.0, bed_volume=1.0,
                         cost_per_distance=1000 / (10 * MILE))  # fmt: skip
    job = make.job(quotes=(stone,), suppliers=(make.supplier("A", distance=5 * MILE),),
                   vehicles=(truck,), settings=make.settings(hour_value=0.0))  # fmt: skip
    takeoff = make.takeoff([make.need("Base stone", "base", 4.5)])
    [row] = landed(flatten(job, takeoff), takeoff)
    assert row.delivery is not None
    assert row.delivery.value == pytest.approx(5000)


# Words of what can be had


def test_why_a_machine_is_of_no_use(make: Any) -> None:
    job = make.job(equipment=(make.equipment("Loader", day=100, width=1.2),),
                   settings=make.settings(way_in_width=1.0))  # fmt: skip
    [wide] = machines(job, TENTH, Notes("metric"))["Loader"]
    fitting: Machine = replace(wide, fits=True)
    assert [m.why_not for m in (wide, fitting, replace(fitting, away=True))] == [
        "too wide for the way in", "", "not there when it is needed",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("source", "words"), [("Tool Barn", "Saw from Tool Barn is not"), ("", "Saw is not")]
)
def test_a_machine_without_a_rent_is_named_with_its_shop(
    make: Any, source: str, words: str
) -> None:
    notes = Notes("metric")
    machines(make.job(equipment=(make.equipment("Saw", source=source),)), TENTH, notes)
    assert words in notes.warnings[0].mend


# Bids: steps, deducts, and what they say


def test_steps_are_named_in_the_order_of_work() -> None:
    assert in_order(frozenset({"Joint", "Cut", "Lay", "Break out"})) == [
        "Break out", "Lay", "Cut", "Joint",
    ]  # fmt: skip


@pytest.mark.parametrize("fields", [{"may_leave": ("Joint",)}, {"deduct": 5000}])
def test_half_of_a_deduct_is_none(make: Any, fields: dict[str, Any]) -> None:
    row = make.bid("All", steps=("Lay", "Joint"), price=120000, **fields)
    assert smaller_forms(make.job(bids=(row,)), row) == []


def test_a_bid_keeps_one_step_at_least_and_of_two_like_deducts_the_first(make: Any) -> None:
    """Without Dig, without Joint, not without both; Lay and Cut together are asked in one row."""
    row = make.bid("All", steps=("Dig", "Joint"), price=120000)
    asked = tuple(make.scope(item, bid="All", deduct=100) for item in ("Dig", "Joint"))
    forms = smaller_forms(make.job(bids=(row,), bid_scope=asked), row)
    assert [set(left) for left, _ in forms] == [{"Dig"}, {"Joint"}]
    wide = make.replace(row, steps=("Dig", "Lay", "Joint"))
    both = (*asked, make.scope("Dig, Joint", bid="All", deduct=200))
    forms = dict(smaller_forms(make.job(bids=(wide,), bid_scope=both), wide))
    assert forms[frozenset({"Dig", "Joint"})].name == "deduct for Dig, Joint"


def test_five_deducts_can_be_weighed_without_a_word(make: Any) -> None:
    steps = ("Dig", "Spoil", "Base", "Bed", "Lay", "Joint")
    row = make.bid("All", steps=steps, price=120000)
    asked = tuple(make.scope(step, bid="All", deduct=1000) for step in steps[:5])
    notes = Notes("metric")
    assert len(bids(make.job(bids=(row,), bid_scope=asked), TENTH, notes)) == 2**5
    assert [w.code for w in notes.warnings] == []


def test_a_risk_of_ones_own_has_the_chance_and_the_cost_that_are_given(make: Any) -> None:
    rows = (
        make.scope("Old cistern", chance=0.3, cost=50000), make.scope("Ants", cost=2000),
        make.scope("Bees", bid="All", answer="no"), make.scope("Days lost to rain", chance=0.45),
        make.scope("Permit and setback check", answer="yes"),
    )  # fmt: skip
    found = {risk.item: risk for risk in scope.risks(make.job(bid_scope=rows))}
    own = {name: found[name] for name in ("Old cistern", "Ants", "Bees")}
    assert {name: (r.chance, r.cost) for name, r in own.items()} == {
        "Old cistern": (0.3, 50000), "Ants": (1.0, 2000), "Bees": (1.0, None),
    }  # fmt: skip
    assert {(r.steps, r.own, r.share, r.guess) for r in own.values()} == {((), False, 0.0, False)}
    rain = found["Days lost to rain"]
    assert (rain.chance, rain.cost, rain.guess) == (0.45, None, False)
    assert found["Roots and stumps"].guess
    assert "Permit and setback check" not in found


def test_what_the_ground_hides_falls_on_own_hands_too(make: Any) -> None:
    """Rock, roots and settling are met by whoever digs and lays; a firm's lost days are not."""
    own = {risk.item for risk in scope.risks(make.job()) if risk.own}
    assert {"Rock or rubble in the ground", "Guarantee against settling"} <= own
    assert own.isdisjoint({"Days lost to rain", "Soil over the weight of a load"})


@pytest.mark.parametrize(
    ("fields", "cents"),
    [({"answer": "extra", "extra": 5000}, 5500), ({"answer": "extra"}, None),
     ({"answer": "no", "extra": 5000}, None)],
)  # fmt: skip
def test_an_extra_counts_where_it_is_said_and_has_a_sum(
    make: Any, fields: dict[str, Any], cents: float | None
) -> None:
    """50.00 and a tenth of tax."""
    row = make.bid("All", steps=("Dig",), price=120000)
    job = make.job(bids=(row,), bid_scope=(make.scope("Roots and stumps", bid="All", **fields),))
    [answer] = scope.answers(job, row, TENTH)
    assert (answer.extra and answer.extra.value) == cents


def test_what_a_bid_says_of_an_item_is_found_by_its_name(make: Any) -> None:
    row = make.bid("All", steps=("Dig",), price=120000)
    rows = (make.scope("Drainage", bid="All", answer="yes"), make.scope("Ants", bid="All",
                                                                       answer="no"))  # fmt: skip
    [bid] = bids(make.job(bids=(row,), bid_scope=rows), TENTH, Notes("metric"))
    answer = bid.answer("ANTS")
    assert answer is not None
    assert (answer.item, answer.answer) == ("Ants", "no")
    assert bid.answer("Bees") is None
    assert bid_cost(bid, None, constant(1.0, LENGTH, "-")).value == 120000


def test_own_and_paid_helpers_are_all_to_be_fed(make: Any) -> None:
    job = make.job(settings=make.settings(helpers=1, paid_helpers=1))
    assert "Helpers' meals" in {cost.line for cost in checklist(job, make.takeoff())}


# Delivery


def test_a_rent_stays_at_its_last_price_past_twice_the_days_it_was_made_for() -> None:
    """Made for two days, four half days: up to eight of them, 4 days at 70.00."""
    hire = rent([Term("day", money(7000), 1)], given(2.0, DAYS, "days", "days"))
    assert [recalculate(hire, {"days": n}) for n in (1.0, 4.0, 5.0, 9.0)] == [
        7000, 28000, 28000, 28000,
    ]  # fmt: skip


@pytest.fixture
def fees(make: Any) -> Any:
    """The schedule of some delivery rows of one seller, with the notes taken."""

    def run(*rows: Any, **fields: Any) -> Any:
        notes = Notes("metric")
        return schedule(make.supplier("Yard", **fields), rows, notes), notes

    return run


@pytest.mark.parametrize(
    ("free", "paid", "count"),
    [
        ({}, {}, 0),
        ({"end": 3.0}, {}, 3),
        ({}, {"start": 2.0}, 2),
        ({"end": 1.0}, {"start": 2.0}, 2),
    ],
)
def test_pallets_are_free_up_to_an_end_or_before_a_start(
    fees: Any, make: Any, free: dict[str, float], paid: dict[str, float], count: float
) -> None:
    """A fee of nothing is no second fee: nothing is asked about it."""
    found, notes = fees(
        make.delivery("Yard", "pallet", 0, **free), make.delivery("Yard", "pallet", 1800, **paid)
    )
    assert (found.free_pallets, found.per_pallet.value) == (count, 1800)
    assert notes.warnings == ()


def test_a_cent_for_a_pallet_is_a_fee(fees: Any, make: Any) -> None:
    found, _ = fees(make.delivery("Yard", "pallet", 1, start=2.0))
    assert (found.free_pallets, found.per_pallet.value) == (2, 1)


@pytest.mark.parametrize(("bulk", "apart"), [(6000, None), (6001, 6001)])
def test_heaps_have_a_fee_of_their_own_from_the_first_cent_on(
    fees: Any, make: Any, bulk: float, apart: float | None
) -> None:
    found, _ = fees(
        make.delivery("Yard", "load", bulk, applies_to="bulk"),
        make.delivery("Yard", "load", 6000, applies_to="packs"),
    )
    assert found.per_drop.value == 6000
    assert (found.per_heap and found.per_heap.value) == apart


def test_the_first_fee_holds_below_its_start_too(fees: Any, make: Any) -> None:
    found, _ = fees(
        make.delivery("Yard", "order value", 6000, start=2000.0),
        make.delivery("Yard", "order value", 0, start=5000.0),
    )
    assert [(at.value, fee.value) for at, fee in found.value_steps] == [(0, 6000), (5000, 0)]


# Own trips


@pytest.mark.parametrize("fields", [{"trailer_gross": 1500.0}, {"trailer_empty": 300.0}])
def test_one_weight_of_a_trailer_says_nothing_of_its_load(make: Any, fields: Any) -> None:
    assert trip_limit(make.vehicle("Car", payload=600.0, **fields), Notes("metric")) is None


@pytest.mark.parametrize(("payload", "able"), [(80.0, False), (80.5, True)])
def test_a_vehicle_that_its_people_fill_carries_nothing(
    make: Any, payload: float, able: bool
) -> None:
    car = make.vehicle("Car", payload=payload, people=80.0, cost_per_distance=0.0)
    job = make.job(suppliers=(make.supplier("Yard", distance=9 * MILE),), vehicles=(car,))
    notes = Notes("metric")
    found = routes(job, ["Yard"], TENTH, notes)["Yard"]
    assert any(isinstance(way, Haul) for way in found) is able
    assert [w.code for w in notes.warnings] == ([] if able else ["no-payload-left"])


@pytest.mark.parametrize(
    ("kilograms", "volume", "trips", "name"),
    [(100.0, 0.5, 3, "trips"), (100.0, 0.2, 1, "trips"), (0.0, 0.0, 1, "trips, one at least")],
)
def test_trips_by_the_bed_and_one_at_least(
    make: Any, kilograms: float, volume: float, trips: int, name: str
) -> None:
    """Half a cubic metre in a bed of a fifth is three trips."""
    car = make.vehicle("Car", payload=680.0, people=80.0, bed_volume=0.2, cost_per_distance=0.0)
    job = make.job(suppliers=(make.supplier("Yard", distance=9 * MILE),), vehicles=(car,))
    [way] = routes(job, ["Yard"], TENTH, Notes("metric"))["Yard"]
    assert isinstance(way, Haul)
    weight = constant(kilograms, MASS, "weight")
    trip = haul(way, weight, constant(volume, LOOSE_VOLUME, "volume"), DAY)
    assert (trip.trips.value, trip.trips.name) == (trips, name)


# Spoil


@pytest.fixture
def tip(make: Any) -> Any:
    """Own trips of a hired van to a tip ten miles off, and what is said where it cannot be."""

    def run(**fields: Any) -> Any:
        values = {"vehicle": "Van", **fields}
        row: Disposal = make.disposal("Tip", kind="own trips", price=1200,
                                      vehicle=values.pop("vehicle"))  # fmt: skip
        van = make.vehicle("Van", payload=1100.0, people=100.0, hire_per_day=9000,
                           cost_per_distance=0.0, load_rate=0.0, unload_rate=0.0)  # fmt: skip
        notes = Notes("metric")
        job = make.job(disposal=(row,), vehicles=(van,), settings=make.settings(**values))
        return disposal_ways(job, constant(0.0, RATIO, "tax"), notes), notes

    return run


def test_own_trips_say_whether_the_vehicle_or_the_distance_is_missing(tip: Any) -> None:
    unknown = {"vehicle": "Ox cart", "tip_distance": 9.0}
    asked = [tip(**fields)[1].warnings[0].expected for fields in ({}, unknown)]
    assert asked == ["the distance to the tip, on the Job sheet", "the vehicle"]


def test_the_days_of_a_hired_van_may_be_shared(tip: Any) -> None:
    """2,000 kg are two trips at 12.00; a day of the van is 90.00 and its tax of nothing."""
    [way] = tip(tip_distance=10 * MILE)[0]
    spoil = constant(1.0, LOOSE_VOLUME, "spoil"), constant(2000.0, MASS, "weight")
    assert disposal_cost(way, *spoil, DAY).cash.value == 2400 + 9000
    assert disposal_cost(way, *spoil, DAY, hire=False).cash.value == 2400


def test_soil_that_is_given_away_for_a_price_is_all_one_load(make: Any) -> None:
    row = make.disposal("Neighbour", kind="give away", price=5000)
    [way] = disposal_ways(make.job(disposal=(row,)), UNTAXED, Notes("metric"))
    spoil = constant(7.0, LOOSE_VOLUME, "spoil"), constant(9000.0, MASS, "weight")
    found = disposal_cost(way, *spoil, DAY)
    assert (found.loads.value, found.cash.value) == (1, 5000)


# Work and tax


def test_one_person_s_machine_runs_as_long_as_the_person(make: Any) -> None:
    row = make.work("Dig", "digger", likely=1.0, people=1, equipment="Digger")
    [own] = methods(make.job(work=(row,)), make.takeoff(Dig=5.0), ["Digger"], Notes("metric"))[
        "Dig"
    ]
    assert own.machine_rate is not None
    assert own.machine_rate.value == 1.0


def test_a_documented_pace_is_told_with_its_unit_but_for_hours_of_hours(make: Any) -> None:
    notes = Notes("imperial")
    found = methods(make.job(), make.takeoff(Dig=5.0, Build=4.0, Lay=20.0), [], notes)
    said = {a.what: a.value for a in notes.assumed}
    assert said["pace of Build, by hand"] == "as given"
    assert said["pace of Dig, by hand"].endswith("h per cu yd")
    keys = {method.bedding: method.rate.key for method in found["Lay"]}
    assert keys["sand"] != keys["small gravel"]
    assert all(bedding in key for bedding, key in keys.items())
    assert found["Build"][0].rate.key == "reference:Build, by hand: likely"


def test_no_tax_is_taken_where_none_is_given(make: Any) -> None:
    assert sales_tax(make.settings(), Notes("metric")).value == 0
