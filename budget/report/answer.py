"""The answer of ``compare`` on one screen, and one plan in full."""

from __future__ import annotations

import math
from collections.abc import Sequence

from budget.decide.outcome import Comparison
from budget.decide.plan import Priced, Scenario
from budget.decide.wording import so_far
from budget.report import calendar, risk, words
from budget.report.documents.document import Files
from budget.report.flip_points import flip_points
from budget.report.scenario_rows import side_by_side
from budget.report.terminal.blocks import INDENT, LABEL_WIDTH, Block, Gap, Heading, Pair, Text
from budget.report.terminal.fitting import Row, fit, height

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

    ``window`` is (columns, lines) of a terminal, which the answer is made to fit, with a row that
    tells how to see the rest; None in a pipe and with ``--full``, where nothing is left out.
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
        whole = [Pair(r.label, r.joint.join(_nearest(r))) for r in (*rows, *_warned(comparison))]
        beside = side_by_side(comparison, None)
        return [*head, beside, Gap(), *whole, *_all_flips(comparison), *last]
    columns, lines = window
    width = columns - LABEL_WIDTH - len(INDENT)
    last = [*_more(comparison), *last]
    least = fit(rows, width, 0)
    # one line each for the prompt, the table's titles and the gap below it
    free = lines - 3 - sum(height(b, columns) for b in (*head, *least, *last))
    beside = side_by_side(comparison, max(_SCENARIOS, free))
    room = lines - 1 - sum(height(b, columns) for b in (*head, beside, Gap(), *last))
    return [*head, beside, Gap(), *fit(rows, width, room), *last]


def _more(comparison: Comparison) -> list[Block]:
    """How to see what a window has no room for, and the warnings."""
    many = len(comparison.warnings)
    warned = f"; “budget check” lists {words.count(many, 'warning')}" if many else ""
    return [Pair("More", f"add --full to see all of it{warned}")]


def _warned(comparison: Comparison) -> list[Row]:
    if not comparison.warnings:
        return []
    many = words.count(len(comparison.warnings), "warning")
    return [Row("Warnings", (f"{many}; “budget check” lists them",))]


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
    name = comparison.job.settings.name
    return Heading(f"{name}: the best plan{comparison.so_far} is “{best.title}”")


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
    if comparison.all_hired_is_best:
        why = f"hiring the whole job is best{comparison.so_far}"
        return [Pair("Saves", f"nothing by own work: {why}")]
    text = f"{words.money(saving, currency)} against hiring it all"
    if saving < 0:
        text = f"nothing: {words.money(-saving, currency)} dearer than hiring it all"
    if comparison.hour_earns is not None:
        text += f"; an own hour earns {words.money(comparison.hour_earns, currency)}"
    return [Pair("Saves", text)]


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
        Row("How sure", risk.in_words(comparison), least=2, counted=False),
        Row("Run short", risk.short_in_words(comparison), counted=False),
        Row("Find out", risk.find_out_in_words(comparison), spare=True),
        Row("It flips", tuple(flip_points(comparison)), least=2),
        Row("Unpriced *", tuple(m.what for m in comparison.missing), ", "),
        Row("Fill next", (comparison.next_step,) if comparison.next_step else ()),
    ]
    rows += _refused(comparison)
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
    told = {name: f"{name}: {text.rstrip('.')}" for name, text in why.items()}
    asked = tuple(text for name, text in told.items() if name in own)
    others = tuple(text for name, text in told.items() if name not in own)
    return [Row("Not built", asked), Row("Not built", others, spare=True)]


def _all_flips(comparison: Comparison) -> list[Block]:
    if not comparison.flips:
        return []
    found = [Text(f"- {flip.sentence}") for flip in comparison.flips if not flip.small]
    small = sum(flip.small for flip in comparison.flips)
    if small:
        what = "decision changes" if small == 1 else "decisions change"
        many = f"{small} more" if found else f"{small}"
        found.append(Text(f"- {many} {what} less than one per cent of the total."))
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
