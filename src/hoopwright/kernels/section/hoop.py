"""From a curled strip to a closed hoop on one history array. Units mm, rad.

A strip's fibre length is b0 + kr y + kz x. Turning the drawing plane turns (kr, kz) like a vector; shifting it changes
b0. A strip bent to kr = 2 pi / L, kz = 0 with no stretch force and shifted by b0/kr is a hoop of girth law 2 pi y: no
history is mapped, nothing is lost.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.section.metal import Metal
from hoopwright.kernels.section.result import Result
from hoopwright.kernels.section.run import run
from hoopwright.kernels.section.schedule import FREE, Drift, Schedule, Step, Support
from hoopwright.kernels.section.section import Section


def turned(section: Section, angle_rad: float) -> Section:
    """A strip drawn in a plane turned by an angle (counter-clockwise about the origin): no strain, the same fibres."""
    if section.mode != "prism":
        raise InputError("mode", section.mode, "", "prism", "a section of revolution has its axis")
    c, s = math.cos(angle_rad), math.sin(angle_rad)
    x, y, kx, ky = section.x_mm, section.y_mm, section.camber_per_mm, section.curl_per_mm
    return replace(
        section,
        x_mm=c * x - s * y,
        y_mm=s * x + c * y,
        angle_rad=section.angle_rad + angle_rad,
        camber_per_mm=c * kx - s * ky,
        curl_per_mm=s * kx + c * ky,
    )


def cone_half_angle_rad(section: Section) -> float:
    """Half angle of the cone a strip curls to: atan(kz / kr), 0 for a cylinder. [rad]"""
    if section.curl_per_mm == 0.0 and section.camber_per_mm == 0.0:
        raise InputError("curl", 0.0, "1/mm", "other than 0", "a straight strip has no cone")
    return math.atan2(section.camber_per_mm, section.curl_per_mm)


def centroid_mm(section: Section) -> tuple[float, float]:
    """Centroid (x, y) of the section's metal. [mm]"""
    weight = section.weight_mm3.sum(axis=1)
    xm = 0.5 * (section.x_mm[1:] + section.x_mm[:-1])
    ym = 0.5 * (section.y_mm[1:] + section.y_mm[:-1])
    return float(np.sum(weight * xm) / weight.sum()), float(np.sum(weight * ym) / weight.sum())


def curl_radius_mm(section: Section) -> float:
    """Radius of curl at the centroid of a strip: its fibre length over the size of (kr, kz); infinite when straight.
    [mm]"""
    x, y = centroid_mm(section)
    size = math.hypot(section.curl_per_mm, section.camber_per_mm)
    if size == 0.0:
        return math.inf
    return (section.stretch + section.curl_per_mm * y + section.camber_per_mm * x) / size


def closed_hoop(section: Section, metal: Metal, strip_length_mm: float, increments: int = 20) -> Result:
    """Bend a strip to a closed hoop of the given strip length; the last section is one of revolution.

    Parameters
    ----------
    strip_length_mm : flat length of strip in the hoop after trimming and welding. [mm]
    increments : steps of the bending.

    Returns
    -------
    Result : of the bending, its `section` in revolution mode, y the radius.
    """
    require_positive("strip_length_mm", strip_length_mm, "mm")
    if section.mode != "prism":
        raise InputError("mode", section.mode, "", "prism", "it is a hoop already")
    angle = cone_half_angle_rad(section) if abs(section.curl_per_mm) > 1e-5 else 0.0
    start = turned(section, angle)
    middle = (section.x_mm.size - 1) // 2
    step = Step(
        "close the hoop",
        supports=(Support(middle, "x"), Support(middle, "y")),
        stretch=FREE,
        curl=Drift(2.0 * math.pi / strip_length_mm),
        camber=Drift(0.0),
        increments=increments,
        hold=1e-7,
    )
    result = run(start, Schedule((step,)), metal)
    strip = result.section
    hoop = replace(
        strip,
        y_mm=strip.y_mm + strip.stretch / strip.curl_per_mm,
        stretch=0.0,
        camber_per_mm=0.0,
        mode="revolution",
        extent=strip_length_mm,
    )
    return replace(result, section=hoop)
