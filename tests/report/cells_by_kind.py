"""How many cells of each kind stand on each sheet of the demos' comparison workbooks.

``python -m tests.report.cells_by_kind [FILE…]`` prints one table a workbook; without files those
of ``reports/``. The kind of a number is told as a person tells it: by the fill of its cell.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

import openpyxl

REPORTS = Path(__file__).parents[2] / "reports"
KINDS = ("formula", "input", "laid out", "solved", "constant")
_FILLS = {"FFFFF6D1": "input", "FFDDEBF7": "laid out", "FFEDE4F3": "solved"}


def counted(path: Path) -> dict[str, Counter[str]]:
    """The number of cells of each kind, by sheet; words are not counted."""
    found: dict[str, Counter[str]] = {}
    for sheet in openpyxl.load_workbook(path).worksheets:
        kinds = found[sheet.title] = Counter()
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    kinds["formula"] += 1
                elif cell.data_type in ("n", "d") and cell.value is not None:
                    kinds[_FILLS.get(cell.fill.fgColor.rgb, "constant")] += 1
    return found


def main() -> None:
    """Print the tables."""
    for path in [Path(name) for name in sys.argv[1:]] or sorted(REPORTS.glob("*.xlsx")):
        found = counted(path)
        print(f"\n{path.stem:22}" + "".join(f"{kind:>10}" for kind in KINDS))
        found["Together"] = sum(found.values(), Counter[str]())
        for sheet, kinds in found.items():
            print(f"{sheet:22}" + "".join(f"{kinds[kind]:>10,}" for kind in KINDS))


if __name__ == "__main__":
    main()
