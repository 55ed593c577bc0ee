"""Segment set drawings: the blank as turned, the wire cut, the set as ground."""

from __future__ import annotations

import math

from hoopwright.kernels.profile import Point, line
from hoopwright.papers.blocks import Block, beside, space, stacked
from hoopwright.papers.drawing.items import Drawing, Item, LinearDimension, Path, Text, circle
from hoopwright.papers.numbers import radius, three_figures, written
from hoopwright.papers.pictures.callouts import Callout
from hoopwright.papers.pictures.segments import polar_drawing, profile_drawing
from hoopwright.papers.pictures.turned import turned_drawing
from hoopwright.papers.prose import Column, boxed, heading, paragraph, table
from hoopwright.papers.scales import scale_text
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.shop.kit import (
    Paper,
    big_figures,
    entries,
    numbered_steps,
    section_points,
    view_letters,
    writing_table,
)
from hoopwright.papers.shop.stock_rows import findings_of, life_words, stock_blocks
from hoopwright.papers.shop.views import set_view
from hoopwright.papers.walk_tools import control_blocks, fitted
from hoopwright.plan.ring_tools import RingTools
from hoopwright.tools.segment_body import SetForm
from hoopwright.tools.turned import radius_at
from hoopwright.tools.wire_path import WirePath


def set_blank(tools: RingTools) -> Paper:
    """The blank to turn: half section with shoulder, undercut, neck, band grooves and taper bore."""
    form, letters = tools.parts.form, view_letters()
    made = tools.tool(form.name)
    shoulder = max(s.start[1] for s in form.section.segments if s.start[0] < 9.0)
    tips = [
        Callout((1.0, shoulder), (radius(shoulder, 2), "shoulder")),
        Callout(
            (0.5 * (form.profile.start[0] + form.profile.end[0]), _level(form)), ("profile", "as ground, later sheet")
        ),
        Callout(
            (form.height_mm - 1.0, form.section.segments[-3].start[1]),
            (radius(form.section.segments[-3].start[1], 2), "neck"),
        ),
    ]
    lengths = [(form.profile.start[0], form.profile.end[0]), (0.0, form.height_mm)]
    drawn, scale = fitted(lambda s: turned_drawing(form.name, form.section, s, tips, lengths), INNER_WIDTH, 118.0, 2.0)
    words = (
        f"Taper bore R {written(form.bore_mm, 3)} at the base, R {written(form.bore_top_mm, 3)} at the top, half angle "
        f"{written(math.degrees(form.half_angle_rad), 3)}°, "
        f"to the pin {tools.plan.job.liner.id}-P. Shoulder down, ring leaves over the top: its {_end(tools)} end. "
        f"Tongue {written(form.tongue.width_mm, 2)} wide, {written(form.tongue.depth_mm, 1)} deep, from "
        f"{written(form.tongue.from_mm, 1)} to {written(form.tongue.to_mm, 1)} off the axis. "
        f"Grooves for bands 4.4 wide, 4.2 deep."
    )
    blocks: list[Block] = [
        heading(next(letters), f"Half section of the finished blank, {scale_text(scale)}"),
        stacked([drawn, paragraph(words, INNER_WIDTH)], 1.5, "blank of the set"),
        space(3.0),
        heading(next(letters), "Points of the half section, height above the base and radius"),
        *section_points(form.section),
        *stock_blocks(made, next(letters)),
        heading(next(letters), "Route"),
        *numbered_steps([f"{w.title}: {w.text}" for w in made.works]),
        paragraph(life_words(made), INNER_WIDTH),
        entries(("bar, cast", "lathe, date", "name")),
    ]
    return Paper(
        "set-blank",
        form.name,
        f"Segment set for ring {tools.plan.job.ring.id}: blank",
        tuple(blocks),
        (),
        ("grind",),
        findings_of(made),
    )


def _level(form: SetForm) -> float:
    return radius_at(form.profile, 0.5 * (form.profile.start[0] + form.profile.end[0]))


def _end(tools: RingTools) -> str:
    return "aft" if tools.parts.form.upward > 0 else "forward"


def wire_drawing(path: WirePath, scale: float) -> Drawing:
    """The blank from above with every slot, start hole and the order of the bridges; layers for the wire machine.

    The wire's centre lines are true to size; angles are clockwise from the middle of segment 1, which is at the top.
    """
    form = path.form
    outer = form.section.bounds[3]
    items: list[Item] = [
        Path(circle((0.0, 0.0), outer), "wide", layer="BLANK"),
        Path(circle((0.0, 0.0), form.bore_mm), "wide", layer="BLANK"),
        Path((line((-1.06 * outer, 0.0), (1.06 * outer, 0.0)),), "centre", layer="CENTRE"),
        Path((line((0.0, -1.06 * outer), (0.0, 1.06 * outer)),), "centre", layer="CENTRE"),
    ]
    for number, angle in enumerate(path.slot_angles_deg, start=1):
        items += _slot(path, number, angle)
    for number in range(1, form.count + 1):
        place = _turned((0.5 * (outer + form.bore_mm), 0.0), (number - 1) * 360.0 / form.count)
        items.append(Text(place, str(number), 3.9, "figures-bold", "middle", (0.0, -1.3), knockout=True))
    return Drawing(tuple(items), f"wire path of {form.name}", f"{form.count} slots, {len(path.passes)} passes a side")


def _turned(point: Point, clock_deg: float) -> Point:
    """A place given outward along a slot (x) and across it (y), turned to its angle from the top."""
    t = math.radians(90.0 - clock_deg)
    return (point[0] * math.cos(t) - point[1] * math.sin(t), point[0] * math.sin(t) + point[1] * math.cos(t))


def _slot(path: WirePath, number: int, angle: float) -> list[Item]:
    items: list[Item] = []
    for k, one in enumerate(path.passes):
        for side in (1, -1) if one.offset_mm else (1,):
            a, b = (_turned(p, angle) for p in path.line(one, side))
            items.append(Path((line(a, b),), "narrow" if k == 0 else "other", layer="ROUGH" if k == 0 else "SKIM"))
    if path.start_hole_mm is not None:
        dia, at = path.start_hole_mm
        items.append(Path(circle(_turned((at, 0.0), angle), 0.5 * dia), "narrow", layer="HOLE"))
    # clear of the slot's end and the rim by the lettering's own size, whatever the scale
    place, away = _turned((path.to_mm, 0.0), angle), _turned((4.4, 0.0), angle)
    order = path.order.index(number) + 1
    items.append(Text(place, f"{order}.", 2.95, "figures", "middle", (away[0], away[1] - 1.0), layer="TEXT"))
    return items


def slot_detail(path: WirePath) -> Drawing:
    """One slot drawn big: final faces, and where the wire's centre runs."""
    form, half = path.form, 0.5 * path.form.slot_mm
    long = 2.4 * form.slot_mm
    items: list[Item] = [Path((line((0.0, s * half), (long, s * half)),), "wide") for s in (1.0, -1.0)]
    items.append(Path((line((-0.3 * long, 0.0), (1.1 * long, 0.0)),), "centre"))
    for k, one in enumerate(path.passes):
        for s in (1.0, -1.0) if one.offset_mm else (1.0,):
            items.append(
                Path((line((0.0, s * one.offset_mm), (long, s * one.offset_mm)),), "narrow" if k == 0 else "other")
            )
    items.append(LinearDimension((0.0, -half), (0.0, half), 10.0, 3, "y"))
    if path.passes[0].offset_mm:
        items.append(LinearDimension((long, 0.0), (long, path.passes[0].offset_mm), -10.0, 3, "y"))
    if len(path.passes) > 1:
        skim = path.passes[-1]
        items.append(LinearDimension((0.5 * long, 0.0), (0.5 * long, skim.offset_mm), 0.0, 3, "y", prefix="skim "))
    return Drawing(tuple(items), "one slot", "final faces heavy, wire centres light")


def set_wire(tools: RingTools) -> Paper:
    """The wire cut."""
    path, form, letters = tools.wire, tools.parts.form, view_letters()
    above, scale = fitted(lambda s: wire_drawing(path, s), 112.0, 112.0, 1.0)
    detail, big = fitted(lambda s: slot_detail(path), 58.0, 60.0, 5.0)
    machine = tools.plan.job.machines.wire
    columns = (
        Column("pass", 24.0, "start"),
        Column("wire centre off the middle", 46.0),
        Column("leaves the face at", 40.0),
    )
    rows = [(p.name, f"± {written(p.offset_mm, 3)}", f"± {written(p.finish_mm, 3)}") for p in path.passes]
    order = (Column("cut", 14.0, "start"), Column("slot after segment", 36.0), Column("angle", 26.0))
    turns = [(str(k), str(n), f"{written(path.slot_angles_deg[n - 1], 2)}°") for k, n in enumerate(path.order, start=1)]
    hole = (
        f"Start hole Ø {written(path.start_hole_mm[0], 1)} in the waste strip of each slot, "
        f"{written(path.start_hole_mm[1], 2)} off the axis."
        if path.start_hole_mm is not None
        else "No start hole: the wire comes in from outside."
    )
    steps = [
        f"Set up on the ground base, bore true within 0.01. Wire Ø {written(machine.wire_dia_mm.value, 2)}, kerf "
        f"{written(machine.kerf_mm.value, 2)}, height {written(path.height_mm, 1)}.",
        f"{hole} Thread and cut outward on both sides of every slot; the bridges at the bore stay.",
        "Cut the bridges in the order of the table, opposite slots in turn, so that the blank does not spring.",
        "Skim every face. No recast may be left: the affected depth of the rough cut is less than what the skim takes.",
        "Number segments 1 to " + f"{form.count} before they come apart; the mark is on segment 1.",
    ]
    left = stacked([heading(next(letters), f"From above, {scale_text(scale)}"), above])
    right = stacked([heading(next(letters), f"One slot, {scale_text(big)}"), detail])
    blocks: list[Block] = [
        beside([(0.0, left), (INNER_WIDTH - 58.0, right)], "wire cut"),
        space(3.0),
        heading(next(letters), "Passes"),
        *table(columns, rows, title="passes"),
        space(3.0),
        heading(next(letters), "Order of the bridges"),
        *table(order, turns, title="order"),
        space(3.0),
        heading(next(letters), "Work"),
        *numbered_steps(steps),
        entries(("programme", "machine, date", "name")),
    ]
    return Paper(
        "set-wire",
        form.name,
        f"Segment set for ring {tools.plan.job.ring.id}: wire cut",
        tuple(blocks),
        (),
        ("grind",),
        path.findings,
    )


def set_ground(tools: RingTools) -> Paper:
    """The set as ground, in the loaded position: what the toolmaker grinds to and writes down."""
    plan, form, letters = tools.plan, tools.parts.form, view_letters()
    view, room = set_view(tools), tools.shelf.room
    profile, scale = fitted(lambda s: profile_drawing(view, s), 108.0, 78.0, 2.0)
    above, small = fitted(lambda _: polar_drawing(view), 62.0, 78.0, 1.0)
    press = plan.sizing.press
    loads = [
        ("pin pull", three_figures(press.figure("pull").value, "kN")),
        ("radial sum", three_figures(press.figure("radial-sum").value, "kN")),
        ("hoop tension", three_figures(plan.figure("press/tension").value, "kN")),
        ("1 mm of pin, across segments", f"{written(plan.figure('stop/across-per-mm').value, 4)} mm of Ø"),
    ]
    steps = [
        f"Assemble on {form.count} spacers {written(form.slot_mm, 2)} ± "
        f"{written(room.spacer_tolerance_mm.value, 3)}, bands on, base down.",
        f"Grind to the table, profile ± {written(room.segment_profile_mm.value, 3)}, Ra "
        f"{written(room.segment_finish_um.value, 1)}.",
        f"Round every slot edge to R {written(form.edge_radius_mm, 1)} along the profile, polish along the turning.",
        f"Open on pin {plan.job.liner.id}-P: travel {written(form.travel_mm, 1)}, stroke "
        f"{written(press.figure('stroke').value, 1)}. Fit the retract.",
    ]
    names = [c.name for c in view.controls]
    heads = [("segment", 18.0), *((name[:14], (INNER_WIDTH - 18.0) / len(names)) for name in names)]
    release = next((f for f in plan.findings if f.topic == "pin-release"), None)
    blocks: list[Block] = [
        beside(
            [
                (0.0, stacked([heading(next(letters), f"Loaded position, {scale_text(scale)}"), profile])),
                (INNER_WIDTH - 60.0, stacked([heading(next(letters), f"From above, {scale_text(small)}"), above])),
            ],
            "segment set",
        ),
        space(3.0),
        *control_blocks(view, letters),
        heading(next(letters), "Work"),
        *numbered_steps(steps),
        heading(next(letters), "At the press"),
        big_figures(loads),
        space(2.0),
    ]
    if release is not None:
        blocks += [
            boxed(
                stacked(
                    [
                        paragraph(release.sentence, INNER_WIDTH - 6.0, 3.6, "sentences-bold"),
                        paragraph(f"Do: {release.remedy}.", INNER_WIDTH - 6.0),
                    ]
                ),
                INNER_WIDTH,
            ),
            space(3.0),
        ]
    blocks += [
        heading(next(letters), "As ground, radius to 0.001 by contour trace"),
        *writing_table(heads, [(str(k), *("" for _ in names)) for k in range(1, form.count + 1)]),
        entries(("gauge no.", "temperature", "name, date")),
    ]
    return Paper(
        "set-ground",
        form.name,
        f"Segment set for ring {plan.job.ring.id}: as ground",
        tuple(blocks),
        ("segments", "press"),
        ("grind", "size"),
    )
