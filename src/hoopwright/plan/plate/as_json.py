"""The plan of an end plate as plain data for plate.json: figures, findings, walk, tool faces, stations, forces."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

import numpy as np

from hoopwright.kernels.profile import Profile
from hoopwright.plan.as_json import figure_row, finding_row, rounded
from hoopwright.plan.plate.plate_plan import PlatePlan
from hoopwright.process.press import PressStep

SCHEMA = "hoopwright-plate-1"
DIGITS = 4
"""Decimals of station and curve columns: a tenth of a micrometre, a tenth of a newton."""


def plate_data(plan: PlatePlan) -> dict[str, Any]:
    """The plan as plain data; keys are explained in docs/pressing.md."""
    liner = plan.job.liner
    plain: dict[str, Any] = rounded(
        {
            "schema": SCHEMA,
            "liner": liner.id,
            "revision": liner.revision,
            "invented": liner.invented,
            "plate": plan.job.plate.id,
            "mark": plan.mark,
            "walk": [
                {
                    "kind": step.kind,
                    "title": step.title,
                    "subtitle": step.subtitle,
                    "figures": [figure.identity for figure in step.figures],
                }
                for step in plan.walk
            ],
            "figures": [asdict(figure_row(figure)) for figure in plan.figures],
            "findings": [asdict(finding_row(finding)) for finding in plan.findings],
            "faces": {name: _face(face) for name, face in faces(plan).items()},
            "presses": [_press(step) for step in plan.walk if isinstance(step, PressStep)],
        }
    )
    return plain


def plate_text(plan: PlatePlan) -> str:
    """Text of plate.json: the same plan gives the same bytes."""
    return json.dumps(plate_data(plan), indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def faces(plan: PlatePlan) -> dict[str, Profile]:
    """Every tool face, press open, x along the axis and y the radius (of a port about its own axis)."""
    own = plan.faces
    found = {
        "flange-punch": own.punch,
        "flange-outer-die": own.outer_die,
        "flange-inner-die": own.inner_die,
        "flange-pad": own.pad,
        "flange-holder": own.holder,
    }
    if plan.port is not None:
        port = plan.port.faces
        found |= {
            "port-die": port.die,
            "port-punch": port.punch,
            "port-plunger": port.plunger,
            "port-holder": port.holder,
        }
    return found


def _face(face: Profile) -> list[dict[str, Any]]:
    return [{"start": s.start, "end": s.end, "centre": s.centre, "ccw": s.ccw} for s in face]


def _press(step: PressStep) -> dict[str, Any]:
    """Stations of one press operation, shut and free, and its force curve."""
    record = step.record
    shut, free = record.shut, record.free
    along, hoop, through = free.strains()
    middle = {"r_mm": 0.5 * (free.y_mm[1:] + free.y_mm[:-1]), "x_mm": 0.5 * (free.x_mm[1:] + free.x_mm[:-1])}
    columns = {
        **middle,
        "shut_r_mm": 0.5 * (shut.y_mm[1:] + shut.y_mm[:-1]),
        "shut_x_mm": 0.5 * (shut.x_mm[1:] + shut.x_mm[:-1]),
        "thickness_mm": free.thickness_mm,
        "strain_along_log": along,
        "strain_hoop_log": hoop,
        "strain_thickness_log": through,
        "plastic_strain_log": free.plastic_strain.max(axis=1),
    }
    for k, tool in enumerate(record.tools):
        nodes = record.pressure_MPa[k]
        columns[f"pressure_{tool.replace(' ', '_')}_MPa"] = np.maximum(nodes[1:], nodes[:-1])
    return {
        "title": step.title,
        "stations": {name: np.round(column, DIGITS).tolist() for name, column in columns.items()},
        "stroke_mm": np.round(record.stroke_mm, DIGITS).tolist(),
        "force_N": {tool: np.round(record.force_N[k], 1).tolist() for k, tool in enumerate(record.tools)},
    }
