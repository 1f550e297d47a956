"""The pavers of one part: which product in which pattern covers which shapes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from budget.figures import Figure, constant, largest, minus, product, ratio, total
from budget.job import Area, Product, Settings
from budget.quantities.formulas import paving
from budget.quantities.formulas.spares import given_share, kept, spare_share
from budget.quantities.laid.borders import Border, border_of
from budget.quantities.laid.laid_pattern import RANDOM, LaidPattern, lay_pattern, outlines_of
from budget.quantities.materials import Materials
from budget.quantities.plan.parts import Part, Piece, Ring, add, net_area
from budget.quantities.stones import density_of
from budget.quantities.takeoff import PatternDrawing
from budget.reference import coefficient
from budget.reference.tables import Pattern, patterns
from budget.units import AREA, DEPTH, LENGTH, RATIO

#: Paver, pattern, border unit and border course.
_Key = tuple[str, str, str, str]


@dataclass(frozen=True, slots=True)
class Sizes:
    """True sizes of one paver [m] and its weight [kg]."""

    length: Figure
    width: Figure
    height: Figure
    joint: Figure
    weight: Figure

    @property
    def module(self) -> Figure:
        """Area of one paver with its joint [m²]."""
        return paving.module(self.length, self.width, self.joint)


@dataclass(frozen=True, slots=True)
class PaverGroup:
    """The shapes of one part that one paver in one pattern covers."""

    item: str
    product: Product | None
    sizes: Sizes
    pattern: Pattern
    pattern_assumed: bool
    pieces: tuple[Piece, ...]
    area: Figure
    laid: LaidPattern | None = None  # the pattern on the outline, where that is known
    border: Border | None = None  # of a mixed set, with one of its sizes
    border_sizes: Sizes | None = None
    inside: Figure | None = None  # area inside the border, where one is laid
    share: Figure | None = None  # of the area, for one size of a mixed set

    def edge(self, which: str, name: str) -> Figure:
        """The sum over the shapes of one of their edges [m]."""
        return add(name, [getattr(piece.edges, which) for piece in self.pieces])

    def count(self, settings: Settings) -> tuple[Figure, Figure, Figure]:
        """Pavers neat, to order, and the extra as a ratio of the neat count.

        The order is counted on the outline; where that is not known, a percentage by pattern
        and edge is added to the neat count. General guides mean such a percentage for cuts,
        breakage and repair together: spares stand beside it only if the Job sheet asks for them.
        """
        net = paving.count(self.field(), self.sizes.module)
        if self.laid is not None:
            order = self.laid.order(net, spare_share(settings))
        else:
            extra, share = self.extra(), given_share(settings)
            order = paving.with_extra(f"{self.item} with extra", net, extra)
            if share is None:
                return net, order, extra
            order = total(f"{self.item} with extra and spares", (order, kept(net, share)))
        more = minus("beyond the area", order, net)
        return net, order, ratio("extra pavers", RATIO, more, net)

    def field(self) -> Figure:
        """Area inside the border [m²]."""
        return self.inside or self.area

    def extra(self) -> Figure:
        """Extra pavers for cuts and breakage by a rule of thumb [ratio]."""
        curved = add("curved edge", [piece.shape.curved for piece in self.pieces])
        return paving.overage(
            self.pattern.figure("straight"),
            self.pattern.figure("curved"),
            self.edge("whole", "edge"),
            curved,
        )

    def cut(self) -> Figure:
        """Length of edge to cut pavers to [m]."""
        field = self.field_cut()
        if self.border is None:
            return field
        return add("edge to cut", (field, self.border.cut_length))

    def field_cut(self) -> Figure:
        """Length of edge to cut inside the border [m]; of a mixed set, this size's share."""
        field = self._cut_field()
        if self.share is not None and self.laid is None:
            return product("edge to cut, its share", LENGTH, field, self.share)
        return field

    def _cut_field(self) -> Figure:
        if self.laid is not None:
            return self.laid.cut_length(self.pieces)
        straight = self.edge("free_straight", "straight edge not joined")
        curved = self.edge("free_curved", "curved edge not joined")
        if not straight.value:
            return curved.called("edge to cut")
        return paving.cut_length(straight, curved, self.pattern.cut_figure())


def groups_of(part: Part, materials: Materials) -> tuple[PaverGroup, ...]:
    """The shapes of a part by paver and pattern; a cut-out comes off its own paver's shapes.

    A cut-out that names no paver, or one that the part does not have, comes off the largest.
    """
    added: dict[_Key, list[Piece]] = defaultdict(list)
    for piece in part.added:
        added[_key(piece.row, materials)].append(piece)
    most = max(sorted(added), key=lambda key: sum(p.shape.area.value for p in added[key]))
    off: dict[_Key, list[Piece]] = defaultdict(list)
    for piece in part.cut_out:
        named = [k for k in sorted(added) if k[0].casefold() == piece.row.paver.casefold()]
        off[named[0] if named else most].append(piece)
    return tuple(
        group
        for key in sorted(added)
        for group in _mixed(key, added[key], off[key], materials)
        or [_group(part.name, key, added[key], off[key], materials)]
    )


def _mixed(
    key: _Key, added: list[Piece], off: list[Piece], materials: Materials
) -> list[PaverGroup]:
    """A group for each size of a mixed set, by its share of the area; none for a plain paver.

    A border goes with the size that it is of, or else with the first.
    """
    mix = materials.mix(key[0])
    if not mix:
        return []
    pattern = patterns()[key[1] or RANDOM]
    area = net_area(f"area of {key[0]}", added, off)
    parts = _shares(key[0], mix)
    outlines = outlines_of(added[0].row.part, added, off, materials.job.settings.units)
    edging = _edging(added[0].row.part, key, outlines, materials)
    field = edging.border.field if edging else outlines
    laid = _mix_laid(added[0].row.part, pattern, mix, [part.value for part in parts], field)
    named = [row.item.casefold() for row in mix]
    border_with = named.index(key[2].casefold()) if key[2].casefold() in named else 0
    return [
        PaverGroup(
            item=row.item,
            product=row,
            sizes=sizes_of(row),
            pattern=pattern,
            pattern_assumed=not key[1],
            pieces=(*added, *off),
            area=product(f"area of {row.item}", AREA, area, part),
            laid=one,
            border=edging.border if edging and i == border_with else None,
            border_sizes=edging.sizes if edging and i == border_with else None,
            inside=edging.field_of(row.item, area, part) if edging else None,
            share=part,
        )
        for i, (row, part, one) in enumerate(zip(mix, parts, laid, strict=True))
    ]


def _shares(item: str, mix: Sequence[Product]) -> list[Figure]:
    """The share of the area of each size of a mixed set [ratio]."""
    even = constant(1 / len(mix), RATIO, "as much of each size")
    shares = [
        row.figure("share", RATIO, f"share of {row.item}") if row.share else even for row in mix
    ]
    return [
        ratio(f"share of {row.item} in {item}", RATIO, share, total("shares", shares))
        for row, share in zip(mix, shares, strict=True)
    ]


def _mix_laid(
    part: str,
    pattern: Pattern,
    mix: Sequence[Product],
    shares: Sequence[float],
    outlines: tuple[tuple[Ring, ...], ...],
) -> Sequence[LaidPattern | None]:
    """Each size of a mixed set as laid out in courses; nothing where that is not known."""
    if pattern.name != RANDOM or not outlines:
        return [None] * len(mix)
    from budget.quantities.laid.mixed_courses import MixedSize, lay_mixed

    sizes = []
    for row, share in zip(mix, shares, strict=True):
        found = sizes_of(row)
        one = found.length.value, found.width.value, found.joint.value
        sizes.append(MixedSize(*one, share))
    layouts = [
        lay_mixed(outline, tuple(sizes), coefficient("smallest piece").likely)
        for outline in outlines
    ]
    return [
        LaidPattern(
            part, row.item, RANDOM, size.unit, outlines, tuple(layout[i] for layout in layouts)
        )
        for i, (row, size) in enumerate(zip(mix, sizes, strict=True))
    ]


@dataclass(frozen=True, slots=True)
class _Edging:
    """The border of some shapes and the true sizes of its units."""

    border: Border
    sizes: Sizes

    def field_of(self, item: str, area: Figure, share: Figure | None = None) -> Figure:
        """Area inside the border, or the share of it that one size takes [m²]."""
        name = f"area of {item} inside the border"
        inside = minus(name, area, self.border.area)
        return inside if share is None else product(name, AREA, inside, share)


def _edging(
    part: str, key: _Key, outlines: tuple[tuple[Ring, ...], ...], materials: Materials
) -> _Edging | None:
    """The border that the shapes name, where their outlines are known."""
    _, _, edged, course = key
    if not edged or not outlines:
        return None
    sizes = sizes_of(materials.named(edged))
    face = sizes.length.value, sizes.width.value, sizes.joint.value
    return _Edging(border_of(part, edged, course, face, outlines), sizes)


def drawings(groups: Sequence[PaverGroup]) -> tuple[PatternDrawing, ...]:
    """The patterns of one part to draw, the sizes of a mixed set in one drawing."""
    together: dict[object, list[PaverGroup]] = defaultdict(list)
    for number, group in enumerate(groups):
        if group.laid is not None:
            mix = group.product.mix if group.product and group.share is not None else ""
            key: object = (mix, group.laid.outlines) if mix else number
            together[key].append(group)
    return tuple(_drawing(found) for found in together.values())


def _drawing(groups: Sequence[PaverGroup]) -> PatternDrawing:
    """The field of some groups in one drawing, with the border around it if there is one."""
    found = [group.laid.drawing() for group in groups if group.laid is not None]
    field = replace(
        found[0],
        item=" and ".join(one.item for one in found),
        shapes=tuple(shape for one in found for shape in one.shapes),
    )
    border = next((group.border for group in groups if group.border is not None), None)
    if border is None:
        return field
    from budget.quantities.laid.border_drawing import border_units

    whole, cut = border_units(border)
    return replace(
        field,
        outlines=tuple(ring for outline in border.outlines for ring in outline),
        border=f"{border.course} course of {border.item}",
        border_whole=whole,
        border_cut=cut,
    )


def _key(row: Area, materials: Materials) -> _Key:
    product = materials.of_kind("paver")
    item = row.paver or (product.item if product else materials.item("paver"))
    course = (row.border_course or "soldier") if row.border else ""
    return item, row.pattern, row.border, course


def _group(
    part: str, key: _Key, added: list[Piece], off: list[Piece], materials: Materials
) -> PaverGroup:
    item, named, _, _ = key
    product = materials.named(item)
    sizes = sizes_of(product)
    pattern = patterns()[named] if named else next(iter(patterns().values()))
    outlines = outlines_of(part, added, off, materials.job.settings.units)
    edging = _edging(part, key, outlines, materials)
    if edging:
        outlines = edging.border.field
    area = net_area(f"area of {item}", added, off)
    return PaverGroup(
        item=item,
        product=product,
        sizes=sizes,
        pattern=pattern,
        pattern_assumed=not named,
        pieces=(*added, *off),
        area=area,
        laid=lay_pattern(
            part, item, outlines, pattern.name, (sizes.length, sizes.width, sizes.joint)
        ),
        border=edging.border if edging else None,
        border_sizes=edging.sizes if edging else None,
        inside=edging.field_of(item, area) if edging else None,
    )


def sizes_of(product: Product | None) -> Sizes:
    """True sizes of a paver: the product's, else the documented ones.

    A product that gives no length and width is taken as of the documented size.
    """

    def size(field: str, words: str) -> Figure:
        if product and getattr(product, field) is not None:
            return product.figure(field, DEPTH, f"{words} of {product.item}")
        return coefficient(f"paver {field}").figure()

    length, width = size("length", "length"), size("width", "width")
    height, joint = size("height", "thickness"), size("joint", "joint")
    if product and product.weight:
        weight = product.figure("weight", paving.PIECE_MASS, f"weight of one {product.item}")
    else:
        weight = paving.weight(length, width, height, density_of(product))
    return Sizes(length, width, height, joint, weight)


def surfaces(groups: Sequence[PaverGroup]) -> list[tuple[str, Figure, Figure]]:
    """Each paver of a part, and each border: its name, area [m²] and thickness [m]."""
    found = []
    for group in groups:
        found.append((group.item, group.field(), group.sizes.height))
        if group.border is not None and group.border_sizes is not None:
            found.append((group.border.item, group.border.area, group.border_sizes.height))
    return found


def thickest(groups: Sequence[PaverGroup]) -> Figure:
    """Thickness of the thickest paver of a part, its borders included [m]."""
    heights = {item.casefold(): height for item, _, height in surfaces(groups)}
    first, *more = (heights[item] for item in sorted(heights))
    return largest("thickest paver", first, *more) if more else first


def cut_of(groups: tuple[PaverGroup, ...], part: str) -> Figure:
    """Edge to cut in a whole part [m]."""
    return add(f"{part} edge to cut", [group.cut() for group in groups])
