"""Which quote serves which need, and what an offer carries."""

import datetime as dt

import pytest

from budget.job import PriceBreak
from budget.prices.defaults import Notes
from budget.prices.options import Offer
from budget.prices.quotes import offers
from budget.prices.tax import UNTAXED
from budget.reference import product_kinds
from budget.units import BULK_MASS, LOOSE_VOLUME, MASS, RATIO, SMALL_VOLUME, YARD


@pytest.fixture
def found(make, fixed):
    """Offers for some quotes and needs, with the notes taken."""

    def run(quotes, needs, products=(), **settings) -> tuple[tuple[Offer, ...], Notes]:
        notes = Notes("imperial")
        job = make.job(
            quotes=tuple(quotes), products=tuple(products), settings=make.settings(**settings)
        )
        tax = fixed(0.07, RATIO)
        return offers(job, make.takeoff(needs), tax, notes), notes

    return run


def test_a_quote_serves_the_item_it_names(found, make) -> None:
    quotes = [make.quote("base STONE", "North Yard", 3000, per="ton", holds=907.2, measure="mass")]
    options, _ = found(quotes, [make.need("Base stone", "base")])
    assert [o.key for o in options] == ["Base stone @ North Yard, ton"]
    assert options[0].cell == quotes[0].cell("price")


def test_the_usual_name_serves_a_named_product_only_when_it_is_alone(found, make) -> None:
    quotes = [make.quote("Paver", "North Yard", 90)]
    alone = [make.need("Slate grey", "paver")]
    both = [*alone, make.need("Brick red", "paver")]
    assert [o.item for o in found(quotes, alone)[0]] == ["Slate grey"]
    assert found(quotes, both)[0] == ()


def test_a_counted_item_is_served_by_its_own_name_only(found, make) -> None:
    usual = product_kinds()["extra"].item
    bench = [make.need("Bench bolt", "extra")]
    assert found([make.quote(usual, "North Yard", 90)], bench)[0] == ()
    assert len(found([make.quote("Bench bolt", "North Yard", 90)], bench)[0]) == 1


def test_a_product_of_the_kind_serves_the_usual_item(found, make) -> None:
    quotes = [make.quote("Washed sand", "North Yard", 2500, measure="volume", per="m³")]
    products = [make.product("Washed sand", "bedding sand")]
    options, _ = found(quotes, [make.need("Bedding sand", "bedding sand")], products)
    assert [o.item for o in options] == ["Bedding sand"]


def test_a_product_never_stands_in_for_another_named_one(found, make) -> None:
    quotes = [make.quote("Brick red", "North Yard", 90)]
    products = [make.product("Brick red", "paver"), make.product("Slate grey", "paver")]
    assert found(quotes, [make.need("Slate grey", "paver")], products)[0] == ()


def test_a_blank_price_is_a_warning_and_never_an_offer(found, make) -> None:
    options, notes = found([make.quote("Paver", "North Yard", None)], [make.need("Paver", "paver")])
    assert options == ()
    assert [w.code for w in notes.warnings] == ["not-priced"]


def test_a_measure_that_is_not_known_is_a_warning_and_no_offer(found, make) -> None:
    quotes = [make.quote("Paver", "North Yard", 9000, per="ton", holds=907.2, measure="mass")]
    options, notes = found(quotes, [make.need("Paver", "paver")])
    assert options == ()
    assert [w.code for w in notes.warnings] == ["measure-not-known"]


def test_an_expired_quote_stays_and_is_marked(found, make) -> None:
    quotes = [make.quote("Paver", "A", 90, valid_until=dt.date(2030, 4, 30)),
              make.quote("Paver", "B", 90, valid_until=dt.date(2030, 5, 1))]  # fmt: skip
    options, notes = found(quotes, [make.need("Paver", "paver")])
    assert [(o.supplier, o.expired) for o in options] == [("A", True), ("B", False)]
    assert notes.warnings == ()


def test_repeated_quotes_are_told_apart_by_price_not_by_row(found, make) -> None:
    dear, cheap = make.quote("Paver", "A", 99), make.quote("Paver", "A", 88)
    needs = [make.need("Paver", "paver")]
    one = [(o.key, o.price.value) for o in found([dear, cheap], needs)[0]]
    other = [(o.key, o.price.value) for o in found([cheap, dear], needs)[0]]
    assert one == other == [("Paver @ A, each", 88), ("Paver @ A, each #2", 99)]


@pytest.mark.parametrize(
    ("taxed", "included", "rate"), [(True, False, 0.07), (False, False, 0), (True, True, 0)]
)
def test_tax_follows_the_quote(found, make, taxed, included, rate) -> None:
    quotes = [make.quote("Paver", "A", 90, taxed=taxed)]
    needs = [make.need("Paver", "paver")]
    options, _ = found(quotes, needs, tax_included=included)
    assert options[0].tax.value == rate
    assert (options[0].tax is UNTAXED) == (rate == 0)


def test_loose_goods_by_the_yard_are_bulk_and_bags_are_not(found, make) -> None:
    quotes = [
        make.quote("Base stone", "A", 4000, per="cu yd", holds=YARD**3, measure="volume"),
        make.quote("Base stone", "A", 600, per="bag", holds=0.0142, measure="volume"),
    ]
    bag, yard = found(quotes, [make.need("Base stone", "base")])[0]
    assert (bag.per, bag.bulk, bag.volume) == ("bag", False, None)
    assert yard.bulk
    assert yard.volume is not None
    assert yard.volume.value == pytest.approx(YARD**3)
    assert (yard.holds.kind, bag.holds.kind) == (LOOSE_VOLUME, SMALL_VOLUME)
    assert (yard.least, yard.step, yard.lead_days) == (0, 1, 0)  # a seller that says nothing


def test_weight_of_a_pack_as_quoted_as_sold_by_density_or_by_takeoff(found, make) -> None:
    needs = [make.need("Base stone", "base"), make.need("Paver", "paver")]
    quotes = [
        make.quote("Base stone", "A", 1, per="bag", holds=0.02, measure="volume", weight=25.0),
        make.quote("Base stone", "B", 1, per="tonne", holds=1000, measure="mass"),
        make.quote("Base stone", "C", 1, per="m³", holds=1, measure="volume"),
        make.quote("Paver", "A", 1, per="pallet", holds=400),
    ]
    products = [make.product("Base stone", "base", density=1600.0)]
    weights = {o.supplier + o.item: o.weight for o in found(quotes, needs, products)[0]}
    values = {key: weight.value for key, weight in weights.items() if weight is not None}
    volumes = {o.supplier: o.volume for o in found(quotes, needs, products)[0]}
    assert volumes["B"] is not None
    assert volumes["B"].value == pytest.approx(1000 / 1600)
    assert values == pytest.approx(
        {"ABase stone": 25, "BBase stone": 1000, "CBase stone": 1600, "APaver": 4000}
    )


def test_a_ton_is_told_in_tons_and_a_bag_in_pounds(found, make) -> None:
    quotes = [
        make.quote("Base stone", "A", 1, per="bag", holds=22.68, measure="mass"),
        make.quote("Base stone", "B", 1, per="ton", holds=907.2, measure="mass"),
    ]
    bag, ton = found(quotes, [make.need("Base stone", "base")])[0]
    assert (bag.holds.kind, ton.holds.kind) == (MASS, BULK_MASS)


def test_nothing_to_order_weighs_nothing_for_each(found, make) -> None:
    needs = [make.need("Paver", "paver", 0.0)]
    [offer], _ = found([make.quote("Paver", "A", 90)], needs)
    assert offer.weight is None


def test_every_part_must_know_the_measure(found, make) -> None:
    needs = [make.need("Paver", "paver"), make.need("Paver", "paver", part="Walk")]
    needs[1] = make.replace(needs[1], measures={"area": needs[1].order})
    options, notes = found([make.quote("Paver", "A", 90)], needs)
    assert options == ()
    assert len(notes.warnings) == 1


@pytest.mark.parametrize(
    ("per_word", "holds", "measure", "bulk"),
    [("big bag", 850.0, "mass", False), ("load", 8000.0, "mass", True), ("lb", 0.45, "mass", True)],
)
def test_what_comes_in_a_heap(found, make, per_word, holds, measure, bulk) -> None:
    quotes = [make.quote("Base stone", "A", 5800, per=per_word, holds=holds, measure=measure)]
    [offer], _ = found(quotes, [make.need("Base stone", "base")])
    assert offer.bulk is bulk


def test_a_pack_knows_the_cell_of_what_it_holds_and_a_unit_does_not(found, make) -> None:
    needs = [make.need("Edging spike", "spike"), make.need("Base stone", "base")]
    quotes = [
        make.quote("Edging spike", "A", 3700, per="box", holds=50),
        make.quote("Edging spike", "B", 90, per="each"),
        make.quote("Base stone", "A", 3000, per="ton", holds=907.2, measure="mass"),
    ]
    origins = {o.key: o.holds.origin for o in found(quotes, needs)[0]}
    assert origins == {
        "Edging spike @ A, box": "given",
        "Edging spike @ B, each": "constant",
        "Base stone @ A, ton": "constant",
    }


def test_stones_too_big_for_a_bed_take_hours_and_are_missing_from_it(found, make) -> None:
    quotes = [
        make.quote("Small gravel", "North Yard", 3000, per="ton", holds=907.2, measure="mass"),
        make.quote(
            "Small gravel", "South Yard", 1500, per="ton", holds=907.2, measure="mass", oversize=0.1
        ),
    ]
    options, notes = found(quotes, [make.need("Small gravel", "small gravel")])
    clean, cheap = options
    assert clean.picking is None
    assert clean.holds.value == 907.2
    # By hand: a tenth of a ton at 8 hours a ton, and nine tenths of it left to screed.
    assert cheap.picking is not None
    assert cheap.picking.value == pytest.approx(0.8, rel=1e-4)
    assert cheap.holds.value == pytest.approx(0.9 * 907.2)
    assert cheap.weight is not None
    assert cheap.weight.value == 907.2
    assert [a.value for a in notes.assumed if "pick a ton" in a.what] == ["8 h per ton"]


def test_an_oversize_share_counts_for_bedding_alone(found, make) -> None:
    quote = make.quote(
        "Base stone", "North Yard", 3000, per="ton", holds=907.2, measure="mass", oversize=0.1
    )
    options, notes = found([quote], [make.need("Base stone", "base")])
    assert options[0].picking is None
    assert [w.code for w in notes.warnings] == ["oversize-not-bedding"]


@pytest.mark.parametrize(
    ("kind", "if_short", "parted"),
    [
        ("joint sand", "", True),
        ("joint sand", "more of the same", True),
        ("joint sand", "another lot", False),
        ("joint sand", "no more", False),
        ("paver", "", False),
        ("paver", "more of the same", False),
        ("wall unit", "", False),
        ("cap", "", False),
    ],
)
def test_only_goods_the_same_in_any_lot_are_bought_in_part(
    found, make, kind: str, if_short: str, parted: bool
) -> None:
    quotes = [
        make.quote("Thing", "North Yard", 900, in_part=True),
        make.quote("Thing", "South Yard", 950),
    ]
    products = [make.product("Thing", kind, if_short=if_short)]
    options, notes = found(quotes, [make.need("Thing", kind)], products)
    assert [o.in_part for o in options] == [parted, False]
    assert [w.code for w in notes.warnings] == ([] if parted else ["one-lot"])


def test_a_larger_order_for_a_lower_price_is_not_bought_in_part(found, make) -> None:
    """Ten at 4.00 cost less than nine at 5.00: an order of ten beside the quote itself."""
    quote = make.quote(
        "Joint sand", "North Yard", 500, in_part=True, breaks=(PriceBreak(packs=10, price=400),)
    )
    options, _ = found([quote], [make.need("Joint sand", "joint sand")])
    assert [(o.least, o.in_part) for o in options] == [(0, True), (10, False)]
