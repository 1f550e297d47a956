"""The documented defaults that the quantities rest on, each listed once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from budget.figures import Figure, inputs
from budget.job import Assumption, Job
from budget.quantities.site import Site
from budget.reference import coefficients
from budget.units import System

_LAYOUT_SHEETS = {
    "pattern": "Areas",
    "swell": "Job",
    "density dug": "Job",
    "compacted": "Job",
    "old": "Areas",
}


def from_figures(figures: Iterable[Figure], system: System) -> set[Assumption]:
    """Every default among the inputs of some figures, and every assumed geometry."""
    found = set()
    for figure in figures:
        for leaf in inputs(figure):
            if leaf.origin == "default":
                found.add(_assumption(leaf, system))
            elif leaf.origin == "laid out" and leaf.source in ("as of a square", "right-angled"):
                found.add(Assumption(f"{leaf.name} ({leaf.key})", leaf.words(system), leaf.source,
                                     "Areas"))  # fmt: skip
    return found


def _assumption(leaf: Figure, system: System) -> Assumption:
    name = leaf.key.removeprefix("reference:")
    known = coefficients().get(name)
    if known:
        return Assumption(known.what, leaf.words(system), known.cited, known.sheet)
    sheet = next((s for start, s in _LAYOUT_SHEETS.items() if name.startswith(start)), "")
    return Assumption(leaf.name, leaf.words(system), leaf.source, sheet)


def of_the_job(job: Job, sites: Sequence[Site]) -> set[Assumption]:
    """Choices taken because the workbook is silent."""
    found = set()
    if any(site.levels is None for site in sites):
        found.add(
            Assumption("finished level", "level with the ground around", "common practice", "")
        )
    if sites and "ground" not in job.settings.places:
        found.add(Assumption("ground", job.settings.ground, "common practice", "Job"))
    for site in sites:
        found |= _of_a_site(site)
    return found


def _of_a_site(site: Site) -> set[Assumption]:
    part, layers = site.part.name, site.layers
    found = set()
    for group in site.groups:
        if group.pattern_assumed:
            what = f"laying pattern, {part}"
            found.add(Assumption(what, group.pattern.name, "common practice", "Areas"))
    if site.levels and any(fill.value for fill in site.levels.fill.values()):
        what = f"fill below the base, {part}"
        found.add(Assumption(what, "base stone, compacted in lifts", "common practice", "Levels"))
    if layers.restraint_assumed:
        found.add(Assumption(f"edge restraint, {part}", "edging", "common practice", "Build-up"))
    if layers.geotextile_assumed:
        value = "yes, a quote is there" if layers.geotextile else "none, no quote is there"
        found.add(Assumption(f"geotextile, {part}", value, "common practice", "Build-up"))
    if not layers.filler:
        for name in site.beddings:
            what = f"joint filler with {name} bedding, {part}"
            found.add(
                Assumption(
                    what, site.fillers[name], "usual for the bedding (common practice)", "Build-up"
                )
            )
    return found
