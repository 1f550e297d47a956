"""Where a comparison's files go, and writing them whole or not at all."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from budget.decide.outcome import Comparison
from budget.report.documents.document import Files
from budget.whole_file import whole_file

if TYPE_CHECKING:
    from budget.spend.standing import Standing


def folder_for(workbook: Path) -> Path:
    """The folder for the reports of one quotes workbook.

    A workbook in a folder named ``workbooks`` has its reports in ``reports`` beside that
    folder; any other has them in a folder ``reports`` beside the workbook itself.

    >>> folder_for(Path("workbooks/terrace.xlsx")).as_posix()
    'reports'
    >>> folder_for(Path("garden/patio.xlsx")).as_posix()
    'garden/reports'
    """
    parent = workbook.parent
    name = parent.name or parent.absolute().name
    if name.casefold() == "workbooks":
        above = parent.parent if parent.name else Path("..")
        return above / "reports"
    return parent / "reports"


def write(comparison: Comparison, workbook: Path, out: Path | None = None) -> Files:
    """Write the comparison workbook and the summary page of one quotes workbook.

    The folder is made when it is not there. Raises ``OSError`` when it cannot be written to.
    """
    from budget.report.book.book import write as write_book
    from budget.report.page.page import render

    folder = out or folder_for(workbook)
    folder.mkdir(parents=True, exist_ok=True)
    files = Files(
        workbook=folder / f"{workbook.stem}-comparison.xlsx",
        page=folder / f"{workbook.stem}-summary.html",
    )
    comparison, standing = with_spending(comparison, workbook)
    html = render(comparison, standing)
    write_book(comparison, files.workbook, standing)
    write_whole(files.page, html)
    return files


def write_varied(html: str, workbook: Path, out: Path | None = None) -> Path:
    """Write the page of ``--vary`` beside the other reports of a workbook, whole or not at all.

    :returns: where it is
    """
    folder = out or folder_for(workbook)
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{workbook.stem}-varied.html"
    write_whole(path, html)
    return path


def with_spending(comparison: Comparison, workbook: Path) -> tuple[Comparison, Standing | None]:
    """The comparison with the journal's entries, and how the job stands once there are any."""
    from budget.spend import baseline_book
    from budget.spend.joining import with_journal
    from budget.spend.standing import standing_of

    job = with_journal(comparison.job, workbook).job
    if comparison.best is None or not job.spend:
        return comparison, None
    joined = replace(comparison, job=job)
    baselines = baseline_book.read(baseline_book.path_for(workbook))
    return joined, standing_of(joined, baselines, anew=False)


def write_whole(path: Path, text: str) -> None:
    """Write a text file so that it is there whole or, after a fault, as it was before."""
    with whole_file(path) as scratch:
        scratch.write_text(text, encoding="utf-8", newline="\n")
