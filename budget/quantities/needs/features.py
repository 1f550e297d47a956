"""Everything that is built beside the paving: walls, rings, columns, steps and cut pieces."""

from __future__ import annotations

from budget.job import Job
from budget.quantities.materials import Materials
from budget.quantities.needs.feature import Features
from budget.quantities.needs.pieces import pieces
from budget.quantities.needs.stock import Shelf
from budget.quantities.needs.walls import walling
from budget.reference.tables import Ground


def features(job: Job, materials: Materials, ground: Ground, shelf: Shelf) -> Features:
    """What the Walls and Pieces sheets add to the takeoff; nothing where they are blank."""
    found = walling(job, materials, ground, shelf)
    found.add(pieces(job, materials, shelf))
    return found
