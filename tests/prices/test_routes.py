"""How a seller's goods may come: drop points, fee schedules, vehicles."""

from dataclasses import replace
from typing import get_args

import pytest

from budget.figures import constant, inputs, recalculate
from budget.job import DeliveryBasis
from budget.prices.defaults import Notes
from budget.prices.delivery import Shipment, drop_fee
from budget.prices.hauling import haul, road_caution, trip_limit
from budget.prices.options import Drop, Haul
from budget.prices.routes import routes
from budget.units import (
    COUNT,
    HOURS,
    LOOSE_VOLUME,
    MASS,
    MILE,
    MONEY,
    POUND,
    RATIO,
    SHORT_TON,
)

DAY = constant(8.0, HOURS, "hours per day")


@pytest.fixture
def ways(make):
    """The routes of one seller, North Yard, with the notes taken."""

    def run(suppliers=(), delivery=(), vehicles=(), **settings):
        notes = Notes("imperial")
        job = make.job(
            suppliers=tuple(suppliers), delivery=tuple(delivery), vehicles=tuple(vehicles),
            settings=make.settings(**settings),
        )  # fmt: skip
        tax = constant(0.1, RATIO, "tax")
        return routes(job, ["North Yard"], tax, notes)["North Yard"], notes

    return run


def order(value=10000.0, heaps=(), packed=None, volume=0.0, pallets=0) -> Shipment:
    return Shipment(
        constant(value, MONEY, "value"),
        tuple(constant(float(h), MASS, "heap") for h in heaps),
        None if packed is None else constant(float(packed), MASS, "packed"),
        constant(volume, LOOSE_VOLUME, "volume"),
        constant(pallets, COUNT, "pallets"),
    )


def test_a_seller_of_whom_nothing_is_known_has_an_unpriced_drop(ways) -> None:
    [route], _ = ways()
    assert isinstance(route, Drop)
    assert not route.priced
    assert (route.least, route.most, route.free_pallets, route.heaps_share) == (0, None, 0, False)


def test_a_seller_that_gives_no_fee_is_unpriced_unless_goods_can_be_fetched(ways, make) -> None:
    known = make.supplier("North Yard", distance=8 * MILE)
    [drop], _ = ways([known])
    assert isinstance(drop, Drop)
    assert not drop.priced
    [haul_only], _ = ways([known], vehicles=[make.vehicle("Pickup", payload=700.0)])
    assert isinstance(haul_only, Haul)


def test_blank_drop_points_are_not_offered(ways, make) -> None:
    found, notes = ways([make.supplier("North Yard", delivery_fee=6000, street=0, site=4000)])
    assert [route.key for route in found] == ["deliver to street", "deliver to site"]
    assert [drop_fee(r, order(packed=1)).value for r in found] == [6000, 10000]
    assert notes.assumed == ()


def test_all_blank_points_mean_the_drive_and_that_is_listed(ways, make) -> None:
    found, notes = ways([make.supplier("North Yard", delivery_fee=6000)])
    assert [route.key for route in found] == ["deliver to drive"]
    assert [a.what for a in notes.assumed] == ["drop point of North Yard"]


def test_delivery_is_taxed_only_where_it_is(ways, make) -> None:
    [taxed], _ = ways([make.supplier("North Yard", delivery_fee=6000, delivery_taxed=True)])
    assert drop_fee(taxed, order(packed=1)).value == 6600


@pytest.mark.parametrize(
    ("rows", "fee"),
    [
        # 12 miles at 3.00
        ([("mile", 300 / MILE, {})], 3600),
        # free to 10 miles, 3.00 a mile after: 2 miles
        ([("mile beyond", 300 / MILE, {"start": 10 * MILE})], 600),
        ([("mile beyond", 900000 / MILE, {"start": 20 * MILE})], 0),
        # 3.00 a mile from the 5th to the 8th, 2.00 a mile from the 8th on: 3 and 4 miles
        (
            [
                ("mile beyond", 300 / MILE, {"start": 5 * MILE, "end": 8 * MILE}),
                ("mile beyond", 200 / MILE, {"start": 8 * MILE}),
            ],
            1700,
        ),
        # the band from 10 miles on, 4.00 a mile for the whole way
        (
            [
                ("mile", 300 / MILE, {"end": 10 * MILE}),
                ("mile", 400 / MILE, {"start": 10 * MILE}),
            ],
            4800,
        ),
        # 2 tons at 15.00
        ([("ton", 1500 / SHORT_TON, {})], 3000),
        ([("load", 5000, {}), ("ton", 1500 / SHORT_TON, {"applies_to": "packs"})], 5000),
        ([("volume", 2000, {})], 3000),
        ([("load", 5000, {"applies_to": "packs"}), ("drop", 4000, {"applies_to": "bulk"})], 4000),
        # 100.00 of goods: 40.00 from 50.00 on
        (
            [
                ("order value", 6000, {"end": 5000.0}),
                ("order value", 4000, {"start": 5000.0, "end": 20000.0}),
                ("order value", 0, {"start": 20000.0}),
            ],
            4000,
        ),
        # the least step begins above this order: its fee holds below it too
        (
            [("order value", 6000, {"start": 15000.0}), ("order value", 0, {"start": 30000.0})],
            6000,
        ),
    ],
    ids=["mile", "beyond", "within the free radius", "bands beyond", "mile bands", "ton",
         "load, ton of packs", "volume", "drop for bulk", "order value", "below the first step"],
)  # fmt: skip
def test_fee_schedules(ways, make, rows, fee) -> None:
    """Two tons, 1.5 m³, of bulk goods for 100.00, from 12 miles away."""
    steps = [make.delivery("North Yard", basis, amount, **more) for basis, amount, more in rows]
    [route], notes = ways([make.supplier("North Yard", distance=12 * MILE)], steps)
    goods = order(heaps=(2 * SHORT_TON,), volume=1.5)
    assert drop_fee(route, goods).value == fee
    assert notes.warnings == ()


@pytest.mark.parametrize("basis", get_args(DeliveryBasis))
def test_a_fee_by_any_basis_is_charged(ways, make, basis) -> None:
    """Two tons of stone and three pallets from 12 miles away: no fee for it is nothing."""
    steps = [make.delivery("North Yard", basis, 100)]
    [route], notes = ways([make.supplier("North Yard", distance=12 * MILE)], steps)
    goods = order(heaps=(2 * SHORT_TON,), volume=1.5, packed=4000, pallets=3)
    assert drop_fee(route, goods).value > 0
    assert notes.warnings == ()


@pytest.mark.parametrize(("basis", "goods"), [("pallet", "packs"), ("volume", "bulk")])
def test_a_fee_said_to_apply_to_what_it_counts_needs_no_word(ways, make, basis, goods) -> None:
    _, notes = ways(
        [make.supplier("North Yard")], [make.delivery("North Yard", basis, 10, applies_to=goods)]
    )
    assert notes.warnings == ()


def test_free_pallets(ways, make) -> None:
    """First free, 10.00 each more."""
    steps = [
        make.delivery("North Yard", "pallet", 0, end=1.0),
        make.delivery("North Yard", "pallet", 1000, start=1.0),
    ]
    [route], _ = ways([make.supplier("North Yard")], steps)
    assert [drop_fee(route, order(packed=9, pallets=n)).value for n in (1, 2, 4)] == [0, 1000, 3000]


def test_pallets_before_the_first_fee_are_free(ways, make) -> None:
    steps = [make.delivery("North Yard", "pallet", 1800, start=2.0)]
    [route], notes = ways([make.supplier("North Yard")], steps)
    assert [drop_fee(route, order(packed=9, pallets=n)).value for n in (2, 3)] == [0, 1800]
    assert notes.warnings == ()


def test_pallets_are_charged_from_the_first_of_several_steps_on(ways, make) -> None:
    """The dearest of two fees from the third pallet on: 4 less 2 at 18.00."""
    steps = [
        make.delivery("North Yard", "pallet", 1800, start=2.0),
        make.delivery("North Yard", "pallet", 1500, start=6.0),
    ]
    [route], _ = ways([make.supplier("North Yard")], steps)
    assert drop_fee(route, order(packed=9, pallets=4)).value == 3600


@pytest.mark.parametrize(("miles", "fee"), [(9, 2700), (10, 4000), (11, 4400)])
def test_a_band_of_miles_begins_at_its_first_mile(ways, make, miles, fee) -> None:
    steps = [
        make.delivery("North Yard", "mile", 300 / MILE, end=10 * MILE),
        make.delivery("North Yard", "mile", 400 / MILE, start=10 * MILE),
    ]
    [route], _ = ways([make.supplier("North Yard", distance=miles * MILE)], steps)
    assert drop_fee(route, order(packed=9)).value == fee


def test_a_fee_by_drop_with_limits_is_one_by_order_value(ways, make) -> None:
    steps = [
        make.delivery("North Yard", "drop", 6000, end=25000.0),
        make.delivery("North Yard", "drop", 4000, start=25000.0),
    ]
    [route], notes = ways([make.supplier("North Yard")], steps)
    fees = [drop_fee(route, order(value=v, packed=9)).value for v in (24999.0, 25000.0)]
    assert fees == [6000, 4000]
    assert notes.warnings == ()


@pytest.mark.parametrize(
    ("basis", "fields"),
    [
        ("load", {"start": 2.0}),
        ("ton", {"end": 900.0}),
        ("order value", {"applies_to": "bulk"}),
        ("pallet", {"applies_to": "bulk"}),
        ("volume", {"applies_to": "packs"}),
    ],
)
def test_limits_that_are_not_counted_are_said(ways, make, basis, fields) -> None:
    steps = [make.delivery("North Yard", basis, 10, **fields)]
    _, notes = ways([make.supplier("North Yard")], steps)
    assert [w.code for w in notes.warnings] == ["delivery-limits-not-counted"]


def test_flat_fee_and_schedule_add_up(ways, make) -> None:
    steps = [make.delivery("North Yard", "pallet", 1000)]
    [route], _ = ways([make.supplier("North Yard", delivery_fee=5000)], steps)
    assert drop_fee(route, order(packed=9, pallets=2)).value == 7000


def test_fee_by_mile_without_a_distance_is_not_priced(ways, make) -> None:
    steps = [make.delivery("North Yard", "mile", 300 / MILE)]
    [route], notes = ways([make.supplier("North Yard")], steps)
    assert isinstance(route, Drop)
    assert not route.priced
    assert [w.code for w in notes.warnings] == ["distance-not-known"]


def test_several_fees_by_ton_count_the_dearest_and_say_so(ways, make) -> None:
    steps = [make.delivery("North Yard", "ton", fee / SHORT_TON) for fee in (1500, 2500)]
    [route], notes = ways([make.supplier("North Yard")], steps)
    assert drop_fee(route, order(heaps=(SHORT_TON,))).value == 2500
    assert [w.code for w in notes.warnings] == ["delivery-steps-differ"]


def test_a_vehicle_may_fetch(ways, make) -> None:
    """10 miles each way at 25 mph is 0.8 h, and half an hour a trip for paying and strapping."""
    yard = make.supplier("North Yard", delivery_fee=6000, distance=10 * MILE)
    pickup = make.vehicle("Pickup", payload=1500 * POUND, people=180 * POUND)
    found, _ = ways([yard], vehicles=[pickup])
    way = found[-1]
    assert isinstance(way, Haul)
    assert way.key == "haul with Pickup"
    assert way.drive_hours.value == pytest.approx(0.8 + 0.5)
    trips = haul(way, constant(3000 * POUND, MASS, "stone"), None, DAY)
    assert trips.trips.value == 3
    assert trips.cash.value == round(3 * 20 * 72.5)
    # 0.5 + 0.4 person-hours a ton to load and unload
    assert trips.hours.value == pytest.approx(3 * 1.3 + 1.5 * 0.9)


def test_no_fetching_where_the_seller_does_not_allow_it(ways, make) -> None:
    yard = make.supplier("North Yard", delivery_fee=6000, distance=9 * MILE, pickup=False)
    found, _ = ways([yard], vehicles=[make.vehicle("Pickup", payload=700.0)])
    assert [route.key for route in found] == ["deliver to drive"]


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"payload": None}, "payload-not-known"),
        ({"payload": 60.0, "people": 80.0}, "no-payload-left"),
    ],
)
def test_a_vehicle_that_cannot_be_judged_is_left_out(ways, make, fields, code) -> None:
    yard = make.supplier("North Yard", delivery_fee=6000, distance=9 * MILE)
    found, notes = ways([yard], vehicles=[make.vehicle("Car", **fields)])
    assert [route.key for route in found] == ["deliver to drive"]
    assert code in [w.code for w in notes.warnings]


def test_no_published_rate_in_another_currency(ways, make) -> None:
    yard = make.supplier("North Yard", delivery_fee=6000, distance=9 * MILE)
    van = make.vehicle("Van", payload=700.0)
    found, notes = ways([yard], vehicles=[van], currency="EUR")
    assert [route.key for route in found] == ["deliver to drive"]
    assert [w.code for w in notes.warnings] == ["not-priced"]


@pytest.mark.parametrize(
    ("fields", "load", "why"),
    [
        ({"payload": 800.0, "people": 150.0}, 650, "people aboard"),
        # 600 kg spare over 12 % bear a 5,000 kg trailer, gross 2,000 binds: 2,000 - 500
        ({"payload": 750.0, "people": 150.0, "trailer_gross": 2000.0, "trailer_empty": 500.0,
          "tongue": 0.12, "tow_limit": 3000.0}, 1500, "gross"),
        ({"payload": 750.0, "people": 150.0, "trailer_gross": 2000.0, "trailer_empty": 500.0,
          "tongue": 0.12, "tow_limit": 1400.0}, 900, "tow limit"),
        # 60 kg spare over 10 % bear 600 kg of trailer and load
        ({"payload": 210.0, "people": 150.0, "trailer_gross": 2000.0, "trailer_empty": 500.0,
          "tongue": 0.1, "tow_limit": 1400.0}, 100, "tongue"),
    ],
    ids=["alone", "trailer gross", "tow limit", "tongue load"],
)  # fmt: skip
def test_the_tightest_limit_binds(make, fields, load, why) -> None:
    limit = trip_limit(make.vehicle("Truck", **fields), Notes("metric"))
    assert limit is not None
    assert limit.load.value == pytest.approx(load)
    assert why in limit.why


def test_a_limit_raised_leaves_the_next_to_bind(make) -> None:
    """Gross 2,000 less 500, tow limit 1,400 less 500: with a tow limit of 3,000 the gross binds."""
    columns = {name: name for name in ("trailer_gross", "trailer_empty", "tow_limit")}
    car = make.vehicle("Car", trailer_gross=2000.0, trailer_empty=500.0, tow_limit=1400.0)
    car = make.replace(car, place=replace(car.place, columns=columns))
    limit = trip_limit(car, Notes("metric"))
    assert limit is not None
    (tow,) = [f for f in inputs(limit.load) if f.value == 1400.0]
    assert limit.load.value == 900
    assert recalculate(limit.load, {tow.key: 3000.0}) == 1500


def test_at_a_tie_the_weight_is_named(ways, make) -> None:
    yard = make.supplier("North Yard", distance=10 * MILE)
    van = make.vehicle("Van", payload=1100.0, people=100.0, bed_volume=1.0)
    [way], _ = ways([yard], vehicles=[van])
    for volume, why in ((2.0, "payload less the people aboard"), (2.1, "the volume of the bed")):
        trip = haul(
            way, constant(2000.0, MASS, "mulch"), constant(volume, LOOSE_VOLUME, "mulch"), DAY
        )
        assert trip.why == why


def test_free_pallets_may_be_a_row_without_a_fee(ways, make) -> None:
    steps = [
        make.delivery("North Yard", "pallet", 0),
        make.delivery("North Yard", "pallet", 1800, start=2.0),
    ]
    [route], _ = ways([make.supplier("North Yard")], steps)
    assert [drop_fee(route, order(packed=9, pallets=n)).value for n in (2, 3)] == [0, 1800]


def test_the_first_fee_by_order_value_holds_from_nothing_on(ways, make) -> None:
    steps = [make.delivery("North Yard", "order value", 6000, end=5000.0),
             make.delivery("North Yard", "order value", 0, start=5000.0)]  # fmt: skip
    [route], _ = ways([make.supplier("North Yard")], steps)
    assert [(at.value, fee.value) for at, fee in route.value_steps] == [(0, 6000), (5000, 0)]
    assert drop_fee(route, order(value=0.0, packed=9)).value == 6000


def test_a_hired_van_is_paid_by_the_day(ways, make) -> None:
    """Four trips of 0.8 + 0.5 h and 2 tons at 0.9 h: 7 h, one day; 90.00 and 10 % tax."""
    yard = make.supplier("North Yard", distance=10 * MILE)
    van = make.vehicle(
        "Van", payload=1180 * POUND, people=180 * POUND, hire_per_day=9000, cost_per_distance=0.0
    )
    found, _ = ways([yard], vehicles=[van])
    trip = haul(found[0], constant(2 * SHORT_TON, MASS, "stone"), None, DAY)
    assert (trip.trips.value, trip.hire_days.value, trip.cash.value) == (4, 1, 9900)


def test_the_bed_binds_for_light_goods(ways, make) -> None:
    yard = make.supplier("North Yard", distance=10 * MILE)
    van = make.vehicle("Van", payload=2000.0, people=100.0, bed_volume=1.0)
    found, _ = ways([yard], vehicles=[van])
    weight = constant(1000.0, MASS, "mulch")
    trip = haul(found[0], weight, constant(2.5, LOOSE_VOLUME, "mulch"), DAY)
    assert trip.trips.value == 3
    assert trip.why == "the volume of the bed"
    assert trip.hire_days.value == 0  # their own van


def test_every_trip_carries_its_caution(ways, make) -> None:
    yard = make.supplier("North Yard", distance=10 * MILE)
    alone = make.vehicle("Alone", payload=2000.0)
    towing = make.vehicle("Towing", payload=2000.0, trailer_empty=300.0, trailer_gross=1500.0)
    cautions = {r.vehicle: r.caution for r in ways([yard], vehicles=[alone, towing])[0]}
    assert "payload" in cautions["Alone"]
    assert "hitch" in cautions["Towing"]
    assert "hitch" not in cautions["Alone"]


@pytest.mark.parametrize("known", ["trailer_empty", "trailer_gross"])
def test_a_trailer_of_which_one_weight_is_known_has_its_caution(make, known) -> None:
    assert "hitch" in road_caution(make.vehicle("Towing", payload=2000.0, **{known: 900.0}))
