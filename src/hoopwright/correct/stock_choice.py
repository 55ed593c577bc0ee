"""Which serials of the stock make one liner, and which of them to stretch: swapping first, fewest stretches next.

Parts that meet in laps form a path. A state of a part is a serial with a stretch on a grid; states of neighbours meet
in a lap. Exact on the grid: for each number of stretched rings, the largest smallest margin along the path (dynamic
programme), the smallest number with which every limit holds, then the largest sum of margins at that floor. The
stretches of the chosen serials are then freed from the grid by the coupled choice (`correct.fits`).

Margins [1]: distance to the nearer limit over half the width, 1 in the middle, 0 on a limit. A part that is not
stretched has only to hold its limits; one that is stretched counts with its margin.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.correct.fits import FitRule, controls_of_part, lap_control
from hoopwright.design.shapes import ControlSize, Joint, Liner
from hoopwright.errors import InputError, require_range
from hoopwright.kernels.wayback.serials import disjoint_paths

Array = NDArray[np.float64]
STEP_MM = 0.005
WORTH = 0.1
"""One more stretch is offered where it lifts the smallest margin by more than this."""

HOLDS = -1e-9


@dataclass(frozen=True, slots=True)
class Stocked:
    """A serial of the stock with its measured control sizes by name [mm]."""

    serial: str
    part: str
    sizes: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class SerialChoice:
    """Serials along the path, with the stretch of each on the grid [mm]; smallest margin [1]; whether all holds."""

    parts: tuple[str, ...]
    serials: tuple[str, ...]
    stretch_mm: tuple[float, ...]
    smallest: float

    @property
    def feasible(self) -> bool:
        """Whether every limit holds."""
        return self.smallest >= HOLDS

    @property
    def stretched(self) -> int:
        """How many of them are stretched."""
        return sum(x > 0.0 for x in self.stretch_mm)


def chain_of(liner: Liner, parts: Sequence[str]) -> tuple[tuple[str, ...], tuple[Joint, ...]]:
    """Parts in the order in which they meet, and the laps between them.

    Raises
    ------
    InputError
        They do not form one path.
    """
    laps = [j for j in liner.joints if j.outer in parts and j.inner in parts]
    meet = {p: [j for j in laps if p in (j.outer, j.inner)] for p in parts}
    ends = [p for p in parts if len(meet[p]) == 1]
    if len(laps) != len(parts) - 1 or len(ends) != 2 or any(not 1 <= len(m) <= 2 for m in meet.values()):
        must = "parts that meet one after another in laps"
        raise InputError("parts", ", ".join(parts), "", must, "name the parts of one stack, none left out between")
    order, joints = [ends[0]], []
    while len(order) < len(parts):
        lap = next(j for j in meet[order[-1]] if j not in joints)
        joints.append(lap)
        order.append(lap.inner if lap.outer == order[-1] else lap.outer)
    return tuple(order), tuple(joints)


@dataclass(frozen=True, slots=True, eq=False)
class _States:
    """States of a part: number of the serial, stretch, own margin; faces by control name, shape (state,)."""

    serial: NDArray[np.int64]
    stretch: Array
    own: Array
    faces: Mapping[str, Array]


def _states(liner: Liner, part: str, stock: Sequence[Stocked], rule: FitRule, step: float) -> _States:
    controls = controls_of_part(liner, part)
    is_ring = part in {r.id for r in liner.rings}
    serial, stretch, own = [], [], []
    faces: dict[str, list[float]] = {c.name: [] for c in controls}
    for n, one in enumerate(stock):
        known = [c for c in controls if c.name in one.sizes]
        most = rule.largest_stretch_mm if is_ring else 0.0
        for k in range(int(most / step + 1e-9) + 1):
            x = k * step
            margin = min((_margin(one.sizes[c.name] + x, c) for c in known), default=np.inf)
            if k and margin < HOLDS:
                # past an upper limit, or still short of a lower one: only the unstretched state may fail
                if any(one.sizes[c.name] + x > c.diameter_mm + c.tolerance_mm for c in known):
                    break
                continue
            serial.append(n)
            stretch.append(x)
            own.append(margin if k or margin < HOLDS else np.inf)
            for c in controls:
                faces[c.name].append(one.sizes[c.name] + x if c.name in one.sizes else np.nan)
    return _States(np.array(serial), np.array(stretch), np.array(own), {k: np.array(v) for k, v in faces.items()})


def _margin(value: float, control: ControlSize) -> float:
    return (control.tolerance_mm - abs(value - control.diameter_mm)) / control.tolerance_mm


def _lap_margins(liner: Liner, joint: Joint, first: str, one: _States, two: _States, rule: FitRule) -> Array:
    """Margins of a lap, shape (state of the first part, state of the second)."""
    faces = []
    for part, states in ((first, one), (joint.inner if joint.outer == first else joint.outer, two)):
        name = lap_control(liner, part, joint).name
        if np.isnan(states.faces[name]).any():
            raise InputError(
                f"{part} {name}", "not measured", "", f"measured on every serial, for {joint.id}", "measure it"
            )
        faces.append(states.faces[name])
    outer, inner = (
        (faces[0][:, None], faces[1][None, :]) if joint.outer == first else (faces[1][None, :], faces[0][:, None])
    )
    gap = 0.5 * (outer - inner)
    half = 0.5 * (rule.gap_high_mm - rule.gap_low_mm)
    return np.asarray(np.minimum(gap - rule.gap_low_mm, rule.gap_high_mm - gap) / half)


def choose_serials(
    liner: Liner, stock: Sequence[Stocked], rule: FitRule | None = None, step_mm: float = STEP_MM
) -> tuple[SerialChoice, ...]:
    """Serials for one liner, fewest stretches first; then with one more where that is worth it.

    Parameters
    ----------
    stock : every serial there is to choose from, of parts that form one path.
    step_mm : grid of the stretches.

    Returns
    -------
    tuple of SerialChoice
        Where nothing makes every limit hold, the best there is, and it is not `feasible`.
    """
    used = rule if rule is not None else FitRule()
    step = require_range("step of the stretches", step_mm, 1e-4, 1.0, "mm")
    parts, joints = chain_of(liner, tuple(dict.fromkeys(s.part for s in stock)))
    own = {p: [s for s in stock if s.part == p] for p in parts}
    states = [_states(liner, p, own[p], used, step) for p in parts]
    tables = [
        np.minimum(_lap_margins(liner, j, parts[k], states[k], states[k + 1], used), states[k + 1].own[None, :])
        for k, j in enumerate(joints)
    ]
    tables[0] = np.minimum(tables[0], states[0].own[:, None])
    floors = _floors(tables, [s.stretch > 0.0 for s in states])
    good = [c for c, floor in enumerate(floors) if floor >= HOLDS]
    counts = [good[0]] if good else [int(np.argmax(floors))]
    if good and good[0] + 1 < len(floors) and floors[good[0] + 1] > floors[good[0]] + WORTH:
        counts.append(good[0] + 1)
    found = []
    for count in counts:
        path = _path(tables, [s.stretch for s in states], count, floors[count])
        serials = tuple(own[p][int(s.serial[n])].serial for p, s, n in zip(parts, states, path, strict=True))
        stretch = tuple(float(s.stretch[n]) for s, n in zip(states, path, strict=True))
        found.append(SerialChoice(parts, serials, stretch, floors[count]))
    return tuple(found)


def _floors(tables: Sequence[Array], moved: Sequence[NDArray[np.bool_]]) -> list[float]:
    """Largest smallest margin with exactly c parts stretched, for each c [1]."""
    most = len(moved)
    reach = np.full((most + 1, moved[0].size), -np.inf)
    reach[0, ~moved[0]] = np.inf
    reach[1, moved[0]] = np.inf
    for table, now in zip(tables, moved[1:], strict=True):
        ahead = np.stack([np.minimum(row[:, None], table).max(axis=0) for row in reach])
        reach = np.full((most + 1, now.size), -np.inf)
        reach[:, ~now] = ahead[:, ~now]
        reach[1:, now] = ahead[:-1, now]
    return [float(row.max()) for row in reach]


def _path(tables: Sequence[Array], stretch: Sequence[Array], count: int, floor: float) -> list[int]:
    """States of the path with `count` stretched parts, every margin at the floor or above, of the largest sum.

    A thousandth of the stretch is taken off, so that of equal sums the lesser stretch is taken.
    """
    score = np.full((count + 1, stretch[0].size), -np.inf)
    moved = stretch[0] > 0.0
    score[0, ~moved] = 0.0
    if count:
        score[1, moved] = -1e-3 * stretch[0][moved]
    back: list[NDArray[np.int64]] = []
    for table, x in zip(tables, stretch[1:], strict=True):
        gain = np.where(table >= floor - 1e-12, np.minimum(table, 1.0), -np.inf)
        sums = score[:, :, None] + gain[None]
        came, best = sums.argmax(axis=1), sums.max(axis=1)
        now = x > 0.0
        score = np.full((count + 1, x.size), -np.inf)
        score[:, ~now] = best[:, ~now]
        score[1:, now] = best[:-1, now] - 1e-3 * x[now]
        back.append(came)
    chosen = [int(score[count].argmax())]
    left = count
    for came, x in zip(reversed(back), reversed(stretch[1:]), strict=True):
        left -= int(x[chosen[-1]] > 0.0)
        chosen.append(int(came[left, chosen[-1]]))
    return chosen[::-1]


def choose_for_liners(
    liner: Liner, stock: Sequence[Stocked], liners: int, rule: FitRule | None = None
) -> tuple[SerialChoice, ...]:
    """Serials for several liners at once, no serial twice, none stretched: the worst lap of all as good as can be."""
    used = rule if rule is not None else FitRule()
    parts, joints = chain_of(liner, tuple(dict.fromkeys(s.part for s in stock)))
    own = {p: [s for s in stock if s.part == p] for p in parts}
    still = FitRule(used.gap_low_mm, used.gap_high_mm, 0.0)
    states = [_states(liner, p, own[p], still, STEP_MM) for p in parts]
    tables = [
        np.minimum(np.minimum(_lap_margins(liner, j, parts[k], states[k], states[k + 1], used),
                              np.minimum(states[k + 1].own, 1.0)[None, :]), np.minimum(states[k].own, 1.0)[:, None])
        for k, j in enumerate(joints)
    ]  # fmt: skip
    paths = disjoint_paths(tables, liners)
    return tuple(
        SerialChoice(
            parts, tuple(own[p][n].serial for p, n in zip(parts, path.serials, strict=True)), (0.0,) * len(parts),
            path.smallest,
        )
        for path in paths
    )  # fmt: skip
