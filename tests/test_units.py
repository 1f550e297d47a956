"""Kinds, units and money. Unit sizes: NIST Special Publication 811 (2008), appendix B.8."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from budget import units
from budget.units import (
    KINDS,
    Kind,
    System,
    in_words,
    per,
    round_half_up,
    shown,
    stored,
    whole_packs,
)

SYSTEMS: tuple[System, ...] = ("imperial", "metric")


@pytest.mark.parametrize(
    ("size", "expected", "digits"),
    [
        (units.FOOT, 0.3048, 12),  # exact
        (units.INCH, 0.0254, 12),  # exact
        (units.MILE, 1609.344, 12),  # exact
        (units.POUND, 0.4535924, 7),
        (units.SHORT_TON, 907.1847, 7),
        (units.AREA.imperial.size, 0.09290304, 12),  # square foot, exact
        (units.SMALL_VOLUME.imperial.size, 0.02831685, 7),  # cubic foot
        (units.VOLUME.imperial.size, 0.7645549, 7),  # cubic yard
        (units.DENSITY.imperial.size, 16.01846, 7),  # pound per cubic foot
        (units.AREA_MASS.imperial.size, 4.882428, 7),  # pound per square foot
        (units.SPEED.imperial.size, 1609.344, 12),  # mile per hour, here per hour
    ],
)
def test_unit_sizes_are_the_published_ones(size: float, expected: float, digits: int) -> None:
    assert size == pytest.approx(expected, rel=0.6 * 10 ** (1 - digits))


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda k: k.name)
@given(value=st.floats(-1e9, 1e9, allow_nan=False))
def test_what_is_shown_can_be_stored_again(kind: Kind, value: float) -> None:
    for system in SYSTEMS:
        assert stored(shown(value, kind, system), kind, system) == pytest.approx(value, rel=1e-12)


@given(st.sampled_from(sorted(KINDS)), st.sampled_from(sorted(KINDS)))
def test_a_rate_times_its_bottom_is_its_top(top: str, bottom: str) -> None:
    a, b = KINDS[top], KINDS[bottom]
    rate = per(a, b)
    assert tuple(x + y for x, y in zip(rate.dimension, b.dimension, strict=True)) == a.dimension
    for system in SYSTEMS:
        size = rate.unit(system).size * b.unit(system).size
        assert size == pytest.approx(a.unit(system).size)


@given(st.integers(-(10**12), 10**12), st.integers(-49, 49))
def test_cents_round_to_the_nearest(whole: int, hundredths: int) -> None:
    assert round_half_up(whole + hundredths / 100) == whole


@given(st.integers(0, 10**9))
def test_half_a_cent_goes_up(whole: int) -> None:
    assert round_half_up(whole + 0.5) == whole + 1


@given(st.floats(0, 1e6, allow_nan=False))
def test_whole_packs_cover_the_need_and_are_the_fewest(packs: float) -> None:
    found = whole_packs(packs)
    assert found >= packs - units.PACK_TOLERANCE
    assert found - 1 < packs or found == 0


@given(st.floats(-1e9, 1e9, allow_nan=False), st.sampled_from(sorted(KINDS)))
def test_words_never_round_a_real_amount_to_zero(value: float, name: str) -> None:
    kind = KINDS[name]
    for system in SYSTEMS:
        text = in_words(value, kind, system)
        digits = text.replace(kind.unit(system).label, "").replace(",", "").strip()
        if abs(shown(value, kind, system)) >= 1e-8:
            assert float(digits) != 0
