"""What must agree across the rows and sheets of a workbook."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from budget import reference
from budget.job import Area, Product, Quote, Settings
from budget.numerals import date
from budget.workbook.build import Draft, Drafts
from budget.workbook.goods_checks import check_packs, check_pavers
from budget.workbook.problems import nearest
from budget.workbook.sheets.describe import key
from budget.workbook.sheets.walls import NEEDED
from budget.workbook.table import Notes

_SIZES: dict[str, tuple[str, ...]] = {
    "rectangle": ("length", "width"),
    "triangle": ("length", "width"),
    "ellipse": ("length", "width"),
    "circle": ("diameter",),
    "half circle": ("diameter",),
    "quarter circle": ("diameter",),
    "ring": ("diameter", "inner_diameter"),
    "measured": ("area", "perimeter"),
    "polygon": (),
    "walked": (),
    "offsets": (),
    "curved offsets": (),
}
#: For each shape listed on Outline: the fewest rows, and the columns that every row needs.
_LISTED: dict[str, tuple[int, tuple[str, ...]]] = {
    "polygon": (3, ("x", "y")),
    "walked": (3, ("length",)),
    "offsets": (2, ("length",)),
    "curved offsets": (2, ("length",)),
}


def check_all(rows: Drafts, settings: Settings, notes: Notes) -> None:
    """Every check that looks at more than one cell."""
    _name_areas(rows)
    check_shapes(rows, notes)
    settle_items(rows)
    check_items(rows, notes)
    check_walls(rows, notes)
    check_stock(rows, notes)
    check_sellers(rows, notes)
    check_machines(rows, notes)
    check_pavers(rows, notes)
    check_packs(rows, notes)
    check_dates(rows, settings, notes)
    check_checklist(rows, notes)
    check_bid_scope(rows, notes)
    check_pins(rows, notes)


def _name_areas(rows: Drafts) -> None:
    """A shape without a name goes by its part's name, the second one as ``Terrace 2``."""
    taken = {key(d.row.name) for d in rows.get("Areas", ()) if d.row.name}
    for draft in rows.get("Areas", ()):
        if draft.row.name:
            continue
        name, count = draft.row.part, 1
        while key(name) in taken:
            count += 1
            name = f"{draft.row.part} {count}"
        taken.add(key(name))
        draft.change(name=name)


def check_shapes(rows: Drafts, notes: Notes) -> None:
    """Every shape has the sizes it needs, and its rows on Outline if it is listed there."""
    listed = set()
    outline: dict[str, list[Draft]] = {}
    for draft in rows.get("Outline", ()):
        outline.setdefault(key(draft.row.area), []).append(draft)
    for draft in rows.get("Areas", ()):
        area: Area = draft.row
        if "shape" in draft.bad:
            continue
        for name in _SIZES[area.shape]:
            if getattr(area, name) is None and name not in draft.bad:
                title = draft.record.sheet.column(name).title
                words = {"title": title, "shape": area.shape}
                notes.about(draft.record, name, "size-missing", **words)
        if area.shape == "ring" and (area.inner_diameter or 0) >= (area.diameter or 1e9):
            notes.about(draft.record, "inner_diameter", "ring-upside-down")
        for one, other in (("x", "y"), ("y", "x")):
            alone = getattr(area, one) is None and getattr(area, other) is not None
            if alone and one not in draft.bad:
                notes.about(draft.record, one, "half-placed", title=one.upper())
        if area.shape in _LISTED:
            listed |= {key(area.name), key(area.part)}
            _check_outline(draft, outline, notes)
    for draft in rows.get("Outline", ()):
        if key(draft.row.area) not in listed:
            notes.about(draft.record, "area", "corners-not-used")


def _check_outline(draft: Draft, outline: dict[str, list[Draft]], notes: Notes) -> None:
    area: Area = draft.row
    found = outline.get(key(area.name)) or outline.get(key(area.part)) or []
    least, needed = _LISTED[area.shape]
    if len(found) < least:
        what = "offsets" if "offsets" in area.shape else "corners"
        words = {"area": area.name, "what": what, "least": str(least)}
        notes.about(draft.record, "shape", "corners-missing", f"{len(found)} {what}", **words)
    inner = found[2:-1] if area.shape == "walked" else []
    for rows_, names in ((found, needed), (inner, ("diagonal",))):
        for row in rows_:
            for name in names:
                if getattr(row.row, name) is None and name not in row.bad:
                    title = row.record.sheet.column(name).title
                    words = {"title": title, "shape": area.shape}
                    notes.about(row.record, name, "size-missing", **words)


def check_walls(rows: Drafts, notes: Notes) -> None:
    """Every wall, ring, column and flight of steps has the sizes it needs."""
    for draft in rows.get("Walls", ()):
        for name in NEEDED.get(draft.row.kind, ()):
            if getattr(draft.row, name) is None and name not in draft.bad:
                title = draft.record.sheet.column(name).title
                notes.about(draft.record, name, "size-missing", title=title, shape=draft.row.kind)
        for one, other in (("x", "y"), ("y", "x")):
            alone = getattr(draft.row, one) is None and getattr(draft.row, other) is not None
            if alone and one not in draft.bad:
                notes.about(draft.record, one, "half-placed", title=one.upper())


def check_stock(rows: Drafts, notes: Notes) -> None:
    """Pieces are cut from a stock of a known length, and a size of timber is a known one."""
    known: dict[str, Draft] = {}
    sizes = {key(name) for name in reference_sizes()}
    for draft in rows.get("Products", ()):
        product: Product = draft.row
        if product.kind == "timber" and product.size and key(product.size) not in sizes:
            near = nearest(product.size, reference_sizes())
            notes.about(draft.record, "size", "size-unknown", f"'{product.size}'", near=near)
        if product.kind in ("timber", "steel section"):
            known.setdefault(key(product.item), draft)
            known.setdefault(key(product.size), draft)
    for draft in rows.get("Pieces", ()):
        stock = known.get(key(draft.row.stock))
        if stock is None:
            names = [d.row.item for d in known.values()]
            near = nearest(draft.row.stock, names) or "Add it to Products, as timber or steel."
            notes.about(draft.record, "stock", "name-unknown", f"'{draft.row.stock}'",
                        sheet="Products", near=near)  # fmt: skip
        elif stock.row.length is None and "length" not in stock.bad:
            title = stock.record.sheet.column("length").title
            notes.about(stock.record, "length", "size-missing", title=title, shape="stock length")


def reference_sizes() -> list[str]:
    """Nominal sizes of timber whose true sizes are known."""
    return [row["nominal"] for row in reference.rows("lumber")]


def known_items(rows: Drafts) -> dict[str, str]:
    """Every item the job may need: usual materials, pavers, products, extras, base items."""
    found = [kind.item for kind in reference.product_kinds().values() if kind.kind != "extra"]
    found += [d.row.item for d in (*rows.get("Extras", ()), *rows.get("Products", ()))]
    found += [name for d in rows.get("Areas", ()) for name in (d.row.paver, d.row.border)]
    found += [d.row.mix for d in rows.get("Products", ())]
    found += [d.row.item for d in rows.get("Trenches", ())]
    found += [name for d in rows.get("Walls", ()) for name in (d.row.unit, d.row.cap)]
    found += [d.row.base_item for d in rows.get("Build-up", ())]
    return {key(name): name for name in reversed(found) if name}


def settle_items(rows: Drafts) -> None:
    """Write every item as its defining sheet does."""
    known = known_items(rows)
    for sheet, name in (
        ("Quotes", "item"), ("Stock", "item"), ("Areas", "paver"), ("Areas", "border"),
        ("Build-up", "base_item"),
        ("Products", "item"), ("Extras", "item"), ("Walls", "unit"), ("Walls", "cap"),
    ):  # fmt: skip
        for draft in rows.get(sheet, ()):
            item = getattr(draft.row, name)
            if item and known.get(key(item), item) != item:
                draft.change(**{name: known[key(item)]})


def check_items(rows: Drafts, notes: Notes) -> None:
    """Items by their trade names; one that nothing knows is probably misspelt."""
    known = known_items(rows)
    called = {key(name): item for name, item in reference.trade_names().items()}
    for sheet in ("Quotes", "Stock"):
        for draft in rows.get(sheet, ()):
            name = key(draft.row.item)
            if name in known:
                continue
            if name in called:
                notes.about(draft.record, "item", "item-read-as", item=called[name])
                draft.change(item=called[name])
                continue
            near = nearest(draft.row.item, known.values())
            notes.about(draft.record, "item", "item-not-needed", near=near)


def check_sellers(rows: Drafts, notes: Notes) -> None:
    """Sellers nobody knows how goods come from, and items only one seller has quoted."""
    known = {key(d.row.supplier): d.row.supplier for d in rows.get("Suppliers", ())}
    told: set[str] = set()
    sellers: dict[str, set[str]] = {}
    for draft in rows.get("Quotes", ()):
        quote: Quote = draft.row
        sellers.setdefault(quote.item, set()).add(key(quote.supplier))
        if key(quote.supplier) not in known and key(quote.supplier) not in told:
            told.add(key(quote.supplier))
            near = nearest(quote.supplier, known.values())
            notes.about(draft.record, "supplier", "no-delivery-known", near=near)
    single = sorted(item for item, names in sellers.items() if len(names) == 1)
    if single:
        first = next(d for d in rows["Quotes"] if d.row.item in single)
        shown = "one seller" if len(single) == 1 else f"one seller for {len(single)} items"
        notes.about(first.record, "item", "one-seller", shown, items=", ".join(single))


def check_machines(rows: Drafts, notes: Notes) -> None:
    """Machines that a method needs and no row of Equipment offers."""
    known = {key(d.row.equipment): d.row.equipment for d in rows.get("Equipment", ())}
    for draft in rows.get("Work", ()):
        name = draft.row.equipment
        if name and key(name) in known:
            draft.change(equipment=known[key(name)])
        elif name:
            near = nearest(name, known.values())
            notes.about(draft.record, "equipment", "equipment-not-listed", near=near)


def check_dates(rows: Drafts, settings: Settings, notes: Notes) -> None:
    """Prices and offers that have run out."""
    for draft in _dated(rows):
        until: dt.date | None = draft.row.valid_until
        if until is not None and until < settings.as_of:
            shown = f"valid until {date(until)}"
            words = {"as_of": date(settings.as_of)}
            notes.about(draft.record, "valid_until", "expired", shown, **words)


def _dated(rows: Drafts) -> Iterable[Draft]:
    return (d for sheet in ("Quotes", "Bids", "Equipment") for d in rows.get(sheet, ()))


def check_checklist(rows: Drafts, notes: Notes) -> None:
    """An answer "priced" needs its amount; usual lines are written our way."""
    usual = {key(row["line"]): row["line"] for row in reference.rows("checklist")}
    for draft in rows.get("Checklist", ()):
        draft.change(line=usual.get(key(draft.row.line), draft.row.line))
        unpriced = draft.row.answer == "priced" and draft.row.amount is None
        if unpriced and not {"amount", "answer"} & draft.bad:
            notes.about(draft.record, "amount", "answer-without-amount")


def check_bid_scope(rows: Drafts, notes: Notes) -> None:
    """An extra needs its price, a deduct its steps; usual items are written our way."""
    usual = {key(r["item"]): r["item"] for r in reference.rows("bid_scope")}
    usual |= {key(r["line"]): r["line"] for r in reference.rows("checklist")}
    usual |= {key(d.row.line): d.row.line for d in rows.get("Checklist", ())}
    answered = [d.row for d in rows.get("Checklist", ()) if d.row.answer == "in bid"]
    included = {(key(row.line), key(row.bid)) for row in answered}
    for draft in rows.get("Bid scope", ()):
        draft.change(item=usual.get(key(draft.row.item), draft.row.item))
        unpriced = draft.row.answer == "extra" and draft.row.extra is None
        if unpriced and not {"extra", "answer"} & draft.bad:
            notes.about(draft.record, "extra", "extra-without-price")
        inside = (key(draft.row.item), key(draft.row.bid)) in included
        if inside and draft.row.answer in ("no", "extra"):
            notes.about(draft.record, "answer", "scope-says-otherwise", draft.row.answer)
        if draft.row.deduct is not None:
            _check_deduct(draft, rows, notes)


def _check_deduct(draft: Draft, rows: Drafts, notes: Notes) -> None:
    """A deduct is for some, and not all, of the steps of the bid that it names."""
    usual = {key(step): step for step in reference.steps()}
    left = [usual.get(key(name), name) for name in draft.row.steps]
    draft.change(item=", ".join(left))
    bids = [d.row for d in rows.get("Bids", ()) if key(d.row.bid) == key(draft.row.bid)]
    if not bids:
        if not draft.row.bid:
            notes.about(draft.record, "bid", "deduct-of-no-bid")
        return  # a bid that is not there is refused elsewhere
    covered = set(bids[0].steps)
    if covered and not set(left) < covered:
        notes.about(
            draft.record, "item", "deduct-outside", draft.row.item,
            steps=", ".join(sorted(covered)),
        )  # fmt: skip


_PIN_KINDS = ("bedding", "disposal", "part", "item", "goods", "step", "machine")


def check_pins(rows: Drafts, notes: Notes) -> None:
    """Every pinned choice names something that the workbook knows."""
    known: dict[str, list[str]] = {
        "part": [d.row.part for d in (*rows.get("Areas", ()), *rows.get("Extras", ()))],
        "goods": [d.row.supplier for d in rows.get("Quotes", ())],
        "step": list(reference.steps()),
    }
    for sheet, kind in (("Areas", "part"), ("Quotes", "goods")):
        if sheet in notes.unread():
            del known[kind]
    for draft in rows.get("Scenarios", ()):
        kind, colon, subject = draft.row.choice.partition(":")
        kind = next((k for k in _PIN_KINDS if key(k) == key(kind)), kind.strip())
        needs_subject = kind not in ("bedding", "disposal")
        if kind not in _PIN_KINDS or needs_subject != bool(subject.strip()):
            words = {
                "expected": "bedding, disposal, or one of part, item, goods, step and machine "
                "with a colon and a name",
                "near": nearest(kind, _PIN_KINDS) or "For example step:Dig.",
            }
            notes.about(draft.record, "choice", "pin-unknown", **words)
            continue
        names = {key(n): n for n in known.get(kind, [subject])}
        if subject and key(subject) not in names:
            words = {
                "expected": f"a {kind} of this job after the colon",
                "near": nearest(subject, names.values()) or f"Known: {', '.join(names.values())}.",
            }
            notes.about(draft.record, "choice", "pin-unknown", **words)
        elif colon:
            draft.change(choice=f"{kind}:{names[key(subject)].strip()}")
        else:
            draft.change(choice=kind)
