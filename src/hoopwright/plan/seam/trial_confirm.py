"""When a setting may be named, what confirms it, and the repeats of the first trial that show drift."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.stats import chi2

from hoopwright.kernels.seam_trials import LEAST_READ, P_INSIDE, P_MARGIN, Verdict, verdict_at
from hoopwright.kernels.seam_window import Trials, Window
from hoopwright.plan.seam.trial_entry import REPEATS, STARTS, WeldTrial, reference

Array = NDArray[np.float64]

FAR: Final = 0.25
RESIDUALS: Final = 0.99
CONFIRMATIONS: Final = 3
CONFIRM_SEEN: Final = 1e-3
DIGITS: Final = (0, 1, 2, 3)
"""Decimals to which power [W], speed [mm/s], focus and gap [mm] are set."""


def silence(verdict: Verdict, window: Window, read: int) -> tuple[str, ...]:
    """Why no setting may be named; empty when one may."""
    found = []
    if read < LEAST_READ:
        found.append(f"only {read} trials have readings; {LEAST_READ} are needed")
    if verdict.inside < P_INSIDE:
        found.append(f"the best setting is inside with probability {verdict.inside:.2f}; {P_INSIDE:g} is needed")
    if verdict.margin_two < P_MARGIN:
        found.append(f"its margin is above 2 with probability {verdict.margin_two:.2f}; {P_MARGIN:g} is needed")
    if verdict.far > FAR:
        found.append(f"it lies {verdict.far:.2f} of the box from every trial; {FAR:g} is the most")
    # simulated machines pass the 99 % point one time in four with nothing wrong: twice of it silences
    if window.chi2 > 2.0 * float(chi2.ppf(RESIDUALS, window.readings)):
        found.append("root and face lie far from any melt model; a reading or a card is wrong")
    return tuple(found)


def rounded(x: Array) -> tuple[float, float, float, float]:
    """Power [W], speed [mm/s], focus and gap [mm] as they are set; x shape (4,)."""
    p, v, z, g = (float(round(float(value), digits)) for value, digits in zip(x, DIGITS, strict=True))
    return p, v, z, max(g, 0.0)


def first_settings(trials: Sequence[WeldTrial]) -> tuple[tuple[float, float, float, float], ...]:
    """Settings of the first trial with readings, the one that is repeated; empty where all burnt."""
    first = reference(trials)
    return () if first is None else (first.settings,)


def repeats(trials: Sequence[WeldTrial]) -> int:
    """How often the first trial has been repeated."""
    first = reference(trials)
    return 0 if first is None else sum(t.settings == first.settings for t in trials) - 1


def repeat_due(trials: Sequence[WeldTrial], budget: int) -> bool:
    """Whether the first trial is to be repeated now: once in the middle, once at the end."""
    again = repeats(trials)
    middle = (STARTS + budget) // 2
    return (len(trials) >= middle and again == 0) or (len(trials) >= budget - 1 and again == 1)


def never_repeated(trials: Sequence[WeldTrial]) -> bool:
    """Whether nothing shows yet that the machine has not drifted."""
    return repeats(trials) == 0


def held_setting(trials: Sequence[WeldTrial], window: Window, made: Trials) -> Verdict | None:
    """A setting that is being confirmed stays the one named for as long as it may be named and no weld of it failed;
    the best setting known moves a little with every weld, and would never be confirmed."""
    own = first_settings(trials)
    repeated = Counter(t.settings for t in trials[STARTS:] if t.settings not in own)
    read = int((~made.burnt).sum())
    for settings, count in repeated.most_common():
        verdict = verdict_at(window, np.array(settings), made.settings)
        if count >= 2 and not silence(verdict, window, read) and not confirmed_by(trials, verdict, window)[1]:
            return verdict
    return None


def welds_left(confirmed: int, measured: bool) -> int:
    """Welds still wanted at the setting: three that confirm it, and as many repeats as give its scatter."""
    return max(CONFIRMATIONS - confirmed, 0 if measured else REPEATS - confirmed, 0)


def confirmed_by(trials: Sequence[WeldTrial], verdict: Verdict, window: Window) -> tuple[int, bool]:
    """Trials at the named setting that passed, and whether one failed."""
    wanted = np.array(rounded(verdict.settings))
    span = window.high - window.low
    limits, passed, failed = window.limits, 0, False
    for t in trials[STARTS:]:
        if np.abs((np.array(t.settings) - wanted) / span).max() > CONFIRM_SEEN:
            continue
        good = (
            not t.burnt
            and (t.root_mm or 0.0) >= limits.root
            and (t.face_mm or 0.0) <= limits.face
            and (t.underfill_mm or 0.0) <= limits.underfill
            and (t.pores_pct or 0.0) <= 10.0**limits.log_pores
        )
        passed, failed = passed + int(good), failed or not good
    return passed, failed
