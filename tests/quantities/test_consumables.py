"""Small things by the job's sizes and people."""

import pytest

from budget.quantities import take_off
from budget.reference import coefficient
from budget.units import INCH

GALLON = 231 * INCH**3
OUNCE = GALLON / 128


def test_water_for_a_hot_day_by_people_and_hours(make) -> None:
    """Three people for six hours at 0.22 gal each an hour."""
    settings = {"helpers": 1, "paid_helpers": 1, "hours_per_day": 6.0}
    found = take_off(make.job(make.area(length=20, width=10), settings=settings))
    [water] = [f for line, f in found.consumables if line == "Safety gear"]
    assert water.value / GALLON == pytest.approx(3 * 6 * 0.22)


def test_a_cup_every_fifteen_to_twenty_minutes() -> None:
    """NIOSH Publication 2017-126 (from memory): 8 oz each time, at most 48 oz an hour."""
    pace = coefficient("drinking water")
    assert 3 * 8 * OUNCE <= pace.likely <= 4 * 8 * OUNCE
    assert pace.high == pytest.approx(48 * OUNCE)


def test_hot_days_are_spoken_of_beside_the_heaviest_work(make) -> None:
    found = take_off(make.job(make.area(length=20, width=10)))
    [text] = [text for step, text, _ in found.cautions if step == "Carry"]
    assert "shade" in text
    assert "water" in text
