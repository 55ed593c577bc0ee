"""What is said about a segment set: flats, the better end, why there are more segments than usual."""

from __future__ import annotations

import math

from hoopwright.findings import Check, Figure, Finding, judged
from hoopwright.plan.shapes import RingJob
from hoopwright.tools.segments import SegmentSet, named_end


def segment_findings(job: RingJob, segments: SegmentSet, figures: list[Figure], allowed: float) -> list[Finding]:
    """All findings of a set; `allowed` is the peak-to-valley that its choice may cost [mm]."""
    flat = next(figure for figure in figures if figure.identity.endswith("/flat"))
    found: list[Finding | None] = [
        judged(
            Check(
                "the flats at the slots keep inside the lobes allowed",
                flat.value,
                allowed,
                "<=",
                "mm",
                job.limits.lobe_share.source,
                "caution",
                "turn the blank with spacers in the final position, or size in more hits with an index between",
                flat.identity,
            ),
            f"{segments.count} segments leave flats of {flat.value:.3f} on {job.ring.id}; the drawing's roundness "
            f"leaves {allowed:.3f}.",
            "segment-flats",
        ),
        _end_finding(job, segments),
        _more_segments(job, segments),
    ]
    return [finding for finding in found if finding is not None]


def _end_finding(job: RingJob, segments: SegmentSet) -> Finding | None:
    """The better end, where it is not the one the designer named."""
    better, wish = segments.needed.better, job.ring.release_direction
    other = segments.needed.plus if better.end == "minus" else segments.needed.minus
    name = named_end(better.end)
    if wish == name or other.travel_mm - better.travel_mm < 0.05:
        return None

    def told(value: float) -> str:
        return f"{value:.2f}" if math.isfinite(value) else "no travel is enough"

    sentence = (
        f"{job.ring.id} comes off better with its {name} end leading: {told(better.load.travel_mm)} to load and "
        f"{told(better.unload.travel_mm)} to unload, against {told(other.load.travel_mm)} and "
        f"{told(other.unload.travel_mm)}."
    )
    wished = "the liner file leaves it open" if wish == "either" else f"the liner file says {wish}"
    return Finding(
        "note",
        sentence,
        f"lead with the {name} end" + ("" if wish == "either" else f", and write release_direction {name}"),
        job.identity("segments/travel"),
        "leading-end",
        wished,
    )


def _more_segments(job: RingJob, segments: SegmentSet) -> Finding | None:
    least = round(job.limits.segments.value)
    if segments.count == least:
        return None
    first = segments.weighed[0]
    return Finding(
        "note",
        f"{job.ring.id} needs {segments.count} segments; {first[0]} would leave flats of {first[3]:.3f}.",
        "turn the blank with spacers in the final position if fewer are wanted",
        job.identity("segments/count"),
        "segment-count",
        f"a travel of {segments.travel_mm:g} opens the slots to {segments.slot_mm:.1f}",
    )
