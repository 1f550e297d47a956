"""What the takeoff says of goods bought wet."""

from budget.job import Area, Job, Place, Product, Settings
from budget.quantities.take_off import take_off


def why(kind, *products):
    area = Area(place=Place("Areas", 2), part="Terrace", length=6.096, width=3.048)
    job = Job(settings=Settings(place=Place("Job", 1)), areas=(area,), products=products)
    return next(need.why for need in take_off(job).needs if need.kind == kind)


def test_weights_wet_and_dry_stand_beside_the_order():
    """Base by hand: 231 sq ft x 4 in at 1.85 ton per cu yd is 5.28 ton, 5 % more 5.54."""
    assert "weighs 5.54 ton dry and 5.82 ton with 5 % water" in why("base")
    assert "weigh about 22 % more (5 to 26 %)" in why("bedding sand")
    assert "a ton bought wet holds 0.82 ton of dry goods" in why("bedding sand")


def test_in_metric_the_ton_is_a_tonne():
    area = Area(place=Place("Areas", 2), part="Terrace", length=6.0, width=3.0)
    settings = Settings(place=Place("Job", 1), units="metric")
    found = take_off(Job(settings=settings, areas=(area,)))
    said = next(need.why for need in found.needs if need.kind == "bedding sand")
    assert "a tonne bought wet holds 0.82 tonne of dry goods" in said


def test_a_density_of_the_job_speaks_for_itself():
    sold = Product(place=Place("Products", 2), item="Base stone", kind="base", density=1700.0)
    assert "water" not in why("base", sold)
