"""Every command on the examples, in words and as JSON."""

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

Run = Callable[..., Result]
ROOT = Path(__file__).parents[2]


def valid(result: Result, name: str) -> dict[str, Any]:
    """The one object on standard output, checked against its schema."""
    document: dict[str, Any] = json.loads(result.stdout)
    _, named, number = document["schema"].split("/")
    assert named == name
    path = ROOT / f"budget/report/schema/{name}-{number}.json"
    jsonschema.validate(
        document, json.loads(path.read_text(encoding="utf-8")), jsonschema.Draft202012Validator
    )
    return document


@pytest.fixture
def copied(terrace: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(terrace, tmp_path / "terrace.xlsx"))


@pytest.fixture
def bowl(small: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(small, tmp_path / "bowl.xlsx"))


@pytest.fixture
def broken(copied: Path) -> Path:
    """A workbook with two slips: a shape that is none, and a quote for minus one dollar."""
    book = openpyxl.load_workbook(copied)
    for name, title, text in (("Areas", "Shape", "blob"), ("Quotes", "Price", -1)):
        sheet = book[name]
        for row in sheet.iter_rows():
            titles = [str(cell.value or "") for cell in row]
            column = next((i for i, t in enumerate(titles) if t.startswith(title)), None)
            if column is not None and len([t for t in titles if t]) > 2:
                sheet.cell(row[0].row + 1, column + 1).value = text
                break
    book.save(copied)
    return copied


@pytest.fixture
def crossing(copied: Path) -> Path:
    """A workbook whose path crosses itself: two of its corners have changed places."""
    book = openpyxl.load_workbook(copied)
    sheet = book["Outline"]
    rows = [row for row in sheet.iter_rows(min_row=5) if row[0].value == "Path"]
    for column in (2, 3):
        one, other = rows[1][column], rows[2][column]
        one.value, other.value = other.value, one.value
    book.save(copied)
    return copied


@pytest.mark.parametrize("command", ["check", "quantities", "compare", "calendar"])
def test_a_shape_that_cannot_be_stops_every_answer(run: Run, crossing: Path, command: str) -> None:
    """An answer without the path would be one for another job."""
    result = run(command, crossing)
    assert result.exit_code == 1
    said = result.stdout if command == "check" else result.stderr
    assert "an outline that crosses itself" in said
    assert "Outline!" in said
    assert "Cash" not in result.stdout


# --- start -----------------------------------------------------------------------------------


def test_start_writes_a_workbook_and_says_what_is_next(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "my patio.xlsx"
    result = run("start", path)
    assert result.exit_code == 0
    assert {"Job", "Areas", "Quotes"} <= set(openpyxl.load_workbook(path).sheetnames)
    assert "budget check" in result.stderr


def test_start_never_overwrites_without_force(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "patio.xlsx"
    path.write_bytes(b"mine")
    result = run("start", path)
    assert result.exit_code == 3
    assert "--force" in result.stderr
    assert path.read_bytes() == b"mine"
    assert run("start", path, "--force").exit_code == 0
    assert path.read_bytes() != b"mine"


def test_start_adds_the_ending_of_a_workbook(run: Run, tmp_path: Path) -> None:
    assert run("start", tmp_path / "patio").exit_code == 0
    assert (tmp_path / "patio.xlsx").is_file()


def test_start_without_a_path_says_what_to_type(run: Run) -> None:
    result = run("start")
    assert result.exit_code == 2
    assert "budget start my-patio.xlsx" in result.stderr


@pytest.mark.parametrize("order", ["path first", "path last"])
def test_bare_example_is_the_terrace(run: Run, tmp_path: Path, order: str) -> None:
    path = tmp_path / "try.xlsx"
    args = ("--example", path) if order == "path last" else (path, "--example")
    document = valid(run("start", *args, "--json"), "start")
    assert (document["example"], document["units"]) == ("terrace", "imperial")
    assert path.is_file()


def test_example_brings_its_own_units(run: Run, tmp_path: Path) -> None:
    document = valid(run("start", tmp_path / "c.xlsx", "--example", "Courtyard", "--json"), "start")
    assert (document["example"], document["units"]) == ("courtyard", "metric")


def test_example_in_other_units_is_refused(run: Run, tmp_path: Path) -> None:
    result = run("start", tmp_path / "c.xlsx", "--example", "courtyard", "--units", "imperial")
    assert result.exit_code == 2
    assert "written in metric" in result.stderr
    assert not (tmp_path / "c.xlsx").exists()


def test_unknown_example_offers_the_nearest(run: Run, tmp_path: Path) -> None:
    result = run("start", tmp_path / "x.xlsx", "--example", "terace")
    assert result.exit_code == 2
    assert "Did you mean “terrace”" in result.stderr
    assert not (tmp_path / "x.xlsx").exists()


def test_quiet_start_says_nothing(run: Run, tmp_path: Path) -> None:
    assert run("start", tmp_path / "x.xlsx", "--quiet").output == ""


# --- check -----------------------------------------------------------------------------------


def test_check_of_a_sound_workbook(run: Run, terrace: Path) -> None:
    result = run("check", terrace)
    assert result.exit_code == 0
    assert "No problems found" in result.stdout
    document = valid(run("check", terrace, "--json"), "check")
    assert document["ok"] is True
    assert document["job"]["currency"] == "USD"


def test_check_tells_every_problem_with_its_cell(run: Run, broken: Path) -> None:
    result = run("check", broken)
    assert result.exit_code == 1
    assert "2 problems to mend" in result.stdout
    assert "blob" in result.stdout
    document = valid(run("check", broken, "--json"), "check")
    assert {p["sheet"] for p in document["problems"]} == {"Areas", "Quotes"}
    assert all("!" in p["cell"] for p in document["problems"])


def test_quiet_check_prints_problems_only(run: Run, terrace: Path, broken: Path) -> None:
    assert run("check", terrace, "--quiet").output == ""
    assert "No problems" not in run("check", broken, "--quiet").stdout


@pytest.mark.parametrize("command", ["quantities", "compare", "spend"])
def test_problems_stop_the_other_commands(run: Run, broken: Path, command: str) -> None:
    result = run(command, broken)
    assert result.exit_code == 1
    assert result.stdout == ""
    assert "2 problems to mend" in result.stderr
    assert not (broken.parent / "reports").exists()
    assert valid(run(command, broken, "--json"), "check")["ok"] is False


# --- quantities ------------------------------------------------------------------------------


def test_quantities_in_words(run: Run, terrace: Path) -> None:
    result = run("quantities", terrace)
    assert result.exit_code == 0
    for words in ("Base stone", "To order", "In packs, by quote", "Why the extra", "cu yd"):
        assert words in result.stdout


def test_quantities_in_json(run: Run, terrace: Path) -> None:
    document = valid(run("quantities", terrace, "--json"), "quantities")
    assert document["packs"]
    edging = [row for row in document["quantities"] if row["line"] == "Edging"]
    assert edging
    for row in edging:
        assert row["need"] == pytest.approx(row["net"] * (1 + row["overage"]))


def test_what_a_wall_adds_to_a_step_stands_in_the_amount_of_its_part(
    run: Run, tmp_path: Path
) -> None:
    """What is dug for the seat wall is dug under either bedding of the yard."""
    path = tmp_path / "yard.xlsx"
    run("start", path, "--example", "courtyard")
    document = valid(run("quantities", path, "--json"), "quantities")
    dug = [row for row in document["work"] if (row["step"], row["part"]) == ("Dig", "Yard")]
    wall = sum(row["amount"] for row in dug if not row["bedding"])
    assert wall > 0
    table = run("quantities", path).stdout.partition("\nWork\n")[2]
    told = re.findall(r"^  Dig +Yard +([\d,]+) m³ +(\w.*)$", table, re.MULTILINE)
    assert {bedding.strip(): float(amount.replace(",", ".")) for amount, bedding in told} == {
        row["bedding"]: pytest.approx(row["amount"] + wall, abs=0.006)
        for row in dug
        if row["bedding"]
    }


def test_quiet_quantities_is_one_table(run: Run, terrace: Path) -> None:
    assert "Assumed" not in run("quantities", terrace, "--quiet").stdout


# --- compare ---------------------------------------------------------------------------------


def test_compare_writes_both_files_and_says_where(run: Run, bowl: Path) -> None:
    result = run("compare", bowl)
    assert result.exit_code == 0, result.output
    folder = bowl.parent / "reports"
    assert sorted(p.name for p in folder.iterdir()) == [
        "bowl-comparison.xlsx", "bowl-summary.html",
    ]  # fmt: skip
    assert str(folder / "bowl-summary.html") in result.stdout
    assert "the best plan so far is" in result.stdout


def test_compare_of_a_workbook_among_workbooks_writes_beside_them(run: Run, bowl: Path) -> None:
    folder = bowl.parent / "workbooks"
    folder.mkdir()
    moved = bowl.rename(folder / bowl.name)
    assert run("compare", moved).exit_code == 0
    assert (bowl.parent / "reports" / "bowl-summary.html").is_file()


def test_compare_json_is_one_object_and_adds_up(run: Run, terrace: Path, tmp_path: Path) -> None:
    pin = ("--pin", "step:Dig=hire")
    result = run("compare", terrace, "--json", "--out", tmp_path / "elsewhere", *pin)
    document = valid(result, "compare")
    assert Path(document["files"]["page"]).is_file()
    names = {s["name"] for s in document["scenarios"]}
    assert len(names) >= 4
    assert {"sand", "small gravel"} <= {s["bedding"] for s in document["scenarios"]}
    for scenario in document["scenarios"]:
        if scenario["feasible"]:
            lines = sum(round(line["cash"] * 100) for line in scenario["lines"])
            assert lines == round(scenario["cash"] * 100)
    pinned = [s for s in document["scenarios"] if s["name"] == "As pinned" and s["feasible"]]
    assert pinned
    assert all(s["choices"]["step:Dig"].startswith("bid: ") for s in pinned)


def test_compare_without_files(run: Run, bowl: Path) -> None:
    result = run("compare", bowl, "--no-files")
    assert result.exit_code == 0
    assert not (bowl.parent / "reports").exists()
    assert valid(run("compare", bowl, "--no-files", "--json"), "compare")["files"] is None


def test_quiet_compare_is_one_line(run: Run, small: Path) -> None:
    result = run("compare", small, "--no-files", "--quiet")
    assert len(result.stdout.splitlines()) == 1
    assert result.stderr == ""


def test_three_sheets_give_a_useful_answer(run: Run, small: Path) -> None:
    result = run("compare", small, "--no-files")
    assert result.exit_code == 0
    assert "best plan so far" in result.stdout
    assert "Fill next" in result.stdout


def test_plan_in_full(run: Run, small: Path) -> None:
    result = run("compare", small, "--no-files", "--plan", "best")
    assert result.exit_code == 0
    assert "in full" in result.stdout
    assert "What is decided" in result.stdout


def test_unknown_plan_offers_names_and_writes_nothing(run: Run, bowl: Path) -> None:
    result = run("compare", bowl, "--plan", "All own hand, sand")
    assert result.exit_code == 2
    assert "All own hands, sand bedding" in result.stderr
    assert not (bowl.parent / "reports").exists()


def test_pin_written_wrongly_is_told(run: Run, small: Path) -> None:
    result = run("compare", small, "--no-files", "--pin", "dig by hand")
    assert result.exit_code == 2
    assert "step:Dig=hire" in result.stderr


@pytest.mark.parametrize(
    ("pin", "told"),
    [
        ("step:Digg=own", "There is no choice called step:Digg; did you mean step:Dig?"),
        ("dig=own", "There is no choice called dig; did you mean step:Dig?"),
        ("step:Dig=ownn", "There is no value of step:Dig called ownn; did you mean own?"),
        ("bedding=glue", "There is no value of bedding called glue; known: sand."),
    ],
)
def test_misspelt_pin_is_wrong_use_and_writes_nothing(
    run: Run, bowl: Path, pin: str, told: str
) -> None:
    result = run("compare", bowl, "--pin", pin)
    assert result.exit_code == 2
    assert result.stderr.strip().splitlines()[-1] == told
    assert not (bowl.parent / "reports").exists()


@pytest.mark.parametrize("name", ["bowel.xlsx", "bowl", "Bowl"])
def test_misspelt_file_name_offers_the_nearest(run: Run, small: Path, name: str) -> None:
    result = run("compare", small.parent / name)
    assert result.exit_code == 3
    assert "Did you mean bowl.xlsx?" in result.stderr


# --- explain ---------------------------------------------------------------------------------


def test_explain_without_a_line_lists_what_can_be_explained(run: Run, small: Path) -> None:
    result = run("explain", small)
    assert result.exit_code == 0
    assert "Base stone" in result.stdout
    assert "Next: budget explain bowl.xlsx" in result.stdout
    listed = valid(run("explain", small, "--json"), "explain-names")["names"]
    names = [name for kind in listed for name in kind["names"]]
    assert names == run("explain", small, "--quiet").stdout.splitlines()
    for name in ("Base stone", "Dig", "step:Dig", "item:Base stone"):
        assert name in names


@pytest.mark.parametrize("at", [0, 1, 2, 3])
def test_one_listed_name_of_each_kind_is_explained(run: Run, small: Path, at: int) -> None:
    kind = valid(run("explain", small, "--json"), "explain-names")["names"][at]
    assert run("explain", small, kind["names"][-1]).exit_code == 0, kind


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("Base stone", "Base stone"), ("dig", "Dig"), ("step:Lay", "step:Lay"),
        ("bedding", "bedding"), ("crusher run", "Base stone"),
    ],
)  # fmt: skip
def test_explain(run: Run, small: Path, line: str, name: str) -> None:
    result = run("explain", small, line)
    assert result.exit_code == 0, result.output
    assert valid(run("explain", small, line, "--json"), "explain")["line"] == name


@pytest.mark.parametrize("line", ["Joint", "step:Joint", "Joint sand"])
def test_explain_tells_what_to_take_care_of(run: Run, small: Path, line: str) -> None:
    """Habits of the trade: swept clean before the plate, at 45 degrees, a day off the joints."""
    said = " ".join(run("explain", small, line).stdout.split())
    assert "Take care: Sweep filler in at 45 degrees to the joints" in said
    assert "the surface clean before the plate runs" in said
    assert "keep people off it for 24 hours" in said


@pytest.mark.parametrize("line", ["Saw blade and its wear", "diamond blades", "stakes"])
def test_small_things_are_explained(run: Run, small: Path, line: str) -> None:
    """A circle of 12 ft: 37.7 ft of edge, stakes 8 ft apart, a blade for its cuts."""
    said = " ".join(run("explain", small, line).stdout.split())
    assert "by the job's sizes" in said
    assert ("37.7 ft" in said) == (line == "stakes")
    assert ("a wet saw suits" in said) == line.startswith("Saw")


def test_the_weight_handled_in_a_step_is_explained(run: Run, small: Path) -> None:
    """All that the step lays is one order here: both weigh the same."""
    laid = valid(run("explain", small, "Lay", "--json"), "explain")
    pavers = valid(run("explain", small, "Paver", "--json"), "explain")
    [step] = [p["result"] for p in laid["parts"] if "carry and handle" in p["title"]]
    assert step in [p["result"] for p in pavers["parts"] if p["title"].endswith("weight")]


def test_explain_cites_cells_and_sources(run: Run, small: Path) -> None:
    document = valid(run("explain", small, "Base stone", "--json"), "explain")
    steps = [step for part in document["parts"] for step in part["steps"]]
    assert any("Areas!" in step["how"] for step in steps)
    assumed = [step for step in steps if step["how"] == "assumed"]
    assert assumed
    assert all(step["source"] for step in assumed)


def test_what_has_no_price_yet_is_explained_by_what_to_fill(run: Run, small: Path) -> None:
    missing = valid(run("compare", small, "--no-files", "--json"), "compare")["missing"]
    assert missing
    for cost in missing[:3]:
        told = run("explain", small, cost["what"].lower())
        assert told.exit_code == 0, told.stderr
        assert f"Not yet priced: {cost['what']}. {cost['hint']}" in told.stdout


def test_explain_in_another_scenario(run: Run, small: Path) -> None:
    result = run("explain", small, "step:Dig", "--scenario", "All own hands")
    assert result.exit_code == 0
    assert "own hands" in result.stdout


def test_explain_of_an_unknown_line_offers_the_nearest(run: Run, small: Path) -> None:
    result = run("explain", small, "Base ston")
    assert result.exit_code == 2
    assert "Did you mean “Base stone”" in result.stderr


def test_check_writes_dates_and_numbers_as_the_job_does(run: Run, tmp_path: Path) -> None:
    """Dollars: month first. Euros: day first, and a comma before decimals."""
    for example, date, number in (
        ("terrace", "until March 15, 2026", "0.188 in"),
        ("courtyard", "until 30 April 2026", "25,4 mm"),
    ):
        book = tmp_path / f"{example}.xlsx"
        run("start", book, "--example", example)
        printed = run("check", book).stdout
        assert date in printed
        assert number in printed


# --- spend -----------------------------------------------------------------------------------


def test_spend_in_words(run: Run, small: Path) -> None:
    result = run("spend", small)
    assert result.exit_code == 0
    assert "Will come to" in result.stdout
    assert len(run("spend", small, "--quiet").stdout.splitlines()) == 1


def test_spend_in_json_adds_up(run: Run, terrace: Path) -> None:
    document = valid(run("spend", terrace, "--json"), "spend")
    assert document["entries"] > 0
    for column in ("planned", "paid", "to_come", "will_come_to"):
        total = sum(round(line[column] * 100) for line in document["lines"])
        assert total == round(document[column] * 100)


def test_spend_against_another_scenario(run: Run, small: Path) -> None:
    document = valid(run("spend", small, "--scenario", "All own hands", "--json"), "spend")
    assert document["scenario"].startswith("All own hands")


def test_spend_without_entries(run: Run, small: Path) -> None:
    result = run("spend", small)
    assert result.exit_code == 0
    assert valid(run("spend", small, "--json"), "spend")["paid"] == 0


def test_workbook_is_never_written_to(run: Run, bowl: Path) -> None:
    before = bowl.read_bytes()
    for args in (("check",), ("quantities",), ("compare", "--no-files"), ("spend",)):
        run(args[0], bowl, *args[1:])
    assert bowl.read_bytes() == before


# --- ask, and start --from -------------------------------------------------------------------


def test_ask_writes_questions(run: Run, copied: Path) -> None:
    result = run("ask", copied)
    assert result.exit_code == 0
    assert (copied.parent / "reports" / "terrace-questions.xlsx").is_file()
    assert "questions" in result.stdout


def test_ask_as_json(run: Run, copied: Path, tmp_path: Path) -> None:
    document = valid(run("ask", copied, "--out", tmp_path / "post", "--json"), "ask")
    assert Path(document["workbook"]).is_file()
    assert {sheet["kind"] for sheet in document["sheets"]} == {"seller", "rental", "hired"}


def test_ask_needs_no_quotes_yet(run: Run, bowl: Path) -> None:
    book = openpyxl.load_workbook(bowl)
    book["Quotes"].delete_rows(5, 100)
    book.save(bowl)
    assert run("check", bowl).exit_code == 1
    assert run("ask", bowl).exit_code == 0


def test_quantities_need_no_quotes_yet(run: Run, bowl: Path) -> None:
    quoted = valid(run("quantities", bowl, "--json"), "quantities")["quantities"]
    book = openpyxl.load_workbook(bowl)
    book["Quotes"].delete_rows(5, 100)
    book.save(bowl)
    unquoted = valid(run("quantities", bowl, "--json"), "quantities")["quantities"]
    base = [n for n in quoted if n["item"] == "Base stone"]
    assert [n for n in unquoted if n["item"] == "Base stone"] == base
    assert "No quote yet for Base stone" in run("quantities", bowl).stdout
    assert run("quantities", bowl, "--thorough").exit_code == 1  # that needs a plan


def test_start_from_an_earlier_workbook(run: Run, copied: Path, tmp_path: Path) -> None:
    new = tmp_path / "next.xlsx"
    result = run("start", new, "--from", copied)
    assert result.exit_code == 0
    assert "4 rows of Suppliers" in result.stderr
    assert new.is_file()
    assert run("start", new, "--from", copied).exit_code == 3  # it is there already
    document = valid(run("start", new, "--from", copied, "--force", "--json"), "start")
    assert document["carried"]["Suppliers"] == 4


def test_start_from_leaves_out_what_it_cannot_join(run: Run, copied: Path, tmp_path: Path) -> None:
    new = tmp_path / "next.xlsx"
    assert run("start", new, "--from", copied, "--units", "metric").exit_code == 2
    assert run("start", new, "--from", tmp_path / "none.xlsx").exit_code == 3
    assert run("start", copied, "--from", copied, "--force").exit_code == 3
    assert not new.exists()
