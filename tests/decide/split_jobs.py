"""Small jobs whose goods may be bought at several quotes at once."""

from __future__ import annotations

import dataclasses
import random

import small_jobs as small

from budget.prices.options import Drop, Haul, Offer, Options
from budget.quantities.takeoff import Takeoff

SELLERS = ("East", "North", "South")


def split_job(seed: int) -> tuple[Takeoff, Options]:
    """A job of stone by the half tonne and sand by the bag, at two or three sellers.

    Few packs, so that every count of every quote can be tried.
    """
    r = random.Random(f"split {seed}")
    stone, sand = r.uniform(900, 3200), r.uniform(60, 200)
    measures = {"mass": sand, "volume": sand / 1500}
    needs = [
        small.need("Base stone", "Base", {"mass": stone, "volume": stone / 1600}, weight=stone),
        small.need("Joint sand", "Joint", measures, weight=sand),
    ]
    if r.random() < 0.4:
        needs.append(small.need("Joint sand", "Lay", {"mass": 25, "volume": 25 / 1700}, weight=25))
    sellers = SELLERS if r.random() < 0.25 else SELLERS[1:]
    offers = [_stone(r, s) for s in sellers if r.random() < 0.9]
    offers += [o for s in sellers for o in _bags(r, s)]
    offers = [_taken_back(seed, n, one) for n, one in enumerate(offers[:5])]
    routes = [route for s in sellers for route in _routes(r, s)]
    steps = [small.amount("Base", 2.0), small.amount("Lay", 20), small.amount("Joint", 20)]
    methods = [small.method(step, "by hand", 0.2) for step in ("Base", "Lay", "Joint")]
    methods.append(small.method("Carry", "barrow", 0.0005, people=2, walk=0.00002))
    bids = []
    if r.random() < 0.4:
        covered = r.choice([["Joint"], ["Lay", "Joint"], ["Base", "Lay", "Joint"]])
        bids = [small.bid("Bid", covered, r.randint(4000, 16000), materials=r.random() < 0.7)]
    return small.takeoff(needs, steps), small.options(
        offers=offers, routes=routes, methods=methods, bids=bids, people=r.choice([1, 2]),
        card={"South": 0.03} if r.random() < 0.3 else {}, hours_per_day=r.choice([2, 8]),
    )  # fmt: skip


def _stone(r: random.Random, seller: str) -> Offer:
    return small.offer(
        "Base stone", seller, r.choice([2525, 3000, r.randint(2000, 4000)]), holds=1000,
        per="tonne", bulk=True, step=0.5, weight=1000, volume=0.6, tax=0.07,
        least=r.choice([0, 0, 1]), picking=r.choice([None, None, r.uniform(0.05, 0.5)]),
        in_part=r.random() < 0.95,
    )  # fmt: skip


def _bags(r: random.Random, seller: str) -> list[Offer]:
    """Large and small bags, by weight or by volume, some cheaper from a number on."""
    found = []
    for size, per in [(65, "big bag"), (20, "bag")][: r.choice([1, 2, 2])]:
        each = r.choice([round(size * r.uniform(20, 24)), size * 22.1 + 0.3])
        breaks = r.choice([(), (), [(r.randint(2, 5), each * 0.9)]])
        by_volume = r.random() < 0.3
        found.append(
            small.offer(
                "Joint sand", seller, each, measure="volume" if by_volume else "mass",
                holds=size / 1500 if by_volume else size, per=per, tax=0.07,
                least=r.choice([0, 0, 0, 2]), weight=r.choice([size, size, None]), breaks=breaks,
                in_part=r.random() < 0.95,
            )
        )  # fmt: skip
    return found


def _taken_back(seed: int, number: int, one: Offer) -> Offer:
    """Some bags in a least order of three or four, of which what is too much goes back."""
    r = random.Random(f"taken back {seed} {number}")
    if one.bulk or one.breaks or r.random() < 0.6:
        return one
    back = small.fig(r.choice([0.5, 0.85, 1.0]), small.RATIO, "share paid back")
    return dataclasses.replace(one, least=r.choice([one.least, 3, 4]), back=back)


def _routes(r: random.Random, seller: str) -> list[Drop | Haul]:
    kind = r.randrange(7)
    free = r.randint(2000, 8000)
    drop = {
        0: lambda: small.drop(seller, r.randint(1000, 5000), free_above=free),
        1: lambda: small.drop(seller, 0, tiers=[(0, 3000), (2500, 1200), (6000, 0)]),
        2: lambda: small.drop(seller, 300, per_mass=r.uniform(0.1, 1.0), tax=0.07,
                              mass_of=r.choice(["", "bulk", "packs"]), share=r.random() < 0.5),
        3: lambda: small.drop(seller, 400, per_pallet=500, free_pallets=r.choice([0, 1]),
                              heap=900),
        4: lambda: small.drop(seller, 700, most=r.choice([600, 1500]), share=r.random() < 0.5,
                              per_volume=r.uniform(100, 900)),
        5: lambda: small.drop(seller, 500, least=r.choice([0, 700, 1500])),
        6: lambda: small.drop(seller, r.randint(1000, 3000), point="site", place=200,
                              free_above=free),
    }[kind]()  # fmt: skip
    if r.random() < 0.5:
        return [drop]
    return [
        drop,
        small.haul(seller, r.choice([500, 900]), bed=r.choice([None, 0.5]), mileage=300,
                   hire=r.choice([None, 1000]), hours=r.uniform(0.1, 0.5), handling=0.0005),
    ]  # fmt: skip
