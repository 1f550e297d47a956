"""Weight by step, and pieces that two people lift, added up by hand."""

from dataclasses import replace

import pytest

from budget.figures import constant
from budget.quantities.needs.handling import lifting, share_for_two, two_people, weights_by_step
from budget.quantities.takeoff import Need
from budget.units import AREA, COUNT, MASS, POUND, RATIO


def need(item, kind, step, pounds, count=None, bedding=""):
    """An order of some pounds (None: nobody knows), in so many pieces."""
    weight = None if pounds is None else constant(pounds * POUND, MASS, "weight")
    amount = constant(count or 1, COUNT, "order")
    measures = {"count": amount} if count else {}
    measures |= {"mass": weight} if weight is not None else {}
    return Need(
        line=item, part="Yard", item=item, kind=kind, step=step, group="", net=amount,
        order=amount, overage=constant(0, RATIO, "extra"), why="", measures=measures,
        weight=weight, bedding=bedding,
    )  # fmt: skip


def test_each_step_has_its_weight_its_heaviest_piece_and_its_two_person_lifts():
    found = weights_by_step([
        need("Slab", "paver", "Lay", 600, 10),  # 60 lb each: over 51
        need("Paver", "paver", "Lay", 1200, 200),
        need("Base stone", "base", "Base", 5000),
    ])  # fmt: skip
    assert [row.step for row in found] == ["Base", "Lay"]
    base, lay = found
    assert (base.heaviest, base.twice) == ("", 0)
    assert round(base.weight.value / POUND) == 5000
    assert round(lay.weight.value / POUND) == 1800
    assert lay.heaviest == "Slab"
    assert round(lay.piece / POUND) == 60
    assert lay.twice == 10


def test_a_piece_at_the_guideline_is_for_one():
    """NIOSH Publication 94-110, load constant: 51 lb."""
    (row,) = weights_by_step([need("Cap", "cap", "Build", 510, 10)])
    assert row.twice == 0


def test_beddings_stand_apart_and_unknown_weights_are_named():
    found = weights_by_step([
        need("Small gravel", "small gravel", "Bed", 900, bedding="small gravel"),
        need("Bedding sand", "bedding sand", "Bed", 800, bedding="sand"),
        need("Bowl kit", "extra", "Build", None, 1),
    ])  # fmt: skip
    assert [(row.step, row.bedding) for row in found] == [
        ("Bed", "sand"), ("Bed", "small gravel"), ("Build", ""),
    ]  # fmt: skip
    assert found[-1].unknown == ("Bowl kit",)
    assert found[-1].weight.value == 0


def test_what_two_can_lift_and_what_they_cannot():
    """51 lb a person: 95 lb is for two, 130 and 200 lb are over 102."""
    needs = [
        need("Slab", "paver", "Lay", 950, 10),
        need("Cope", "cap", "Build", 1300, 10),
        need("Stone", "wall unit", "Build", 2000, 10),
        need("Tube", "steel section", "Build", 130, 2),
    ]
    build, lay = lifting(needs, "imperial", 2)
    assert lay[1] == "Two people lift each Slab (95 lb), over 51 lb; the hours count both."
    assert "lift each Tube (65 lb), over 51 lb; the hours count both." in build[1]
    assert "more than two people, moves each Cope (130 lb), Stone (200 lb): over 102 lb" in build[1]


def test_hours_given_for_a_heavy_thing_stay_as_given():
    (bowl,) = lifting([need("Bowl kit", "extra", "Build", 90, 1)], "imperial", 2)
    assert bowl[1].endswith("The hours on Extras are taken as given, for everybody at it.")


def test_one_at_the_guideline_and_one_a_little_over():
    """NIOSH Publication 94-110: 51 lb; as written in kg, 23.133 kg."""
    assert two_people(constant(51 * POUND, MASS, "cap")) == ()
    assert two_people(constant(51 * POUND * (1 + 1e-12), MASS, "cap")) == ()
    assert two_people(None) == ()
    (two,) = two_people(constant(51.1 * POUND, MASS, "cap"))
    assert two.value == 2


def test_the_share_of_slabs_that_two_lift():
    """10 slabs of 4 sq ft beside 60 sq ft of pavers: 40 of 100 sq ft."""
    slab, paver = need("Slab", "paver", "Lay", 930, 10), need("Paver", "paver", "Lay", 1600, 270)
    slab = replace(slab, measures=slab.measures | {"area": constant(40, AREA, "area")})
    paver = replace(paver, measures=paver.measures | {"area": constant(60, AREA, "area")})
    share = share_for_two([slab, paver])
    assert share is not None
    assert share.value == pytest.approx(0.4)
    assert share_for_two([paver]) is None


def test_only_pavers_are_laid_by_two():
    """Geotextile has an area too; of pavers that are counted alone no share is known."""
    slab = need("Slab", "paver", "Lay", 930, 10)
    fabric = need("Roll", "geotextile", "Fabric", 60, 1)
    fabric = replace(fabric, measures=fabric.measures | {"area": constant(60, AREA, "area")})
    wide = replace(slab, measures=slab.measures | {"area": constant(40, AREA, "area")})
    assert share_for_two([fabric, slab]) is None
    share = share_for_two([fabric, slab, wide])
    assert share is not None
    assert share.value == pytest.approx(1.0)


def test_what_is_there_already_is_not_handled():
    """Steps stand in the order of work, which is not that of the alphabet."""
    none = replace(need("Cap", "cap", "Build", 510, 10), order=constant(0, COUNT, "order"))
    rows = weights_by_step([
        none, need("Sand", "joint sand", "Joint", 50), need("Paver", "paver", "Lay", 60, 10),
        need("Edging", "edging", "Edge", 10, 4), need("Stone", "base", "Base", 900),
    ])  # fmt: skip
    assert [row.step for row in rows] == ["Base", "Edge", "Lay", "Joint"]
    assert [row.piece > 0 for row in rows] == [False, False, True, False]
    empty = replace(none, measures=none.measures | {"count": constant(0, COUNT, "count")})
    assert lifting([empty], "imperial", 2) == []


def test_twice_the_guideline_is_for_two():
    """NIOSH Publication 94-110, load constant: 51 lb, and 51 for the second person."""
    [(_, text, _)] = lifting([need("Cap", "cap", "Build", 1020, 10)], "imperial", 2)
    assert text == "Two people lift each Cap (102 lb), over 51 lb; the hours count both."


def test_nobody_to_help_with_heavy_pieces_is_said():
    heavy, light = need("Slab", "paver", "Lay", 950, 10), need("Paver", "paver", "Lay", 60, 10)
    assert len(lifting([heavy], "imperial", 1)) == 2
    assert "nobody to help" in lifting([heavy], "imperial", 1)[1][1]
    assert len(lifting([heavy], "imperial", 2)) == 1
    assert lifting([light], "imperial", 1) == []
