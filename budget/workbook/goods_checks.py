"""What must agree of one good across sheets: a paver's size, a pack's weight and content."""

from __future__ import annotations

import re

from budget import reference
from budget.job import Quote
from budget.units import BULK_DENSITY, DENSITY, Kind, in_words
from budget.workbook.build import Draft, Drafts
from budget.workbook.plausible import range_of
from budget.workbook.problems import nearest
from budget.workbook.sheets.describe import key
from budget.workbook.table import Notes


def check_pavers(rows: Drafts, notes: Notes) -> None:
    """Pavers whose size nobody has given."""
    products = [d.row for d in rows.get("Products", ()) if d.row.length and d.row.width]
    names = sorted({name for row in products for name in (row.item, row.mix) if name})
    sized = {key(name) for name in names}
    told: set[str] = set()
    for draft in rows.get("Areas", ()):
        name = key(draft.row.paver) if draft.row.paver else ""
        if name not in sized and name not in told and not draft.row.cut_out:
            told.add(name)
            near = nearest(draft.row.paver or "", names)
            says = _size_in(draft.row.paver or "")
            notes.about(draft.record, "paver", "paver-size-assumed", near=near, says=says)


def _size_in(name: str) -> str:
    """What to do with the size that a name holds, whose unit and truth nobody knows.

    >>> _size_in("Slab 60x40"), _size_in("Holland stone")
    (' Its name says 60x40: type the length and width on Products, as measured.', '')
    """
    found = re.search(r"\d[\d.,/]*\s*[x×]\s*\d[\d.,/]*", name, re.IGNORECASE)
    if found is None:
        return ""
    return f" Its name says {found.group()}: type the length and width on Products, as measured."


def check_packs(rows: Drafts, notes: Notes) -> None:
    """Packs whose weight and content cannot both be right."""
    products = {key(d.row.item): d.row for d in rows.get("Products", ())}
    usual = {key(k.item): k for k in reference.product_kinds().values()}
    for draft in rows.get("Quotes", ()):
        quote: Quote = draft.row
        product = products.get(key(quote.item))
        kind = usual.get(key(quote.item))
        if product is not None:
            kind = reference.product_kinds()[product.kind]
        if kind is None or not kind.density or {"holds", "weight", "per"} & draft.bad:
            continue
        if quote.measure in ("count", "length", "area"):
            notes.about(draft.record, "holds", "pack-holds-unit", item=quote.item)
        elif quote.weight is not None:
            own = product.density if product is not None else None
            _check_pack(draft, kind.density, own, notes)


def _check_pack(draft: Draft, density: str, own: float | None, notes: Notes) -> None:
    quote: Quote = draft.row
    usual = reference.coefficient(density)
    low, high = (own, own) if own else (usual.low, usual.high)
    if quote.measure == "mass":
        found, low, high = (quote.weight or 0) / quote.holds, 1.0, 1.0
        shown = f"{found * 100:.0f} % of the stated weight"
        slack, words = range_of("weight by stated"), ("100 %", "100 %")
    else:
        found = (quote.weight or 0) / quote.holds
        kind: Kind = BULK_DENSITY if quote.per in ("cu yd", "m³") else DENSITY
        shown = in_words(found, kind, notes.system)
        slack, words = range_of("density by published"), _both(low, high, kind, notes)
    if not low * slack.least <= found <= high * slack.most:
        texts = {"density": shown, "item": quote.item, "low": words[0], "high": words[1]}
        can = range_of("density of a pack")
        slip = quote.measure == "volume" and not can.never_below <= found <= can.never_above
        code = "bag-cannot-be" if slip else "bag-weight-and-volume"
        notes.about(draft.record, "weight", code, **texts)


def _both(low: float, high: float, kind: Kind, notes: Notes) -> tuple[str, str]:
    return in_words(low, kind, notes.system), in_words(high, kind, notes.system)
