"""Line contact: the pressure ellipse adds up to the load and bends the two surfaces into one."""

import math

import numpy as np
import pytest

from hoopwright.kernels.line_contact import line_contact


def test_pressure_adds_up_to_the_load() -> None:
    contact = line_contact(271.0, 7260.0, 112637.0)
    assert 0.5 * math.pi * contact.peak_pressure_MPa * contact.half_width_mm == pytest.approx(271.0, rel=1e-12)


def test_surfaces_fit_inside_the_contact() -> None:
    """Slopes of both bodies under p, 2/(pi E*) PV integral p(s)/(x - s) ds, close the slope x/Re of the gap."""
    contact = line_contact(4.56, 0.5, 115385.0)
    a, p0 = contact.half_width_mm, contact.peak_pressure_MPa
    # s = a cos(u): the principal value of a sampled ellipse, midpoints placed symmetrically about each x
    count = 20000
    u = (np.arange(count) + 0.5) * math.pi / count
    for k in (3000, 7000, 11000):
        x = a * math.cos(k * math.pi / count)
        integral = float(np.sum(p0 * np.sin(u) * a * np.sin(u) / (x - a * np.cos(u))) * math.pi / count)
        assert 2.0 * integral / (math.pi * contact.contact_modulus_MPa) == pytest.approx(x / 0.5, rel=1e-6)
