"""How sure the answer is, in plain words."""

from __future__ import annotations

from budget.decide.outcome import Comparison
from budget.decide.pricing.goods import packs_in_words
from budget.decide.risk.movers import COMMON
from budget.decide.risk.result import PERCENTILES, Accuracy, Finding, Risk
from budget.numerals import trimmed
from budget.report import words
from budget.wording import listed

#: Savings on average below this are not worth a word, in cents.
_WORTH_SAYING = 100.0


def in_words(comparison: Comparison) -> tuple[str, ...]:
    """Likely sum, safe sum, chance to pass the limit, biggest unknown; empty if all is sure."""
    risk = comparison.risk
    if risk is None:
        return ()
    currency = comparison.job.settings.currency
    best = risk.of(risk.best)
    likely = words.money_round(best.cash[PERCENTILES.index(50)], currency)
    safe = words.money_round(best.safe, currency)
    found = [f"likely {likely}", f"{safe} is enough in {cases(risk.confidence)}"]
    days = words.money_round(risk.with_days, currency)
    if days != safe:
        found.append(f"{days} with hire days and delays")
    if risk.over_with_days:
        found.append(f"{chance(risk.over_with_days)} chance to pass your limit")
    if risk.movers:
        found.append(f"biggest unknown: {risk.movers[0].name}")
    if risk.safest != risk.best:
        found.append(f"on the safe side “{risk.safest}” comes out best{comparison.so_far}")
    return tuple(found)


def cases(share: float) -> str:
    """A share of all cases as people say it.

    >>> cases(0.8), cases(0.85)
    ('8 of 10 cases', '85 of 100 cases')
    """
    tenths = share * 10
    if abs(tenths - round(tenths)) < 1e-9:
        return f"{round(tenths)} of 10 cases"
    return f"{trimmed(share * 100)} of 100 cases"


def chance(share: float) -> str:
    """A chance in whole per cent, never quite none or certain unless it is.

    >>> chance(0.587), chance(0.001), chance(0.999), chance(0.0)
    ('59 %', 'under 1 %', 'over 99 %', '0 %')
    """
    if 0 < share < 0.005:
        return "under 1 %"
    if 0.995 <= share < 1:
        return "over 99 %"
    return words.percent(round(share, 2))


def short_in_words(comparison: Comparison) -> tuple[str, ...]:
    """The order that is worst off, and how many more; empty where no order is unsure."""
    risk = comparison.risk
    if risk is None or not risk.shortfalls:
        return ()
    currency = comparison.job.settings.currency
    unwise = [s for s in risk.shortfalls if s.saves >= _WORTH_SAYING]
    if not unwise:
        worst = max(risk.shortfalls, key=lambda s: (s.chance, s.item))
        return (f"no order needs changing; likeliest is {worst.item}, {chance(worst.chance)}",)
    worst = unwise[0]
    more = words.count(len(unwise) - 1, "more order", "more orders")
    return (
        f"order {packs_in_words(worst.best, worst.per)} of {worst.item}, not "
        f"{_number(worst.ordered)}",
        f"{_number(worst.ordered)} is too little in {chance(worst.chance)} of cases",
        f"ordering more saves {words.money_round(worst.saves, currency)} on average",
        *([f"{more} to change: “budget quantities --thorough”"] if len(unwise) > 1 else []),
    )


def _number(packs: float) -> str:
    return packs_in_words(packs, "")


def pays(found: Finding) -> bool:
    """Whether finding it out saves more than it takes."""
    return found.worth > found.effort and found.worth >= _WORTH_SAYING


def find_out_in_words(comparison: Comparison) -> tuple[str, ...]:
    """What is worth finding out first, if anything pays."""
    risk = comparison.risk
    paying = [f for f in risk.findings if pays(f)] if risk else []
    currency = comparison.job.settings.currency
    return tuple(
        f"{f.name}: {f.how}; worth {words.money_round(f.worth, currency)} on average"
        for f in paying[:1]
    )


def safe_side(comparison: Comparison, risk: Risk) -> str:
    """Whether the plan that is best in the middle is also best at the confidence asked for."""
    sure, best = cases(risk.confidence), f"best{comparison.so_far}"
    if risk.safest == risk.middle == risk.best:
        return (
            f"Own hours counted, “{risk.best}” is {best} both by what is likely and by what is "
            f"enough in {sure}."
        )
    said = []
    if risk.middle != risk.best:
        said.append(f"by what is likely “{risk.middle}” is {best}")
    if risk.safest != risk.best:
        said.append(f"by what is enough in {sure} “{risk.safest}” is {best}")
    return f"Own hours counted, “{risk.best}” is {best} as written; {listed(said)}."


def shares_in_words(risk: Risk) -> str:
    """What a share of the spread means, and how sure the ranking is."""
    error = max(m.cash_error for m in risk.movers)
    said = (
        "A share is what goes of the spread (the variance) once that one thing is known, on "
        "average over every order in which all of them could become known. What hangs on several "
        "at once, such as a load more or a free delivery missed, is so parted among them, and the "
        f"shares add up to 100 % (standard error of one {_share(error)} at the most)."
    )
    if any(m.name == COMMON for m in risk.movers):
        said += (
            f" “{COMMON[:1].upper()}{COMMON[1:]}” is what all own steps have in common; the pace "
            "of one step is what it strays beyond that."
        )
    return said


def accuracy_in_words(found: Accuracy) -> str:
    """The drawn spread against the published one, and what to make of it."""
    ours = f"{_share(found.low)} below to {_share(found.high)} above"
    low, high = found.published_low, found.published_high
    theirs = (
        f"{_share(low[0])} to {_share(low[1])} below and {_share(high[0])} to "
        f"{_share(high[1])} above"
    )
    meaning = {
        "narrower": "The draws know only what is listed here. What nobody has listed is not in "
        "them, so take the published range as the more careful one.",
        "within": "The two agree.",
        "wider": "The ranges in this workbook are wider than is usual for prices as firm.",
    }
    return (
        f"In 8 of 10 cases the cash lies from {ours} the middle. "
        f"{words.percent(round(found.firm, 2))} of it is at firm prices; for estimates worked out "
        f"as far as this (class {found.level}) the published accuracy is {theirs}. "
        f"{meaning[found.verdict]}"
    )


def _share(ratio: float) -> str:
    return words.percent(round(ratio, 3 if ratio < 0.1 else 2))
