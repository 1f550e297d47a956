"""Published values and documented defaults: CSV tables beside this file, and their loader.

Every row of ``coefficients.csv`` has low, likely, high, unit, source and whether the source
was read (``read``), is a trade habit (``common practice``) or is remembered (``from memory``).
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

from budget.figures import Figure, default
from budget.units import (
    AREA,
    AREA_MASS,
    BULK_DENSITY,
    BULK_MASS,
    COUNT,
    DENSITY,
    DEPTH,
    DISTANCE,
    FLUID,
    HOURS,
    LENGTH,
    LOOSE_VOLUME,
    MASS,
    MINUTES,
    MONEY,
    NUMBER,
    RATIO,
    SMALL_VOLUME,
    SPEED,
    STIFFNESS,
    TUBE_VOLUME,
    VOLUME,
    WALK,
    Kind,
    per,
)

_KINDS: tuple[Kind, ...] = (
    LENGTH, DEPTH, DISTANCE, AREA, VOLUME, SMALL_VOLUME, MASS, BULK_MASS, DENSITY, BULK_DENSITY,
    AREA_MASS, SPEED, WALK, HOURS, MINUTES, RATIO, NUMBER, COUNT,
    per(HOURS, AREA), per(HOURS, VOLUME), per(HOURS, LENGTH), per(HOURS, BULK_MASS),
    per(HOURS, COUNT), per(MINUTES, BULK_MASS), per(HOURS, LOOSE_VOLUME), per(MONEY, DISTANCE),
    per(MONEY, HOURS), per(COUNT, AREA), per(LENGTH, COUNT), per(MASS, LENGTH), per(MASS, COUNT),
    per(HOURS, HOURS), STIFFNESS, TUBE_VOLUME, per(AREA, FLUID), per(FLUID, HOURS), FLUID,
)  # fmt: skip

#: Unit text as written in the tables, to its kind and size in SI.
UNIT_TEXTS: dict[str, tuple[Kind, float]] = {
    unit.label: (kind, unit.size)
    for kind in reversed(_KINDS)
    for unit in (kind.metric, kind.imperial)
    if unit.label
} | {"": (NUMBER, 1.0), "ratio": (RATIO, 1.0)}


@dataclass(frozen=True, slots=True)
class Coefficient:
    """One documented value: low, likely and high in SI, and where it comes from."""

    name: str
    what: str
    low: float
    likely: float
    high: float
    kind: Kind
    source: str
    standing: str  # read, common practice, from memory
    sheet: str = ""  # where the user's own value goes, if there is such a place

    @property
    def cited(self) -> str:
        """The source with its standing, as shown beside a number."""
        if self.standing == "read":
            return self.source
        return f"{self.source} ({self.standing})" if self.source else self.standing

    def figure(self, words: str = "") -> Figure:
        """The likely value as a default figure."""
        name = words or self.what
        return default(self.likely, self.kind, name, f"reference:{self.name}", self.cited)


def rows(table: str) -> list[dict[str, str]]:
    """The rows of one table, as text. Lines that start with ``#`` are remarks."""
    path = resources.files(__package__) / f"{table}.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if line and not line.startswith("#")))


@lru_cache(maxsize=1)
def coefficients() -> dict[str, Coefficient]:
    """Every coefficient by name."""
    return {row["name"]: _coefficient(row) for row in rows("coefficients")}


def coefficient(name: str) -> Coefficient:
    """One coefficient; a ``KeyError`` is a fault of ours, never of the workbook."""
    return coefficients()[name]


def _coefficient(row: dict[str, str]) -> Coefficient:
    kind, size = UNIT_TEXTS[row["unit"]]
    likely = float(row["likely"])
    return Coefficient(
        name=row["name"],
        what=row["what"],
        low=float(row["low"] or likely) * size,
        likely=likely * size,
        high=float(row["high"] or likely) * size,
        kind=kind,
        source=row["source"],
        standing=row["standing"],
        sheet=row["sheet"] or "",
    )


@dataclass(frozen=True, slots=True)
class StepKind:
    """A piece of work: the order it comes in, what it is counted in, and its caution."""

    step: str
    order: int
    measure: Kind
    group: str
    machine_work: bool
    caution: str
    caution_source: str


@lru_cache(maxsize=1)
def steps() -> dict[str, StepKind]:
    """Every step of the job by name, in order of work."""
    from budget.units import KINDS

    return {
        row["step"]: StepKind(
            step=row["step"],
            order=int(row["order"]),
            measure=KINDS[row["measure"]],
            group=row["group"],
            machine_work=row["machine_work"] == "yes",
            caution=row["caution"],
            caution_source=row["caution_source"],
        )
        for row in rows("steps")
    }


@dataclass(frozen=True, slots=True)
class ProductKind:
    """A kind of material: the name a need goes by, its step, group, and its density."""

    kind: str
    item: str
    step: str
    group: str
    density: str  # coefficient name of its loose density, or blank
    bulk: bool
    lots: bool  # its pieces differ from lot to lot


@lru_cache(maxsize=1)
def product_kinds() -> dict[str, ProductKind]:
    """Every kind of material by name."""
    return {
        row["kind"]: ProductKind(
            kind=row["kind"],
            item=row["item"],
            step=row["step"],
            group=row["group"],
            density=row["density"],
            bulk=row["bulk"] == "yes",
            lots=row["lots"] == "yes",
        )
        for row in rows("product_kinds")
    }


def trade_names() -> dict[str, str]:
    """The item that each common name of a material stands for.

    >>> trade_names()["concrete sand"]
    'Bedding sand'
    """
    kinds = product_kinds()
    return {row["called"]: kinds[row["kind"]].item for row in rows("trade_names")}
