"""A simulated shop whose truth lies outside the calibration's family. Written and kept apart from the method it judges.

What is true here and not in the model: the flow curve has another shape than the card (n and e0 off, so springback
changes with strain, not by one factor), the modulus has dropped, and every scatter is 0.6 to 1.6 times what the model
takes it for, each by its own factor. Seeds are fixed; the tests only choose how many shops they look at. All invented.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

SEED = 20310303
FIRST_MODULUS, CARD_K, CARD_E0, CARD_N = 205_000.0, 1630.0, 0.020, 0.385


@dataclass(frozen=True)
class RingKind:
    """Loaded diameters wanted at three stations and the strain the card's stress is taken at."""

    name: str
    loaded_mm: tuple[float, float, float]
    strain: float

    @property
    def springback_mm(self) -> np.ndarray:
        """What the card predicts, on diameter."""
        stress = CARD_K * (CARD_E0 + self.strain) ** CARD_N
        return np.array(self.loaded_mm) * stress / FIRST_MODULUS


LIP_402 = RingKind("402", (248.48, 252.29, 247.59), 0.072)
LIP_412 = RingKind("412", (119.68, 115.88, 120.58), 0.060)

SD = {
    "offset": 0.05, "drift": 0.002, "profile": 0.010, "seat": 0.010, "tilt": 0.008, "gauge": 0.015, "loaded": 0.010,
    "cast": 0.05, "ring": 0.015,
}  # fmt: skip


@dataclass
class Trial:
    """One hit: what was read and what was true. Diameters in mm; free and loaded are read less nominal loaded size."""

    cast: int
    ring: int
    kind: RingKind
    hit: int
    free_mm: np.ndarray
    repeat_mm: np.ndarray
    loaded_mm: np.ndarray
    true_free_mm: np.ndarray
    hardness_share: float


@dataclass
class Shop:
    """A shop with its own truths; each call of `trial` is the next hit on its press."""

    rng: np.random.Generator
    off_scale: bool
    casts: dict[int, float] = field(default_factory=dict)
    rings: int = 0
    hits: int = 0

    def __post_init__(self) -> None:
        low, high = (np.log(0.6), np.log(1.6)) if self.off_scale else (0.0, 0.0)
        self.sd = {name: sd * float(np.exp(self.rng.uniform(low, high))) for name, sd in SD.items()}
        scale = float(np.exp(self.rng.uniform(low, high)))
        self.k = CARD_K * float(np.exp(self.rng.normal(0.0, 0.04 * scale)))
        self.n = CARD_N * (1.0 + self.rng.normal(0.0, 0.03 * scale))
        self.e0 = CARD_E0 * float(np.exp(self.rng.normal(0.0, 0.20 * scale)))
        self.modulus = FIRST_MODULUS * (1.0 - self.rng.normal(0.0, 0.03 * scale))
        self.offset = self.rng.normal(0.0, self.sd["offset"])
        self.profile = {kind.name: self.rng.normal(0.0, self.sd["profile"], 3) for kind in (LIP_402, LIP_412)}

    def trial(
        self,
        cast: int,
        kind: RingKind = LIP_402,
        cast_shift: float = 0.0,
        tilt_shift: float = 0.0,
        reading_shift: float = 0.0,
        stop_shift: float = 0.0,
    ) -> Trial:
        """The next ring, stretched once to its nominal stop and read twice at each station; shifts are faults."""
        rng = self.rng
        if cast not in self.casts:
            self.casts[cast] = rng.normal(0.0, self.sd["cast"])
        self.offset += rng.normal(0.0, self.sd["drift"])
        u = self.casts[cast] + cast_shift + rng.normal(0.0, self.sd["ring"])
        stress = self.k * (self.e0 + kind.strain) ** self.n
        springback = np.array(kind.loaded_mm) * stress / self.modulus * np.exp(u)
        axis = np.array([-1.0, 0.0, 1.0])
        tilt = rng.normal(0.0, self.sd["tilt"]) + tilt_shift
        seat = rng.normal(0.0, self.sd["seat"])
        size = self.offset + stop_shift + self.profile[kind.name] + seat + tilt * axis
        free = size - springback
        first = free + rng.normal(0.0, self.sd["gauge"], 3)
        first[2] += reading_shift
        second = free + rng.normal(0.0, self.sd["gauge"], 3)
        loaded = size + rng.normal(0.0, self.sd["loaded"], 3)
        hardness = float(np.exp(u) - 1.0 + rng.normal(0.0, 0.02))
        self.rings += 1
        self.hits += 1
        return Trial(cast, self.rings, kind, self.hits, first, second, loaded, free, hardness)


def shops(count: int, off_scale: bool, seed: int = SEED) -> list[Shop]:
    """That many shops, the same ones every time."""
    return [Shop(np.random.default_rng([seed, int(off_scale), number]), off_scale) for number in range(count)]
