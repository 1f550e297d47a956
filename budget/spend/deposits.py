"""Deposits by line: what the plan asks for, what is paid, and what has come back."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from budget.job import Spend
from budget.spend.finding import folded
from budget.spend.tallying import amount
from budget.spend.tracking import Deposit
from budget.spend.yardstick import Yardstick


def deposits(stick: Yardstick, entries: Iterable[Spend]) -> tuple[Deposit, ...]:
    """Every deposit that is planned or was paid, by line and seller.

    A deposit paid to another seller than the plan's is the plan's all the same: the machine
    comes from there.
    """
    planned = _planned(stick)
    paid: defaultdict[tuple[str, str], list[int]] = defaultdict(lambda: [0, 0])
    said: dict[tuple[str, str], tuple[str, str]] = {}
    for entry in entries:
        if entry.state not in ("deposit paid", "deposit back"):
            continue
        line = planned.get(folded(entry.line))
        supplier = entry.supplier or (line[1] if line else "")
        key = (folded(entry.line), folded(supplier))
        said.setdefault(key, (line[0] if line else entry.line, supplier))
        paid[key][entry.state == "deposit back"] += amount(entry)
    found = []
    for key, (out, back) in paid.items():
        cents = planned.pop(key[0])[2] if key[0] in planned else 0
        found.append(Deposit(*said[key], cents, out, back))
    found += [Deposit(name, supplier, cents) for name, supplier, cents in planned.values()]
    return tuple(sorted(found, key=lambda d: (d.line, d.supplier)))


def _planned(stick: Yardstick) -> dict[str, tuple[str, str, int]]:
    """Line, seller and cents of the deposits that the plan asks for, by folded line."""
    if stick.now is None:
        return {}
    asked = [(hire.equipment, hire.deposit) for hire in stick.now.hires]
    asked += [(order.line, order.deposit) for order in stick.now.orders]
    found: dict[str, tuple[str, str, int]] = {}
    for name, cents in asked:
        line = stick.lines.get(folded(name))
        if cents and line is not None:
            before = found.get(folded(name), ("", "", 0))[2]
            found[folded(name)] = (line.name, line.supplier, before + cents)
    return found
