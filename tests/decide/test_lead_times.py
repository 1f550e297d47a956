"""How long goods and crews may take to come, and which of it is a documented range: by hand."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from budget.decide.calendar.leads import LeadTime, assumed, lead_times
from budget.decide.terms.situation import Situation
from budget.job import Bid, Job, Place, Settings, Supplier

PLACE = Place("Job", 2)
JOB = Job(settings=Settings(place=PLACE))


@pytest.mark.parametrize(
    ("loose", "factors"), [((True, True), (0.5, 1.5)), ((True, False), (0.75, 2.0))]
)
def test_a_seller_strays_as_goods_in_packs_do_unless_all_of_it_is_loose(
    make: SimpleNamespace, loose: tuple[bool, bool], factors: tuple[float, float]
) -> None:
    """Six days for stone and eight for sand: 4 to 12 days if both are loose, 6 to 16 if one comes
    in packs. Of another seller nothing is bought, so that nothing of it comes."""
    names = {"Stone": 6.0, "Sand": 8.0}
    offers = [
        replace(
            make.offer(name, "North", 100, measure="count", per="each", bulk=bulk), lead_days=days
        )
        for (name, days), bulk in zip(names.items(), loose, strict=True)
    ]
    options = make.options(
        offers=offers, routes=[make.drop("North", 0), make.drop("South", 0)],
        methods=[make.method("Base", "by hand", 1.0)],
    )  # fmt: skip
    needs = [make.need(name, "Base", {"count": 1}) for name in names]
    takeoff = make.takeoff(needs, [make.amount("Base", 4.0)])
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    low, high = factors
    assert lead_times(JOB, priced, options) == {
        "North": LeadTime(8 * low, 8.0, 8 * high), "South": LeadTime(0.0, 0.0, 0.0),
    }  # fmt: skip


def test_what_never_strays_takes_the_days_it_says_in_every_case() -> None:
    """Begun days count whole: three and a half are four."""
    shares = np.array([0.1, 0.5, 0.99])
    assert LeadTime(3.5, 3.5, 3.5).at(0.8) == 4
    assert np.all(np.full(3, 7) + LeadTime(3.5, 3.5, 3.5).at(shares) == 11)
    # 2, 4, 10: a tenth of cases within 2 + sqrt(0.1 x 8 x 2) = 3.3, half within 10 - sqrt(24) =
    # 5.1, all but a hundredth within 10 - sqrt(0.48) = 9.3
    assert LeadTime(2, 4, 10).at(shares).tolist() == [3, 5, 9]


@pytest.mark.parametrize(
    ("waited", "told"),
    [
        ({"South"}, True),
        ({"Hand crew"}, True),
        ({"North", "South"}, True),
        ({"North"}, False),  # the workbook gives its latest
        ({"Crew"}, False),
        ({"West"}, False),  # always the same
        ({"North", "Crew", "West"}, False),
        (set(), False),
    ],
)
def test_documented_ranges_are_listed_where_one_of_them_is_used(
    waited: set[str], told: bool
) -> None:
    """North and the crew say how late they may be, South and the hand crew do not."""
    job = replace(
        JOB,
        suppliers=(
            Supplier(place=PLACE, supplier="North", lead_days=3, lead_high=9),
            Supplier(place=PLACE, supplier="South", lead_days=3),
            Supplier(place=PLACE, supplier="West"),
        ),
        bids=(
            Bid(place=PLACE, bid="Crew", steps=("Dig",), lead_days=4, lead_high=6),
            Bid(place=PLACE, bid="Hand crew", steps=("Base",), lead_days=4),
        ),
    )
    leads = dict.fromkeys(("North", "South", "Crew", "Hand crew"), LeadTime(2.0, 3.0, 9.0))
    found = assumed(job, {**leads, "West": LeadTime(0.0, 0.0, 0.0)}, waited)
    assert [(a.what, a.value, a.source, a.sheet) for a in found] == [
        ("how far lead days may stray",
         "bulk 0.5 to 1.5 times, packs 0.75 to 2 times, crew 1 to 2 times", "common practice",
         "Suppliers")
    ] * told  # fmt: skip
