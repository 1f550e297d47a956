"""The JSON of every command is valid under its published schema and adds up."""

import datetime as dt
import json
from collections.abc import Callable
from dataclasses import replace
from importlib import resources
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from budget.decide.outcome import Comparison
from budget.job import Place, Spend
from budget.report.documents import commands
from budget.report.documents.document import Files, as_json
from budget.report.documents.parts import assumption
from budget.report.explain.lines import explain
from budget.report.needs import quantities
from budget.report.review import Review
from budget.report.starting import Begun
from budget.spend import track

Build = Callable[..., Comparison]
SCHEMAS = Path(__file__).parents[2] / "budget/report/schema"


def schema(name: str, number: str = "1") -> dict[str, Any]:
    path = resources.files("budget.report") / "schema" / f"{name}-{number}.json"
    loaded: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return loaded


def validated(document: dict[str, Any]) -> dict[str, Any]:
    """The document as a reader gets it, checked against the schema that it names."""
    read: dict[str, Any] = json.loads(json.dumps(document, allow_nan=False))
    _, name, number = read["schema"].split("/")
    jsonschema.validate(read, schema(name, number), jsonschema.Draft202012Validator)
    return read


def cents(amount: float) -> int:
    """An amount as whole cents; fails when it is not exact to the cent."""
    whole = round(amount * 100)
    assert abs(amount * 100 - whole) < 1e-6
    return whole


@pytest.mark.parametrize(
    "name",
    [
        "compare",
        "check",
        "quantities",
        "explain",
        "accept",
        "record",
        "statement",
        "spend",
        "start",
        "error",
    ],
)
def test_schemas_are_themselves_valid(name: str) -> None:
    newest = max(SCHEMAS.glob(f"{name}-[0-9].json")).stem.rpartition("-")[2]
    jsonschema.Draft202012Validator.check_schema(schema(name, newest))


def test_comparison_is_valid_and_its_lines_add_up(small_comparison: Build) -> None:
    files = Files(Path("reports/a-comparison.xlsx"), Path("reports/a-summary.html"))
    read = validated(as_json(small_comparison(), files))
    built = [s for s in read["scenarios"] if s["feasible"]]
    assert len(built) == 3
    for scenario in built:
        assert sum(cents(line["cash"]) for line in scenario["lines"]) == cents(scenario["cash"])
        hours = sum(line["own_hours"] for line in scenario["lines"])
        assert hours == pytest.approx(scenario["own_hours"], abs=1e-4)
        assert cents(scenario["total"]) == pytest.approx(
            cents(scenario["cash"]) + scenario["own_hours"] * cents(scenario["hour_value"]), abs=1
        )
    assert read["best"]["cash"] == built[0]["cash"]
    assert read["files"]["page"] == "reports/a-summary.html"


def test_refused_scenario_says_why_and_has_no_cash(small_comparison: Build) -> None:
    read = validated(as_json(small_comparison()))
    refused = next(s for s in read["scenarios"] if not s["feasible"])
    assert refused["why_not"] == "no bid covers Lay"
    assert refused["cash"] is None
    assert refused["lines"] == []
    assert read["files"] is None


def test_no_plan_at_all_is_valid_too(small_comparison: Build) -> None:
    nothing = replace(small_comparison(), best=None, hired=None, complete=False, frontier=())
    assert validated(as_json(nothing))["best"] is None


def test_quantities_tell_packs_of_the_best_plan(small_comparison: Build) -> None:
    rows = {q["line"]: q for q in validated(as_json(small_comparison()))["quantities"]}
    assert (rows["Base stone"]["order"], rows["Base stone"]["order_unit"]) == (5, "pack")
    # 20 m² by 0.1 m at 2,200 kg/m³ is 4,400 kg, which is 9,700.3 lb
    assert rows["Base stone"]["weight"] == pytest.approx(4400 / 0.45359237)
    assert rows["Base stone"]["weight_unit"] == "lb"


def test_last_plan_of_the_frontier_has_no_upper_end(small_comparison: Build) -> None:
    frontier = validated(as_json(small_comparison()))["frontier"]
    assert frontier[-1]["to_hour_value"] is None
    assert frontier[0]["to_hour_value"] == frontier[1]["hour_value"]


def test_assumed_values_are_numbers_with_units(small_comparison: Build) -> None:
    assumed = small_comparison().assumed[0]
    assert assumption(assumed) | {"source": ""} == {
        "what": "Base depth", "value": 4.0, "unit": "in", "source": "", "sheet": "Build-up",
    }  # fmt: skip
    assert assumption(replace(assumed, value="running bond"))["value"] == "running bond"


def test_check_document_is_valid(small_comparison: Build) -> None:
    comparison = small_comparison()
    warning = comparison.warnings[0]
    fine = Review(comparison.job, (), (warning,), comparison.assumed)
    assert validated(commands.check(fine))["ok"] is True
    bad = Review(None, (replace(warning, severity="problem"),), (), ())
    read = validated(commands.check(bad))
    assert (read["ok"], read["problems"][0]["cell"]) == (False, "Quotes!F4")


def test_quantities_document_is_valid(small_comparison: Build) -> None:
    comparison = small_comparison()
    found = quantities(comparison.takeoff, comparison.options)
    read = validated(commands.quantities(comparison.job, found))
    assert [row["line"] for row in read["quantities"]] == ["Base stone", "Paver"]
    assert read["unquoted"] == ["Base stone", "Paver"]


def test_explain_document_is_valid(small_comparison: Build) -> None:
    comparison = small_comparison()
    read = validated(commands.explanation(comparison.job, explain(comparison, "base stone")))
    numbers = [step["number"] for part in read["parts"] for step in part["steps"]]
    assert numbers == list(range(1, len(numbers) + 1))


def test_spend_document_is_valid_and_adds_up(small_comparison: Build) -> None:
    comparison = small_comparison()
    entry = Spend(
        place=Place("Spend", 3, {"line": "B"}), date=dt.date(2026, 4, 8), line="Paver",
        amount=50000, tax=3000, state="paid", own_hours=2,
    )  # fmt: skip
    job = replace(comparison.job, spend=(entry,))
    found = track(replace(comparison, job=job))
    read = validated(commands.spend(job, found))
    for column in ("planned", "ordered", "paid", "to_come", "will_come_to", "refund_due"):
        assert sum(cents(line[column]) for line in read["lines"]) == cents(read[column])
    assert read["paid"] == 530.0


def test_start_and_error_documents_are_valid() -> None:
    assert validated(commands.start(Begun(Path("a.xlsx"), "metric", "")))["example"] is None
    assert validated(commands.error(3, "a.xlsx is not there."))["status"] == 3
