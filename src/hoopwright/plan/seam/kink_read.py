"""How much a welded hoop is bent at its seam, read from a trace of its roundness before sizing."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.seam import SeamCard
from hoopwright.errors import Fault, FileFaults, require_positive
from hoopwright.findings import Band, Figure, Finding, Input, Source
from hoopwright.kernels.seam_angle import KinkEstimate, estimate_kink, kink_peak
from hoopwright.plan.seam.card_text import CardFigure, seam_card_text
from hoopwright.plan.seam.table_file import numbers, table_rows
from hoopwright.process.working import reckoned

Array = NDArray[np.float64]

COLUMNS: Final = ("theta_deg", "deviation_mm")
NINE_IN_TEN: Final = 1.6448536269514722
TRACED: Final = Source("measured", "trace of the welded hoop before sizing, orders 2 to 8")


@dataclass(frozen=True, slots=True, eq=False)
class KinkRead:
    """Kink of a hoop. estimate : angle [rad], above 0 standing out, and the oval that handling left."""

    estimate: KinkEstimate
    sentence: str
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def read_trace(path: Path) -> tuple[Array, Array]:
    """Angles from the seam [rad] and radial deviations [mm] of a file with theta_deg and deviation_mm, shapes (n,).

    Raises
    ------
    InputError, FileFaults
        As the table reader; angles beyond a turn.
    """
    faults: list[Fault] = []
    rows = [(line, numbers(row, COLUMNS, line, faults)) for line, row in table_rows(path, COLUMNS)]
    for line, cells in rows:
        if len(cells) == 2 and not -360.0 <= cells[0] <= 360.0:
            must = "from -360 to 360, counted from the seam"
            faults.append(Fault("theta_deg", f"{cells[0]:g}", "deg", must, "count from the seam", line))
    if faults:
        raise FileFaults(str(path), faults)
    table = np.array([cells for _, cells in rows], dtype=np.float64).reshape(-1, 2)
    return np.radians(table[:, 0]), table[:, 1]


def read_kink(trace: tuple[Array, Array], radius_mm: float, name: str) -> KinkRead:
    """Kink of a trace, its shape fixed, with a free second order for handling.

    Parameters
    ----------
    name : str
        Of the seam, in figures ("N06002-0.80").

    Raises
    ------
    InputError
        Fewer than 17 places; a radius that is none.
    """
    found = estimate_kink(*trace, require_positive("hoop radius", radius_mm, "mm"))
    oval = math.hypot(*found.handling)
    degrees, half = math.degrees(found.angle), NINE_IN_TEN * math.degrees(found.angle_sd)
    seen = Input("y", "trace", trace[0].size, "places", TRACED)
    radius = Input("R", "mean radius of the hoop", radius_mm, "mm", TRACED)
    angle = reckoned(
        f"seam/{name}/angle",
        "angle across the seam, standing out above 0",
        degrees,
        "deg",
        "least squares ( y , R )",
        seen,
        radius,
        digits=2,
        band=Band(degrees - half, degrees + half, "scatter of the trace about the shape of a kink"),
    )
    peak = kink_peak(found.angle, radius_mm)
    figures = (
        angle,
        reckoned(
            f"seam/{name}/peak",
            "how far the hoop stands out at its seam",
            peak,
            "mm",
            "3 φ R / ( 4 π )",
            Input("φ", angle.name, found.angle, "rad", TRACED, angle.identity),
            radius,
            digits=2,
        ),
        reckoned(
            f"seam/{name}/handling",
            "oval beside it, from handling, amplitude",
            oval,
            "mm",
            "least squares ( y , R )",
            seen,
            radius,
            digits=2,
        ),
    )
    words = "stands out" if peak > 0.0 else "is dented"
    sentence = f"The hoop {words} {abs(peak):.2f} mm at its seam: {degrees:+.2f} deg."
    return KinkRead(found, sentence, figures, _findings(name, found, oval, peak))


def kink_card(found: KinkRead, material: str, thickness_mm: float, before: SeamCard) -> str:
    """The seam card with the angle as read; its scatter is the trace's own, until more hoops are read."""
    rows = [
        CardFigure("angle_deg", math.degrees(found.estimate.angle), "deg", TRACED),
        CardFigure("angle_sd_deg", math.degrees(found.estimate.angle_sd), "deg", TRACED),
    ]
    return seam_card_text(material, thickness_mm, "angle as one hoop showed it", rows, before)


def _findings(name: str, found: KinkEstimate, oval: float, peak: float) -> tuple[Finding, ...]:
    made = []
    if abs(found.angle) < 2.0 * found.angle_sd:
        made.append(
            Finding(
                "caution",
                f"The angle is not told from nothing: {math.degrees(found.angle):+.2f} deg, "
                f"plus or minus {math.degrees(found.angle_sd):.2f}.",
                "read more places round the hoop, closer at the seam",
                f"seam/{name}/angle",
                "kink-unclear",
            )
        )
    if oval > abs(peak):
        made.append(
            Finding(
                "note",
                f"Handling left an oval of {oval:.2f} mm beside the seam's own shape.",
                "lay the hoop on three balls and read it again",
                f"seam/{name}/handling",
                "kink-handling",
            )
        )
    return tuple(made)
