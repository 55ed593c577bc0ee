"""Section trace against its nominal: best fit free or held, where it leaves the nominal, corner radii as traced."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import require_positive
from hoopwright.findings import Check, Finding, Source, judged
from hoopwright.kernels.arrays import Vector, finite_vector
from hoopwright.kernels.circles.fits import least_squares_circle
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.trace_fit import TraceFit, fit_trace

MEASURED = Source("measured", "section trace")


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the nominal: its number, nominal radius and radius as traced [mm], points on it, sd of the radius."""

    number: int
    nominal_mm: float
    traced_mm: float
    points: int


@dataclass(frozen=True, slots=True)
class SectionStatement:
    """fit : the motion taken out, what is left. profile_mm : zone. corners : traced radii. findings."""

    fit: TraceFit
    profile_mm: float
    corners: tuple[Corner, ...]
    findings: tuple[Finding, ...]


def evaluate_section(
    section: Profile,
    thickness_mm: float,
    face: str,
    z_mm: Sequence[float],
    r_mm: Sequence[float],
    zone_mm: float,
    free: tuple[str, ...] = ("along", "across", "turn"),
    ring: str = "ring",
) -> SectionStatement:
    """Compare a trace of one face with the drawing's mid-surface section carried to that face.

    free : what the fit may move; leave "across" out where the radius itself is judged.
    """
    side = 0.5 * require_positive("thickness", thickness_mm, "mm")
    nominal = offset(section, side if face == "outside" else -side)
    z, r = finite_vector("z", z_mm, "mm", 5), finite_vector("r", r_mm, "mm", 5)
    fit = fit_trace(nominal, z, r, free)
    corners = tuple(_corners(nominal, fit, z, r))
    check = Check(
        "profile of the section", fit.form_mm, require_positive("zone", zone_mm, "mm"), "<=", "mm", MEASURED, "stop",
        "look where it leaves the nominal, then at the roll gap", ring,
    )  # fmt: skip
    held = ", ".join(w for w in ("along", "across", "turn") if w not in free) or "nothing"
    sentence = f"The section of {ring} leaves its profile zone: {fit.form_mm:.3f} mm against {zone_mm:g} mm."
    finding = judged(check, sentence, "section-profile", f"Best fit, held: {held}; rms {fit.rms_mm:.3f} mm.")
    return SectionStatement(fit, fit.form_mm, corners, (finding,) if finding else ())


def _corners(nominal: Profile, fit: TraceFit, z: Vector, r: Vector) -> list[Corner]:
    found = []
    for number, segment in enumerate(nominal.segments):
        if not segment.is_arc:
            continue
        on = np.nonzero(fit.segment == number)[0]
        if on.size >= 5:
            circle = least_squares_circle(z[on], r[on])
            found.append(Corner(number, segment.radius, circle.radius, int(on.size)))
    return found
