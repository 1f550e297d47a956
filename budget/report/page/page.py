"""The summary page: one HTML file that opens from disk and asks nothing of any network.

All numbers arrive in the templates as text. The page's own script only shows and hides what
is already written; a content policy with the script's hash allows nothing else.
"""

from __future__ import annotations

import base64
import hashlib
from importlib import resources
from typing import TYPE_CHECKING, Any

from budget.decide.outcome import Comparison
from budget.report import words
from budget.report.drawing import svg
from budget.report.page import (
    amounts,
    answer,
    back,
    calendar,
    choices,
    cutting,
    deeper,
    ground,
    pattern,
    risk,
    scenarios,
    short,
    spend,
)
from budget.report.page import hour as page_hour
from budget.report.page.view import View
from budget.spend.standing import Standing

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup


_PLAN_SECTIONS = (
    "sellers", "machines", "steps", "joint", "matrix", "left", "scope", "baskets", "lines", "sums",
)  # fmt: skip


def render(comparison: Comparison, standing: Standing | None = None) -> str:
    """The page as one string of HTML; ``standing`` tells more about what was spent."""
    context = _context(View(comparison), standing)
    return environment().get_template("page.html").render(context)


def environment() -> Environment:
    """The templates of our pages, with escaping on."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    made = Environment(
        loader=PackageLoader("budget.report", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_clean,
    )
    made.filters |= {"count": words.count, "every": words.every}
    return made


def _clean(value: Any) -> Any:
    """Text without control characters, its measures kept on one line.

    Drawings and markup of our own are left alone.
    """
    return words.unbroken(svg.clean(value)) if type(value) is str else value


def _context(view: View, standing: Standing | None) -> dict[str, Any]:
    settings = view.comparison.job.settings
    script, style = file_text("page.js"), file_text("page.css")
    return {
        "title": settings.name,
        "as_of": words.date(settings.as_of),
        "view": view,
        "script": script,
        "style": style,
        "policy": f"'sha256-{_hash(script)}'",
        "patterns": svg.patterns(),
        "swatch": svg.swatch,
        "answer": answer.answer(view, standing),
        "ground": ground.ground(view),
        "scenarios": scenarios.scenarios(view),
        **_hour_context(view),
        "beddings": scenarios.beddings(view),
        "bedding_notes": scenarios.bedding_notes(view),
        "quantities": amounts.quantities(view),
        "handled": amounts.handled(view),
        "laid": pattern.patterns(view),
        "sawn": cutting.cutting_plans(view),
        "quotes": amounts.quotes(view),
        "flips": choices.flips(view),
        "fit": deeper.fit(view),
        "margins": deeper.margins(view),
        "alike": deeper.alike(view),
        "trades": deeper.trades(view),
        "sure": risk.how_sure(view),
        "short": short.running_short(view),
        "assumptions": back.assumptions(view),
        "sources": back.sources(view),
        "warnings": back.warnings(view),
        "calendar": calendar.calendar(view),
        "spending": back.spending(view, standing),
        "spent": spend.more(view, standing),
        "weeks": spend.story(view, standing),
        "glossary": back.glossary(),
        "conventions": back.conventions(view),
        **_plan_context(view),
    }


def _hour_context(view: View) -> dict[str, Any]:
    """The control for the value of an own hour, with what each of its stops says."""
    hour = page_hour.hour_value(view)
    stops = hour.stops if hour else ()
    texts = [{"words": s.words, "plan": s.plan, "total": s.total} for s in stops]
    return {"hour": hour, "stops": texts}


def _plan_context(view: View) -> dict[str, Any]:
    """The sections that need a plan; empty where there is none yet."""
    if view.priced is None:
        return dict.fromkeys(_PLAN_SECTIONS, ()) | {
            "weight": "",
            "count": 0,
        }
    return {
        "sellers": choices.sellers(view, view.priced),
        "machines": choices.machines(view, view.priced),
        "steps": choices.steps(view, view.priced),
        "joint": choices.joint_flips(view),
        "matrix": choices.matrix(view, view.priced),
        "left": choices.left(view),
        "scope": choices.scope(view),
        "baskets": amounts.baskets(view, view.priced),
        "lines": amounts.lines(view, view.priced),
        "sums": amounts.sums(view, view.priced),
        "count": len(view.priced.lines),
        "weight": amounts.total_weight(view, view.priced),
    }


def file_text(name: str) -> Markup:
    """A style sheet or script of ours, as it is."""
    from markupsafe import Markup

    path = resources.files("budget.report") / "templates" / name
    return Markup(path.read_text(encoding="utf-8").strip())


def _hash(text: str) -> str:
    """The hash that a content policy asks for (W3C Content Security Policy Level 3)."""
    return base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
