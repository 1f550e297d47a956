"""Lines of goods and of how they come, supplier by supplier."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from budget.decide.plan import Arrival, Order, Plan
from budget.decide.pricing.arrivals import Coming, coming, find_route
from budget.decide.pricing.ledger import Ledger
from budget.decide.terms.situation import CARRY, SPOIL, Situation
from budget.decide.terms.tariffs import ridding
from budget.decide.terms.vehicles import TIP, Shared, shared_hires
from budget.figures import Figure, cents, constant, minus, product, total
from budget.numerals import trimmed
from budget.prices.hauling import vehicle_hire
from budget.prices.options import Bid, Drop, Haul, Offer, Options, Route
from budget.prices.packs import Purchase
from budget.reference import steps
from budget.units import MONEY, round_half_up
from budget.wording import listed

#: What is bought, by supplier.
Bought = dict[str, list[tuple[Offer, Purchase]]]

#: The group of lines that bring the goods.
ARRIVING = steps()[CARRY].group
CHARGES = "Charges"


def add_goods(ledger: Ledger, situation: Situation, plan: Plan, bids: tuple[Bid, ...]) -> Bought:
    """Lines for each item bought, then for each supplier's delivery or hauling and surcharge."""
    supplied = frozenset(step for bid in bids if bid.materials for step in bid.steps)
    bought: Bought = {}
    for item in situation.items:
        for pair in _bought(ledger, situation, plan, item, supplied):
            bought.setdefault(pair[0].supplier, []).append(pair)
    ways = {s: find_route(situation.options, s, plan.routes.get(s, "")) for s in sorted(bought)}
    shared = shared_hires(ways, tip_trips(situation, plan, bids))
    times: dict[str, Figure | None]
    times = {
        supplier: _bring(
            ledger, situation.options, way, bought[supplier], _others(shared, supplier)
        )
        for supplier, way in ways.items()
    }
    times[TIP] = _tip_hours(situation, plan)
    for hire in shared:
        _hire(ledger, situation.options, hire, times)
    return bought


def tip_trips(situation: Situation, plan: Plan, bids: tuple[Bid, ...]) -> Haul | None:
    """The own trips to the tip that a plan makes, None if it makes none."""
    if situation.spoil is None or any(SPOIL in bid.steps for bid in bids):
        return None
    return next((w.haul for w in situation.options.disposal if w.key == plan.disposal), None)


def tip_shares(situation: Situation, plan: Plan, bids: tuple[Bid, ...]) -> bool:
    """Whether a hired vehicle goes both to the tip and to a seller that is bought from."""
    tip = tip_trips(situation, plan, bids)
    routes = {s: find_route(situation.options, s, key) for s, key in plan.routes.items()}
    return any(TIP in hire.sellers for hire in shared_hires(routes, tip))


def _tip_hours(situation: Situation, plan: Plan) -> Figure | None:
    """Own hours of the trips to the tip."""
    way = next((w for w in situation.options.disposal if w.key == plan.disposal), None)
    if way is None or situation.spoil is None:
        return None
    return ridding(situation, way).trips


def _others(shared: Sequence[Shared], supplier: str) -> tuple[str, ...]:
    """Where else a hired vehicle goes that fetches from a seller, in words."""
    found = next((hire for hire in shared if supplier in hire.sellers), None)
    if found is None:
        return ()
    pairs = zip(found.sellers, found.places, strict=True)
    return tuple(words for seller, words in pairs if seller != supplier)


def _hire(
    ledger: Ledger, options: Options, hire: Shared, times: Mapping[str, Figure | None]
) -> None:
    """One line for a vehicle hired for the trips to several places."""
    hours = [time for seller in hire.sellers if (time := times[seller]) is not None]
    together = total(f"all trips with {hire.way.vehicle}", hours)
    days, rent = vehicle_hire(hire.way, together, options.hours_per_day)
    count = round(days.value)
    ledger.line(
        f"Hire of {hire.way.vehicle}", ARRIVING, rent,
        quantity=f"{count} day{'' if count == 1 else 's'}", choice=f"goods:{hire.sellers[0]}",
    )  # fmt: skip


def _bought(
    ledger: Ledger, situation: Situation, plan: Plan, item: str, supplied: frozenset[str]
) -> list[tuple[Offer, Purchase]]:
    needs = [n for n in situation.items[item] if n.step not in supplied]
    if not needs:
        return []
    if not situation.offers(item):
        ledger.gap(item, "Quotes", f"No quote can be used for {item}; ask a seller what it costs.")
        return []
    shares = plan.shares.get(item, {})
    found = situation.bought(item, plan.offers.get(item, ""), shares, supplied)
    parts = {n.part for n in needs}
    part = next(iter(parts)) if len(parts) == 1 else ""
    for offer, purchase in found:
        words = packs_in_words(purchase.packs.value, offer.per)
        if offer.key in shares:
            line = (share_line(offer), words)
        else:
            line = (item, f"the other {words}" if shares else words)
        _order(ledger, line, (needs[0].group, part), offer, purchase)
    return found


def share_line(offer: Offer) -> str:
    """The name of the line for part of an item that is bought beside the rest.

    An offer called ``Sand @ South Barn, bag`` gives ``Sand from South Barn, bag``.
    """
    return f"{offer.item} from {offer.key.removeprefix(f'{offer.item} @ ')}"


def _order(
    ledger: Ledger, line: tuple[str, str], place: tuple[str, str], offer: Offer, purchase: Purchase
) -> None:
    """The lines of one purchase, and what is ordered: its name and how much, its group and part."""
    (name, quantity), (group, part), choice = line, place, f"item:{offer.item}"
    ledger.line(
        name, group, purchase.cash, part=part, supplier=offer.supplier, quantity=quantity,
        choice=choice,
    )  # fmt: skip
    if purchase.picking is not None:
        ledger.line(
            f"Picking stones out of {name}", group, time=purchase.picking,
            supplier=offer.supplier, quantity="own hands", choice=choice,
        )  # fmt: skip
        ledger.clock_hours += purchase.picking.value
    deposit = ledger.deposit(purchase.deposit)
    ledger.orders.append(
        Order(
            item=offer.item, offer=offer.key, supplier=offer.supplier,
            packs=purchase.packs.value, per=offer.per, price=round_half_up(purchase.price.value),
            tax=round_half_up(purchase.tax.value), deposit=deposit,
            weight=purchase.weight.value if purchase.weight else None,
            left_over=purchase.left_over.value, line=name,
            back=purchase.back.packs.value if purchase.back else 0.0,
            credit=round_half_up(purchase.credit),
        )
    )  # fmt: skip
    if purchase.back is not None and purchase.credit:
        nothing = constant(0.0, MONEY, "nothing")
        ledger.line(
            back_line(name), group, minus("comes back later", nothing, purchase.back.credit),
            part=part, supplier=offer.supplier, choice=choice,
            quantity=f"{packs_in_words(purchase.back.packs.value, offer.per)}, unopened",
        )  # fmt: skip


def back_line(name: str) -> str:
    """The name of the line for goods that go back, after the line that bought them.

    >>> back_line("Cap")
    'Comes back later: Cap'
    """
    return f"Comes back later: {name}"


def packs_in_words(packs: float, per: str) -> str:
    """A number of packs as people say it.

    >>> packs_in_words(5, "ton"), packs_in_words(1, "bag"), packs_in_words(12, "bag")
    ('5 ton', '1 bag', '12 bags')
    >>> packs_in_words(140, "each"), packs_in_words(2.5, "cu yd")
    ('140', '2.5 cu yd')
    """
    number = trimmed(packs)
    if per.casefold() in ("", "each", "piece"):
        return number
    plural = packs != 1 and per.casefold() in _PACKS
    return f"{number} {per}{'es' if plural and per.endswith('x') else 's' if plural else ''}"


_PACKS = frozenset(("bag", "big bag", "box", "pallet", "roll", "pail", "tub", "kit", "pack", "set"))


def _bring(
    ledger: Ledger, options: Options, route: Route,
    goods: list[tuple[Offer, Purchase]], sharing: tuple[str, ...],
) -> Figure | None:  # fmt: skip
    """Lines for one seller's goods on their way; returns the own hours of the trips.

    With other sellers ``sharing`` its hired vehicle, the hire is a line of its own.
    """
    supplier = route.supplier
    way = coming(route, goods, options, hire=not sharing)
    paid = [purchase.cash for _, purchase in goods]
    if way.cash is None:
        ledger.gap(
            f"Delivery from {supplier}", "Suppliers",
            f"Ask {supplier} what a delivery costs, or say how far it is to fetch the goods.",
        )  # fmt: skip
    elif isinstance(route, Drop):
        paid.append(way.cash)
    _arrival(ledger, route, way, sharing)
    card = options.card_surcharge.get(supplier)
    if card is not None and card.value:
        base = total(f"paid to {supplier}", paid)
        fee = cents(f"card surcharge, {supplier}", product("surcharge", MONEY, base, card))
        ledger.line(f"Card surcharge, {supplier}", CHARGES, fee, supplier=supplier)
    return way.hours


def _arrival(ledger: Ledger, route: Route, way: Coming, sharing: tuple[str, ...]) -> None:
    supplier, delivered = route.supplier, isinstance(route, Drop)
    note = way.note
    if sharing and isinstance(route, Haul):
        note += f"; the hire of {route.vehicle} is shared with trips to {listed(sharing)}"
    name = f"Delivery from {supplier}" if delivered else f"Hauling from {supplier}"
    count = round(way.drops.value)
    words = f"{count} {'drop' if delivered else 'trip'}{'' if count == 1 else 's'}"
    if way.cash is not None:
        ledger.line(
        name, ARRIVING, way.cash, way.hours, supplier=supplier, quantity=words,
        choice=f"goods:{supplier}",
    )  # fmt: skip
    ledger.clock_hours += way.hours.value if way.hours else 0.0
    ledger.arrivals.append(
        Arrival(
            supplier=supplier, route=route.key, fee=_rounded(way.cash), drops=count,
            hours=way.hours.value if way.hours else 0.0, weight=way.weight.value, note=note,
        )
    )  # fmt: skip


def _rounded(money: Figure | None) -> int:
    return round_half_up(money.value) if money else 0
