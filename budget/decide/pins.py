"""Pins: choices that a scenario holds fast, as people write them, and what they allow."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from budget.decide.plan import BID, HIRE, METHOD, OWN
from budget.decide.shares import SEVERAL, read_shared, shared_value
from budget.decide.terms.situation import Situation, optional_parts
from budget.prices.options import Drop, Options

#: For a pinned choice, the values that it may take.
Allowed = Mapping[str, frozenset[str]]

#: Names that a message lists when none is near.
_FEW = 12


class UnknownPin(ValueError):  # noqa: N818 - named for what it is
    """A pin names a choice or a value that this job has not."""


@dataclass(frozen=True, slots=True)
class Pinned:
    """What a set of pins asks of a plan."""

    allowed: Allowed = field(default_factory=dict)
    bedding: str | None = None
    dropped: frozenset[str] = frozenset()  # optional parts left out
    kept: frozenset[str] = frozenset()  # optional parts kept, worth it or not


def read_pins(situations: Sequence[Situation], pins: Mapping[str, str]) -> Pinned:
    """Understand pins as people write them; case does not matter.

    ``situations`` are the job under each of its beddings, with every part kept.

    Values are those of a plan, or in short: ``own`` or ``hire`` for a step, a method or a bid
    by its name alone, ``deliver`` or ``haul`` for goods, a seller for an item, ``rent``,
    ``borrow`` or ``buy`` for a machine, ``keep`` or ``drop`` for a part. An item bought in part
    is pinned as ``5 of South Barn + rest of North Yard``, or to ``several quotes``.

    :raises UnknownPin: for a choice or value that is not there, with the nearest that is.
    """
    choices = choice_values(situations)
    options = situations[0].options
    allowed: dict[str, frozenset[str]] = {}
    bedding = None
    dropped: set[str] = set()
    kept: set[str] = set()
    for written, value in sorted(pins.items()):
        choice = _nearest(written, choices, "choice")
        values = _matching(options, choice, value, choices[choice])
        if choice == "bedding":
            bedding = next(iter(values))
        elif choice.startswith("part:"):
            (dropped if values == {"drop"} else kept).add(choice.removeprefix("part:"))
        else:
            allowed[choice] = values
    return Pinned(allowed, bedding, frozenset(dropped), frozenset(kept))


def choice_values(situations: Sequence[Situation]) -> dict[str, tuple[str, ...]]:
    """Every choice of the job with its values under any bedding, in a fixed order."""
    found: dict[str, tuple[str, ...]] = {}
    for situation in situations:
        for choice, values in _choices_in(situation).items():
            known = found.get(choice, ())
            found[choice] = (*known, *(v for v in values if v not in known))
    return found


def _choices_in(situation: Situation) -> dict[str, tuple[str, ...]]:
    options = situation.options
    found: dict[str, tuple[str, ...]] = {
        "bedding": tuple(sorted(b.name for b in situation.takeoff.beddings))
    }
    for part in sorted(optional_parts(situation.takeoff)):
        found[f"part:{part}"] = ("keep", "drop")
    for item in situation.items:
        offers = situation.offers(item)
        several = (SEVERAL,) if sum(o.in_part for o in offers) > 1 else ()
        found[f"item:{item}"] = (*(o.key for o in offers), *several)
    for supplier, routes in sorted(options.routes.items()):
        found[f"goods:{supplier}"] = tuple(sorted(r.key for r in routes))
    for step in sorted(set(options.methods) | situation.coverable):
        own = [METHOD + m.key for m in situation.methods(step)]
        bids = [BID + b.key for b in situation.bids if step in b.steps]
        found[f"step:{step}"] = (*own, *bids)
    for equipment, machines in sorted(options.machines.items()):
        found[f"machine:{equipment}"] = tuple(sorted(m.key for m in machines))
    found["disposal"] = tuple(sorted(w.key for w in options.disposal))
    return found


def _nearest(written: str, known: Iterable[str], what: str) -> str:
    names = {name.casefold(): name for name in known}
    text = " ".join(written.split()).casefold().replace(": ", ":")
    folded = {name.replace(": ", ":"): original for name, original in names.items()}
    if text in folded:
        return folded[text]
    near = {n.partition(":")[2]: original for n, original in folded.items() if ":" in n} | folded
    close = difflib.get_close_matches(text, sorted(near), n=1, cutoff=0.5)
    hint = f"; did you mean {near[close[0]]}?" if close else ""
    if not hint and len(names) <= _FEW:
        hint = f"; known: {', '.join(sorted(names.values()))}"
    msg = f"there is no {what} called {written}{hint}"
    raise UnknownPin(msg)


def _matching(options: Options, choice: str, value: str, values: tuple[str, ...]) -> frozenset[str]:
    text = " ".join(value.split()).casefold()
    rest, shares = read_shared(text)
    if shares:
        one = _one_quote(options, choice, rest, values)
        parts = {_one_quote(options, choice, k, values): packs for k, packs in shares.items()}
        return frozenset((shared_value(one, parts),))
    short = _short_words(options, choice).get(text)
    if short is not None:
        return frozenset(v for v in values if short(v))
    for name in values:
        if text in (name.casefold(), _bare(choice, name).casefold()):
            return frozenset((name,))
    names = {_bare(choice, v) for v in values} | set(values) | set(_short_words(options, choice))
    return frozenset((_nearest(value, sorted(names), f"value of {choice}"),))


def _one_quote(options: Options, choice: str, value: str, values: tuple[str, ...]) -> str:
    """The one quote that part of an item is bought at."""
    several = frozenset(o.key for o in options.offers if o.in_part).intersection(values)
    known = tuple(v for v in values if v in several)
    found = _matching(options, choice, value, known)
    if len(found) != 1:
        told = "; ".join(sorted(found)) or "none that may be bought in part"
        msg = f"{value} is not one quote of {choice}: {told}"
        raise UnknownPin(msg)
    return next(iter(found))


def _bare(choice: str, value: str) -> str:
    if choice.startswith("step:"):
        return value.removeprefix(METHOD).removeprefix(BID)
    if choice.startswith("item:"):
        return value.removeprefix(f"{choice.removeprefix('item:')} @ ")
    return value


def _short_words(options: Options, choice: str) -> dict[str, Callable[[str], bool]]:
    kind, _, subject = choice.partition(":")
    if kind == "step":
        return {OWN: lambda v: v.startswith(METHOD), HIRE: lambda v: v.startswith(BID)}
    if kind == "goods":
        drops = {r.key for r in options.routes[subject] if isinstance(r, Drop)}
        return {"deliver": drops.__contains__, "haul": lambda v: v not in drops}
    if kind == "machine":
        ways = {m.key: m.way for m in options.machines[subject]}
        return {w: _is_way(ways, w) for w in ("rent", "borrow", "buy")}
    if kind == "item":
        sellers = sorted({o.supplier for o in options.offers if o.item == subject})
        return {s.casefold(): _is_seller(options, subject, s) for s in sellers}
    return {}


def _is_way(ways: Mapping[str, str], way: str) -> Callable[[str], bool]:
    return lambda value: ways[value] == way


def _is_seller(options: Options, item: str, seller: str) -> Callable[[str], bool]:
    keys = {o.key for o in options.offers if o.item == item and o.supplier == seller}
    return keys.__contains__
