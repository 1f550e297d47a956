"""The table of broken workbooks: ``python tests/battery/run.py`` prints kind, count, outcome."""

from __future__ import annotations

import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))


def main() -> int:
    """Run every case and print the table; gives 1 if one ended otherwise than written down."""
    from tests.battery.all_cases import kinds
    from tests.battery.case import failures

    print(f"{'kind of damage':36}{'count':>6}  {'as written':>10}{'ms each':>9}  outcomes")
    whole = right = 0
    with tempfile.TemporaryDirectory() as folder:
        for kind, cases in kinds().items():
            start = time.process_time()
            good = sum(not failures(case, Path(folder) / "job.xlsx") for case in cases)
            each = (time.process_time() - start) / len(cases) * 1000
            counts = Counter(case.outcome for case in cases)
            words = ", ".join(f"{n} {what}" for what, n in sorted(counts.items()))
            print(f"{kind:36}{len(cases):6}  {good:10}{each:9.0f}  {words}")
            whole, right = whole + len(cases), right + good
    print(f"{'all':36}{whole:6}  {right:10}")
    return int(right != whole)


if __name__ == "__main__":
    sys.exit(main())
