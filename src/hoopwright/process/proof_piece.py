"""A workpiece that carries its whole section as the section kernel keeps it: nodes, layers, stress, stretch and curl.

Operations of the proof walk (`proof_roll`, `proof_curl`, `proof_close`, `proof_size`, `proof_trim`) hand it on, so that
no state is mapped from one mesh to another between flat strip and trimmed ring.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from hoopwright.errors import InputError
from hoopwright.kernels import metal as sheet_metal
from hoopwright.kernels.section import Metal, Section
from hoopwright.process.workpiece import Seam, Workpiece

ALONG, HOOP, PLASTIC, BACK_HOOP = 0, 1, 2, 4
"""Places in the last axis of a section's layers that a workpiece shows."""


@dataclass(frozen=True, slots=True, eq=False)
class SectionPiece(Workpiece):
    """A workpiece whose stations are the elements of `section`; z along the axis, r the radius of a hoop, else height.

    Of a strip in the rolls z and r lie in the frame of the rolls.
    """

    section: Section = field(kw_only=True)


def section_metal(metal: sheet_metal.Metal) -> Metal:
    """The metal of the chain as the section kernel takes it.

    Raises
    ------
    InputError
        When a share of the curve's own hardening is kinematic: the section kernel has a back stress of its own law
        only.
    """
    if metal.kinematic_share != 0.0:
        raise InputError(
            "kinematic share",
            metal.kinematic_share,
            "",
            "0 for a proof run",
            "give the back stress by its modulus and rate instead",
        )
    return Metal(
        metal.flow,
        metal.youngs_modulus_MPa,
        metal.poisson,
        metal.normal_anisotropy,
        metal.back_modulus_MPa,
        metal.back_rate,
    )


def piece_of(
    part: str,
    section: Section,
    length_mm: float,
    made_by: tuple[str, ...] = (),
    seam: Seam | None = None,
) -> SectionPiece:
    """A workpiece that shows `section`.

    length_mm : along strip or hoop, on the fibre that was as long as the flat strip. [mm]
    """
    form: Literal["strip", "hoop"] = "hoop" if section.mode == "revolution" else "strip"
    length, angle = section.lengths_mm(), section.angle_rad
    flat = np.cumsum(section.length_start_mm)
    return SectionPiece(
        part=part,
        form=form,
        s_mm=flat - 0.5 * section.length_start_mm,
        weight_mm=length,
        z_mm=0.5 * (section.x_mm[1:] + section.x_mm[:-1]),
        r_mm=0.5 * (section.y_mm[1:] + section.y_mm[:-1]),
        angle_rad=0.5 * (angle[1:] + angle[:-1]),
        curvature_per_mm=np.diff(angle) / length,
        thickness_mm=section.thickness_mm,
        layer=section.share,
        plastic_strain=section.layers[:, :, PLASTIC],
        back_stress_MPa=section.layers[:, :, BACK_HOOP],
        stress_hoop_MPa=section.layers[:, :, HOOP],
        stress_section_MPa=section.layers[:, :, ALONG],
        length_mm=length_mm,
        curl_per_mm=section.curl_per_mm if form == "strip" else 0.0,
        seam=seam,
        annealed=False,
        made_by=made_by,
        section=section,
    )


def carried(workpiece: Workpiece, section: Section, operation: str) -> SectionPiece:
    """The workpiece after an operation that left it as `section`."""
    made = (*workpiece.made_by, operation)
    return piece_of(workpiece.part, section, workpiece.length_mm, made, workpiece.seam)


def section_of(workpiece: Workpiece) -> Section:
    """The section a workpiece carries.

    Raises
    ------
    InputError
        For a workpiece of the layered chain, whose stations are too coarse for the section kernel.
    """
    if not isinstance(workpiece, SectionPiece):
        raise InputError(
            f"{workpiece.part} section",
            "stations only",
            "",
            "a section of the kernel",
            "start the walk from the flat strip of a proof run",
        )
    return workpiece.section
