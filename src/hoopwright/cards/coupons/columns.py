"""Columns of a tensile test file: what their headers say, and the factor to N, mm, MPa and plain strain."""

from __future__ import annotations

import re
from dataclasses import dataclass

NAMES: dict[str, tuple[str, ...]] = {
    "true_stress": ("true stress", "flow stress"),
    "plastic_strain": ("true plastic strain", "plastic strain", "log plastic strain"),
    "width_strain": ("width strain", "transverse strain"),
    "stress": ("engineering stress", "eng stress", "stress"),
    "strain": ("engineering strain", "eng strain", "strain"),
    "force": ("force", "load"),
    "extension": ("extension", "elongation", "displacement"),
    "width": ("specimen width", "width"),
}

_STRESS = {"MPa": 1.0, "N/mm2": 1.0, "N/mm²": 1.0, "GPa": 1000.0, "ksi": 6.894757, "psi": 0.006894757}
_STRAIN = {"1": 1.0, "-": 1.0, "mm/mm": 1.0, "in/in": 1.0, "%": 0.01, "pct": 0.01, "log": 1.0, "eng": 1.0}
_LENGTH = {"mm": 1.0, "um": 0.001, "µm": 0.001, "in": 25.4}

UNITS: dict[str, dict[str, float]] = {
    "true_stress": _STRESS,
    "stress": _STRESS,
    "plastic_strain": _STRAIN,
    "strain": _STRAIN,
    "width_strain": _STRAIN,
    "force": {"N": 1.0, "kN": 1000.0, "lbf": 4.448222},
    "extension": _LENGTH,
    "width": _LENGTH,
}

_BRACKETED = re.compile(r"^(?P<name>.*?)\s*[\[(](?P<unit>[^\])]*)[\])]\s*$")


def _factor(what: str, unit: str) -> float | None:
    """Factor of a unit, capitals not minded; None where it is not known."""
    wanted = unit.strip().lower()
    return next((factor for name, factor in UNITS.get(what, {}).items() if name.lower() == wanted), None)


@dataclass(frozen=True, slots=True)
class Header:
    """One header cell: text as it stands, what it is ("" if not known), its unit as written ("" if none)."""

    text: str
    what: str
    unit: str

    @property
    def factor(self) -> float | None:
        """Factor to N, mm, MPa or plain strain; None where the unit is missing or not known."""
        return _factor(self.what, self.unit)

    @property
    def units(self) -> str:
        """The units this column may have."""
        return ", ".join(UNITS.get(self.what, {}))


def header(cell: str, unit_cell: str = "") -> Header:
    """A header cell read: "Force [kN]", "force_kN", "Force (kN)", "Force kN", or "Force" with a units row below.

    Examples
    --------
    >>> header("True stress (MPa)").what, header("strain_%").unit, header("Kraft").what
    ('true_stress', '%', '')
    """
    text = cell.strip()
    match = _BRACKETED.match(text)
    plain = " ".join((match.group("name") if match else text).replace("_", " ").replace(".", " ").lower().split())
    unit = match.group("unit") if match else ""
    for what, names in NAMES.items():
        for name in names:
            if plain == name:
                return Header(text, what, unit or unit_cell.strip().strip("[]()"))
            last = plain.removeprefix(name + " ")
            if last != plain and not unit and _factor(what, last.removeprefix("in ")) is not None:
                return Header(text, what, last.removeprefix("in "))
    return Header(text, "", unit)
