"""Blocks in a window: nothing wider than it, no word broken, rows as low as can be."""

import re
import textwrap

import pytest
from hypothesis import given
from hypothesis import strategies as st

from budget.report.terminal.blocks import Pair, Table, Text, table, wide, words_of, wrapped
from budget.report.terminal.grid import grid, widths
from budget.report.terminal.screen import lines

WORDS = st.text("abc", min_size=1, max_size=7)
CELLS = st.lists(WORDS, min_size=0, max_size=6).map(" ".join)


def shown(block: Table | Pair | Text, columns: int) -> list[str]:
    return ["".join(piece.text for piece in line) for line in lines(block, columns)]


@given(CELLS, st.integers(7, 30))
def test_text_is_wrapped_as_the_standard_library_does(text: str, width: int) -> None:
    assert wrapped(text, width) == (textwrap.wrap(text, width) or [""])


def test_what_has_no_space_is_broken_only_where_it_must() -> None:
    assert wrapped("in a/long/path/down", 10) == ["in", "a/long/pat", "h/down"]
    assert wrapped("砂利砂利", 4) == ["砂利", "砂利"]
    assert wrapped("of 64 % or 5\u00a0€", 7) == ["of 64 %", "or 5\u00a0€"]


@given(st.lists(st.tuples(CELLS, CELLS, CELLS), min_size=1, max_size=4), st.integers(30, 60))
def test_a_table_keeps_every_word_whole_and_within_the_window(
    rows: list[tuple[str, str, str]], columns: int
) -> None:
    block = table(("One", "Two", "Three"), rows, right=(2,))
    found = shown(block, columns)
    assert max(map(wide, found), default=0) <= columns or any(len(r[2]) > 26 for r in rows)
    told = sorted(re.findall(r"[abc]+", " ".join(found)))
    asked = sorted(word for row in rows for cell in row for word in words_of(cell))
    if widths(block, columns) is not None and "One" in "".join(found[:1]):
        assert told == asked  # cells that are alike are told once where rows are stacked
    assert set(told) == set(asked)


@given(st.lists(st.tuples(CELLS, CELLS), min_size=1, max_size=3), st.integers(24, 40))
def test_the_highest_row_is_as_low_as_any_widths_allow(
    rows: list[tuple[str, str]], columns: int
) -> None:
    block = table(("", ""), rows)
    found = widths(block, columns)
    assert found is not None

    def broken(sizes: tuple[int, int]) -> bool:
        return any(
            wide(word) > w
            for row in rows for cell, w in zip(row, sizes, strict=True) for word in cell.split()
        )  # fmt: skip

    def highest(sizes: tuple[int, int]) -> int:
        return max(
            len(textwrap.wrap(cell, max(1, w)))
            for row in rows
            for cell, w in zip(row, sizes, strict=True)
        )

    room = columns - 2 - 2
    every = [(w, room - w) for w in range(room + 1)]
    assert sum(found) <= room
    if all(wide(cell) > 12 or " " not in cell for row in rows for cell in row):
        whole = [w for w in every if not broken(w)]
        assert highest((found[0], found[1])) == min(map(highest, whole))


def test_dates_and_sums_stay_on_one_line() -> None:
    rows = [("Supervise the two students", "Sat May 2", "Sun May 31", "5.352,62\u00a0€")]
    found = shown(table(("Task", "From", "To", "Cost"), rows, right=(3,)), 46)
    assert any("Sat May 2" in line and "Sun May 31" in line for line in found)
    assert any("5.352,62\u00a0€" in line for line in found)


def test_what_is_too_narrow_for_columns_stands_one_below_the_other() -> None:
    bids = table(("", *"ABCDEFGH"), [("Dig", *"yyyynnnn"), ("Lay", *"nnnnnnnn")])
    assert shown(bids, 24) == [
        "  Dig", "    A, B, C, D: y; E, F,", "    G, H: n",
        "  Lay", "    A, B, C, D, E, F, G,", "    H: n",
    ]  # fmt: skip
    assert grid(bids, 80)[0] == ["       A  B  C  D  E  F  G  H"]


def test_a_column_that_says_nothing_is_left_out() -> None:
    orders = table(("Who", "Mind", "Days"), [("North Yard", "", "5"), ("Quarry", "", "12")], (2,))
    assert shown(orders, 60) == ["  Who         Days", "  North Yard     5", "  Quarry        12"]


@pytest.mark.parametrize("columns", [40, 80])
def test_a_long_label_is_not_cut(columns: int) -> None:
    found = shown(Pair("Lines of the plan", "Dig; Lay"), columns)
    assert found == ["  Lines of the plan", "               Dig; Lay"]
