"""The section of a sheet and everything it remembers: shape, thickness, stress, plastic strain, stretch and curl.

Units mm, MPa, rad. Weights are per radian in revolution started from a disc or ring, per mm of strip otherwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from hoopwright.errors import InputError, require_finite
from hoopwright.kernels.flow import Vector
from hoopwright.kernels.section.accept import set_geometry
from hoopwright.kernels.section.shapes import Cube, Matrix, Sheet

Mode = Literal["revolution", "prism"]


@dataclass(frozen=True, slots=True)
class Section:
    """A section of thin sheet, immutable; arrays must not be written to.

    x_mm, y_mm, angle_rad : nodes, shape (n,); x along the axis or across the strip, y radius or height, angle the
        direction of travel (0 is +x). The left of travel is the plus side of the thickness.
    thickness_mm : of each element, shape (n - 1,).
    share : places of the layers through the thickness, -0.5 to 0.5, shape (l,).
    weight_mm3 : volume of each layer piece in the stress-free start, shape (n - 1, l).
    layers : stress along the section and along the hoop, plastic strain, back stress along and hoop, (n - 1, l, 5).
    [MPa] shear_offset_rad : angle between node frames and chords in the unstrained mesh, shape (n - 1,).
    mode : "revolution" (fibre length kr y) or "prism" (fibre length b0 + kr y + kz x per mm of strip).
    stretch, curl_per_mm, camber_per_mm : b0, kr, kz.
    extent : 2 pi / kr in revolution (factor from kernel forces to those of the whole ring), 1 in prism.
    length_start_mm, fibre_start, thickness_start_mm : of each element at start, shape (n - 1,); strains refer to them.
    """

    x_mm: Vector
    y_mm: Vector
    angle_rad: Vector
    thickness_mm: Vector
    share: Vector
    weight_mm3: Matrix
    layers: Cube
    shear_offset_rad: Vector
    mode: Mode
    stretch: float
    curl_per_mm: float
    camber_per_mm: float
    extent: float
    length_start_mm: Vector
    fibre_start: Vector
    thickness_start_mm: Vector

    def __post_init__(self) -> None:
        n = self.x_mm.shape[0]
        if n < 2 or self.y_mm.shape != (n,) or self.angle_rad.shape != (n,):
            raise InputError(
                "section nodes", n, "", "at least 2, with x, y and angle each", "build it with a mesh function"
            )
        if self.thickness_mm.shape != (n - 1,) or self.layers.shape != (n - 1, self.share.shape[0], 5):
            raise InputError("section arrays", self.layers.shape, "", f"({n - 1}, {self.share.shape[0]}, 5)", "")
        for name in ("x_mm", "y_mm", "angle_rad", "thickness_mm", "weight_mm3", "layers", "shear_offset_rad"):
            if not np.all(np.isfinite(getattr(self, name))):
                raise InputError(name, "not finite", "", "finite everywhere", "rebuild the section")
        for name in ("thickness_mm", "weight_mm3"):
            if not np.all(getattr(self, name) > 0.0):
                raise InputError(name, float(np.min(getattr(self, name))), "", "above 0 everywhere", "")
        for name in ("stretch", "curl_per_mm", "camber_per_mm", "extent"):
            require_finite(name, getattr(self, name))
        if np.any(self.fibres() <= 0.0):
            raise InputError(
                "fibre length of the section",
                float(self.fibres().min()),
                "",
                "above 0 everywhere",
                "keep the section on one side of the axis",
            )

    @property
    def elements(self) -> int:
        """Number of elements."""
        return int(self.thickness_mm.shape[0])

    @property
    def plastic_strain(self) -> Matrix:
        """Plastic strain by element and layer, shape (n - 1, l)."""
        return np.ascontiguousarray(self.layers[:, :, 2])

    def fibres(self) -> Vector:
        """Fibre length at the middle of each element (in revolution the radius when extent is 2 pi), shape (n - 1,)."""
        ym, xm = 0.5 * (self.y_mm[1:] + self.y_mm[:-1]), 0.5 * (self.x_mm[1:] + self.x_mm[:-1])
        return self.stretch + self.curl_per_mm * ym + self.camber_per_mm * xm

    def lengths_mm(self) -> Vector:
        """Chord of each element, shape (n - 1,). [mm]"""
        return np.hypot(np.diff(self.x_mm), np.diff(self.y_mm))

    def strains(self) -> tuple[Vector, Vector, Vector]:
        """Logarithmic strain at mid-thickness along the section, along the hoop and through the thickness, (n - 1,)."""
        return (
            np.log(self.lengths_mm() / self.length_start_mm),
            np.log(self.fibres() / self.fibre_start),
            np.log(self.thickness_mm / self.thickness_start_mm),
        )

    def volume_mm3(self) -> float:
        """Volume now, of the whole ring or per mm of strip. [mm3]"""
        return self.extent * float(np.sum(self.lengths_mm() * self.fibres() * self.thickness_mm))

    def volume_start_mm3(self) -> float:
        """Volume of the stress-free start. [mm3]"""
        return self.extent * float(np.sum(self.weight_mm3))

    def arc_mm(self) -> Vector:
        """Distance of each node along the section, shape (n,). [mm]"""
        return np.concatenate(([0.0], np.cumsum(self.lengths_mm())))

    def reversed(self) -> Section:
        """The same section travelled the other way; what was left is right."""

        def flip(a: Vector) -> Vector:
            return np.ascontiguousarray(a[::-1])

        return replace(
            self,
            x_mm=flip(self.x_mm),
            y_mm=flip(self.y_mm),
            angle_rad=flip(self.angle_rad) + math.pi,
            thickness_mm=flip(self.thickness_mm),
            share=flip(-self.share),
            weight_mm3=np.ascontiguousarray(self.weight_mm3[::-1, ::-1]),
            layers=np.ascontiguousarray(self.layers[::-1, ::-1, :]),
            shear_offset_rad=flip(self.shear_offset_rad),
            length_start_mm=flip(self.length_start_mm),
            fibre_start=flip(self.fibre_start),
            thickness_start_mm=flip(self.thickness_start_mm),
        )

    def moved(self, dx_mm: float, dy_mm: float) -> Section:
        """The section shifted in its plane without strain: the fibre law is shifted with it (prism), or in x only.

        Raises
        ------
        InputError
            When a section of revolution is asked to change its radius, which is a strain.
        """
        if self.mode == "revolution" and dy_mm != 0.0:
            raise InputError("dy_mm", dy_mm, "mm", "0 for a section of revolution", "stretch it with a tool instead")
        stretch = self.stretch - self.curl_per_mm * dy_mm - self.camber_per_mm * dx_mm
        return replace(self, x_mm=self.x_mm + dx_mm, y_mm=self.y_mm + dy_mm, stretch=stretch)

    def without_stress(self) -> Section:
        """The section with stress set to zero; plastic strain and back stress stay. Use for an annealing note or a
        test."""
        layers = self.layers.copy()
        layers[:, :, :2] = 0.0
        return replace(self, layers=layers)

    def with_plastic_strain(self, value: float | Matrix) -> Section:
        """The section with its plastic strain replaced, one value or shape (n - 1, l)."""
        layers = self.layers.copy()
        layers[:, :, 2] = value
        if not np.all(np.isfinite(layers)) or np.any(layers[:, :, 2] < 0.0):
            raise InputError(
                "plastic strain", "negative or not finite", "", "0 or more", "enter the accumulated strain"
            )
        return replace(self, layers=layers)

    def sheet(self) -> Sheet:
        """The section as arrays for compiled code (copies)."""
        n = self.x_mm.shape[0]
        q = np.empty(3 * n)
        q[0::3], q[1::3], q[2::3] = self.x_mm, self.y_mm, self.angle_rad
        shape = self.weight_mm3.shape
        sheet = Sheet(
            self.weight_mm3,
            self.share,
            self.thickness_mm.copy(),
            self.shear_offset_rad,
            self.layers.copy(),
            np.zeros(shape),
            np.zeros(shape),
            q,
            np.array([self.stretch, self.curl_per_mm, self.camber_per_mm, 0.0, 0.0]),
            np.zeros(n),
            np.zeros(n),
        )
        set_geometry(sheet)
        return sheet

    def after(self, sheet: Sheet) -> Section:
        """This section brought to the state of `sheet`."""
        return replace(
            self,
            x_mm=sheet.q[0::3].copy(),
            y_mm=sheet.q[1::3].copy(),
            angle_rad=sheet.q[2::3].copy(),
            thickness_mm=sheet.thick.copy(),
            layers=sheet.layers.copy(),
            stretch=float(sheet.g[0]),
            curl_per_mm=float(sheet.g[1]),
            camber_per_mm=float(sheet.g[2]),
        )
