"""Larger jobs against a solver of another kind, which is given the job in words of its own.

The other model is written from the rules of the job alone: packs, breaks, tax and fees are
worked out here in whole cents, and nothing of the programme is used.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from types import SimpleNamespace

import pytest
from ortools.sat.python import cp_model

from budget.decide.model import Model
from budget.decide.situation import Situation

ITEMS, SELLERS, STEPS, BIDS = 24, 6, 8, 12
HOUR = 2000


@dataclass(frozen=True)
class Quote:
    """A seller's price for one item, the lower price from a number on, and the least sold."""

    item: int
    seller: int
    price: int
    start: int
    lower: int
    least: int


@dataclass(frozen=True)
class Offered:
    """Hired help: steps from first to last, its price, hours to look after it, its goods."""

    first: int
    last: int
    price: int
    supervise: int
    materials: bool


class Job:
    """A job in plain numbers."""

    def __init__(self, seed: int) -> None:
        r = random.Random(f"independent {seed}")
        self.count = [r.randint(3, 60) for _ in range(ITEMS)]
        self.step_of = [r.randrange(STEPS) for _ in range(ITEMS)]
        self.fee = [r.randint(3000, 12000) for _ in range(SELLERS)]
        self.free_above = [r.randint(40000, 250000) for _ in range(SELLERS)]
        self.hours = [[r.randint(2, 30), r.randint(2, 30)] for _ in range(STEPS)]
        self.quotes = []
        for item in range(ITEMS):
            usual = r.randint(200, 3000)
            for seller in r.sample(range(SELLERS), 4):
                price = round(usual * r.uniform(0.8, 1.3))
                start = r.randint(5, 70)
                for least in (0, start):
                    self.quotes.append(Quote(item, seller, price, start, price * 4 // 5, least))
        self.bids = []
        for _ in range(BIDS):
            first = r.randrange(STEPS)
            last = min(STEPS - 1, first + r.randrange(4))
            price = (last - first + 1) * r.randint(8000, 60000)
            self.bids.append(Offered(first, last, price, r.randint(0, 3), r.random() < 0.5))

    def order(self, quote: Quote) -> tuple[int, int]:
        """Cents before tax and with it: packs at the price of their number, 7 % half up."""
        packs = max(self.count[quote.item], quote.least)
        price = packs * (quote.lower if packs >= quote.start else quote.price)
        return price, price + (7 * price + 50) // 100


def least(job: Job) -> int:
    """Least cash and hours at the hour value, by a solver of clauses and whole numbers."""
    model = cp_model.CpModel()
    buys = [model.new_bool_var("") for _ in job.quotes]
    takes = [model.new_bool_var("") for _ in job.bids]
    works = [[model.new_bool_var("") for _ in ways] for ways in job.hours]
    pays = [model.new_bool_var("") for _ in range(SELLERS)]
    free = [model.new_bool_var("") for _ in range(SELLERS)]
    for step in range(STEPS):
        hired = [t for t, b in zip(takes, job.bids, strict=True) if b.first <= step <= b.last]
        model.add_exactly_one([*works[step], *hired])
    for item in range(ITEMS):
        step = job.step_of[item]
        brought = [
            t for t, b in zip(takes, job.bids, strict=True)
            if b.materials and b.first <= step <= b.last
        ]  # fmt: skip
        own = [x for x, q in zip(buys, job.quotes, strict=True) if q.item == item]
        model.add_exactly_one([*own, *brought])
    for seller in range(SELLERS):
        mine = [(x, q) for x, q in zip(buys, job.quotes, strict=True) if q.seller == seller]
        value = sum(job.order(q)[0] * x for x, q in mine)
        model.add(value >= job.free_above[seller]).only_enforce_if(free[seller])
        for x, _ in mine:
            model.add_bool_or([pays[seller], free[seller], x.negated()])
    cash = sum(job.order(q)[1] * x for x, q in zip(buys, job.quotes, strict=True))
    cash += sum(fee * pay for fee, pay in zip(job.fee, pays, strict=True))
    cash += sum(b.price * t for b, t in zip(job.bids, takes, strict=True))
    hours = sum(b.supervise * t for b, t in zip(job.bids, takes, strict=True))
    hours += sum(
        h * x for ways, xs in zip(job.hours, works, strict=True)
        for h, x in zip(ways, xs, strict=True)
    )  # fmt: skip
    model.minimize(cash + HOUR * hours)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def situation(make: SimpleNamespace, job: Job) -> Situation:
    steps = [f"Step {n}" for n in range(STEPS)]
    amount = make.StepAmount
    amounts = [amount(s, "Terrace", make.fig(1, make.COUNT, f"{s} amount")) for s in steps]
    needs = [
        make.need(f"Item {n:02}", steps[job.step_of[n]], {"count": count})
        for n, count in enumerate(job.count)
    ]
    offers = [
        make.offer(f"Item {q.item:02}", f"Seller {q.seller}", q.price, measure="count", tax=0.07,
                   per="each", least=q.least, breaks=[(q.start, q.lower)],
                   key=f"Item {q.item:02} @ Seller {q.seller}, at least {q.least}")
        for q in job.quotes
    ]  # fmt: skip
    routes = [
        make.drop(f"Seller {n}", fee, free_above=job.free_above[n]) for n, fee in enumerate(job.fee)
    ]
    rate = make.per(make.HOURS, make.COUNT)
    methods = [
        make.Method(step=step, method=f"way {w}", rate=make.fig(h, rate, "rate"), people=1,
                    machine="", machine_rate=None, reworked=None)
        for step, ways in zip(steps, job.hours, strict=True) for w, h in enumerate(ways)
    ]  # fmt: skip
    bids = [
        make.bid(f"Bid {n:02}", steps[b.first : b.last + 1], b.price, materials=b.materials,
                 supervise=b.supervise)
        for n, b in enumerate(job.bids)
    ]  # fmt: skip
    carry = make.method("Carry", "barrow", 0.0)
    options = make.options(offers=offers, routes=routes, methods=[*methods, carry], bids=bids)
    return Situation(make.takeoff(needs, amounts), options, "sand", frozenset())


def agrees(make: SimpleNamespace, seed: int) -> None:
    job = Job(seed)
    found = Model(situation(make, job)).solve(HOUR)
    assert found is not None
    assert found.proved
    assert found.priced.total(HOUR) == pytest.approx(least(job), abs=0.5)


@pytest.mark.parametrize("seed", range(6))
def test_another_solver_finds_the_same_least_cost(make: SimpleNamespace, seed: int) -> None:
    agrees(make, seed)


@pytest.mark.thorough
@pytest.mark.parametrize("seed", range(100, 160))
def test_it_does_on_sixty_more_jobs(make: SimpleNamespace, seed: int) -> None:
    agrees(make, seed)
