"""What offers say about cost lines and risks, and the risks that may stay with the owner."""

from __future__ import annotations

from budget.figures import Figure
from budget.job import Bid as BidRow
from budget.job import BidScope, Job
from budget.prices.options import Answer, Risk
from budget.prices.tax import with_tax
from budget.reference import rows
from budget.units import MONEY

#: Risks that have a column of their own on the Bids sheet: yes there leaves them to the owner.
_COLUMNS = {
    "Days lost to rain": "rain_on_owner",
    "Rock or rubble in the ground": "rock_on_owner",
}


def risks(job: Job) -> tuple[Risk, ...]:
    """The risks of the reference table, then the user's own from Bid scope that cost something.

    A chance or a cost that the user gives for every bid stands in the place of the guess.
    """
    own = _for_every_bid(job)
    found = []
    for row in rows("bid_scope"):
        given = own.pop(row["item"].casefold(), None)
        found.append(
            Risk(
                item=row["item"],
                what=row["what"],
                steps=tuple(s.strip() for s in row["steps"].split(",") if s.strip()),
                own=row["own"] == "yes",
                chance=float(row["chance"]) if _no(given, "chance") else _value(given, "chance"),
                share=float(row["share"]),
                cost=None if given is None else given.cost,
                source=f"{row['source']} ({row['standing']})",
                guess=_no(given, "chance"),
            )
        )
    lines = {row["line"].casefold() for row in (*rows("checklist"),)}
    lines |= {row.line.casefold() for row in job.checklist}
    known = {risk.item.casefold() for risk in found} | lines
    for item in _others(job, known):
        given = own.get(item.casefold())
        chance = 1.0 if _no(given, "chance") else _value(given, "chance")
        cost = None if given is None else given.cost
        found.append(Risk(item, item, (), False, chance, 0.0, cost, "", False))
    return tuple(found)


def _no(row: BidScope | None, field: str) -> bool:
    return row is None or getattr(row, field) is None


def _value(row: BidScope | None, field: str) -> float:
    return float(getattr(row, field))


def _for_every_bid(job: Job) -> dict[str, BidScope]:
    """The rows of Bid scope that name no bid, by item."""
    return {row.item.casefold(): row for row in reversed(_said(job)) if not row.bid}


def _said(job: Job) -> list[BidScope]:
    """The rows that tell of a cost line or a risk; a deduct tells of steps."""
    return [row for row in job.bid_scope if row.deduct is None]


def _others(job: Job, known: set[str]) -> list[str]:
    """Items of the user's own, each once as first written, by name."""
    found: dict[str, str] = {}
    for row in sorted(_said(job), key=lambda r: (r.item, r.place.row)):
        if row.item.casefold() not in known:
            found.setdefault(row.item.casefold(), row.item)
    return sorted(found.values())


def answers(job: Job, row: BidRow, tax: Figure) -> tuple[Answer, ...]:
    """What one bid says, by item: its own row, else what holds for every bid."""
    own = {s.item.casefold(): s for s in reversed(_said(job)) if _about(s, row)}
    every = _for_every_bid(job)
    found = [_answer(own.get(item), every.get(item), tax) for item in sorted({*own, *every})]
    said = {a.item.casefold(): a for a in found if a.said}
    for item, field in _COLUMNS.items():
        value = getattr(row, field)
        if item.casefold() in said or value is None:
            continue
        kept = next((a for a in found if a.item.casefold() == item.casefold()), None)
        found = [a for a in found if a is not kept]
        chance, cost = (kept.chance, kept.cost) if kept else (None, None)
        found.append(Answer(item, "no" if value else "yes", None, chance, cost))
    return tuple(sorted(found, key=lambda a: a.item))


def _about(scope: BidScope, row: BidRow) -> bool:
    return scope.bid.casefold() == row.bid.casefold()


def _answer(own: BidScope | None, every: BidScope | None, tax: Figure) -> Answer:
    """One item's answer: the bid's own, else that for all. Chance and cost are its own alone."""
    given = [row for row in (own, every) if row is not None]
    said = next((row for row in given if row.answer), given[0])
    extra = None
    if said.answer == "extra" and said.extra is not None:
        price = said.figure("extra", MONEY, f"extra for {said.item}")
        extra = with_tax(f"extra for {said.item}", price, tax)
    chance, cost = (own.chance, own.cost) if own is not None else (None, None)
    return Answer(said.item, said.answer or "", extra, chance, cost)


def in_words(row: BidRow, found: tuple[Answer, ...], table: tuple[Risk, ...]) -> tuple[str, ...]:
    """The risks that a bid leaves with the owner, in words.

    What it does not say is asked about for the risks that have a column on Bids, and for those
    that the user has named on Bid scope.
    """
    by_item = {a.item.casefold(): a for a in found}
    said = []
    for risk in table:
        answer = by_item.get(risk.item.casefold())
        if risk.steps and not set(risk.steps) & set(row.steps):
            continue
        if answer is not None and answer.answer == "no":
            said.append(f"You pay for {risk.what}.")
        elif answer is not None and answer.answer == "extra":
            said.append(f"You pay for {risk.what}, unless they take it on for more money.")
        elif (answer is None and risk.item in _COLUMNS) or (answer is not None and not answer.said):
            said.append(f"Ask who pays for {risk.what}; the bid does not say.")
    return tuple(said)
