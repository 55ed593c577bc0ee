"""Machine card with stop table; sizing record; try-out record."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.papers.blocks import Block, space
from hoopwright.papers.numbers import figure_text, plus_minus, three_figures, with_unit, written
from hoopwright.papers.pictures.ring_drawing import control_name
from hoopwright.papers.pictures.segments import polar_drawing
from hoopwright.papers.prose import heading, paragraph
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.shop.kit import (
    Paper,
    big_figures,
    entries,
    figures_table,
    numbered_steps,
    view_letters,
    writing_table,
)
from hoopwright.papers.shop.views import set_view
from hoopwright.papers.tools_from_plan import stop_table_of
from hoopwright.papers.walk_tools import fitted, stop_blocks
from hoopwright.plan.ring_tools import RingTools, pull_never_above_kN


def machine_card(tools: RingTools) -> Paper:
    """At the press: the set to confirm, the stops, the loads, where the seam goes."""
    plan, letters = tools.plan, view_letters()
    stops, press = plan.settings.stops, plan.sizing.press
    seam = plan.figure("stop/seam-angle").value
    above, _ = fitted(lambda _: polar_drawing(set_view(tools), seam), 70.0, 62.0, 1.0)
    large = [
        ("segment set", tools.parts.form.name),
        *((f"stop, hit {k}", written(s.stop_mm, 2)) for k, s in enumerate(stops, 1)),
        ("never above, pin pull", with_unit(pull_never_above_kN(plan), 0, "kN")),
        ("pin pull, predicted", three_figures(press.figure("pull").value, "kN")),
        ("hold", figure_text(plan.job.limits.hold_s)),
    ]
    steps = [
        f"Read the tool label: {tools.parts.form.name}, revision {plan.job.liner.revision}. Another revision is not "
        "used.",
        "Film or paste on the segments, grease on pin and base. Load with the shoulder down, ring home on it.",
        f"Seam {written(seam, 2)}° from the middle of segment 1, clockwise, for the first hit.",
        *(
            f"Hit {k}: stop {written(s.stop_mm, 2)}, hold, retract until slack is seen, measure free."
            + (" Index half a pitch: seam to the mirrored place." if k < len(stops) else "")
            for k, s in enumerate(stops, 1)
        ),
        f"The ring comes off with its {'aft' if tools.parts.form.upward > 0 else 'forward'} end leading.",
    ]
    blocks: list[Block] = [
        heading(next(letters), "Confirm and set"),
        big_figures(large, columns=3),
        space(2.0),
        heading(next(letters), "Seam and segments, from above, first hit"),
        above,
        space(3.0),
        heading(next(letters), "Work"),
        *numbered_steps(steps),
        *stop_blocks(stop_table_of(plan), letters),
        heading(next(letters), "Loads"),
        *figures_table(tools, press.figures, "loads", False),
        entries(("press", "operator", "date")),
    ]
    return Paper(
        "machine-card",
        plan.job.ring.id,
        "Machine card: sizing",
        tuple(blocks),
        ("size", "press", "stop", "segments"),
        ("size",),
    )


def sizing_record(tools: RingTools) -> Paper:
    """What is written down ring by ring at the press."""
    plan, letters = tools.plan, view_letters()
    controls = plan.job.ring.controls
    names = [control_name(c)[:10] for c in controls]
    figures = [
        replace(f, name=f"hit {k}: {f.name}")
        for k in range(1, len(plan.settings.stops) + 1)
        for word in ("loaded", "free")
        for f in plan.figures
        if f.identity.startswith(plan.job.identity(f"size/hit-{k}/{word}-"))
    ]
    wide = (INNER_WIDTH - 62.0) / max(1, 2 * len(names))
    heads = [
        ("serial", 24.0),
        ("hit", 12.0),
        ("stop", 26.0),
        *((f"{n} {w}", wide) for n in names for w in ("load.", "free")),
    ]
    rows = [
        (
            "",
            str(1 + k % 2),
            written(plan.settings.stops[min(k % 2, len(plan.settings.stops) - 1)].stop_mm, 2),
            *("" for _ in range(2 * len(names))),
        )
        for k in range(10)
    ]
    blocks: list[Block] = [
        heading(next(letters), "Predicted"),
        *figures_table(tools, figures, "predicted sizes", False),
        heading(next(letters), "Measured, diameters by girth tape at 20 °C"),
        *writing_table(heads, rows),
        paragraph(
            "A free size outside the predicted band: no correction; check seat, stop and hardness first. A ring "
            "cannot be shrunk.",
            INNER_WIDTH,
            3.0,
            "italic",
        ),
        entries(("tape no.", "temperature", "lubricant", "operator", "checked", "date")),
    ]
    return Paper("sizing-record", plan.job.ring.id, "Sizing record", tuple(blocks), ("size",), ("size",))


def try_out(tools: RingTools) -> Paper:
    """Try-out of rolls and segment set: three strips, three rings, decided and signed."""
    plan, letters = tools.plan, view_letters()
    depth = plan.passes.rows[-1].depth_mm if plan.passes.rows else 0.0
    wanted = ", ".join(
        f"{control_name(c)} {plus_minus(c.diameter_mm, c.tolerance_mm, 2)}" for c in plan.job.ring.controls
    )
    controls = [control_name(c)[:12] for c in plan.job.ring.controls]
    wide = (INNER_WIDTH - 58.0) / max(1, len(controls))
    blocks: list[Block] = [
        heading(next(letters), f"Rolls {plan.job.ring.id}-R: depth wanted {written(depth, 2)}"),
        *writing_table(
            [
                ("strip", 16.0),
                ("gap", 22.0),
                ("depth start", 26.0),
                ("middle", 24.0),
                ("end", 24.0),
                ("twist", 20.0),
                ("edge wave", 22.0),
                ("decision", 18.0),
            ],
            [(str(k), *("" for _ in range(7))) for k in (1, 2, 3)],
        ),
        heading(next(letters), f"Segments {tools.parts.form.name}: wanted {wanted}"),
        *writing_table(
            [("ring", 16.0), ("stop", 22.0), ("lobes", 20.0), *((n, wide) for n in controls)],
            [(str(k), *("" for _ in range(2 + len(controls)))) for k in (1, 2, 3)],
        ),
        heading(next(letters), "Found and changed"),
        *writing_table([("what", 60.0), ("from", 24.0), ("to", 24.0), ("why", 64.0)], [("",) * 4] * 6),
        heading(next(letters), "Decision"),
        entries(("tool good, rework, new", "next revision", "name, date")),
    ]
    return Paper("try-out", plan.job.ring.id, "Try-out record", tuple(blocks), ("roll", "segments"), ("roll", "size"))
