"""The cutting plan as drawn, against lengths counted on paper."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from budget.quantities.takeoff import Cut, CuttingPlan
from budget.report.drawing.cutting import cutting

PLAN = CuttingPlan(
    "2x4",
    ("Bench",),
    0.004,
    (
        Cut("2x4 12 ft", 3.6, 2, (1.2, 1.2, 0.3), ("seat", "seat", "<leg>"), 0.888),
        Cut("2x4 8 ft", 2.4, 1, (2.4,), ("back",), 0.0),
    ),
    True,
    "no plan needs fewer",
)


def percent(text: str | None) -> float:
    assert text is not None
    return float(text.removesuffix("%"))


def test_pieces_are_as_long_as_they_are_cut_and_a_saw_cut_apart() -> None:
    root = ET.fromstring(str(cutting("c", "Cutting plan", PLAN, "metric")))
    stock = [percent(r.get("width")) for r in root.iter("rect") if r.get("class") == "waste"]
    assert stock == [pytest.approx(100), pytest.approx(100 * 2.4 / 3.6, abs=0.01)]
    sawn = [r for r in root.iter("rect") if r.get("class") == "sawn"]
    starts = [percent(r.get("x")) for r in sawn]
    wide = [percent(r.get("width")) for r in sawn]
    assert wide == pytest.approx([100 / 3, 100 / 3, 100 / 12, 100 * 2 / 3], abs=0.01)
    # 1.2 m and 4 mm of saw, twice
    assert starts == pytest.approx([0, 100 * 1.204 / 3.6, 100 * 2.408 / 3.6, 0], abs=0.01)


def test_names_are_text_and_stand_only_where_they_fit() -> None:
    root = ET.fromstring(str(cutting("c", "Cutting plan", PLAN, "metric")))
    written = [t.text for t in root.iter("text")]
    assert written[0] == "2 × 2x4 12 ft, 3,600 mm"
    assert not any("leg" in (t or "") for t in written)
    assert "<leg>" in [(t.text or "").split(",")[0] for t in root.iter("title")]
