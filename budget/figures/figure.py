"""The figure itself, and the arithmetic that makes one of others."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from operator import sub
from typing import Any, Literal

from budget.units import (
    COUNT,
    MONEY,
    Kind,
    System,
    in_words,
    round_half_up,
    whole_packs,
)

Origin = Literal["given", "default", "laid out", "solved", "constant", "worked"]
Op = Literal[
    "", "sum", "minus", "product", "ratio", "largest", "smallest", "whole", "cents", "tier"
]


@dataclass(frozen=True, slots=True, eq=False)
class Figure:
    """A number, what it measures, and how it came about. Values are SI or cents."""

    value: float
    kind: Kind
    name: str
    origin: Origin = "worked"
    key: str = ""
    source: str = ""
    op: Op = ""
    args: tuple[Figure, ...] = ()

    def called(self, name: str, source: str = "") -> Figure:
        """The same figure under another name (and source, if given)."""
        return replace(self, name=name, source=source or self.source)

    def words(self, system: System, decimals: int | None = None) -> str:
        """The value with its unit, as people read it."""
        return in_words(self.value, self.kind, system, decimals)


def given(value: float, kind: Kind, name: str, key: str) -> Figure:
    """A number read from the workbook; ``key`` is its cell, such as ``Areas!D5``."""
    return Figure(value, kind, name, "given", key)


def default(value: float, kind: Kind, name: str, key: str, source: str) -> Figure:
    """A documented default, used because the workbook leaves it blank."""
    return Figure(value, kind, name, "default", key, source)


def constant(value: float, kind: Kind, name: str, source: str = "") -> Figure:
    """A number fixed by definition."""
    return Figure(value, kind, name, "constant", "", source)


def solved(value: float, kind: Kind, name: str, key: str) -> Figure:
    """A number set by the plan's choices."""
    return Figure(value, kind, name, "solved", key)


def laid_out(value: float, kind: Kind, name: str, key: str, source: str = "") -> Figure:
    """A number counted by a layout."""
    return Figure(value, kind, name, "laid out", key, source)


def _same_kind(name: str, figures: Iterable[Figure]) -> Kind:
    kinds = [f.kind for f in figures]
    if not kinds or any(k is not kinds[0] and k != kinds[0] for k in kinds):
        found = ", ".join(sorted({k.name for k in kinds})) or "nothing"
        msg = f"{name}: only figures of one kind can be combined, got {found}"
        raise TypeError(msg)
    return kinds[0]


def total(name: str, figures: Iterable[Figure], kind: Kind | None = None) -> Figure:
    """Sum of figures of one kind. ``kind`` is needed only when there may be none.

    >>> from budget.units import LENGTH
    >>> total("edge", [constant(1, LENGTH, "a"), constant(2, LENGTH, "b")]).value
    3
    """
    parts = tuple(figures)
    if not parts:
        if kind is None:
            msg = f"{name}: nothing to add up and no kind given"
            raise TypeError(msg)
        return constant(0, kind, name)
    return Figure(sum(f.value for f in parts), _same_kind(name, parts), name, op="sum", args=parts)


def minus(name: str, first: Figure, second: Figure) -> Figure:
    """``first`` less ``second``, both of one kind."""
    kind = _same_kind(name, (first, second))
    return Figure(first.value - second.value, kind, name, op="minus", args=(first, second))


def product(name: str, kind: Kind, *factors: Figure, source: str = "") -> Figure:
    """Product of figures; their dimensions must give that of ``kind``.

    >>> from budget.units import AREA, DEPTH, COMPACTED_VOLUME
    >>> area, depth = constant(20, AREA, "area"), constant(0.1, DEPTH, "depth")
    >>> product("base", COMPACTED_VOLUME, area, depth).value
    2.0
    """
    value = 1.0
    for factor in factors:
        value *= factor.value
    _check_dimension(name, kind, factors, ())
    return Figure(value, kind, name, source=source, op="product", args=factors)


def ratio(name: str, kind: Kind, top: Figure, bottom: Figure, source: str = "") -> Figure:
    """``top`` divided by ``bottom``; the result must have the dimension of ``kind``."""
    _check_dimension(name, kind, (top,), (bottom,))
    value = top.value / bottom.value
    return Figure(value, kind, name, source=source, op="ratio", args=(top, bottom))


def _check_dimension(
    name: str, kind: Kind, above: tuple[Figure, ...], below: tuple[Figure, ...]
) -> None:
    found = tuple(map(sum, zip(*(f.kind.dimension for f in above), strict=True)))
    for f in below:
        found = tuple(map(sub, found, f.kind.dimension))
    if found != kind.dimension:
        msg = f"{name}: {kind.name} has dimension {kind.dimension}, the figures give {found}"
        raise TypeError(msg)


def largest(name: str, *figures: Figure) -> Figure:
    """The largest of figures of one kind."""
    kind = _same_kind(name, figures)
    return Figure(max(f.value for f in figures), kind, name, op="largest", args=figures)


def smallest(name: str, *figures: Figure) -> Figure:
    """The smallest of figures of one kind."""
    kind = _same_kind(name, figures)
    return Figure(min(f.value for f in figures), kind, name, op="smallest", args=figures)


def whole(name: str, figure: Figure) -> Figure:
    """A count rounded up to whole packs, pieces or loads, with the pack tolerance."""
    return Figure(whole_packs(figure.value), COUNT, name, op="whole", args=(figure,))


def cents(name: str, figure: Figure) -> Figure:
    """Money rounded half up to whole cents."""
    if figure.kind is not MONEY:
        msg = f"{name}: only money is rounded to cents, got {figure.kind.name}"
        raise TypeError(msg)
    return Figure(round_half_up(figure.value), MONEY, name, op="cents", args=(figure,))


def tier(name: str, figure: Figure, steps: Iterable[tuple[Figure, Figure]]) -> Figure:
    """The amount of the step that ``figure`` has reached, from ``(from, amount)`` pairs.

    The pairs are in rising order and the first starts at or below any value met. A delivery
    free above a sum is two steps: the fee from 0, nothing from that sum.

    >>> fee = constant(6000, MONEY, "fee"), constant(0, MONEY, "free")
    >>> start = constant(0, MONEY, "from"), constant(50000, MONEY, "free from")
    >>> tier("delivery", constant(49999, MONEY, "order"), zip(start, fee)).value
    6000
    """
    pairs = tuple(steps)
    _same_kind(name, (figure, *(pair[0] for pair in pairs)))
    kind = _same_kind(name, (pair[1] for pair in pairs))
    args = (figure, *(part for pair in pairs for part in pair))
    return Figure(reached([a.value for a in args]), kind, name, op="tier", args=args)


def reached(args: list[Any]) -> Any:
    """The amount of a tier's arguments: what is measured, then each step's start and amount."""
    amount = args[2]
    for start, step in zip(args[3::2], args[4::2], strict=True):
        if args[0] >= start:
            amount = step
    return amount


def in_order(figure: Figure, until: Collection[int] = ()) -> Iterator[Figure]:
    """Every figure below and including this one, arguments before results, each once.

    Figures whose ``id`` is in ``until`` are given but not looked into.
    """
    seen: set[int] = set()
    stack: list[tuple[Figure, bool]] = [(figure, False)]
    while stack:
        node, ready = stack.pop()
        if ready:
            yield node
        elif id(node) not in seen:
            seen.add(id(node))
            stack.append((node, True))
            if id(node) not in until:
                stack.extend((arg, False) for arg in reversed(node.args))


def inputs(figure: Figure) -> list[Figure]:
    """The leaves that a figure rests on, each once."""
    return [node for node in in_order(figure) if not node.args]
