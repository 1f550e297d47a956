"""Fire features and what is powered, known by their names, and what to mind where one is built."""

from __future__ import annotations

import re
from collections.abc import Iterator

from budget.job import Job, Wall
from budget.quantities.needs.feature import Caution

_FIRE_WORDS = re.compile(
    r"fire(?!wood)|\b(hearth|grill|barbecue|bbq|brazier|burner|oven|chiminea)s?\b", re.IGNORECASE
)
#: A light or power, but not what is of a light colour, nor washing with power.
_POWER_WORDS = re.compile(
    r"\b(gas|electric\w*|lamps?|lights|lighting|heaters?|power(?!.?wash)|cables?|pumps?"
    r"|light(?!\s+\w|-)|light(?=\s+(kit|set|pole|post|fixture|fitting|strip|string)s?\b))\b",
    re.IGNORECASE,
)

_FIRE = (
    "Build",
    "A fire in the open: at most 3 ft (0.9 m) across and 2 ft (0.6 m) high, 25 ft (7.6 m) from "
    "buildings and anything that burns, and never left alone; local fire code decides. Gas and "
    "electricity are for licensed trades.",
    "International Fire Code section 307 as adopted locally",
)
_HEAT = (
    "Build",
    "Beside a fire use units and adhesive made for heat, or lay dry: plain concrete, river stones "
    "and wet ones can crack or burst.",
    "common practice",
)
_POWER = (
    "Build",
    "Gas and electricity are for licensed trades; their pipes and cables go in before the base.",
    "local code",
)


def has_fire(job: Job) -> bool:
    """Whether a part, or anything built, is for a fire by its name, or is a ring with a liner."""
    areas = (text for area in job.areas for text in (area.part, area.name))
    return _fire_built(job) or any(_FIRE_WORDS.search(text) for text in areas)


def fire_cautions(job: Job) -> list[Caution]:
    """What to mind where a fire feature is built, or else something with gas or electricity.

    >>> from budget.job import Extra, Place, Settings
    >>> place = Place("Extras", 2)
    >>> bowl = Extra(place=place, part="Terrace", item="Fire bowl kit", quantity=1)
    >>> [step for step, *_ in fire_cautions(Job(settings=Settings(place=place), extras=(bowl,)))]
    ['Build', 'Build']
    """
    if _fire_built(job):
        return [_FIRE, _HEAT]
    return [_POWER] if any(_POWER_WORDS.search(text) for text in _built(job)) else []


def _fire_built(job: Job) -> bool:
    named = any(_FIRE_WORDS.search(text) for text in _built(job))
    return named or any(_lined(row) for row in job.walls)


def _lined(row: Wall) -> bool:
    return row.kind == "ring" and row.liner is not None


def _built(job: Job) -> Iterator[str]:
    """Names of what is built, and of the parts it belongs to."""
    for extra in job.extras:
        yield from (extra.part, extra.item)
    for wall in job.walls:
        yield from (wall.part, wall.name, wall.unit)
    for piece in job.pieces:
        yield from (piece.part, piece.name)
