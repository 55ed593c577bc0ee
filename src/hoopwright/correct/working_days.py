"""Working days of a five-day week: day 0 is the first day of work. Feasts are the shop's own and are given."""

from __future__ import annotations

import datetime
from collections.abc import Collection

from hoopwright.errors import InputError


def date_of(start: datetime.date, end_of_days: float, closed: Collection[datetime.date] = ()) -> datetime.date:
    """Date on which work that ends after so many working days is done (1.0 is the evening of the first day)."""
    if start.weekday() > 4 or start in closed:
        raise InputError("start_date", start, "", "a working day", "take the next Monday")
    whole = max(1, -int(-end_of_days // 1))
    day = start
    while whole > 1:
        day += datetime.timedelta(days=1)
        if day.weekday() < 5 and day not in closed:
            whole -= 1
    return day
