"""Scenarios: the ways people ask about, each planned as well as it can be."""

from __future__ import annotations

from collections.abc import Mapping

from budget.decide.model.model import Solved
from budget.decide.pins import Pinned, UnknownPin, read_pins
from budget.decide.plan import BID, HIRE, METHOD, OWN, Scenario
from budget.decide.planner import Planner
from budget.decide.terms.situation import CARRY, Situation
from budget.job import Pin
from budget.prices.options import Drop
from budget.reference import steps as step_kinds
from budget.wording import listed

ALL_OWN = "All own hands"
MACHINE_WORK = "Machine work hired"
ALL_HIRED = "Whole job hired"
BEST = "Mixed hands"

STANDARD = (ALL_OWN, MACHINE_WORK, ALL_HIRED, BEST)


def scenarios(planner: Planner, hour_value: float, pins: tuple[Pin, ...]) -> tuple[Scenario, ...]:
    """The standard scenarios under every bedding, then the user's own in order of name."""
    situations = planner.situations()
    standard = planner.each(
        [(name, situation) for name in STANDARD for situation in situations],
        lambda one, task: _standard(one, hour_value, *task),
    )
    asked: dict[str, dict[str, str]] = {}
    for pin in sorted(pins, key=lambda p: (p.scenario, p.choice, p.value)):
        asked.setdefault(pin.scenario, {})[pin.choice] = pin.value
    own = planner.each(sorted(asked.items()), lambda one, task: _own(one, hour_value, *task))
    return (*standard, *(scenario for found in own for scenario in found))


def _standard(planner: Planner, hour_value: float, name: str, situation: Situation) -> Scenario:
    scenario = _solved(planner, hour_value, name, situation, standard_pins(name, situation))
    if name == MACHINE_WORK and not scenario.feasible:
        return _machine_bids(planner, hour_value, situation) or scenario
    return scenario


def standard_pins(name: str, situation: Situation) -> dict[str, str]:
    """What a standard scenario pins.

    Hiring the whole job hires each step of work; goods that no bid brings are carried by a
    bid too where one covers carrying, else by own hands. Where no bids do the machine work
    alone, bids that bring other steps with it are taken, the rest stays own work.
    """
    machine = {s for s, kind in step_kinds().items() if kind.machine_work}
    found = {}
    for step in sorted(situation.coverable):
        key = f"step:{step}"
        if name == ALL_OWN:
            found[key] = OWN
        elif name == MACHINE_WORK:
            hired = step in machine and step in situation.amounts
            found[key] = HIRE if hired else OWN
        elif name == ALL_HIRED:
            carried = step == CARRY and any(CARRY in b.steps for b in situation.bids)
            if step in situation.amounts or carried:
                found[key] = HIRE
    return found


def _machine_bids(planner: Planner, hour_value: float, situation: Situation) -> Scenario | None:
    """Machine work hired by bids that bring other steps with them, the rest by own hands."""
    machine = [s for s in situation.amounts if step_kinds()[s].machine_work]
    bids = {BID + b.key for b in situation.bids if set(machine).intersection(b.steps)}
    allowed = {}
    for step in sorted(situation.coverable):
        hired = frozenset(v for v in _values(situation, step) if v in bids)
        own = frozenset(v for v in _values(situation, step) if v.startswith(METHOD))
        allowed[f"step:{step}"] = hired if step in machine else hired | own
    found = planner.solve(situation.bedding, Pinned(allowed), hour_value)
    asked = {f"step:{step}": HIRE for step in sorted(machine)}
    return _found(planner, MACHINE_WORK, situation, asked, found) if found else None


def _own(
    planner: Planner, hour_value: float, name: str, asked: Mapping[str, str]
) -> list[Scenario]:
    try:
        bedding = read_pins(planner.situations(), asked).bedding
    except UnknownPin as unknown:
        first = planner.beddings[0].name
        return [_refused(name, first, asked, f"{_sentence(str(unknown))}")]
    chosen = [s for s in planner.situations() if bedding in (None, s.bedding)]
    return [_solved(planner, hour_value, name, s, asked) for s in chosen]


def _solved(
    planner: Planner, hour_value: float, name: str, situation: Situation, asked: Mapping[str, str]
) -> Scenario:
    pinned = read_pins(planner.situations(), asked)
    found = planner.solve(situation.bedding, pinned, hour_value)
    if found is None:
        reduced = planner.situation(situation.bedding, planner.dropped(pinned))
        return _refused(name, situation.bedding, asked, why_not(reduced, pinned))
    return _found(planner, name, situation, asked, found)


def _found(
    planner: Planner, name: str, situation: Situation, asked: Mapping[str, str], found: Solved
) -> Scenario:
    bedding = next(b for b in planner.beddings if b.name == situation.bedding)
    return Scenario(
        name=name, bedding=situation.bedding, pins=dict(asked), feasible=True, why_not="",
        priced=found.priced, proved=found.proved, gap=found.gap,
        discouraged=bedding.discouraged and not bedding.allowed,
    )  # fmt: skip


def _refused(name: str, bedding: str, asked: Mapping[str, str], why: str) -> Scenario:
    return Scenario(
        name=name, bedding=bedding, pins=dict(asked), feasible=False, why_not=why, priced=None,
        proved=True, gap=0.0,
    )  # fmt: skip


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(("?", ".")) else ".")


def why_not(situation: Situation, pinned: Pinned) -> str:
    """Why no plan fits some pins, in plain words."""
    for reason in (_nobody(situation, pinned), _unreachable(situation), _too_wide(situation)):
        if reason:
            return reason
    hired = [s for s in situation.amounts if _only(situation, pinned, s, BID)]
    if hired:
        return (
            f"No set of bids does {listed(hired)} once each without also doing a step that is "
            "to be done another way."
        )
    return f"These choices cannot be had together: {listed(sorted(pinned.allowed))}."


def _values(situation: Situation, step: str) -> list[str]:
    own = [METHOD + m.key for m in situation.methods(step)]
    return [*own, *(BID + b.key for b in situation.bids if step in b.steps)]


def _left(situation: Situation, pinned: Pinned, step: str) -> list[str]:
    allowed = pinned.allowed.get(f"step:{step}")
    values = _values(situation, step)
    return values if allowed is None else [v for v in values if v in allowed]


def _only(situation: Situation, pinned: Pinned, step: str, start: str) -> bool:
    left = _left(situation, pinned, step)
    return bool(left) and all(v.startswith(start) for v in left)


def _nobody(situation: Situation, pinned: Pinned) -> str:
    """Steps that are left without anybody to do them."""
    none = [s for s in situation.amounts if not _left(situation, pinned, s)]
    if not none:
        return ""
    unhired = [s for s in none if not any(v.startswith(BID) for v in _values(situation, s))]
    if unhired:
        own = [s for s in unhired if not _values(situation, s)]
        if own:
            return f"Nobody can do {listed(own)}: no own method and no bid covers it."
        return f"No bid covers {listed(unhired)}."
    return f"There is no own way to do {listed(none)}."


def _unreachable(situation: Situation) -> str:
    """Items whose every seller delivers only more than is needed, with nobody to fetch them."""
    for item in situation.items:
        routes = [
            r for o in situation.offers(item) for r in situation.options.routes.get(o.supplier, ())
        ]
        if routes and all(isinstance(r, Drop) and r.least > 0 for r in routes):
            sellers = sorted({r.supplier for r in routes})
            return (
                f"{item} cannot be had: {listed(sellers, 'or')} may not deliver so little, and "
                "no vehicle is given to fetch it."
            )
    return ""


def _too_wide(situation: Situation) -> str:
    for step in situation.amounts:
        ways = [m.machine for m in situation.methods(step)]
        hired = any(step in b.steps for b in situation.bids)
        if ways and not hired and all(m and _blocked(situation, m) for m in ways):
            why = sorted({_why_not(situation, m) for m in ways})
            return f"{step} needs {listed(sorted(set(ways)), 'or')}, {listed(why, 'or')}."
    return ""


def _blocked(situation: Situation, equipment: str) -> bool:
    ways = situation.options.machines.get(equipment, ())
    return bool(ways) and not any(m.usable for m in ways)


def _why_not(situation: Situation, equipment: str) -> str:
    return situation.options.machines[equipment][0].why_not
