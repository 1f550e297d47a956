"""Figures worked out again under changed inputs, numbers or arrays of draws."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import Any

from budget.figures.figure import Figure, Op, constant, in_order, reached
from budget.units import PACK_TOLERANCE, round_half_up, whole_packs


def recalculate(figure: Figure, changed: Mapping[str, Any]) -> Any:
    """The figure's value with some inputs changed.

    ``changed`` maps a leaf's ``key`` to a new SI value: a number, or a numpy array of draws.

    >>> from budget.figures import given, product
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

    >>> from budget.figures import given, total
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

    >>> from budget.figures import given, product, total
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

    >>> from budget.figures import given, product
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
            return reached(args)
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
