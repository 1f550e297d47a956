"""How numbers are written in words, against examples of published guides."""

import datetime as dt
import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from budget import numerals, reference
from budget.cli import main
from budget.decide.wording import round_money
from budget.numerals import Manner
from budget.reference.manners import manner_of
from budget.report import words
from budget.units import AREA, System, in_words

NARROW, APOSTROPHE, FIXED = "\u202f", "\u2019", "\u00a0"


def manner(numbers: str, sign: str = "before") -> Manner:
    return Manner(numbers, sign=sign)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("style", "number", "money"),
    [
        (manner("comma and point"), "1,234.5 m²", "€1,234.56"),
        # BIPM, SI Brochure 9th edition, 5.4.4: 43 279,168 29 with a thin space and a comma
        (manner("space and comma", "after"), f"1{NARROW}234,5 m²", f"1{NARROW}234,56{FIXED}€"),
        # EU interinstitutional style guide, 7.3.3: the sign follows the amount in most languages
        (manner("point and comma", "after"), "1.234,5 m²", f"1.234,56{FIXED}€"),
        (manner("apostrophe and point"), f"1{APOSTROPHE}234.5 m²", f"€1{APOSTROPHE}234.56"),
    ],
)
def test_each_style(style: Manner, number: str, money: str) -> None:
    with numerals.written(style):
        assert in_words(1234.5, AREA, "metric") == number
        assert words.money(123456, "EUR") == money
        assert words.money(-50, "EUR").startswith("-")
        assert round_money(123400, "EUR") == words.money_round(123400, "EUR")
    assert words.money(123456, "EUR") == "€1,234.56"


def test_a_style_nobody_knows_is_refused() -> None:
    with pytest.raises(KeyError):
        Manner("dots")
    with pytest.raises(ValueError, match="order of dates"):
        Manner(dates="month year")


APRIL = dt.date(2026, 4, 6)


@pytest.mark.parametrize(
    ("order", "long", "short", "planned"),
    [
        # Unicode CLDR 47, long, medium and weekday dates of en_GB and en_US; our weekday of en_US
        # has no comma, since days stand in rows set apart by commas
        (numerals.DAY_FIRST, "6 April 2026", "6 Apr 2026", "Mon 6 Apr"),
        (numerals.MONTH_FIRST, "April 6, 2026", "Apr 6, 2026", "Mon Apr 6"),
        # ISO 8601
        (numerals.YEAR_FIRST, "2026-04-06", "2026-04-06", "Mon Apr 6"),
    ],
)
def test_each_order_of_a_date(order: str, long: str, short: str, planned: str) -> None:
    with numerals.written(Manner(dates=order)):
        assert words.date(APRIL) == long
        assert numerals.short_date(APRIL) == short
        assert numerals.weekday(APRIL) == planned


def usual() -> list[dict[str, str]]:
    return reference.rows("manners")


@pytest.mark.parametrize("row", usual(), ids=lambda r: r["currency"] or r["units"])
def test_the_usual_manner_of_a_currency_is_that_of_the_published_locale(
    row: dict[str, str],
) -> None:
    """Against babel, which carries the data of Unicode CLDR, and writes by itself.

    Held against it are the marks between digits and the side of the sign. How many decimals forint
    have, and which of two apostrophes Swiss francs, differs from one edition of CLDR to the next.
    """
    from babel.dates import format_date
    from babel.numbers import format_currency, get_decimal_symbol, get_group_symbol

    units: System = "metric" if row["units"] == "metric" else "imperial"
    found = manner_of(row["currency"], units)
    currency = row["currency"] or "USD"
    published = format_currency(1234567.89, currency, locale=row["numbers from"])
    with numerals.written(found):
        ours = words.money(123456789, currency)
        assert words.date(APRIL) == format_date(
            APRIL, "long", locale=row["dates from"]
        ).removeprefix("0")
    digits = re.compile(r"\d.*\d")
    spaces = str.maketrans(dict.fromkeys((NARROW, FIXED), " "))
    theirs = digits.search(published.translate(spaces))
    mine = digits.search(ours.translate(spaces))
    assert theirs is not None
    assert mine is not None
    group, decimal = get_group_symbol(row["numbers from"]), get_decimal_symbol(row["numbers from"])
    marked = f"1{group}234{group}567{decimal}89".translate(spaces)
    assert mine.group() == marked.replace("'", "’")
    assert (mine.start() == 0) == (theirs.start() == 0)  # the sign stands on the same side


def test_what_the_user_chooses_stands_over_what_is_usual() -> None:
    assert manner_of("EUR", "metric", "comma and point").sign == "before"
    assert manner_of("USD", "imperial", "space and comma").sign == "after"
    assert manner_of("eur ", "metric") == Manner("point and comma", sign="after")
    assert manner_of("USD", "imperial", dates=numerals.DAY_FIRST) == Manner()
    # without a currency of the table, the units tell
    assert manner_of("JPY", "metric").dates == numerals.DAY_FIRST
    assert manner_of("JPY", "imperial").dates == numerals.MONTH_FIRST


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
