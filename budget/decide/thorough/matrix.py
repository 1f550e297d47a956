"""Bids side by side: what each covers, leaves out, or does not say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from budget.decide.terms.situation import Situation, step_order
from budget.decide.terms.tariffs import cover_price
from budget.decide.terms.thin import too_thin
from budget.prices.options import Answer, Bid, ChecklistCost, Risk

YES, NO, NOT_SAID, EXTRA, NO_MATTER = "yes", "no", "not said", "extra", ""

STEPS, BRINGS, COSTS, RISKS = "Steps", "Brings", "Costs", "Risks"


@dataclass(frozen=True, slots=True)
class Cell:
    """What one bid says of one thing."""

    answer: str  # yes, no, not said, extra; blank: it is no matter of this bid
    extra: float = 0.0  # cents, tax included


@dataclass(frozen=True, slots=True)
class Row:
    """One thing across all bids, in their order."""

    group: str
    item: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Matrix:
    """All bids of a job, by name, against steps, what they bring, costs and risks."""

    bids: tuple[str, ...]
    rows: tuple[Row, ...]

    def of(self, bid: str) -> Iterator[tuple[Row, Cell]]:
        """What one bid says, row by row."""
        at = self.bids.index(bid)
        return ((row, row.cells[at]) for row in self.rows)


def matrix(situation: Situation) -> Matrix:
    """The bids that can be used in one situation against everything that one may leave out."""
    bids = situation.bids
    return Matrix(tuple(b.key for b in bids), tuple(_rows(situation, bids)))


def _rows(situation: Situation, bids: tuple[Bid, ...]) -> Iterator[Row]:
    for step in sorted(situation.coverable, key=step_order):
        yield Row(STEPS, step, tuple(_yes_or_no(step in bid.steps) for bid in bids))
    yield Row(BRINGS, "Materials of its steps", tuple(_materials(situation, b) for b in bids))
    yield Row(BRINGS, "Machines of its steps", tuple(_yes_or_no(b.equipment) for b in bids))
    if any(bid.base_depth is not None for bid in bids):
        yield Row(BRINGS, "Base as deep as drawn", tuple(_depth(situation, b) for b in bids))
    for line in situation.options.checklist:
        if line.answer != "not needed":
            yield Row(COSTS, line.line, tuple(_cost(line, bid) for bid in bids))
    for risk in situation.options.risks:
        yield Row(RISKS, risk.item, tuple(_risk(situation, risk, bid) for bid in bids))


def _yes_or_no(covered: bool) -> Cell:
    return Cell(YES if covered else NO)


def _materials(situation: Situation, bid: Bid) -> Cell:
    used = {need.step for need in situation.needs}
    return _yes_or_no(bid.materials) if used & set(bid.steps) else Cell(NO_MATTER)


def _depth(situation: Situation, bid: Bid) -> Cell:
    if "Base" not in situation.covered(bid):
        return Cell(NO_MATTER)
    if bid.base_depth is None:
        return Cell(NOT_SAID)
    return _yes_or_no(too_thin(situation, bid) is None)


def _cost(line: ChecklistCost, bid: Bid) -> Cell:
    price = cover_price(line, bid)
    if price is not None:
        return Cell(EXTRA, price.value) if price.value else Cell(YES)
    return _said(bid.answer(line.line))


def _risk(situation: Situation, risk: Risk, bid: Bid) -> Cell:
    if risk.steps and not set(risk.steps) & set(situation.covered(bid)):
        return Cell(NO_MATTER)
    return _said(bid.answer(risk.item))


def _said(answer: Answer | None) -> Cell:
    if answer is None or not answer.said:
        return Cell(NOT_SAID)
    if answer.answer == "extra":
        return Cell(EXTRA, answer.extra.value) if answer.extra else Cell(NO)
    return Cell(answer.answer)
