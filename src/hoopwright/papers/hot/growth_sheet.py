"""The growth sheet: where every station of the liner goes when hot, gaps through time, stress, findings."""

from __future__ import annotations

import datetime as dt

from hoopwright.papers.blocks import Block, picture, space
from hoopwright.papers.drawing.items import Drawing
from hoopwright.papers.hot.common import figure_table, finding_blocks, sheet_pdf, title_of
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.curves import Axes, Curve, curves
from hoopwright.papers.pictures.hot_overlay import Callout, Outline, hot_overlay
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.scales import fitting, paper_box, scale_text
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.plan.hot.films import film_sum_W_per_m2K
from hoopwright.plan.hot.gaps import GapCourse, extremes
from hoopwright.plan.hot.hot_plan import HotPlan
from hoopwright.plan.hot.model import port_place
from hoopwright.plan.hot.startup import SHEET_AIR_W_PER_M2K, hot_gas_degC

SHOWN_S = 200.0


def growth_pdf(plan: HotPlan, date: dt.date) -> bytes:
    """The growth sheet as PDF."""
    title = title_of(plan, plan.job.liner.id, "growth sheet, cold to hot", plan.grow_findings, date)
    return sheet_pdf(title, growth_blocks(plan), date)


def growth_blocks(plan: HotPlan) -> list[Block]:
    """Everything on the sheet, in reading order."""
    overlay = overlay_of(plan)
    scale = fitting(190.0, 110.0, INNER_WIDTH, 120.0)
    box = paper_box(overlay, scale)
    datum = plan.job.parts[plan.job.datum[0]].id
    blocks: list[Block] = [
        paragraph(
            f"Datum: {datum}, {plan.job.liner.axial_datum or 'its aft end'}. Cold is 20 °C. Plus is aft and outward.",
            INNER_WIDTH,
        ),
        heading("A", f"Cold and hot; {scale_text(scale)}"),
        picture(overlay, box, scale),
        space(3.0),
        heading("B", "Growth"),
        *figure_table(plan.growth.figures, "growth"),
        heading("C", "Every station, mm"),
        *_stations(plan),
        heading("D", f"Gaps; {plan.joints.said}"),
        *_gap_pictures(plan),
        *figure_table(plan.joints.figures, "gaps"),
        heading("E", "Constraint stress, elastic; not a life"),
        *(paragraph(line, INNER_WIDTH) for line in film_assumptions(plan)),
        *figure_table([f for f in plan.constraint.figures if "/constraint/" in f.identity], "stress"),
        *figure_table([f for f in plan.constraint.figures if f.identity.endswith("/misfit")], "misfit"),
        heading("F", "Stack at the aft groove"),
        *figure_table([f for f in plan.grow_figures if "/stacks/" in f.identity], "stack"),
        *finding_blocks(plan.grow_findings, "G"),
    ]
    return blocks


def film_assumptions(plan: HotPlan) -> list[str]:
    """What the stress figures take for granted about heat."""
    job = plan.job
    films = [film_sum_W_per_m2K(job, k) for k in range(len(job.parts))]
    known = [f for f in films if f is not None]
    if len(known) < len(films):
        return ["Temperature steps at the welds: without an operating point no film is known to conduct against."]
    given = job.liner.thermal.start_up if job.liner.thermal is not None else None
    own = None if given is None else given.sheet_air_W_per_m2K
    known_gas = given is not None and given.hot_gas_degC is not None
    basis = "as given" if own is not None else "assumed, common practice, no source"
    air = own if own is not None else SHEET_AIR_W_PER_M2K
    return [
        f"Temperatures are conducted along the sheet against films: air side {air:g} W/(m² K), {basis}; gas side of "
        f"{hot_gas_degC(job):.0f} °C{'' if known_gas else ', assumed,'} so that each part keeps its steady "
        f"temperature; both together {min(known):.0f} to {max(known):.0f} W/(m² K).",
    ]


def _stations(plan: HotPlan) -> list[Block]:
    columns = (
        Column("part", 20.0, "start"),
        Column("station", 34.0, "start"),
        Column("°C", 14.0),
        Column("z cold", 19.0),
        Column("r cold", 19.0),
        Column("axial", 18.0),
        Column("radial", 18.0),
        Column("z hot", 15.0),
        Column("r hot", 15.0),
    )
    rows = [
        (
            m.part,
            m.name,
            written(m.metal_degC, 0),
            written(m.z_cold_mm, 2),
            written(m.r_cold_mm, 3),
            written(m.axial_mm, 3, True),
            written(m.radial_mm, 3, True),
            written(m.z_hot_mm, 2),
            written(m.r_hot_mm, 2),
        )
        for m in plan.growth.movements
    ]
    return [*table(columns, rows, 2.95, title="stations"), space(3.0)]


def overlay_of(plan: HotPlan) -> Drawing:
    """Cold and hot mid-surfaces with datum, ports and slip joint."""
    model = plan.model
    moved = model.moved()
    outlines = []
    for part, offset, meridian in zip(plan.job.parts, model.stack.offsets, model.stack.strands, strict=True):
        keep = sorted({*range(0, meridian.nodes, 3), meridian.nodes - 1})
        cold = tuple((float(meridian.z[k]), float(meridian.r[k])) for k in keep)
        shift = tuple((float(moved[offset + k, 1]), float(moved[offset + k, 0])) for k in keep)
        outlines.append(Outline(part.id, cold, shift))
    calls = []
    if plan.job.plate is not None and plan.job.liner.port_pitch_radius_mm > 0.0:
        calls.append(_call(plan, model.node(plan.job.plate, port_place(plan.job)), "ports", (14.0, -4.0)))
    if plan.job.aft_outer is not None:
        calls.append(_call(plan, model.end(plan.job.aft_outer), "slip joint", (8.0, 14.0)))
    calls.append(_call(plan, model.node(*plan.job.datum), "axial datum", (8.0, -14.0)))
    return hot_overlay(outlines, calls)


def _call(plan: HotPlan, node: int, words: str, elbow: tuple[float, float]) -> Callout:
    moved = plan.model.moved()[node]
    place = plan.model.place_of(node)
    said = f"{written(float(moved[1]), 3, True)} along, {written(float(moved[0]), 3, True)} out"
    return Callout(place, (float(moved[1]), float(moved[0])), (words, said), elbow)


def _gap_pictures(plan: HotPlan) -> list[Block]:
    found: list[Block] = []
    for gap in plan.joints.gaps:
        if gap.key in ("aft-radial-gap", "nozzle-slide", "port-shift"):
            drawing = gap_picture(plan, gap)
            found += [picture(drawing, paper_box(drawing, 1.0), 1.0, 12.0), space(2.0)]
    return found


def gap_picture(plan: HotPlan, gap: GapCourse) -> Drawing:
    """A gap against time; the stop of a lumped start is set behind the start, cut short."""
    times = plan.joints.times
    assert times is not None
    start = plan.joints.start
    told = extremes(times, gap.values)
    pairs = list(zip(times.tolist(), gap.values.tolist(), strict=True))
    if start is None:
        shown = [Curve(gap.name, tuple(pairs))]
        marks = [((told.least_at, told.least), "least")]
    else:
        first = tuple(p for p in pairs if p[0] <= SHOWN_S)
        back = tuple((t - start.stop, g) for t, g in pairs if start.stop <= t <= start.stop + SHOWN_S)
        shown = [Curve("start", first), Curve("stop", back, "dashed")]
        low_at = told.least_at if told.least_at <= SHOWN_S else told.least_at - start.stop
        marks = [((low_at, told.least), f"least {written(told.least, 2)}")]
    levels = ((0.0, "closed"),) if gap.closes else ((0.0, ""),)
    if gap.closes and told.first_closed is not None:
        marks.append(((told.first_closed, 0.0), f"closes at {written(told.first_closed, 0)} s"))
    axes = Axes(150.0, 38.0, "s after light-off or stop" if start else "s", f"{gap.name}, mm", levels, tuple(marks))
    return curves(axes, shown, f"{gap.name} against time")
