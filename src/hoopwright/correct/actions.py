"""The smallest reversible change that suffices: stop, index, shim, then metal, then a new set; chances by draws.

For every subset of actions the best sizes are found (least largest share of tolerance used), then the share of drawn
errors (the same draws for all) with every station and the lobes inside. The cheapest subset with a chance of 0.95 or
more is offered; where none reaches it, the best is shown and it is said that none suffices.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import optimize

from hoopwright.errors import InputError, require_positive, require_range

Array = NDArray[np.float64]
ENOUGH, DRAWS, INDEX_FACTOR = 0.95, 20_000, 0.67


@dataclass(frozen=True, slots=True)
class ActionCosts:
    """Minutes each action costs; invented figures that a shop replaces."""

    stop: float = 2.0
    index: float = 3.0
    shim: float = 15.0
    grind: float = 960.0
    new_set: float = 7200.0


@dataclass(frozen=True, slots=True, eq=False)
class Situation:
    """Errors of the next landing (size less target) [mm]: mean and covariance at the stations, axis of each (-1 to 1).

    lobes : peak to valley as it is; lobe_limit. same_ring : it can only be stretched. stretch_left, shim_cap, stock :
    what may be used. rest_sd : ring-own scatter that no action takes away is in cov already.
    """

    mean: Array
    cov: Array
    axis: Array
    tolerance: Array
    lobes: float = 0.0
    lobe_limit: float = 0.05
    same_ring: bool = False
    stretch_left: float = 1.0
    shim_cap: float = 0.05
    stock: float = 0.0

    def __post_init__(self) -> None:
        n = self.mean.shape[0]
        if self.cov.shape != (n, n) or self.axis.shape != (n,) or self.tolerance.shape != (n,):
            raise InputError(
                "situation", self.cov.shape, "", f"for {n} stations throughout", "enter one value a station"
            )
        if not (np.all(np.isfinite(self.mean)) and np.all(np.isfinite(self.cov))):
            raise InputError("errors", "not finite", "mm", "finite", "measure again")
        require_positive("tolerance", float(self.tolerance.min()), "mm")
        require_range("stretch left", self.stretch_left, 0.0, 100.0, "mm")


@dataclass(frozen=True, slots=True)
class Offer:
    """actions with their sizes [mm]; minutes; chance that all stations and lobes are inside; what it leaves [mm]."""

    actions: tuple[str, ...]
    sizes: tuple[tuple[str, float], ...]
    minutes: float
    chance: float
    left: tuple[float, ...]

    @property
    def suffices(self) -> bool:
        """Whether the chance is high enough."""
        return self.chance >= ENOUGH


def _names(situation: Situation) -> tuple[str, ...]:
    names = ["stop", "index", "shim"]
    if not situation.same_ring:
        names += ["grind", "new_set"]
    return tuple(names)


def offers(situation: Situation, costs: ActionCosts | None = None, seed: int = 9) -> tuple[Offer, ...]:
    """Every sensible subset with its chance, cheapest that suffices first; where none does, the best first."""
    price = costs if costs is not None else ActionCosts()
    rng = np.random.default_rng(seed)
    root = np.linalg.cholesky(situation.cov + 1e-12 * np.eye(situation.mean.size))
    noise = rng.standard_normal((DRAWS, situation.mean.size)) @ root.T
    found = []
    names = _names(situation)
    for size in range(len(names) + 1):
        for chosen in itertools.combinations(names, size):
            if "new_set" in chosen and ("grind" in chosen or "shim" in chosen):
                continue
            found.append(_offer(situation, chosen, price, noise))
    good = sorted((o for o in found if o.suffices), key=lambda o: (o.minutes, -o.chance))
    rest = sorted((o for o in found if not o.suffices), key=lambda o: (-round(o.chance, 3), o.minutes))
    return (*good, *rest)


def _offer(s: Situation, chosen: tuple[str, ...], price: ActionCosts, noise: Array) -> Offer:
    sizes, left = _best_sizes(s, chosen)
    lobes = s.lobes
    if "index" in chosen:
        lobes *= INDEX_FACTOR
    if "new_set" in chosen:
        lobes = 0.0
    inside = (np.abs(left + noise) <= s.tolerance).all(axis=1)
    chance = float(inside.mean()) if lobes <= s.lobe_limit + 1e-12 else 0.0
    minutes = sum(float(getattr(price, name)) for name in chosen)
    return Offer(chosen, tuple(sizes), minutes, chance, tuple(float(v) for v in left))


def _best_sizes(s: Situation, chosen: tuple[str, ...]) -> tuple[list[tuple[str, float]], Array]:
    """Sizes with the least largest share of tolerance, then the least total; and the mean error they leave."""
    n = s.mean.size
    columns: list[Array] = []
    names: list[str] = []
    bounds: list[tuple[float | None, float | None]] = []
    if "stop" in chosen:
        columns.append(np.ones(n))
        names.append("stop")
        bounds.append((0.0, s.stretch_left) if s.same_ring else (-5.0, s.stretch_left))
    if "shim" in chosen:
        columns.append(s.axis)
        names.append("shim")
        bounds.append((-s.shim_cap, s.shim_cap))
    if "grind" in chosen or "new_set" in chosen:
        for k in range(n):
            columns.append(np.eye(n)[k])
            names.append(f"{'grind' if 'grind' in chosen else 'cut'} station {k + 1}")
            # metal comes off: a station can be made smaller by grinding, bigger only by a new set
            bounds.append((-2.0 * s.stock, 0.0) if "grind" in chosen else (-5.0, 5.0))
    if not columns:
        return [], s.mean.copy()
    a = np.column_stack(columns)
    m = len(names)
    # unknowns: sizes, their absolute values, largest share; the price on sizes only breaks ties
    up = np.hstack((a, np.zeros((n, m)), -s.tolerance[:, None]))
    down = np.hstack((-a, np.zeros((n, m)), -s.tolerance[:, None]))
    eye = np.eye(m)
    size_up = np.hstack((eye, -eye, np.zeros((m, 1))))
    size_down = np.hstack((-eye, -eye, np.zeros((m, 1))))
    found = optimize.linprog(
        np.concatenate((np.zeros(m), np.full(m, 1e-4), [1.0])), A_ub=np.vstack((up, down, size_up, size_down)),
        b_ub=np.concatenate((-s.mean, s.mean, np.zeros(2 * m))),
        bounds=[*bounds, *[(0.0, None)] * m, (0.0, None)], method="highs-ds",
    )  # fmt: skip
    x = np.asarray(found.x[:m])
    return list(zip(names, (float(v) for v in x), strict=True)), np.asarray(s.mean + a @ x)
