"""Where pages of the comparison workbook begin on paper."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from budget.report.book_paper import ROW, Stretch, breaks

PAGE = 40 * ROW


@given(st.lists(st.integers(1, 60), min_size=1, max_size=12))
def test_no_table_is_torn_that_fits_a_page(lengths: list[int]) -> None:
    """Walk the rows as a printer does: a page ends when it is full, or at a break."""
    stretches, row = [], 0
    for length in lengths:
        stretches.append(Stretch(row, row + length - 1))
        row += length + 1  # a blank row between
    found = set(breaks(stretches, {}, PAGE))
    starts, used = [0], 0.0
    for n in range(row):
        if n in found or used + ROW > PAGE:
            starts.append(n)
            used = 0.0
        used += ROW
    for stretch, length in zip(stretches, lengths, strict=True):
        inside = [s for s in starts if stretch.first < s <= stretch.last]
        assert length > 40 or not inside


def test_what_must_begin_a_page_does_unless_it_is_the_first() -> None:
    stretches = [Stretch(0, 3, new_page=True), Stretch(5, 8, new_page=True), Stretch(10, 12)]
    assert breaks(stretches, {}, PAGE) == [4]  # with the blank row before it


def test_high_rows_count_as_high_as_they_are() -> None:
    stretches = [Stretch(0, 9), Stretch(11, 20)]
    assert breaks(stretches, {}, PAGE) == []
    assert breaks(stretches, {3: 30 * ROW}, PAGE) == [10]
