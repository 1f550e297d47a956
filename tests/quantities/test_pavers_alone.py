"""Pavers of one part before anything is laid: groups, shares, what is said and what is assumed."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.figures import constant, laid_out
from budget.job import Level, Place
from budget.quantities import take_off
from budget.quantities.assumptions import from_figures
from budget.quantities.formulas.shapes import corner_factor
from budget.quantities.laid_notices import laid_notices
from budget.quantities.materials import Materials
from budget.quantities.pavers import drawings, groups_of, thickest
from budget.quantities.plan.parts import parts_of
from budget.units import DEPTH, FOOT, INCH, LENGTH


def groups(make, *areas, **sheets):
    """The groups of the first part of a job."""
    job = make.job(*areas, **sheets)
    return groups_of(parts_of(job)[0][0], Materials(job))


def slab(make, name, **values):
    sizes = {"length": 12, "width": 12, "height": 2, "joint": 0, **values}
    return make.product(name, "paver", **sizes)


def ashlar(make):
    return tuple(
        slab(make, name, length=long, mix="Ashlar", share=share)
        for name, long, share in (("Large", 12, 0.6), ("Small", 6, 0.4))
    )


def measured(make, part="Terrace", area=100, **values):
    return make.area(part, shape="measured", area=area, perimeter=40, **values)


def test_a_measured_shape_has_four_corners(make):
    """100 sq ft, 40 ft round, 6 in past it: 20 sq ft along the edge and four corners of 1/4."""
    found = take_off(make.job(measured(make), build_ups=(make.build_up(overrun=6),)))
    assert found.parts[0].base_area.value / FOOT**2 == pytest.approx(121)


def test_corners_of_a_small_outline_count_from_either_way_round():
    square = [(0.0, 0.0), (0.5, 0.0), (0.5, 0.5), (0.0, 0.5)]
    assert [corner_factor(ring) for ring in (square, square[::-1])] == pytest.approx([4, 4])


def test_a_cut_out_comes_off_the_paver_with_most_area(make):
    """Twice 60 sq ft of A are more than 100 of B; one that names B comes off that."""
    rows = [measured(make, name=n, area=a, paver=p) for n, a, p in
            (("1", 60, "A"), ("2", 60, "A"), ("3", 100, "B"))]  # fmt: skip
    slabs = slab(make, "A"), slab(make, "B")
    for named, left in (("", [108, 100]), ("B", [120, 88])):
        hole = measured(make, name="hole", area=12, paver=named, cut_out=True)
        found = groups(make, *rows, hole, products=slabs)
        assert [g.area.value / FOOT**2 for g in found] == pytest.approx(left)


def test_a_mixed_set_is_laid_at_random_unless_told(make):
    for pattern in ("", "random"):
        found = groups(make, measured(make, paver="Ashlar", pattern=pattern), products=ashlar(make))
        assert [g.pattern.name for g in found] == ["random", "random"]
        assert {g.pattern_assumed for g in found} == {not pattern}
        names = {figure.name for figure in (found[0].area, *found[0].area.args)}
        assert {"area of Large", "area of Ashlar", "share of Large in Ashlar"} <= names


def test_a_border_of_another_unit_goes_with_the_first_size(make):
    area = make.area(length=4, width=3, paver="Ashlar", pattern="random", border="Edge")
    products = (*ashlar(make), slab(make, "Edge", width=4))
    found = groups(make, area, products=products)
    assert [g.border.item if g.border else "" for g in found] == ["Edge", ""]
    [drawn] = drawings(found)
    assert drawn.border == "soldier course of Edge"
    plain = make.area(length=4, width=3, paver="Large", pattern="stack bond")
    [drawn] = drawings(groups(make, plain, products=products))
    assert drawn.border == ""


def test_the_sizes_of_a_set_share_the_cuts_along_the_edge(make):
    """Together as much as one paver alone."""
    one = groups(make, measured(make, paver="One", pattern="random"), products=(slab(make, "One"),))
    both = groups(make, measured(make, paver="Ashlar"), products=ashlar(make))
    cuts = [group.cut().value for group in both]
    assert sum(cuts) == pytest.approx(one[0].cut().value)
    assert cuts[0] == pytest.approx(0.6 * one[0].cut().value)


def test_the_thickest_of_several_pavers(make):
    slabs = slab(make, "A"), slab(make, "B", height=2.5)
    rows = [measured(make, name=n, paver=n) for n in ("A", "B")]
    alone, both = (thickest(groups(make, *some, products=slabs)) for some in (rows[:1], rows))
    assert (alone.value / INCH, alone.op) == (pytest.approx(2), "")
    assert (both.value / INCH, both.op) == (pytest.approx(2.5), "largest")


def test_narrow_strips_are_told_one_by_one(make):
    [group] = groups(make, measured(make, paver="One"), products=(slab(make, "One"),))
    job = make.job()
    for count, words in ((0, None), (1, "a strip of One"), (3, "3 strips of One")):
        narrow = constant(0.005, DEPTH, "narrowest strip")
        laid = SimpleNamespace(slivers=count, narrowest=narrow, part="Terrace")
        told = [n for n in laid_notices([replace(group, laid=laid)], job) if n.code == "sliver"]
        assert [n.found.split(",")[0] for n in told] == ([words] if words else [])


def test_a_pattern_that_does_not_close_is_told_at_the_product(make):
    strip = slab(make, "Strip", width=4)
    found = groups(make, measured(make, pattern="herringbone 90"), products=(strip,))
    [told] = [n for n in laid_notices(found, make.job()) if n.code == "pattern-unfit"]
    assert (told.sheet, told.cell) == ("Products", strip.cell("length"))


@pytest.mark.parametrize(
    ("layer", "joint", "code", "words"),
    [
        ("sand", 0.25, "joint-wide", "at most "),
        ("small gravel", 0.125, "joint-narrow", "at least "),
    ],
)
def test_a_joint_is_told_at_the_product(make, layer, joint, code, words):
    brick = slab(make, "Brick", length=8, width=4, height=2.375, joint=joint)
    found = take_off(make.job(measured(make), products=(brick,),
                              build_ups=(make.build_up(bedding=layer),)))  # fmt: skip
    [told] = [w for w in found.warnings if w.code == code]
    assert told.expected.startswith(words)
    assert told.cell == brick.cell("joint")


def test_a_slab_is_told_by_its_length(make):
    """12 in to 2.9 in."""
    found = take_off(make.job(measured(make), products=(slab(make, "Slab", height=2.9),)))
    assert [w.found for w in found.warnings if w.code == "slab"] == ["4.1 times as long as thick"]


def test_only_sides_that_nobody_measured_are_assumed():
    sources = "sum of the sides", "as of a square", "right-angled"
    figures = [laid_out(9.0, LENGTH, "edge", f"edge {n}", s) for n, s in enumerate(sources)]
    told = from_figures(figures, "metric")
    assert {a.what for a in told} == {"edge (edge 1)", "edge (edge 2)"}


def heights(*inches):
    place = Place("Levels", 2)
    return tuple(Level(place=place, part="Terrace", level=n * INCH, finish=0.0) for n in inches)


@pytest.mark.parametrize(
    ("inches", "gravel", "walk", "fill", "level"),
    [
        (-12, False, False, True, False),
        (0, False, False, False, False),
        (-12, False, True, True, True),  # of the walk no heights are known
        (-7.9, True, False, True, False),  # 7.375 in to the bottom on sand, 8.375 on gravel
    ],
)
def test_fill_and_level_ground_are_assumed(make, inches, gravel, walk, fill, level):
    brick = slab(make, "Brick", length=8, width=4, height=2.375)
    areas = measured(make), *([measured(make, "Walk")] if walk else [])
    quotes = (make.quote("Small gravel"),) if gravel else ()
    row = make.build_up(base_depth=4)
    job = make.job(*areas, products=(brick,), build_ups=(row,), quotes=quotes,
                   levels=heights(inches))  # fmt: skip
    told = {a.what for a in take_off(job).assumed}
    assert ("fill below the base, Terrace" in told) is fill
    assert ("finished level" in told) is level


def test_what_the_build_up_names_is_not_assumed(make):
    """Edging, geotextile and the joint filler."""
    names = ("edge restraint, Terrace", "geotextile, Terrace",
             "joint filler with sand bedding, Terrace")  # fmt: skip
    rows = (make.build_up(), make.build_up(restraint="none", geotextile=False,
                                           joint_filler="joint sand"))  # fmt: skip
    for row, assumed in zip(rows, (True, False), strict=True):
        told = {a.what for a in take_off(make.job(measured(make), build_ups=(row,))).assumed}
        assert [name in told for name in names] == [assumed] * 3


@pytest.mark.parametrize("quoted", [True, False])
def test_geotextile_is_laid_where_a_quote_is_there(make, quoted):
    quotes = (make.quote("Geotextile"),) if quoted else ()
    found = take_off(make.job(measured(make), quotes=quotes))
    [told] = [a.value for a in found.assumed if a.what == "geotextile, Terrace"]
    assert told == ("yes, a quote is there" if quoted else "none, no quote is there")
    assert ("Geotextile" in {n.item for n in found.needs}) is quoted
