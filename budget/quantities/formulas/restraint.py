"""What holds the edge: edging with spikes, or a concrete haunch."""

from __future__ import annotations

from budget.figures import Figure, product, ratio, smallest, total, whole
from budget.units import COUNT, MASS, NUMBER, SMALL_VOLUME


def spikes(
    straight: Figure, curved: Figure, spacing: Figure, curve_spacing: Figure, runs: Figure
) -> Figure:
    """Spikes for edging: one each spacing, closer on curves, and one more an open run.

    :param straight: straight edge held [m]
    :param curved: curved edge held [m]
    :param spacing: spacing on straight edges [m]
    :param curve_spacing: spacing on curves [m]; never wider than ``spacing``
    :param runs: open runs of edging [count]

    >>> from budget.figures import constant
    >>> from budget.units import FOOT, LENGTH
    >>> lengths = [constant(n * FOOT, LENGTH, "ft") for n in (60, 0, 3, 0.67)]
    >>> int(spikes(*lengths, constant(1, COUNT, "runs")).value)
    21
    """
    parts = [
        whole(
            "spikes on straight edge",
            ratio("straight edge over spacing", NUMBER, straight, spacing),
        )
    ]
    if curved.value:
        close = smallest("spike spacing on curves", spacing, curve_spacing)
        parts.append(
            whole("spikes on curves", ratio("curved edge over spacing", NUMBER, curved, close))
        )
    return total("spikes", (*parts, runs))


def pieces(length: Figure, piece: Figure) -> Figure:
    """Edging pieces for a length, not rounded [count]."""
    return ratio("edging pieces", COUNT, length, piece)


def haunch(length: Figure, width: Figure, height: Figure) -> Figure:
    """Concrete in a haunch along the edge [m³], from its length, width and height [m].

    >>> from budget.figures import constant
    >>> from budget.units import FOOT, INCH, LENGTH
    >>> edge = constant(60 * FOOT, LENGTH, "edge")
    >>> section = [constant(n * INCH, LENGTH, "in") for n in (6, 4)]
    >>> round(haunch(edge, *section).value / FOOT**3, 3)
    10.0
    """
    return product("concrete haunch", SMALL_VOLUME, length, width, height)


def dry_mix(volume: Figure, density: Figure) -> Figure:
    """Dry mix for a volume of concrete [kg], by its yield as a density [kg/m³].

    Source of the documented yield: 0.15 cu ft per 20 lb of dry mix.
    """
    return product("dry mix", MASS, volume, density)
