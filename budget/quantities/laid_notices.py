"""What a mason would question about a laid pattern: slivers, odd units, uneven thickness."""

from __future__ import annotations

from collections.abc import Sequence

from budget.job import Area, Job, Notice, Product
from budget.numerals import grouped
from budget.quantities.laid.bonds import unit_for
from budget.quantities.pavers import PaverGroup, surfaces
from budget.reference import coefficient


def laid_notices(groups: Sequence[PaverGroup], job: Job) -> list[Notice]:
    """Notices about the patterns of one part."""
    found = []
    for group in groups:
        questions = (_unfit(group), _slivers(group, job), _unlaid_border(group))
        found += [notice for notice in questions if notice]
    return found + _uneven(groups, job)


def _unfit(group: PaverGroup) -> Notice | None:
    """A pattern that this paver cannot close: two widths must make a length."""
    sizes = group.sizes
    if unit_for(group.pattern.name, *(s.value for s in (sizes.length, sizes.width, sizes.joint))):
        return None
    row: Area | Product = group.product or group.pieces[0].row
    share = max(sizes.length.value, sizes.width.value) / min(sizes.length.value, sizes.width.value)
    return _notice(
        row, "length" if group.product else "pattern", "pattern-unfit",
        f"{group.item} in {group.pattern.name}, {grouped(share, 2)} times as long as wide",
        "pavers about twice as long as wide",
        "Choose another pattern or paver; until then a percentage stands for the count.",
    )  # fmt: skip


def _slivers(group: PaverGroup, job: Job) -> Notice | None:
    laid = group.laid
    if laid is None or not laid.slivers:
        return None
    system, least = job.settings.units, coefficient("smallest piece")
    strips = "a strip" if laid.slivers == 1 else f"{laid.slivers} strips"
    return _notice(
        group.pieces[0].row, "pattern", "sliver",
        f"{strips} of {group.item}, as narrow as {laid.narrowest.words(system)}, in {laid.part}",
        f"cut strips of at least {least.figure().words(system)} ({least.cited})",
        "Shift the start, widen the joints a little or change the size by that much.",
    )  # fmt: skip


def _unlaid_border(group: PaverGroup) -> Notice | None:
    row = group.pieces[0].row
    if not row.border or group.inside is not None:
        return None
    return _notice(
        row, "border", "border-unlaid", f"a border of {row.border} that cannot be laid out",
        "one paver on shapes with their sizes",
        "Give the sizes, or count the border units yourself on Extras; they are left out here.",
    )  # fmt: skip


def _uneven(groups: Sequence[PaverGroup], job: Job) -> list[Notice]:
    """Pavers of one surface that differ in thickness by more than the notes allow."""
    heights = {(height.value, item): height for item, _, height in surfaces(groups)}
    if not heights:
        return []
    (low, thin), (high, thick) = min(heights), max(heights)
    most = coefficient("lippage")
    if high - low <= most.likely * 1.001:
        return []
    system, row = job.settings.units, groups[0].pieces[0].row
    thinner, thicker = heights[low, thin].words(system), heights[high, thick].words(system)
    return [
        _notice(
            row, "paver", "uneven-pavers",
            f"{thin} {thinner} thick beside {thick} {thicker}",
            f"pavers of one thickness ({most.cited})",
            "The thinner ones are bedded deeper, and that bedding is counted; better raise the "
            "base below them, or choose pavers of one thickness.",
        )
    ]  # fmt: skip


def _notice(
    row: Area | Product, column: str, code: str, found: str, expected: str, mend: str
) -> Notice:
    place = row.place
    cell = row.cell(column)
    return Notice(place.sheet, place.row, cell, code, found, expected, mend, "warning")
