"""These tests look at figures only."""

from __future__ import annotations

from tests.quickly import figures_only

__all__ = ["figures_only"]
