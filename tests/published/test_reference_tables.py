"""The reference tables: complete, in known units, each value with its source."""

import pytest

from budget.reference import UNIT_TEXTS, coefficients, product_kinds, rows, steps
from budget.reference.tables import grounds, pairs, patterns
from budget.units import MILE, POUND, SHORT_TON, YARD, per

STANDINGS = {"read", "common practice", "from memory"}


TABLES = ["coefficients", "methods", "pairs", "patterns", "ground", "plausible"]


@pytest.mark.parametrize("table", TABLES)
def test_every_value_says_how_well_it_is_known(table):
    for row in rows(table):
        assert row["standing"] in STANDINGS, row
        assert row["source"].strip(), row
        assert None not in row, row
        assert None not in row.values(), row


def test_coefficients_run_from_low_to_high():
    found = coefficients()
    assert sorted(found) == sorted(row["name"] for row in rows("coefficients"))
    for value in found.values():
        assert value.low <= value.likely <= value.high, value.name


def test_what_can_be_lies_around_what_is_usual():
    named = set()
    for row in rows("plausible"):
        edges = ("never_below", "least", "most", "never_above")
        given = [float(row[edge]) for edge in edges if row[edge]]
        assert given, row
        assert given == sorted(given), row
        named.add((row["sheet"], row["column"], row["with"]))
    assert len(named) == len(rows("plausible"))


def test_every_range_is_for_a_column_or_a_kind_or_a_check():
    from budget import units
    from budget.workbook.sheets.tabs import SHEETS

    titles = {(s.name, c.title) for s in SHEETS for c in s.columns}
    kinds = {k.name for k in vars(units).values() if isinstance(k, units.Kind)}
    for row in rows("plausible"):
        own = (row["sheet"], row["column"]) in titles
        assert own or row["column"] in kinds or row["column"].startswith("["), row


def test_every_bulk_material_has_a_density():
    for kind in product_kinds().values():
        if kind.bulk:
            assert kind.density in coefficients(), kind.kind


def test_every_step_has_an_own_method_but_carrying():
    named = {row["step"] for row in rows("methods")}
    assert named == set(steps()) - {"Carry"}


def test_methods_count_in_the_measure_of_their_step():
    from budget.units import HOURS

    for row in rows("methods"):
        kind, _ = UNIT_TEXTS[row["unit"]]
        step = steps()[row["step"]]
        assert kind.dimension == per(HOURS, step.measure).dimension, row
        assert float(row["low"]) <= float(row["likely"]) <= float(row["high"]), row
        assert bool(row["equipment"]) == bool(row["machine_hours"]), row


def test_a_method_for_one_bedding_stands_for_every_bedding():
    beddings = {pair.bedding for pair in pairs().values()}
    by_step = {}
    for row in rows("methods"):
        by_step.setdefault((row["step"], row["method"]), set()).add(row["bedding"])
    for named in by_step.values():
        assert named in ({""}, beddings)


def test_pairs_are_complete_and_each_bedding_has_a_usual_filler():
    beddings = {bedding for bedding, _ in pairs()}
    fillers = {filler for _, filler in pairs()}
    assert len(pairs()) == len(beddings) * len(fillers)
    assert fillers <= set(product_kinds())
    for bedding in beddings:
        assert any(p.usual == 1 for p in pairs().values() if p.bedding == bedding)


def test_checklist_repeats_nothing_that_is_counted():
    items = {kind.item for kind in product_kinds().values()}
    lines = [row["line"] for row in rows("checklist")]
    assert len(lines) == len(set(lines))
    assert not items & set(lines)
    conditions = {
        "always", "if cut", "if geotextile", "if fire", "if helpers", "if wall", "if pieces",
    }  # fmt: skip
    assert {row["when"] for row in rows("checklist")} <= conditions


@pytest.mark.parametrize(
    ("name", "value", "unit"),
    [
        pytest.param("vehicle cost", 72.5, 1 / MILE, id="IRS Notice 2026-10: 72.5 cents a mile"),
        pytest.param(
            "density base compacted", 3700, POUND / YARD**3, id="WSDOT M 22-01: 3,700 lb per cu yd"
        ),
        pytest.param(
            "density base loose", 2950, POUND / YARD**3, id="WSDOT M 22-01: 2,950 lb per cu yd"
        ),
        pytest.param(
            "density small gravel", 1.35, SHORT_TON / YARD**3, id="a quarry's chart: 1.35 ton"
        ),
    ],
)
def test_values_as_published(name, value, unit):
    assert coefficients()[name].likely == pytest.approx(value * unit)


def test_hour_value_is_a_published_wage():
    """BLS Occupational Outlook Handbook: 37,690 a year over 2,080 hours is 18.12 an hour."""
    assert coefficients()["hour value"].likely == pytest.approx(37_690 / 2_080 * 100, abs=0.5)


def test_ground_and_patterns_carry_their_figures():
    for ground in grounds().values():
        assert ground.swell_figure().source
        assert ground.density_figure().source
    for pattern in patterns().values():
        assert pattern.figure("straight").value <= pattern.figure("curved").value
        assert 0 < pattern.cut_figure().value <= 1


def test_hauling_densities_sort_as_the_chart_does():
    """A quarry's chart: sand 1.30 < screenings 1.40 < graded base 1.65 ton per cu yd."""
    found = coefficients()
    order = ["density bedding sand", "density screenings", "density base compacted"]
    values = [found[name].likely for name in order]
    assert values == sorted(values)
