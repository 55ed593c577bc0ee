"""Bands: each linear share against its own closed form, the whole against drawn forward runs, and the edges."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.findings import Band, Figure, Source
from hoopwright.kernels.sizing_weld import scaled
from hoopwright.plan.bands import NINE_IN_TEN, Deviation, banded, hardened, normal_share
from hoopwright.plan.liner_plan import LinerPlan
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.settings import Shift
from hoopwright.plan.walk import walk

GIVEN = Source("given", "test")


def plain(value: float, unit: str = "mm", band: Band | None = None) -> Figure:
    return Figure("a/b", "b", value, unit, GIVEN, band=band)


def test_normal_distribution() -> None:
    assert normal_share(0.0) == 0.5
    assert normal_share(NINE_IN_TEN) == pytest.approx(0.95, abs=1e-12)


def test_band_and_share_inside_by_hand() -> None:
    """sd 0.05 about 10.02, limits 9.9 to 10.1: share Phi(1.6) - Phi(-2.4) = 0.9452 - 0.0082."""
    figure = banded(plain(10.02), {"a/b": Deviation(0.05, 9.9)}, "how", {"a/b": (9.9, 10.1)})
    assert figure.band is not None and figure.band.inside_pct == pytest.approx(93.70, abs=0.01)
    assert figure.band.high - 10.02 == pytest.approx(0.05 * 1.644854)


def test_no_scatter_no_width() -> None:
    assert banded(plain(3.0), {"a/b": Deviation(0.0, 3.0)}, "how", {}).band == Band(3.0, 3.0, "how")
    assert banded(plain(3.0), {}, "how", {}).band is None


def test_a_force_stops_at_nothing_but_a_length_does_not() -> None:
    force = banded(plain(1.0, "kN"), {"a/b": Deviation(2.0, 0.0)}, "how", {}).band
    length = banded(plain(1.0, "mm"), {"a/b": Deviation(2.0, 0.0)}, "how", {}).band
    assert force is not None and force.low == 0.0
    assert length is not None and length.low < 0.0


def test_a_models_own_band_is_widened_by_squares() -> None:
    figure = plain(10.0, "mm", Band(7.0, 13.0, "model"))
    band = banded(figure, {"a/b": Deviation(4.0 / NINE_IN_TEN, 9.0)}, "spread", {}).band
    assert band is not None and band.low == pytest.approx(5.0) and band.high == pytest.approx(15.0)
    assert "model" in band.how and "spread" in band.how


def test_every_band_holds_its_figure(demo: LinerPlan) -> None:
    for plan in demo.rings:
        for figure in plan.figures:
            if figure.band is not None:
                assert figure.band.low <= figure.value <= figure.band.high, figure.identity
                assert math.isfinite(figure.band.low) and math.isfinite(figure.band.high)


def test_control_sizes_carry_the_share_inside_the_drawing(demo: LinerPlan) -> None:
    for plan in demo.rings:
        for control in plan.job.ring.controls:
            figure = plan.figure(f"size/hit-2/free-{control.name.split('_')[0]}-dia")
            assert figure.band is not None and figure.band.inside_pct is not None
            assert 50.0 < figure.band.inside_pct <= 100.0


def test_what_is_set_by_tools_alone_scatters_by_machining_alone(hat: RingPlan) -> None:
    """Loaded inside diameter: 1.645 hypot(2 x 0.005, 2 x 0.02 tan 7 deg x 0.9745) = 0.0182."""
    band = hat.figure("size/hit-2/loaded-land-dia").band
    assert band is not None
    by_hand = NINE_IN_TEN * math.hypot(0.010, 0.04 * math.tan(math.radians(7.0)) * 0.974495)
    assert 0.5 * (band.high - band.low) == pytest.approx(by_hand, rel=1e-3)


def test_cut_length_hardly_moves_the_size(hat: RingPlan) -> None:
    """Size on a fixed tool: 0.3 mm of strip moved the reference ring of the method paper by 0.0023 on diameter."""

    def free_lip(shift: Shift) -> float:
        steps = walk(hat.job, hat.settings, shift)
        last = [step for step in steps if step.kind == "size"][-1]
        return next(f.value for f in last.figures if f.identity.endswith("hit-2/free-lip-dia"))

    assert abs(free_lip(Shift(cut_length_mm=0.3)) - free_lip(Shift())) < 0.004


def drawn_sizes(plan: RingPlan, count: int, seed: int) -> np.ndarray:
    """Free lip of drawn rings: every input drawn from its normal distribution, tools and settings as planned."""
    dice = random.Random(seed)
    job, spread = plan.job, plan.job.spread
    metal, tan = job.metal, math.tan(math.radians(job.limits.pin_half_angle_deg.value))
    found = []
    for _ in range(count):
        flow = hardened(metal.flow, dice.gauss(0.0, spread.hardening_n.value))
        flow = scaled(flow, 1.0 + dice.gauss(0.0, spread.flow_stress_pct.value / 100.0))
        young = metal.youngs_modulus_MPa * (1.0 + dice.gauss(0.0, spread.modulus_pct.value / 100.0))
        sheet = job.thickness_mm.value + dice.gauss(0.0, spread.sheet_thickness_mm.value)
        drawn = replace(
            job,
            metal=replace(metal, flow=flow, youngs_modulus_MPa=young),
            thickness_mm=replace(job.thickness_mm, value=sheet),
        )
        tool = dice.gauss(0.0, spread.segment_radius_mm.value) + dice.gauss(0.0, spread.pin_stop_mm.value) * tan
        shift = Shift(dice.gauss(0.0, spread.cut_length_mm.value), dice.gauss(0.0, spread.weld_shrink_mm.value), tool)
        last = [step for step in walk(drawn, plan.settings, shift) if step.kind == "size"][-1]
        found.append(next(f.value for f in last.figures if f.identity.endswith("hit-2/free-lip-dia")))
    return np.array(found)


@pytest.mark.parametrize("count", [pytest.param(150), pytest.param(3000, marks=pytest.mark.soak)])
def test_linear_band_against_drawn_runs(hat: RingPlan, count: int) -> None:
    """The standard error of a standard deviation of n draws is 1/sqrt(2 n): four are allowed, and 2 % for curvature."""
    band = hat.figure("size/hit-2/free-lip-dia").band
    assert band is not None
    linear = (band.high - band.low) / (2.0 * NINE_IN_TEN)
    sizes = drawn_sizes(hat, count, seed=11)
    assert sizes.std(ddof=1) == pytest.approx(linear, rel=4.0 / math.sqrt(2.0 * count) + 0.02)
    assert sizes.mean() == pytest.approx(
        hat.figure("size/hit-2/free-lip-dia").value, abs=4.0 * linear / math.sqrt(count) + 0.002
    )
