"""Cost lines that the job implies."""

from dataclasses import replace

import pytest

from budget.figures import constant
from budget.job import Area, CutPiece, Place, Wall
from budget.prices.checklist import OTHER, checklist
from budget.reference import rows
from budget.units import COUNT


@pytest.fixture
def lines(make):
    """Checklist costs by line."""

    def run(takeoff=None, **fields):
        found = checklist(make.job(**fields), takeoff or make.takeoff())
        return {cost.line: cost for cost in found}

    return run


def test_nothing_answered_is_all_to_price(lines) -> None:
    found = lines()
    always = {row["line"] for row in rows("checklist") if row["when"] == "always"}
    assert set(found) == always
    assert {cost.answer for cost in found.values()} == {"to price"}
    assert all(cost.amount is None and cost.hint for cost in found.values())


def test_what_the_job_has_implies_more(lines, make) -> None:
    takeoff = make.takeoff([make.need("Geotextile", "geotextile")], Cut=3.0)
    area = Area(place=Place("Areas", 2), part="Fire bowl")
    place = Place("Walls", 2)
    found = lines(
        takeoff,
        areas=(area,),
        settings=make.settings(helpers=1),
        walls=(Wall(place=place, part="Terrace", name="seat", unit="Block"),),
        pieces=(CutPiece(place=place, part="Bench", stock="2x4", length=1.0),),
    )
    assert set(found) == {row["line"] for row in rows("checklist")}


def test_no_fire_without_one_in_a_name(lines) -> None:
    areas = (
        Area(place=Place("Areas", 2), part="Terrace"),
        Area(place=Place("Areas", 3), part="Walk"),
    )
    always = {row["line"] for row in rows("checklist") if row["when"] == "always"}
    assert set(lines(areas=areas)) == always


def test_nothing_to_cut_wears_no_blade(lines, make) -> None:
    assert "Saw blade and its wear" in lines(make.takeoff(Cut=0.5))
    assert "Saw blade and its wear" not in lines(make.takeoff(Cut=0.0))


def test_answers_of_the_user(lines, make) -> None:
    answers = (
        make.check("permit and SETBACK check", answer="priced", amount=8500),
        make.check("Drainage", answer="not needed"),
        make.check("Safety gear", answer="priced"),
        make.check("Buried services marked", answer="in bid", bid="Dig", amount=3000),
        make.check("Garden gate", answer="priced", amount=12000),
    )
    found = lines(checklist=answers)
    permit = found["Permit and setback check"]
    assert permit.amount is not None
    assert (permit.answer, permit.amount.value) == ("priced", 8500)
    assert permit.cell == answers[0].cell("amount")
    assert found["Drainage"].answer == "not needed"
    assert found["Safety gear"].answer == "to price"
    assert found["Buried services marked"].bid == "Dig"
    assert found["Garden gate"].group == OTHER


def test_a_line_that_is_answered_counts_though_the_job_does_not_imply_it(lines, make) -> None:
    found = lines(checklist=(make.check("Helpers' meals", answer="priced", amount=4000),))
    assert found["Helpers' meals"].answer == "priced"


def test_what_wears_is_told_by_the_sizes_of_the_job(make) -> None:
    blades = constant(2, COUNT, "diamond blades")
    takeoff = replace(make.takeoff(Cut=3.0), consumables=(("Saw blade and its wear", blades),))
    found = {cost.line: cost for cost in checklist(make.job(), takeoff)}
    assert found["Saw blade and its wear"].hint.endswith("about diamond blades: 2.")
    assert found["Saw blade and its wear"].amount is None
