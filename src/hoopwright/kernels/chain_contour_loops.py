"""A welded hoop of contoured section, stretched as a whole on a rigid contour and released. N, mm, MPa.

The section is a row of stations along its mid-line, each a stack of layers through the sheet; every layer is a hoop
fibre. The contour keeps its shape: on the tool every inside face lies on the tool, on release all stations move inward
by one and the same amount. Local bending of the section, its collapse or roll under hoop tension, and friction along
the section are not in this kernel (a thin-shell kernel sees them).

Equations, with fibre radius rho = r + zeta cos (zeta from the mid-line along the outward normal, cos its radial part):

    loading    eps = ln(rho_loaded / rho_in);  stress by the return map of `metal`, fibre free across or width held
    thickness  t = t_in exp(mean over layers of the thickness strain);  r_loaded = face + cos t/2
    tension    T = sum of stress x incoming area x rho_in / rho
    release    one u for all stations such that T = 0; first order: u = sum(stress A) / sum(E A / rho);
               a width held on the tool is free again: no width force at any station

References
----------
Derived here; checked against the one-fibre closed form and the section formula above in
tests/exact/test_chain_exact.py.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.metal import plane_stress_update, uniaxial_update

Array = NDArray[np.float64]


@compiled
def fibre_update(strain: float, point: Vector, held: bool, steps: int, law: Vector, metal: Vector) -> tuple[float, ...]:
    """One hoop fibre after a strain increment, free across or with the width held.

    steps : parts the increment is taken in where the width is held; a free fibre needs none.

    Returns
    -------
    tuple of 8 floats
        The five of the new state, tangent [MPa], thickness strain increment, width strain increment.
    """
    modulus, nu, r = metal[0], metal[1], metal[2]
    if held:
        h, s, p, bh, bs, tangent = point[0], point[1], point[2], point[3], point[4], modulus
        for _ in range(steps):
            h, s, p, bh, bs, tangent, _, _ = plane_stress_update(strain / steps, 0.0, (h, s, p, bh, bs), law, metal)
        change = (h - point[0] + s - point[1]) / modulus
        return h, s, p, bh, bs, tangent, -strain + (1.0 - 2.0 * nu) * change, 0.0
    h, p, bh, tangent = uniaxial_update(strain, point[0], point[2], point[3], law, metal)
    elastic = (h - point[0]) / modulus
    plastic = strain - elastic
    thin = -nu * elastic - plastic / (1.0 + r)
    narrow = -nu * elastic - plastic * r / (1.0 + r)
    return h, point[1], p, bh, point[4], tangent, thin, narrow


@compiled
def load_station(
    radius: float,
    cosine: float,
    width: float,
    thickness: float,
    points: Array,
    layers: Array,
    target: float,
    on_face: bool,
    held: bool,
    steps: int,
    law: Vector,
    metal: Vector,
    loaded: Array,
) -> tuple[float, float, float, float]:
    """Carry one station to the tool; `loaded` (m, 5) takes its new state.

    Parameters
    ----------
    layers : array, shape (2, m)
        Place of each layer as share of the thickness, -1/2 to 1/2, and its share of the thickness.
    target : float
        Radius of the inside face on the tool where `on_face`, else of the loaded mid-line.

    Returns
    -------
    tuple
        Loaded mid-line radius, width, thickness, hoop tension.
    """
    count = layers.shape[1]
    mean_plastic = 0.0
    for j in range(count):
        mean_plastic += layers[1, j] * points[j, 2]
    new_thickness, new_radius = thickness, target + 0.5 * cosine * thickness if on_face else target
    # One middle fibre foretells the thinning so well that the stack below is gone through once.
    for _ in range(2):
        strain = math.log(new_radius / radius)
        _, plastic, _, _ = uniaxial_update(strain, 0.0, mean_plastic, 0.0, law, metal)
        plastic -= mean_plastic
        part = 1.0 if held else 1.0 / (1.0 + metal[2])
        elastic = metal[1] / (1.0 - metal[1]) if held else metal[1]
        new_thickness = thickness * math.exp(-elastic * (strain - plastic) - part * plastic)
        if on_face:
            new_radius = target + 0.5 * cosine * new_thickness
    narrow = 0.0
    for _ in range(20):
        thin, narrow = 0.0, 0.0
        for j in range(count):
            place = layers[0, j] * cosine
            strain = math.log((new_radius + place * new_thickness) / (radius + place * thickness))
            h, s, p, bh, bs, _, dt, dw = fibre_update(strain, points[j], held, steps, law, metal)
            loaded[j, 0], loaded[j, 1], loaded[j, 2], loaded[j, 3], loaded[j, 4] = h, s, p, bh, bs
            thin += layers[1, j] * dt
            narrow += layers[1, j] * dw
        was_radius, was_thickness = new_radius, new_thickness
        new_thickness = thickness * math.exp(thin)
        if on_face:
            new_radius = target + 0.5 * cosine * new_thickness
        if abs(new_radius - was_radius) + abs(new_thickness - was_thickness) < 2e-5:
            break
    tension = 0.0
    for j in range(count):
        place = layers[0, j] * cosine
        ratio = (radius + place * thickness) / (new_radius + place * new_thickness)
        tension += loaded[j, 0] * layers[1, j] * ratio
    return new_radius, width * math.exp(narrow), new_thickness, tension * width * thickness


@compiled
def load_section(
    section: Array,
    points: Array,
    layers: Array,
    target: Array,
    on_face: bool,
    held: bool,
    steps: int,
    law: Vector,
    metal: Vector,
) -> tuple[Array, Array, float]:
    """Carry all stations to the tool.

    Parameters
    ----------
    section : array, shape (4, n)
        Rows: mid-line radius, radial part of the normal, width along the section, thickness.
    points : array, shape (n, m, 5)
        State of every layer.

    Returns
    -------
    tuple
        Section and points on the tool, hoop tension of the whole section [N].
    """
    new_section = section.copy()
    new_points = points.copy()
    tension = 0.0
    for k in range(section.shape[1]):
        radius, width, thickness, pull = load_station(
            section[0, k],
            section[1, k],
            section[2, k],
            section[3, k],
            points[k],
            layers,
            target[k],
            on_face,
            held,
            steps,
            law,
            metal,
            new_points[k],
        )
        new_section[0, k], new_section[2, k], new_section[3, k] = radius, width, thickness
        tension += pull
    return new_section, new_points, tension


@compiled
def _station_moved(
    rho: Vector,
    points: Array,
    shares: Vector,
    move: float,
    held: bool,
    law: Vector,
    metal: Vector,
    new: Array,
) -> tuple[float, float, float, float]:
    """One station after a move outward, nothing holding its width; `new` (m, 5) takes its state.

    rho : radii of its fibres, shape (m,). held : whether the width was held before, so that width stress is to go.

    Returns
    -------
    tuple
        Tension per mm2 of section, its slope against the move, thickness strain, width strain.
    """
    modulus, nu = metal[0], metal[1]
    across, count = 0.0, rho.size
    if held:
        for j in range(count):
            # Elastic answer; the loop below mends it where a fibre yields on the way.
            across -= shares[j] * ((1.0 - nu * nu) * points[j, 1] / modulus + nu * math.log(1.0 + move / rho[j]))
    tension, slope, thin, narrow = 0.0, 0.0, 0.0, 0.0
    for _ in range(20):
        tension, slope, thin, narrow = 0.0, 0.0, 0.0, across
        force, stiffness, cross = 0.0, 0.0, 0.0
        for j in range(count):
            strain = math.log(1.0 + move / rho[j])
            ratio = shares[j] * rho[j] / (rho[j] + move)
            if held:
                h, s, p, bh, bs, hh, hs, ss = plane_stress_update(
                    strain, across, (points[j, 0], points[j, 1], points[j, 2], points[j, 3], points[j, 4]), law, metal
                )
                dt = -strain - across + (1.0 - 2.0 * nu) * (h - points[j, 0] + s - points[j, 1]) / modulus
                force += shares[j] * s
                stiffness += shares[j] * ss
                cross += shares[j] * hs
            else:
                h, s, p, bh, bs, hh, dt, dw = fibre_update(strain, points[j], False, 1, law, metal)
                narrow += shares[j] * dw
            new[j, 0], new[j, 1], new[j, 2], new[j, 3], new[j, 4] = h, s, p, bh, bs
            tension += h * ratio
            slope += (hh - h) * ratio / (rho[j] + move)
            thin += shares[j] * dt
        if not held or abs(force) <= 1e-12 * modulus:
            break
        across -= force / stiffness
    if held:
        slope -= cross * cross / (stiffness * rho[0])
    return tension, slope, thin, narrow


@compiled
def release_section(
    section: Array, points: Array, layers: Array, held: bool, law: Vector, metal: Vector
) -> tuple[Array, Array, float, float]:
    """Let the hoop off the tool: one inward move that leaves no hoop tension, and no width force at any station.

    Returns
    -------
    tuple
        Section and points after release, inward move [mm], hoop tension left over [N].
    """
    new_points, new_section = points.copy(), section.copy()
    stations, count = section.shape[1], layers.shape[1]
    rho, area = np.empty((stations, count)), np.empty(stations)
    move, slope, tension, scale = 0.0, 0.0, 0.0, 0.0
    # First step by the elastic stiffness: a fibre that stands on the yield surface has two slopes at no move.
    for k in range(stations):
        area[k] = section[2, k] * section[3, k]
        slope += metal[0] * area[k] / section[0, k]
        for j in range(count):
            rho[k, j] = section[0, k] + layers[0, j] * section[1, k] * section[3, k]
            tension += points[k, j, 0] * layers[1, j] * area[k]
            scale += abs(points[k, j, 0]) * layers[1, j] * area[k]
    for _ in range(40):
        move -= tension / slope
        tension, slope = 0.0, 0.0
        for k in range(stations):
            pull, rise, thin, narrow = _station_moved(
                rho[k], points[k], layers[1], move, held, law, metal, new_points[k]
            )
            tension += pull * area[k]
            slope += rise * area[k]
            new_section[0, k] = section[0, k] + move
            new_section[2, k] = section[2, k] * math.exp(narrow)
            new_section[3, k] = section[3, k] * math.exp(thin)
        if abs(tension) <= 1e-9 * scale:
            break
    return new_section, new_points, -move, tension
