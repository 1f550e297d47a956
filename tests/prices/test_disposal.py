"""Ways to be rid of spoil, worked out by hand."""

import pytest

from budget.figures import constant
from budget.prices.defaults import Notes
from budget.prices.disposal import disposal_cost, disposal_ways
from budget.units import HOURS, LOOSE_VOLUME, MASS, MILE, RATIO

DAY = constant(8.0, HOURS, "hours per day")


@pytest.fixture
def ways(make):
    """The disposal ways of some rows, with the notes taken."""

    def run(*rows, vehicles=(), **settings):
        notes = Notes("metric")
        job = make.job(disposal=rows, vehicles=tuple(vehicles), settings=make.settings(**settings))
        return disposal_ways(job, constant(0.1, RATIO, "tax"), notes), notes

    return run


def cost(way, volume: float, weight: float):
    spoil = constant(volume, LOOSE_VOLUME, "spoil"), constant(weight, MASS, "weight")
    return disposal_cost(way, *spoil, DAY)


@pytest.mark.parametrize("kind", ["keep", "give away"])
def test_keeping_costs_nothing_but_the_hours_it_takes(ways, make, kind) -> None:
    [way] = ways(make.disposal("Flower bed", kind=kind, hours=0.5))[0]
    found = cost(way, 8, 10000)
    assert (found.cash.value, found.hours.value) == (0, 4)


def test_boxes_by_volume_with_weight_over_and_a_permit(ways, make) -> None:
    """9 m³ are 2 boxes of 5 m³ at 250. 12,000 kg less 2 x 5,000 kg included are 2,000 kg at 0.06.
    Permit 40: 500 + 120 + 40."""
    row = make.disposal(
        "Box", kind="box", price=25000, volume=5.0, weight=5000.0, over_price=6.0, permit=4000
    )
    [way] = ways(row)[0]
    found = cost(way, 9, 12000)
    assert (found.loads.value, found.cash.value, found.hours.value) == (2, 66000, 0)
    assert cost(way, 9, 9999).cash.value == 54000


def test_boxes_by_weight_where_none_may_be_heavier(ways, make) -> None:
    [way] = ways(make.disposal("Tipper", kind="tipper", price=9000, volume=5.0, weight=4000.0))[0]
    assert cost(way, 9, 12001).loads.value == 4
    assert cost(way, 9, 7000).loads.value == 2


@pytest.mark.parametrize(
    "fields",
    [{"kind": "box", "volume": 5.0}, {"kind": "box", "price": 9000},
     {"kind": "own trips", "price": 1000}],
    ids=["price", "volume", "vehicle and distance"],
)  # fmt: skip
def test_what_cannot_be_priced_is_a_warning_and_not_offered(ways, make, fields) -> None:
    found, notes = ways(make.disposal("Way", **fields))
    assert found == ()
    assert len(notes.warnings) == 1


def test_own_trips_to_the_tip(ways, make) -> None:
    """6,000 kg at 1,000 kg a trip are 6 trips of 20 miles at 0.50, and 12.00 a load to tip."""
    truck = make.vehicle(
        "Pickup", payload=1100.0, people=100.0, cost_per_distance=50 / MILE, load_rate=0.001,
        unload_rate=0.0005,
    )  # fmt: skip
    row = make.disposal("Tip", kind="own trips", price=1200, vehicle="pickup")
    [way] = ways(row, vehicles=[truck], tip_distance=10 * MILE)[0]
    found = cost(way, 5, 6000)
    assert found.loads.value == 6
    assert found.cash.value == 6 * 1200 + 6 * 1000
    assert found.hours.value == pytest.approx(6 * (20 / 25 + 0.5) + 6000 * 0.0015)


def test_own_trips_without_a_distance_to_the_tip_are_not_offered(ways, make) -> None:
    row = make.disposal("Tip", kind="own trips", price=1200, vehicle="Pickup")
    found, notes = ways(row, vehicles=[make.vehicle("Pickup", payload=900.0)])
    assert found == ()
    assert [w.code for w in notes.warnings] == ["own-trips-not-known"]


def test_a_weight_alone_limits_a_load_unless_more_may_be_paid_for(ways, make) -> None:
    """9,000 kg in loads of 4,000 kg are three; with a price for what is over, any number fits."""
    tipper = make.disposal("Tipper", kind="tipper", price=9000, weight=4000.0)
    [way] = ways(tipper)[0]
    assert cost(way, 9, 9000).loads.value == 3
    found, notes = ways(make.replace(tipper, over_price=5.0))
    assert found == ()
    assert [w.code for w in notes.warnings] == ["not-priced"]
