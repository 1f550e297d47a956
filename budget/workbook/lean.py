"""What of an .xlsx file bears values: a copy in memory without the parts that only format it.

Drop-downs, colours, comments, drawings and cells that are formatted but blank take most of the
time of reading a workbook, and a sheet formatted to its last row takes most of the memory. They
are left out as text, before any XML is parsed; a part that is not written the usual way is kept
as it is, so that nothing is lost that a cell may say.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Collection
from pathlib import Path, PurePosixPath
from typing import IO

from budget.workbook.describe import key

#: Parts that hold no value of a cell.
_UNREAD = re.compile(
    r"xl/(worksheets/_rels|drawings|media|charts|comments|printerSettings|pivot|externalLinks"
    r"|ctrlProps|activeX|threadedComments|persons|queryTables|tables)|xl/vbaProject|docProps/"
)
_SHEET = re.compile(r"xl/worksheets/[^/]+\.xml")
_BLANK_CELL = re.compile(rb"<c(?: [a-z]+=\"[^\"<>]*\")* ?/>")
_BLANK_ROW = re.compile(rb"<row(?: [A-Za-z0-9:]+=\"[^\"<>]*\")* ?(?:/>|>\s*</row>)")
_MERGED = re.compile(rb"<mergeCells.*?</mergeCells>", re.DOTALL)
_LINK = re.compile(rb"<(?:Relationship|sheet) [^>]*>")
_NO_CELLS = b"<sheetData/>"


def lean(path: Path, unread: Collection[str] = ()) -> IO[bytes]:
    """The workbook without formatting, and without the cells of the sheets named in ``unread``.

    Raises ``zipfile.BadZipFile`` and ``KeyError`` as any reading of a damaged file does.
    """
    copy = io.BytesIO()
    with zipfile.ZipFile(path) as whole, zipfile.ZipFile(copy, "w") as kept:
        skipped = _parts_of(whole, {key(name) for name in unread})
        for name in dict.fromkeys(whole.namelist()):
            if _UNREAD.match(name):
                continue
            data = whole.read(name)
            if _SHEET.fullmatch(name):
                data = _slim(data, name in skipped)
            kept.writestr(name, data)
    copy.seek(0)
    return copy


def _slim(sheet: bytes, empty: bool) -> bytes:
    """One sheet without what follows its cells (but for merged ones), and without blank cells."""
    start, end = sheet.find(b"<sheetData>"), sheet.rfind(b"</sheetData>")
    if start < 0 or end < 0 or b"<worksheet" not in sheet[:start] or b"<![CDATA[" in sheet:
        return sheet
    tail = sheet[end + len(b"</sheetData>") :]
    if not tail.rstrip().endswith(b"</worksheet>"):
        return sheet
    head = sheet[: sheet.index(b">", sheet.index(b"<worksheet")) + 1]
    if empty:
        return head + _NO_CELLS + b"</worksheet>"
    cells = _BLANK_ROW.sub(b"", _BLANK_CELL.sub(b"", sheet[start:end]))
    merged = b"".join(_MERGED.findall(tail))
    return head + cells + b"</sheetData>" + merged + b"</worksheet>"


def _parts_of(whole: zipfile.ZipFile, titles: set[str]) -> set[str]:
    """The parts that hold the sheets of some titles (as keys), as far as that is plain."""
    try:
        book = whole.read("xl/workbook.xml")
        links = whole.read("xl/_rels/workbook.xml.rels")
    except KeyError:
        return set()
    targets = {
        at["Id"]: str(PurePosixPath("xl") / at["Target"].removeprefix("/xl/"))
        for at in map(_attributes, _LINK.findall(links))
        if "Id" in at and "Target" in at
    }
    named = {at.get("r:id", ""): key(at.get("name", "")) for at in
             map(_attributes, _LINK.findall(book))}  # fmt: skip
    return {targets[link] for link, name in named.items() if name in titles and link in targets}


def _attributes(tag: bytes) -> dict[str, str]:
    found = re.findall(rb'([\w:]+)="([^"]*)"', tag)
    return {name.decode(): value.decode("utf-8", "replace") for name, value in found}
