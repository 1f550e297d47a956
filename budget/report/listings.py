"""What ``check``, ``quantities``, ``explain`` and ``spend`` print."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from budget.decide.pricing.goods import packs_in_words
from budget.figures import Figure, total
from budget.job import Assumption, Job, Notice
from budget.numerals import grouped
from budget.quantities.needs.handling import weights_by_step
from budget.quantities.takeoff import Need, StepAmount, Takeoff
from budget.report import words
from budget.report.explain.lines import Explanation
from budget.report.needs import Packs, Quantities
from budget.report.review import Review
from budget.report.terminal.blocks import Block, Gap, Heading, Pair, Table, Text, table
from budget.spend.tracking import Tracked, Tracking
from budget.units import MASS, System, in_words
from budget.wording import listed


def problems(found: Sequence[Notice]) -> list[Block]:
    """Every problem of a workbook, one paragraph each."""
    head = f"{words.count(len(found), 'problem')} to mend in the workbook:"
    return [Heading(head), *_notices(found)]


def _notices(found: Iterable[Notice]) -> list[Block]:
    return [
        Text(f"{_place(n)}: {n.message} [{n.code}]", n.severity)
        for n in found
    ]  # fmt: skip


def _place(found: Notice) -> str:
    if "!" in found.cell or not found.cell:
        return found.cell or found.sheet
    return f"{found.sheet}!{found.cell}"


def check(review: Review, quiet: bool, window: bool = False, full: bool = True) -> list[Block]:
    """Problems first, then warnings, then the defaults that were assumed, if ``full``.

    A ``window`` shows the end of what is printed: there problems stand last.
    """
    if quiet:
        return problems(review.problems) if review.problems else []
    parts: list[list[Block]] = [
        problems(review.problems) if review.problems else [],
        _warned(review.warnings),
        _assumed(review.assumed) if full else [],
    ]
    last: list[Block] = [Heading(_in_all(review, full))]
    told = [part for part in (*(parts[::-1] if window else parts), last) if part]
    return [block for part in told for block in (Gap(), *part)][1:]


def _warned(warnings: Sequence[Notice]) -> list[Block]:
    if not warnings:
        return []
    return [Heading("Warnings (the plan can be computed all the same):"), *_notices(warnings)]


def _in_all(review: Review, full: bool) -> str:
    """The closing line: how many of each there are."""
    many = words.count(len(review.problems), "problem") if review.problems else "No problems found"
    parts = [many]
    if review.warnings:
        parts.append(words.count(len(review.warnings), "warning"))
    if review.assumed:
        told = "" if full else " (--full lists them)"
        parts.append(f"{words.count(len(review.assumed), 'value')} assumed for blanks{told}")
    return f"{listed(parts)}."


def _assumed(assumed: Sequence[Assumption]) -> list[Block]:
    if not assumed:
        return []
    rows = [(a.what, a.value, a.source) for a in assumed]
    title = Heading("Assumed, because the workbook leaves it blank:")
    return [title, table(("What", "Value", "Source"), rows)]


def quantities(job: Job, found: Quantities, quiet: bool) -> list[Block]:
    """What is needed, in which packs it can be bought, and how much work there is."""
    system = job.settings.units
    needs = _needs(found.takeoff.needs, system)
    if quiet:
        return [needs]
    blocks: list[Block] = [Heading(f"{job.settings.name}: what is needed"), needs]
    if found.packs:
        blocks += [Gap(), Heading("In packs, by quote"), _packs(found.packs)]
    if found.unquoted:
        blocks += [Gap(), Text(f"No quote yet for {listed(found.unquoted)}.", "warning")]
    blocks += [Gap(), Heading("Work"), _work(found.takeoff.steps, system)]
    blocks += _handled(found.takeoff.needs, system)
    blocks += _small_things(found.takeoff, system)
    blocks += _why(found.takeoff.needs)
    if found.assumed:
        many = words.count(len(found.assumed), "value")
        blocks += [Gap(), Text(f"{many} assumed where the workbook is silent; “budget check "
                               "--full” lists them with their sources.")]  # fmt: skip
    return blocks


def _needs(needs: Sequence[Need], system: System) -> Table:
    rows = [
        (
            need.line,
            need.place + (f", {need.bedding} bedding" if need.bedding else ""),
            need.net.words(system),
            words.percent(need.overage.value),
            need.to_order(system),
            need.weight.words(system) if need.weight else "not known",
        )
        for need in needs
    ]
    titles = ("Line", "For", "In the work", "Extra", "To order", "Weight")
    return table(titles, rows, right=(2, 3, 4, 5))


def _work(steps: Sequence[StepAmount], system: System) -> Table:
    """Amounts of work, those of one step in one part under one bedding added up."""
    beddings: dict[tuple[str, str], dict[str, None]] = {}
    for row in steps:
        beddings.setdefault((row.step, row.part), {})[row.bedding] = None
    together: dict[tuple[str, str, str], list[Figure]] = {}
    for row in steps:
        under = [b for b in beddings[row.step, row.part] if b] or [""]
        for bedding in [row.bedding] if row.bedding else under:
            together.setdefault((row.step, row.part, bedding), []).append(row.amount)
    rows = [
        (step, part, total(step, amounts).words(system), bedding)
        for (step, part, bedding), amounts in together.items()
    ]
    return table(("Step", "Part", "Amount", "Bedding"), rows, right=(2,))


def _small_things(takeoff: Takeoff, system: System) -> list[Block]:
    """What wears or is used up, by the job's sizes, and which way of cutting suits."""
    rows = [(line, figure.name, figure.words(system)) for line, figure in takeoff.consumables]
    if not rows:
        return []
    titles = ("On the Checklist", "What", "By the sizes")
    blocks: list[Block] = [Gap(), Heading("Small things"), table(titles, rows, right=(2,))]
    return [*blocks, Text(takeoff.way_to_cut)] if takeoff.way_to_cut else blocks


def _handled(needs: Sequence[Need], system: System) -> list[Block]:
    """Weight by step, with the heaviest piece and what two people lift."""
    rows = [
        (
            row.step,
            row.bedding,
            row.weight.words(system) if row.weight.value else "not known",
            f"{row.heaviest}, {in_words(row.piece, MASS, system, 1)}" if row.heaviest else "",
            grouped(row.twice) if row.twice else "none" if row.heaviest else "",
            listed(row.unknown),
        )
        for row in weights_by_step(needs)
    ]
    if not rows:
        return []
    titles = ("Step", "Bedding", "Weight", "Heaviest piece", "Two people lift", "Weight not known")
    return [Gap(), Heading("To carry and handle"), table(titles, rows, right=(2, 4))]


def _packs(packs: Sequence[Packs]) -> Table:
    rows = [
        (
            p.item + (f" ({p.bedding})" if p.bedding else ""),
            p.supplier,
            packs_in_words(p.packs.value, p.per),
        )
        for p in packs
    ]
    return table(("Item", "Seller", "Order"), rows, right=(2,))


def _why(needs: Sequence[Need]) -> list[Block]:
    told: dict[tuple[str, str], list[str]] = {}
    for need in needs:
        if need.why:
            told.setdefault((need.line, need.why), []).append(need.place)
    owned = "To order is less than that, by what you own (sheet Stock)."
    told |= {(need.line, owned): [] for need in needs if _from_stock(need)}
    if not told:
        return []
    lines = [line for line, _ in told]
    found = []
    for (line, why), parts in told.items():
        where = f", {' and '.join(parts)}" if parts and lines.count(line) > 1 else ""
        found.append(Text(f"- {line}{where}: {why}"))
    return [Gap(), Heading("Why the extra"), *found]


def _from_stock(need: Need) -> bool:
    if need.order.kind is not need.net.kind:
        return False
    return need.order.value < need.net.value * (1 + need.overage.value) - 0.5


def explanation(found: Explanation, quiet: bool) -> list[Block]:
    """Numbered steps on paper, with the source of every coefficient."""
    if quiet:
        return [Pair(part.result, part.title) for part in found.parts]
    blocks: list[Block] = [Heading(f"{found.name}, in “{found.scenario.title}”")]
    for part in found.parts:
        blocks += [Gap(), Heading(f"{part.title}: {part.result}")]
        rows = [
            (f"{n}.", step.name, step.arithmetic, step.result, step.source)
            for n, step in part.steps
        ]
        if rows:
            blocks.append(table(("", "What", "How", "Result", "Source"), rows, right=(0,)))
        else:
            blocks.append(Text("Worked out in the steps above."))
    if found.remarks:
        blocks += [Gap(), *(Text(remark) for remark in found.remarks)]
    return blocks


def spend(job: Job, found: Tracking, quiet: bool) -> list[Block]:
    """Entries against the plan, line by line, and the few sums that matter."""
    currency = job.settings.currency
    summary = _spend_summary(found, currency)
    if quiet:
        return summary[:1]
    blocks: list[Block] = [
        Heading(f"{job.settings.name}: spent against “{found.against}”"),
        *summary,
        Gap(),
        _spend_lines(found, currency),
        *_spend_hours(found),
    ]
    if found.unpriced:
        many = listed(found.unpriced)
        blocks += [Gap(), Text(f"Not yet priced, so not in these sums: {many}.", "warning")]
    if found.warnings:
        blocks += [Gap(), *_notices(found.warnings)]
    return blocks


def _spend_summary(found: Tracking, currency: str) -> list[Block]:
    def cash(cents: int) -> str:
        return words.money(cents, currency)

    against = "the plan" if found.limit is None else f"your limit of {cash(found.limit)}"
    side = "left under" if found.left >= 0 else "OVER"
    blocks: list[Block] = [
        Pair(
            "Will come to", f"{cash(found.will_come_to)}; {cash(abs(found.left))} {side} {against}"
        ),
        Pair("Paid", f"{cash(found.paid)}; still to come {cash(found.to_come)}"),
    ]
    if found.refund_due:
        blocks.append(Pair("Refund due", cash(found.refund_due)))
    if found.deposits_out or found.deposits_planned:
        paid = f"{cash(found.deposits_held)} of {cash(found.deposits_out)} paid still to come back"
        due = f"{cash(found.deposits_planned)} to pay and get back, beside these sums"
        blocks.append(Pair("Deposits", paid if found.deposits_out else due))
    hours = f"{words.hours(found.spent_hours)} of {words.hours(found.planned_hours)} planned"
    return [*blocks, Pair("Own hours", f"{hours}; {words.hours(found.hours_to_come)} to come")]


def _spend_lines(found: Tracking, currency: str) -> Table:
    def cash(cents: int) -> str:
        return words.money(cents, currency).replace(".00", "") if cents else "-"

    def row(t: Tracked) -> tuple[str, ...]:
        name = t.line if t.in_plan else f"{t.line} (not in the plan)"
        sums = (t.agreed, t.ordered, t.paid, t.to_come, t.will_come_to, t.left)
        return (name, *(cash(s) for s in sums))

    money_lines = [t for t in found.lines if t.agreed or t.will_come_to or t.ordered or t.paid]
    agreed = found.planned + found.changes
    total = (
        "Total", cash(agreed), cash(found.ordered), cash(found.paid), cash(found.to_come),
        cash(found.will_come_to), cash(agreed - found.will_come_to),
    )  # fmt: skip
    titles = ("Line", "Planned", "Ordered", "Paid", "To come", "Comes to", "Left")
    return table(titles, [*map(row, money_lines), total], right=range(1, 7), total=True)


def _spend_hours(found: Tracking) -> list[Block]:
    """Own hours by line, once any are entered."""
    if not found.spent_hours:
        return []

    def hours(number: float) -> str:
        return words.hours(number).split()[0] if number else "-"

    rows = [
        (t.line, hours(t.planned_hours), hours(t.spent_hours))
        for t in found.lines
        if t.planned_hours or t.spent_hours
    ]
    total = ("Total", hours(found.planned_hours), hours(found.spent_hours))
    titles = ("Own hours", "Planned", "Spent")
    return [Gap(), table(titles, [*rows, total], right=(1, 2), total=True)]
