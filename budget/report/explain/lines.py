"""How one line came about: the arithmetic behind it, step by step, with sources."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from budget.decide.outcome import Comparison
from budget.decide.plan import Line, Priced, Scenario
from budget.figures import Figure, Working, in_order, working
from budget.job import Settings
from budget.quantities.needs.handling import weights_by_step
from budget.report import words
from budget.report.explain.care import care_remarks, way_remarks
from budget.report.explain.cutting import cutting_remarks
from budget.report.explain.plate import BASE, plate_remarks, plate_runs
from budget.spend.finding import UnknownNameError, called, find_scenario, folded, priced
from budget.units import AREA, LENGTH, MONEY, System


@dataclass(frozen=True, slots=True)
class Part:
    """One result with the steps that lead to it; steps shown before are not repeated."""

    title: str
    result: str
    steps: tuple[tuple[int, Working], ...]


@dataclass(frozen=True, slots=True)
class Explanation:
    """Everything there is to say about one line, step or choice."""

    name: str
    scenario: Scenario
    parts: tuple[Part, ...]
    remarks: tuple[str, ...]  # why so much, what is decided, what would change it


def explain(comparison: Comparison, name: str, scenario: str | None = None) -> Explanation:
    """Explain a need, a step, a line of the plan, or a choice such as ``step:Dig``.

    Raises :class:`budget.spend.finding.UnknownNameError` when nothing is called so.
    """
    chosen = find_scenario(comparison, scenario)
    plan = priced(chosen)
    name = called(name, names(comparison, plan)) or name
    typed = folded(name)
    figures = [
        *_needs(comparison, plan, typed),
        *_amounts(comparison, plan, typed),
        *_plate(comparison, plan, typed),
        *_handled(comparison, plan, typed),
        *_small_things(comparison, typed),
        *_lines(plan, typed),
    ]
    remarks = [
        *_reasons(comparison, plan, typed),
        *_an_inch(comparison, typed),
        *plate_remarks(comparison, plan, typed),
        *cutting_remarks(comparison, typed),
        *way_remarks(comparison, typed),
        *care_remarks(comparison, typed),
        *_decided(comparison, chosen, plan, typed),
        *(f"Not yet priced: {m.what}. {m.hint}" for m in plan.missing if folded(m.what) == typed),
    ]
    if not figures and not remarks:
        lists = "“budget explain” with the workbook alone lists every name."
        raise UnknownNameError("line, step or choice", name, names(comparison, plan), lists)
    settings = comparison.job.settings
    parts = tuple(_numbered(figures, _apart(comparison, typed), settings))
    return Explanation(name, chosen, parts, tuple(remarks))


def names(comparison: Comparison, plan: Priced) -> list[str]:
    """Every name that can be explained."""
    found = {n.line for n in comparison.takeoff.needs} | {n.item for n in comparison.takeoff.needs}
    found |= {a.step for a in comparison.takeoff.steps} | {line.name for line in plan.lines}
    found |= {figure.name for _, figure in comparison.takeoff.consumables}
    found |= {cost.what for cost in plan.missing}
    return sorted(found | set(plan.plan.choices()))


def _apart(comparison: Comparison, typed: str) -> dict[int, str]:
    """Figures that are explained under a name of their own, by their ``id``.

    Areas and lengths are not among them: what rests on the ground plan shows it.
    """
    found: dict[int, str] = {}
    for need in comparison.takeoff.needs:
        if typed not in (folded(need.line), folded(need.item)):
            figures = (need.net, need.order, need.weight, *need.measures.values())
            found |= {id(f): need.line for f in figures if f is not None and _worked(f)}
    for amount in comparison.takeoff.steps:
        if typed not in (folded(amount.step), folded(f"step:{amount.step}")):
            found |= {id(amount.amount): amount.step} if _worked(amount.amount) else {}
    return found


def _worked(figure: Figure) -> bool:
    return bool(figure.args) and figure.kind not in (AREA, LENGTH)


def _steps(figure: Figure, apart: Mapping[int, str], system: System) -> Iterator[Working]:
    for node in in_order(figure, apart):
        if id(node) in apart:
            see = f"explained under “{apart[id(node)]}”"
            yield Working(node.name, see, node.words(system), node.source)
        elif node.name:
            yield working(node, system)


def _numbered(
    figures: Iterable[tuple[str, Figure]], apart: Mapping[int, str], settings: Settings
) -> Iterator[Part]:
    shown: dict[Working, int] = {}
    for title, figure in figures:
        steps = []
        for step in _steps(figure, apart, settings.units):
            if step not in shown:
                shown[step] = len(shown) + 1
                steps.append((shown[step], step))
        yield Part(title, _result(figure, settings), tuple(steps))


def _result(figure: Figure, settings: Settings) -> str:
    if figure.kind is MONEY:
        return words.money(figure.value, settings.currency)
    return figure.words(settings.units)


def _applies(bedding: str, optional: str, plan: Priced) -> bool:
    return bedding in ("", plan.plan.bedding) and (not optional or optional in plan.plan.parts)


def _needs(comparison: Comparison, plan: Priced, typed: str) -> list[tuple[str, Figure]]:
    found = []
    for need in comparison.takeoff.needs:
        if typed not in (folded(need.line), folded(need.item)):
            continue
        if not _applies(need.bedding, need.optional, plan):
            continue
        place = f" for {need.place}" if need.place else ""
        found.append((f"{need.line}{place}: how much", need.ordered))
        if need.weight is not None and need.weight is not need.order:
            found.append((f"{need.line}{place}: weight", need.weight))
    return found


def _amounts(comparison: Comparison, plan: Priced, typed: str) -> list[tuple[str, Figure]]:
    return [
        (f"{amount.step} for {amount.part}: how much work", amount.amount)
        for amount in comparison.takeoff.steps
        if typed in (folded(amount.step), folded(f"step:{amount.step}"))
        and _applies(amount.bedding, amount.optional, plan)
    ]


def _plate(comparison: Comparison, plan: Priced, typed: str) -> list[tuple[str, Figure]]:
    return [
        (f"{BASE} for {found.part}: how long the plate runs", found.hours)
        for found in plate_runs(comparison, plan, typed)
    ]


def _handled(comparison: Comparison, plan: Priced, typed: str) -> list[tuple[str, Figure]]:
    """What a step's goods weigh in this plan, all that is carried and handled in it."""
    used = [n for n in comparison.takeoff.needs if _applies(n.bedding, n.optional, plan)]
    rows = weights_by_step([n for n in used if typed in (folded(n.step), folded(f"step:{n.step}"))])
    return [
        (f"{row.step}: weight to carry and handle", row.weight)
        for row in rows
        if row.weight.value > 0
    ]


def _small_things(comparison: Comparison, typed: str) -> list[tuple[str, Figure]]:
    """What wears or is used up, by its own name or that of its line on the Checklist."""
    return [
        (f"{figure.name}: by the job's sizes", figure)
        for line, figure in comparison.takeoff.consumables
        if typed in (folded(line), folded(figure.name))
    ]


def _lines(plan: Priced, typed: str) -> list[tuple[str, Figure]]:
    found = []
    for line in plan.lines:
        if typed not in (folded(line.name), folded(line.choice), _item_of(line)):
            continue
        title = f"{line.name}, {line.quantity}" if line.quantity else line.name
        if line.money is not None and line.cash:
            found.append((f"{title}: what it costs", line.money))
        if line.time is not None and line.own_hours:
            found.append((f"{title}: own hours", line.time))
    return found


def _item_of(line: Line) -> str:
    """The item that a line buys, all of it or a part."""
    kind, _, item = line.choice.partition(":")
    return folded(item) if kind == "item" else ""


def _reasons(comparison: Comparison, plan: Priced, typed: str) -> list[str]:
    """Why an overage, once each."""
    found = [
        f"{words.percent(need.overage.value)} more than ends up in the work: {need.why}"
        if need.overage.value
        else need.why
        for need in comparison.takeoff.needs
        if typed in (folded(need.line), folded(need.item))
        and _applies(need.bedding, need.optional, plan)
        and need.why
    ]
    return list(dict.fromkeys(found))


def _an_inch(comparison: Comparison, typed: str) -> list[str]:
    """What an inch more or less of depth does to the dig, and what must be filled, by part."""
    if typed not in (folded("Dig"), folded("step:Dig")):
        return []
    system = comparison.job.settings.units
    found = []
    for earth in comparison.takeoff.earthwork:
        inch = "an inch" if system == "imperial" else "25 mm"
        text = f"{earth.part} ({earth.method}): {inch} more or less is {earth.inch.words(system)}"
        fill = f", and {earth.fill.words(system)} must be filled" if earth.fill.value else ""
        found.append(f"{text}{fill}.")
    return found


def _decided(comparison: Comparison, scenario: Scenario, plan: Priced, typed: str) -> list[str]:
    """What the plan decides about a choice, and what the other way would change."""
    found = []
    for choice, value in plan.plan.choices().items():
        subject = choice.partition(":")[2]
        if typed not in (folded(choice), folded(subject)):
            continue
        about, decided = words.choice(choice, value)
        found.append(f"{about}: {decided} ({choice} = {value}), in “{scenario.title}”.")
        about_it = (f for f in comparison.flips if choice in (f.choices or (f.choice,)))
        found += [flip.sentence for flip in about_it]
    return found
