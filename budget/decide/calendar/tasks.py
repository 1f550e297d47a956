"""The tasks of a plan: own steps, crews, fetching, and carrying what each step needs."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace

from budget.decide.calendar.network import Link, Task
from budget.decide.calendar.order import Order, order_of, usual
from budget.decide.plan import BID, Line, Priced
from budget.decide.pricing.arrivals import find_route, point_of
from budget.decide.pricing.work import carry_hours, chosen_method
from budget.decide.terms.situation import CARRY, SPOIL, Situation, step_order
from budget.decide.terms.vehicles import shared_hires
from budget.decide.terms.work import crew_method, days_on, machine_hours, own_work, team
from budget.figures import constant
from budget.job import Job
from budget.prices.forms import rows_by_bid
from budget.prices.options import Bid, Haul
from budget.reference import coefficient
from budget.units import MASS

OWN, CREW = "own", "crew"
#: Picking through, carrying and fetching come just before the step that uses the goods.
_PICKED, _CARRIED, _FETCHED = 0.2, 0.4, 0.6
#: What the choice of a line about one item begins with.
ITEM = "item:"


@dataclass(frozen=True, slots=True)
class Work:
    """The tasks of one plan, and what their order rests on."""

    tasks: tuple[Task, ...]
    order: Order
    fetched: frozenset[str]  # sellers whose goods are fetched
    uses: Mapping[str, tuple[str, ...]]  # seller -> steps that use its goods, in order of work


def work_of(job: Job, situation: Situation, priced: Priced) -> Work:
    """The tasks of a priced plan. Their own hours add up to the plan's."""
    return _Builder(job, situation, priced).work()


class _Builder:
    def __init__(self, job: Job, situation: Situation, priced: Priced) -> None:
        self.job, self.situation, self.priced = job, situation, priced
        self.plan = priced.plan
        self.steps = [*situation.amounts]
        self.own = {
            s: m.method for s in self.steps if (m := chosen_method(situation, self.plan, s))
        }
        self.order = order_of(job, situation, self.steps, self.own)
        self.bids = {b.key: b for b in situation.bids}
        self.hours = {line.name: line for line in priced.lines if line.own_hours}
        routes = {
            a.supplier: find_route(situation.options, a.supplier, a.route) for a in priced.arrivals
        }
        self.fetched = frozenset(s for s, route in routes.items() if isinstance(route, Haul))
        self.together = {s: hire.sellers for hire in shared_hires(routes) for s in hire.sellers}
        self.users = self._users()

    def _users(self) -> dict[str, dict[str, float]]:
        """The weight of each seller's goods, by the step that first uses them."""
        found: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
        for order in self.priced.orders:
            steps = {need.step for need in self.situation.items[order.item]}
            first = min(steps & set(self.steps) or steps, key=step_order)
            found[order.supplier][first] += order.weight or 0.0
        return found

    def work(self) -> Work:
        carried = self._carrying()
        brought = {step: task.name for step, task in carried.items()}
        tasks = [*self._fetching(), *carried.values()]
        tasks += [self._step(step, brought.get(step)) for step in self.steps]
        tasks += self._rest(tasks)
        uses = {
            supplier: tuple(sorted(steps, key=step_order))
            for supplier, steps in sorted(self.users.items())
        }
        return Work(tuple(tasks), self.order, self.fetched, uses)

    def _at(self, step: str) -> float:
        return float(step_order(step)[0])

    def _fetching(self) -> list[Task]:
        """A task for each seller whose goods are fetched, before the first step that uses them.

        Sellers that share a hired vehicle are fetched from one after the other.
        """
        found = []
        for supplier in sorted(self.fetched):
            line = self.hours.get(hauling(supplier))
            hours = line.own_hours if line else 0.0
            sellers = self.together.get(supplier, (supplier,))
            first = min((s for one in sellers for s in self.users[one]), key=step_order)
            found.append(
                Task(
                    fetching(supplier), "", hours, self._at(first) - _FETCHED, OWN, supplier,
                    own_hours=hours, how=line.quantity if line else "", wet="goes on",
                    whole=True,
                )
            )  # fmt: skip
        return found

    def _goods(self, step: str) -> tuple[list[Link], tuple[str, ...]]:
        """What fetches the goods of a step, and the sellers that bring them."""
        sellers = sorted(s for s, steps in self.users.items() if step in steps)
        links = [Link(fetching(s)) for s in sellers if s in self.fetched]
        return links, tuple(s for s in sellers if s not in self.fetched)

    def _carrying(self) -> dict[str, Task]:
        """Carrying, by the step that needs the goods; hours shared out by weight."""
        weights: dict[str, float] = defaultdict(float)
        for steps in self.users.values():
            for step, weight in steps.items():
                weights[step] += weight
        together = sum(weights.values())
        if not together or CARRY not in self.plan.steps:
            return {}
        whole = self._carry_task()
        found: dict[str, Task] = {}
        for step in sorted((s for s in weights if weights[s]), key=step_order):
            links, goods = self._goods(step)
            share = weights[step] / together
            found[step] = replace(
                whole, name=f"{CARRY} for {step}", order=self._at(step) - _CARRIED,
                hours=whole.hours * share, own_hours=whole.own_hours * share,
                machine_hours=whole.machine_hours * share, after=tuple(links), goods=goods,
            )  # fmt: skip
        return found

    def _carry_task(self) -> Task:
        method = chosen_method(self.situation, self.plan, CARRY)
        line = self.hours.get(CARRY)
        if method is not None:
            own = line.own_hours if line else 0.0
            clock = own / team(method, self.situation.options).unpaid
            weight = sum(o.weight or 0.0 for o in self.priced.orders)
            rate = method.machine_rate
            running = (rate.value * weight if rate else clock) if method.machine else 0.0
            clock = max(clock, running)
            return Task(CARRY, CARRY, clock, 0, OWN, OWN, own_hours=own, how=method.method,
                        wet="goes on", machine=method.machine, machine_hours=running)  # fmt: skip
        bid = self.bids[self.plan.steps[CARRY][len(BID) :]]
        return Task(CARRY, CARRY, self._crew_hours(bid, CARRY), 0, bid.key, CREW, how=bid.key,
                    wet="goes on")  # fmt: skip

    def _step(self, step: str, brought: str | None) -> Task:
        links, goods = self._goods(step)
        links += [Link(brought)] if brought else []
        links += [Link(line.name) for line in self._pickings() if self._picked(line) == step]
        before = (*self.order.links[step], *links)
        method = chosen_method(self.situation, self.plan, step)
        amount, options = self.situation.amounts[step], self.situation.options
        wet = usual()[step].wet
        if method is not None:
            work = own_work(method, amount, options)
            running = machine_hours(method, amount, options).value if method.machine else 0.0
            hours = max(work.clock.value, running)  # one machine runs no longer than the clock
            return Task(
                step, step, hours, self._at(step), OWN, OWN, before, goods,
                work.own.value, method.method, wet, method.machine, running,
            )  # fmt: skip
        bid = self.bids[self.plan.steps[step][len(BID) :]]
        lent = None if bid.equipment else crew_method(self.situation, step)
        running = machine_hours(lent, amount, options).value if lent else 0.0
        return Task(
            step, step, self._crew_hours(bid, step), self._at(step), bid.key, CREW, before, goods,
            0.0, bid.key, wet, lent.machine if lent else "", running,
        )  # fmt: skip

    def _crew_hours(self, bid: Bid, step: str) -> float:
        """A crew's hours: the days it says it needs, else as long as the fastest own way."""
        covered = [s for s in self.situation.covered(bid) if s in self.steps or s == CARRY]
        usually = {s: self._fastest(s) for s in covered}
        row = rows_by_bid(self.job).get(bid.key)
        said = None if row is None else row.work_days
        if said is None:
            return usually[step]
        total = sum(usually.values())
        share = usually[step] / total if total else 1 / len(covered)
        return said * coefficient("crew hours a day").likely * share

    def _fastest(self, step: str) -> float:
        if step != CARRY:
            days = days_on(self.situation, step, None).value
            return days * self.situation.options.hours_per_day.value
        weights: dict[str, float] = defaultdict(float)
        for a in self.priced.arrivals:
            weights[point_of(find_route(self.situation.options, a.supplier, a.route))] += a.weight
        figures = {p: [constant(w, MASS, "weight")] for p, w in weights.items() if w > 0}
        clocks = [
            carry_hours(self.situation, m, figures).value  # type: ignore[arg-type]
            / team(m, self.situation.options).people
            for m in self.situation.methods(CARRY)
            if figures
        ]
        return min(clocks, default=0.0)

    def _rest(self, tasks: list[Task]) -> list[Task]:
        """Own hours of the plan that no task has yet: supervising, getting rid of spoil."""
        told = {t.name for t in tasks} | {CARRY} | {hauling(s) for s in self.fetched}
        found = []
        for line in (li for li in self.priced.lines if li.own_hours and li.name not in told):
            if line.name in self.bids:
                found += self._supervising(line, tasks)
            elif line.choice.startswith(ITEM):
                found.append(self._picking(line, told))
            else:
                found.append(self._errand(line))
        return found

    def _supervising(self, line: Line, tasks: list[Task]) -> list[Task]:
        """Hours of calls and checks while a crew is there: they hold nothing up."""
        mine = [t for t in tasks if t.who == line.name]
        after = tuple(Link(t.name) for t in mine[-1:])
        order = max((t.order for t in mine), default=0.0)
        name = f"Supervise {line.name}"
        return [Task(name, "", 0.0, order, "", OWN, after, own_hours=line.own_hours,
                     how="calls, showing and checking", wet="goes on")]  # fmt: skip

    def _pickings(self) -> list[Line]:
        return [line for line in self.hours.values() if line.choice.startswith(ITEM)]

    def _picked(self, line: Line) -> str:
        """The step whose material a line of own hours picks stones out of."""
        return self.situation.items[line.choice[len(ITEM) :]][0].step

    def _picking(self, line: Line, told: set[str]) -> Task:
        """Stones picked out of a heap once it is there, before the step that uses it."""
        step = self._picked(line)
        links, goods = self._goods(step)
        links += [Link(name) for name in (f"{CARRY} for {step}",) if name in told]
        return Task(line.name, "", line.own_hours, self._at(step) - _PICKED, OWN, OWN,
                    tuple(links), goods, line.own_hours, line.quantity, "goes on")  # fmt: skip

    def _errand(self, line: Line) -> Task:
        spoil = SPOIL if SPOIL in self.steps else ""
        after = (Link(spoil),) if spoil and line.choice == "disposal" else ()
        order = self._at(SPOIL) + _CARRIED
        return Task(line.name, "", line.own_hours, order, OWN, OWN, after,
                    own_hours=line.own_hours, how=line.quantity, wet="goes on")  # fmt: skip


def fetching(supplier: str) -> str:
    """The name of the task that fetches a seller's goods."""
    return f"Fetch from {supplier}"


def hauling(supplier: str) -> str:
    """The name of the plan's line that fetches a seller's goods."""
    return f"Hauling from {supplier}"
