"""A quotes workbook as the parts of its package, changed without any spreadsheet library.

Stored values, formulas and styles that a test does not touch stay as they are. Cells are put
into the XML of their sheet (ISO/IEC 29500-1, 18.3) as any program may have written them.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET
from xml.sax.saxutils import escape, quoteattr

ROOT = Path(__file__).parents[2]
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
REL = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
WORKBOOK = "xl/workbook.xml"
STYLES = "xl/styles.xml"
STRINGS = "xl/sharedStrings.xml"

#: Sheets that hold only what the template says; their cells are left out to save time.
_WORDS_ONLY = ("Start", "Lists")
#: A filled cell in the first row below the titles.
_FILLED = re.compile(rb'<c r="[A-Z]+5"[^>]*><')
#: A cell with a shared string, and the string's number.
_TEXT_CELL = re.compile(rb'(<c [^>]*t="s"[^>]*><v>)(\d+)')


def name_of(number: int) -> str:
    """The letters of a column number."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def number_of(letters: str) -> int:
    """The number of a column's letters."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number


def _xml(tree: ET.Element) -> bytes:
    """A part's XML without prefixes, whatever other libraries have registered."""
    ET.register_namespace("", MAIN)
    ET.register_namespace("r", REL)
    return ET.tostring(tree, xml_declaration=True, encoding="utf-8")


class Book:
    """One workbook: ``parts`` by name, and the sheets opened so far as trees."""

    def __init__(self, parts: dict[str, bytes]) -> None:
        """Keep a copy of the parts."""
        self.parts = dict(parts)
        self._trees: dict[str, ET.Element] = {}

    # --- sheets
    def part(self, sheet: str) -> str:
        """The part that holds a sheet."""
        link = re.search(rf'<sheet name="{re.escape(sheet)}"[^>]*r:id="(\w+)"', self.text(WORKBOOK))
        assert link, sheet
        rels = self.text("xl/_rels/workbook.xml.rels")
        found = re.search(rf'Id="{link[1]}"[^>]*Target="([^"]+)"', rels)
        assert found
        return "xl/" + found[1].removeprefix("/xl/")

    def text(self, part: str) -> str:
        """A part as text."""
        return self.parts[part].decode()

    def replace(self, part: str, old: str, new: str, count: int = 1) -> None:
        """Change a part's text; the old text must be there."""
        text = self.text(part)
        assert old in text, (part, old)
        self.parts[part] = text.replace(old, new, count).encode()

    def tree(self, sheet: str) -> ET.Element:
        """A sheet's XML, written back on saving."""
        part = self.part(sheet)
        if part not in self._trees:
            self._trees[part] = ET.fromstring(self.parts[part])
        return self._trees[part]

    def data(self, sheet: str) -> ET.Element:
        """The rows of a sheet."""
        found = self.tree(sheet).find(f"{{{MAIN}}}sheetData")
        assert found is not None
        return found

    # --- rows and cells
    def row(self, sheet: str, number: int) -> ET.Element:
        """One row, made where it is not there."""
        data = self.data(sheet)
        for at, row in enumerate(data):
            if int(row.get("r", "0")) == number:
                return row
            if int(row.get("r", "0")) > number:
                made = ET.Element(f"{{{MAIN}}}row", r=str(number))
                data.insert(at, made)
                return made
        return ET.SubElement(data, f"{{{MAIN}}}row", r=str(number))

    def cell(self, sheet: str, at: str) -> ET.Element:
        """One cell, made where it is not there."""
        letters, number = re.fullmatch(r"([A-Z]+)(\d+)", at).groups()  # type: ignore[union-attr]
        row = self.row(sheet, int(number))
        for index, cell in enumerate(row):
            column = number_of(re.sub(r"\d", "", cell.get("r", "")))
            if column == number_of(letters):
                return cell
            if column > number_of(letters):
                made = ET.Element(f"{{{MAIN}}}c", r=at)
                row.insert(index, made)
                return made
        return ET.SubElement(row, f"{{{MAIN}}}c", r=at)

    def put(self, sheet: str, at: str, value: str | float | bool | None, style: int = -1) -> None:
        """A constant: a text, a number, yes or no, or nothing."""
        if value is None:
            self.raw(sheet, at, "", "", style)
        elif isinstance(value, bool):
            self.raw(sheet, at, "b", f"<v>{int(value)}</v>", style)
        elif isinstance(value, str):
            text = f'<is><t xml:space="preserve">{escape(value)}</t></is>'
            self.raw(sheet, at, "inlineStr", text, style)
        else:
            self.raw(sheet, at, "", f"<v>{value!r}</v>", style)

    def raw(self, sheet: str, at: str, kind: str, inner: str, style: int = -1) -> None:
        """A cell of a type (``s``, ``str``, ``b``, ``e``, ``d`` ...) with its content as XML."""
        cell = self.cell(sheet, at)
        kept = cell.get("s")
        cell.clear()
        cell.set("r", at)
        if style >= 0 or kept:
            cell.set("s", str(style) if style >= 0 else str(kept))
        if kind:
            cell.set("t", kind)
        for child in ET.fromstring(f'<x xmlns="{MAIN}">{inner}</x>'):
            cell.append(child)

    def formula(self, sheet: str, at: str, text: str, result: str = "", kind: str = "") -> None:
        """A formula with its stored result (none if blank), of type ``kind`` such as ``str``."""
        value = f"<v>{escape(result)}</v>" if result else ""
        self.raw(sheet, at, kind, f"<f>{escape(text)}</f>{value}")

    # --- by title
    def header(self, sheet: str) -> tuple[int, dict[str, str]]:
        """The row of titles, and the letters of each title without its unit."""
        for row in list(self.data(sheet))[:8]:
            found = {
                re.sub(r"\s*(\([^)]*\))?\s*\*?$", "", self.shown(cell)): re.sub(
                    r"\d", "", cell.get("r", "")
                )
                for cell in row
                if self.shown(cell)
            }
            if len(found) > 2:
                return int(row.get("r", "0")), found
        raise AssertionError(sheet)

    def at(self, sheet: str, title: str, row: int) -> str:
        """The address of one field of the ``row``-th filled row (1, 2 ...), without its sheet."""
        header, letters = self.header(sheet)
        return f"{letters[title]}{header + row}"

    def setting(self, title: str) -> str:
        """The address of the value of one setting on Job, without its sheet."""
        for row in self.data("Job"):
            cells = list(row)
            if cells and self.shown(cells[0]) == title:
                return f"B{row.get('r')}"
        raise AssertionError(title)

    def shown(self, cell: ET.Element) -> str:
        """What a cell says."""
        if cell.get("t") == "inlineStr":
            return "".join(cell.itertext())
        value = cell.find(f"{{{MAIN}}}v")
        text = value.text or "" if value is not None else ""
        return self.shared()[int(text)] if cell.get("t") == "s" else text

    def shared(self) -> tuple[str, ...]:
        """The shared strings."""
        return _shared(self.parts[STRINGS])

    # --- the package
    def add_sheet(self, title: str, rows: str = "", state: str = "") -> str:
        """A sheet more, with its rows as XML; gives its part."""
        count = len(re.findall("<sheet ", self.text(WORKBOOK))) + 100
        part = f"xl/worksheets/more{count}.xml"
        hidden = f' state="{state}"' if state else ""
        entry = f'<sheet name={quoteattr(title)} sheetId="{count}"{hidden} r:id="more{count}"/>'
        self.replace(WORKBOOK, "</sheets>", f"{entry}</sheets>")
        kind = f"{REL}/worksheet"
        link = f'<Relationship Id="more{count}" Type="{kind}" Target="worksheets/more{count}.xml"/>'
        self.replace("xl/_rels/workbook.xml.rels", "</Relationships>", f"{link}</Relationships>")
        content = (
            f'<Override PartName="/{part}" ContentType="application/vnd.openxmlformats-'
            'officedocument.spreadsheetml.worksheet+xml"/></Types>'
        )
        self.replace("[Content_Types].xml", "</Types>", content)
        self.parts[part] = (
            f'<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData></worksheet>'.encode()
        )
        return part

    def style(self, number_format: str) -> int:
        """A style more with a number format of its own; gives its index."""
        text = self.text(STYLES)
        code = f'<numFmt numFmtId="{900 + text.count("numFmtId=")}" formatCode='
        number = re.search(r'"(\d+)"', code)[1]  # type: ignore[index]
        entry = f"{code}{quoteattr(number_format)}/>"
        if "<numFmts" in text:
            text = re.sub(r"</numFmts>", lambda _: f"{entry}</numFmts>", text, count=1)
        else:
            at = text.index(">", text.index("<styleSheet")) + 1
            text = text[:at] + f'<numFmts count="1">{entry}</numFmts>' + text[at:]
        index = len(re.findall("<xf ", text[text.index("<cellXfs") : text.index("</cellXfs>")]))
        xf = f'<xf numFmtId="{number}" fontId="0" fillId="0" borderId="0" applyNumberFormat="1"/>'
        self.parts[STYLES] = text.replace("</cellXfs>", f"{xf}</cellXfs>").encode()
        return index

    def save_trees(self) -> None:
        """Write the sheets opened as trees back into their parts."""
        for part, tree in self._trees.items():
            self.parts[part] = _xml(tree)
        self._trees.clear()

    def save(self, path: Path) -> Path:
        """Write the package, without packing it smaller."""
        self.save_trees()
        with zipfile.ZipFile(path, "w") as archive:
            for name, data in self.parts.items():
                archive.writestr(name, data)
        return path


@cache
def _shared(part: bytes) -> tuple[str, ...]:
    return tuple("".join(item.itertext()) for item in ET.fromstring(part))


@cache
def _parts(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def whole(name: str) -> Book:
    """A demo with every part as it lies in ``workbooks/``."""
    return Book(_parts(ROOT / "workbooks" / f"{name}.xlsx"))


@cache
def _short(name: str) -> dict[str, bytes]:
    """The parts of a demo without drop-downs, colours, helping formulas and unfilled sheets."""
    book = whole(name)
    wordy = {book.part(sheet) for sheet in _WORDS_ONLY}
    parts = dict(book.parts)
    for part, data in parts.items():
        if not part.startswith("xl/worksheets/sheet"):
            continue
        tree = ET.fromstring(data)
        for child in list(tree):
            if not child.tag.endswith("}sheetData"):
                tree.remove(child)
            elif part in wordy:
                child.clear()
            else:
                _drop_formulas(child)
        parts[part] = _xml(tree)
    for sheet, part in _sheets(book).items():
        if sheet in _WORDS_ONLY or not (_FILLED.search(parts[part]) or sheet == "Levels"):
            entry = re.compile(rf'<sheet name="{sheet}"[^>]*/>'.encode())
            parts[WORKBOOK] = entry.sub(b"", parts[WORKBOOK])
            del parts[part]
    _keep_used_strings(parts)
    names = re.compile(rb"<definedNames>.*</definedNames>", re.DOTALL)
    parts[WORKBOOK] = names.sub(b"", parts[WORKBOOK])
    return parts


def _sheets(book: Book) -> dict[str, str]:
    """Every sheet with its part."""
    names = re.findall(r'<sheet name="([^"]*)"', book.text(WORKBOOK))
    return {name: book.part(name) for name in names}


def _drop_formulas(data: ET.Element) -> None:
    """Leave out the template's own formulas: they stand beside the cells and are never read."""
    for row in data:
        for cell in list(row):
            if cell.find(f"{{{MAIN}}}f") is not None:
                row.remove(cell)


def _keep_used_strings(parts: dict[str, bytes]) -> None:
    """Leave out the shared strings that no cell uses any more, and number the others anew."""
    table = ET.fromstring(parts[STRINGS])
    kept: dict[int, int] = {}
    for part in [p for p in parts if p.startswith("xl/worksheets/sheet")]:
        parts[part] = _TEXT_CELL.sub(
            lambda cell: b"%s%d" % (cell[1], kept.setdefault(int(cell[2]), len(kept))), parts[part]
        )
    items = list(table)
    table[:] = [items[number] for number in kept]
    parts[STRINGS] = _xml(table)


def demo(name: str) -> Book:
    """A demo with its values, formulas and styles, ready to be damaged."""
    return Book(_short(name))


Damage = Callable[[Book], None]
