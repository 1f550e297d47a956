"""Small things by the job's sizes and people."""

import pytest

from budget.quantities import take_off
from budget.reference import coefficient
from budget.units import FOOT, INCH

GALLON = 231 * INCH**3
OUNCE = GALLON / 128


def test_water_for_a_hot_day_by_people_and_hours(make) -> None:
    """Three people for six hours at 0.22 gal each an hour."""
    settings = {"helpers": 1, "paid_helpers": 1, "hours_per_day": 6.0}
    found = take_off(make.job(make.area(length=20, width=10), settings=settings))
    [water] = [f for line, f in found.consumables if line == "Safety gear"]
    assert water.value / GALLON == pytest.approx(3 * 6 * 0.22)


def test_the_edge_of_one_part_is_no_sum(make) -> None:
    """Of two parts it is: 60 ft and 20 ft around."""
    areas = make.area(length=20, width=10), make.area("Walk", length=7, width=3)
    for count, names in ((1, {"Terrace edge", "string"}), (2, {"edge to set out", "string"})):
        found = take_off(make.job(*areas[:count])).consumables
        edge = [f for _, f in found if f.name == "string"]
        stakes = next(f for _, f in found if f.name == "stakes")
        assert edge[0].value / FOOT == pytest.approx(60 + 20 * (count - 1))
        assert {edge[0].name, stakes.args[0].args[0].name} == names


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
