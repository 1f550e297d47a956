"""Steps, bids, carrying, disposal and the checklist: columns and rows of the programme."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from budget.decide.model.build import Build, Columns, Outing
from budget.decide.plan import BID, METHOD
from budget.decide.terms.situation import CARRY, SPOIL
from budget.decide.terms.tariffs import bid_money, cover_price, line_price, ridding
from budget.decide.terms.thin import too_thin
from budget.decide.terms.vehicles import vehicle_of
from budget.decide.terms.work import own_work, rework, team
from budget.job import DropPoint
from budget.prices.options import Bid, Method, Options

#: One way of carrying: its column, its method, and the machine it is had with (or blank).
CarryWay = tuple[int, Method, str]


def add_bids(build: Build) -> None:
    """A column for every bid that covers anything of this job; of its forms one at the most.

    What a bid bills by the weight carried is added with the carrying.
    """
    situation = build.situation
    for bid in situation.bids:
        names = {f"step:{step}": BID + bid.key for step in situation.covered(bid)}
        cash, hours = bid_money(situation, bid).value, bid.supervise.value
        thin = too_thin(situation, bid)
        if thin is not None:
            cash, hours = cash + thin.cash.value, hours + thin.hours.value
        build.bids[bid.key] = build.choose(names, cash=cash, hours=hours)
    for offer in sorted({bid.offer for bid in situation.bids if bid.offer}):
        _sum(build, [build.bids[b.key] for b in situation.bids if offer in (b.key, b.offer)])


def add_steps(build: Build) -> None:
    """Each step by exactly one own method or bid; nothing covered twice."""
    situation = build.situation
    options = situation.options
    unpaid_helpers: list[int] = []
    for step, amount in situation.amounts.items():
        for method in situation.methods(step):
            work = own_work(method, amount, options)
            paid = work.paid.value if work.paid else 0.0
            column = build.choose(
                {f"step:{step}": METHOD + method.key},
                cash=paid * _pay(options),
                hours=work.own.value,
            )
            build.own[step, method.key] = column
            if paid and options.helper_pay is None:
                unpaid_helpers.append(column)
        own = [build.own[step, m.key] for m in situation.methods(step)]
        _sum(build, [*own, *build.bids_on(step)], low=1.0)
    for step in sorted(situation.coverable - set(situation.amounts) - {CARRY}):
        _sum(build, build.bids_on(step))
    if unpaid_helpers:
        needs_pay(build, unpaid_helpers)


def needs_pay(build: Build, columns: Iterable[int]) -> None:
    """Helpers' pay is missing once any of these columns is one."""
    build.helper_gap = build.choose({}, missing=1) if build.helper_gap < 0 else build.helper_gap
    for column in columns:
        build.programme.row([(column, 1.0), (build.helper_gap, -1.0)], high=0.0)


def _pay(options: Options) -> float:
    return options.helper_pay.value if options.helper_pay else 0.0


def _sum(build: Build, columns: Iterable[int], low: float = 0.0) -> None:
    terms = [(column, 1.0) for column in columns]
    if terms or low:
        build.programme.row(terms, low=low, high=1.0)


def add_carrying(build: Build) -> list[CarryWay]:
    """Everything bought is carried from where it is set down, by one way or by a bid.

    Each way and each bid takes a flow of weight from each drop point. Returns the own ways, so
    that the machines they need can be counted.
    """
    situation = build.situation
    options = situation.options
    if not build.loads:
        return []
    ways = [
        (build.choose(names), method, key)
        for method in situation.methods(CARRY)
        for names, key in _had(method, options)
    ]
    bids = build.bids_on(CARRY)
    gap = () if ways else (build.choose({}, missing=1),)
    _sum(build, [*(column for column, _, _ in ways), *bids, *gap])
    weighed = [b for b in situation.bids if b.unit_step == CARRY]
    lump = tuple(c for c in bids if c not in {build.bids[b.key] for b in weighed})
    for item in sorted(build.loads):
        _carry_item(build, item, ways, (*lump, *gap), weighed)
    for bid in weighed:
        _bill_weight(build, bid)
    paid = [c for c, m, _ in ways if team(m, options).paid]
    if paid and options.helper_pay is None:
        needs_pay(build, paid)
    return ways


def _had(method: Method, options: Options) -> list[tuple[dict[str, str], str]]:
    """The choices of one way of carrying, once for each way to have its machine."""
    names = {f"step:{CARRY}": METHOD + method.key}
    machines = sorted(options.machines.get(method.machine, ()), key=lambda m: m.key)
    if not method.machine or not machines:
        return [(names, "")]
    return [({**names, f"machine:{method.machine}": m.key}, m.key) for m in machines if m.usable]


def _bill_weight(build: Build, bid: Bid) -> None:
    """What a bid asks for the weight that it carries beyond the least it bills."""
    flows = build.carried.get(BID + bid.key, [])
    least = bid.least.value if bid.least else 0.0
    high = sum(build.programme.highs[flow] * units for flow, units in flows)
    beyond = build.amount(high, cash=bid.price.value * (1.0 + bid.tax.value))
    terms = [*((flow, -units) for flow, units in flows), (build.bids[bid.key], least)]
    build.programme.row([(beyond, 1.0), *terms], low=0.0)


def _carry_item(
    build: Build, item: str, ways: list[CarryWay], others: Columns, bids: list[Bid]
) -> None:
    """The weight of one item, shared out to the own ways and to what else may take it.

    The flows of an item are bounded by its own weight, which keeps the programme tight.
    """
    loads, most = build.loads[item], build.heaviest[item]
    points = sorted({point for point, _, _ in loads})
    taken: dict[DropPoint, list[int]] = {point: [] for point in points}
    takers: list[tuple[Columns, FlowCosts]] = [
        ((column,), _flow_costs(build, method, key)) for column, method, key in ways
    ]
    if others:
        takers.append((others, lambda _: (0.0, 0.0, 0.0, "")))
    for bid in bids:
        takers.append(((build.bids[bid.key],), _billed_flow(bid)))
    for openers, costs in takers:
        flows = []
        for point in points:
            cash, hours, running, name = costs(point)
            flow = build.amount(most, cash=cash, hours=hours)
            build.carried.setdefault(name, []).append((flow, running))
            taken[point].append(flow)
            flows.append(flow)
        terms = [*((f, 1.0) for f in flows), *((o, -most) for o in openers)]
        build.programme.row(terms, high=0.0)
    for point, flows in taken.items():
        here = [(column, -weight) for at, column, weight in loads if at == point]
        build.programme.row([*((f, 1.0) for f in flows), *here], low=0.0, high=0.0)


#: What a kg costs from a drop point: cents, own hours, machine hours; and the way's name.
FlowCosts = Callable[[DropPoint], tuple[float, float, float, str]]


def _flow_costs(build: Build, method: Method, key: str) -> FlowCosts:
    options = build.situation.options

    def costs(point: DropPoint) -> tuple[float, float, float, str]:
        hours, paid = carry_rates(build, method, point)
        running = machine_rate(build, method, point) if method.machine else 0.0
        cash = paid * _pay(options) + running * _fuel(method, key, options)
        return cash, hours, running, f"{method.key}|{key}"

    return costs


def _billed_flow(bid: Bid) -> FlowCosts:
    return lambda _: (0.0, 0.0, 1.0 / bid.unit_size, BID + bid.key)


def _fuel(method: Method, key: str, options: Options) -> float:
    """Cents of fuel for a machine hour, had in one way."""
    machines = options.machines.get(method.machine, ())
    return next((m.fuel.value for m in machines if m.key == key and m.fuel), 0.0)


def person_rate(build: Build, method: Method, point: DropPoint) -> float:
    """Person-hours to carry one kg from a drop point."""
    walk = 0.0
    if method.walk is not None:
        walk = method.walk.value * build.situation.options.carry[point].value
    return (method.rate.value + walk) * rework(method).value


def carry_rates(build: Build, method: Method, point: DropPoint) -> tuple[float, float]:
    """Own hours and paid helpers' hours to carry one kg from a drop point."""
    people = team(method, build.situation.options)
    each = person_rate(build, method, point) / people.people
    return each * people.unpaid, each * people.paid


def machine_rate(build: Build, method: Method, point: DropPoint) -> float:
    """Machine hours to carry one kg from a drop point."""
    if method.machine_rate is not None:
        return method.machine_rate.value
    return person_rate(build, method, point) / team(method, build.situation.options).people


def add_disposal(build: Build) -> None:
    """One way to be rid of the spoil, unless a bid takes it."""
    situation = build.situation
    if situation.spoil is None:
        return
    ways = sorted(situation.options.disposal, key=lambda w: w.key)
    columns = []
    for way in ways:
        hired = way.haul is not None and vehicle_of(way.haul) is not None
        cost = ridding(situation, way, hire=not hired)
        column = build.choose({"disposal": way.key}, cost.cash.value, cost.hours.value)
        columns.append(column)
        if hired and way.haul is not None and cost.trips is not None:
            hours = ((column, cost.trips.value),)
            build.outings.append(Outing(way.haul, hours, cost.trips.value, hours))
    if not ways:
        columns.append(build.choose({}, missing=1))
    terms = [(c, 1.0) for c in [*columns, *build.bids_on(SPOIL)]]
    build.programme.row(terms, low=1.0, high=1.0)


def add_checklist(build: Build) -> None:
    """The cost lines that the job implies: outside every bid, or in one, free or for an extra."""
    situation = build.situation
    for line in situation.options.checklist:
        if line.answer == "not needed":
            continue
        price = line_price(line)
        own = (price.value if price else 0.0, 0 if price else 1)
        covered = [(b, p) for b in situation.bids if (p := cover_price(line, b)) is not None]
        if not covered:
            build.always(cash=own[0], missing=own[1])
            continue
        ways = [build.choose({}, cash=own[0], missing=own[1])]
        for bid, extra in covered:
            taken = build.bids[bid.key]
            if extra.value:
                asked = build.choose({}, cash=extra.value)
                build.programme.row([(asked, 1.0), (taken, -1.0)], high=0.0)
                taken = asked
            ways.append(taken)
        build.programme.row([(way, 1.0) for way in ways], low=1.0)
