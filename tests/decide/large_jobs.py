"""Large jobs made by rule: many needs, sellers, quotes, steps, bids and machines at once."""

from __future__ import annotations

import random

import small_jobs as small

from budget.prices.options import Bid, Drop, Haul, Machine, Method, Offer, Options
from budget.quantities.takeoff import Need, StepAmount, Takeoff

#: Of one size: needs, sellers, quotes for each need, steps, bids, machines.
NEEDS, SELLERS, QUOTES, STEPS, BIDS, MACHINES = 40, 8, 5, 25, 30, 12
WAYS = 2  # ways to have each machine


def large_job(size: int, seed: int = 0) -> tuple[Takeoff, Options]:
    """A job of so many times 40 needs, 8 sellers, 200 quotes, 25 steps, 30 bids, 12 machines.

    Everything pulls on everything else: sellers deliver at a flat fee, free above a sum, by the
    ton or by pallet, or goods are hauled; bids take runs of steps, some with their materials;
    machines serve several steps. The same size and seed give the same job anywhere.
    """
    r = random.Random(f"large job {size} {seed}")
    steps = [f"Step {n:03}" for n in range(size * STEPS - 1)]
    sellers = [f"Seller {n:02}" for n in range(size * SELLERS)]
    machines = [f"Machine {n:02}" for n in range(size * MACHINES)]
    needs = [_need(r, n, steps) for n in range(size * NEEDS)]
    amounts = [_amount(step, r.uniform(2, 30)) for step in steps]
    used = {step: _machine_near(r, n, machines) for n, step in enumerate(steps)}
    options = small.options(
        offers=[offer for need in needs for offer in _quotes(r, need, sellers)],
        routes=[route for seller in sellers for route in _routes(r, seller)],
        methods=[m for step in steps for m in _methods(r, step, used[step])]
        + [small.method("Carry", "barrow", 0.0005, people=2, walk=0.00002)],
        bids=[_bid(r, n, steps) for n in range(size * BIDS)],
        machines=[way for machine in machines for way in _machine(r, machine)],
        disposal=[small.disposal("box", 30000), small.disposal("trips", 9000, hours=0.7)],
        people=2,
    )
    return small.takeoff(needs, amounts, spoil=8.0), options


def _machine_near(r: random.Random, step: int, machines: list[str]) -> str:
    """A machine that other steps near by use too, or none for one step in five."""
    at = step * MACHINES // STEPS
    return r.choice(machines[max(0, at - 2) : at + 3]) if r.random() < 0.8 else ""


def _amount(step: str, value: float) -> StepAmount:
    return StepAmount(step, "Terrace", small.fig(value, small.COUNT, f"{step} amount"))


def _need(r: random.Random, number: int, steps: list[str]) -> Need:
    step = r.choice(steps)
    name = f"Item {number:03}"
    if number % 5:
        count = r.randint(5, 300)
        return small.need(name, step, {"count": count}, weight=count * r.uniform(0.5, 8))
    mass = r.uniform(500, 9000)
    return small.need(name, step, {"mass": mass, "volume": mass / 1600}, weight=mass)


def _quotes(r: random.Random, need: Need, sellers: list[str]) -> list[Offer]:
    loose = "mass" in need.measures
    amount = need.order.value
    weight = need.weight.value / amount if need.weight else 1.0
    usual = r.uniform(300, 1500)
    found = []
    for seller in r.sample(sellers, QUOTES):
        price = usual * r.uniform(0.75, 1.3)
        if loose:
            found.append(
                small.offer(need.item, seller, round(price * 4), holds=1000, per="tonne",
                            bulk=True, step=0.5, weight=1000, volume=0.62, tax=0.07)
            )  # fmt: skip
            continue
        holds = r.choice([1, 1, 10, 25])
        breaks = [(4, round(price * holds * 0.9))] if r.random() < 0.3 else []
        found.append(
            small.offer(need.item, seller, round(price * holds), measure="count", holds=holds,
                        per="each" if holds == 1 else "box", weight=weight * holds, tax=0.07,
                        breaks=breaks)
        )  # fmt: skip
    return found


def _routes(r: random.Random, seller: str) -> list[Drop | Haul]:
    kind = r.randrange(4)
    if kind == 0:
        drop = small.drop(seller, r.randint(4000, 12000), free_above=r.randint(80000, 300000))
    elif kind == 1:
        drop = small.drop(seller, 4000, per_mass=r.uniform(0.2, 1.5), tax=0.07)
    elif kind == 2:
        drop = small.drop(seller, 3000, per_pallet=1800, free_pallets=1)
    else:
        drop = small.drop(seller, r.randint(5000, 9000), most=5000, point="street")
    return [drop, small.haul(seller, r.choice([700, 1100]), hours=r.uniform(0.4, 1.6))]


def _methods(r: random.Random, step: str, machine: str) -> list[Method]:
    slow = r.uniform(0.3, 1.5)
    found = [_method(step, "by hand", slow)]
    if machine:
        found.append(_method(step, "by machine", slow * 0.35, machine))
    return found


def _method(step: str, name: str, rate: float, machine: str = "") -> Method:
    hours = small.per(small.HOURS, small.COUNT)
    return Method(
        step=step, method=name, rate=small.fig(rate, hours, "rate"), people=2, machine=machine,
        machine_rate=small.fig(rate, hours, "machine rate") if machine else None, reworked=None,
    )  # fmt: skip


def _bid(r: random.Random, number: int, steps: list[str]) -> Bid:
    length = r.choice([1, 1, 2, 3, 4])
    first = r.randrange(len(steps) - length + 1)
    covered = steps[first : first + length]
    return small.bid(
        f"Bid {number:03}", covered, r.randint(12000, 60000) * length,
        materials=r.random() < 0.3, equipment=r.random() < 0.7, supervise=r.choice([0, 1, 2]),
    )  # fmt: skip


def _machine(r: random.Random, name: str) -> list[Machine]:
    day = r.randint(4000, 16000)
    terms = [("4 hours", round(day * 0.6), 0.5), ("day", day, 1), ("week", day * 3, 7)]
    rented = [
        small.machine(name, f"rent {n}", terms=[(t, round(p * (1 + 0.1 * n)), d) for t, p, d in
                      terms], per_spell=r.choice([0, 3000]), waiver=0.1, tax=0.07)
        for n in range(WAYS - 1)
    ]  # fmt: skip
    return [*rented, small.machine(name, "buy", once=day * r.randint(3, 9))]
