"""How numbers are written, on paper, on screen and in the terminal.

House rules: minus is U+2212, decimal point, a thin no-break space in the thousands from 10 000, a no-break space
before the unit and after Ø and R, spaces about ±; a difference always shows its sign; digits follow the use, not the
arithmetic, and never go more than one beyond the band.
"""

from __future__ import annotations

import math
from typing import Final, Literal

from hoopwright.errors import InputError, require_finite
from hoopwright.findings import Figure

MINUS: Final = "\u2212"
NO_BREAK: Final = "\u00a0"
THIN: Final = "\u202f"
ELLIPSIS: Final = "\u2026"

Use = Literal[
    "control size", "tool radius", "gap", "stop", "strain", "strain compared", "angle", "pin angle", "cut", "mass"
]

USE_DIGITS: Final[dict[str, int]] = {
    "control size": 2,
    "tool radius": 3,
    "gap": 3,
    "stop": 2,
    "strain": 1,
    "strain compared": 2,
    "angle": 1,
    "pin angle": 3,
    "cut": 2,
    "mass": 3,
}
"""Decimals by use; strain in percent, angles in degrees, mass in kg, the rest in mm."""

UNIT_SIGNS: Final[dict[str, str]] = {
    "": "",
    "1": "",
    "log": "",
    "eng": "",
    "pct": "%",
    "deg": "°",
    "degC": "°C",
    "um": "µm",
    "mm2": "mm²",
    "mm3": "mm³",
    "Nm": "N·m",
    "N_mm": "N·mm",
    "N_per_mm": "N/mm",
    "kN_per_mm": "kN/mm",
    "per_mm": "/mm",
    "m_per_min": "m/min",
    "mm_per_mm": "mm/mm",
    "kg_per_m3": "kg/m³",
    "g_per_s": "g/s",
    "um_per_mK": "µm/(m·K)",
    "W_per_mK": "W/(m·K)",
    "J_per_kgK": "J/(kg·K)",
}


def unit_sign(unit: str) -> str:
    """How a unit, spelt as in names ("N_per_mm"), is written for a reader ("N/mm").

    >>> unit_sign("degC"), unit_sign("kN"), unit_sign("log")
    ('°C', 'kN', '')
    """
    return UNIT_SIGNS.get(unit, unit.replace("_per_", "/"))


def written(value: float, digits: int, sign: bool = False) -> str:
    """A number as this house writes it; `sign` shows a plus as well (differences).

    >>> written(-0.5, 2), written(205000.0, 0), written(0.12, 2, sign=True), written(-0.001, 2)
    ('−0.50', '205\u202f000', '+0.12', '0.00')

    Raises
    ------
    InputError
        When the value is not finite, or `digits` is no whole number from 0 to 9.
    """
    number = require_finite("number to write", value)
    if isinstance(digits, bool) or not isinstance(digits, int) or not 0 <= digits <= 9:
        raise InputError("digits to write", digits, "", "a whole number from 0 to 9", "give the decimals to print")
    text = f"{abs(number):.{digits}f}"
    zero = float(text) == 0.0
    whole, point, part = text.partition(".")
    if len(whole) >= 5:
        head = len(whole) % 3 or 3
        whole = THIN.join([whole[:head], *(whole[k : k + 3] for k in range(head, len(whole), 3))])
    mark = "" if zero else MINUS if number < 0.0 else "+" if sign else ""
    return mark + whole + point + part


def with_unit(value: float, digits: int, unit: str, sign: bool = False) -> str:
    """A number with its unit behind a no-break space; an angle's degree sign stands close.

    >>> with_unit(40.3, 1, "kN"), with_unit(7.0, 3, "deg"), with_unit(0.37, 2, "log")
    ('40.3\\xa0kN', '7.000°', '0.37')
    """
    mark = unit_sign(unit)
    number = written(value, digits, sign)
    if not mark:
        return number
    return number + mark if mark == "°" else number + NO_BREAK + mark


def diameter(value: float, digits: int = 2) -> str:
    """A diameter: Ø, no-break space, number.

    >>> diameter(247.6)
    'Ø\\xa0247.60'
    """
    return f"Ø{NO_BREAK}{written(value, digits)}"


def radius(value: float, digits: int = 3) -> str:
    """A radius: R, no-break space, number.

    >>> radius(123.395)
    'R\\xa0123.395'
    """
    return f"R{NO_BREAK}{written(value, digits)}"


def plus_minus(value: float, tolerance: float, digits: int) -> str:
    """A size with its equal tolerances, spaces about ±.

    >>> plus_minus(247.6, 0.1, 2)
    '247.60\\xa0±\\xa00.10'
    """
    return f"{written(value, digits)}{NO_BREAK}±{NO_BREAK}{written(tolerance, digits)}"


def from_to(low: float, high: float, digits: int) -> str:
    """A range: the two ends about an ellipsis.

    >>> from_to(31.2, 41.0, 1)
    '31.2\\xa0…\\xa041.0'
    """
    return f"{written(low, digits)}{NO_BREAK}{ELLIPSIS}{NO_BREAK}{written(high, digits)}"


def share_pct(share: float, digits: int = 0) -> str:
    """A share (0 to 1) as a percentage.

    >>> share_pct(0.987)
    '99\\xa0%'
    """
    return with_unit(100.0 * share, digits, "pct")


def three_figures(value: float, unit: str = "") -> str:
    """A load: three figures that count.

    >>> three_figures(27.63, "kN"), three_figures(154.2, "kN"), three_figures(0.8126, "kN")
    ('27.6\\xa0kN', '154\\xa0kN', '0.813\\xa0kN')
    """
    number = require_finite("number to write", value)
    size = 0 if number == 0.0 else math.floor(math.log10(abs(number)))
    return with_unit(number, min(9, max(0, 2 - size)), unit)


def digits_within(digits: int, low: float, high: float) -> int:
    """Decimals allowed beside a band: at most one beyond the band's own first figure.

    >>> digits_within(3, 247.50, 247.70), digits_within(3, 31.0, 41.0), digits_within(2, 1.0, 1.0)
    (2, 0, 2)
    """
    width = require_finite("band", high) - require_finite("band", low)
    if width <= 0.0:
        return digits
    first = -math.floor(math.log10(width) + 1e-9)
    return max(0, min(digits, first + 1))


def figure_digits(figure: Figure) -> int:
    """Decimals a figure is printed with: its own, cut by its band."""
    if figure.band is None:
        return figure.digits
    return digits_within(figure.digits, figure.band.low, figure.band.high)


def figure_text(figure: Figure, unit: bool = True) -> str:
    """A figure's value as printed, with or without its unit."""
    return with_unit(figure.value, figure_digits(figure), figure.unit if unit else "")


def band_text(figure: Figure) -> str:
    """The band of a figure: "± 0.02" about its value where that says it to the last digit, else its two ends.

    Nothing where the figure has none, or one that no printed digit would show.
    """
    band = figure.band
    if band is None:
        return ""
    digits = figure_digits(figure)
    up, down = band.high - figure.value, figure.value - band.low
    if max(abs(up), abs(down)) < 0.5 * 10.0**-digits:
        return ""
    if up > 0.0 and abs(up - down) < 0.5 * 10.0**-digits and written(up, digits) == written(down, digits):
        return f"±{NO_BREAK}{written(up, digits)}"
    return from_to(band.low, band.high, digits)
