"""Decisions: the price of a plan, the best plan of every scenario, and where it flips."""

from budget.decide.comparison import compare, compare_options
from budget.decide.pricing.evaluation import evaluate

__all__ = ["compare", "compare_options", "evaluate"]
