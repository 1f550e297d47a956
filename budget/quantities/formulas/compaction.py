"""The plate on the base: lifts, passes, and how long it runs for them.

What the plate runs is a check on the pace of the step Base, whose hours hold spreading and
raking too: it is shown beside that pace and adds no work of its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from budget.figures import Figure, minus, product, ratio
from budget.quantities.formulas import base
from budget.reference import coefficient
from budget.units import AREA, DEPTH, HOURS, MINUTES, System, in_words, per


@dataclass(frozen=True, slots=True)
class Compaction:
    """How the base of one part is compacted."""

    part: str
    depth: Figure  # m, compacted, of base and fill
    lifts: Figure
    passes: Figure  # over each lift
    hours: Figure  # of running
    optional: str = ""

    def words(self, system: System) -> str:
        """Lifts, passes and running, such as ``2 lifts of 3 in, 4 passes each: 0.5 h``."""
        count = max(1, round(self.lifts.value))
        each = in_words(self.depth.value / count, DEPTH, system, 1)
        lifts = f"one lift of {each}" if count == 1 else f"{count} lifts of {each}"
        often = f"{self.passes.value:g} passes{'' if count == 1 else ' each'}"
        kind = HOURS if self.hours.value >= 1 else MINUTES
        runs = in_words(self.hours.value, kind, system, 1 if kind is HOURS else 0)
        return f"{lifts}, {often}: the plate runs about {runs}"


def plate_hours(
    area: Figure, lifts: Figure, passes: Figure, strip: Figure, speed: Figure, share: Figure
) -> Figure:
    """Hours that a plate runs, area × lifts × passes / (strip × speed × share of the hour).

    :param area: area to compact [m²]
    :param strip: width that a pass adds, the plate less its overlap [m]
    :param speed: travel [m/h]
    :param share: working share of an hour, such as 0.83 for 50 minutes

    Source: US Army FM 5-434 ch. 11, production of compactors, solved for the time.

    >>> from budget.figures import constant
    >>> from budget.units import COUNT, FOOT, NUMBER, RATIO, SPEED
    >>> one, four = constant(1, COUNT, "lift"), constant(4, NUMBER, "passes")
    >>> strip, speed = constant(1.25 * FOOT, DEPTH, "strip"), constant(3300 * FOOT, SPEED, "speed")
    >>> area, share = constant(773.4 * FOOT**2, AREA, "area"), constant(0.75, RATIO, "share")
    >>> round(plate_hours(area, one, four, strip, speed, share).value, 3)
    1.0
    """
    run = product("area of all passes", AREA, area, lifts, passes)
    pace = product("area an hour, one pass", per(AREA, HOURS), strip, speed, share)
    return ratio("plate running", HOURS, run, pace)


def strip_width(plate: Figure, overlap: Figure) -> Figure:
    """Width that one pass of a plate adds [m].

    :raises ValueError: if the plate is not wider than the overlap
    """
    if plate.value <= overlap.value:
        msg = f"a plate {plate.value:.3g} m wide cannot overlap by {overlap.value:.3g} m"
        raise ValueError(msg)
    return minus("plate less its overlap", plate, overlap)


def compaction(part: str, area: Figure, compacted: Figure, optional: str = "") -> Compaction:
    """How the base of a part is compacted, in the documented way.

    :param area: area of the base with its overrun [m²], not nothing
    :param compacted: base with any fill [m³ compacted]
    """
    depth = ratio("depth to compact", DEPTH, compacted, area)
    lifts = base.lifts(depth, coefficient("lift depth").figure())
    passes = coefficient("plate passes").figure()
    hours = plate_hours(
        area, lifts, passes,
        strip_width(coefficient("plate width").figure(), coefficient("plate overlap").figure()),
        coefficient("plate speed").figure(), coefficient("plate working share").figure(),
    )  # fmt: skip
    return Compaction(part, depth, lifts, passes, hours.called(f"plate running, {part}"), optional)
