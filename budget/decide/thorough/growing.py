"""The same job a little larger: more paving, a deeper base, a longer wall, by one unit or more."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from budget.figures import Figure, constant
from budget.job import Area, BuildUp, Job, Measure, Place, Wall
from budget.prices import flatten
from budget.prices.options import Options
from budget.quantities import take_off
from budget.quantities.plan.parts import parts_of
from budget.quantities.takeoff import Need, PartGeometry, StepAmount, Takeoff
from budget.reference import coefficient
from budget.units import AREA, INCH, LENGTH, Kind

#: A shape needs an edge to be measured; this one has next to none, and not in the open [m].
NO_EDGE = 1e-9


@dataclass(frozen=True, slots=True)
class Growth:
    """One way in which a job can grow. ``grown`` gives the job with so many units more."""

    what: str  # paving, base, wall
    subject: str  # the part, the build-up or the wall
    unit: str  # sq ft, m², in, cm, ft, m
    size: float  # SI size of that unit
    span: int  # units over which the smooth rate is taken and jumps are looked for
    grain: float  # units from one place looked at to the next
    grown: Callable[[float], Job]


def growths(job: Job, parts: frozenset[str]) -> tuple[Growth, ...]:
    """Every way in which a job with some optional parts kept can grow, in a fixed order."""
    return (*_paving(job, parts), *bases(job), *_walls(job, parts))


def _paving(job: Job, parts: frozenset[str]) -> Iterator[Growth]:
    imperial = job.settings.units == "imperial"
    unit = AREA.unit(job.settings.units)
    for part in parts_of(job)[0]:
        row = max(part.added, key=lambda piece: (piece.shape.area.value, piece.row.name)).row
        if row.optional and part.name not in parts:
            continue
        span, grain = (40, 0.5) if imperial else (4, 0.05)
        yield Growth(
            "paving", part.name, unit.label, unit.size, span, grain, _patch(job, row, unit.size)
        )


def _patch(job: Job, row: Area, size: float) -> Callable[[float], Job]:
    """More paving inside a part: what lies under and on a shape, with no edge of its own."""

    def grown(units: float) -> Job:
        patch = Area(
            place=row.place, part=f"{row.part} and more", name="more", shape="measured",
            area=units * size, perimeter=NO_EDGE, house_edge=NO_EDGE, paver=row.paver,
            pattern=row.pattern, build_up=row.build_up,
        )  # fmt: skip
        return replace(job, areas=(*job.areas, patch))

    return grown


def bases(job: Job) -> Iterator[Growth]:
    """A deeper base, by build-up."""
    imperial = job.settings.units == "imperial"
    unit, size, span = ("in", INCH, 2) if imperial else ("cm", 0.01, 5)
    usual = coefficient("base depth").figure().value
    rows = job.build_ups or (BuildUp(place=Place("Build-up", 2), name=""),)
    for row in sorted(rows, key=lambda r: r.name):
        depth = usual if row.base_depth is None else row.base_depth
        yield Growth("base", row.name, unit, size, span, 0.05, _deeper(job, row, depth, size))


def _deeper(job: Job, row: BuildUp, depth: float, size: float) -> Callable[[float], Job]:
    def grown(units: float) -> Job:
        deep = replace(row, base_depth=depth + units * size)
        return replace(job, build_ups=(*(r for r in job.build_ups if r is not row), deep))

    return grown


def _walls(job: Job, parts: frozenset[str]) -> Iterator[Growth]:
    unit = LENGTH.unit(job.settings.units)
    span, grain = (8, 0.25) if job.settings.units == "imperial" else (3, 0.1)
    optional = {a.part for a in job.areas if a.optional}
    for row in sorted(job.walls, key=lambda w: (w.part, w.name)):
        kept = row.part not in optional or row.part in parts
        if row.kind == "wall" and row.length is not None and kept:
            lengthen = _longer(job, row, row.length, unit.size)
            yield Growth("wall", row.name, unit.label, unit.size, span, grain, lengthen)


def _longer(job: Job, row: Wall, length: float, size: float) -> Callable[[float], Job]:
    def grown(units: float) -> Job:
        longer = replace(row, length=length + units * size)
        return replace(job, walls=tuple(longer if w is row else w for w in job.walls))

    return grown


@dataclass(frozen=True, slots=True)
class Laid:
    """Quantities and options of a job."""

    takeoff: Takeoff
    options: Options


def lay_out(job: Job) -> Laid:
    """The quantities and options of a grown job."""
    takeoff = take_off(job)
    return Laid(takeoff, flatten(job, takeoff))


def between(before: Takeoff, after: Takeoff, share: float) -> Takeoff:
    """Quantities some way from those of a job to those of the same job grown.

    Each amount lies in proportion between the two; what only the grown job has comes in
    proportion too. Counts are not made whole: packs are, when the plan is priced.
    """
    mix = _Mix(share)
    return replace(
        after,
        needs=mix.needs(before, after),
        steps=mix.amounts(before.steps, after.steps),
        spoil=mix.amounts(before.spoil, after.spoil),
        parts=mix.parts(before.parts, after.parts),
    )


@dataclass(frozen=True, slots=True)
class _Mix:
    share: float

    def figure(self, before: Figure | None, after: Figure) -> Figure:
        start = before.value if before is not None else 0.0
        value = start + self.share * (after.value - start)
        return after if value == after.value else _known(value, after.kind, after.name)

    def needs(self, before: Takeoff, after: Takeoff) -> tuple[Need, ...]:
        earlier = dict(zip(_told_apart(map(_need_key, before.needs)), before.needs, strict=True))
        keys = _told_apart(map(_need_key, after.needs))
        return tuple(self._need(earlier.get(k), n) for k, n in zip(keys, after.needs, strict=True))

    def _need(self, before: Need | None, after: Need) -> Need:
        old: Mapping[Measure, Figure] = before.measures if before else {}
        weight = after.weight
        if weight is not None:
            weight = self.figure(before.weight if before else None, weight)
        return replace(
            after,
            net=self.figure(before.net if before else None, after.net),
            order=self.figure(before.order if before else None, after.order),
            measures={m: self.figure(old.get(m), f) for m, f in after.measures.items()},
            weight=weight,
        )

    def amounts(
        self, before: tuple[StepAmount, ...], after: tuple[StepAmount, ...]
    ) -> tuple[StepAmount, ...]:
        amounts = (row.amount for row in before)
        earlier = dict(zip(_told_apart(map(_amount_key, before)), amounts, strict=True))
        keys = _told_apart(map(_amount_key, after))
        return tuple(
            replace(row, amount=self.figure(earlier.get(k), row.amount))
            for k, row in zip(keys, after, strict=True)
        )

    def parts(
        self, before: tuple[PartGeometry, ...], after: tuple[PartGeometry, ...]
    ) -> tuple[PartGeometry, ...]:
        earlier = {p.part: p.area for p in before}
        return tuple(replace(p, area=self.figure(earlier.get(p.part), p.area)) for p in after)


def _known(value: float, kind: Kind, name: str) -> Figure:
    return constant(value, kind, name)


def _told_apart(keys: Iterable[tuple[str, ...]]) -> list[tuple[object, ...]]:
    """Each key with how many like it came before.

    >>> _told_apart([("a",), ("b",), ("a",)])
    [('a', 0), ('b', 0), ('a', 1)]
    """
    seen: Counter[tuple[str, ...]] = Counter()
    found: list[tuple[object, ...]] = []
    for key in keys:
        found.append((*key, seen[key]))
        seen[key] += 1
    return found


def _need_key(need: Need) -> tuple[str, ...]:
    return (need.line, need.part, need.item, need.step, need.bedding, need.optional)


def _amount_key(row: StepAmount) -> tuple[str, ...]:
    return (row.step, row.part, row.bedding, row.optional)
