"""Trim programme: where the edges of the sized ring are cut, measured from its contour and not from the raw edge."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.findings import Figure, Finding, Input, Source
from hoopwright.kernels.profile import Profile, Segment
from hoopwright.plan.shapes import Reckoning, RingJob
from hoopwright.process.working import reckoned, stated

REFERENCE = Source("practice", "edges are trimmed from a contour feature of the sized ring; common practice, no source")


@dataclass(frozen=True, slots=True)
class TrimPlan:
    """Both edges of the ring. feature : the place on the contour they are measured from; feature_z_mm : its z."""

    feature: str
    feature_z_mm: float
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


def sharp_corner(before: Segment, after: Segment) -> tuple[float, float]:
    """Where two straights would meet if the arc between them were not there. [mm]

    Contour tracing finds this point from two fitted lines; the end of a fillet it does not find.
    """
    (x1, y1), (x2, y2) = before.start, before.end
    (x3, y3), (x4, y4) = after.start, after.end
    cross = (x2 - x1) * (y4 - y3) - (y2 - y1) * (x4 - x3)
    share = ((x3 - x1) * (y4 - y3) - (y3 - y1) * (x4 - x3)) / cross
    return x1 + share * (x2 - x1), y1 + share * (y2 - y1)


def reference_feature(section: Profile) -> tuple[str, float]:
    """The corner both edges are measured from: the first sharp one aft of the forward edge; a plain hoop has none."""
    for before, bend, after in zip(section.segments, section.segments[1:], section.segments[2:], strict=False):
        if bend.is_arc and not before.is_arc and not after.is_arc:
            return "sharp corner of the first bend aft of the forward edge", sharp_corner(before, after)[0]
    return "forward edge", section.start[0]


def plan_trim(job: RingJob, reckoning: Reckoning) -> TrimPlan:
    """Distances of both finished edges from the reference corner, and the metal that comes off each.

    Parameters
    ----------
    job, reckoning : the ring and its reckoned walk; the sized section carries its edge trims.
    """
    feature, feature_z = reference_feature(job.section)
    tolerance = job.liner.tolerances.edge_axial_position_mm
    place = job.liner.source(f"{job.ring.id}, section")
    corner = Input("z_f", feature, feature_z, "mm", place)
    figures: list[Figure] = []
    for end, edge_z in (("forward", job.section.start[0]), ("aft", job.section.end[0])):
        edge = Input("z_e", f"{end} edge", edge_z, "mm", place)
        figures.append(
            reckoned(
                job.identity(f"trim/{end}-edge"),
                f"{end} edge from the reference corner, ± {tolerance:g}",
                abs(edge_z - feature_z),
                "mm",
                "| z_e - z_f |",
                edge,
                corner,
                digits=2,
                note="part held on its sized diameters; lathe on an expanding plug, or laser with nitrogen",
            )
        )
        figures.append(_metal_off(job, reckoning, end))
    figures.append(stated(job.identity("trim/edge-break"), "edge break", 0.1, "mm", REFERENCE, 1))
    return TrimPlan(feature, feature_z, tuple(figures), ())


def _metal_off(job: RingJob, reckoning: Reckoning, end: str) -> Figure:
    """Trim left at one edge of the sized ring: the planned trim, narrowed by the stretch there."""
    planned = job.limits.edge_trim_mm.value
    strain = float(reckoning.total_strain_log[0 if end == "forward" else -1])
    return reckoned(
        job.identity(f"trim/{end}-metal-off"),
        f"metal off the {end} edge",
        planned * (1.0 - 0.5 * strain),
        "mm",
        "w ( 1 - ½ ε )",
        job.limits.edge_trim_mm.as_input("w"),
        Input("ε", "hoop strain of that edge, flat blank to sized ring", strain, "log", Source("derived", "the walk")),
        digits=1,
    )
