"""The layers under one part: the build-up row that applies, and documented defaults."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from budget.figures import Figure, largest
from budget.job import BuildUp, Job, Notice
from budget.quantities.materials import Materials
from budget.quantities.plan.parts import Part
from budget.reference import coefficient
from budget.units import DEPTH, LENGTH, in_words

#: Published depths are nominal: 100 mm passes for 4 in, 150 mm for 6 in, 25 mm for 1 in.
NOMINAL = 0.98


@dataclass(frozen=True, slots=True)
class Layers:
    """The layer standard of one part."""

    row: BuildUp | None
    base_item: str
    base_depth: Figure  # m, compacted
    overrun: Figure  # m of base past the open edge
    bedding: str  # the one the build-up names, or blank
    filler: str  # the joint filler the build-up names, or blank
    geotextile: bool
    geotextile_assumed: bool
    restraint: str  # edging, concrete haunch, none
    restraint_assumed: bool

    def bedding_depth(self, bedding: str) -> Figure:
        """Depth of a bedding: the build-up's, else the documented one [m]."""
        if self.row and self.row.bedding_depth is not None:
            return self.row.figure("bedding_depth", DEPTH, "bedding depth")
        return coefficient(f"depth {bedding}").figure()

    def spike_spacing(self) -> Figure:
        """Spacing of edging spikes on straight edges [m]."""
        if self.row and self.row.spike_spacing:
            return self.row.figure("spike_spacing", DEPTH, "spike spacing")
        return coefficient("spike spacing").figure()

    def turned_up(self) -> Figure | None:
        """How far geotextile is turned up the sides of the dig [m]; nothing if it lies flat."""
        if self.row and self.row.turned_up:
            return self.row.figure("turned_up", DEPTH, "geotextile turned up")
        return None


def layers_of(part: Part, materials: Materials) -> Layers:
    """The layer standard of one part.

    Without a name in Areas the only build-up row applies; with several rows and no name, the
    documented defaults do.
    """
    job = materials.job
    row = build_up_of(part, job)
    depth = (
        row.figure("base_depth", DEPTH, "base depth")
        if row and row.base_depth is not None
        else coefficient("base depth").figure()
    )
    geotextile = row.geotextile if row else None
    return Layers(
        row=row,
        base_item=(row.base_item if row else "") or _base_item(materials),
        base_depth=depth,
        overrun=_overrun(row, depth),
        bedding=row.bedding if row else "",
        filler=row.joint_filler if row else "",
        geotextile=materials.quoted("geotextile") if geotextile is None else geotextile,
        geotextile_assumed=geotextile is None,
        restraint=(row.restraint if row else "") or "edging",
        restraint_assumed=not (row and row.restraint),
    )


def build_up_of(part: Part, job: Job) -> BuildUp | None:
    """The build-up row of a part, if there is one."""
    return _build_up([p.row.build_up.casefold() for p in part.added if p.row.build_up], job)


def _build_up(names: Sequence[str], job: Job) -> BuildUp | None:
    for row in job.build_ups:
        if names and row.name.casefold() == names[0]:
            return row
    return job.build_ups[0] if not names and len(job.build_ups) == 1 else None


def base_item_of(part: str, materials: Materials) -> str:
    """The base stone that a part's build-up names, else the usual one."""
    job = materials.job
    named = {a.build_up.casefold() for a in job.areas if a.part.casefold() == part.casefold()}
    row = _build_up(sorted(named - {""}), job)
    return (row.base_item if row else "") or _base_item(materials)


def _base_item(materials: Materials) -> str:
    product = materials.of_kind("base")
    return product.item if product else materials.item("base")


def _overrun(row: BuildUp | None, depth: Figure) -> Figure:
    if row and row.overrun is not None:
        return row.figure("overrun", DEPTH, "base past the edge")
    return published_overrun(depth)


def published_overrun(depth: Figure) -> Figure:
    """How far the base runs past the edge: the greater of 6 in and its depth [m].

    Source: ICPI Construction Tolerances guide, over-excavation row.

    >>> from budget.figures import constant
    >>> from budget.units import INCH
    >>> deep = published_overrun(constant(8 * INCH, DEPTH, "base depth"))
    >>> round(deep.value / INCH, 6)
    8.0
    """
    least = coefficient("overrun").figure("least base past the edge")
    return largest("base past the edge", least, depth)


def layer_notices(part: Part, layers: Layers, job: Job) -> list[Notice]:
    """What published notes say against the layers of one part, and names that are not clear."""
    found: list[Notice] = []
    named = {p.row.build_up.casefold() for p in part.added if p.row.build_up}
    place = part.added[0].row
    if len(named) > 1 or (not named and len(job.build_ups) > 1):
        mend = "Name one build-up in each row of this part; the first one, or defaults, are used."
        found.append(
            Notice(
                place.place.sheet, place.place.row, place.cell("build_up"), "build-up-unclear",
                f"no single build-up for {part.name}", "one build-up a part", mend, "warning",
            )
        )  # fmt: skip
    row = layers.row
    if row is None:
        return found
    least = coefficient("least base depth")
    system = job.settings.units
    if row.base_depth is not None and row.base_depth < least.likely * NOMINAL:
        found.append(
            _against(row, "base_depth", "thin-base", layers.base_depth.words(system),
                     f"at least {least.figure().words(system)} ({least.cited})")
        )  # fmt: skip
    floor = published_overrun(layers.base_depth)
    if row.overrun is not None and row.overrun < floor.value * NOMINAL:
        expected = f"at least {floor.words(system)} ({coefficient('overrun').cited})"
        found.append(
            _against(row, "overrun", "short-overrun", layers.overrun.words(system), expected)
        )
    return found


def roll_notice(materials: Materials) -> list[Notice]:
    """A roll of geotextile too narrow to overlap; a usual width is taken instead."""
    roll = materials.of_kind("geotextile")
    overlap = coefficient("geotextile overlap")
    if roll is None or not roll.roll_width or roll.roll_width > overlap.likely:
        return []
    system = materials.job.settings.units
    return [
        Notice(
            roll.place.sheet,
            roll.place.row,
            roll.cell("roll_width"),
            "narrow-roll",
            f"a roll {in_words(roll.roll_width, LENGTH, system)} wide",
            f"wider than its overlap of {overlap.figure().words(system)}",
            "Correct the width; until then a usual roll is assumed.",
            "warning",
        )
    ]


def bedding_notice(layers: Layers, bedding: str, job: Job) -> list[Notice]:
    """A bedding depth outside the published range."""
    row = layers.row
    if row is None or row.bedding_depth is None:
        return []
    range_ = coefficient(f"depth {bedding}")
    if range_.low * NOMINAL <= row.bedding_depth <= range_.high / NOMINAL:
        return []
    system = job.settings.units
    low, high = (in_words(v, DEPTH, system) for v in (range_.low, range_.high))
    found = layers.bedding_depth(bedding).words(system)
    expected = f"{low} to {high} of {bedding} ({range_.cited})"
    return [_against(row, "bedding_depth", "bedding-depth", found, expected)]


def _against(row: BuildUp, field: str, code: str, found: str, expected: str) -> Notice:
    mend = "It is computed as you wrote it; check it against the published notes."
    place = row.place
    return Notice(place.sheet, place.row, row.cell(field), code, found, expected, mend, "warning")
