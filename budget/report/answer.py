"""The answer of ``compare`` on one screen, and one plan in full."""

from __future__ import annotations

import math
from collections.abc import Sequence

from budget.decide.plan import Comparison, Priced, Scenario
from budget.decide.wording import round_money, so_far
from budget.report import calendar, risk, words
from budget.report.blocks import (
    INDENT,
    LABEL_WIDTH,
    Block,
    Gap,
    Heading,
    Pair,
    Table,
    Text,
    table,
)
from budget.report.document import Files
from budget.report.fitting import Row, fit, height

#: Flips named on one line of a pipe; the page has them all.
_FLIPS = 4

#: Scenarios shown in a window however little room there is.
_SCENARIOS = 3


def answer(
    comparison: Comparison,
    files: Files | None = None,
    window: tuple[int, int] | None = None,
) -> list[Block]:
    """The answer in plain words.

    ``window`` is (columns, lines) of a terminal, which the answer is made to fit; None in a
    pipe, where nothing is left out.
    """
    best = comparison.best
    if best is None or best.priced is None:
        return _no_plan(comparison, files)
    head: list[Block] = [_title(comparison, best), *_figures(comparison, best.priced), Gap()]
    rows = [
        *_how(best.priced, _short(comparison)),
        *_coming_back(comparison, best.priced),
        *_deposits(comparison, best.priced),
        *_caveats(comparison),
    ]
    last = where(files)
    if window is None:
        whole = [Pair(r.label, r.joint.join(_nearest(r))) for r in rows]
        return [
            *head, _side_by_side(comparison, None), Gap(), *whole, *_all_flips(comparison), *last,
        ]  # fmt: skip
    columns, lines = window
    width = columns - LABEL_WIDTH - len(INDENT)
    least = fit(rows, width, 0)
    # one line each for the prompt, the table's titles and the gap below it
    free = lines - 3 - sum(height(b, columns) for b in (*head, *least, *last))
    beside = _side_by_side(comparison, max(_SCENARIOS, free))
    room = lines - 1 - sum(height(b, columns) for b in (*head, beside, Gap(), *last))
    return [*head, beside, Gap(), *fit(rows, width, room), *last]


def _nearest(row: Row) -> tuple[str, ...]:
    """All of a row; of a long row of flips the nearest, since their sentences follow below."""
    more = len(row.items) - _FLIPS
    if row.label != "It flips" or more < 1:
        return row.items
    return (*row.items[:_FLIPS], f"and {words.count(more, 'choice')} further off")


def in_one_line(comparison: Comparison) -> str:
    """The answer of ``--quiet``."""
    best = comparison.best
    if best is None or best.priced is None:
        return "No plan can be built yet."
    currency = comparison.job.settings.currency
    sure = "best" if comparison.settled else "best so far" if best.proved else so_far(best.gap)
    sure = sure.capitalize()
    return (
        f"{sure}: {best.title}: {words.money(best.priced.cash, currency)} cash, "
        f"{words.hours(best.priced.own_hours)} of own work."
    )


def _title(comparison: Comparison, best: Scenario) -> Heading:
    best_word = "best plan" if comparison.settled else "best plan so far"
    return Heading(f"{comparison.job.settings.name}: the {best_word} is “{best.title}”")


def _figures(comparison: Comparison, priced: Priced) -> list[Block]:
    settings = comparison.job.settings
    currency = settings.currency
    cash = words.money(priced.cash, currency)
    if settings.spending_limit is not None:
        spare = settings.spending_limit - priced.cash
        side = "under" if spare >= 0 else "OVER"
        limit = words.money_round(settings.spending_limit, currency)
        cash += f", {words.money(abs(spare), currency)} {side} your limit of {limit}"
    days = priced.own_hours / comparison.options.hours_per_day.value
    hours = words.hours(priced.own_hours)
    if days >= 1:
        hours += f", about {words.count(round(days), 'working day')}"
    planned = comparison.calendar
    if planned is not None and planned.start is not None:
        hours += f", done {calendar.day(planned, planned.finish)} if dry"
    return [
        Pair("Cash", cash),
        Pair("Own hours", hours),
        *_saves(comparison),
        *_stopped(comparison),
    ]


def _stopped(comparison: Comparison) -> list[Block]:
    """How far off the plan may be, where the search was stopped before its proof."""
    best = comparison.best
    if best is None or best.priced is None or best.proved:
        return []
    text = f"{so_far(best.gap)}; --limit gives the search more time"
    if math.isfinite(best.gap):
        most = best.gap * best.priced.total(comparison.options.hour_value.value)
        within = words.money_round(most, comparison.job.settings.currency)
        text = (
            f"{so_far(best.gap)}: within {within} of the best possible; --limit gives the search "
            "more time"
        )
    return [Pair("Not proved", text)]


def _saves(comparison: Comparison) -> list[Block]:
    currency = comparison.job.settings.currency
    saving = comparison.saving
    if saving is None or comparison.hired is None:
        return [Pair("Saves", "not known: hiring the whole job cannot be priced yet")]
    if comparison.hired is comparison.best:
        return [Pair("Saves", "nothing saved by own work: hiring the whole job is best")]
    text = f"{words.money(saving, currency)} against hiring the whole job"
    if saving < 0:
        text = f"nothing: {words.money(-saving, currency)} dearer than hiring the whole job"
    if comparison.hour_earns is not None:
        text += f"; an own hour earns {words.money(comparison.hour_earns, currency)}"
    return [Pair("Saves", text)]


def _side_by_side(comparison: Comparison, most: int | None) -> Table:
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
        rows.append((f"and {left_out} more, see the page", "", "", "", ""))
    return table(titles, rows, right=(2, 3, 4))


def _fewer(comparison: Comparison, scenarios: list[Scenario], most: int) -> list[Scenario]:
    """The best scenario and the first of the others, in their order, with a row to spare."""
    if len(scenarios) <= most:
        return scenarios
    best = comparison.best.name if comparison.best else ""
    order = sorted(range(len(scenarios)), key=lambda i: (scenarios[i].name != best, i))
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
        return (scenario.name, "not possible", "", "", "")
    priced = scenario.priced
    name = scenario.name + (" *" if priced.missing else "")
    return (
        name,
        scenario.bedding,
        words.money(priced.cash, currency),
        words.hours(priced.own_hours).split()[0],
        words.money(priced.total(value), currency),
    )


def _short(comparison: Comparison) -> list[str]:
    """Hire days that the cash does not hold."""
    return calendar.hire_days(comparison.calendar, comparison.job.settings.currency)


def _how(priced: Priced, short: Sequence[str]) -> list[Row]:
    """What is done how; machines that need more days than priced come first."""
    plan = priced.plan
    own = [step for step, value in plan.steps.items() if value.startswith("own")]
    hired = [(words.step_value(v), s) for s, v in plan.steps.items() if not v.startswith("own")]
    firms: dict[str, list[str]] = {}
    for firm, step in hired:
        firms.setdefault(firm.removeprefix("hire "), []).append(step)
    goods = [f"{a.supplier}: {a.route}" for a in priced.arrivals]
    machines = [f"{h.equipment}: {h.machine}" for h in priced.hires]
    rows = [
        Row("Yourself", tuple(own), ", "),
        Row("Hire", tuple(f"{firm} ({', '.join(steps)})" for firm, steps in firms.items())),
        Row("Goods", tuple(goods)),
        Row("Machines", (*short, *machines), least=2),
    ]
    return [row for row in rows if row.items]


def _coming_back(comparison: Comparison, priced: Priced) -> list[Row]:
    """What is paid first, where money comes back for goods beyond the need."""
    if not priced.comes_back:
        return []
    currency, limit = comparison.job.settings.currency, comparison.job.settings.spending_limit
    paid = priced.cash + priced.comes_back
    first, back = words.money(paid, currency), words.money(priced.comes_back, currency)
    said = f"{first}, of which {back} comes back for unopened packs"
    if limit is not None and priced.cash <= limit < paid:
        said += f"; until then {words.money(paid - limit, currency)} OVER your limit"
    return [Row("Paid first", (said,))]


def _deposits(comparison: Comparison, priced: Priced) -> list[Row]:
    if not priced.deposits:
        return []
    held = words.money(priced.deposits, comparison.job.settings.currency)
    return [Row("Deposits", (f"{held} to pay and get back, beside the cash",), spare=True)]


def _caveats(comparison: Comparison) -> list[Row]:
    rows = [
        Row("To fit", (comparison.fit.sentence,) if comparison.fit else ()),
        Row("Calendar", _calendar(comparison), spare=True),
        Row("How sure", risk.in_words(comparison), least=2),
        Row("Run short", risk.short_in_words(comparison)),
        Row("Find out", risk.find_out_in_words(comparison), spare=True),
        Row("It flips", tuple(_flip_points(comparison)), least=2),
        Row("Unpriced *", tuple(m.what for m in comparison.missing), ", "),
        Row("Fill next", (comparison.next_step,) if comparison.next_step else ()),
    ]
    rows += _refused(comparison)
    if comparison.warnings:
        many = words.count(len(comparison.warnings), "warning")
        rows.append(Row("Warnings", (f"{many}; “budget check” lists them",)))
    return [row for row in rows if row.items]


def _calendar(comparison: Comparison) -> tuple[str, ...]:
    """When the work ends, then what to order by when."""
    found = comparison.calendar
    if found is None or not found.entries:
        return ()
    orders = [f"order from {o.who} by {calendar.day(found, o.order)}"
              for o in found.orders if not o.hired]  # fmt: skip
    return (f"ends {calendar.ends(found)}", *orders)


def _refused(comparison: Comparison) -> list[Row]:
    """Why scenarios have no plan: the user's own always, the others where there is room."""
    own = {pin.scenario for pin in comparison.job.pins}
    built = {s.name for s in comparison.scenarios if s.priced is not None}
    why = {s.name: s.why_not for s in comparison.scenarios if s.name not in built}
    asked = tuple(f"{name}: {text}" for name, text in why.items() if name in own)
    others = tuple(f"{name}: {text}" for name, text in why.items() if name not in own)
    return [Row("Not built", asked), Row("Not built", others, spare=True)]


def _flip_points(comparison: Comparison) -> list[str]:
    """Every choice that flips: the bedding first, then nearest to the user's value of an hour."""
    value = comparison.options.hour_value.value
    currency = comparison.job.settings.currency
    points: dict[tuple[str, str], set[float]] = {}
    for flip in comparison.flips:
        points.setdefault((flip.choice, flip.value), set()).update(flip.hour_values)
    far = {key: min(abs(v - value) for v in found) for key, found in points.items() if found}
    order = sorted(far, key=lambda key: (key[0] != "bedding", far[key], key))
    if points and not order:
        return ["nothing: every choice stays as it is whatever an hour is worth"]
    return [_flip_point(*key, sorted(points[key]), value, currency) for key in order]


def _flip_point(
    choice: str, chosen: str, found: list[float], value: float, currency: str
) -> str:  # fmt: skip
    """Where one choice flips, such as ``Edge over $30``."""
    about, _ = words.choice(choice, chosen)
    below = [v for v in found if v <= value]
    above = [v for v in found if v > value]
    ends = [f"under {round_money(below[-1], currency)}"] if below else []
    ends += [f"over {round_money(above[0], currency)}"] if above else []
    return f"{about} {' or '.join(ends)} an hour"


def _all_flips(comparison: Comparison) -> list[Block]:
    if not comparison.flips:
        return []
    found = [Text(f"- {flip.sentence}") for flip in comparison.flips if not flip.small]
    small = sum(flip.small for flip in comparison.flips)
    if small:
        what = "decision changes" if small == 1 else "decisions change"
        found.append(Text(f"- {small} more {what} less than one per cent of the total."))
    return [Gap(), Heading("What changing one decision does"), *found, Gap()]


def where(files: Files | None) -> list[Block]:
    """Where the comparison workbook and the page are."""
    if files is None:
        return []
    return [Pair("Workbook", str(files.workbook)), Pair("Page", str(files.page))]


def _no_plan(comparison: Comparison, files: Files | None) -> list[Block]:
    found: list[Block] = [
        Heading(f"{comparison.job.settings.name}: no plan can be built yet"),
        *(Text(f"{s.title}: {s.why_not}", "warning") for s in comparison.scenarios if s.why_not),
    ]
    if comparison.next_step:
        found.append(Pair("Fill next", comparison.next_step))
    return [*found, *where(files)]
