"""Machines: rent, borrow or buy, worked out by hand."""

from dataclasses import replace

import pytest

from budget.figures import constant
from budget.prices.defaults import Notes
from budget.prices.equipment import hire_cost, machines
from budget.units import DAYS, HOURS, RATIO


@pytest.fixture
def had(make):
    """The machines of some equipment rows, with the notes taken."""

    def run(*rows, **settings):
        notes = Notes("imperial")
        job = make.job(equipment=rows, settings=make.settings(**settings))
        return machines(job, constant(0.08, RATIO, "tax"), notes), notes

    return run


def days(*numbers: float):
    return [constant(float(n), DAYS, "days") for n in numbers]


def hours(number: float):
    return constant(float(number), HOURS, "machine hours")


def test_rent_for_two_spells(had, make) -> None:
    """Days 1 and 2.5 at 60 a day, 40 for 4 h: 60 + 120 + 40 = 220. Waiver 10 %: 22. Transport and
    cleaning 35 twice: 70. Sum 312, taxed 24.96. Fuel 20 h at 3: 60. In all 396.96."""
    row = make.equipment(
        "Plate compactor", source="Tool Barn", half_day=4000, day=6000, waiver=0.1, fuel=300,
        cleaning=1000, transport=2500, deposit=15000,
    )  # fmt: skip
    [machine] = had(row)[0]["Plate compactor"]
    assert machine.key == "rent from Tool Barn"
    assert hire_cost(machine, days(1, 2.5), hours(20)).value == 31200 + 2496 + 6000
    assert machine.deposit is not None


def test_no_spells_cost_nothing(had, make) -> None:
    [machine] = had(make.equipment("Saw", day=6000, transport=2500))[0]["Saw"]
    assert hire_cost(machine, [], hours(0)).value == 0


def test_borrowed_for_a_favour(had, make) -> None:
    row = make.equipment("Saw", way="borrow", source="neighbour", favour=2000, fuel=100)
    [machine] = had(row)[0]["Saw"]
    assert machine.key == "borrow from neighbour"
    assert hire_cost(machine, days(1, 1), hours(5)).value == 2000 + 500


def test_bought_and_sold_on(had, make) -> None:
    """400 less 250 is 150; the tax is on the 400: 32."""
    row = make.equipment("Saw", way="buy", source="Tool Barn", price=40000, resale=25000)
    [machine] = had(row)[0]["Saw"]
    assert machine.key == "buy at Tool Barn"
    assert hire_cost(machine, days(3), hours(24)).value == 15000 + 3200


def test_bought_and_kept(had, make) -> None:
    """All of 400 and its tax of 32."""
    [machine] = had(make.equipment("Saw", way="buy", price=40000))[0]["Saw"]
    assert hire_cost(machine, days(3), hours(24)).value == 40000 + 3200


def test_untaxed_rent(had, make) -> None:
    [machine] = had(make.equipment("Saw", day=6000, taxed=False))[0]["Saw"]
    assert hire_cost(machine, days(2), hours(10)).value == 12000


def test_hours_over_the_meter_cost_an_eighth_of_the_day(had, make) -> None:
    [machine] = had(make.equipment("Saw", day=8000, taxed=False, hours_a_day=8))[0]["Saw"]
    assert hire_cost(machine, days(2), hours(19)).value == 16000 + 3 * 1000
    assert hire_cost(machine, days(2), hours(16.5)).value == 16000 + 500
    assert hire_cost(machine, days(2), hours(16)).value == 16000


@pytest.mark.parametrize(
    ("width", "way_in", "fits"), [(0.9, 0.9, True), (0.91, 0.9, False), (None, 0.9, True),
                                  (0.9, None, True)],
)  # fmt: skip
def test_through_the_narrowest_way_in(had, make, width, way_in, fits) -> None:
    found, _ = had(make.equipment("Loader", day=1, width=width), way_in_width=way_in)
    assert found["Loader"][0].fits is fits


@pytest.mark.parametrize("fields", [{"way": "rent"}, {"way": "buy", "resale": 100}])
def test_a_blank_price_is_a_warning_and_never_free(had, make, fields) -> None:
    found, notes = had(make.equipment("Saw", **fields))
    assert found == {}
    assert [w.code for w in notes.warnings] == ["not-priced"]


def test_what_the_shop_means_by_its_terms(had, make) -> None:
    own = make.equipment("Saw", weekend=1, week=2, month=3, days_a_week=5, weekend_days=1.5)
    blank = make.equipment("Mixer", weekend=1, week=2, month=3)
    found, notes = had(own, blank)
    assert [t.days for t in found["Saw"][0].terms] == [1.5, 5, 20]
    assert [t.days for t in found["Mixer"][0].terms] == [2, 7, 28]
    assumed = " ".join(a.what for a in notes.assumed)
    assert "hire week" in assumed
    assert "hire weekend" in assumed


def test_the_order_of_rows_does_not_matter(had, make) -> None:
    rows = [make.equipment("Saw", day=9), make.equipment("saw", way="borrow"),
            make.equipment("Saw", day=8, source="B")]  # fmt: skip
    one, other = had(*rows)[0], had(*rows[::-1])[0]
    assert {k: [m.key for m in v] for k, v in one.items()} == {
        k: [m.key for m in v] for k, v in other.items()
    }
    assert len(one) == 1


def test_each_way_names_the_cell_of_its_price(had, make) -> None:
    columns = {"price": "H", "day": "D"}
    rows = [
        make.replace(row, place=replace(row.place, columns=columns))
        for row in (make.equipment("Saw", way="buy", price=9), make.equipment("Saw", day=9))
    ]
    bought, rented = sorted(had(*rows)[0]["Saw"], key=lambda m: m.key)
    assert (bought.cell[-2], rented.cell[-2]) == ("H", "D")
