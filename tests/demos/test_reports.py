"""What lies in ``reports/`` is what the tool writes today for the committed demos."""

import filecmp
from pathlib import Path

import pytest
from click.testing import CliRunner

from budget.cli import main

ROOT = Path(__file__).parent.parent.parent
DEMOS = ["terrace", "courtyard", "fire-bowl"]


@pytest.mark.parametrize("name", DEMOS)
def test_reports_are_current(name: str, tmp_path: Path) -> None:
    arguments = ["compare", str(ROOT / "workbooks" / f"{name}.xlsx"), "--out", str(tmp_path)]
    result = CliRunner().invoke(main, arguments, standalone_mode=False)
    assert result.exception is None
    written = sorted(path.name for path in tmp_path.iterdir())
    assert written == [f"{name}-comparison.xlsx", f"{name}-summary.html"]
    for file in written:
        same = filecmp.cmp(ROOT / "reports" / file, tmp_path / file, shallow=False)
        assert same, f"{file} is out of date"


@pytest.mark.parametrize("picture", ["terrace-page-phone", "terrace-workbook", "terrace-terminal"])
def test_pictures_of_the_readme_are_there(picture: str) -> None:
    assert f"reports/{picture}.png" in (ROOT / "README.md").read_text(encoding="utf-8")
    assert (ROOT / "reports" / f"{picture}.png").stat().st_size > 5000
