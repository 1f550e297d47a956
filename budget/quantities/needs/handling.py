"""What must be handled in each step, and pieces too heavy for one person.

Where a documented pace is that of one person, hours at such pieces count for two: placing wall
units and caps, sawing and fixing timber and steel, cutting pavers. Laying and carrying have the
pace of two people at it already ("one lays, one brings"): a slab of the guideline's 51 lb covers
two square feet or more, for which that pace has five minutes. Hours that the user gives are for
everybody at it, and stay as given.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from budget.figures import Figure, constant, product, ratio, total
from budget.job import Settings
from budget.quantities.needs.feature import Caution
from budget.quantities.takeoff import Need
from budget.reference import coefficient, steps
from budget.units import AREA, MASS, NUMBER, RATIO, System, in_words, whole_packs

#: Kinds lifted by hand one at a time.
_LIFTED = ("paver", "wall unit", "cap", "timber", "steel section", "extra")


def for_two(piece: float) -> bool:
    """Whether a piece of this weight [kg] is above the lifting guideline.

    :source: NIOSH Publication 94-110, load constant.

    >>> for_two(23.1), for_two(23.2)  # 51 lb are 23.13 kg
    (False, True)
    """
    return piece > coefficient("lifting guideline").likely * (1 + 1e-9)


def two_people(piece: Figure | None) -> tuple[Figure, ...]:
    """The factor for hours at a piece that takes two; nothing where one will do."""
    if piece is None or not for_two(piece.value):
        return ()
    cited = coefficient("lifting guideline").cited
    return (constant(2, NUMBER, "two people lift it", cited),)


def share_for_two(needs: Iterable[Need]) -> Figure | None:
    """The share by area of the pavers that two people lift; nothing where one lifts each."""
    pavers = [need for need in needs if need.kind == "paver" and "area" in need.measures]
    heavy = [need for need in pavers if for_two(_piece(need) or 0.0)]
    if not heavy:
        return None
    two = total("pavers that two people lift", [need.measures["area"] for need in heavy], AREA)
    every = total("all pavers", [need.measures["area"] for need in pavers], AREA)
    return ratio("share of the pavers that two people lift", RATIO, two, every)


@dataclass(frozen=True, slots=True)
class StepWeight:
    """What must be handled in one step, and its heaviest single piece."""

    step: str
    bedding: str  # only under this bedding; blank: always
    weight: Figure  # kg of all orders of known weight
    heaviest: str  # item; blank where nothing is lifted piece by piece
    piece: float  # kg of one of it
    twice: int  # pieces above the lifting guideline, which two people lift
    unknown: tuple[str, ...]  # items of unknown weight


def weights_by_step(needs: Iterable[Need]) -> tuple[StepWeight, ...]:
    """What must be carried and handled in each step, in order of work.

    Goods that belong to one bedding stand in a row of their own, since only one is laid.
    """
    found: dict[tuple[str, str], list[Need]] = {}
    for need in needs:
        if need.order.value > 0:
            found.setdefault((need.step, need.bedding), []).append(need)
    order = {step: number for number, step in enumerate(steps())}
    rows = sorted(found, key=lambda key: (order.get(key[0], len(order)), key))
    return tuple(_weight_of_step(step, bedding, found[step, bedding]) for step, bedding in rows)


def _weight_of_step(step: str, bedding: str, needs: Sequence[Need]) -> StepWeight:
    known = [product("weight", MASS, need.weight) for need in needs if need.weight is not None]
    pieces = [(one, need) for need in needs if (one := _piece(need)) is not None]
    piece, item = max(((one, need.item) for one, need in pieces), default=(0.0, ""))
    return StepWeight(
        step, bedding, total(f"weight to handle, {step}", known, MASS), item, piece,
        sum(whole_packs(need.measures["count"].value) for one, need in pieces if for_two(one)),
        tuple(sorted({need.item for need in needs if need.weight is None})),
    )  # fmt: skip


def _piece(need: Need) -> float | None:
    """Weight of one piece [kg] of what is lifted by hand piece by piece."""
    count, mass = need.measures.get("count"), need.measures.get("mass")
    if need.kind not in _LIFTED or count is None or mass is None or count.value <= 0:
        return None
    return mass.value / count.value


def lifting(needs: Iterable[Need], system: System, people: int) -> list[Caution]:
    """Cautions about pieces above the lifting guideline: two people, or more, or a machine.

    One caution a step, which names the pieces with their weights; and one where ``people`` of
    the job are fewer than it takes.
    """
    limit = coefficient("lifting guideline")
    heavy: dict[str, dict[str, float]] = {}
    given: set[str] = set()
    for need in needs:
        one = _piece(need)
        if one is not None and for_two(one):
            heavy.setdefault(need.step, {})[need.item] = one
            given |= {need.step} if need.kind == "extra" else set()
    found = [
        (step, _text(pieces, limit.likely, system) + (_GIVEN if step in given else ""), limit.cited)
        for step, pieces in sorted(heavy.items())
    ]
    if people < 2:
        found += [(step, _ALONE, "common practice") for step in sorted(heavy)]
    return found


def people_of(settings: Settings) -> int:
    """The owner and whoever helps, paid or not."""
    return 1 + settings.helpers + settings.paid_helpers


_GIVEN = " The hours on Extras are taken as given, for everybody at it."
_ALONE = (
    "The Job sheet names nobody to help, and these pieces are not for one person: "
    "find a second one, have them placed, or choose lighter ones."
)


def _text(found: dict[str, float], limit: float, system: System) -> str:
    """Two people lift up to twice the guideline; more than that takes more, or a machine."""
    two = _listed({item: one for item, one in found.items() if one <= 2 * limit}, system)
    more = _listed({item: one for item, one in found.items() if one > 2 * limit}, system)
    over = in_words(limit, MASS, system)
    said = []
    if two:
        said.append(f"Two people lift each {two}, over {over}; the hours count both.")
    if more:
        twice = in_words(2 * limit, MASS, system)
        said.append(
            f"A machine, or a cart and more than two people, moves each {more}: "
            f"over {twice}, {over} for each of two; the hours count two people."
        )
    return " ".join(said)


def _listed(found: dict[str, float], system: System) -> str:
    return ", ".join(f"{item} ({in_words(n, MASS, system)})" for item, n in sorted(found.items()))
