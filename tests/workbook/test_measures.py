"""Measures as people write them.

Sizes of units are those of NIST Special Publication 811 (2008), appendix B.8, and are checked
against an independent general library besides.
"""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from budget.units import (
    AREA,
    BULK_MASS,
    COUNT,
    DENSITY,
    DEPTH,
    DISTANCE,
    HOURS,
    LENGTH,
    MASS,
    MONEY,
    RATIO,
    SMALL_VOLUME,
    VOLUME,
    Kind,
    System,
    per,
)
from budget.workbook.measures import UnreadableError, number, parse, unit_size
from budget.workbook.registry import EVERYDAY
from budget.workbook.registry import registry as registry_of_ours


@pytest.mark.parametrize(
    ("text", "kind", "system", "si"),
    [
        # NIST SP 811 B.8: 1 ft = 0.3048 m, 1 in = 0.0254 m, exactly
        ("12' 6 1/2\"", LENGTH, "imperial", 12 * 0.3048 + 6.5 * 0.0254),
        ("12'6\"", LENGTH, "imperial", 12.5 * 0.3048),
        ("12'2\"", LENGTH, "imperial", 12 * 0.3048 + 2 * 0.0254),
        ("12ft2in", LENGTH, "imperial", 12 * 0.3048 + 2 * 0.0254),
        ("12 ft 6 in", LENGTH, "metric", 12.5 * 0.3048),
        ("12′ 6 ½”", LENGTH, "imperial", 12 * 0.3048 + 6.5 * 0.0254),
        ("12 feet, 6 inches", LENGTH, "imperial", 12.5 * 0.3048),
        ("12 FT. 6 IN.", LENGTH, "imperial", 12.5 * 0.3048),
        ("2-1/4 in", DEPTH, "imperial", 2.25 * 0.0254),
        ("3/8", DEPTH, "imperial", 0.375 * 0.0254),
        ("3.8 m", LENGTH, "imperial", 3.8),
        ("40 mm", DEPTH, "imperial", 0.04),
        ("4 in", DEPTH, "metric", 0.1016),
        ("12", LENGTH, "imperial", 12 * 0.3048),
        ("12", LENGTH, "metric", 12.0),
        ("-3 ft", LENGTH, "imperial", -0.9144),
        # 1 yd = 0.9144 m; 1 yd³ = 0.764555 m³
        ("0.5 yd3", VOLUME, "imperial", 0.5 * 0.9144**3),
        ("0.5 cu yd", VOLUME, "metric", 0.5 * 0.9144**3),
        ("0.5 cubic yards", VOLUME, "metric", 0.5 * 0.9144**3),
        ("120 sq ft", AREA, "metric", 120 * 0.09290304),
        ("120 ft²", AREA, "metric", 120 * 0.09290304),
        ("25 L", SMALL_VOLUME, "metric", 0.025),
        # 1 lb = 0.45359237 kg; 1 short ton = 2,000 lb
        ("50 lb", MASS, "metric", 50 * 0.45359237),
        ("2 ton", BULK_MASS, "imperial", 4000 * 0.45359237),
        ("1.2 tonne", BULK_MASS, "imperial", 1200.0),
        ("1.2 t", BULK_MASS, "metric", 1200.0),
        ("90 min", HOURS, "metric", 1.5),
        ("1 h 30 min", HOURS, "metric", 1.5),
        ("5 %", RATIO, "metric", 0.05),
        ("10 mi", DISTANCE, "metric", 16093.44),
        ("100 lb/cu ft", DENSITY, "imperial", 100 * 0.45359237 / 0.3048**3),
        ("40 min per ton", per(HOURS, BULK_MASS), "imperial", 40 / 60 / (2000 * 0.45359237)),
        ("0.65 per mile", per(MONEY, DISTANCE), "imperial", 65 / 1609.344),
        ("25 pieces", COUNT, "metric", 25.0),
    ],
)
def test_a_measure_is_read_in_the_unit_it_names(
    text: str, kind: Kind, system: System, si: float
) -> None:
    assert parse(text, kind, system) == pytest.approx(si, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "system", "expected"),
    [
        ("3,5", "metric", 3.5),
        ("3,5", "imperial", 3.5),
        ("1,250", "imperial", 1250),
        ("1,250.75", "imperial", 1250.75),
        ("1.250,75", "metric", 1250.75),
        ("1.250.000", "metric", 1250000),
        ("1 250,5", "metric", 1250.5),
        ("0.125", "metric", 0.125),
        ("1.25", "metric", 1.25),
        ("1.234", "imperial", 1.234),
        (".5", "imperial", 0.5),
        ("6 1/2", "imperial", 6.5),
        ("¾", "imperial", 0.75),
    ],
)
def test_a_decimal_comma_is_told_from_a_thousands_sign(
    text: str, system: System, expected: float
) -> None:
    assert number(text, system) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "system"),
    [
        ("2 t", BULK_MASS, "imperial"),  # 2,000 lb or 1,000 kg
        ("2 ton", BULK_MASS, "metric"),
        ("1,250", MASS, "metric"),  # 1.25 or 1,250
        ("1.250", MASS, "metric"),
        ("12' 6", LENGTH, "imperial"),  # inches or feet
        ("3 4", LENGTH, "imperial"),
    ],
)
def test_a_text_with_two_readings_is_asked_about(text: str, kind: Kind, system: System) -> None:
    with pytest.raises(UnreadableError) as caught:
        parse(text, kind, system)
    assert caught.value.unclear


@pytest.mark.parametrize(
    "text",
    ["", "abc", "about 3", "10 x 12", "3-4", "1/0", "2e3", "1,2,3", "3 lb", "6 in 3 ft", "5 %",
     "12 feets", "3 per", "nan", "inf", "1..2"],
)  # fmt: skip
def test_a_text_that_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(UnreadableError):
        parse(text, LENGTH, "imperial")


def test_a_misspelt_unit_gets_a_hint() -> None:
    with pytest.raises(UnreadableError, match="Did you mean feet"):
        parse("12 feets", LENGTH, "imperial")


def test_a_header_unit_counts_for_a_bare_number_only() -> None:
    assert parse("5", LENGTH, "imperial", bare=0.01) == pytest.approx(0.05)
    assert parse("5 ft", LENGTH, "imperial", bare=0.01) == pytest.approx(1.524)


_SAME: dict[str, str] = {
    "ft": "foot", "in": "inch", "yd": "yard", "mi": "mile", "mm": "millimeter", "km": "kilometer",
    "sq ft": "foot**2", "sq yd": "yard**2", "sq in": "inch**2", "m²": "meter**2", "sqm": "meter**2",
    "cu ft": "foot**3", "cu yd": "yard**3", "m³": "meter**3", "L": "liter", "lb": "pound",
    "oz": "ounce", "kg": "kilogram", "ton": "short_ton", "tonne": "metric_ton", "cm2": "cm**2",
}  # fmt: skip


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize("word", sorted(_SAME))
def test_unit_sizes_agree_with_an_independent_library(
    registry: pint.UnitRegistry, word: str
) -> None:
    theirs = registry.Quantity(1, _SAME[word]).to_base_units().magnitude
    assert unit_size(word, "imperial")[0] == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize(("word", "hours"), [("h", 1), ("min", 1 / 60)])
def test_hours_are_the_unit_of_time(word: str, hours: float) -> None:
    assert unit_size(word, "imperial") == (hours, (0, 0, 1, 0))


@given(st.integers(0, 400), st.integers(0, 11), st.integers(0, 15))
def test_feet_inches_and_sixteenths_add_up(feet: int, inches: int, sixteenths: int) -> None:
    text = f"{feet}' {inches} {sixteenths}/16\""
    expected = feet * 0.3048 + (inches + sixteenths / 16) * 0.0254
    assert math.isclose(parse(text, LENGTH, "imperial"), expected, abs_tol=1e-12)


@given(st.floats(0, 1e6, allow_nan=False), st.sampled_from(["imperial", "metric"]))
def test_a_plain_decimal_number_is_never_changed(value: float, system: System) -> None:
    text = f"{value:.2f}"
    assert number(text, system) == float(text)


@given(st.text(max_size=12))
def test_any_text_is_either_read_or_refused(text: str) -> None:
    try:
        value = parse(text, LENGTH, "imperial")
    except UnreadableError:
        return
    assert math.isfinite(value)


@pytest.mark.parametrize("name", EVERYDAY)
def test_everyday_units_are_what_the_registry_says(name: str) -> None:
    size = registry_of_ours().Quantity(1.0, name).to_base_units()
    kinds = ("[length]", "[mass]", "[time]")
    dimension = tuple(size.dimensionality.get(kind, 0) for kind in kinds)
    assert EVERYDAY[name] == (size.magnitude, dimension)
