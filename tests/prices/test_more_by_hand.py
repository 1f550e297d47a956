"""More single rules of prices, each with a figure worked out beside it."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from budget.figures import constant, given
from budget.prices.bids import _unit_step
from budget.prices.carrying import MOTOR_BARROW, carry_methods
from budget.prices.defaults import Notes
from budget.prices.options import Machine, Offer
from budget.prices.packs import buy, price_at
from budget.prices.quotes import offers
from budget.prices.schedule import _warn_of_limits
from budget.prices.sums import times
from budget.prices.work import _from_work, _table_rate, _warn_of_machine
from budget.reference import rows
from budget.units import COUNT, MASS, MONEY, NUMBER, RATIO


def offer(**fields) -> Offer:
    values = {
        "key": "Paver @ A, each", "item": "Paver", "supplier": "A", "measure": "count",
        "per": "each", "holds": constant(1.0, COUNT, "one"),
        "price": given(100.0, MONEY, "price", "Quotes!C2"), "tax": constant(0.1, RATIO, "tax"),
        "least": 0, "step": 1, "weight": constant(4.0, MASS, "weight"), "volume": None,
        "deposit": None, "bulk": False, "expired": False, "lead_days": 0, "restocking": None,
        "cell": "Quotes!C2", **fields,
    }  # fmt: skip
    return Offer(**values)


def count(value):
    return given(value, COUNT, "needed", "need")


def test_what_a_least_order_leaves_over_goes_back():
    """8 are sold at least, 3 needed: 5 go back at 80 % of 1.00 and a tenth of tax, 4.40."""
    bought = buy(offer(least=8, back=constant(0.8, RATIO, "paid back")), count(3))
    assert bought.back is not None
    assert (bought.packs.value, bought.back.packs.value, bought.kept.value) == (8, 5, 300)
    assert bought.credit == pytest.approx(440)
    assert buy(offer(), count(3)).credit == 0.0


def test_a_price_break_begins_above_its_own_number_only():
    """Sold by halves: half a pack has the plain price."""
    cheaper = ((constant(10, NUMBER, "from"), constant(90.0, MONEY, "price from 10")),)
    prices = [price_at(offer(breaks=cheaper, step=0.5), constant(n, COUNT, "packs")).value
              for n in (0.5, 9.5, 10)]  # fmt: skip
    assert prices == [100, 100, 90]


@pytest.mark.parametrize(
    ("fits", "away", "usable"), [(True, False, True), (True, True, False), (False, False, False)]
)
def test_a_machine_must_fit_and_be_there(fits, away, usable):
    assert Machine.usable.fget(SimpleNamespace(fits=fits, away=away)) is usable


def test_a_fixed_count_of_one_says_nothing_and_one_that_may_change_does():
    each = given(5.0, MONEY, "each", "Quotes!C2")
    assert times("all", MONEY, constant(1, COUNT, "one"), each).args == each.args
    assert [part.name for part in times("all", MONEY, count(1), each).args] == ["needed", "each"]


def test_a_product_serves_its_own_kind_only(make, fixed):
    """A coping is no paver, and what is on no sheet is nothing in particular."""
    needs = [make.need("Paver", "paver"), make.need("Wall cap", "cap")]
    quotes = [make.quote("Coping", "Yard", 90), make.quote("Odds and ends", "Yard", 10)]
    job = make.job(quotes=tuple(quotes), products=(make.product("Coping", "cap"),))
    found = offers(job, make.takeoff(needs), fixed(0.0, RATIO), Notes("imperial"))
    assert "Paver" not in [o.item for o in found]


def test_goods_go_back_to_a_seller_by_that_sellers_own_row(make, fixed):
    """One takes nothing back, the other pays 80 %."""
    sellers = (make.supplier("Strict", return_days=0), make.supplier("Kind"))
    quotes = tuple(make.quote("Paver", s.supplier, 90, restocking=0.2) for s in sellers)
    job = make.job(quotes=quotes, suppliers=sellers)
    found = offers(job, make.takeoff([make.need("Paver", "paver")]), fixed(0.0, RATIO),
                   Notes("imperial"))  # fmt: skip
    shares = {o.supplier: o.back and o.back.value for o in found}
    assert shares == {"Strict": None, "Kind": pytest.approx(0.8)}


def test_a_price_by_the_foot_counts_the_step_that_is_measured_by_it():
    """Digging comes first and is measured by volume, edging by length."""
    row = SimpleNamespace(unit="ft", steps=("Edge", "Dig"))
    assert _unit_step(row) == "Edge"


def test_a_motor_barrow_takes_one_person_and_a_barrow_two(make):
    """One fills while the other walks."""
    found = carry_methods(make.job(), {MOTOR_BARROW.casefold(): MOTOR_BARROW}, Notes("imperial"))
    assert {m.method: m.people for m in found} == {"barrow": 2, "motor barrow": 1}


def test_the_first_machine_of_the_sheet_is_where_a_missing_one_is_told(make):
    rows = tuple(make.equipment(name, way="rent") for name in ("Saw", "Mixer", "Splitter"))
    notes = Notes("imperial")
    _warn_of_machine(make.job(equipment=rows[::-1]), "Dig", ["Digger"], notes)
    [told] = notes.warnings
    assert told.row == rows[0].place.row


@pytest.mark.parametrize("people", [1, 3])
def test_as_many_work_at_once_as_the_sheet_says(make, people):
    row = make.work("Dig", "by hand", likely=2.0, people=people)
    [method] = _from_work([row], "Dig", Notes("imperial"))
    assert method.people == people


def test_a_documented_pace_says_where_it_was_not_read():
    """What was read in its source needs no word; a habit and a memory are called that."""
    for row in rows("methods"):
        said = _table_rate(row, "likely", "pace").source
        assert said.endswith(f"({row['standing']})") is (row["standing"] != "read"), row


@pytest.mark.parametrize(("start", "told"), [(0.0, False), (0.5, True)])
def test_a_fee_by_volume_from_half_a_cubic_metre_is_asked_about(make, start, told):
    """It is counted for every cubic metre, whatever its row says of the first."""
    notes = Notes("metric")
    _warn_of_limits(make.delivery("Yard", "volume", 500.0, start=start), notes)
    assert [n.code for n in notes.warnings] == ["delivery-limits-not-counted"] * told
