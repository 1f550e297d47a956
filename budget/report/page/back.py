"""The back of the page: assumptions, sources, warnings, words of the trade, and spending."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import resources

from budget.figures import Figure
from budget.numerals import date
from budget.report import words
from budget.report.page import how, spend
from budget.report.page.view import Column, Row, Table, View
from budget.spend import Tracked, Tracking
from budget.spend.standing import Standing

#: How a source that is a trade habit, and nothing to read, is marked.
HABIT = "common practice"


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


@dataclass(frozen=True, slots=True)
class Sources:
    """What numbers and cautions rest on: outside sources, and habits with their reasons."""

    read: tuple[str, ...]
    habits: tuple[str, ...]


def sources(view: View) -> Sources:
    """Every source of a number or caution on this page, once each, apart from bare habits."""
    found = how.sources(_figures(view))
    found |= {a.source for a in view.comparison.assumed if a.source}
    found |= {b.source for b in view.comparison.takeoff.beddings if b.source}
    found |= {source for _, _, source in view.comparison.takeoff.cautions if source}
    habits = {source for source in found if source.endswith(f"({HABIT})")}
    read = found - habits - {HABIT}
    return Sources(
        tuple(sorted(read, key=str.casefold)),
        tuple(sorted((h.removesuffix(f" ({HABIT})") for h in habits), key=str.casefold)),
    )


def _figures(view: View) -> Iterator[Figure]:
    for need in view.comparison.takeoff.needs:
        yield need.order
    if view.priced:
        for line in view.priced.lines:
            yield from (figure for figure in (line.money, line.time) if figure)


def warnings(view: View) -> tuple[tuple[str, str], ...]:
    """What the reader of the workbook should look at again: where, and what is amiss."""
    return tuple(
        (w.cell or w.sheet or "The job", f"{w.message[:1].upper()}{w.message[1:]}")
        for w in view.comparison.warnings
    )


@dataclass(frozen=True, slots=True)
class Spending:
    """Entries against the best plan: the sums, and every line that money or entries touch."""

    intro: str
    sums: tuple[tuple[str, str], ...]
    table: Table


def spending(view: View, standing: Standing | None = None) -> Spending | None:
    """The section, where there are entries and a plan to set them against."""
    tracking = spend.tracked(view, standing)
    if tracking is None:
        return None
    titles = ("Planned", "Ordered", "Paid", "Still to come", "Will come to")
    columns = (Column("Line"), *(Column(title, number=True) for title in titles))
    touched = [line for line in tracking.lines if any(_amounts(line))]
    rows = tuple(
        Row((_named(line), *(view.money(cents) for cents in _amounts(line)))) for line in touched
    )
    sums = [view.money(cents) for cents in _amounts(tracking)]
    left = "Left of the spending limit" if tracking.limit is not None else "Left of the plan"
    return Spending(
        f"Every entry is set against {_measured_by(view, tracking)}.",
        (
            *zip(titles, sums, strict=True),
            (left, view.money(tracking.left)),
            ("Own work done", words.hours(tracking.spent_hours)),
            ("Own work to come", words.hours(tracking.hours_to_come)),
        ),
        Table("Spending line by line", columns, rows, (Row(("All", *sums)),)),
    )


def _measured_by(view: View, tracking: Tracking) -> str:
    """The plan that spending is held against, in words."""
    if not tracking.accepted:
        return f"the {view.best_plan} above, as no plan was accepted yet"
    last = ", the last of those accepted" if tracking.accepted > 1 else ""
    return f"the plan you accepted, “{tracking.against}”{last}"


def _amounts(entry: Tracked | Tracking) -> tuple[int, int, int, int, int]:
    return (entry.planned, entry.ordered, entry.paid, entry.to_come, entry.will_come_to)


def _named(line: Tracked) -> str:
    return line.line if line.in_plan else f"{line.line} (not in the plan)"


def conventions(view: View) -> str:
    """How numbers, money and dates are written: as the job says.

    The machine's own language changes nothing. Values quoted from a source stay as printed there.
    """
    lengths = "feet and inches" if view.system == "imperial" else "metres"
    settings = view.comparison.job.settings
    styles = (("Number style", settings.numbers), ("Date style", settings.dates))
    chosen = " and ".join(title for title, value in styles if value)
    why = f"as {chosen} of the Job sheet asks" if chosen else f"as is usual with {view.currency}"
    return (
        f"Money is in {view.currency}, lengths are in {lengths}. Numbers and dates are written "
        f"{why}: {view.money(123456)}, {date(settings.as_of)}. "
        "What is quoted from a source stands as printed there."
    )


def glossary() -> list[tuple[str, str]]:
    """Words of the trade in plain words, in alphabetical order."""
    path = resources.files("budget.report") / "templates" / "glossary.csv"
    found = csv.DictReader(path.read_text(encoding="utf-8").splitlines())
    return sorted((row["word"], row["meaning"]) for row in found)
