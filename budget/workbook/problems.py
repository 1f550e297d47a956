"""The catalogue of problems and warnings that reading a workbook can bring up.

A code is stable. Its texts are put together here only, from what was found; ``{}`` fields are
filled by :func:`notice`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from budget.job import Notice
from budget.workbook.near import near_names
from budget.workbook.sheets.describe import key


class WorkbookError(Exception):
    """The file as a whole cannot be read; the message is in the user's words."""


@dataclass(frozen=True, slots=True)
class Code:
    """One kind of problem: what was expected and how to mend it."""

    severity: Literal["problem", "warning"]
    expected: str
    mend: str


def _problem(expected: str, mend: str) -> Code:
    return Code("problem", expected, mend)


def _warning(expected: str, mend: str) -> Code:
    return Code("warning", expected, mend)


CODES: dict[str, Code] = {
    # --- sheets and columns
    "sheet-missing": _problem("a sheet named {sheet}", "Add it, or rename the sheet.{near}"),
    "sheet-twice": _problem("one sheet named {sheet}", "Rename or remove the other one."),
    "sheet-empty": _problem(
        "at least one filled row", "Fill the first row under the titles of {sheet}, then save."
    ),
    "sheet-not-read": _warning(
        "only sheets this tool knows", "It is left alone; nothing on it is used.{near}"
    ),
    "header-missing": _problem(
        "a row of column titles such as {titles}",
        "Put the titles above the rows (a blank workbook shows them).",
    ),
    "column-missing": _problem("a column titled {title}", "Add it.{near}"),
    "column-misspelt": _problem(
        "a column title this sheet knows",
        "It has values, and {title} is missing. Rename it to that.",
    ),
    "column-twice": _problem("one column titled {title}", "Rename or remove the other one."),
    "column-untitled": _warning(
        "a title above what is written in this column", "Without one, nothing in it is used."
    ),
    "title-error": _problem("a column title as text", "Type the title over the formula."),
    "column-not-read": _warning(
        "only columns this sheet knows", "It is left alone; nothing in it is used."
    ),
    "header-unit": _problem(
        "a unit of {kind} in the title, such as {title}", "Correct the unit in the brackets."
    ),
    "header-currency": _warning(
        "{currency}, the currency on the Job sheet",
        "Amounts are read as {currency}. Correct the titles, or the currency on Job.",
    ),
    "merged-cells": _problem(
        "each row with its own cells", "Unmerge them and fill in every row."
    ),
    "rows-beyond-gap": _warning(
        "rows that follow each other",
        "Rows this far below the others are not read. Move them up if they belong to the job.",
    ),
    # --- cells
    "cell-blank": _problem("{title}", "{note}"),
    "cell-error": _problem("{title}, without an error", "Mend the formula, or type the value."),
    "formula-not-calculated": _problem(
        "a formula saved with its result",
        "Open the workbook in a spreadsheet program, save it, and try again.",
    ),
    "formula-as-text": _problem(
        "a value or a working formula",
        "The cell is formatted as text, so the formula is not worked out. Type the value, "
        "or format the cell as a number and enter the formula again.",
    ),
    "not-a-measure": _problem("{expected}", "{mend}"),
    "unit-unclear": _problem("{expected}", "{mend}"),
    "became-a-date": _problem(
        "{title}, not a date",
        "The spreadsheet turned what you typed into a date. Format the cell as text and type it "
        "again, or write a decimal number.",
    ),
    "not-a-date": _problem("a date, such as 2026-04-06 or 6 April 2026", "Type {ways}."),
    "not-a-choice": _problem("one of: {choices}", "{near}"),
    "not-whole": _problem("a whole number", "Type a whole number."),
    "negative": _problem("{title} not below zero", "Check the sign."),
    "not-positive": _problem("{title} above zero", "Type a number above zero."),
    "share-unclear": _problem(
        "a percentage, such as 7 %", "Type it with its % sign, so that it cannot be misread."
    ),
    "share-read-as": _warning(
        "a percentage with its % sign", "It is read as {percent} %. Type it so if that is meant."
    ),
    "other-currency": _problem(
        "an amount in {currency}", "One workbook holds one currency. Convert the amount."
    ),
    # --- the Job sheet
    "setting-unknown": _problem("a setting this sheet knows", "{near}"),
    "setting-twice": _problem("the setting {title} once", "Remove one of the two rows."),
    "tax-not-said": _warning("the sales tax", "No tax is added. Enter 0 % if that is right."),
    # --- names
    "name-twice": _problem("each {what} once", "It is on row {row} too. Rename or remove one."),
    "name-unknown": _problem("a name from {sheet}", "{near}"),
    "pin-unknown": _problem("{expected}", "{near}"),
    "equipment-not-listed": _warning(
        "a machine listed on Equipment", "Its price is not known, so it is not yet priced.{near}"
    ),
    "no-delivery-known": _warning(
        "a seller listed on Suppliers",
        "How its goods come, and what that costs, is not known.{near}",
    ),
    "look-alike": _warning(
        "words in one alphabet",
        "It holds letters of another alphabet that look alike. It is read as {plain}.",
    ),
    "item-read-as": _warning(
        "the name the job uses, {item}", "It is read as {item}. Nothing needs to be changed."
    ),
    "item-not-needed": _warning(
        "an item that the job needs", "This quote is not used.{near}"
    ),
    "paver-size-assumed": _warning(
        "the paver's size on Products",
        "A usual size is assumed. Its true size decides the count.{says}{near}",
    ),
    # --- shapes
    "size-missing": _problem("{title}, needed for {shape}", "Fill it in."),
    "size-unknown": _problem(
        "a size of dressed timber, such as 2x4", "Or leave it blank and fill in Width and Height."
        "{near}"
    ),
    "ring-upside-down": _problem(
        "an inner diameter smaller than the diameter", "Check both diameters."
    ),
    "corners-missing": _problem(
        "at least {least} {what} on Outline", "List the {what} of {area} on Outline, in order."
    ),
    "half-placed": _problem(
        "{title} too, since the other is given", "Fill in both X and Y, or neither."
    ),
    "corners-not-used": _warning(
        "rows of a shape that is a polygon, walked or offsets",
        "These rows are not used. Set its Shape on Areas to one of these if they should be.",
    ),
    # --- prices
    "pack-holds-missing": _problem(
        "what one {per} holds", "Fill in Pack holds: 0.5 cu ft, 50 lb, 120 sq ft, or a count."
    ),
    "pack-holds-unit": _problem(
        "a unit, since {item} is not counted in pieces",
        "Write what the pack holds with its unit, such as 0.5 cu ft or 50 lb.",
    ),
    "pack-holds-contradicts": _problem(
        "a blank, since the price is per {per}", "Leave Pack holds blank, or change Per."
    ),
    "bag-weight-and-volume": _warning(
        "a weight and a content that agree",
        "That would be {density}; {item} is usually {low} to {high}. Check both on the pack.",
    ),
    # --- what cannot be
    "unlikely": _warning(
        "{title} from {low} to {high}", "Is it meant? Check the number, its decimal sign and unit."
    ),
    "cannot-be": _problem(
        "{title} from {low} to {high} at the very most",
        "Check the number, its decimal sign and its unit.",
    ),
    "share-too-large": _problem(
        "{title} from 0 % to {most}", "Check the number and its decimal sign."
    ),
    "pack-too-small": _warning(
        "a {per} that holds {least} or more",
        "Is it meant? Check Pack holds: a count of pieces, or an area with its unit.",
    ),
    "density-unlikely": _warning(
        "a weight of {low} to {high}",
        "With these sizes it is {density}. Check Weight each and the sizes.",
    ),
    "density-cannot-be": _problem(
        "a weight of {low} to {high} at the very most",
        "With these sizes it would be {density}. Check Weight each and the sizes.",
    ),
    "price-far-off": _warning(
        "prices of one item near each other", "Check both prices, and what each is for."
    ),
    "rows-hidden": _warning(
        "rows that can be seen",
        "What is hidden, also by a filter, counts too. Show it, and delete what is not meant.",
    ),
    "sheet-hidden": _warning(
        "sheets that can be seen",
        "What is on it counts too. Show it, and delete what is not meant.",
    ),
    "bag-cannot-be": _problem(
        "a weight and a content that agree",
        "That would be {density}, which nothing sold in bags weighs. Check both on the pack.",
    ),
    "range-upside-down": _problem(
        "low, likely and high in rising order", "Check the three figures of this row."
    ),
    "paid-twice": _problem(
        "shares of a price that come to no more than all of it",
        "What is paid on your yes and at the start cannot be more than 100 % together.",
    ),
    "deduct-of-nothing": _problem(
        "the steps that they would leave out", "Say which steps, or leave the deduct blank."
    ),
    "deduct-missing": _problem(
        "how much the price falls without those steps",
        "Ask for the deduct and write it here, or leave the steps blank.",
    ),
    "deduct-outside": _problem(
        "some, and not all, of the steps of this bid: {steps}",
        "Leave out only steps that the bid covers, and leave it at least one.",
    ),
    "deduct-of-no-bid": _problem(
        "the bid that would leave these steps out", "Name it as on Bids, or leave Deduct blank."
    ),
    "price-breaks": _problem(
        "a number of packs and a price for each, such as 10: 4.20; 50: 3.95", "{mend}"
    ),
    "one-seller": _warning("a second seller's price", "Ask another seller for: {items}."),
    "expired": _warning(
        "an offer valid on {as_of}", "Ask whether the price still holds, and change the date."
    ),
    "unit-not-of-step": _problem(
        "a unit of {kind}, as {step} is counted", "Write such a unit, for example {example}."
    ),
    "scope-says-otherwise": _warning(
        "yes, since Checklist says that it is in this bid",
        "It counts as in the price. Correct one of the two.",
    ),
    "extra-without-price": _warning(
        "the price of the extra", "It counts as not in the price until filled in."
    ),
    "answer-without-amount": _warning(
        "an amount, since the answer is priced", "It counts as not yet priced until filled in."
    ),
}  # fmt: skip


def notice(code: str, sheet: str, row: int, cell: str, found: str = "", /, **words: str) -> Notice:
    """One problem or warning, its texts put together from the catalogue.

    >>> notice("not-whole", "Job", 9, "Job!B9", "'2.5'").message
    "found '2.5'; expected a whole number. Type a whole number."
    """
    entry = CODES[code]
    expected = entry.expected.format(**words)
    mend = " ".join(entry.mend.format(**words).split())
    return Notice(sheet, row, cell, code, found, expected, mend, entry.severity)


def nearest(name: str, known: Iterable[str], lead: str = "Did you mean") -> str:
    """A hint at the nearest known name, or nothing.

    >>> nearest("rektangle", ["rectangle", "circle"])
    ' Did you mean rectangle?'
    """
    close = near_names(name, known, key, 1, 0.7)
    return f" {lead} {close[0]}?" if close else ""
