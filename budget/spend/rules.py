"""What a line will come to, from its plan and its entries.

The rules, in the order they are asked:

* Nothing ordered: the line will come to its plan with agreed changes, or to what is paid, if
  that is more. A payment alone is a part payment, for nobody says that it was the last.
* After a final payment nothing more is to come but what is ordered or agreed later.
* Goods, machines and fees of which something is ordered or paid, and whose work is done, come to
  what is ordered or paid: nothing more is bought for it. Firms are not meant: their bill may
  come after the work.
* Ordered or paid with quantities: that quantity is settled at what was ordered or paid,
  whichever is more; the rest of the need is still to come at the present price.
* Ordered without a quantity: the order settles the whole line.
* A change agreed after the last order is still to come; an order made on that day or later is
  taken to hold it.
* Goods sent back lower what is owed; money is back only once it is refunded.
* A refund answers first for goods sent back by then, next for what was paid too much; the rest
  of it lowers what the line comes to. No more is counted as refunded than was paid. Where nothing
  settles the price but the plan (no order, no quantity, no final payment) it does so once the
  plan's sum was paid in full: before that, and where all of the money came back, it only undoes
  part payments.

The plan is the one that the workbook gives now: its quotes and amounts are the latest known.
"""

from __future__ import annotations

import math

from budget.spend.tracking import Tally
from budget.units import PACK_TOLERANCE, round_half_up


def settled_share(tally: Tally, packs: float | None) -> float:
    """The share of the quantity needed that is ordered or paid for, from 0 to 1.

    ``packs`` is the quantity needed, None where the plan counts none.

    >>> settled_share(Tally(orders=1, ordered_quantity=4.0), 10)
    0.4
    >>> settled_share(Tally(orders=1, ordered_quantity=None), 10)
    1.0
    >>> settled_share(Tally(paid=500), 10), settled_share(Tally(paid=500, work_done=True), 10)
    (0.0, 1.0)
    """
    if tally.final or tally.work_done:
        return 1.0
    if tally.orders and (tally.ordered_quantity is None or not packs):
        return 1.0
    if not packs:
        return 0.0
    taken = settled_quantity(tally)
    return min(1.0, taken / packs) if taken < packs - PACK_TOLERANCE else 1.0


def settled_quantity(tally: Tally) -> float:
    """How much is ordered or paid for, by quantities that were entered.

    >>> settled_quantity(Tally(orders=2, ordered_quantity=4.0, paid_quantity=5.0))
    5.0
    """
    return max(tally.ordered_quantity or 0.0, tally.paid_quantity)


def rest(packs: float | None, tally: Tally, pack: float = 0.0) -> float | None:
    """The packs still to buy, rounded up to what is sold; None where the plan counts none.

    >>> rest(10.4, Tally(orders=1, ordered_quantity=4.0), 1)
    7.0
    >>> rest(10.4, Tally(orders=1, ordered_quantity=4.0), 0) == 10.4 - 4
    True
    """
    if packs is None:
        return None
    if settled_share(tally, packs) >= 1.0:
        return 0.0
    left = packs - settled_quantity(tally)
    return float(math.ceil(left / pack - PACK_TOLERANCE) * pack) if pack > 0 else left


def will_come_to(
    planned: int, tally: Tally, packs: float | None, need: float | None = None, pack: float = 0.0
) -> int:
    """What a line will come to in cents.

    ``planned`` cents buy ``packs``; ``need`` packs are needed after measuring again (as many if
    None). A plan of 500.00 for 10 packs, of which 4 are ordered for 240.00, will come to 540.00,
    and to 590.00 if 11 turn out to be needed:

    >>> will_come_to(50000, Tally(orders=1, ordered=24000, ordered_quantity=4.0), 10)
    54000
    >>> will_come_to(50000, Tally(orders=1, ordered=24000, ordered_quantity=4.0), 10, 11)
    59000
    >>> will_come_to(50000, Tally(paid=20000), None)
    50000
    >>> will_come_to(50000, Tally(paid=52000), None)
    52000

    A final payment of 200.00 leaves it at that, also where more was ordered:

    >>> will_come_to(50000, Tally(paid=20000, final=True, forgiven=20000), 10)
    20000
    >>> less = Tally(orders=1, ordered=24000, paid=20000, final=True, forgiven=-4000)
    >>> will_come_to(50000, less, 10)
    20000

    A refund of 30.00 without goods sent back makes an order of 500.00 cheaper:

    >>> will_come_to(50000, Tally(orders=1, ordered=50000, paid=50000, refunded=3000), 10)
    47000
    """
    if packs and need is not None:
        share = settled_share(tally, need)
        left = rest(need, tally, pack) or 0.0
        to_buy = planned * left / packs
    else:
        share = settled_share(tally, packs)
        to_buy = planned * (1.0 - share)
    if share == 0.0:
        owed = round_half_up(to_buy) + tally.owed_at_first
        paid_up = tally.paid >= owed and tally.paid_net > 0
        cut = tally.price_cut(owed) if paid_up else 0
        return max(owed - tally.returned - cut, tally.paid_net)
    return max(tally.owing, tally.paid_net) + round_half_up(to_buy)
