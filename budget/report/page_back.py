"""The back of the page: assumptions, sources, warnings, words of the trade, and spending."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from importlib import resources

from budget.figures import Figure
from budget.report import page_how, words
from budget.report.page_view import Column, Row, Table, View
from budget.spend import track


def assumptions(view: View) -> Table | None:
    """Every documented default that the sums use."""
    if not view.comparison.assumed:
        return None
    columns = (
        Column("What"),
        Column("Value", number=True),
        Column("Source"),
        Column("To change it"),
    )
    rows = tuple(
        Row((a.what, a.value, a.source, f"sheet {a.sheet}" if a.sheet else ""))
        for a in view.comparison.assumed
    )
    return Table("Assumed because the workbook leaves it blank", columns, rows)


def sources(view: View) -> list[str]:
    """Every outside source of a number on this page, once each."""
    found = page_how.sources(_figures(view))
    found |= {a.source for a in view.comparison.assumed if a.source}
    found |= {b.source for b in view.comparison.takeoff.beddings if b.source}
    found |= {source for _, _, source in view.comparison.takeoff.cautions if source}
    return sorted(found)


def _figures(view: View) -> Iterator[Figure]:
    for need in view.comparison.takeoff.needs:
        yield need.order
    if view.priced:
        for line in view.priced.lines:
            yield from (figure for figure in (line.money, line.time) if figure)


def warnings(view: View) -> Table | None:
    """What the reader of the workbook should look at again."""
    if not view.comparison.warnings:
        return None
    columns = (Column("Where"), Column("What"), Column("Code"))
    rows = tuple(
        Row((w.cell or w.sheet or "the job", w.message, w.code)) for w in view.comparison.warnings
    )
    return Table("Worth a second look", columns, rows)


def spending(view: View) -> Table | None:
    """Entries against the best plan, where there are any."""
    if view.priced is None or not view.comparison.job.spend:
        return None
    tracking = track(view.comparison)
    columns = (
        Column("Line"),
        Column("Planned", number=True),
        Column("Ordered", number=True),
        Column("Paid", number=True),
        Column("Still to come", number=True),
        Column("Will come to", number=True),
    )
    rows = tuple(
        Row(
            (
                t.line if t.in_plan else f"{t.line} (not in the plan)",
                *(
                    view.money(cents)
                    for cents in (t.planned, t.ordered, t.paid, t.to_come, t.will_come_to)
                ),
            )
        )
        for t in tracking.lines
    )
    foot = [
        Row(
            (
                "All",
                *(
                    view.money(cents)
                    for cents in (
                        tracking.planned,
                        tracking.ordered,
                        tracking.paid,
                        tracking.to_come,
                        tracking.will_come_to,
                    )
                ),
            )
        )
    ]
    left = "Left of the spending limit" if tracking.limit is not None else "Left of the plan"
    foot.append(Row((left, "", "", "", "", view.money(tracking.left))))
    hours = (
        f"{words.hours(tracking.spent_hours)} of own work done, "
        f"{words.hours(tracking.hours_to_come)} to come"
    )
    return Table(f"Spending against the best plan; {hours}", columns, rows, tuple(foot))


def glossary() -> list[tuple[str, str]]:
    """Words of the trade in plain words, in alphabetical order."""
    path = resources.files("budget.report") / "templates" / "glossary.csv"
    found = csv.DictReader(path.read_text(encoding="utf-8").splitlines())
    return sorted((row["word"], row["meaning"]) for row in found)
