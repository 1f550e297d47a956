"""What a person sees: 24 lines by 80 on a terminal, plain and whole in a pipe."""

import io
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from budget.decide.outcome import Comparison
from budget.decide.plan import Flip, Line, Missing
from budget.decide.thorough.pareto import Trades
from budget.figures import constant, product
from budget.report import answer, deeper, full_plan, listings
from budget.report.documents.document import Files
from budget.report.explain.lines import explain
from budget.report.flip_points import flip_points
from budget.report.pinned import parse
from budget.report.terminal.blocks import (
    Gap,
    Heading,
    Pair,
    Text,
    fitted,
    plain,
    table,
    wide,
    wrapped,
)
from budget.report.terminal.terminal import show, window
from budget.spend import UnknownNameError
from budget.units import COUNT, HOURS, MASS, per

Build = Callable[..., Comparison]
FILES = Files(Path("reports/patio-comparison.xlsx"), Path("reports/patio-summary.html"))
COLOUR = re.compile(r"\x1b\[[0-9;]*m")


class Screen(io.StringIO):
    """A stream that a person reads."""

    def isatty(self) -> bool:
        return True


@pytest.fixture
def screen(monkeypatch: pytest.MonkeyPatch) -> Screen:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("LINES", "24")
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.delenv("NO_COLOR", raising=False)
    return Screen()


def crowded(comparison: Comparison) -> Comparison:
    """A comparison with more to say than a window holds."""
    long = "Hiring this step costs far more cash, saves hours, and pays above a high value. "
    return replace(
        comparison,
        complete=False,
        flips=tuple(replace(comparison.flips[0], sentence=f"{n}: {long}") for n in range(9)),
        missing=tuple(Missing(f"Cost line number {n}", "Checklist", "") for n in range(40)),
        next_step="Fill the price of the edging on the Quotes sheet: it could add $300 to $900.",
    )


def printed(screen: Screen) -> list[str]:
    return COLOUR.sub("", screen.getvalue()).splitlines()


@pytest.mark.parametrize("crowd", [False, True], ids=["little to say", "much to say"])
def test_answer_fits_a_small_window(small_comparison: Build, screen: Screen, crowd: bool) -> None:
    comparison = crowded(small_comparison()) if crowd else small_comparison()
    show(answer.answer(comparison, FILES, window(screen)), screen)
    lines = printed(screen)
    assert len(lines) < 24
    assert max(wide(line.rstrip()) for line in lines) <= 80


def test_answer_fits_a_small_window_with_many_scenarios(
    small_comparison: Build, screen: Screen
) -> None:
    comparison = crowded(small_comparison())
    more = tuple(replace(comparison.scenarios[2], name=f"Own idea {n}") for n in range(30))
    show(
        answer.answer(
            replace(comparison, scenarios=(*more, *comparison.scenarios)), FILES, window(screen)
        ),
        screen,
    )
    lines = printed(screen)
    assert len(lines) < 24
    names = ("  Own idea", "  Mixed hands", "  Machine work")
    shown = sum(line.startswith(names) for line in lines)
    # 30 and the 3 names of the small comparison, less those that have room
    assert shown >= 2
    assert any(f"and {33 - shown} more, see --full" in line for line in lines)
    assert any(line.startswith("  Mixed hands") for line in lines)
    assert any("Fill next" in line for line in lines)


@pytest.mark.parametrize("demo", ["terrace", "courtyard", "fire-bowl"])
def test_answer_of_a_demo_is_whole_in_a_small_window(
    demo: str, demo_comparison: Callable[[str], Comparison], screen: Screen
) -> None:
    """Every scenario has its row, and the last rows tell where the rest and the files are."""
    comparison = demo_comparison(demo)
    show(answer.answer(comparison, FILES, window(screen)), screen)
    lines = printed(screen)
    assert len(lines) < 24
    for name in {scenario.name for scenario in comparison.scenarios}:
        assert sum(line.startswith(f"  {name} ") for line in lines) == 1
    more, workbook, page = (line.split()[0] for line in lines[-3:])
    assert (more, workbook, page) == ("More", "Workbook", "Page")
    assert "--full" in lines[-3]
    assert ("warning" in lines[-3]) is bool(comparison.warnings)


def test_where_scenarios_have_no_room_the_hired_one_stays_beside_the_best(
    demo_comparison: Callable[[str], Comparison], screen: Screen
) -> None:
    comparison = demo_comparison("courtyard")
    others = tuple(
        replace(s, name=f"Own idea {n}") for n in range(9) for s in comparison.scenarios[:1]
    )
    crowd = replace(comparison, scenarios=(*others, *comparison.scenarios))
    show(answer.answer(crowd, FILES, window(screen)), screen)
    text = "\n".join(printed(screen))
    assert "  Whole job hired " in text
    assert "  Mixed hands " in text


def test_pipe_names_the_nearest_flips_and_counts_the_others(small_comparison: Build) -> None:
    comparison = small_comparison()
    flips = tuple(
        replace(comparison.flips[0], choice=f"step:Job {n}", hour_values=(3000.0 + 500 * n,))
        for n in range(9)
    )
    text = plain(answer.answer(replace(comparison, flips=flips), FILES))
    (line,) = [found for found in text.splitlines() if found.startswith("  It flips")]
    assert "Job 0 over $30/h; Job 1 over $35/h" in line
    assert "Job 4" not in line
    assert line.endswith("and 6 choices further off")


def flips_told(comparison: Comparison, *flips: Flip) -> str:
    """The row of flips in a pipe, without the plan as a whole."""
    bare = replace(comparison, flips=flips, frontier=())
    text = plain(answer.answer(bare, FILES))
    (line,) = [found for found in text.splitlines() if found.startswith("  It flips")]
    return line.removeprefix("  It flips").strip()


def test_what_never_flips_is_not_told_as_a_flip(small_comparison: Build) -> None:
    comparison = small_comparison()
    step = replace(comparison.flips[0], choice="step:Dig", hour_values=(3000.0,))
    steady = replace(step, choice="bedding", value="sand", hour_values=())
    assert flips_told(comparison, steady, step) == "Dig over $30/h"
    assert flips_told(comparison, steady).startswith("nothing: this plan holds")
    flipping = replace(steady, hour_values=(1000.0, 9000.0))
    assert (
        flips_told(comparison, step, flipping) == "Bedding under $10 or over $90/h; Dig over $30/h"
    )


def test_the_values_between_which_the_plan_is_best_come_first(
    demo_comparison: Callable[[str], Comparison],
) -> None:
    """They are those that the plans of the frontier have at their ends, as --json tells them."""
    comparison = demo_comparison("courtyard")
    (text, *_) = flip_points(comparison)
    assert comparison.best is not None
    assert comparison.best.priced is not None
    (here,) = [
        point for point in comparison.frontier
        if point.priced.cash == comparison.best.priced.cash
    ]  # fmt: skip
    low, high = (round(end / 100) for end in (here.from_value, here.to_value))
    assert text == f"another plan is best under €{low} or over €{high}/h"


def test_answer_says_what_matters(small_comparison: Build) -> None:
    text = plain(answer.answer(small_comparison(), FILES))
    # lines of the plan by hand: 200.00 + 1,050.50 + 85.00 + 90.00; hours 18 + 30 + 10.25
    assert "the best plan is “Mixed hands, sand bedding”" in text
    assert "$1,425.50" in text
    assert "58.3 hours" in text
    # hiring costs 2,835.50: 1,410.00 more, for 58.25 - 18 = 40.25 hours less: 35.03 an hour
    assert "$1,410.00 against hiring" in text
    assert "an own hour earns $35.03" in text
    assert "it flips above that value" in text
    assert "reports/patio-summary.html" in text


def test_incomplete_answer_is_so_far_and_names_what_is_missing(
    small_comparison: Build,
) -> None:
    text = plain(answer.answer(crowded(small_comparison()), FILES))
    assert "best plan so far" in text
    assert "Cost line number 39" in text
    assert "it could add $300 to $900" in text


def test_pipe_leaves_nothing_out(small_comparison: Build) -> None:
    comparison = crowded(small_comparison())
    text = plain(answer.answer(comparison, FILES))
    assert all(flip.sentence.strip() in text for flip in comparison.flips)
    assert text.count("Mixed hands") == 1 + 2
    assert "…" not in text


def test_window_says_how_many_more_there_are(small_comparison: Build) -> None:
    text = plain(answer.answer(crowded(small_comparison()), FILES, (80, 24)))
    assert re.search(r"and \d+ more", text)


def test_where_hiring_it_all_is_best_own_work_saves_nothing(small_comparison: Build) -> None:
    comparison = small_comparison()
    assert comparison.best is not None
    hired = replace(comparison.best, name="Whole job hired")
    alike = replace(comparison, scenarios=(*comparison.scenarios, hired), hired=hired)
    text = plain(answer.answer(alike))
    assert re.search(r"Saves +nothing by own work: hiring the whole job is best", text)


def test_scenario_that_cannot_be_built_says_why(small_comparison: Build) -> None:
    text = plain(answer.answer(small_comparison()))
    assert re.search(r"Whole job hired +sand +not possible", text)
    assert "Whole job hired: no bid covers Lay" in text


def test_the_users_own_scenario_says_why_even_in_a_full_window(small_comparison: Build) -> None:
    comparison = crowded(small_comparison())
    refused = replace(comparison.scenarios[3], name="As pinned", why_not="no such choice")
    job = replace(comparison.job, pins=parse(["step:Digg=hire"]))
    comparison = replace(comparison, job=job, scenarios=(*comparison.scenarios, refused))
    text = plain(answer.answer(comparison, FILES, (80, 24)))
    assert "As pinned: no such choice" in text
    assert "no bid covers Lay" not in text


def test_no_plan_gives_the_reasons(small_comparison: Build) -> None:
    nothing = replace(small_comparison(), best=None, hired=None, complete=False)
    text = plain(answer.answer(nothing, None))
    assert "no plan can be built yet" in text
    assert "no bid covers Lay" in text


def test_limit_is_told_above_and_below(small_comparison: Build) -> None:
    comparison = small_comparison()

    def with_limit(cents: int) -> str:
        settings = replace(comparison.job.settings, spending_limit=cents)
        job = replace(comparison.job, settings=settings)
        return plain(answer.answer(replace(comparison, job=job)))

    assert "$74.50 under your limit of $1,500" in with_limit(150000)
    assert "$425.50 OVER your limit of $1,000" in with_limit(100000)


def test_what_is_paid_first_is_told_with_the_limit_it_passes(small_comparison: Build) -> None:
    """1,425.50 in the end, and 30.00 more until goods are taken back: 1,455.50."""
    comparison = small_comparison()
    assert comparison.best is not None
    assert comparison.best.priced is not None
    first, *others = comparison.best.priced.orders
    orders = (replace(first, back=3.0, credit=3000), *others)
    best = replace(comparison.best, priced=replace(comparison.best.priced, orders=orders))

    def with_limit(cents: int) -> str:
        settings = replace(comparison.job.settings, spending_limit=cents)
        job = replace(comparison.job, settings=settings)
        return plain(answer.answer(replace(comparison, best=best, job=job)))

    told = "$1,455.50, of which $30.00 comes back for unopened packs"
    assert f"{told}; until then $25.50 OVER your limit" in with_limit(143000)
    assert told in with_limit(150000)
    assert "until then" not in with_limit(150000)


def test_quiet_answer_is_one_line(small_comparison: Build) -> None:
    assert answer.in_one_line(small_comparison()) == (
        "Best: Mixed hands, sand bedding: $1,425.50 cash, 58.3 hours of own work."
    )


def test_full_plan_lists_every_line_choice_and_caution(small_comparison: Build) -> None:
    comparison = small_comparison()
    best = comparison.scenarios[0]
    assert best.priced is not None
    text = plain(full_plan.full_plan(comparison, best))
    for line in best.priced.lines:
        assert line.name in text
    assert re.search(r"Total +\$1,425\.50 +58\.3", text)
    assert "Dig: Have buried lines marked before digging. [a city's page]" in text
    assert "payload binds" in text


def test_explanation_can_be_followed_on_paper(small_comparison: Build) -> None:
    found = explain(small_comparison(), "Base stone")
    text = plain(listings.explanation(found, quiet=False))
    assert "from Areas!D2" in text
    assert "a published guide, table 2" in text
    assert "215.3 sq ft × 3.937 in ÷ 324" in text
    assert "what it costs: $200.00" in text
    assert "uneven ground" in text


def test_pieces_are_explained_up_to_the_whole_ones_to_order(small_comparison: Build) -> None:
    """1,304.16 pieces are 1,305 to order, as the list of what is needed has them."""
    comparison = small_comparison()
    needs = comparison.takeoff.needs
    need = replace(needs[0], order=constant(1304.16, COUNT, "pavers to order"))
    takeoff = replace(comparison.takeoff, needs=(need, *needs[1:]))
    found = explain(replace(comparison, takeoff=takeoff), need.line)
    how_much = next(part for part in found.parts if part.title.endswith("how much"))
    assert how_much.result == need.to_order("imperial") == "1,305"
    assert [step.arithmetic for _, step in how_much.steps][-1] == "1,304.16, rounded up to whole"


def test_explanation_of_a_choice_tells_what_would_change_it(small_comparison: Build) -> None:
    text = plain(listings.explanation(explain(small_comparison(), "step:Dig"), quiet=False))
    assert "Dig: own hands, by hand" in text
    assert "it flips above that value" in text


def test_steps_shown_once_are_not_repeated(small_comparison: Build) -> None:
    found = explain(small_comparison(), "base stone")
    steps = [step for part in found.parts for _, step in part.steps]
    assert len(steps) == len(set(steps))


def test_what_has_a_name_of_its_own_is_not_worked_out_again(small_comparison: Build) -> None:
    comparison = small_comparison()
    best = comparison.scenarios[0]
    assert best.priced is not None
    pace = constant(0.001, per(HOURS, MASS), "hours to carry")
    time = product("carrying", HOURS, comparison.takeoff.needs[0].order, pace)
    carry = Line("", "Getting it there", "Carry", 0, time.value, None, time)
    priced = replace(best.priced, lines=(*best.priced.lines, carry))
    found = explain(replace(comparison, best=replace(best, priced=priced)), "carry")
    steps = [step for _, step in found.parts[0].steps]
    assert [step.name for step in steps] == ["base stone", "hours to carry", "carrying"]
    assert steps[0].arithmetic == "explained under “Base stone”"
    assert steps[0].result == "9,700 lb"


def test_unknown_line_offers_the_nearest(small_comparison: Build) -> None:
    with pytest.raises(UnknownNameError, match="Did you mean “Base stone”"):
        explain(small_comparison(), "Base ston")


def test_terminal_has_colour_unless_told_not_to(
    screen: Screen, monkeypatch: pytest.MonkeyPatch
) -> None:
    show([Heading("Answer"), Text("Mind this.", "warning")], screen)
    assert "\x1b[33m" in screen.getvalue()
    monkeypatch.setenv("NO_COLOR", "1")
    bare = Screen()
    show([Heading("Answer"), Text("Mind this.", "warning")], bare)
    assert "\x1b[33m" not in bare.getvalue()


def test_dumb_terminal_gets_no_codes_at_all(
    screen: Screen, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", "dumb")
    show([Heading("Answer"), Pair("Cash", "$5"), table(("A", "B"), [("1", "2")])], screen)
    assert "\x1b" not in screen.getvalue()


def test_user_text_is_never_markup(screen: Screen) -> None:
    show([Text("[red]North Yard[/red] :house:"), Pair("Cash", "[b]x")], screen)
    assert "[red]North Yard[/red] :house:" in printed(screen)
    assert "[b]x" in screen.getvalue()


def test_pipe_gets_plain_lines_of_any_width() -> None:
    pipe = io.StringIO()
    wide_cell = "a very long cell " * 20
    show([table(("Item", "Price"), [(wide_cell, "9")], right=(1,)), Gap(), Text("x" * 300)], pipe)
    assert wide_cell.strip() in pipe.getvalue()
    assert "x" * 300 in pipe.getvalue()
    assert "\x1b" not in pipe.getvalue()
    assert window(pipe) is None


def test_columns_line_up_with_wide_letters() -> None:
    text = plain([table(("Name", "n"), [("砂利", "1"), ("sand", "2")], right=(1,))])
    assert len({wide(line) for line in text.splitlines()}) == 1


def test_fitted_keeps_the_first_item_whole() -> None:
    long = "one sentence that is much longer than the room there is"
    assert fitted([long, "two", "three"], 20, 1) == f"{long}; and 2 more"
    assert fitted(["a", "b"], 20, 1) == "a; b"
    assert wrapped("", 10) == [""]


def test_long_paths_are_counted_at_their_height(small_comparison: Build, screen: Screen) -> None:
    folder = Path("/a/folder/far/down/" + "in/the/garden/" * 5)
    files = Files(folder / "patio-comparison.xlsx", folder / "patio-summary.html")
    show(answer.answer(crowded(small_comparison()), files, window(screen)), screen)
    assert len(printed(screen)) < 24


def test_a_stopped_search_says_how_far_off_the_plan_may_be(
    demo_comparison: Callable[[str], Comparison],
) -> None:
    comparison = demo_comparison("terrace")
    assert comparison.best is not None
    assert comparison.best.priced is not None
    total = comparison.best.priced.total(comparison.options.hour_value.value)
    stopped = replace(comparison.best, proved=False, gap=20000 / total)
    text = plain(answer.answer(replace(comparison, best=stopped), None, (80, 24)))
    assert "the best plan so far is" in text
    assert "within $200 of the best possible; --limit gives the search more time" in text


def test_a_sum_is_not_parted_from_the_sign_that_follows_it(screen: Screen) -> None:
    sign = "56,43\u00a0€"
    for room in range(40, 80):
        show([Pair("Saves", f"{'x' * max(1, room - 25)} earns {sign}")], screen)
        show([Text("y" * room + " " + sign, "warning")], screen)
    assert all(line.strip() != "€" for line in printed(screen))
    assert screen.getvalue().count(sign) == 2 * 40


def test_trades_of_a_stopped_search_claim_no_more_than_is_known() -> None:
    for grain in (0.0, 2000.0):
        stopped = deeper.trades_note(Trades((), grain, proved=False), "USD")
        assert "was stopped" in stopped
        assert "No other" not in stopped
        assert "No plan beats" not in stopped
        assert "stopped" not in deeper.trades_note(Trades((), grain, proved=True), "USD")
