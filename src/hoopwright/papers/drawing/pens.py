"""Line kinds, colours and faces. Widths and dashes in mm on paper; wide to narrow is 2 to 1 (kinds of ISO 128,
ratio from memory).

A pen names what a line means, never how it looks in one medium; `Theme` says how it looks.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from hoopwright.errors import InputError


@dataclass(frozen=True, slots=True)
class Pen:
    """Width and dashes [mm on paper] and the colour role of a line; `dots` is true where the ends are round."""

    width_mm: float
    colour: str = "ink"
    dashes_mm: tuple[float, ...] = ()
    dots: bool = False


WIDE_MM: Final = 0.5
NARROW_MM: Final = 0.25
LEAST_MM: Final = 0.2

PENS: Final[dict[str, Pen]] = {
    "frame": Pen(0.7),
    "wide": Pen(WIDE_MM),
    "narrow": Pen(NARROW_MM),
    "fine": Pen(LEAST_MM),
    "hair": Pen(LEAST_MM, "hair"),
    "hatch": Pen(LEAST_MM),
    "hidden": Pen(NARROW_MM, "ink2", (1.6, 0.9)),
    "centre": Pen(LEAST_MM, "ink3", (4.5, 0.9, 0.6, 0.9)),
    "other": Pen(NARROW_MM, "ink2", (4.0, 0.8, 0.6, 0.8, 0.6, 0.8)),
    "limit": Pen(NARROW_MM, "ink", (0.45, 0.65)),
    "slot": Pen(LEAST_MM, "ink3", (0.4, 0.5)),
    "dashed": Pen(NARROW_MM, "ink", (1.1, 0.7)),
    "dotted": Pen(0.4, "ink", (0.001, 0.8), True),
    "reckoned": Pen(WIDE_MM, "blue"),
    "reckoned-narrow": Pen(NARROW_MM, "blue"),
    "reckoned-tick": Pen(0.6, "blue"),
    "measured": Pen(0.45, "lead"),
    "near": Pen(LEAST_MM, "near"),
    "over": Pen(LEAST_MM, "over"),
    "heavy": Pen(1.1),
    "other-part": Pen(0.4, "ink3"),
    "leading": Pen(LEAST_MM, "ink3"),
    "touch": Pen(6.0, "clear"),
}

Face = Literal["figures", "figures-bold", "sentences", "sentences-bold", "italic"]

FACES: Final[dict[str, tuple[str, int, str]]] = {
    "figures": ("Hoop Figures", 400, "normal"),
    "figures-bold": ("Hoop Figures", 600, "normal"),
    "sentences": ("Hoop Sentences", 400, "normal"),
    "sentences-bold": ("Hoop Sentences", 600, "normal"),
    "italic": ("Hoop Sentences", 400, "italic"),
}
"""Family, weight and style of each face."""

FALLBACKS: Final[dict[str, str]] = {
    "Hoop Figures": "'Hoop Figures','DejaVu Sans',Verdana,sans-serif",
    "Hoop Sentences": "'Hoop Sentences','DejaVu Serif',Georgia,serif",
}

LEAST_TEXT_MM: Final = 2.95

Theme = Literal["screen", "paper"]

SCREEN: Final[dict[str, str]] = {
    "ink": "#14212A",
    "ink2": "#46555E",
    "ink3": "#75838A",
    "hair": "#C6CFD0",
    "sheet": "#F6F8F6",
    "panel": "#E9EEEC",
    "metal": "#DDE3E2",
    "blue": "#174A8C",
    "band": "#B0C1D7",
    "lead": "#A33C12",
    "near": "#FFFFFF",
    "over": "#FFFFFF",
    "clear": "transparent",
    "wash0": "#F4F1DA",
    "wash1": "#D6DBAC",
    "wash2": "#88BF93",
    "wash3": "#3A9594",
    "wash4": "#1E6189",
    "wash5": "#1C2F5C",
}

PAPER: Final[dict[str, str]] = {
    "ink": "#000000",
    "ink2": "#000000",
    "ink3": "#000000",
    "hair": "#8A8A8A",
    "sheet": "#FFFFFF",
    "panel": "#F0F0F0",
    "metal": "#E2E2E2",
    "blue": "#000000",
    "band": "#B4B4B4",
    "lead": "#000000",
    "near": "#FFFFFF",
    "over": "#FFFFFF",
    "clear": "none",
    "wash0": "#F7F7F7",
    "wash1": "#E0E0E0",
    "wash2": "#C2C2C2",
    "wash3": "#9A9A9A",
    "wash4": "#6A6A6A",
    "wash5": "#333333",
}

THEMES: Final[dict[str, dict[str, str]]] = {"screen": SCREEN, "paper": PAPER}

WASH_STEPS_PCT: Final = (10.0, 25.0, 50.0, 75.0, 90.0)
"""Upper ends of the first five steps of the wash, as share of the limit; the sixth is everything above."""


def pen(name: str) -> Pen:
    """The pen of this name; InputError names the known ones."""
    if name not in PENS:
        raise InputError("pen", name, "", "one of " + ", ".join(PENS), "take one of these")
    return PENS[name]


def colour(role: str, theme: Theme) -> str:
    """Hex value of a colour role; InputError names the known ones."""
    table = THEMES[theme]
    if role not in table:
        raise InputError("colour role", role, "", "one of " + ", ".join(table), "take one of these")
    return table[role]


def wash_step(share_pct: float) -> int:
    """Step of the wash, 0 to 5, of a share of the limit.

    >>> [wash_step(p) for p in (0.0, 10.0, 24.9, 60.0, 89.0, 90.0, 140.0)]
    [0, 1, 1, 3, 4, 5, 5]
    """
    return sum(share_pct >= top for top in WASH_STEPS_PCT)
