"""How numbers are written in words, against examples of published guides."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from budget import numerals
from budget.cli import main
from budget.decide.wording import round_money
from budget.report import words
from budget.units import AREA, in_words

NARROW, APOSTROPHE, FIXED = "\u202f", "\u2019", "\u00a0"


@pytest.mark.parametrize(
    ("style", "number", "money"),
    [
        ("comma and point", "1,234.5 m²", "€1,234.56"),
        # BIPM, SI Brochure 9th edition, 5.4.4: 43 279,168 29 with a thin space and a comma
        ("space and comma", f"1{NARROW}234,5 m²", f"1{NARROW}234,56{FIXED}€"),
        # EU interinstitutional style guide, 7.3.3: the sign follows the amount in most languages
        ("point and comma", "1.234,5 m²", f"1.234,56{FIXED}€"),
        ("apostrophe and point", f"1{APOSTROPHE}234.5 m²", f"€1{APOSTROPHE}234.56"),
    ],
)
def test_each_style(style: str, number: str, money: str) -> None:
    with numerals.numbers_as(style):
        assert in_words(1234.5, AREA, "metric") == number
        assert words.money(123456, "EUR") == money
        assert words.money(-50, "EUR").startswith("-")
        assert round_money(123400, "EUR") == words.money_round(123400, "EUR")
    assert words.money(123456, "EUR") == "€1,234.56"


def test_a_style_nobody_knows_is_refused() -> None:
    with pytest.raises(KeyError), numerals.numbers_as("dots"):
        pass


def courtyard(folder: Path, style: str) -> Path:
    path = folder / "yard.xlsx"
    assert CliRunner().invoke(main, ["start", str(path), "--example", "courtyard"]).exit_code == 0
    book = load_workbook(path)
    sheet = book["Job"]
    row = next(r for r in range(1, 60) if sheet.cell(r, 1).value == "Number style")
    sheet.cell(row, 2).value = style
    book.save(path)
    return path


def test_one_style_in_the_whole_answer_and_plain_numbers_in_json(tmp_path: Path) -> None:
    import json

    path = courtyard(tmp_path, "point and comma")
    asked = ["quantities", str(path)]
    told = CliRunner().invoke(main, asked).output
    numbers = re.findall(r"\b\d[\d.,]*\d\b(?= (?:m|m²|m³|kg|tonne|L)\b)", told)
    assert numbers
    assert [n for n in numbers if re.search(r"\.\d\d?$|,\d{3}", n)] == []
    assert any("," in n for n in numbers)
    rows = json.loads(CliRunner().invoke(main, [*asked, "--json"]).output)["quantities"]
    assert all(isinstance(row["need"], (int, float)) for row in rows)
    assert words.money(123456, "EUR") == "€1,234.56"  # nothing of it stays behind
