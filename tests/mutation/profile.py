"""Plugin for pytest: made-up examples are the same every time, not kept, and not made smaller."""

from __future__ import annotations

from hypothesis import Phase, settings

settings.register_profile(
    "mutation", database=None, deadline=None, derandomize=True,
    phases=(Phase.explicit, Phase.generate),
)  # fmt: skip
settings.load_profile("mutation")
