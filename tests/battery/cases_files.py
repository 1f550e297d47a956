"""Files: cut short, wrong, locked, bombs, and packages written in unusual but valid ways."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

from tests.battery.case import Case
from tests.battery.package import MAIN, REL, WORKBOOK, Book, Damage, whole

T, C, F = "terrace", "courtyard", "fire-bowl"
STRICT = "http://purl.oclc.org/ooxml/spreadsheetml/main"
SHEET3 = "xl/worksheets/sheet3.xml"
_REFUSED = "damaged or cut short"


def _file(kind: str, title: str, spoil, refused: str, base: str = F) -> Case:  # type: ignore[no-untyped-def]
    return Case(kind, title, base, refused=refused, file=spoil)


def _bytes(data: bytes):  # type: ignore[no-untyped-def]
    return lambda path: path.write_bytes(data)


def _cut(share: float):  # type: ignore[no-untyped-def]
    def spoil(path: Path) -> None:
        data = path.read_bytes()
        path.write_bytes(data[: int(len(data) * share)])

    return spoil


def wrong_files() -> list[Case]:
    compound = bytes.fromhex("d0cf11e0a1b11ae1") + b"\0" * 2000  # [MS-CFB] 2.2
    other = io.BytesIO()
    with zipfile.ZipFile(other, "w") as archive:
        archive.writestr("holiday.jpg", b"\xff\xd8\xff")
    text = io.BytesIO()
    with zipfile.ZipFile(text, "w") as archive:
        archive.writestr("[Content_Types].xml", '<Types xmlns="http://schemas.openxmlformats.org/'
                         'package/2006/content-types"/>')  # fmt: skip
        archive.writestr("word/document.xml", "<w/>")
    empty = io.BytesIO()
    zipfile.ZipFile(empty, "w").close()
    cuts = [_file("truncated zip", f"{share:.1%} of it", _cut(share), _REFUSED, T)
            for share in (0.02, 0.2, 0.5, 0.8, 0.95, 0.999)]  # fmt: skip

    def spoilt(at: float, base: str) -> Case:
        def spoil(path: Path) -> None:
            data = bytearray(path.read_bytes())
            middle = data.index(b"<sheetData")
            start = middle + int(2000 * at)
            data[start : start + 40] = b"\0" * 40
            path.write_bytes(bytes(data))

        return _file("overwritten bytes", f"in the middle of {base}, {at}", spoil, _REFUSED, base)

    def flagged(at: int, value: int):  # type: ignore[no-untyped-def]
        """Another value in every local and central entry (APPNOTE.TXT 4.3.7 and 4.3.12)."""

        def spoil(path: Path) -> None:
            data = bytearray(path.read_bytes())
            for mark, shift in ((b"PK\3\4", 0), (b"PK\1\2", 2)):
                found = data.find(mark)
                while found >= 0:
                    data[found + at + shift] = value
                    found = data.find(mark, found + 4)
            path.write_bytes(bytes(data))

        return spoil

    return [
        _file("password-protected", "zip entries encrypted", flagged(6, 1), _REFUSED),
        _file("wrong file", "packed in a way nobody knows", flagged(8, 77), _REFUSED),
        _file("password-protected", "encrypted package", _bytes(compound), "password"),
        _file(".xls renamed", "compound file", _bytes(compound[:700]), "old .xls file"),
        _file("wrong file", "empty", _bytes(b""), "is empty"),
        _file("wrong file", "a CSV renamed", _bytes(b"Item,Price\nStone,3\n"), "not an Excel workbook"),
        _file("wrong file", "a PDF renamed", _bytes(b"%PDF-1.7\n" + b"x" * 300), "not an Excel workbook"),
        _file("wrong file", "HTML saved as .xls", _bytes(b"<html><table></table></html>"), "not an Excel workbook"),
        _file("wrong file", "photos", _bytes(other.getvalue()), _REFUSED),
        _file("wrong file", "a text document", _bytes(text.getvalue()), _REFUSED),
        _file("wrong file", "an archive of nothing", _bytes(empty.getvalue()), _REFUSED),
        *cuts,
        *(spoilt(at, base) for base in (T, C) for at in (0.1, 0.5)),
    ]  # fmt: skip


def _without(*names: str) -> Damage:
    def damage(book: Book) -> None:
        for name in names:
            del book.parts[name]

    return damage


def _set(part: str, data: bytes) -> Damage:
    def damage(book: Book) -> None:
        book.parts[part] = data

    return damage


def _swap(part: str, old: str, new: str, count: int = 1) -> Damage:
    return lambda book: book.replace(part, old, new, count)


def _string_far_off(book: Book) -> None:
    """The first text of a sheet points past the end of the shared texts."""
    found = re.sub(r't="s"><v>\d+</v>', 't="s"><v>66666</v>', book.text(SHEET3), count=1)
    book.parts[SHEET3] = found.encode()


def parts() -> list[Case]:
    kind = "missing part"
    found = [
        Case(kind, name, T, _without(name), refused=_REFUSED)
        for name in ("[Content_Types].xml", WORKBOOK, "xl/_rels/workbook.xml.rels",
                     "xl/sharedStrings.xml", SHEET3, "xl/worksheets/sheet5.xml")
    ]  # fmt: skip
    found += [
        Case(kind, name, T, _without(name))
        for name in ("xl/theme/theme1.xml", "docProps/app.xml", "docProps/core.xml")
    ]
    kind = "broken XML"
    found += [
        Case(kind, f"{part} cut", C, _set(part, b"<worksheet><sheetData><row"), refused=_REFUSED)
        for part in (
            WORKBOOK,
            SHEET3,
            "xl/sharedStrings.xml",
            "xl/styles.xml",
            "[Content_Types].xml",
        )
    ]
    found += [
        Case(kind, "control character", C, _swap(SHEET3, "<sheetData>", "<sheetData>\x01"), refused=_REFUSED),
        Case(kind, "unclosed cell", C, _swap(SHEET3, "</c>", ""), refused=_REFUSED),
        Case(kind, "bare ampersand", C, _swap("xl/sharedStrings.xml", "<t>", "<t>&"), refused=_REFUSED),
        Case(kind, "string number out of range", C, _string_far_off, refused=_REFUSED),
        Case(kind, "style number out of range", C, _swap(SHEET3, 's="14"', 's="99999"'), refused=_REFUSED),
        Case(kind, "cell named A0", C, _swap(SHEET3, 'r="B2"', 'r="0"'), refused=_REFUSED),
    ]  # fmt: skip
    kind = "circular references of parts"
    rels = "xl/_rels/workbook.xml.rels"
    found += [
        Case(kind, "a sheet is the workbook itself", C, _swap(rels, "worksheets/sheet4.xml", "workbook.xml"),
             refused=_REFUSED),
        Case(kind, "two sheets share a part", C, _swap(rels, "worksheets/sheet20.xml", "worksheets/sheet4.xml"),
             refused=_REFUSED),
        Case(kind, "a sheet without a part", C, _swap(rels, "worksheets/sheet20.xml", "worksheets/none.xml"),
             refused=_REFUSED),
    ]  # fmt: skip
    return found


def bombs() -> list[Case]:
    laughs = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))
    bomb = f'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY l0 "ha">{laughs}]>'.encode()
    outside = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY f SYSTEM "file:///etc/passwd">]>'

    def entity(part: str, head: bytes, name: bytes) -> Damage:
        def damage(book: Book) -> None:
            body = re.sub(rb"<\?xml.*?\?>", b"", book.parts[part], count=1)
            book.parts[part] = head + re.sub(rb"<(t|v)>", b"<\\1>&" + name + b";", body, count=1)

        return damage

    def zip_bomb(size: int):  # type: ignore[no-untyped-def]
        def spoil(path: Path) -> None:
            with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as archive:
                archive.writestr("xl/media/big.bin", bytes(size))

        return spoil

    def lying_size(path: Path) -> None:
        """A part that unpacks to more than its entry says."""
        with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr("xl/worksheets/sheet99.xml", b" " * 3_000_000)
        data = path.read_bytes()
        path.write_bytes(
            data.replace((3_000_000).to_bytes(4, "little"), (300).to_bytes(4, "little"))
        )

    def strings(book: Book) -> None:
        more = "".join(f"<si><t>{'x' * 200}{n}</t></si>" for n in range(8_000))
        book.replace("xl/sharedStrings.xml", "</sst>", f"{more}</sst>")

    def far_cell(book: Book) -> None:
        book.put("Quotes", "XFD1048576", 1)

    return [
        Case("zip bomb", "60 MB of nothing", F, refused="unpacks to", file=zip_bomb(60_000_000)),
        Case("zip bomb", "a size that lies", F, refused=_REFUSED, file=lying_size),
        *(Case("XML entity bomb", f"nested, in {part}", F, entity(part, bomb, b"l9"), refused=_REFUSED)
          for part in (SHEET3, "xl/sharedStrings.xml", WORKBOOK, "xl/styles.xml")),
        *(Case("XML entity bomb", f"a file of the machine, in {part}", F, entity(part, outside, b"f"),
               refused=_REFUSED) for part in (SHEET3, "xl/sharedStrings.xml")),
        Case("huge shared strings", "8,000 of 200 letters", F, strings),
        Case("far cell", "the last cell of a sheet", F, far_cell),
    ]  # fmt: skip


def _formatted_rows(count: int) -> Damage:
    def damage(book: Book) -> None:
        book.save_trees()
        rows = "".join(f'<row r="{n}" s="3" customFormat="1"><c r="A{n}" s="3"/></row>'
                       for n in range(1000, 1000 + count))  # fmt: skip
        book.replace(book.part("Quotes"), "</sheetData>", f"{rows}</sheetData>")

    return damage


def blank_rows(count: int) -> list[Case]:
    """Formatted but empty rows; a sheet has at most 1,048,576."""
    return [Case("a million blank formatted rows", f"{count:,}", F, _formatted_rows(count))]


def packages() -> list[Case]:
    """Written by other programs in other ways that the standard allows: read the same."""
    kind = "unusual but valid package"

    def macros(book: Book) -> None:
        kept = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
        book.replace(
            "[Content_Types].xml", kept, "application/vnd.ms-excel.sheet.macroEnabled.main+xml"
        )
        book.parts["xl/vbaProject.bin"] = b"\xcc\x61" * 50

    def template(book: Book) -> None:
        kept = "spreadsheetml.sheet.main+xml"
        book.replace("[Content_Types].xml", kept, "spreadsheetml.template.main+xml")

    def wrong_type(book: Book) -> None:
        kept = "spreadsheetml.sheet.main+xml"
        book.replace("[Content_Types].xml", kept, "wordprocessingml.document.main+xml")

    def no_addresses(book: Book) -> None:
        """Rows and cells without r: each follows the one before (18.3.1.4, 18.3.1.73)."""
        for row in book.data("Quotes"):
            at = 0
            for cell in list(row):
                letters = re.sub(r"\d", "", cell.get("r", ""))
                while at + 1 < _column(letters):
                    row.insert(at, cell.makeelement(f"{{{MAIN}}}c", {}))
                    at += 1
                cell.attrib.pop("r")
                at += 1

    def prefixed(book: Book) -> None:
        text = book.text(SHEET3)
        text = re.sub(r"<(/?)(\w+)(?=[ />])", r"<\1x:\2", text.partition("?>")[2])
        book.parts[SHEET3] = text.replace("xmlns=", "xmlns:x=", 1).encode()

    def absolute(book: Book) -> None:
        book.replace(
            "xl/_rels/workbook.xml.rels", 'Target="worksheets/', 'Target="/xl/worksheets/', 99
        )

    def utf16(book: Book) -> None:
        text = book.text(SHEET3).partition("?>")[2]
        book.parts[SHEET3] = ('<?xml version="1.0" encoding="UTF-16"?>' + text).encode("utf-16")

    def byte_mark(book: Book) -> None:
        book.parts[SHEET3] = b"\xef\xbb\xbf" + book.parts[SHEET3]

    def strict(book: Book) -> None:
        for name, data in book.parts.items():
            data = data.replace(MAIN.encode(), STRICT.encode())
            strict_rel = b"http://purl.oclc.org/ooxml/officeDocument/relationships"
            book.parts[name] = data.replace(REL.encode(), strict_rel)

    def rich(book: Book) -> None:
        parts = "<r><rPr><b/></rPr><t>Base</t></r><r><t xml:space='preserve'> stone</t></r>"
        book.raw("Quotes", "A6", "inlineStr", f"<is>{parts}</is>")

    def phonetic(book: Book) -> None:
        inner = '<is><t>Base stone</t><rPh sb="0" eb="4"><t>BEIS</t></rPh></is>'
        book.raw("Quotes", "A6", "inlineStr", inner)

    def days_of_1904(book: Book) -> None:
        """The 1904 system counts 1,462 days less for the same day (18.17.4.1)."""
        book.replace(WORKBOOK, "<workbookPr", '<workbookPr date1904="1"')
        dated = ("Job", "Quotes", "Bids", "Equipment", "Spend")
        for sheet in [s for s in dated if f'name="{s}"' in book.text(WORKBOOK)]:
            for row in book.data(sheet):
                for cell in row:
                    value = cell.find(f"{{{MAIN}}}v")
                    text = value.text or "" if value is not None else ""
                    if not cell.get("t") and re.fullmatch(r"4[56]\d\d\d", text):
                        value.text = str(int(text) - 1462)  # type: ignore[union-attr]

    def link(book: Book) -> None:
        book.parts["xl/externalLinks/externalLink1.xml"] = b"<externalLink/>"
        book.replace(
            WORKBOOK,
            "</sheets>",
            '</sheets><externalReferences><externalReference r:id="rId9999"/></externalReferences>',
        )
        entry = (f'<Relationship Id="rId9999" Type="{REL}/externalLink" '
                 'Target="externalLinks/externalLink1.xml"/></Relationships>')  # fmt: skip
        book.replace("xl/_rels/workbook.xml.rels", "</Relationships>", entry)

    def names(book: Book) -> None:
        more = ('<definedNames><definedName name="Price">Quotes!$C$5</definedName>'
                '<definedName name="Price">#REF!</definedName></definedNames>')  # fmt: skip
        book.replace(WORKBOOK, "</sheets>", f"</sheets>{more}")

    return [
        *(Case("1904 date system", f"the same days in {base}", base, days_of_1904) for base in (T, C)),
        Case("macro-enabled", "with a project", T, macros),
        Case("macro-enabled", "a template", C, template),
        Case("wrong content type", "a text document's", F, wrong_type, refused=_REFUSED),
        Case("external links", "a link to another file", T, link),
        Case("duplicate names", "of ranges", C, names),
        *(Case(kind, title, base, damage) for title, base, damage in (
            ("cells without addresses", C, no_addresses), ("prefixed names", C, prefixed),
            ("absolute targets", T, absolute), ("UTF-16", C, utf16), ("byte order mark", T, byte_mark),
            ("rich text", T, rich), ("phonetic guide", T, phonetic))),
        Case(kind, "strict, as ISO 29500 names it", C, strict, refused="Strict Open XML"),
        *(Case(kind, "with all its formatting", base, whole=lambda b=base: whole(b)) for base in (T, C, F)),
    ]  # fmt: skip


def _column(letters: str) -> int:
    from tests.battery.package import number_of

    return number_of(letters)


def many_blank_rows() -> list[Case]:
    return blank_rows(40_000)


GROUPS = (wrong_files, parts, bombs, packages, many_blank_rows)
