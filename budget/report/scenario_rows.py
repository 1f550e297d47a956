"""The scenarios side by side, as ``compare`` prints them."""

from __future__ import annotations

from budget.decide.outcome import Comparison
from budget.decide.plan import Scenario
from budget.report import words
from budget.report.terminal.blocks import Table, table


def side_by_side(comparison: Comparison, most: int | None) -> Table:
    """Scenarios with their cash and hours; in a window one row a name and ``most`` rows."""
    currency = comparison.job.settings.currency
    value = comparison.options.hour_value.value
    scenarios = list(comparison.scenarios)
    left_out = 0
    if most is not None:
        named = [_cheapest(comparison, n) for n in dict.fromkeys(s.name for s in scenarios)]
        scenarios = _fewer(comparison, named, most)
        left_out = len(named) - len(scenarios)
    total = f"Total at {words.money_round(value, currency)}/h"
    titles = ("Scenario", "Bedding", "Cash", "Hours", total)
    rows = [_scenario_row(s, currency, value) for s in scenarios]
    if left_out:
        rows.append((f"and {left_out} more, see --full", "", "", "", ""))
    return table(titles, rows, right=(2, 3, 4))


def _fewer(comparison: Comparison, scenarios: list[Scenario], most: int) -> list[Scenario]:
    """The best scenario, the hired one that it saves against, and the first of the others, in
    their order, with a row to spare.
    """
    if len(scenarios) <= most:
        return scenarios
    first = [s.name for s in (comparison.best, comparison.hired) if s is not None]
    rank = {name: n for n, name in enumerate(dict.fromkeys(first))}
    order = sorted(range(len(scenarios)), key=lambda i: (rank.get(scenarios[i].name, len(rank)), i))
    return [scenarios[i] for i in sorted(order[: most - 1])]


def _cheapest(comparison: Comparison, name: str) -> Scenario:
    value = comparison.options.hour_value.value

    def rank(scenario: Scenario) -> tuple[bool, bool, int, float, str]:
        priced = scenario.priced
        if priced is None:
            return (True, scenario.discouraged, 0, 0.0, scenario.bedding)
        return (
            False, scenario.discouraged, len(priced.missing), priced.total(value), scenario.bedding,
        )  # fmt: skip

    return min((s for s in comparison.scenarios if s.name == name), key=rank)


def _scenario_row(scenario: Scenario, currency: str, value: float) -> tuple[str, ...]:
    if scenario.priced is None:
        return (scenario.name, scenario.bedding, "not possible", "", "")
    priced = scenario.priced
    name = scenario.name + (" *" if priced.missing else "")
    return (
        name,
        scenario.bedding,
        words.money(priced.cash, currency),
        words.hours(priced.own_hours).split()[0],
        words.money(priced.total(value), currency),
    )
