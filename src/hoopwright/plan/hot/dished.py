"""A dished rim as the spring: it stands on its outer edge all round, the section kernel presses its inner edge."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.alloy import Alloy
from hoopwright.design.shapes import SpringPlate
from hoopwright.findings import Band, Figure, Finding, Input, Source, gravest_first, weakest
from hoopwright.kernels.flow import voce
from hoopwright.kernels.section import Metal
from hoopwright.kernels.spring_disc import DiscSpring, disc_force
from hoopwright.kernels.spring_pressed import PressedDisc, elastic_metal, pressed_disc
from hoopwright.kernels.stack_variation import Varies, sampled, stack
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.spring_figures import height_figures
from hoopwright.plan.hot.spring_findings import load_findings, relaxation_asked, stress_findings
from hoopwright.plan.hot.spring_form import loss_of, yield_of
from hoopwright.process.working import reckoned, stated

Vector = NDArray[np.float64]

SAMPLES, CURVE_POINTS = 20_000, 41
KERNEL = Source("derived", "section kernel, knife edges")


class Dished:
    """The rim at three thicknesses (least, drawn, greatest), pressed to the deepest corner."""

    def __init__(self, spring: SpringPlate, height: float, young: float, metal: Metal) -> None:
        t, dt = spring.thickness_mm, spring.thickness_tolerance_mm
        self.sheets = np.array([t - dt, t, t + dt]) if dt > 0.0 else np.array([t])
        self.deepest = spring.preload_deflection_mm + spring.preload_deflection_tolerance_mm
        outer, inner = 2.0 * spring.rim_rho_to_mm, 2.0 * spring.rim_rho_from_mm
        discs = [DiscSpring(outer, inner, float(sheet), height) for sheet in self.sheets]
        self.runs: list[PressedDisc] = [pressed_disc(disc, metal, self.deepest) for disc in discs]
        middle = discs[len(discs) // 2]
        self.nominal = pressed_disc(middle, metal, spring.preload_deflection_mm)
        self.elastic = pressed_disc(middle, elastic_metal(young, metal.poisson), self.deepest)

    def load(self, deflection: Vector, thickness: Vector) -> Vector:
        """Cold load: straight between increments, a parabola through the three sheets. [N]"""
        rows = np.array([np.interp(deflection, run.deflection, run.force) for run in self.runs])
        if self.sheets.size == 1:
            return np.asarray(rows[0])
        total = np.zeros_like(rows[0])
        for k, own in enumerate(self.sheets):
            others = [x for j, x in enumerate(self.sheets) if j != k]
            share = (thickness - others[0]) * (thickness - others[1]) / ((own - others[0]) * (own - others[1]))
            total += share * rows[k]
        return np.asarray(total)

    @property
    def stress(self) -> float:
        """Greatest stress of the corners. [MPa]"""
        return max(run.stress for run in self.runs)

    @property
    def set(self) -> float:
        """Greatest height lost of the corners. [mm]"""
        return max(run.set for run in self.runs)


def plan_dished(
    job: HotJob, spring: SpringPlate, height: float
) -> tuple[list[Figure], tuple[Finding, ...], tuple[tuple[float, float, float], ...]]:
    """Figures, findings and the curve (deflection, cold and hot load) of a dished rim."""
    deepest = spring.preload_deflection_mm + spring.preload_deflection_tolerance_mm
    if deepest > height:
        return [], (_flat(spring, height, deepest),), ()
    card = job.metal(spring.material)
    cold, hot, nu = card.young_modulus_MPa(), card.young_modulus_MPa(spring.metal_degC), card.poisson()
    rim = Dished(spring, height, cold.value, _metal(card, cold.value, nu.value))
    model, loss, spread, said = loss_of(spring)
    wide = min(loss, 2.0 * spread) if model is not None else 0.0
    d, dt, t = spring.preload_deflection_mm, spring.preload_deflection_tolerance_mm, spring.thickness_tolerance_mm
    varies = [
        Varies("deflection", d, dt, dt),
        Varies("thickness", spring.thickness_mm, t, t),
        Varies("relaxation", loss, wide, wide, ""),
    ]
    ratio = hot.value / cold.value

    def hot_load(x: Vector) -> Vector:
        # samples run past the corners the kernel was run to; there the load stays level
        return np.asarray(ratio * rim.load(x[:, 0] * (1.0 - x[:, 2]), x[:, 1]))

    load = stack(hot_load, varies)
    drawn = sampled(hot_load, varies, SAMPLES, 3)
    given = job.source("spring plate")
    cold_drawn = sampled(lambda x: rim.load(x[:, 0], x[:, 1]), varies, SAMPLES, 5)
    figures = _figures(spring, height, rim, cold, nu, loss, given, _drawn_band(cold_drawn))
    figures += height_figures(job, spring)
    share = 100.0 * float(np.mean(drawn >= spring.load_min_hot_N))
    base = (
        Input("q", "modulus hot over cold", ratio, "", weakest([cold.source, hot.source])),
        Input("s", "share lost by relaxation", loss, "", given if model is None else Source("measured", said)),
    )
    d_in = Input("d", "deflection at assembly", d, "mm", given)
    figures.append(
        reckoned(
            f"{spring.id}/spring/load-hot", "hot load on a washer, relaxed", load.nominal, "N", "q F ( d - s d )",
            d_in, *base, Input("F", "load of the dished rim there", load.nominal / ratio, "N", KERNEL), digits=1,
            band=replace(_drawn_band(drawn), inside_pct=share), note=said,
        )
    )  # fmt: skip
    figures += _test_limits(spring, rim, ratio, loss, base)
    ranked = "; ".join(f"{one.name} {100.0 * one.worst_share:.0f} %" for one in load.shares)
    figures.append(
        reckoned(
            f"{spring.id}/spring/load-hot-worst", "hot load on a washer at the worst corner", load.low, "N",
            "q F ( d - s d )", Input("d", "deflection", load.low_corner[0], "mm", given), *base,
            Input("F", "load of the dished rim there", load.low / ratio, "N", KERNEL), digits=2,
            note=f"contributors: {ranked}; root-sum-square {load.rss_low:.2f} N",
        )
    )  # fmt: skip
    findings = [*relaxation_asked(spring), *load_findings(spring, figures, load, drawn)]
    findings += stress_findings(job, spring, rim.stress, card)
    findings += _set_finding(spring, rim) + _snap_finding(spring, figures[0])
    curve = tuple(
        (float(x), float(rim.elastic.at(x)), float(ratio * rim.elastic.at(x - loss * d)))
        for x in np.linspace(0.0, deepest, CURVE_POINTS)
    )
    return figures, gravest_first(findings), curve


def _drawn_band(drawn: Vector) -> Band:
    low, high = (float(v) for v in np.quantile(drawn, [0.05, 0.95]))
    return Band(low, high, f"{SAMPLES} samples, tolerances as 3 sd")


def _metal(card: Alloy, young: float, poisson: float) -> Metal:
    limit = yield_of(card)
    if limit is None:
        return elastic_metal(young, poisson)
    # hardening of aged strip is on no card: as good as none
    return Metal(voce(limit.value, 1e-3 * limit.value, 20.0), young, poisson)


def _figures(
    spring: SpringPlate, height: float, rim: Dished, cold: Figure, nu: Figure, loss: float, given: Source, band: Band
) -> list[Figure]:
    d = spring.preload_deflection_mm
    step = 0.02 * d
    slope = (rim.elastic.at(d + step) - rim.elastic.at(d - step)) / (2.0 * step)
    base = (
        Input("h", "free height of the dished rim", height, "mm", given),
        Input("t", "thickness", spring.thickness_mm, "mm", given),
        Input("d", "deflection at assembly", d, "mm", given),
        cold.as_input("E"),
    )
    name = spring.id
    disc = DiscSpring(2.0 * spring.rim_rho_to_mm, 2.0 * spring.rim_rho_from_mm, spring.thickness_mm, height)
    table = disc_force(disc, cold.value, nu.value, d)
    return [
        reckoned(f"{name}/spring/stiffness", "stiffness of the dished rim at assembly", slope, "N_per_mm", "dF / dd",
                 *base, Input("F", "load", rim.elastic.at(d), "N", KERNEL), digits=2, note="falls on the way to flat"),
        stated(f"{name}/spring/loss", "load lost by relaxation", 100.0 * loss, "pct", given, 1),
        reckoned(f"{name}/spring/load-cold", "cold load on a washer", float(rim.nominal.force[-1]), "N",
                 "F ( h , t , d , E )", *base, digits=1, band=band),
        reckoned(f"{name}/by-hand/load-cold", "cold load by the table formula of disc springs", table, "N",
                 "F ( h , t , d , E , nu )", *base, nu.as_input("nu"), digits=1,
                 note="carries 1 / ( 1 - nu^2 ), which free edges do not have"),
        reckoned(f"{name}/spring/stress", "greatest stress of the dished rim", rim.nominal.stress, "MPa",
                 "s ( h , t , d , E )", *base, digits=0),
        reckoned(f"{name}/spring/stress-worst", "greatest stress at the worst corner", rim.stress, "MPa",
                 "s ( h , t , d , E )", *base, digits=0, note="thickest sheet, deepest deflection"),
        reckoned(f"{name}/spring/set", "height lost at the first press to the worst corner", rim.set, "mm",
                 "h - h_after", base[0], Input("h_after", "after release", height - rim.set, "mm", KERNEL), digits=3),
    ]  # fmt: skip


def _test_limits(spring: SpringPlate, rim: Dished, ratio: float, loss: float, base: tuple[Input, ...]) -> list[Figure]:
    """Cold load at the working height that is enough when hot and relaxed, and that of the thickest sheet drawn."""
    d, sheet = np.array([spring.preload_deflection_mm]), np.array([spring.thickness_mm])
    kept = float(rim.load(d * (1.0 - loss), sheet)[0] / rim.load(d, sheet)[0])
    low = spring.load_min_hot_N / (ratio * kept)
    high = float(rim.load(d, np.array([rim.sheets[-1]]))[0])
    least = Input("F", "least hot load", spring.load_min_hot_N, "N", KERNEL)
    return [
        reckoned(f"{spring.id}/spring/test-low", "load test at working height, cold, least", low, "N", "F / ( q k )",
                 least, *base, Input("k", "load kept when the set is taken off", kept, "", KERNEL), digits=1),
        reckoned(f"{spring.id}/spring/test-high", "load test at working height, cold, greatest", high, "N",
                 "F ( t + dt )", Input("t", "thickest sheet drawn", float(rim.sheets[-1]), "mm", KERNEL), digits=1,
                 note="more says that sheet or dish are not as drawn"),
    ]  # fmt: skip


def _set_finding(spring: SpringPlate, rim: Dished) -> list[Finding]:
    if rim.set <= 0.0005:
        return []
    return [
        Finding(
            "caution",
            f"{spring.id}: the dished rim takes a set of {rim.set:.3f} mm at the first press to the worst corner.",
            "form it higher by the set, or press it once before the load test",
            f"{spring.id}/spring/set",
            "spring-set",
            "its edge yields; cold pressing after ageing costs load when hot (read second hand)",
        )
    ]


def _snap_finding(spring: SpringPlate, slope: Figure) -> list[Finding]:
    if slope.value > 0.0:
        return []
    return [
        Finding(
            "note",
            f"{spring.id}: the load of the dished rim falls as it is pressed past its assembly height.",
            "dish it less where the load must not fall with the deflection",
            slope.identity,
            "rim-snaps",
            f"{slope.value:.1f} N/mm there; a dish of more than 1.4 thicknesses has such a range (table formula)",
        )
    ]


def _flat(spring: SpringPlate, height: float, deepest: float) -> Finding:
    return Finding(
        "stop",
        f"{spring.id}: the deflection reaches {deepest:.2f} mm, the dished rim is {height:g} mm high: it lies flat.",
        "dish the rim deeper, or press it less",
        f"{spring.id}/spring/stiffness",
        "rim-flat",
    )
