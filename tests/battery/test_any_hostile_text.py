"""Whatever any cell of words says: no output does anything but show it.

Some words of a demo, names among them, are written otherwise wherever they stand, so that the
workbook stays whole. Then every command runs and every file that it writes is looked through.
"""

from __future__ import annotations

import json
import re
import shutil
import tempfile
import zipfile
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from budget.cli import main
from budget.workbook.sheets.describe import Sheet
from budget.workbook.sheets.tabs import SHEETS
from tests.battery.package import WORKBOOK, Book, demo
from tests.battery.test_security import HOSTILE, Tags

_STARTS = st.sampled_from(["=", "+", "-", "@", "\t=", "<", "&", "'", '"', "../", "C:\\", "{{", "["])
_ENDS = st.sampled_from(
    ['")', "</script>", "/>", "}}", "#", "\u202e", "\u200b", "\ufeff", "|calc!A0"]
)
_MADE = st.builds(lambda a, b, c: f"{a}evil{b}{c}", _STARTS, st.text(max_size=6), _ENDS)
_TEXTS = (st.sampled_from(HOSTILE) | _MADE).filter(
    lambda text: (
        text.isprintable() or not any(ord(c) < 32 or 0xD7FF < ord(c) < 0xE000 for c in text)
    )
)
_COMMANDS = (
    ["check"], ["check", "--json"], ["quantities"], ["compare"], ["compare", "--json"],
    ["ask"], ["calendar"], ["calendar", "--json"], ["explain"], ["accept"], ["spend"],
)  # fmt: skip


def _sheets(book: Book) -> list[Sheet]:
    return [s for s in SHEETS if f'<sheet name="{s.name}"' in book.text(WORKBOOK)]


@cache
def words(name: str) -> tuple[str, ...]:
    """Every text of the demo that stands in a column of free words or names."""
    book, found = demo(name), set()
    for sheet in _sheets(book):
        header, letters = book.header(sheet.name)
        titles = [c.title for c in sheet.columns if c.value == "text" and not c.choices]
        free = {letters[title] for title in titles if title in letters}
        for row in book.data(sheet.name):
            if int(row.get("r", "0")) > header:
                found |= {
                    book.shown(cell) for cell in row
                    if re.sub(r"\d", "", cell.get("r", "")) in free and cell.get("t") == "s"
                }  # fmt: skip
    return tuple(sorted(found - {""}))


def rewritten(book: Book, instead: dict[str, str]) -> Book:
    """The book with some texts written otherwise, wherever they stand."""
    for sheet in _sheets(book):
        for row in book.data(sheet.name):
            for cell in list(row):
                if cell.get("t") == "s" and book.shown(cell) in instead:
                    book.put(sheet.name, cell.get("r", ""), instead[book.shown(cell)])
    return book


def _look_at_screen(result: Result) -> None:
    assert result.exit_code in (0, 1), result.output
    odd = [c for c in result.output if (ord(c) < 32 and c not in "\n\t") or c in "\x7f\u202e\u2066"]
    assert odd == []


def _look_at_page(path: Path) -> None:
    tags = Tags()
    tags.feed(path.read_text(encoding="utf-8"))
    assert not [t for t in tags.found if t[0] in ("iframe", "object", "embed", "base", "img")]
    assert not [t for t in tags.found if re.match(r"on\w+=", t[1]) and "evil" in t[1]]
    links = [t[1].partition("=") for t in tags.found if re.match(r"(href|src|action)=", t[1])]
    assert not [to for _, _, to in links if re.match(r"\s*(javascript:|\w+://|//)", to, re.I)]
    assert not [to for _, _, to in links if "evil" in to and not to.startswith("#")]


def _look_at_workbook(path: Path) -> None:
    with zipfile.ZipFile(path) as parts:
        assert not [n for n in parts.namelist() if "externalLink" in n or "vba" in n]
        for name in parts.namelist():
            text = parts.read(name).decode("utf-8", "replace")
            if name.endswith(".rels"):
                assert "evil" not in text
                assert 'TargetMode="External"' not in text
            for formula in re.findall(r"<f[^>]*>([^<]*)</f>", text):
                plain = formula.replace("&quot;", '"').replace("&amp;", "&")
                assert "evil" not in re.sub(r'"[^"]*"', "", plain)


def _look_at(folder: Path, kept: Path) -> None:
    for path in sorted(p for p in folder.rglob("*") if p.is_file() and p != kept):
        assert re.fullmatch(r"job-[a-z]+\.(xlsx|html|csv)", path.name), path
        if path.suffix == ".html":
            _look_at_page(path)
        elif path.suffix == ".xlsx":
            _look_at_workbook(path)


def _typed(name: str, instead: dict[str, str]) -> None:
    top = Path(tempfile.mkdtemp())
    try:
        folder = top / "deep" / "job"
        folder.mkdir(parents=True)
        path = rewritten(demo(name), instead).save(folder / "job.xlsx")
        before = path.read_bytes()
        for command, *more in _COMMANDS:
            result = CliRunner().invoke(main, [command, str(path), *more])
            if "--json" in more:
                json.loads(result.stdout)
            else:
                _look_at_screen(result)
        _look_at(folder, path)
        assert path.read_bytes() == before
        assert [
            p.relative_to(top).as_posix() for p in top.rglob("job*.xlsx") if p.parent == top
        ] == []
        assert {p.relative_to(top).parts[:2] for p in top.rglob("*") if p.is_file()} == {
            ("deep", "job")
        }
    finally:
        shutil.rmtree(top)


def _instead(name: str) -> st.SearchStrategy[dict[str, str]]:
    """New words for some of a demo, each with a number so that names stay apart."""
    found = st.deferred(lambda: st.sampled_from(words(name)))
    return st.dictionaries(found, _TEXTS, min_size=1, max_size=6).map(
        lambda new: {old: f"{text} {n}" for n, (old, text) in enumerate(sorted(new.items()))}
    )


@settings(max_examples=2, deadline=None, derandomize=True)
@given(_instead("fire-bowl"))
def test_hostile_text_anywhere(instead: dict[str, str]) -> None:
    _typed("fire-bowl", instead)


@pytest.mark.thorough
@settings(max_examples=60, deadline=None, derandomize=True)
@given(_instead("courtyard"))
def test_hostile_text_anywhere_on_every_sheet(instead: dict[str, str]) -> None:
    _typed("courtyard", instead)
