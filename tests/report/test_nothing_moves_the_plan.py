"""Plans that stray from each other while nothing moves the best one: its sums are all certain."""

from dataclasses import replace

from budget.report.book.risk import risk_sheet


def test_the_risk_sheet_leaves_out_what_moves_a_plan_that_nothing_moves(demo_comparison):
    found = demo_comparison("fire-bowl")
    titles = []
    for risk in (found.risk, replace(found.risk, movers=())):
        sheet = risk_sheet(replace(found, risk=risk))
        titles.append([table.title for table in sheet.tables])
    moved = [title for title in titles[0] if title.startswith("What moves")]
    assert len(moved) == 1
    assert titles[1] == [title for title in titles[0] if title not in moved]
