"""Setting what was ordered and paid against the chosen plan."""

from budget.spend.baseline_book import BaselineError
from budget.spend.finding import NoPlanError, UnknownNameError, find_scenario
from budget.spend.recording import TwiceError
from budget.spend.statement import StatementError
from budget.spend.track import track
from budget.spend.tracking import Tracked, Tracking

__all__ = [
    "BaselineError",
    "NoPlanError",
    "StatementError",
    "Tracked",
    "Tracking",
    "TwiceError",
    "UnknownNameError",
    "find_scenario",
    "track",
]
