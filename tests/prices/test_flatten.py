"""All options of a job together."""

import random

import pytest

from budget.prices import flatten
from budget.units import HOURS, MONEY, per


def test_the_smallest_job(make) -> None:
    """Only an item and a quote: everything else is assumed and listed, nothing is free."""
    takeoff = make.takeoff([make.need("Paver", "paver", 500, step="Lay")], Lay=20.0)
    options = flatten(make.job(quotes=(make.quote("Paver", "North Yard", 90),)), takeoff)
    assert [o.key for o in options.offers] == ["Paver @ North Yard, each"]
    assert not options.routes["North Yard"][0].priced
    assert (options.people, options.paid_helpers, options.helper_pay) == (1, 0, None)
    assert set(options.methods) == {"Lay", "Carry"}
    assumed = {a.what for a in options.assumed}
    assert {"sales tax", "value of an own hour", "own hours in a working day"} <= assumed
    assert all(a.source for a in options.assumed)


def test_given_settings_are_not_assumed(make) -> None:
    settings = make.settings(
        sales_tax=0.07, hour_value=2500.0, hours_per_day=6.0, helpers=1, paid_helpers=2,
        helper_pay=1800.0, carry_street=1.0, carry_drive=2.0, carry_site=3.0,
    )  # fmt: skip
    options = flatten(make.job(settings=settings), make.takeoff())
    assert options.hour_value.value == 2500
    assert options.hour_value.kind == per(MONEY, HOURS)
    assert options.hours_per_day.value == 6
    assert (options.people, options.paid_helpers) == (2, 2)
    assert options.helper_pay is not None
    assert options.sales_tax.key == settings.cell("sales_tax")
    assert {a.sheet for a in options.assumed} == {"Work"}


def test_no_wage_is_made_up_in_another_currency(make) -> None:
    options = flatten(make.job(settings=make.settings(currency="EUR")), make.takeoff())
    assert options.hour_value.value == 0
    assert any("EUR" in a.source for a in options.assumed)


def test_card_surcharge_by_seller(make) -> None:
    takeoff = make.takeoff([make.need("Paver", "paver")])
    job = make.job(
        quotes=(make.quote("Paver", "A", 90), make.quote("Paver", "B", 90)),
        suppliers=(make.supplier("A", card_surcharge=0.03), make.supplier("B")),
    )
    found = flatten(job, takeoff).card_surcharge
    assert {name: figure.value for name, figure in found.items()} == {"A": 0.03}


@pytest.mark.parametrize("seed", range(5))
def test_the_order_of_rows_changes_nothing(make, seed) -> None:
    rows = {
        "quotes": [make.quote("Paver", s, p) for s in "ABC" for p in (90, 80, None)],
        "suppliers": [make.supplier(s, delivery_fee=100 * n) for n, s in enumerate("ABC")],
        "equipment": [make.equipment("Wet saw", source=s, day=n) for n, s in enumerate("ABC")],
        "bids": [make.bid(b, steps=("Lay",), price=5) for b in ("x", "y", "z")],
        "disposal": [make.disposal(w, kind="keep") for w in ("bed", "bank", "field")],
        "work": [make.work("Lay", m, likely=1.0) for m in ("one", "two", "three")],
        "vehicles": [make.vehicle(v, payload=500.0) for v in ("van", "car", "truck")],
    }
    takeoff = make.takeoff([make.need("Paver", "paver")], Lay=20.0, Spoil=3.0)
    plain = flatten(make.job(**{k: tuple(v) for k, v in rows.items()}), takeoff)
    mix = random.Random(seed)
    mixed = {k: tuple(mix.sample(v, len(v))) for k, v in rows.items()}
    other = flatten(make.job(**mixed), takeoff)

    def keys(options):
        return (
            [o.key for o in options.offers],
            {s: [r.key for r in routes] for s, routes in options.routes.items()},
            {s: [m.key for m in methods] for s, methods in options.methods.items()},
            [b.key for b in options.bids],
            {e: [m.key for m in machines] for e, machines in options.machines.items()},
            [d.key for d in options.disposal],
            options.assumed,
            options.warnings,
        )

    assert keys(plain) == keys(other)
    assert list(plain.routes) == list(other.routes)
