"""What to ask whom: goods of each seller, machines of each shop, steps and scope of each firm."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from budget import reference
from budget.figures import Figure
from budget.job import Bid, BidScope, Equipment, Job, Quote, Row
from budget.numerals import date, short_date, trimmed
from budget.quantities.takeoff import Need, Takeoff
from budget.report.letters import Asked, Letter, Question, Wanted
from budget.units import COUNT, DEPTH, MONEY, RATIO, System, in_words, money, shown, whole_packs
from budget.workbook.sheets.describe import Column, Sheet, key
from budget.workbook.sheets.tabs import sheet as sheet_named

#: What answers a question who pays: flags of a bid that leave it to the owner.
_PAID_BY_US = ("rain_on_owner", "rock_on_owner")
_IN_PRICE, _LEFT = "in the price", "left to us"

ANY_SELLER, ANY_SHOP, ANY_FIRM = "Any seller", "Any rental shop", "Any firm"


def letters(job: Job, takeoff: Takeoff) -> tuple[Letter, ...]:
    """Every sheet of questions: sellers by name, then rental shops, then firms."""
    return (*_sellers(job, takeoff), *_shops(job), *_firms(job, takeoff))


def write(job: Job, workbook: Path, out: Path | None = None) -> Asked:
    """Write the questions of one quotes workbook; ``<stem>-questions.xlsx``.

    Raises ``OSError`` when the file cannot be written.
    """
    from budget.quantities import take_off
    from budget.report.ask_book import write as write_book
    from budget.report.files import folder_for

    found = letters(job, take_off(job))
    folder = out or folder_for(workbook)
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{workbook.stem}-questions.xlsx"
    write_book(job, found, path)
    return Asked(path, found)


def _sellers(job: Job, takeoff: Takeoff) -> list[Letter]:
    by_item = {
        item: _wanted(item, job, takeoff) for item in sorted({n.item for n in takeoff.needs})
    }
    all_goods = tuple(by_item.values())
    quoted = {quote.item for quote in job.quotes}
    rows = {row.supplier: row for row in job.suppliers}
    found = []
    for name in sorted({*rows, *(quote.supplier for quote in job.quotes)}):
        own = [quote for quote in job.quotes if quote.supplier == name]
        goods = tuple(
            Wanted(w.what, w.amount, w.unit, w.remarks, _so_far(w.what, own, job))
            for item, w in by_item.items()
            if item not in quoted or any(q.item == item for q in own)
        )
        questions = _questions("seller", "Suppliers", [rows[name]] if name in rows else [], job)
        # One who quoted nothing that is wanted is asked for everything.
        found.append(Letter(name, "seller", goods or all_goods, questions))
    return [*found, Letter(ANY_SELLER, "seller", all_goods, _questions("seller", "", (), job))]


def _wanted(item: str, job: Job, takeoff: Takeoff) -> Wanted:
    needs = [need for need in takeoff.needs if need.item == item]
    chosen, remarks = _of_one_bedding(needs)
    system = job.settings.units
    kind = chosen[0].order.kind
    amount = sum(need.order.value for need in chosen)
    others = [_other(chosen, m, kind.name, system) for m in ("mass", "volume")]
    remarks = [*(text for text in others if text), *_size(item, job), *remarks]
    optional = sorted({need.optional for need in chosen if need.optional})
    if optional:
        remarks.append(f"with {', '.join(optional)}, which may be left out")
    unit = kind.unit(system)
    pieces = kind is COUNT
    rounded = whole_packs(amount) if pieces else round(shown(amount, kind, system), unit.decimals)
    return Wanted(item, rounded, unit.label or "pieces", "; ".join(remarks))


def _of_one_bedding(needs: Sequence[Need]) -> tuple[list[Need], list[str]]:
    """The needs of the bedding that asks for most, and a remark where it matters."""
    beddings = sorted({need.bedding for need in needs if need.bedding})
    always = [need for need in needs if not need.bedding]
    if not beddings:
        return always, []
    sums = {b: sum(n.order.value for n in needs if n.bedding == b) for b in beddings}
    most = max(beddings, key=lambda b: (sums[b], b))
    chosen = [*always, *(n for n in needs if n.bedding == most)]
    if len(beddings) == 1 and not always:
        return chosen, [f"only if bedded in {most}"]
    return chosen, [f"the most, if bedded in {most}"] if len(beddings) > 1 else []


def _other(needs: Sequence[Need], measure: Any, not_kind: str, system: System) -> str:
    figures: list[Figure] = [n.measures[measure] for n in needs if measure in n.measures]
    if len(figures) < len(needs) or any(f.kind.name == not_kind for f in figures):
        return ""
    return f"about {in_words(sum(f.value for f in figures), figures[0].kind, system)}"


def _size(item: str, job: Job) -> list[str]:
    product = next((p for p in job.products if p.item == item), None)
    if product is None:
        return []
    sides = [s for s in (product.length, product.width, product.height) if s is not None]
    return [" x ".join(in_words(side, DEPTH, job.settings.units) for side in sides)] * bool(sides)


def _so_far(item: str, quotes: Iterable[Quote], job: Job) -> str:
    found = []
    for quote in quotes:
        if quote.item != item:
            continue
        if quote.price is None:
            found.append(f"per {quote.per}: no price yet")
            continue
        said = f"{money(quote.price, job.settings.currency)} per {quote.per}"
        if quote.valid_until is not None and quote.valid_until < job.settings.as_of:
            said += f" (ran out {date(quote.valid_until)})"
        found.append(said)
    return "; ".join(sorted(found))


def _shops(job: Job) -> list[Letter]:
    rented = [row for row in job.equipment if row.way == "rent"]
    machines = sorted({row.equipment for row in rented} | {w.equipment for w in job.work} - {""})
    if not machines:
        return []
    found = []
    for shop in sorted({row.source for row in rented if row.source}):
        own = [row for row in rented if row.source == shop]
        goods = tuple(Wanted(name, None, "") for name in sorted({row.equipment for row in own}))
        found.append(Letter(shop, "rental", goods, _questions("rental", "Equipment", own, job)))
    goods = tuple(Wanted(name, None, "") for name in machines)
    return [*found, Letter(ANY_SHOP, "rental", goods, _questions("rental", "", (), job))]


def _firms(job: Job, takeoff: Takeoff) -> list[Letter]:
    steps = [_step(step, job, takeoff) for step in reference.steps()]
    work = tuple(row for row in steps if row is not None)
    found = []
    for firm in sorted({bid.firm or bid.bid for bid in job.bids}):
        own = [bid for bid in job.bids if (bid.firm or bid.bid) == firm]
        covered = {step for bid in own for step in bid.steps}
        goods = tuple(row for row in work if row.what in covered)
        questions = _questions("scope", "Bids", own, job, covered)
        found.append(Letter(firm, "hired", goods, questions))
    return [*found, Letter(ANY_FIRM, "hired", work, _questions("scope", "", (), job))]


def _step(step: str, job: Job, takeoff: Takeoff) -> Wanted | None:
    amounts = [a for a in takeoff.steps if a.step == step]
    if step == "Carry":
        return Wanted(step, None, "", "from where the truck sets goods down to the work")
    if not amounts:
        return None
    system, kind = job.settings.units, amounts[0].amount.kind
    always = sum(a.amount.value for a in amounts if not a.bedding)
    beddings = {a.bedding for a in amounts if a.bedding}
    most = max(
        (sum(a.amount.value for a in amounts if a.bedding == b) for b in beddings), default=0.0
    )
    unit = kind.unit(system)
    parts = ", ".join(sorted({a.part for a in amounts if a.part}))
    amount = round(shown(always + most, kind, system), unit.decimals)
    return Wanted(step, amount, unit.label, parts)


def _questions(
    topic: str, sheet: str, rows: Sequence[Row], job: Job, covered: Iterable[str] | None = None
) -> tuple[Question, ...]:
    """What to ask; of those who offer only some steps, what is about these or was spoken of."""
    described = sheet_named(sheet) if sheet else None
    found = []
    for row in (row for row in reference.rows("questions") if row["topic"] == topic):
        noted = "; ".join(_answers(described, row, rows, job))
        about = {step.strip() for step in row["steps"].split(",")}
        if covered is None or noted or about == {""} or not about.isdisjoint(covered):
            found.append(Question(row["question"], row["if_not"], noted))
    return tuple(found)


def _answers(
    sheet: Sheet | None, question: dict[str, str], rows: Sequence[Row], job: Job
) -> Iterator[str]:
    """What stands in the workbook already: on the sheet of these rows, and on Bid scope.

    Bid scope says it more closely, so that it goes before what a bid's own row says.
    """
    bids = {key(row.bid) for row in rows if isinstance(row, Bid)}
    said = [
        s for s in job.bid_scope
        if bids and key(s.item) == key(question["item"]) and s.answer
        and (not s.bid or key(s.bid) in bids)
    ]  # fmt: skip
    if sheet is not None and question["field"]:
        closer = {key(scope.bid) for scope in said}
        left = [row for row in rows if key(_subject(row)) not in closer]
        noted = _noted(sheet, question["field"], left, rows, job)
        yield from [noted] if noted else []
    for scope in sorted(said, key=lambda s: (s.bid, s.place.row)):
        about = f"{scope.bid}: " if scope.bid else ""
        yield f"{about}{_scope_words(scope, job)}"


def _scope_words(scope: BidScope, job: Job) -> str:
    if scope.answer == "extra":
        extra = scope.extra
        return "an extra" if extra is None else f"extra {money(extra, job.settings.currency)}"
    return _IN_PRICE if scope.answer == "yes" else _LEFT


def _noted(sheet: Sheet, name: str, rows: Sequence[Row], every_row: Sequence[Row], job: Job) -> str:
    """The answers that stand in some rows of a sheet already, each once.

    Of several machines or bids, those are named for which an answer holds, unless it does for all.
    """
    found: dict[str, set[str]] = {}
    for row in rows:
        value = getattr(row, name)
        # A flag that was left blank reads as its default: nobody has said it.
        if value is None or value == "" or (isinstance(value, bool) and not _said(row, name)):
            continue
        found.setdefault(_in_words(value, sheet.column(name), job), set()).add(_subject(row))
    every = {_subject(row) for row in every_row}
    if len(found) == 1 and set(*found.values()) == every:
        return next(iter(found))
    told = sorted((", ".join(sorted(subjects)), said) for said, subjects in found.items())
    return "; ".join(f"{about}: {said}" for about, said in told)


def _subject(row: Row) -> str:
    """What a row is about: the bid or the machine; a seller is the one who is asked."""
    return row.bid if isinstance(row, Bid) else row.equipment if isinstance(row, Equipment) else ""


def _in_words(value: Any, column: Column, job: Job) -> str:
    """What stands in a cell, as an answer to its question."""
    settings = job.settings
    if column.field in _PAID_BY_US:
        return _LEFT if value else _IN_PRICE
    if isinstance(value, bool):
        return column.options()[value]
    if column.value == "share":
        return in_words(value, RATIO, settings.units)
    if column.value == "money":
        if column.kind in (None, MONEY):
            return money(value, settings.currency)
        return f"{in_words(value, column.kind, settings.units)} {settings.currency}"
    if isinstance(value, dt.date):
        return short_date(value)
    if column.kind is not None:
        return in_words(value, column.kind, settings.units)
    return trimmed(value) if isinstance(value, float) else str(value)


def _said(row: Row, name: str) -> bool:
    default = type(row).__dataclass_fields__[name].default
    return bool(getattr(row, name) != default)
