"""Types into a workbook as a person would, by way of LibreOffice. Run by its own Python.

Usage: office_typing.py PORT IN.xlsx OUT.xlsx EDITS.json. Edits are ``[sheet, cell, text]``. On
standard output: what the cells named under "show" hold afterwards, and each check of "checks"
tried on its value: whether its formula holds, how strict it is and what it says.
"""

import contextlib
import json
import sys
import time
from pathlib import Path

import uno
from com.sun.star.beans import PropertyValue


def prop(name, value):
    return PropertyValue(Name=name, Value=value)


def connected(port):
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext(
        "com.sun.star.bridge.UnoUrlResolver", local
    )
    for _ in range(120):
        try:
            return resolver.resolve(
                f"uno:socket,host=127.0.0.1,port={port};urp;StarOffice.ComponentContext"
            )
        except Exception:
            time.sleep(0.5)
    raise SystemExit("no office program answers")


def main(port, source, target, edits):
    context = connected(port)
    make = context.ServiceManager.createInstanceWithContext
    desktop = make("com.sun.star.frame.Desktop", context)
    dispatcher = make("com.sun.star.frame.DispatchHelper", context)
    book = desktop.loadComponentFromURL(
        Path(source).as_uri(), "_blank", 0, (prop("Hidden", False),)
    )
    frame = book.CurrentController.Frame
    for sheet, cell, text in edits["type"]:
        book.CurrentController.setActiveSheet(book.Sheets.getByName(sheet))
        dispatcher.executeDispatch(frame, ".uno:GoToCell", "", 0, (prop("ToPoint", cell),))
        dispatcher.executeDispatch(frame, ".uno:EnterString", "", 0, (prop("StringName", text),))
    book.calculateAll()
    shown = {
        f"{sheet}!{cell}": [c.String for row in cells_of(book, sheet, cell) for c in row]
        for sheet, cell in edits["show"]
    }
    tried = [try_check(book, *check) for check in edits["checks"]]
    filters = (prop("FilterName", "Calc MS Excel 2007 XML"),)
    book.storeToURL(Path(target).as_uri(), filters)
    book.close(True)
    json.dump({"shown": shown, "checks": tried}, sys.stdout)
    with contextlib.suppress(Exception):
        desktop.terminate()


def cells_of(book, sheet, area):
    cells = book.Sheets.getByName(sheet).getCellRangeByName(area)
    size = cells.RangeAddress
    for row in range(size.EndRow - size.StartRow + 1):
        yield [
            cells.getCellByPosition(column, row)
            for column in range(size.EndColumn - size.StartColumn + 1)
        ]


def try_check(book, sheet, cell, number):
    """What the check of a column's first cell says to a number; the cell is left as it was."""
    page = book.Sheets.getByName(sheet)
    target = page.getCellRangeByName(cell)
    rule = target.Validation
    before = target.Formula
    target.Value = number
    spare = page.getCellRangeByName("CA1")
    rule.setSourcePosition(target.CellAddress)
    spare.Formula = "=" + rule.getFormula1()
    held = spare.Value
    spare.Formula = ""
    target.Formula = before
    return {
        "holds": bool(held),
        "f": rule.getFormula1(),
        "shown": rule.ShowErrorMessage,
        "kind": rule.ErrorAlertStyle.value,
        "says": rule.ErrorMessage,
        "list": rule.Type.value == "LIST",
    }


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], sys.argv[3], json.loads(Path(sys.argv[4]).read_text()))
