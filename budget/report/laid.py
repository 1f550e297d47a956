"""The laid patterns that are drawn, and what each drawing shows: for page and workbook alike."""

from __future__ import annotations

from budget.numerals import grouped
from budget.quantities.takeoff import PatternDrawing, Takeoff
from budget.report import words

#: Pavers drawn one by one on a whole page; beyond them only the cut ones are.
_MOST = 8000


def laid_of(takeoff: Takeoff) -> list[tuple[str, PatternDrawing]]:
    """The laid patterns with their parts; of very many pavers only the cut ones are drawn."""
    found = []
    left = _MOST
    for part in takeoff.parts:
        for laid in part.laid:
            left -= laid.pavers
            found.append((part.part, laid if left >= 0 else laid.cut_only()))
    return found


def laid_words(laid: PatternDrawing, cut_look: str) -> str:
    """What the drawing of one pattern shows; ``cut_look`` is how cut pieces look on it."""
    start = (
        f"Laying starts at the {laid.start}."
        if laid.start
        else "Each shape starts at a corner of its own."
    )
    border = _border(laid)
    counted = _counted(laid)
    if not laid.whole and laid.cut:
        alone = f"{words.count(len(laid.cut), 'cut piece')}, drawn alone: whole pavers would blur."
        return f"{alone}{border} {start}{counted}"
    cut = f"{words.count(len(laid.cut), 'cut piece')} ({cut_look})" if laid.cut else "none cut"
    return f"{words.count(len(laid.whole), 'whole paver')} and {cut}.{border} {start}{counted}"


def _counted(laid: PatternDrawing) -> str:
    """What is ordered, where it is reckoned from another start than the one drawn."""
    whole, cut = laid.counted
    alike = len(laid.cut) == cut and len(laid.whole) in (whole, 0)  # 0: cut ones drawn alone
    if alike or not whole + cut:
        return ""
    return (
        " This is the luckiest start; the order counts the least lucky one, "
        f"{grouped(whole)} whole and {grouped(cut)} cut, so that there are enough from any."
    )


def _border(laid: PatternDrawing) -> str:
    if not laid.border:
        return ""
    cut = len(laid.border_cut)
    units = len(laid.border_whole) + cut
    some = "none" if not cut else "all" if cut == units else f"{grouped(cut)} of them"
    return f" Along the edge a {laid.border}: {words.count(units, 'unit')}, {some} cut."
