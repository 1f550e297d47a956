"""What offers say about costs and risks: read, priced in a plan, counted as money, laid out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.model.model import Model
from budget.decide.plan import Plan, Priced
from budget.decide.pricing.evaluation import evaluate_in
from budget.decide.terms.situation import Situation
from budget.decide.thorough.leftover import Left, _hours, left_with_owner, worths
from budget.decide.thorough.matrix import matrix
from budget.job import Bid as BidRow
from budget.job import BidScope, Job, Place, Settings
from budget.prices import flatten
from budget.prices.options import Answer, Bid, Risk
from budget.quantities.takeoff import Takeoff

ROCK, RAIN = "Rock or rubble in the ground", "Days lost to rain"


def scope(row: int, item: str, **fields: object) -> BidScope:
    return BidScope(place=Place("Bid scope", row), item=item, **fields)  # type: ignore[arg-type]


def bids_of(rows: Sequence[BidScope], **bid: object) -> Bid:
    """The one bid of a job, as the decision sees it; it covers Dig and Lay at 1,000.00."""
    row = BidRow(place=Place("Bids", 2), bid="Crew", steps=("Dig", "Lay"), price=100000, **bid)  # type: ignore[arg-type]
    job = Job(settings=Settings(place=Place("Job", 2), sales_tax=0.1, places={"sales_tax": "x"}),
              bids=(row,), bid_scope=tuple(rows))  # fmt: skip
    [found] = flatten(job, Takeoff((), (), (), (), (), None)).bids  # type: ignore[arg-type]
    return found


def said(found: Bid, item: str) -> str | None:
    answer = found.answer(item)
    return answer.answer if answer else None


def test_its_own_row_comes_before_the_row_for_every_bid() -> None:
    rows = [
        scope(2, "Drainage", answer="no"), scope(3, "Drainage", bid="crew", answer="yes"),
        scope(4, ROCK, chance=0.2, cost=50000), scope(5, ROCK, bid="Crew", answer="no"),
    ]  # fmt: skip
    found = bids_of(rows)
    assert said(found, "Drainage") == "yes"
    rock = found.answer(ROCK)
    assert rock == Answer(ROCK, "no")  # the chance and the cost for every bid are the risk's


def test_the_columns_for_rain_and_rock_say_the_same() -> None:
    rows = [scope(2, ROCK, bid="Crew", chance=0.3)]
    found = bids_of(rows, rain_on_owner=False, rock_on_owner=True)
    assert (said(found, RAIN), said(found, ROCK)) == ("yes", "no")
    assert found.answer(ROCK) == Answer(ROCK, "no", None, 0.3, None)
    assert bids_of([scope(2, ROCK, bid="Crew", answer="yes")], rock_on_owner=True).risks == (
        "Ask who pays for days lost to rain; the bid does not say.",
    )


@pytest.mark.parametrize(("taxed", "cents"), [(False, 9500), (True, 10450)])
def test_an_extra_is_taxed_as_the_bid(taxed: bool, cents: int) -> None:
    found = bids_of([scope(2, "Drainage", bid="Crew", answer="extra", extra=9500)], taxed=taxed)
    answer = found.answer("Drainage")
    assert answer is not None
    assert answer.extra is not None
    assert answer.extra.value == cents


def test_what_is_left_is_said_in_words() -> None:
    rows = [
        scope(2, "Roots and stumps", bid="Crew", answer="no"),
        scope(3, "Clearing up afterwards"),
    ]
    found = bids_of(rows, rain_on_owner=False, rock_on_owner=False)
    assert found.risks == (
        "You pay for roots and stumps found.",
        "Ask who pays for clearing up afterwards; the bid does not say.",
    )


def job(make: SimpleNamespace, said: Mapping[str, str], extra: int = 4000) -> Situation:
    """Dig and Lay of equal own hours; a crew for both at 900.00, a digger for Dig at 300.00."""
    answers = tuple(
        Answer(item, answer, make.cash(extra) if answer == "extra" else None)
        for item, answer in said.items()
    )
    crew = replace(make.bid("Crew", ["Dig", "Lay"], 90000), scope=answers)
    digger = make.bid("Digger", ["Dig"], 30000)
    options = make.options(
        methods=[make.method("Dig", "by hand", 5.0), make.method("Lay", "by hand", 0.5)],
        bids=[crew, digger], checklist=[make.check_line("Drain", value=9000)], hour_value=2000,
    )  # fmt: skip
    risks = (
        Risk("Rock", "rock", ("Dig",), True, 0.2, 0.5, None, "a guess", True),
        Risk("Rain", "rain", (), False, 0.3, 0.1, None, "a guess", True),
        Risk("Settling", "settling", ("Lay",), True, 0.1, 0.0, 80000, "", False),
    )
    takeoff = make.takeoff([], [make.amount("Dig", 2.0), make.amount("Lay", 20.0)])
    return Situation(takeoff, replace(options, risks=risks), "sand", frozenset())


def plan(dig: str, lay: str) -> Plan:
    return Plan("sand", frozenset(), {}, {}, {"Dig": dig, "Lay": lay}, {}, "")


OWN, CREW, DIGGER = "own: by hand", "bid: Crew", "bid: Digger"


def left(at: Situation, dig: str, lay: str) -> dict[str, tuple[int, str]]:
    found: list[Left] = left_with_owner(at, plan(dig, lay), worths(at))
    return {one.item: (one.money, one.who) for one in found}


def test_what_a_step_costs_hired(make: SimpleNamespace) -> None:
    # Dig by the bid for it alone; Lay has half of the crew's own hours, so half of its 900.00
    assert worths(job(make, {})) == {"Dig": 30000, "Lay": 45000}


def test_hours_by_hand_of_what_is_done(make: SimpleNamespace) -> None:
    """2 units of digging at 5 h; what is carried hangs on what is bought, and no wall is built."""
    at = job(make, {})
    assert [_hours(at, step) for step in ("Dig", "Carry", "Build")] == [10.0, 0.0, 0.0]


@pytest.mark.parametrize(
    ("paces", "worth"),
    [
        ((), {"Dig": 45000, "Lay": 45000}),  # nobody knows: in equal parts
        ((("Lay", 0.5),), {"Dig": 0, "Lay": 90000}),
        # 2 units at 5 h, the fastest way, and 20 at 1.5 h: a quarter and the rest
        ((("Dig", 20.0), ("Dig", 5.0), ("Lay", 1.5)), {"Dig": 22500, "Lay": 67500}),
    ],
)
def test_what_several_steps_cost_hired_is_shared_by_their_fastest_own_hours(
    make: SimpleNamespace, paces: Sequence[tuple[str, float]], worth: dict[str, int]
) -> None:
    at = job(make, {})
    ways = [make.method(step, f"at {pace}", pace) for step, pace in paces]
    options = make.options(methods=ways, bids=at.options.bids[:1])
    assert worths(Situation(at.takeoff, options, "sand", frozenset())) == worth


def test_a_risk_of_several_steps_is_a_share_of_all_that_they_cost_hired(
    make: SimpleNamespace,
) -> None:
    """Rain: 30 % of a tenth of 300.00 and 450.00. What nobody offers is worth nothing."""
    at = job(make, {"Rain": "no"})
    assert left(at, CREW, CREW)["Rain"] == (2250, "left to you by Crew")
    flood = Risk("Flood", "flood", (), True, 1.0, 1.0, None, "a guess", True)
    known = Situation(at.takeoff, replace(at.options, risks=(flood,)), "sand", frozenset())
    [found] = left_with_owner(known, plan(CREW, CREW), {"Dig": 30000.0})
    assert (found.cost, found.money) == (30000, 30000)


def test_a_cost_for_every_bid_is_shared_by_steps_where_none_is_offered(
    make: SimpleNamespace,
) -> None:
    """90.00 for rubble at an even chance: half of it the digger's step, half the owner's."""
    at = job(make, {})
    rubble = Risk("Rubble", "rubble", ("Dig", "Lay"), True, 0.5, 0.0, 9000, "", False)
    known = Situation(at.takeoff, replace(at.options, risks=(rubble,)), "sand", frozenset())
    [found] = left_with_owner(known, plan(DIGGER, OWN), {})
    assert (found.cost, found.money) == (9000, 4500)
    none = replace(rubble, own=False)
    known = Situation(at.takeoff, replace(at.options, risks=(none,)), "sand", frozenset())
    [found] = left_with_owner(known, plan(DIGGER, OWN), {})
    assert (found.cost, found.money) == (4500, 2250)


def test_risks_as_money_by_hand(make: SimpleNamespace) -> None:
    at = job(make, {"Rock": "no", "Rain": "yes"})
    # rock: 20 % of half of 300.00; rain is the crew's; settling: 10 % of 800.00, not said
    assert left(at, CREW, CREW) == {
        "Rock": (3000, "left to you by Crew"), "Settling": (8000, "not said by Crew"),
    }  # fmt: skip
    # rain: 30 % of a tenth of the digger's 300.00, and nothing for the days of own laying
    assert left(at, DIGGER, OWN) == {
        "Rock": (3000, "not said by Digger"), "Rain": (900, "not said by Digger"),
        "Settling": (8000, "your own work"),
    }  # fmt: skip
    assert left(at, OWN, OWN) == {
        "Rock": (3000, "your own work"), "Settling": (8000, "your own work"),
    }  # fmt: skip


@pytest.mark.parametrize(("own_chance", "guess"), [(None, True), (0.4, False)])
def test_a_chance_of_the_users_own_is_no_guess(
    make: SimpleNamespace, own_chance: float | None, guess: bool
) -> None:
    at = job(make, {})
    settling = replace(at.options.risks[2], guess=True)
    answer = Answer("Settling", "no", chance=own_chance)
    bids = tuple(replace(b, scope=(answer,)) if b.key == "Crew" else b for b in at.options.bids)
    options = replace(at.options, risks=(settling,), bids=bids)
    known = Situation(at.takeoff, options, "sand", frozenset())
    [found] = left_with_owner(known, plan(CREW, CREW), worths(known))
    assert (found.guess, found.money) == (guess, round((own_chance or 0.1) * 80000))


def test_a_cost_for_every_bid_is_shared_and_one_for_a_bid_is_not(make: SimpleNamespace) -> None:
    at = job(make, {"Rain": "no", "Settling": "yes"})
    risks = tuple(replace(r, cost=20000) if r.item == "Rain" else r for r in at.options.risks)
    shared = Situation(at.takeoff, replace(at.options, risks=risks), "sand", frozenset())
    # 30 % of 200.00: Dig's 300.00 of the 750.00 that both steps cost hired
    assert left(shared, DIGGER, OWN)["Rain"][0] == 2400
    assert left(shared, CREW, CREW)["Rain"][0] == 6000
    crew, digger = at.bids
    told = replace(digger, scope=(Answer("Rain", "no", None, 0.5, 20000),))
    own = Situation(at.takeoff, replace(at.options, bids=(crew, told)), "sand", frozenset())
    assert left(own, DIGGER, OWN)["Rain"] == (10000, "left to you by Digger")


def test_a_step_that_nobody_offers_has_no_share_in_a_cost_for_every_bid(
    make: SimpleNamespace,
) -> None:
    """100.00 for rubble under digging, worth a dollar hired, and laying, which no bid has."""
    at = job(make, {})
    rubble = Risk("Rubble", "rubble", ("Dig", "Lay"), True, 1.0, 0.0, 10000, "", False)
    known = Situation(at.takeoff, replace(at.options, risks=(rubble,)), "sand", frozenset())
    [found] = left_with_owner(known, plan(DIGGER, OWN), {"Dig": 100.0})
    assert (found.money, found.who) == (10000, "your own work; not said by Digger")


def test_a_risk_taken_on_for_an_extra_costs_that(make: SimpleNamespace) -> None:
    at = job(make, {"Rock": "extra", "Rain": "yes", "Settling": "yes"})
    assert left(at, CREW, CREW) == {"Rock": (4000, "for an extra by Crew")}
    [found] = left_with_owner(at, plan(CREW, CREW), worths(at))
    assert (found.chance, found.guess) == (1.0, False)  # asked in the bid, so nobody's guess


def lines(priced: Priced) -> dict[str, int]:
    return {line.name: line.cash for line in priced.lines}


@pytest.mark.parametrize(
    ("answer", "drain"), [("yes", None), ("no", 9000), ("", 9000), ("extra", 4000)]
)
def test_a_cost_line_inside_a_bid(make: SimpleNamespace, answer: str, drain: int | None) -> None:
    at = job(make, {"Drain": answer})
    assert lines(evaluate_in(at, plan(CREW, CREW))).get("Drain") == drain
    assert lines(evaluate_in(at, plan(OWN, OWN)))["Drain"] == 9000


def test_an_extra_dearer_than_the_line_is_not_taken(make: SimpleNamespace) -> None:
    at = job(make, {"Drain": "extra"}, extra=9900)
    assert lines(evaluate_in(at, plan(CREW, CREW)))["Drain"] == 9000


def test_the_programme_weighs_it(make: SimpleNamespace) -> None:
    # the digger for 300.00, the drain for 90.00 and 10 h of own laying against the crew at
    # 900.00 with the drain in it: that wins from (900.00 - 390.00) / 10 h = 51.00 an hour
    at = job(make, {"Drain": "yes"})
    takers = [Model(at).solve(value) for value in (5000.0, 5200.0)]
    assert [t.priced.plan.steps["Lay"] for t in takers if t] == [OWN, CREW]
    without = Model(job(make, {"Drain": "no"})).solve(5200.0)
    assert without is not None
    assert without.priced.plan.steps["Lay"] == OWN


def test_bids_side_by_side(make: SimpleNamespace) -> None:
    found = matrix(job(make, {"Drain": "extra", "Rock": "yes"}))
    assert found.bids == ("Crew", "Digger")
    cells = {row.item: [(c.answer, c.extra) for c in row.cells] for row in found.rows}
    yes, no, ask, none = ("yes", 0.0), ("no", 0.0), ("not said", 0.0), ("", 0.0)
    assert cells["Dig"] == [yes, yes]
    assert cells["Lay"] == [yes, no]
    assert cells["Drain"] == [("extra", 4000.0), ask]
    assert cells["Rock"] == [yes, ask]
    assert cells["Settling"] == [ask, none]  # the digger lays nothing
    assert cells["Materials of its steps"] == [none, none]  # there are none to bring


def test_what_is_asked_for_a_risk_stands_beside_it(make: SimpleNamespace) -> None:
    at = job(make, {"Rock": "extra", "Rain": "no"})
    crew = at.bids[0]
    untold = replace(crew, scope=(Answer("Rock", "extra"),))  # but not how much
    options = replace(at.options, bids=(crew, replace(untold, key="Other")))
    rows = matrix(Situation(at.takeoff, options, "sand", frozenset())).rows
    cells = {row.item: [(c.answer, c.extra) for c in row.cells] for row in rows}
    assert cells["Rock"] == [("extra", 4000.0), ("no", 0.0)]
    assert cells["Rain"] == [("no", 0.0), ("not said", 0.0)]


def test_how_deep_a_base_each_bid_makes(make: SimpleNamespace) -> None:
    """Drawn are 15 cm. Who makes no base need not say; where nobody says there is no such row."""
    told = {"As drawn": 0.15, "Thin": 0.10, "Untold": None}
    depths = {name: depth and make.fig(depth, make.DEPTH) for name, depth in told.items()}
    bids = [
        replace(make.bid(name, ["Base"], 90000), base_depth=depth) for name, depth in depths.items()
    ]
    bids.append(replace(make.bid("Digger", ["Dig"], 30000), base_depth=depths["Thin"]))
    takeoff = make.takeoff([], [make.amount("Dig", 2.0), make.amount("Base", 3.0)],
                           base_depth=0.15)  # fmt: skip
    found = []
    for some in (bids, bids[2:3]):
        rows = matrix(Situation(takeoff, make.options(bids=some), "sand", frozenset())).rows
        found.append([c.answer for row in rows if row.item == "Base as deep as drawn"
                      for c in row.cells])  # fmt: skip
    assert found == [["yes", "", "no", "not said"], []]
