"""Laws that quantities must keep whatever the sizes."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from budget.quantities import take_off
from budget.quantities.laid.cutting import cut
from budget.reference.tables import patterns

sizes = st.floats(2, 16)
PATTERNS = [name for name in patterns() if name != "random"]
few = settings(max_examples=25, deadline=None)


def by_key(takeoff):
    found = {}
    for need in takeoff.needs:
        found[need.item, need.part, need.bedding] = need.order.value
    for step in takeoff.steps:
        key = ("step", step.step, step.part, step.bedding)
        found[key] = found.get(key, 0) + step.amount.value
    return found


def job_of(make, *areas, **sheets):
    return make.job(*areas, quotes=(make.quote("Small gravel"), make.quote("Geotextile")), **sheets)


@given(length=sizes, width=sizes)
@few
def test_twice_the_area_takes_twice_the_layers(make_many, length, width):
    make = make_many
    layer = (make.build_up(overrun=0, base_depth=4),)
    once = take_off(job_of(make, make.area(length=length, width=width), build_ups=layer))
    twice = take_off(job_of(make, make.area(length=2 * length, width=width), build_ups=layer))
    one, two = by_key(once), by_key(twice)
    for item in ("Base stone", "Geotextile"):
        assert two[item, "Terrace", ""] == pytest.approx(2 * one[item, "Terrace", ""])
    for bedding, item in (("sand", "Bedding sand"), ("small gravel", "Joint gravel")):
        assert two[item, "Terrace", bedding] == pytest.approx(2 * one[item, "Terrace", bedding])
    dig = "step", "Dig", "Terrace", "sand"
    assert two[dig] == pytest.approx(2 * one[dig])


@given(length=sizes, width=sizes)
@few
def test_twice_the_area_takes_twice_the_pavers_but_for_the_cuts(make_many, length, width):
    make = make_many
    one, two = (
        next(n for n in take_off(job_of(make, area)).needs if n.item == "Paver")
        for area in (
            make.area(length=length, width=width),
            make.area(length=2 * length, width=width),
        )
    )
    assert two.net.value == pytest.approx(2 * one.net.value)
    assert two.order.value <= 2 * one.order.value * 1.05 + 3


@given(length=sizes, width=sizes, share=st.floats(0.1, 0.9))
@few
def test_split_and_joined_is_the_same_terrace(make_many, length, width, share):
    make = make_many
    whole = take_off(job_of(make, make.area(length=length, width=width)))
    left = make.area(name="left", length=length * share, width=width, joined_edge=width)
    right = make.area(name="right", length=length * (1 - share), width=width, joined_edge=width)
    split = take_off(job_of(make, left, right))
    one, two = by_key(whole), by_key(split)
    assert one.keys() == two.keys()
    for key, value in one.items():
        if key[0] != "Edging spike":
            assert two[key] == pytest.approx(value, rel=0.02), key
    assert split.parts[0].area.value == pytest.approx(whole.parts[0].area.value)
    assert split.parts[0].restrained.value == pytest.approx(whole.parts[0].restrained.value)


@given(length=sizes, width=sizes, diameter=sizes)
@few
def test_imperial_and_metric_twins_agree(make_many, length, width, diameter):
    make = make_many
    areas = (
        make.area(length=length, width=width),
        make.area("Bowl", shape="circle", diameter=diameter),
    )
    imperial = job_of(make, *areas)
    metric = replace(imperial, settings=replace(imperial.settings, units="metric"))
    assert by_key(take_off(imperial)) == by_key(take_off(metric))


def inside(figure, name):
    """The value of a figure that another was made from; 0 if it was not."""
    if figure.name == name:
        return figure.value
    return max((inside(arg, name) for arg in figure.args), default=0.0)


@given(
    length=sizes, width=sizes, more=st.one_of(st.floats(0.1, 20), st.floats(0, 0.5)),
    pattern=st.sampled_from(PATTERNS),
)  # fmt: skip
@few
def test_more_area_never_needs_less(make_many, length, width, more, pattern):
    """Pavers used, broken ones and spares never become fewer; only spoiled cuts may.

    What is spoiled is a share of the cuts, and a terrace that is whole modules long and wide has
    none: so the order is as large as that of a smaller terrace but for its spoiled cuts.
    """
    make = make_many
    small, large = (
        take_off(job_of(make, make.area(length=size, width=width, pattern=pattern)))
        for size in (length, length + more)
    )
    after = by_key(large)
    for key, value in by_key(small).items():
        if key[0] != "Paver" and key[:2] != ("step", "Cut"):
            assert after[key] >= value - 1e-9, key
    one, two = (next(n for n in t.needs if n.item == "Paver") for t in (small, large))
    assert inside(two.order, "pavers needed") >= inside(one.order, "pavers needed")
    spoiled = inside(one.order, "pavers spoiled in cutting")
    assert two.order.value >= one.order.value - spoiled - 1e-9


@given(length=sizes, width=sizes, diameter=st.floats(1, 12))
@few
def test_orders_are_never_below_what_is_needed(make_many, length, width, diameter):
    make = make_many
    areas = (
        make.area(length=length, width=width),
        make.area(shape="quarter circle", diameter=diameter, name="corner"),
    )
    roll = make.product("Geotextile", "geotextile", roll_width=6)
    for products in ((), (roll,)):
        for need in take_off(job_of(make, *areas, products=products)).needs:
            assert need.order.value >= need.net.value > 0
            assert need.overage.value == pytest.approx(need.order.value / need.net.value - 1)
            assert need.weight is None or need.weight.value > 0


@given(rows=st.permutations(range(6)))
@few
def test_the_order_of_rows_does_not_matter(make_many, rows):
    make = make_many
    areas = [
        make.area("Terrace", name="a", length=20, width=10, joined_edge=4),
        make.area("Terrace", name="b", shape="quarter circle", diameter=8, joined_edge=4),
        make.area("Terrace", name="tree", shape="circle", diameter=3, cut_out=True),
        make.area("Walk", length=30, width=3, paver="Slab", pattern="stack bond"),
        make.area("Walk", name="end", length=5, width=4, pattern="herringbone 45"),
        make.area("Bowl", shape="ring", diameter=12, inner_diameter=4, optional=True),
    ]
    stock = (make.stock("Paver", 300), make.stock("Slab", 3))
    straight = take_off(job_of(make, *areas, stock=stock))
    mixed = take_off(job_of(make, *(areas[i] for i in rows), stock=stock[::-1]))
    assert by_key(straight) == by_key(mixed)
    assert [n.item for n in straight.needs] == [n.item for n in mixed.needs]
    assert straight.parts[0].outlines == mixed.parts[0].outlines
    assert straight.assumed == mixed.assumed


@given(
    kind=st.sampled_from(["wall", "ring", "column"]), size=st.floats(3, 12),
    height=st.floats(12, 30), more=st.floats(0.1, 4),
)  # fmt: skip
@few
def test_a_larger_wall_never_needs_fewer_units(make_many, kind, size, height, more):
    make = make_many
    block = make.product("Block", "wall unit", length=12, width=8, height=4, weight=12)

    def needed(**sizes):
        wall = make.wall(kind=kind, **sizes)
        found = by_key(take_off(make.job(make.area(length=10, width=10), walls=(wall,),
                                         products=(block,))))  # fmt: skip
        return {key: value for key, value in found.items() if "Block" in key or "Dig" in key}

    field, unit = ("diameter", 12) if kind == "ring" else ("length", 1)
    small = needed(**{field: size * unit}, height=height)
    for large in (
        needed(**{field: (size + more) * unit}, height=height),
        needed(**{field: size * unit}, height=height + more * 4),
    ):
        assert all(large[key] >= value - 1e-9 for key, value in small.items())


@given(
    tenths=st.lists(st.integers(3, 23), min_size=1, max_size=4, unique=True),
    counts=st.lists(st.integers(1, 4), min_size=4, max_size=4), which=st.integers(0, 3),
)  # fmt: skip
@few
def test_one_more_piece_never_needs_fewer_boards(tenths, counts, which):
    counts = counts[: len(tenths)]
    more = [n + (i == which % len(tenths)) for i, n in enumerate(counts)]
    once, twice = (cut([n / 10 for n in tenths], all_, [2.4], 0.003) for all_ in (counts, more))
    assert once.proved
    assert twice.proved
    assert sum(twice.stock_used.values()) >= sum(once.stock_used.values())
