"""Cutting stock lengths against published instances and against another solver."""

import random
from collections import Counter
from pathlib import Path

import pytest

from budget.quantities.laid.cutting import STEP, cut
from budget.units import INCH

DATA = Path(__file__).parent / "data"


def steps(sizes):
    return [size * STEP for size in sizes]


def used(found):
    return sum(found.stock_used.values())


def check_covers(found, sizes, counts, rooms, kerf=0.0):
    """Every piece is cut as often as wanted, and no length is cut beyond its end."""
    made = Counter()
    for (stock, pieces), times in found.patterns:
        assert sum(sizes[i] + kerf for i in pieces) <= rooms[stock] + kerf + 1e-9
        made.update({i: n * times for i, n in Counter(pieces).items()})
    assert [made[i] for i in range(len(sizes))] == list(counts)


def test_bin_packing_u120_18():
    """OR-Library binpack1, u120_18 (Falkenauer): 49, where best fit of the longest needs 50."""
    numbers = (DATA / "u120_18.txt").read_text(encoding="utf-8").split()[1:]
    room, count, best = (int(n) for n in numbers[:3])
    sizes = Counter(int(n) for n in numbers[3:])
    assert sum(sizes.values()) == count == 120
    found = cut(steps(sizes), list(sizes.values()), steps([room]), 0.0)
    assert (used(found), found.proved) == (best, True) == (49, True)
    check_covers(found, steps(sizes), sizes.values(), steps([room]))


def test_cutting_stock_of_bars():
    """Python-MIP 2.0.0 cutting-stock example: bars of 250; 187 x 1, 119 x 2, 74 x 2, 90 x 1: 3."""
    found = cut(steps([187, 119, 74, 90]), [1, 2, 2, 1], steps([250]), 0.0)
    assert (used(found), found.proved) == (3, True)


KERF = [
    pytest.param(96, 2, 192, 0.125, 2, id="how-to page: a 16 ft plank never gives two true 8 ft"),
    pytest.param(96, 2, 192, 0, 1, id="without a kerf it would"),
    pytest.param(95.9375, 2, 192, 0.125, 1, id="1/16 in shorter each, and it does"),
]


@pytest.mark.parametrize(("length", "count", "stock", "kerf", "lengths"), KERF)
def test_the_saw_takes_its_part(length, count, stock, kerf, lengths):
    found = cut([length * INCH], [count], [stock * INCH], kerf * INCH)
    assert (used(found), found.proved) == (lengths, True)


def other_solver(sizes, counts, rooms, prices):
    """The same question as an assignment of every single piece, for OR-Tools' CP-SAT."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    pieces = [size for size, n in zip(sizes, counts, strict=True) for _ in range(n)]
    bars = range(len(pieces))
    is_stock = {(b, s): model.new_bool_var("") for b in bars for s in range(len(rooms))}
    in_bar = {(p, b): model.new_bool_var("") for p in range(len(pieces)) for b in bars if b <= p}
    for p in range(len(pieces)):
        model.add_exactly_one(in_bar[p, b] for b in bars if b <= p)
    for b in bars:
        model.add(sum(is_stock[b, s] for s in range(len(rooms))) <= 1)
        load = sum(pieces[p] * in_bar[p, b] for p in range(b, len(pieces)))
        model.add(load <= sum(rooms[s] * is_stock[b, s] for s in range(len(rooms))))
    model.minimize(sum(prices[s] * chosen for (_, s), chosen in is_stock.items()))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def instance(seed):
    """Few pieces, in sizes that rarely fit evenly; one to three stock lengths with prices."""
    draw = random.Random(seed)
    rooms = sorted(draw.sample(range(60, 160), draw.randint(1, 3)))
    sizes = draw.sample(range(15, max(rooms) + 1), draw.randint(2, 4))
    counts = [draw.randint(1, 3) for _ in sizes]
    prices = [round(room * draw.uniform(0.7, 1.3)) for room in rooms]
    return sizes, counts, rooms, prices


@pytest.mark.parametrize("block", range(10))
def test_as_cheap_as_another_solver_finds(block):
    """OR-Tools CP-SAT, an independent general solver: 220 random instances, 22 in each block."""
    for seed in range(block * 22, block * 22 + 22):
        sizes, counts, rooms, prices = instance(seed)
        found = cut(steps(sizes), counts, steps(rooms), 0.0, prices)
        assert found.proved, seed
        assert found.cost == other_solver(sizes, counts, rooms, prices), seed
        check_covers(found, steps(sizes), counts, steps(rooms))


def test_without_prices_the_least_length_is_bought():
    """Two of 48 in: 97 in with a 1 in kerf; a 100 in length wastes less than two of 60 in."""
    found = cut([48 * INCH], [2], [60 * INCH, 100 * INCH], 1 * INCH)
    assert found.stock_used == {1: 1}


def test_a_piece_longer_than_every_stock_is_refused():
    with pytest.raises(ValueError, match="longer than every stock"):
        cut([2.0], [1], [1.0], 0.003)
