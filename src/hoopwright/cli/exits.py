"""Exit codes, the same for every command."""

from __future__ import annotations

from hoopwright.errors import CardError, HoopwrightError, NotConverged, StoreError

DONE = 0
"""It was done, and no finding stops it."""

STOPPED = 1
"""It was done, and at least one finding says stop: what depends on it is held back."""

BAD_INPUT = 2
"""A file or an option is not what it must be; nothing was written."""

NO_CARD = 3
"""A card, or a figure on a card, is missing; nothing was written."""

NOT_SOLVED = 4
"""A solver stopped short; nothing was written."""

NO_RECORDS = 5
"""The records cannot be used, or someone else changed a record meanwhile; nothing was written."""

MEANING: dict[int, str] = {
    DONE: "done; no finding says stop",
    STOPPED: "done; at least one finding says stop",
    BAD_INPUT: "a file or an option is not what it must be; nothing was written",
    NO_CARD: "a card, or a figure on a card, is missing; nothing was written",
    NOT_SOLVED: "a solver stopped short; nothing was written",
    NO_RECORDS: "the records cannot be used, or someone else changed one meanwhile; nothing was written",
}


def code_of(error: HoopwrightError) -> int:
    """Exit code of an error of the one tree."""
    if isinstance(error, CardError):
        return NO_CARD
    if isinstance(error, NotConverged):
        return NOT_SOLVED
    if isinstance(error, StoreError):
        return NO_RECORDS
    return BAD_INPUT
