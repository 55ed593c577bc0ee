"""Qualification record, lot record, operator list and assembly weld sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.papers.blocks import Block, picture, space, stacked
from hoopwright.papers.hot.common import figure_table, finding_blocks
from hoopwright.papers.numbers import share_pct, written
from hoopwright.papers.prose import heading, paragraph
from hoopwright.papers.scales import paper_box
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.weld.common import WeldTitle, form, weld_pdf, words
from hoopwright.papers.weld.coupon_map import coupon_drawing
from hoopwright.papers.weld.life_picture import life_drawing
from hoopwright.plan.seam.assembly import AssemblyPlan
from hoopwright.plan.seam.evaluation import Qualification
from hoopwright.plan.seam.qualification import CouponPlan
from hoopwright.plan.seam.weld_lot import LotVerdict

COUPON_SCALE = 0.25
MOST_PICTURE_MM = 110.0
RULES = {
    "none": "no retest",
    "two more": "one with a measured cause: two more, all kept",
    "twelve more": "otherwise: twelve more, all kept",
}


@dataclass(frozen=True, slots=True)
class Operator:
    """One person who may weld. valid_until : as printed."""

    name: str
    certificate: str
    procedure: str
    valid_until: str


def qualification_pdf(about: WeldTitle, plan: CouponPlan, found: Qualification | None = None) -> bytes:
    """Coupon plan, and what the coupons prove once they are tested."""
    findings = [*plan.findings, *(found.findings if found else ())]
    columns = (("coupon", 40.0), ("number", 16.0), ("from", 56.0), ("standard", 56.0))
    rows = [(r.kind, str(r.count), "", r.standard) for r in plan.rows]
    notes = [f"{r.kind}: {r.place}; {r.direction}." for r in plan.rows]
    blocks: list[Block] = [
        heading("A", "Coupons"),
        *form(columns[:2] + columns[3:], [(r[0], r[1], r[3]) for r in rows], "coupons"),
        *words(notes, numbered=False),
        *_map(plan),
        heading("B", "How many are needed"),
        *figure_table(plan.figures, "numbers"),
    ]
    if found is None:
        blocks += [heading("C", "Results"), *form((("coupon", 40.0), ("MPa", 30.0), ("broke", 60.0)), (), "results", 8)]
    else:
        broke = ", ".join(f"{n} in {place}" for place, n in found.fractures)
        said = f"Broke: {broke}." if broke else "Fracture places are not entered."
        blocks += [heading("C", "Results"), *figure_table(found.figures, "results"), paragraph(said, INNER_WIDTH)]
        blocks += _lives(found)
    return weld_pdf(about, "weld qualification record", findings, [*blocks, *finding_blocks(findings, "D")])


def _map(plan: CouponPlan) -> list[Block]:
    """Where the tensile coupons lie, at a scale that a page holds."""
    if not plan.places or plan.sheet is None:
        return []
    drawing = coupon_drawing(plan.sheet, plan.places, COUPON_SCALE)
    box = paper_box(drawing, COUPON_SCALE)
    if box[3] - box[1] > MOST_PICTURE_MM:
        first, last = plan.places[0], plan.places[-1]
        said = (
            f"Tensile coupons {first.name} to {last.name}, weld and parent in turn, {written(first.x_mm, 0)} mm from "
            f"the sheet's origin along the rolling direction, from {written(first.y_mm, 0)} to "
            f"{written(last.y_mm + last.width_mm, 0)} mm across it."
        )
        return [paragraph(said, INNER_WIDTH), space(2.0)]
    title = f"Tensile coupons on the sheet, 1 : {written(1.0 / COUPON_SCALE, 0)}; wide line: weld"
    return [
        stacked([paragraph(title, INNER_WIDTH, 3.0, "figures"), picture(drawing, box, COUPON_SCALE, 4.0)], 1.0, "map"),
        space(3.0),
    ]


def _lives(found: Qualification) -> list[Block]:
    if found.life is None or found.lives is None:
        return []
    drawing = life_drawing(found.lives, found.life)
    said = "Life tests; lines by the likelihood of what failed and what ran out."
    return [
        stacked(
            [paragraph(said, INNER_WIDTH, 3.0, "figures"), picture(drawing, paper_box(drawing, 1.0), 1.0, 10.0)], 1.0
        ),
        space(3.0),
    ]


def lot_pdf(about: WeldTitle, v: LotVerdict) -> bytes:
    """Lot record: the decision in one sentence, coupons, rings, bounds, the rule with its error rates."""
    coupons = [(c.id, written(c.ratio, 3), "passes" if c.passed else "fails", c.cause or c.fracture) for c in v.coupons]
    rings = [(r.serial, r.state, written(r.shrinkage_mm, 2), r.reason) for r in v.rings]
    odds = [
        (RULES.get(o.rule, o.rule), share_pct(o.good), share_pct(o.fair), share_pct(o.poor), share_pct(o.tenth_bad))
        for o in v.odds
    ]
    blocks: list[Block] = [
        paragraph(v.sentence, INNER_WIDTH, 4.6, "sentences-bold"),
        paragraph(f"Reason: {v.reason}.", INNER_WIDTH),
        heading("A", "Coupons, every result kept"),
        *form((("coupon", 30.0), ("over parent", 26.0), ("", 22.0), ("cause or fracture", 90.0)), coupons, "coupons"),
        heading("B", "Rings"),
        *form((("ring", 30.0), ("state", 26.0), ("shrink mm", 22.0), ("reason", 90.0)), rings, "rings"),
        heading("C", "Bounds and shrinkage"),
        *figure_table([f for f in v.figures if "/ratio/" not in f.identity], "bounds"),
        heading("D", "The retest rule, and what it releases of lots that truly are so"),
        *form(
            (("rule", 70.0), ("1.00, 2 %", 24.0), ("0.98, 2 %", 24.0), ("0.95, 2 %", 24.0), ("tenth at 0.92", 28.0)),
            odds,
            "odds",
        ),
        *finding_blocks(v.findings, "E"),
    ]
    return weld_pdf(about, "weld lot record", v.findings, blocks)


def operators_pdf(about: WeldTitle, operators: Sequence[Operator] = ()) -> bytes:
    """Operator list: who may weld by which procedure, until when; lines to write in."""
    rows = [(o.name, o.certificate, o.procedure, o.valid_until) for o in operators]
    blocks = [
        paragraph("Qualified by ISO 14732 or ISO 24394, as the contract says; numbers from memory.", INNER_WIDTH),
        *form(
            (("name", 55.0), ("certificate", 40.0), ("procedure", 40.0), ("valid until", 35.0)), rows, "operators",
            max(4, 14 - len(rows)),
        ),
    ]  # fmt: skip
    return weld_pdf(about, "weld operator list", (), blocks)


def assembly_pdf(about: WeldTitle, plan: AssemblyPlan) -> bytes:
    """Assembly weld sheet: order, tacks, pull-in, heights to write down, nozzle joint."""
    rows = [
        (f"{lap.number}", lap.joint.id, f"{lap.joint.outer} over {lap.joint.inner}", str(len(lap.tacks_deg)),
         written(lap.start_deg, 0), written(lap.pull_in_mm.value, 2), "", "")
        for lap in plan.laps
    ]  # fmt: skip
    columns = (
        ("no.", 10.0), ("lap", 14.0), ("parts", 44.0), ("tacks", 16.0), ("start °", 18.0), ("pull-in", 20.0),
        ("before", 24.0), ("after", 24.0),
    )  # fmt: skip
    tacks = [
        f"{lap.joint.id}: tacks at {', '.join(written(a, 0) for a in lap.tacks_deg)}°, in this order."
        for lap in plan.laps
    ]
    blocks: list[Block] = [
        heading("A", "Order from the datum end; write mean heights before and after, mm"),
        *form(columns, rows, "laps"),
        heading("B", "How"),
        *words(plan.procedure),
        heading("C", "Tacks, opposite pairs"),
        *words(tacks, numbered=False),
        *([heading("D", "Joint to the turbine-nozzle ring"), *words(plan.nozzle_steps)] if plan.nozzle_steps else []),
        heading("E", "Figures"),
        *figure_table(plan.figures, "figures"),
        *finding_blocks(plan.findings, "F"),
        space(2.0),
    ]
    return weld_pdf(about, "assembly weld sheet", plan.findings, blocks)
