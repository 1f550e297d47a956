"""Lines of work: own steps, carrying, machines, bids, disposal, helpers and the checklist."""

from __future__ import annotations

from collections import defaultdict

from budget.decide.plan import BID, METHOD, Hire, Plan
from budget.decide.pricing.arrivals import find_route, point_of, weight_of
from budget.decide.pricing.goods import Bought, tip_shares
from budget.decide.pricing.ledger import Ledger
from budget.decide.terms.situation import CARRY, SPOIL, Situation, summed
from budget.decide.terms.spells import Hired, hired
from budget.decide.terms.tariffs import bid_money, cover_price, line_price, ridding
from budget.decide.terms.thin import too_thin
from budget.decide.terms.work import (
    MachineUse,
    Work,
    crew_method,
    days_on,
    helper_cost,
    machine_use,
    own_work,
    rework,
    shared,
    team,
)
from budget.figures import Figure, cents, product, total
from budget.job import DropPoint
from budget.prices.carrying import PER_MASS
from budget.prices.options import Bid, Method
from budget.reference import steps as step_kinds
from budget.units import DAYS, HOURS, MASS, in_words, round_half_up

HIRED_HELP = "Hired help"
EQUIPMENT = "Equipment"
HELPERS = "Helpers"
IN_A_BID = "in a bid"
THIN = "Base made up to depth"


def group_of(step: str) -> str:
    """The group that a step's lines belong to."""
    kinds = step_kinds()
    return kinds[step].group if step in kinds else HIRED_HELP


def chosen_method(situation: Situation, plan: Plan, step: str) -> Method | None:
    """The own method that a plan takes for a step, None if the step is hired or not done."""
    value = plan.steps.get(step, "")
    return next((m for m in situation.methods(step) if METHOD + m.key == value), None)


def _own(ledger: Ledger, step: str, method: Method, work: Work) -> None:
    ledger.line(step, group_of(step), time=work.own, quantity=method.method, choice=f"step:{step}")
    ledger.clock_hours += work.clock.value
    if work.paid is not None:
        ledger.helper_hours.append(work.paid)


def add_steps(ledger: Ledger, situation: Situation, plan: Plan) -> None:
    """A line of own hours for each step done by own hands."""
    for step, amount in situation.amounts.items():
        method = chosen_method(situation, plan, step)
        if method is not None:
            _own(ledger, step, method, own_work(method, amount, situation.options))


def add_carrying(ledger: Ledger, situation: Situation, plan: Plan, bought: Bought) -> Figure | None:
    """Hours to carry what was bought to the work, and the machine hours of that, if any."""
    weights: dict[DropPoint, list[Figure]] = defaultdict(list)
    for supplier, goods in sorted(bought.items()):
        weight = weight_of(goods)
        if weight.value > 0:
            route = find_route(situation.options, supplier, plan.routes[supplier])
            weights[point_of(route)].append(weight)
    if not weights or plan.steps.get(CARRY, "").startswith(BID):
        return None
    if not situation.methods(CARRY):
        ledger.gap("Carrying the goods", "Work", "Give a way to carry goods from the drop point.")
        return None
    method = chosen_method(situation, plan, CARRY)
    if method is None:
        msg = "the plan does not say who carries the goods"
        raise ValueError(msg)
    person_hours = carry_hours(situation, method, weights)
    work = shared(CARRY, person_hours, team(method, situation.options))
    _own(ledger, CARRY, method, work)
    if method.machine_rate is None:
        return work.clock
    every = summed("weight carried", [w for at in sorted(weights) for w in weights[at]])
    return product("Carry: machine hours", HOURS, method.machine_rate, every)


def carry_hours(
    situation: Situation, method: Method, weights: dict[DropPoint, list[Figure]]
) -> Figure:
    """Person-hours to carry some weights from where they are set down."""
    hours = []
    for point in sorted(weights):
        weight = summed(f"weight set down at the {point}", weights[point])
        each = method.rate
        if method.walk is not None:
            way = situation.options.carry[point]
            walking = product(f"walk from the {point}", PER_MASS, method.walk, way)
            each = total(f"hours for each weight from the {point}", [method.rate, walking])
        factors = [each, weight, *([rework(method)] if method.reworked else [])]
        hours.append(product(f"carrying from the {point}", HOURS, *factors))
    return summed("Carry: person-hours", hours)


def add_machines(
    ledger: Ledger, situation: Situation, plan: Plan, bids: tuple[Bid, ...],
    carried: Figure | None,
) -> None:  # fmt: skip
    """A line for each machine that own work or a crew without machines uses."""
    uses: dict[str, dict[str, MachineUse]] = defaultdict(dict)
    lent = {s for bid in bids if not bid.equipment for s in situation.covered(bid)}
    for step, amount in situation.amounts.items():
        method = chosen_method(situation, plan, step)
        if method is None and step in lent:
            method = crew_method(situation, step)
        if method is not None and method.machine:
            uses[method.machine][step] = machine_use(method, amount, situation.options)
    carrier = chosen_method(situation, plan, CARRY)
    if carrier is not None and carrier.machine and carried is not None:
        uses[carrier.machine][CARRY] = MachineUse(carried, None)
    for equipment in sorted(uses):
        _hire(ledger, situation, plan, equipment, uses[equipment])


def _hire(
    ledger: Ledger, situation: Situation, plan: Plan, equipment: str, uses: dict[str, MachineUse]
) -> None:
    ways = situation.options.machines.get(equipment, ())
    if not ways:
        ledger.gap(
            equipment, "Equipment", f"Say what it costs to rent, borrow or buy: {equipment}."
        )
        return
    key = plan.machines.get(equipment)
    machine = next((m for m in ways if m.key == key and m.usable), None)
    if machine is None:
        msg = f"the plan does not say how to have the {equipment}"
        raise ValueError(msg)

    def days_of(step: str) -> Figure:
        return days_on(situation, step, chosen_method(situation, plan, step))

    found = hired(situation, machine, uses, days_of)
    days = summed("days in all", list(found.days))
    ledger.line(
        equipment, EQUIPMENT, found.cash, supplier=machine.source,
        quantity=_quantity(machine.way, days), choice=f"machine:{equipment}",
    )  # fmt: skip
    deposit = ledger.deposit(machine.deposit)
    ledger.hires.append(
        Hire(
            equipment,
            machine.key,
            _spells_in_words(found),
            round_half_up(found.cash.value),
            deposit,
            round(days.value, 1),
        )
    )


def _quantity(way: str, days: Figure) -> str:
    words = _days_in_words(days)
    return {"rent": f"rent, {words}", "borrow": "borrow", "buy": "buy"}[way]


def _spells_in_words(found: Hired) -> tuple[str, ...]:
    return tuple(
        f"{' and '.join(spell)}: {_days_in_words(days)}"
        for spell, days in zip(found.spells, found.days, strict=True)
    )


def add_bids(
    ledger: Ledger, situation: Situation, bids: tuple[Bid, ...], bought: Bought
) -> None:  # fmt: skip
    """A line for each bid, with the own hours to supervise it, and what it leaves at risk."""
    weights = [weight_of(goods) for _, goods in sorted(bought.items())]
    carried = total("weight of the goods ordered", weights, MASS)
    for bid in bids:
        steps = situation.covered(bid)
        ledger.line(
            bid.key, HIRED_HELP, bid_money(situation, bid, carried),
            bid.supervise if bid.supervise.value else None, supplier=bid.firm,
            quantity=", ".join(steps), choice=f"step:{steps[0]}",
        )  # fmt: skip
        thin = too_thin(situation, bid)
        if thin is not None:
            ledger.line(
                THIN, group_of("Base"), thin.cash, thin.hours if thin.hours.value else None,
                quantity=f"beside {bid.key}", choice="step:Base",
            )  # fmt: skip
        ledger.risk(f"{bid.key}: {text[:1].lower()}{text[1:]}" for text in bid.risks)


def add_disposal(ledger: Ledger, situation: Situation, plan: Plan, bids: tuple[Bid, ...]) -> None:
    """A line for getting rid of the spoil, unless a bid takes it."""
    if situation.spoil is None or any(SPOIL in bid.steps for bid in bids):
        return
    if not situation.options.disposal:
        ledger.gap("Spoil disposal", "Disposal", "Say where the dug soil goes and what it costs.")
        return
    way = next((w for w in situation.options.disposal if w.key == plan.disposal), None)
    if way is None:
        msg = f"no way to be rid of spoil is called {plan.disposal!r}"
        raise ValueError(msg)
    cost = ridding(situation, way, hire=not tip_shares(situation, plan, bids))
    hours = cost.hours if cost.hours.value else None
    ledger.line(
        "Spoil disposal", group_of(SPOIL), cost.cash, hours, quantity=way.key, choice="disposal"
    )
    ledger.clock_hours += cost.hours.value


def add_helpers(ledger: Ledger, situation: Situation) -> None:
    """What paid helpers cost, for all the steps they help at."""
    if not ledger.helper_hours:
        return
    pay = situation.options.helper_pay
    if pay is None:
        ledger.gap("Helpers' pay", "Job", "Say what a paid helper gets an hour.")
        return
    hours = summed("helpers' hours", ledger.helper_hours)
    money = cents("helpers' pay", helper_cost(hours, pay))
    ledger.line("Helpers' pay", HELPERS, money, quantity=hours.words("metric"))


def add_checklist(ledger: Ledger, situation: Situation, bids: tuple[Bid, ...]) -> None:
    """The other cost lines that the job implies, each at the least that anybody asks for it."""
    for item in situation.options.checklist:
        if item.answer == "not needed":
            continue
        price, how = line_price(item), ""
        for bid in bids:
            asked = cover_price(item, bid)
            if asked is None or (price and asked.value and asked.value >= price.value):
                continue
            price, how = asked, f"extra to {bid.key}" if asked.value else IN_A_BID
        if price is None:
            ledger.gap(item.line, "Checklist", item.hint)
        elif how != IN_A_BID:
            ledger.line(item.line, item.group, cents(item.line, price), quantity=how)


def _days_in_words(days: Figure) -> str:
    """Days as people say them: ``1 day``, ``2.5 days``."""
    return in_words(days.value, DAYS, "metric", 1)
