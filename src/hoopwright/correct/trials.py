"""Trials of a ring as the calibration takes them: what was predicted for the setting used, what was read, who held
it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.kernels.wayback.levels import Place, Reading, Scatter


@dataclass(frozen=True, slots=True)
class Station:
    """One station of a trial. Diameters in mm, predicted for the setting that was used.

    axis : -1 forward to 1 aft. loaded, springback : as predicted; predicted free is loaded less springback.
    free : readings, one or more. read_loaded : None where it was not measured.
    """

    name: str
    axis: float
    loaded_mm: float
    springback_mm: float
    free_mm: tuple[float, ...]
    read_loaded_mm: float | None = None

    def __post_init__(self) -> None:
        if not -1.0 <= require_finite(f"{self.name} axis", self.axis) <= 1.0:
            raise InputError(f"{self.name} axis", self.axis, "", "from -1 (forward) to 1 (aft)", "correct it")
        require_positive(f"{self.name} loaded size", self.loaded_mm, "mm")
        require_positive(f"{self.name} springback", self.springback_mm, "mm")
        if not self.free_mm:
            raise InputError(f"{self.name} free size", "none", "mm", "one reading or more", "measure it")
        for value in self.free_mm:
            require_positive(f"{self.name} free size", value, "mm")

    @property
    def predicted_free_mm(self) -> float:
        """Free size as predicted."""
        return self.loaded_mm - self.springback_mm

    @property
    def mean_free_mm(self) -> float:
        """Mean of the readings."""
        return math.fsum(self.free_mm) / len(self.free_mm)


@dataclass(frozen=True, slots=True)
class Trial:
    """One hit on one ring. suspect : "" or what a gate found: "seat", "cast", "stop", "unexplained" or "reading NAME".

    machine : the spell between two shims of the stop; a shim starts a new one.
    """

    ring: str
    serial: str
    cast: str
    segment_set: str
    hit: int
    stations: tuple[Station, ...]
    machine: str = "press"
    hardness_pct: float | None = None
    suspect: str = ""

    def place(self, station: Station, loaded: bool = False, readings: int = 1, sd: Scatter | None = None) -> Place:
        """Where a reading of this trial hangs in the calibration; a suspect part is widened, never thrown away."""
        scatter = sd if sd is not None else Scatter()
        one_reading = self.suspect == f"reading {station.name}" and not loaded
        cast = self.cast if self.suspect not in ("cast", "unexplained") else f"{self.cast} as {self.serial} showed it"
        gauge = scatter.loaded if loaded else scatter.gauge / math.sqrt(readings)
        return Place(
            springback=0.0 if loaded else station.springback_mm, cast=cast, ring=self.serial, tool=self.segment_set,
            station=station.name, axis=station.axis, hit=self.hit,
            machine=self.machine if self.suspect != "stop" else f"{self.machine} at hit {self.hit}",
            widen=5.0 if self.suspect == "seat" else 1.0, gauge_sd=20.0 * gauge if one_reading else gauge,
        )  # fmt: skip

    def readings(self, sd: Scatter | None = None) -> list[Reading]:
        """Residuals of this trial: reading less prediction."""
        found = []
        for s in self.stations:
            place = self.place(s, readings=len(s.free_mm), sd=sd)
            found.append(Reading(place, s.mean_free_mm - s.predicted_free_mm))
            if s.read_loaded_mm is not None:
                found.append(Reading(self.place(s, True, sd=sd), s.read_loaded_mm - s.loaded_mm))
        return found


def all_readings(trials: Sequence[Trial], sd: Scatter | None = None) -> list[Reading]:
    """Readings of several trials."""
    return [reading for trial in trials for reading in trial.readings(sd)]
