"""Figures explained on paper: each step in words, in the units people read."""

from __future__ import annotations

from dataclasses import dataclass

from budget.figures.figure import Figure, Origin, in_order
from budget.numerals import trimmed
from budget.units import COUNT, System


@dataclass(frozen=True, slots=True)
class Working:
    """One line of an explanation: what it is, the arithmetic in words, and where it is from."""

    name: str
    arithmetic: str
    result: str
    source: str


def workings(figure: Figure, system: System) -> list[Working]:
    """The explanation of a figure, inputs first, in the units people read.

    >>> from budget.figures import default, given, product
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
    result = _shown(node, system)
    if not node.args:
        source = "your workbook" if node.origin == "given" else node.source
        return Working(node.name, _ORIGIN_WORDS[node.origin].format(key=node.key), result, source)
    return Working(node.name, _arithmetic(node, system), result, node.source)


def _shown(node: Figure, system: System) -> str:
    """A figure's value; a count that is not whole keeps its hundredths, so that sums add up."""
    parted = node.kind is COUNT and abs(node.value - round(node.value)) >= 0.005
    return node.words(system, 2 if parted else None)


def _arithmetic(node: Figure, system: System) -> str:
    shown = [_shown(arg, system) for arg in node.args]
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
