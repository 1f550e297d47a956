"""What ``accept``, ``record``, ``statement`` and ``spend`` print."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from budget.decide.wording import so_far
from budget.job import Spend
from budget.numerals import grouped, short_date, trimmed
from budget.report import listings, words
from budget.report.spend_evening import again_so_far, evening
from budget.report.terminal.blocks import Block, Gap, Heading, Text, table, wrapped
from budget.spend.again import Again
from budget.spend.baseline import Baseline
from budget.spend.coming import Coming
from budget.spend.earned import Earned
from budget.spend.matching import Proposal
from budget.spend.standing import Standing
from budget.spend.tallying import amount
from budget.spend.tracking import Tracked, Week
from budget.wording import listed

#: How many things that come next are shown; the JSON has them all.
SHOWN = 12

#: What is to be done, in a column of its own beside the line.
VERBS = {
    "order": "Order", "book": "Book", "expect": "Expect", "pay": "Pay", "deposit": "Get back",
    "refund": "Get refunded", "return": "Take back by", "expires": "Price ends",
    "waits": "Waits",
}  # fmt: skip


def accepted(baseline: Baseline, path: str) -> str:
    """One sentence about what ``accept`` wrote."""
    cash = words.money(baseline.cash, baseline.currency)
    if baseline.comes_back:
        back = words.money(baseline.comes_back, baseline.currency)
        cash += f" ({back} of it comes back for unopened packs)"
    sums = f"{cash} and {words.hours(baseline.own_hours)}"
    until = f", to be done by {words.date(baseline.finish)}" if baseline.finish else ""
    return f"{path}: plan {baseline.number}, “{baseline.scenario}”, {sums} of own work{until}."


def recorded(entry: Spend, currency: str, path: str) -> str:
    """One sentence about what ``record`` wrote."""
    parts = [entry.state, f"“{entry.line}”"]
    if entry.amount is not None:
        parts.append(words.money(amount(entry), currency))
    if entry.own_hours:
        parts.append(words.hours(entry.own_hours))
    return f"{path}: {short_date(entry.date)}, {', '.join(parts)}."


def question(proposal: Proposal, currency: str, columns: int) -> str:
    """The question about one row of a statement, in lines of at most so many columns."""
    booked = proposal.booked
    cash = words.money(abs(booked.cents), currency)
    head = f"{short_date(booked.date)}  {cash}  {booked.text}"
    deposit = words.money(proposal.deposit, currency)
    also = f", {deposit} of it as deposit paid," if proposal.deposit else ""
    entry = f"Enter it as {proposal.state}{also} on “{proposal.line}”?"
    lines = (head, f"{proposal.reason} ({proposal.sure} % sure). {entry}")
    return "\n".join(row for line in lines for row in wrapped(line, columns))


def matched(proposals: Sequence[Proposal], taken: Sequence[Proposal], currency: str) -> list[Block]:
    """What became of every row of a statement."""
    rows = [
        (
            short_date(p.booked.date),
            words.money(p.booked.cents, currency),
            p.booked.text,
            p.line or "-",
            _became(p, p in taken),
        )
        for p in proposals
    ]
    titles = ("Date", "Out", "Text", "Line", "What became of it")
    if not rows:
        return [Text("No row with money in it.")]
    blocks: list[Block] = [table(titles, rows, right=(1,))]
    if any(p not in taken and not p.entered for p in proposals):
        what = "Open rows are not written down. “budget record FILE LINE STATE AMOUNT” enters them"
        blocks.append(Text(f"{what}; those of other things can stay open."))
    return blocks


def _became(proposal: Proposal, taken: bool) -> str:
    """What became of one row of a statement, and why."""
    if proposal.entered:
        return "entered already"
    return f"{'taken' if taken else 'open'}, {proposal.sure} % sure: {proposal.reason}"


def left_out(rows: Sequence[int]) -> str:
    """One sentence about rows of a statement that have no date."""
    which = listed([str(row) for row in rows])
    return (
        f"Left out, for it has no date (a sum?): row {which}."
        if len(rows) == 1
        else (f"Left out, for they have no date (sums?): rows {which}.")
    )


def spend(
    found: Standing, quiet: bool, earned_value: bool = False, full: bool = False
) -> list[Block]:
    """How the job stands: in one window, or with ``full`` every line, why, and the weeks."""
    currency = found.job.settings.currency
    blocks = evening(found) if not (full or quiet) else _everything(found, quiet)
    if earned_value and not quiet:
        blocks += _earned(found.earned, currency)
    return blocks


def _everything(found: Standing, quiet: bool) -> list[Block]:
    tracking, currency = found.tracking, found.job.settings.currency
    blocks = listings.spend(found.job, tracking, quiet)
    if quiet:
        return blocks
    blocks.insert(1, Text(_against(found)))
    if found.on_both:
        many = "entry stands" if found.on_both == 1 else "entries stand"
        blocks.append(
            Text(f"{found.on_both} {many} on the Spend sheet and in the journal: counted once.")
        )
    blocks += _why(tracking.lines, currency)
    blocks += _weeks(tracking.weeks, currency)
    blocks += _coming(found.coming, currency)
    blocks += _again(found.again, currency) if found.again else []
    return blocks


def _against(found: Standing) -> str:
    tracking = found.tracking
    day = words.date(tracking.day)
    if tracking.accepted_on is None:
        text = f"On {day}. No plan is accepted yet (“budget accept”): this is the plan of today."
        return text if found.stick.proved else f"{text} It is the {so_far(found.stick.gap)}."
    since = words.date(tracking.accepted_on)
    text = f"On {day}, against plan {tracking.accepted} accepted on {since}."
    if tracking.why_not:
        text += f" The workbook no longer gives that plan ({tracking.why_not}); its own sums stand."
    return text


def _why(lines: Iterable[Tracked], currency: str) -> list[Block]:
    def cash(cents: int) -> str:
        return words.money(cents, currency) if cents else "-"

    moved = [t for t in lines if t.over]
    if not moved:
        return []
    rows = [
        (t.line, cash(t.over), cash(t.why.price), cash(t.why.quantity), cash(t.why.scope),
         cash(t.why.pace))
        for t in moved
    ]  # fmt: skip
    sums = [sum(v) for v in zip(*((t.over, t.why.price, t.why.quantity, t.why.scope, t.why.pace)
                                  for t in moved), strict=True)]  # fmt: skip
    rows.append(("Total", *map(cash, sums)))  # type: ignore[arg-type]
    titles = ("Above the first plan", "Sum", "Price", "Quantity", "Scope", "Pace")
    return [Gap(), table(titles, rows, right=range(1, 6), total=True)]


def _weeks(weeks: Sequence[Week], currency: str) -> list[Block]:
    if len(weeks) < 2:
        return []

    def share(value: float | None) -> str:
        return "-" if value is None else words.percent(round(value, 2))

    def cash(cents: int | None) -> str:
        return "-" if cents is None else words.money_round(cents, currency)

    rows = [
        (short_date(w.end), cash(w.cash_out), cash(w.cash_in), cash(w.will_come_to),
         cash(w.contingency_left), share(w.work_done), trimmed(w.own_hours, 1))
        for w in weeks
    ]  # fmt: skip
    titles = ("Week to", "Out", "In", "Comes to", "Room left", "Work done", "Own hours")
    return [Gap(), table(titles, rows, right=range(1, 7))]


def _coming(coming: Sequence[Coming], currency: str) -> list[Block]:
    if not coming:
        return []
    rows = [
        (
            short_date(c.day) if c.day else "",
            VERBS[c.kind],
            c.line,
            c.who,
            words.money(c.cents, currency) if c.cents else "",
            c.note,
        )
        for c in coming[:SHOWN]
    ]
    blocks: list[Block] = [Gap(), table(("Next", "", "", "", "", ""), rows, right=(4,))]
    if len(coming) > SHOWN:
        blocks.append(Text(f"and {len(coming) - SHOWN} more; --json lists them all."))
    return blocks


def _again(again: Again, currency: str) -> list[Block]:
    if again.why_not:
        return [Gap(), Text(f"Not planned anew: {again.why_not}")]
    unsure = [] if again.proved else [Text(again_so_far(again), "warning")]
    if not again.changes:
        return [Gap(), *unsure] if unsure else []
    cash, hours = words.money(again.cash, currency), grouped(again.hours, 1)
    head = f"The choices still open, planned anew, would save {cash} and {hours} own hours:"
    rows = [(c.choice, c.before or "-", c.after or "-") for c in again.changes]
    return [Gap(), Heading(head), table(("Choice", "Now", "Instead"), rows), *unsure]


def _earned(found: Earned, currency: str) -> list[Block]:
    """Plain words first, then the letters of the practice."""

    def cash(cents: float | None) -> str:
        return "not known" if cents is None else words.money(cents, currency)

    def ratio(value: float | None) -> str:
        return "not known" if value is None else grouped(value, 3)

    done = cash(found.earned)
    plain = f"Work worth {done} by the plan is done, and {cash(found.actual)} went into it"
    rows = [
        ("Plan in all", "BAC", cash(found.budget)),
        ("Should be done by now", "PV", cash(found.planned)),
        ("Is done", "EV", done),
        ("Went into it", "AC", cash(found.actual)),
        ("Cheaper (+) or dearer (-)", "CV", cash(found.cost_variance)),
        ("Ahead (+) or behind (-)", "SV", cash(found.schedule_variance)),
        ("Work for each unit of money", "CPI", ratio(found.cost_index)),
        ("Work against the calendar", "SPI", ratio(found.schedule_index)),
        ("Comes to, as so far", "EAC", cash(found.forecast_typical)),
        ("Comes to, rest as planned", "EAC", cash(found.forecast_atypical)),
        ("Comes to, late as well", "EAC", cash(found.forecast_late)),
        ("Still to spend", "ETC", cash(found.to_complete)),
        ("Under (+) or over (-) at the end", "VAC", cash(found.variance_at_completion)),
        ("To be kept from now on", "TCPI", ratio(found.index_to_budget)),
    ]
    blocks: list[Block] = [Gap(), Heading(f"{plain} (money, and own hours at their value).")]
    blocks.append(table(("", "", ""), rows, right=(2,)))
    blocks.append(
        Text(
            "Goods are paid before they are built in, so that early on these figures look dearer "
            "than the job is; the forecast line by line does not."
        )
    )
    if found.planned is None:
        what = "No start (on Job) or no finish (“budget accept --finish”) is planned"
        blocks.append(Text(f"{what}: PV is not known."))
    return [*blocks, *(Text(doubt, "warning") for doubt in found.doubts)]
