"""Figures that remember how they came about.

A :class:`Figure` is a number with its kind, a name and the figures it was made from. One
description of a calculation therefore gives three things that cannot drift apart: its value,
its explanation on paper (:func:`workings`), and its recalculation under changed inputs
(:func:`recalculate`, which also takes numpy arrays). A spreadsheet writer can walk the same
tree to write the same calculation as formulas.

Inputs are leaves. A leaf's ``origin`` tells where its number comes from:

* ``given``: a cell of the quotes workbook, ``key`` is its address such as ``Areas!D5``
* ``default``: a documented default, ``key`` is ``reference:NAME`` and ``source`` cites it
* ``laid out``: counted by a layout (a pattern, a cutting plan)
* ``solved``: a choice, set by the plan
* ``constant``: fixed by definition
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from operator import sub
from typing import Any, Literal

from budget.numerals import trimmed
from budget.units import (
    COUNT,
    MONEY,
    PACK_TOLERANCE,
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
    return Figure(_tier([a.value for a in args]), kind, name, op="tier", args=args)


def _tier(args: list[Any]) -> Any:
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


def recalculate(figure: Figure, changed: Mapping[str, Any]) -> Any:
    """The figure's value with some inputs changed.

    ``changed`` maps a leaf's ``key`` to a new SI value: a number, or a numpy array of draws.

    >>> from budget.units import LENGTH, AREA
    >>> side = given(3, LENGTH, "side", "Areas!D2")
    >>> recalculate(product("area", AREA, side, side), {"Areas!D2": 4})
    16.0
    """
    values: dict[int, Any] = {}
    for node in in_order(figure):
        if node.args:
            values[id(node)] = _apply(node.op, [values[id(arg)] for arg in node.args])
        else:
            values[id(node)] = changed.get(node.key, node.value) if node.key else node.value
    return values[id(figure)]


def recalculate_all(figures: Iterable[Figure], changed: Mapping[str, Any]) -> list[Any]:
    """The values of several figures with some inputs changed; what they share is done once.

    >>> from budget.units import LENGTH
    >>> side = given(3, LENGTH, "side", "Areas!D2")
    >>> recalculate_all([side, total("both", [side, side])], {"Areas!D2": 4})
    [4, 8]
    """
    wanted = tuple(figures)
    values: dict[int, Any] = {}
    for figure in wanted:
        for node in in_order(figure, values):
            if id(node) in values:
                continue
            if node.args:
                values[id(node)] = _apply(node.op, [values[id(arg)] for arg in node.args])
            else:
                values[id(node)] = changed.get(node.key, node.value) if node.key else node.value
    return [values[id(figure)] for figure in wanted]


def without(figure: Figure, key: str) -> Figure:
    """The same calculation with one input at nought; the figure itself if it does not rest on it.

    >>> from budget.units import COUNT, RATIO
    >>> laid = given(500, COUNT, "laid", "Areas!D2")
    >>> spare = product("spare", COUNT, laid, given(0.02, RATIO, "share", "Job!B20"))
    >>> order = total("order", [laid, spare])
    >>> order.value, without(order, "Job!B20").value
    (510.0, 500.0)
    """
    made: dict[int, Figure] = {}
    for node in in_order(figure):
        args = tuple(made[id(arg)] for arg in node.args)
        if not args:
            gone = node.key == key
            made[id(node)] = constant(0.0, node.kind, f"{node.name}, left out") if gone else node
        elif all(a is b for a, b in zip(args, node.args, strict=True)):
            made[id(node)] = node
        else:
            value = float(_apply(node.op, [arg.value for arg in args]))
            made[id(node)] = replace(node, value=value, args=args)
    return made[id(figure)]


class Recalculation:
    """Several figures made ready to be worked out again and again under the same changed inputs.

    What does not rest on a changed input keeps its value, and what is no longer needed is let
    go, so that large arrays of draws take little time and memory.

    >>> from budget.units import LENGTH, AREA
    >>> side = given(3, LENGTH, "side", "Areas!D2")
    >>> area = product("area", AREA, side, side)
    >>> again = Recalculation([area, side], ["Areas!D2"])
    >>> again.run({"Areas!D2": 4}), again.run({"Areas!D2": 5})
    ([16.0, 4], [25.0, 5])
    """

    def __init__(self, figures: Iterable[Figure], keys: Collection[str]) -> None:
        """``keys`` are those of the inputs that will change."""
        self._wanted = tuple(figures)
        self._moved: set[int] = set()
        self._steps: list[Figure] = []
        seen: set[int] = set()
        for figure in self._wanted:
            for node in in_order(figure, seen):
                if id(node) not in seen:
                    seen.add(id(node))
                    self._take(node, keys)
        self._done = self._last_uses()

    def _take(self, node: Figure, keys: Collection[str]) -> None:
        moves = any(id(arg) in self._moved for arg in node.args)
        if moves or (not node.args and node.key in keys):
            self._moved.add(id(node))
            self._steps.append(node)

    def _last_uses(self) -> list[list[int]]:
        """For each step, what is not looked at again after it."""
        kept = {id(figure) for figure in self._wanted}
        last: dict[int, int] = {}
        for number, node in enumerate(self._steps):
            last[id(node)] = number
            last |= {id(arg): number for arg in node.args if id(arg) in self._moved}
        done: list[list[int]] = [[] for _ in self._steps]
        for used, number in last.items():
            if used not in kept:
                done[number].append(used)
        return done

    def run(self, changed: Mapping[str, Any]) -> list[Any]:
        """The values of the figures under changed inputs, as of :func:`recalculate`."""
        values: dict[int, Any] = {}
        for node, done in zip(self._steps, self._done, strict=True):
            if node.args:
                args = [values[id(a)] if id(a) in self._moved else a.value for a in node.args]
                values[id(node)] = _apply(node.op, args)
            else:
                values[id(node)] = changed.get(node.key, node.value)
            for used in done:
                del values[used]
        return [values.get(id(figure), figure.value) for figure in self._wanted]


def _apply(op: Op, args: list[Any]) -> Any:
    if any(hasattr(a, "shape") for a in args):
        return _apply_arrays(op, args)
    match op:
        case "sum":
            return sum(args)
        case "minus":
            return args[0] - args[1]
        case "product":
            value = 1.0
            for a in args:
                value *= a
            return value
        case "ratio":
            return args[0] / args[1]
        case "largest":
            return max(args)
        case "smallest":
            return min(args)
        case "whole":
            return whole_packs(args[0])
        case "cents":
            return round_half_up(args[0])
        case "tier":
            return _tier(args)
    msg = f"unknown operation {op!r}"
    raise ValueError(msg)


def _apply_arrays(op: Op, args: list[Any]) -> Any:
    import functools

    import numpy as np

    match op:
        case "largest":
            return functools.reduce(np.maximum, args)
        case "smallest":
            return functools.reduce(np.minimum, args)
        case "whole":
            return np.maximum(0, np.ceil(args[0] - PACK_TOLERANCE))
        case "cents":
            return np.floor(args[0] + 0.5 + 1e-6)
        case "sum":
            return functools.reduce(np.add, args)
        case "product":
            return functools.reduce(np.multiply, args)
        case "minus":
            return args[0] - args[1]
        case "ratio":
            return args[0] / args[1]
        case "tier":
            amount = args[2]
            for start, step in zip(args[3::2], args[4::2], strict=True):
                amount = np.where(args[0] >= start, step, amount)
            return amount
    msg = f"unknown operation {op!r}"
    raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class Working:
    """One line of an explanation: what it is, the arithmetic in words, and where it is from."""

    name: str
    arithmetic: str
    result: str
    source: str


def workings(figure: Figure, system: System) -> list[Working]:
    """The explanation of a figure, inputs first, in the units people read.

    >>> from budget.units import AREA, DEPTH, COMPACTED_VOLUME
    >>> area = given(21.4606464, AREA, "base area", "Areas!D5")
    >>> depth = default(0.1016, DEPTH, "base depth", "reference:base depth", "guide, table")
    >>> for line in workings(product("base", COMPACTED_VOLUME, area, depth), "imperial"):
    ...     print(line.name, "|", line.arithmetic, "|", line.result, "|", line.source or "-")
    base area | from Areas!D5 | 231 sq ft | your workbook
    base depth | assumed | 4 in | guide, table
    base | 231 sq ft × 4 in ÷ 324 | 2.85 cu yd | -
    """
    return [working(node, system) for node in in_order(figure) if node.name]


_ORIGIN_WORDS: dict[Origin, str] = {
    "given": "from {key}",
    "default": "assumed",
    "laid out": "counted by the layout",
    "solved": "chosen by the plan",
    "constant": "fixed",
    "worked": "",
}


def working(node: Figure, system: System) -> Working:
    """One line of an explanation."""
    result = node.words(system)
    if not node.args:
        source = "your workbook" if node.origin == "given" else node.source
        return Working(node.name, _ORIGIN_WORDS[node.origin].format(key=node.key), result, source)
    return Working(node.name, _arithmetic(node, system), result, node.source)


def _arithmetic(node: Figure, system: System) -> str:
    shown = [arg.words(system) for arg in node.args]
    match node.op:
        case "sum":
            return " + ".join(shown)
        case "minus":
            return f"{shown[0]} − {shown[1]}"
        case "product":
            return " × ".join(shown) + _conversion(node, system)
        case "ratio":
            return f"{shown[0]} ÷ {shown[1]}" + _conversion(node, system)
        case "largest":
            return "the largest of " + ", ".join(shown)
        case "smallest":
            return "the smallest of " + ", ".join(shown)
        case "whole":
            return f"{shown[0]}, rounded up to whole"
        case "cents":
            return f"{shown[0]}, rounded to the cent"
        case "tier":
            steps = zip(shown[1::2], shown[2::2], strict=True)
            return f"{shown[0]}: " + ", ".join(f"{amount} from {start}" for start, amount in steps)
    return ""


def unit_factor(node: Figure, system: System) -> float:
    """What a product or ratio in people's units is multiplied by to reach the result's unit.

    Square feet times inches, divided by 324, are cubic yards: the factor is 1/324.
    """
    sizes = [arg.kind.unit(system).size for arg in node.args]
    factor = sizes[0]
    for size in sizes[1:]:
        factor = factor / size if node.op == "ratio" else factor * size
    return factor / node.kind.unit(system).size


def _conversion(node: Figure, system: System) -> str:
    factor = unit_factor(node, system)
    if abs(factor - 1) < 1e-9:
        return ""
    if factor < 1:
        return f" ÷ {_plain(1 / factor)}"
    return f" × {_plain(factor)}"


def _plain(number: float) -> str:
    return trimmed(number, 4)
