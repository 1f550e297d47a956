"""How words stand in a row in a sentence: one manner for every stage."""

from __future__ import annotations

from collections.abc import Iterable


def listed(words: Iterable[str], last: str = "and") -> str:
    """Words in a row, as people say them.

    >>> listed(["sand"]), listed(["sand", "stone", "edging"]), listed(["day", "week"], "or")
    ('sand', 'sand, stone and edging', 'day or week')
    """
    items = list(words)
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"
