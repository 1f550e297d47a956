"""Own methods: from the Work sheet, or documented ones; carrying by barrow."""

from dataclasses import replace

import pytest

from budget.prices.carrying import distances
from budget.prices.defaults import Notes
from budget.prices.work import methods
from budget.reference import coefficient
from budget.units import FOOT, SHORT_TON, YARD

EVERYTHING = {
    "Dig": 5.0, "Spoil": 6.0, "Fabric": 20.0, "Base": 2.0, "Edge": 15.0, "Bed": 20.0,
    "Lay": 20.0, "Cut": 10.0, "Joint": 20.0, "Build": 4.0,
}  # fmt: skip


@pytest.fixture
def ways(make):
    """Methods by step for some rows, machines and settings, with the notes taken."""

    def run(*work, machines=(), amounts=None, takeoff=None, equipment=(), **settings):
        notes = Notes("imperial")
        job = make.job(work=work, equipment=equipment, settings=make.settings(**settings))
        takeoff = takeoff or make.takeoff(**(EVERYTHING if amounts is None else amounts))
        return methods(job, takeoff, machines, notes), notes

    return run


def test_every_step_of_the_job_and_carrying_can_be_done(ways) -> None:
    found, notes = ways()
    assert list(found) == [*EVERYTHING, "Carry"]
    assert all(found.values())
    assumed = {a.what for a in notes.assumed}
    assert "pace of Dig, by hand" in assumed
    assert "load of a barrow" in assumed


def test_steps_that_the_job_has_not_are_left_out(ways) -> None:
    found, _ = ways(amounts={"Lay": 20.0, "Cut": 0.0})
    assert list(found) == ["Lay", "Carry"]


def test_a_row_of_the_work_sheet_replaces_the_documented_methods(ways, make) -> None:
    row = make.work("Dig", "with a friend's tractor", likely=1.3, people=2, reworked=0.1)
    found, notes = ways(row)
    [own] = found["Dig"]
    assert (own.method, own.rate.value, own.people) == ("with a friend's tractor", 1.3, 2)
    assert own.reworked is not None
    assert own.reworked.value == 0.1
    assert own.rate.key == row.cell("likely")
    assert not any(a.what.startswith("pace of Dig") for a in notes.assumed)


def test_the_middle_of_low_and_high_where_likely_is_blank(ways, make) -> None:
    found, _ = ways(make.work("Dig", "by hand", low=1.0, high=2.0), make.work("Dig", "x", low=3.0))
    assert [m.rate.value for m in found["Dig"]] == [1.5, 3.0]


def test_a_row_without_any_rate_is_a_warning_and_the_documented_ones_stay(ways, make) -> None:
    found, notes = ways(make.work("Dig", "by hand"))
    assert [w.code for w in notes.warnings] == ["rate-blank"]
    assert [m.method for m in found["Dig"]] == ["by hand"]


def test_machine_hours_blank_are_as_long_as_the_people_take(ways, make) -> None:
    row = make.work("Dig", "digger", likely=1.0, people=2, equipment="Digger")
    found, _ = ways(row, machines=["digger"])
    [own] = found["Dig"]
    assert own.machine == "digger"
    assert own.machine_rate is not None
    assert own.machine_rate.value == 0.5


def test_documented_methods_with_machines_need_one_that_can_be_had(ways) -> None:
    found, _ = ways()
    assert [m.method for m in found["Dig"]] == ["by hand"]
    offered, _ = ways(machines=["mini LOADER"])
    assert [(m.method, m.machine) for m in offered["Dig"]] == [
        ("by hand", ""), ("mini loader", "mini LOADER"),
    ]  # fmt: skip


def test_a_machine_that_every_method_needs_stays_though_nobody_offers_it(ways) -> None:
    found, _ = ways()
    assert [m.machine for m in found["Base"]] == ["Plate compactor"]


def test_a_machine_that_is_misspelt_on_equipment_is_told_how_it_is_called(ways, make) -> None:
    near = make.equipment("plate compacter", way="rent")
    _, notes = ways(machines=["plate compacter"], equipment=(near,))
    told = {n.found: n.mend for n in notes.warnings if n.code == "machine-missing"}
    hint = "Is plate compacter meant for it? Then write Plate compactor there."
    assert told["nothing for Base"].endswith(hint)
    assert hint not in told["nothing for Cut"]


def test_a_machine_that_was_forgotten_on_equipment_is_asked_for(ways, make) -> None:
    """A loader alone is listed: base and joints want a plate, cuts one of three machines."""
    loader = make.equipment("Mini loader", way="rent")
    _, notes = ways(machines=["Mini loader"], equipment=(loader,))
    asked = {n.found: n.expected for n in notes.warnings if n.code == "machine-missing"}
    assert asked == {
        "nothing for Base": "a row for Plate compactor",
        "nothing for Joint": "a row for Plate compactor",
        "nothing for Cut": "a row for Wet saw, Paver splitter or Angle grinder",
    }
    _, silent = ways()
    assert not silent.warnings


def test_porcelain_is_not_left_to_a_splitter(ways, make) -> None:
    """Common practice: it breaks where it likes. Though only a splitter is offered, a saw stays."""
    tiles = replace(make.takeoff(Cut=10.0), not_split="porcelain")
    found, _ = ways(takeoff=tiles, machines=("Paver splitter",))
    assert "Paver splitter" not in {method.machine for method in found["Cut"]}
    assert found["Cut"]
    plain, _ = ways(takeoff=make.takeoff(Cut=10.0), machines=("Paver splitter",))
    assert [method.machine for method in plain["Cut"]] == ["Paver splitter"]


def test_a_documented_pace_of_cutting_is_one_persons(ways, make) -> None:
    """A second joins where pavers ask for it; a pace on Work is everybody's and stays."""
    found, _ = ways(machines=("Wet saw",))
    assert {step for step, own in found.items() if any(m.alone for m in own)} == {"Cut"}
    (saw,) = found["Cut"]
    assert saw.people == 1
    assert saw.rate.value * FOOT == pytest.approx(0.08)
    assert saw.machine_rate.value * FOOT == pytest.approx(0.06)
    given, _ = ways(make.work("Cut", "saw", likely=0.3, people=1))
    assert (given["Cut"][0].rate.value, given["Cut"][0].alone) == (0.3, False)


def test_one_pace_for_each_bedding(ways) -> None:
    found, _ = ways()
    rates = {m.bedding: m.rate.value for m in found["Lay"]}
    assert set(rates) == {"sand", "small gravel"}
    assert rates["small gravel"] > rates["sand"]
    assert rates["sand"] == pytest.approx(0.04 / FOOT**2)


def test_hand_digging_takes_longer_in_clay(ways) -> None:
    """0.62 labourer-days a m³ in hard ground against 0.50 in soft: 1.25 times."""
    earth = ways(ground="common earth")[0]["Dig"][0].rate.value
    clay = ways(ground="clay")[0]["Dig"][0].rate.value
    assert clay / earth == pytest.approx(1.25)
    assert earth == pytest.approx(3.8 / YARD**3)


def test_digging_in_common_earth_is_told_without_a_factor_of_one(ways) -> None:
    rates = {g: ways(ground=g)[0]["Dig"][0].rate for g in ("common earth", "clay")}
    assert {ground: rate.origin for ground, rate in rates.items()} == {
        "common earth": "default",
        "clay": "worked",
    }


def test_nothing_is_carried_twice(ways) -> None:
    found, _ = ways()
    assert found["Carry"][0].reworked is None
    assert found["Lay"][0].reworked is not None


def test_barrow_by_hand(ways) -> None:
    """200 lb a load, 2.5 + 0.5 min to fill and tip, 60 ft there and back at 150 ft/min is
    0.8 min: 10 loads a ton take 38 minutes."""
    barrow = ways()[0]["Carry"][0]
    assert barrow.walk is not None
    hours = SHORT_TON * (barrow.rate.value + barrow.walk.value * 60 * FOOT)
    assert hours * 60 == pytest.approx(10 * 3.8)


@pytest.mark.parametrize(
    ("way_in", "name"), [("sloped", "slope factor"), ("steps", "steps factor")]
)
def test_slopes_and_steps_lengthen_the_walk_only(ways, way_in, name) -> None:
    level, other = (ways(way_in=w)[0]["Carry"][0] for w in ("level", way_in))
    assert other.rate.value == level.rate.value
    assert other.walk is not None
    assert level.walk is not None
    assert other.walk.value / level.walk.value == pytest.approx(coefficient(name).likely)


def test_a_motor_barrow_is_not_taken_over_steps(ways) -> None:
    offered = ways(machines=["Motor barrow"])[0]["Carry"]
    assert [m.method for m in offered] == ["barrow", "motor barrow"]
    steps = ways(machines=["Motor barrow"], way_in="steps")[0]["Carry"]
    assert [m.method for m in steps] == ["barrow"]


def test_a_timed_carry_holds_for_its_whole_way(ways, make) -> None:
    [own] = ways(make.work("Carry", "barrow", likely=0.001))[0]["Carry"]
    assert own.walk is None


def test_carry_distances_are_given_or_assumed(make) -> None:
    notes = Notes("imperial")
    found = distances(make.job(settings=make.settings(carry_drive=25.0)), notes)
    assert found["drive"].value == 25.0
    assert found["street"].value == pytest.approx(100 * FOOT)
    assert len(notes.assumed) == 2


def test_the_ground_slows_digging_by_hand_alone(ways) -> None:
    def rates(ground: str) -> dict[tuple[str, str], float]:
        found, _ = ways(ground=ground, machines={"mini loader": "Mini loader"})
        return {(s, m.method): m.rate.value for s, ms in found.items() for m in ms}

    soft, hard = rates("common earth"), rates("clay")
    slower = {key for key in soft if hard[key] > soft[key]}
    assert slower == {key for key in soft if key[0] == "Dig" and key[1] == "by hand"}
    assert len([key for key in soft if key[0] == "Dig"]) > 1


def test_a_little_of_a_step_is_to_be_done_too(ways) -> None:
    """Half a square metre to lay."""
    found, _ = ways(amounts={"Lay": 0.5})
    assert list(found) == ["Lay", "Carry"]
