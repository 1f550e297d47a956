"""Pictures made of dots, for where a drawing of lines cannot go: polygons filled and outlined.

A picture is an array of greys, 0 black to 15 white, its first row at the top; points are in
dots, x to the right and y down. numpy is imported where it is used, as the picture is.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import NDArray

WHITE = 15


@dataclass(frozen=True, slots=True)
class Rings:
    """Closed polygons: the corners of all, and how many each has."""

    corners: NDArray[Any]
    counts: NDArray[Any]

    @classmethod
    def of(cls, rings: Sequence[Sequence[tuple[float, float]]]) -> Rings:
        """Polygons from their corners."""
        import numpy as np

        flat = [corner for ring in rings for corner in ring]
        counts = np.array([len(ring) for ring in rings], dtype=int)
        return cls(np.array(flat, dtype=float).reshape(-1, 2), counts)

    def sides(self) -> tuple[NDArray[Any], NDArray[Any]]:
        """The start and the end of every side."""
        import numpy as np

        after = np.arange(1, len(self.corners) + 1)
        ends = np.cumsum(self.counts)
        after[ends - 1] = ends - self.counts
        return self.corners, self.corners[after]


def blank(width: int, height: int) -> NDArray[Any]:
    """A white picture."""
    import numpy as np

    return np.full((height, width), WHITE, dtype=np.uint8)


def fill(picture: NDArray[Any], rings: Rings, grey: int) -> None:
    """Fill polygons that do not overlap, each ring given by its corners.

    Every row of dots crosses the rings an even number of times; what lies between an odd
    crossing and the next is inside.

    >>> found = blank(4, 3)
    >>> fill(found, Rings.of([[(1, 1), (3, 1), (3, 2), (1, 2)]]), 9)
    >>> found.tolist()
    [[15, 15, 15, 15], [15, 9, 9, 15], [15, 15, 15, 15]]
    """
    import numpy as np

    height, width = picture.shape
    start, end = rings.sides()
    low = np.where((start[:, 1] < end[:, 1])[:, None], start, end)
    high = np.where((start[:, 1] < end[:, 1])[:, None], end, start)
    first = np.ceil(low[:, 1] - 0.5).astype(int)  # rows whose middle the side crosses
    count = np.maximum(0, np.ceil(high[:, 1] - 0.5).astype(int) - first)
    side = np.repeat(np.arange(len(low)), count)
    row = first[side] + _counting(count)
    slope = (high[side, 0] - low[side, 0]) / (high[side, 1] - low[side, 1])
    x = low[side, 0] + slope * (row + 0.5 - low[side, 1])
    column = np.clip(np.ceil(x - 0.5).astype(int), 0, width)
    seen = (row >= 0) & (row < height)
    crossings = np.zeros((height, width + 1), dtype=np.int32)
    np.add.at(crossings, (row[seen], column[seen]), 1)
    picture[np.cumsum(crossings, axis=1)[:, :width] % 2 == 1] = grey


def outline(picture: NDArray[Any], rings: Rings, grey: int, thick: int) -> None:
    """Draw the closed lines around polygons, some dots thick.

    >>> found = blank(4, 4)
    >>> outline(found, Rings.of([[(0, 0), (3, 0), (3, 3), (0, 3)]]), 0, 1)
    >>> found.tolist()[1]
    [0, 15, 15, 0]
    """
    import numpy as np

    start, end = rings.sides()
    steps = np.ceil(np.abs(end - start).max(axis=1)).astype(int) + 1
    side = np.repeat(np.arange(len(start)), steps)
    share = _counting(steps) / np.maximum(steps - 1, 1)[side]
    dots = np.rint(start[side] + (end - start)[side] * share[:, None]).astype(int)
    height, width = picture.shape
    for dx in range(thick):
        for dy in range(thick):
            x = np.clip(dots[:, 0] + dx - thick // 2, 0, width - 1)
            y = np.clip(dots[:, 1] + dy - thick // 2, 0, height - 1)
            picture[y, x] = grey


def png(picture: NDArray[Any]) -> bytes:
    """The picture as a PNG file (ISO/IEC 15948: grey of 4 bits, no filter).

    >>> png(blank(2, 2))[:8]
    b'\\x89PNG\\r\\n\\x1a\\n'
    """
    import numpy as np

    height, width = picture.shape
    even = np.pad(picture, ((0, 0), (0, width % 2)))
    packed = np.pad(even[:, ::2] << 4 | even[:, 1::2], ((0, 0), (1, 0)))  # each row after a 0
    head = struct.pack(">IIBBBBB", width, height, 4, 0, 0, 0, 0)
    chunks = ((b"IHDR", head), (b"IDAT", zlib.compress(packed.tobytes(), 6)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(name, data) for name, data in chunks)


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def _counting(counts: NDArray[Any]) -> NDArray[Any]:
    """0, 1, 2 ... up to each count, one after another."""
    import numpy as np

    ends = np.cumsum(counts)
    found: NDArray[Any] = np.arange(ends[-1] if len(ends) else 0) - np.repeat(ends - counts, counts)
    return found
