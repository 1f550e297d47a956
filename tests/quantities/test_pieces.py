"""Pieces of timber and metal: lengths to buy, fixings, stain, fit and bending."""

import pytest

from budget.figures import inputs
from budget.quantities import take_off
from budget.quantities.formulas.lumber import strips
from budget.units import FOOT, INCH, POUND


@pytest.fixture
def timber(make):
    return (
        make.product("Board 8", "timber", length=96, size="2x4"),
        make.product("Board 10", "timber", length=120, size="2x4"),
        make.product("Post", "timber", length=96, size="4x4"),
    )


@pytest.fixture
def built(make, timber):
    def run(*pieces, products=timber, **sheets):
        return take_off(make.job(pieces=pieces, products=products, **sheets))

    return run


def need(found, item):
    return next(n for n in found.needs if n.item == item)


def hours(found, words):
    return sum(a.amount.value for a in found.steps if words in a.amount.name)


def test_lengths_of_one_size_are_cut_together(make, built):
    """Five of 48 in: an 8 ft board gives one (the saw takes its part), a 10 ft board two."""
    found = built(make.piece("slat", "2x4", 5, length=48))
    bought = {n.item: n.order.value for n in found.needs}
    assert bought == {"Board 8": 1, "Board 10": 2}
    plan = found.cutting[0]
    assert (plan.count, plan.proved, plan.stock) == (3, True, "2x4")
    cut = {c.item: (c.times, len(c.lengths)) for c in plan.cuts}
    assert cut == {"Board 8": (1, 1), "Board 10": (2, 2)}
    left = {c.item: c.left / INCH for c in plan.cuts}  # each cut takes 1/8 in
    assert left == pytest.approx({"Board 8": 96 - 48.125, "Board 10": 120 - 96.25})
    board = need(found, "Board 10")
    assert board.measures["length"].value / FOOT == pytest.approx(20)
    # 1 1/2 x 3 1/2 in of 10 ft at 35 lb a cubic foot.
    assert board.weight.value / POUND == pytest.approx(2 * 1.5 * 3.5 / 144 * 10 * 35)


def test_prices_decide_between_lengths(make, built):
    """A 10 ft board at more than two of 8 ft is left at the yard."""
    quotes = (make.quote("Board 8", price=500.0), make.quote("Board 10", price=1500.0))
    found = built(make.piece("slat", "2x4", 2, length=48), quotes=quotes)
    assert {n.item: n.order.value for n in found.needs} == {"Board 8": 2}


def test_kept_parts_share_a_length(make, built):
    """Two benches, one leg of 40 in each: one post gives both."""
    found = built(
        make.piece("leg", "Post", 1, length=40), make.piece("leg", "Post", 1, "Screen", length=40)
    )
    assert [(n.item, n.part, n.order.value) for n in found.needs] == [
        ("Post", "Bench and Screen", 1)
    ]


def test_strips_from_a_board(make, built, timber):
    """A 2x4 is 3 1/2 in wide: two strips of 1 11/16 in with a 1/8 in kerf, so 5 take 3 blanks."""
    assert strips(3.5, 1.6875, 0.125) == 2
    found = built(make.piece("batten", "Board 8", 5, length=90, width=1.6875))
    assert need(found, "Board 8").order.value == 3


def test_fixings_caps_stain_and_hours(make, built):
    """Two coats on five of 1 1/2 x 3 1/2 x 48 in: 10 x 490.5 sq in at 200 sq ft a gallon."""
    found = built(
        make.piece("slat", "2x4", 5, length=48, fixings=4.0, coats=2, end_caps=2),
        make.piece("rail", "2x4", 2, length=20, fixings=3.0, pilot=False),
    )
    screws = need(found, "Screws")
    assert screws.net.value == 26
    assert screws.order.value == pytest.approx(26 * 1.1)
    assert need(found, "End cap").order.value == 10
    surface = 2 * 5 * (2 * (1.5 + 3.5) * 48 + 2 * 1.5 * 3.5) / 144
    gallon = 231 * INCH**3
    assert need(found, "Stain").net.value / gallon == pytest.approx(surface / 200)
    assert hours(found, "fixing") == pytest.approx(20 * 0.03 + 6 * 0.01)
    assert hours(found, "sawing") == pytest.approx(7 * 0.08)
    assert hours(found, "coating") == pytest.approx(surface * 0.01)


def test_a_heavy_length_is_sawn_by_two_and_a_heavy_piece_fixed_by_two(make, built):
    """Lengths of 120 in and 80 lb; of 40 in each piece weighs 26.7 lb, of 100 in 66.7 lb."""
    beam = make.product("Beam", "timber", length=120, size="4x6", weight=80 * POUND)
    short = make.piece("short", "Beam", 3, length=40, fixings=2.0)
    long = make.piece("long", "Beam", 2, length=100, fixings=2.0)
    found = built(short, long, products=(beam,))
    assert hours(found, "sawing") == pytest.approx(2 * 5 * 0.08)
    assert hours(found, "fixing short") == pytest.approx(6 * 0.03)
    assert hours(found, "fixing long") == pytest.approx(2 * 4 * 0.03)
    assert any("Beam (80 lb)" in text for _, text, _ in found.cautions)


POCKETS = [
    pytest.param("Post", 4, True, id="a dressed 4x4 is 3 1/2 in: loose in a 4 in pocket"),
    pytest.param("Post", 3.5625, False, id="a pocket 1/16 in wider takes it"),
    pytest.param("Tube 4", 4, True, id="a 4 in tube is a true 4 in: it does not go in"),
    pytest.param("Tube 4", 4.125, False, id="with 1/8 in more it does"),
    pytest.param("Post", 3.53, False, id="0.03 in free is enough"),
    pytest.param("Post", 3.75, False, id="1/4 in free is not loose"),
    pytest.param("Board 8", 1.5625, False, id="a 2x4 on edge is 1 1/2 in wide"),
    pytest.param("Board 8", 3.5625, True, id="on edge it is loose where it would lie flat"),
]


@pytest.mark.parametrize(("stock", "pocket", "said"), POCKETS)
def test_a_beam_in_its_pocket(make, built, timber, stock, pocket, said):
    tube = make.product("Tube 4", "steel section", length=240, width=4, height=4, wall=0.25)
    found = built(
        make.piece("beam", stock, 1, length=60, pocket=pocket), products=(*timber, tube)
    )  # fmt: skip
    told = [n for n in found.warnings if n.code == "piece-does-not-fit"]
    assert [n.cell[:7] for n in told] == (["Pieces!"] if said else [])
    tight = "It does not go in" if stock == "Tube 4" else "It is loose"
    assert all(n.mend.startswith(tight) for n in told)


def test_bending_of_every_candidate(make, built, timber):
    """200 lb on 46 in flat: 5 W L^3 / 384 E I with I = 3.5 x 1.5^3 / 12; on edge it holds."""
    quotes = (make.quote("Post", price=1400.0),)
    flat = make.piece("seat", "2x4", 1, length=48, span=46, load=200 * POUND, on_edge=False)
    edge = make.piece("seat", "2x4", 1, length=48, span=46, load=200 * POUND)
    found = built(flat, quotes=quotes)
    by_item = {s.item: s for s in found.spans}
    inertia = 3.5 * 1.5**3 / 12
    bends = 5 * 200 * 46**3 / (384 * 1.2e6 * inertia)
    assert by_item["Board 8"].bends.value / INCH == pytest.approx(bends)
    assert by_item["Board 8"].limit.value / INCH == pytest.approx(46 / 240)
    assert {name: s.holds for name, s in by_item.items()} == {
        "Board 8": False, "Board 10": False, "Post": True,
    }  # fmt: skip
    assert (by_item["Post"].price, by_item["Post"].chosen) == (1400.0, False)
    told = [n for n in found.warnings if n.code == "bends-too-far"]
    assert len(told) == 1
    assert "Post" in told[0].mend
    assert not [n for n in built(edge).warnings if n.code == "bends-too-far"]
    assert any("professional" in text for _, text, _ in found.cautions)


def test_only_stock_that_could_take_its_place_is_bent(make, built, timber):
    """A piece of 96 in: a length of 90 is too short; of rough stock no size is known."""
    other = (
        make.product("Short", "timber", length=90, size="4x4"),
        make.product("Rough", "timber", length=120, size="rough"),
    )
    seat = make.piece("seat", "2x4", 1, length=96, span=46, load=200 * POUND)
    found = built(seat, products=(*timber, *other))
    assert {s.item for s in found.spans} == {"Board 8", "Board 10", "Post"}


def test_a_strip_bends_as_it_is_ripped(make, built):
    """2 in of a 2x4, flat: I = 2 x 1.5^3 / 12. Other stock would be ripped to another size."""
    strip = make.piece(
        "slat", "2x4", 1, length=48, width=2, span=46, load=100 * POUND, on_edge=False
    )  # fmt: skip
    bends = 5 * 100 * 46**3 / (384 * 1.2e6 * (2 * 1.5**3 / 12))
    assert {s.item: s.bends.value / INCH for s in built(strip).spans} == {
        "Board 8": pytest.approx(bends), "Board 10": pytest.approx(bends),
    }  # fmt: skip


def test_a_piece_that_lies_flat_is_as_wide_as_its_large_side(make, built):
    """A 2x4 is 3 1/2 in wide: 1/16 in free in a pocket of 3 9/16 in."""
    flat = make.piece("beam", "Board 8", 1, length=60, pocket=3.5625, on_edge=False)
    assert not built(flat).warnings


def test_a_piece_without_a_name_is_counted_as_pieces(make, built):
    found = built(make.piece("", "Board 8", 2, length=40))
    [hours] = [a.amount for a in found.steps if "sawing" in a.amount.name]
    assert "pieces" in {figure.name for figure in inputs(hours)}


def test_one_stock_that_bends_too_far_is_told(make, built):
    """Named by its own name; without a load nothing is known of its bending."""
    values = {"length": 48, "span": 46, "on_edge": False}
    found = built(make.piece("seat", "Board 8", 1, load=200 * POUND, **values))
    assert [n.code for n in found.warnings] == ["bends-too-far"]
    assert built(make.piece("seat", "Board 8", 1, **values)).spans == ()


def test_pieces_as_long_and_as_wide_as_their_stock_fit(make, built):
    """Of 8 and 10 ft, 3 1/2 in wide; a strip of 3 in leaves room for no second one."""
    whole = make.piece("rail", "2x4", 1, length=120, width=3.5)
    found = built(whole)
    assert not found.warnings
    assert {n.item: n.order.value for n in found.needs} == {"Board 10": 1}
    found = built(make.piece("rail", "Board 8", 2, length=90, width=3))
    assert need(found, "Board 8").order.value == 2


def test_sizes_without_a_nominal_name_are_cut_together(make, built):
    rough = [
        make.product(f"Rough {feet}", "timber", length=12 * feet, size="Rough sawn")
        for feet in (8, 10)
    ]
    found = built(make.piece("slat", "rough sawn", 2, length=110), products=tuple(rough))
    assert {n.item: n.order.value for n in found.needs} == {"Rough 10": 2}


def test_what_lies_there_is_not_bought(make, built):
    found = built(make.piece("leg", "Post", 1, length=60), stock=(make.stock("Post", 4),))
    assert not [n for n in found.needs if n.item == "Post"]


def test_the_cutting_plan_names_its_pieces(make, built):
    """A piece without a name is told by its part."""
    rows = (make.piece("slat", "Board 8", 1, length=40), make.piece("", "Board 8", 1, length=30))
    [plan] = built(*rows).cutting
    assert plan.cuts[0].names == ("slat", "Bench")


def test_strips_that_differ_in_width_alone_may_stand_in_any_order(make, built):
    rows = [make.piece("slat", "Board 8", 1, length=40, width=w) for w in (2.0, 1.0)]
    both = [built(*order) for order in (rows, rows[::-1])]
    assert both[0].cutting == both[1].cutting
    keys = [[n.net.key for n in found.needs] for found in both]
    assert keys[0] == keys[1]


def test_sparks_are_told_where_steel_is_cut(make, built, timber):
    tube = make.product("Tube 4", "steel section", length=240, width=4, height=4, wall=0.25)
    for stock, told in (("Post", 0), ("Tube 4", 1)):
        found = built(make.piece("leg", stock, 1, length=40), products=(*timber, tube))
        assert sum("sparks" in text for _, text, _ in found.cautions) == told, stock


def test_strips_of_stock_of_unknown_size_are_counted_by_the_piece(make, built):
    """How many come out of one is not known, nor how much stain they take."""
    rough = make.product("Rough", "timber", length=96, size="rough")
    found = built(make.piece("slat", "Rough", 3, length=90, width=2, coats=1), products=(rough,))
    assert [(n.item, n.order.value) for n in found.needs] == [("Rough", 3)]


PROBLEMS = [
    ("stock-unknown", {"stock": "3x5", "length": 40}),
    ("piece-too-long", {"stock": "Board 8", "length": 97}),
    ("piece-too-wide", {"stock": "Board 8", "length": 40, "width": 4}),
]


@pytest.mark.parametrize(("code", "values"), PROBLEMS)
def test_what_cannot_be_cut_is_a_problem(make, built, code, values):
    values = dict(values)
    found = built(make.piece("rail", values.pop("stock"), 1, **values))
    assert [(n.code, n.severity) for n in found.warnings] == [(code, "problem")]
    assert found.needs == ()


def test_owned_boards_come_off(make, built):
    found = built(make.piece("leg", "Post", 4, length=60), stock=(make.stock("Post", 1),))
    assert need(found, "Post").net.value == 4
    assert need(found, "Post").order.value == 3


def test_an_optional_bench_is_cut_and_left_out_by_itself(make, built):
    bench = [make.piece(n, "2x4", 3, length=40, fixings=2, optional=True) for n in ("slat", "leg")]
    rail = make.piece("rail", "2x4", 2, length=40, part="Fence", fixings=2)
    found = built(*bench, rail)
    assert {n.optional for n in found.needs if n.part == "Bench"} == {"Bench"}
    assert {n.optional for n in found.needs if n.part == "Fence"} == {""}
    assert {a.part: a.optional for a in found.steps} == {"Bench": "Bench", "Fence": ""}


def test_optional_pieces_beside_kept_paving_go_together(make, built):
    slat, leg = (
        make.piece(n, "2x4", 3, length=40, part="Terrace", optional=True) for n in ("slat", "leg")
    )
    found = take_off(
        make.job(make.area(length=20, width=10), pieces=(slat, leg),
                 products=(make.product("Board 8", "timber", length=96, size="2x4"),))
    )  # fmt: skip
    assert need(found, "Board 8").optional == "Terrace, cut pieces"


def test_what_a_name_says_of_the_true_size(make):
    """A dressed 4x4 measures 3-1/2 in (PS 20), while a 4 in steel tube is a true 4 in."""
    post = make.product("Post", "timber", length=96, size="4x4")
    tube = make.product("Tube", "steel section", length=240, width=4, height=4, wall=0.125)
    rows = (
        make.piece("beam", "Post", 2, length=5),
        make.piece("leg", "Tube", 4, length=1.5),
    )
    job = make.job(products=(post, tube), pieces=rows, settings={"units": "imperial"})
    why = {need.item: need.why for need in take_off(job).needs}
    assert "Dressed, a 4x4 truly measures 3.5 in by 3.5 in" in why["Post"]
    assert "true to its name: 4 in by 4 in" in why["Tube"]
