"""How sizing faults show in readings, from data; draws of every cause's readings over its severities."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.correct.catalogue import NOT_LISTED, NOTHING_WRONG
from hoopwright.errors import InputError

Array = NDArray[np.float64]
DRAWS = 300
UNLISTED_SPREAD_SD = 8.0
"""A cause that is not listed moves about a third of the readings by this many of their sd: an invented figure."""


@dataclass(frozen=True, slots=True)
class Measurement:
    """name in the shop's words, minutes it takes, readings it gives."""

    name: str
    minutes: float
    readings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Signature:
    """A cause: row of the failure catalogue, prior frequency, readings it moves."""

    name: str
    row: int
    prior: float
    either_sign: bool
    effects: Mapping[str, float]
    unsigned: Mapping[str, float]
    fixed: Mapping[str, float]
    any_axis: Mapping[str, float]


@dataclass(frozen=True, slots=True, eq=False)
class Signatures:
    """Everything a diagnosis weighs. sd, reach : of each reading, shape (f,). means : (cause, draw, reading)."""

    readings: tuple[str, ...]
    measurements: tuple[Measurement, ...]
    causes: tuple[Signature, ...]
    sd: Array
    reach: Array
    temper: float
    means: Array

    @property
    def names(self) -> tuple[str, ...]:
        """Names of all causes, the two that are always there last."""
        return (*(c.name for c in self.causes), NOTHING_WRONG, NOT_LISTED)

    @property
    def priors(self) -> Array:
        """Prior shares, shape (cause,)."""
        listed = [c.prior for c in self.causes]
        # nothing wrong as frequent as three ordinary faults, not listed as two
        weights = np.array([*listed, 3.0, 2.0])
        return np.asarray(weights / weights.sum(), dtype=np.float64)

    def index(self, reading: str) -> int:
        """Place of a reading; InputError lists what there is."""
        if reading not in self.readings:
            raise InputError("reading", reading, "", ", ".join(self.readings), "name one of these")
        return self.readings.index(reading)

    def measurement(self, name: str) -> Measurement:
        """A measurement by name."""
        for one in self.measurements:
            if one.name == name:
                return one
        raise InputError("measurement", name, "", "; ".join(m.name for m in self.measurements), "name one of these")


@lru_cache(maxsize=1)
def signatures() -> Signatures:
    """As shipped, with seeded draws."""
    text = files("hoopwright.correct").joinpath("data/signatures.toml").read_text(encoding="utf-8")
    return signatures_from(tomllib.loads(text))


def signatures_from(data: Mapping[str, Any], seed: int = 20) -> Signatures:
    """From the data of a file of a shop's own."""
    names = tuple(data["reading"])
    measurements = tuple(Measurement(m["name"], float(m["minutes"]), tuple(m["readings"])) for m in data["measurement"])
    causes = tuple(
        Signature(
            c["name"],
            int(c["row"]),
            float(c["prior"]),
            bool(c.get("either_sign", False)),
            c.get("effects", {}),
            c.get("unsigned", {}),
            c.get("fixed", {}),
            c.get("any_axis", {}),
        )
        for c in data["cause"]
    )
    sd = np.array([float(data["reading"][n]["sd"]) for n in names])
    reach = np.array([float(data["reading"][n]["reach"]) for n in names])
    rng = np.random.default_rng(seed)
    place = {n: k for k, n in enumerate(names)}
    listed = [_draws(c, place, float(data["severity_sd"]), rng) for c in causes]
    none = np.zeros((DRAWS, len(names)))
    strange = UNLISTED_SPREAD_SD * sd * rng.standard_normal((DRAWS, len(names)))
    strange *= rng.random((DRAWS, len(names))) < 0.35
    means = np.stack([*listed, none, strange])
    return Signatures(names, measurements, causes, sd, reach, float(data["temper"]), means)


def _draws(cause: Signature, place: Mapping[str, int], severity_sd: float, rng: np.random.Generator) -> Array:
    """Readings a cause makes over its severities, shape (draw, reading)."""
    means = np.zeros((DRAWS, len(place)))
    # even quantiles of a normal about 1, every other one twice as wide, as a shop knows its severities badly; kept above  # noqa: E501
    # 0.15: a fault too small to see is no fault
    even = (np.arange(DRAWS) + 0.5) / DRAWS
    width = np.where(np.arange(DRAWS) % 2 == 0, severity_sd, 2.0 * severity_sd)
    severity = np.maximum(1.0 + width * _normal_quantile(even), 0.15)
    rng.shuffle(severity)
    sign = np.where(rng.random(DRAWS) < 0.5, -1.0, 1.0) if cause.either_sign else np.ones(DRAWS)
    for name, effect in cause.effects.items():
        means[:, place[name]] += sign * severity * effect
    for name, effect in cause.unsigned.items():
        means[:, place[name]] += severity * effect
    for name, effect in cause.fixed.items():
        means[:, place[name]] += effect
    axis = rng.uniform(0.0, 2.0 * np.pi, DRAWS)
    for state, effect in cause.any_axis.items():
        means[:, place[f"a2_seam_{state}_mm"]] += severity * effect * np.cos(axis)
        means[:, place[f"a2_across_{state}_mm"]] += severity * effect * np.sin(axis)
    return means


def _normal_quantile(p: Array) -> Array:
    from scipy.special import ndtri

    return np.asarray(ndtri(p), dtype=np.float64)
