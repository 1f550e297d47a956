"""Which beddings the job may be laid on, each as a pair with its joint filler."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from budget.job import Notice
from budget.quantities.layers import Layers
from budget.quantities.materials import Materials
from budget.quantities.pavers import PaverGroup
from budget.quantities.site import Site
from budget.quantities.takeoff import Bedding
from budget.reference.tables import Pair, pairs

#: The beddings by the name that plans use, with the kind of material they are made of.
KIND_OF = {
    "sand": "bedding sand",
    "small gravel": "small gravel",
    "screenings": "screenings",
    "pea gravel": "pea gravel",
}


def offered(materials: Materials, layers: Sequence[Layers]) -> tuple[str, ...]:
    """The beddings that parts without a named one may be laid on.

    Sand is always one of them; the others are if some quote is for them or some build-up names
    them.
    """
    named = {layer.bedding for layer in layers}
    return tuple(
        name
        for name, kind in KIND_OF.items()
        if name == "sand" or name in named or materials.quoted(kind)
    )


def filler_for(layers: Layers, bedding: str, materials: Materials) -> str:
    """The joint filler kind: the one the build-up names, else the usual one of the bedding.

    Of several usual ones the first that has a quote is taken.
    """
    if layers.filler:
        return layers.filler
    usual = sorted((p for p in pairs().values() if p.bedding == bedding and p.usual), key=_rank)
    quoted = [p.filler for p in usual if materials.quoted(p.filler)]
    return quoted[0] if quoted else usual[0].filler


def _rank(pair: Pair) -> int:
    return pair.usual


def beddings_of(sites: Sequence[Site]) -> tuple[Bedding, ...]:
    """The beddings the plan chooses from, with what published notes say of each pair.

    If every part has its bedding named, the one under most of the paving stands for the job.
    """
    free = [site for site in sites if not site.layers.bedding]
    if free:
        return tuple(_bedding(name, free) for name in free[0].beddings)
    if not sites:
        return ()
    by_area: dict[str, float] = defaultdict(float)
    for site in sites:
        by_area[site.beddings[0]] += site.area.value
    most = max(sorted(by_area), key=lambda name: by_area[name])
    return (_bedding(most, [site for site in sites if site.beddings[0] == most]),)


def _bedding(name: str, sites: Sequence[Site]) -> Bedding:
    main = max(sites, key=lambda site: site.area.value)
    found = [(pairs()[name, site.fillers[name]], site) for site in sites]
    against = [(pair, site) for pair, site in found if pair.discouraged]
    pair = against[0][0] if against else pairs()[name, main.fillers[name]]
    return Bedding(
        name=name,
        item=main.materials.item(KIND_OF[name]),
        filler=main.materials.item(main.fillers[name]),
        depth=main.layers.bedding_depth(name),
        discouraged=bool(against),
        allowed=all(allowed(p, site.groups, site.materials) for p, site in against),
        note=pair.note,
        source=pair.source,
    )


def allowed(pair: Pair, groups: Sequence[PaverGroup], materials: Materials) -> bool:
    """Whether the user, or the maker of the paver or of the filler, allows a pair."""
    if materials.job.settings.allow_discouraged or not pair.discouraged:
        return True
    filler = materials.for_need(pair.filler, materials.item(pair.filler))
    products = [filler, *(group.product for group in groups)]
    return any(p is not None and pair.bedding in p.allows.casefold() for p in products)


def pair_notices(site: Site) -> list[Notice]:
    """A discouraged pair that the build-up asks for and nobody allows."""
    row = site.layers.row
    if row is None or not (site.layers.bedding or site.layers.filler):
        return []
    found = []
    for name in site.beddings:
        pair = pairs()[name, site.fillers[name]]
        if pair.discouraged and not allowed(pair, site.groups, site.materials):
            field = "joint_filler" if site.layers.filler else "bedding"
            found.append(
                Notice(
                    row.place.sheet, row.place.row, row.cell(field), "discouraged-pair",
                    f"{pair.filler} over {name} bedding",
                    f"a pair the notes advise ({pair.source})",
                    f"{pair.note} It is computed, but never best unless you or a maker allows it.",
                    "warning",
                )
            )  # fmt: skip
    return found
