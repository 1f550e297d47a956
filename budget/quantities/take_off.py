"""The takeoff: every quantity of the job, from its sketch."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from budget.figures import Figure
from budget.job import Job, Notice
from budget.quantities import assumptions
from budget.quantities.laid_notices import laid_notices
from budget.quantities.layers import bedding_notice, layer_notices, layers_of, roll_notice
from budget.quantities.materials import Materials
from budget.quantities.needs import ground as ground_needs
from budget.quantities.needs import surface
from budget.quantities.needs.beddings import beddings_of, filler_for, offered, pair_notices
from budget.quantities.needs.consumables import consumables
from budget.quantities.needs.cutting_way import paver_cuts, way_to_cut
from budget.quantities.needs.extras import extras
from budget.quantities.needs.fabric import fabrics
from budget.quantities.needs.features import features
from budget.quantities.needs.features_on_plan import outlines, with_features
from budget.quantities.needs.fire import fire_cautions
from budget.quantities.needs.handling import lifting, people_of
from budget.quantities.needs.stock import Shelf
from budget.quantities.needs.tamping import tamping_cautions, tamping_notices
from budget.quantities.needs.trenches import trenching
from budget.quantities.paver_notices import joint_notices, paver_notices, paver_unclear
from budget.quantities.pavers import cut_of, drawings, groups_of, thickest
from budget.quantities.plan.outlines import drawing
from budget.quantities.plan.parts import Part, parts_of
from budget.quantities.plan.placing import place
from budget.quantities.site import Site
from budget.quantities.site_levels import levels_of
from budget.quantities.stones import NOT_SPLIT
from budget.quantities.takeoff import Need, PartGeometry, StepAmount, Takeoff
from budget.reference import steps
from budget.reference.tables import grounds


def take_off(job: Job) -> Takeoff:
    """Every quantity of a job: needs, step amounts, beddings, geometry, spoil.

    What the workbook leaves blank takes documented defaults, which ``assumed`` lists. A shape
    that cannot be (an outline that crosses itself) is named in ``warnings`` with severity
    ``problem`` and left out. The result does not depend on the order of rows.

    >>> from budget.job import Area, Place, Settings
    >>> settings = Settings(place=Place("Job", 1))
    >>> terrace = Area(place=Place("Areas", 2), part="Terrace", length=6.096, width=3.048)
    >>> found = take_off(Job(settings=settings, areas=(terrace,)))
    >>> found.parts[0].base_area.words("imperial")
    '231 sq ft'
    """
    materials = Materials(job)
    parts, faults = parts_of(with_features(job, materials))
    parts, overlaps = place(parts, job.settings.units)
    sites = _sites(parts, materials)
    shelf = Shelf(job.stock)
    ground = grounds()[job.settings.ground]
    needs: list[Need] = []
    amounts: list[StepAmount] = []
    spoil: list[StepAmount] = []
    sites, heights = _with_levels(sites)
    dug = [ground_needs.dig(site, ground) for site in sites]
    for site, below in zip(sites, dug, strict=True):
        amounts += below.steps
        spoil += below.spoil
        for more, work in _layers(site, shelf):
            needs += more
            amounts += work
    covered = fabrics(sites)
    needs += covered.needs
    amounts += covered.steps
    counted, building, silent = extras(job, materials, shelf)
    needs += counted
    amounts += building
    trenches = trenching(job, materials, ground)
    needs += trenches.needs
    amounts += trenches.steps
    spoil += trenches.spoil
    built = features(job, materials, ground, shelf)
    needs += built.needs
    amounts += built.steps
    spoil += built.spoil
    density = ground_needs.spoil_density(dug, [*trenches.spoil, *built.spoil], ground)
    cuts = [
        cut
        for site in sites
        for group in site.groups
        for cut in paver_cuts(group, materials, bool(site.optional))
    ]
    cuts += built.cuts
    assumed = assumptions.of_the_job(job, sites) | set(silent) | set(trenches.assumed)
    plates = tuple(run for site in sites if (run := ground_needs.plate(site)))
    figures = _all_figures(needs, [*amounts, *spoil], density) + built.figures()
    figures += [run.hours for run in plates]
    assumed |= assumptions.from_figures(figures, job.settings.units)
    found = {*faults, *overlaps, *heights, *trenches.notices, *built.notices, *_notices(sites, job)}
    found.update(tamping_notices(job) if sites else ())
    return Takeoff(
        needs=tuple(sorted(needs, key=_need_order)),
        steps=tuple(sorted(amounts, key=_step_order)),
        beddings=beddings_of(sites),
        parts=tuple(_geometry(site) for site in sites),
        spoil=tuple(sorted(spoil, key=_step_order)),
        spoil_density=density,
        assumed=tuple(sorted(assumed, key=lambda a: (a.sheet, a.what, a.value, a.source))),
        warnings=tuple(sorted(found)),
        cautions=(
            *tamping_cautions(job, _cautions(amounts, needs)),
            *fire_cautions(job),
            *trenches.cautions,
            *built.cautions,
            *lifting(needs, job.settings.units, people_of(job.settings)),
        ),
        earthwork=tuple(below.earthwork for below in dug if below.earthwork),
        compaction=plates,
        cutting=(*built.cutting, *covered.cutting),
        spans=tuple(built.spans),
        consumables=tuple(consumables(sites, cuts, needs, job.settings)),
        not_split=" and ".join(sorted({cut.material for cut in cuts} & set(NOT_SPLIT))),
        way_to_cut=way_to_cut(cuts, job.settings.units),
        features=outlines(job, materials),
    )


def _sites(parts: Sequence[Part], materials: Materials) -> list[Site]:
    layers = [layers_of(part, materials) for part in parts]
    choice = offered(materials, layers)
    found = []
    for part, layer in zip(parts, layers, strict=True):
        names = (layer.bedding,) if layer.bedding else choice
        groups = groups_of(part, materials)
        found.append(
            Site(
                part=part,
                layers=layer,
                groups=groups,
                beddings=names,
                fillers={name: filler_for(layer, name, materials) for name in names},
                area=part.area(),
                base_area=part.base_area(layer.overrun),
                height=thickest(groups),
                materials=materials,
            )
        )
    return found


def _with_levels(sites: Sequence[Site]) -> tuple[list[Site], list[Notice]]:
    """The sites with the heights measured on each, and what is wrong with those."""
    found, notices = [], []
    for site in sites:
        stacks = {name: site.stack(name).value for name in site.beddings}
        levels, against = levels_of(site.part, stacks, site.materials.job)
        found.append(replace(site, levels=levels))
        notices += against
    return found, notices


def _layers(site: Site, shelf: Shelf) -> Iterable[tuple[list[Need], list[StepAmount]]]:
    yield ground_needs.base_stone(site)
    yield ground_needs.bed(site)
    yield surface.edge(site, shelf)
    yield surface.pavers(site, shelf)
    yield surface.filler(site)


def _geometry(site: Site) -> PartGeometry:
    part = site.part
    outlines, holes, labels = drawing(part, site.materials.job.settings.units)
    return PartGeometry(
        part=part.name,
        area=site.area,
        base_area=site.base_area,
        edge=part.edge("whole", f"{part.name} edge"),
        restrained=surface.restrained(site),
        cut_length=cut_of(site.groups, part.name),
        outlines=outlines,
        holes=holes,
        optional=part.optional,
        labels=labels,
        placed=any(piece.region for piece in part.added),
        laid=drawings(site.groups),
        base_depth=site.layers.base_depth,
    )


def _notices(sites: Sequence[Site], job: Job) -> set[Notice]:
    geotextile = [site.materials for site in sites if site.layers.geotextile]
    found: set[Notice] = set(roll_notice(geotextile[0])) if geotextile else set()
    for site in sites:
        found.update(paver_unclear(site.part, site.materials))
        found.update(layer_notices(site.part, site.layers, job))
        found.update(pair_notices(site))
        found.update(laid_notices(site.groups, job))
        for group in site.groups:
            found.update(paver_notices(group, job))
        for name in site.beddings:
            found.update(bedding_notice(site.layers, name, job))
            for group in site.groups:
                found.update(joint_notices(group, site.fillers[name], name, job))
    return found


def _all_figures(
    needs: Iterable[Need], amounts: Iterable[StepAmount], density: Figure
) -> list[Figure]:
    figures = [density]
    for need in needs:
        figures += [need.net, need.order, need.overage, *need.measures.values()]
    return figures + [amount.amount for amount in amounts]


def _cautions(
    amounts: Iterable[StepAmount], needs: Sequence[Need]
) -> tuple[tuple[str, str, str], ...]:
    done = {amount.step for amount in amounts}
    if done or needs:
        done.add("Carry")
    return tuple(
        (step.step, step.caution, step.caution_source)
        for step in steps().values()
        if step.caution and step.step in done
    )


def _need_order(need: Need) -> tuple[object, ...]:
    step = steps()[need.step].order
    return (step, need.item, need.part, need.bedding, need.optional, need.order.value)


def _step_order(amount: StepAmount) -> tuple[object, ...]:
    step = steps()[amount.step].order
    return (step, amount.part, amount.bedding, amount.optional, amount.amount.value)
