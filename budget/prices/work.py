"""Own methods: how each step may be done with own hands, and how fast.

Methods come from the Work sheet. A step without rows there takes the documented methods of
``reference/methods.csv``, listed as assumed; carrying is worked out from the barrow's load,
the walk both ways, and the way in.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from budget.figures import Figure, constant, default, product, ratio, total
from budget.job import Job, Work
from budget.prices.carrying import carry_methods
from budget.prices.defaults import Notes, unique
from budget.prices.options import Method
from budget.quantities.takeoff import Takeoff
from budget.reference import UNIT_TEXTS, rows, steps
from budget.units import HOURS, NUMBER, RATIO, Kind, per
from budget.wording import listed
from budget.workbook.near import near_names

CARRY = "Carry"
DIG = "Dig"
CUT = "Cut"
SPLITTER = "Paver splitter"


def methods(
    job: Job, takeoff: Takeoff, machines: Iterable[str], notes: Notes
) -> Mapping[str, tuple[Method, ...]]:
    """The own methods of each step that the job has, and of carrying, in order of work.

    Documented methods that need a machine nobody offers are left out where another documented
    method of the step does without one or has its machine.
    """
    offered = {name.casefold(): name for name in machines}
    asked = {row.step for row in takeoff.steps if row.amount.value > 0} | {CARRY}
    found: dict[str, tuple[Method, ...]] = {}
    for step in (name for name in steps() if name in asked):
        own = _from_work(job.work, step, notes)
        if not own:
            own = _documented(job, step, takeoff, offered, notes)
        found[step] = tuple(_named_as_offered(method, offered) for method in own)
    return found


def _named_as_offered(method: Method, offered: Mapping[str, str]) -> Method:
    """The machine's name as the Equipment sheet writes it."""
    return replace(method, machine=offered.get(method.machine.casefold(), method.machine))


def _from_work(work: Sequence[Work], step: str, notes: Notes) -> list[Method]:
    mine = [row for row in work if row.step.casefold() == step.casefold()]
    taken: set[str] = set()
    found = []
    for row in sorted(mine, key=lambda row: (row.method, row.place.row)):
        kind = per(HOURS, steps()[step].measure)
        rate = _rate(row, kind)
        if rate is None:
            notes.warn(
                row, "likely", "rate-blank", "", f"person-hours a unit for {row.method}",
                "Until it is filled, this method is not counted.",
            )  # fmt: skip
            continue
        found.append(
            Method(
                step=step,
                method=unique(row.method, taken),
                rate=rate,
                people=max(1, row.people),
                machine=row.equipment,
                machine_rate=_machine_rate(row, kind, rate),
                reworked=_reworked(row, notes),
                cell=row.cell("likely"),
            )
        )
    return found


def _rate(row: Work, kind: Kind) -> Figure | None:
    """The likely rate; the middle of low and high where only these are given."""
    words = f"{row.step}, {row.method}: person-hours a unit"
    if row.likely is not None:
        return row.figure("likely", kind, words)
    ends = [row.figure(f, kind, f) for f in ("low", "high") if getattr(row, f) is not None]
    if not ends:
        return None
    if len(ends) == 1:
        return ends[0].called(words)
    both = total("low and high", ends)
    return ratio(words, kind, both, constant(2, NUMBER, "their middle"))


def _machine_rate(row: Work, kind: Kind, rate: Figure) -> Figure | None:
    """Machine hours a unit: as given, or as long as the people at it take."""
    if not row.equipment:
        return None
    words = f"{row.equipment}: machine hours a unit"
    if row.machine_hours is not None:
        return row.figure("machine_hours", kind, words)
    return ratio(words, kind, rate, constant(max(1, row.people), NUMBER, "people at it"))


def _reworked(row: Work, notes: Notes) -> Figure | None:
    if row.reworked is not None:
        return row.figure("reworked", RATIO, "share done again")
    return _usual_rework(row.step, notes)


def _usual_rework(step: str, notes: Notes) -> Figure | None:
    """The documented share of own work done twice; nothing is carried twice."""
    return None if step == CARRY else notes.default("reworked share", "Work", "share done again")


def _documented(
    job: Job, step: str, takeoff: Takeoff, offered: Mapping[str, str], notes: Notes
) -> list[Method]:
    """The step's documented methods, those with a machine only if it can be had.

    No splitter parts what does not split.
    """
    if step == CARRY:
        return carry_methods(job, offered, notes)
    beddings = {"", *(bedding.name for bedding in takeoff.beddings)}
    table = [
        row
        for row in rows("methods")
        if row["step"] == step
        and row["bedding"] in beddings
        and not (takeoff.not_split and row["equipment"] == SPLITTER)
    ]
    able = [row for row in table if _can_be_had(row["equipment"], offered)]
    if table and not able and job.equipment:
        _warn_of_machine(job, step, [row["equipment"] for row in table], notes)
    return [_default_method(job, row, notes) for row in able or table]


def _warn_of_machine(job: Job, step: str, wanted: Sequence[str], notes: Notes) -> None:
    """A step that every documented way does with a machine which Equipment does not list."""
    first = min(job.equipment, key=lambda row: row.place.row)
    machines = listed(dict.fromkeys(wanted), "or")
    mend = (
        f"Add a way to have it: rent, borrow or buy. Until then {step} with own hands has no "
        "full price, and plans with it are not compared with others."
    )
    names = sorted({row.equipment for row in job.equipment})
    near = [(own, name) for name in wanted for own in near_names(name, names, str.casefold, 1, 0.7)]
    if near:
        own, name = near[0]
        mend += f" Is {own} meant for it? Then write {name} there."
    notes.warn(
        first, "equipment", "machine-missing", f"nothing for {step}", f"a row for {machines}", mend
    )


def _can_be_had(machine: str, offered: Mapping[str, str]) -> bool:
    return not machine or machine.casefold() in offered


def _default_method(job: Job, row: dict[str, str], notes: Notes) -> Method:
    step = row["step"]
    rate = _table_rate(row, "likely", f"{step}, {row['method']}: person-hours a unit")
    said = "as given" if steps()[step].measure == HOURS else rate.words(notes.system)
    notes.assume(_what(row), said, rate.source, "Work")
    if step == DIG and not row["equipment"]:
        rate = _in_this_ground(job, rate)
    machine_rate = None
    if row["equipment"]:
        machine_rate = _table_rate(row, "machine_hours", f"{row['equipment']}: hours a unit")
    return Method(
        step=step,
        method=row["method"],
        rate=rate,
        people=int(row["people"]),
        machine=row["equipment"],
        machine_rate=machine_rate,
        reworked=_usual_rework(step, notes),
        bedding=row["bedding"],
        alone=step == CUT and int(row["people"]) == 1,
    )


def _what(row: dict[str, str]) -> str:
    bedding = f", on {row['bedding']}" if row["bedding"] else ""
    return f"pace of {row['step']}, {row['method']}{bedding}"


def _table_rate(row: dict[str, str], field: str, words: str) -> Figure:
    """A rate of the documented methods as a default figure [h per SI unit of the step]."""
    kind = per(HOURS, steps()[row["step"]].measure)
    _, size = UNIT_TEXTS[row["unit"]]
    standing = "" if row["standing"] == "read" else f" ({row['standing']})"
    bedding = f", {row['bedding']}" if row["bedding"] else ""
    key = f"reference:{row['step']}, {row['method']}{bedding}: {field}"
    return default(float(row[field]) * size, kind, words, key, row["source"] + standing)


def _in_this_ground(job: Job, rate: Figure) -> Figure:
    """Hand digging in the job's ground, against common earth."""
    ground = job.settings.ground.casefold()
    row = next((r for r in rows("ground") if r["ground"].casefold() == ground), None)
    if row is None or float(row["dig_factor"]) == 1:
        return rate
    key = f"reference:dig factor {row['ground']}"
    factor = default(
        float(row["dig_factor"]), NUMBER, f"time against common earth, {row['ground']}", key,
        row["dig_source"],
    )  # fmt: skip
    return product(rate.name, rate.kind, rate, factor)
