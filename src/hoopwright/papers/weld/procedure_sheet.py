"""The weld procedure sheet: what is set, ranges of the essential variables, the map, fixture and findings."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.papers.blocks import Block, picture, space
from hoopwright.papers.hot.common import figure_table, finding_blocks
from hoopwright.papers.numbers import unit_sign, written
from hoopwright.papers.prose import heading, paragraph
from hoopwright.papers.scales import paper_box
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.weld.common import WeldTitle, form, weld_pdf, words
from hoopwright.papers.weld.pass_map import pass_map_drawing
from hoopwright.plan.seam.settings import SeamPlan
from hoopwright.plan.seam.trials import TrialPlan, pass_map

STANDARDS = "Layout of a procedure after ISO 15609-4, numbers of standards from memory."


def procedure_pdf(about: WeldTitle, plan: SeamPlan, fixture: Sequence[str], trials: TrialPlan | None = None) -> bytes:
    """Procedure sheet of a setting, with the trials behind it where there are any."""
    findings = [*plan.findings, *(trials.findings if trials else ())]
    blocks: list[Block] = [
        heading("A", "Set"),
        *figure_table(plan.figures[:5], "settings"),
        heading("B", "What this does"),
        *figure_table(plan.figures[5:], "figures"),
        *_trials(trials),
        heading("D", "Fixture, edges, gas"),
        *words(fixture),
        *finding_blocks(findings, "E"),
        paragraph(STANDARDS, INNER_WIDTH, 2.95, "italic"),
    ]
    return weld_pdf(about, "weld procedure sheet", findings, blocks)


def _trials(plan: TrialPlan | None) -> list[Block]:
    if plan is None:
        said = "No trials are entered: ranges of the essential variables are not known."
        return [heading("C", "Essential variables"), paragraph(said, INNER_WIDTH), space(3.0)]
    made: list[Block] = [heading("C", "Essential variables, from the trials"), paragraph(plan.sentence, INNER_WIDTH)]
    if plan.variables:
        rows = [
            (v.name, written(v.value, d), written(v.low, d), written(v.high, d), unit_sign(v.unit))
            for v, d in zip(plan.variables, (0, 1, 2, 3), strict=True)
        ]
        columns = (("variable", 50.0), ("set", 30.0), ("from", 30.0), ("to", 30.0), ("unit", 30.0))
        made += form(columns, rows, "essential variables")
    made += trial_blocks(plan)
    return made


def trial_blocks(plan: TrialPlan) -> list[Block]:
    """Next welds to make, with room for their readings, and the map."""
    made: list[Block] = []
    if plan.next:
        columns = (
            ("weld next", 20.0), ("W", 18.0), ("mm/s", 18.0), ("focus mm", 20.0), ("gap mm", 20.0), ("root", 18.0),
            ("face", 18.0), ("underfill", 20.0), ("pores %", 18.0),
        )  # fmt: skip
        rows = [
            (f"{k}", written(p, 0), written(v, 1), written(z, 2), written(g, 3), "", "", "", "")
            for k, (p, v, z, g) in enumerate(plan.next, start=len(plan.trials) + 1)
        ]
        made += form(columns, rows, "next trials")
    if plan.window is not None:
        drawing = pass_map_drawing(pass_map(plan), plan.trials)
        made += [paragraph(drawing.title + ".", INNER_WIDTH, 3.0, "figures")]
        made += [picture(drawing, paper_box(drawing, 1.0), 1.0, 10.0), space(3.0)]
    return made


def trials_pdf(about: WeldTitle, plan: TrialPlan) -> bytes:
    """Trial sheet: what to weld next and what is known."""
    blocks = [
        paragraph(plan.sentence, INNER_WIDTH, 4.0),
        heading("A", "Weld these, in this order"),
        *trial_blocks(plan),
        *(figure_table(plan.figures, "what is known") if plan.figures else ()),
        *finding_blocks(plan.findings, "B"),
    ]
    return weld_pdf(about, "weld trials", plan.findings, blocks)
