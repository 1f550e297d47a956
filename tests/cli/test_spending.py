"""The commands for the weeks of work, and that none of them touches the quotes workbook."""

from __future__ import annotations

import datetime as dt
import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import openpyxl
import pytest
from click.testing import Result

from budget.cli import main
from budget.spend import baseline_book, journal
from budget.workbook import read

Run = Callable[..., Result]
ROOT = Path(__file__).parents[2]
SCHEMAS = ROOT / "budget/report/schema"
STONE = ("Base stone", "ordered", "362.50", "--tax", "23.56", "--quantity", "12.5")
DAY = ("--date", "2026-05-06")


def valid(result: Result, name: str) -> dict[str, Any]:
    """The one object on standard output, checked against its schema."""
    document: dict[str, Any] = json.loads(result.stdout)
    _, named, number = document["schema"].split("/")
    assert named == name
    schema = json.loads((SCHEMAS / f"{name}-{number}.json").read_text(encoding="utf-8"))
    jsonschema.validate(document, schema, jsonschema.Draft202012Validator)
    return document


@pytest.fixture
def book(terrace: Path, tmp_path: Path) -> Path:
    """The terrace in a folder of its own."""
    return Path(shutil.copy(terrace, tmp_path / "terrace.xlsx"))


@pytest.mark.parametrize(
    ("order", "told"),
    [
        (("payed", "5"), "Did you mean paid?"),
        (("paid",), "“paid” needs an amount after it"),
        (("driven",), "“driven” needs an amount after it"),
        (("paid", "-5"), "put -- before the minus"),
        (("paid", "5", "--quantty", "3"), "--quantity"),
        (("paid", "5", "--date", "5/6/2026"), "2 May 2026"),
    ],
)
def test_an_entry_typed_wrongly_is_told_and_not_written(
    run: Run, book: Path, order: tuple[str, ...], told: str
) -> None:
    result = run("record", book, "Base stone", *order)
    assert result.exit_code == 2
    assert told in result.stderr
    assert not journal.path_for(book).exists()


def test_an_entry_may_use_the_name_of_the_trade_and_a_month_by_name(run: Run, book: Path) -> None:
    result = run("record", book, "crusher run", "paid", "5", "--date", "27 Nov 2026")
    assert result.exit_code == 0, result.stderr
    (row,) = journal.read(journal.path_for(book)).rows
    assert (row.entry.line, row.entry.date) == ("Base stone", dt.date(2026, 11, 27))


def test_an_entry_whose_amount_was_deleted_is_told_as_blank(run: Run, book: Path) -> None:
    assert run("record", book, "Base stone", "paid", "5", *DAY).exit_code == 0
    path = journal.path_for(book)
    path.write_text(path.read_text("utf-8").replace(",5.00,", ",,"), "utf-8")
    assert "!F2: blank; expected an amount for “paid”." in run("spend", book).stdout


def test_packs_to_come_are_counted_as_people_do(run: Run, book: Path) -> None:
    sold = {q.item: q.per for q in read(book).job.quotes if q.per == "bag"}  # type: ignore[union-attr]
    lines = run("spend", book, "--full").stdout.splitlines()
    told = [line for line in lines if "still to order" in line and any(i in line for i in sold)]
    assert any(re.search(r"\d bags still to order", line) for line in told)
    assert not any(re.search(r"[02-9] bag still|\d piece still", line) for line in told)


def test_an_unknown_line_is_told_how_to_go_on(run: Run, book: Path) -> None:
    result = run("record", book, "wine", "paid", "5")
    assert result.exit_code == 2
    assert "--new-line" in result.stderr


def test_accepted_plans_are_kept_with_dates_and_reasons(run: Run, book: Path) -> None:
    first = valid(run("accept", book, "--date", "2026-04-06", "--json"), "accept")
    again = run("accept", book, "--date", "2026-05-01", "--unforeseen", "--reason", "Old cable")
    assert again.exit_code == 0, again.stderr
    assert "plan 2" in again.stderr
    one, two = baseline_book.read(book.with_name("terrace-baseline.xlsx"))
    assert (one.number, one.accepted.isoformat(), one.because) == (1, "2026-04-06", "chosen")
    assert (two.number, two.reason, two.because) == (2, "Old cable", "unforeseen")
    assert round(first["cash"] * 100) == one.cash == two.cash


def test_an_accepted_plan_keeps_the_days_of_its_calendar(run: Run, book: Path) -> None:
    calendar = valid(run("calendar", book, "--json"), "calendar")
    document = valid(run("accept", book, "--json"), "accept")
    assert document["finish"] == calendar["finish"]["date"]
    plan = baseline_book.read(book.with_name("terrace-baseline.xlsx"))[0]
    tasks = [task for task in calendar["tasks"] if task["step"]]
    assert {step.step for step in plan.days} == {task["step"] for task in tasks}
    for step in plan.days:
        own = [task for task in tasks if task["step"] == step.step]
        assert step.days[0].isoformat() == min(task["from"]["date"] for task in own)
        assert step.days[-1].isoformat() == max(task["to"]["date"] for task in own)
        if all(task["own"] for task in own):  # the terrace is worked at on weekends
            assert {day.weekday() for day in step.days} <= {5, 6}
    before, after = (
        valid(run("spend", book, "--date", day, "--json"), "spend")["earned_value"]
        for day in ("2026-05-01", document["finish"])
    )
    assert (before["planned_value"], after["planned_value"]) == (0, after["budget_at_completion"])
    assert "to be done by" in run("accept", book).stderr
    said = valid(run("accept", book, "--finish", "2026-07-01", "--json"), "accept")
    assert said["finish"] == "2026-07-01"


def test_a_recorded_entry_is_spent(run: Run, book: Path) -> None:
    before = valid(run("spend", book, "--json"), "spend")
    document = valid(run("record", book, *STONE, *DAY, "--json"), "record")
    assert document["entries"][0]["amount"] == 362.5
    after = valid(run("spend", book, "--json"), "spend")
    assert after["entries"] == before["entries"] + 1
    assert round(after["ordered"] - before["ordered"], 2) == 386.06
    assert sum(w for line in after["lines"] for w in line["why"].values()) == pytest.approx(
        after["will_come_to"] - after["planned"], abs=0.005
    )


def test_the_same_entry_is_refused_unless_it_happened_twice(run: Run, book: Path) -> None:
    assert run("record", book, *STONE, *DAY).exit_code == 0
    twice = run("record", book, "base  STONE", *STONE[1:], *DAY)
    assert twice.exit_code == 2
    assert "row 2" in twice.stderr
    assert run("record", book, *STONE, *DAY, "--again").exit_code == 0
    assert len(journal.read(book.with_name("terrace-entries.csv")).entries) == 2


def test_a_row_of_the_sheet_is_not_recorded_again(run: Run, book: Path) -> None:
    result = run(
        "record", book, "Permit and setback check", "paid", "85", "--tax", "0", "--quantity", "1",
        "--receipt", "R1", "--date", "2026-03-24",
    )  # fmt: skip
    assert result.exit_code == 2
    assert "Spend" in result.stderr


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (("Dgi", "worked", "--hours", "4"), "“Dig”"),
        (("Dig", "finished"), "It is one of"),
        (("Dig", "paid", "12.345"), "not an amount"),
        (("Dig", "paid", "1", "--date", "6 May"), "not a date"),
    ],
)
def test_what_is_typed_wrongly_is_not_recorded(
    run: Run, book: Path, args: tuple[str, ...], says: str
) -> None:
    result = run("record", book, *args)
    assert result.exit_code == 2
    assert says in result.stderr
    assert not book.with_name("terrace-entries.csv").exists()


def test_a_line_the_plan_has_not_is_recorded_when_asked_for(run: Run, book: Path) -> None:
    result = run("record", book, "Garden lamp", "paid", "19", "--new-line", *DAY)
    assert result.exit_code == 0
    lines = valid(run("spend", book, "--json"), "spend")["lines"]
    assert [line["in_plan"] for line in lines if line["line"] == "Garden lamp"] == [False]


STATEMENT = """Date,Description,Amount
2026-05-07,HERON YARD 0042,-386.06
2026-05-08,GROCER,-54.10
2026-03-25,TOWN OFFICE,-85.00
"""


def test_a_statement_is_taken_above_a_certainty_and_only_once(run: Run, book: Path) -> None:
    run("record", book, *STONE, *DAY, "--supplier", "Heron Yard")
    bank = book.with_name("may.csv")
    bank.write_text(STATEMENT, encoding="utf-8")
    shown = valid(run("statement", book, bank, "--json"), "statement")
    assert [row["taken"] for row in shown["rows"]] == [False, False, False]
    assert [row["entered"] for row in shown["rows"]] == [False, False, True]
    assert shown["rows"][0]["line"] == "Base stone"
    for taken in (True, False):
        document = valid(run("statement", book, bank, "--yes", "80", "--json"), "statement")
        assert document["rows"][0]["taken"] is taken
        assert document["rows"][0]["entered"] is not taken
    rows = journal.read(book.with_name("terrace-entries.csv")).rows
    assert [row.entry.amount for row in rows] == [36250.0, 38606.0]


@pytest.mark.parametrize(
    ("typed", "cents"),
    [
        ("362.5", 36250), ("362,50", 36250), ("1234,80", 123480), ("1,234.80", 123480),
        ("1.234,80", 123480), ("1,234", 123400), ("$12", 1200), ("0.10", 10), ("19,9 €", 1990),
        ("1.234", None), ("12.345", None), ("0,005", None), ("1/2", None), ("ten", None),
        ("inf", None), ("1e3", None),
    ],
)  # fmt: skip
def test_an_amount_is_read_as_people_write_it(
    run: Run, book: Path, typed: str, cents: int | None
) -> None:
    """Cents have two decimals: a mark before two digits is a decimal sign in any country."""
    told = run("record", book, "Base stone", "paid", typed, "--date", "2026-05-02", "--json")
    if cents is None:
        assert told.exit_code == 2
        assert "is not an amount such as 362.50" in told.stderr
    else:
        assert json.loads(told.stdout)["entries"][0]["amount"] == cents / 100


def test_a_day_in_numbers_is_answered_with_the_days_it_may_mean(run: Run, book: Path) -> None:
    told = run("record", book, "Base stone", "paid", "362.50", "--date", "2.5.2026")
    assert told.exit_code == 2
    assert "Is 2026-02-05 or 2026-05-02 meant?" in told.stderr


def test_a_state_typed_before_its_line_is_answered_with_their_order(run: Run, book: Path) -> None:
    told = run("record", book, "Ordered", "Base stone", "362.50")
    assert told.exit_code == 2
    assert 'The line comes first: "Base stone" ordered.' in told.stderr


def test_an_unreadable_statement_says_what_to_name(run: Run, book: Path) -> None:
    bank = book.with_name("may.csv")
    bank.write_text("a,b\n1,2\n", encoding="utf-8")
    result = run("statement", book, bank)
    assert result.exit_code == 3
    assert "--date-column" in result.stderr


def test_earned_value_has_plain_words_first(run: Run, book: Path) -> None:
    output = run("spend", book, "--earned-value").stdout
    assert "Work worth" in output
    assert output.index("Work worth") < output.index("BAC")
    assert "BAC" not in run("spend", book).stdout


def test_no_command_touches_the_quotes_workbook(run: Run, book: Path) -> None:
    """Every command there is, by the list that the program itself gives."""
    before = (book.read_bytes(), book.stat().st_mtime_ns, book.stat().st_mode)
    bank = book.with_name("may.csv")
    bank.write_text(STATEMENT, encoding="utf-8")
    out = ("--out", book.parent / "out")
    calls: tuple[tuple[object, ...], ...] = (
        ("start", book.with_name("next.xlsx"), "--from", book), ("check", book),
        ("quantities", book), ("ask", book, *out), ("compare", book, *out),
        ("explain", book, "Base stone"), ("calendar", book), ("accept", book),
        ("accept", book, "--reason", "once more"), ("record", book, *STONE, *DAY),
        ("statement", book, bank, "--yes", "1"), ("spend", book, "--earned-value"),
        ("compare", book, *out),
    )  # fmt: skip
    assert {call[0] for call in calls} == set(main.commands)
    for call in calls:
        result = run(*call)
        assert result.exit_code == 0, result.stderr
        assert (book.read_bytes(), book.stat().st_mtime_ns, book.stat().st_mode) == before


@pytest.mark.parametrize("call", [("start",), ("start", "--example", "terrace")])
def test_starting_anew_does_not_write_over_a_filled_workbook(
    run: Run, book: Path, call: tuple[str, ...]
) -> None:
    before = book.read_bytes()
    assert run(call[0], book, *call[1:]).exit_code != 0
    assert book.read_bytes() == before


DEPOSITS = """Date,Description,Amount
2026-06-08,TALL PINE TOOL LOFT,100.00
2026-06-05,TALL PINE TOOL LOFT,-100.00
"""


def test_a_statement_knows_deposits_paid_and_given_back(run: Run, book: Path) -> None:
    bank = book.with_name("june.csv")
    bank.write_text(DEPOSITS, encoding="utf-8")
    shown = valid(run("statement", book, bank, "--yes", "--json"), "statement")
    found = [(row["line"], row["state"], row["sure"], row["taken"]) for row in shown["rows"]]
    assert found == [
        ("Wet saw", "deposit back", 95, True),
        ("Wet saw", "deposit paid", 95, True),
    ]
    spent = valid(run("spend", book, "--json"), "spend")
    assert (spent["deposits_out"], spent["deposits_back"]) == (100, 100)


def test_a_damaged_baseline_is_told(run: Run, book: Path) -> None:
    book.with_name("terrace-baseline.xlsx").write_bytes(b"nothing")
    result = run("spend", book)
    assert result.exit_code == 3
    assert "saved copy" in result.stderr


def crossed(book: Path) -> None:
    """Let the path cross itself: two of its corners change places."""
    found = openpyxl.load_workbook(book)
    rows = [row for row in found["Outline"].iter_rows(min_row=5) if row[0].value == "Path"]
    for column in (2, 3):
        one, other = rows[1][column], rows[2][column]
        one.value, other.value = other.value, one.value
    found.save(book)


def test_a_shape_that_cannot_be_stops_the_money_but_not_what_was_paid(
    run: Run, book: Path, tmp_path: Path
) -> None:
    bank = tmp_path / "bank.csv"
    bank.write_text("Date,Description,Amount\n2026-05-08,HERON YARD,-386.06\n")
    crossed(book)
    for command in (("spend", book), ("record", book, *STONE, *DAY), ("statement", book, bank)):
        result = run(*command)
        assert result.exit_code == 1, command
        assert "an outline that crosses itself" in result.stderr
    assert not journal.path_for(book).exists()
    # with an accepted plan its lines are known: the entry is written, and the problem told
    shutil.copy(ROOT / "workbooks/terrace-diary-baseline.xlsx", baseline_book.path_for(book))
    told = run("record", book, *STONE, *DAY)
    assert told.exit_code == 0, told.stderr
    assert "an outline that crosses itself" in told.stderr
    assert len(journal.read(journal.path_for(book)).rows) == 1
    assert run("spend", book).exit_code == 1


def test_the_json_says_whether_the_new_plan_is_proved(run: Run, book: Path) -> None:
    run("accept", book)
    choices = valid(run("spend", book, "--json"), "spend")["open_choices"]
    assert (choices["proved"], choices["gap"]) == (True, 0.0)


def test_a_plan_is_accepted_on_the_day_of_the_job_sheet(run: Run, book: Path) -> None:
    accepted = valid(run("accept", book, "--json"), "accept")["accepted"]
    assert accepted == valid(run("spend", book, "--json"), "spend")["accepted_on"] == "2026-04-06"


def paid(run: Run, book: Path, line: str) -> float:
    lines = valid(run("spend", book, "--json"), "spend")["lines"]
    return float(next(one["paid"] for one in lines if one["line"] == line))


def test_what_happened_twice_counts_twice_also_where_the_sheet_has_the_first(
    run: Run, book: Path
) -> None:
    run("accept", book)
    workbook = openpyxl.load_workbook(book)
    sheet = workbook["Spend"]
    row = next(n for n in range(5, 99) if sheet.cell(n, 1).value is None)
    for column, value in ((1, dt.date(2026, 4, 24)), (2, "Edging"), (6, 100), (8, "paid")):
        sheet.cell(row, column).value = value
    workbook.save(book)
    said = ("Edging", "paid", "100", "--date", "2026-04-24")
    assert paid(run, book, "Edging") == 100
    refused = run("record", book, *said)
    assert refused.exit_code != 0
    assert f"Spend, row {row}" in refused.stderr
    assert run("record", book, *said, "--again").exit_code == 0
    assert paid(run, book, "Edging") == 200
    assert valid(run("spend", book, "--json"), "spend")["on_both"] == 1
    assert (
        "1 entry stands on the Spend sheet and in the journal"
        in run("spend", book, "--full").stdout
    )
    assert run("record", book, *said, "--again").exit_code == 0
    assert paid(run, book, "Edging") == 300


def test_a_later_plan_is_accepted_after_what_it_holds(run: Run, book: Path) -> None:
    """Else a change agreed before it would count beside the plan that holds it already."""
    run("accept", book)
    run("record", book, "Edging", "change agreed", "50", "--date", "2026-04-24")
    before = valid(run("spend", book, "--json"), "spend")
    assert before["changes"] == 50
    later = valid(run("accept", book, "--reason", "more edging", "--json"), "accept")
    assert later["accepted"] == "2026-04-24"
    assert valid(run("spend", book, "--json"), "spend")["changes"] == 0  # the workbook is as it was
    old = run("accept", book, "--date", "2026-04-23")
    assert old.exit_code == 2
    assert "cannot be older" in old.stderr
    assert [b.number for b in baseline_book.read(baseline_book.path_for(book))] == [1, 2]
