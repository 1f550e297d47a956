"""How a figure came about, cut short where another place of the page already explains it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from budget.decide.outcome import Comparison
from budget.figures import Figure, Working, in_order, workings
from budget.units import System

#: Steps shown before an explanation is cut; the command line prints all of them.
MOST = 40


@dataclass(frozen=True, slots=True)
class How:
    """An explanation folded away until asked for; ``left_out`` counts its earlier steps."""

    title: str
    steps: tuple[Working, ...]
    left_out: int = 0


def explained(comparison: Comparison) -> dict[int, str]:
    """Figures that have a place of their own on the page, by identity, and where that is."""
    takeoff = comparison.takeoff
    found: dict[int, str] = {}
    for need in takeoff.needs:
        for figure in (need.order, need.net, *need.measures.values()):
            found[id(figure)] = "see Quantities"
    for amount in (*takeoff.steps, *takeoff.spoil):
        found[id(amount.amount)] = "see Step by step"
    for part in takeoff.parts:
        for figure in (part.area, part.base_area, part.edge, part.restrained, part.cut_length):
            found.setdefault(id(figure), "see Measured drawing")
    if comparison.best and comparison.best.priced:
        for line in comparison.best.priced.lines:
            for money in (line.money, line.time):
                if money is not None:
                    found.setdefault(id(money), "see Line by line")
    return found


def how(title: str, figure: Figure, system: System, known: Mapping[int, str]) -> How:
    """The steps to one figure, inputs first, without those below a figure in ``known``."""
    kept = _kept(figure, known)
    named = [node for node in in_order(figure) if node.name]
    steps = [
        _step(node, step, figure, known)
        for node, step in zip(named, workings(figure, system), strict=True)
        if id(node) in kept
    ]
    return How(title, tuple(steps[-MOST:]), max(0, len(steps) - MOST))


def _kept(figure: Figure, known: Mapping[int, str]) -> set[int]:
    """The figures reached from one without passing through a known one."""
    kept: set[int] = set()
    waiting: list[Figure] = [figure]
    while waiting:
        node = waiting.pop()
        if id(node) in kept:
            continue
        kept.add(id(node))
        if node is figure or id(node) not in known:
            waiting.extend(node.args)
    return kept


def _step(node: Figure, step: Working, figure: Figure, known: Mapping[int, str]) -> Working:
    if node is figure or not node.args or id(node) not in known:
        return step
    return replace(step, arithmetic=known[id(node)])


def sources(figures: Iterable[Figure]) -> set[str]:
    """The outside sources that some figures rest on; what was laid out rests on the job itself."""
    nodes = {id(node): node for figure in figures for node in in_order(figure)}
    return {node.source for node in nodes.values() if node.source and node.origin != "laid out"}
