"""Statements as banks write them, and what their rows are matched with."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from budget.job import Place, Spend
from budget.spend.matching import Proposal, match
from budget.spend.statement import Booked, Columns, StatementError, read, sums
from budget.spend.tracking import Deposit, Tally, Tracked, Tracking


def rows(tmp_path: Path, written: str, /, **told: object) -> list[tuple[str, str, int]]:
    path = tmp_path / "may.csv"
    path.write_text(written, encoding="utf-8")
    return [(b.date.isoformat(), b.text, b.cents) for b in read(path, Columns(**told))]  # type: ignore[arg-type]


def test_columns_are_recognised(tmp_path: Path) -> None:
    text = "Account,123\n\nDate,Description,Amount\n2026-05-06,YARD,-386.06\n2026-05-07,PAY,9\n"
    assert rows(tmp_path, text) == [("2026-05-06", "YARD", 38606), ("2026-05-07", "PAY", -900)]


def test_semicolons_decimal_commas_and_days_first(tmp_path: Path) -> None:
    titles = "Booking date;Payee;Debit (EUR);Credit (EUR)\n"
    text = titles + "06.05.2026;Hof;1.386,06;\n13.05.2026;Hof;;20,00\n"
    assert rows(tmp_path, text) == [("2026-05-06", "Hof", 138606), ("2026-05-13", "Hof", -2000)]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_lines_may_end_as_on_any_machine(tmp_path: Path, end: str) -> None:
    path = tmp_path / "may.csv"
    written = ["Date,Text,Amount", "2026-05-06,NORTH YARD,-12.50", ""]
    path.write_bytes(end.join(written).encode())
    assert [(b.text, b.cents) for b in read(path, Columns())] == [("NORTH YARD", 1250)]


@pytest.mark.parametrize(
    "content", [b"PK\x03\x04\x14\x00\r\x00\n", b"%PDF-1.7\n1 0 obj", b"\xd0\xcf\x11\xe0\xa1\r"]
)
def test_a_file_that_is_no_text_is_told_with_the_way_on(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "may.csv"
    path.write_bytes(content)
    with pytest.raises(StatementError, match=r"save the sheet as CSV"):
        read(path, Columns())


def test_a_field_beyond_all_bounds_is_no_statement(tmp_path: Path) -> None:
    path = tmp_path / "may.csv"
    path.write_text("Date,Text,Amount\n2026-05-06," + "x" * 200_000 + ",5\n")
    with pytest.raises(StatementError, match=r"plain text"):
        read(path, Columns())


def test_an_unclear_date_is_asked_about(tmp_path: Path) -> None:
    text = "Date,Text,Amount\n05/06/2026,A,-1.00\n"
    with pytest.raises(StatementError, match="--day-first"):
        rows(tmp_path, text)
    assert rows(tmp_path, text, day_first=True)[0][0] == "2026-06-05"
    assert rows(tmp_path, text, day_first=False)[0][0] == "2026-05-06"


def test_columns_are_told(tmp_path: Path) -> None:
    text = "When,Who,Sum spent\n2026-05-06,Yard,12.00\n"
    with pytest.raises(StatementError, match="--date-column"):
        rows(tmp_path, text)
    told = {"date": "when", "text": "Who", "amount": "sum spent", "spent_positive": True}
    assert rows(tmp_path, text, **told) == [("2026-05-06", "Yard", 1200)]


def test_a_column_told_that_is_not_there_is_named(tmp_path: Path) -> None:
    path = tmp_path / "may.csv"
    path.write_text("Date,Note,Debit,Lines\n2026-05-04,HERON YARD,12.50,1\n", encoding="utf-8")
    for columns in (Columns(amount="Sum"), Columns(date="Sum"), Columns(text="Sum")):
        with pytest.raises(StatementError, match="no column “Sum”; the first row has: Date, Note"):
            read(path, columns)
    told = Columns(date="date", text="note", amount=" DEBIT ", spent_positive=True)
    assert [(b.row, b.text, b.cents) for b in read(path, told)] == [(2, "HERON YARD", 1250)]


def test_rows_alike_on_one_day_are_told_apart_and_known_again(tmp_path: Path) -> None:
    path = tmp_path / "may.csv"
    path.write_text("Date,Text,Amount\n" + "2026-05-06,Yard,-5\n" * 2, encoding="utf-8")
    first = [b.source for b in read(path, Columns())]
    assert len(set(first)) == 2
    assert [b.source for b in read(path, Columns())] == first


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("2026-05-06,Yard,1-2", "“1-2” is not an amount"),
        ("6 May,Yard,12.00", "“6 May” is not a date"),
        ("2026-13-06,Yard,12.00", "“2026-13-06” is not a date"),
        ("31/02/2026,Yard,12.00", "not a date"),
    ],
)
def test_a_row_that_cannot_be_read_is_named(tmp_path: Path, row: str, said: str) -> None:
    with pytest.raises(StatementError, match=f"Row 3: .*{said}"):
        rows(tmp_path, f"Date,Text,Amount\n2026-05-01,Yard,-1\n{row}\n", day_first=True)


def test_a_row_without_money_is_left_out(tmp_path: Path) -> None:
    text = "Date,Text,Amount\n2026-05-06,Card fee,0.00\n2026-05-06,Note,\n2026-05-07,Yard,-5\n"
    assert rows(tmp_path, text) == [("2026-05-07", "Yard", 500)]


def test_one_clear_date_tells_the_order_of_all(tmp_path: Path) -> None:
    text = "Date,Text,Amount\n05/06/2026,A,-1\n13/05/26,B,-2\n"
    assert [day for day, _, _ in rows(tmp_path, text)] == ["2026-06-05", "2026-05-13"]
    text = "Date,Text,Amount\n05/06/2026,A,-1\n05/13/26,B,-2\n"
    assert [day for day, _, _ in rows(tmp_path, text)] == ["2026-05-06", "2026-05-13"]
    text = "Date,Text,Amount\n05/05/2026,A,-1\n"
    assert [day for day, _, _ in rows(tmp_path, text)] == ["2026-05-05"]


def line(name: str, supplier: str, ordered: int = 0, paid: int = 0, **more: int) -> Tracked:
    tally = Tally(ordered=ordered, paid=paid, orders=1 if ordered else 0)
    refund = more.get("refund", 0)
    return Tracked(name, "", 0, 0, ordered, paid, ordered - paid, ordered, 0, refund, 0.0, 0.0,
                   True, supplier=supplier, tally=tally)  # fmt: skip


def tracking(*lines: Tracked) -> Tracking:
    return Tracking("", dt.date(2026, 6, 1), lines, 0, 0, 0, 0, 0, 0, None, 0, 0, 0.0, 0.0, 0.0,
                    0, 0, 0, 0, (), ())  # fmt: skip


def booked(text: str, cents: int, day: int = 6) -> Booked:
    return Booked(2, dt.date(2026, 5, day), text, cents, f"statement:{text}{cents}{day}")


LINES = (
    line("Base stone", "Heron Yard", 38606),
    line("Paver", "Heron Yard", 180880),
    line("Edging", "Button Mill", 28734),
    line("Spikes", "Button Mill", 28734),
    line("Lamp", "Other Shop", 0, 5000, refund=2500),
)


@pytest.mark.parametrize(
    ("row", "name", "sure"),
    [
        (booked("HERON YARD 42", 38606), "Base stone", 95),
        (booked("CARD 991", 38606), "Base stone", 85),
        (booked("EDGING AND MORE BUTTON", 28734), "Edging", 75),
        (booked("BUTTON MILL", 28734), "Edging", 30),
        (booked("HERON YARD", 100), "Base stone", 30),
        (booked("PAVER", 100), "Paver", 60),
        (booked("GROCER", 4711), "", 0),
        (booked("OTHER SHOP", -2500), "Lamp", 95),
        (booked("WAGES", -99999), "", 0),
    ],
)
def test_how_sure_a_proposal_is(row: Booked, name: str, sure: int) -> None:
    (found,) = match([row], tracking(*LINES), (), frozenset())
    assert (found.line, found.sure) == (name, sure)
    assert found.reason


def test_what_is_entered_already_is_not_proposed_again() -> None:
    paid = Spend(place=Place("Spend", 5), date=dt.date(2026, 5, 4), line="Base stone",
                 amount=36250.0, tax=2356.0, state="paid")  # fmt: skip
    twice = [booked("HERON", 38606), booked("HERON", 38606, 7)]
    first, second = match(twice, tracking(*LINES), [paid], frozenset())
    assert (first.entered, second.entered) == (True, False)
    known = frozenset((twice[1].source,))
    assert all(p.entered for p in match(twice, tracking(*LINES), [paid], known))
    far = match([booked("HERON", 38606, 20)], tracking(*LINES), [paid], frozenset())
    assert not far[0].entered


def test_one_debt_is_not_proposed_for_two_payments() -> None:
    first, second = match(
        [booked("HERON YARD", 38606), booked("HERON YARD", 38606, 7)],
        tracking(*LINES), (), frozenset(),
    )  # fmt: skip
    assert (first.sure, second.sure) == (95, 30)


def test_a_proposal_becomes_an_entry() -> None:
    found = Proposal(booked("LAMP", -2500), "Lamp", "Other Shop", "refunded", 95, "")
    (entry,) = found.entries()
    assert (entry.line, entry.amount, entry.state) == ("Lamp", 2500.0, "refunded")


DEPOSITS = (
    Deposit("Wet saw", "Tall Pine Tool Loft", planned=10000),
    Deposit("Plate compactor", "Copper Kettle", planned=15000, paid=15000),
    Deposit("Pallets", "Heron Yard", paid=6000, back=2000),
    Deposit("Mini loader", "Tall Pine Tool Loft", planned=20000, paid=20000, back=20000),
)


@pytest.mark.parametrize(
    ("row", "name", "state", "sure"),
    [
        (booked("TALL PINE TOOL LOFT", 10000), "Wet saw", "deposit paid", 95),
        (booked("CARD 991", 10000), "Wet saw", "deposit paid", 85),
        (booked("COPPER KETTLE", -15000), "Plate compactor", "deposit back", 95),
        (booked("CREDIT 17", -15000), "Plate compactor", "deposit back", 85),
        (booked("HERON YARD", -4000), "Pallets", "deposit back", 95),
        (booked("HERON YARD", -1500), "Pallets", "deposit back", 60),
        (booked("TALL PINE TOOL LOFT", -20000), "", "refunded", 0),  # it is back already
        (booked("OTHER SHOP", -2500), "Lamp", "refunded", 95),
        (booked("CREDIT 18", -6000), "", "refunded", 0),
    ],
)
def test_deposits_are_recognised(row: Booked, name: str, state: str, sure: int) -> None:
    found = replace(tracking(*LINES), deposits=DEPOSITS)
    (proposal,) = match([row], found, (), frozenset())
    assert (proposal.line, proposal.state, proposal.sure) == (name, state, sure)
    assert proposal.reason


def test_a_deposit_is_given_back_once() -> None:
    found = replace(tracking(*LINES), deposits=DEPOSITS)
    rows = [booked("COPPER KETTLE", -15000), booked("COPPER KETTLE", -15000, 7)]
    first, second = match(rows, found, (), frozenset())
    assert (first.state, second.sure) == ("deposit back", 0)


def test_a_sum_that_an_order_owes_is_its_payment_unless_the_text_says_deposit() -> None:
    due = Deposit("Wet saw", "Heron Yard", planned=38606)
    found = replace(tracking(*LINES), deposits=(due,))
    plain, said = match(
        [booked("HERON YARD", 38606), booked("HERON YARD DEPOSIT", 38606, 7)],
        found, (), frozenset(),
    )  # fmt: skip
    assert (plain.line, plain.state) == ("Base stone", "paid")
    assert (said.line, said.state) == ("Wet saw", "deposit paid")


def test_hire_and_deposit_in_one_row_become_two_entries() -> None:
    hire = line("Wet saw", "Tall Pine Tool Loft", 15029)
    found = replace(tracking(*LINES, hire), deposits=DEPOSITS)
    rows = [
        booked("TALL PINE TOOL LOFT", 25029),
        booked("TALL PINE TOOL LOFT", 25029, 7),
        booked("TALL PINE TOOL LOFT", -10000, 8),
    ]
    first, second, back = match(rows, found, (), frozenset())
    assert (first.sure, first.line, first.deposit) == (95, "Wet saw", 10000)
    entered = [(e.line, e.state, e.amount) for e in first.entries()]
    assert entered == [("Wet saw", "paid", 15029.0), ("Wet saw", "deposit paid", 10000.0)]
    assert second.deposit == 0
    assert second.sure < 75
    assert (back.state, back.line) == ("deposit back", "Wet saw")


def test_a_sum_of_hire_and_deposit_that_another_line_owes_is_that_lines() -> None:
    hire = line("Wet saw", "Tall Pine Tool Loft", 28606)
    found = replace(tracking(*LINES, hire), deposits=DEPOSITS)
    (only,) = match([booked("HERON YARD", 38606)], found, (), frozenset())
    assert (only.line, only.deposit) == ("Base stone", 0)


def test_a_row_pays_what_is_left_of_an_order_without_tax_of_its_own() -> None:
    """Ordered for 386.06 and 200.00 paid: 186.06 is exactly what is owed, 586.06 is not."""
    lines = (line("Base stone", "Heron Yard", 38606, 20000), *LINES[1:])
    rest, more = match(
        [booked("CARD 991", 18606), booked("CARD 992", 58606)], tracking(*lines), (), frozenset()
    )
    assert (rest.line, rest.sure) == ("Base stone", 85)
    assert (more.line, more.sure) == ("", 0)
    (paid,) = rest.entries()
    assert (paid.amount, paid.tax, paid.state) == (18606.0, 0.0, "paid")


def test_sums_beneath_the_rows_are_left_out_and_told(tmp_path: Path) -> None:
    path = tmp_path / "may.csv"
    titles = '\ufeff"Stand";"30.04.2026"\r\n\r\nBooking date;Purpose;Debit;Credit\r\n'
    body = '28.04.2026;"HERON YARD\nCARD 0042";370,62;\r\n29.04.2026;MILL;-257,09;\r\n'
    path.write_text(titles + body + ";Total;627,71;\r\nSum;;627,71;\r\n", encoding="utf-8")
    found = read(path, Columns())
    assert [(b.text, b.cents) for b in found] == [("HERON YARD CARD 0042", 37062), ("MILL", 25709)]
    assert sums(path, Columns()) == (6, 7)


def test_money_back_that_is_not_due_is_a_question() -> None:
    paid = replace(line("Base stone", "Heron Yard", 37062, 37062), paid=37062)
    other = replace(line("Bedding sand", "Heron Yard", 7029, 7029), paid=7029)
    row = booked("HERON YARD REFUND", -3000)
    (one,) = match([row], tracking(paid), (), frozenset())
    assert (one.line, one.state, one.sure) == ("Base stone", "refunded", 60)
    (several,) = match([row], tracking(paid, other), (), frozenset())
    assert (several.state, several.sure) == ("refunded", 30)
    (more,) = match([booked("HERON YARD", -99999)], tracking(paid), (), frozenset())
    assert (more.line, more.sure) == ("", 0)


def test_a_sum_that_the_plan_has_for_one_line_of_the_seller_is_that_lines() -> None:
    """Nothing is ordered yet: what the plan has to come says which of the seller's lines it is."""
    planned = [
        replace(line(name, "Button Mill"), to_come=cents)
        for name, cents in (("Card surcharge", 1647), ("Edging", 25709), ("Spikes", 15762))
    ]
    (found,) = match([booked("BUTTON MILL", 15762)], tracking(*planned), (), frozenset())
    assert (found.line, found.sure) == ("Spikes", 70)
    (near,) = match([booked("BUTTON MILL", 24000)], tracking(*planned), (), frozenset())
    assert (near.line, near.sure) == ("Edging", 30)
