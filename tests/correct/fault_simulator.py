"""Rings with a fault, one cause each, outside the diagnosis' own family. Kept apart from the method it judges.

Outside the family: severities are lognormal and twice as wide as the catalogue takes them, each cause also nudges
readings it is not listed with, noise is a Student t of 5 degrees of freedom at 1.3 times the stated sd, and there are
faults that the catalogue does not know (`UNLISTED`). All figures invented. mm unless said.
"""

from __future__ import annotations

import numpy as np

SEED = 4711

NOISE = {
    "size_mm": 0.02, "taper_mm": 0.02, "loaded_mm": 0.02, "repeat_mm": 0.02, "taper_flipped_mm": 0.02,
    "hardness_pct": 2.0, "a2_seam_free_mm": 0.02, "a2_across_free_mm": 0.02, "aN_mm": 0.004, "a2N_mm": 0.003,
    "a2_seam_held_mm": 0.008, "a2_across_held_mm": 0.008, "seam_gauge_mm": 0.015, "bead_mm": 0.01,
    "strain_ratio": 0.08, "label": 0.02, "cast_record": 0.02, "weld_girth_mm": 0.08, "seat_gap_mm": 0.01,
}  # fmt: skip

EFFECTS: dict[str, dict[str, float]] = {
    "springback-above-plan": {"size_mm": -0.12, "hardness_pct": 2.0},
    "stop-off": {"size_mm": -0.12, "loaded_mm": -0.12},
    "wrong-cast": {"size_mm": -0.13, "hardness_pct": 14.0, "cast_record": 1.0},
    "ring-not-seated": {"taper_mm": 0.09, "seat_gap_mm": 0.08, "size_mm": -0.02, "loaded_mm": 0.0},
    "segments-lean": {"taper_mm": 0.10, "taper_flipped_mm": -0.10},
    "strip-gradient": {"taper_mm": 0.10, "taper_flipped_mm": 0.10},
    "segments-over-open": {"aN_mm": 0.05, "a2N_mm": 0.004},
    "segments-turned-too-big": {"aN_mm": -0.05, "a2N_mm": 0.006},
    "slot-edges-sharp": {"a2N_mm": 0.025, "aN_mm": -0.004},
    "handling-oval": {"a2_any_free_mm": 0.25, "a2_any_held_mm": 0.004},
    "seam-stiff": {"a2_seam_free_mm": 0.12, "a2_seam_held_mm": 0.06, "bead_mm": 0.10},
    "ends-uncurled": {"seam_gauge_mm": -0.12, "a2_seam_free_mm": -0.02},
    "friction-locks": {"strain_ratio": 0.5, "a2N_mm": 0.006},
    "wrong-reading": {"size_mm": 0.05, "repeat_mm": 0.15},
    "superseded-set": {"aN_mm": 0.05, "label": 1.0, "size_mm": -0.02},
    "weld-shrink": {"weld_girth_mm": -0.35, "a2_seam_free_mm": 0.01},
}

UNLISTED: tuple[dict[str, float], ...] = (
    {"aN_mm": 0.03, "taper_mm": 0.06, "seam_gauge_mm": 0.06},
    {"strain_ratio": 0.3, "hardness_pct": -8.0, "size_mm": 0.05},
    {"a2_across_held_mm": 0.05, "bead_mm": -0.03, "a2N_mm": 0.012},
    {"loaded_mm": 0.08, "taper_flipped_mm": 0.07, "weld_girth_mm": 0.2},
)

EITHER_SIGN = {"springback-above-plan", "stop-off", "ring-not-seated", "segments-lean", "strip-gradient"}


def _noise(rng: np.random.Generator, scale: float) -> dict[str, float]:
    t = rng.standard_t(5.0, len(NOISE)) / np.sqrt(5.0 / 3.0)
    return {name: float(scale * sd * value) for (name, sd), value in zip(NOISE.items(), t, strict=True)}


def ring_with(cause: str, rng: np.random.Generator, wide: bool = True) -> dict[str, float]:
    """Every reading a person could take of one ring with this cause ("not-listed" and "nothing-wrong" too)."""
    readings = _noise(rng, 1.3 if wide else 1.0)
    if cause == "nothing-wrong":
        return readings
    effects = UNLISTED[int(rng.integers(len(UNLISTED)))] if cause == "not-listed" else EFFECTS[cause]
    severity = float(np.exp(rng.normal(0.0, 0.5 if wide else 0.25)))
    sign = float(rng.choice([-1.0, 1.0])) if cause in EITHER_SIGN else 1.0
    axis = rng.uniform(0.0, 2.0 * np.pi)
    for name, effect in effects.items():
        own = severity * float(np.exp(rng.normal(0.0, 0.15)))
        if name in ("label", "cast_record"):
            readings[name] += effect
        elif name.startswith("a2_any_"):
            state = name.removeprefix("a2_any_")
            readings[f"a2_seam_{state}"] += own * effect * float(np.cos(axis))
            readings[f"a2_across_{state}"] += own * effect * float(np.sin(axis))
        else:
            readings[name] += sign * own * effect if name != "seat_gap_mm" else own * effect
    # cross-talk: a nudge of half a reading's noise on two readings the cause has nothing to do with
    for name in rng.choice([n for n in NOISE if n not in ("label", "cast_record")], 2, replace=False):
        readings[str(name)] += 0.5 * NOISE[str(name)] * float(rng.normal())
    return readings


def listed_rings(count: int, seed: int = SEED, wide: bool = True) -> list[tuple[str, dict[str, float], int]]:
    """Rings with listed causes in turn, each with the seed of whoever measures it."""
    rings = []
    names = tuple(EFFECTS)
    for number in range(count):
        rng = np.random.default_rng([seed, number, int(wide)])
        cause = names[number % len(names)]
        rings.append((cause, ring_with(cause, rng, wide), number))
    return rings


def unlisted_rings(count: int, seed: int = SEED) -> list[tuple[str, dict[str, float], int]]:
    """Rings whose fault the catalogue does not know."""
    return [
        ("not-listed", ring_with("not-listed", np.random.default_rng([seed, 1_000_000 + number])), number)
        for number in range(count)
    ]
