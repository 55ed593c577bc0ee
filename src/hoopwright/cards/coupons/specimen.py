"""One tensile specimen: its file, its sizes, and how it was cut from the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from hoopwright.errors import InputError, require_finite, require_positive


@dataclass(frozen=True, slots=True)
class Specimen:
    """A tensile specimen of sheet.

    file : its readings (CSV). direction_deg : of the specimen against the rolling direction, 0, 45 or 90.
    width_mm, thickness_mm, gauge_length_mm : sizes before the test, needed where the file gives force or extension.
    modulus_GPa : slope of the elastic part, needed where the file holds too few elastic readings.
    elongation_pct : after fracture, measured on the pieces.
    """

    file: Path
    direction_deg: float = 0.0
    width_mm: float | None = None
    thickness_mm: float | None = None
    gauge_length_mm: float | None = None
    modulus_GPa: float | None = None
    elongation_pct: float | None = None

    def __post_init__(self) -> None:
        if require_finite("direction", self.direction_deg, "deg") not in (0.0, 45.0, 90.0):
            raise InputError("direction", self.direction_deg, "deg", "0, 45 or 90", "enter the nearest of the three")
        for name, unit in (
            ("width_mm", "mm"),
            ("thickness_mm", "mm"),
            ("gauge_length_mm", "mm"),
            ("modulus_GPa", "GPa"),
            ("elongation_pct", "pct"),
        ):
            value = getattr(self, name)
            if value is not None:
                require_positive(name, value, unit)

    def need(self, name: str, why: str) -> float:
        """A size that the file's columns make necessary. Raises InputError where it is missing."""
        value = getattr(self, name)
        if value is None:
            unit = name.rpartition("_")[2]
            raise InputError(f"{self.file.name}: {name}", "missing", unit, f"there: {why}", "enter the specimen's size")
        return float(value)
