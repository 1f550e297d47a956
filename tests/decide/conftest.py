"""Small jobs built by hand for every test of the decisions."""

from types import SimpleNamespace

import pytest
import small_jobs


@pytest.fixture(scope="session")
def make() -> SimpleNamespace:
    """Builders for small jobs, and the full enumeration that the programme is held against."""
    return SimpleNamespace(**{k: v for k, v in vars(small_jobs).items() if k[:1] != "_"})
