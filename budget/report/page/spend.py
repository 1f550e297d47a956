"""The page's spending section beyond the sums: charts by week, reasons, and what comes next."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.numerals import day_of_year, short_date
from budget.report import words
from budget.report.drawing import svg
from budget.report.drawing import weeks as svg_weeks
from budget.report.page.view import Column, Row, Table, View
from budget.report.spend_evening import DO
from budget.report.spend_words import VERBS
from budget.spend import track
from budget.spend.standing import Standing
from budget.spend.tracking import Tracking, Week
from budget.wording import listed

if TYPE_CHECKING:
    from markupsafe import Markup

#: Fills of the columns of cash: plain, and striped.
_OUT, _IN = 0, 5


@dataclass(frozen=True, slots=True)
class Picture:
    """One chart with its key and what it shows in words."""

    heading: str
    chart: Markup
    key: tuple[tuple[Markup, str], ...]
    caption: str


@dataclass(frozen=True, slots=True)
class Story:
    """What happened week by week: charts, and the numbers behind them."""

    pictures: tuple[Picture, ...]
    table: Table


def tracked(view: View, found: Standing | None) -> Tracking | None:
    """Entries against the plan; nothing where there are none, or no plan to set them against."""
    if view.priced is None or not view.comparison.job.spend:
        return None
    return found.tracking if found else track(view.comparison)


def in_short(view: View, tracking: Tracking) -> str:
    """What the job will come to, and what that leaves, in a few words."""
    against = "the plan" if tracking.limit is None else "your limit"
    side = "under" if tracking.left >= 0 else "OVER"
    left = f"{view.round_money(abs(tracking.left))} {side} {against}"
    return f"comes to {view.round_money(tracking.will_come_to)}; {left}"


def next_step(view: View, found: Standing | None) -> str:
    """The first thing to do from here, with its day; nothing without entries."""
    coming = found.coming if found else ()
    if not coming:
        return ""
    first = coming[0]
    day = f" {short_date(first.day)}:" if first.day else ""
    money = f", {view.money(first.cents)}" if first.cents else ""
    what = ", ".join(text for text in (first.line, first.who) if text)
    verb = DO[first.kind]
    return f"Next:{day} {verb[:1].lower()}{verb[1:]} {what}{money}."


def story(view: View, found: Standing | None) -> Story | None:
    """The weeks, drawn from the second one on; nothing without entries."""
    if found is None or not found.tracking.weeks:
        return None
    tracking = found.tracking
    pictures: list[Picture] = []
    if len(tracking.weeks) > 1:
        pictures = [_forecast(view, tracking), *_room(tracking), _cash(view, tracking.weeks)]
    return Story(tuple(pictures), _weeks(view, tracking.weeks))


def more(view: View, found: Standing | None) -> tuple[Table, ...]:
    """The reasons line by line, and what comes next; nothing without entries."""
    if found is None:
        return ()
    tables = (_reasons(view, found), _coming(view, found))
    return tuple(table for table in tables if table.rows)


def _said(weeks: Sequence[Week], say: Callable[[Week], str]) -> tuple[str, ...]:
    return tuple(f"Week to {words.date(week.end)}: {say(week)}" for week in weeks)


def _forecast(view: View, tracking: Tracking) -> Picture:
    """What the job would come to as known each week, what was paid, and the line to stay under."""
    weeks, last = tracking.weeks, tracking.weeks[-1]
    line = tracking.planned + tracking.changes if tracking.limit is None else tracking.limit
    named = "the plan" if tracking.limit is None else "spending limit"
    traces = (
        svg_weeks.Trace("Will come to", [w.will_come_to for w in weeks],
                        _said(weeks, lambda w: f"will come to {view.money(w.will_come_to)}")),
        svg_weeks.Trace("Paid", [w.paid for w in weeks],
                        _said(weeks, lambda w: f"{view.money(w.paid)} paid so far")),
        svg_weeks.Trace(named.capitalize(), [line] * len(weeks),
                        [f"{named} {view.money(line)}"] * len(weeks)),
    )  # fmt: skip
    ends = (
        f"will come to {view.round_money(last.will_come_to)}",
        f"paid {view.round_money(last.paid)}",
        f"{named} {view.round_money(line)}",
    )
    title = f"What the job will come to, week by week: {listed(ends)} in the end"
    dates = [day_of_year(week.end) for week in weeks]
    chart = svg_weeks.lines("weeks-forecast", title, dates, traces, view.round_money)
    key = tuple((svg_weeks.sample(n), text) for n, text in enumerate(ends))
    caption = "Each point is the forecast as it stood at the end of that week, at today's quotes."
    return Picture("What it will come to", chart, key, caption)


def _room(tracking: Tracking) -> list[Picture]:
    """The room above the first plan that is left, against the work that is left."""
    room = tracking.contingency
    if room is None or room <= 0:
        return []
    weeks = tracking.weeks
    left = [(w.contingency_left or 0) / room for w in weeks]
    work = [1.0 - (w.work_done or 0.0) for w in weeks]

    def percent(value: float) -> str:
        return words.percent(round(value, 2))

    traces = (
        svg_weeks.Trace("Room left", left, _told(weeks, left, "of the room above the plan left")),
        svg_weeks.Trace("Work left", work, _told(weeks, work, "of the own work left")),
    )
    ends = (f"room left {percent(left[-1])}", f"work left {percent(work[-1])}")
    title = f"Room above the plan against work, by week: {listed(ends)} in the end"
    dates = [day_of_year(week.end) for week in weeks]
    chart = svg_weeks.lines("weeks-room", title, dates, traces, percent)
    key = tuple((svg_weeks.sample(n), text) for n, text in enumerate(ends))
    caption = (
        "The room is what the spending limit leaves above the first plan. While its line runs "
        "below that of the work, money goes faster than the work."
    )
    return [Picture("Room left, and work left", chart, key, caption)]


def _told(weeks: Sequence[Week], values: Sequence[float], what: str) -> tuple[str, ...]:
    shares = dict(zip((w.end for w in weeks), values, strict=True))
    return _said(weeks, lambda w: f"{words.percent(round(shares[w.end], 2))} {what}")


def _cash(view: View, weeks: Sequence[Week]) -> Picture:
    """Cash out upwards and cash in downwards, deposits included."""
    out, back = sum(w.cash_out for w in weeks), sum(w.cash_in for w in weeks)
    kinds = (
        svg_weeks.Bars("Out", [w.cash_out for w in weeks],
                       _said(weeks, lambda w: f"{view.money(w.cash_out)} out"), _OUT),
        svg_weeks.Bars("In", [-w.cash_in for w in weeks],
                       _said(weeks, lambda w: f"{view.money(w.cash_in)} in"), _IN),
    )  # fmt: skip
    ends = (f"out {view.round_money(out)} in all", f"in {view.round_money(back)} in all")
    title = f"Cash out and in, week by week: {listed(ends)}"
    dates = [day_of_year(week.end) for week in weeks]
    chart = svg_weeks.columns("weeks-cash", title, dates, kinds, lambda v: view.round_money(abs(v)))
    key = tuple(zip((svg.swatch(_OUT), svg.swatch(_IN)), ends, strict=True))
    caption = "Above the line money paid, below it money that came back; deposits are in both."
    return Picture("Cash out and in", chart, key, caption)


def _reasons(view: View, found: Standing) -> Table:
    titles = ("Above the plan", "Price", "Quantity", "Scope", "Pace")
    columns = (Column("Line"), *(Column(title, number=True) for title in titles))
    rows = tuple(
        Row((t.line, *(view.money(c) for c in (t.over, t.why.price, t.why.quantity, t.why.scope,
                                               t.why.pace))))
        for t in found.tracking.lines
        if t.over
    )  # fmt: skip
    return Table("Why it comes to more or less than planned", columns, rows)


def _weeks(view: View, weeks: Sequence[Week]) -> Table:
    titles = ("Cash out", "Cash in", "Paid so far", "Comes to", "Room left", "Work done",
              "Own hours")  # fmt: skip
    columns = (Column("Week to"), *(Column(title, number=True) for title in titles))
    rows = tuple(
        Row(
            (
                short_date(week.end),
                view.money(week.cash_out),
                view.money(week.cash_in),
                view.money(week.paid),
                view.money(week.will_come_to),
                "–" if week.contingency_left is None else view.money(week.contingency_left),
                "–" if week.work_done is None else words.percent(round(week.work_done, 2)),
                words.hours(week.own_hours),
            )
        )
        for week in weeks
    )
    return Table("Week by week", columns, rows)


def _coming(view: View, found: Standing) -> Table:
    columns = (Column("What to do"), Column("Day"), Column("Line"), Column("Who"),
               Column("Money", number=True), Column("More"))  # fmt: skip
    rows = tuple(
        Row((VERBS[c.kind], short_date(c.day) if c.day else "", c.line, c.who,
             view.money(c.cents) if c.cents else "", c.note))
        for c in found.coming
    )  # fmt: skip
    return Table("What comes next", columns, rows)
