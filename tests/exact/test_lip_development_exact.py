"""Hole before a lip: the volume rule against its closed form, and against volume itself."""

import math

import numpy as np
import pytest

from hoopwright.errors import GeometryError
from hoopwright.kernels.lip_development import hole_by_length, hole_by_volume
from hoopwright.kernels.profile import Profile, arc, line


def test_straight_lip_has_a_closed_form():
    # a wall at one radius r: sqrt(r0) dr0 = -sqrt(r) ds, so r0^(3/2) = R0^(3/2) - (3/2) sqrt(r) L
    wall = Profile((line((0.0, 20.0), (5.0, 20.0)),))
    exact = (20.0**1.5 - 1.5 * math.sqrt(20.0) * 5.0) ** (2.0 / 3.0)
    assert hole_by_volume(wall) == pytest.approx(exact, rel=1e-9)


def test_the_rule_keeps_volume():
    lip = Profile((arc((-2.0, 13.0), (0.0, 11.0), (0.0, 13.0), True), line((0.0, 11.0), (1.0, 11.0))))
    assert lip.length == pytest.approx(math.pi + 1.0)
    hole = hole_by_volume(lip)
    # volume of the lip at t = t0 sqrt(r0/r) by material rings
    s = np.linspace(0.0, lip.length, 4001)
    radius = np.array([lip.point_at(v)[1] for v in s])
    start = [13.0]
    for k in range(s.size - 1):
        mid = start[-1] - 0.5 * (s[1] - s[0]) * math.sqrt(radius[k] / start[-1])
        start.append(start[-1] - (s[1] - s[0]) * math.sqrt(0.5 * (radius[k] + radius[k + 1]) / mid))
    r0 = np.array(start)
    formed = np.trapezoid(2.0 * math.pi * radius * np.sqrt(r0 / radius), s)
    assert formed == pytest.approx(math.pi * (13.0**2 - hole**2), rel=1e-6)


def test_length_rule_and_refusals():
    assert 2.0 * hole_by_length(13.0, math.pi + 1.0) == pytest.approx(17.7168, abs=5e-5)
    with pytest.raises(GeometryError, match="lip length"):
        hole_by_length(13.0, 13.0)
    with pytest.raises(GeometryError, match="lip length"):
        hole_by_volume(Profile((line((0.0, 13.0), (20.0, 13.0)),)))
