"""What if and why not on the command line."""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import Result

Run = Callable[..., Result]


def read(result: Result, name: str) -> dict[str, Any]:
    """The JSON of a command, held against its schema."""
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    _, named, number = found["schema"].split("/")
    assert named == name
    schema = resources.files("budget.report") / "schema" / f"{name}-{number}.json"
    jsonschema.validate(found, json.loads(schema.read_text(encoding="utf-8")))
    return found


def test_a_dearer_hour_never_takes_more_own_hours(run: Run, small: Path) -> None:
    vary = "Job:Value of an own hour=0..60 by 30"
    found = read(run("compare", small, "--vary", vary, "--json"), "vary")
    assert [row["value"] for row in found["rows"]] == ["0", "30", "60"]
    hours = [row["own_hours"] for row in found["rows"]]
    assert hours == sorted(hours, reverse=True)


def test_a_changed_value_holds_for_one_run(run: Run, small: Path) -> None:
    before = small.read_bytes()
    change = ("--set", "Job:Value of an own hour=35")
    found = read(run("compare", small, "--no-files", "--json", *change), "compare")
    assert small.read_bytes() == before
    assert {s["hour_value"] for s in found["scenarios"]} == {35}


def test_forcing_what_cannot_be_says_why(run: Run, small: Path) -> None:
    found = read(run("explain", small, "step:Lay=hire", "--json"), "why-not")
    assert found["possible"] or "No bid covers" in found["sentence"]


@pytest.mark.parametrize(
    ("order", "words"),
    [
        (("explain", "step:Lyy=hire"), "did you mean step:Lay"),
        (("compare", "--set", "Nowhere!A1=3"), "There is no sheet named Nowhere"),
        (("compare", "--vary", "Sales tax=0..9"), "Did you mean Job:Sales tax?"),
        (("explain", "bid:Nobody"), "The workbook has no bid"),
        (("compare", "--vary", "Job:Value of an own hour=9..3"), "does not rise"),
    ],
)
def test_what_is_typed_wrongly_is_said(
    run: Run, small: Path, order: tuple[str, ...], words: str
) -> None:
    result = run(order[0], small, *order[1:])
    assert result.exit_code == 2
    assert words in result.stderr


def test_a_bid_is_told_with_its_gaps(run: Run, terrace: Path) -> None:
    found = read(run("explain", terrace, "bid:whole job without goods", "--json"), "bid")
    assert found["bid"] == "Whole job without goods"
    gaps = {fill["gap"]: fill for fill in found["fills"]}
    assert "Base stone" in gaps["Materials of its steps"]["how"]
    assert "Work it leaves" not in gaps
    filled = sum(fill["cash"] for fill in found["fills"])
    assert found["cash"] == pytest.approx(found["price"] + filled, abs=0.005)
    assert found["risks"] == [
        "You pay for rock or rubble found.",
        "You pay for putting right what settles.",
    ]
    unknown = run("explain", terrace, "bid:Whole jobb")
    assert unknown.exit_code == 2
    assert "Whole job" in unknown.stderr


def test_thorough_adds_margins_and_trades(run: Run, small: Path, tmp_path: Path) -> None:
    plain = read(run("compare", small, "--no-files", "--json"), "compare")
    assert plain["deeper"] is None
    found = read(run("compare", small, "--thorough", "--out", tmp_path, "--json"), "compare")
    margins = {m["what"]: m for m in found["deeper"]["margins"]}
    assert margins["paving"]["unit"] == "sq ft"
    assert margins["paving"]["smooth"] > 0
    trades = [(t["cash"], t["own_hours"]) for t in found["deeper"]["trades"]["plans"]]
    assert trades == sorted(trades)
    assert [h for _, h in trades] == sorted((h for _, h in trades), reverse=True)
    page = (tmp_path / "bowl-summary.html").read_text(encoding="utf-8")
    assert 'id="margins"' in page
    assert 'id="trades"' in page
    near = page.split('id="trades"')[1].split("</table>")[0]
    assert near.count("<tr") - 1 == min(7, len(trades))  # those about the best plan, all folded
    best = found["best"]
    assert f"{best['own_hours']:.2f}<" in near
    words = run("compare", small, "--thorough", "--no-files").stdout
    assert "What a little more costs, with this plan" in words


def test_a_limit_that_does_not_hold_is_fitted(run: Run, terrace: Path, tmp_path: Path) -> None:
    change = ("--set", "Job:Spending limit=4700")
    found = read(run("compare", terrace, "--out", tmp_path, "--json", *change), "compare")
    fit = found["fit"]
    assert fit["possible"]
    assert fit["cash"] <= 4700
    assert fit["own_hours"] > found["best"]["own_hours"]
    assert fit["change"]
    assert 'id="fit"' in (tmp_path / "terrace-summary.html").read_text(encoding="utf-8")
    held = read(run("compare", terrace, "--no-files", "--json"), "compare")
    assert held["fit"] is None


def test_a_range_is_drawn_on_a_page(run: Run, small: Path, tmp_path: Path) -> None:
    vary = ("--vary", "Job:Value of an own hour=0..60 by 30")
    found = read(run("compare", small, *vary, "--out", tmp_path, "--json"), "vary")
    page = Path(found["page"]).read_text(encoding="utf-8")
    for row in found["rows"]:  # each point says its value and its cash
        assert f"at {row['value']}: ${row['cash']:,.2f} cash" in page
    printed = run("compare", small, *vary, "--no-files").stdout
    assert "Page" not in printed
    bars = [line.count("#") for line in printed.splitlines() if "#" in line]
    assert bars == sorted(bars)  # the dearer an hour, the dearer the whole
    assert bars[-1] == 18
