"""Scenarios, pins, flips and advice on one small job with two beddings."""

from __future__ import annotations

import dataclasses
from types import SimpleNamespace

import pytest

from budget.decide import compare_options
from budget.decide.comparison import unproved
from budget.decide.outcome import Comparison
from budget.decide.plan import Scenario
from budget.job import Job, Pin, Place, Settings
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff

PLACE = Place("Scenarios", 2)


def job(*pins: tuple[str, str, str]) -> Job:
    rows = tuple(Pin(place=PLACE, scenario=n, choice=c, value=v) for n, c, v in pins)
    return Job(settings=Settings(place=Place("Job", 1)), pins=rows)


@pytest.fixture(scope="module")
def inputs(make: SimpleNamespace) -> tuple[Takeoff, Options]:
    takeoff = make.takeoff(
        [
            make.need("Base stone", "Base", {"mass": 4000}, weight=4000),
            make.need("Bedding sand", "Bed", {"mass": 900}, weight=900, bedding="sand"),
            make.need("Small gravel", "Bed", {"mass": 800}, weight=800, bedding="small gravel"),
            make.need("Screenings", "Bed", {"mass": 700}, weight=700, bedding="screenings"),
            make.need("Bench kit", "Build", {"count": 1}, weight=90, part="Bench",
                      optional="Bench"),
        ],
        [
            make.amount("Dig", 3.0), make.amount("Base", 2.0),
            make.amount("Bed", 20.0, bedding="sand"),
            make.amount("Bed", 20.0, bedding="small gravel"),
            make.amount("Bed", 20.0, bedding="screenings"),
            make.amount("Build", 4.0, part="Bench", optional="Bench"),
        ],
        beddings=[
            make.bedding("sand"), make.bedding("small gravel"),
            make.bedding("screenings", discouraged=True),
        ],
        spoil=4.0, optional=["Bench"],
    )  # fmt: skip
    options = make.options(
        offers=[
            make.offer("Base stone", "North", 3000, holds=1000, per="tonne", weight=1000),
            make.offer("Bedding sand", "North", 4000, holds=1000, per="tonne", weight=1000),
            make.offer("Small gravel", "North", 5000, holds=1000, per="tonne", weight=1000),
            make.offer("Screenings", "North", 1000, holds=1000, per="tonne", weight=1000),
            make.offer("Bench kit", "North", 30000, measure="count", per="kit", weight=90),
        ],
        routes=[make.drop("North", 6000), make.haul("North", 900, mileage=300)],
        methods=[
            make.method("Dig", "by hand", 5.0), make.method("Base", "by hand", 2.0),
            make.method("Base", "compactor", 1.0, machine="Compactor", machine_rate=1.0),
            make.method("Bed", "screed", 0.2, bedding="sand"),
            make.method("Bed", "screed", 0.25, bedding="small gravel"),
            make.method("Bed", "screed", 0.2, bedding="screenings"),
            make.method("Build", "by hand", 1.0),
            make.method("Carry", "barrow", 0.001),
        ],
        bids=[
            make.bid("Dug out", ["Dig", "Spoil"], 45000),
            make.bid("Base laid", ["Base"], 40000, equipment=False),
            make.bid("All of it", ["Dig", "Spoil", "Base", "Bed", "Build"], 300000,
                     materials=True, supervise=3),
        ],
        machines=[make.machine("Compactor", "rent from A", terms=[("day", 6000, 1)]),
                  make.machine("Compactor", "borrow from B", once=5000)],
        disposal=[make.disposal("box", 15000)],
    )  # fmt: skip
    return takeoff, options


@pytest.fixture(scope="module")
def found(inputs: tuple[Takeoff, Options]) -> Comparison:
    return compare_options(job(), *inputs)


def scenario(found: Comparison, name: str, bedding: str = "sand") -> Scenario:
    return next(s for s in found.scenarios if (s.name, s.bedding) == (name, bedding))


def test_every_standard_scenario_under_every_bedding(found: Comparison) -> None:
    names = ("All own hands", "Machine work hired", "Whole job hired", "Mixed hands")
    assert [s.title for s in found.scenarios] == [
        f"{name}, {bedding} bedding"
        for name in names
        for bedding in ("sand", "screenings", "small gravel")
    ]
    assert all(s.proved and s.gap == 0 for s in found.scenarios)


def test_what_the_scenarios_pin(found: Comparison) -> None:
    own = scenario(found, "All own hands").priced
    machine = scenario(found, "Machine work hired").priced
    whole = scenario(found, "Whole job hired").priced
    assert own is not None
    assert machine is not None
    assert whole is not None
    assert all(v.startswith("own: ") for v in own.plan.steps.values())
    assert {s: v for s, v in machine.plan.steps.items() if v.startswith("bid: ")} == {
        "Dig": "bid: Dug out", "Base": "bid: Base laid",
    }  # fmt: skip
    # one bid does every step and brings everything: nothing is left to carry
    assert set(whole.plan.steps.values()) == {"bid: All of it"}
    assert "Carry" not in whole.plan.steps
    assert (whole.cash, whole.own_hours) == (300000, 3)


def test_a_crew_without_machines_needs_ours(found: Comparison) -> None:
    machine = scenario(found, "Machine work hired").priced
    assert machine is not None
    assert machine.plan.machines == {"Compactor": "borrow from B"}


def test_best_mix_worked_out_by_hand(found: Comparison) -> None:
    # Dig: 15 h at 20.00 and the box at 150.00 = 450.00, no better or worse than the bid.
    # Base: by hand 4 h = 80.00; with the compactor 2 h and 50.00 = 90.00; hired 400.00 and more.
    # Goods with sand: stone 120.00, sand 40.00, kit 300.00, and a drop of 60.00; hauling takes
    # six trips of 3.00 but 16 hours.
    assert found.best is not None
    priced = found.best.priced
    assert priced is not None
    assert found.best.bedding == "sand"
    assert priced.plan.steps["Base"] == "own: by hand"
    assert priced.plan.routes == {"North": "deliver to drive"}
    goods = 12000 + 4000 + 30000
    hours = 4 + 4 + 4 + (4000 + 1000 + 90) * 0.001  # Base, Bed, Build, Carry
    assert priced.total(2000) == pytest.approx(goods + 6000 + 45000 + 2000 * hours)


def test_a_discouraged_bedding_is_shown_but_never_best(found: Comparison) -> None:
    screenings = scenario(found, "Mixed hands", "screenings")
    assert screenings.discouraged
    assert screenings.priced is not None
    assert found.best is not None
    assert found.best.priced is not None
    assert screenings.priced.total(2000) < found.best.priced.total(2000)
    assert all(f.alternative != "screenings" for f in found.flips)
    assert all(p.priced.plan.bedding != "screenings" for p in found.frontier)
    assert any("discourage" in note for note in found.notes)


def test_a_discouraged_bedding_that_is_allowed_may_be_best(
    inputs: tuple[Takeoff, Options],
) -> None:
    takeoff, options = inputs
    beddings = tuple(
        dataclasses.replace(b, allowed=b.name == "screenings") for b in takeoff.beddings
    )
    found = compare_options(job(), dataclasses.replace(takeoff, beddings=beddings), options)
    assert found.best is not None
    assert found.best.bedding == "screenings"


def test_saving_and_what_an_hour_earns(found: Comparison) -> None:
    assert found.best is not None
    assert found.best.priced is not None
    saving = 300000 - found.best.priced.cash
    assert found.saving == saving
    assert found.hour_earns == pytest.approx(saving / (found.best.priced.own_hours - 3))
    assert found.complete


@pytest.mark.parametrize(
    ("choice", "value", "expected"),
    [
        ("step:Dig", "hire", "bid: Dug out"),
        ("STEP:dig", "Dug Out", "bid: Dug out"),
        ("step: Dig", "own", "own: by hand"),
        ("step:Base", "by hand", "own: by hand"),
        ("step:Base", "own: compactor", "own: compactor"),
        ("machine:compactor", "rent", "rent from A"),
        ("goods:North", "haul", "haul with Pickup"),
        ("goods:north", "Deliver to drive", "deliver to drive"),
        ("item:Base stone", "north", "Base stone @ North, tonne"),
        ("disposal", "BOX", "box"),
        ("bedding", "Small Gravel", "small gravel"),
        ("part:Bench", "keep", "keep"),
    ],
)
def test_pins_as_people_write_them(
    inputs: tuple[Takeoff, Options], choice: str, value: str, expected: str
) -> None:
    pins = [("Mine", choice, value)]
    if "machine" in choice:
        pins.append(("Mine", "step:Base", "compactor"))
    if choice == "disposal":
        pins.append(("Mine", "step:Dig", "own"))
    found = compare_options(job(*pins), *inputs)
    mine = [s for s in found.scenarios if s.name == "Mine"]
    assert mine
    for s in mine:
        assert s.priced is not None
        choices = {c.casefold(): v for c, v in s.priced.plan.choices().items()}
        assert choices[choice.replace(": ", ":").casefold()] == expected


def test_a_part_left_out_is_neither_bought_nor_built(inputs: tuple[Takeoff, Options]) -> None:
    found = compare_options(job(("Bare", "part:Bench", "drop")), *inputs)
    bare = scenario(found, "Bare").priced
    assert bare is not None
    assert {line.name for line in bare.lines}.isdisjoint({"Bench kit", "Build"})


@pytest.mark.parametrize(
    ("choice", "value", "words"),
    [
        ("step:Digg", "hire", "There is no choice called step:Digg; did you mean step:Dig?"),
        ("step:Dig", "Dugout", "no value of step:Dig called Dugout; did you mean Dug out?"),
        (
            "bedding",
            "clay",
            "There is no value of bedding called clay; known: sand, screenings",
        ),
    ],
)
def test_pins_that_cannot_be_met_say_why(
    inputs: tuple[Takeoff, Options], choice: str, value: str, words: str
) -> None:
    found = compare_options(job(("Mine", choice, value)), *inputs)
    mine = next(s for s in found.scenarios if s.name == "Mine")
    assert not mine.feasible
    assert mine.priced is None
    assert words.casefold() in mine.why_not.casefold()


def test_overlapping_bids_are_explained(inputs: tuple[Takeoff, Options]) -> None:
    pins = [("Mine", "step:Bed", "hire"), ("Mine", "step:Base", "Base laid")]
    found = compare_options(job(*pins), *inputs)
    assert "No set of bids" in scenario(found, "Mine").why_not


def test_a_scenario_without_a_bid_says_which_step(inputs: tuple[Takeoff, Options]) -> None:
    takeoff, options = inputs
    fewer = dataclasses.replace(options, bids=options.bids[:1])
    found = compare_options(job(), takeoff, fewer)
    assert scenario(found, "Whole job hired").why_not == "No bid covers Base, Bed and Build."
    assert found.hired is None
    assert found.saving is None


def test_a_step_without_anybody_is_named(inputs: tuple[Takeoff, Options]) -> None:
    takeoff, options = inputs
    only_hired = dataclasses.replace(options, methods={**options.methods, "Dig": ()})
    own = scenario(compare_options(job(), takeoff, only_hired), "All own hands")
    assert own.why_not == "There is no own way to do Dig."
    nobody = dataclasses.replace(only_hired, bids=options.bids[1:2])
    own = scenario(compare_options(job(), takeoff, nobody), "All own hands")
    assert own.why_not == "Nobody can do Dig: no own method and no bid covers it."


def test_what_a_hired_job_leaves_to_its_owner_is_said(inputs: tuple[Takeoff, Options]) -> None:
    takeoff, options = inputs
    bare = dataclasses.replace(options.bids[2], materials=False)
    found = compare_options(job(), takeoff, dataclasses.replace(options, bids=(bare,)))
    assert "Hiring the whole job still leaves the goods for you to carry in." in found.notes
    assert not [n for n in found.notes if "do not miss the same prices" in n]


def test_plans_that_miss_other_prices_are_not_called_alike(
    inputs: tuple[Takeoff, Options],
) -> None:
    """The crew needs a compactor that nobody rents out; by hand nothing is missing."""
    takeoff, options = inputs
    bare = dataclasses.replace(options.bids[2], equipment=False)
    found = compare_options(job(), takeoff, dataclasses.replace(options, bids=(bare,), machines={}))
    assert [n for n in found.notes if "do not miss the same prices" in n]
    assert not [n for n in found.notes if "carry in" in n]


def test_flips_name_both_sides_and_the_turning_points(found: Comparison) -> None:
    base = next(f for f in found.flips if f.choice == "step:Base" and "bid" in f.alternative)
    # hired: 400.00 and 50.00 for a machine, as the crew brings none; own by hand: four hours
    assert (base.cash, base.hours) == (45000, pytest.approx(-4.0))
    assert base.sentence.startswith(
        "Base: hiring “Base laid” instead of own hands costs $450 more and saves 4 hours"
    )
    bedding = next(f for f in found.flips if f.choice == "bedding")
    # gravel 50.00 against sand 40.00; 20 x 0.05 = 1 h more, the same tonne to carry
    assert (bedding.value, bedding.alternative) == ("sand", "small gravel")
    assert (bedding.cash, bedding.hours) == (1000, pytest.approx(1.0))
    assert bedding.hour_values == ()
    assert "wins whatever an hour is worth" in bedding.sentence


def test_flips_come_by_money_at_stake(found: Comparison) -> None:
    stakes = [abs(f.cash + 2000 * f.hours) for f in found.flips]
    assert stakes == sorted(stakes, reverse=True)


def test_missing_prices_come_first_in_the_ranking(
    make: SimpleNamespace, inputs: tuple[Takeoff, Options]
) -> None:
    takeoff, options = inputs
    bare = dataclasses.replace(
        options, offers=tuple(o for o in options.offers if o.item != "Bedding sand")
    )
    found = compare_options(job(), takeoff, bare)
    sand = scenario(found, "Mixed hands", "sand").priced
    assert sand is not None
    assert sand.missing == () or sand.plan.steps["Bed"].startswith("bid: ")
    assert found.best is not None
    assert found.best.bedding == "small gravel"  # complete, so it goes before cheaper sand


def test_advice_names_the_biggest_gap(
    make: SimpleNamespace, inputs: tuple[Takeoff, Options]
) -> None:
    takeoff, options = inputs
    bare = dataclasses.replace(
        options,
        offers=tuple(o for o in options.offers if o.item != "Base stone"),
        bids=(), checklist=(make.check_line("Permit", "to price"),),
    )  # fmt: skip
    found = compare_options(job(), takeoff, bare)
    assert not found.complete
    assert {m.what for m in found.missing} == {"Base stone", "Permit"}
    assert found.next_step.startswith("Fill the Quotes sheet next: Base stone")
    assert any("best plan so far" in note for note in found.notes)


def test_advice_turns_to_bids_when_nothing_is_missing(
    inputs: tuple[Takeoff, Options],
) -> None:
    takeoff, options = inputs
    found = compare_options(job(), takeoff, dataclasses.replace(options, bids=()))
    assert found.next_step == (
        "Ask for a price on the Bids sheet next: Dig takes 15 hours and nobody has offered to "
        "do it."
    )


def test_an_unpriced_delivery_is_missing_not_free(make: SimpleNamespace) -> None:
    takeoff = make.takeoff([make.need("Stone", "Base", {"mass": 10})], [])
    options = make.options(
        offers=[make.offer("Stone", "North", 500)], routes=[make.drop("North", 0, priced=False)]
    )
    found = compare_options(job(), takeoff, options)
    assert [m.what for m in found.missing] == ["Delivery from North"]
    assert found.best is not None
    assert found.best.priced is not None
    assert [line.name for line in found.best.priced.lines] == ["Stone"]


def test_goods_nobody_brings_are_explained(make: SimpleNamespace) -> None:
    takeoff = make.takeoff([make.need("Stone", "Base", {"mass": 10}, weight=10)], [])
    options = make.options(
        offers=[make.offer("Stone", "North", 500, weight=1)],
        routes=[make.drop("North", 4000, least=1000)],
        methods=[make.method("Carry", "barrow", 0.001)],
    )
    found = compare_options(job(), takeoff, options)
    assert found.best is None
    assert "North may not deliver so little" in found.scenarios[-1].why_not
    assert found.next_step.startswith("Fill the Quotes, Work or Bids sheet")


def test_a_machine_too_wide_is_explained(make: SimpleNamespace) -> None:
    takeoff = make.takeoff([], [make.amount("Dig", 3.0)])
    options = make.options(
        methods=[make.method("Dig", "loader", 1.0, machine="Loader")],
        machines=[make.machine("Loader", "rent", terms=[("day", 9000, 1)], fits=False)],
    )
    found = compare_options(job(), takeoff, options)
    assert found.best is None
    assert "too wide for the way in" in scenario(found, "Mixed hands").why_not


def test_what_is_not_proved_is_said_of_each_plan(found: Comparison) -> None:
    """A gap of a tenth of 400.00 and of ten hours at 20.00: within 60.00."""
    best = found.best
    assert best is not None
    assert best.priced is not None
    plan = dataclasses.replace(best.priced, cash=40000, own_hours=10.0)
    doubted = dataclasses.replace(best, priced=plan, proved=False, gap=0.1)
    refused = dataclasses.replace(doubted, priced=None)
    assert unproved((best, refused), (), 2000.0, "USD") == []
    one, after = unproved((best, doubted, refused), (), 2000.0, "USD")
    assert one == f"{best.title}: best so far, within $60 of the best possible."
    assert "--limit" in after
    blind = dataclasses.replace(doubted, gap=float("inf"))
    assert "not proved to be the best" in unproved((blind,), (), 2000.0, "USD")[0]
    stopped = (dataclasses.replace(found.frontier[0], proved=False),)
    (other,) = unproved((best, refused), stopped, 2000.0, "USD")
    assert "other values of an own hour" in other
    assert len(unproved((best, doubted), stopped, 2000.0, "USD")) == 2
    assert unproved((best,), found.frontier, 2000.0, "USD") == []
