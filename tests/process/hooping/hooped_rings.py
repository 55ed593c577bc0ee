"""A hat ring on segments, cheap to run: half a pitch where nothing disturbs it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from hoopwright.design.shapes import ControlSize
from hoopwright.kernels.taper_drive import TaperDrive
from hoopwright.process.hooping.operation import SegmentHit, SizeOnSegments
from hoopwright.process.workpiece import Workpiece

CONTROLS = (
    ControlSize("land_id", 4.0, "inside", 246.90, 0.10, "restrained", "circumference"),
    ControlSize("lip_od", 43.0, "outside", 247.60, 0.10, "restrained", "circumference"),
)


def operation(hoop: Workpiece, up_mm: float = 2.1, count: int = 8, **changes: object) -> SizeOnSegments:
    """One hit that moves every station out by `up_mm`, segments standing as turned."""
    base = SizeOnSegments(
        surface_mm=np.asarray(hoop.r_mm + up_mm - 0.5 * hoop.thickness_mm * np.cos(hoop.angle_rad)),
        count=count,
        slot_mm=4.2,
        edge_radius_mm=1.0,
        friction=0.1,
        hits=(SegmentHit(0.0),),
        controls=CONTROLS,
        drawn_mm=(3.0, 50.0),
        drive=TaperDrive(count, math.radians(7.0), 0.1, 0.12),
    )
    return replace(base, **changes)  # type: ignore[arg-type]
