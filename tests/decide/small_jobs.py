"""Small jobs built by hand: quantities and options without any workbook."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import fields, replace

from budget.decide.plan import Plan, Priced
from budget.decide.pricing.evaluation import evaluate_in
from budget.decide.terms.situation import Situation
from budget.figures import Figure, constant, given
from budget.prices.options import (
    Answer,
    Bid,
    ChecklistCost,
    DisposalWay,
    Drop,
    Haul,
    Machine,
    Method,
    Offer,
    Options,
    Term,
)
from budget.quantities.takeoff import Bedding, Need, PartGeometry, StepAmount, Takeoff
from budget.reference import steps as step_kinds
from budget.units import (
    AREA,
    BULK_MASS,
    COUNT,
    DENSITY,
    DEPTH,
    DISTANCE,
    HOURS,
    LENGTH,
    LOOSE_VOLUME,
    MASS,
    MONEY,
    NUMBER,
    RATIO,
    Kind,
    per,
)

KIND_OF = {"mass": MASS, "volume": LOOSE_VOLUME, "count": COUNT, "length": LENGTH, "area": AREA}
PER_MASS = per(HOURS, BULK_MASS)


def fig(value: float, kind: Kind, name: str = "value") -> Figure:
    return given(float(value), kind, name, f"Test!{name}")


def cash(value: float, name: str = "price") -> Figure:
    return fig(value, MONEY, name)


def need(
    item: str,
    step: str,
    amounts: Mapping[str, float],
    *,
    weight: float | None = None,
    bedding: str = "",
    part: str = "Terrace",
    optional: str = "",
    group: str = "Base",
) -> Need:
    measures = {m: fig(v, KIND_OF[m], f"{item} {m}") for m, v in amounts.items()}
    order = next(iter(measures.values()))
    return Need(
        line=item, part=part, item=item, kind="base", step=step, group=group, net=order,
        order=order, overage=constant(0, RATIO, "none"), why="", measures=measures,
        weight=None if weight is None else fig(weight, MASS), bedding=bedding, optional=optional,
    )  # fmt: skip


def amount(
    step: str, value: float, *, bedding: str = "", part: str = "Terrace", optional: str = ""
) -> StepAmount:
    figure = fig(value, step_kinds()[step].measure, f"{step} amount")
    return StepAmount(step, part, figure, bedding, optional)


def bedding(name: str, *, discouraged: bool = False, allowed: bool = False) -> Bedding:
    return Bedding(name, f"{name} item", "filler", fig(0.025, DEPTH), discouraged, allowed, "", "")


def takeoff(
    needs: Sequence[Need],
    steps: Sequence[StepAmount],
    *,
    beddings: Sequence[Bedding] = (),
    spoil: float = 0.0,
    area: float = 20.0,
    optional: Sequence[str] = (),
    base_depth: float | None = None,
) -> Takeoff:
    zero = constant(0.0, LENGTH, "none")
    parts = [
        PartGeometry(
            p,
            fig(area, AREA),
            fig(area, AREA),
            zero,
            zero,
            zero,
            optional=o,
            base_depth=None if base_depth is None else fig(base_depth, DEPTH),
        )
        for p, o in [("Terrace", False), *((name, True) for name in optional)]
    ]
    heap = StepAmount("Spoil", "Terrace", fig(spoil, LOOSE_VOLUME, "spoil"))
    return Takeoff(
        needs=tuple(needs), steps=tuple(steps), beddings=tuple(beddings) or (bedding("sand"),),
        parts=tuple(parts), spoil=(heap,) if spoil else (),
        spoil_density=fig(1300, DENSITY, "spoil density"),
    )  # fmt: skip


def offer(
    item: str,
    supplier: str,
    price: float,
    *,
    measure: str = "mass",
    holds: float = 1.0,
    per: str = "bag",
    tax: float = 0.0,
    least: float = 0.0,
    step: float = 1.0,
    weight: float | None = None,
    volume: float | None = None,
    bulk: bool = False,
    deposit: float | None = None,
    breaks: Sequence[tuple[float, float]] = (),
    key: str = "",
    picking: float | None = None,
    in_part: bool = False,
    back: float | None = None,
) -> Offer:
    return Offer(
        key=key or f"{item} @ {supplier}, {per}", item=item, supplier=supplier, measure=measure,
        breaks=tuple((fig(n, NUMBER, "from"), cash(each)) for n, each in breaks),
        per=per, holds=fig(holds, KIND_OF[measure], "holds"), price=cash(price),
        tax=fig(tax, RATIO, "tax"), least=least, step=step,
        weight=None if weight is None else fig(weight, MASS, "weight"),
        volume=None if volume is None else fig(volume, LOOSE_VOLUME, "volume"),
        deposit=None if deposit is None else cash(deposit, "deposit"), bulk=bulk, expired=False,
        lead_days=0, restocking=None, cell="Quotes!A1",
        picking=None if picking is None else fig(picking, HOURS, "picking"), in_part=in_part,
        back=None if back is None else fig(back, RATIO, "share paid back"),
    )  # fmt: skip


def drop(
    supplier: str,
    fee: float,
    *,
    point: str = "drive",
    free_above: float | None = None,
    per_mass: float | None = None,
    per_volume: float | None = None,
    per_pallet: float | None = None,
    free_pallets: float = 0,
    tiers: Sequence[tuple[float, float]] = (),
    least: float = 0.0,
    most: float | None = None,
    share: bool = False,
    place: float | None = None,
    heap: float | None = None,
    mass_of: str = "",
    tax: float = 0.0,
    priced: bool = True,
) -> Drop:
    return Drop(
        key=f"deliver to {point}", supplier=supplier, point=point, per_drop=cash(fee, "fee"),
        per_mass=None if per_mass is None else fig(per_mass, per(MONEY, BULK_MASS)),
        per_volume=None if per_volume is None else fig(per_volume, per(MONEY, LOOSE_VOLUME)),
        per_pallet=None if per_pallet is None else cash(per_pallet),
        free_pallets=free_pallets, value_steps=tuple((cash(a), cash(b)) for a, b in tiers),
        free_above=None if free_above is None else cash(free_above), least=least,
        most=None if most is None else fig(most, MASS), heaps_share=share,
        tax=fig(tax, RATIO, "tax"), point_fee=None if place is None else cash(place),
        per_heap=None if heap is None else cash(heap), mass_of=mass_of,
        pallet_load=fig(1000, MASS, "pallet load"), priced=priced,
    )  # fmt: skip


def haul(
    supplier: str,
    payload: float,
    *,
    vehicle: str = "Pickup",
    bed: float | None = None,
    mileage: float = 500,
    hours: float = 1.0,
    handling: float = 0.002,
    hire: float | None = None,
) -> Haul:
    return Haul(
        key=f"haul with {vehicle}", supplier=supplier, vehicle=vehicle,
        payload=fig(payload, MASS, "payload"), payload_why="the payload",
        bed=None if bed is None else fig(bed, LOOSE_VOLUME, "bed"),
        distance=fig(10, DISTANCE, "way"),
        cost_per_distance=fig(mileage / 10, per(MONEY, DISTANCE)),
        drive_hours=fig(hours, HOURS, "drive"), handling=fig(handling, PER_MASS, "handling"),
        hire_per_day=None if hire is None else cash(hire), tax=fig(0, RATIO, "tax"),
    )  # fmt: skip


def method(
    step: str,
    name: str,
    rate: float,
    *,
    people: int = 1,
    machine: str = "",
    machine_rate: float | None = None,
    reworked: float | None = None,
    walk: float | None = None,
    bedding: str = "",
) -> Method:
    kind = PER_MASS if step == "Carry" else per(HOURS, step_kinds()[step].measure)
    return Method(
        step=step, method=name, rate=fig(rate, kind, "rate"), people=people, machine=machine,
        machine_rate=None if machine_rate is None else fig(machine_rate, kind, "machine rate"),
        reworked=None if reworked is None else fig(reworked, RATIO, "reworked"),
        walk=None if walk is None else fig(walk, per(PER_MASS, LENGTH), "walk"), bedding=bedding,
    )  # fmt: skip


def bid(
    name: str,
    steps: Sequence[str],
    price: float,
    *,
    materials: bool = False,
    equipment: bool = True,
    supervise: float = 0.0,
    basis: str = "lump",
    unit_step: str = "",
    least: float | None = None,
    mobilisation: float | None = None,
    risks: Sequence[str] = (),
) -> Bid:
    return Bid(
        key=name, firm="", steps=tuple(steps), price=cash(price), basis=basis,
        unit_step=unit_step, unit_size=1.0, hours=None,
        least=None if least is None else fig(least, NUMBER),
        mobilisation=None if mobilisation is None else cash(mobilisation),
        tax=fig(0, RATIO, "tax"), materials=materials, equipment=equipment,
        supervise=fig(supervise, HOURS, "supervise"), risks=tuple(risks), expired=False,
        cell="Bids!A1",
    )  # fmt: skip


def machine(
    equipment: str,
    key: str,
    *,
    terms: Sequence[tuple[str, float, float]] = (),
    once: float = 0.0,
    per_spell: float = 0.0,
    waiver: float | None = None,
    fuel: float | None = None,
    deposit: float | None = None,
    hours_a_day: float = 8.0,
    tax: float = 0.0,
    fits: bool = True,
) -> Machine:
    return Machine(
        key=key, equipment=equipment, way="rent" if terms else "buy" if once else "borrow",
        source="", terms=tuple(Term(n, cash(p), d) for n, p, d in terms), once=cash(once),
        once_taxed=cash(once), per_spell=cash(per_spell),
        waiver=None if waiver is None else fig(waiver, RATIO, "waiver"),
        fuel=None if fuel is None else fig(fuel, per(MONEY, HOURS), "fuel"),
        deposit=None if deposit is None else cash(deposit),
        hours_a_day=fig(hours_a_day, HOURS, "hours a day"), tax=fig(tax, RATIO, "tax"),
        fits=fits, cell="Equipment!A1",
    )  # fmt: skip


def disposal(
    name: str, price: float, *, volume: float = 5.0, hours: float | None = None
) -> DisposalWay:
    return DisposalWay(
        key=name, kind="box", price=cash(price), volume=fig(volume, LOOSE_VOLUME, "load"),
        weight=None, over_price=None, permit=None,
        hours=None if hours is None else fig(hours, per(HOURS, LOOSE_VOLUME), "hours"),
        haul=None, tax=fig(0, RATIO, "tax"), cell="Disposal!A1",
    )  # fmt: skip


def check_line(
    line: str, answer: str = "priced", value: float | None = None, bid: str = ""
) -> ChecklistCost:
    figure = None if value is None else cash(value)
    return ChecklistCost(line, "Before digging", answer, figure, bid, "Ask.", "Checklist!B2")


def options(
    *,
    offers: Sequence[Offer] = (),
    routes: Sequence[Drop | Haul] = (),
    methods: Sequence[Method] = (),
    bids: Sequence[Bid] = (),
    machines: Sequence[Machine] = (),
    disposal: Sequence[DisposalWay] = (),
    checklist: Sequence[ChecklistCost] = (),
    hour_value: float = 2000,
    hours_per_day: float = 8,
    people: int = 1,
    paid_helpers: int = 0,
    helper_pay: float | None = None,
    card: Mapping[str, float] | None = None,
) -> Options:
    return Options(
        offers=tuple(offers),
        routes={r.supplier: tuple(x for x in routes if x.supplier == r.supplier) for r in routes},
        methods={m.step: tuple(x for x in methods if x.step == m.step) for m in methods},
        bids=tuple(bids),
        machines={
            m.equipment: tuple(x for x in machines if x.equipment == m.equipment) for m in machines
        },
        disposal=tuple(disposal),
        carry={
            "street": fig(30, LENGTH, "way from the street"),
            "drive": fig(15, LENGTH, "way from the drive"),
            "site": fig(3, LENGTH, "way from the site"),
        },
        checklist=tuple(checklist),
        hour_value=fig(hour_value, per(MONEY, HOURS), "hour value"),
        hours_per_day=fig(hours_per_day, HOURS, "hours per day"),
        people=people,
        paid_helpers=paid_helpers,
        helper_pay=None if helper_pay is None else fig(helper_pay, per(MONEY, HOURS), "pay"),
        sales_tax=fig(0, RATIO, "tax"),
        card_surcharge={s: fig(v, RATIO, "card") for s, v in (card or {}).items()},
    )


def every_plan(situation: Situation) -> Iterator[Plan]:
    """Every plan there is, by plain enumeration: the slow way that cannot be clever."""
    for count in range(len(situation.bids) + 1):
        for bids in itertools.combinations(situation.bids, count):
            taken = [s for b in bids for s in situation.covered(b)]
            if len(taken) == len(set(taken)):
                yield from _plans_with(situation, bids)


def _plans_with(situation: Situation, bids: Sequence[Bid]) -> Iterator[Plan]:
    options = situation.options
    hired = {s: f"bid: {b.key}" for b in bids for s in situation.covered(b)}
    supplied = {s for b in bids if b.materials for s in b.steps}
    bought = [
        i
        for i, needs in situation.items.items()
        if situation.offers(i) and any(n.step not in supplied for n in needs)
    ]
    own = [s for s in [*situation.amounts, "Carry"] if s not in hired and situation.methods(s)]
    ways = [[(s, m) for m in situation.methods(s)] for s in own]
    buys = [list(_buys(situation, i, supplied)) for i in bought]
    needs_way = situation.spoil is not None and not any("Spoil" in b.steps for b in bids)
    rid = [w.key for w in options.disposal] if needs_way and options.disposal else [""]
    lent = {s for b in bids if not b.equipment for s in b.steps if s in situation.amounts}
    crews = {m.machine for s in lent for m in [_crew(situation, s)] if m}
    for steps in itertools.product(*ways):
        if not bought:
            steps = tuple((s, m) for s, m in steps if s != "Carry")
        wanted = sorted({m.machine for _, m in steps if m.machine} | crews)
        had = [[(e, m.key) for m in options.machines.get(e, ())] for e in wanted]
        for goods in itertools.product(*buys):
            sellers = sorted({o.supplier for _, rest, parts in goods for o in (rest, *parts)})
            shares = {i: {o.key: n for o, n in parts.items()} for i, _, parts in goods if parts}
            roads = [[(s, r.key) for r in options.routes[s]] for s in sellers]
            for routes in itertools.product(*roads):
                for machines in itertools.product(*(h for h in had if h)):
                    for way in rid:
                        yield Plan(
                            situation.bedding, situation.parts,
                            {i: o.key for i, o, _ in goods}, dict(routes),
                            hired | {s: f"own: {m.key}" for s, m in steps},
                            dict(machines), way, shares,
                        )  # fmt: skip


#: An item, the offer that has all or the rest of it, and the packs of others.
Buy = tuple[str, Offer, dict[Offer, float]]


def _buys(situation: Situation, item: str, supplied: set[str]) -> Iterator[Buy]:
    """An item whole from each offer, then every number of packs of some and the rest of one."""
    yield from ((item, offer, {}) for offer in situation.offers(item))
    sharing = [o for o in situation.offers(item) if o.in_part]
    packs = {o.key: _packs(situation, o, supplied) for o in sharing}
    for rest in sharing:
        others = [o for o in sharing if o is not rest]
        for chosen in itertools.product(*(packs[o.key] for o in others)):
            parts = {o: n for o, (n, _) in zip(others, chosen, strict=True) if n}
            if parts and sum(share for _, share in chosen) < 1 - 1e-6:
                yield item, rest, parts


def _packs(situation: Situation, offer: Offer, supplied: set[str]) -> list[tuple[float, float]]:
    """No packs of an offer, or any number that leaves something to buy; and their share."""
    needs = [n for n in situation.items[offer.item] if n.step not in supplied]
    one = offer.step * offer.holds.value / sum(n.measures[offer.measure].value for n in needs)
    counts = [(n * offer.step, n * one) for n in range(1, int(1 / one) + 1)]
    return [(0.0, 0.0), *(found for found in counts if found[0] >= offer.least)]


def _crew(situation: Situation, step: str) -> Method | None:
    found = [m for m in situation.methods(step) if m.machine]
    return min(found, key=lambda m: (m.rate.value, m.key)) if found else None


def all_priced(situation: Situation) -> list[Priced]:
    """Every plan that can be priced."""
    found = []
    for plan in every_plan(situation):
        try:
            found.append(evaluate_in(situation, plan))
        except ValueError:
            continue
    return found


def best_by_hand(situation: Situation, hour_value: float) -> tuple[Priced | None, int]:
    """The best of all plans by (missing, total), and how many plans could be priced."""
    found = all_priced(situation)
    best = min(found, key=lambda p: (len(p.missing), p.total(hour_value)), default=None)
    return best, len(found)


def asked_alike(jobs: Iterable[tuple[Takeoff, Options]]) -> set[str]:
    """What every delivery of some jobs asks alike: fields of :class:`Drop`."""
    drops = [
        route
        for _, options in jobs
        for routes in options.routes.values()
        for route in routes
        if isinstance(route, Drop)
    ]
    names = [field.name for field in fields(Drop)]
    return {name for name in names if len({_valued(getattr(d, name)) for d in drops}) == 1}


def _valued(entry: object) -> object:
    """A figure's value, in whatever it stands."""
    if isinstance(entry, tuple):
        return tuple(map(_valued, entry))
    return entry.value if isinstance(entry, Figure) else entry


def random_job(seed: int) -> tuple[Takeoff, Options]:
    """A small job in which everything pulls on everything else."""
    r = random.Random(seed)
    steps = [amount("Dig", r.uniform(2, 6)), amount("Spoil", r.uniform(3, 8))]
    steps += [amount("Base", r.uniform(2, 4)), amount("Lay", 20), amount("Joint", 20)]
    stone = r.uniform(3000, 9000)
    pavers = r.randint(300, 700)
    needs = [
        need("Base stone", "Base", {"mass": stone, "volume": stone / 1600}, weight=stone),
        need("Paver", "Lay", {"count": pavers}, weight=pavers * 3.0),
    ]
    if r.random() < 0.5:
        needs.append(need("Paver", "Joint", {"count": 20}, weight=60.0))
    offers, routes = [], []
    sellers = ["North", "South"]
    dirty = random.Random(-seed - 1)  # a stream of its own
    taken_back = random.Random(f"taken back {seed}")
    for s in sellers:
        offers.append(
            offer("Base stone", s, r.randint(2000, 5000), holds=1000, per="tonne", bulk=True,
                  step=0.5, weight=1000, volume=0.6, tax=0.07,
                  picking=dirty.choice([None, dirty.uniform(0.1, 2.0)]))
        )  # fmt: skip
        each, least = r.randint(50, 150), r.choice([0, 450])
        lower = [(r.randint(350, 500), each * 0.8), (r.randint(501, 800), each * 0.6)]
        breaks = r.choice([(), lower[:1], lower])
        for start in sorted({least, *(n for n, _ in breaks)}):
            offers.append(
                offer("Paver", s, each, measure="count", per="each", weight=3.0, tax=0.07,
                      least=max(least, start), breaks=breaks,
                      back=None if breaks else taken_back.choice([None, 0.5, 0.85, 1.0]),
                      key=f"Paver @ {s}, at least {start}")
            )  # fmt: skip
        routes.append(_random_drop(r, s))
        if r.random() < 0.6:
            routes.append(
                haul(s, r.choice([500, 900, 1500]), bed=r.choice([None, 0.5]),
                     hire=r.choice([None, 6000]), hours=r.uniform(0.3, 1.5))
            )  # fmt: skip
        else:
            routes.append(drop(s, r.randint(1000, 9000), point="street"))
    if r.random() < 0.15:
        offers = [o for o in offers if o.item != "Paver"]
    methods = [
        method("Dig", "by hand", r.uniform(3, 7), people=2),
        method("Dig", "loader", r.uniform(0.5, 1.5), machine="Loader", machine_rate=0.8),
        method("Spoil", "loader", r.uniform(0.2, 0.6), machine="Loader", machine_rate=0.4),
        method(
            "Base", "compactor", r.uniform(1, 2), people=2, machine="Compactor", machine_rate=0.5
        ),
        method("Lay", "by hand", r.uniform(0.3, 0.6), people=2, reworked=0.1),
        method("Joint", "compactor", 0.1, machine="Compactor", machine_rate=0.05),
        method("Carry", "barrow", 0.0005, people=2, walk=0.00002),
    ]
    if r.random() < 0.5:
        methods.append(method("Spoil", "barrow", r.uniform(0.8, 1.6), people=2))
    if r.random() < 0.4:
        methods.append(method("Carry", "loader", 0.0002, machine="Loader", walk=0.000005))
    machines = [
        machine("Loader", "rent", terms=[("4 hours", 9000, 0.5), ("day", 15000, 1),
                ("week", 45000, 7)], per_spell=r.choice([0, 5000]), waiver=0.1, tax=0.07,
                fuel=r.choice([None, 500])),
        machine("Compactor", "rent", terms=[("4 hours", 4000, 0.5), ("day", 6000, 1)],
                per_spell=r.choice([0, 2000, 9000]), tax=0.07),
    ]  # fmt: skip
    if r.random() < 0.5:
        machines.append(machine("Compactor", "buy", once=r.randint(8000, 25000)))
    if r.random() < 0.15:
        machines = [m for m in machines if m.equipment != "Loader"]
    bids = [_random_bid(r, n) for n in range(r.randint(0, 3))]
    also = random.Random(7 * seed + 3)  # a stream of its own
    bids = [_random_scope(also, one) for one in bids]
    bids = [form for one in bids for form in _random_forms(random.Random(f"{seed} {one.key}"), one)]
    ways = [disposal("box", r.randint(9000, 20000)), disposal("trips", 2000, hours=0.7)]
    checklist = [check_line("Permit", value=5000)]
    if r.random() < 0.5:
        checklist.append(check_line("Tidy up", "in bid", r.choice([None, 7000]), bid="Bid 0"))
    checklist.append(check_line("Drain", *also.choice([("priced", 9000), ("to price", None)])))
    rid = ways[: r.randint(0, 2)] if r.random() < 0.3 else ways[:1]
    if also.random() < 0.4:
        rid = [*rid, _random_tip(also)]
    built = options(
        offers=offers, routes=routes, methods=methods, bids=bids, machines=machines,
        disposal=rid, checklist=checklist,
        hours_per_day=r.choice([4, 8]), people=r.choice([1, 2]), paid_helpers=r.choice([0, 1]),
        helper_pay=r.choice([1800, 1800, None]), card={"South": 0.03} if r.random() < 0.3 else {},
    )  # fmt: skip
    spoil = 6.0 if r.random() < 0.7 else 0.0
    return takeoff(needs, steps, spoil=spoil, base_depth=0.15), built


def _random_drop(r: random.Random, supplier: str) -> Drop:
    kind = r.randrange(6)
    point = r.choice(["drive", "site"])
    place = r.choice([None, 1500])
    if kind == 0:
        return drop(supplier, r.randint(3000, 9000), point=point, place=place,
                    free_above=r.randint(20000, 60000))  # fmt: skip
    if kind == 1:
        tiers = [(0, 9000), (20000, 6000), (45000, r.choice([0, 7000]))]
        return drop(supplier, 0, point=point, tiers=tiers, most=r.choice([None, 4000]))
    if kind == 2:
        return drop(supplier, 4000, point=point, per_mass=r.uniform(0.1, 1.0), place=place,
                    mass_of=r.choice(["", "bulk", "packs"]), share=True, tax=0.07)  # fmt: skip
    if kind == 3:
        return drop(supplier, 2500, point=point, per_pallet=1500, free_pallets=r.choice([0, 1]),
                    heap=8000)  # fmt: skip
    if kind == 4:
        return drop(supplier, 3000, point=point, most=r.choice([2500, 6000]),
                    per_volume=r.uniform(100, 900), share=r.random() < 0.5)  # fmt: skip
    return drop(supplier, 2000, point=point, least=r.choice([0, 3000]),
                priced=r.random() < 0.7)  # fmt: skip


def _random_tip(r: random.Random) -> DisposalWay:
    """Own trips to the tip, often with the vehicle that is hired for goods too."""
    trips = haul("the tip", r.choice([500, 1500]), hours=r.uniform(0.2, 0.8), bed=1.0,
                 mileage=300, handling=0.0004, hire=r.choice([None, 6000, 6000]))  # fmt: skip
    way = disposal("own trips", r.randint(500, 1500), hours=r.choice([None, 0.3]))
    return replace(way, kind="own trips", haul=trips)


def _random_scope(r: random.Random, one: Bid) -> Bid:
    """What a bid says of the drain, and how deep a base it is for."""
    said = r.choice(["", "yes", "no", "extra"])
    extra = cash(r.choice([4000, 12000]), "extra") if said == "extra" else None
    depth = fig(r.choice([0.10, 0.20]), DEPTH, "base in the bid") if r.random() < 0.4 else None
    return replace(one, scope=(Answer("Drain", said, extra),), base_depth=depth)


def _random_forms(r: random.Random, one: Bid) -> list[Bid]:
    """A bid, often with what it costs without some of its steps: one or two sets of them."""
    steps = [step for step in one.steps if step != "Carry"]
    r.shuffle(steps)
    if len(one.steps) < 2 or r.random() < 0.4:
        return [one]
    middle = r.randint(1, len(steps))
    sets = [s for s in (steps[:middle], steps[middle:]) if s]
    sizes = [r.randint(5000, 50000) * len(s) for s in sets]
    found = [one]
    for chosen in [[0], [1], [0, 1]] if len(sets) > 1 else [[0]]:
        left = {step for n in chosen for step in sets[n]}
        if left < set(one.steps):
            found.append(
                replace(one, key=f"{one.key} without {', '.join(sorted(left))}", offer=one.key,
                        steps=tuple(s for s in one.steps if s not in left),
                        deduct=cash(sum(sizes[n] for n in chosen), "deduct"))
            )  # fmt: skip
    return found


def _random_bid(r: random.Random, number: int) -> Bid:
    choice = [["Dig"], ["Dig", "Spoil"], ["Base"], ["Base", "Lay", "Joint"], ["Lay", "Joint"],
              ["Dig", "Spoil", "Base", "Lay", "Joint"], ["Carry"], ["Joint", "Carry"]]  # fmt: skip
    steps = r.choice(choice)
    return bid(
        f"Bid {number}", steps, r.randint(15000, 60000) * len(steps),
        materials=r.random() < 0.5, equipment=r.random() < 0.6, supervise=r.choice([0, 2]),
    )  # fmt: skip
