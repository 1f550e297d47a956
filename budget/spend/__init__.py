"""Setting what was ordered and paid against the chosen plan."""

from budget.spend.finding import NoPlanError, UnknownNameError, find_scenario
from budget.spend.track import track
from budget.spend.tracking import Tracked, Tracking

__all__ = ["NoPlanError", "Tracked", "Tracking", "UnknownNameError", "find_scenario", "track"]
