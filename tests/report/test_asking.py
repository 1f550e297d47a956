"""The workbook of questions for sellers, rental shops and firms."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from budget.job import BidScope, Job, Place
from budget.quantities import take_off
from budget.report import asking
from budget.report.asking import ANY_FIRM, ANY_SELLER, ANY_SHOP
from budget.report.letters import Letter
from budget.workbook import read

WORKBOOKS = Path(__file__).parents[2] / "workbooks"


def job_of(name: str) -> Job:
    job = read(WORKBOOKS / f"{name}.xlsx").job
    assert job is not None
    return job


def letters_of(job: Job) -> dict[str, Letter]:
    return {letter.name: letter for letter in asking.letters(job, take_off(job))}


@pytest.fixture(scope="module")
def terrace() -> Job:
    return job_of("terrace")


def test_everybody_on_the_workbook_is_asked_once(terrace: Job) -> None:
    found = letters_of(terrace)
    sellers = {q.supplier for q in terrace.quotes} | {s.supplier for s in terrace.suppliers}
    shops = {e.source for e in terrace.equipment if e.way == "rent" and e.source}
    firms = {b.firm or b.bid for b in terrace.bids}
    by_kind = {
        kind: {name for name, letter in found.items() if letter.kind == kind}
        for kind in ("seller", "rental", "hired")
    }
    assert by_kind == {
        "seller": sellers | {ANY_SELLER},
        "rental": shops | {ANY_SHOP},
        "hired": firms | {ANY_FIRM},
    }


def test_a_seller_is_asked_for_what_it_quoted_and_what_nobody_did(terrace: Job) -> None:
    without = replace(terrace, quotes=tuple(q for q in terrace.quotes if q.item != "Geotextile"))
    quarry = {w.what for w in letters_of(without)["Thimble Quarry"].goods}
    assert quarry == {"Base stone", "Small gravel", "Geotextile"}
    every = {n.item for n in take_off(terrace).needs}
    assert {w.what for w in letters_of(terrace)[ANY_SELLER].goods} == every


def test_a_seller_who_quoted_nothing_wanted_is_asked_for_everything(terrace: Job) -> None:
    quotes = (*terrace.quotes, replace(terrace.quotes[0], supplier="Far Away", item="Gnomes"))
    every = {n.item for n in take_off(terrace).needs}
    found = letters_of(replace(terrace, quotes=quotes))["Far Away"]
    assert {w.what for w in found.goods} == every


def test_no_heading_of_a_letter_stands_alone(terrace: Job, tmp_path: Path) -> None:
    """Not even where nothing is to be bought."""
    bare = replace(terrace, areas=(), walls=(), pieces=(), extras=(), quotes=(), bids=(), work=())
    for job in (terrace, bare):
        book = openpyxl.load_workbook(asking.write(job, Path("a.xlsx"), tmp_path).path)
        for page in book.worksheets[1:]:
            column = [row[0].value for row in page.iter_rows()]
            for heading in ("What", "Question"):
                assert column[column.index(heading) + 1], (page.title, heading)


def test_no_seller_is_told_what_another_asks(terrace: Job) -> None:
    said = {w.what: w.so_far for w in letters_of(terrace)["Thimble Quarry"].goods}
    assert said == {"Base stone": "$18.50 per ton", "Small gravel": "$22.00 per ton"}
    assert not any(w.so_far for w in letters_of(terrace)[ANY_SELLER].goods)
    assert not any(q.noted for q in letters_of(terrace)[ANY_SELLER].questions)
    bowl = {w.what: w.so_far for w in letters_of(terrace)["Blue Teapot Gardens"].goods}
    assert bowl["Path cobble"] == "$54.00 per box (ran out 15 March 2026)"


def test_amounts_are_those_of_a_circle_by_hand() -> None:
    """A 12 ft circle of pavers: 113.1 sq ft in it, more with waste, in whole units and words."""
    goods = {w.what: w for w in letters_of(job_of("fire-bowl"))[ANY_SELLER].goods}
    paved = math.pi * 6**2
    edging = goods["Edging"]
    assert edging.unit == "ft"
    assert math.pi * 12 <= float(edging.amount or 0) <= math.pi * 12 * 1.15
    base = next(need for need in take_off(job_of("fire-bowl")).needs if need.item == "Base stone")
    loose = base.order.value / 0.3048**3 / 27
    assert goods["Base stone"].amount == pytest.approx(loose, abs=0.006)
    assert loose > paved * 4 / 12 / 27  # deeper than four inches, and loose


def test_the_rain_and_rock_a_firm_has_spoken_of_is_noted(terrace: Job) -> None:
    questions = {q.text: q for q in letters_of(terrace)["Two Foxes"].questions}
    rain = next(q for text, q in questions.items() if "lost to rain" in text)
    # Two bids, one of which bills rain to the owner and one of which does not.
    assert rain.noted == "Digger with driver: left to us; Soil carted off: in the price"
    assert len(questions) >= 15


def test_bid_scope_goes_before_what_the_row_of_a_bid_says() -> None:
    """The whole yard leaves rock to the owner, and on Bid scope names its price for it."""
    found = letters_of(job_of("courtyard"))["Stork and Stone"]
    [rock] = [q.noted for q in found.questions if "rock" in q.text]
    assert rock == ("Blocks laid: in the price; Groundwork: left to us; Whole yard: extra €340.00")


def test_a_shop_is_reminded_of_each_machine(terrace: Job) -> None:
    rows = [e for e in terrace.equipment if e.source == "Tall Pine Tool Loft" and e.way == "rent"]
    found = {q.text: q.noted for q in letters_of(terrace)["Tall Pine Tool Loft"].questions}
    [deposit] = [noted for text, noted in found.items() if "deposit" in text]
    told = {}
    for part in deposit.split("; "):
        machines, _, sum_of_money = part.partition(": ")
        told |= dict.fromkeys(machines.split(", "), sum_of_money)
    assert told == {e.equipment: f"${e.deposit / 100:.2f}" for e in rows if e.deposit}
    [hours] = [noted for text, noted in found.items() if "machine hours" in text]
    assert hours == "8 h"  # of every machine


def test_what_a_firm_said_of_its_scope_is_noted(terrace: Job) -> None:
    rows = (
        BidScope(place=Place("Bid scope", 2), item="Drainage", bid="Whole job", answer="yes"),
        BidScope(place=Place("Bid scope", 3), item="Clearing up afterwards", bid="Whole job",
                 answer="extra", extra=9500),
        BidScope(place=Place("Bid scope", 4), item="Roots and stumps", answer="no"),
    )  # fmt: skip
    found = letters_of(replace(terrace, bid_scope=rows))
    noted = {q.text: q.noted for q in found["Teacup Paving"].questions}
    by_word = {word: next(n for q, n in noted.items() if word in q) for word in
               ("drains", "clear up", "roots")}  # fmt: skip
    assert by_word == {
        "drains": "Whole job: in the price", "clear up": "Whole job: extra $95.00",
        "roots": "left to us",
    }  # fmt: skip
    others = {q.text: q.noted for q in found["Two Foxes"].questions}
    assert [n for q, n in others.items() if "drains" in q or "roots" in q] == ["", "left to us"]
    assert not any(q.noted for q in found[ANY_FIRM].questions)


def test_a_firm_is_asked_about_the_steps_it_offered(terrace: Job) -> None:
    goods = [w.what for w in letters_of(terrace)["Badger and Spade"].goods]
    assert goods == ["Dig", "Spoil"]


def test_a_firm_is_asked_about_no_step_that_it_leaves_alone() -> None:
    """Who only carries is not asked how deep to dig; what was spoken of stands, and all of any."""
    found = letters_of(job_of("courtyard"))
    asked = {name: {q.text: q.noted for q in found[name].questions} for name in found}
    carriers = asked["Barrow hands"]
    assert not any(word in text for text in carriers for word in ("deep", "geotextile", "filler"))
    assert next(noted for text, noted in carriers.items() if "rock" in text) == "in the price"
    assert any("days lost to rain" in text for text in carriers)
    assert any("materials" in text for text in carriers)
    diggers = asked["Mole and Bucket"]
    assert any("trucked away" in text for text in diggers)
    assert set(carriers) < set(diggers) < set(asked[ANY_FIRM])


def test_it_works_before_anybody_was_asked(terrace: Job) -> None:
    alone = replace(terrace, quotes=(), suppliers=(), bids=(), equipment=(), work=())
    assert list(letters_of(alone)) == [ANY_SELLER, ANY_FIRM]


def test_the_workbook_holds_a_sheet_for_each_and_no_formula(terrace: Job, tmp_path: Path) -> None:
    quotes = (replace(terrace.quotes[0], supplier="=HYPERLINK(1)/x"), *terrace.quotes[1:])
    asked = asking.write(replace(terrace, quotes=quotes), Path("my patio.xlsx"), tmp_path)
    assert asked.path == tmp_path / "my patio-questions.xlsx"
    book = openpyxl.load_workbook(asked.path)
    assert len(book.sheetnames) == len(asked.letters) + 1
    cells: list[Any] = [c for page in book for row in page.iter_rows() for c in row]
    assert not any(c.data_type == "f" for c in cells)
    for title, letter in zip(book.sheetnames[1:], asked.letters, strict=True):
        page = book[title]
        assert page["A1"].value == letter.name
        texts = {c.value for row in page.iter_rows() for c in row}
        assert {w.what for w in letter.goods} | {q.text for q in letter.questions} <= texts
    links = [c.hyperlink.location for c in book["Contents"]["A"] if c.hyperlink]
    assert links == [f"'{title}'!A1" for title in book.sheetnames[1:]]


def test_the_same_job_gives_the_same_bytes(terrace: Job, tmp_path: Path) -> None:
    one = asking.write(terrace, Path("a.xlsx"), tmp_path / "1").path.read_bytes()
    assert asking.write(terrace, Path("a.xlsx"), tmp_path / "2").path.read_bytes() == one
