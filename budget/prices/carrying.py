"""Carrying from the drop point: distances, and how long a barrow takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from budget.figures import Figure, constant, product, ratio, total
from budget.job import DropPoint, Job
from budget.prices.defaults import Notes, if_filled
from budget.prices.options import Method
from budget.units import BULK_MASS, HOURS, LENGTH, NUMBER, per

#: Person-hours for each kg, and for each kg and metre of the way.
PER_MASS = per(HOURS, BULK_MASS)
PER_MASS_AND_WAY = per(PER_MASS, LENGTH)
PER_WAY = per(HOURS, LENGTH)

MOTOR_BARROW = "Motor barrow"

POINTS: tuple[DropPoint, ...] = ("street", "drive", "site")


def distances(job: Job, notes: Notes) -> Mapping[DropPoint, Figure]:
    """The way from each drop point to the work [m]; blank ones are assumed."""
    found: dict[DropPoint, Figure] = {}
    for point in POINTS:
        words = f"way from the {point}"
        own = if_filled(job.settings, f"carry_{point}", LENGTH, words)
        found[point] = notes.default(f"carry {point}", "Job", words) if own is None else own
    return found


@dataclass(frozen=True, slots=True)
class Cycle:
    """One trip of a barrow: what it carries and the time that does not depend on the way."""

    load: Figure  # kg a trip
    fill: Figure  # hours to fill it
    tip: Figure  # hours to empty it
    pace: Figure  # m an hour

    def handling(self) -> Figure:
        """Hours per kg to fill and tip [h/kg]."""
        both = total("filling and tipping a load", [self.fill, self.tip])
        return ratio("filling and tipping", PER_MASS, both, self.load)

    def walk(self, way_in: Figure | None) -> Figure:
        """Hours per kg and metre of the way [h/(kg·m)], there and back.

        ``way_in`` is how many times longer the walk takes on a slope or over steps.
        """
        both_ways = constant(2, NUMBER, "there and back")
        each = ratio("walk there and back for each length of way", PER_WAY, both_ways, self.pace)
        walk = ratio("walking", PER_MASS_AND_WAY, each, self.load)
        return walk if way_in is None else product(walk.name, PER_MASS_AND_WAY, walk, way_in)


def carry_methods(job: Job, offered: Mapping[str, str], notes: Notes) -> list[Method]:
    """The ways to carry goods: by barrow, and by motor barrow where one can be had.

    Hours are kg times (rate + walk times the way from the drop point). On a marked slope or
    over steps the walk takes longer; a motor barrow is not taken over steps.
    """
    found = [_method(job, "barrow", "", notes)]
    if MOTOR_BARROW.casefold() in offered and job.settings.way_in != "steps":
        found.append(_method(job, "motor barrow", offered[MOTOR_BARROW.casefold()], notes))
    return found


def _method(job: Job, name: str, machine: str, notes: Notes) -> Method:
    cycle = Cycle(
        load=notes.default(f"{name} load", "Work"),
        fill=notes.default(f"{name} load time", "Work"),
        tip=notes.default(f"{name} dump time", "Work"),
        pace=notes.default(f"{name} pace", "Work"),
    )
    return Method(
        step="Carry",
        method=name,
        rate=cycle.handling(),
        people=1 if machine else 2,
        machine=machine,
        machine_rate=None,  # as long as the carrying itself, from whichever drop point
        reworked=None,
        walk=cycle.walk(_way_in(job, notes)),
    )


def _way_in(job: Job, notes: Notes) -> Figure | None:
    names = {"sloped": "slope factor", "steps": "steps factor"}
    name = names.get(job.settings.way_in)
    return None if name is None else notes.default(name, "Work")
