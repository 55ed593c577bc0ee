"""What a ring of a study is judged by, read off runs and off the stand-in alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.plan.shapes import Array

ORDERS = (2, 3, 4, 5)


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of a result: low and high, either may be infinite. said : where it comes from, in words."""

    result: str
    low: float
    high: float
    said: str

    def inside(self, values: Array) -> NDArray[np.bool_]:
        """Which values keep it, shape (n,)."""
        return np.asarray((values >= self.low) & (values <= self.high), dtype=np.bool_)


def profile_results(profile_mm: Array, count: int) -> dict[str, Array]:
    """Roundness of free profiles (n, places) about their centre: peak to valley free and held, lobes; (n,) each.

    count : segments, whose lobes are told.
    """
    places = profile_mm.shape[1]
    spectrum = np.fft.rfft(profile_mm, axis=1) / places
    wave = 2.0 * np.abs(spectrum)
    centred = profile_mm - np.fft.irfft(_only(spectrum, (0, 1)) * places, n=places, axis=1)
    held = centred - np.fft.irfft(_only(spectrum, (2,)) * places, n=places, axis=1)
    found = {
        "peak-to-valley": np.ptp(centred, axis=1),
        "held-peak-to-valley": np.ptp(held, axis=1),
        "lobes": wave[:, count],
    }
    return found | {f"wave-{order}": wave[:, order] for order in ORDERS}


def _only(spectrum: NDArray[np.complex128], orders: Sequence[int]) -> NDArray[np.complex128]:
    kept = np.zeros_like(spectrum)
    kept[:, list(orders)] = spectrum[:, list(orders)]
    return kept


def results(names: Sequence[str], values: Array, profile_mm: Array, count: int) -> dict[str, Array]:
    """All results by name, (n,) each: the plain ones and the roundness."""
    found = {name: values[:, k] for k, name in enumerate(names)}
    return found | profile_results(profile_mm, count)
