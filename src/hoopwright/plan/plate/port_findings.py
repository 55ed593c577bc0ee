"""What is said about the ports of an end plate beside the findings of their press step. mm; strains log [1]."""

from __future__ import annotations

from hoopwright.findings import Check, Finding, judged
from hoopwright.plan.plate.job import PlateJob
from hoopwright.plan.plate.neighbours import TOUCHED_LOG, Neighbours
from hoopwright.plan.plate.port_figures import KERNEL
from hoopwright.plan.plate.port_shape import PortShape
from hoopwright.plan.plate.port_solve import PortSolved
from hoopwright.process.press_findings import EDGE_WORDS

BUDGET_SHARE = 0.1
"""Share of a tolerance that a residual of the tool may take."""


def port_findings(job: PlateJob, shape: PortShape, solved: PortSolved, near: Neighbours) -> list[Finding | None]:
    """What is said about the ports beside the findings of the press step."""
    formed, tolerances, t = solved.closed.last, job.liner.tolerances, job.plate.thickness_mm
    drawing = job.liner.source("tolerances")
    least = tolerances.thickness_min_after_forming_mm
    place = job.identity("port")
    found: list[Finding | None] = [
        edge_note(job, "port/pre-hole", "pre-hole", solved.setting.cut_edge, formed.edge_strain_log)
    ]
    port = job.plate.port
    limits = job.card.limits
    rows = [
        ("lip bore", 2.0 * abs(solved.closed.missed_mm[1]), port.lip_bore_tolerance_mm if port else None, "lip-bore"),
        ("pad height", abs(solved.closed.missed_mm[0]), tolerances.pad_height_mm, "pad-height"),
    ]
    for word, missed, tolerance, key in rows:
        if tolerance is None:
            continue
        check = Check(
            f"what the tool leaves on the {word} is a tenth of its tolerance",
            float(missed),
            BUDGET_SHARE * tolerance,
            "<=",
            "mm",
            drawing,
            "caution",
            "close the tool faces further",
            f"{place}/{key}",
        )
        found.append(
            judged(
                check,
                f"The tool leaves {missed:.3f} on the {word}; a tenth of {tolerance:g} is allowed.",
                "port-residual",
            )
        )
    if tolerances.pad_flatness_mm is not None:
        check = Check(
            "the pad is flat as pressed",
            formed.pad_flatness,
            tolerances.pad_flatness_mm,
            "<=",
            "mm",
            drawing,
            "caution",
            f"flatten the pads at the end of the stroke at {limits.restrike_pressure_MPa.value:g} MPa; "
            "confirm it at the try-out",
            f"{place}/pad-flatness",
        )
        found.append(
            judged(
                check,
                f"A pad let go is {formed.pad_flatness:.3f} out of flat; {tolerances.pad_flatness_mm:g} is wanted.",
                "pad-flatness",
                "flattening presses through the thickness, which the kernel does not follow",
            )
        )
    found += [
        judged(
            Check(
                "the lip's edge is no thinner than the drawing allows",
                formed.edge_thickness,
                least,
                ">=",
                "mm",
                drawing,
                "stop",
                "start from thicker sheet, or a shorter lip",
                f"{place}/lip-edge-thickness",
            ),
            f"The lip's edge is {formed.edge_thickness:.3f} thin; {least:g} is wanted.",
            "lip-thin",
        ),
        judged(
            Check(
                "bends of the port are no sharper than the house forms",
                (shape.lip_bend - 0.5 * t) / t,
                limits.flange_radius_min_t.value,
                ">=",
                "t",
                limits.flange_radius_min_t.source,
                "caution",
                "polish the radius first; ask for a larger one, or form the lip in two steps",
                f"{place}/lip-bend",
            ),
            f"The lip bends at {(shape.lip_bend - 0.5 * t) / t:.2f} t inside; the house forms from "
            f"{limits.flange_radius_min_t.value:g} t.",
            "port-sharp",
        ),
        *_neighbour_findings(job, near),
    ]
    return found


def edge_note(job: PlateJob, about: str, word: str, edge: str, strain: float) -> Finding | None:
    """Why an edge is reamed or machined."""
    if edge == "laser_as_cut":
        return None
    allowed = job.card.limits.edge_strain_laser_as_cut_log
    return Finding(
        "note",
        f"The {word} is {EDGE_WORDS[edge]}: its edge is stretched by {strain:.3f} (log) and as the laser leaves it "
        f"{allowed.value:g} is allowed.",
        "put the operation on the route card; look at the edge under a glass before pressing",
        job.identity(about),
        "edge-made",
        source=allowed.source,
    )


def _neighbour_findings(job: PlateJob, near: Neighbours) -> list[Finding | None]:
    place = job.identity("port")
    reach = Check(
        "fields of neighbours do not reach each other",
        near.reach_log,
        TOUCHED_LOG,
        "<=",
        "log",
        KERNEL,
        "caution",
        "take the sizes of the ports from the try-out; a body of revolution is too simple here",
        f"{place}/web",
    )
    flange = Check(
        "the foot of a port ends before the flange's bend",
        near.to_flange,
        0.0,
        ">=",
        "mm",
        job.liner.source(f"{job.plate.id}, section and ports"),
        "stop",
        "a smaller port, or another pitch circle",
        f"{place}/to-flange",
    )
    tolerance = job.liner.tolerances.port_position_diameter_mm
    found = [
        judged(
            reach,
            f"A web of {near.web:.1f} between two ports is too narrow to take them one by one: it yields by "
            f"{near.reach_log:.4f} half way.",
            "web-narrow",
        ),
        judged(flange, f"Ports reach {-near.to_flange:.2f} into the flange's bend.", "port-in-bend"),
    ]
    if tolerance is not None:
        # a radius off by the shift is a position off by twice as much on the zone's diameter
        check = Check(
            "the pitch circle's shift is small against the position tolerance",
            2.0 * near.shift,
            0.5 * tolerance,
            "<=",
            "mm",
            job.liner.source("tolerances"),
            "note",
            f"cut the pre-holes on radius {job.liner.port_pitch_radius_mm + near.shift:.2f}, as the blank drawing has",
            f"{place}/pitch-shift",
        )
        said = (
            f"The row of ports draws itself in by about {near.shift:.2f} on the radius (0 to {near.shift_most:.2f}); "
            f"the position zone is {tolerance:g}."
        )
        found.append(judged(check, said, "pitch-shift", "estimate; measure it on the first plate"))
    return found
