"""Text from a workbook is data in every output: no markup, formula, escape or path comes of it."""

from __future__ import annotations

import json
import re
import zipfile
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from openpyxl import load_workbook

from budget.cli import main
from tests.battery.package import Book, demo, whole

#: One of each kind of attack; ``evil`` marks it in every output. [OWASP: CSV injection; XSS]
HOSTILE = (
    '<script>evil()</script><img src=x onerror="evil()">',
    '"><a href="javascript:evil()">',
    '=HYPERLINK("http://evil.example","evil")',
    "+evil|' /C calc'!A0",
    "@SUM(evil)",
    "../../evil/../evil",
    "C:\\evil\\..\\evil:*?[x]",
    "_x001B_[31mevil_x0007_",
    "{{ evil }}{% evil %}${evil}",
    "evil\u202e\u2066\u200b",
    "[red]evil[/red] http://evil.example",
    "-evil</style></title></svg><svg onload=evil()>",
)


def hostile_book(path: Path) -> Path:
    """The small demo with hostile text in every place that takes words."""
    book: Book = demo("fire-bowl")
    text = iter(HOSTILE * 3)
    book.put("Job", book.setting("Job name"), next(text))
    book.put("Areas", book.at("Areas", "Part", 1), next(text))
    paver = "<b>evil paver</b>"
    book.put("Areas", book.at("Areas", "Paver", 1), paver)
    book.put("Quotes", book.at("Quotes", "Item", 1), paver)
    sellers = {"Heron Yard": HOSTILE[5], "Blue Teapot Gardens": HOSTILE[0]}
    for row in range(1, 7):
        cell = book.cell("Quotes", book.at("Quotes", "Supplier", row))
        seller = sellers[book.shown(cell)]
        book.put("Quotes", book.at("Quotes", "Supplier", row), seller)
        note = next(text)
        plain = note if not note.startswith("=") else f"'{note}"
        book.put("Quotes", book.at("Quotes", "Note", row), plain)
    return book.save(path)


class Tags(HTMLParser):
    """Every tag and attribute of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [(tag, f"{name}={value}") for name, value in attrs] or [(tag, "")]


@pytest.fixture(scope="module")
def outputs(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[Result]]:
    """The folder and the results of commands on the hostile workbook."""
    folder = tmp_path_factory.mktemp("hostile") / "deep" / "job"
    folder.mkdir(parents=True)
    path = hostile_book(folder / "job.xlsx")
    commands = (["check"], ["quantities"], ["compare"], ["compare", "--json"], ["ask"])
    results = [CliRunner().invoke(main, [c[0], str(path), *c[1:]]) for c in commands]
    return folder, results


def test_every_command_works_on_hostile_text(outputs: tuple[Path, list[Result]]) -> None:
    hostile_first = outputs[1][0].output
    assert [r.exit_code for r in outputs[1]] == [0] * 5, hostile_first


def test_nothing_steers_the_terminal(outputs: tuple[Path, list[Result]]) -> None:
    for result in outputs[1]:
        odd = [
            c for c in result.output if (ord(c) < 32 and c not in "\n\t") or c in "\x7f\u202e\u2066"
        ]
        assert odd == []


def test_no_markup_comes_of_text(outputs: tuple[Path, list[Result]]) -> None:
    (page,) = outputs[0].rglob("*-summary.html")
    html = page.read_text(encoding="utf-8")
    assert "evil" in html
    tags = Tags()
    tags.feed(html)
    assert [t for t in tags.found if t[0] in ("img", "iframe", "object", "embed", "base")] == []
    assert [t for t in tags.found if re.match(r"on\w+=", t[1]) and "evil" in t[1]] == []
    assert [t for t in tags.found if re.match(r"(href|src)=\s*javascript:", t[1])] == []
    own = whole("fire-bowl")  # as many scripts as a page of harmless text has
    clean = outputs[0] / "clean.xlsx"
    own.save(clean)
    assert CliRunner().invoke(main, ["compare", str(clean)]).exit_code == 0
    harmless = (outputs[0] / "reports" / "clean-summary.html").read_text(encoding="utf-8")
    assert html.count("<script") == harmless.count("<script")


def test_no_formula_or_link_comes_of_text(outputs: tuple[Path, list[Result]]) -> None:
    books = sorted((outputs[0] / "reports").glob("job-*.xlsx"))
    assert len(books) >= 2
    for path in books:
        book = load_workbook(path)
        for sheet in book.worksheets:
            formulas = [c for row in sheet.iter_rows() for c in row if c.data_type == "f"]
            outside_quotes = [re.sub(r'"[^"]*"', "", str(c.value)) for c in formulas]
            assert not any("evil" in text for text in outside_quotes)
            assert not re.search(r"[\\/?*\[\]:]", sheet.title)
        with zipfile.ZipFile(path) as parts:
            links = [n for n in parts.namelist() if n.endswith(".rels")]
            assert not any(b"evil" in parts.read(name) for name in links)


def test_no_path_comes_of_text(outputs: tuple[Path, list[Result]]) -> None:
    top = outputs[0].parents[1]
    written = {p.relative_to(top).as_posix() for p in top.rglob("*") if p.is_file()}
    assert all(name.startswith("deep/job/") for name in written)
    assert not any("evil" in name for name in written)


def test_the_document_is_whole(outputs: tuple[Path, list[Result]]) -> None:
    assert "evil" in json.dumps(json.loads(outputs[1][3].stdout))


@pytest.mark.parametrize("text", ["=1+evil", "+evil", "-evil", "@evil", "'=evil", "''"])
def test_the_journal_opens_in_a_spreadsheet_without_formulas(tmp_path: Path, text: str) -> None:
    import csv
    import datetime as dt

    from budget.job import Place, Spend
    from budget.spend import journal

    path = tmp_path / "job-entries.csv"
    entry = Spend(
        place=Place("Spend", 1), date=dt.date(2026, 4, 6), line=text, supplier=text, what=text,
        amount=-500.0, state="paid", receipt=text,
    )  # fmt: skip
    journal.append(path, [journal.Recorded(entry, "")])
    rows = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))
    words = [rows[0][name] for name in ("line", "supplier", "what", "receipt")]
    assert not any(word[0] in "=+-@" for word in words)
    (read,) = journal.read(path).entries
    assert (read.line, read.supplier, read.what, read.receipt) == (text,) * 4
    assert read.amount == -500.0
