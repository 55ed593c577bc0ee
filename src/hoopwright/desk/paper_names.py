"""Names of a ring's papers, and the date on those of the demonstration: light, for commands to name them."""

from __future__ import annotations

import datetime as dt

DEMO_DATE = dt.date(2031, 3, 1)
"""Date on the papers of the demonstration, so that its files are the same bytes every day."""

PAPER_NAMES: tuple[str, ...] = (
    "definition",
    "blank-nest",
    "pass-card",
    "roll-pair",
    "heat-treat",
    "set-blank",
    "set-wire",
    "set-ground",
    "small-tools",
    "machine-card",
    "route-card",
    "tool-labels",
    "trim-holes",
    "inspection",
    "try-out",
    "sizing-record",
)
"""Papers of a ring by name, in the order of use (the makers are in papers.shop.register, which is heavy to import)."""
