"""What a wet delivery weighs, against an agency's rule and published pairs of weights."""

import pytest

from budget.figures import constant
from budget.quantities.moisture import wet_mass
from budget.reference import coefficient
from budget.units import BULK_MASS, POUND, RATIO, SHORT_TON


def test_water_correction():
    """WSDOT M 22-01, Exhibit 620-1: weight x (1 + free water): 4.57 ton at 5 % is 4.80 ton."""
    dry = constant(4.57 * SHORT_TON, BULK_MASS, "base")
    found = wet_mass(dry, constant(0.05, RATIO, "water"))
    assert found.value / SHORT_TON == pytest.approx(4.80, abs=0.005)


def test_wet_sand():
    """A supplier's table: 0.617 cu yd of sand is 1,617 lb dry and 1,967 lb wet."""
    dry = constant(1617 * POUND, BULK_MASS, "sand")
    found = wet_mass(dry, coefficient("water bedding sand").figure())
    assert found.value / POUND == pytest.approx(1967, abs=1)


def test_wet_gravel_and_sand_lies_in_the_range():
    """TM 9-2320-366-10-1 Table 2-15: gravel and sand 2,565 lb per cu yd dry, 3,240 wet."""
    water = coefficient("water bedding sand")
    assert water.likely < 3240 / 2565 - 1 == pytest.approx(water.high, abs=0.001)
