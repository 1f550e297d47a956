"""One plan in full: every line, what is decided, what is left with the owner."""

from __future__ import annotations

from budget.decide.outcome import Comparison
from budget.decide.plan import Line, Priced, Scenario
from budget.decide.wording import so_far
from budget.report import words
from budget.report.terminal.blocks import Block, Gap, Heading, Pair, Table, Text, table
from budget.spend.finding import priced


def full_plan(comparison: Comparison, scenario: Scenario) -> list[Block]:
    """Every line of a scenario's plan, its choices, and the cautions of its own work."""
    plan = priced(scenario)
    currency = comparison.job.settings.currency
    blocks: list[Block] = [
        Heading(f"{comparison.job.settings.name}: “{scenario.title}” in full"),
        Pair("Cash", words.money(plan.cash, currency)),
        Pair("Own hours", words.hours(plan.own_hours)),
        *([] if scenario.proved else [Pair("Not proved", so_far(scenario.gap))]),
        Gap(),
        _lines(plan, currency),
        Gap(),
        Heading("What is decided"),
        table(("About", "Decision"), [words.choice(k, v) for k, v in plan.plan.choices().items()]),
    ]
    blocks += _notes(plan, currency)
    return blocks + _cautions(comparison, plan)


def _lines(plan: Priced, currency: str) -> Table:
    rows = [_row(line, currency) for line in plan.lines]
    rows.append(
        ("Total", "", "", words.money(plan.cash, currency), words.hours(plan.own_hours).split()[0])
    )
    return table(("Line", "How much", "From", "Cash", "Own h"), rows, right=(3, 4), total=True)


def _row(line: Line, currency: str) -> tuple[str, ...]:
    return (
        f"{line.name} ({line.part})" if line.part else line.name,
        line.quantity,
        line.supplier,
        words.money(line.cash, currency) if line.cash or not line.own_hours else "",
        words.hours(line.own_hours).split()[0] if line.own_hours else "",
    )


def _notes(plan: Priced, currency: str) -> list[Block]:
    found: list[Block] = []
    notes = [
        *(f"Not yet priced: {m.what}. {m.hint}" for m in plan.missing),
        *(f"Left with you: {risk}" for risk in plan.risks),
        *(f"Goods from {a.supplier}, {a.route}: {a.note}" for a in plan.arrivals if a.note),
        *(f"{h.equipment}, {h.machine}: {'; '.join(h.spells)}" for h in plan.hires if h.spells),
    ]
    if plan.comes_back:
        first = words.money(plan.cash + plan.comes_back, currency)
        back = words.money(plan.comes_back, currency)
        notes.append(f"{first} is paid first; {back} of it comes back later for unopened packs.")
    if plan.deposits:
        notes.append(f"Deposits of {words.money(plan.deposits, currency)} come back; not in cash.")
    if notes:
        found += [Gap(), Heading("Notes"), *(Text(f"- {note}") for note in notes)]
    return found


def _cautions(comparison: Comparison, plan: Priced) -> list[Block]:
    own = {step for step, value in plan.plan.steps.items() if value.startswith("own")}
    cautions = [
        Text(f"- {step}: {text} [{source}]", "warning")
        for step, text, source in comparison.takeoff.cautions
        if step in own
    ]
    return [Gap(), Heading("Take care"), *cautions] if cautions else []
