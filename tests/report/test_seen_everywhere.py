"""Whoever reads a comparison workbook without working it out sees the figures of the answer."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pandas as pd
import pytest

from budget.decide.outcome import Comparison
from budget.report.book import book


@pytest.mark.parametrize("name", ["terrace", "courtyard", "fire-bowl"])
def test_a_table_reader_sees_the_sums_of_every_scenario(
    name: str, demo_comparison: Callable[[str], Comparison], tmp_path: Path
) -> None:
    path = tmp_path / f"{name}-comparison.xlsx"
    book.write(demo_comparison(name), path)
    sheet = pd.read_excel(
        path,
        sheet_name="Scenarios",
        header=None,
        engine="calamine",
    )
    head = sheet.index[sheet[0] == "Plan"][0]
    table = sheet.iloc[head + 1 :].set_axis(list(sheet.iloc[head]), axis="columns")
    numbered = table[pd.to_numeric(table["Plan no."], errors="coerce").notna()]
    seen = {
        title: (cash, round(hours, 6))
        for title, cash, hours in zip(
            numbered["Plan"], numbered["Cash"], numbered["Own hours"], strict=True
        )
    }
    told = {
        one.title: (one.priced.cash / 100, round(one.priced.own_hours, 6))
        for one in demo_comparison(name).scenarios
        if one.priced is not None
    }
    assert len(told) > 1
    assert {title: seen[title] for title in told} == told
