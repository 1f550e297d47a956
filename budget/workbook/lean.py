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
from pathlib import Path
from typing import IO

from budget.workbook.sheets.describe import key

#: Parts that hold no value of a cell.
_UNREAD = re.compile(
    r"xl/(worksheets/_rels|drawings|media|charts|comments|printerSettings|pivot|externalLinks"
    r"|ctrlProps|activeX|threadedComments|persons|queryTables|tables)|xl/vbaProject|docProps/"
)
_SHEET = re.compile(r"xl/worksheets/[^/]+\.xml")
# Only with an address: one without stands in its place, and what follows counts from it.
_BLANK_CELL = re.compile(rb"<c r=\"[^\"<>]*\"(?: [a-z]+=\"[^\"<>]*\")* ?/>")
_BLANK_ROW = re.compile(rb"<row r=\"[^\"<>]*\"(?: [A-Za-z0-9:]+=\"[^\"<>]*\")* ?(?:/>|>\s*</row>)")
_MERGED = re.compile(rb"<mergeCells.*?</mergeCells>", re.DOTALL)
#: The root of a sheet's part: of cells, of a chart, of an old dialogue.
_ROOT = re.compile(rb"<(?:\w+:)?(?:work|chart|dialog|macro)sheet[\s>]")
_BOOK = "xl/workbook.xml"
_NO_CELLS = b"<sheetData/>"


def lean(path: Path, unread: Collection[str] = ()) -> IO[bytes]:
    """The workbook without formatting, and without the cells of the sheets named in ``unread``.

    Raises ``zipfile.BadZipFile`` and ``KeyError`` as any reading of a damaged file does.
    """
    copy = io.BytesIO()
    with zipfile.ZipFile(path) as whole, zipfile.ZipFile(copy, "w") as kept:
        titles = {key(name) for name in unread}
        skipped = {part for title, part in _parts_of(whole).items() if key(title) in titles}
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


def _parts_of(whole: zipfile.ZipFile) -> dict[str, str]:
    """The part that holds each sheet, by the sheet's name. Raises ``KeyError`` if one is not there.

    openpyxl leaves out a sheet whose part is missing, and takes any other part for a blank one.
    """
    from defusedxml.ElementTree import fromstring

    links = fromstring(whole.read("xl/_rels/workbook.xml.rels"))
    targets = {link.get("Id"): _target(link.get("Target", "")) for link in links}
    tags = (tag for tag in fromstring(whole.read(_BOOK)).iter() if tag.tag.endswith("}sheet"))
    found: dict[str, str] = {}
    for tag in tags:
        link = next((v for k, v in tag.attrib.items() if k.endswith("}id")), None)
        part = targets[link]
        if part in found.values() or not _is_sheet(whole.read(part)):
            raise KeyError(part)
        found[tag.get("name", "")] = part
    return found


def _target(text: str) -> str:
    return text[1:] if text.startswith("/") else f"xl/{text}"


def _is_sheet(part: bytes) -> bool:
    """Whether a part says that it is a sheet, as far as that is plain."""
    return b"\0" in part[:4] or _ROOT.search(part) is not None
