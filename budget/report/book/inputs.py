"""The Inputs and Workings sheets: every leaf and every step of the figures, each once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from string import ascii_uppercase

from budget.figures import Figure
from budget.job import Job
from budget.numerals import grouped
from budget.report.book.cells import (
    UNIT,
    Cell,
    Column,
    Entered,
    Formula,
    Sheet,
    Table,
    Text,
    UnitOf,
)
from budget.report.book.figures import INPUTS, WORKINGS, Conversion, Entry, Register, fixed_names
from budget.units import NUMBER, System, in_words

_KIND_OF_CELL = {
    "given": "your workbook",
    "default": "documented default",
    "laid out": "counted by the layout",
    "solved": "chosen by the plan",
    "constant": "fixed",
}


def inputs_sheet(register: Register, command: str, job: Job) -> Sheet:
    """Every number that the workings rest on; ``command`` redoes what was chosen or counted."""
    rows_of = row_labels(job)
    opening = (
        "Change a framed cell and every figure that follows moves. Yellow: from your quotes "
        "workbook, or a documented default (slanted). Blue with dots: counted by a layout. "
        f"Violet with dashes: chosen by the plan; after larger changes run {command} again."
    )
    rows = [_input(entry, register, command, rows_of) for entry in register.inputs]
    rows += [_conversion(number) for number in (*fixed_names(), *register.conversions())]
    columns = [
        Column("From", note="The sheet of your quotes workbook, or what else it rests on."),
        Column("Input", 44),
        Column("Value", 14, right=True, note="In the unit beside it. Framed cells are open."),
        Column(UNIT),
        Column("Where from", 34, note="The cell in your quotes workbook, or the source."),
        Column("Kind of cell", 18),
        Column("First used for", 38, note="Of roundings and conversions: their name in formulas."),
    ]
    return Sheet(INPUTS, "Inputs", opening, [Table(columns, rows, filters=True)])


def row_labels(job: Job) -> dict[str, str]:
    """What each row of the quotes workbook is about, by sheet and row, such as ``Quotes!7``."""
    found: dict[str, str] = {}
    for table in fields(job):
        rows = getattr(job, table.name)
        for row in rows if isinstance(rows, tuple) else ():
            words = (getattr(row, name.name) for name in fields(row) if name.name != "place")
            said = [word for word in words if isinstance(word, str) and word][:2]
            found[f"{row.place.sheet}!{row.place.row}"] = ", ".join(said)
    return found


def _named(figure: Figure, rows_of: Mapping[str, str]) -> str:
    """The input's name, with the row it stands in where the name does not say so."""
    sheet, _, cell = figure.key.partition("!")
    row = rows_of.get(f"{sheet}!{cell.lstrip(ascii_uppercase)}", "")
    told = [word for word in row.split(", ") if word and word.casefold() in figure.name.casefold()]
    return f"{figure.name} ({row})" if row and not told else figure.name


def _input(
    entry: Entry, register: Register, command: str, rows_of: Mapping[str, str]
) -> list[Cell]:
    figure = entry.figure
    unchosen = figure.origin not in ("solved", "laid out")
    where = figure.key if figure.origin == "given" else figure.source
    if not unchosen:
        where = f"{where + '; ' if where else ''}redo with {command}"
    name = _named(figure, rows_of)
    hint = f"{name}. {_KIND_OF_CELL.get(figure.origin, '')}: {where or 'fixed'}"
    origin = figure.origin if figure.origin != "worked" else "constant"
    value = Entered(figure.value, figure.kind, origin, register.name_of(entry), hint)
    kind = _KIND_OF_CELL.get(figure.origin, figure.origin)
    return [_from(figure), name, value, UnitOf(figure.kind), where, kind, entry.block]


def _from(figure: Figure) -> str:
    if figure.origin == "given":
        return figure.key.partition("!")[0]
    return {"default": "Defaults", "laid out": "Layout", "solved": "Plan"}.get(
        figure.origin, "Fixed"
    )


def _conversion(number: Conversion) -> list[Cell]:
    value = Entered(number.value, NUMBER, "constant", name=number.name)
    return [
        "Conversions", number.words, value, UnitOf(NUMBER), "by definition; named as at the right",
        "fixed", number.name,
    ]  # fmt: skip


#: So many rows of Workings go on paper: a page that shows what the sheet is like.
ON_PAPER = 30


def workings_sheet(register: Register) -> Sheet:
    """Every worked figure as one formula, arguments above results."""
    columns = [
        Column("For", 32, note="What the figure was first needed for. Shared figures stand once."),
        Column("Figure", 40),
        Column("Value", 15, right=True),
        Column(UNIT),
        Column("How", 52, note="The same arithmetic in words."),
        Column("Source", 30),
    ]
    rows = [_working(entry, register) for entry in register.workings]
    opening = (
        "One formula a row, from the inputs to every line of money and hours. A figure that "
        "several lines share is worked out once. On paper stand the first rows; to print them "
        f"all ({grouped(len(rows))}), clear the print area."
    )
    table = Table(columns, rows, filters=True)
    return Sheet(WORKINGS, "Workings", opening, [table], printed=min(ON_PAPER, len(rows)))


def _working(entry: Entry, register: Register) -> list[Cell]:
    figure = entry.figure
    cell = Formula(entry.formula, figure.value, figure.kind)
    how = in_names(entry, register.system)
    source = Text(figure.source, "quiet")
    return [entry.block, figure.name, cell, UnitOf(figure.kind), Text(how, "quiet"), source]


def in_names(entry: Entry, system: System) -> str:
    """The arithmetic of a figure by the names of what it was made from."""
    figure = entry.figure
    names = [arg.figure.name or arg.figure.words(system) for arg in entry.args]
    match figure.op:
        case "sum":
            return " + ".join(names)
        case "minus":
            return f"{names[0]} − {names[1]}"
        case "product":
            return " × ".join(names)
        case "ratio":
            return f"{names[0]} ÷ {names[1]}"
        case "largest":
            return "the largest of: " + ", ".join(names)
        case "smallest":
            return "the smallest of: " + ", ".join(names)
        case "whole":
            return f"{names[0]}, rounded up to whole"
        case "cents":
            return f"{names[0]}, rounded to the cent"
        case "tier":
            kind = figure.kind
            steps = zip(entry.args[1::2], entry.args[2::2], strict=True)
            return f"{names[0]}: " + ", ".join(
                f"{in_words(amount.figure.value, kind, system)} from {start.figure.words(system)}"
                for start, amount in steps
            )
    return ""
