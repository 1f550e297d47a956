"""One pass of the calendar for many draws of wet days and late goods at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from budget.decide.calendar.days import DAY, TINY, Days
from budget.decide.calendar.network import Booked, day_of
from budget.decide.calendar.site import Releases, Site
from budget.decide.calendar.tasks import OWN
from budget.reference import coefficient

DIG, BASE = "Dig", "Base"


@dataclass(frozen=True, slots=True)
class Held:
    """Who must have come before a task, and from which moment on in each draw."""

    who: str
    moments: Any


class Open:
    """Open days of many draws at once: as :class:`Days`, a row a draw.

    Beyond the days that are known every week is as the first.
    """

    def __init__(self, days: Days, wet: Any) -> None:
        """Close the days that are wet."""
        import numpy as np

        span = wet.shape[1]
        known = len(days.open)
        mask = np.array([days.open[d if d < known else d % 7] for d in range(span)])
        self.open = mask & ~wet
        self.hours, self.morning = days.hours, days.morning
        self.before = np.zeros((len(wet), span + 1))
        np.cumsum(self.open * days.hours, axis=1, out=self.before[:, 1:])
        self.rows = np.arange(len(wet))

    def done(self, moments: Any) -> Any:
        """Hours of work there are before a moment of each draw."""
        import numpy as np

        day = np.minimum((moments // DAY).astype(int), self.open.shape[1] - 1)
        within = np.clip(moments - day * DAY - self.morning, 0.0, self.hours)
        return self.before[self.rows, day] + self.open[self.rows, day] * within

    def advance(self, ready: Any, hours: Any, whole: bool) -> tuple[Any, Any] | None:
        """When work starts and ends in each draw; None if one of them runs out of days."""
        import numpy as np

        done = self.done(ready)
        first = (self.before[:, 1:] <= (done + TINY)[:, None]).sum(axis=1)
        if whole and np.max(hours) <= self.hours and first.max() < self.open.shape[1]:
            evening = self.before[self.rows, first + 1]
            done = np.where(done + hours <= evening + TINY, done, evening)
            first = (self.before[:, 1:] <= (done + TINY)[:, None]).sum(axis=1)
        last = (self.before[:, 1:] < (done + hours - TINY)[:, None]).sum(axis=1)
        if last.max() >= self.open.shape[1]:
            return None
        start = first * DAY + self.morning + done - self.before[self.rows, first]
        end = last * DAY + self.morning + done + hours - self.before[self.rows, last]
        none = np.broadcast_to(np.asarray(hours) <= TINY, start.shape)
        return np.where(none, ready, start), np.where(none, ready, end)


class Wet:
    """One pass of the calendar for every draw."""

    def __init__(
        self, site: Site, booked: Mapping[str, Booked], wet: Any, drying_days: int
    ) -> None:
        """Lay the wet days onto everybody's days."""
        import numpy as np

        ground = wet.copy()
        for later in range(1, drying_days + 1):
            ground[:, later:] |= wet[:, :-later]
        closed = {"stops": wet, "ground": ground, "goes on": np.zeros_like(wet)}
        tasks = [b.task for b in booked.values()]
        self.open = {
            key: Open(site.days[key[0]], closed[key[1]])
            for key in sorted({(t.days, t.wet) for t in tasks})
        }
        self.booked, self.wet = booked, wet
        self.again: Any = np.zeros(len(wet))  # hours of digging done again
        self.held: dict[str, Any] = {}  # working hours lost to each late seller or firm

    def passed(
        self, free: Releases, held: Mapping[str, Sequence[Held]] | None = None
    ) -> Wet | None:
        """Book every task in the same sequence; None if a draw runs out of days."""
        import numpy as np

        self.start: dict[str, Any] = {}
        self.finish: dict[str, Any] = {}
        last: dict[str, Any] = {}
        for name, b in self.booked.items():
            bounds = [np.full(len(self.wet), free[name][0] if name in free else 0.0)]
            bounds += [self.finish[k.task] + k.wait for k in b.task.after]
            if b.task.who in last:
                bounds.append(last[b.task.who])
            ready = self._waited(b, np.maximum.reduce(bounds), (held or {}).get(name, ()))
            days = self.open[b.task.days, b.task.wet]
            found = days.advance(ready, b.task.hours, b.task.whole)
            if name == BASE and found is not None:
                again = self._soft(found[0])
                found = days.advance(ready, b.task.hours + again, b.task.whole)
            if found is None:
                return None
            self.start[name], self.finish[name] = found
            if b.task.who:
                last[b.task.who] = found[1]
        return self

    def _waited(self, b: Booked, ready: Any, held: Sequence[Held]) -> Any:
        """When a task is ready with what must come for it; who holds it up is kept in mind."""
        import numpy as np

        days = self.open[b.task.days, b.task.wet]
        for late in held:
            lost = days.done(np.maximum(ready, late.moments)) - days.done(ready)
            self.held[late.who] = np.maximum(self.held.get(late.who, 0.0), lost)
        return np.maximum.reduce([ready, *(late.moments for late in held)])

    def _soft(self, ready: Any) -> Any:
        """Digging done again: a share for each wet day from the planned dig to the base."""
        import numpy as np

        dig, base = self.booked.get(DIG), self.booked[BASE]
        if dig is None or dig.task.days != OWN or base.task.days != OWN:
            return 0.0
        first = day_of(dig.start)
        days = np.arange(self.wet.shape[1])
        lying = (days >= first) & (days[None, :] * DAY < ready[:, None])
        wet = (self.wet & lying).sum(axis=1)
        self.again = wet * coefficient("soft ground").likely * dig.task.hours
        return self.again
