"""Formulas: without results, with errors, arrays, links to other files, resting on themselves."""

from __future__ import annotations

from typing import Any

from tests.battery.case import At, Case, with_outcome
from tests.battery.package import Book, Damage

T, C, F = "terrace", "courtyard", "fire-bowl"
FT, TON = 0.3048, 907.18474
PRICE, LENGTH = At(T, "Quotes", "Price"), At(T, "Areas", "Length")
HOUR = At(T, "Job", "Value of an own hour")
PLACES = [
    PRICE, LENGTH, HOUR, At(T, "Vehicles", "Tow limit", 2), At(T, "Work", "Likely"),
    At(T, "Suppliers", "Distance"), At(C, "Quotes", "Price", 4), At(C, "Areas", "Width"),
    At(F, "Areas", "Diameter"), At(T, "Quotes", "Valid until"), At(T, "Checklist", "Amount"),
    At(T, "Bids", "Price"), At(T, "Equipment", "Day"), At(T, "Quotes", "Item"),
]  # fmt: skip


def _raw(at: At, kind: str, inner: str) -> Damage:
    return lambda book: book.raw(at.sheet, at.ref, kind, inner)


def _case(kind: str, at: At, cell: str, inner: str, outcome: Any, **more: Any) -> Case:
    return with_outcome(
        kind, f"{at.cell}: {inner[:60]}", at, _raw(at, cell, inner), outcome, **more
    )


def without_result() -> list[Case]:
    kind = "formula without a saved result"
    found = [_case(kind, at, "", "<f>1+1</f>", "!formula-not-calculated") for at in PLACES]
    return [
        *found,
        _case(kind, PRICE, "", "<f>18.5</f><v></v>", "!formula-not-calculated"),
        _case(kind, PRICE, "str", '<f>""</f><v></v>', None),
        _case(kind, PRICE, "inlineStr", "<is><t>=10+8.5</t></is>", "!formula-as-text"),
        _case(kind, LENGTH, "inlineStr", "<is><t>=4*4</t></is>", "!formula-as-text"),
    ]


def with_result() -> list[Case]:
    kind = "formula with its result"
    return [
        _case(kind, PRICE, "", "<f>10+9.25</f><v>19.25</v>", 1925.0),
        _case(kind, PRICE, "str", '<f>"19.25"&amp;" USD"</f><v>19.25 USD</v>', 1925.0),
        _case(kind, LENGTH, "", "<f>SUM(10,7)</f><v>17</v>", 17 * FT),
        _case(kind, HOUR, "", "<f>IF(TRUE,22,1/0)</f><v>22</v>", 2200.0),
        _case(kind, At(T, "Quotes", "Taxed"), "b", "<f>TRUE</f><v>1</v>", True),
        _case(kind, PRICE, "", "<f>[1]Prices!$B$2</f><v>19.25</v>", 1925.0),
        _case(kind, PRICE, "", "<f>Nowhere!B2</f><v>19.25</v>", 1925.0),
        _case(kind, PRICE, "", "<f>WEBSERVICE(\"http://localhost/x\")</f><v>19.25</v>", 1925.0),
        _case(kind, PRICE, "", "<f>cmd|' /C calc'!A0</f><v>19.25</v>", 1925.0),
        _case(kind, PRICE, "", '<f t="shared" ref="C5:C6" si="0">C7+1</f><v>19.25</v>', 1925.0),
        _case(kind, PRICE, "", '<f t="shared" si="7"/><v>19.25</v>', 1925.0),
        _case(kind, PRICE, "", '<f ca="1">RAND()</f><v>19.25</v>', 1925.0),
    ]  # fmt: skip


def arrays() -> list[Case]:
    kind = "array formulas"
    two = '<f t="array" ref="C5:C6">{19.25;30}</f>'

    def spilled(book: Book) -> None:
        book.raw("Quotes", "C5", "", f"{two}<v>19.25</v>")
        book.raw("Quotes", "C6", "", "<v>30</v>")

    def table(book: Book) -> None:
        inner = '<f t="dataTable" ref="C5:C6" dt2D="0" dtr="0" r1="B3"/><v>19.25</v>'
        book.raw("Quotes", "C5", "", inner)

    return [
        _case(kind, PRICE, "", f"{two}<v>19.25</v>", 1925.0),
        _case(kind, PRICE, "", two, "!formula-not-calculated"),
        _case(kind, LENGTH, "", '<f t="array" ref="D5">SUM(A1:A2*1)</f><v>17</v>', 17 * FT),
        _case(kind, LENGTH, "e", '<f t="array" ref="D5">1/0</f><v>#DIV/0!</v>', "!cell-error"),
        with_outcome(kind, "two cells spilled", PRICE, spilled, 1925.0, changes={"quotes[1].price": 3000.0}),
        with_outcome(kind, "a what-if table", PRICE, table, 1925.0),
    ]  # fmt: skip


def errors() -> list[Case]:
    kind = "error values"
    names = ["#DIV/0!", "#N/A", "#REF!", "#NAME?", "#VALUE!", "#NUM!", "#NULL!"]
    found = [
        _case(kind, at, "e", f"<v>{names[i % len(names)]}</v>", "!cell-error")
        for i, at in enumerate(PLACES)
    ]
    found += [
        _case(kind, PRICE, "e", "<f>1/0</f><v>#DIV/0!</v>", "!cell-error"),
        _case(kind, PRICE, "e", "<v>#SPILL!</v>", "!cell-error"),
        _case(kind, PRICE, "e", "<v>#GETTING_DATA</v>", "!cell-error"),
        _case(kind, At(T, "Quotes", "Note"), "e", "<f>B1</f><v>#REF!</v>", "!cell-error"),
        _case(kind, PRICE, "inlineStr", "<is><t>#REF!</t></is>", "!not-a-measure"),
    ]

    def title(book: Book) -> None:
        book.raw("Quotes", "C4", "e", "<v>#REF!</v>")

    def setting(book: Book) -> None:
        book.raw("Job", HOUR.ref.replace("B", "A"), "e", "<v>#REF!</v>")

    label = HOUR.ref.replace("B", "A")
    return [
        *found,
        Case(kind, "title of Price", T, title, frozenset({"title-error@Quotes!C4"})),
        Case(kind, "name of a setting", T, setting, frozenset({f"setting-unknown@Job!{label}"})),
    ]


def circular() -> list[Case]:
    """A spreadsheet stores 0 where a formula rests on itself: never read as a true nought."""
    kind = "circular references"

    def chain(*links: tuple[str, str]) -> Damage:
        def damage(book: Book) -> None:
            for cell, formula in links:
                book.raw("Quotes", cell, "", f"<f>{formula}</f><v>0</v>")

        return damage

    cells = At(T, "Quotes", "Price", 2).cell
    both = {"problems": {f"cell-error@{cells}"}}
    return [
        with_outcome(kind, "a cell on itself", PRICE, chain(("C5", "C5+1")), "!cell-error"),
        with_outcome(kind, "its own column", PRICE, chain(("C5", "SUM(C:C)")), "!cell-error"),
        with_outcome(kind, "two on each other", PRICE, chain(("C5", "C6"), ("C6", "C5*2")), "!cell-error", **both),
        with_outcome(kind, "over a cell that is not read", PRICE, chain(("C5", "Z5"), ("Z5", "C5")), "!cell-error"),
        with_outcome(kind, "over its sheet's name", PRICE, chain(("C5", "Quotes!$C$5")), "!cell-error"),
        with_outcome(kind, "a true nought", PRICE, chain(("C5", "Z9*1")), 0.0),
        with_outcome(kind, "a difference of nought", PRICE, chain(("C5", "C6-C6")), 0.0),
    ]  # fmt: skip


GROUPS = (without_result, with_result, arrays, errors, circular)
