"""What one part needs at the surface: pavers, joint filler, and what holds the edge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from budget.figures import Figure, constant, largest, minus, product, ratio, total
from budget.job import Measure, Settings
from budget.numerals import grouped
from budget.quantities.formulas import joints, paving, restraint
from budget.quantities.formulas.spares import spare_share
from budget.quantities.needs.stock import Shelf
from budget.quantities.packing import in_packs
from budget.quantities.pavers import PaverGroup, Sizes, cut_of
from budget.quantities.plan.parts import add
from budget.quantities.site import Site
from budget.quantities.takeoff import Need, StepAmount
from budget.reference import coefficient
from budget.units import AREA, COUNT, LENGTH, MASS, RATIO, per

_MASS_PER_LENGTH = per(MASS, LENGTH)
_ROUNDING = 1e-6  # m, what rounding may leave of an edge that is covered all round


def pavers(site: Site, shelf: Shelf) -> tuple[list[Need], list[StepAmount]]:
    """Pavers by product and pattern, less those on hand; laying and cutting."""
    needs: list[Need] = []
    steps = [
        site.step("Lay", site.area.called(f"area to lay, {site.part.name}")),
        site.step("Cut", cut_of(site.groups, site.part.name)),
    ]
    for group in site.groups:
        for count in _counts(group, site.materials.job.settings):
            need, cleaning = _pavers(site, shelf, count)
            needs += [need] if need else []
            steps += [_cleaning(site, cleaning)] if cleaning is not None else []
    return needs, [step for step in steps if step.amount.value > 0]


@dataclass(frozen=True, slots=True)
class _Count:
    """One kind of paver of one part: what ends up in it, what to order, and why."""

    item: str
    sizes: Sizes
    net: Figure
    order: Figure
    extra: Figure
    why: str


def _counts(group: PaverGroup, settings: Settings) -> list[_Count]:
    """The field of a group and its border; one count if both are of one paver."""
    net, order, extra = group.count(settings)
    field = _Count(group.item, group.sizes, net, order, extra, _why_pavers(group, net, settings))
    border, sizes = group.border, group.border_sizes
    if border is None or sizes is None:
        return [field]
    spares = spare_share(settings)
    why, edged = border.why(spares), border.order(spares)
    if border.item.casefold() == group.item.casefold():
        net = total("field and border", (net, border.units))
        order = total(f"{group.item}, field and border", (order, edged))
        extra = _beyond(net, order)
        return [_Count(group.item, group.sizes, net, order, extra, f"{field.why} {why}")]
    more = _beyond(border.units, edged)
    return [field, _Count(border.item, sizes, border.units, edged, more, why)]


def _beyond(net: Figure, order: Figure) -> Figure:
    return ratio("extra pavers", RATIO, minus("beyond the area", order, net), net)


def _pavers(site: Site, shelf: Shelf, count: _Count) -> tuple[Need | None, Figure | None]:
    """The need of one kind of paver less those on hand, and own hours of cleaning."""
    order, cleaning = shelf.take(count.item, count.order)
    if order.value <= 0:
        return None, cleaning
    module = count.sizes.module
    measures: dict[Measure, Figure] = {
        "count": order,
        "area": product(f"area of {count.item} to order", AREA, order, module),
        "mass": product(f"weight of {count.item}", MASS, order, count.sizes.weight),
    }
    owned = " Those on hand are taken off the order." if cleaning is not None else ""
    packs = in_packs(site.materials.named(count.item), order.value)
    need = site.need(
        "paver", count.item, net=count.net, order=order, overage=count.extra,
        why=f"{count.why}{owned} {packs}".strip(), measures=measures,
    )  # fmt: skip
    return need, cleaning


def _why_pavers(group: PaverGroup, net: Figure, settings: Settings) -> str:
    if group.laid is not None:
        return group.laid.why(group.extra().words("metric"), net, spare_share(settings))
    edges = "curved and straight" if any(p.shape.curved.value for p in group.pieces) else "straight"
    return f"For cuts and breakage: {group.pattern.name} with {edges} edges."


def _cleaning(site: Site, hours: Figure) -> StepAmount:
    return site.step("Build", hours.called(f"{hours.name}, {site.part.name}"))


def filler(site: Site) -> tuple[list[Need], list[StepAmount]]:
    """Joint filler for each bedding: the first filling, and a top-up after settling."""
    share = coefficient("joint top-up").figure()
    volumes = [fill for group in site.groups for fill in _first_fills(group)]
    first = add("first filling", volumes)
    steps = [site.step("Joint", site.area.called(f"area to joint, {site.part.name}"))]
    if first.value <= 0:
        return [], steps
    order = joints.with_top_up(first, share)
    needs = []
    same = len({site.fillers[name] for name in site.beddings}) == 1
    for name in site.beddings[:1] if same else site.beddings:
        kind = site.fillers[name]
        only = "" if same else site.only_under(name)
        item = site.materials.item(kind)
        density = site.materials.density(kind, item)
        mass = joints.filler_mass(order, density)
        needs.append(
            site.need(
                kind, item, net=first, order=order, overage=share,
                why="A first filling, and a top-up once the plate has settled it.",
                measures={"volume": order, "mass": mass}, bedding=only,
            )
        )  # fmt: skip
    return needs, steps


def _first_fills(group: PaverGroup) -> list[Figure]:
    """Joints of the field, and those of a border by its own unit."""
    found = [_first_fill(group.field(), group.sizes)]
    if group.border is not None and group.border_sizes is not None:
        found.append(_first_fill(group.border.area, group.border_sizes))
    return found


def _first_fill(area: Figure, sizes: Sizes) -> Figure:
    low = coefficient("joint low level").figure()
    share = joints.joint_share(sizes.length, sizes.width, sizes.module)
    return joints.first_fill(area, share, sizes.height, low)


def edge(site: Site, shelf: Shelf) -> tuple[list[Need], list[StepAmount]]:
    """What holds the open edge: edging with spikes, a concrete haunch, or nothing."""
    held = restrained(site)
    if held.value <= 0:
        return [], []
    step = site.step("Edge", held)
    if site.layers.restraint == "concrete haunch":
        return [_haunch(site, held)], [step]
    edging, cleaning = _edging(site, held, shelf)
    spikes = _spikes(site, edging)
    needs = [*edging, *([spikes] if spikes else [])]
    return needs, [step, *([_cleaning(site, cleaning)] if cleaning is not None else [])]


def restrained(site: Site) -> Figure:
    """Length of edge held by a restraint [m]."""
    name = f"edge to hold, {site.part.name}"
    if site.layers.restraint == "none":
        return constant(0, LENGTH, name)
    return site.part.edge("open", name)


def _edging(site: Site, held: Figure, shelf: Shelf) -> tuple[list[Need], Figure | None]:
    item = site.materials.item("edging")
    found = site.materials.for_need("edging", item)
    item = found.item if found else item
    piece = (
        found.figure("holds", LENGTH, f"length of one {found.item}")
        if found and found.holds
        else coefficient("edging piece").figure()
    )
    extra = coefficient("overage edging").figure()
    length = paving.with_extra(f"{item} with extra", held, extra)
    count = restraint.pieces(length, piece)
    count, cleaning = shelf.take(item, count)
    if cleaning is not None:
        length = product(f"{item} to buy", LENGTH, count, piece)
    if length.value <= 0:
        return [], cleaning
    heavy = (
        ratio(
            "weight of edging by length",
            _MASS_PER_LENGTH,
            found.figure("weight", paving.PIECE_MASS, f"weight of one {found.item}"),
            piece,
        )
        if found and found.weight
        else coefficient("weight edging").figure()
    )
    measures: dict[Measure, Figure] = {
        "length": length,
        "count": count,
        "mass": product("weight of edging", MASS, length, heavy),
    }
    need = site.need(
        "edging", item, net=held, order=length, overage=extra,
        why="For cut ends; no edging against the house or other paving.", measures=measures,
    )  # fmt: skip
    return [need], cleaning


def _spikes(site: Site, edging: Sequence[Need]) -> Need | None:
    """Spikes by their spacing, less those that come with the edging; nothing if they suffice."""
    item = site.materials.item("spike")
    found = site.materials.for_need("spike", item)
    runs = sum(1 for piece in site.part.pieces if piece.edges.open.value > _ROUNDING)
    spaced = restraint.spikes(
        site.part.edge("open_straight", "straight edge to hold"),
        site.part.edge("open_curved", "curved edge to hold"),
        site.layers.spike_spacing(),
        coefficient("spike spacing curve").figure(),
        constant(runs, COUNT, "one more for each open run"),
    )
    net, why = _beyond_kits(site, spaced, edging)
    if net.value <= 0:
        return None
    extra = coefficient("overage spikes").figure()
    order = paving.with_extra("spikes with extra", net, extra)
    each = (
        found.figure("weight", paving.PIECE_MASS, "weight of one spike")
        if found and found.weight
        else coefficient("weight spike").figure()
    )
    weight = product("weight of spikes", MASS, order, each)
    return site.need(
        "spike", item, net=net, order=order, overage=extra, why=why,
        measures={"count": order, "mass": weight},
    )  # fmt: skip


def _beyond_kits(site: Site, spaced: Figure, edging: Sequence[Need]) -> tuple[Figure, str]:
    """Spikes needed beyond those that come with the edging that is bought [count]."""
    found = site.materials.for_need("edging", site.materials.item("edging"))
    if not found or not found.spikes or not edging:
        return spaced, "For bent ones."
    each = found.figure("spikes", COUNT, f"spikes with one {found.item}")
    with_it = product("spikes with the edging", COUNT, edging[0].measures["count"], each)
    left = minus("spikes beyond the kits", spaced, with_it)
    none = constant(0, COUNT, "none")
    come, asked = grouped(with_it.value), grouped(spaced.value)
    why = f"{come} come with the edging; the spacing asks for {asked}."
    return largest("spikes beyond the kits", none, left), f"{why} The extra is for bent ones."


def _haunch(site: Site, held: Figure) -> Need:
    item = site.materials.item("concrete mix")
    width, height = (coefficient(f"haunch {size}").figure() for size in ("width", "height"))
    net = restraint.haunch(held, width, height)
    extra = coefficient("overage concrete").figure()
    order = paving.with_extra("concrete with extra", net, extra)
    mass = restraint.dry_mix(order, site.materials.density("concrete mix", item))
    return site.need(
        "concrete mix", item, net=net, order=order, overage=extra,
        why="For uneven ground and what stays in the mixer.",
        measures={"volume": order, "mass": mass},
    )  # fmt: skip
