"""The section of the page about the calendar: bars over days, orders, hires and cash by week."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.decide.calendar.cash import RULE
from budget.decide.calendar.result import Calendar, Had
from budget.numerals import how_many
from budget.report import calendar as said
from budget.report.drawing import calendar as svg_calendar
from budget.report.drawing import svg
from budget.report.drawing import weeks as svg_weeks
from budget.report.page.view import Column, Row, Table, View

if TYPE_CHECKING:
    from markupsafe import Markup

_OWN, _CREW, _MACHINE = 0, 5, 10  # fills: plain, stripes, dots
_LINE = 44  # characters of a bar's words that a phone shows on one line


@dataclass(frozen=True, slots=True)
class When:
    """The section: a finding, two charts with their keys, and tables."""

    finding: str
    chain: str
    bars: Markup
    key: tuple[tuple[Markup, str], ...]
    tasks: Table
    orders: Table
    machines: Table
    cash: Markup | None  # None where nothing is paid
    weeks: Table
    rule: str
    remarks: tuple[str, ...]


def calendar(view: View) -> When | None:
    """The section, where there is a plan."""
    found = view.comparison.calendar
    if found is None or not found.entries:
        return None
    currency = view.currency
    hires = [said.hire_row(found, m, currency) for m in found.machines]
    weeks = [said.week_row(found, w, currency) for w in found.weeks]
    return When(
        finding=f"The work ends {said.ends(found)}.",
        chain=f"What sets the finish: {', then '.join(said.chain(found))}.",
        bars=_bars(found),
        key=_key(found),
        tasks=_table("Every task", said.TASKS, [said.task_row(found, e) for e in found.entries],
                     (4, 5)),
        orders=_table("What to order by when", said.ORDERS,
                      [said.order_row(found, o) for o in found.orders], ()),
        machines=_table("Machines on the calendar, and as the plan priced them", said.HIRES, hires,
                        (3, 4, 5, 6)),
        cash=_cash(view, found) if found.weeks else None,
        weeks=_table("Cash by week", said.WEEKS, weeks, (1,)),
        rule=RULE,
        remarks=tuple(said.remarks(found, currency)),
    )  # fmt: skip


def _table(
    caption: str, titles: Sequence[str], rows: Iterable[tuple[str, ...]], numbers: Sequence[int]
) -> Table:
    """A table; a last column in which nothing stands is left out."""
    found = [tuple(row) for row in rows]
    wide = len(titles) if any(row[-1] for row in found) else len(titles) - 1
    columns = tuple(Column(title, number=i in numbers) for i, title in enumerate(titles[:wide]))
    return Table(caption, columns, tuple(Row(row[:wide]) for row in found))


def _between(found: Calendar, first: int, last: int) -> str:
    start = said.day(found, first)
    return start if first == last else f"{start} to {said.day(found, last)}"


def _had(found: Calendar, machine: Had) -> str:
    """When a machine is had, the spells if they fit a line, else how many."""
    text = f"{machine.equipment}, had: {said.spells(found, machine)}"
    if len(text) <= _LINE or len(machine.spells) == 1:
        return text
    days = sum(last - first + 1 for first, last in machine.spells)
    return f"{machine.equipment}: {how_many(days, 'day')} in {len(machine.spells)} spells"


def _bars(found: Calendar) -> Markup:
    """Tasks as they start, tasks that take no time left out; then the machines."""
    rows = [
        svg_calendar.Bar(
            e.name, ((e.first, e.last),), _OWN if e.own else _CREW,
            f"{e.name}: {_between(found, e.first, e.last)}", e.binding,
        )
        for e in found.entries
        if e.hours >= 0.05
    ]  # fmt: skip
    rows += [
        svg_calendar.Bar(m.equipment, m.spells, _MACHINE, _had(found, m)) for m in found.machines
    ]
    shift = found.start.weekday() if found.start else 0
    last = max((b for row in rows for _, b in row.spans), default=0)
    weeks = [d for d in range(last + 1) if d == 0 or (d + shift) % 7 == 0]
    marks = [(d, said.day(found, d)) for d in weeks]
    title = f"Who works when; the work ends {said.ends(found)}"
    return svg_calendar.bars("calendar-bars", title, rows, marks)


def _key(found: Calendar) -> tuple[tuple[Markup, str], ...]:
    kinds = [(_OWN, "own hands")]
    if any(not e.own for e in found.entries):
        kinds.append((_CREW, "hired"))
    if found.machines:
        kinds.append((_MACHINE, "machine had"))
    return tuple((svg.swatch(number), words) for number, words in kinds)


def _cash(view: View, found: Calendar) -> Markup:
    weeks = found.weeks
    told = [f"Week from {said.day(found, w.first)}: {view.money(w.cash)}" for w in weeks]
    kinds = (svg_weeks.Bars("To pay", [w.cash for w in weeks], told, _OWN),)
    title = f"Cash by week: {view.round_money(sum(w.cash for w in weeks))} in all"
    dates = [said.day(found, w.first) for w in weeks]
    return svg_weeks.columns("calendar-cash", title, dates, kinds, view.round_money)
