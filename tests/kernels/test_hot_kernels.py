"""Refusals and small facts of the hot-build kernels."""

import math

import numpy as np
import pytest

from hoopwright.errors import InputError, NotConverged
from hoopwright.kernels.gap_flow import gap_flux, hole, ring_gap
from hoopwright.kernels.gas import air, gas_of
from hoopwright.kernels.lumped_walls import Wall, warmed
from hoopwright.kernels.orifice import loss_of, nozzle_flow
from hoopwright.kernels.profile import Profile, line
from hoopwright.kernels.shell_edges import welded_pair
from hoopwright.kernels.shell_links import AXIAL, RADIAL, Hold, Link
from hoopwright.kernels.shell_stack import shell_stack
from hoopwright.kernels.shell_stack_mesh import strand
from hoopwright.kernels.spring_disc import DiscSpring, disc_force
from hoopwright.kernels.spring_finger import beam_stiffness, plate_share, taper_factor
from hoopwright.kernels.spring_plate import rim_spring
from hoopwright.kernels.spring_plate_mesh import RimShape
from hoopwright.kernels.spring_relaxation import RelaxationTest, load_after, relaxation
from hoopwright.kernels.spring_rim import finger_on_rim
from hoopwright.kernels.stack_mend import Allowed, mend
from hoopwright.kernels.stack_variation import Varies, sampled, stack
from hoopwright.kernels.thermal_sheet import conducted
from hoopwright.kernels.thermal_strain import strain_table

TUBE = Profile((line((0.0, 100.0), (30.0, 100.0)),))
AIR = air(220.0)


class TestShell:
    def test_marks(self) -> None:
        one = strand(TUBE, 0.8, (10.0, 10.0 + 1e-8, 20.0), 2.0, 0.5, 3.0)
        assert np.diff(one.s).min() > 1e-6
        assert one.s[one.node_at(10.0)] == pytest.approx(10.0)
        with pytest.raises(InputError, match="mark along the meridian"):
            strand(TUBE, 0.8, (31.0,))
        for bad in (0.0, -1.0, math.nan):
            with pytest.raises(InputError, match="thickness"):
                strand(TUBE, bad)

    def test_nothing_held(self) -> None:
        one = strand(TUBE, 0.8)
        with pytest.raises((NotConverged, InputError)):
            shell_stack((one,), (2e5,), 0.3, (), ()).displaced(np.full(one.nodes, 1e-3))

    def test_ties(self) -> None:
        one, two = strand(TUBE, 0.8), strand(TUBE.moved(0.0, 1.0), 0.8)
        hold = (Hold((0, 0), AXIAL),)
        with pytest.raises(InputError, match="one leader"):
            shell_stack((one, two), (2e5, 2e5), 0.3, (Link((0, 3), (1, 3)), Link((0, 4), (1, 3))), hold)
        with pytest.raises(InputError, match="circles"):
            shell_stack((one, two), (2e5, 2e5), 0.3, (Link((0, 3), (1, 3)), Link((1, 3), (0, 3))), hold)
        with pytest.raises(InputError, match="node of a tie"):
            shell_stack((one, two), (2e5, 2e5), 0.3, (Link((0, 3), (2, 3)),), hold)
        with pytest.raises(InputError, match="follows no other"):
            shell_stack((one, two), (2e5, 2e5), 0.3, (Link((0, 3), (1, 3)),), (*hold, Hold((1, 3), RADIAL)))

    def test_axial_tie_lets_the_radius_slide(self) -> None:
        one, two = strand(TUBE, 0.8), strand(TUBE.moved(0.0, 1.0), 0.8)
        shell = shell_stack((one, two), (2e5, 2e5), 0.3, (Link((0, 0), (1, 0), (AXIAL,)),), (Hold((0, 0), AXIAL),))
        e = np.concatenate((np.zeros(one.nodes), np.full(two.nodes, 1e-3)))
        moved = shell.displaced(e)
        assert moved[one.nodes, 1] == pytest.approx(0.0, abs=1e-9)
        assert moved[one.nodes :, 0] == pytest.approx(np.full(two.nodes, 0.101), rel=1e-6)
        assert np.abs(moved[: one.nodes]).max() < 1e-9

    def test_wrong_strain_and_modulus(self) -> None:
        one = strand(TUBE, 0.8)
        shell = shell_stack((one,), (2e5,), 0.3, (), (Hold((0, 0), AXIAL),))
        with pytest.raises(InputError, match="free strain"):
            shell.displaced(np.zeros(3))
        with pytest.raises(InputError, match="free strain"):
            shell.displaced(np.full(one.nodes, math.nan))
        with pytest.raises(InputError, match="Young"):
            shell_stack((one,), (0.0,), 0.3, (), (Hold((0, 0), AXIAL),))

    def test_held_value(self) -> None:
        one = strand(TUBE, 0.8)
        shell = shell_stack((one,), (2e5,), 0.3, (), (Hold((0, 0), AXIAL, 0.25),))
        assert shell.displaced(np.zeros(one.nodes))[:, 1] == pytest.approx(np.full(one.nodes, 0.25))
        assert shell.displaced(np.zeros(one.nodes), holds=0.0)[:, 1] == pytest.approx(np.zeros(one.nodes))

    def test_pair_and_conduction(self) -> None:
        with pytest.raises(InputError, match="radius"):
            welded_pair(-1.0, 0.8, 2e5, 0.3, 1e-3)
        one = strand(TUBE, 0.8)
        with pytest.raises(InputError, match="film"):
            conducted((one,), (), (np.full(one.nodes, 500.0),), (0.02,), (0.0,))
        with pytest.raises(InputError, match="settled"):
            conducted((one,), (), (np.zeros(2),), (0.02,), (1e-3,))


class TestFlow:
    def test_refusals(self) -> None:
        with pytest.raises(InputError, match="back pressure"):
            ring_gap(17.0, 0.06, 1.5, 0.4365, 0.45, AIR)
        with pytest.raises(InputError, match="radial clearance"):
            ring_gap(17.0, 0.0, 1.5, 0.45, 0.4365, AIR)
        with pytest.raises(InputError, match="eccentricity"):
            ring_gap(17.0, 0.06, 1.5, 0.45, 0.4365, AIR, 1.2)
        with pytest.raises(InputError, match="hydraulic"):
            gap_flux(np.array([0.1, -0.1]), 1.5, 0.45, 0.4365, AIR)
        with pytest.raises(InputError, match="back pressure"):
            nozzle_flow(1.0, 0.1, 0.2, AIR)
        with pytest.raises(InputError, match="gas temperature"):
            air(2500.0)
        with pytest.raises(InputError, match="specific heats"):
            gas_of(287.0, 0.9, 1e-5, 20.0)

    def test_long_land_creeps_and_thin_hole_is_an_orifice(self) -> None:
        whole = hole(5.0, 0.0, 0.45, 0.4365, AIR, loss_of(0.65), edges=False).flow
        assert whole == pytest.approx(nozzle_flow(0.25 * math.pi * 25.0, 0.45, 0.4365, AIR, 0.65), rel=0.005)

    def test_chokes_when_it_must(self) -> None:
        assert ring_gap(17.0, 0.3, 0.2, 0.45, 0.05, AIR).choked
        assert not ring_gap(17.0, 0.3, 0.2, 0.45, 0.44, AIR).choked
        deep = [ring_gap(17.0, 0.3, 0.2, 0.45, back, AIR).flow for back in (0.05, 0.1)]
        assert deep[0] == pytest.approx(deep[1], rel=1e-6)

    def test_no_step_where_laminar_ends(self) -> None:
        """Friction itself jumps by 11 % there at most; flow changes less than that between neighbours."""
        widths = np.linspace(0.1, 0.4, 300)
        flux = gap_flux(2.0 * widths, 5.0, 0.45, 0.40, AIR).flux
        assert np.abs(np.diff(flux) / flux[1:]).max() < 0.11

    def test_burnt_gas_is_softer(self) -> None:
        assert air(930.0, 0.02).gamma < air(930.0).gamma < air(20.0).gamma


class TestSprings:
    def test_refusals(self) -> None:
        with pytest.raises(InputError, match="length over width"):
            plate_share(0.1)
        with pytest.raises(InputError, match="thickness"):
            beam_stiffness(2e5, 5.0, -0.4, 10.0)
        with pytest.raises(InputError, match="tip width"):
            taper_factor(1.2)
        with pytest.raises(InputError, match="inner diameter"):
            DiscSpring(20.0, 30.0, 1.0, 0.5)
        with pytest.raises(InputError, match="deflection"):
            disc_force(DiscSpring(40.0, 20.0, 1.5, 1.0), 2e5, 0.3, 1.5)
        with pytest.raises(InputError, match="rim outer"):
            finger_on_rim(2e5, 0.3, 0.4, 5.0, 10.0, 30.0, 25.0, 0.7)
        with pytest.raises(InputError, match="loss share"):
            relaxation([RelaxationTest(1.0, 1.5)])
        with pytest.raises(InputError, match="loss share"):
            load_after(10.0, 0.5, -0.1, 0.5)

    def test_plate_refusals(self) -> None:
        shape = RimShape(25.0, 29.0, 5.0, 10.0, (0.0, 2.0), (1.0,), 6.0)
        with pytest.raises(InputError, match="finger length"):
            rim_spring(RimShape(25.0, 29.0, 5.0, 26.0, (0.0,), (1.0,), 6.0), 2e5, 0.3, 0.4)
        with pytest.raises(InputError, match="fingers and legs"):
            rim_spring(RimShape(25.0, 29.0, 49.0, 10.0, (0.0, 1.5, 3.0), (1.0,), 6.0), 2e5, 0.3, 0.4)
        assert rim_spring(shape, 2e5, 0.3, 0.4, 0.0, 3).stiffness > 0.0

    def test_cube_of_thickness(self) -> None:
        shape = RimShape(25.5, 29.0, 5.0, 10.5, (0.0, 0.5 * math.pi, math.pi, 1.5 * math.pi), (0.8, 2.4, 4.0, 5.5), 6.0)
        thin, thick = (rim_spring(shape, 2e5, 0.3, t, 4.0, 3).stiffness for t in (0.4, 0.8))
        assert thick / thin == pytest.approx(8.0, rel=1e-6)


class TestStacks:
    def test_refusals(self) -> None:
        one = (Varies("a", 1.0, 0.1, 0.1),)
        with pytest.raises(InputError, match="empty"):
            stack(lambda x: x[:, 0], ())
        with pytest.raises(InputError, match="tolerance of a"):
            stack(lambda x: x[:, 0], (Varies("a", 1.0, -0.1, 0.1),))
        with pytest.raises(InputError, match="not finite"):
            stack(lambda x: np.full(x.shape[0], np.nan), one)
        with pytest.raises(InputError, match="correlation"):
            two = (Varies("a", 1.0, 0.1, 0.1), Varies("b", 1.0, 0.1, 0.1))
            sampled(lambda x: x.sum(axis=1), two, 10, 1, np.array([[1.0, 2.0], [2.0, 1.0]]))
        with pytest.raises(InputError, match="allowed changes"):
            mend([lambda x: x[:, 0]], one, ())
        with pytest.raises(InputError, match="bounds of a"):
            mend([lambda x: x[:, 0]], one, (Allowed(2.0, 3.0),))

    def test_uneven_tolerance_moves_the_middle(self) -> None:
        told = stack(lambda x: x[:, 0], (Varies("bore", 17.10, 0.0, 0.03),))
        assert (told.nominal, told.middle, told.low, told.high) == pytest.approx((17.10, 17.115, 17.10, 17.13))

    def test_same_seed_same_samples(self) -> None:
        one = (Varies("a", 1.0, 0.1, 0.1, spread="uniform"),)
        a, b = (sampled(lambda x: x[:, 0], one, 5000, 4) for _ in range(2))
        assert np.array_equal(a, b)
        assert a.min() >= 0.9
        assert a.std() == pytest.approx(0.1 / math.sqrt(3.0), rel=0.05)


def test_walls_and_tables() -> None:
    wall = Wall("a", 1.0, 8000.0, 500.0, 20.0, 0.0, 0.0)
    with pytest.raises(InputError, match="film of a"):
        warmed((wall,), np.array([0.0, 1.0]), np.zeros(2), np.zeros(2), np.zeros(1))
    with pytest.raises(InputError, match="times"):
        warmed((wall,), np.array([1.0, 1.0]), np.zeros(2), np.zeros(2), np.zeros(1))
    with pytest.raises(InputError, match="range of the table"):
        strain_table("x", lambda t: t, 20.0, 20.0)
