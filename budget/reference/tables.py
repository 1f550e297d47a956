"""Typed rows of the tables that are not single coefficients: ground, patterns, pairs."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from budget.figures import Figure, default
from budget.reference import UNIT_TEXTS, rows
from budget.units import BULK_DENSITY, DEPTH, NUMBER, RATIO


@dataclass(frozen=True, slots=True)
class Ground:
    """One kind of ground: how it swells when dug, and what a loose heap of it weighs."""

    name: str
    swell: float  # loose over bank volume
    loose_density: float  # kg/m³
    source: str
    density_source: str
    compacted: float = 1.0  # compacted over bank volume

    def swell_figure(self) -> Figure:
        """Loose over bank volume, as a default with its source."""
        name = f"swell of {self.name}"
        return default(self.swell, NUMBER, name, f"reference:swell {self.name}", self.source)

    def compacted_figure(self) -> Figure:
        """Compacted over bank volume, as a default with its source."""
        name = f"compacted over bank volume of {self.name}"
        return default(
            self.compacted, NUMBER, name, f"reference:compacted {self.name}", self.source
        )

    def density_figure(self) -> Figure:
        """Loose density, as a default with its source."""
        name = f"loose density of dug {self.name}"
        key = f"reference:density dug {self.name}"
        return default(self.loose_density, BULK_DENSITY, name, key, self.density_source)


@lru_cache(maxsize=1)
def grounds() -> dict[str, Ground]:
    """Every kind of ground by name."""
    return {row["ground"]: _ground(row) for row in rows("ground")}


def _ground(row: dict[str, str]) -> Ground:
    _, size = UNIT_TEXTS[row["unit"]]
    return Ground(
        name=row["ground"],
        swell=float(row["swell"]),
        loose_density=float(row["loose_density"]) * size,
        source=row["source"],
        density_source=row["density_source"],
        compacted=float(row["compacted"]),
    )


@dataclass(frozen=True, slots=True)
class OldSurface:
    """What may lie where the paving goes, and must be broken out or lifted first."""

    name: str
    thickness: float  # m
    in_place: float  # kg/m³
    loose: float  # kg/m³
    broken: bool  # it takes breaking; else it is dug up with the soil
    source: str

    def figure(self, which: str) -> Figure:
        """``thickness``, or the density ``in_place`` or ``loose``, as a default."""
        kind = DEPTH if which == "thickness" else BULK_DENSITY
        words = {"thickness": "thickness", "in_place": "density in place", "loose": "loose density"}
        key = f"reference:old {self.name} {which}"
        value = {"thickness": self.thickness, "in_place": self.in_place, "loose": self.loose}[which]
        source = "common practice" if which == "thickness" else self.source
        return default(value, kind, f"{words[which]} of old {self.name}", key, source)


@lru_cache(maxsize=1)
def old_surfaces() -> dict[str, OldSurface]:
    """Every old surface by name."""
    return {row["old surface"]: _old_surface(row) for row in rows("old_surfaces")}


def _old_surface(row: dict[str, str]) -> OldSurface:
    _, size = UNIT_TEXTS[row["unit"]]
    return OldSurface(
        name=row["old surface"],
        thickness=float(row["thickness"]) * UNIT_TEXTS[row["thickness_unit"]][1],
        in_place=float(row["in_place"]) * size,
        loose=float(row["loose"]) * size,
        broken=row["broken"] == "yes",
        source=_cited(row["source"], row["standing"]),
    )


@dataclass(frozen=True, slots=True)
class Pattern:
    """One laying pattern: extra pavers for straight and curved edges, and what must be cut."""

    name: str
    straight: float  # ratio
    curved: float  # ratio
    cut_straight: float  # share of the straight edge that needs cutting
    source: str
    standing: str

    def figure(self, edge: str) -> Figure:
        """Extra pavers at ``straight`` or ``curved`` edges, as a default with its source."""
        value = self.straight if edge == "straight" else self.curved
        name = f"extra pavers, {self.name}, {edge} edges"
        key = f"reference:pattern {self.name} {edge}"
        return default(value, RATIO, name, key, _cited(self.source, self.standing))

    def cut_figure(self) -> Figure:
        """Share of the straight edge that needs cutting, as a default."""
        name = f"share of straight edge to cut, {self.name}"
        key = f"reference:pattern {self.name} cut"
        return default(self.cut_straight, RATIO, name, key, "common practice")


@lru_cache(maxsize=1)
def patterns() -> dict[str, Pattern]:
    """Every laying pattern by name, the usual one first."""
    return {
        row["pattern"]: Pattern(
            name=row["pattern"],
            straight=float(row["straight"]) / 100,
            curved=float(row["curved"]) / 100,
            cut_straight=float(row["cut_straight"]),
            source=row["source"],
            standing=row["standing"],
        )
        for row in rows("patterns")
    }


@dataclass(frozen=True, slots=True)
class Pair:
    """One bedding with one joint filler, and what published notes say of it."""

    bedding: str
    filler: str
    usual: int  # 1 is taken first when the workbook names no filler; 0 is never taken unasked
    discouraged: bool
    note: str
    source: str


@lru_cache(maxsize=1)
def pairs() -> dict[tuple[str, str], Pair]:
    """Every pair of bedding and joint filler."""
    return {(row["bedding"], row["filler"]): _pair(row) for row in rows("pairs")}


def _pair(row: dict[str, str]) -> Pair:
    return Pair(
        bedding=row["bedding"],
        filler=row["filler"],
        usual=int(row["usual"] or 0),
        discouraged=row["discouraged"] == "yes",
        note=row["note"],
        source=_cited(row["source"], row["standing"]),
    )


def _cited(source: str, standing: str) -> str:
    if standing == "read" or source == standing:
        return source
    return f"{source} ({standing})"
