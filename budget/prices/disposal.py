"""Spoil: the ways to be rid of it, and what each costs for a volume and its weight."""

from __future__ import annotations

from dataclasses import dataclass

from budget.figures import Figure, constant, largest, minus, product, ratio, total, whole
from budget.job import Disposal, Job
from budget.prices.defaults import Notes, if_filled, unique
from budget.prices.hauling import haul
from budget.prices.options import DisposalWay, Haul
from budget.prices.routes import haul_with
from budget.prices.sums import added, times
from budget.prices.tax import NOTHING, applies, with_tax
from budget.units import (
    BULK_MASS,
    COUNT,
    DISTANCE,
    HOURS,
    LOOSE_VOLUME,
    MASS,
    MONEY,
    NUMBER,
    VOLUME,
    per,
)

FREE_KINDS = ("keep", "give away")


def disposal_ways(job: Job, tax: Figure, notes: Notes) -> tuple[DisposalWay, ...]:
    """Every way that can be priced, by name.

    Keeping soil or giving it away costs nothing unless a price stands there. Any other way
    without a price, without the size of a load, or without the distance to the tip is warned
    about and not offered.
    """
    taken: set[str] = set()
    found = []
    for row in sorted(job.disposal, key=lambda row: (row.way, row.place.row)):
        trips = _to_the_tip(job, row, tax, notes) if row.kind == "own trips" else None
        if _complete(row, trips, notes):
            found.append(_way(job, row, unique(row.way, taken), trips, tax))
    return tuple(found)


def _complete(row: Disposal, trips: Haul | None, notes: Notes) -> bool:
    if row.kind in FREE_KINDS:
        return True
    if row.price is None:
        field, expected = "price", "the price of a load"
    elif row.kind == "own trips":
        return trips is not None
    elif row.volume is None and (row.weight is None or row.over_price is not None):
        field, expected = "volume", "the volume a load may hold"
    else:
        return True
    notes.warn(
        row, field, "not-priced", "", expected, f"Until it is filled, {row.way} is not counted."
    )
    return False


def _to_the_tip(job: Job, row: Disposal, tax: Figure, notes: Notes) -> Haul | None:
    way = if_filled(job.settings, "tip_distance", DISTANCE, "distance to the tip")
    named = [v for v in job.vehicles if v.vehicle.casefold() == row.vehicle.casefold()]
    if way is None or not named:
        what = "the vehicle" if way is not None else "the distance to the tip, on the Job sheet"
        notes.warn(
            row, "vehicle", "own-trips-not-known", "", what,
            f"Until it is filled, {row.way} is not counted.",
        )  # fmt: skip
        return None
    return haul_with(job, named[0], way, "the tip", tax, notes)


def _way(job: Job, row: Disposal, key: str, trips: Haul | None, tax: Figure) -> DisposalWay:
    price = NOTHING
    if row.price is not None:
        price = row.figure("price", MONEY, f"price of a load, {row.way}")
    return DisposalWay(
        key=key,
        kind=row.kind,
        price=price,
        volume=if_filled(row, "volume", LOOSE_VOLUME, "volume of a load"),
        weight=if_filled(row, "weight", BULK_MASS, "weight included in a load"),
        over_price=if_filled(row, "over_price", per(MONEY, BULK_MASS), "price of weight over"),
        permit=if_filled(row, "permit", MONEY, "permit"),
        hours=if_filled(row, "hours", per(HOURS, VOLUME), "own hours for loose soil"),
        haul=trips,
        tax=applies(job.settings, tax, False),
        cell=row.cell("price"),
    )


@dataclass(frozen=True, slots=True)
class Disposing:
    """What being rid of the spoil takes."""

    loads: Figure
    cash: Figure  # cents
    hours: Figure  # own hours beyond moving it to the heap
    trips: Figure | None = None  # own hours of the trips among them, for own trips


def disposal_cost(
    way: DisposalWay, volume: Figure, weight: Figure, hours_per_day: Figure, hire: bool = True
) -> Disposing:
    """Loads, money and own hours of one way to be rid of spoil.

    :param volume: loose [m³]. :param weight: of the same [kg].
    :param hours_per_day: own hours in a working day [h], for a hired vehicle.

    Loads are by volume; by weight too where a load may not be heavier. Where weight over the
    included weight is charged, the loads stay and the weight over all of them is paid. Own
    trips count as hauling does. A permit is paid once. Without ``hire`` the days of a hired
    vehicle are left out: trips for goods share them.
    """
    trips = None
    if way.haul is not None:
        trips = haul(way.haul, weight, volume, hours_per_day)
    loads = trips.trips if trips else _loads(way, volume, weight)
    fees = [times("price of all loads", MONEY, loads, way.price), _over(way, loads, weight)]
    cash = with_tax(f"{way.key}", added("disposal", [*fees, way.permit], MONEY), way.tax)
    extra = None if way.hours is None else product("own hours, soil", HOURS, volume, way.hours)
    if trips is None:
        return Disposing(loads, cash, added("own hours, soil", [extra], HOURS))
    driving = trips.cash if hire else trips.mileage
    hours = added("own hours", [trips.hours, extra], HOURS)
    return Disposing(loads, total(way.key, [cash, driving]), hours, trips.hours)


def _loads(way: DisposalWay, volume: Figure, weight: Figure) -> Figure:
    found = []
    if way.volume is not None:
        found.append(ratio("loads by volume", NUMBER, volume, way.volume))
    if way.weight is not None and way.over_price is None:
        found.append(ratio("loads by weight", NUMBER, weight, way.weight))
    if not found:
        return constant(1, COUNT, "all at once")
    return whole("loads", found[0] if len(found) == 1 else largest("loads", *found))


def _over(way: DisposalWay, loads: Figure, weight: Figure) -> Figure | None:
    """Cents for weight beyond what the loads include."""
    if way.over_price is None or way.weight is None:
        return None
    included = product("weight included", MASS, loads, way.weight)
    over = minus("weight over", weight, included)
    charged = largest("weight over, if any", over, constant(0.0, MASS, "none"))
    return product("price of the weight over", MONEY, charged, way.over_price)
