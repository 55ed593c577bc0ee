"""Parts of the hoop kernel one by one: band solver, numbering, mesh, outline, unfolding, roundness."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.kernels.hoop import Fineness, Harmonic, Hit, InitialShape, SegmentTool
from hoopwright.kernels.hoop.band import solve_band
from hoopwright.kernels.hoop.build import folded
from hoopwright.kernels.hoop.mesh import breakpoints, distance_to, edge_lengths, fine_intervals, node_angles
from hoopwright.kernels.hoop.outline import outline
from hoopwright.kernels.hoop.roundness import outline_of
from hoopwright.kernels.hoop.symmetry import Part, find_part
from hoopwright.kernels.hoop.unfold import unfold
from tests.kernels.hoop_cases import END, RADIUS, ROUND, STRIP, weld_of

TWO_PI = 2.0 * math.pi


@given(st.integers(0, 10_000), st.sampled_from([5, 9]), st.integers(20, 60))
def test_band_solver_agrees_with_a_full_one(seed: int, reach: int, size: int) -> None:
    random = np.random.default_rng(seed)
    full = np.zeros((size, size))
    band = np.zeros((size, 3 * reach + 1))
    for i in range(size):
        for j in range(max(0, i - reach), min(size, i + reach + 1)):
            full[i, j] = random.normal() * (0.01 if i == j else 1.0)
            band[i, j - i + reach] = full[i, j]
    right = random.normal(size=size)
    wanted = np.linalg.solve(full, right)
    assert solve_band(band, right, reach)
    assert np.max(np.abs(right - wanted)) <= 1e-11 * np.linalg.cond(full) * np.max(np.abs(wanted))


def test_band_solver_sees_a_singular_system() -> None:
    assert not solve_band(np.zeros((30, 16)), np.ones(30), 5)


@pytest.mark.parametrize("count", [5, 8, 9, 500, 501])
def test_folded_numbers_keep_neighbours_within_the_band(count: int) -> None:
    place = folded(count)
    assert sorted(place) == list(range(count))
    apart = [abs(int(place[i]) - int(place[(i + k) % count])) for i in range(count) for k in (1, 2)]
    assert 2 * max(apart) + 1 <= 9


def test_no_edge_is_longer_than_asked_and_breaks_are_nodes() -> None:
    tool, hits, weld = SegmentTool(8, END - 2.0, 1.0, 0.5, 0.1), (Hit(END),), weld_of(0.9, 0.4)
    part = Part("full", 0.0, TWO_PI, 1)
    intervals, must = fine_intervals(tool, ROUND, weld, hits, part), breakpoints(ROUND, weld, part)
    angles = node_angles(intervals, must, RADIUS, 0.25, 3.0, 0.3)
    edges = RADIUS * np.diff(angles)
    assert edges.min() > 0.0 and edges.max() <= 3.0 * 1.001
    inside = distance_to(0.5 * (angles[1:] + angles[:-1]), intervals) == 0.0
    assert inside.sum() > 80 and edges[inside].max() <= 0.25 * 1.35
    assert np.isin(must, angles).all() and must.size == 4
    assert must[2] - must[1] == pytest.approx(2.0 / RADIUS, rel=1e-12)


def test_distance_goes_round_the_circle() -> None:
    near = distance_to(np.array([0.0, 0.05, 3.0, 6.2]), [(6.1, 6.15), (0.1, 0.2)])
    assert near == pytest.approx([0.1, 0.05, 2.8, 0.05])


def test_what_is_given_overrides_the_usual_edges() -> None:
    half_pitch = Part("half pitch", 0.0, 0.4, 16)
    assert edge_lengths(Fineness(), STRIP, ROUND, half_pitch) == pytest.approx((0.15, RADIUS / 70.0))
    assert edge_lengths(Fineness(edge_mm=1.0, far_mm=0.5), STRIP, ROUND, half_pitch) == (1.0, 1.0)


@pytest.mark.parametrize("order", [2, 5])
def test_outline_keeps_the_girth(order: int) -> None:
    shape = InitialShape(RADIUS, (Harmonic(order, 2.0, 0.7),), peak_height_mm=0.5)
    angle = np.linspace(0.0, TWO_PI, 200_001)
    radius = outline(shape, angle)
    girth = np.sum(np.hypot(np.diff(radius * np.cos(angle)), np.diff(radius * np.sin(angle))))
    assert girth / TWO_PI == pytest.approx(RADIUS, abs=1e-5)


@pytest.mark.parametrize(
    ("shape", "weld", "errors", "hits", "kind", "images"),
    [
        (ROUND, None, (), (Hit(END),), "half pitch", 16),
        (ROUND, None, (), (Hit(END), Hit(END, math.pi / 8)), "half pitch", 16),
        (ROUND, None, (), (Hit(END), Hit(END, math.pi / 12)), "full", 1),
        (InitialShape(RADIUS, (Harmonic(2, 1.0, math.pi / 8),)), None, (), (Hit(END),), "quarter", 4),
        (InitialShape(RADIUS, (Harmonic(2, 1.0), Harmonic(4, 0.2, 0.1))), None, (), (Hit(END),), "full", 1),
        (InitialShape(RADIUS, (Harmonic(3, 1.0),)), None, (), (Hit(END),), "half", 2),
        (InitialShape(RADIUS, (), 0.3), None, (), (Hit(END),), "half", 2),
        (ROUND, weld_of(0.9, math.pi / 8), (), (Hit(END),), "half", 2),
        (ROUND, weld_of(0.9, 0.4), (), (Hit(END),), "full", 1),
        (ROUND, None, (0.05,) * 8, (Hit(END),), "half pitch", 16),
        (ROUND, None, (0.05, 0.0) * 4, (Hit(END),), "quarter", 4),
        (ROUND, None, (0.1, 0.05, 0.0, 0.05) * 2, (Hit(END),), "quarter", 4),
        (ROUND, None, (0.0, 0.1) + (0.0,) * 6, (Hit(END),), "half", 2),
        (ROUND, None, (0.0, 0.1, 0.03) + (0.0,) * 5, (Hit(END),), "full", 1),
    ],
)
def test_symmetry_found(shape: object, weld: object, errors: object, hits: object, kind: str, images: int) -> None:
    tool = SegmentTool(8, END - 2.0, 1.0, 0.5, 0.1, errors)  # type: ignore[arg-type]
    part = find_part(tool, shape, weld, hits)  # type: ignore[arg-type]
    assert (part.kind, part.images) == (kind, images)
    assert part.span_rad == pytest.approx(TWO_PI / images)


def test_a_count_that_is_odd_has_no_quarter() -> None:
    tool = SegmentTool(9, END - 2.0, 1.0, 0.5, 0.1)
    assert find_part(tool, InitialShape(RADIUS, (Harmonic(2, 1.0),)), None, (Hit(END),)).kind == "half"


@pytest.mark.parametrize("images", [2, 4, 16])
def test_unfolding_makes_one_round_of_the_hoop(images: int) -> None:
    span = TWO_PI / images
    angles = np.linspace(0.0, span, 6) ** 1.5 / span**0.5
    whole = unfold(Part("half", 0.3, span, images), angles)
    assert whole.node.size == images * 5
    assert np.all(np.diff(whole.material) > 0.0)
    assert whole.material[-1] - whole.material[0] < TWO_PI
    x = np.column_stack([np.cos(angles), np.sin(angles)])
    places = whole.places(x)
    assert np.max(np.abs(places[:, 0] - np.cos(whole.material))) < 1e-14
    pushed = whole.forces(x / 2.0)
    assert np.sum(pushed * places) == pytest.approx(images * 0.5 * 6)


@pytest.mark.parametrize(("centre", "order", "phase"), [((0.0, 0.0), 2, 0.4), ((3.0, -2.0), 7, 0.1)])
def test_roundness_reads_a_known_wave(centre: tuple[float, float], order: int, phase: float) -> None:
    angle = np.random.default_rng(3).permutation(np.linspace(0.0, TWO_PI, 500, endpoint=False))
    radius = RADIUS + 0.2 * np.cos(order * (angle - phase))
    found = outline_of(centre[0] + radius * np.cos(angle), centre[1] + radius * np.sin(angle))
    orders = np.arange(2, 12)
    assert found.centre == pytest.approx(centre, abs=1e-6)
    assert found.amplitudes(orders)[order - 2] == pytest.approx(0.2, abs=1e-6)
    assert found.phases(orders)[order - 2] == pytest.approx(phase, abs=1e-5)
    assert found.peak_to_valley == pytest.approx(0.4, abs=1e-4)
    assert found.in_step(order, phase + math.pi / order) == pytest.approx(-0.2, abs=1e-6)


def test_flats_of_a_polygon_of_arcs_and_chords() -> None:
    count, half = 8, 6.0 / RADIUS
    angle = np.linspace(0.0, TWO_PI, 8000, endpoint=False)
    away = np.abs((angle + math.pi / count) % (TWO_PI / count) - math.pi / count)
    radius = np.where(away < half, RADIUS * math.cos(half) / np.cos(away), RADIUS)
    slots = np.arange(count) * TWO_PI / count
    flats = outline_of(radius * np.cos(angle), radius * np.sin(angle)).flats(slots, TWO_PI / count)
    assert flats == pytest.approx(RADIUS * (1.0 - math.cos(half)), rel=1e-3)
