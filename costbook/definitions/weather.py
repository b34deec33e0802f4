"""Which of people's own words on the weather mean rain."""

from __future__ import annotations

from typing import Final

__all__ = ["DRY", "WET", "is_wet"]

WET: Final = (
    *("rain", "shower", "drizzl", "wet", "storm", "thunder", "pour"),
    *("snow", "sleet", "hail", "regen", "pluie"),
)
"""What words on wet weather have in them."""
DRY: Final = ("no rain", "dry", "without rain")
"""What says that there was none, whatever else is said."""


def is_wet(words: str) -> bool:
    """Do the words speak of rain, or of what falls like it?

    >>> is_wet("light showers"), is_wet("sun"), is_wet("no rain")
    (True, False, False)
    """
    said = words.lower()
    return any(each in said for each in WET) and not any(each in said for each in DRY)
