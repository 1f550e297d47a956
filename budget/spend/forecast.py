"""The forecast of every line on one day: what it will come to, in money and own hours, and why."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from budget.decide.pricing.work import HIRED_HELP
from budget.job import Progress, Spend
from budget.spend.finding import folded
from budget.spend.progressing import Done, done_on
from budget.spend.reasons import why_hours, why_money
from budget.spend.rules import rest, settled_quantity, will_come_to
from budget.spend.tallying import Running
from budget.spend.tracking import Tally, Tracked, Why, WhyHours
from budget.spend.yardstick import PlanLine, Yardstick
from budget.units import PACK_TOLERANCE

UNPLANNED = "Not in the plan"

#: From this share done on, the pace met so far is taken to hold for the rest.
TELLING = 0.2

#: The sums of each line's entries, by folded name, in the order in which names were met.
Book = dict[str, Running]


def counted(stick: Yardstick, entry: Spend) -> bool:
    """Whether an entry adds to its line: a change that a later accepted plan holds does not."""
    latest = stick.latest
    if entry.state != "change agreed" or latest is None or latest.number < 2:
        return True
    return entry.date > latest.accepted


def book(stick: Yardstick, entries: Iterable[Spend]) -> Book:
    """The entries, in the order of time, added up by line."""
    found: Book = {}
    for entry in entries:
        add(found, stick, entry)
    return found


def add(found: Book, stick: Yardstick, entry: Spend) -> None:
    """Add one more entry."""
    if counted(stick, entry):
        key = folded(entry.line)
        if key not in found:
            found[key] = Running()
        found[key].add(entry)


class Forecast:
    """Forecasts of one yardstick for any day."""

    def __init__(self, stick: Yardstick, progress: Sequence[Progress]) -> None:
        """Keep what does not change from day to day."""
        self._stick = stick
        self._progress = progress

    def done(self, day: dt.date) -> Done:
        """How far the work is on a day."""
        return done_on(self._progress, self._stick.amounts, day)

    def lines(self, running: Mapping[str, Running], day: dt.date) -> tuple[Tracked, ...]:
        """The plan's lines in its order, then what it has not, by name."""
        done = self.done(day)
        plan = self._stick.lines
        found = [
            self._planned(line, running[key].tally() if key in running else Tally(), done)
            for key, line in plan.items()
        ]
        strays = sorted(set(running) - set(plan))
        found += [_stray(running[key]) for key in strays if _counts(running[key])]
        return tuple(found)

    def _planned(self, line: PlanLine, tally: Tally, done: Done) -> Tracked:
        growth = self._growth(line)
        share = share_of(line, done)
        tally = replace(tally, work_done=nothing_more(line, tally, share))
        need = line.now.packs
        again = done.need(line.name)
        counted_need = self._stick.needs.get(folded(line.name))
        if again is not None and need is not None and counted_need:
            more = (again / counted_need - 1) / line.share  # the rest meets all of it
            need = whole(max(0.0, need * (1 + more)), line.pack)
        base = line.now.cash if line.now.there else 0
        will = will_come_to(base, tally, line.now.packs, need, line.pack)
        left = rest(need, tally, line.pack)
        final = None if need is None or left is None else _final(need, tally, left)
        changes = line.agreed + tally.changes
        hours, why = self._hours(line, tally, done, growth)
        return Tracked(
            line=line.name, group=line.group, planned=line.first.cash, changes=changes,
            ordered=tally.ordered - tally.returned, paid=tally.paid_net,
            to_come=will - tally.paid_net, will_come_to=will,
            left=line.first.cash + changes - will,
            refund_due=tally.refund_due,
            planned_hours=line.first.hours, spent_hours=tally.own_hours, in_plan=True,
            unforeseen=line.unforeseen + tally.unforeseen, will_hours=hours,
            why=why_money(line, will, changes, final, growth), why_hours=why,
            done=share, need=need, planned_need=line.first.packs,
            per=line.per, to_buy=left,
            supplier=line.supplier, tally=tally,
        )  # fmt: skip

    def _growth(self, line: PlanLine) -> float:
        """How much the work of a line has grown with the job."""
        names = [folded(step) for step in line.steps]
        grown = [self._stick.growth.get(name, 1.0) for name in names]
        return sum(grown) / len(grown) if grown else 1.0

    def _hours(
        self, line: PlanLine, tally: Tally, done: Done, growth: float
    ) -> tuple[float, WhyHours]:
        planned, spent = line.now.hours, tally.own_hours
        measured = 1.0
        key = folded(line.name)
        amount = sum(self._stick.amounts.get(key, {}).values())
        again = done.need(line.name)
        if again is not None and amount:
            measured = again / amount
        will = hours_in_the_end(planned * measured, spent, done.share(line.name))
        return will, why_hours(line, will, growth, measured)


def whole(packs: float, pack: float) -> float:
    """So many packs, rounded up to what is sold.

    >>> whole(8.3, 1), whole(8.3, 0.5), whole(8.3, 0)
    (9.0, 8.5, 8.3)
    """
    return math.ceil(packs / pack - PACK_TOLERANCE) * float(pack) if pack > 0 else packs


def hours_in_the_end(planned: float, spent: float, done: float | None) -> float:
    """Own hours that a step will take.

    From :data:`TELLING` on, the pace so far is taken to hold; before that, and where nobody has
    said how far it is, the plan is.

    >>> hours_in_the_end(10, 6, 0.5), hours_in_the_end(10, 4, 0.1), hours_in_the_end(10, 4, None)
    (12.0, 13.0, 10)
    >>> hours_in_the_end(10, 8.5, 1.0)
    8.5
    """
    if done is None or (done > 0 and not spent):
        return max(planned, spent)
    if done >= TELLING:
        return spent / done
    return spent + (1.0 - done) * planned


def nothing_more(line: PlanLine, tally: Tally, done: float | None) -> bool:
    """Whether nothing more is bought for a line: some was, and its work is done.

    Not for a firm, whose bill may come after the work.
    """
    bought = bool(tally.orders or tally.paid)
    return bought and line.group != HIRED_HELP and done is not None and done >= 1.0


def share_of(line: PlanLine, done: Done) -> float | None:
    """The share of a line's work that is done, over its steps; None if nobody has said."""
    shares = [done.share(step) for step in line.steps or (line.name,)]
    if all(share is None for share in shares):
        return None
    return sum(share or 0.0 for share in shares) / len(shares)


def _final(need: float, tally: Tally, left: float) -> float:
    unsaid = tally.orders and tally.ordered_quantity is None
    if unsaid or not (left or settled_quantity(tally)):
        return need
    return settled_quantity(tally) + left


def _counts(running: Running) -> bool:
    last = running.last
    return bool(
        running.orders or running.paid or running.hours or running.changes or running.refunded
        or running.returned or (last and not last.state.startswith("deposit"))
    )  # fmt: skip


def _stray(running: Running) -> Tracked:
    done = running.tally()
    will = max(done.owing, done.paid_net)
    name = running.last.line if running.last else ""
    return Tracked(
        line=name, group=UNPLANNED, planned=0, changes=done.changes,
        ordered=done.ordered - done.returned, paid=done.paid_net, to_come=will - done.paid_net,
        will_come_to=will, left=done.changes - will,
        refund_due=done.refund_due, planned_hours=0.0,
        spent_hours=done.own_hours, in_plan=False, unforeseen=done.unforeseen,
        will_hours=done.own_hours, why=Why(scope=will), why_hours=WhyHours(scope=done.own_hours),
        tally=done,
    )  # fmt: skip
