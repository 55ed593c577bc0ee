"""Exact answers: union-find growth graph, conduction fin, lumped walls, strain tables, curves that cross nil."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.errors import InputError, RangeError
from hoopwright.kernels.lumped_walls import Wall, hot_film, warmed
from hoopwright.kernels.profile import Profile, line
from hoopwright.kernels.shell_stack_mesh import strand
from hoopwright.kernels.thermal_graph import DATUM, MotionGraph
from hoopwright.kernels.thermal_sheet import conducted
from hoopwright.kernels.thermal_strain import axial_free, strain_table
from hoopwright.plan.hot.gaps import extremes


def test_chain_to_the_datum() -> None:
    graph = MotionGraph()
    graph.link("weld", "b", "a", 1.5)
    graph.link("datum", "a", DATUM, np.array([0.0, 0.25]))
    graph.link("lap", "c", "b", -0.5)
    assert graph.position("c") == pytest.approx(np.array([1.0, 1.25]))
    assert graph.loose() == ()


@given(st.permutations(range(6)), st.lists(st.floats(-2.0, 2.0), min_size=6, max_size=6))
def test_order_of_links_does_not_matter(order: list[int], steps: list[float]) -> None:
    graph = MotionGraph()
    names = [DATUM, *"abcdef"]
    for k in order:
        graph.link(f"j{k}", names[k + 1], names[k], steps[k])
    assert float(graph.position("f")) == pytest.approx(sum(steps), abs=1e-12)


def test_loop_says_its_miss_and_path() -> None:
    graph = MotionGraph()
    for name, a, b, d in (("d", "a", DATUM, 0.0), ("j1", "b", "a", 1.0), ("j2", "c", "b", 1.0)):
        graph.link(name, a, b, d)
    graph.link("aft", "c", DATUM, 1.976)
    (closure,) = graph.closures
    assert set(closure.path) == {"d", "j1", "j2", "aft"}
    assert float(closure.miss) == pytest.approx(-0.024)


def test_loose_bodies_are_named() -> None:
    graph = MotionGraph()
    graph.link("d", "a", DATUM, 0.0)
    graph.link("j", "c", "b", 0.1)
    assert graph.loose() == (("b", "c"),)
    with pytest.raises(InputError, match="held by the datum"):
        graph.position("c")
    with pytest.raises(InputError, match="two bodies"):
        graph.link("x", "a", "a", 0.0)
    with pytest.raises(InputError, match="finite"):
        graph.link("x", "a", "b", math.nan)


def test_fin_between_two_levels() -> None:
    """A step of settled temperature on a long tube runs out as exp(-x/l)/2, l = sqrt(k t/h)."""
    one = strand(Profile((line((0.0, 1e5), (80.0, 1e5)),)), 0.8, (40.0,), 0.25, 0.25)
    k, h = 0.023, 1e-3
    length = math.sqrt(k * 0.8 / h)
    settled = np.where(one.s > 40.0 + 1e-9, 700.0, 600.0)
    settled[one.node_at(40.0)] = 650.0
    warm = conducted((one,), (), (settled,), (k,), (h,))[0]
    x = one.s - 40.0
    exact = np.where(x < 0.0, 600.0 + 50.0 * np.exp(x / length), 700.0 - 50.0 * np.exp(-x / length))
    inside = np.abs(x) < 25.0
    assert warm[inside] == pytest.approx(exact[inside], abs=0.1)


def test_lumped_wall_follows_a_step_and_a_ramp() -> None:
    wall = Wall("sheet", 0.8, 8000.0, 500.0, 20.0, 300.0, 100.0)
    times = np.array([0.0, 2.0, 5.0, 30.0])
    hot, cold = np.full(4, 900.0), np.full(4, 100.0)
    found = warmed((wall,), times, hot, cold, np.array([20.0]))[:, 0]
    end = 0.75 * 900.0 + 0.25 * 100.0
    assert found == pytest.approx(end + (20.0 - end) * np.exp(-times / wall.time_constant), abs=1e-9)
    ramp = warmed((wall,), times, 20.0 + 10.0 * times, 20.0 + 10.0 * times, np.array([20.0]))[:, 0]
    tau = wall.time_constant
    assert ramp == pytest.approx(20.0 + 10.0 * (times - tau * (1.0 - np.exp(-times / tau))), abs=1e-9)


@pytest.mark.parametrize(("biot", "exact"), [(0.2, 1.068), (0.5, 1.172), (1.0, 1.351)])
def test_thick_walls_lag(biot: float, exact: float) -> None:
    """1 + Bi/3 against the slab (printed figures of our own study): within 2 %."""
    wall = Wall("ring", 10.0, 8000.0, 500.0, 20.0, biot * 20.0 / 0.01, 0.0)
    plain = 8000.0 * 500.0 * 0.01 / wall.film_hot
    assert wall.time_constant / plain == pytest.approx(exact, rel=0.02)


def test_hot_film_keeps_the_steady_wall() -> None:
    film = hot_film(350.0, 800.0, 930.0, 220.0)
    assert (film * 930.0 + 350.0 * 220.0) / (film + 350.0) == pytest.approx(800.0)
    with pytest.raises(InputError, match="steady wall"):
        hot_film(350.0, 940.0, 930.0, 220.0)


def test_strain_table_refuses_what_it_does_not_know() -> None:
    table = strain_table("card X", lambda t: 1e-5 * (t - 20.0), 20.0, 100.0)
    assert float(table.at(45.5)) == pytest.approx(25.5e-5, abs=1e-12)
    with pytest.raises(RangeError, match="card X"):
        table.at(100.5)
    with pytest.raises(InputError, match="finite"):
        table.at(np.array([30.0, math.nan]))


def test_axial_free_refuses_plates() -> None:
    r, z = np.array([100.0, 90.0]), np.array([0.0, 0.0])
    with pytest.raises(InputError, match="slope"):
        axial_free(r, z, np.array([0.01, 0.011]))
    assert axial_free(r, z, np.array([0.01, 0.01]))[-1] == 0.0


def test_extremes_of_a_course() -> None:
    told = extremes(np.array([0.0, 10.0, 20.0, 40.0]), np.array([0.4, -0.4, 0.4, 0.2]))
    assert (told.least, told.least_at, told.first_closed, told.closed_for) == pytest.approx((-0.4, 10.0, 5.0, 10.0))
