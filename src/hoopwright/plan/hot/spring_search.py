"""Other forms of the spring plate, judged at the worst corner: fewest changes first, then the smallest."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from hoopwright.design.shapes import SpringPlate
from hoopwright.errors import HoopwrightError, NotConverged
from hoopwright.kernels.spring_disc import DiscSpring, disc_force
from hoopwright.kernels.spring_pressed import elastic_metal, pressed_disc
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.spring_form import SpringForm, force_stress, loss_of, plate_of, spring_form, yield_of

COARSE = 4
"""Cells across half a finger in the search; 1 % under the fine mesh."""
THICKNESS_STEP_MM, DEFLECTION_STEP_MM = 0.02, 0.05
SHOWN = 8


@dataclass(frozen=True, slots=True)
class Alternative:
    """A form with its worst case. changes : what differs from the drawing, in words; cost : sum of relative changes."""

    changes: tuple[str, ...]
    form: SpringForm
    deflection_mm: float
    stiffness_N_per_mm: float
    load_hot_N: float
    load_hot_worst_N: float
    stress_worst_MPa: float
    cost: float


@dataclass(frozen=True, slots=True)
class _Base:
    spring: SpringPlate
    form: SpringForm
    young: float
    poisson: float
    ratio: float
    loss: float
    stress_max: float


def spring_alternatives(job: HotJob) -> tuple[Alternative, ...]:
    """Forms whose hot load at the worst corner reaches what is asked for, within the stress allowed.

    Varied: deflection, thickness, finger width, number of fingers, place and width of legs. Every form is reckoned by
    the
    plate model; thickness and deflection scale it exactly (cube and line).
    """
    spring = job.liner.spring_plate
    if spring is None:
        return ()
    card = job.metal(spring.material)
    limit = yield_of(card)
    if limit is None:
        return ()
    cold, hot = card.young_modulus_MPa().value, card.young_modulus_MPa(spring.metal_degC).value
    top = job.limits.spring_stress_share_max.value * limit.value
    base = _Base(spring, spring_form(job, spring), cold, card.poisson().value, hot / cold, loss_of(spring)[1], top)
    found: list[Alternative] = []
    for changes, form, cost in _forms(base):
        one = _best(base, changes, form, cost)
        found += [one] if one is not None else []
    found.sort(key=lambda a: (len(a.changes), a.cost))
    dished = dished_rim(base.spring, base.young, base.poisson, base.ratio, base.loss, base.stress_max)
    return (*found[: SHOWN - len(dished)], *dished)


def dished_rim(
    spring: SpringPlate, young: float, poisson: float, ratio: float, loss: float, stress_max: float
) -> tuple[Alternative, ...]:
    """The lowest dished rim, standing all round, that holds at its worst corner; sheets up to that drawn. None at most.

    Sheets and heights are gone through by the table formula, then judged by the section kernel.
    """
    d, tol, dt = spring.preload_deflection_mm, spring.preload_deflection_tolerance_mm, spring.thickness_tolerance_mm
    metal = elastic_metal(young, poisson)
    outer, inner = 2.0 * spring.rim_rho_to_mm, 2.0 * spring.rim_rho_from_mm
    share = 1.0 - poisson**2
    for height in np.arange(math.ceil(20.0 * (d + tol)) / 20.0, 2.0 * (d + tol), DEFLECTION_STEP_MM).tolist():
        for sheet in np.arange(0.5 * spring.thickness_mm, spring.thickness_mm + 1e-9, THICKNESS_STEP_MM).tolist():
            low_t, high_t = sheet - dt, sheet + dt
            if low_t <= 0.0:
                continue
            first = share * disc_force(
                DiscSpring(outer, inner, low_t, height), young, poisson, (d - tol) * (1.0 - loss)
            )
            if ratio * first < 0.95 * spring.load_min_hot_N:
                continue
            try:
                low, middle, high = (
                    pressed_disc(DiscSpring(outer, inner, t, height), metal, d + tol) for t in (low_t, sheet, high_t)
                )
            except NotConverged:
                continue
            ways = [(d - tol) * (1.0 - loss), d * (1.0 - loss), (d + tol) * (1.0 - loss)]
            worst = ratio * min(low.at(way) for way in ways)
            stress = high.stress
            if worst < spring.load_min_hot_N or stress > stress_max:
                continue
            stiff = (middle.at(1.02 * d) - middle.at(0.98 * d)) / (0.04 * d)
            words = (f"dished rim {height:.2f} mm high, no fingers", f"sheet {sheet:.2f} mm")
            form = replace(_dish_form(spring), thickness_mm=sheet)
            return (Alternative(words, form, d, stiff, ratio * middle.at(ways[1]), worst, stress, 2.0),)
    return ()


def _dish_form(spring: SpringPlate) -> SpringForm:
    return SpringForm(
        spring.thickness_mm, spring.finger_width_mm, spring.finger_length_mm, spring.rim_rho_from_mm,
        spring.rim_rho_to_mm, (), (), 0.0, 0.0,
    )  # fmt: skip


def _forms(base: _Base) -> Iterator[tuple[tuple[str, ...], SpringForm, float]]:
    """Forms to look at: the drawing's, others in one way, and pairs of legs behind with the rest."""
    form = base.form
    behind = tuple(form.fingers_deg)
    between = len(form.legs_deg) == len(form.fingers_deg) and not np.allclose(sorted(form.legs_deg), sorted(behind))
    singles: list[tuple[str, SpringForm, float]] = []
    if between:
        singles.append(("legs behind the fingers", replace(form, legs_deg=behind), 0.5))
    for width in (1.2, 1.4, 1.6):
        wide = round(width * form.finger_width_mm, 1)
        singles.append((f"fingers {wide:g} mm wide", replace(form, finger_width_mm=wide), width - 1.0))
    for leg in (10.0, 16.0):
        if leg > form.leg_width_mm:
            singles.append((f"legs {leg:g} mm wide", replace(form, leg_width_mm=leg), 0.3))
    for count in (len(form.fingers_deg) + 1, len(form.fingers_deg) + 2):
        turn = 360.0 / count
        shift = 0.5 * turn if between else 0.0
        angles = tuple(form.fingers_deg[0] + turn * k for k in range(count))
        legs = tuple(a + shift for a in angles)
        singles.append((f"{count} fingers and legs", replace(form, fingers_deg=angles, legs_deg=legs), 0.6))
    yield (), form, 0.0
    for name, one, cost in singles:
        yield (name,), one, cost
    if between:
        for name, one, cost in singles[1:]:
            yield ("legs behind the fingers", name), replace(one, legs_deg=one.fingers_deg), cost + 0.5


def _best(base: _Base, changes: tuple[str, ...], form: SpringForm, cost: float) -> Alternative | None:
    """The smallest change of thickness and deflection that brings this form to its worst-case load."""
    try:
        plate = plate_of(form, base.young, base.poisson, COARSE)
        unit, stress = plate.stiffness, force_stress(form, plate)
    except HoopwrightError:
        return None
    spring, n = base.spring, len(form.fingers_deg)
    best: Alternative | None = None
    for thick in np.arange(form.thickness_mm, 2.01 * form.thickness_mm, THICKNESS_STEP_MM).tolist():
        low_t, high_t = thick - spring.thickness_tolerance_mm, thick + spring.thickness_tolerance_mm
        for bend in np.arange(
            spring.preload_deflection_mm, 2.01 * spring.preload_deflection_mm, DEFLECTION_STEP_MM
        ).tolist():
            d_low, d_high = bend - spring.preload_deflection_tolerance_mm, bend + spring.preload_deflection_tolerance_mm
            hot = n * unit * base.ratio * (1.0 - base.loss)
            worst = hot * (low_t / form.thickness_mm) ** 3 * d_low
            high = unit * stress * high_t / form.thickness_mm * d_high
            if worst < spring.load_min_hot_N or high > base.stress_max:
                continue
            said = list(changes)
            if thick > form.thickness_mm + 1e-9:
                said.append(f"sheet {thick:.2f} mm")
            if bend > spring.preload_deflection_mm + 1e-9:
                said.append(f"deflection {bend:.2f} mm")
            total = cost + (thick / form.thickness_mm - 1.0) + (bend / spring.preload_deflection_mm - 1.0)
            rank = (len(said), total)
            if best is None or rank < (len(best.changes), best.cost):
                stiff = n * unit * (thick / form.thickness_mm) ** 3
                best = Alternative(
                    tuple(said),
                    replace(form, thickness_mm=thick),
                    bend,
                    stiff,
                    hot * (thick / form.thickness_mm) ** 3 * bend,
                    worst,
                    high,
                    total,
                )
    return best
