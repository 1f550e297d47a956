"""Three-point ranges: low, likely, high, drawn as a triangle."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Spread:
    """A triangular range. Its ends can be reached, and its top is at ``likely``."""

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        """``ValueError`` unless the three are in order and not all the same."""
        if not self.low <= self.likely <= self.high or self.low == self.high:
            msg = f"{self.low}, {self.likely}, {self.high} are not a low, a likely and a high"
            raise ValueError(msg)

    def at(self, share: Any) -> Any:
        """The value that a share of all cases stays below; a number or a numpy array.

        >>> round(Spread(5, 8, 14).at(0.8), 5)
        10.71366
        """
        if not hasattr(share, "shape"):
            return self._at(float(share))
        import numpy as np

        width = self.high - self.low
        top = (self.likely - self.low) / width
        rising = self.low + np.sqrt(share * width * (self.likely - self.low))
        falling = self.high - np.sqrt((1 - share) * width * (self.high - self.likely))
        return np.where(share < top, rising, falling)

    def below(self, value: Any) -> Any:
        """The share of all cases that stay below some values, a numpy array: undoes :meth:`at`."""
        import numpy as np

        width = self.high - self.low
        rising = (value - self.low) ** 2 / (width * max(self.likely - self.low, 1e-300))
        falling = 1 - (self.high - value) ** 2 / (width * max(self.high - self.likely, 1e-300))
        share = np.where(value < self.likely, rising, falling)
        return np.where(value <= self.low, 0.0, np.where(value >= self.high, 1.0, share))

    def _at(self, share: float) -> float:
        width = self.high - self.low
        if share * width < self.likely - self.low:
            return self.low + math.sqrt(share * width * (self.likely - self.low))
        return self.high - math.sqrt((1 - share) * width * (self.high - self.likely))
