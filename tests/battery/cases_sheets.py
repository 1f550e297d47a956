"""Sheets, columns and rows: missing, renamed, merged, hidden, blank, in another order."""

from __future__ import annotations

import copy
import re

from tests.battery.case import At, Case, sound
from tests.battery.package import MAIN, WORKBOOK, Book, Damage

T, C, F = "terrace", "courtyard", "fire-bowl"


def _case(kind: str, title: str, base: str, damage: Damage, **outcome: object) -> Case:
    sets = {n: frozenset(v) for n, v in outcome.items() if n in ("problems", "warnings", "gone")}  # type: ignore[arg-type,var-annotated]
    changes = outcome.get("changes", {})
    return Case(kind, title, base, damage, changes=changes, **sets)  # type: ignore[arg-type]


def _renamed(old: str, new: str) -> Damage:
    return lambda book: book.replace(WORKBOOK, f'<sheet name="{old}"', f'<sheet name="{new}"')


def _removed(name: str) -> Damage:
    def damage(book: Book) -> None:
        text = re.sub(rf'<sheet name="{name}"[^>]*/>', "", book.text(WORKBOOK))
        book.parts[WORKBOOK] = text.encode()

    return damage


def _gone(base: str, target: str) -> dict[str, object]:
    """The values of a sheet that is no longer read."""
    rows = {path: ... for path in sound(base)[0] if path.startswith(f"{target}[")}
    return {**rows, f"{target}.count": 0}


def sheets() -> list[Case]:
    found = [
        _case("missing sheet", f"{name} taken out", base, _removed(name),
              problems={f"sheet-missing@{name}!A1"})
        for base, name in ((T, "Areas"), (T, "Quotes"), (C, "Areas"), (F, "Quotes"))
    ]  # fmt: skip
    for base, name, target in ((T, "Disposal", "disposal"), (C, "Scenarios", "pins"),
                               (T, "Stock", "stock"), (C, "Bids", "bids")):  # fmt: skip
        problems = (
            {"name-unknown@Checklist!D9", *(f"name-unknown@Bid scope!A{n}" for n in range(5, 11))}
            if name == "Bids"
            else set()
        )
        changes = {} if problems else _gone(base, target)
        title = f"optional {name} taken out"
        gone = {m for m in sound(base)[1] if f"@{name}!" in m and not problems}
        found.append(_case("missing sheet", title, base, _removed(name), changes=changes,
                           problems=problems, gone=gone))  # fmt: skip
    found += [
        _case("renamed sheet", f"{old} becomes '{new}'", T, _renamed(old, new), problems=problems)
        for old, new, problems in (
            ("Quotes", "Quotse", {"sheet-missing@Quotes!A1"}),
            ("Areas", "Area list", {"sheet-missing@Areas!A1"}),
            ("Quotes", "Preise", {"sheet-missing@Quotes!A1"}),
        )
    ]
    found += [
        _case("renamed sheet", f"{old} becomes '{new}'", T, _renamed(old, new))
        for old, new in (("Quotes", " QUOTES "), ("Build-up", "build up"), ("Areas", "areas"),
                         ("Build-up", "BuildUp"), ("Job", "job."))
    ]  # fmt: skip
    found += [
        _case("renamed sheet", "Stock becomes 'Stok'", T, _renamed("Stock", "Stok"),
              warnings={"sheet-not-read@Stok!A1"}, changes=_gone(T, "stock")),
        _case("renamed sheet", "Vorrat in place of Stock", T, _renamed("Stock", "Vorrat"),
              warnings={"sheet-not-read@Vorrat!A1"}, changes=_gone(T, "stock")),
    ]  # fmt: skip
    twice = [("Quotes", "quotes "), ("Areas", "AREAS."), ("Suppliers", "suppliers.")]
    for name, copy_name in twice:
        row = '<row r="1"><c r="A1"><v>1</v></c></row>'
        found.append(_case("sheet twice", f"{name} and '{copy_name}'", C,
                           lambda b, n=copy_name, r=row: b.add_sheet(n, r) and None,  # type: ignore[misc]
                           problems={f"sheet-twice@{copy_name}!A1"}))  # fmt: skip

    def many(book: Book) -> None:
        for number in range(100):
            text = f"<is><t>note {number}</t></is>"
            book.add_sheet(f"Mine {number}", f'<row r="1"><c r="A1" t="inlineStr">{text}</c></row>')

    warned = {f"sheet-not-read@Mine {n}!A1" for n in range(100)}
    found.append(_case("100 sheets", "of one's own", F, many, warnings=warned))
    found.append(_case("100 sheets", "all blank", F,
                       lambda b: [b.add_sheet(f"Blank {n}") for n in range(100)] and None))  # type: ignore[func-returns-value]  # fmt: skip
    return found


def _title(sheet: str, old: str, new: str | None) -> Damage:
    def damage(book: Book) -> None:
        header, letters = book.header(sheet)
        book.put(sheet, f"{letters[old]}{header}", new)

    return damage


def _unread(base: str, target: str, field: str, default: object) -> dict[str, object]:
    before = sound(base)[0]
    return {p: default for p in before if re.fullmatch(rf"{target}\[\d+\]\.{field}", p)}


def _header(base: str, sheet: str, title: str) -> str:
    """The address of a column's title, such as ``P4``: the cell above its first row."""
    letter, number = re.fullmatch(r"([A-Z]+)(\d+)", At(base, sheet, title).ref).groups()  # type: ignore[union-attr]
    return f"{letter}{int(number) - 1}"


def columns() -> list[Case]:
    kind = "missing or renamed column"
    required = [(T, "Areas", "Part"), (T, "Quotes", "Item"), (C, "Quotes", "Supplier"),
                (T, "Suppliers", "Supplier"), (T, "Work", "Step"), (C, "Bids", "Steps")]  # fmt: skip
    found = []
    for base, sheet, title in required:
        header = At(base, sheet, title).ref
        number = int(re.sub(r"\D", "", header)) - 1
        problems = {f"column-missing@{sheet}!A{number}"}
        found.append(_case(kind, f"{sheet} without {title}", base, _title(sheet, title, None),
                           problems=problems))  # fmt: skip
    note = f"Quotes!{_header(T, 'Quotes', 'Note')}"
    found += [
        _case(kind, "Quotes without Note", T, _title("Quotes", "Note", None),
              changes=_unread(T, "quotes", "note", ""), warnings={f"column-untitled@{note}"}),
        _case(kind, "Quotes without Lead days", T, _title("Quotes", "Lead days", None),
              changes=_unread(T, "quotes", "lead_days", None),
              warnings={"column-untitled@Quotes!K4"}),
        _case(kind, "Remark in place of Note", T, _title("Quotes", "Note", "Remark"),
              changes=_unread(T, "quotes", "note", ""), warnings={f"column-not-read@{note}"}),
        _case(kind, "Prise in place of Price", T, _title("Quotes", "Price", "Prise"),
              problems={"column-misspelt@Quotes!C4"}),
        _case(kind, "Widht in place of Width", T, _title("Areas", "Width", "Widht"),
              problems={"column-misspelt@Areas!E4", "size-missing@Areas!A5", "size-missing@Areas!A6"}),
        _case(kind, "PRICE: in place of Price", T, _title("Quotes", "Price", "PRICE:")),
        _case(kind, "a second Price", T, _title("Quotes", "Note", "price (USD)"),
              problems={f"column-twice@{note}"}),
        _case(kind, "a number as title", T, _title("Quotes", "Note", "2026"),
              changes=_unread(T, "quotes", "note", ""), warnings={f"column-not-read@{note}"}),
    ]  # fmt: skip

    def swapped(book: Book) -> None:
        header, letters = book.header("Quotes")
        book.put("Quotes", f"{letters['Price']}{header}", "Least")
        book.put("Quotes", f"{letters['Least']}{header}", "Price")

    for base in (T, C):
        before = sound(base)[0]
        changes: dict[str, object] = {}
        for n in range(before["quotes.count"]):
            least, price = before[f"quotes[{n}].least"], before[f"quotes[{n}].price"]
            changes[f"quotes[{n}].price"] = None if least is None else least * 100
            changes[f"quotes[{n}].least"] = price / 100
        # Nothing says that a column of small numbers is no price: it is read as its title says.
        found.append(_case("swapped columns", f"Price and Least of {base}", base, swapped,
                           changes=changes))  # fmt: skip
    return found


def _shift(book: Book, sheet: str, first: int, by: int) -> None:
    """Move the rows from ``first`` on down."""
    for row in book.data(sheet):
        number = int(row.get("r", "0"))
        if number >= first:
            row.set("r", str(number + by))
            row.attrib.pop("spans", None)
            for cell in row:
                cell.set("r", re.sub(r"\d+", "", cell.get("r", "")) + str(number + by))


def _moved(sheet: str, first: int, by: int) -> Damage:
    return lambda book: _shift(book, sheet, first, by)


def _moved_warnings(base: str, sheet: str, first: int, by: int) -> dict[str, set[str]]:
    """The demo's own warnings on rows that move: gone where they were, new where they are."""
    gone, new = set(), set()
    for mark in sound(base)[1]:
        match = re.fullmatch(rf"(.*@{sheet}![A-Z]+)(\d+)", mark)
        if match and int(match[2]) >= first:
            gone.add(mark)
            new.add(f"{match[1]}{int(match[2]) + by}")
    return {"warnings": new - gone, "gone": gone - new}


def rows() -> list[Case]:
    kind = "blank rows"
    found = [
        _case(kind, f"{by} above row {first} of {sheet}", base, _moved(sheet, first, by),
              **_moved_warnings(base, sheet, first, by))
        for base, sheet, first, by in (
            (T, "Quotes", 8, 1), (T, "Quotes", 30, 60), (T, "Areas", 6, 2), (C, "Bids", 7, 3),
            (T, "Job", 9, 2), (C, "Quotes", 5, 20), (T, "Quotes", 1, 20), (F, "Areas", 1, 10),
        )
    ]  # fmt: skip
    before = sound(T)[0]
    lost = {p: ... for p in before if re.match(r"quotes\[(3[0-5])\]\.", p)} | {"quotes.count": 30}
    found.append(
        _case(kind, "250 above row 35 of Quotes", T, _moved("Quotes", 35, 250), changes=lost,
              warnings={"rows-beyond-gap@Quotes!A285"})
    )  # fmt: skip
    found.append(_case(kind, "40 above the titles of Areas", F, _moved("Areas", 1, 40),
                       problems={"header-missing@Areas!A1"}))  # fmt: skip

    def blanks(book: Book) -> None:
        for number in range(60, 90):
            book.put("Quotes", f"A{number}", "   ")

    found.append(_case(kind, "rows of spaces", T, blanks))

    def hidden(sheet: str, *numbers: int) -> Damage:
        def damage(book: Book) -> None:
            for number in numbers:
                book.row(sheet, number).set("hidden", "1")

        return damage

    found += [
        _case("hidden", f"row {ns} of {sheet}", base, hidden(sheet, *ns),
              warnings={f"rows-hidden@{sheet}!A{ns[0]}"})
        for base, sheet, ns in ((T, "Quotes", (7,)), (T, "Quotes", (9, 10, 12)), (T, "Areas", (8,)),
                                (C, "Bids", (6,)), (T, "Job", (12,)))
    ]  # fmt: skip
    found += [
        _case("hidden", "title rows", T, hidden("Quotes", 1, 2)),
        _case("hidden", "a blank row", T, hidden("Quotes", 200)),
        _case("hidden", "sheet Suppliers", T,
              lambda b: b.replace(WORKBOOK, 'name="Suppliers"', 'name="Suppliers" state="hidden"'),
              warnings={"sheet-hidden@Suppliers!A1"}),
        _case("hidden", "sheet Bids, very", C,
              lambda b: b.replace(WORKBOOK, 'name="Bids"', 'name="Bids" state="veryHidden"'),
              warnings={"sheet-hidden@Bids!A1"}),
        _case("hidden", "an empty sheet", T,
              lambda b: b.replace(WORKBOOK, 'name="Levels"', 'name="Levels" state="hidden"')),
    ]  # fmt: skip

    def filtered(sheet: str, area: str, *numbers: int) -> Damage:
        def damage(book: Book) -> None:
            hidden(sheet, *numbers)(book)
            book.save_trees()
            book.replace(
                book.part(sheet), "</sheetData>", f'</sheetData><autoFilter ref="{area}"/>'
            )

        return damage

    found += [
        _case("filter", "nothing filtered", T, filtered("Quotes", "A4:P40")),
        _case("filter", "three rows filtered out", T, filtered("Quotes", "A4:P40", 6, 7, 8),
              warnings={"rows-hidden@Quotes!A6"}),
        _case("filter", "on Bids", C, filtered("Bids", "A4:Q11", 5),
              warnings={"rows-hidden@Bids!A5"}),
    ]  # fmt: skip

    def turned(sheet: str, first: int, last: int) -> Damage:
        def damage(book: Book) -> None:
            data = book.data(sheet)
            rows = [r for r in data if first <= int(r.get("r", "0")) <= last]
            kept = [copy.deepcopy(r) for r in rows]
            for row, other in zip(rows, reversed(kept), strict=True):
                number = row.get("r", "")
                row[:] = list(other)
                for cell in row:
                    cell.set("r", re.sub(r"\d+", "", cell.get("r", "")) + number)

        return damage

    def reversed_rows(base: str, target: str) -> dict[str, object]:
        before = sound(base)[0]
        count = before[f"{target}.count"]
        names = [p.partition(".")[2] for p in before if p.startswith(f"{target}[0].")]
        return {f"{target}[{n}].{f}": before[f"{target}[{count - 1 - n}].{f}"]
                for n in range(count) for f in names}  # fmt: skip

    found += [
        _case("rows in another order", f"{sheet} of {base}", base, turned(sheet, 5, last),
              changes=reversed_rows(base, target), **more)
        for base, sheet, last, target, more in (
            (T, "Suppliers", 8, "suppliers", {}), (T, "Checklist", 18, "checklist", {}),
            (T, "Vehicles", 6, "vehicles", {}), (C, "Areas", 8, "areas", {}),
        )
    ] + [_case("rows in another order", "Outline of terrace", T, turned("Outline", 5, 10)),
         _case("rows in another order", "Job of terrace", T, turned("Job", 5, 20))]  # fmt: skip

    def xml_order(book: Book) -> None:
        data = book.data("Quotes")
        data[:] = sorted(data, key=lambda r: -int(r.get("r", "0")))

    return [*found, _case("rows in another order", "stored last row first", T, xml_order)]


def _merge(sheet: str, *areas: str) -> Damage:
    def damage(book: Book) -> None:
        tree = book.tree(sheet)
        merged = tree.makeelement(f"{{{MAIN}}}mergeCells", {"count": str(len(areas))})
        for area in areas:
            merged.append(merged.makeelement(f"{{{MAIN}}}mergeCell", {"ref": area}))
        tree.append(merged)

    return damage


def merged() -> list[Case]:
    kind = "merged cells"

    def at(sheet: str, area: str, *more: str) -> set[str]:
        return {f"merged-cells@{sheet}!{area}", *more}

    rows: list[tuple[str, str, str, set[str]]] = [
        (T, "Quotes", "P5:P7", at("Quotes", "P5:P7")),
        (T, "Quotes", "A5:A7", at("Quotes", "A5:A7", "cell-blank@Quotes!A6", "cell-blank@Quotes!A7")),
        (T, "Quotes", "B8:B9", at("Quotes", "B8:B9", "cell-blank@Quotes!B9")),
        (C, "Bids", "C5:C6", at("Bids", "C5:C6", "cell-blank@Bids!C6")),
        (T, "Areas", "D5:D6", at("Areas", "D5:D6", "size-missing@Areas!D6")),
        (T, "Job", "D8:D12", at("Job", "D8:D12")),
    ]  # fmt: skip
    found = [
        _case(kind, f"{sheet}!{area}", base, _merge(sheet, area), problems=problems)
        for base, sheet, area, problems in rows
    ]
    found += [
        _case(kind, "title of Quotes", T, _merge("Quotes", "A1:I1", "A2:I2")),
        _case(kind, "two notes in one row", T, _merge("Quotes", "P12:Q12")),
        _case(kind, "below the job", T, _merge("Quotes", "A300:C303"),
              problems={"merged-cells@Quotes!A300:C303"}),
    ]  # fmt: skip
    return found


GROUPS = (sheets, columns, rows, merged)
