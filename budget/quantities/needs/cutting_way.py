"""What is to be cut in stone and concrete, and which way of cutting suits it: the common ways are
an angle grinder, a paver splitter and a wet saw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from budget.figures import Figure
from budget.quantities.materials import Materials
from budget.quantities.pavers import PaverGroup, Sizes
from budget.quantities.stones import NOT_SPLIT, material_of
from budget.reference import coefficient
from budget.units import DEPTH, LENGTH, System, in_words
from budget.wording import listed


@dataclass(frozen=True, slots=True)
class StoneCut:
    """Cuts through pieces of one thickness and material."""

    item: str
    length: Figure  # m
    curved: float  # m of it along curves
    height: Figure  # m through the piece
    material: str
    optional: bool = False  # in a part that may be left out

    @property
    def splits(self) -> float:
        """Length that a splitter does: straight, in what parts cleanly and is not too thick [m]."""
        thick = self.height.value > coefficient("splitter height").likely * (1 + 1e-9)
        return 0.0 if thick or self.material in NOT_SPLIT else self.length.value - self.curved


def paver_cuts(group: PaverGroup, materials: Materials, optional: bool = False) -> list[StoneCut]:
    """The cuts of one kind of paver, and those of its border, which may be of another.

    Of the curves each size of a mixed set has its share.
    """
    curved = group.edge("free_curved", "curved edge").value
    curved *= 1.0 if group.share is None else group.share.value
    found = [_cut(group.item, group.field_cut(), curved, group.sizes, materials)]
    if group.border is not None and group.border_sizes is not None:
        border = group.border
        found.append(_cut(border.item, border.cut_length, 0.0, group.border_sizes, materials))
    return [replace(cut, optional=optional) for cut in found if cut.length.value > 0]


def _cut(item: str, length: Figure, curved: float, sizes: Sizes, materials: Materials) -> StoneCut:
    material = material_of(materials.named(item))
    return StoneCut(item, length, min(curved, length.value), sizes.height, material)


def way_to_cut(cuts: Sequence[StoneCut], system: System) -> str:
    """Which way of cutting suits all cuts of a job, and why, in words; blank without a cut.

    Little is cut with an angle grinder; much that is straight, with a splitter; else a wet saw.

    >>> from budget.figures import constant
    >>> cut = StoneCut("Paver", constant(3, LENGTH, "cut"), 0, constant(0.06, DEPTH, "h"), "clay")
    >>> way_to_cut([cut], "metric").split(":")[0]
    '3 m to cut, through pieces 60 mm thick'
    """
    length = sum(cut.length.value for cut in cuts)
    if length <= 0:
        return ""
    thick = max(cut.height.value for cut in cuts)
    split = sum(cut.splits for cut in cuts)
    every = " with every optional part" if any(cut.optional for cut in cuts) else ""
    head = f"{_far(length, system)} to cut{every}, through pieces {_thickness(cuts, system)} thick"
    if length <= coefficient("grinder length").likely:
        said = _by_grinder(thick, system)
    elif split >= coefficient("splitter share").likely * length:
        said = _by_splitter(length - split, system)
    else:
        said = _by_saw(cuts, system)
    return f"{head}: {said}{_too_deep(thick, system)}"


def _far(length: float, system: System) -> str:
    return in_words(length, LENGTH, system)


def _deep(depth: float, system: System) -> str:
    return in_words(depth, DEPTH, system, 0 if system == "metric" else None)


def _thickness(cuts: Sequence[StoneCut], system: System) -> str:
    heights = [cut.height.value for cut in cuts]
    thin, thick = _deep(min(heights), system), _deep(max(heights), system)
    return thin if thin == thick else f"from {thin} to {thick}"


def _by_grinder(thick: float, system: System) -> str:
    depth = coefficient("grinder depth").likely
    both = f", about {_deep(depth, system)} deep, so cut from both faces" if thick > depth else ""
    return (
        "an angle grinder suits, as that is little. Use it with a shroud and vacuum, or "
        f"water{both}."
    )


def _by_splitter(rest: float, system: System) -> str:
    other = (
        f" The other {_far(rest, system)} (curves, thick or hard pieces) take a grinder or saw."
        if rest > 0.05
        else ""
    )
    return (
        "a paver splitter suits, as nearly all of it is straight. It raises no dust and wears no "
        f"blade; its edge is rough, so it goes against the edge restraint.{other}"
    )


def _by_saw(cuts: Sequence[StoneCut], system: System) -> str:
    """Why a splitter will not do, longest first."""
    limit = coefficient("splitter height").likely
    curved = sum(cut.curved for cut in cuts)
    hard = sum(c.length.value for c in cuts if c.material in NOT_SPLIT)
    thick = sum(c.length.value for c in cuts if c.height.value > limit * (1 + 1e-9))
    far = _far(curved, system)
    of_it = (
        "all of it"
        if far == _far(sum(cut.length.value for cut in cuts), system)
        else f"{far} of it"
    )
    reasons = [
        (hard, f"{listed(NOT_SPLIT)} does not split cleanly"),
        (curved, f"{of_it} follows curves, where a splitter leaves facets"),
        (thick, f"some pieces are thicker than the {_deep(limit, system)} of a splitter"),
    ]
    why = max(reasons, key=lambda reason: reason[0])[1]
    return f"a wet saw suits, as {why}."


def _too_deep(thick: float, system: System) -> str:
    depth = coefficient("saw depth").likely
    if thick <= depth * (1 + 1e-9):
        return ""
    return (
        f" The thickest are deeper than the {_deep(depth, system)} of a usual saw: "
        "turn them and cut from both faces."
    )
