"""Tensile tests made from a known Swift law, so that every figure has an exact answer."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np


@dataclass(frozen=True)
class Made:
    """Swift sheet in tension: s = K (e0 + p)^n, elastic slope E, contraction r / (1 + r)."""

    K: float = 1600.0
    e0: float = 0.02
    n: float = 0.38
    E: float = 205_000.0
    r: float = 0.9
    width: float = 12.5
    thickness: float = 0.8
    gauge: float = 50.0

    def engineering(self, points: int = 900) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Engineering strain, engineering stress, width: elastic part, then plastic, to a little past necking."""
        first = self.K * self.e0**self.n
        elastic = np.linspace(0.0, first, 60)[:-1]
        p = np.concatenate(
            [
                np.zeros(elastic.size),
                np.linspace(0.0, 0.02, 200),
                np.linspace(0.02, self.n - self.e0 + 0.06, points)[1:],
            ]
        )
        true = np.concatenate([elastic, self.K * (self.e0 + p[elastic.size :]) ** self.n])
        strain = np.expm1(p + true / self.E)
        stress = true / (1.0 + strain)
        across = -self.r / (1.0 + self.r) * p - 0.3 * true / self.E
        return strain, stress, self.width * np.exp(across)

    @property
    def proof(self) -> float:
        """Rp0.2: at the offset crossing, s exp(-p) with p = ln(1 + e) - true/E and e = 0.002 + stress/E."""
        p = 0.002
        for _ in range(50):
            true = self.K * (self.e0 + p) ** self.n
            stress = true / np.exp(p + true / self.E)
            p = float(np.log1p(0.002 + stress / self.E) - true / self.E)
        return float(stress)


def write(path: Path, header: str, columns: list[np.ndarray], delimiter: str = ",", decimal: str = ".") -> Path:
    """A CSV file with this header and these columns."""
    rows = [header]
    for values in zip(*columns, strict=True):
        rows.append(delimiter.join(f"{value:.7g}".replace(".", decimal) for value in values))
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    return path
