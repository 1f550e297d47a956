"""An item bought of several quotes at once: columns that count packs of each.

Packs of some quotes are chosen freely; one quote has the rest, in just as many packs as it
takes. Each quote is bought at one step of its price and comes by one lane, so that cents follow
from the count. A price of a count is rounded to the cent in its line: the programme's sum is
off by a cent for each quote at the most, and the order value that fees hang on is exact.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from budget.decide.model.build import Build, Share, Split
from budget.decide.model.lanes import Cargo, Counted, Lane, put_on
from budget.decide.shares import SEVERAL
from budget.decide.terms.situation import Situation
from budget.prices.options import Drop, Offer, Route
from budget.units import PACK_TOLERANCE, whole_packs

if TYPE_CHECKING:
    from budget.decide.programme.relaxation import Limits

#: Packs of the smallest quote by which a rest must fall short of one pack fewer.
_CLEAR = 1e-5

#: What columns add to a row.
Terms = list[tuple[int, float]]


@dataclass(slots=True)
class _Part:
    """What may be bought of one quote: all counts are steps in which it is sold."""

    offer: Offer
    share: float  # of the need that one step meets
    least: int
    most: int = 0
    opened: list[int] = field(default_factory=list)  # one column for each way, at most one open
    counts: list[int] = field(default_factory=list)  # steps bought that way
    rest: int = -1  # one when this quote has the rest
    back: list[int] = field(default_factory=list)  # steps of each way that go back unopened

    def steps(self, factor: float = 1.0) -> Terms:
        """All steps bought of it."""
        return [(column, factor) for column in self.counts]

    def stays(self, factor: float = 1.0) -> Terms:
        """All steps bought of it, less those that go back."""
        return [*self.steps(factor), *((column, -factor) for column in self.back)]


def add_split(
    build: Build, item: str, supplied: frozenset[str], ways: Mapping[str, list[Lane]]
) -> int | None:
    """The column that buys an item of several quotes, None where it may not be.

    :param supplied: the steps whose materials bids bring.
    :param ways: the lanes of each seller.
    """
    parts = _parts(build, item, supplied)
    if len(parts) < 2 or all(part.least * part.share >= 1.0 for part in parts):
        return None  # nothing is left for another quote
    column = build.choose({f"item:{item}": SEVERAL})
    heaviest = _heaviest(parts)
    for part in parts:
        for lane in ways[part.offer.supplier]:
            for first, last, price in _price_steps(part):
                _open(build, lane, part, (first, last), price, heaviest)
    for part in parts:
        part.rest = build.choose({})
    _cover(build, column, parts)
    if any(part.offer.picking for part in parts):
        _pick(build, column, parts)
    build.splits.append(
        Split(item, column, supplied, tuple(_share(build, column, p) for p in parts))
    )
    return column


def _parts(build: Build, item: str, supplied: frozenset[str]) -> list[_Part]:
    """Each quote with the fewest and the most steps that leave something to buy at another."""
    found = []
    for offer in build.situation.offers(item):
        need = build.situation.demand(item, offer.measure, supplied)
        if offer.in_part and need is not None:
            share = offer.step * offer.holds.value / need.value
            found.append(_Part(offer, share, max(1, whole_packs(offer.least / offer.step))))
    for part in found:
        others = min((p.least * p.share for p in found if p is not part), default=0.0)
        rest = whole_packs((1.0 - others) / part.share)
        part.most = max(part.least, rest, whole_packs(1.0 / part.share) - 1)
    return found


def _heaviest(parts: Sequence[_Part]) -> float:
    """What the item weighs at most however it is parted [kg]: the need, and a rest of a pack."""
    steps = [(p, p.offer.weight.value * p.offer.step) for p in parts if p.offer.weight]
    whole = max((weight / part.share for part, weight in steps), default=0.0)
    return whole + math.fsum(part.least * weight for part, weight in steps)


def _price_steps(part: _Part) -> Iterator[tuple[int, int, float]]:
    """From how many steps to how many one of them costs what [cents before tax]."""
    step = part.offer.step
    starts = [(part.least, part.offer.price.value)]
    for start, each in part.offer.breaks:
        starts.append((math.ceil(start.value / step - PACK_TOLERANCE), each.value))
    for (first, price), (after, _) in zip(starts, [*starts[1:], (math.inf, 0.0)], strict=True):
        low, high = max(first, part.least), int(min(after - 1, part.most))
        if low <= high:
            yield low, high, price * step


def _open(
    build: Build, lane: Lane, part: _Part, steps: tuple[int, int], price: float, most: float
) -> None:
    """The columns that buy some steps of a quote at one price and bring them by one lane."""
    (first, last), offer = steps, part.offer
    taxed = price * (1.0 + offer.tax.value)
    cash = taxed * lane.surcharge
    opener = build.choose({f"goods:{offer.supplier}": lane.route.key})
    count = build.amount(float(last), cash=cash, whole=True)
    build.programme.row([(count, 1.0), (opener, -float(first))], low=0.0)
    build.programme.row([(count, 1.0), (opener, -float(last))], high=0.0)
    part.opened.append(opener)
    part.counts.append(count)
    stays = [(count, 1.0)]
    if offer.back is not None and part.least > 1:
        credit = -taxed * offer.back.value
        part.back.append(build.amount(part.least - 1.0, cash=credit, whole=True))
        build.programme.row([(part.back[-1], 1.0), (opener, 1.0 - part.least)], high=0.0)
        stays.append((part.back[-1], -1.0))
    cargo = Cargo(
        count, opener, offer.bulk, _worth(build, opener, stays, price, last),
        offer.weight.value * offer.step if offer.weight else 0.0,
        offer.volume.value * offer.step if offer.volume and offer.bulk else 0.0,
        _pallets(build, lane.route, offer, opener, count, last), first, last,
    )  # fmt: skip
    put_on(build, lane, offer.item, cargo, most)


def _worth(build: Build, opener: int, stays: Terms, price: float, last: int) -> tuple[Counted, ...]:
    """The order value of what stays in whole cents, half up where its price has fractions."""
    each = [(column, price * sign) for column, sign in stays]
    if abs(price - round(price)) < 1e-9:
        return tuple(each)
    value = build.amount(math.ceil(price * last), whole=True)
    less = [(column, -cents) for column, cents in each]
    build.programme.row([(value, 1.0), *less], high=0.5)
    build.programme.row([(value, 1.0), *less, (opener, 0.5 - 1e-4)], low=0.0)
    return ((value, 1.0),)


def _pallets(
    build: Build, route: Route, offer: Offer, opener: int, count: int, last: int
) -> Counted:
    """Pallets of a count, as :func:`budget.prices.delivery.pallets` counts them."""
    if not isinstance(route, Drop) or not route.per_pallet or offer.bulk:
        return count, 0.0
    if offer.per.casefold() == "pallet":
        each = offer.step
    elif offer.weight is None or route.pallet_load is None:
        return opener, 1.0
    else:
        each = offer.weight.value * offer.step / route.pallet_load.value
    stacks = build.amount(float(max(1, whole_packs(each * last))), whole=True)
    build.programme.row([(stacks, 1.0), (count, -each)], low=-PACK_TOLERANCE)
    return stacks, 1.0


def _cover(build: Build, column: int, parts: Sequence[_Part]) -> None:
    """Two quotes or more are bought of, one of them has the rest, together they meet the need.

    Amounts are counted in the smallest steps of all quotes.
    """
    row = build.programme.row
    for part in parts:
        row([*((c, 1.0) for c in part.opened), (column, -1.0)], high=0.0)
        row([(part.rest, 1.0), *((c, -1.0) for c in part.opened)], high=0.0)
    row([*((c, 1.0) for part in parts for c in part.opened), (column, -2.0)], low=0.0)
    row([*((part.rest, 1.0) for part in parts), (column, -1.0)], low=0.0, high=0.0)
    smallest = min(part.share for part in parts)
    terms = [term for part in parts for term in part.stays(part.share / smallest)]
    row([*terms, (column, PACK_TOLERANCE - 1.0 / smallest)], low=0.0)
    for one in parts:  # in whole steps of each quote: follows from the above, and says it tighter
        steps, least = _rounded(parts, one, (1.0 - PACK_TOLERANCE * smallest) / one.share)
        row([*steps, (column, -least)], low=0.0)
    beyond = [term for part in parts for term in _beyond(build, part, part.share / smallest)]
    row([*terms, (column, _CLEAR - 1.0 / smallest), *beyond], high=0.0)


def _rounded(parts: Sequence[_Part], one: _Part, need: float) -> tuple[Terms, float]:
    """The need counted in steps of one quote and rounded up: steps of all quotes, and how many.

    Steps that are whole numbers of its steps count as they are; of a remainder, what it adds
    beyond whole steps counts by its share of the need's own remainder, one at the most: the
    mixed-integer rounding of Nemhauser and Wolsey, Integer and Combinatorial Optimization (1988),
    section II.1.7 (from memory).
    """
    over = need - math.floor(need)
    found: Terms = []
    for part in parts:
        each = part.share / one.share
        beyond = each - math.floor(each + _CLEAR)
        counted = min(1.0, max(0.0, beyond) / over) if over > _CLEAR else float(beyond > 0.0)
        found += part.steps(math.floor(each + _CLEAR) + counted)
    return found, math.ceil(need)


def _beyond(build: Build, part: _Part, each: float) -> Terms:
    """By how much the need may be passed where this quote has the rest: less than one step.

    Where the rest is the least that is sold, all of it may lie beyond the need.
    """
    found = [(part.rest, -each)]
    if part.least > 1:
        fewest = build.choose({})  # the rest is the least that is sold
        back = [(column, 1.0) for column in part.back]
        build.programme.row([*back, (fewest, 1.0 - part.least)], high=0.0)
        more = float(part.most - part.least)
        least = [(c, -float(part.least)) for c in part.opened]
        build.programme.row([*part.steps(), (fewest, more), *least], high=more)
        build.programme.row([(fewest, 1.0), (part.rest, -1.0)], high=0.0)
        if not part.back:
            found.append((fewest, -each * (part.least - 1)))
    return found


def _pick(build: Build, column: int, parts: Sequence[_Part]) -> None:
    """Hours to pick stones out: of whole packs, and of the rest only as far as it is used."""
    used: list[tuple[_Part, int]] = []
    for part in parts:
        picking = part.offer.picking.value if part.offer.picking else 0.0
        most = float(part.most)
        steps = build.amount(most, hours=picking * part.offer.step)
        build.programme.row([(steps, 1.0), *part.steps(-1.0)], high=0.0)
        build.programme.row([(steps, 1.0), *part.steps(-1.0), (part.rest, most)], low=0.0)
        used.append((part, steps))
    terms = [(steps, part.share) for part, steps in used]
    build.programme.row([*terms, (column, -1.0)], low=0.0, high=0.0)


def _share(build: Build, column: int, part: _Part) -> Share:
    """What holds the steps of a quote at a number, or reads them off an answer."""
    row = build.programme.row
    most = float(part.most)
    return Share(
        part.offer, tuple(part.opened), tuple(part.counts), part.rest, part.most,
        at_most=row(part.steps()), at_least=row([*part.steps(), (column, -most)]),
    )  # fmt: skip


def held(
    split: Split, rest: str, shares: Mapping[str, float]
) -> tuple[set[int], dict[int, Limits]] | None:
    """What holds a split at so many packs of some quotes and the rest of another.

    Columns to shut, and bounds of rows; None where a quote may not be bought in part.
    """
    known = {share.offer.key for share in split.shares}
    if not known.issuperset((rest, *shares)):
        return None
    shut: set[int] = set()
    bounds: dict[int, Limits] = {}
    for share in split.shares:
        key = share.offer.key
        if key == rest:
            continue
        shut.add(share.rest)
        if key in shares:
            steps = round(shares[key] / share.offer.step, 6)
            bounds[share.at_most] = (-math.inf, steps)
            bounds[share.at_least] = (steps - share.most, math.inf)
        else:
            shut.update(share.opened)
    return shut, bounds


def parted(
    situation: Situation, split: Split, values: Sequence[float], shut: Collection[int]
) -> tuple[str, dict[str, float]]:
    """The quote that has the rest in an answer, and the packs of the others.

    Of the quotes that may have it, since one step fewer would not do, it is the one that leaves
    fewest stones to pick, then the one that meets most of the need. Where packs may go back it
    is the answer's own, since only of the rest any do.
    """
    packs = {
        share.offer: steps * share.offer.step
        for share in split.shares
        if (steps := sum(values[c] for c in share.counts)) > 0
    }
    told = any(share.offer.back is not None for share in split.shares)
    found = []
    for share in split.shares:
        if share.offer in packs and share.rest not in shut:
            other = told and values[share.rest] < 0.5
            found.append((other, *_as_rest(situation, split, share.offer, packs), share.offer.key))
    *_, rest = min(found)
    return rest, {offer.key: number for offer, number in packs.items() if offer.key != rest}


def _as_rest(
    situation: Situation, split: Split, offer: Offer, packs: Mapping[Offer, float]
) -> tuple[bool, float, float]:
    """Whether an offer would not have just the rest, its hours of picking, its part (negative)."""
    others = {o.key: number for o, number in packs.items() if o is not offer}
    (first, own), *parts = situation.bought(split.item, offer.key, others, split.supplied)
    bought = [own, *(purchase for _, purchase in parts)]
    hours = sum(p.picking.value for p in bought if p.picking)
    wrong = first is not offer or abs(own.packs.value - packs[offer]) > PACK_TOLERANCE
    need = situation.demand(split.item, offer.measure, split.supplied)
    part = packs[offer] * offer.holds.value / need.value if need else 0.0
    return wrong, round(hours, 9), -round(part, 9)
