"""Choices pinned on the command line, as a scenario of their own."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from budget.job import Job, Pin, Place

#: The name of the scenario that pins on the command line make.
PINNED = "As pinned"


class PinError(ValueError):
    """A pin that is not written as CHOICE=VALUE; ``str`` is the sentence to show."""


def parse(texts: Iterable[str]) -> tuple[Pin, ...]:
    """Pins such as ``step:Dig=hire``.

    >>> [(pin.choice, pin.value) for pin in parse(["step:Dig = hire"])]
    [('step:Dig', 'hire')]
    """
    return tuple(_parse(text, number) for number, text in enumerate(texts, start=1))


def _parse(text: str, number: int) -> Pin:
    choice, equals, value = text.partition("=")
    if not equals or not choice.strip() or not value.strip():
        msg = f"“{text}” is not a pin. Write CHOICE=VALUE, such as step:Dig=hire or bedding=sand."
        raise PinError(msg)
    place = Place("command line", number)
    return Pin(place=place, scenario=PINNED, choice=choice.strip(), value=value.strip())


def with_pins(job: Job, pins: tuple[Pin, ...]) -> Job:
    """The job with a scenario more, if there are pins."""
    return replace(job, pins=(*job.pins, *pins)) if pins else job
