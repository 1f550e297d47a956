"""Scenarios side by side, and the beddings against each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from string import ascii_uppercase
from typing import TYPE_CHECKING

from budget.decide.plan import Priced, Scenario
from budget.report import words
from budget.report.drawing.bars import Bar, Segment, stacked
from budget.report.page.view import Column, Row, Table, View, group_order

if TYPE_CHECKING:
    from markupsafe import Markup


@dataclass(frozen=True, slots=True)
class Scenarios:
    """The section: chart, its key, the table behind it, and what cannot be built."""

    chart: Markup | None
    key: tuple[tuple[int, str], ...]  # fill number from 0, group
    table: Table
    groups: Table
    refused: tuple[tuple[str, str], ...]  # scenario, reason
    finding: str


def letter(index: int) -> str:
    """The letter that stands for a scenario in charts and tables.

    >>> letter(0), letter(27)
    ('A', 'B2')
    """
    again, at = divmod(index, len(ascii_uppercase))
    return ascii_uppercase[at] + (str(again + 1) if again else "")


def scenarios(view: View) -> Scenarios:
    """All scenarios of a comparison."""
    built = view.feasible()
    groups = _costing([s.priced for s in built if s.priced])
    return Scenarios(
        chart=_chart(view, built, groups) if built else None,
        key=tuple(enumerate(groups)),
        table=_table(view, built),
        groups=_groups(view, built, groups),
        refused=tuple((s.title, s.why_not) for s in view.comparison.scenarios if s.priced is None),
        finding=_finding(view, built),
    )


def _costing(plans: Sequence[Priced]) -> list[str]:
    """The groups that cost cash in some plan."""
    cost = {line.group for plan in plans for line in plan.lines if line.cash}
    return [group for group in group_order(plans) if group in cost]


def _finding(view: View, built: Sequence[Scenario]) -> str:
    """Which scenarios take least, where they lack the same prices and so can be ranked at all."""
    found = [(s.title, s.priced) for s in built if s.priced]
    if not found:
        return "None of the scenarios can be built from what is filled in so far."
    gaps = {frozenset(m.what for m in priced.missing) for _, priced in found}
    if len(gaps) > 1:
        return "The scenarios lack different prices: which one costs least cannot be told yet."
    so_far = "Of what is priced so far: " if any(gaps) else ""
    return f"{so_far}{_least(view, found)}"


def _least(view: View, found: Sequence[tuple[str, Priced]]) -> str:
    """The scenarios of least cash and of fewest own hours."""
    cheapest, cash = min(found, key=lambda s: (s[1].cash, s[0]))
    fewest, hours = min(found, key=lambda s: (s[1].own_hours, s[0]))
    money, time = view.money(cash.cash), words.hours(hours.own_hours)
    if len({(p.cash, round(p.own_hours, 6)) for _, p in found}) == 1 < len(found):
        return f"All come to the same, {money} and {time} of own work."
    return f"Least cash: {cheapest}, {money}. Fewest own hours: {fewest}, {time}."


def _cash_by_group(priced: Priced, groups: Sequence[str]) -> list[int]:
    return [sum(line.cash for line in priced.lines if line.group == g) for g in groups]


def _chart(view: View, built: Sequence[Scenario], groups: Sequence[str]) -> Markup:
    bars, best = [], f", best{view.comparison.so_far}"
    for i, scenario in enumerate(built):
        assert scenario.priced is not None
        cash = _cash_by_group(scenario.priced, groups)
        segments = tuple(
            Segment(number, amount, f"{groups[number - 1]}: {view.money(amount)}")
            for number, amount in enumerate(cash, 1)
            if amount > 0
        )
        name = f"{letter(i)}  {scenario.title}" + (best if _is_best(view, scenario) else "")
        bars.append(
            Bar(
                name,
                segments,
                view.round_money(scenario.priced.cash) + _lacking(scenario.priced),
                scenario.priced.own_hours,
                words.hours(scenario.priced.own_hours),
                _is_best(view, scenario),
            )
        )
    return stacked("scenarios", "Cash by group, and own hours, of every scenario", bars)


def _lacking(priced: Priced) -> str:
    return f", {len(priced.missing)} unpriced" if priced.missing else ""


def _is_best(view: View, scenario: Scenario) -> bool:
    return scenario is view.comparison.best


def _table(view: View, built: Sequence[Scenario]) -> Table:
    value = view.money(view.hour_value)
    lacking = any(s.priced.missing for s in built if s.priced)
    columns = (
        Column("Scenario"),
        Column("Cash", number=True),
        Column("Own hours", number=True),
        Column("Together", number=True),
        *((Column("Not yet priced", number=True),) if lacking else ()),
    )
    rows = []
    for i, scenario in enumerate(built):
        priced = scenario.priced
        assert priced is not None
        note = "Published notes discourage this bedding; never chosen unless you allow it."
        rows.append(
            Row(
                (
                    f"{letter(i)}  {scenario.title}",
                    view.money(priced.cash),
                    words.hours(priced.own_hours),
                    view.money(priced.total(view.hour_value)),
                    *((words.count(len(priced.missing), "line"),) if lacking else ()),
                ),
                note=note if scenario.discouraged else "",
                marked=view.best_plan if _is_best(view, scenario) else "",
            )
        )
    return Table(
        f"Every scenario: cash with tax, own hours, and both together at {value} an hour",
        columns,
        tuple(rows),
    )


def _groups(view: View, built: Sequence[Scenario], groups: Sequence[str]) -> Table:
    columns = (
        Column("Group"),
        *(Column(letter(i), number=True) for i in range(len(built))),
    )
    sums = [_cash_by_group(s.priced, groups) for s in built if s.priced]
    rows = tuple(
        Row((f"{n}  {group}", *(view.money(plan[n - 1]) for plan in sums)))
        for n, group in enumerate(groups, 1)
    )
    foot = Row(("All", *(view.money(s.priced.cash) for s in built if s.priced)))
    return Table("Cash by group, with tax; letters are the scenarios above", columns, rows, (foot,))


def beddings(view: View) -> Table | None:
    """The best plan under each bedding, side by side; None where there is one bedding only."""
    names = [b for b in view.comparison.takeoff.beddings if _best_under(view, b.name)]
    if len(names) < 2:
        return None
    best = [plan for b in names if (plan := _best_under(view, b.name)) and plan.priced]
    plans = [s.priced for s in best if s.priced]
    value = view.money(view.hour_value)
    rows = [
        Row(("Thickness laid", *(view.figure(b.depth) for b in names))),
        Row(("Joint filler", *(b.filler for b in names))),
        *([Row(("Scenario", *(s.name for s in best)))] if len({s.name for s in best}) > 1 else []),
        Row(("Cash", *(view.money(p.cash) for p in plans))),
        Row(("Own hours", *(words.hours(p.own_hours) for p in plans))),
        Row(
            (
                f"Together, own hours at {value}",
                *(view.money(p.total(view.hour_value)) for p in plans),
            )
        ),
        *_differing(view, plans),
    ]
    columns = (Column("Bedding"), *(Column(b.name.capitalize(), number=True) for b in names))
    return Table(f"The {view.best_plan} under each bedding", columns, tuple(rows))


def bedding_notes(view: View) -> tuple[tuple[str, str, str], ...]:
    """What published notes say of each bedding: its name, the note, and its source."""
    return tuple(
        (b.name.capitalize(), b.note, b.source) for b in view.comparison.takeoff.beddings if b.note
    )


def _best_under(view: View, bedding: str) -> Scenario | None:
    """The scenario of least cash and hours under one bedding, fewest gaps first."""
    found = [s for s in view.feasible() if s.bedding == bedding]
    if not found:
        return None
    return min(
        found,
        key=lambda s: (
            len(s.priced.missing) if s.priced else 0,
            s.priced.total(view.hour_value) if s.priced else 0.0,
            s is not view.comparison.best,
            s.name,
        ),
    )


def _differing(view: View, plans: Sequence[Priced]) -> list[Row]:
    """Rows for the groups whose cash or hours are not the same under every bedding."""
    rows = []
    for group in group_order(plans):
        cash = [sum(line.cash for line in p.lines if line.group == group) for p in plans]
        hours = [sum(line.own_hours for line in p.lines if line.group == group) for p in plans]
        if len(set(cash)) > 1:
            rows.append(Row((f"{group}, cash", *(view.money(c) for c in cash))))
        if len({round(h, 6) for h in hours}) > 1:
            rows.append(Row((f"{group}, own hours", *(words.hours(h) for h in hours))))
    return rows
