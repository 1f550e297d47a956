"""Prices and ways: what every need, step, machine and route would cost."""

from budget.prices.flatten import flatten
from budget.prices.landed import Landed, landed

__all__ = ["Landed", "flatten", "landed"]
