"""Forward and backward passes against published worked networks.

Source: B. W. Taylor, Introduction to Management Science, worked solutions to
chapter 8 (Project Management), as reprinted at https://ar.scribd.com/doc/47113515/TaylCh08.
"""

from __future__ import annotations

import pytest

from budget.decide.calendar.days import Days
from budget.decide.calendar.network import Link, Task, backward, binding, finish_of, forward
from budget.decide.calendar.weather import after
from budget.reference import coefficient

#: From node, to node, time; earliest start and finish, latest start and finish, slack.
FIRST = [
    (1, 2, 7, 0, 7, 2, 9, 2),
    (1, 3, 10, 0, 10, 0, 10, 0),
    (2, 4, 6, 7, 13, 9, 15, 2),
    (3, 4, 5, 10, 15, 10, 15, 0),
    (3, 5, 4, 10, 14, 14, 18, 4),
    (4, 5, 3, 15, 18, 15, 18, 0),
    (5, 6, 2, 18, 20, 18, 20, 0),
]
SECOND = [
    (1, 2, 8, 0, 8, 1, 9, 1),
    (1, 3, 10, 0, 10, 0, 10, 0),
    (1, 4, 9, 0, 9, 6, 15, 6),
    (2, 5, 6, 8, 14, 9, 15, 1),
    (2, 6, 4, 8, 12, 16, 20, 8),
    (3, 5, 5, 10, 15, 10, 15, 0),
    (4, 5, 0, 9, 9, 15, 15, 6),
    (4, 7, 7, 9, 16, 20, 27, 11),
    (5, 7, 12, 15, 27, 15, 27, 0),
    (5, 8, 15, 15, 30, 16, 31, 1),
    (6, 9, 18, 12, 30, 20, 38, 8),
    (7, 8, 4, 27, 31, 27, 31, 0),
    (8, 9, 7, 31, 38, 31, 38, 0),
]


def _tasks(table: list[tuple[int, ...]]) -> list[Task]:
    """An activity from one node to another follows every activity that ends at its first node."""
    return [
        Task(
            f"{a}-{b}", "", time, a,
            after=tuple(Link(f"{c}-{d}") for c, d, *_ in table if d == a),
        )
        for a, b, time, *_ in sorted(table)
    ]  # fmt: skip


@pytest.mark.parametrize(("table", "length"), [(FIRST, 20), (SECOND, 38)])
def test_early_and_late_times(table: list[tuple[int, ...]], length: int) -> None:
    round_the_clock = {"": Days([True] * 10, 24.0, morning=0.0)}
    booked = forward(_tasks(table), round_the_clock, {})
    latest = backward(booked, round_the_clock)
    assert finish_of(booked) == pytest.approx(length)
    for a, b, time, start, finish, late_start, late_finish, slack in table:
        name = f"{a}-{b}"
        assert booked[name].start == pytest.approx(start)
        assert booked[name].finish == pytest.approx(finish)
        assert latest[name] == pytest.approx(late_start)
        assert latest[name] + time == pytest.approx(late_finish)
        assert latest[name] - booked[name].start == pytest.approx(slack)


@pytest.mark.parametrize(
    ("table", "path"),
    [(FIRST, "1-3 3-4 4-5 5-6"), (SECOND, "1-3 3-5 5-7 7-8 8-9")],
)
def test_critical_path(table: list[tuple[int, ...]], path: str) -> None:
    booked = forward(_tasks(table), {"": Days([True] * 10, 24.0, morning=0.0)}, {})
    assert [b.task.name for b in binding(booked)] == path.split()


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5])
def test_wet_after_wet_and_wet_after_dry(share: float) -> None:
    """Geng, Penning de Vries and Supit 1986, Agricultural and Forest Meteorology 36.

    Wet after dry 0.75 times the share of wet days, wet after wet 0.25 more.
    """
    lasting = coefficient("wet persistence").likely
    assert after(share, lasting) == pytest.approx((0.75 * share, 0.25 + 0.75 * share))
