"""The check of the image series: moving-frame enthalpy scheme in three dimensions, real properties. mm, s, W, J, degC.

    dH/dt = -v dH/dx + div grad theta(H) + source,   x > 0 behind the beam, half a sheet, faces insulated

Finite volumes, central advection (cell Peclet v h/a below 2), explicit to the steady state. Inflow at T0; at the outlet
both the metal carried out and the heat conducted through it are counted, so that the power is closed. Source: cell
averages of the Gaussian beam by error functions, exact shares of the column. Order of convergence and the energy are
tested in tests/exact/test_heat_scheme_exact.py. Conduction only: the temperature inside the bead is no temperature.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import erf

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.heat_metal import HeatMetal

Array = NDArray[np.float64]

TABLE = 20000
OUTLET = 14.0
"""Distance of the outlet behind the beam. [mm]"""


@dataclass(frozen=True, slots=True)
class Beam:
    """Absorbed power [W], speed [mm/s], beam radius [mm], share on the face [1], column depth [mm]."""

    absorbed: float
    speed: float
    radius: float
    face_share: float
    depth: float


@dataclass(frozen=True, slots=True, eq=False)
class SteadyField:
    """Steady enthalpy [J/mm3], shape (x, y, z), and the places of the cells [mm].

    advected, conducted : shares of the power that leave through the outlet with the metal and by conduction.
    """

    x: Array
    y: Array
    z: Array
    enthalpy: Array
    metal: HeatMetal
    advected: float
    conducted: float

    @property
    def closure(self) -> float:
        """Power out over power in; 1 when steady. [1]"""
        return self.advected + self.conducted

    def peaks(self, level: str) -> Array:
        """Peak temperature along the weld at each y [degC], shape (y,), at the "face" or the "root"."""
        top, next_ = (0, 1) if level == "face" else (-1, -2)
        at = np.interp(self.enthalpy, self.metal.enthalpy, self.metal.temperature)
        surface = 1.125 * at[:, :, top] - 0.125 * at[:, :, next_]
        found: Array = surface.max(axis=0)
        return found

    def width(self, temperature: float, level: str) -> float:
        """Width [mm] inside which a temperature [degC] is passed, 0 where it is not."""
        peaks = self.peaks(level)
        below = np.nonzero(peaks < temperature)[0]
        if below.size == 0 or below[0] == 0:
            return 0.0
        k = int(below[0])
        share = (peaks[k - 1] - temperature) / (peaks[k - 1] - peaks[k])
        return 2.0 * float(self.y[k - 1] + share * (self.y[k] - self.y[k - 1]))

    def cooling_time(self, speed: float, hot: float, cool: float) -> float:
        """Time [s] on the centre line, mean through the sheet, from one temperature [degC] down to another."""
        at = np.interp(self.enthalpy[:, 0, :].mean(axis=1), self.metal.enthalpy, self.metal.temperature)
        top = int(np.argmax(at))
        fall = at[top:][::-1]
        return float(np.interp(cool, fall, self.x[top:][::-1]) - np.interp(hot, fall, self.x[top:][::-1])) / speed


def steady_field(metal: HeatMetal, beam: Beam, thickness: float, step: float = 0.1) -> SteadyField:
    """Steady field of a beam on a sheet of `thickness` [mm], cells of `step` [mm].

    Raises
    ------
    InputError
        A beam that is none, or a step too coarse for central advection; the message names the step that is not.
    """
    for name, value, unit in (("absorbed power", beam.absorbed, "W"), ("speed", beam.speed, "mm/s")):
        require_positive(name, value, unit)
    require_positive("beam radius", beam.radius, "mm")
    require_positive("thickness", thickness, "mm")
    require_range("face share", beam.face_share, 0.0, 1.0)
    require_range("column depth", beam.depth, 1e-9, thickness, "mm")
    table, spacing, fastest, slowest = _conduction_table(metal)
    if not 0.0 < step * beam.speed < 2.0 * slowest:
        must = f"above 0 and below {2.0 * slowest / beam.speed:.3g}"
        raise InputError("step", step, "mm", must, "take a finer step")
    layers = max(4, round(thickness / step))
    dz = thickness / layers
    edges_x = _along(beam, step, slowest)
    edges_y = _across(step, slowest, beam.speed, float(edges_x[-1]))
    source = _source(beam, thickness, edges_x, edges_y, layers)
    dx, dy = np.diff(edges_x), np.diff(edges_y)
    dt = 0.9 / (2.0 * fastest * (2.0 / step**2 + 1.0 / dz**2) + beam.speed / step)
    transit = (float(edges_x[-1]) - float(edges_x[0])) / beam.speed
    # the front of the heat arrives spread by conduction along the weld: three deviations of it are waited for
    steps = math.ceil((transit + 3.0 * math.sqrt(2.0 * fastest * transit) / beam.speed + 0.05) / dt)
    field = _march(source, dx, dy, dz, beam.speed, dt, steps, table, spacing)
    advected, conducted = _outlet(field, dx, dy, dz, beam.speed, table, spacing)
    centres = [0.5 * (e[1:] + e[:-1]) for e in (edges_x, edges_y, np.linspace(0.0, thickness, layers + 1))]
    return SteadyField(
        centres[0],
        centres[1],
        centres[2],
        field,
        metal,
        2.0 * advected / beam.absorbed,
        2.0 * conducted / beam.absorbed,
    )


def _conduction_table(metal: HeatMetal) -> tuple[Array, float, float, float]:
    """theta on even steps of H, the step, largest diffusivity and the least one of the solid [mm2/s]."""
    top = float(metal.enthalpy[-1])
    even = np.linspace(0.0, top, TABLE)
    table = np.interp(even, metal.enthalpy, metal.integral)
    slope = np.diff(table) / np.diff(even)
    melting = (even[1:] > np.interp(metal.solidus, metal.temperature, metal.enthalpy)) & (
        even[1:] < np.interp(metal.liquidus, metal.temperature, metal.enthalpy)
    )
    return table, float(even[1]), float(slope.max()), float(slope[~melting].min())


def _along(beam: Beam, step: float, slowest: float) -> Array:
    """Cell edges along the weld: even to 4 mm behind, then growing slowly, for the tail is smooth."""
    ahead = 3.0 * beam.radius + 8.0 * slowest / beam.speed + 0.6
    edges = list(np.arange(-math.ceil(ahead / step), math.ceil(4.0 / step) + 1) * step)
    grown = step
    while edges[-1] < OUTLET:
        grown = min(1.06 * grown, max(step, 3.5 * slowest / beam.speed))
        edges.append(edges[-1] + grown)
    return np.array(edges)


def _across(step: float, slowest: float, speed: float, length: float) -> Array:
    """Cell edges across: even to 1.3 mm, then growing to where the heat has not come yet."""
    reach = 1.3 + 3.0 * math.sqrt(4.0 * 1.6 * slowest * length / speed)
    edges = list(np.arange(0, math.ceil(1.3 / step) + 1) * step)
    grown = step
    while edges[-1] < reach:
        grown *= 1.15
        edges.append(edges[-1] + grown)
    return np.array(edges)


def _source(beam: Beam, thickness: float, edges_x: Array, edges_y: Array, layers: int) -> Array:
    """Power of every cell [W], half a sheet."""
    scale = math.sqrt(2.0) / beam.radius
    along = 0.5 * np.diff(erf(edges_x * scale))
    across = 0.5 * np.diff(erf(edges_y * scale))
    edges_z = np.linspace(0.0, thickness, layers + 1)
    column = np.diff(np.minimum(edges_z, beam.depth)) / beam.depth
    share = (1.0 - beam.face_share) * column
    share[0] += beam.face_share
    made: Array = beam.absorbed * along[:, None, None] * across[None, :, None] * share[None, None, :]
    return made


@compiled
def _theta(h: float, table: Array, spacing: float) -> float:
    place = max(h, 0.0) / spacing
    k = min(int(place), table.size - 2)
    return table[k] + (table[k + 1] - table[k]) * (place - k)


@compiled
def _march(
    source: Array, dx: Array, dy: Array, dz: float, v: float, dt: float, steps: int, table: Array, spacing: float
) -> Array:
    nx, ny, nz = source.shape
    h = np.zeros((nx, ny, nz))
    theta = np.zeros((nx, ny, nz))
    rate = np.empty((nx, ny, nz))
    for i in range(nx):
        for j in range(ny):
            for k in range(nz):
                rate[i, j, k] = source[i, j, k] / (dx[i] * dy[j] * dz)
    for _ in range(steps):
        for i in range(nx):
            for j in range(ny):
                for k in range(nz):
                    theta[i, j, k] = _theta(h[i, j, k], table, spacing)
        _step(h, theta, rate, dx, dy, dz, v, dt)
    return h


@compiled
def _step(h: Array, theta: Array, rate: Array, dx: Array, dy: Array, dz: float, v: float, dt: float) -> None:
    """One explicit step in place; the flux through the left face is kept from the cell before."""
    nx, ny, nz = h.shape
    left = np.zeros((ny, nz))
    old = np.empty((ny, nz))
    for i in range(nx):
        for j in range(ny):
            for k in range(nz):
                if i < nx - 1:
                    gap = 0.5 * (dx[i] + dx[i + 1])
                    right = 0.5 * v * (h[i, j, k] + h[i + 1, j, k]) - (theta[i + 1, j, k] - theta[i, j, k]) / gap
                else:
                    gap = 0.5 * (dx[i] + dx[i - 1])
                    right = v * h[i, j, k] - (theta[i, j, k] - theta[i - 1, j, k]) / gap
                flow = (left[j, k] - right) / dx[i]
                here = theta[i, j, k]
                if j > 0:
                    flow -= (here - theta[i, j - 1, k]) / (0.5 * (dy[j] + dy[j - 1]) * dy[j])
                if j < ny - 1:
                    flow += (theta[i, j + 1, k] - here) / (0.5 * (dy[j] + dy[j + 1]) * dy[j])
                if k > 0:
                    flow -= (here - theta[i, j, k - 1]) / (dz * dz)
                if k < nz - 1:
                    flow += (theta[i, j, k + 1] - here) / (dz * dz)
                left[j, k] = right
                old[j, k] = h[i, j, k] + dt * (flow + rate[i, j, k])
        # the right neighbour still needs this cell's old value, which its left flux already carries
        for j in range(ny):
            for k in range(nz):
                h[i, j, k] = old[j, k]


def _outlet(
    field: Array, dx: Array, dy: Array, dz: float, v: float, table: Array, spacing: float
) -> tuple[float, float]:
    """Power through the outlet with the metal and by conduction, half a sheet. [W]"""
    even = np.arange(table.size) * spacing
    last, before = np.interp(field[-1], even, table), np.interp(field[-2], even, table)
    area = dy[:, None] * dz
    conducted = -(last - before) / (0.5 * (dx[-1] + dx[-2]))
    return float((v * field[-1] * area).sum()), float((conducted * area).sum())
