"""Quotes matched to what the job needs: one offer for each quote that can meet an item."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from budget.figures import Figure, constant, given, minus, product, ratio
from budget.job import Job, Measure, PriceBreak, Product, Quote, Supplier
from budget.prices.defaults import Notes, if_filled, unique
from budget.prices.options import Offer
from budget.prices.tax import applies
from budget.quantities.takeoff import Need, Takeoff
from budget.reference import ProductKind, product_kinds
from budget.units import (
    AREA,
    BULK_MASS,
    COUNT,
    DENSITY,
    HOURS,
    LENGTH,
    LOOSE_VOLUME,
    MASS,
    MONEY,
    NUMBER,
    RATIO,
    SMALL_VOLUME,
    Kind,
    per,
)
from budget.wording import listed

#: Words after "per" for goods that come as pieces or packs, never tipped in a heap.
PACKED_WORDS = frozenset({
    "each", "piece", "kit", "set", "bag", "big bag", "box", "pallet", "roll", "pack", "bundle",
    "layer", "band", "pail", "bucket", "tube",
})  # fmt: skip

#: A word for a heap of a stated size; every other word after "per" is a unit of measure.
LOAD = "load"

#: What the Products sheet says of goods that are the same in any lot.
SAME = "more of the same"

#: The step whose materials may hold stones too big for it.
BED = "Bed"

_MEASURE_WORDS: dict[Measure, str] = {
    "count": "piece",
    "length": "length",
    "area": "area",
    "volume": "volume",
    "mass": "weight",
}


@dataclass(frozen=True, slots=True)
class Wanted:
    """One item of the job, in all the parts that need it."""

    item: str
    kind: ProductKind
    needs: tuple[Need, ...]
    measures: frozenset[Measure]  # that every part has

    def amount(self, measure: Measure) -> Figure | None:
        """The first part's amount in one measure, None if some part has not that measure."""
        return self.needs[0].measures[measure] if measure in self.measures else None

    @property
    def weight(self) -> Figure | None:
        """The weight that goes with :meth:`amount` [kg], None if not known."""
        return self.needs[0].weight


def wanted(takeoff: Takeoff) -> list[Wanted]:
    """The items of the job by name, each with every need for it."""
    by_name: dict[str, list[Need]] = {}
    for need in takeoff.needs:
        by_name.setdefault(need.item, []).append(need)
    kinds = product_kinds()
    found = []
    for name, needs in sorted(by_name.items()):
        needs.sort(key=lambda need: (need.part, need.bedding, need.line))
        measures = frozenset(needs[0].measures).intersection(*(need.measures for need in needs))
        found.append(Wanted(name, kinds[needs[0].kind], tuple(needs), measures))
    return found


def offers(job: Job, takeoff: Takeoff, tax: Figure, notes: Notes) -> tuple[Offer, ...]:
    """Every offer: the quotes that can meet an item, sorted by item, seller and price.

    A quote serves the item it names. A quote for the kind's usual name serves a named product
    where the job has but one item of that kind, and a quote for a product of that kind serves
    an item that goes by the kind's usual name. A quote without a price, or sold in a measure
    that the need has not, is warned about and gives no offer.
    """
    items = wanted(takeoff)
    products = {product.item.casefold(): product for product in job.products}
    sellers = {row.supplier.casefold(): row for row in reversed(job.suppliers)}
    serving = _serving(job.quotes, items, products)
    taken: set[str] = set()
    found = []
    for item in items:
        for quote in sorted(serving.get(item.item, ()), key=_quote_order):
            if _usable(quote, item, notes):
                ratio_of_tax = applies(job.settings, tax, quote.taxed)
                offer = _offer(job, quote, item, products, sellers, ratio_of_tax, notes, taken)
                found += [offer, *_larger_orders(offer, taken)]
    return tuple(found)


def _larger_orders(offer: Offer, taken: set[str]) -> Iterator[Offer]:
    """The same quote with more ordered than is needed, to reach a lower price for every pack.

    Only where the whole order at the lower price can cost less than one step of packs fewer
    at the price before. Whether it pays is for the plan to say: more has to be carried too.
    """
    before = offer.price
    for start, each in offer.breaks:
        last = start.value - offer.step
        if start.value > offer.least and start.value * each.value < last * before.value:
            key = unique(f"{offer.key}, at least {start.value:g}", taken)
            yield replace(offer, key=key, least=start.value, in_part=False)
        before = each


def _quote_order(quote: Quote) -> tuple[str, str, float, float, int]:
    price = quote.price if quote.price is not None else float("inf")
    return (quote.supplier, quote.per, price, quote.holds, quote.place.row)


def _serving(
    quotes: Iterable[Quote], items: list[Wanted], products: Mapping[str, Product]
) -> dict[str, list[Quote]]:
    """The quotes that serve each item, by the item's name."""
    by_name: dict[str, list[Wanted]] = {}
    by_kind: dict[str, list[Wanted]] = {}
    for item in items:
        by_name.setdefault(item.item.casefold(), []).append(item)
        by_kind.setdefault(item.kind.kind, []).append(item)
    found: dict[str, list[Quote]] = {}
    for quote in quotes:
        name = quote.item.casefold()
        for item in by_name.get(name) or _served(name, by_kind, products.get(name)):
            found.setdefault(item.item, []).append(quote)
    return found


def _served(
    name: str, by_kind: Mapping[str, list[Wanted]], sold: Product | None
) -> Iterator[Wanted]:
    """The items that a quote serves whose name is no item's own."""
    for kind, items in by_kind.items():
        usual = items[0].kind.item.casefold()
        if name == usual:
            if len(items) == 1 and kind != "extra":
                yield items[0]
        elif sold is not None and sold.kind == kind:
            yield from (item for item in items if item.item.casefold() == usual)


def _usable(quote: Quote, item: Wanted, notes: Notes) -> bool:
    if quote.price is None:
        notes.warn(
            quote, "price", "not-priced", "", f"a price for {quote.item}",
            f"Until it is filled, {quote.supplier} is not counted for it.",
        )  # fmt: skip
        return False
    if item.amount(quote.measure) is None:
        words = _MEASURE_WORDS[quote.measure]
        known = sorted({_MEASURE_WORDS[m] for m in item.needs[0].measures})
        notes.warn(
            quote, "per", "measure-not-known", f"{quote.item} sold by {words}",
            f"a price by {listed(known, 'or')}",
            f"The {words} of {item.item} is not known; give it on the Products sheet, or ask "
            "for a price in another measure.",
        )  # fmt: skip
        return False
    return True


def _offer(
    job: Job,
    quote: Quote,
    item: Wanted,
    products: dict[str, Product],
    sellers: Mapping[str, Supplier],
    tax: Figure,
    notes: Notes,
    taken: set[str],
) -> Offer:
    sold = products.get(quote.item.casefold()) or products.get(item.item.casefold())
    holds = _holds(quote)
    weight = _weight(quote, holds, item, sold, notes)
    too_big = _oversize(quote, item, notes)
    bulk = is_bulk(quote, item.kind)
    breaks = tuple(_break(quote, step) for step in quote.breaks)
    price = quote.figure("price", MONEY, f"{quote.item} at {quote.supplier}, per {quote.per}")
    return Offer(
        key=unique(f"{item.item} @ {quote.supplier}, {quote.per}", taken),
        item=item.item,
        supplier=quote.supplier,
        measure=quote.measure,
        per=quote.per,
        holds=holds if too_big is None else _usable_part(quote, holds, too_big),
        price=price,
        tax=tax,
        least=quote.least or 0,
        step=quote.step or 1,
        weight=weight,
        volume=_volume(quote, holds, item, sold, notes) if bulk else None,
        deposit=if_filled(quote, "deposit", MONEY, "refundable deposit per pack"),
        bulk=bulk,
        expired=quote.valid_until is not None and quote.valid_until < job.settings.as_of,
        lead_days=quote.lead_days or 0,
        restocking=quote.restocking,
        cell=quote.cell("price"),
        breaks=breaks,
        picking=_picking(quote, weight, too_big, notes),
        in_part=quote.in_part and _lot_free(quote, item, sold, notes),
        back=None if bulk or breaks else _back(quote, sellers),
    )


def _back(quote: Quote, sellers: Mapping[str, Supplier]) -> Figure | None:
    """The share of its price that an unopened pack brings back, None where nobody said so.

    A seller takes goods back where its quote tells what it keeps of their price, unless its row
    on Suppliers gives no days for it. Loose goods stay, and so do goods whose price hangs on the
    number bought: fewer kept would cost more each.
    """
    if quote.restocking is None:
        return None
    seller = sellers.get(quote.supplier.casefold())
    if seller is not None and seller.return_days == 0:
        return None
    kept = quote.figure("restocking", RATIO, f"share that {quote.supplier} keeps")
    return minus("share paid back", constant(1.0, RATIO, "all"), kept)


def _lot_free(quote: Quote, item: Wanted, sold: Product | None, notes: Notes) -> bool:
    """Whether goods may come from several lots; a warning where they may not."""
    named = sold.if_short if sold is not None else ""
    if not item.kind.lots and named in ("", SAME):
        return True
    notes.warn(
        quote, "in_part", "one-lot", f"{quote.item} to be bought in part",
        "goods that are the same from any lot",
        "Leave it blank: pieces of another lot may look different, so that all of them are bought "
        "at one quote.",
    )  # fmt: skip
    return False


def _oversize(quote: Quote, item: Wanted, notes: Notes) -> Figure | None:
    """The share of stones too big in a lot of bedding, ``None`` if there are none."""
    if not quote.oversize:
        return None
    if item.kind.step != BED:
        notes.warn(
            quote, "oversize", "oversize-not-bedding", f"an oversize share of {quote.item}",
            "bedding: sand, small gravel, screenings or pea gravel",
            "Leave it blank; it counts for bedding alone, and is not used here.",
        )  # fmt: skip
        return None
    return quote.figure("oversize", RATIO, f"stones too big in {quote.item}")


def _usable_part(quote: Quote, holds: Figure, too_big: Figure) -> Figure:
    """What one pack holds once the stones that are too big are picked out."""
    left = minus("share that is left", constant(1.0, RATIO, "all"), too_big)
    return product(f"one {quote.per} without stones too big", holds.kind, holds, left)


def _picking(
    quote: Quote, weight: Figure | None, too_big: Figure | None, notes: Notes
) -> Figure | None:
    """Own hours to pick the stones that are too big out of one pack."""
    if too_big is None or weight is None:
        return None
    pace = notes.default("picking stones", "Quotes")
    return product(f"picking stones out of one {quote.per}", HOURS, weight, too_big, pace)


def _break(quote: Quote, step: PriceBreak) -> tuple[Figure, Figure]:
    name = f"{quote.item} at {quote.supplier}, per {quote.per}, from {step.packs:g}"
    start = constant(step.packs, NUMBER, "packs from which it is cheaper")
    return start, given(step.price, MONEY, name, quote.break_cell(step))


def is_bulk(quote: Quote, kind: ProductKind) -> bool:
    """Whether a quote's goods are tipped in a heap: loose stone or sand not in packs."""
    packed = quote.per.strip().casefold() in PACKED_WORDS
    return kind.bulk and not packed and quote.measure in ("volume", "mass")


def _holds(quote: Quote) -> Figure:
    kind = _pack_kind(quote.measure, quote.holds)
    word = quote.per.strip().casefold()
    one_piece = quote.measure == "count" and quote.holds == 1
    if one_piece or word not in PACKED_WORDS | {LOAD}:
        return constant(quote.holds, kind, "one piece" if one_piece else f"one {quote.per}")
    return quote.figure("holds", kind, f"one {quote.per} of {quote.item} holds")


def _pack_kind(measure: Measure, holds: float) -> Kind:
    match measure:
        case "count":
            return COUNT
        case "length":
            return LENGTH
        case "area":
            return AREA
        case "volume":
            return LOOSE_VOLUME if holds > 0.2 else SMALL_VOLUME
        case "mass":
            return BULK_MASS if holds > 500 else MASS


def _weight(
    quote: Quote, holds: Figure, item: Wanted, sold: Product | None, notes: Notes
) -> Figure | None:
    """kg per pack: as quoted, as sold, by density, or as the takeoff weighs the item."""
    if quote.weight is not None:
        return quote.figure("weight", MASS, f"weight of one {quote.per}")
    if quote.measure == "mass":
        return holds.called(f"weight of one {quote.per}")
    name = f"weight of one {quote.per}"
    if quote.measure == "volume":
        density = _density(item, sold, notes)
        return None if density is None else product(name, MASS, holds, density)
    if quote.measure == "count" and sold is not None and sold.weight is not None:
        piece = sold.figure("weight", MASS, f"weight of one {sold.item}")
        return product(name, MASS, holds, piece)
    amount = item.amount(quote.measure)
    if amount is None or item.weight is None or amount.value <= 0:
        return None
    each = ratio("weight for each", per(MASS, amount.kind), item.weight, amount)
    return product(name, MASS, holds, each)


def _volume(
    quote: Quote, holds: Figure, item: Wanted, sold: Product | None, notes: Notes
) -> Figure | None:
    """Loose m³ per pack of bulk goods."""
    name = f"loose volume of one {quote.per}"
    if quote.measure == "volume":
        return holds.called(name)
    density = _density(item, sold, notes)
    return None if density is None else ratio(name, LOOSE_VOLUME, holds, density)


def _density(item: Wanted, sold: Product | None, notes: Notes) -> Figure | None:
    if sold is not None and sold.density is not None:
        return sold.figure("density", DENSITY, f"loose density of {sold.item}")
    return notes.default(item.kind.density, "Products") if item.kind.density else None
