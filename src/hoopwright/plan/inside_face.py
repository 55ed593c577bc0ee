"""Inside face of a ring as contours for its segments, and the ground that figures of the walk stand on."""

from __future__ import annotations

import numpy as np

from hoopwright.findings import Source
from hoopwright.kernels.segment_retract import Contour
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.plan.solve import shop_card
from hoopwright.process.workpiece import Workpiece
from hoopwright.tools.segment_contour import FacePoints


def ground_of(job: RingJob) -> Source:
    """What anything taken from the walk stands on."""
    return shop_card(job).ground


def face_points(job: RingJob, reckoning: Reckoning) -> FacePoints:
    """Loaded inside face by station."""
    half = 0.5 * reckoning.loaded.thickness_mm
    return FacePoints(
        job.stations.x + np.sin(job.stations.angle) * half,
        reckoning.tool_face_mm,
        reckoning.loaded.thickness_mm,
        job.stations.segment,
    )


def inside_of(workpiece: Workpiece) -> Contour:
    """Inside face of a ring along the axis."""
    half = 0.5 * workpiece.thickness_mm
    place = workpiece.z_mm + np.sin(workpiece.angle_rad) * half
    radius = workpiece.r_mm - np.cos(workpiece.angle_rad) * half
    keep = np.concatenate(([True], np.diff(np.maximum.accumulate(place)) > 1e-9))
    return Contour(place[keep], radius[keep])
