"""Geotextile cut from its rolls: which strips come off which, and where a strip is lapped.

If the strips fit on as few rolls as their lengths together ask for, each is cut in one piece.
Else they are cut one after another: what is left of a roll begins the next strip, and the rest of
it, from the next roll, laps over the end. An end shorter than two laps is left over.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from budget.quantities.takeoff import Cut, CuttingPlan
from budget.units import LENGTH, System, in_words, whole_packs


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip of one part [m]."""

    part: str
    length: float
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Unrolled:
    """The pieces of each roll, each with its part, and by part what end laps and ends add [m]."""

    rolls: tuple[tuple[tuple[str, float], ...], ...]
    more: Mapping[str, float]
    laps: int


def unroll(strips: Sequence[Strip], roll: float, lap: float) -> Unrolled:
    """Cut strips from rolls; those of parts that must be built come first.

    :param roll: length of a roll [m], more than two laps
    :param lap: overlap of two pieces end to end [m]
    :raises ValueError: if a roll is no longer than two laps

    >>> found = unroll([Strip("Yard", 6.0)] * 4, 10, 0.5)
    >>> [[length for _, length in pieces] for pieces in found.rolls]
    [[6.0, 4.0], [2.5, 6.0, 1.5], [5.0]]
    >>> found.laps, round(found.more["Yard"], 6)
    (2, 1.0)
    """
    if roll <= 2 * lap:
        msg = f"a roll {roll:.3g} m long cannot lap by {lap:.3g} m"
        raise ValueError(msg)
    order = sorted(strips, key=lambda s: (s.optional, -s.length, s.part))
    must = [strip for strip in order if not strip.optional]
    if _fit(must, roll) and _fit(order, roll):
        return Unrolled(_each_whole(order, roll), {}, 0)
    return _one_after_another(order, roll, lap)


def _fit(strips: Sequence[Strip], roll: float) -> bool:
    """Whether whole strips need no more rolls than their lengths together."""
    if any(strip.length > roll for strip in strips):
        return False
    fewest = whole_packs(sum(strip.length for strip in strips) / roll)
    return len(_each_whole(strips, roll)) <= fewest


def _each_whole(strips: Sequence[Strip], roll: float) -> tuple[tuple[tuple[str, float], ...], ...]:
    """Every strip in one piece, on the first roll with room for it."""
    rolls: list[list[tuple[str, float]]] = []
    left: list[float] = []
    for strip in strips:
        n = next((i for i, rest in enumerate(left) if strip.length <= rest + 1e-9), len(rolls))
        if n == len(rolls):
            rolls.append([])
            left.append(roll)
        rolls[n].append((strip.part, strip.length))
        left[n] -= strip.length
    return tuple(tuple(pieces) for pieces in rolls)


def _one_after_another(strips: Sequence[Strip], roll: float, lap: float) -> Unrolled:
    rolls: list[list[tuple[str, float]]] = [[]]
    more: dict[str, float] = defaultdict(float)
    rest, laps = roll, 0
    for strip in strips:
        wanted = strip.length
        while wanted > rest + 1e-9:
            if rest >= 2 * lap:
                rolls[-1].append((strip.part, rest))
                wanted += lap - rest
                more[strip.part] += lap
                laps += 1
            else:
                more[strip.part] += rest
            rolls.append([])
            rest = roll
        rolls[-1].append((strip.part, wanted))
        rest -= wanted
    return Unrolled(tuple(tuple(pieces) for pieces in rolls), dict(more), laps)


def plan_of(item: str, found: Unrolled, roll: float, lap: float, system: System) -> CuttingPlan:
    """The rolls as a cutting plan, to draw and to tell."""
    cuts = tuple(
        Cut(
            item, roll, 1, tuple(length for _, length in pieces), tuple(p for p, _ in pieces),
            max(0.0, roll - math.fsum(length for _, length in pieces)),
        )
        for pieces in found.rolls
    )  # fmt: skip
    parts = tuple(sorted({part for pieces in found.rolls for part, _ in pieces}))
    each = in_words(lap, LENGTH, system)
    ends = "once" if found.laps == 1 else f"{found.laps} times"
    how = (
        f"a strip goes on from the next roll {ends}, lapped by {each}"
        if found.laps
        else "each strip is in one piece"
    )
    return CuttingPlan(item, parts, 0.0, cuts, True, how, "roll", LENGTH)
