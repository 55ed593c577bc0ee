"""Pass card for the operator; roll pair drawing for the tool room."""

from __future__ import annotations

from hoopwright.kernels.profile import Profile
from hoopwright.papers.blocks import Block, kept, space, stacked
from hoopwright.papers.numbers import figure_text, radius, written
from hoopwright.papers.pictures.callouts import Callout
from hoopwright.papers.pictures.ring_drawing import ring_drawing
from hoopwright.papers.pictures.roll_contours import corner_points, pair_drawing
from hoopwright.papers.pictures.turned import turned_drawing
from hoopwright.papers.prose import Column, heading, paragraph, table
from hoopwright.papers.scales import scale_text
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.shop.kit import Paper, big_figures, entries, figures_table, view_letters, writing_table
from hoopwright.papers.shop.stock_rows import findings_of, life_words, stock_blocks
from hoopwright.papers.tools_from_plan import roll_words
from hoopwright.papers.walk_tools import fitted
from hoopwright.plan.ring_tools import RingTools
from hoopwright.tools.roll_body import CHAMFER, COLLAR_WIDTH, RELIEF_DEPTH, RELIEF_WIDTH, RollForm, RollSet

SETTINGS = ("set-gap", "running-gap", "load", "torque", "slip", "passes", "cant")


def pass_card(tools: RingTools) -> Paper:
    """Passes with what is set, and what the section and curl must measure."""
    plan, letters = tools.plan, view_letters()
    ring, rows = plan.job.ring, plan.passes.rows
    drawn, scale = fitted(lambda s: ring_drawing(ring, s, sizes=False), INNER_WIDTH, 40.0, 2.0)
    columns = (
        Column("pass", 18.0, "start"),
        Column("depth after it", 30.0),
        Column("new depth", 24.0),
        Column("of the turn", 24.0),
        Column("guides apart", 28.0),
        Column("forward guide", 30.0),
    )
    table_rows = [
        (
            f"{row.number} of {len(rows)}",
            written(row.depth_mm, 2),
            written(row.new_depth_mm, 2),
            f"{written(100.0 * row.share, 0)} %",
            written(tools.rolls.opening_mm(run), 2),
            written(tools.rolls.plate_from_end_mm(run), 2),
        )
        for row, run in zip(rows, tools.rolls.strip, strict=True)
    ]
    guides = (
        f"Guides: plates at the entry, set before each pass to the strip as it goes in and "
        f"{written(tools.rolls.guide_mm, 2)} a side; the forward plate's face is measured from the forward end of the "
        f"inner roll, aft of it."
    )
    chosen = [f for f in plan.passes.figures if f.identity.rpartition("/")[2] in SETTINGS]
    curl = [f for f in plan.figures if "/curl/" in f.identity]
    known = {f.identity.rpartition("/")[2]: f for f in plan.figures if "/roll/" in f.identity or "/curl/" in f.identity}
    large = [
        (known[k].name.split(",")[0], figure_text(known[k]))
        for k in ("set-gap", "running-gap", "loaded-radius")
        if k in known
    ]
    blocks: list[Block] = [
        heading(next(letters), "Set"),
        big_figures([(name[:34], text) for name, text in large], columns=3),
        space(2.0),
        heading(next(letters), "Passes"),
        *table(columns, table_rows, title="passes"),
        space(1.0),
        paragraph(guides, INNER_WIDTH, 3.0),
        space(3.0),
        heading(next(letters), f"Good section, {scale_text(scale)}"),
        drawn,
        space(3.0),
        heading(next(letters), "Figures"),
        *figures_table(tools, [*chosen, *curl], "rolling figures", False),
        heading(next(letters), "First three strips"),
        *writing_table(
            [
                ("strip", 18.0),
                ("gap left", 24.0),
                ("gap right", 24.0),
                ("depth, start", 26.0),
                ("middle", 26.0),
                ("end", 26.0),
                ("camber", 28.0),
            ],
            [(str(k), "", "", "", "", "", "") for k in (1, 2, 3)],
        ),
        entries(("lubricant, lot", "machine", "operator, date")),
    ]
    return Paper("pass-card", ring.id, "Pass card", tuple(blocks), ("roll", "curl", "route"), ("roll", "curl"))


def roll_callouts(form: RollForm) -> list[Callout]:
    """Radius of the least and the largest place of the contour and of the roll's outside."""
    tips = {}
    for segment in form.contour.segments:
        if not segment.is_arc and abs(segment.end[1] - segment.start[1]) < 1e-6 and segment.length >= 2.0:
            tips[round(segment.start[1], 3)] = segment.point_at(0.5 * segment.length)
    if not tips:
        tips = {round(p[1], 3): p for p in (form.contour.start, form.contour.end)}
    return [Callout(tip, (radius(r, 3),)) for r, tip in sorted(tips.items(), key=lambda pair: pair[1][0])]


def one_roll(form: RollForm, letter: str, collars: tuple[float, float] | None = None) -> list[Block]:
    """A roll in half section with its main sizes, and what the drawing does not letter. collars : their inner faces."""
    x0, _, x1, _ = form.section.bounds
    lengths = [(form.contour.start[0], form.contour.end[0]), *([collars] if collars else []), (x0, x1)]
    drawn, scale = fitted(
        lambda s: turned_drawing(
            form.name,
            form.section,
            s,
            roll_callouts(form),
            lengths,
            digits=2,
        ),
        INNER_WIDTH,
        78.0,
        2.0,
    )
    key = form.key
    words = (
        f"Bore Ø {written(form.bore_mm, 3)} H7. Keyway {written(key.width_mm, 0)} wide, {written(key.depth_mm, 1)} "
        "deep beyond the bore. "
        f"Length {written(form.length_mm, 2)}. Least wall over the keyway {written(form.wall_mm, 1)}."
    )
    if collars:
        words += f" {collar_words(form)}"
    return [
        heading(letter, f"{form.name}, {scale_text(scale)}"),
        stacked([drawn, paragraph(words, INNER_WIDTH)], 1.5, form.name),
        space(3.0),
    ]


def collar_words(form: RollForm) -> str:
    """Outsides of both collars, and the reliefs at their feet."""
    forward, aft = form.collar_radii_mm
    return (
        f"Collars {written(COLLAR_WIDTH, 1)} wide, outside R {written(forward, 3)} forward, R {written(aft, 3)} aft; "
        f"reliefs at their feet {written(RELIEF_WIDTH, 1)} wide, {written(RELIEF_DEPTH, 1)} deep; edges broken "
        f"{written(CHAMFER, 1)}."
    )


def guide_words(rolls: RollSet) -> str:
    """How the strip is guided, with the room it has."""
    first, last = rolls.strip[0], rolls.strip[-1]
    plates = (
        f"Plates at the entry guide the strip, {written(rolls.guide_mm, 2)} a side, set anew for each pass: "
        f"{written(rolls.opening_mm(first), 2)} apart for pass 1, {written(rolls.opening_mm(last), 2)} for pass "
        f"{last.number}; slot their screws for it."
    )
    if not rolls.collared:
        return f"Axes tilted {written(abs(rolls.pair.cone_deg), 2)}° each: no collars. {plates}"
    low, high = rolls.collars_mm
    return (
        f"{plates} Collars {written(high - low, 2)} apart clear the flat strip of "
        f"{written(first.entering_width_mm, 2)}; outer roll ends {written(rolls.side_mm, 2)} inside them."
    )


def roll_pair_paper(tools: RingTools) -> Paper:
    """Both rolls as made, closed contours, points of the contours, stock, finish, life."""
    plan, rolls, letters = tools.plan, tools.rolls, view_letters()
    room, made = tools.shelf.room, tools.tool(f"{plan.job.ring.id}-R")
    closed, scale = fitted(lambda s: pair_drawing(rolls.pair, s), INNER_WIDTH, 70.0, 2.0)
    words = roll_words(plan)
    guide = guide_words(rolls)
    blocks: list[Block] = [
        heading(next(letters), f"Closed on the sheet, {scale_text(scale)}"),
        stacked(
            [closed, paragraph(f"Inner roll below. Radii from each roll's own axis. {guide} {words}", INNER_WIDTH)],
            1.5,
            "closed rolls",
        ),
        space(3.0),
        *one_roll(rolls.inner, next(letters), rolls.collars_mm if rolls.collared else None),
        *one_roll(rolls.outer, next(letters)),
        heading(next(letters), "Points of both contours"),
        *points_table(rolls.pair.inner, rolls.pair.outer),
        *stock_blocks(made, next(letters)),
        heading(next(letters), "Finish, hardness, life"),
        paragraph(
            f"Profile ± {written(room.roll_profile_mm.value, 3)}. Ra {written(room.roll_finish_um.value, 1)} along "
            "the rolling direction. "
            f"{room.roll_hardness_low_HRC.value:g} to {room.roll_hardness_high_HRC.value:g} HRC. {life_words(made)} "
            f"Etch {made.id} and the revision on the face.",
            INNER_WIDTH,
        ),
        entries(("profile report", "hardness", "gauge no.")),
    ]
    return Paper(
        "roll-pair",
        made.id,
        f"Roll pair for ring {plan.job.ring.id}",
        tuple(blocks),
        ("roll",),
        ("grind",),
        findings_of(made),
    )


def points_table(inner: Profile, outer: Profile) -> list[Block]:
    """Where every segment of both contours begins."""
    columns = [Column("point", 14.0, "start")]
    for name in ("inner roll", "outer roll"):
        columns += [Column(f"{name}, x", 26.0), Column("R", 24.0), Column("then arc", 24.0)]

    def arc(bend: float) -> str:
        return "" if bend == 0.0 else f"{written(abs(bend), 3)} {'out' if bend > 0.0 else 'hollow'}"

    rows = [
        (str(k), written(a[0], 3), written(a[1], 3), arc(a[2]), written(b[0], 3), written(b[1], 3), arc(b[2]))
        for k, (a, b) in enumerate(zip(corner_points(inner), corner_points(outer), strict=True), start=1)
    ]
    note = kept(paragraph("In each roll's own frame, x from its middle.", INNER_WIDTH, 3.0, "italic", 0.6))
    return [note, *table(columns, rows, title="points of the rolls"), space(3.0)]
