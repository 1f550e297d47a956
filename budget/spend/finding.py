"""Finding a scenario by the name a person typed, and the nearest name when there is none."""

from __future__ import annotations

import re
from collections.abc import Iterable

from budget.decide.outcome import Comparison
from budget.decide.plan import Priced, Scenario
from budget.reference import trade_names
from budget.wording import listed
from budget.workbook.near import names_holding, near_names


class UnknownNameError(LookupError):
    """A name that nothing answers to; ``str`` is the sentence to show."""

    def __init__(self, kind: str, name: str, known: Iterable[str], instead: str = "") -> None:
        """Keep the kind of thing, the name typed, and the nearest known names.

        ``instead`` is the sentence that helps on where no known name is near.
        """
        self.kind = kind
        self.name = name
        self.near = nearest(name, known)
        hint = f" Did you mean {_quoted(self.near)}?" if self.near else f" {instead}".rstrip()
        super().__init__(f"There is no {kind} called “{name}”.{hint}")


class NoPlanError(Exception):
    """No plan can be built from the workbook yet; ``str`` says why."""


def folded(name: str) -> str:
    """A name as it is compared: without regard to case and spacing.

    >>> folded("  Base   Stone ")
    'base stone'
    """
    return " ".join(name.casefold().split())


def nearest(name: str, known: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """The known names closest to ``name``, best first.

    >>> nearest("bse stone", ["Base stone", "Bedding sand"])
    ('Base stone',)
    >>> nearest("Pavr", ["Base stone", "Garden paver"])  # near to one of its words
    ('Garden paver',)
    """
    known = tuple(known)
    close = near_names(name, known, folded, most, 0.6)
    holding = names_holding(name, known, folded)
    found = dict.fromkeys((*close, *holding)) or dict.fromkeys(_by_word(name, known, most))
    return tuple(found)[:most]


def called(name: str, known: Iterable[str]) -> str | None:
    """The known name that a person means: as it is written, or by its name in the trade.

    >>> called("crusher run", ["Base stone", "Dig"]), called("dig", ["Base stone", "Dig"])
    ('Base stone', 'Dig')
    """
    by_name = {folded(each): each for each in known}
    trade = {folded(said): item for said, item in trade_names().items()}
    found = by_name.get(folded(name))
    return found or by_name.get(folded(trade.get(folded(name), "")))


def _by_word(name: str, known: tuple[str, ...], most: int) -> list[str]:
    """The known names that have a word near to ``name``, the nearest words first."""
    of_word: dict[str, list[str]] = {}
    for each in sorted(known):
        for word in re.findall(r"\w+", folded(each)):
            of_word.setdefault(word, []).append(each)
    near = near_names(name, tuple(of_word), folded, most, 0.7)
    return [each for word in near for each in of_word[word]]


def _quoted(names: tuple[str, ...]) -> str:
    return listed((f"“{name}”" for name in names), "or")


def find_scenario(comparison: Comparison, name: str | None) -> Scenario:
    """The scenario called ``name``; the best plan when the name is blank or ``best``.

    A name alone, without its bedding, means the cheapest of its beddings at the user's value
    of an own hour. Raises :class:`UnknownNameError`, or :class:`NoPlanError` when the scenario
    has no plan.
    """
    if name is None or folded(name) in ("", "best"):
        if comparison.best is None:
            raise NoPlanError(_why_none(comparison))
        return comparison.best
    matches = _matches(comparison.scenarios, folded(name))
    if not matches:
        names = dict.fromkeys(s.name for s in comparison.scenarios)
        titles = (s.title for s in comparison.scenarios)
        there_are = f"There are {', '.join(f'“{n}”' for n in names)}."
        raise UnknownNameError("scenario", name, [*names, *titles, "best"], there_are)
    built = [s for s in matches if s.priced is not None]
    if not built:
        raise NoPlanError(f"“{matches[0].title}” cannot be built: {matches[0].why_not}")
    value = comparison.options.hour_value.value
    return min(built, key=lambda s: (len(priced(s).missing), priced(s).total(value), s.title))


def _matches(scenarios: tuple[Scenario, ...], typed: str) -> list[Scenario]:
    exact = [s for s in scenarios if typed in (folded(s.title), folded(f"{s.name}, {s.bedding}"))]
    named = [s for s in scenarios if folded(s.name) == typed]
    return exact or named


def priced(scenario: Scenario) -> Priced:
    """The priced plan of a scenario that can be built."""
    if scenario.priced is None:
        raise NoPlanError(f"“{scenario.title}” cannot be built: {scenario.why_not}")
    return scenario.priced


def _why_none(comparison: Comparison) -> str:
    reasons = sorted({s.why_not for s in comparison.scenarios if s.why_not})
    return "No plan can be built from this workbook yet. " + " ".join(reasons)
