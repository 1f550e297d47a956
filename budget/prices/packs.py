"""Whole packs: what an amount takes of one offer, what it costs, and what is left over."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from budget.figures import (
    Figure,
    cents,
    constant,
    largest,
    minus,
    product,
    ratio,
    solved,
    tier,
    total,
    whole,
)
from budget.prices.options import Offer
from budget.prices.tax import tax_on, with_tax
from budget.units import HOURS, LOOSE_VOLUME, MASS, MONEY, NUMBER, RATIO, Kind


@dataclass(frozen=True, slots=True)
class Purchase:
    """What is bought of one offer. Money is whole cents, each line rounded half up."""

    packs: Figure  # packs to order
    price: Figure  # cents before tax
    tax: Figure  # cents
    left_over: Figure  # share of the order that the need does not use
    weight: Figure | None  # kg of the order, None if nobody knows the weight of a pack
    volume: Figure | None  # m³ of the order, bulk goods only
    deposit: Figure | None  # refundable cents, beside the price
    picking: Figure | None = None  # own hours to pick out stones that are too big
    back: Back | None = None  # what goes back unopened, None where nothing does

    @property
    def cash(self) -> Figure:
        """Price and tax [cents], before anything goes back."""
        return total("goods with tax", [self.price, self.tax])

    @property
    def kept(self) -> Figure:
        """Price before tax of the packs that stay [cents]: what a seller's free delivery counts."""
        return self.price if self.back is None else self.back.kept

    @property
    def credit(self) -> float:
        """What comes back later, tax included [cents]."""
        return self.back.credit.value if self.back else 0.0


@dataclass(frozen=True, slots=True)
class Back:
    """Whole packs beyond the need that a least order forces on a buyer, and their seller takes."""

    packs: Figure
    kept: Figure  # cents before tax of the packs that stay
    credit: Figure  # cents paid back, tax included, less what the seller keeps


def packs_to_buy(offer: Offer, amount: Figure) -> Figure:
    """Packs of one offer that cover an amount.

    ``amount`` [SI, in the offer's measure] divided by what a pack holds, at least the seller's
    least order, rounded up to the seller's steps (whole packs, or half yards) with the one
    pack tolerance. Nothing is bought when the amount is nothing.
    """
    needed = ratio("packs needed", NUMBER, amount, offer.holds)
    if amount.value <= 0:
        return whole("packs", needed)
    if offer.least > 0:
        least = constant(offer.least, NUMBER, "least that is sold")
        needed = largest("packs needed or least sold", needed, least)
    return _in_steps(offer, "packs", needed)


def _in_steps(offer: Offer, name: str, needed: Figure) -> Figure:
    """So many packs, rounded up to the steps in which they are sold."""
    if offer.step == 1:
        return whole(name, needed)
    step = constant(offer.step, NUMBER, "sold in steps of")
    steps = whole("steps", ratio("steps needed", NUMBER, needed, step))
    return product(name, NUMBER, steps, step)


def buy(offer: Offer, amount: Figure) -> Purchase:
    """Price an amount of one need at one offer.

    :param offer: the quote to buy from.
    :param amount: what is needed, in SI of the offer's measure (a count, m, m², loose m³, kg).
    :return: packs, price and tax [cents], weight [kg], volume [m³], refundable deposit [cents].

    Range: any amount from zero up. With price breaks, the break that the number of packs reaches
    sets the price of every pack.

    >>> from budget.figures import given
    >>> from budget.units import MASS
    >>> bag = Offer(
    ...     key="Joint sand @ North Yard, bag", item="Joint sand", supplier="North Yard",
    ...     measure="mass", per="bag", holds=given(22.68, MASS, "bag", "Quotes!E2"),
    ...     price=given(650, MONEY, "price", "Quotes!C2"), tax=constant(0.06, RATIO, "tax"),
    ...     least=0, step=1, weight=None, volume=None, deposit=None, bulk=False, expired=False,
    ...     lead_days=0, restocking=None, cell="Quotes!C2")
    >>> sand = buy(bag, given(100, MASS, "joint sand", "-"))
    >>> sand.packs.value, sand.price.value, sand.tax.value, sand.cash.value
    (5, 3250, 195, 3445)
    """
    packs = packs_to_buy(offer, amount)
    return replace(_priced(offer, packs, amount), back=_back(offer, packs, amount))


def take(offer: Offer, packs: float) -> Purchase:
    """Price so many packs of one offer, all of them used up: the part of a need bought there.

    :param packs: how many, as the plan says.
    """
    chosen = solved(packs, NUMBER, f"packs bought of {offer.key}", f"plan:{offer.key}")
    return _priced(offer, chosen, bought(offer, chosen, offer.holds.kind))


def bought(offer: Offer, packs: Figure, kind: Kind) -> Figure:
    """What some packs of an offer hold, as a figure of a kind of its measure."""
    return product("amount bought", kind, packs, offer.holds)


def left_to_buy(amount: Figure, taken: Iterable[tuple[Figure, Offer, Purchase]]) -> Figure:
    """What is left of an amount once parts of it are bought at other offers.

    :param amount: the whole need in one measure.
    :param taken: each part with the whole need in the measure of its offer.
    :return: in the measure of ``amount``, nothing where the parts cover it all.

    Parts sold in another measure count by their share of the need.
    """
    left = amount
    for need, offer, purchase in taken:
        part = bought(offer, purchase.packs, need.kind)
        if need.kind.dimension != amount.kind.dimension:
            share = ratio("share of the need", RATIO, part, need)
            part = product("amount bought", amount.kind, amount, share)
        left = minus(f"left after {offer.key}", left, part)
    return largest("left to buy", left, constant(0.0, amount.kind, "nothing"))


def _priced(offer: Offer, packs: Figure, amount: Figure) -> Purchase:
    price = cents(
        f"price of {offer.item}",
        product("packs at the price", MONEY, packs, price_at(offer, packs)),
    )
    return Purchase(
        packs=packs,
        price=price,
        tax=tax_on(price, offer.tax),
        left_over=_left_over(offer, packs, amount),
        weight=_times("weight of the order", MASS, packs, offer.weight),
        volume=_times("volume of the order", LOOSE_VOLUME, packs, offer.volume),
        deposit=_times("refundable deposit", MONEY, packs, offer.deposit),
        picking=_picking(offer, amount),
    )


def _back(offer: Offer, packs: Figure, amount: Figure) -> Back | None:
    """The whole packs beyond the need, which go back unopened where their seller takes them.

    The need holds its extra for waste and its spares, so that only a least order leaves any.
    """
    if offer.back is None or offer.least <= offer.step or amount.value <= 0:
        return None
    needed = ratio("packs needed", NUMBER, amount, offer.holds)
    stays = _in_steps(offer, "packs that are needed", needed)
    going = minus("packs that go back", packs, stays)
    refund = product("price paid back", MONEY, going, offer.price, offer.back)
    return Back(
        packs=going,
        kept=cents("price of the packs that stay", product("stay", MONEY, stays, offer.price)),
        credit=with_tax(f"{offer.item} taken back", refund, offer.tax),
    )


def price_at(offer: Offer, packs: Figure) -> Figure:
    """The price of one pack [cents] when so many are bought at once.

    >>> from budget.figures import given
    >>> from budget.units import MASS
    >>> bag = Offer(
    ...     key="Joint sand @ North Yard, bag", item="Joint sand", supplier="North Yard",
    ...     measure="mass", per="bag", holds=given(22.68, MASS, "bag", "Quotes!E2"),
    ...     price=given(650, MONEY, "price", "Quotes!C2"), tax=constant(0, RATIO, "tax"),
    ...     least=0, step=1, weight=None, volume=None, deposit=None, bulk=False, expired=False,
    ...     lead_days=0, restocking=None, cell="Quotes!C2",
    ...     breaks=((constant(10, NUMBER, "from"), constant(590, MONEY, "price from 10")),))
    >>> [price_at(bag, constant(n, NUMBER, "packs")).value for n in (9, 10)]
    [650, 590]
    """
    if not offer.breaks:
        return offer.price
    first = constant(0, packs.kind, "any number")
    steps = [(constant(start.value, packs.kind, start.name), each) for start, each in offer.breaks]
    return tier("price of one pack at this number", packs, [(first, offer.price), *steps])


def _left_over(offer: Offer, packs: Figure, amount: Figure) -> Figure:
    if packs.value <= 0:
        return constant(0.0, RATIO, "left over")
    bought = product("amount bought", amount.kind, packs, offer.holds)
    used = ratio("share used", RATIO, amount, bought)
    return minus("left over", constant(1.0, RATIO, "all"), used)


def _picking(offer: Offer, amount: Figure) -> Figure | None:
    """Own hours on the packs that are used up; what is left over is not picked through."""
    if offer.picking is None:
        return None
    used = ratio("packs used up", NUMBER, amount, offer.holds)
    return product(f"picking stones out of {offer.item}", HOURS, used, offer.picking)


def _times(name: str, kind: Kind, packs: Figure, each: Figure | None) -> Figure | None:
    return None if each is None else product(name, kind, packs, each)
