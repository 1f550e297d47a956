"""Explanations on the page: cut where another place explains, never longer than a limit."""

from __future__ import annotations

from budget.figures import Figure, given, product, total
from budget.report.page.how import MOST, how, sources
from budget.units import AREA, LENGTH, NUMBER


def area() -> Figure:
    long, wide = given(4, LENGTH, "length", "Areas!D2"), given(5, LENGTH, "width", "Areas!E2")
    return product("area", AREA, long, wide)


def test_every_step_is_shown_inputs_first() -> None:
    shown = how("Area", area(), "metric", {})
    assert [(s.name, s.result) for s in shown.steps] == [
        ("length", "4 m"), ("width", "5 m"), ("area", "20 m²"),
    ]  # fmt: skip
    assert shown.left_out == 0


def test_a_figure_with_a_place_of_its_own_is_not_explained_again() -> None:
    first, second = area(), area().called("other area")
    shown = how("Both", total("both", [first, second]), "metric", {id(first): "see Quantities"})
    assert [s.name for s in shown.steps] == ["area", "length", "width", "other area", "both"]
    assert shown.steps[0].arithmetic == "see Quantities"
    assert shown.steps[-1].result == "40 m²"


def test_the_figure_asked_for_is_always_explained() -> None:
    figure = area()
    assert len(how("Area", figure, "metric", {id(figure): "see Quantities"}).steps) == 3


def test_a_long_explanation_keeps_its_end_and_says_what_is_left_out() -> None:
    leaves = [given(i, NUMBER, f"number {i}", f"Quotes!A{i}") for i in range(MOST + 9)]
    shown = how("Sum", total("sum", leaves), "metric", {})
    assert len(shown.steps) == MOST
    assert shown.left_out == 10
    assert shown.steps[-1].name == "sum"


def test_sources_are_gathered_once() -> None:
    figure = area().called("area", "a guide, table 1")
    assert sources([figure, figure]) == {"a guide, table 1"}
