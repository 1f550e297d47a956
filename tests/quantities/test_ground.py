"""Levels, old surfaces, kept soil, trenches and pads, by plain arithmetic."""

import math

import pytest

from budget.figures import inputs, recalculate, workings
from budget.job import Level, Place, Trench
from budget.quantities import take_off
from budget.units import FOOT, INCH, SHORT_TON, YARD

DIG = 231 * (2.375 + 1 + 4) / 324  # cu yd: 20 x 10 ft with 6 in all round, flat


def level(row, **values):
    read = {
        name: value * FOOT if name in ("x", "y", "level", "finish") else value
        for name, value in values.items()
    }
    return Level(place=Place("Levels", row, {"level": "E", "finish": "F"}), **read)


def trench(row, what, inches, **values):
    sizes = {name: value * INCH for name, value in inches.items()}
    return Trench(
        place=Place("Trenches", row, {"depth": "F"}), part="Terrace", name=f"{what} {row}",
        what=what, **sizes, **values,
    )  # fmt: skip


def yards(takeoff, step, rows=None):
    found = takeoff.steps if rows is None else rows
    return sum(s.amount.value for s in found if s.step == step) / YARD**3


def codes(found):
    return {warning.code for warning in found.warnings}


@pytest.fixture
def job(make):
    def build(*, area=None, **sheets):
        values = {"length": 20, "width": 10, "x": 0.0, "y": 0.0, **(area or {})}
        layers = (make.build_up(bedding="sand", base_depth=4, bedding_depth=1, overrun=6),)
        paver = (make.product("Paver", "paver", length=8, width=4, height=2.375, joint=0),)
        settings = sheets.pop("settings", None)
        return make.job(
            make.area(**values), products=paver, build_ups=layers, settings=settings, **sheets
        )

    return build


CORNERS = ((0, 0), (20, 0), (20, 10), (0, 10))


def test_no_levels_is_a_flat_dig_with_its_inch(job):
    found = take_off(job())
    assert yards(found, "Dig") == pytest.approx(DIG)
    (earth,) = found.earthwork
    assert earth.method == "flat dig"
    assert earth.inch.value / YARD**3 == pytest.approx(231 / 324)
    assert earth.fill.value == 0


def test_a_sloping_lawn_is_cut_and_filled_apart(job):
    """Ground from 5 to 4 ft over 10 ft, paving from 2 in below a sill at 5.4 ft, falling 2 %."""
    spots = [level(i, x=x, y=y, level=5 - y / 10) for i, (x, y) in enumerate(CORNERS)]
    sill = level(9, what="sill", x=10, y=0, level=5.4, toward=90.0)
    found = take_off(job(levels=(*spots, sill)))
    start = 5 - (5.4 - 2 / 12) + 7.375 / 12  # depth of the dig at the house, ft
    per_foot = 0.1 - 0.02
    out = start / per_foot  # where the dig runs out, ft
    cut = start * out / 2 / 10 * 231 / 27
    fill = per_foot * (10 - out) ** 2 / 2 / 10 * 231 / 27
    assert yards(found, "Dig") == pytest.approx(cut)
    (earth,) = found.earthwork
    assert (earth.method, earth.fill.value / YARD**3) == ("grid method", pytest.approx(fill))
    assert yards(found, "Base") == pytest.approx(231 * 4 / 324 + fill)
    stone = next(n for n in found.needs if n.item == "Base stone")
    tons = (231 * 4 / 324 + fill) * 1.85 * 1.05
    assert stone.measures["mass"].value / SHORT_TON == pytest.approx(tons)
    assert not codes(found) & {"flat-fall", "above-sill", "falls-to-house"}


def test_depth_can_be_changed_in_what_was_worked_out(job):
    """Where nothing is filled, an inch more base digs exactly an inch more."""
    spots = [level(i, x=x, y=y, level=5.0, finish=5.0) for i, (x, y) in enumerate(CORNERS)]
    found = take_off(job(levels=spots))
    dug = next(s.amount for s in found.steps if s.step == "Dig")
    assert dug.value / YARD**3 == pytest.approx(DIG)
    key = next(f.key for f in inputs(dug) if f.name == "base depth")
    more = recalculate(dug, {key: 5 * INCH})
    assert more - dug.value == pytest.approx(found.earthwork[0].inch.value)


def test_spots_without_a_place_stand_for_equal_shares(job):
    """Average depth: 0.2 ft above, 1 ft below and level with the finish."""
    spots = tuple(level(i, level=z, finish=5.0) for i, z in enumerate((5.2, 4.0, 5.0)))
    found = take_off(job(area={"x": None, "y": None}, levels=spots))
    stack = 7.375 / 12
    fill = (1 - stack) / 3
    cut = (0.2 + stack + stack) / 3
    assert found.earthwork[0].method == "average depth"
    assert yards(found, "Dig") == pytest.approx(cut * 231 / 27)
    assert found.earthwork[0].fill.value / YARD**3 == pytest.approx(fill * 231 / 27)


def test_levels_without_a_finish_are_asked_about(job):
    spots = [level(i, x=x, y=y, level=5.0) for i, (x, y) in enumerate(CORNERS)]
    found = take_off(job(levels=spots))
    assert "finish-unknown" in codes(found)
    assert yards(found, "Dig") == pytest.approx(DIG)


@pytest.mark.parametrize(
    ("code", "heights", "sill"),
    [
        ("flat-fall", (5.0, 5.0, 4.9, 4.9), 5.4),
        ("falls-to-house", (5.0, 5.0, 5.3, 5.3), 5.4),
        ("above-sill", (5.4, 5.4, 5.2, 5.2), 5.4),
    ],
)
def test_a_bad_finish_is_named(job, code, heights, sill):
    spots = [
        level(i, x=x, y=y, level=5.0, finish=z)
        for i, ((x, y), z) in enumerate(zip(CORNERS, heights, strict=True))
    ]
    found = take_off(job(levels=(*spots, level(9, what="sill", x=10, y=0, level=sill))))
    assert code in codes(found)


def test_an_unknown_finish_is_asked_about_at_the_lowest_spot(job):
    """Whichever row it stands in; of one spot at its own."""
    for heights, cell in (((5.0, 4.0), "Levels!F1"), ((4.0, 5.0), "Levels!F0"), ((5.0,), None)):
        spots = [level(i, level=z) for i, z in enumerate(heights)]
        told = [w for w in take_off(job(levels=spots)).warnings if w.code == "finish-unknown"]
        assert [w.cell for w in told] == [cell or "Levels!F0"]


@pytest.mark.parametrize(("extra", "words"), [(0, "4 spots"), (1, "4 spots")])
def test_how_many_spots_make_the_surface_is_told(job, extra, words):
    """A spot without a place is none of them; where they make no surface all count."""
    spots = [level(i, x=x, y=y, level=5.1, finish=5.0) for i, (x, y) in enumerate(CORNERS)]
    spots += [level(8, level=5.1, finish=5.0)] * extra
    [dug] = {s.amount for s in take_off(job(levels=spots)).steps if s.step == "Dig"}
    sources = {f.source for f in inputs(dug) if "ground above" in f.name}
    assert sources == {f"grid method over {words} of Levels"}
    few = take_off(job(levels=[spots[0], level(8, level=5.1, finish=5.0)]))
    dug = next(s.amount for s in few.steps if s.step == "Dig")
    sources = {f.source for f in inputs(dug) if "ground above" in f.name}
    assert sources == {"average depth over 2 spots of Levels"}


def test_too_little_fall_is_told_where_the_sill_says_it(job):
    """1 % from a sill with a place; the ground at the corners says nothing of the finish."""
    spots = [level(i, x=x, y=y, level=5.0) for i, (x, y) in enumerate(CORNERS)]
    sill = level(9, what="sill", x=10, y=0, level=5.4, toward=90.0, fall=0.01)
    told = [w for w in take_off(job(levels=(*spots, sill))).warnings if w.code == "flat-fall"]
    assert [w.cell for w in told] == ["Levels!F9"]
    assert told[0].found.startswith("a fall of 1")


def test_a_flat_finish_is_told_though_the_sill_has_no_place(job):
    spots = [level(i, x=x, y=y, level=5.0, finish=5.0) for i, (x, y) in enumerate(CORNERS)]
    sill = level(9, what="sill", level=5.4)
    assert "flat-fall" in codes(take_off(job(levels=(*spots, sill))))


@pytest.mark.parametrize(("inches", "told"), [(1.0, False), (0.5, True)])
def test_paving_an_inch_below_the_sill_is_low_enough(job, inches, told):
    """Common practice: at least an inch, unless the door must be step-free."""
    sill = level(9, what="sill", x=10, y=0, level=5.4, finish=5.4 - inches / 12, toward=90.0,
                 fall=0.02)  # fmt: skip
    spot = level(2, x=10, y=5, level=5.0)
    said = [w for w in take_off(job(levels=(spot, sill))).warnings if w.code == "above-sill"]
    assert [w.found for w in said] == ["paving 0.5 in below the sill"] * told


def test_a_job_that_is_only_dug_is_carried_too(make):
    """What is dug must be carried off, though nothing is bought."""
    row = trench(2, "conduit", {"length": 120, "width": 6, "depth": 18})
    found = take_off(make.job(trenches=(row,)))
    assert found.needs == ()
    assert {"Carry", "Dig"} <= {step for step, _, _ in found.cautions}


def test_level_paving_is_flat_and_does_not_fall_toward_the_house(job):
    spots = [level(i, x=x, y=y, level=5.0, finish=5.0) for i, (x, y) in enumerate(CORNERS)]
    found = codes(take_off(job(levels=(*spots, level(9, what="sill", x=10, y=0, level=5.4)))))
    assert "flat-fall" in found
    assert "falls-to-house" not in found


def test_levels_of_one_part_leave_the_others_alone(job, make):
    walk = make.area("Walk", length=30, width=3)
    base = job()
    spots = tuple(level(i, part="Walk", level=6.0, finish=5.0) for i in range(3))
    before = take_off(make.job(*base.areas, walk, build_ups=base.build_ups))
    after = take_off(make.job(*base.areas, walk, build_ups=base.build_ups, levels=spots))
    by_part = [{e.part: e.cut.value for e in found.earthwork} for found in (before, after)]
    assert by_part[0]["Terrace"] == by_part[1]["Terrace"]
    assert by_part[1]["Walk"] > by_part[0]["Walk"]


def test_old_concrete_is_broken_out_and_not_dug_again(job):
    found = take_off(job(area={"old_surface": "concrete"}))
    old = 200 * 4 / 324
    assert yards(found, "Break out") == pytest.approx(old)
    assert yards(found, "Dig") == pytest.approx(DIG - old)
    loose = old * 4104 / 3100  # lb per cu yd in place and broken, from the two tables
    assert yards(found, "Spoil") == pytest.approx((DIG - old) * 1.25 + loose)
    tons = (DIG - old) * 1.25 * 1.053 + old * 2.052
    weight = found.spoil_density.value * YARD**3 / SHORT_TON * yards(found, "Spoil")
    assert weight == pytest.approx(tons)
    assert any(step == "Break out" for step, _, _ in found.cautions)


def test_an_old_surface_is_as_thick_as_measured(job):
    area = {"old_surface": "concrete", "old_thickness": 6 * INCH}
    assert yards(take_off(job(area=area)), "Break out") == pytest.approx(200 * 6 / 324)


def test_fill_is_what_the_thinnest_bedding_asks_for(make):
    """Ground 1 ft below the finish all over. On sand 1 in thick the dig would end 7.375 in below
    it, on small gravel lower: so sand is filled by 4.625 in, the most of both."""
    spots = [level(i, x=x, y=y, level=4.0, finish=5.0) for i, (x, y) in enumerate(CORNERS)]
    area = make.area(length=20, width=10, x=0, y=0)
    paver = make.product("Paver", "paver", length=8, width=4, height=2.375, joint=0)
    row = make.build_up(base_depth=4, overrun=6)
    found = {}
    for quotes in ((), (make.quote("Small gravel"),)):
        job = make.job(area, products=(paver,), build_ups=(row,), levels=spots, quotes=quotes)
        takeoff = take_off(job)
        found[len(takeoff.beddings)] = takeoff.earthwork[0].fill
    assert [f.value / FOOT**3 for f in found.values()] == [
        pytest.approx(231 * 4.625 / 12), pytest.approx(231 * 4.625 / 12),
    ]  # fmt: skip
    assert [f.args[-1].op for f in found.values()] == ["", "largest"]


def test_where_nothing_is_filled_no_fill_is_worked_out(job):
    spots = [level(i, x=x, y=y, level=5.0, finish=5.0) for i, (x, y) in enumerate(CORNERS)]
    fill = take_off(job(levels=spots)).earthwork[0].fill
    assert (fill.value, fill.args) == (0, ())


def test_bedding_of_no_depth_is_not_bought(make):
    """Pavers on stone alone; where they are all as thick none is bedded deeper."""
    area = make.area(length=20, width=10)
    beds = [
        [n for n in take_off(make.job(area, build_ups=(row,))).needs if n.item == "Bedding sand"]
        for row in (make.build_up(bedding="sand", bedding_depth=d) for d in (0, 1))
    ]
    assert beds[0] == []
    assert not [line for line in workings(beds[1][0].net, "imperial") if "deeper" in line.name]


def test_old_turf_is_dug_with_the_soil(job):
    found = take_off(job(area={"old_surface": "turf", "old_thickness": 2 * INCH}))
    assert yards(found, "Dig") == pytest.approx(DIG)
    assert yards(found, "Break out") == 0
    assert yards(found, "Spoil") == pytest.approx(DIG * 1.25, rel=1e-3)


def test_soil_kept_for_the_edges_is_no_spoil(job):
    found = take_off(job(settings={"keep_soil": True}))
    room = 31 * (2.375 + 1) / 324  # strips of 31 sq ft, as deep as paver and bedding
    assert yards(found, "Spoil", found.spoil) == pytest.approx((DIG - room / 0.9) * 1.25)
    assert yards(found, "Spoil") == pytest.approx(DIG * 1.25)  # all of it is moved


def test_a_drain_that_falls_and_a_pad(job):
    drain = trench(
        2, "drain", {"length": 360, "width": 6, "depth": 12, "far_depth": 18, "stone": 6,
                     "diameter": 4}, item="Drain pipe",
    )  # fmt: skip
    pad = trench(3, "pad", {"length": 36, "width": 36, "depth": 6})
    flat, found = take_off(job()), take_off(job(trenches=(drain, pad)))
    dug = 30 * 0.5 * (1 + 1.5) / 2 / 27
    block = 9 * 0.5 / 27
    assert yards(found, "Dig") - yards(flat, "Dig") == pytest.approx(dug + block)
    pipe = math.pi / 4 * (1 / 3) ** 2 * 30 / 27
    stone = 30 * 0.5 * 0.5 / 27 - pipe
    assert yards(found, "Base") - yards(flat, "Base") == pytest.approx(stone + block)
    back = dug - stone - pipe
    left = max(0.0, dug - back / 0.9)
    assert yards(found, "Spoil") - yards(flat, "Spoil") == pytest.approx((left + block) * 1.25)
    laid = next(n for n in found.needs if n.item == "Drain pipe")
    assert laid.measures["length"].value / FOOT == pytest.approx(31.5)
    assert any("licensed" in text for _, text, _ in found.cautions if "trench" in text)


def test_a_conduit_without_stone_asks_for_none(job):
    plain = take_off(job())
    row = trench(2, "conduit", {"length": 120, "width": 6, "depth": 18})
    found = take_off(job(trenches=(row,)))
    assert [s.amount.value for s in found.steps if s.step == "Base"] == [
        s.amount.value for s in plain.steps if s.step == "Base"
    ]
    assert [n.item for n in found.needs if n.kind == "base"] == ["Base stone"]


def test_lines_in_the_ground_are_told_where_a_trench_is_dug_for_one(job):
    """A pad of stone is no trench."""
    sizes = {"length": 36, "width": 36, "depth": 6}
    for what, told in (("pad", 0), ("conduit", 1), ("drain", 1), ("sleeve", 1)):
        found = take_off(job(trenches=(trench(2, what, sizes),)))
        assert sum("before a trench is dug" in text for _, text, _ in found.cautions) == told, what


def test_a_deep_trench_warns_by_the_published_rule(job):
    """A ladder from 4 ft on, held sides from 5 ft on."""
    for inches, rule in ((47, ""), (48, "1926.651"), (60, "1926.652")):
        row = trench(2, "conduit", {"length": 120, "width": 12, "depth": inches})
        found = [w for w in take_off(job(trenches=(row,))).warnings if w.code == "deep-trench"]
        assert [rule in w.expected for w in found] == ([True] if rule else [])
        assert all(w.cell == "Trenches!F2" for w in found)
