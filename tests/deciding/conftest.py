"""The main sample, costed once for all tests here; none of them changes it."""

from __future__ import annotations

from datetime import date

import pytest

from costbook.costing.engine import Costing
from tests.deciding.asking import STALL, read


@pytest.fixture(scope="session")
def stall() -> Costing:
    """The main sample on 20 November 2026, with prices compared to those of 1 February."""
    return read(STALL, date(2026, 2, 1))
