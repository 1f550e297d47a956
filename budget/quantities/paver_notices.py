"""What a mason would question about the pavers themselves: unnamed, too long, wrong joints."""

from __future__ import annotations

from budget.job import Job, Notice
from budget.numerals import grouped
from budget.quantities.materials import Materials
from budget.quantities.pavers import PaverGroup
from budget.quantities.plan.parts import Part
from budget.reference import coefficient


def paver_unclear(part: Part, materials: Materials) -> list[Notice]:
    """A shape that names no paver although Products lists several."""
    several = [p for p in materials.job.products if p.kind == "paver"]
    if len(several) < 2:
        return []
    return [
        Notice(
            piece.row.place.sheet, piece.row.place.row, piece.row.cell("paver"), "paver-unclear",
            "", f"one of the pavers on Products, such as {min(p.item for p in several)}",
            "Name the paver; until then a usual size is assumed.", "warning",
        )
        for piece in part.added
        if not piece.row.paver
    ]  # fmt: skip


def paver_notices(group: PaverGroup, job: Job) -> list[Notice]:
    """A paver too long for its thickness by the published limit."""
    product, sizes = group.product, group.sizes
    limit = coefficient("aspect limit")
    long_ = max(sizes.length.value, sizes.width.value)
    if product is None or long_ <= limit.likely * sizes.height.value * 1.001:
        return []
    found = f"{grouped(long_ / sizes.height.value, 1)} times as long as thick"
    return [
        Notice(
            product.place.sheet, product.place.row, product.cell("length"), "slab", found,
            f"at most {limit.likely:.0f} to 1 ({limit.cited})",
            f"{product.item} is a slab: bed it fully, set it with a rubber mallet and not with the "
            "plate, which cracks slabs (common practice), and keep heavy loads off it.", "warning",
        )
    ]  # fmt: skip


def joint_notices(group: PaverGroup, filler: str, bedding: str, job: Job) -> list[Notice]:
    """A joint that published notes find too wide, or too narrow, for its filler.

    The notes print 3/16 in as 5 mm, so a little beside the limit passes.
    """
    joint = group.sizes.joint
    gravel = filler == "joint gravel"
    limit = coefficient("narrowest gravel joint" if gravel else "widest sand joint")
    if joint.value >= limit.likely * 0.95 if gravel else joint.value <= limit.likely * 1.06:
        return []
    place = group.product or group.pieces[0].row
    bound = "at least" if gravel else "at most"
    system = job.settings.units
    return [
        Notice(
            place.place.sheet, place.place.row,
            place.cell("joint" if group.product else "paver"),
            "joint-narrow" if gravel else "joint-wide",
            f"joints of {joint.words(system)} filled with {filler} ({bedding} bedding)",
            f"{bound} {limit.figure().words(system)} ({limit.cited})",
            "Choose another joint filler or other pavers, or set the true joint on Products.",
            "warning",
        )
    ]  # fmt: skip
