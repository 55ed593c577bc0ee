"""Figures of our own study of the hot build: leak table, spring plates, relaxation, expansion, stacks."""

import math

import numpy as np
import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.design.demo import demo_liner
from hoopwright.kernels.gap_flow import gap_flux, hole, ring_gap
from hoopwright.kernels.gas import air, gas_of
from hoopwright.kernels.orifice import nozzle_flow
from hoopwright.kernels.spring_disc import DiscSpring, disc_force
from hoopwright.kernels.spring_finger import finger_stiffness, large_deflection
from hoopwright.kernels.spring_plate import rim_spring
from hoopwright.kernels.spring_plate_mesh import RimShape
from hoopwright.kernels.spring_relaxation import RelaxationTest, load_after, relaxation
from hoopwright.kernels.spring_rim import finger_on_rim
from hoopwright.kernels.stack_mend import Allowed, mend
from hoopwright.kernels.stack_variation import Varies, sampled, stack
from hoopwright.plan.hot.gaps import neighbours
from hoopwright.plan.hot.job import hot_job
from hoopwright.plan.hot.joints import Joints, plan_joints
from hoopwright.plan.hot.model import hot_model

E20, NU = 213.7e3, 0.29
E400 = (197.9 + (172.4 - 197.9) * 140.0 / 278.0) * 1e3


@pytest.mark.parametrize(
    ("degC", "printed"),
    [(235, 3067.6), (400, 5590.9), (620, 9227.9), (700, 10654.3), (760, 11729.3), (790, 12259.9), (800, 12437.8)],
)
def test_exact_strain_of_a_mean_table(degC: float, printed: float) -> None:
    assert 1e6 * alloy("N06002").thermal_growth_eng(degC).value == pytest.approx(printed, abs=0.05)


def test_between_two_hot_states() -> None:
    """700 to 800: 1783, where the coefficient at 800 times 100 gives 1596."""
    card = alloy("N06002")
    between = card.thermal_growth_eng(800.0).value - card.thermal_growth_eng(700.0).value
    assert 1e6 * between == pytest.approx(1783.0, abs=1.0)


CD = {
    0.97: (0.119, 0.357, 0.537, 0.682, 0.775, 0.801),
    0.9: (0.205, 0.480, 0.637, 0.730, 0.786, 0.806),
    0.7: (0.315, 0.585, 0.698, 0.763, 0.801, 0.819),
    0.528: (0.376, 0.637, 0.734, 0.789, 0.823, 0.838),
}


@pytest.mark.parametrize("ratio", list(CD))
def test_discharge_of_a_washer_gap(ratio: float) -> None:
    """Within 0.022: the study left the thick-edge term out, which bites at 0.2 and 0.4 mm, and its viscosity is not
    said."""
    gas = gas_of(287.05, 1.4, air(220.0).viscosity, 220.0)
    for clearance, printed in zip((0.02, 0.04, 0.0625, 0.1, 0.2, 0.4), CD[ratio], strict=True):
        found = ring_gap(17.0, clearance, 1.5, 0.45, 0.45 * ratio, gas).flow
        ideal = nozzle_flow(math.pi * 17.0 * clearance, 0.45, 0.45 * ratio, gas)
        assert found / ideal == pytest.approx(printed, abs=0.022)


@pytest.mark.parametrize(("land", "printed"), [(0.0, 0.594), (0.5, 0.635), (1.0, 0.755), (2.0, 0.803), (4.0, 0.798)])
def test_discharge_of_a_hole(land: float, printed: float) -> None:
    gas = gas_of(287.05, 1.4, air(220.0).viscosity, 220.0)
    found = hole(5.0, 5.0 * land, 0.45, 0.97 * 0.45, gas).flow / nozzle_flow(
        0.25 * math.pi * 25.0, 0.45, 0.97 * 0.45, gas
    )
    assert found == pytest.approx(printed, abs=0.004)


@pytest.mark.parametrize(
    ("diametral", "cold", "hot"),
    [(0.100, 3.12, None), (0.125, 4.66, None), (0.150, 6.26, 6.27), (0.175, None, 7.90), (0.200, None, 9.51)],
)
def test_leak_of_nine_washers(diametral: float, cold: float | None, hot: float | None) -> None:
    """Nine ports; the clearances the study gives, cold and hot. Bar: 2 %."""
    flow = 9.0 * ring_gap(17.0525, 0.5 * diametral, 1.5, 0.45, 0.4365, air(220.0)).flow
    for printed in (cold, hot):
        if printed is not None:
            assert flow == pytest.approx(printed, rel=0.006)


def test_hot_leak_with_the_expansions_of_the_study() -> None:
    """Bar: 7.90 g/s within 2 %. The study's own inputs: washer at 480 degC with 14.2e-6, barrel at 235 degC with
    17.0e-6, both from 20 degC. Reached: 0.1 %. The shipped cards say 14.00e-6 and 17.22e-6: 0.0024 mm less clearance
    and 7.73 g/s, which is what the cards give (tests/stories/test_story_9.py)."""
    bore, barrel = 17.115 * (1.0 + 14.2e-6 * 460.0), 16.990 * (1.0 + 17.0e-6 * 215.0)
    flow = 9.0 * ring_gap(0.5 * (bore + barrel), 0.5 * (bore - barrel), 1.5, 0.45, 0.4365, air(220.0)).flow
    assert bore - barrel == pytest.approx(0.175, abs=5e-4)
    assert flow == pytest.approx(7.90, rel=0.005)
    cards = [alloy("R30605").thermal_growth_eng(480.0).value, alloy("S32100").thermal_growth_eng(235.0).value]
    own_bore, own_barrel = 17.115 * (1.0 + cards[0]), 16.990 * (1.0 + cards[1])
    assert own_bore - own_barrel == pytest.approx(bore - barrel - 0.0024, abs=1e-4)
    middle, gap = 0.5 * (own_bore + own_barrel), 0.5 * (own_bore - own_barrel)
    own = 9.0 * ring_gap(middle, gap, 1.5, 0.45, 0.4365, air(220.0)).flow
    print(f"nine washers hot: {flow:.3f} g/s with the study's expansions, {own:.3f} g/s with the shipped cards")
    assert own == pytest.approx(7.74, abs=0.01)


def test_hotter_air_in_the_gap_leaks_less() -> None:
    """Gap air at 350 instead of 220 degC: 6.70 printed; 2 % under it, the study's viscosity law is not said."""
    assert 9.0 * ring_gap(17.05, 0.0875, 1.5, 0.45, 0.4365, air(350.0)).flow == pytest.approx(6.70, rel=0.025)


def test_leak_rises_with_clearance_pressure_and_eccentricity() -> None:
    gas = air(220.0)
    by_gap = gap_flux(2.0 * np.linspace(0.01, 0.3, 60), 1.5, 0.45, 0.4365, gas).flux
    assert np.all(np.diff(by_gap) > 0.0)
    by_supply = [ring_gap(17.0, 0.06, 1.5, p, 0.4365, gas).flow for p in (0.44, 0.45, 0.6, 1.2)]
    assert by_supply == sorted(by_supply)
    by_place = [ring_gap(17.0, 0.06, 1.5, 0.45, 0.4365, gas, e).flow for e in (0.0, 0.3, 0.6, 1.0)]
    assert by_place == sorted(by_place)


def rim(leg: float, legs: tuple[float, ...] = (45.0, 135.0, 225.0, 315.0)) -> RimShape:
    turn = math.radians
    return RimShape(
        25.5, 29.0, 5.0, 10.5, tuple(turn(a) for a in (0.0, 90.0, 180.0, 270.0)), tuple(turn(a) for a in legs), leg
    )


@pytest.mark.parametrize(("leg", "printed"), [(4.0, 3.29), (6.0, 3.44), (10.0, 3.70), (16.0, 4.16)])
def test_plate_on_clamped_legs(leg: float, printed: float) -> None:
    assert rim_spring(rim(leg), E20, NU, 0.4).stiffness == pytest.approx(printed, rel=0.006)


def test_plate_on_standing_legs() -> None:
    """3-D model 3.10 a finger, 12.4 N/mm the plate. Bar: 5 %; the plate is 2 to 3 % stiff (free-edge twist)."""
    found = rim_spring(rim(6.0), E20, NU, 0.4, 4.3)
    assert 4.0 * found.stiffness == pytest.approx(12.4, rel=0.05)
    assert 4.0 * found.stiffness == pytest.approx(12.73, rel=0.005)


@pytest.mark.parametrize("legs", [(45.0, 135.0, 225.0, 315.0), (0.0, 90.0, 180.0, 270.0)])
def test_stress_off_the_corners_settles(legs: tuple[float, ...]) -> None:
    """Ours, no printed figure: within 5 % from 4 to 16 cells (element means shift with the mesh), over the root's
    formula. At the corners themselves it grows without end."""
    found = [rim_spring(rim(6.0, legs), E20, NU, 0.4, 4.3, n) for n in (4, 8, 16)]
    assert found[1].stress == pytest.approx(found[2].stress, rel=0.05)
    assert found[0].stress == pytest.approx(found[2].stress, rel=0.05)
    root = 6.0 * 10.5 / (5.0 * 0.4**2)
    assert 0.99 * root < found[2].stress / found[2].stiffness < 1.4 * root


def test_plate_with_legs_behind_the_fingers() -> None:
    """8.24 printed; ours 3 % lower, the study's mesh there is not said."""
    assert rim_spring(rim(6.0, (0.0, 90.0, 180.0, 270.0)), E20, NU, 0.4).stiffness == pytest.approx(8.24, rel=0.04)


def test_plate_mesh_settles_and_whole_plate_agrees_with_a_half_pitch() -> None:
    stiff = [rim_spring(rim(6.0), E20, NU, 0.4, 4.3, n).stiffness for n in (3, 6, 12)]
    assert abs(stiff[2] - stiff[1]) < 0.5 * abs(stiff[1] - stiff[0])
    whole = rim_spring(rim(6.0, (45.0001, 135.0, 225.0, 315.0)), E20, NU, 0.4, 4.3, 8).stiffness
    # the whole plate is meshed twice as coarse
    assert whole == pytest.approx(rim_spring(rim(6.0), E20, NU, 0.4, 4.3, 4).stiffness, rel=0.005)


@pytest.mark.parametrize("leg", [4.0, 6.0, 10.0, 16.0])
def test_curved_bar_is_near_the_plate(leg: float) -> None:
    bar = finger_on_rim(E20, NU, 0.4, 5.0, 10.5, 25.5, 29.0, math.radians(45.0) - math.asin(0.5 * leg / 29.0))
    assert bar.whole == pytest.approx(rim_spring(rim(leg), E20, NU, 0.4).stiffness, rel=0.03)


@pytest.mark.parametrize(
    ("x", "printed"), [(0.5, 1.077), (1.0, 1.063), (2.0, 1.041), (2.1, 1.040), (3.0, 1.030), (4.0, 1.023), (6.0, 1.016)]
)
def test_clamped_finger_against_beam(x: float, printed: float) -> None:
    from hoopwright.kernels.spring_finger import beam_stiffness

    ratio = finger_stiffness(E20, NU, 5.0, 0.4, 5.0 * x) / beam_stiffness(E20, 5.0, 0.4, 5.0 * x)
    # printed to three decimals, fit error 0.2 %
    assert ratio == pytest.approx(printed, abs=0.0025)


def test_large_deflection() -> None:
    for share, printed in ((0.05, -0.002), (0.1, -0.008), (0.2, -0.030)):
        assert large_deflection(share) == pytest.approx(printed, abs=5e-4)


READINGS = [(1, 3.1), (3, 4.4), (10, 5.6), (30, 7.2), (100, 8.4)]


@pytest.mark.parametrize(("count", "mean", "half"), [(0, 13.5, 9.5), (1, 13.5, 8.3), (3, 11.1, 3.2), (5, 11.2, 1.3)])
def test_relaxation_from_few_readings(count: int, mean: float, half: float) -> None:
    told = relaxation([RelaxationTest(h, 0.01 * loss) for h, loss in READINGS[:count]])
    assert 100.0 * told.loss(1000.0) == pytest.approx(mean, abs=0.06)
    assert 196.0 * told.spread(1000.0) == pytest.approx(half, abs=0.1)


def test_set_acts_on_what_is_left() -> None:
    """F = k (d' - s d), not k d' (1 - s)."""
    assert load_after(10.0, 0.5, 0.1, 0.4) == pytest.approx(3.5)
    assert load_after(10.0, 0.5, 0.1, 0.04) == 0.0


def test_table_formula_is_stiffer_than_free_edges() -> None:
    """Our shell runs with knife edges at h0: 22.49 N for rim 58/51, t 0.4, h 0.3; 0.913 of the table formula."""
    force = disc_force(DiscSpring(58.0, 51.0, 0.4, 0.3), E20, NU, 0.3)
    assert 22.49 / force == pytest.approx(0.913, abs=0.006)


def hot(x: np.ndarray) -> np.ndarray:
    return 4.0 * E400 * x[:, 2] * x[:, 1] ** 3 / (4.0 * 10.5**3) * x[:, 0] * 0.88


def strength(x: np.ndarray) -> np.ndarray:
    return 800.0 - 1.5 * E20 * x[:, 0] * x[:, 1] / 10.5**2


SPRING = (Varies("deflection", 0.55, 0.10, 0.10), Varies("thickness", 0.40, 0.02, 0.02), Varies("width", 5.0, 0.0, 0.0))


def test_stack_of_the_hand_spring() -> None:
    told = stack(hot, SPRING)
    assert (told.nominal, told.low, told.linear_low, told.rss_low) == pytest.approx(
        (24.76, 17.37, 16.54, 18.92), abs=0.005
    )
    assert [(s.name, round(100 * s.worst_share), round(100 * s.square_share)) for s in told.shares[:2]] == [
        ("deflection", 55, 60),
        ("thickness", 45, 40),
    ]
    drawn = sampled(hot, SPRING, 100_000, 2)
    assert 100.0 * np.mean(drawn < 20.0) == pytest.approx(0.48, abs=0.07)
    assert np.quantile(drawn, 0.00135) == pytest.approx(19.30, abs=0.08)
    assert 800.0 - stack(strength, SPRING).low == pytest.approx(793.7, abs=0.05)


def test_mends_of_the_hand_spring() -> None:
    def short(x: np.ndarray) -> np.ndarray:
        return hot(x) - 20.0

    kept = [Allowed(v.nominal, v.nominal) for v in SPRING]
    width = mend([short], SPRING, [*kept[:2], Allowed(5.0, 9.0)])
    assert width.reached
    assert width.inputs[2].nominal == pytest.approx(5.758, abs=1e-3)
    # thickness alone raises load and stress alike: no way out
    assert not mend([short, strength], SPRING, [kept[0], Allowed(0.3, 0.8), kept[2]]).reached
    both = mend([short, strength], SPRING, [Allowed(0.4, 0.8, 1.0, 0.1, 5.0), *kept[1:]])
    assert both.reached
    assert both.inputs[0].nominal == pytest.approx(0.5867, abs=2e-3)
    assert both.inputs[0].half == pytest.approx(0.0685, abs=2e-3)


def test_corner_worst_is_under_every_sample() -> None:
    rng = np.random.default_rng(4)
    told = stack(hot, SPRING)
    x = np.stack([v.middle + v.half * rng.uniform(-1.0, 1.0, 2000) for v in SPRING], axis=1)
    assert hot(x).min() >= told.low - 1e-9
    many = tuple(Varies(f"x{k}", 1.0, 0.1, 0.1) for k in range(18))

    def bent(v: np.ndarray) -> np.ndarray:
        return v.prod(axis=1) - 0.3 * v.sum(axis=1)

    assert stack(bent, many).low <= bent(1.0 + 0.1 * rng.uniform(-1.0, 1.0, (2000, 18))).min()


def test_common_thickness_of_nine_springs() -> None:
    """All nine above 20 N: 0.962 with common coil thickness, 0.958 independent."""
    nine = tuple(Varies(f"d{k}", 0.55, 0.1, 0.1) for k in range(9)) + tuple(
        Varies(f"t{k}", 0.40, 0.02, 0.02) for k in range(9)
    )

    def least(x: np.ndarray) -> np.ndarray:
        loads = [hot(np.stack((x[:, k], x[:, 9 + k], np.full(x.shape[0], 5.0)), axis=1)) for k in range(9)]
        return np.min(loads, axis=0)

    common = np.eye(18)
    common[9:, 9:] = 1.0
    assert np.mean(sampled(least, nine, 20_000, 6) >= 20.0) == pytest.approx(0.958, abs=0.006)
    assert np.mean(sampled(least, nine, 20_000, 6, common) >= 20.0) == pytest.approx(0.962, abs=0.006)


@pytest.fixture(scope="module")
def joints() -> Joints:
    """Gaps of the demonstration through the lumped start."""
    job = hot_job(demo_liner())
    return plan_joints(hot_model(job), neighbours(job), None)


class TestLumpedStart:
    """Start and stop of the demonstration, coefficients as the study invented them (air side 350, groove 400 on 10 mm,
    casing 150 on 3 mm, ramp 20 s). Its gas temperature is not printed: 1400 degC, as here assumed, gives its printed
    time constants. The order of gaps is what counts: figures are held to a tenth of a millimetre or less."""

    def test_time_constants(self, joints: Joints) -> None:
        assert joints.start is not None
        tau = {n: w.time_constant for n, w in zip(joints.start.names, joints.start.walls, strict=True)}
        assert tau["HD-402"] == pytest.approx(6.0, abs=0.5)
        assert tau["groove"] == pytest.approx(69.0, abs=1.5)
        assert tau["casing"] == pytest.approx(79.0, abs=1.5)

    @pytest.mark.parametrize(
        ("key", "word", "printed", "allowed"),
        [
            ("aft-radial-gap", "least", -0.453, 0.02),
            ("nozzle-slide", "greatest", 1.827, 0.05),
            ("port-shift", "greatest", 0.727, 0.03),
            ("aft-slip", "least", -0.679, 0.05),
            # the stop: how the streams fall is not printed
            ("aft-radial-gap", "greatest", 0.906, 0.13),
        ],
    )
    def test_extremes(self, joints: Joints, key: str, word: str, printed: float, allowed: float) -> None:
        told = joints.extremes(key)
        assert told is not None
        assert (told.least if word == "least" else told.greatest) == pytest.approx(printed, abs=allowed)

    def test_band_and_cold_gap(self, joints: Joints) -> None:
        """p5 to p95 of the extreme -0.579 to -0.236; a cold gap of 1.08 keeps 0.05 open in 95 % of samples."""
        figure = next(f for f in joints.figures if f.identity.endswith("aft-radial-gap/least"))
        assert figure.band is not None
        assert (figure.band.low, figure.band.high) == pytest.approx((-0.579, -0.236), abs=0.04)
        assert 0.45 + 0.05 - figure.band.low == pytest.approx(1.08, abs=0.02)
