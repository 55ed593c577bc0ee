"""How far contoured segments must be pulled in before a hoop can be slid over them, off either end. mm, rad.

The segments' contour stands at R(z); a hoop has the inside radii r(z) along its own axis. Both z are the axial place
when the hoop sits where it belongs. A hoop that leaves towards +z is shifted by some u >= 0, so a place z of the
segments passes below every place z' <= z of the hoop, and below no other: the free passage there is the least
r(z'), z' <= z (towards -z: z' >= z). That running minimum is the exact sweep over every relative position.

Pulled in by s, the edges of a segment stick out further than its middle. With edge radius e, and the centre of the
rounded edge at a = asin((w/2 + e)/(R - e)) from the gap's middle, the farthest point stands at

    C = e + sqrt(((R - e) cos c - s)^2 + ((R - e) sin c)^2),   c = pi/N - a

which is solved for the s that brings C to the free passage q less a clearance:

    s = (R - e) cos c - sqrt((q - e)^2 - ((R - e) sin c)^2)

For sharp edges and a small undercut this is (R - q)/cos(half arc of a segment): more than R - q, which is what
crown-against-throat arithmetic gives (`travel_crown_throat`).

References
----------
Derived here; checked by moving contours over each other in small steps in tests/exact/test_segment_retract_exact.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.errors import InputError, require_finite
from hoopwright.kernels.arrays import Vector, finite_vector, positive_vector, rising_vector, same_length, whole_count

End = Literal["minus", "plus"]
"""The end over which the hoop comes and goes: towards -z or towards +z."""


@dataclass(frozen=True, slots=True, eq=False)
class Contour:
    """Radii along the axis: z_mm rising, radius_mm above 0, both shape (n,); straight between stations."""

    z_mm: Vector
    radius_mm: Vector

    def __post_init__(self) -> None:
        z = rising_vector("axial stations", self.z_mm, "mm")
        radius = positive_vector("radii", self.radius_mm, "mm", 2)
        same_length("radii", radius, "axial stations", z)
        object.__setattr__(self, "z_mm", z)
        object.__setattr__(self, "radius_mm", radius)

    def at(self, z: Vector) -> Vector:
        """Radius at axial places, shape (n,). [mm]"""
        return np.interp(z, self.z_mm, self.radius_mm)

    def refined(self, other: Contour) -> Contour:
        """The same contour with the stations of another one added where it has material."""
        inside = other.z_mm[(other.z_mm > self.z_mm[0]) & (other.z_mm < self.z_mm[-1])]
        z = np.union1d(self.z_mm, inside)
        return Contour(z, self.at(z))


@dataclass(frozen=True, slots=True)
class Passage:
    """Travel needed over one end.

    travel_mm : how far the segments must be pulled in, 0 where nothing is in the way, infinite where no travel does.
    segment_z_mm, hoop_z_mm : the two places that decide it (a segment's edge always decides, never its middle).
    """

    end: End
    travel_mm: float
    segment_z_mm: float
    hoop_z_mm: float


@dataclass(frozen=True, slots=True)
class EndTravel:
    """Travel to put an incoming hoop on and to take the stretched one off, over one end."""

    end: End
    load: Passage
    unload: Passage

    @property
    def travel_mm(self) -> float:
        """The larger of the two."""
        return max(self.load.travel_mm, self.unload.travel_mm)


@dataclass(frozen=True, slots=True)
class LeadingEnd:
    """Both ends weighed. `better` needs less travel (the plus end where they are equal)."""

    minus: EndTravel
    plus: EndTravel

    @property
    def better(self) -> EndTravel:
        """The end over which less travel is needed."""
        return self.minus if self.minus.travel_mm < self.plus.travel_mm else self.plus


@dataclass(frozen=True, slots=True)
class SegmentForm:
    """What a retracted segment's farthest point depends on: count N, slot w (parallel, open), edge radius."""

    count: int
    slot_mm: float = 0.0
    edge_radius_mm: float = 0.0

    def __post_init__(self) -> None:
        whole_count("number of segments", self.count, 2, 400)
        for name, value in (("slot", self.slot_mm), ("edge radius", self.edge_radius_mm)):
            if require_finite(name, value, "mm") < 0.0:
                raise InputError(name, value, "mm", "0 or more", "enter 0 or a value above it")

    def edge_centre_rad(self, radius: Vector) -> Vector:
        """Half angle from a segment's middle to the centre of its rounded edge, by station."""
        sine = (0.5 * self.slot_mm + self.edge_radius_mm) / (radius - self.edge_radius_mm)
        share = np.arcsin(np.clip(sine, 0.0, 1.0))
        centre = math.pi / self.count - share
        if np.any(self.edge_radius_mm >= radius) or np.any(centre <= 0.0):
            raise InputError(
                "slot and edge radius", (self.slot_mm, self.edge_radius_mm), "mm",
                "small beside the segment", "narrow the slot or sharpen the edge",
            )  # fmt: skip
        return centre


def collapsed_radius(form: SegmentForm, radius: ArrayLike, travel: float) -> Vector:
    """Farthest radius of segments turned to `radius` and pulled in by `travel`, shape (n,). [mm]"""
    turned = positive_vector("turned radii", radius, "mm")
    s = require_finite("travel", travel, "mm")
    e = form.edge_radius_mm
    if s < 0.0:
        raise InputError("travel", travel, "mm", "0 or more", "enter the travel as a positive length")
    centre = form.edge_centre_rad(turned)
    return e + np.hypot((turned - e) * np.cos(centre) - s, (turned - e) * np.sin(centre))


def passage(segments: Contour, hoop: Contour, form: SegmentForm, end: End, clearance: float = 0.0) -> Passage:
    """Travel that lets `hoop` slide over `segments` and the `end`, with a radial `clearance` everywhere. [mm]

    Parameters
    ----------
    segments : Contour
        Surface of the segments as they stand with the hoop on them; the hoop's z is measured in the same frame.
    hoop : Contour
        Inside face of the hoop, taken as round and rigid.

    Notes
    -----
    Exact at the stations of both contours; between stations radii are straight lines, so give a radius of 3 mm a
    station every 0.5 mm or closer (error below 0.01 mm).
    """
    if end not in ("minus", "plus"):
        raise InputError("end", end, "", "minus or plus", "name the end over which the hoop leaves")
    gap = require_finite("clearance", clearance, "mm")
    if gap < 0.0:
        raise InputError("clearance", clearance, "mm", "0 or more", "enter 0 or a value above it")
    tool, part = segments.refined(hoop), hoop.refined(segments)
    throat, throat_z = _throat(tool.z_mm, part, end)
    free = throat - gap
    e = form.edge_radius_mm
    side = (tool.radius_mm - e) * np.sin(form.edge_centre_rad(tool.radius_mm))
    reach = (tool.radius_mm - e) * np.cos(form.edge_centre_rad(tool.radius_mm))
    room = (free - e) ** 2 - side**2
    passes = (room >= 0.0) & (free > e)
    need = np.where(passes, reach - np.sqrt(np.maximum(room, 0.0)), np.inf)
    need = np.where(tool.radius_mm <= free, 0.0, need)
    where = int(np.argmax(need))
    travel = float(need[where])
    return Passage(end, travel, float(tool.z_mm[where]), float(throat_z[where]))


def _throat(z: Vector, hoop: Contour, end: End) -> tuple[Vector, Vector]:
    """Least inside radius of the hoop that passes over each z, and where it is; infinite where nothing passes."""
    sign = 1.0 if end == "plus" else -1.0
    order = np.argsort(sign * hoop.z_mm, kind="stable")
    place, radius = hoop.z_mm[order], hoop.radius_mm[order]
    low = np.minimum.accumulate(radius)
    new = np.concatenate([[True], radius[1:] < low[:-1]])
    first = np.maximum.accumulate(np.where(new, np.arange(radius.size), 0))
    last = np.searchsorted(sign * place, sign * z, side="right") - 1
    met = last >= 0
    last = np.maximum(last, 0)
    return np.where(met, low[last], np.inf), np.where(met, place[first[last]], np.nan)


def leading_end(
    segments: Contour, incoming: Contour, released: Contour, form: SegmentForm, clearance: float = 0.0
) -> LeadingEnd:
    """Travel over either end, to load the incoming hoop and to unload the released one; the better end is found."""

    def over(end: End) -> EndTravel:
        load = passage(segments, incoming, form, end, clearance)
        return EndTravel(end, load, passage(segments, released, form, end, clearance))

    return LeadingEnd(over("minus"), over("plus"))


def travel_crown_throat(crown_radius: float, throat_radius: float, clearance: float = 0.0) -> float:
    """Travel by crown against throat alone, edges forgotten: crown - throat + clearance, not below 0. [mm]

    The hand method; the hull asks for more (`passage`).
    """
    crown = finite_vector("crown radius", [crown_radius], "mm")[0]
    throat = finite_vector("throat radius", [throat_radius], "mm")[0]
    return max(0.0, float(crown - throat) + require_finite("clearance", clearance, "mm"))
