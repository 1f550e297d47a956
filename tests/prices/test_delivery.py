"""Drops and their fees, each worked out by hand beside the test."""

import pytest
from hypothesis import given as examples
from hypothesis import strategies as st

from budget.figures import Figure, constant, given
from budget.prices.delivery import Shipment, allowed, drop_fee, drops, pallets, shipment
from budget.prices.options import Drop, Offer
from budget.prices.packs import buy
from budget.prices.tax import NOTHING, UNTAXED
from budget.prices.terms import Term, rent
from budget.units import BULK_MASS, COUNT, DAYS, LOOSE_VOLUME, MASS, MONEY, RATIO, per


def money(cents: float):
    return constant(float(cents), MONEY, "money")


def drop(**fields) -> Drop:
    values = {
        "key": "deliver to drive", "supplier": "A", "point": "drive", "per_drop": money(6000),
        "per_mass": None, "per_volume": None, "per_pallet": None, "free_pallets": 0,
        "value_steps": (), "free_above": None, "least": 0, "most": None, "heaps_share": False,
        "tax": UNTAXED, **fields,
    }  # fmt: skip
    return Drop(**values)


def load(value=100000, heaps=(), packed=None, volume=0.0, pallets=0) -> Shipment:
    return Shipment(
        value=money(value),
        heaps=tuple(constant(float(h), MASS, "heap") for h in heaps),
        packed=None if packed is None else constant(float(packed), MASS, "packed"),
        volume=constant(volume, LOOSE_VOLUME, "volume"),
        pallets=constant(pallets, COUNT, "pallets"),
    )


@pytest.mark.parametrize(
    ("share", "heaps", "packed", "most", "count"),
    [
        (False, (5000, 2000), None, None, 2),  # a heap each
        (True, (5000, 2000), None, None, 1),
        (False, (5000, 2000), 300, None, 3),  # packed goods come apart
        (False, (5000, 2000), 300, 4000, 4),  # 2 + 1 + 1
        (True, (5000, 2000), 300, 4000, 3),  # 7,000 kg in 2, and 1
        (False, (), 9000, 4000, 3),
        (False, (8000.001,), None, 4000, 2),  # within the pack tolerance
    ],
)
def test_number_of_drops(share, heaps, packed, most, count) -> None:
    limit = None if most is None else constant(float(most), BULK_MASS, "most")
    route = drop(heaps_share=share, most=limit)
    assert drops(route, load(heaps=heaps, packed=packed)).all.value == count


def test_flat_fee_for_every_drop() -> None:
    assert drop_fee(drop(), load(heaps=(5000, 2000), packed=300)).value == 3 * 6000


@pytest.mark.parametrize(("value", "fee"), [(49999, 6000), (50000, 0), (50001, 0)])
def test_free_above_a_sum(value, fee) -> None:
    route = drop(free_above=money(50000))
    assert drop_fee(route, load(value=value, packed=300)).value == fee


def test_the_extra_for_the_drop_point_stays_when_delivery_is_free() -> None:
    route = drop(free_above=money(50000), point_fee=money(2500))
    assert drop_fee(route, load(value=60000, heaps=(100,), packed=300)).value == 2 * 2500
    assert drop_fee(route, load(value=100, heaps=(100,), packed=300)).value == 2 * 8500


@pytest.mark.parametrize(
    ("value", "fee"), [(0, 6000), (24999, 6000), (25000, 4000), (49999, 4000), (50000, 0)]
)
def test_steps_of_order_value(value, fee) -> None:
    """60 under 250, 40 to 499, free from 500."""
    steps = ((money(0), money(6000)), (money(25000), money(4000)), (money(50000), money(0)))
    route = drop(per_drop=NOTHING, value_steps=steps)
    assert drop_fee(route, load(value=value, packed=300)).value == fee


def test_fees_by_weight_volume_and_pallet_beyond_the_free_ones() -> None:
    """4 tonnes at 12.00, 2.5 m³ at 8.00, 5 pallets less 1 free at 10.00: 48 + 20 + 40."""
    route = drop(
        per_drop=NOTHING,
        per_mass=constant(1.2, per(MONEY, BULK_MASS), "by tonne"),
        per_volume=constant(800.0, per(MONEY, LOOSE_VOLUME), "by m³"),
        per_pallet=money(1000),
        free_pallets=1,
    )
    goods = load(heaps=(3000,), packed=1000, volume=2.5, pallets=5)
    assert drop_fee(route, goods).value == 4800 + 2000 + 4000
    assert drop_fee(route, load(packed=0, pallets=1)).value == 0


@pytest.mark.parametrize(("goods", "fee"), [("", 4000), ("bulk", 3000), ("packs", 1000)])
def test_what_a_fee_by_weight_counts(goods, fee) -> None:
    route = drop(
        per_drop=NOTHING, per_mass=constant(1.0, per(MONEY, BULK_MASS), "kg"), mass_of=goods
    )
    assert drop_fee(route, load(heaps=(3000,), packed=1000)).value == fee


def test_bulk_drops_may_have_a_fee_of_their_own() -> None:
    route = drop(per_heap=money(9000))
    assert drop_fee(route, load(heaps=(1, 1), packed=300)).value == 2 * 9000 + 6000


def test_tax_on_the_fee_is_rounded_apart() -> None:
    """60.05 and 7.25 % of it, 4.3536, so 4.35."""
    route = drop(per_drop=money(6005), tax=constant(0.0725, RATIO, "tax"))
    assert drop_fee(route, load(packed=300)).value == 6005 + 435


def test_a_fee_that_nobody_gave_is_never_zero() -> None:
    with pytest.raises(ValueError, match="nobody has given"):
        drop_fee(drop(priced=False), load(packed=300))


def test_least_order() -> None:
    assert allowed(drop(least=1000), load(heaps=(800,), packed=200))
    assert not allowed(drop(least=1000), load(heaps=(800,), packed=199))


def goods(item: str, per_word: str, bulk: bool, weight: float | None, count: int):
    offer = Offer(
        key=item, item=item, supplier="A", measure="count", per=per_word,
        holds=constant(1.0, COUNT, "one"), price=money(100), tax=UNTAXED, least=0, step=1,
        weight=None if weight is None else constant(weight, MASS, "weight"),
        volume=constant(0.5, LOOSE_VOLUME, "volume") if bulk else None, deposit=None, bulk=bulk,
        expired=False, lead_days=0, restocking=None, cell="Quotes!C2",
    )  # fmt: skip
    return offer, buy(offer, constant(count, COUNT, "needed"))


def test_a_shipment_gathers_what_is_bought() -> None:
    route = drop(pallet_load=constant(1000.0, MASS, "pallet load"))
    bought = [
        goods("Base stone", "ton", True, 907.0, 4),
        goods("Paver", "pallet", False, 1300.0, 3),
        goods("Joint sand", "bag", False, 25.0, 41),  # 1,025 kg: two pallets
        goods("Edging", "each", False, None, 12),  # weight not known: one pallet
        goods("Spike", "each", False, 1.0, 0),  # not bought
    ]
    found = shipment(route, bought)
    assert found.value.value == (4 + 3 + 41 + 12) * 100
    assert [heap.value for heap in found.heaps] == [4 * 907.0]
    assert found.packed is not None
    assert found.packed.value == 3900 + 1025
    assert found.volume.value == 2.0
    assert found.pallets.value == 3 + 2 + 1
    assert found.weight.value == 4 * 907 + 3900 + 1025


def test_bulk_goods_take_no_pallet() -> None:
    assert pallets(drop(), *goods("Base stone", "ton", True, 907.0, 4)).value == 0


@examples(weight=st.floats(1, 20000), more=st.floats(0, 5000), value=st.integers(0, 100000))
def test_a_heavier_order_never_pays_less_and_weight_alone_never_jumps(weight, more, value) -> None:
    rate = constant(0.7, per(MONEY, BULK_MASS), "by weight")
    route = drop(per_mass=rate, free_above=money(100001), per_drop=money(2000))
    light = drop_fee(route, load(value=value, heaps=(weight,))).value
    heavy = drop_fee(route, load(value=value, heaps=(weight + more,))).value
    assert light <= heavy <= light + 0.7 * more + 1


@examples(
    heaps=st.lists(st.floats(1, 9000), max_size=4), packed=st.none() | st.floats(1, 9000),
    most=st.floats(500, 9000),
)  # fmt: skip
def test_every_drop_can_be_carried_and_sharing_never_adds_any(heaps, packed, most) -> None:
    limit = constant(most, BULK_MASS, "most")
    goods = load(heaps=heaps, packed=packed)
    alone = drops(drop(most=limit), goods).all.value
    shared = drops(drop(most=limit, heaps_share=True), goods).all.value
    assert shared <= alone
    assert shared * most >= goods.weight.value * (1 - 1e-6) - 1e-2


def test_goods_of_which_none_is_bought_take_no_drop() -> None:
    empty = shipment(drop(), [goods("Spike", "each", False, 3.0, 0)])
    assert empty.packed is None
    assert drop_fee(drop(), empty).value == 0


def test_a_gram_s_thousandth_does_not_keep_a_truck_at_home() -> None:
    assert allowed(drop(least=1000), load(packed=1000 - 1e-6))
    assert not allowed(drop(least=1000), load(packed=999.999))


def starts(figure: Figure) -> list[float]:
    """The first start of every figure that is looked up by steps."""
    return [node.args[1].value for node in _nodes(figure) if node.op == "tier"]


def _nodes(figure: Figure) -> list[Figure]:
    return [figure, *(node for part in figure.args for node in _nodes(part))]


def test_steps_begin_at_nothing_so_that_a_spreadsheet_finds_the_first() -> None:
    """A lookup below the first start of its table gives an error, not the first amount."""
    fee = drop_fee(drop(free_above=money(50000)), load(packed=10))
    hire = rent([Term("day", money(7000), 1)], given(2.0, DAYS, "days", "days"))
    assert starts(fee) == [0]
    assert starts(hire) == [0]
