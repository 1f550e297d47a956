"""Sales tax, line by line. Prices are before tax unless the quotes include it."""

from __future__ import annotations

from budget.figures import Figure, cents, constant, product, total
from budget.job import Settings
from budget.prices.defaults import Notes, if_filled
from budget.units import MONEY, RATIO

#: The rate of what is not taxed, or whose price includes the tax.
UNTAXED = constant(0.0, RATIO, "no tax")

#: No money at all.
NOTHING = constant(0.0, MONEY, "nothing")


def sales_tax(settings: Settings, notes: Notes) -> Figure:
    """The job's sales tax as a ratio; a job that gives none is listed as assumed at 0 %."""
    figure = if_filled(settings, "sales_tax", RATIO, "sales tax")
    if figure is None or "sales_tax" not in settings.places:
        notes.assume("sales tax", "0 %", "none given", "Job")
        return constant(0.0, RATIO, "sales tax")
    return figure


def applies(settings: Settings, rate: Figure, taxed: bool) -> Figure:
    """The ratio to add to one price: ``rate``, or none when not taxed or included."""
    return rate if taxed and not settings.tax_included else UNTAXED


def tax_on(price: Figure, ratio: Figure) -> Figure:
    """The tax on one line [cents], rounded half up to the cent.

    >>> from budget.figures import given
    >>> tax_on(given(1999, MONEY, "goods", "Quotes!F2"), constant(0.0725, RATIO, "tax")).value
    145
    """
    if ratio is UNTAXED:
        return NOTHING
    return cents("tax", product("tax before rounding", MONEY, price, ratio))


def with_tax(name: str, price: Figure, ratio: Figure) -> Figure:
    """One line of money with its tax [cents]: both rounded, then added."""
    rounded = cents(f"{name} before tax", price)
    if ratio is UNTAXED:
        return rounded.called(name)
    return total(name, [rounded, tax_on(rounded, ratio)])
