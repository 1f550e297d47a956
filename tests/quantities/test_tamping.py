"""A base beaten down by hand: lifts, warnings, cautions."""

import pytest

from budget.figures import constant
from budget.job import Place, Work
from budget.quantities import take_off
from budget.quantities.needs.tamping import by_hand, tamping_words
from budget.units import AREA, COMPACTED_VOLUME, INCH


@pytest.fixture
def counted(make):
    def run(*ways, depth=4):
        work = tuple(
            Work(place=Place("Work", 5 + n, {"method": "B"}), step=step, method=method,
                 equipment=equipment, likely=1.0)
            for n, (step, method, equipment) in enumerate(ways)
        )  # fmt: skip
        build_up = make.build_up(base_depth=depth)
        return take_off(make.job(make.area(length=20, width=10), build_ups=(build_up,), work=work))

    return run


def base_why(found):
    return next(need.why for need in found.needs if need.kind == "base")


WAYS = [
    pytest.param("hand tamper", "", True, id="named so"),
    pytest.param("rake and beat", "", True, id="no equipment"),
    pytest.param("spread", "Hand tamper", True, id="a tamper among the equipment"),
    pytest.param("spread", "Plate compactor", False, id="a plate"),
    pytest.param("with my own plate", "", False, id="a plate that is owned"),
    pytest.param("spread", "Trench rammer", False, id="a rammer"),
    pytest.param("compacted by hand", "", True, id="a verb, not a machine"),
    pytest.param("own compactor", "", False, id="a compactor that is owned"),
]


@pytest.mark.parametrize(("method", "equipment", "hand"), WAYS)
def test_which_ways_are_by_hand(method, equipment, hand) -> None:
    assert by_hand(method, equipment) is hand


def test_by_hand_the_lifts_are_thinner_and_no_plate_runs(counted) -> None:
    """A maker's steps: 4 in of stone in lifts of 2 in; under a plate one lift of 4 in."""
    found = counted(("Base", "hand tamper", ""))
    assert "2 lifts of 2 in, tamped by hand" in base_why(found)
    assert found.compaction == ()
    [text] = [text for step, text, _ in found.cautions if step == "Base"]
    assert "plate" not in text
    assert not any("plate" in assumed.what for assumed in found.assumed)


def test_a_base_of_six_inches_by_hand_takes_three_lifts(counted) -> None:
    assert "3 lifts of 2 in" in base_why(counted(("Base", "hand tamper", ""), depth=6))


def test_each_way_without_a_plate_is_asked_about(counted) -> None:
    """ICPI Construction Tolerances guide: 98 % of standard Proctor; Masonry Magazine: passes."""
    found = counted(("Base", "hand tamper", ""), ("Joint", "mallet and board", ""))
    asked = [(n.cell, n.expected) for n in found.warnings if n.code == "no-plate"]
    assert [cell for cell, _ in asked] == ["Work!B5", "Work!B6"]
    assert "98 %" in asked[0][1]
    assert "2 or 3" in asked[1][1]


def test_a_plate_beside_the_tamper_keeps_the_lifts_of_the_plate(counted) -> None:
    found = counted(("Base", "hand tamper", ""), ("Base", "plate", "Plate compactor"))
    assert "one lift of 4 in" in base_why(found)
    assert len(found.compaction) == 1
    assert len([n for n in found.warnings if n.code == "no-plate"]) == 1


def test_without_a_word_on_work_a_plate_is_reckoned_with(counted) -> None:
    found = counted()
    assert len(found.compaction) == 1
    assert not [n for n in found.warnings if n.code == "no-plate"]


@pytest.mark.parametrize(
    ("inches", "words"),
    [(1, "one lift of 1 in"), (2, "one lift of 2 in"), (4, "2 lifts of 2 in"),
     (5, "3 lifts of 1.7 in")],
)  # fmt: skip
def test_lifts_of_two_inches(inches, words) -> None:
    """A maker's steps (common practice): lifts of 2 in under a hand tamper."""
    area = constant(20.0, AREA, "area")
    base = constant(20.0 * inches * INCH, COMPACTED_VOLUME, "base")
    assert tamping_words(area, base, "imperial").startswith(f"{words}, tamped by hand")
