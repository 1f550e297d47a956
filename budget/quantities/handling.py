"""What must be handled in each step, and pieces too heavy for one person."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from budget.figures import Figure, product, total
from budget.job import Settings
from budget.quantities.feature_needs import Caution
from budget.quantities.takeoff import Need
from budget.reference import coefficient, steps
from budget.units import MASS, System, in_words, whole_packs

#: Kinds lifted by hand one at a time.
_LIFTED = ("paver", "wall unit", "cap", "timber", "steel section", "extra")


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
    limit = coefficient("lifting guideline").likely * (1 + 1e-9)
    pieces = [(one, need) for need in needs if (one := _piece(need)) is not None]
    piece, item = max(((one, need.item) for one, need in pieces), default=(0.0, ""))
    return StepWeight(
        step, bedding, total(f"weight to handle, {step}", known, MASS), item, piece,
        sum(whole_packs(need.measures["count"].value) for one, need in pieces if one > limit),
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
    for need in needs:
        one = _piece(need)
        if one is not None and one > limit.likely * (1 + 1e-9):
            heavy.setdefault(need.step, {})[need.item] = one
    found = [
        (step, _text(pieces, limit.likely, system), limit.cited)
        for step, pieces in sorted(heavy.items())
    ]
    if people < 2:
        found += [(step, _ALONE, "common practice") for step in sorted(heavy)]
    return found


def people_of(settings: Settings) -> int:
    """The owner and whoever helps, paid or not."""
    return 1 + settings.helpers + settings.paid_helpers


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
        said.append(f"Two people, counted as two, lift each {two}: over {over}.")
    if more:
        twice = in_words(2 * limit, MASS, system)
        said.append(
            f"A machine, or a cart and more than two people, moves each {more}: "
            f"over {twice}, {over} for each of two."
        )
    return " ".join(said)


def _listed(found: dict[str, float], system: System) -> str:
    return ", ".join(f"{item} ({in_words(n, MASS, system)})" for item, n in sorted(found.items()))
