"""What is bought of each item, from whom, and how it comes: the columns of the programme.

How much an item takes depends only on the bids that bring its materials. Each such state of
supply is worked out beforehand with its whole packs and its cents, so that a column is an exact
purchase, tax and rounding included.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from budget.decide.model.build import Build, Columns
from budget.decide.model.lanes import Lane, close, lanes, load
from budget.decide.model.splits import add_split
from budget.decide.terms.situation import Situation
from budget.prices.options import Drop, Offer
from budget.prices.packs import Purchase

#: Steps whose materials the same bids bring, with the columns of these bids.
Group = tuple[frozenset[str], Columns]


def add_goods(build: Build) -> None:
    """Columns and rows for every item, every seller's lanes and their fees."""
    situation = build.situation
    sellers = {o.supplier for item in situation.items for o in situation.offers(item)}
    ways = {supplier: lanes(build, supplier) for supplier in sorted(sellers)}
    for bundle in _bundles(situation):
        _add_bundle(build, bundle, ways)
    trips = [close(build, lane) for supplier in sorted(ways) for lane in ways[supplier]]
    build.outings += [outing for outing in trips if outing is not None]


def _bundles(situation: Situation) -> list[tuple[str, ...]]:
    """The items, those that cannot but come together as one.

    Goods in packs that one seller alone quotes, once, for the same steps: whatever is chosen,
    they are bought together and come the same way. A heap is a drop of its own and stays alone.
    """
    found: dict[tuple[object, ...], list[str]] = {}
    for item, needs in situation.items.items():
        offers = situation.offers(item)
        alone = len(offers) != 1 or offers[0].bulk
        steps = frozenset(need.step for need in needs)
        key = (item,) if alone else (offers[0].supplier, steps)
        found.setdefault(key, []).append(item)
    return [tuple(items) for items in found.values()]


def supply_groups(build: Build, item: str) -> list[Group]:
    """The steps of an item's needs that bids may supply, grouped by these bids."""
    found: dict[Columns, set[str]] = {}
    for step in sorted({need.step for need in build.situation.items[item]}):
        columns = build.bids_on(step, materials=True)
        if columns:
            found.setdefault(columns, set()).add(step)
    return [(frozenset(steps), columns) for columns, steps in found.items()]


def _states(groups: list[Group]) -> Iterator[tuple[Group, ...]]:
    for count in range(len(groups) + 1):
        yield from combinations(groups, count)


def _add_bundle(build: Build, items: tuple[str, ...], ways: dict[str, list[Lane]]) -> None:
    groups = supply_groups(build, items[0])
    steps = {need.step for need in build.situation.items[items[0]]}
    by_group: dict[Columns, list[int]] = {columns: [] for _, columns in groups}
    every = []
    for state in _states(groups):
        supplied = frozenset().union(*(covered for covered, _ in state))
        columns = _state_columns(build, items, supplied, steps <= supplied, ways)
        every += columns
        for _, bids in state:
            by_group[bids] += columns
    build.programme.row([(c, 1.0) for c in every], low=1.0, high=1.0)
    for bids, columns in by_group.items():
        terms = [*((c, 1.0) for c in columns), *((b, -1.0) for b in bids)]
        build.programme.row(terms, low=0.0, high=0.0)


def _state_columns(
    build: Build,
    items: tuple[str, ...],
    supplied: frozenset[str],
    nothing: bool,
    ways: dict[str, list[Lane]],
) -> list[int]:
    if nothing:
        return [build.choose({})]
    bought = [_purchases(build.situation, item, supplied) for item in items]
    if not bought[0]:
        return [build.choose({}, missing=1)]
    columns = []
    for n, (offer, _) in enumerate(bought[0]):
        spare = _dominated(build.situation, bought[0], n)
        goods = [bought[0][n], *(only[0] for only in bought[1:])]
        for lane in ways[offer.supplier]:
            columns.append(_come(build, lane, goods))
            if spare:
                build.spare.add(columns[-1])
    split = add_split(build, items[0], supplied, ways)
    return columns if split is None else [*columns, split]


def _come(build: Build, lane: Lane, goods: list[tuple[Offer, Purchase]]) -> int:
    """The column that buys some goods of one seller and brings them by one lane."""
    names = {f"item:{offer.item}": offer.key for offer, _ in goods}
    names[f"goods:{goods[0][0].supplier}"] = lane.route.key
    cash = sum(purchase.cash.value * lane.surcharge - purchase.credit for _, purchase in goods)
    hours = sum(purchase.picking.value for _, purchase in goods if purchase.picking)
    column = build.choose(names, cash=cash, hours=hours)
    load(build, lane, column, goods)
    return column


def _purchases(
    situation: Situation, item: str, supplied: frozenset[str]
) -> list[tuple[Offer, Purchase]]:
    """Every way to buy what is needed of an item beside what bids bring."""
    found = ((offer, situation.purchase(offer, supplied)) for offer in situation.offers(item))
    return [(offer, purchase) for offer, purchase in found if purchase is not None]


def _dominated(situation: Situation, bought: list[tuple[Offer, Purchase]], n: int) -> bool:
    """Whether no best plan needs a purchase: its seller has one no worse in anything.

    A dearer or heavier order of the same seller is never better, unless something hangs on its
    value, its weight or its pallets: a delivery free above a sum, a least load, a fee by pallet.
    Two quotes for the same pack that are equal in everything are told apart by their place.
    """
    offer, mine = bought[n]
    routes = situation.options.routes.get(offer.supplier, ())
    hangs = any(
        isinstance(r, Drop) and (r.free_above or r.value_steps or r.least or r.per_pallet)
        for r in routes
    )
    ours = _burden(offer, mine)
    for i, (other, theirs) in enumerate(bought):
        if i == n or other.supplier != offer.supplier or other.bulk != offer.bulk:
            continue
        rival = _burden(other, theirs)
        if rival == ours and i < n and (other.per == offer.per or not hangs):
            return True
        if rival != ours and not hangs and all(a <= b for a, b in zip(rival, ours, strict=True)):
            return True
    return False


def _burden(offer: Offer, purchase: Purchase) -> tuple[float, ...]:
    """All that a purchase asks of a plan: cents paid and kept, kg, loose m³, hours.

    Where packs go back, the cents that stay are told apart from those that are paid first, on
    which a card's surcharge hangs.
    """
    weight = purchase.weight.value if purchase.weight else 0.0
    volume = purchase.volume.value if purchase.volume and offer.bulk else 0.0
    hours = purchase.picking.value if purchase.picking else 0.0
    paid = purchase.cash.value
    return (paid, paid - purchase.credit, purchase.kept.value, weight, volume, hours)
