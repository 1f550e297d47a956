"""Quantities from the sketch: how much of everything, and why."""

from budget.quantities.take_off import take_off

__all__ = ["take_off"]
