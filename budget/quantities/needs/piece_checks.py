"""Whether a piece fits into its pocket, and whether a beam bends too far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from budget.job import CutPiece, Job, Notice
from budget.quantities.formulas import span
from budget.quantities.needs.feature import Caution, notice
from budget.quantities.needs.stock_lengths import Stock, true_section
from budget.quantities.takeoff import SpanCheck
from budget.reference import coefficient
from budget.units import DEPTH, LENGTH, MASS, System, in_words

_STRUCTURE = (
    "Build",
    "The span check looks at bending alone. Strength, fixings, footings and anything that people "
    "stand on or under are for a professional and local code.",
    "common practice",
)


def check(row: CutPiece, stock: Stock, system: System) -> list[Notice]:
    """A piece in its pocket: neither too wide for it nor loose in it, by true sizes."""
    section = true_section(row, stock)
    if row.pocket is None or section is None:
        return []
    sides = sorted(side.value for side in section)
    wide = sides[0] if row.on_edge else sides[1]
    room = coefficient("pocket clearance")
    free = row.pocket - wide
    if room.low - 1e-6 <= free <= room.high + 1e-6:
        return []
    size = in_words(wide, DEPTH, system)
    found = f"a piece truly {size} wide in a pocket of {in_words(row.pocket, DEPTH, system)}"
    least, most = (in_words(n, DEPTH, system) for n in (room.low, room.high))
    expected = f"{least} to {most} free ({room.cited})"
    mend = (
        "It does not go in: choose a wider pocket."
        if free < room.low
        else "It is loose: pack it out, or choose a pocket of its true size."
    )
    return [notice(row, "pocket", "piece-does-not-fit", found, expected, mend)]


def span_checks(
    row: CutPiece, every: Sequence[Stock], chosen: Sequence[Stock], job: Job
) -> tuple[list[SpanCheck], list[Notice], list[Caution]]:
    """Bending of the piece, and of every other stock long enough to take its place."""
    if row.span is None or row.load is None:
        return [], [], []
    mine = {stock.item for stock in chosen}
    found = []
    for stock in every:
        inertia = stock.inertia(row.on_edge)
        ripped = row.width is not None and stock.item not in mine
        if inertia is None or stock.length < row.length - 1e-9 or ripped:
            continue
        found.append(_checked(row, stock, stock.item in mine))
    system = job.settings.units
    bad = [check for check in found if check.chosen and not check.holds]
    notices = []
    if bad:
        bends, limit = bad[0].bends.words(system), bad[0].limit.words(system)
        holding = [c.item for c in found if c.holds]
        stiff = f"Of those listed these hold: {', '.join(holding)}. " if holding else ""
        mend = f"{stiff}Or support it once more. Ask a professional where people could be hurt."
        text = f"{row.name} bending {bends} in the middle"
        rule = f"at most {limit} ({coefficient('deflection limit').cited})"
        notices.append(notice(row, "span", "bends-too-far", text, rule, mend))
    return found, notices, [_STRUCTURE]


def _checked(row: CutPiece, stock: Stock, chosen: bool) -> SpanCheck:
    section = true_section(row, stock) if chosen else stock.section
    as_cut = replace(stock, section=section)
    inertia = as_cut.inertia(row.on_edge)
    if inertia is None:
        msg = f"the section of {stock.item} is not known"
        raise ValueError(msg)
    length = row.figure("span", LENGTH, f"span of {row.name}")
    load = row.figure("load", MASS, f"load on {row.name}")
    bends = span.deflection(load, length, stock.material("stiffness"), inertia)
    limit = span.limit(length, coefficient("deflection limit").figure())
    name = f"{stock.item} as {row.name} bends"
    return SpanCheck(row.part, row.name, stock.item, bends.called(name), limit, stock.price, chosen)
