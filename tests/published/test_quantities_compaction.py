"""Lifts, passes and running hours of compactors against an Army manual."""

import pytest

from budget.figures import constant
from budget.quantities.formulas.compaction import plate_hours, strip_width
from budget.reference import coefficient
from budget.units import (
    AREA,
    COUNT,
    DEPTH,
    FOOT,
    MILE,
    NUMBER,
    RATIO,
    SPEED,
)


def running(area, passes, strip, speed, share, lifts=1):
    """Hours from sq ft, a strip in ft and a speed in ft an hour."""
    return plate_hours(
        constant(area * FOOT**2, AREA, "area"), constant(lifts, COUNT, "lifts"),
        constant(passes, NUMBER, "passes"), constant(strip * FOOT, DEPTH, "strip"),
        constant(speed * FOOT, SPEED, "speed"), constant(share, RATIO, "share"),
    ).value  # fmt: skip


def test_production_of_a_compactor():
    """FM 5-434 ch. 11: 5 ft wide, 6 mph, 6 in lift, 5 passes, 0.83: 487 cu yd an hour."""
    area = 487 * 27 / 0.5  # sq ft of a lift 6 in deep
    found = running(area, 5, 5, 6 * MILE / FOOT, 0.83)
    assert found == pytest.approx(1.0, rel=0.001)


def test_effective_width_is_the_width_less_the_overlap():
    """A compaction code base that quotes FM 5-434: 2.1 m drum, 0.3 m overlap: 1.8 m."""
    wide, lap = constant(2.1, DEPTH, "drum"), constant(0.3, DEPTH, "overlap")
    assert strip_width(wide, lap).value == pytest.approx(1.8)


def test_an_overlap_as_wide_as_the_plate_is_refused():
    with pytest.raises(ValueError, match="cannot overlap"):
        strip_width(constant(0.3, DEPTH, "plate"), constant(0.3, DEPTH, "overlap"))


@pytest.mark.parametrize(("millimetres", "lifts"), [(1200, 8), (1250, 9)])
def test_number_of_lifts(millimetres, lifts):
    """A compaction code base that quotes FM 5-434: 1,200 mm in lifts of 150 mm: 8; 1,250: 9."""
    from budget.quantities.formulas.base import lifts as found

    depth, most = (constant(n / 1000, DEPTH, "mm") for n in (millimetres, 150))
    assert found(depth, most).value == lifts


def test_speed_and_working_hour_lie_in_the_published_range():
    """FM 5-434: a plate travels 0.6 to 1.2 mph; a 50-minute hour is 0.83, 45 minutes 0.75."""
    speed, share = coefficient("plate speed"), coefficient("plate working share")
    assert (speed.low, speed.high) == pytest.approx((0.6 * MILE, 1.2 * MILE))
    assert (share.low, share.likely) == pytest.approx((45 / 60, 50 / 60), abs=0.005)
