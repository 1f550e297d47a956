"""Pavers beyond those that end in the work: broken ones, spoiled cuts, and spares to keep.

Three things that a single percentage hides. What breaks and what is spoiled is used up: without
it the paving cannot be finished. Spares are kept for later repair, and may be laid if pavers run
out: without them nothing stops.
"""

from __future__ import annotations

import math

from budget.figures import Figure, product, total
from budget.job import Settings
from budget.numerals import how_many, trimmed
from budget.reference import coefficient
from budget.units import COUNT, RATIO

_DEFAULT = "spares kept"


def spare_share(settings: Settings) -> Figure:
    """The share of the pavers laid that is kept for later repair [ratio]."""
    return given_share(settings) or coefficient(_DEFAULT).figure()


def given_share(settings: Settings) -> Figure | None:
    """The same where the Job sheet says it; None: it is left to the documented default."""
    if settings.spares is None:
        return None
    return settings.figure("spares", RATIO, "spare pavers to keep")


def spare_key(settings: Settings) -> str:
    """The key of the input that says how many spares are kept."""
    return spare_share(settings).key


def kept(laid: Figure, share: Figure) -> Figure:
    """Spare pavers to keep [count].

    >>> from budget.figures import constant
    >>> kept(constant(500, COUNT, "laid"), constant(0.02, RATIO, "spares")).value
    10.0
    """
    return product("spares to keep", COUNT, laid, share)


def to_order(item: str, laid: Figure, cut: Figure, share: Figure) -> Figure:
    """Pavers to order: those laid, broken ones, spoiled cuts and spares to keep [count].

    :param laid: pavers that end in the work, and what their cuts use up.
    :param cut: how many of them are cut.

    >>> from budget.figures import constant
    >>> laid, cut = constant(1000, COUNT, "laid"), constant(100, COUNT, "cut")
    >>> to_order("Paver", laid, cut, constant(0.02, RATIO, "spares")).value
    1040.0
    """
    broken = product("pavers broken", COUNT, laid, coefficient("paver broken").figure())
    parts = [laid, broken]
    if cut.value:
        spoiled = coefficient("cut spoiled").figure()
        parts.append(product("pavers spoiled in cutting", COUNT, cut, spoiled))
    return total(f"{item} with broken, spoiled and spare ones", [*parts, kept(laid, share)])


def in_words(laid: Figure, share: Figure) -> str:
    """What is added to the pavers laid, with the spares to keep as a number.

    >>> from budget.figures import constant
    >>> in_words(constant(980, COUNT, "laid"), constant(0.02, RATIO, "spares"))
    'Then broken ones, spoiled cuts, and 20 spares to keep (2 % of those laid).'
    """
    count = kept(laid, share).value
    if not count:
        return "Then broken ones and spoiled cuts; no spares are kept."
    spares = f"{how_many(math.ceil(count), 'spare')} to keep ({trimmed(share.value * 100, 2)} %"
    return f"Then broken ones, spoiled cuts, and {spares} of those laid)."
