"""Fetching goods oneself: what one trip may carry, how many trips, their cost and hours."""

from __future__ import annotations

from dataclasses import dataclass

from budget.figures import Figure, constant, largest, minus, product, ratio, smallest, total, whole
from budget.job import Vehicle
from budget.prices.defaults import Notes
from budget.prices.options import Haul
from budget.prices.sums import times
from budget.prices.tax import UNTAXED, with_tax
from budget.units import COUNT, HOURS, MASS, MONEY, NUMBER, RATIO


@dataclass(frozen=True, slots=True)
class Limit:
    """What one trip may carry, and which limit binds."""

    load: Figure  # kg
    why: str


def trip_limit(vehicle: Vehicle, notes: Notes) -> Limit | None:
    """The most one trip may carry [kg], by the tightest limit; None if nobody knows it.

    Alone: payload less the people aboard. With a trailer: its gross less its empty weight, the
    tow limit less its empty weight, and the payload less people, which the tongue share of the
    whole loaded trailer uses up. Weights as on the plates and in the owner's manual.
    """
    limits = list(_limits(vehicle, notes))
    if not limits:
        return None
    binding = min(limits, key=lambda limit: limit.load.value)
    if len(limits) == 1:
        return binding
    load = smallest("load of one trip", *(limit.load for limit in limits))
    return Limit(load, binding.why)


def _limits(vehicle: Vehicle, notes: Notes) -> list[Limit]:
    spare = None
    if vehicle.payload is not None:
        payload = vehicle.figure("payload", MASS, f"payload of {vehicle.vehicle}")
        spare = minus("payload less the people aboard", payload, _people(vehicle, notes))
    if vehicle.trailer_empty is None and vehicle.trailer_gross is None:
        return [] if spare is None else [Limit(spare, "payload less the people aboard")]
    return _trailer_limits(vehicle, spare, notes)


def _trailer_limits(vehicle: Vehicle, spare: Figure | None, notes: Notes) -> list[Limit]:
    if vehicle.trailer_empty is None:
        return []
    empty = vehicle.figure("trailer_empty", MASS, "empty trailer")
    found = []
    if vehicle.trailer_gross is not None:
        gross = vehicle.figure("trailer_gross", MASS, "trailer's gross rating")
        found.append(Limit(minus("gross less empty", gross, empty), "the trailer's gross rating"))
    if vehicle.tow_limit is not None:
        tow = vehicle.figure("tow_limit", MASS, "tow limit")
        found.append(Limit(minus("tow limit less trailer", tow, empty), "the tow limit"))
    if spare is not None and found:
        whole_trailer = ratio(
            "heaviest trailer the hitch bears", MASS, spare, _tongue(vehicle, notes)
        )
        load = minus("hitch limit less trailer", whole_trailer, empty)
        found.append(Limit(load, "payload less people, used up by the tongue load"))
    return found


def _people(vehicle: Vehicle, notes: Notes) -> Figure:
    if vehicle.people is not None:
        return vehicle.figure("people", MASS, "people aboard")
    return notes.default("person weight", "Vehicles")


def _tongue(vehicle: Vehicle, notes: Notes) -> Figure:
    if vehicle.tongue is not None:
        return vehicle.figure("tongue", RATIO, "share of the trailer's weight on the hitch")
    return notes.default("tongue share", "Vehicles")


def road_caution(vehicle: Vehicle) -> str:
    """What to mind on the road with this vehicle, in one or two sentences.

    From owner manuals (tongue load of 10 to 15 %, every rating holds at once) and the federal
    rule that loose sand and gravel be contained or covered (FMCSA securement guide).
    """
    cover = "Cover loose loads, tie down the rest, and follow local road rules."
    if vehicle.trailer_empty is None and vehicle.trailer_gross is None:
        return f"Keep within the payload on the door frame, people counted. {cover}"
    return (
        "Keep within every rating: payload, tow limit, trailer and hitch. Load a little ahead of "
        f"the axle, so that 10 to 15 % rests on the hitch. {cover}"
    )


@dataclass(frozen=True, slots=True)
class Hauling:
    """What fetching an order takes."""

    trips: Figure
    cash: Figure  # cents, tax included
    hours: Figure  # person-hours of driving, loading and unloading
    hire_days: Figure  # days a hired vehicle is out, 0 for an own one
    why: str  # which limit sets the number of trips
    mileage: Figure  # cents of the cash that are not hire


def haul(way: Haul, weight: Figure, volume: Figure | None, hours_per_day: Figure) -> Hauling:
    """Trips, money and hours to fetch an order.

    :param weight: of the order [kg]. :param volume: loose volume of its bulk goods [m³], or None.
    :param hours_per_day: own hours in a working day [h]: a hired vehicle is paid by these days.

    Trips are the larger of weight over the load of one trip and volume over the bed, rounded
    up, one at the least. Mileage is trips times the way there and back. Bulk goods alone are
    held to the bed.
    """
    loads = ratio("loads by weight", NUMBER, weight, way.payload)
    why = way.payload_why
    if way.bed is not None and volume is not None and volume.value > 0:
        by_volume = ratio("loads by volume", NUMBER, volume, way.bed)
        why = "the volume of the bed" if by_volume.value > loads.value else why
        loads = largest("loads", loads, by_volume)
    trips = whole("trips", loads)
    if trips.value < 1:  # goods of unknown weight still have to be fetched
        trips = largest("trips, one at least", trips, constant(1, COUNT, "one trip"))
    driving = product("driving", HOURS, trips, way.drive_hours)
    handling = product("loading and unloading", HOURS, weight, way.handling)
    hours = total(f"trips to {way.supplier}", [driving, handling])
    per_trip = product("cost of one trip", MONEY, way.distance, way.cost_per_distance)
    mileage = with_tax("mileage", times("cost of all trips", MONEY, trips, per_trip), UNTAXED)
    if way.hire_per_day is None:
        return Hauling(trips, mileage, hours, constant(0, COUNT, "hire days"), why, mileage)
    days, rent = vehicle_hire(way, hours, hours_per_day)
    cash = total(f"trips to {way.supplier}", [mileage, rent])
    return Hauling(trips, cash, hours, days, why, mileage)


def vehicle_hire(way: Haul, hours: Figure, hours_per_day: Figure) -> tuple[Figure, Figure]:
    """Days that a hired vehicle is out for some hours of trips, and its hire [cents with tax].

    :param hours: of all trips with it [h], to however many sellers.
    :raises ValueError: if the vehicle is not hired.
    """
    if way.hire_per_day is None:
        msg = f"{way.vehicle} is not hired"
        raise ValueError(msg)
    days = whole("hire days", ratio("days out", NUMBER, hours, hours_per_day))
    return days, with_tax("vehicle hire", product("rent", MONEY, days, way.hire_per_day), way.tax)
