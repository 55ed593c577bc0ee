"""Drawing of base, spacers, trim plug and weld bars of a ring; the pin's drawing is a liner's."""

from __future__ import annotations

import math

from hoopwright.kernels.profile import Profile, line
from hoopwright.papers.blocks import Block, beside, space, stacked
from hoopwright.papers.drawing.items import Chain, Drawing, Hatch, Item, LinearDimension, Path
from hoopwright.papers.numbers import radius, written
from hoopwright.papers.pictures.callouts import Callout
from hoopwright.papers.pictures.turned import turned_drawing
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.scales import scale_text
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.shop.kit import Letters, Paper, entries, section_points, view_letters
from hoopwright.papers.walk_tools import fitted
from hoopwright.plan.ring_tools import RingTools
from hoopwright.tools.base import BOLT, BOLT_DIA, THICKNESS, BaseForm
from hoopwright.tools.fixtures import DEPTH, GROOVE_DEPTH, GROOVE_WIDTH, WeldFixture
from hoopwright.tools.taper_pin import PinForm
from hoopwright.tools.trim_plug import BRIDGE, HALF_ANGLE_RAD, SLIT, SLITS, PlugForm
from hoopwright.tools.turned import closed, radius_at

BAND_WORDS = (
    "Bands are close-wound coil springs, one end drawn down and screwed four turns into the other; the joint lies over "
    "the middle of a segment, never over a slot. Solids show them as plain rings."
)


def small_tools(tools: RingTools) -> Paper:
    """Base, spacers, plug, weld bars."""
    letters = view_letters()
    blocks = [
        *_base(tools.parts.base, letters),
        *_spacers(tools, letters),
        *_plug(tools, letters),
        *_weld(tools.weld, letters),
        entries(("made by", "measured", "date")),
    ]
    return Paper(
        "small-tools",
        f"{tools.plan.job.ring.id} tools",
        "Base, spacers, trim plug, weld bars",
        tuple(blocks),
        (),
        ("grind", "weld", "trim"),
    )


def base_section(base: BaseForm) -> Drawing:
    """Half section of the base through a slot."""
    deep, to = -base.slot_depth_mm, base.slot_to_mm + 0.5 * base.slot_width_mm
    cut = [
        (-THICKNESS, base.bore_mm),
        (-THICKNESS, base.radius_mm),
        (0.0, base.radius_mm),
        (0.0, to),
        (deep, to),
        (deep, base.bore_mm),
    ]
    section = closed(base.name, cut, None, [])
    items: list[Item] = [Hatch((section.segments,), 45.0, 2.2), Path(section.segments, "wide", None, True)]
    items += [
        LinearDimension((-THICKNESS, base.bore_mm), (0.0, base.bore_mm), -14.0, 1, "x"),
        LinearDimension((deep, base.bore_mm), (0.0, base.bore_mm), -7.0, 2, "x"),
    ]
    return Drawing(tuple(items), base.name, "half section through a slot, top to the right")


def _base(base: BaseForm, letters: Letters) -> list[Block]:
    drawn, scale = fitted(lambda _: base_section(base), 70.0, 62.0, 1.0)
    rows = [
        ("outside", f"R {written(base.radius_mm, 2)}"),
        ("bore", f"R {written(base.bore_mm, 2)}"),
        ("slots", f"{base.count}, every {written(360.0 / base.count, 2)}°"),
        ("slot width", f"{written(base.slot_width_mm, 2)} +0.01 / 0"),
        ("straight to, off the axis", written(base.slot_to_mm, 2)),
        ("slot end", f"half round, R {written(0.5 * base.slot_width_mm, 2)}"),
        (
            "bolt holes",
            f"{base.bolts} × Ø {written(BOLT_DIA, 1)} for M{BOLT}",
        ),
        ("bolt circle", f"R {written(base.bolt_circle_mm, 2)}, from {written(180.0 / base.count, 2)}°"),
    ]
    facts = stacked(list(table((Column("base", 38.0, "start"), Column("size", 56.0, "start")), rows, title="base")))
    return [
        heading(next(letters), f"Base {base.name}, half section, {scale_text(scale)}"),
        beside([(0.0, drawn), (76.0, facts)], "base"),
        space(3.0),
    ]


def _spacers(tools: RingTools, letters: Letters) -> list[Block]:
    spacer, below, above = tools.parts.spacer, *tools.bands
    room = tools.shelf.room
    travel = tools.parts.form.travel_mm
    rows = [
        (
            f"{spacer.count} spacers",
            f"{written(spacer.thickness_mm, 3)} ± {written(room.spacer_tolerance_mm.value, 3)} thick, "
            f"{written(spacer.height_mm, 1)} high, {written(spacer.to_mm - spacer.from_mm, 1)} long",
        ),
        *(
            (
                f"band {word}",
                f"coil Ø {written(band.coil_mm, 1)}, closed length {written(band.free_length_mm(travel), 0)}, on R "
                f"{written(band.floor_mm, 2)}",
            )
            for word, band in (("below", below), ("above", above))
        ),
    ]
    return [
        heading(next(letters), "Spacers and bands"),
        *table((Column("what", 38.0, "start"), Column("size", 110.0, "start")), rows, title="spacers"),
        space(1.0),
        paragraph(BAND_WORDS, INNER_WIDTH, 3.0),
        space(3.0),
    ]


def plug_drawing(plug: PlugForm, scale: float) -> Drawing:
    """Sleeve and arbor in half section, the ends of the slits dashed."""
    x0, _, x1, _ = plug.section.bounds
    tan = math.tan(HALF_ANGLE_RAD)
    tips = [
        Callout(plug.contour.start, (radius(plug.contour.start[1], 3),)),
        Callout(plug.contour.end, (radius(plug.contour.end[1], 3),)),
    ]
    sleeve = turned_drawing(plug.name, plug.section, scale, tips)
    arbor = plug.arbor_section
    hole = arbor.bounds[1]
    items: list[Item] = [
        *sleeve.items,
        Hatch((arbor.segments,), -45.0, 2.2),
        Path(arbor.segments, "wide", None, True, "CONTOUR", f"{plug.name} arbor"),
    ]
    for place in (BRIDGE, plug.height_mm - BRIDGE):
        foot = (place, plug.bore_mm + place * tan)
        items.append(Path((line(foot, (place, radius_at_most(plug, place))),), "other", title="end of a slit"))
    level = (x0, hole), (x1, hole)
    items += [
        LinearDimension((plug.contour.start[0], hole), (x1, hole), -7.0, 2, "x"),
        LinearDimension(*level, -14.0, 2, "x"),
    ]
    return Drawing(tuple(items), plug.name, f"half section of {plug.name} with its arbor")


def radius_at_most(plug: PlugForm, place: float) -> float:
    """Outside radius of the sleeve at a place along it."""
    if place < plug.contour.start[0]:
        return plug.section.bounds[3]
    return radius_at(plug.contour, min(place, plug.contour.end[0]))


def _plug(tools: RingTools, letters: Letters) -> list[Block]:
    plug = tools.plug
    drawn, scale = fitted(lambda s: plug_drawing(plug, s), INNER_WIDTH, 84.0, 1.0)
    words = (
        f"Closed, {written(plug.fit_mm, 2)} under the ring on radius; the ring rests on its throats, stop down. "
        f"{SLITS} slits {written(SLIT, 1)} wide from each end in turn, every {written(180.0 / SLITS, 0)}°, each to "
        f"{written(BRIDGE, 1)} short of the other end (dashed). Taper bore R {written(plug.bore_mm, 2)} at the stop's "
        f"face, half angle {written(math.degrees(HALF_ANGLE_RAD), 3)}°; arbor lapped to it. M{plug.bolt} draws the "
        f"arbor in by {written(plug.stroke_mm, 2)}: the sleeve opens by {written(plug.opening_mm, 2)} on radius. "
        "Turn and slit "
        "the sleeve, lap the arbor, then finish the outside closed on the arbor."
    )
    return [
        heading(next(letters), f"Expanding trim plug {plug.name} on its arbor, half section, {scale_text(scale)}"),
        stacked([drawn, paragraph(words, INNER_WIDTH)], 1.5, "plug"),
        space(2.0),
        *section_points(plug.section),
    ]


def weld_drawing(weld: WeldFixture) -> Drawing:
    """Both bars closed on the sheet, in the plane of the seam."""
    inside, outside = weld.inside, weld.outside

    low, high = _bar(inside, inside.bounds[1] - DEPTH), _bar(outside, outside.bounds[3] + DEPTH)
    items: list[Item] = [
        Hatch((low,), 45.0, 2.2, layer="HATCH"),
        Path(low, "wide", None, True, "BACKING"),
        Hatch((high,), -45.0, 2.2, layer="HATCH"),
        Path(high, "wide", None, True, "CLAMP"),
        LinearDimension(
            (inside.start[0], inside.bounds[1] - DEPTH), (inside.end[0], inside.bounds[1] - DEPTH), -7.0, 2, "x"
        ),
    ]
    return Drawing(tuple(items), weld.name, "backing bar below, clamp bar above, one sheet apart")


def _bar(face: Profile, level: float) -> Chain:
    """A face closed by a level line behind it."""
    return closed("bar", [(face.start[0], level)], face, [(face.end[0], level)]).segments


def _weld(weld: WeldFixture, letters: Letters) -> list[Block]:
    drawn, scale = fitted(lambda _: weld_drawing(weld), INNER_WIDTH, 70.0, 1.0)
    words = (
        f"Backing bar below, faces to the closed hoop, {written(weld.thickness_mm, 3)} of sheet between them; "
        f"{written(math.degrees(weld.span_rad), 1)}° of turn about the ring's axis. Gas groove along the "
        f"seam {written(GROOVE_WIDTH, 1)} wide, {written(GROOVE_DEPTH, 1)} deep. Copper alloy below, steel above. "
        f"Contours: {weld.name}.dxf."
    )
    return [
        heading(next(letters), f"Weld bars {weld.name}, {scale_text(scale)}"),
        stacked([drawn, paragraph(words, INNER_WIDTH)], 1.5, "weld bars"),
        space(2.0),
    ]


def pin_blocks(pin: PinForm, letters: Letters) -> list[Block]:
    """The pin that serves every set of a liner."""
    section = pin.section
    low, high = -pin.stroke_mm, pin.height_mm + 8.0
    tips = [
        Callout((low, pin.small_end_mm), (radius(pin.small_end_mm, 3),)),
        Callout((0.0, pin.bore_mm), (radius(pin.bore_mm, 3), "at the base")),
        Callout((high, pin.large_end_mm), (radius(pin.large_end_mm, 3),)),
        Callout((low - 20.0, pin.stud_mm), (radius(pin.stud_mm, 2), pin.thread.designation)),
    ]
    lengths = [(low, high), (section.bounds[0], section.bounds[2])]
    drawn, scale = fitted(lambda s: turned_drawing(pin.name, section, s, tips, lengths), INNER_WIDTH, 80.0, 1.0)
    words = (
        f"Half angle {written(math.degrees(pin.half_angle_rad), 3)}°. Longest stroke {written(pin.stroke_mm, 1)}, "
        f"largest pull {written(pin.pull_N * 1e-3, 1)} kN: "
        f"{written(pin.pull_stress_MPa, 0)} MPa over the stress area of {pin.thread.designation}, which is drawn as a "
        "plain cylinder. Shown in the loaded position; x = 0 at the top "
        "of the base."
    )
    return [
        heading(next(letters), f"Taper pin {pin.name}, half section, {scale_text(scale)}"),
        stacked([drawn, paragraph(words, INNER_WIDTH)], 1.5, "pin"),
        space(3.0),
    ]
