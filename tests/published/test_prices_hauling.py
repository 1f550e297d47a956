"""Trips, mileage, loading hours and barrow cycles against published values."""

import pytest

from budget.figures import constant
from budget.job import Place, Vehicle
from budget.prices.carrying import Cycle
from budget.prices.defaults import Notes
from budget.prices.disposal import disposal_cost
from budget.prices.hauling import haul, trip_limit
from budget.prices.options import DisposalWay, Haul
from budget.prices.tax import UNTAXED
from budget.units import (
    BULK_MASS,
    DISTANCE,
    FOOT,
    HOURS,
    LENGTH,
    LOOSE_VOLUME,
    MASS,
    MILE,
    MINUTES,
    MONEY,
    POUND,
    SHORT_TON,
    WALK,
    YARD,
    per,
)

CY = YARD**3
DAY = constant(8.0, HOURS, "hours per day")


def vehicle(**pounds: float) -> Vehicle:
    weights = {name: value * POUND for name, value in pounds.items()}
    return Vehicle(place=Place("Vehicles", 2), vehicle="Truck", **weights)


def way(
    payload_lb: float,
    bed_cy: float | None = None,
    miles: float = 10.0,
    cents_a_mile: float = 50.0,
    hours_a_cy: float = 0.0,
    lb_a_cy: float = 2700.0,
) -> Haul:
    return Haul(
        key="haul", supplier="Yard", vehicle="Truck",
        payload=constant(payload_lb * POUND, MASS, "payload"), payload_why="payload",
        bed=None if bed_cy is None else constant(bed_cy * CY, LOOSE_VOLUME, "bed"),
        distance=constant(miles * MILE, DISTANCE, "there and back"),
        cost_per_distance=constant(cents_a_mile / MILE, per(MONEY, DISTANCE), "rate"),
        drive_hours=constant(0.0, HOURS, "driving"),
        handling=constant(hours_a_cy / (lb_a_cy * POUND), per(HOURS, BULK_MASS), "handling"),
        hire_per_day=None, tax=UNTAXED,
    )  # fmt: skip


def trips(way: Haul, yards: float, lb_a_cy: float) -> float:
    weight = constant(yards * lb_a_cy * POUND, MASS, "weight")
    volume = constant(yards * CY, LOOSE_VOLUME, "volume")
    return haul(way, weight, volume, DAY).trips.value


def test_goods_of_unknown_weight_take_one_trip() -> None:
    """They have to be fetched all the same."""
    assert haul(way(1320), constant(0.0, MASS, "unknown"), None, DAY).trips.value == 1


def test_pickup_with_driver() -> None:
    """Payload 1,500 lb less a driver of 180 lb leaves 1,320 lb: 0.65 cu yd of dry loose earth
    (2,025 lb/cu yd, TM 9-2320-366-10-1 Table 2-15); 6 loose cu yd are 10 trips."""
    limit = trip_limit(vehicle(payload=1500, people=180), Notes("imperial"))
    assert limit is not None
    assert limit.load.value / POUND == pytest.approx(1320)
    assert limit.load.value / POUND / 2025 == pytest.approx(0.65, abs=0.005)
    assert trips(way(limit.load.value / POUND), 6, 2025) == 10


def test_utility_trailer() -> None:
    """Gross 2,990 lb less empty 750 lb is 2,240 lb: 0.83 cu yd of crushed stone (2,700 lb/cu yd,
    TM 9-2320-366-10-1 Table 2-15); 4 cu yd are 5 trips."""
    limit = trip_limit(vehicle(trailer_gross=2990, trailer_empty=750), Notes("imperial"))
    assert limit is not None
    assert limit.load.value / POUND == pytest.approx(2240)
    assert limit.load.value / POUND / 2700 == pytest.approx(0.83, abs=0.005)
    assert trips(way(limit.load.value / POUND), 4, 2700) == 5


def test_trailer_over_ten_thousand_pounds() -> None:
    """Cargo is gross rating less weighed empty weight: 12,000 - 3,400 = 8,600 lb (state towing
    page)."""
    limit = trip_limit(vehicle(trailer_gross=12000, trailer_empty=3400), Notes("imperial"))
    assert limit is not None
    assert limit.load.value / POUND == pytest.approx(8600)


@pytest.mark.parametrize(
    ("share", "tongue"),
    [
        pytest.param(0.10, 280, id="owner manuals: 10 % of 2,800 lb"),
        pytest.param(0.15, 420, id="owner manuals: 15 % of 2,800 lb"),
    ],
)
def test_tongue_load(share: float, tongue: float) -> None:
    """A hitch that bears just the published tongue load pulls just the 2,800 lb trailer."""
    row = Vehicle(
        place=Place("Vehicles", 2), vehicle="Truck", payload=(tongue + 180) * POUND,
        people=180 * POUND, trailer_gross=5000 * POUND, trailer_empty=800 * POUND, tongue=share,
    )  # fmt: skip
    limit = trip_limit(row, Notes("imperial"))
    assert limit is not None
    assert limit.load.value / POUND == pytest.approx(2000)
    assert "tongue" in limit.why


def test_trips_by_the_tighter_limit() -> None:
    """4.57 ton of base at 2,950 lb/cu yd (WSDOT Exhibit 620-1), payload 1,500 lb, level bed of
    1.5 cu yd (a supplier's page): 6.09 loads by weight, 2.06 by volume; 7 trips."""
    yards = 4.57 * 2000 / 2950
    assert trips(way(1500, bed_cy=1.5), yards, 2950) == 7
    assert trips(way(1e6, bed_cy=1.5), yards, 2950) == 3


@pytest.mark.parametrize(
    ("lb_a_cy", "largest"),
    [
        pytest.param(2025, 4.5, id="TM 9-2320-366-10-1 Table 2-15: earth, dry loose"),
        pytest.param(2565, 3.5, id="TM 9-2320-366-10-1 Table 2-15: earth, moist packed"),
        pytest.param(2700, 3.5, id="TM 9-2320-366-10-1 Table 2-15: earth and gravel"),
        pytest.param(2565, 3.5, id="TM 9-2320-366-10-1 Table 2-15: gravel and sand, dry"),
        pytest.param(3240, 3.0, id="TM 9-2320-366-10-1 Table 2-15: gravel and sand, wet"),
        pytest.param(2700, 3.5, id="TM 9-2320-366-10-1 Table 2-15: limestone, crushed"),
    ],
)
def test_largest_load_that_does_not_overload(lb_a_cy: float, largest: float) -> None:
    """A 10,000 lb truck with a box of 5.19 cu yd: weight binds before the box is full."""
    truck = way(10000, bed_cy=5.19)
    assert trips(truck, largest, lb_a_cy) == 1
    assert trips(truck, largest + 0.5, lb_a_cy) == 2


@pytest.mark.parametrize(
    ("cents", "dollars"),
    [
        pytest.param(72.5, 87.00, id="IRS Notice 2026-10: 72.5 cents, 120 miles"),
        pytest.param(70.0, 84.00, id="IRS Notice 2025-5: 70 cents, 120 miles"),
        pytest.param(37.0, 44.40, id="IRS Notice 2025-5 without depreciation: 37 cents"),
        pytest.param(67.0, 80.40, id="IRS 2024: 67 cents, 120 miles"),
        pytest.param(65.5, 78.60, id="IRS Notice 2023-3: 65.5 cents, 120 miles"),
        pytest.param(20.5, 24.60, id="GSA Bulletin FTR 26-02: 20.5 cents, 120 miles"),
    ],
)
def test_mileage(cents: float, dollars: float) -> None:
    ride = way(2000, miles=40, cents_a_mile=cents)
    weight = constant(5000 * POUND, MASS, "three trips of 40 miles")
    assert haul(ride, weight, None, DAY).cash.value == round(dollars * 100)


def test_shovelling_sand_into_a_wagon() -> None:
    """40 minutes a cubic yard (Ogden and Cleveland): 3 cu yd take one person 2.0 hours."""
    ride = way(2000, hours_a_cy=40 / 60, lb_a_cy=2700)
    hours = haul(ride, constant(3 * 2700 * POUND, MASS, "sand"), None, DAY).hours.value
    assert hours == pytest.approx(2.0)


def cycle(load_lb: float) -> Cycle:
    return Cycle(
        load=constant(load_lb * POUND, MASS, "load"),
        fill=constant(2.5 / 60, MINUTES, "fill"),
        tip=constant(0.5 / 60, MINUTES, "tip"),
        pace=constant(150 * 60 * FOOT, WALK, "pace"),
    )


def test_barrow_cycle() -> None:
    """Load 2.5 min, tip 0.5, 100 ft at 150 ft/min both ways: 4.33 min, 13.8 trips an hour. At
    200 lb of gravel (110 lb/cu ft) 1.82 cu ft a trip: 14.9 trips a loose cu yd, 0.93 an hour.
    (Derived beside the labour tables from first principles.)"""
    barrow = cycle(200)
    way_out = constant(100 * FOOT, LENGTH, "way")
    hours_a_kg = barrow.handling().value + barrow.walk(None).value * way_out.value
    hours_a_trip = hours_a_kg * 200 * POUND
    assert hours_a_trip * 60 == pytest.approx(4.33, abs=0.005)
    assert 1 / hours_a_trip == pytest.approx(13.8, abs=0.06)
    assert pytest.approx(14.9, abs=0.06) == 27 * 110 / 200
    assert 1 / (hours_a_kg * 27 * 110 * POUND) == pytest.approx(0.93, abs=0.005)


def box(yards: float) -> DisposalWay:
    return DisposalWay(
        key="tipper", kind="tipper", price=constant(10000, MONEY, "load"),
        volume=constant(yards * CY, LOOSE_VOLUME, "load"), weight=None, over_price=None,
        permit=None, hours=None, haul=None, tax=UNTAXED, cell="Disposal!C2",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("loose", "truck", "loads"),
    [
        pytest.param(1300, 7, 186, id="estimating textbook, Example 9-2: 1,300 loose cu yd"),
        pytest.param(23, 5, 5, id="Army planning: a 5-ton truck carries 5 loose cu yd"),
        pytest.param(25, 12, 3, id="Army planning: a 20-ton truck carries 12 loose cu yd"),
    ],
)
def test_loads_of_spoil(loose: float, truck: float, loads: int) -> None:
    volume = constant(loose * CY, LOOSE_VOLUME, "spoil")
    weight = constant(loose * 1.05 * SHORT_TON, MASS, "spoil")
    found = disposal_cost(box(truck), volume, weight, DAY)
    assert found.loads.value == loads
    assert found.cash.value == loads * 10000
