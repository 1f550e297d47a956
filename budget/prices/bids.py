"""Bids: what hired help costs, and what it leaves out or leaves with the owner."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from budget.figures import Figure, constant, largest, minus, product, ratio
from budget.job import Bid as BidRow
from budget.job import Job
from budget.prices import scope
from budget.prices.defaults import Notes, if_filled, unique
from budget.prices.forms import MOST_DEDUCTS, deducts, form_name, in_order, smaller_forms
from budget.prices.options import Bid, Risk
from budget.prices.sums import added
from budget.prices.tax import applies, with_tax
from budget.reference import UNIT_TEXTS, steps
from budget.units import AREA, DEPTH, HOURS, MONEY, NUMBER

#: Said of every bid by the hour.
ESTIMATE = "The hours are an estimate: slower work costs you more."


def bids(job: Job, tax: Figure, notes: Notes) -> tuple[Bid, ...]:
    """Every bid that can be priced, by name.

    A bid without a price, or hourly without estimated hours, is warned about and not offered.
    """
    taken: set[str] = set()
    known = scope.risks(job)
    found = []
    for row in sorted(job.bids, key=lambda row: (row.bid, row.firm, row.place.row)):
        if _priced(row, notes):
            whole = _bid(job, row, unique(row.bid, taken), tax, notes, known)
            found += [whole, *_smaller(job, row, whole, taken, notes)]
    return tuple(found)


def _smaller(job: Job, row: BidRow, whole: Bid, taken: set[str], notes: Notes) -> Iterator[Bid]:
    """The same offer without steps that it would leave out, for its price less their deducts."""
    if len(deducts(job, row)) > MOST_DEDUCTS:
        notes.warn(
            row, "bid", "too-many-deducts", row.bid, f"deducts for {MOST_DEDUCTS} sets of steps",
            "Only the first of them count. Join some that you would not leave out apart.",
        )  # fmt: skip
    for left, deduct in smaller_forms(job, row):
        yield replace(
            whole,
            key=unique(form_name(row, left), taken),
            steps=tuple(step for step in whole.steps if step not in left),
            deduct=deduct,
            offer=whole.key,
        )


def _priced(row: BidRow, notes: Notes) -> bool:
    if row.price is None:
        field, expected = "price", "the price of this bid"
    elif row.basis == "hourly" and row.hours is None and row.least is None:
        field, expected = "hours", "the hours they reckon with"
    else:
        return True
    notes.warn(
        row, field, "not-priced", "", expected, f"Until it is filled, {row.bid} is not counted."
    )
    return False


def _bid(
    job: Job, row: BidRow, key: str, tax: Figure, notes: Notes, known: tuple[Risk, ...]
) -> Bid:
    taxed = applies(job.settings, tax, row.taxed)
    said = scope.answers(job, row, taxed)
    supervise = if_filled(row, "supervise", HOURS, f"hours to supervise {row.bid}")
    return Bid(
        key=key,
        firm=row.firm,
        steps=tuple(in_order(row.steps)),
        price=row.figure("price", MONEY, f"price of {row.bid}"),
        basis=row.basis,
        unit_step=_unit_step(row) if row.basis == "per unit" else "",
        unit_size=row.unit_size,
        hours=if_filled(row, "hours", HOURS, "hours they reckon with"),
        least=if_filled(row, "least", HOURS if row.basis == "hourly" else NUMBER, "least billed"),
        mobilisation=if_filled(row, "mobilisation", MONEY, "mobilisation"),
        tax=taxed,
        materials=row.materials,
        equipment=row.equipment,
        supervise=supervise or notes.default("supervise hours", "Bids"),
        risks=(*_unsure(row), *scope.in_words(row, said, known)),
        base_depth=if_filled(row, "base_depth", DEPTH, "base depth in the bid"),
        expired=row.valid_until is not None and row.valid_until < job.settings.as_of,
        cell=row.cell("price"),
        scope=said,
    )


def _unit_step(row: BidRow) -> str:
    """The step whose amount a price per unit counts; blank for the paved area."""
    if row.unit not in UNIT_TEXTS:
        return ""
    dimension = UNIT_TEXTS[row.unit][0].dimension
    if dimension == AREA.dimension:
        return ""
    fitting = [s for s in in_order(row.steps) if steps()[s].measure.dimension == dimension]
    return fitting[0] if fitting else ""


def _unsure(row: BidRow) -> tuple[str, ...]:
    return (ESTIMATE,) if row.basis == "hourly" else ()


def bid_cost(bid: Bid, amount: Figure | None, area: Figure) -> Figure:
    """What one bid costs, tax included [cents].

    :param amount: of ``bid.unit_step`` [SI]; not looked at where that is blank.
    :param area: the paved area [m²], which a price per unit counts where no step is named.

    A lump sum is as written. A price per unit is times the units, an hourly one times the
    hours they reckon with, each at the least billed or more. Mobilisation comes on top,
    and a deduct for steps left out goes off.

    >>> from budget.figures import given
    >>> mow = Bid(
    ...     key="Dig", firm="", steps=("Dig",), price=given(9500, MONEY, "an hour", "Bids!D2"),
    ...     basis="hourly", unit_step="", unit_size=1, hours=constant(3, HOURS, "hours"),
    ...     least=constant(4, HOURS, "least"), mobilisation=constant(15000, MONEY, "float"),
    ...     tax=constant(0.0, NUMBER, "no tax"), materials=False, equipment=True,
    ...     supervise=constant(1, HOURS, "-"), risks=(), expired=False, cell="Bids!D2")
    >>> bid_cost(mow, None, constant(20, AREA, "area")).value
    53000
    """
    price = bid.price
    if bid.basis != "lump":
        price = product("price by what is billed", MONEY, price, _billed(bid, amount, area))
    whole = added(f"{bid.key} before tax", [price, bid.mobilisation], MONEY)
    if bid.deduct is not None:
        whole = minus(f"{bid.key} before tax, less the deduct", whole, bid.deduct)
    return with_tax(bid.key, whole, bid.tax)


def _billed(bid: Bid, amount: Figure | None, area: Figure) -> Figure:
    """Units or hours billed, as a bare number."""
    if bid.basis == "hourly":
        hours = [figure for figure in (bid.hours, bid.least) if figure is not None]
        count = hours[0] if len(hours) == 1 else largest("hours billed", *hours)
        return ratio("hours billed, as a number", NUMBER, count, constant(1, HOURS, "one hour"))
    counted = amount if bid.unit_step else area
    if counted is None:
        msg = f"{bid.key} counts {bid.unit_step}, but no amount of it was given"
        raise ValueError(msg)
    unit = constant(bid.unit_size, counted.kind, "one unit")
    units = ratio("units", NUMBER, counted, unit)
    return units if bid.least is None else largest("units billed", units, bid.least)
