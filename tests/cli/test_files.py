"""Where reports go, and that a file is there whole or as it was."""

from pathlib import Path

import pytest

from budget.report.files import folder_for, write_whole


@pytest.mark.parametrize(
    ("workbook", "folder"),
    [
        ("garden/patio.xlsx", "garden/reports"),
        ("garden/workbooks/patio.xlsx", "garden/reports"),
        ("garden/Workbooks/patio.xlsx", "garden/reports"),
        ("workbooks/patio.xlsx", "reports"),
    ],
)
def test_reports_lie_beside_the_workbooks(workbook: str, folder: str) -> None:
    assert folder_for(Path(workbook)) == Path(folder)


def test_a_bare_name_goes_by_the_folder_it_is_run_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    inside = tmp_path / "workbooks"
    inside.mkdir()
    monkeypatch.chdir(tmp_path)
    assert folder_for(Path("patio.xlsx")).resolve() == tmp_path / "reports"
    monkeypatch.chdir(inside)
    assert folder_for(Path("patio.xlsx")).resolve() == tmp_path / "reports"


def test_a_fault_leaves_the_old_file_and_no_scrap(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "page.html"
    path.write_text("old", encoding="utf-8")

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(OSError, match="No space"):
        write_whole(path, "new")
    assert path.read_text(encoding="utf-8") == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["page.html"]


def test_a_whole_file_replaces_the_old(tmp_path: Path) -> None:
    path = tmp_path / "page.html"
    write_whole(path, "old")
    write_whole(path, "new\n")
    assert path.read_bytes() == b"new\n"
