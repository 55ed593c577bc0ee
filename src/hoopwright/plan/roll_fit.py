"""Whether a roll pair fits its machine: distance of the centres when closed, and room between the bearings."""

from __future__ import annotations

from hoopwright.findings import Check, Figure, Finding, Input, Source, judged
from hoopwright.plan.shapes import RingJob
from hoopwright.process.working import reckoned
from hoopwright.tools.rolls import RollPair

COLLAR_MM = 10.0
COLLARS = Source("practice", "one collar a side, 10 wide; common practice, no source")


def roll_fit(job: RingJob, rolls: RollPair) -> tuple[tuple[Figure, ...], tuple[Finding, ...]]:
    """Centre distance and width of the pair, with what the machine card says to them."""
    centres, width = _centres(job, rolls), _width(job, rolls)
    machine = job.machines.roll
    findings = [
        _too_close(job, centres),
        judged(
            Check(
                "the machine opens far enough for these rolls",
                centres.value,
                machine.centre_distance_max_mm.value,
                "<=",
                "mm",
                machine.centre_distance_max_mm.source,
                "stop",
                "use a smaller pitch radius, or a larger machine",
                centres.identity,
            ),
            f"The rolls of {job.ring.id} stand {centres.value:.1f} apart when closed; the machine opens to "
            f"{machine.centre_distance_max_mm.value:g}.",
            "roll-centres",
        ),
        judged(
            Check(
                "the rolls go between the bearings",
                width.value,
                machine.shaft_span_mm.value,
                "<=",
                "mm",
                machine.shaft_span_mm.source,
                "stop",
                "mount the rolls overhung, or use a wider machine",
                width.identity,
            ),
            f"The rolls of {job.ring.id} are kept {width.value:.0f} of room along the shafts; the bearings stand "
            f"{machine.shaft_span_mm.value:g} apart.",
            "roll-width",
        ),
    ]
    return (centres, width), tuple(finding for finding in findings if finding is not None)


def _centres(job: RingJob, rolls: RollPair) -> Figure:
    pitch = Input("R_p", "pitch radius", rolls.pitch_radius_mm, "mm", job.limits.roll_pitch_radius_mm.source)
    return reckoned(
        job.identity("roll/centre-distance"),
        "roll centres, closed on the sheet",
        2.0 * rolls.pitch_radius_mm,
        "mm",
        "2 R_p",
        pitch,
        digits=2,
        note="the pitch line lies in the middle of the sheet, so its thickness is in it",
    )


def _width(job: RingJob, rolls: RollPair) -> Figure:
    x0, _, x1, _ = rolls.inner.bounds
    contour = Input("w", "contour with trims and guides", x1 - x0, "mm", job.liner.source("section"))
    return reckoned(
        job.identity("roll/width"),
        "room along the shafts kept for the rolls, at most",
        x1 - x0 + 2.0 * COLLAR_MM,
        "mm",
        "w + 2 c",
        contour,
        Input("c", "collar", COLLAR_MM, "mm", COLLARS),
        digits=1,
    )


def _too_close(job: RingJob, centres: Figure) -> Finding | None:
    machine = job.machines.roll
    check = Check(
        "the machine closes far enough for these rolls",
        centres.value,
        machine.centre_distance_min_mm.value,
        ">=",
        "mm",
        machine.centre_distance_min_mm.source,
        "stop",
        "use a larger pitch radius",
        centres.identity,
    )
    return judged(
        check,
        f"The rolls of {job.ring.id} stand {centres.value:.1f} apart when closed; the machine closes to "
        f"{machine.centre_distance_min_mm.value:g}.",
        "roll-centres",
    )
