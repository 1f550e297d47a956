"""Days of hired vehicles in the programme: one column for each vehicle, over all its trips."""

from __future__ import annotations

import math
from collections.abc import Sequence

from budget.decide.model.build import Build, Outing
from budget.decide.terms.vehicles import Vehicle, vehicle_of
from budget.units import PACK_TOLERANCE, whole_packs


def add_hire_days(build: Build, outings: Sequence[Outing]) -> None:
    """Days of each hired vehicle, counted over its trips to all sellers and to the tip."""
    by_vehicle: dict[Vehicle, list[Outing]] = {}
    for outing in outings:
        vehicle = vehicle_of(outing.way)
        if vehicle is not None:
            by_vehicle.setdefault(vehicle, []).append(outing)
    for (_, price, tax), mine in by_vehicle.items():
        _days(build, mine, price * (1.0 + tax))


def _days(build: Build, outings: Sequence[Outing], cost: float) -> None:
    day = build.situation.options.hours_per_day.value
    high = math.ceil(sum(outing.most for outing in outings) / day) + 1.0
    days = build.amount(high, cash=cost, whole=True)
    terms = [(c, -hours / day) for outing in outings for c, hours in outing.hours]
    build.programme.row([(days, 1.0), *terms], low=-PACK_TOLERANCE)
    if len(outings) == 1:
        return
    for outing in outings:
        for column, hours in outing.least:
            alone = float(whole_packs(hours / day))
            build.programme.row([(days, 1.0), (column, -alone)], low=0.0)
