"""Everything the decision may choose from, laid out from the job and its quantities."""

from __future__ import annotations

from budget.figures import Figure, constant
from budget.job import Job, Settings
from budget.prices.bids import bids
from budget.prices.carrying import distances
from budget.prices.checklist import checklist
from budget.prices.defaults import Notes, if_filled
from budget.prices.disposal import disposal_ways
from budget.prices.equipment import machines
from budget.prices.options import Offer, Options
from budget.prices.quotes import offers
from budget.prices.routes import routes
from budget.prices.scope import risks
from budget.prices.tax import sales_tax
from budget.prices.work import methods
from budget.quantities.takeoff import Takeoff
from budget.units import HOURS, MONEY, RATIO, per


def flatten(job: Job, takeoff: Takeoff) -> Options:
    """Lay out every way to meet each need and to do each step of a job.

    What cannot be counted (a price that is blank, a vehicle without a payload) is left out
    with a warning; documented defaults that are used are listed as assumed. The result does
    not depend on the order of the workbook's rows.
    """
    notes = Notes(job.settings.units)
    tax = sales_tax(job.settings, notes)
    quoted = offers(job, takeoff, tax, notes)
    suppliers = sorted({offer.supplier for offer in quoted})
    equipment = machines(job, tax, notes)
    pay = if_filled(job.settings, "helper_pay", per(MONEY, HOURS), "pay of a helper")
    ways = routes(job, suppliers, tax, notes)
    return Options(
        offers=quoted,
        routes=ways,
        methods=methods(job, takeoff, equipment, notes),
        bids=bids(job, tax, notes),
        machines=equipment,
        disposal=disposal_ways(job, tax, notes),
        carry=distances(job, notes),
        checklist=checklist(job, takeoff),
        hour_value=_hour_value(job.settings, notes),
        hours_per_day=_hours_per_day(job.settings, notes),
        people=1 + max(0, job.settings.helpers),
        paid_helpers=max(0, job.settings.paid_helpers),
        helper_pay=pay,
        sales_tax=tax,
        card_surcharge=_surcharges(job, quoted),
        risks=risks(job),
        assumed=notes.assumed,
        warnings=notes.warnings,
        currency=job.settings.currency,
    )


def _hour_value(settings: Settings, notes: Notes) -> Figure:
    """Cents an own hour is worth; nothing where no wage is documented in the job's currency."""
    kind = per(MONEY, HOURS)
    own = if_filled(settings, "hour_value", kind, "value of an own hour")
    if own is not None:
        return own
    if settings.currency.upper() == "USD":
        return notes.default("hour value", "Job")
    why = f"no wage is documented in {settings.currency}; fill the Job sheet"
    notes.assume("value of an own hour", "0", why, "Job")
    return constant(0.0, kind, "value of an own hour", why)


def _hours_per_day(settings: Settings, notes: Notes) -> Figure:
    own = if_filled(settings, "hours_per_day", HOURS, "own hours in a working day")
    return notes.default("hours per day", "Job") if own is None else own


def _surcharges(job: Job, quoted: tuple[Offer, ...]) -> dict[str, Figure]:
    """The card surcharge of the sellers that ask one."""
    rows = {row.supplier.casefold(): row for row in job.suppliers}
    found = {}
    for name in sorted({offer.supplier for offer in quoted}):
        row = rows.get(name.casefold())
        if row is not None and row.card_surcharge:
            found[name] = row.figure("card_surcharge", RATIO, f"card surcharge of {name}")
    return found
