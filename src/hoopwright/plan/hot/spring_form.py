"""The form of a spring plate, and what the kernels say of it: stiffness, stress per force, load lost."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.alloy import Alloy
from hoopwright.design.shapes import SpringPlate
from hoopwright.errors import CardError
from hoopwright.findings import Figure, Source
from hoopwright.kernels.spring_plate import PlateSpring, rim_spring
from hoopwright.kernels.spring_plate_mesh import RimShape
from hoopwright.kernels.spring_relaxation import Relaxation, RelaxationTest, relaxation
from hoopwright.kernels.spring_rim import RimSpring, finger_on_rim
from hoopwright.plan.hot.job import HotJob

Vector = NDArray[np.float64]

LEG_IN_FINGERS = 1.2
"""Width of a leg in finger widths where the file gives none: assumed, no source, and asked for."""
SERVICE_H = 1000.0
ASSUMED = Source("practice", "assumed, no source; asked for")


@dataclass(frozen=True, slots=True)
class SpringForm:
    """What decides a spring plate, in mm: thickness, width and length of fingers, legs. load_share : stiffness of the
    plate
    over that at the form's own thickness grows with its cube."""

    thickness_mm: float
    finger_width_mm: float
    finger_length_mm: float
    rim_inner_mm: float
    rim_outer_mm: float
    fingers_deg: tuple[float, ...]
    legs_deg: tuple[float, ...]
    leg_width_mm: float
    leg_height_mm: float


def spring_form(job: HotJob, spring: SpringPlate) -> SpringForm:
    """The form of the liner's spring plate; legs by the drawing, else assumed."""
    return SpringForm(
        spring.thickness_mm,
        spring.finger_width_mm,
        spring.finger_length_mm,
        spring.rim_rho_from_mm,
        spring.rim_rho_to_mm,
        spring.finger_theta_local_deg,
        spring.legs_theta_local_deg,
        spring.leg_width_mm if spring.leg_width_mm is not None else LEG_IN_FINGERS * spring.finger_width_mm,
        spring.leg_height_mm if spring.leg_height_mm is not None else standing_height(job, spring),
    )


def standing_height(job: HotJob, spring: SpringPlate) -> float:
    """Height of a leg from the plate's forward face to the underside of the rim, from the drawing's planes. [mm]"""
    plate = job.liner.end_plate
    sheet = 0.0 if plate is None else plate.thickness_mm
    return max(0.0, -spring.rim_plane_z_mm - 0.5 * sheet - 0.5 * spring.thickness_mm)


def plate_of(form: SpringForm, young: float, poisson: float, per_half_width: int = 8) -> PlateSpring:
    """Plate model of a form."""
    shape = RimShape(
        form.rim_inner_mm,
        form.rim_outer_mm,
        form.finger_width_mm,
        form.finger_length_mm,
        tuple(math.radians(a) for a in form.fingers_deg),
        tuple(math.radians(a) for a in form.legs_deg),
        form.leg_width_mm,
    )
    return rim_spring(shape, young, poisson, form.thickness_mm, form.leg_height_mm, per_half_width)


def bar_of(form: SpringForm, young: float, poisson: float) -> RimSpring:
    """Curved-bar closed form of a form: legs between the fingers."""
    gap = min(abs((leg - finger + 180.0) % 360.0 - 180.0) for leg in form.legs_deg for finger in form.fingers_deg)
    arc = max(0.02, math.radians(gap) - math.asin(min(1.0, 0.5 * form.leg_width_mm / form.rim_outer_mm)))
    return finger_on_rim(
        young,
        poisson,
        form.thickness_mm,
        form.finger_width_mm,
        form.finger_length_mm,
        form.rim_inner_mm,
        form.rim_outer_mm,
        arc,
    )


def force_stress(form: SpringForm, plate: PlateSpring) -> float:
    """Greatest stress per N on one finger: of the plate off its corners, or 6 L/(w t^2) at the root. [MPa/N]"""
    root = 6.0 * form.finger_length_mm / (form.finger_width_mm * form.thickness_mm**2)
    return max(root, plate.stress / plate.stiffness)


def loss_of(spring: SpringPlate) -> tuple[Relaxation | None, float, float, str]:
    """Relaxation used: model from tests, share lost, its standard deviation, and words."""
    hours = spring.service_hours if spring.service_hours is not None else SERVICE_H
    near = [t for t in spring.relaxation_tests if abs(t.metal_degC - spring.metal_degC) <= 15.0]
    if near:
        model = relaxation([RelaxationTest(t.hours, t.loss_share) for t in near])
        return model, model.loss(hours), model.spread(hours), f"{len(near)} relaxation readings, carried to {hours:g} h"
    prior = relaxation([])
    return None, spring.relaxation_share, prior.spread(hours), "relaxation_share of the liner file, no test"


def yield_of(card: Alloy) -> Figure | None:
    try:
        return card.figure("yield_strength_aged_MPa")
    except CardError:
        try:
            return card.yield_MPa()
        except CardError:
            return None
