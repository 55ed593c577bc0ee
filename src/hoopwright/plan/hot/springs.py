"""The spring plate: stiffness by bare beam, curved bar and plate; loads cold, hot and at the worst corner; stress; free
height; load test. The plate leads, the others stand beside it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.design.shapes import SpringPlate
from hoopwright.findings import Figure, Finding, gravest_first
from hoopwright.kernels.spring_finger import large_deflection
from hoopwright.kernels.stack_variation import StackResult, Varies, sampled, stack
from hoopwright.plan.hot.dished import plan_dished
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.spring_figures import (
    height_figures,
    load_figures,
    load_test_limits,
    stiffness_figure,
    stress_figures,
)
from hoopwright.plan.hot.spring_findings import asked, load_findings, stress_findings
from hoopwright.plan.hot.spring_form import (
    SpringForm,
    force_stress,
    loss_of,
    plate_of,
    spring_form,
)
from hoopwright.plan.hot.spring_hand import hand_figures
from hoopwright.plan.hot.spring_set import set_figure

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Springs:
    """Figures, findings and the stacks of the spring plate. form : what was reckoned; None without a spring plate."""

    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    form: SpringForm | None = None
    load: StackResult | None = None
    stress: StackResult | None = None
    curve: tuple[tuple[float, float, float], ...] = ()


def plan_springs(job: HotJob) -> Springs:
    """Everything about the spring plate."""
    spring = job.liner.spring_plate
    if spring is None:
        return Springs((), ())
    if spring.rim_dish_mm is not None:
        told, said_of, bent = plan_dished(job, spring, spring.rim_dish_mm)
        return Springs(tuple(told), said_of, curve=bent)
    card = job.metal(spring.material)
    form = spring_form(job, spring)
    figures: list[Figure] = []
    findings = list(asked(job, spring))
    cold_E, hot_E, nu = card.young_modulus_MPa(), card.young_modulus_MPa(spring.metal_degC), card.poisson()
    hand_figures(job, spring, figures, cold_E, hot_E)
    stiff = stiffness_figure(job, spring, form, figures, cold_E, nu)
    model, loss, spread, said = loss_of(spring)
    ratio = hot_E.value / cold_E.value
    n = len(form.fingers_deg)
    per_force = force_stress(form, plate_of(form, cold_E.value, nu.value))
    varies = _varies(spring, loss, spread, model is not None)

    def hot_load(x: Vector) -> Vector:
        return np.asarray(stiff.value * ratio * (x[:, 1] / spring.thickness_mm) ** 3 * (1.0 - x[:, 2]) * x[:, 0])

    def stress(x: Vector) -> Vector:
        return np.asarray(stiff.value / n * per_force * (x[:, 1] / spring.thickness_mm) * x[:, 0])

    load, strained = stack(hot_load, varies), stack(stress, varies)
    drawn = sampled(hot_load, varies, 20_000, 3)
    cold = sampled(lambda x: stiff.value * (x[:, 1] / spring.thickness_mm) ** 3 * x[:, 0], varies, 20_000, 5)
    load_figures(job, spring, figures, stiff, ratio, loss, said, load, drawn, cold)
    stress_figures(job, spring, figures, strained, per_force, stiff, sampled(stress, varies, 20_000, 4))
    findings += load_findings(spring, figures, load, drawn)
    findings += stress_findings(job, spring, strained.high, card)
    findings += set_figure(job, spring, form, figures, cold_E, nu, card)
    figures += height_figures(job, spring)
    load_test_limits(job, spring, figures, findings, stiff, ratio, loss, per_force, n, card)
    if model is not None and (model.curved or loss > 0.2):
        findings.append(
            Finding(
                "caution",
                f"{spring.id}: the relaxation readings bend in log time or pass 20 %: that is creep, the carried "
                "value is no "
                "forecast.",
                "test to the service time, or lower temperature or stress",
                f"{spring.id}/spring/loss",
                "creep",
            )
        )

    def slid(d: float) -> float:
        """Tips slide through their contact circle as they bend."""
        return 1.0 + large_deflection(min(d / spring.finger_length_mm, 0.2))

    curve = tuple(
        (
            d,
            stiff.value * slid(d) * d,
            stiff.value * slid(d) * ratio * max(0.0, d - loss * spring.preload_deflection_mm),
        )
        for d in np.linspace(0.0, 1.4 * spring.preload_deflection_mm, 15).tolist()
    )
    return Springs(tuple(figures), gravest_first(findings), form, load, strained, curve)


def _varies(spring: SpringPlate, loss: float, spread: float, tested: bool) -> list[Varies]:
    wide = min(loss, 2.0 * spread) if tested else 0.0
    d, t = spring.preload_deflection_tolerance_mm, spring.thickness_tolerance_mm
    return [
        Varies("deflection", spring.preload_deflection_mm, d, d),
        Varies("thickness", spring.thickness_mm, t, t),
        Varies("relaxation", loss, wide, wide, ""),
    ]
