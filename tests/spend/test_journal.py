"""The journal: whole rows only, none lost once acknowledged, whatever happens while writing."""

from __future__ import annotations

import datetime as dt
import errno
import os
import resource
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from budget.job import Place, Spend
from budget.spend import journal
from budget.spend.joining import joined, maybe_twice
from budget.spend.journal import Recorded

WORDS = st.text(max_size=20)
MONEY = st.one_of(st.none(), st.integers(-(10**9), 10**9).map(float))
ENTRIES = st.builds(
    Spend, place=st.just(Place("journal", 0)),
    date=st.dates(dt.date(1990, 1, 1), dt.date(2100, 1, 1)), line=WORDS, supplier=WORDS,
    what=WORDS, quantity=st.one_of(st.none(), st.floats(-1e6, 1e6)), amount=MONEY, tax=MONEY,
    state=st.sampled_from(["ordered", "paid", "worked", "change agreed"]),
    own_hours=st.one_of(st.none(), st.floats(0, 1e4)), receipt=WORDS,
    reason=st.sampled_from([None, "chosen", "unforeseen"]),
    due=st.one_of(st.none(), st.dates(dt.date(1990, 1, 1), dt.date(2100, 1, 1))),
)  # fmt: skip


def entry(number: int, **more: object) -> Spend:
    return Spend(
        place=Place("journal", 0), date=dt.date(2026, 5, 1), line=f"Line {number}",
        amount=float(number), **more,  # type: ignore[arg-type]
    )  # fmt: skip


def paid(day: int, line: str, amount: float, tax: float | None = None) -> Spend:
    return Spend(
        place=Place("journal", 0), date=dt.date(2026, 5, day), line=line, amount=amount, tax=tax
    )


def amounts(path: Path) -> list[float | None]:
    return [e.amount for e in journal.read(path).entries]


@example([paid(1, " '", 1.0), paid(1, "' =1", 1.0), paid(1, "\x85-2", 1.0)])
@given(st.lists(ENTRIES, max_size=4))
def test_what_is_written_is_read_back(
    tmp_path_factory: pytest.TempPathFactory, entries: list[Spend]
) -> None:
    path = tmp_path_factory.mktemp("journal") / "a-entries.csv"
    journal.append(path, [Recorded(e, "statement:1") for e in entries])
    found = journal.read(path)
    assert found.warnings == ()
    for wrote, read in zip(entries, found.entries, strict=True):
        wrote = journal.settled(wrote)
        for name in ("date", "line", "supplier", "what", "quantity", "amount", "tax", "state",
                     "own_hours", "receipt", "reason", "due"):  # fmt: skip
            assert getattr(read, name) == getattr(wrote, name), name


def test_cut_at_any_byte_loses_only_what_was_never_acknowledged(tmp_path: Path) -> None:
    path = tmp_path / "a-entries.csv"
    journal.append(path, [Recorded(entry(1))])
    kept = path.read_bytes()
    journal.append(path, [Recorded(entry(2, what='a, "b" and more'))])
    whole = path.read_bytes()
    for cut in range(len(whole)):
        path.write_bytes(whole[:cut])
        seen = amounts(path)
        assert seen == ([1.0] if cut >= len(kept) else [])
        journal.append(path, [Recorded(entry(3))])
        assert amounts(path) == [*seen, 3.0]
        assert journal.read(path).warnings == ()


def test_an_unfinished_row_is_told(tmp_path: Path) -> None:
    path = tmp_path / "a-entries.csv"
    journal.append(path, [Recorded(entry(1)), Recorded(entry(2))])
    path.write_bytes(path.read_bytes()[:-5])
    assert [w.code for w in journal.read(path).warnings] == ["journal-unfinished"]


def test_rows_changed_by_hand_are_told_and_unreadable_ones_not_counted(tmp_path: Path) -> None:
    path = tmp_path / "a-entries.csv"
    journal.append(path, [Recorded(entry(100)), Recorded(entry(200))])
    text = path.read_text(encoding="utf-8").replace(",1.00,", ",7.00,").replace("2026", "May", 2)
    path.write_text(text.replace("May", "2026", 1), encoding="utf-8")
    found = journal.read(path)
    assert [w.code for w in found.warnings] == ["journal-changed", "journal-unreadable"]
    assert [e.amount for e in found.entries] == [700.0]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (",paid,", ",borrowed,", "the state “borrowed” is not known"),
        (",unforeseen,", ",weather,", "the reason “weather” is not known"),
    ],
)
def test_a_row_with_an_unknown_word_is_not_counted(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    path = tmp_path / "a-entries.csv"
    journal.append(path, [Recorded(entry(1, reason="unforeseen")), Recorded(entry(2))])
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    found = journal.read(path)
    assert [e.amount for e in found.entries] == [2.0]
    (warning,) = found.warnings
    assert (warning.code, warning.found) == ("journal-unreadable", said)


def test_a_row_cut_short_is_not_counted(tmp_path: Path) -> None:
    path = tmp_path / "a-entries.csv"
    journal.append(path, [Recorded(entry(1))])
    with path.open("a", encoding="utf-8") as file:
        file.write("2026-05-02,Line 2,,,,3.00\n")
    found = journal.read(path)
    assert [e.amount for e in found.entries] == [1.0]
    assert [w.found for w in found.warnings] == ["6 values where 14 belong"]


def test_a_very_long_last_row_is_found_whole(tmp_path: Path) -> None:
    path = tmp_path / "a-entries.csv"
    journal.append(path, [Recorded(entry(1))])
    journal.append(path, [Recorded(entry(2, what="w" * 9000))])
    journal.append(path, [Recorded(entry(3))])
    assert amounts(path) == [1.0, 2.0, 3.0]
    path.write_bytes(path.read_bytes() + b"x" * 9000)  # an unfinished row longer than one reach
    journal.append(path, [Recorded(entry(4))])
    assert amounts(path) == [1.0, 2.0, 3.0, 4.0]


_WRITER = """
import datetime as dt, sys
from pathlib import Path
from budget.job import Place, Spend
from budget.spend import journal
from budget.spend.journal import Recorded
path, first, count = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
for n in range(first, first + count):
    row = Spend(place=Place("journal", 0), date=dt.date(2026, 5, 1), line="Line", amount=float(n))
    journal.append(path, [Recorded(row)])
    print(n, flush=True)
"""


def _writer(path: Path, first: int, count: int) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", _WRITER, str(path), str(first), str(count)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def test_two_writers_at_once_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "a-entries.csv"
    writers = [_writer(path, first, 60) for first in (1000, 2000)]
    said = [int(n) for w in writers for n in w.communicate(timeout=120)[0].split()]
    assert [w.returncode for w in writers] == [0, 0]
    assert sorted(amounts(path)) == sorted(said) == [
        float(n) for first in (1000, 2000) for n in range(first, first + 60)
    ]  # fmt: skip
    assert journal.read(path).warnings == ()


@pytest.mark.parametrize("moment", [0.0, 0.004, 0.011, 0.03])
def test_a_killed_writer_leaves_whole_rows_and_all_it_acknowledged(
    tmp_path: Path, moment: float
) -> None:
    path = tmp_path / "a-entries.csv"
    writer = _writer(path, 1, 100_000)
    assert writer.stdout is not None
    said = [int(writer.stdout.readline())]
    time.sleep(moment)
    writer.send_signal(signal.SIGKILL)
    said += [int(line) for line in writer.stdout.read().splitlines() if line.strip()]
    writer.wait(timeout=60)
    writer.stdout.close()
    found = amounts(path)
    assert found[: len(said)] == [float(n) for n in said]
    assert len(found) <= len(said) + 1
    journal.append(path, [Recorded(entry(7))])  # the lock went with the process
    assert amounts(path) == [*found, 7.0]


def test_a_full_disk_leaves_the_journal_as_it_was(tmp_path: Path) -> None:
    """The system itself refuses to let the file grow: a part is written, then no more."""
    path = tmp_path / "a-entries.csv"
    journal.append(path, [Recorded(entry(1))])
    before = path.read_bytes()
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    ignored = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (len(before) + 20, hard))
        with pytest.raises(OSError) as caught:  # noqa: PT011 - its number is looked at below
            journal.append(path, [Recorded(entry(2))])
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
        signal.signal(signal.SIGXFSZ, ignored)
    assert caught.value.errno == errno.EFBIG
    assert path.read_bytes() == before
    journal.append(path, [Recorded(entry(3))])
    assert amounts(path) == [1.0, 3.0]


def test_no_space_while_pressing_to_the_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a-entries.csv"
    journal.append(path, [Recorded(entry(1))])
    before = path.read_bytes()

    def full(_handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        journal.append(path, [Recorded(entry(2))])
    assert path.read_bytes() == before


def test_the_same_row_on_the_sheet_and_in_the_journal_counts_once() -> None:
    here, other = entry(1, supplier="Yard"), entry(1, supplier=" YARD ", what="other words")
    assert joined([here], [other]) == (here,)
    assert len(joined([here], [other, other])) == 2  # bought twice, once on both
    assert len(joined([here, here], [other])) == 2
    assert len(joined([here], [entry(1, supplier="Yard", receipt="R9")])) == 2


def test_a_payment_typed_after_its_statement_was_taken_is_asked_about() -> None:
    """Nobody can be sure that it is the same, so both count and a warning says so."""
    bank = Recorded(paid(3, "Paver", 5000.0), "statement:1")
    typed = paid(1, "Paver", 4700.0, 300.0)
    (warning,) = maybe_twice([typed], [bank])
    assert warning.code == "spend-maybe-twice"
    assert "1 May 2026" in warning.expected
    assert len(joined([typed], [bank.entry])) == 2


@pytest.mark.parametrize(
    "typed",
    [
        paid(3, "Paver", 5000.0),  # the same row: it counts once
        paid(20, "Paver", 5000.0),
        paid(1, "Paver", 5001.0),
        paid(1, "Edging", 5000.0),
    ],
)
def test_other_payments_are_not_asked_about(typed: Spend) -> None:
    bank = Recorded(paid(3, "Paver", 5000.0), "statement:1")
    assert maybe_twice([typed], [bank]) == ()


def test_one_entry_is_doubted_for_one_row_only() -> None:
    rows = [Recorded(paid(n, "Paver", 5000.0), f"statement:{n}") for n in (2, 3)]
    assert len(maybe_twice([paid(1, "Paver", 5000.0)], rows)) == 1


def test_equal_rows_are_matched_one_to_one() -> None:
    bag = paid(1, "Joint sand", 500.0)
    assert joined([bag, bag], [bag, bag]) == (bag, bag)
    assert joined([bag, bag], [bag, bag, bag]) == (bag, bag, bag)
    assert joined([bag], []) == (bag,)
