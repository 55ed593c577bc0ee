"""Rigid fits find the motion that was put in, and the held forms are the best of all allowed ones."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import optimize

from hoopwright.errors import InputError
from hoopwright.kernels.point_fit import fit_points
from hoopwright.kernels.profile import Profile, arc, line
from hoopwright.kernels.trace_fit import fit_trace, signed_distances

TH = 2 * np.pi * np.arange(9) / 9
NX, NY = 91 * np.cos(TH), 91 * np.sin(TH)


def moved(scale: float, turn: float, dx: float, dy: float) -> tuple[np.ndarray, np.ndarray]:
    c, s = math.cos(turn), math.sin(turn)
    return scale * (c * NX - s * NY) + dx, scale * (s * NX + c * NY) + dy


def test_shift_turn_and_scale_are_found_again() -> None:
    fit = fit_points(NX, NY, *moved(1.002, 0.01, 0.3, -0.2))
    assert fit.scale_error == pytest.approx(0.002, abs=1e-14)
    assert fit.turn_rad == pytest.approx(0.01, abs=1e-14)
    assert (fit.shift_x, fit.shift_y) == (pytest.approx(0.3, abs=1e-12), pytest.approx(-0.2, abs=1e-12))
    assert fit.worst_position_mm < 1e-12


@pytest.mark.parametrize(
    "free", [("shift",), ("turn",), ("scale",), ("shift", "turn"), ("turn", "scale"), ("shift", "scale")]
)
def test_held_fits_are_the_best_allowed(free: tuple[str, ...]) -> None:
    rng = np.random.default_rng(3)
    mx, my = moved(1.001, 0.004, 0.1, 0.05)
    mx, my = mx + 0.02 * rng.standard_normal(9), my + 0.02 * rng.standard_normal(9)
    fit = fit_points(NX, NY, mx, my, free)
    ours = float((fit.residual_x**2 + fit.residual_y**2).sum())

    def cost(p: np.ndarray) -> float:
        dx, dy = (p[0], p[1]) if "shift" in free else (0.0, 0.0)
        turn = p[2] * 0.01 if "turn" in free else 0.0
        scale = 1 + p[3] * 0.01 if "scale" in free else 1.0
        c, s = math.cos(turn), math.sin(turn)
        return float(((mx - scale * (c * NX - s * NY) - dx) ** 2 + (my - scale * (s * NX + c * NY) - dy) ** 2).sum())

    best = optimize.minimize(
        cost, np.zeros(4), method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-14, "maxiter": 9000}
    )
    assert ours <= best.fun + 1e-12
    assert ours == pytest.approx(best.fun, rel=1e-6)


def section() -> Profile:
    return Profile((line((0, 0), (10, 0)), arc((10, 0), (13, 3), (10, 3), True), line((13, 3), (13, 12)),
                    arc((13, 12), (16, 15), (16, 12), False), line((16, 15), (26, 15))))  # fmt: skip


def traced(dx: float, dy: float, turn: float) -> tuple[np.ndarray, np.ndarray]:
    st = section().stations(0.3)
    mx, my = st.x.mean(), st.y.mean()
    c, s = math.cos(turn), math.sin(turn)
    return mx + dx + c * (st.x - mx) - s * (st.y - my), my + dy + s * (st.x - mx) + c * (st.y - my)


def test_trace_is_brought_back_to_its_nominal() -> None:
    fit = fit_trace(section(), *traced(0.15, -0.1, 0.01))
    assert fit.rms_mm < 1e-9
    assert fit.turn_rad == pytest.approx(-0.01, abs=1e-9)


def test_held_radius_keeps_a_size_error_in_the_answer() -> None:
    x, y = traced(0.15, -0.1, 0.0)
    fit = fit_trace(section(), x, y, free=("along",))
    assert fit.shift_y == 0.0 and fit.turn_rad == 0.0
    assert fit.form_mm == pytest.approx(0.2, abs=0.02)  # the 0.1 across stays, the slope of the arcs takes a little
    assert fit_trace(section(), x, y, free=()).shift_x == 0.0


def test_distance_is_signed_by_the_side() -> None:
    d, _, number = signed_distances(
        section(), np.array([5.0, 12.9, 5.0, -1.0, 30.0]), np.array([0.2, 8.0, -0.2, 0.1, 15.3])
    )
    assert d[:3] == pytest.approx([0.2, 0.1, -0.2])
    # past the open ends the tangent runs on
    assert d[3:] == pytest.approx([0.1, 0.3])
    assert list(number) == [0, 2, 0, 0, 4]


def test_refusals() -> None:
    with pytest.raises(InputError, match="freedoms"):
        fit_points(NX, NY, NX, NY, ("roll",))
    with pytest.raises(InputError, match="apart"):
        fit_points([1.0, 1.0], [1.0, 1.0], [1.0, 2.0], [1.0, 1.0])
    with pytest.raises(InputError):
        fit_trace(section(), [0.0, 1.0], [0.0, 1.0])
