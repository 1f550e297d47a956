"""Margins, bids like for like and every trade, in words: shared by terminal, page and workbook."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from budget.decide.outcome import Comparison, Deeper
from budget.decide.thorough.alike import Alike, Fill, Spread
from budget.decide.thorough.margins import Jump, Margin
from budget.decide.thorough.pareto import Trade, Trades
from budget.decide.wording import so_far
from budget.numerals import grouped, trimmed
from budget.report import bid_matrix, words
from budget.report.terminal.blocks import Block, Gap, Heading, Text, table
from budget.spend.finding import UnknownNameError, folded
from budget.wording import listed

MARGIN_TITLES = ("One more", "Smooth rate", "Own hours", "The very next one", "Next jump")
#: Trades shown first, those next to the best plan.
NEAR = 7

BID_TITLES = (
    "Bid", "As offered", "Gaps filled for", "Whole job, cash", "Own hours", "Risks left with you",
    "Against this plan",
)  # fmt: skip
LEFT_TITLES = ("Risk", "Whose", "Chance", "If it comes up", "On average")
TRADE_TITLES = ("Cash", "Own hours", "Best at some hour value", "Against the line above")
FILL_TITLES = ("Gap", "Filled by", "Cash", "Own hours")

MARGINS_NOTE = (
    "Every choice stays as it is; quantities, packs, trips, drops and days are worked out anew. "
    "The smooth rate counts goods by what is used of each pack; the very next one may cost "
    "nothing where a pack has some left, or a whole pack where it has not. More paving brings no "
    "new edge here: count that apart where a side grows longer."
)
BIDS_NOTE = (
    "Each row is the whole job with that bid, everything it leaves out planned as well as can "
    "be, so that all rows are for the same work. Risks left with you are what may come up times "
    "what it then costs: counted in the last column, and in no cash or range elsewhere."
)
LEFT_NOTE = (
    "A guess (*) is ours: give your own chance or cost on the Bid scope sheet. What a bid does "
    "not say is reckoned as left to you."
)


def one_more(margin: Margin) -> str:
    """What there is one more of, in words.

    >>> from types import SimpleNamespace
    >>> one_more(SimpleNamespace(what="base", subject="Layers", unit="in"))
    'in of base (Layers)'
    """
    of = {"paving": "paving", "base": "base", "wall": "wall"}[margin.what]
    subject = f" ({margin.subject})" if margin.subject else ""
    return f"{margin.unit} of {of}{subject}"


def jump(found: Jump, unit: str, currency: str) -> str:
    """One jump in words."""
    change = f" ({found.before} to {found.then})" if found.before != found.then else ""
    fits = trimmed(found.after)
    return f"{found.line}{change}: {words.money(found.cash, currency)} past {fits} {unit}"


def margin_row(margin: Margin, currency: str) -> tuple[str, ...]:
    """One margin in the order of :data:`MARGIN_TITLES`."""
    first = jump(margin.jumps[0], margin.unit, currency) if margin.jumps else (
        f"none within {margin.span} {margin.unit}"
    )  # fmt: skip
    return (
        one_more(margin),
        words.money(margin.smooth, currency),
        f"{trimmed(margin.hours)} h",
        words.money(margin.next_cash, currency),
        first,
    )


def margin_remarks(found: tuple[Margin, ...], currency: str) -> list[str]:
    """Further jumps, lump sums that are taken to hold, and where a plan no longer holds."""
    remarks = []
    later: dict[str, list[str]] = {}
    for margin in found:
        more = "; ".join(jump(j, margin.unit, currency) for j in margin.jumps[1:])
        if more:
            later.setdefault(more, []).append(one_more(margin))
        if margin.ends is not None:
            remarks.append(
                f"{one_more(margin)}: beyond {trimmed(margin.ends)} {margin.unit} this plan does "
                "not hold as it is; compare anew."
            )
    remarks = [f"{listed(names)}, then: {more}." for more, names in later.items()] + remarks
    lump = sorted({name for m in found for name in m.lump})
    if lump:
        remarks.append(
            f"Taken to stay as offered, being a lump sum: {listed(lump)}. Ask whether it "
            "holds for a larger job."
        )
    return remarks


def bid_row(found: Alike, currency: str) -> tuple[str, ...]:
    """One bid in the order of :data:`BID_TITLES`."""
    name = found.bid + (" *" if found.missing else "")
    name += "" if found.proved else f" ({so_far(found.gap)})"
    return (
        name,
        words.money(found.price, currency),
        words.money(found.cash - found.price, currency),
        words.money(found.cash, currency),
        words.hours(found.hours),
        words.money(found.risk, currency),
        against_best(found, currency),
    )


def left_rows(found: Alike, currency: str) -> list[tuple[str, ...]]:
    """The risks left with the owner in the order of :data:`LEFT_TITLES`."""
    return [
        (
            one.item, one.who, f"{words.percent(one.chance)}{' *' if one.guess else ''}",
            words.money(one.cost, currency), words.money(one.money, currency),
        )
        for one in found.left
    ]  # fmt: skip


def against_best(found: Alike, currency: str) -> str:
    """How a bid stands to the best plan, own hours and risks counted."""
    if found.chosen and abs(found.over) < 1:
        return "in this plan"
    if abs(found.over) < 50:
        return "the same"
    return f"{words.money_round(abs(found.over), currency)} {'worse' if found.over > 0 else 'less'}"


#: Lines named of each gap in a terminal; the others are counted.
NAMED = 4


def fill_row(fill: Fill, currency: str, named: int = 0) -> tuple[str, ...]:
    """One gap in the order of :data:`FILL_TITLES`; with ``named``, only so many lines by name."""
    more = len(fill.how) - named
    how = fill.how if not named or more < 2 else (*fill.how[:named], f"{more} more")
    return (
        fill.gap, listed(how), words.money(fill.cash, currency),
        words.hours(fill.hours) if fill.hours else "",
    )  # fmt: skip


def spread(found: Spread, currency: str) -> str:
    """One spread in words."""
    return (
        f"{listed(found.steps)}: from {found.least} to {found.most}, "
        f"{words.money_round(found.apart, currency)} apart, own hours and risks counted."
    )


def trade_row(trade: Trade, currency: str) -> tuple[str, ...]:
    """One trade in the order of :data:`TRADE_TITLES`, its hours so fine that neighbours differ."""
    return (
        words.money(trade.priced.cash, currency),
        grouped(trade.priced.own_hours, 2),
        "yes" if trade.supported else "no",
        trade.change,
    )


def near(found: Trades, hours: float) -> list[Trade]:
    """The trade whose own hours are nearest to those of a plan, amid those next to it.

    The first is told without a change, as the line that it would be held against is not shown.
    """
    plans = found.plans
    at = min(range(len(plans)), key=lambda n: abs(plans[n].priced.own_hours - hours))
    start = max(0, min(at - NEAR // 2, len(plans) - NEAR))
    first, *others = plans[start : start + NEAR]
    return [replace(first, change=""), *others]


def trades_note(found: Trades, currency: str) -> str:
    """How fine the trades were searched, and whether to the end."""
    if not found.proved:
        return (
            "None of these beats another in both cash and own hours. A search was stopped, so "
            "plans that do may be there; more time (--limit) finds them."
        )
    rest = "No other such plan is there, to the cent and the minute."
    if found.grain:
        rest = (
            f"A plan that is not shown costs at most {words.money_round(found.grain, currency)} "
            "less than one of these that takes no more hours; more time (--limit) tells them apart."
        )
    return f"No plan beats any of these in both cash and own hours. {rest}"


def blocks(comparison: Comparison) -> list[Block]:
    """What ``--thorough`` adds to the answer in a terminal."""
    found = comparison.deeper
    if found is None:
        return []
    currency = comparison.job.settings.currency
    best = comparison.best.priced if comparison.best else None
    return [
        *_margins(found, currency),
        *_bids(comparison, found, currency),
        *_trades(found.trades, best.own_hours if best else 0.0, currency),
    ]


def _margins(found: Deeper, currency: str) -> list[Block]:
    if not found.margins:
        return []
    rows = [margin_row(m, currency) for m in found.margins]
    return [
        Gap(), Heading("What a little more costs, with this plan"),
        table(MARGIN_TITLES, rows, right=(1, 2, 3)),
        *(Text(f"- {remark}") for remark in margin_remarks(found.margins, currency)),
        Text(MARGINS_NOTE),
    ]  # fmt: skip


def _bids(comparison: Comparison, found: Deeper, currency: str) -> list[Block]:
    if not found.bids:
        return []
    rows = [bid_row(b, currency) for b in found.bids]
    return [
        Gap(), Heading("Bids like for like"), table(BID_TITLES, rows, right=(1, 2, 3, 4, 5)),
        *(Text(f"- {spread(s, currency)}") for s in found.spreads),
        Text(f"{BIDS_NOTE} “budget explain FILE bid:NAME” lists the gaps of one."),
        *_matrix(comparison, currency),
    ]  # fmt: skip


def _matrix(comparison: Comparison, currency: str) -> list[Block]:
    """What each bid covers, a letter for each so that a row fits a line."""
    found = bid_matrix.bids_side_by_side(comparison)
    if found is None:
        return []
    names = bid_matrix.letters(len(found.bids))
    rows = [
        tuple("?" if text == "not said" else text for text in row)
        for row in bid_matrix.rows(found, currency)
    ]
    legend = ", ".join(f"{a} {bid}" for a, bid in zip(names, found.bids, strict=True))
    return [
        Gap(), Heading("What each bid covers"), table(("", *names), rows), Text(f"{legend}."),
        Text(f"A question mark is not said. {bid_matrix.NOTE}"),
    ]  # fmt: skip


def _trades(found: Trades | None, hours: float, currency: str) -> list[Block]:
    """The trades about the best plan; the page and the workbook have all."""
    if found is None:
        return []
    rows = [trade_row(t, currency) for t in near(found, hours)]
    whole = f" The page and the workbook have all {len(found.plans)}." if len(rows) < len(
        found.plans
    ) else ""  # fmt: skip
    return [
        Gap(), Heading("Plans about this one, for less cash or fewer own hours"),
        table(TRADE_TITLES, rows, right=(0, 1)), Text(trades_note(found, currency) + whole), Gap(),
    ]  # fmt: skip


def asked_bid(line: str) -> str | None:
    """The bid that a text such as ``bid:Whole job`` asks about, None if it asks about none.

    >>> asked_bid("bid: Whole job"), asked_bid("Dig")
    ('Whole job', None)
    """
    kind, colon, name = line.partition(":")
    return name.strip() if colon and folded(kind) == "bid" and name.strip() else None


#: What to say where no bid can be told apart.
_NO_BIDS = "The workbook has no bid that can be used in this job: fill Bids."


def find_bid(found: tuple[Alike, ...], name: str) -> Alike:
    """The bid called so.

    :raises UnknownNameError: when none is, or when it cannot be used in this job.
    """
    for one in found:
        if folded(one.bid) == folded(name):
            return one
    bids = sorted(a.bid for a in found)
    there_are = f"There are {', '.join(f'“{bid}”' for bid in bids)}." if bids else _NO_BIDS
    raise UnknownNameError("bid", name, bids, there_are)


def bid_blocks(comparison: Comparison, found: Alike, quiet: bool) -> list[Block]:
    """One bid like for like: what it leaves out, what fills that, and what stays at risk."""
    currency = comparison.job.settings.currency
    sentence = bid_sentence(found, currency)
    if quiet:
        return [Text(sentence)]
    rows = [
        ("The bid itself", listed(found.covers), words.money(found.price, currency),
         words.hours(found.supervising)),
        *(fill_row(f, currency, NAMED) for f in found.fills),
        ("Whole job", "", words.money(found.cash, currency), words.hours(found.hours)),
    ]  # fmt: skip
    blocks: list[Block] = [
        Heading(f"{found.bid}{f' ({found.firm})' if found.firm else ''}, like for like"),
        Text(sentence), Gap(), table(FILL_TITLES, rows, right=(2, 3), total=True),
    ]  # fmt: skip
    blocks += _left(comparison, found, currency)
    if found.missing:
        many = words.count(found.missing, "cost")
        blocks.append(Text(f"{many} of this plan not yet priced.", "warning"))
    if not found.proved:
        text = f"The filling is the {so_far(found.gap)}; --limit gives the search more time."
        blocks.append(Text(text, "warning"))
    return blocks


def _stands(found: Alike, currency: str) -> str:
    stands = against_best(found, currency)
    return f"{stands} than this plan" if stands.endswith(("worse", "less")) else stands


def _left(comparison: Comparison, found: Alike, currency: str) -> Iterator[Block]:
    """What the bid says, and the risks of the whole job with it as money."""
    side_by_side = bid_matrix.bids_side_by_side(comparison)
    if side_by_side is not None:
        said = bid_matrix.in_sentences(side_by_side, found.bid, currency)
        yield from (Gap(), Heading("What it says of costs and risks"))
        yield from (Text(f"- {text}") for text in (*said, found.hourly) if text)
    if found.left:
        rows = [
            *left_rows(found, currency),
            ("All of them", "", "", "", words.money(found.risk, currency)),
        ]
        yield from (Gap(), Heading("Risks left with you, beside the cash"))
        yield table(LEFT_TITLES, rows, right=(2, 3, 4), total=True)
        yield Text(LEFT_NOTE)


def bid_sentence(found: Alike, currency: str) -> str:
    """One bid like for like in a sentence."""
    return (
        f"{words.money(found.price, currency)} as offered; with "
        f"{words.money(found.cash - found.price, currency)} for what it leaves out the whole job "
        f"comes to {words.money(found.cash, currency)} and {words.hours(found.hours)} of own "
        f"work. With {words.money_round(found.risk, currency)} for the risks left with you: "
        f"{_stands(found, currency)}."
    )
