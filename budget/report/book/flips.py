"""What flips, alive: the lines in which each other way differs from the best plan.

A forced choice and all that was planned anew around it is a plan of its own. Lines that both
plans work out alike cancel; the rest stand here once, so that a changed price moves the flip.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Sequence

from budget.decide.outcome import Comparison
from budget.decide.plan import Flip, Line, Priced
from budget.report import words
from budget.report.book.cells import (
    NONE,
    Cell,
    Column,
    Formula,
    Live,
    Sheet,
    Stored,
    Table,
    Text,
)
from budget.report.book.figures import Register
from budget.report.book.plans import cash_cell, hours_cell
from budget.units import COUNT, HOURS, MONEY

#: Names of the columns of the lines, as the flips' formulas use them.
_NUMBER, _CASH, _BEST_CASH, _HOURS, _BEST_HOURS = (
    "flip_number", "flip_cash", "flip_best_cash", "flip_hours", "flip_best_hours",
)  # fmt: skip

_Key = tuple[str, str, str, str, int]


def add_flips(sheet: Sheet, comparison: Comparison) -> None:
    """Add the flips, and the lines that they follow from; nothing where nothing flips."""
    if not comparison.flips:
        return
    best = comparison.best.priced if comparison.best else None
    lines = _lines(comparison, best) if best else {}
    sheet.tables.append(_flips(comparison, [n for n, rows in lines.items() if rows]))
    first = sheet.first_row(len(sheet.tables) - 1)
    rows = [
        [Formula(f"=$A${first + number - 1}", number), *row]
        for number, theirs in lines.items()
        for row in theirs
    ]
    if rows:
        sheet.tables.append(_behind(rows))


def _flips(comparison: Comparison, behind: Collection[int]) -> Table:
    columns = [
        Column("Flip no.", 14, right=True, unit="no."),
        Column("Choice", 18),
        Column("This plan, and what instead", 36),
        Column("More cash", 13, "Less if negative. Everything else planned anew.", right=True),
        Column("More own hours", 13, right=True),
        Column("Dearer in all", 13, "Cash and hours at your hour value.", right=True),
        Column("Flips at, an hour", 13, "Hour values where the winner changes, as solved."),
        Column("In words, as solved", 62),
    ]
    value = comparison.options.hour_value.value
    currency = comparison.job.settings.currency
    rows = [
        _flip(n, flip, value, currency, alive=n in behind)
        for n, flip in enumerate(comparison.flips, 1)
    ]
    remark = (
        "Cash and hours are worked out at the plan that was solved with the choice forced; the "
        "words tell of the inputs as they were. budget compare redoes both."
    )
    return Table(columns, rows, title="What flips", remark=remark)


def _flip(number: int, flip: Flip, hour_value: float, currency: str, *, alive: bool) -> list[Cell]:
    about, chosen = words.choice(flip.choice, flip.value)
    instead = words.choice(flip.choice, flip.alternative)[1] or "without it"
    cash: Cell = Stored(flip.cash, MONEY)
    hours: Cell = Stored(flip.hours, HOURS)
    if alive:
        cash = Formula(_difference(_CASH, _BEST_CASH), flip.cash, MONEY)
        hours = Formula(_difference(_HOURS, _BEST_HOURS), flip.hours, HOURS)
    total = flip.cash + flip.hours * hour_value
    return [
        Stored(number, COUNT, "fixed"), about, f"{chosen}; instead: {instead}", cash, hours,
        Formula("=D{row} + E{row} * hour_value", total, MONEY),
        "; ".join(words.money(value, currency) for value in flip.hour_values) or "never",
        Text(flip.sentence),
    ]  # fmt: skip


def _difference(instead: str, best: str) -> str:
    sums = (f"SUMIF({_NUMBER}, A{{row}}, {name})" for name in (instead, best))
    return "=" + " - ".join(sums)


def _behind(rows: Sequence[Sequence[Cell]]) -> Table:
    columns = [
        Column("Flip no.", 14, name=_NUMBER, right=True, unit="no."),
        Column("Group", 18),
        Column("Line", 36),
        Column("Cash, this plan", 13, name=_BEST_CASH, right=True),
        Column("Cash, instead", 13, name=_CASH, right=True),
        Column("Own hours, this plan", 13, name=_BEST_HOURS, right=True),
        Column("Own hours, instead", 13, name=_HOURS, right=True),
    ]
    remark = (
        "Lines that are the same in both plans cancel and are left out. They stand on the screen "
        "only; the sums above go on paper."
    )
    return Table(columns, rows, title="The lines that differ", remark=remark, on_paper=False)


def _lines(comparison: Comparison, best: Priced) -> dict[int, list[list[Cell]]]:
    """The differing lines of every flip whose plan is known, by the flip's number."""
    settings = comparison.job.settings
    register = Register(settings.units, settings.currency)
    ours = _by_key(best.lines)
    return {
        number: list(_differing(register, ours, _by_key(flip.priced.lines)))
        for number, flip in enumerate(comparison.flips, 1)
        if flip.priced is not None
    }


def _by_key(lines: Sequence[Line]) -> dict[_Key, Line]:
    seen: Counter[tuple[str, str, str, str]] = Counter()
    found: dict[_Key, Line] = {}
    for line in lines:
        key = (line.part, line.group, line.name, line.choice)
        found[*key, seen[key]] = line
        seen[key] += 1
    return found


def _differing(
    register: Register, ours: dict[_Key, Line], theirs: dict[_Key, Line]
) -> Iterator[list[Cell]]:
    for key in dict.fromkeys((*ours, *theirs)):
        one, other = ours.get(key), theirs.get(key)
        cash = _pair(register, _made(cash_cell, one), _made(cash_cell, other))
        hours = _pair(register, _made(hours_cell, one), _made(hours_cell, other))
        line = one or other
        if (cash or hours) and line is not None:
            empty: tuple[Cell, Cell] = (NONE, NONE)
            yield [
                line.group,
                f"{line.name}, {line.part}" if line.part else line.name, *(cash or empty),
                *(hours or empty),
            ]  # fmt: skip


def _made(cell: Callable[[Line], Cell], line: Line | None) -> Cell:
    return None if line is None else cell(line)


def _pair(register: Register, one: Cell, other: Cell) -> tuple[Cell, Cell] | None:
    """Two cells that do not cancel: None where both come about in the same way."""
    if _same(register, one, other):
        return None
    return (NONE if one is None else one, NONE if other is None else other)


def _same(register: Register, one: Cell, other: Cell) -> bool:
    if isinstance(one, Live) and isinstance(other, Live):
        return register.add("", one.figure) is register.add("", other.figure)
    values = [cell.value for cell in (one, other) if isinstance(cell, Stored)]
    if isinstance(one, Live) or isinstance(other, Live):
        return False
    return not any(values) if len(values) < 2 else values[0] == values[1]
