"""Words: names that are unknown, twice, in other scripts, invisible or look alike."""

from __future__ import annotations

import re

from tests.battery.case import At, Case, one, sound
from tests.battery.package import Book, Damage

T, C, F = "terrace", "courtyard", "fire-bowl"
ITEM = At(T, "Quotes", "Item", 3)  # Base stone, sold by three sellers
SELLER = At(T, "Quotes", "Supplier", 3)


def unknown() -> list[Case]:
    kind = "unknown names"
    rows = [
        (At(T, "Areas", "Shape"), "rektangle", "!not-a-choice"),
        (At(T, "Areas", "Pattern"), "herring", "!not-a-choice"),
        (At(T, "Areas", "Build-up"), "Gardn layers", "!name-unknown"),
        (At(T, "Outline", "Area"), "Pth", "!name-unknown"),
        (At(T, "Delivery", "Supplier"), "Timble Quarry", "!name-unknown"),
        (At(T, "Delivery", "Basis"), "lorry", "!not-a-choice"),
        (At(T, "Disposal", "Kind"), "bin", "!not-a-choice"),
        (At(T, "Disposal", "Vehicle", 4), "Van", "!name-unknown"),
        (At(T, "Work", "Step"), "Digg", "!not-a-choice"),
        (At(T, "Bids", "Steps", 3), "Dig, Soil", "!not-a-choice"),
        (At(T, "Bids", "Basis"), "fixed", "!not-a-choice"),
        (At(T, "Equipment", "Way"), "lease", "!not-a-choice"),
        (At(T, "Products", "Kind"), "pavor", "!not-a-choice"),
        (At(T, "Checklist", "Answer"), "maybe", "!not-a-choice"),
        (At(T, "Checklist", "Bid", 6), "Hole job", "!name-unknown"),
        (At(T, "Scenarios", "Choice"), "step:Digg", "!pin-unknown"),
        (At(T, "Scenarios", "Choice", 2), "goods:Nobody", "!pin-unknown"),
        (At(T, "Spend", "State"), "payed", "!not-a-choice"),
        (At(T, "Job", "Units"), "imperail", "!not-a-choice"),
        (At(T, "Job", "Ground"), "mud", "!not-a-choice"),
        (At(T, "Job", "Currency"), "dollars", "!not-a-measure"),
        (At(C, "Quotes", "Per"), "truck", "!not-a-measure"),
        (ITEM, "Base ston", ("~item-not-needed", "Base ston")),
        (ITEM, "Granite setts", ("~item-not-needed", "Granite setts")),
        (ITEM, "Crusher run", ("~item-read-as", "Base stone")),
        (SELLER, "Blue Teapot Garden", ("~no-delivery-known", "Blue Teapot Garden")),
        (At(T, "Work", "Equipment", 2), "Mini lodaer", ("~equipment-not-listed", "Mini lodaer")),
    ]  # fmt: skip
    lone = {"Base ston": {"one-seller@Quotes!A7"}, "Granite setts": {"one-seller@Quotes!A7"}}
    return [
        one(kind, at, text, outcome, warnings=lone.get(text, set())) for at, text, outcome in rows
    ]


def twice() -> list[Case]:
    kind = "names twice"
    rows = [
        (At(T, "Suppliers", "Supplier", 2), "THIMBLE QUARRY"), (At(T, "Areas", "Name", 2), "long  arm"),
        (At(T, "Products", "Item", 2), "Garden paver"), (At(T, "Bids", "Bid", 2), "Whole Job"),
        (At(T, "Vehicles", "Vehicle", 2), "pickup"), (At(T, "Disposal", "Way", 2), "Soil box"),
        (At(T, "Checklist", "Line", 2), "Permit and setback check"),
        (At(T, "Outline", "Order", 2), 1), (At(T, "Work", "Method", 2), "by shovel"),
        (At(T, "Scenarios", "Choice", 2), "step:Dig"), (At(C, "Areas", "Name", 3), "Yard"),
        (At(C, "Suppliers", "Supplier", 3), "Quay\u200b Merchant"),
    ]  # fmt: skip
    found = []
    for at, value in rows:
        first = {"Outline": "A", "Work": "A", "Scenarios": "A"}.get(at.sheet)
        cell = f"{at.sheet}!{first}{re.sub(r'[A-Z]', '', at.ref)}" if first else at.cell
        damage = _put(at, value)
        title = f"{at.cell} = {value!r}"
        more = {
            "pickup": {"name-unknown@Disposal!I8"},
            "Whole Job": {"name-unknown@Bid scope!A11", "name-unknown@Bid scope!A12"},
        }.get(str(value), set())
        found.append(Case(kind, title, at.base, damage, frozenset({f"name-twice@{cell}", *more})))
    return found


def _put(at: At, value: object) -> Damage:
    return lambda book: book.put(at.sheet, at.ref, value)  # type: ignore[arg-type]


def invisible() -> list[Case]:
    """Characters that cannot be seen are not part of a name."""
    kind = "zero-width and other hidden letters"
    same = "Base stone"
    texts = [
        "Base\u200b stone", "\ufeffBase stone", "Base stone\u200d", "Base\u00a0stone", "Base\u2009stone",
        "Base \u00adstone", "Base  stone", " Base stone ", "Base stone\n", "Base\tstone", "BASE STONE",
        "base-stone", "Base_x000D_stone", "\u2060Base stone\u2060",
    ]  # fmt: skip
    found = [one(kind, ITEM, text, same) for text in texts]
    controls = ["\u202eBase stone\u202c", "\u2066Base stone\u2069", "\u200fBase stone"]
    return found + [one("right to left", ITEM, text, same) for text in controls]


def look_alike() -> list[Case]:
    """Letters of another alphabet that look like ours: told, never silently another item."""
    kind = "look-alike letters"
    quotes = [("Bаse stone", "Cyrillic a"), ("Base stοne", "Greek o"), ("Ваse stone", "Cyrillic B, a"),
              ("Basе stonе", "Cyrillic e")]  # fmt: skip
    found = [one(kind, ITEM, text, ("~look-alike", "Base stone")) for text, _ in quotes]
    rows = [
        (SELLER, "Blue Teаpot Gardens", ("~look-alike", "Blue Teapot Gardens")),
        (At(T, "Areas", "Build-up"), "Gаrden layers", ("~look-alike", "Garden layers")),
        (At(T, "Areas", "Shape"), "rесtangle", ("~look-alike", "rectangle")),
        (At(T, "Work", "Step"), "Dіg", ("~look-alike", "Dig")),
        (At(C, "Quotes", "Item"), "Сrushed rock 0-32", ("~look-alike", "Crushed rock 0-32")),
        (At(T, "Outline", "Area"), "Раth", ("~look-alike", "Path")),
    ]  # fmt: skip
    found += [one(kind, at, text, outcome) for at, text, outcome in rows]
    return [*found, one(kind, At(T, "Quotes", "Note"), "Щебень", "Щебень"),
            one(kind, At(T, "Quotes", "Price"), "1О.5", "!not-a-measure")]  # fmt: skip


def other_scripts() -> list[Case]:
    kind = "non-ASCII names"
    names = [
        "Çiğdem Taş",
        "石材店",
        "Ångström & Söhne",
        "חצר האבן",
        "متجر الحجر",
        "🪨 Yard",
        "Ñandú 'n' \"Co\"",
    ]

    def renamed(name: str) -> Damage:
        def damage(book: Book) -> None:
            for sheet in ("Quotes", "Suppliers"):
                for row in book.data(sheet):
                    for cell in row:
                        if book.shown(cell) == "Quay Merchant":
                            book.put(sheet, cell.get("r", ""), name)

        return damage

    before = sound(C)[0]
    found = []
    for name in names:
        changes = {p: name for p, v in before.items() if v == "Quay Merchant"}
        which = "right to left" if name in names[3:5] else kind
        found.append(Case(which, f"supplier {name}", C, renamed(name), changes=changes))
    notes = ["naïve café", "½ ton à 12 €", "<b>bold</b> & <script>", "=1+1", "a" * 30000]
    found += [one(kind, At(C, "Quotes", "Note"), text, "!formula-as-text" if text[0] == "=" else text)
              for text in notes]  # fmt: skip

    def right_to_left(book: Book) -> None:
        book.save_trees()
        view = '<sheetViews><sheetView rightToLeft="1" workbookViewId="0"/></sheetViews><sheetData'
        book.replace(book.part("Quotes"), "<sheetData", view)

    return [*found, Case("right to left", "sheet shown right to left", T, right_to_left)]


GROUPS = (unknown, twice, invisible, look_alike, other_scripts)
