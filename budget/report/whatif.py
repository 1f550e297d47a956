"""What if and why not, in words and as JSON: forced choices, and one input over a range."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from budget.decide.varying import Varied
from budget.decide.whynot import Forced
from budget.decide.wording import so_far
from budget.job import Job
from budget.report import words
from budget.report.documents.parts import money, number
from budget.report.pinned import PinError
from budget.report.terminal.blocks import Block, Gap, Heading, Pair, Text, table

#: Characters of the longest bar.
BAR = 18

#: The most values that a range may have.
MOST_VALUES = 50


def forced_pins(text: str) -> dict[str, str] | None:
    """The pin in a text such as ``step:Dig=hire``, None where the text is no pin.

    >>> forced_pins("step:Dig=hire"), forced_pins("Base stone")
    ({'step:Dig': 'hire'}, None)
    """
    choice, equals, value = (part.strip() for part in text.partition("="))
    return {choice: value} if equals and choice and value else None


def forced_blocks(found: Forced, job: Job, quiet: bool) -> list[Block]:
    """What forcing a choice does."""
    asked = ", ".join(f"{c}={v}" for c, v in found.asked.items())
    if quiet:
        return [Text(found.sentence)]
    blocks: list[Block] = [Heading(f"If {asked}"), Text(found.sentence)]
    if found.priced is None:
        return blocks
    cash = words.money(found.priced.cash, job.settings.currency)
    blocks.append(Text(f"All in all {cash} cash and {words.hours(found.priced.own_hours)}."))
    if found.changes:
        blocks += [Gap(), Heading("What changes with it")]
        blocks += [Text(f"- {change}") for change in found.changes]
    if not found.proved:
        text = f"The search was stopped; one of the two plans is only the {so_far(found.gap)}."
        blocks.append(Text(text, "warning"))
    return blocks


def forced_document(found: Forced) -> dict[str, Any]:
    """The same as one JSON object."""
    return {
        "schema": "outdoor-room-budget/why-not/1",
        "asked": dict(found.asked),
        "possible": found.priced is not None,
        "sentence": found.sentence,
        "cash_difference": money(found.cash) if found.priced else None,
        "hours_difference": number(found.hours) if found.priced else None,
        "cash": money(found.priced.cash) if found.priced else None,
        "own_hours": number(found.priced.own_hours) if found.priced else None,
        "changes": list(found.changes),
        "proved": found.proved,
        "gap": number(found.gap) if math.isfinite(found.gap) else None,
    }


def varied_range(text: str) -> tuple[str, tuple[str, ...]]:
    """The input and its values in a text such as ``Quotes!F12=3..5 by 0.5`` or ``...=3,4,5``.

    >>> varied_range("Job:Value of an own hour=20..30 by 5")
    ('Job:Value of an own hour', ('20', '25', '30'))
    >>> varied_range("Quotes!F12=3.5,4")
    ('Quotes!F12', ('3.5', '4'))
    >>> varied_range("Quotes!F12=1..1.25 by 0.125")
    ('Quotes!F12', ('1', '1.1250', '1.25'))
    """
    target, _, wanted = (part.strip() for part in text.partition("="))
    number_ = r"-?[0-9]+(?:\.[0-9]+)?"
    match = re.fullmatch(rf"({number_})\s*\.\.\s*({number_})(?:\s+by\s+({number_}))?", wanted)
    if match:
        values = _steps(float(match[1]), float(match[2]), float(match[3] or 0), text)
    else:
        values = tuple(v.strip() for v in wanted.split(",") if v.strip())
    if not target or not values:
        raise PinError(
            f"“{text}” is not a range. Write INPUT=FROM..TO by STEP, such as "
            "'Job:Value of an own hour=20..40 by 5', or values with commas between."
        )
    if len(values) > MOST_VALUES:
        raise PinError(f"“{text}” has {len(values)} values; at most {MOST_VALUES} are planned.")
    return target, values


def _steps(low: float, high: float, step: float, text: str) -> tuple[str, ...]:
    step = step or (high - low) / 5
    if step <= 0 or high < low:
        raise PinError(f"“{text}” does not rise: write the smaller value first, and a step.")
    count = int((high - low) / step + 1e-9) + 1
    found = (f"{low + i * step:.10g}" for i in range(min(count, MOST_VALUES + 1)))
    # three decimals might be read as thousands
    return tuple(f"{n}0" if re.search(r"\.\d{3}$", n) else n for n in found)


def varied_blocks(
    target: str, found: tuple[Varied, ...], job: Job, page: Path | None = None
) -> list[Block]:
    """The best plan at each value, with its total as a bar; ``page`` is where the chart is."""
    currency = job.settings.currency
    most = max((one.total for one in found), default=0.0)
    rows = []
    for one in found:
        if one.priced is None:
            rows.append((one.value, "no plan", "", "", "", ""))
            continue
        cash = words.money(one.priced.cash, currency)
        total = words.money(one.total, currency)
        hours = words.hours(one.priced.own_hours)
        rows.append((one.value, one.bedding, cash, hours, total, bar(one.total, most)))
    titles = ("Value", "Bedding", "Cash", "Own hours", "Total", "")
    blocks: list[Block] = [Heading(f"The best plan as {target} varies")]
    blocks.append(table(titles, rows, right=(0, 2, 3, 4)))
    stopped = [one for one in found if not one.proved]
    blocks += [
        Text(f"At {one.value}: {so_far(one.gap)}; --limit gives it more time.", "warning")
        for one in stopped
    ]
    changed = [Text(f"- At {one.value}: {one.change}.") for one in found if one.change]
    if changed:
        blocks += [Gap(), Heading("What changes"), *changed]
    if page is not None:
        blocks += [Gap(), Pair("Page", str(page))]
    return blocks


def bar(value: float, most: float) -> str:
    """A bar of text, ``BAR`` characters for the most.

    >>> bar(50, 100)
    '#########'
    """
    return "#" * round(BAR * value / most) if most > 0 else ""


def varied_document(
    target: str, found: tuple[Varied, ...], page: Path | None = None
) -> dict[str, Any]:
    """The same as one JSON object."""
    return {
        "schema": "outdoor-room-budget/vary/1",
        "input": target,
        "rows": [_varied(one) for one in found],
        "page": None if page is None else page.as_posix(),
    }


def _varied(one: Varied) -> Mapping[str, Any]:
    if one.priced is None:
        return {"value": one.value, "possible": False}
    return {
        "value": one.value,
        "possible": True,
        "bedding": one.bedding,
        "cash": money(one.priced.cash),
        "own_hours": number(one.priced.own_hours),
        "total": money(one.total),
        "missing": len(one.priced.missing),
        "change": one.change,
    }
