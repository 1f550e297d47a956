"""What a line will come to, from its plan and its entries.

The rules, in the order they are asked:

* Nothing ordered: the line will come to its plan with agreed changes, or to what is paid, if
  that is more. A payment alone is a part payment, for nobody says that it was the last.
* Ordered or paid with quantities: that quantity is settled at what was ordered or paid,
  whichever is more; the rest of the plan is still to come at the plan's price.
* Ordered without a quantity: the order settles the whole line.
* A change agreed after the last order is still to come; an order made on that day or later is
  taken to hold it.
* Goods sent back lower what is owed; money is back only once it is refunded.
"""

from __future__ import annotations

from budget.spend.tracking import Tally
from budget.units import PACK_TOLERANCE, round_half_up


def settled_share(tally: Tally, packs: float | None) -> float:
    """The share of the planned quantity that is ordered or paid for, from 0 to 1.

    ``packs`` is the planned quantity, None where the plan counts none.

    >>> settled_share(Tally(orders=1, ordered_quantity=4.0), 10)
    0.4
    >>> settled_share(Tally(orders=1, ordered_quantity=None), 10)
    1.0
    >>> settled_share(Tally(paid=500), 10)
    0.0
    """
    if tally.orders and (tally.ordered_quantity is None or not packs):
        return 1.0
    if not packs:
        return 0.0
    taken = max(tally.ordered_quantity or 0.0, tally.paid_quantity)
    return min(1.0, taken / packs) if taken < packs - PACK_TOLERANCE else 1.0


def will_come_to(planned: int, tally: Tally, packs: float | None) -> int:
    """What a line will come to in cents.

    A plan of 500.00 for 10 packs, of which 4 are ordered for 240.00, will come to 540.00:

    >>> will_come_to(50000, Tally(orders=1, ordered=24000, ordered_quantity=4.0), 10)
    54000
    >>> will_come_to(50000, Tally(paid=20000), None)
    50000
    >>> will_come_to(50000, Tally(paid=52000), None)
    52000
    """
    share = settled_share(tally, packs)
    if share == 0.0:
        return max(planned + tally.owing, tally.paid_net)
    rest = round_half_up(planned * (1.0 - share))
    return max(tally.owing, tally.paid_net) + rest
