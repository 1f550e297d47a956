"""The plate on the base, by hand."""

import pytest

from budget.figures import constant
from budget.quantities.formulas.compaction import compaction
from budget.units import AREA, COMPACTED_VOLUME, FOOT, INCH, YARD


def test_a_deep_base_by_hand():
    """8 in on 300 sq ft: 2 lifts of 4 in, 4 passes each over strips of 15 in at 0.9 mph, 0.83."""
    area = constant(300 * FOOT**2, AREA, "area")
    base = constant(300 / 27 * 8 / 12 * YARD**3, COMPACTED_VOLUME, "base")
    found = compaction("Terrace", area, base)
    by_hand = 300 * 2 * 4 / (15 / 12 * 0.9 * 5280 * 0.83)
    assert found.lifts.value == 2
    assert found.depth.value == pytest.approx(8 * INCH)
    assert found.hours.value == pytest.approx(by_hand, rel=1e-9)
    assert found.words("imperial") == "2 lifts of 4 in, 4 passes each: the plate runs about 29 min"
