"""What is to be paid in which week."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from budget.decide.calendar.network import Booked, day_of, finish_of
from budget.decide.calendar.result import Had, OrderBy, Week
from budget.decide.calendar.site import Site
from budget.decide.plan import Line, Priced
from budget.decide.situation import SPOIL

#: Said beside the table.
RULE = (
    "Goods are taken to be paid when they come, rent when the machine goes back, firms when they "
    "are done, helpers at the end of the work, everything else when the work starts. "
    "Deposits are not in it."
)


def weeks(
    site: Site, priced: Priced, booked: Mapping[str, Booked],
    orders: Sequence[OrderBy], machines: Sequence[Had],
) -> tuple[Week, ...]:  # fmt: skip
    """Every line of a plan in the week in which it is paid; they add up to the plan's cash.

    Weeks begin on Monday; without dates on the first, the eighth day and so on.
    """
    comes = {o.who: o.arrives for o in orders if not o.hired}
    back = {m.equipment: m.spells[-1][1] if m.way == "rent" else m.spells[0][0] for m in machines}
    done: dict[str, int] = defaultdict(int)
    for b in booked.values():
        for name in (b.task.who, b.task.step):
            done[name] = max(done[name], day_of(b.finish, end=True))
    end = day_of(finish_of(booked), end=True)
    shift = site.start.weekday() if site.start else 0
    found: dict[int, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    for line in priced.lines:
        if line.cash:
            day = _paid(line, comes, back, done, end)
            found[(day + shift) // 7 * 7 - shift][line.name] += line.cash
    return tuple(
        Week(first, sum(lines.values()), tuple(lines.items()))
        for first, lines in sorted(found.items())
    )


def _paid(
    line: Line, comes: Mapping[str, int], back: Mapping[str, int], done: Mapping[str, int], end: int
) -> int:
    kind, _, subject = line.choice.partition(":")
    if line.choice == "disposal":
        return done.get(SPOIL, 0)
    if kind == "machine":
        return back.get(subject, 0)
    if kind == "step":
        return done.get(line.name, 0)
    if line.group == "Helpers":
        return end
    return comes.get(line.supplier or subject, 0)  # a hire that sellers share has no supplier
