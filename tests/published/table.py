"""The table of published checks: ``python -m tests.published.table`` writes it to reports.

It runs the tests of this folder and notes each comparison that passed: where the expected value
comes from, what was compared, that value, ours, and the difference. With ``--check`` it only says
whether the table in reports is current.
"""

from __future__ import annotations

import contextlib
import csv
import io
import math
import re
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent
TABLE = FOLDER.parent.parent / "reports" / "published-checks.csv"
TITLES = ("source", "checked", "measured as", "cases", "published", "ours", "difference")
#: More comparisons than this in one line of one test are told as one row.
_MANY = 12
_NUMBER = r"-?\d+\.?\d*(?:\.{3}\d+)?(?:e[+-]?\d+)?"
_CUT = re.compile(r"\.{3}\d+")  # pytest leaves the middle of a long number out
_COMPARED = re.compile(rf"^\(?({_NUMBER})\)? == \(?({_NUMBER})(?: ± \S+)?\)?$")

Row = tuple[str, ...]


class Recorder:
    """Notes every comparison of two numbers that holds."""

    def __init__(self) -> None:
        self.found: dict[tuple[str, str, str], list[tuple[float, float]]] = {}

    def pytest_assertion_pass(self, item: Any, lineno: int, orig: str, expl: str) -> None:
        """Called by pytest for each assertion that passed."""
        match = _COMPARED.match(expl.split("\n")[0].strip())
        if match and "==" in orig:
            key = _source(item), _in_words(item), f"{lineno}:{' '.join(orig.split())}"
            ours, published = (float(_CUT.sub("", text)) for text in match.groups())
            self.found.setdefault(key, []).append((ours, published))

    def rows(self) -> list[Row]:
        """One row a comparison; many of one kind become one row with the widest difference."""
        told: dict[Row, None] = {}
        for (source, what, line), pairs in self.found.items():
            measured = line.partition(":")[2].split(" == ")[0].removeprefix("(")
            if len(pairs) > _MANY:
                pairs = [max(pairs, key=lambda pair: abs(pair[0] - pair[1]))]
            count = str(len(self.found[source, what, line])) if len(pairs) == 1 else "1"
            for ours, published in pairs:
                told[(source, what, measured, count, *_numbers(published, ours))] = None
        return sorted(told)


def _source(item: Any) -> str:
    """The source named beside the case, else in the test's or its module's first line."""
    case = item.callspec.id if hasattr(item, "callspec") else ""
    if re.search(r"[A-Za-z]{2}.* ", case):
        return str(case)
    words = item.function.__doc__ or item.module.__doc__ or ""
    return " ".join(str(words).split("\n\n")[0].split())


def _in_words(item: Any) -> str:
    topic = item.path.stem.removeprefix("test_").replace("_", " ")
    name = item.originalname.removeprefix("test_").replace("_", " ")
    return f"{topic}: {name}"


def _numbers(published: float, ours: float) -> tuple[str, str, str]:
    difference = ours - published
    if math.isclose(ours, published, rel_tol=1e-9, abs_tol=1e-9):
        difference = 0.0
    return f"{published:.6g}", f"{ours:.6g}", f"{difference:.2g}"


def made() -> list[Row]:
    """Run the tests of this folder and return the rows. Raises ``SystemExit`` if one fails."""
    import pytest

    recorder = Recorder()
    sys.pycache_prefix = tempfile.mkdtemp()  # compiled tests of an ordinary run note nothing
    options = ["-q", "-p", "no:cacheprovider", "-o", "enable_assertion_pass_hook=true"]
    with contextlib.redirect_stdout(io.StringIO()) as said:
        status = pytest.main([*options, str(FOLDER)], plugins=[recorder])
    if status:
        print(said.getvalue())
        raise SystemExit(status)
    return recorder.rows()


def text_of(rows: Iterable[Row]) -> str:
    """The table as CSV."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(TITLES)
    writer.writerows(rows)
    return out.getvalue()


def stale(rows: list[Row], kept: list[Row]) -> list[Row]:
    """Rows of either table that the other lacks; numbers may differ by a thousandth."""
    by_words = {(*row[:4], row[4][:3]): row for row in kept}
    odd = [row for row in rows if not _alike(row, by_words.pop((*row[:4], row[4][:3]), None))]
    return [*odd, *by_words.values()]


def _alike(row: Row, other: Row | None) -> bool:
    pairs = zip(row[4:6], other[4:6], strict=True) if other else ()
    return other is not None and all(
        math.isclose(float(a), float(b), rel_tol=1e-3, abs_tol=1e-6) for a, b in pairs
    )


def main() -> None:
    """Write the table, or check that it is current."""
    rows = made()
    if "--check" not in sys.argv:
        TABLE.write_text(text_of(rows), encoding="utf-8")
        print(f"{len(rows)} checks in {TABLE}")
        return
    with TABLE.open(encoding="utf-8", newline="") as file:
        kept = [tuple(row) for row in csv.reader(file)][1:]
    odd = stale(rows, kept)
    for row in odd[:10]:
        print("not in both tables:", row)
    raise SystemExit(1 if odd else 0)


if __name__ == "__main__":
    main()
