"""The joint plan model: every choice of a job under one bedding in one integer programme."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from copy import copy
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.decide.model.build import CASH, HOURS, MISSING, Build
from budget.decide.model.chores import (
    add_bids,
    add_carrying,
    add_checklist,
    add_disposal,
    add_steps,
)
from budget.decide.model.fleet import add_machines
from budget.decide.model.goods import add_goods
from budget.decide.model.splits import held, parted
from budget.decide.model.vehicle_days import add_hire_days
from budget.decide.pins import Allowed
from budget.decide.plan import Plan, Priced
from budget.decide.pricing.evaluation import evaluate_in
from budget.decide.programme import search
from budget.decide.programme.search import Answer
from budget.decide.shares import read_shared
from budget.decide.terms.situation import CARRY, Situation

if TYPE_CHECKING:
    from budget.decide.programme.fronts import Ground
    from budget.decide.programme.relaxation import Limits, Numbers


#: A programme that may part needs is branched on longer: its relaxation lies close, but counts of
#: packs take many branches to be whole.
PARTING = 5


@dataclass(frozen=True, slots=True)
class Solved:
    """The best plan of one model under some pins, priced to the cent."""

    priced: Priced
    proved: bool
    gap: float  # share of the total that a better plan could save at most; 0 when proved

    @property
    def gaps(self) -> int:
        """How many costs nobody has priced."""
        return len(self.priced.missing)


@dataclass(frozen=True, slots=True)
class Fewest:
    """The fewest prices that any plan misses, as far as it was proved."""

    count: float
    proved: bool


class Model:
    """One situation as a programme that is built once and solved under many pins.

    Plans are ranked by fewest missing prices first, then by cash plus own hours at the hour
    value. The programme's cents are those of :func:`budget.decide.evaluate`, apart from lines
    that round a sum; each answer is priced by it and compared.
    """

    def __init__(
        self, situation: Situation, most_cash: float = math.inf, limit: float | None = None
    ) -> None:
        """Build the programme for one bedding and one set of optional parts.

        With ``most_cash`` [cents], plans that cost more cash are left out. A solve stops after
        ``limit`` seconds (of :func:`budget.decide.programme.search.limit` if None) with the best
        plan found until then, not proved.
        """
        self.situation = situation
        build = Build(situation)
        build.programme.time_limit = search.limit() if limit is None else limit
        add_bids(build)
        add_steps(build)
        add_goods(build)
        carrying = add_carrying(build)
        add_machines(build, carrying)
        add_disposal(build)
        add_hire_days(build, build.outings)
        add_checklist(build)
        if build.splits:
            build.programme.longer = PARTING
        self._build = build
        self._columns = _by_choice(build.choices)
        self._spare = frozenset(build.spare & build.choices.keys())
        self._rests = frozenset(share.rest for split in build.splits for share in split.shares)
        self._priced: dict[tuple[tuple[float, ...], frozenset[int]], Priced] = {}
        self._programme = build.programme
        gaps = _terms(build, MISSING)
        self._rows: tuple[int, int] | None = None  # of cash and of own hours
        if math.isfinite(most_cash):
            limit = most_cash - build.fixed.get(CASH, 0.0)
            self._rows = (
                build.programme.row(_terms(build, CASH), high=limit),
                build.programme.row(_terms(build, HOURS)),
            )
        self._gap_row = build.programme.row(gaps) if gaps else None
        self._fewest: Fewest | None = None

    @property
    def columns(self) -> int:
        """How many columns the programme has."""
        return len(self._programme.objectives)

    def twin(self) -> Model:
        """The same model with a solver of its own, to be solved at the same time."""
        found = copy(self)
        found._programme = self._programme.twin()
        return found

    def solve(
        self, hour_value: float, allowed: Allowed | None = None, at_most: float = math.inf,
        most_cash: float | None = None,
    ) -> Solved | None:  # fmt: skip
        """The best plan at an hour value (cents) with some choices held, None if none fits.

        With ``most_cash`` [cents], for a model that has such a limit, that in its place.

        Plans whose total passes ``at_most`` need not be found: None then only says that there
        is none below it with as few missing prices.
        """
        shut, limits = self._held(allowed or {})
        fewest = self.fewest_missing(allowed)
        if fewest is None:
            return None
        bounds = self._at_most_missing(fewest.count)
        fixed = self._build.fixed.get(CASH, 0.0)
        if most_cash is not None and self._rows is not None:
            bounds[self._rows[0]] = (-math.inf, most_cash - fixed)
        weights, above = {CASH: 1.0, HOURS: hour_value}, at_most - fixed
        if self._build.splits:
            self._begin(weights, shut, limits | bounds, above)
        answer = self._programme.solve(weights, shut, limits | bounds, above)
        if answer is None:
            return None
        priced = self._price(answer, shut)
        modelled = answer.objective + fixed
        self._agree(answer, priced.total(hour_value), modelled, len(priced.lines))
        if answer.proved and fewest.proved:
            return Solved(priced, True, 0.0)
        least = modelled - answer.gap * abs(answer.objective)  # no plan goes below
        gap = 1.0 - least / max(1.0, priced.total(hour_value)) if fewest.proved else math.inf
        return Solved(priced, False, max(0.0, gap))

    def ground(self) -> Ground:
        """The programme without pins as a search of cash and hours at once takes it.

        It keeps to plans with the fewest missing prices. For a model with a limit of cash.

        :raises NothingFoundError: the search for the fewest was stopped before it found any.
        """
        from budget.decide.programme.fronts import TwoCosts
        from budget.decide.programme.staircase import Corner

        if self._rows is None:
            msg = "a model without a limit of cash has no rows of cash and hours"
            raise RuntimeError(msg)
        shut, limits = self._held({})
        fewest = self.fewest_missing()
        if fewest is not None:
            limits |= self._at_most_missing(fewest.count)
        programme, fixed = self._programme, Corner(self._build.fixed.get(CASH, 0.0), 0.0)
        costs = TwoCosts(
            programme.costs({CASH: 1.0}), programme.costs({HOURS: 1.0}), fixed, *self._rows
        )
        return programme.ground(shut, limits, costs)

    def priced(self, values: Numbers, most: float, hour_value: float) -> Priced:
        """The plan of an answer found without pins, which the programme prices at ``most``.

        ``RuntimeError`` where it costs more than that at the hour value [cents].
        """
        shut, _ = self._held({})
        answer = Answer(tuple(values.tolist()), most, False, math.inf)
        found = self._price(answer, shut)
        self._agree(answer, found.total(hour_value), most, len(found.lines))
        return found

    def _begin(
        self, weights: Mapping[str, float], shut: frozenset[int], bounds: dict[int, Limits],
        above: float,
    ) -> None:  # fmt: skip
        """The best plan that parts no need, quickly found: the search for all goes on from it."""
        parting = {split.column for split in self._build.splits}
        if not parting <= shut:
            self._programme.solve(weights, shut | parting, bounds, above)

    def fewest_missing(self, allowed: Allowed | None = None) -> Fewest | None:
        """The fewest missing prices of any plan, None if no plan fits."""
        always = self._build.fixed.get(MISSING, 0.0)
        if self._gap_row is None:
            return Fewest(always, True)
        if not allowed and self._fewest is not None:
            return self._fewest
        answer = self._programme.solve({MISSING: 1.0}, *self._held(allowed or {}))
        if answer is None:
            return None
        found = Fewest(answer.objective + always, answer.proved)
        if not allowed:
            self._fewest = found
        return found

    def _at_most_missing(self, fewest: float) -> dict[int, tuple[float, float]]:
        """The bound that keeps to plans with the fewest missing prices."""
        if self._gap_row is None:
            return {}
        room = fewest - self._build.fixed.get(MISSING, 0.0) + 0.5
        return {self._gap_row: (-float("inf"), room)}

    def _held(self, allowed: Allowed) -> tuple[frozenset[int], dict[int, Limits]]:
        """Columns that are shut, and bounds of rows: what pins ask.

        An item pinned to so many packs of some quotes has that pin alone.
        """
        shut = set(self._shut(allowed))
        bounds: dict[int, Limits] = {}
        for split in self._build.splits:
            for value in allowed.get(f"item:{split.item}", ()):
                rest, shares = read_shared(value)
                asked = held(split, rest, shares) if shares else None
                if asked is not None:
                    shut.discard(split.column)
                    shut |= asked[0]
                    bounds |= asked[1]
        return frozenset(shut), bounds

    def _shut(self, allowed: Allowed) -> frozenset[int]:
        """Columns that pins rule out, and those that no best plan needs unless it is pinned."""
        shut, wanted = set[int](), set[int]()
        for choice, values in allowed.items():
            for value, columns in self._columns.get(choice, {}).items():
                (wanted if value in values else shut).update(columns)
        return frozenset(shut | (self._spare - wanted))

    def _price(self, answer: Answer, shut: frozenset[int]) -> Priced:
        """The plan of an answer to the cent, each worked out once."""
        key = (answer.values, shut & self._rests)
        if key not in self._priced:
            self._priced[key] = evaluate_in(self.situation, self._plan(answer, shut))
        return self._priced[key]

    def _plan(self, answer: Answer, shut: frozenset[int]) -> Plan:
        found: dict[str, str] = {}
        for column, choices in self._build.choices.items():
            if answer.values[column] > 0.5:
                found |= choices
        by_kind: dict[str, dict[str, str]] = {}
        for choice, value in found.items():
            kind, _, subject = choice.partition(":")
            by_kind.setdefault(kind, {})[subject] = value
        offers, shares = by_kind.get("item", {}), dict[str, dict[str, float]]()
        for split in self._build.splits:
            if answer.values[split.column] > 0.5:
                offers[split.item], shares[split.item] = parted(
                    self.situation, split, answer.values, shut
                )
        bought = self._suppliers({*offers.values(), *(key for s in shares.values() for key in s)})
        steps = by_kind.get("step", {})
        order = [*self.situation.amounts, *sorted(set(steps) - set(self.situation.amounts))]
        return Plan(
            bedding=self.situation.bedding,
            parts=self.situation.parts,
            offers=dict(sorted(offers.items())),
            routes={s: r for s, r in sorted(by_kind.get("goods", {}).items()) if s in bought},
            steps={s: steps[s] for s in order if s in steps and self._used(s, steps, bought)},
            machines=dict(sorted(by_kind.get("machine", {}).items())),
            disposal=found.get("disposal", ""),
            shares=dict(sorted(shares.items())),
        )

    def _suppliers(self, keys: Collection[str]) -> set[str]:
        return {o.supplier for o in self.situation.options.offers if o.key in keys}

    @staticmethod
    def _used(step: str, steps: Mapping[str, str], bought: set[str]) -> bool:
        return step != CARRY or bool(bought) or steps[step].startswith("bid")

    @staticmethod
    def _agree(answer: Answer, total: float, modelled: float, lines: int) -> None:
        """``RuntimeError`` unless programme and plan cost the same [cents].

        A programme stopped early may pay for days of hire or trips that its plan does not need.
        """
        apart = modelled - total
        slack = 1.0 + lines + 1e-6 * abs(modelled)
        if abs(apart) > slack and (answer.proved or apart < 0):
            msg = f"the model gives {modelled:.2f} and the plan costs {total:.2f}: they must agree"
            raise RuntimeError(msg)


def _terms(build: Build, name: str) -> list[tuple[int, float]]:
    """One objective of a programme as the terms of a row."""
    return [(c, o[name]) for c, o in enumerate(build.programme.objectives) if name in o]


def _by_choice(choices: Mapping[int, Mapping[str, str]]) -> dict[str, dict[str, list[int]]]:
    """The columns that make each choice, by its value."""
    found: dict[str, dict[str, list[int]]] = {}
    for column, made in choices.items():
        for choice, value in made.items():
            found.setdefault(choice, {}).setdefault(value, []).append(column)
    return found
