"""Figures that remember how they came about.

A :class:`Figure` is a number with its kind, a name and the figures it was made from. One
description of a calculation therefore gives three things that cannot drift apart: its value,
its explanation on paper (:func:`workings`), and its recalculation under changed inputs
(:func:`recalculate`, which also takes numpy arrays). A spreadsheet writer can walk the same
tree to write the same calculation as formulas.

Inputs are leaves. A leaf's ``origin`` tells where its number comes from:

* ``given``: a cell of the quotes workbook, ``key`` is its address such as ``Areas!D5``
* ``default``: a documented default, ``key`` is ``reference:NAME`` and ``source`` cites it
* ``laid out``: counted by a layout (a pattern, a cutting plan)
* ``solved``: a choice, set by the plan
* ``constant``: fixed by definition
"""

from budget.figures.again import Recalculation, recalculate, recalculate_all, without
from budget.figures.figure import (
    Figure,
    Op,
    Origin,
    cents,
    constant,
    default,
    given,
    in_order,
    inputs,
    laid_out,
    largest,
    minus,
    product,
    ratio,
    smallest,
    solved,
    tier,
    total,
    whole,
)
from budget.figures.paper import Working, unit_factor, working, workings

__all__ = [
    "Figure", "Op", "Origin", "Recalculation", "Working", "cents", "constant", "default", "given",
    "in_order", "inputs", "laid_out", "largest", "minus", "product", "ratio", "recalculate",
    "recalculate_all", "smallest", "solved", "tier", "total", "unit_factor", "whole", "without",
    "working", "workings",
]  # fmt: skip
