"""A base or pavers beaten down by hand, where the Work sheet names no plate compactor."""

from __future__ import annotations

import re

from budget.figures import Figure, ratio
from budget.job import Job, Notice, Work
from budget.quantities.formulas import base
from budget.quantities.needs.feature import Caution
from budget.reference import coefficient
from budget.units import DEPTH, System, in_words

_BY_HAND = re.compile(r"tamp|by hand|rammed by|mallet", re.IGNORECASE)
_MACHINE = re.compile(r"plate|compact(?!\w* by hand)|roller|rammer|vibrat", re.IGNORECASE)
#: The steps for which published guides want a plate, what for, and what to mind by hand.
_WANTED = {
    "Base": (
        "a plate compactor, to make the base dense (ICPI Construction Tolerances guide: 98 % of "
        "standard Proctor density)",
        "tamp lifts of at most {lift}, keep the stone damp, and expect more settling",
    ),
    "Joint": (
        "a plate compactor, to seat the pavers and settle the joints (Masonry Magazine June 1977 "
        "p. 16: one pass, then 2 or 3 to work sand in)",
        "beat every paver down through a board, and refill the joints as they settle",
    ),
}

TAMPING = (
    "Base",
    "A hand tamper is lifted thousands of times: boots with toe caps, gloves, knees bent, feet "
    "apart, and take turns.",
    "common practice",
)


def by_hand(method: str, equipment: str) -> bool:
    """Whether a way to compact has no machine, going by its words.

    >>> by_hand("hand tamper", ""), by_hand("own plate", ""), by_hand("tamped", "Hand tamper")
    (True, False, True)
    >>> by_hand("compaction by hand", ""), by_hand("compactor", "")
    (True, False)
    """
    if _MACHINE.search(f"{method} {equipment}"):
        return False
    return not equipment or bool(_BY_HAND.search(f"{method} {equipment}"))


def _rows(job: Job, step: str) -> list[Work]:
    return [row for row in job.work if row.step.casefold() == step.casefold()]


def tamped(job: Job) -> bool:
    """Whether the base can only be tamped by hand: so says every row of Work about it."""
    ways = _rows(job, "Base")
    return bool(ways) and all(by_hand(row.method, row.equipment) for row in ways)


def tamping_words(area: Figure, compacted: Figure, system: System) -> str:
    """How to tamp a base by hand, such as ``2 lifts of 2 in, tamped by hand until it rings``.

    :param area: area of the base with its overrun [m²], not nothing
    :param compacted: base with any fill [m³ compacted]
    """
    depth = ratio("depth to compact", DEPTH, compacted, area)
    count = round(base.lifts(depth, coefficient("tamper lift").figure()).value)
    each = in_words(depth.value / max(1, count), DEPTH, system, 1)
    lifts = f"one lift of {each}" if count <= 1 else f"{count} lifts of {each}"
    return f"{lifts}, tamped by hand until it rings"


def tamping_notices(job: Job) -> list[Notice]:
    """A warning about each way on Work that does without a plate where guides want one."""
    lift = coefficient("tamper lift")
    thin = in_words(lift.likely, DEPTH, job.settings.units, 1)
    return [
        Notice(
            row.place.sheet, row.place.row, row.cell("method"), "no-plate",
            f"{row.method} for {step}, without a machine", wanted,
            f"Rent or borrow one for those days. By hand, {care.format(lift=thin)}.", "warning",
        )
        for step, (wanted, care) in _WANTED.items()
        for row in _rows(job, step)
        if by_hand(row.method, row.equipment)
    ]  # fmt: skip


def tamping_cautions(job: Job, cautions: tuple[Caution, ...]) -> tuple[Caution, ...]:
    """The same cautions, that of the plate on the base exchanged where there is none."""
    if not tamped(job):
        return cautions
    return tuple(TAMPING if caution[0] == "Base" else caution for caution in cautions)
