"""Curl and sizing of a hat section against our own method paper on rolling (shell runs and fibre formula; our figures).

Section: corners (29, 123.85) (35, 123.85 R3) (38.5, 125.75 R3) (48, 125.75 R3) (54, 123.4 R4) (76, 123.4), sheet 0.8,
both edges 3.33 longer for curl (width 54.49). Metal s = 1630 (0.020 + p)^0.385 MPa, E 205 000 MPa, nu 0.32.
"""

import math

import numpy as np
import pytest

from hoopwright.kernels.chain import ContourHoop, hoop_at_stations, prior_strain_map, ring_stretched, ring_tool
from hoopwright.kernels.curl import ContourStrip, closed_hoop, contour_strip, curl_for, curled, let_go
from hoopwright.kernels.flow import swift
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.profile import Profile, Stations
from hoopwright.kernels.profile_build import from_corners

METAL = Metal(swift(1630.0, 0.020, 0.385), 205_000.0, 0.32)
T = 0.8
LAYERS = 8  # those of the paper's shell


def section(trim: float) -> Profile:
    corners = [(29 - trim, 123.85), (35, 123.85), (38.5, 125.75), (48, 125.75), (54, 123.4), (76 + trim, 123.4)]
    return from_corners(corners, [3, 3, 3, 4], "hat")


def strip(stations: Stations) -> ContourStrip:
    """Heights from the centroid."""
    centroid = float(stations.y @ stations.weight / stations.weight.sum())
    return contour_strip(stations.y - centroid, np.cos(stations.angle), stations.weight, T, LAYERS)


STRIP = strip(section(3.33).stations(0.5, 9))


def test_width() -> None:
    assert section(3.33).length == pytest.approx(54.49, abs=0.005)


@pytest.mark.parametrize(("radius", "moment", "natural"), [(90.0, 13625.0, 107.2), (122.0, 13007.0, 153.3)])
def test_fibre_curl(radius: float, moment: float, natural: float) -> None:
    """The paper's radius in the rolls is 1/k (neutral fibre), its natural radius that of the centroid."""
    loaded = curled(STRIP, METAL, radius)
    free = let_go(loaded, METAL)
    # stations of the paper are not stated: 0.03 % of moment
    assert loaded.moment_Nmm == pytest.approx(moment, rel=3e-4)
    assert free.axis_radius_mm == pytest.approx(natural, abs=0.05)
    assert loaded.neutral_height_mm == pytest.approx(-0.35, abs=0.01)


def test_hand_curl_setting() -> None:
    """Printed 100.63 for a natural radius of 122; ours is 100.64 with any number of stations and layers from 8 up."""
    loaded, free = curl_for(STRIP, METAL, 122.0, "axis")
    assert free.axis_radius_mm == pytest.approx(122.0, abs=1e-6)
    assert loaded.neutral_radius_mm == pytest.approx(100.63, abs=0.02)


def test_shell_moment_lies_between_free_and_held_fibres() -> None:
    """Shell with two stresses: 14258 and 13533, 4 to 5 % above free fibres."""
    for radius, shell in ((90.0, 14258.0), (122.0, 13533.0)):
        free, held = curled(STRIP, METAL, radius).moment_Nmm, curled(STRIP, METAL, radius, True).moment_Nmm
        assert 1.04 < shell / free < 1.05
        assert free < shell < held


# released mid radii at land, crown and lip after 1.5 % at the lip: mandrel = nominal inner faces moved out by 0.3925
SHELL_FREE = (123.967, 125.861, 123.516)
SHELL_MAP = (123.935, 125.796, 123.512)
SHELL_MAP_FORCE = 135_800.0


def sized(prior: object, held: bool = False) -> tuple[tuple[float, float, float], float]:
    stations = section(0.0).stations(0.25, 9)
    incoming = hoop_at_stations(stations, T, 0.0, LAYERS, prior)  # type: ignore[arg-type]
    # the strip has one length: every station starts at the radius of that length, but keeps its fibres' spread
    start = np.full(stations.y.size, 763.89 / (2 * math.pi))
    incoming = ContourHoop(
        start, incoming.normal_radial, incoming.width_mm, incoming.thickness_mm, incoming.points, incoming.layers
    )
    tool = stations.y - 0.5 * T * np.abs(np.cos(stations.angle)) + 0.3925
    result = ring_stretched(incoming, tool, METAL, width_held=held)
    at = [int(np.argmin(np.abs(stations.x - x))) for x in (31.0, 43.0, 68.0)]
    land, crown, lip = (float(result.released.radius_mm[i]) for i in at)
    return (land, crown, lip), 2 * math.pi * result.hoop_tension_N


def curl_strains(stations: Stations) -> np.ndarray:
    loaded, _ = curl_for(strip(stations), METAL, 122.0, "axis")
    return loaded.fibre_strain_log


def test_sizing_against_the_shell() -> None:
    """Rigid contour against shell (which rules): the shell springs each place by itself and carries section stress.

    Without prior strain all three places come out 0.02 lower here; with the map land and lip 0.015 and 0.04 lower, the
    crown 0.02 higher. The shell's force lies between that of free and of held fibres.
    """
    stations = section(0.0).stations(0.25, 9)
    prior = prior_strain_map(stations.curvature, T, METAL.yield_strain, curl_strains(stations), LAYERS)
    mean = float((prior.mean(axis=1) * stations.weight).sum() / stations.weight.sum())
    assert mean == pytest.approx(0.015, abs=0.001)  # "section mean p (.015)"
    radii, force = sized(prior)
    assert radii == pytest.approx(SHELL_MAP, abs=0.045)
    assert force < SHELL_MAP_FORCE < sized(prior, held=True)[1]
    bare, lower = sized(0.0)
    assert bare == pytest.approx(SHELL_FREE, abs=0.025)
    assert lower < force


def test_uniform_prior_strain_overrates_springback() -> None:
    """Rank 1 of the paper: one figure of 0.05 for the whole section sinks the radii and raises the force by a fifth."""
    (one, force), (local, lower) = sized(0.05), sized(local_map())
    assert all(0.05 < b - a < 0.10 for a, b in zip(one, local, strict=True))
    assert force / lower == pytest.approx(1.22, abs=0.03)


def test_mesh_does_not_matter() -> None:
    """Released radius by station spacing, 2 to 0.25 mm."""
    lips = []
    for step in (2.0, 1.0, 0.25):
        stations = section(0.0).stations(step, 5)
        hoop = hoop_at_stations(stations, T, -2.0, 21)
        result = ring_tool(hoop, stations.y, METAL)
        lips.append(2 * float(result.tool_face_radius_mm[-1]))
    assert max(lips) - min(lips) < 1e-4


def test_the_whole_walk_of_a_contour() -> None:
    """Curl, spring, close, size: history carried against the closed-form map. The map lacks the residual stress."""
    stations = section(0.0).stations(0.5, 9)
    length = 763.89
    loaded, free = curl_for(strip(stations), METAL, length / (2 * math.pi), "neutral")
    hoop = closed_hoop(free, METAL, length)
    fresh = hoop_at_stations(
        stations,
        T,
        0.0,
        LAYERS,
        prior_strain_map(np.zeros(stations.y.size), T, METAL.yield_strain, loaded.fibre_strain_log, LAYERS),
    )
    fresh = ContourHoop(hoop.radius_mm, hoop.normal_radial, hoop.width_mm, hoop.thickness_mm, fresh.points, hoop.layers)
    wanted = hoop.radius_mm + 2.2
    history, mapped = ring_tool(hoop, wanted, METAL), ring_tool(fresh, wanted, METAL)
    # the paper drops the stress for less than 0.001 in radius where every fibre yields; elastic strain in p adds some
    assert history.springback_mm == pytest.approx(mapped.springback_mm, abs=0.004)


def local_map() -> np.ndarray:
    stations = section(0.0).stations(0.25, 9)
    return prior_strain_map(stations.curvature, T, METAL.yield_strain, curl_strains(stations), LAYERS)
