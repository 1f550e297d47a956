"""Which inputs of a job are not sure, and how far each may stray from what is written."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from budget.decide.risk.spread import Spread
from budget.figures import Figure, in_order
from budget.job import Job
from budget.reference import coefficients, rows
from budget.reference.tables import patterns

#: Own work goes fast or slow at many steps together.
PACE = "pace"

#: What is used up beyond what ends in the work: what spills, and what is cut off or breaks.
WASTE = "waste"
CUTS = "cuts"


@dataclass(frozen=True, slots=True)
class Unknown:
    """One input that may come out otherwise: a factor on one or several figures' inputs.

    ``powers`` gives, for each input's key, the power of the factor that it is multiplied by:
    a wrong tape is in a length once and in an area twice.
    """

    name: str
    kind: str  # measures, depth, pace, price, density, material, waste, cuts
    factor: Spread  # times the value written, likely 1
    powers: tuple[tuple[str, int], ...]
    together: str  # PACE, or blank: strays on its own


def unknowns(job: Job, figures: Iterable[Figure]) -> tuple[Unknown, ...]:
    """The unknowns among the inputs that some figures rest on, by name.

    The workbook's own low and high come first, then the documented ranges. A firm quote has
    none. What is spilled, cut off or broken has a range of its own in the place of the percentage
    that a rule of thumb adds, so that no percentage stands on top of a range.
    """
    leaves: dict[str, Figure] = {}
    seen: set[int] = set()
    for figure in figures:
        for node in in_order(figure, seen):
            seen.add(id(node))
            if not node.args and node.key and node.value:
                leaves.setdefault(node.key, node)
    found = [*_prices(job), *_paces(job), *_coefficients(), *_patterns(), *_depths(job)]
    found += _measures(job, leaves)
    return _numbered(
        Unknown(u.name, u.kind, u.factor, kept, u.together)
        for u in found
        if (kept := tuple(p for p in u.powers if p[0] in leaves))
    )


def _numbered(found: Iterable[Unknown]) -> tuple[Unknown, ...]:
    """Sorted, and unlike in name, whatever the order of rows in the workbook."""
    names: dict[str, int] = defaultdict(int)
    result = []
    for u in sorted(found, key=lambda u: (u.name, u.factor.low, u.factor.high, u.powers)):
        names[u.name] += 1
        name = u.name if names[u.name] == 1 else f"{u.name} ({names[u.name]})"
        result.append(Unknown(name, u.kind, u.factor, u.powers, u.together))
    return tuple(result)


def _factor(low: float | None, likely: float, high: float | None) -> Spread | None:
    """The range as a factor on the likely value, None if there is none or it is not in order."""
    if likely <= 0:
        return None
    ends = (likely if low is None else low, likely if high is None else high)
    if not ends[0] <= likely <= ends[1] or ends[0] == ends[1]:
        return None
    return Spread(ends[0] / likely, 1.0, ends[1] / likely)


def _prices(job: Job) -> Iterator[Unknown]:
    for quote in job.quotes:
        if quote.price is None:
            continue
        factor = _factor(quote.price_low, quote.price, quote.price_high)
        if factor:
            name = f"price of {quote.item} at {quote.supplier}, per {quote.per}"
            keys = (quote.cell("price"), *(quote.break_cell(step) for step in quote.breaks))
            yield Unknown(name, "price", factor, tuple((key, 1) for key in keys), "")


def _usual(name: str) -> Spread:
    row = next(r for r in rows("ranges") if r["use"] == "factor" and r["name"] == name)
    return Spread(float(row["low"]), 1.0, float(row["high"]))


def _paces(job: Job) -> Iterator[Unknown]:
    """Hours a unit: the Work sheet's ranges, else the documented ones. The machine keeps step."""
    for work in job.work:
        if work.likely is not None:
            own = _factor(work.low, work.likely, work.high)
            keys = ((work.cell("likely"), 1), (work.cell("machine_hours"), 1))
            name = f"pace of {work.step}, {work.method}"
            yield Unknown(name, PACE, own or _usual("own pace"), keys, PACE)
    for row in rows("methods"):
        bedding = f", {row['bedding']}" if row["bedding"] else ""
        key = f"reference:{row['step']}, {row['method']}{bedding}: "
        factor = _factor(*(float(row[end]) for end in ("low", "likely", "high")))
        if factor:
            keys = ((f"{key}likely", 1), (f"{key}machine_hours", 1))
            name = f"pace of {row['step']}, {row['method']}{bedding}"
            yield Unknown(name, PACE, factor, keys, PACE)


def _coefficients() -> Iterator[Unknown]:
    known = coefficients()
    for row in rows("ranges"):
        if row["use"] not in ("coefficient", WASTE, CUTS):
            continue
        found = known[row["name"]]
        factor = _factor(found.low, found.likely, found.high)
        if factor:
            keys = ((f"reference:{found.name}", 1),)
            yield Unknown(found.what, _kind(row), factor, keys, row["together"])


def _kind(row: dict[str, str]) -> str:
    if row["use"] != "coefficient":
        return row["use"]
    return row["together"] or ("density" if row["name"].startswith("density") else "material")


def _patterns() -> Iterator[Unknown]:
    """Extra pavers of parts whose pattern is not laid out on an outline."""
    for name in patterns():
        keys = tuple((f"reference:pattern {name} {edge}", 1) for edge in ("straight", "curved"))
        yield Unknown(f"extra pavers, {name}", CUTS, _usual("pattern extra"), keys, "")


def _depths(job: Job) -> Iterator[Unknown]:
    for field in ("base_depth", "bedding_depth"):
        words = field.replace("_", " ")
        keys = [(row.cell(field), 1) for row in job.build_ups]
        keys += [(f"reference:{n}", 1) for n in coefficients() if n in _DEPTHS[field]]
        yield Unknown(f"{words} as it turns out", "depth", _usual(words), tuple(keys), "")


_DEPTHS = {
    "base_depth": ("base depth",),
    "bedding_depth": ("depth sand", "depth small gravel", "depth screenings", "depth pea gravel"),
}


def _measures(job: Job, leaves: dict[str, Figure]) -> Iterator[Unknown]:
    """One measuring error for each part: its lengths, its areas, and what was laid out on it."""
    parts = {area.place.row: area.part for area in job.areas}
    powers: dict[str, list[tuple[str, int]]] = defaultdict(list)
    for key, leaf in sorted(leaves.items()):
        cell = re.match(r"Areas!\D+(\d+)", key)
        if cell:
            part = parts.get(int(cell[1]), "")
            power = leaf.kind.dimension[0]
        else:
            part = next((p for p in sorted(set(parts.values())) if f", {p}, " in key), "")
            part = part if key.startswith("layout of ") else ""
            power = 1 if key.endswith((": cut", ": cut length", ": edge", ": reused")) else 2
        if part and power:
            powers[part].append((key, power))
    for part, keys in sorted(powers.items()):
        yield Unknown(f"measures of {part}", "measures", _usual("measures"), tuple(keys), "")
