"""Figures of the ports of an end plate: hole, pad, bore, lip, neighbours. mm."""

from __future__ import annotations

from hoopwright.findings import Figure, Input, Source
from hoopwright.plan.plate.job import PlateJob
from hoopwright.plan.plate.neighbours import Neighbours
from hoopwright.plan.plate.port_shape import PortShape
from hoopwright.plan.plate.port_solve import PortSolved
from hoopwright.process.working import reckoned, stated

KERNEL = Source("derived", "press run on the section kernel, port as a body of revolution")


def port_figures(job: PlateJob, shape: PortShape, solved: PortSolved, near: Neighbours) -> tuple[Figure, ...]:
    """All figures of the ports, in the order of use."""
    return (
        *hole_figures(job, shape, solved, near),
        *tool_figures(job, solved),
        *formed_figures(job, shape, solved, near),
        *neighbour_figures(job, near),
    )


def hole_figures(job: PlateJob, shape: PortShape, solved: PortSolved, near: Neighbours) -> list[Figure]:
    """Pre-hole by kernel and by both hand rules, its pitch circle."""
    ground = job.card.ground
    lip_from = Input("R0", "where the lip leaves the flat", shape.flat_from, "mm", ground)
    length = shape.lip().length - 1.0
    lip_length = Input("L", "length of the lip's mid-line", length, "mm", ground)
    pitch = job.liner.port_pitch_radius_mm
    return [
        reckoned(
            job.identity("port/pre-hole-dia"),
            "pre-hole of a port",
            2.0 * solved.setting.hole_radius,
            "mm",
            "2 r0",
            Input(
                "r0",
                "hole that ends in the drawn lip, by repeated press runs",
                solved.setting.hole_radius,
                "mm",
                ground,
            ),
            note="cut, then as the edge is called for",
        ),
        reckoned(
            job.identity("port/pre-hole-by-length-dia"),
            "the same by constant length of the lip",
            2.0 * solved.by_length,
            "mm",
            "2 ( R0 - L )",
            lip_from,
            lip_length,
            note="hand rule; with plain-pull thinning it does not keep volume",
        ),
        reckoned(
            job.identity("port/pre-hole-by-volume-dia"),
            "the same by constant volume and plain pull",
            2.0 * solved.by_volume,
            "mm",
            "2 R ( R0 , L )",
            lip_from,
            lip_length,
            note="second hand rule, integrated along the lip",
        ),
        reckoned(
            job.identity("port/pre-hole-pitch-radius"),
            "pitch radius of the pre-holes",
            pitch + near.shift,
            "mm",
            "R_p + s",
            Input("R_p", "port pitch radius", pitch, "mm", job.liner.source("port_pitch_radius_mm")),
            Input("s", "by how much the row of ports draws itself in", near.shift, "mm", ground),
            digits=2,
        ),
    ]


def tool_figures(job: PlateJob, solved: PortSolved) -> list[Figure]:
    """What the tool is cut to, with the proof that it closes."""
    setting, ground = solved.setting, job.card.ground
    closed = solved.closed
    rows = (
        ("pad-tool-height", "height of the pad in the tool", setting.pad_height),
        ("plunger-dia", "diameter of the plunger", 2.0 * setting.plunger_radius),
    )
    found = [
        reckoned(
            job.identity(f"port/{key}"),
            name,
            value,
            "mm",
            "x",
            Input("x", f"closed on the drawing in {closed.rounds} press runs", value, "mm", ground),
        )
        for key, name, value in rows
    ]
    return [
        *found,
        reckoned(
            job.identity("port/clearance"),
            "clearance a side between plunger and bore",
            setting.clearance,
            "mm",
            "c t",
            Input(
                "c",
                "middle of the house's range",
                setting.clearance / job.plate.thickness_mm,
                "t",
                job.card.limits.die_clearance_min_t.source,
            ),
            job.thickness_mm.as_input("t"),
            digits=2,
        ),
        *proof_figures(job, "port", closed.ratio, closed.bound_mm, closed.rounds),
    ]


def proof_figures(job: PlateJob, word: str, ratio: float, bound: float, rounds: int) -> list[Figure]:
    """Contraction and bound of a fixed point."""
    ground = job.card.ground
    q = reckoned(
        job.identity(f"{word}/contraction"),
        "factor by which following corrections shrink",
        ratio,
        "",
        "q",
        Input("q", f"largest ratio seen in {rounds} press runs", ratio, "", ground),
        digits=3,
    )
    end = reckoned(
        job.identity(f"{word}/bound"),
        "how far the tool sizes may be from where the corrections end",
        bound,
        "mm",
        "q / ( 1 - q ) d",
        q.as_input("q"),
        Input("d", "last correction", bound * (1.0 - ratio) / ratio if 0.0 < ratio < 1.0 else bound, "mm", ground),
        digits=4,
        note="Banach's fixed-point theorem, q below 1",
    )
    return [q, end]


def formed_figures(job: PlateJob, shape: PortShape, solved: PortSolved, near: Neighbours) -> list[Figure]:
    """Sizes of the port as it comes off the tool."""
    formed, ground = solved.closed.last, job.card.ground
    rows = (
        (
            "pad-height",
            "pad height, let go",
            formed.pad_height,
            "mm",
            3,
            f"± {near.pad_height_error:.3f} for the neighbours",
        ),
        (
            "lip-bore",
            "bore of the lip, let go",
            2.0 * formed.bore_radius,
            "mm",
            3,
            f"± {near.bore_error:.3f} for the neighbours",
        ),
        (
            "lip-end",
            "end of the lip aft of the flat",
            formed.lip_end,
            "mm",
            3,
            f"± {near.lip_end_error:.3f} for the neighbours",
        ),
        ("pad-flatness", "pad, highest less lowest, before flattening", formed.pad_flatness, "mm", 3, ""),
        ("lip-lean", "lip's edge against the port's axis", formed.lip_lean_deg, "deg", 1, "positive: closing in"),
        ("lip-edge-thickness", "thickness of the lip's edge", formed.edge_thickness, "mm", 3, ""),
        ("lip-edge-strain", "hoop strain of the lip's edge", formed.edge_strain_log, "log", 4, ""),
    )
    return [
        stated(
            job.identity(f"port/{key}"),
            name,
            value,
            unit,
            Source(ground.basis, KERNEL.where, ground.invented),
            digits,
            note,
        )
        for key, name, value, unit, digits, note in rows
    ]


def neighbour_figures(job: PlateJob, near: Neighbours) -> list[Figure]:
    """Field, web, draw-in, pitch shift."""
    ground = job.card.ground
    count = float(job.liner.ports)
    return [
        reckoned(
            job.identity("port/field"),
            "radius of a port's field: half way to the next port",
            job.field_mm,
            "mm",
            "R_p sin ( 180 / n )",
            Input(
                "R_p",
                "port pitch radius",
                job.liner.port_pitch_radius_mm,
                "mm",
                job.liner.source("port_pitch_radius_mm"),
            ),
            Input("n", "ports", count, "", job.liner.source("ports")),
            digits=2,
        ),
        stated(job.identity("port/web"), "flat between the feet of two ports", near.web, "mm", ground, 2),
        stated(
            job.identity("port/to-flange"), "flat between a foot and the flange's bend", near.to_flange, "mm", ground, 2
        ),
        reckoned(
            job.identity("port/pitch-shift"),
            "shift of the pitch circle, inward",
            near.shift,
            "mm",
            "n u / 3.14159265",
            Input("n", "ports", count, "", job.liner.source("ports")),
            Input("u", "draw-in of every field along the circle", near.draw_in, "mm", ground),
            digits=3,
            note=f"if the bands of flat did not resist {near.shift_most:.2f}",
        ),
    ]
