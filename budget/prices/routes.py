"""The ways one seller's goods come: by drop to each drop point offered, or by own trips."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from budget.figures import Figure, constant, product, ratio, total
from budget.job import DropPoint, Job, Supplier, Vehicle
from budget.prices.defaults import Notes, unique
from budget.prices.hauling import road_caution, trip_limit
from budget.prices.options import Drop, Haul, Route
from budget.prices.schedule import schedule
from budget.prices.tax import NOTHING, UNTAXED, applies
from budget.units import BULK_MASS, DISTANCE, HOURS, LOOSE_VOLUME, MONEY, NUMBER, per

POINTS: tuple[DropPoint, ...] = ("street", "drive", "site")


def routes(
    job: Job, suppliers: Iterable[str], tax: Figure, notes: Notes
) -> Mapping[str, tuple[Route, ...]]:
    """Every way to get each seller's goods.

    A seller of whom nothing is known gets one drop that is not ``priced``: its fee is missing,
    never zero.
    """
    rows = {row.supplier.casefold(): row for row in job.suppliers}
    found: dict[str, tuple[Route, ...]] = {}
    for name in suppliers:
        row = rows.get(name.casefold())
        if row is None:
            found[name] = (_unknown(name),)
            continue
        ways: list[Route] = [
            *_drops(job, name, row, tax, notes),
            *_hauls(job, name, row, tax, notes),
        ]
        found[name] = tuple(ways) or (_unknown(name),)
    return found


def _unknown(name: str) -> Drop:
    return Drop(
        key="deliver to drive", supplier=name, point="drive", per_drop=NOTHING, per_mass=None,
        per_volume=None, per_pallet=None, free_pallets=0, value_steps=(), free_above=None,
        least=0, most=None, heaps_share=False, tax=UNTAXED, priced=False,
    )  # fmt: skip


def _drops(job: Job, name: str, row: Supplier, tax: Figure, notes: Notes) -> Iterator[Drop]:
    steps = [s for s in job.delivery if s.supplier.casefold() == name.casefold()]
    fees = schedule(row, steps, notes)
    if fees is None:
        return
    charged_by_pallet = fees.per_pallet is not None
    for point in _points(row, notes):
        yield Drop(
            key=f"deliver to {point}",
            supplier=name,
            point=point,
            per_drop=fees.per_drop,
            per_heap=fees.per_heap,
            per_mass=fees.per_mass,
            mass_of=fees.mass_of,
            per_volume=fees.per_volume,
            per_pallet=fees.per_pallet,
            free_pallets=fees.free_pallets,
            pallet_load=notes.default("pallet load") if charged_by_pallet else None,
            value_steps=fees.value_steps,
            free_above=_figure(row, "free_above", "order value from which delivery is free"),
            least=row.least_per_drop or 0,
            most=_most(row),
            heaps_share=row.heaps_share,
            tax=applies(job.settings, tax, row.delivery_taxed),
            point_fee=_figure(row, point, f"extra to set down at the {point}"),
        )


def _points(row: Supplier, notes: Notes) -> list[DropPoint]:
    offered = [point for point in POINTS if getattr(row, point) is not None]
    if offered:
        return offered
    notes.assume(
        f"drop point of {row.supplier}", "the drive, at no extra", "common practice", "Suppliers"
    )
    return ["drive"]


def _figure(row: Supplier, field: str, words: str) -> Figure | None:
    """A sum of money that a seller asks; none where the cell is blank or nothing is asked."""
    return row.figure(field, MONEY, words) if getattr(row, field) else None


def _most(row: Supplier) -> Figure | None:
    if row.most_per_drop is None:
        return None
    return row.figure("most_per_drop", BULK_MASS, f"most that {row.supplier} brings at once")


def _hauls(job: Job, name: str, row: Supplier, tax: Figure, notes: Notes) -> Iterator[Haul]:
    if not row.pickup or not job.vehicles:
        return
    if row.distance is None:
        notes.warn(
            row, "distance", "distance-not-known", "", "the distance to this seller",
            "Fetching from there is not counted until this is filled.",
        )  # fmt: skip
        return
    way = row.figure("distance", DISTANCE, f"distance to {name}")
    taken: set[str] = set()
    for vehicle in sorted(job.vehicles, key=lambda v: (v.vehicle, v.place.row)):
        found = haul_with(job, vehicle, way, name, tax, notes)
        if found is not None:
            yield replace(found, key=unique(found.key, taken))


def haul_with(
    job: Job, vehicle: Vehicle, way: Figure, name: str, tax: Figure, notes: Notes
) -> Haul | None:
    """The option to drive one vehicle a way [m, one way] for something; None if not possible.

    ``name`` is where to: a seller, or the tip.
    """
    limit = trip_limit(vehicle, notes)
    cost = _running_cost(job, vehicle, notes)
    if limit is None:
        notes.warn(
            vehicle, "payload", "payload-not-known", "", "its payload, or its trailer's weights",
            "They stand on the door frame and the trailer's plate; until then it is not counted.",
        )  # fmt: skip
    if limit is None or cost is None:
        return None
    if limit.load.value <= 0:
        notes.warn(
            vehicle, "payload", "no-payload-left", f"{limit.why} leaves nothing to carry",
            "a vehicle that can carry goods", "Check its weights; it is not counted as it is.",
        )  # fmt: skip
        return None
    both = product("way there and back", DISTANCE, way, constant(2, NUMBER, "both ways"))
    driving = ratio("driving time", HOURS, both, notes.default("driving speed"))
    fixed = notes.default("errand hours", words="waiting, paying, strapping down, each trip")
    return Haul(
        key=f"haul with {vehicle.vehicle}",
        supplier=name,
        vehicle=vehicle.vehicle,
        payload=limit.load,
        payload_why=limit.why,
        bed=_bed(vehicle),
        distance=both,
        cost_per_distance=cost,
        drive_hours=total("time of one trip, without loading", [driving, fixed]),
        handling=_handling(vehicle, notes),
        hire_per_day=_hire(vehicle),
        tax=applies(job.settings, tax, True),
        caution=road_caution(vehicle),
    )


def _running_cost(job: Job, vehicle: Vehicle, notes: Notes) -> Figure | None:
    if vehicle.cost_per_distance is not None:
        kind = per(MONEY, DISTANCE)
        return vehicle.figure("cost_per_distance", kind, f"running cost of {vehicle.vehicle}")
    if job.settings.currency.upper() == "USD":
        return notes.default("vehicle cost", "Vehicles")
    notes.warn(
        vehicle, "cost_per_distance", "not-priced", "", "what driving it costs",
        f"No published rate is known in {job.settings.currency}; it is not counted until then.",
    )  # fmt: skip
    return None


def _bed(vehicle: Vehicle) -> Figure | None:
    if vehicle.bed_volume is None:
        return None
    return vehicle.figure("bed_volume", LOOSE_VOLUME, f"bed of {vehicle.vehicle}")


def _hire(vehicle: Vehicle) -> Figure | None:
    if vehicle.hire_per_day is None:
        return None
    return vehicle.figure("hire_per_day", MONEY, f"hire of {vehicle.vehicle} per day")


def _handling(vehicle: Vehicle, notes: Notes) -> Figure:
    """Person-hours per kg to load and unload."""
    kind = per(HOURS, BULK_MASS)
    parts = []
    for field, words in (("load_rate", "loading"), ("unload_rate", "unloading")):
        if getattr(vehicle, field) is None:
            parts.append(notes.default(f"{words} hours", "Vehicles"))
        else:
            parts.append(vehicle.figure(field, kind, words))
    return total("loading and unloading", parts)
