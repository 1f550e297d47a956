"""One decision at a time: sellers, machines, steps and bids, and every flip."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from budget.decide.plan import OWN, Arrival, Flip, Priced
from budget.prices.options import Bid, Haul
from budget.reference import steps as step_kinds
from budget.report import bid_matrix, words
from budget.report.page.view import FREE, Column, Row, Table, View
from budget.units import (
    AREA,
    BANK_VOLUME,
    COMPACTED_VOLUME,
    HOURS,
    LOOSE_VOLUME,
    in_words,
)
from budget.wording import listed


@dataclass(frozen=True, slots=True)
class StepCard:
    """One step: how it is done, how much of it, what it takes, and its caution."""

    step: str
    chosen: str
    amount: str
    hours: str
    flips: tuple[str, ...]
    caution: str
    source: str
    way: str = ""  # which way of doing it suits, and why


@dataclass(frozen=True, slots=True)
class Choice:
    """One seller or machine: what is chosen, the facts of it, the other ways, what they cost."""

    subject: str
    chosen: str
    facts: tuple[str, ...]
    others: tuple[str, ...]
    flips: tuple[str, ...]
    caution: tuple[str, str] | None = None  # text and source


_HAULING = (
    "Stay within the payload and the tow limit, with the people aboard counted in. Load a "
    "trailer so that 10 to 15 % of its weight rests on the hitch, and tie everything down.",
    "vehicle and trailer owner manuals",
)


#: In which state a volume of soil or stone is measured, by its kind.
_STATES = {
    BANK_VOLUME.name: " in the ground",
    LOOSE_VOLUME.name: " loose",
    COMPACTED_VOLUME.name: " compacted",
}


def flips_of(view: View, choice: str) -> tuple[str, ...]:
    """The sentences about one choice; not those about several steps, told once for all."""
    return tuple(
        f.sentence
        for f in view.comparison.flips
        if choice in (f.choices or (f.choice,)) and not _several_steps(f)
    )


def _several_steps(flip: Flip) -> bool:
    return len(flip.choices) > 1 and flip.choice.startswith("step:")


def joint_flips(view: View) -> tuple[str, ...]:
    """The sentences about steps that turn together, as where one bid covers several of them."""
    return tuple(f.sentence for f in view.comparison.flips if _several_steps(f))


@dataclass(frozen=True, slots=True)
class Choices:
    """Sellers or machines: those the best plan uses, and the names of the others."""

    used: tuple[Choice, ...]
    unused: str

    def __bool__(self) -> bool:
        """Whether there are any."""
        return bool(self.used or self.unused)


def sellers(view: View, priced: Priced) -> Choices:
    """Seller by seller: how the goods come; then where nothing is bought."""
    arrivals = {a.supplier: a for a in priced.arrivals}
    found: list[Choice] = []
    unused: list[str] = []
    for supplier, routes in sorted(view.comparison.options.routes.items()):
        chosen = priced.plan.routes.get(supplier, "")
        others = tuple(route.key for route in routes if route.key != chosen)
        flips = flips_of(view, f"goods:{supplier}")
        arrival = arrivals.get(supplier)
        if arrival is None:
            unused.append(supplier)
            continue
        hauled = any(isinstance(route, Haul) and route.key == chosen for route in routes)
        trips = "trip" if hauled else "drop"
        facts = (
            words.count(arrival.drops, trips),
            view.weight(arrival.weight),
            _a_load(view, arrival, trips),
            "" if arrival.note.startswith(FREE) else view.fee(arrival),
            f"{words.hours(arrival.hours)} of own driving and handling" if arrival.hours else "",
            arrival.note,
        )
        said = tuple(dict.fromkeys(fact for fact in facts if fact))
        caution = _HAULING if hauled else None
        found.append(Choice(supplier, chosen, said, others, flips, caution))
    return Choices(tuple(found), listed(unused))


def _a_load(view: View, arrival: Arrival, trips: str) -> str:
    """What one load weighs on average, where there are several."""
    if arrival.drops < 2:
        return ""
    return f"about {view.weight(arrival.weight / arrival.drops)} a {trips}"


def machines(view: View, priced: Priced) -> Choices:
    """Machine by machine: rented, borrowed or bought, for which spells; then those left out."""
    hires = {h.equipment: h for h in priced.hires}
    found: list[Choice] = []
    unused: list[str] = []
    for equipment, ways in sorted(view.comparison.options.machines.items()):
        chosen = priced.plan.machines.get(equipment, "")
        others = tuple(
            f"{way.key} ({way.why_not})" if way.why_not else way.key
            for way in ways
            if way.key != chosen
        )
        flips = flips_of(view, f"machine:{equipment}")
        hire = hires.get(equipment)
        if hire is None:
            unused.append(equipment)
            continue
        facts = [*hire.spells, f"{view.money(hire.cash)} with tax"]
        if hire.deposit:
            facts.append(f"{view.money(hire.deposit)} deposit, comes back")
        found.append(Choice(equipment, chosen, tuple(facts), others, flips))
    return Choices(tuple(found), listed(unused))


def steps(view: View, priced: Priced) -> list[StepCard]:
    """Step by step in order of work, each with its caution beside it."""
    cautions = _cautions(view)
    cards = []
    for step, value in priced.plan.steps.items():
        caution, source = cautions.get(step, ("", ""))
        cards.append(
            StepCard(
                step,
                words.step_value(value),
                _amount(view, priced, step),
                _hours(priced, step, value),
                flips_of(view, f"step:{step}"),
                caution,
                source,
                view.comparison.takeoff.way_to_cut if step == "Cut" else "",
            )
        )
    return cards


def _cautions(view: View) -> dict[str, tuple[str, str]]:
    """The cautions of each step as one text, with their sources, each named once."""
    texts: dict[str, list[str]] = {}
    sources: dict[str, dict[str, None]] = {}
    for step, text, source in view.comparison.takeoff.cautions:
        texts.setdefault(step, []).append(text)
        sources.setdefault(step, {})[source] = None
    return {step: (" ".join(said), "; ".join(sources[step])) for step, said in texts.items()}


def _amount(view: View, priced: Priced, step: str) -> str:
    """How much work a step is under the plan's bedding and in its kept parts."""
    amounts = [
        a.amount
        for a in view.comparison.takeoff.steps
        if a.step == step
        and a.bedding in ("", priced.plan.bedding)
        and (not a.optional or a.optional in priced.plan.parts)
    ]
    if not amounts or amounts[0].kind == HOURS:
        return ""
    kind = amounts[0].kind
    return in_words(sum(a.value for a in amounts), kind, view.system) + _STATES.get(kind.name, "")


def _hours(priced: Priced, step: str, value: str) -> str:
    hours = sum(line.own_hours for line in priced.lines if line.choice == f"step:{step}")
    if hours:
        return f"{words.hours(hours)} of own work"
    return "" if value.startswith(OWN) else "no own hours"


def flips(view: View) -> Table | None:
    """Every choice turned the other way, the rest planned anew."""
    if not view.comparison.flips:
        return None
    columns = (
        Column("Choice"),
        Column("This plan"),
        Column("Otherwise"),
        Column("Cash", number=True),
        Column("Own hours", number=True),
        Column("Winner changes when an own hour is worth", number=True),
    )
    rows = tuple(_flip(view, flip) for flip in view.comparison.flips)
    return Table("Each choice turned the other way, the rest planned anew", columns, rows)


def _flip(view: View, flip: Flip) -> Row:
    about, value = words.choice(flip.choice, flip.value)
    _, other = words.choice(flip.choice, flip.alternative)
    at = listed([view.money(v) for v in flip.hour_values])
    return Row(
        (
            about,
            value,
            other,
            view.money_more(flip.cash),
            view.hours_more(flip.hours),
            at or "never",
        )
    )


def matrix(view: View, priced: Priced) -> Table | None:
    """Which bid covers which step: bids down, steps across."""
    bids = view.comparison.options.bids
    names = [*priced.plan.steps]
    if not bids:
        return None
    columns = (Column("Bid"), *(Column(step) for step in names), Column("Brings"))
    taken = {value.partition(": ")[2] for value in priced.plan.steps.values()}
    rows = tuple(_bid_row(view, bid, names, bid.key in taken) for bid in bids)
    return Table("Bids and the steps that each covers", columns, rows)


def left(view: View) -> tuple[tuple[str, str], ...]:
    """What bids leave with the owner: each sentence once, and the bids of which it is true."""
    found: dict[str, list[str]] = {}
    for bid in view.comparison.options.bids:
        for risk in dict.fromkeys(bid.risks):
            found.setdefault(f"{risk.rstrip('.')}.", []).append(bid.key)
    return tuple((sentence, listed(bids)) for sentence, bids in found.items())


@dataclass(frozen=True, slots=True)
class Scope:
    """What bids say of costs and risks, and of which of these none says anything."""

    table: Table | None
    unsaid: str
    note: str


def scope(view: View) -> Scope | None:
    """What each bid says of costs and risks: these down, bids across."""
    found = bid_matrix.scope_side_by_side(view.comparison)
    if found is None:
        return None
    said, unsaid = bid_matrix.apart(found)
    columns = (Column("Cost or risk"), *(Column(bid) for bid in found.bids))
    rows = tuple(Row(r) for r in bid_matrix.rows(said, view.currency))
    table = Table("What each bid says of costs and risks", columns, rows) if rows else None
    return Scope(table, listed(unsaid), bid_matrix.NOTE)


def _bid_row(view: View, bid: Bid, names: Sequence[str], taken: bool) -> Row:
    brings = [
        *(["materials"] if bid.materials else []),
        *(["machines"] if bid.equipment else []),
    ]
    deduct = f", less {view.money(bid.deduct.value)}" if bid.deduct else ""
    standing = ", expired" if bid.expired else ""
    return Row(
        (
            f"{bid.key}: {view.money(bid.price.value)}{_basis(bid)}{deduct}{standing}",
            *("yes" if step in bid.steps else "–" for step in names),
            listed(brings) or "labour only",
        ),
        marked="in this plan" if taken else "",
    )


def _basis(bid: Bid) -> str:
    """What a bid's price is for: nothing for a lump sum, an hour, or the unit it counts."""
    if bid.basis == "lump":
        return ""
    if bid.basis == "hourly":
        return " an hour"
    kind = step_kinds()[bid.unit_step].measure if bid.unit_step else AREA
    units = {round(unit.size, 9): unit.label for unit in (kind.imperial, kind.metric)}
    return f" per {units.get(round(bid.unit_size, 9), 'unit')}"
