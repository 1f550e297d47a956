"""Cutting plans and span checks in words."""

from types import SimpleNamespace

from budget.figures import constant
from budget.job import Place, Settings
from budget.quantities.takeoff import Cut, CuttingPlan, SpanCheck
from budget.report.explain.cutting import cutting_remarks
from budget.units import DEPTH, INCH


def comparison():
    lengths = (48 * INCH, 48 * INCH, 20 * INCH)
    cut = Cut("Board 10", 120 * INCH, 2, lengths, ("slat", "slat", "rail"), 3.625 * INCH)
    plan = CuttingPlan("2x4", ("Bench",), INCH / 8, (cut,), True, "an exact search found none")
    bends, limit = constant(0.25 * INCH, DEPTH, "bends"), constant(0.2 * INCH, DEPTH, "may bend")
    span = SpanCheck("Bench", "slat", "Board 10", bends, limit, 700.0, True)
    return SimpleNamespace(
        job=SimpleNamespace(settings=Settings(place=Place("Job", 1))),
        takeoff=SimpleNamespace(cutting=(plan,), spans=(span,)),
    )


def test_a_stock_tells_how_it_is_cut_and_whether_it_holds():
    head, cut, span = cutting_remarks(comparison(), "board 10")
    assert head.startswith("Cutting plan of 2x4 for Bench: 2 stock lengths; the saw takes 0.125 in")
    assert cut == "2 x Board 10 (120 in): 2 x slat 48 in, 1 x rail 20 in; 3.625 in left."
    assert "bends too far: 0.25 in in the middle, at most 0.2 in; $7.00" in span


def test_a_size_and_a_piece_are_known_too():
    assert len(cutting_remarks(comparison(), "2x4")) == 2
    assert len(cutting_remarks(comparison(), "slat")) == 1
    assert cutting_remarks(comparison(), "base stone") == []
