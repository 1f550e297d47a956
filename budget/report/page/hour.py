"""The value of an own hour: every plan that is best at some value, and where it changes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.decide.plan import FrontierPoint
from budget.report import words
from budget.report.drawing.frontier import Ends, Spot, frontier, ribbon
from budget.report.page.scenarios import letter
from budget.report.page.view import Column, Row, Table, View
from budget.units import round_half_up

if TYPE_CHECKING:
    from markupsafe import Markup

_MOST_STOPS = 120


@dataclass(frozen=True, slots=True)
class Stop:
    """One position of the control: a value, the plan that is best there, and the sum."""

    cents: int
    words: str
    plan: int
    total: str


@dataclass(frozen=True, slots=True)
class Panel:
    """One stored plan, as shown when the control stands on it."""

    mark: str
    title: str
    span: str
    cash: str
    hours: str
    change: str
    differs: Table | None


@dataclass(frozen=True, slots=True)
class HourValue:
    """The section: control, strip, chart, panels and the table behind them."""

    stops: tuple[Stop, ...]
    start: int
    panels: tuple[Panel, ...]
    strip: Markup
    chart: Markup
    table: Table


def hour_value(view: View) -> HourValue | None:
    """The section, or None where no plan was found."""
    points = view.comparison.frontier
    if not points:
        return None
    stops = _stops(view, points)
    start = next(i for i, s in enumerate(stops) if s.cents == round_half_up(view.hour_value))
    marks = [str(i + 1) for i in range(len(points))]
    strip = ribbon(
        "strip",
        "Which plan is chosen at which value of an own hour",
        [s.plan for s in stops],
        marks,
        start,
    )
    return HourValue(
        stops,
        start,
        tuple(_panel(view, i, point) for i, point in enumerate(points)),
        strip,
        _chart(view, points, stops[start].plan),
        _table(view, points),
    )


def _at(points: tuple[FrontierPoint, ...], cents: float) -> int:
    """The plan that is best at a value; at a crossing the one with more own hours."""
    for i, point in enumerate(points):
        if cents <= point.to_value:
            return i
    return len(points) - 1


def _stops(view: View, points: tuple[FrontierPoint, ...]) -> tuple[Stop, ...]:
    """Round values from nothing to well past the user's own, then one for each plan beyond.

    A plan that is best only between two round values gets a stop of its own.
    """
    own = round_half_up(view.hour_value)
    changes = [p.from_value for p in points if p.from_value > 0]
    usual = max(3000.0, 3.0 * view.hour_value)
    most = max([usual / 2, *(1.25 * c for c in changes if c <= usual)])
    step = 100
    while most / step > _MOST_STOPS:
        step *= 5 if str(step)[0] == "1" else 2
    last = math.ceil(most / step) * step
    beyond = {math.ceil(c / step + 1e-9) * step for c in changes if c > last}
    values = {*range(0, last + 1, step), own, *beyond}
    passed = set(range(len(points))) - {_at(points, value) for value in values}
    between = {round_half_up((points[i].from_value + points[i].to_value) / 2) for i in passed}
    return tuple(_stop(view, points, cents) for cents in sorted(values | between))


def _stop(view: View, points: tuple[FrontierPoint, ...], cents: int) -> Stop:
    own = view.hour_value if cents == round_half_up(view.hour_value) else float(cents)
    plan = _at(points, own)
    total = points[plan].priced.total(own)
    return Stop(cents, words.an_hour(cents, view.currency), plan, view.money(total))


def _span(view: View, point: FrontierPoint) -> str:
    if math.isinf(point.to_value):
        if point.from_value <= 0:
            return "at every value of an own hour"
        return f"from {words.an_hour(point.from_value, view.currency)} upward"
    if point.from_value <= 0:
        return f"up to {words.an_hour(point.to_value, view.currency)}"
    low, high = view.money(point.from_value), words.an_hour(point.to_value, view.currency)
    return f"from {low} to {high}"


def _panel(view: View, index: int, point: FrontierPoint) -> Panel:
    return Panel(
        mark=str(index + 1),
        title=f"Plan {index + 1}",
        span=_span(view, point),
        cash=view.money(point.priced.cash),
        hours=words.hours(point.priced.own_hours),
        change=f"Unlike plan {index}: {point.change}" if point.change else "",
        differs=_differs(view, index, point),
    )


def _differs(view: View, index: int, point: FrontierPoint) -> Table | None:
    """The choices of one stored plan that are not those of the best plan."""
    if view.priced is None:
        return None
    best, other = view.priced.plan.choices(), point.priced.plan.choices()
    rows = []
    for name in dict.fromkeys([*best, *other]):
        if best.get(name) == other.get(name):
            continue
        about, here = words.choice(name, other.get(name, "not needed"))
        _, now = words.choice(name, best.get(name, "not needed"))
        rows.append(Row((about, here, now)))
    if not rows:
        return None
    columns = (Column("Choice"), Column(f"Plan {index + 1}"), Column("The plan above"))
    return Table("What is done otherwise than in the plan above", columns, tuple(rows))


def _chart(view: View, points: tuple[FrontierPoint, ...], current: int) -> Markup:
    best = [
        Spot(
            p.priced.own_hours,
            p.priced.cash,
            str(i + 1),
            f"Plan {i + 1}: {view.money(p.priced.cash)}, {words.hours(p.priced.own_hours)}",
            i == current,
        )
        for i, p in enumerate(points)
    ]
    known = {(spot.hours, spot.cash) for spot in best}
    others = [
        Spot(
            s.priced.own_hours,
            s.priced.cash,
            letter(i),
            f"{s.title}: {view.money(s.priced.cash)}, {words.hours(s.priced.own_hours)}",
        )
        for i, s in enumerate(view.feasible())
        if s.priced and not s.discouraged and (s.priced.own_hours, s.priced.cash) not in known
    ]
    cash = [spot.cash for spot in (*best, *others)]
    hours = [spot.hours for spot in (*best, *others)]
    ends = Ends(
        view.round_money(min(cash)),
        view.round_money(max(cash)),
        words.hours(min(hours)),
        words.hours(max(hours)),
    )
    title = (
        "Cash against own hours: the plans of each value joined by a line, the scenarios as letters"
    )
    return frontier("frontier", title, best, others, ends)


def _table(view: View, points: tuple[FrontierPoint, ...]) -> Table:
    columns = (
        Column("Plan"),
        Column("Chosen when your hour is worth"),
        Column("Cash", number=True),
        Column("Own hours", number=True),
        Column("What changes"),
    )
    rows = tuple(
        Row(
            (
                f"Plan\u00a0{i + 1}",
                _span(view, p),
                view.money(p.priced.cash),
                words.hours(p.priced.own_hours),
                p.change,
            )
        )
        for i, p in enumerate(points)
    )
    return Table(
        f"Every plan that is best{view.comparison.so_far} at some value of an own hour",
        columns,
        rows,
    )
