"""What to fill next: prices that are missing, then guesses, then steps that nobody offers to do.

Digging takes 15 hours. Four tonnes of stone come from North, and a kit of 90 kg.
"""

from __future__ import annotations

import dataclasses
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide import compare_options
from budget.job import Job, Place, Product, Quote, Settings
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff


def inputs(make: SimpleNamespace, **more: Any) -> tuple[Takeoff, Options]:
    takeoff = make.takeoff(
        [
            make.need("Base stone", "Base", {"mass": 4000}, weight=4000),
            make.need("Kit", "Build", {"count": 1}, weight=90),
        ],
        [make.amount("Dig", 3.0), make.amount("Base", 2.0)],
    )
    values = {
        "offers": [
            make.offer("Base stone", "North", 3000, holds=1000, per="tonne", weight=1000),
            make.offer("Kit", "North", 30000, measure="count", per="kit", weight=90),
        ],
        "routes": [make.drop("North", 6000)],
        "methods": [
            make.method("Dig", "by hand", 5.0), make.method("Base", "by hand", 1.0),
            make.method("Carry", "barrow", 0.0),
        ],
        "bids": [make.bid("Base laid", ["Base"], 90000)],
    }  # fmt: skip
    return takeoff, make.options(**{**values, **more})


def guess(item: str, price: float, low: float | None, high: float | None, per: str) -> Quote:
    return Quote(place=Place("Quotes", 2), item=item, supplier="North", price=price, price_low=low,
                 price_high=high, per=per)  # fmt: skip


def advice(found: tuple[Takeoff, Options], *quotes: Quote) -> str:
    job = Job(settings=Settings(place=Place("Job", 1), currency="USD"), quotes=quotes)
    return compare_options(job, *found).next_step


def test_a_long_step_that_nobody_offers_to_do(make: SimpleNamespace) -> None:
    assert advice(inputs(make)) == (
        "Ask for a price on the Bids sheet next: Dig takes 15 hours and nobody has offered to do "
        "it."
    )
    every = [make.bid("Base laid", ["Base"], 90000), make.bid("Dug", ["Dig"], 90000)]
    assert advice(inputs(make, bids=every)) == ""


@pytest.mark.parametrize(
    ("length", "width", "measure"),
    [(None, None, "count"), (0.6, None, "count"), (0.6, 0.4, "count"), (None, None, "area")],
)
def test_the_size_of_a_paver_sold_by_count_comes_before_prices(
    make: SimpleNamespace, length: float | None, width: float | None, measure: str
) -> None:
    """Of the documented 8 by 4 in a slab of 60 by 40 cm would take twelve times as many."""
    found, _ = inputs(make)
    offers = [make.offer("Slab 60x40", "North", 500, measure=measure)]
    check = [make.check_line("Permit", "to price")]
    options = inputs(make, checklist=check, offers=offers)[1]
    slabs = dataclasses.replace(make.need("Slab 60x40", "Base", {measure: 1}), kind="paver")
    found = dataclasses.replace(found, needs=(*found.needs, slabs))
    slab = Product(place=Place("Products", 2), item="slab 60x40", kind="paver", length=length,
                   width=width)  # fmt: skip
    job = Job(settings=Settings(place=Place("Job", 1), units="imperial"), products=(slab,))
    told = compare_options(job, found, options).next_step
    if (length and width) or measure == "area":
        assert "Products" not in told
    else:
        assert told == (
            "Fill the Products sheet next: the true size of Slab 60x40 decides how many it takes; "
            "8 in by 4 in is assumed."
        )


def test_the_guess_that_may_move_most(make: SimpleNamespace) -> None:
    """Four tonnes from 25.00 to 45.00 are 80.00 apart; the kit from 290.00 to 310.00 20.00."""
    stone = guess("Base stone", 3000, 2500, 4500, "tonne")
    kit = guess("Kit", 30000, 29000, 31000, "kit")
    for rows in ((stone, kit), (kit, stone)):
        assert advice(inputs(make), *rows) == (
            "Firm up a price on the Quotes sheet next: Base stone from North may move by $80."
        )
    # with one end given, from the price to that end: 60.00 and 20.00
    assert "Base stone" in advice(inputs(make), guess("Base stone", 3000, None, 4500, "tonne"), kit)
    assert "Kit" in advice(inputs(make), guess("Base stone", 3000, 2990, None, "tonne"), kit)
    # a quote that is not bought from, or not a guess, is none
    other = dataclasses.replace(stone, supplier="South")
    plain = guess("Base stone", 3000, None, None, "tonne")
    for row in (other, plain, dataclasses.replace(stone, per="bag")):
        assert advice(inputs(make), row).startswith("Ask for a price")


def test_missing_prices_by_what_hangs_on_them(make: SimpleNamespace) -> None:
    bare = inputs(make, offers=[])  # 4,000 kg are 8,818 lb, or 4.4 tons
    assert advice(bare, guess("Kit", 30000, 1, 90000, "kit")) == (
        "Fill the Quotes sheet next: Base stone (4.4 ton) has no price yet."
    )
    stone = [make.offer("Base stone", "North", 3000, holds=1000, per="tonne", weight=1000)]
    assert "Kit has no price yet" in advice(inputs(make, offers=stone))
    # a delivery is a bill of its own, and so before a light thing
    unpriced = inputs(make, offers=stone, routes=[make.drop("North", 0, priced=False)])
    assert "Delivery from North" in advice(unpriced)


def test_a_machine_and_a_helper_without_a_price(make: SimpleNamespace) -> None:
    digger = [
        make.method("Dig", "digger", 5.0, machine="Digger"), make.method("Base", "by hand", 1.0),
        make.method("Carry", "barrow", 0.0),
    ]  # fmt: skip
    assert "Digger (used in 15 hours of work) has no price yet" in advice(
        inputs(make, methods=digger)
    )
    helped = inputs(make, people=1, paid_helpers=1)
    two = dataclasses.replace(
        helped[1], methods={s: tuple(dataclasses.replace(m, people=2) for m in ms)
                            for s, ms in helped[1].methods.items()},
    )  # fmt: skip
    assert advice((helped[0], two)).startswith("Fill the ")
    guessed = guess("Base stone", 3000, 2500, 4500, "tonne")
    assert "elper" in advice((helped[0], two), guessed)


def test_a_helper_counts_by_the_share_of_the_hours(make: SimpleNamespace) -> None:
    """Half of the hours hang on the pay; 4,000 of 4,090 kg, nearly all, on the price of stone."""
    kit = make.offer("Kit", "North", 30000, measure="count", per="kit", weight=90)
    found = inputs(make, offers=[kit], people=1, paid_helpers=1)
    methods = {
        step: tuple(dataclasses.replace(m, people=2) for m in ways)
        for step, ways in found[1].methods.items()
    }
    told = advice((found[0], dataclasses.replace(found[1], methods=methods)))
    assert told.startswith("Fill the Quotes sheet next: Base stone")


def test_checklist_lines_are_counted_together(make: SimpleNamespace) -> None:
    one = [make.check_line("Permit", "to price")]
    assert advice(inputs(make, checklist=one)) == (
        "Fill the Checklist sheet next: Permit is not yet priced or marked not needed."
    )
    two = [*one, make.check_line("Lawn", "to price")]
    assert "2 cost lines are not yet priced" in advice(inputs(make, checklist=two))
    guessed = guess("Base stone", 3000, 2500, 4500, "tonne")
    assert advice(inputs(make, checklist=one), guessed).startswith("Fill the Checklist")


def test_without_any_plan(make: SimpleNamespace) -> None:
    nobody = inputs(make, methods=[make.method("Carry", "barrow", 0.0)], bids=[])
    assert advice(nobody) == ("Fill the Quotes, Work or Bids sheet next: no plan can be built yet.")


@pytest.mark.parametrize("price", [2999.0, 3001.0])
def test_another_price_is_not_the_quote_that_is_bought(make: SimpleNamespace, price: float) -> None:
    assert advice(inputs(make), guess("Base stone", price, 1000, 9000, "tonne")).startswith("Ask")


def test_a_price_that_only_a_cheaper_plan_lacks_comes_first(make: SimpleNamespace) -> None:
    """By hand a plate is needed that has no price: 40 h at 20 beside a bid of 4,900."""
    plate = make.method("Base", "plate", 1.0, machine="Plate")
    more = {
        "methods": [make.method("Dig", "by hand", 5.0), plate, make.method("Carry", "barrow", 0.0)],
        "bids": [make.bid("All of it", ["Dig", "Base"], 490000)],
        "checklist": [make.check_line("Permit", "to price")],
    }
    told = advice(inputs(make, **more))
    assert told.startswith("Fill the Equipment sheet next: Plate has no price yet, without which")
    assert "“All own hands, sand bedding” is not ranked" in told
    dear = make.method("Base", "plate", 400.0, machine="Plate")  # dearer than the bid even so
    more["methods"] = [more["methods"][0], dear, more["methods"][2]]
    assert "not ranked" not in advice(inputs(make, **more))
