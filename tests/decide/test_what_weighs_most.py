"""How big each gap is that could be filled next: one small plan, each share worked out by hand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.advice import (
    Wanted,
    _guesses,
    _is_bought,
    _missing,
    _turning,
    _unhired,
    _unsized,
)
from budget.decide.plan import Line, Missing, Plan, Priced, Scenario
from budget.job import Job, Place, PriceBreak, Quote, Settings

PLAN = Plan("sand", frozenset(), {}, {}, {"Lay": "own: saw", "Cut": "own: saw"}, {}, "")
JOB = Job(settings=Settings(place=Place("Job", 2), currency="USD"))


def line(name: str, hours: float) -> Line:
    return Line("", "", name, 0, hours, None, None)


#: 20 own hours, three of laying and five of cutting with the saw; five of helpers.
PRICED = Priced(
    PLAN, (line("Lay", 3.0), line("Cut", 5.0), line("Dig", 12.0)), (), (), (), (), 1000, 20.0, 5.0,
    0.0, 0, (),
)  # fmt: skip


def weighing(kilograms: float) -> list[Any]:
    return [SimpleNamespace(weight=SimpleNamespace(value=kilograms))]


@pytest.fixture
def situation() -> Any:
    """2,799.5 kg of stone, 100 and 100.5 kg in sacks, 1,000 kg from North, 2 m³ of spoil at 1,500:
    7,000 kg are moved."""
    saw = SimpleNamespace(key="saw", machine="Saw")
    return SimpleNamespace(
        items={"Stone": weighing(2799.5), "Lime": weighing(100.0), "Sand": weighing(100.5)},
        spoil=SimpleNamespace(value=2.0),
        takeoff=SimpleNamespace(spoil_density=SimpleNamespace(value=1500.0)),
        methods=lambda step: [saw] if step != "Dig" else [],
    )


def wanted(situation: Any, *missing: tuple[str, str]) -> list[Wanted]:
    rows = tuple(Missing(what, sheet, "") for what, sheet in missing)
    arrivals: Any = (SimpleNamespace(supplier="North", weight=1000.0),)
    return list(_missing(situation, replace(PRICED, missing=rows, arrivals=arrivals), "metric"))


@pytest.mark.parametrize(
    ("what", "sheet", "size", "words"),
    [
        ("Stone", "Quotes", 2799.5 / 7000, "(2.8 tonne)"),
        ("Lime", "Quotes", 100 / 7000, ""),  # a bag or two is not told by weight
        ("Sand", "Quotes", 100.5 / 7000, "(0.1 tonne)"),
        # a delivery, the spoil and a machine are bills of their own
        ("Delivery from North", "Suppliers", 0.05 + 1000 / 7000, "(1 tonne)"),
        ("Spoil disposal", "Disposal", 0.05 + 3000 / 7000, "(3 tonne)"),
        ("Saw", "Equipment", 0.05 + 8 / 20, "(used in 8 hours of work)"),
        ("Drill", "Equipment", 0.05, ""),
        ("Helpers", "Job", 5 / 25, ""),
    ],
)
def test_how_much_of_the_job_hangs_on_a_price(
    situation: Any, what: str, sheet: str, size: float, words: str
) -> None:
    (found,) = wanted(situation, (what, sheet))
    assert found.kind == 2
    assert found.size == pytest.approx(size)
    told = f"{what} {words}".rstrip()
    assert found.sentence == f"Fill the {sheet} sheet next: {told} has no price yet."


def test_lines_of_the_checklist_count_together(situation: Any) -> None:
    """Two in a hundred each, told by the first."""
    (found,) = wanted(situation, *((name, "Checklist") for name in ("Permit", "Locate", "Gear")))
    assert found.size == pytest.approx(0.06)
    assert "3 cost lines" in found.sentence
    assert found.sentence.endswith("beginning with Permit.")


def test_a_cheaper_scenario_that_lacks_a_price_comes_first() -> None:
    """10.00 and 20 hours at 1.00 against 8.00 and as many: 2.00 are at stake, nothing at 10.00."""
    for cash, sizes in ((800, [200.0]), (1000, []), (1200, [])):
        other = replace(PRICED, cash=cash, missing=(Missing("Stone", "Quotes", ""),))
        scenario = Scenario("All own hands", "sand", {}, True, "", other, True, 0.0)
        found = list(_turning([scenario], PRICED, 100.0, "USD"))
        assert [(one.kind, one.size) for one in found] == [(0, size) for size in sizes]


def quote(price: float, *, low: float | None = None, high: float | None = None,
          breaks: Iterable[float] = ()) -> Quote:  # fmt: skip
    steps = tuple(PriceBreak(5.0, one) for one in breaks)
    return Quote(place=Place("Quotes", 2), item="Stone", supplier="North", price=price,
                 price_low=low, price_high=high, per="bag", breaks=steps)  # fmt: skip


@pytest.mark.parametrize(
    ("low", "high", "sizes"), [(None, 101.0, [1.0]), (90.0, 120.0, [30.0]), (100.0, 100.0, [])]
)
def test_a_guess_counts_by_what_it_may_be_off(
    low: float | None, high: float, sizes: list[float]
) -> None:
    order: Any = SimpleNamespace(item="Stone", supplier="North", per="bag", price=100, packs=1.0)
    job = replace(JOB, quotes=(quote(100.0, low=low, high=high),))
    found = list(_guesses(job, replace(PRICED, orders=(order,))))
    assert [(one.kind, one.size) for one in found] == [(3, size) for size in sizes]


@pytest.mark.parametrize(
    ("price", "bought"), [(500, True), (501, True), (502, False), (450, True), (451, True)]
)
def test_an_order_is_told_by_its_price_up_to_a_cent(price: int, bought: bool) -> None:
    """Five bags at 1.00, or at 0.90 from five on."""
    assert _is_bought(quote(100.0, breaks=[90.0]), "north", "Bag", price, 5.0) is bought


@pytest.mark.parametrize(("hours", "told"), [(0.9, False), (1.0, True), (1.5, True)])
def test_an_hour_of_work_may_be_offered(hours: float, told: bool) -> None:
    at: Any = SimpleNamespace(options=SimpleNamespace(bids=()), amounts={"Lay": 1.0})
    found = list(_unhired(at, replace(PRICED, lines=(line("Lay", hours),))))
    assert [(one.kind, one.size) for one in found] == ([(4, hours)] if told else [])


@pytest.mark.parametrize(
    ("measures", "told"), [(("area", "count"), True), (("area",), False), (("count",), True)]
)
def test_a_size_is_asked_for_where_any_seller_counts(measures: tuple[str, ...], told: bool) -> None:
    need = SimpleNamespace(kind="paver", weight=SimpleNamespace(value=900.0))
    offers = [SimpleNamespace(measure=measure) for measure in measures]
    at: Any = SimpleNamespace(items={"Slab": [need]}, offers=lambda item: offers)
    found = list(_unsized(JOB, at))
    assert [(one.kind, one.size) for one in found] == ([(1, 900.0)] if told else [])
