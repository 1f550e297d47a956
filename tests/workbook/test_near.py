"""The nearest known name: as difflib finds it among few, and soon among thousands."""

from __future__ import annotations

import difflib
import random
import time

from budget.workbook.near import near_names


def names(count: int, seed: int = 1) -> list[str]:
    r = random.Random(seed)
    words = ("base", "stone", "garden", "paver", "edge", "sand", "joint", "cobble", "drain", "cap")
    return [f"{r.choice(words)} {r.choice(words)} {n}" for n in range(count)]


def slip(name: str, r: random.Random) -> str:
    """The name with one letter left out, doubled or swapped with the next."""
    at = r.randrange(len(name) - 1)
    return r.choice([
        name[:at] + name[at + 1 :],
        name[:at] + name[at] + name[at:],
        name[:at] + name[at + 1] + name[at] + name[at + 2 :],
    ])  # fmt: skip


def test_among_few_it_is_what_difflib_finds() -> None:
    r, known = random.Random(2), names(100)
    for _ in range(50):
        typed = slip(r.choice(known), r)
        expected = difflib.get_close_matches(typed, sorted(known), 3, 0.6)
        assert near_names(typed, known, str.casefold, 3, 0.6) == expected


def test_among_thousands_a_slip_still_finds_a_name_as_like() -> None:
    """A slip of one letter: what is offered is at least as like as the name that was meant."""
    r, known = random.Random(3), names(4000)
    for _ in range(40):
        meant = r.choice(known)
        typed = slip(meant, r)
        (offered,) = near_names(typed, known, str.casefold, 1, 0.7)
        like = [difflib.SequenceMatcher(None, typed, name).ratio() for name in (offered, meant)]
        assert like[0] >= like[1] - 0.05


def test_thousands_of_unknown_names_take_little_more_than_in_step() -> None:
    def seconds(count: int) -> float:
        known, unknown = names(count), [f"{name} x" for name in names(count, 5)]
        start = time.process_time()
        for name in unknown[:300]:
            near_names(name, known, str.casefold, 1, 0.7)
        return time.process_time() - start

    seconds(500)
    assert seconds(8000) < 6 * seconds(500)
