"""What lies there now: old surfaces that are broken out or lifted, and their rubble."""

from __future__ import annotations

from dataclasses import dataclass

from budget.figures import Figure, product, ratio
from budget.quantities.plan.parts import Part, Piece
from budget.reference.tables import OldSurface, old_surfaces
from budget.units import BANK_VOLUME, BULK_MASS, DEPTH, LOOSE_VOLUME


@dataclass(frozen=True, slots=True)
class Rubble:
    """One old surface of a part."""

    surface: OldSurface
    in_place: Figure  # m³ as it lies
    mass: Figure  # kg
    loose: Figure  # m³ in a heap


def rubble_of(part: Part) -> tuple[Rubble, ...]:
    """The old surfaces under a part's shapes, each shape's apart."""
    return tuple(_rubble(piece) for piece in part.added if piece.row.old_surface)


def _rubble(piece: Piece) -> Rubble:
    row = piece.row
    surface = old_surfaces()[row.old_surface]
    thick = (
        row.figure("old_thickness", DEPTH, f"thickness of old {surface.name}")
        if row.old_thickness is not None
        else surface.figure("thickness")
    )
    name = surface.name
    in_place = product(f"old {name}", BANK_VOLUME, piece.shape.area, thick)
    mass = product(f"weight of old {name}", BULK_MASS, in_place, surface.figure("in_place"))
    loose = ratio(f"old {name}, broken up", LOOSE_VOLUME, mass, surface.figure("loose"))
    return Rubble(surface, in_place, mass, loose)
