"""What was spent in both files of ``compare``: by line, by week, and what comes next."""

from __future__ import annotations

import html
import re
import shutil
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from openpyxl import load_workbook
from python_calamine import CalamineWorkbook

from budget.decide.brief import plan_briefly
from budget.report import files, spend_words
from budget.report.documents import spend
from budget.report.documents.document import Files
from budget.report.spend_words import VERBS
from budget.report.terminal.blocks import plain
from budget.spend.standing import Standing, stand, standing_of
from budget.workbook import read
from tests.report.test_book_units import without_a_unit

BOOKS = Path(__file__).parents[2] / "workbooks"


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> tuple[Files, Standing]:
    """Both files of the diary, and how it stands."""
    folder = tmp_path_factory.mktemp("diary")
    for path in BOOKS.glob("terrace-diary*"):
        shutil.copy(path, folder / path.name)
    book = folder / "terrace-diary.xlsx"
    job = read(book).job
    assert job is not None
    return files.write(plan_briefly(job), book, folder), stand(job, book)


def test_the_workbook_has_a_sheet_of_spending(written: tuple[Files, Standing]) -> None:
    files_, standing = written
    book = CalamineWorkbook.from_path(str(files_.workbook))
    table = book.get_sheet_by_name("Spending").to_python()
    paid = next(i for i, row in enumerate(table) if "Paid" in row)
    column = table[paid].index("Paid")
    assert table[paid + 1][column] == "USD"
    lines = {row[0]: row[column] for row in table[paid + 2 :][: len(standing.tracking.lines)]}
    for line in standing.tracking.lines:
        assert lines[line.line] == pytest.approx(line.paid / 100)
    titles = [str(row[0]) for row in table]
    assert any("Week by week" in title for title in titles)
    assert str(standing.tracking.weeks[-1].end) in titles
    assert without_a_unit(files_.workbook) == []


def test_the_page_tells_weeks_and_reasons(written: tuple[Files, Standing]) -> None:
    files_, standing = written
    text = re.sub(r"<[^>]+>", " ", files_.page.read_text(encoding="utf-8"))
    assert all(words in text for words in ("Week by week", "What comes next", "Room left"))
    assert f"{standing.tracking.paid / 100:,.2f}" in text
    for one in standing.coming:  # each row begins with what is to be done
        assert re.search(rf"{VERBS[one.kind]}\s.*?{re.escape(html.escape(one.line))}", text, re.S)


def test_the_document_says_whether_a_plan_not_yet_accepted_is_proved(
    written: tuple[Files, Standing],
) -> None:
    accepted = spend.spend(written[1])
    assert (accepted["proved"], accepted["gap"]) == (None, None)
    job = read(BOOKS / "terrace-diary.xlsx").job
    assert job is not None
    comparison = plan_briefly(job)
    assert comparison.best is not None
    best = replace(comparison.best, proved=False, gap=0.013)
    for found, proved, gap in (
        (comparison, True, 0.0),
        (replace(comparison, best=best, scenarios=(best,)), False, 0.013),
    ):
        held = standing_of(found, anew=False)
        told = spend.spend(held)
        assert (told["proved"], told["gap"]) == (proved, pytest.approx(gap, abs=1e-6))
        said = plain(spend_words.spend(held, quiet=False))
        assert ("best so far, gap 1.3 %" in said) is not proved


def test_the_page_draws_the_weeks_with_their_numbers_behind(
    written: tuple[Files, Standing],
) -> None:
    files_, standing = written
    page = files_.page.read_text(encoding="utf-8")
    weeks = standing.tracking.weeks
    for key in ("weeks-forecast", "weeks-room", "weeks-cash"):
        assert f'id="{key}-name"' in page
    drawn = page[page.index('id="weeks-forecast-name"') :]
    for week in weeks:
        assert f"will come to {week.will_come_to / 100:,.2f}" in drawn.replace("$", "")
    out = sum(week.cash_out for week in weeks)
    assert f"out {out / 100:,.0f} in all" in drawn.replace("$", "")
    assert 'id="weeks-table-caption"' in drawn


def test_the_workbook_draws_the_weeks(written: tuple[Files, Standing]) -> None:
    """Each chart has titles on both axes, and its lines run over every week of the table."""
    files_, standing = written
    weeks = len(standing.tracking.weeks)
    with zipfile.ZipFile(files_.workbook) as archive:
        charts = [archive.read(n).decode() for n in archive.namelist() if "/charts/chart" in n]
    drawn = [chart for chart in charts if "Spending!" in chart]
    titles = ("What it will come to", "Room left, and work left", "Cash out and in")
    assert [sum(title in chart for chart in drawn) for title in titles] == [1, 1, 1]
    for chart in drawn:
        assert chart.count("<c:title>") == 3
        for first, last in re.findall(r"<c:val>.*?Spending!\$\w+\$(\d+):\$\w+\$(\d+)", chart):
            assert int(last) - int(first) + 1 == weeks


def test_differences_are_formulas_and_sums_hold(written: tuple[Files, Standing]) -> None:
    files_, standing = written
    book = load_workbook(files_.workbook)
    sheet = book["Spending"]
    rows = {sheet.cell(n, 1).value: n for n in range(1, sheet.max_row + 1)}
    line = rows[standing.tracking.lines[0].line]
    assert sheet.cell(line, 6).value == f"=G{line} - E{line}"
    assert sheet.cell(line, 8).value == f"=G{line} - B{line}"
    values = load_workbook(files_.workbook, data_only=True)
    total = rows["Together"]
    found = [values["Spending"].cell(total, column).value for column in range(2, 13)]
    tracking = standing.tracking
    why = tracking.why
    sums = (tracking.planned, tracking.changes, tracking.ordered, tracking.paid, tracking.to_come,
            tracking.will_come_to, tracking.contingency_used, why.price, why.quantity, why.scope,
            why.pace)  # fmt: skip
    assert found == pytest.approx([cents / 100 for cents in sums])
    checks = [row[0].value for row in values["Checks"].iter_rows()]
    assert any(str(words).startswith("Spending: the four reasons") for words in checks)
