"""The plate on the base, by hand."""

import pytest

from budget.figures import constant
from budget.quantities.formulas.compaction import Compaction, compaction
from budget.quantities.formulas.joints import with_top_up
from budget.units import (
    AREA,
    COMPACTED_VOLUME,
    COUNT,
    DEPTH,
    FOOT,
    HOURS,
    INCH,
    NUMBER,
    RATIO,
    SMALL_VOLUME,
    YARD,
)


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


@pytest.mark.parametrize(
    ("inches", "lifts", "hours", "words"),
    [
        (5, 3, 1.46, "3 lifts of 1.7 in, 4 passes each: the plate runs about 1.5 h"),
        (2, 1, 1.0, "one lift of 2 in, 4 passes: the plate runs about 1 h"),
        (2, 1, 0.99, "one lift of 2 in, 4 passes: the plate runs about 59 min"),
    ],
)
def test_lifts_passes_and_running_in_words(inches, lifts, hours, words):
    found = Compaction(
        "Terrace", constant(inches * INCH, DEPTH, "depth"), constant(lifts, COUNT, "lifts"),
        constant(4, NUMBER, "passes"), constant(hours, HOURS, "hours"),
    )  # fmt: skip
    assert found.words("imperial") == words


def test_a_top_up_is_a_share_of_the_first_filling():
    """2 cubic metres and 15 %: 2.3."""
    first, share = constant(2.0, SMALL_VOLUME, "first"), constant(0.15, RATIO, "share")
    assert with_top_up(first, share).value == pytest.approx(2.3)
