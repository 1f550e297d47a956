"""Price breaks: all packs at the price of the number that is bought, and larger orders for it."""

from typing import Any

import pytest

from budget.decide.model.model import Model
from budget.decide.terms.situation import Situation
from budget.figures import constant, given, recalculate
from budget.job import PriceBreak
from budget.prices import flatten
from budget.prices.options import Offer
from budget.prices.packs import buy
from budget.units import COUNT, MONEY, NUMBER, RATIO
from budget.workbook import read

BREAKS = ((10, 420), (50, 395))


def bag(least: float = 0) -> Offer:
    breaks = tuple(
        (constant(n, NUMBER, "from"), given(each, MONEY, f"price from {n}", f"Quotes!P2 from {n}"))
        for n, each in BREAKS
    )
    return Offer(
        key="Joint sand @ A, bag", item="Joint sand", supplier="A", measure="count", per="bag",
        holds=constant(1, COUNT, "one"), price=given(460, MONEY, "price", "Quotes!C2"),
        tax=constant(0, RATIO, "tax"), least=least, step=1, weight=None, volume=None,
        deposit=None, bulk=False, expired=False, lead_days=0, restocking=None, cell="Quotes!C2",
        breaks=breaks,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("packs", "cents"),
    [(9, 9 * 460), (10, 10 * 420), (49, 49 * 420), (50, 50 * 395), (51, 51 * 395)],
)
def test_the_number_bought_sets_the_price_of_every_pack(packs: int, cents: int) -> None:
    assert buy(bag(), given(packs, COUNT, "need", "x")).price.value == cents


def test_an_order_enlarged_to_a_break_is_cheaper_from_48_packs_on() -> None:
    """50 at 3.95 are 197.50: less than 48 at 4.20 (201.60), more than 47 (197.40)."""
    enough, more = (buy(bag(least), given(48, COUNT, "need", "x")) for least in (0, 50))
    assert (enough.price.value, more.price.value) == (20160, 19750)
    enough, more = (buy(bag(least), given(47, COUNT, "need", "x")) for least in (0, 50))
    assert (enough.price.value, more.price.value) == (19740, 19750)


def test_the_price_follows_a_changed_need() -> None:
    """The figure finds its break anew: 12 packs at 4.20, then 60 at 3.95."""
    need = given(12, COUNT, "need", "need")
    price = buy(bag(), need).price
    assert price.value == 12 * 420
    assert recalculate(price, {"need": 60.0}) == 60 * 395


def test_breaks_are_read_and_the_larger_order_is_chosen_where_it_pays(make: Any) -> None:
    """23.5 of edging are 24 pieces: 24 x 9.00 = 216.00, but 25 x 8.00 = 200.00."""
    edging = make.quote("Edging", "A", 900, breaks=(PriceBreak(25, 800),))
    need = make.need("Edging", "edging", 23.5)
    job = make.job(quotes=(edging,), suppliers=(make.supplier("A", delivery_fee=0.0),))
    takeoff = make.takeoff([need])
    options = flatten(job, takeoff)
    assert [o.key for o in options.offers] == ["Edging @ A, each", "Edging @ A, each, at least 25"]
    solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(0.0)
    assert solved is not None
    (order,) = solved.priced.orders
    assert (order.packs, order.price) == (25, 20000)


def test_no_larger_order_is_offered_that_can_never_pay(make: Any) -> None:
    """10 at 4.20 are 42.00 and 9 at 4.60 are 41.40: nobody takes ten who needs nine."""
    sand = make.quote("Edging", "A", 460, breaks=(PriceBreak(10, 420),))
    job = make.job(quotes=(sand,))
    options = flatten(job, make.takeoff([make.need("Edging", "edging", 5)]))
    assert [o.key for o in options.offers] == ["Edging @ A, each"]


@pytest.mark.parametrize(
    "text", ["10: 4.20; 50: 3.95", "50 at 3.95; from 10 at 4.20", "10 = $4.20; 50 = $3.95;"]
)
def test_breaks_as_people_write_them(tmp_path: Any, text: str) -> None:
    from openpyxl import Workbook

    book = Workbook()
    sheets = {
        "Job": [["Setting", "Value"], ["Units", "imperial"], ["Currency", "USD"],
                ["Sales tax", 0]],
        "Areas": [["Part", "Shape", "Length", "Width", "Paver"],
                  ["Terrace", "rectangle", 20, 10, "Slate"]],
        "Quotes": [["Item", "Supplier", "Price", "Per", "Price breaks"],
                   ["Base stone", "North Pit", 4.6, "ton", text]],
    }  # fmt: skip
    for name, rows in sheets.items():
        page = book.create_sheet(name)
        for row in rows:
            page.append(row)
    del book["Sheet"]
    book.save(tmp_path / "job.xlsx")
    reading = read(tmp_path / "job.xlsx")
    assert reading.job is not None
    (quote,) = reading.job.quotes
    assert [(step.packs, step.price) for step in quote.breaks] == [(10, 420), (50, 395)]
