"""Trials as they are entered: checked against the machine, their scatter from repeats, their drift."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from hoopwright.cards.machines import Laser
from hoopwright.errors import InputError, require_finite
from hoopwright.kernels.seam_trials import STARTS as STARTS
from hoopwright.kernels.seam_window import Trials, WeldScatter
from hoopwright.plan.seam.machine import drifted

REPEATS: Final = 5


@dataclass(frozen=True, slots=True)
class WeldTrial:
    """One trial. root_mm : minus the missing depth where it is not through; readings are None when burnt through."""

    power_W: float
    speed_mm_per_s: float
    focus_mm: float
    gap_mm: float
    root_mm: float | None = None
    face_mm: float | None = None
    underfill_mm: float | None = None
    pores_pct: float | None = None
    burnt: bool = False

    @property
    def settings(self) -> tuple[float, float, float, float]:
        """Power, speed, focus, gap."""
        return self.power_W, self.speed_mm_per_s, self.focus_mm, self.gap_mm


def entered(trials: Sequence[WeldTrial], laser: Laser) -> Trials:
    """Trials as the processes take them; every one checked against the machine.

    Raises
    ------
    InputError
        Settings outside the machine's limits, a missing or impossible reading.
    """
    rows, settings = [], []
    slow, fast = laser.speed_min_m_per_min.value / 0.06, laser.speed_max_m_per_min.value / 0.06
    for k, trial in enumerate(trials, start=1):
        bounds = (
            ("laser power", trial.power_W, laser.power_min_W.value, laser.power_max_W.value, "W"),
            ("welding speed", trial.speed_mm_per_s, slow, fast, "mm/s"),
            ("focus height", trial.focus_mm, -20.0, 20.0, "mm"),
            ("gap", trial.gap_mm, 0.0, 2.0, "mm"),
        )
        for name, value, low, high, unit in bounds:
            number = require_finite(f"trial {k}, {name}", value, unit)
            if not low - 1e-9 <= number <= high + 1e-9:
                must = f"from {low:.4g} to {high:.4g} (machine {laser.card_id})"
                raise InputError(f"trial {k}, {name}", value, unit, must, "correct the entry")
        settings.append(trial.settings)
        rows.append((1.0, 1.0, 0.0, 0.0) if trial.burnt else _readings(trial, k))
    burnt = np.array([trial.burnt for trial in trials], dtype=np.bool_)
    shape = (len(trials), 4)
    return Trials(np.array(settings).reshape(shape), np.array(rows).reshape(shape), burnt)


def _readings(trial: WeldTrial, number: int) -> tuple[float, float, float, float]:
    given = {
        "root width": trial.root_mm,
        "face width": trial.face_mm,
        "underfill": trial.underfill_mm,
        "pores": trial.pores_pct,
    }
    for name, value in given.items():
        if value is None:
            raise InputError(
                f"trial {number}, {name}", "none", "mm", "a reading", "measure it, or mark the trial burnt"
            )
    root, face, under, pores = (require_finite(f"trial {number}, {n}", v or 0.0) for n, v in given.items())
    if face <= 0.0 or under < 0.0 or pores < 0.0:
        raise InputError(f"trial {number}", f"{face:g}, {under:g}, {pores:g}", "", "face above 0, others 0 or more", "")
    return root, face, under, float(np.log10(max(pores, 1e-3)))


def measured_scatter(trials: Sequence[WeldTrial], scatter: WeldScatter) -> tuple[bool, WeldScatter]:
    """Scatter of root and face from five or more repeats; the assumed one, and False, without them."""
    groups: dict[tuple[float, ...], list[WeldTrial]] = {}
    for trial in trials:
        if not trial.burnt:
            groups.setdefault(trial.settings, []).append(trial)
    best = max(groups.values(), key=len, default=[])
    if len(best) < REPEATS:
        return False, scatter
    root = np.array([t.root_mm for t in best], dtype=np.float64)
    face = np.array([t.face_mm for t in best], dtype=np.float64)
    root_sd, face_sd = float(root.std(ddof=1)), float(face.std(ddof=1))
    # repeats hold the scatter of settings too; what is put to run-to-run here errs to the safe side
    return True, replace(
        scatter,
        root=max(scatter.root, root_sd / max(abs(float(root.mean())), 0.05)),
        face=max(scatter.face, face_sd / float(face.mean())),
    )


def reference(trials: Sequence[WeldTrial]) -> WeldTrial | None:
    """The first trial with readings: it is repeated in the middle and at the end, to see drift."""
    return next((t for t in trials if not t.burnt), None)


def drift(trials: Sequence[WeldTrial], scatter: WeldScatter) -> str:
    """Words about a first trial that has moved by more than three deviations when repeated; "" when it has not."""
    first = reference(trials)
    if first is None or first.root_mm is None or first.face_mm is None:
        return ""
    again = [t for t in trials[STARTS:] if t.settings == first.settings and not t.burnt]
    if not again:
        return ""
    last = again[-1]
    for name, before, now, share in (
        ("root", first.root_mm, last.root_mm, scatter.root),
        ("face", first.face_mm, last.face_mm, scatter.face),
    ):
        sd = 1.4142 * 1.5 * max(share * abs(before), 0.01)
        if now is not None and drifted(before, now, sd):
            return f"{name} {before:.2f} to {now:.2f} mm"
    return ""
