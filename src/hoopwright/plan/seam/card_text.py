"""A seam card as a file that a shop puts into its card folder: from a planned setting, or from what a lot has shown."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.cards.seam import USUAL, seam_card_id
from hoopwright.design.readings import WeldLot
from hoopwright.findings import Source
from hoopwright.kernels.seam_shrinkage import RING_TO_RING
from hoopwright.plan.seam.settings import SeamPlan
from hoopwright.plan.seam.weld_lot import LotVerdict

ALLOWED = Source("practice", "no source: as much as the house allows")


@dataclass(frozen=True, slots=True)
class CardFigure:
    """One figure of the card."""

    name: str
    value: float
    unit: str
    source: Source


def ring_scatter(mean_mm: float, doubt_mm: float) -> float:
    """Scatter of the next ring's shrinkage: doubt of the mean, and ring to ring about it. [mm]"""
    return math.hypot(doubt_mm, RING_TO_RING * mean_mm)


def setting_card(plan: SeamPlan, material: str, invented: bool) -> str:
    """Card of a planned setting: shrinkage and its doubt, angle, softened width."""
    numbers = plan.numbers
    scatter = ring_scatter(numbers.shrinkage_mm, numbers.shrinkage_sd_mm)
    rows = (
        CardFigure("shrinkage_mm", numbers.shrinkage_mm, "mm", plan.figure("/weld/shrinkage").source),
        CardFigure("shrinkage_sd_mm", scatter, "mm", plan.figure("/weld/shrinkage").source),
        CardFigure("angle_deg", math.degrees(numbers.angle_rad), "deg", plan.figure("/weld/angle").source),
        CardFigure("softened_width_mm", numbers.zone_mm, "mm", plan.figure("/weld/softened-width").source),
        CardFigure("mismatch_mm", numbers.mismatch_mm, "mm", ALLOWED),
    )
    title = f"Seam of {material}, {plan.thickness_mm:g} mm, as planned"
    return _text(seam_card_id(material, plan.thickness_mm), title, rows, "", invented)


def lot_card(verdict: LotVerdict, lot: WeldLot, material: str, thickness_mm: float, invented: bool) -> str:
    """Card of what a lot has shown: shrinkage learned, strength, mismatch met with; the rest as it usually comes."""
    rows = []
    read = Source("measured", f"weld lot {lot.lot}, {len(lot.rings)} rings by tape, prior of the house")
    if verdict.shrinkage is not None:
        rows.append(CardFigure("shrinkage_mm", verdict.shrinkage.mean, "mm", read))
        rows.append(
            CardFigure("shrinkage_sd_mm", ring_scatter(verdict.shrinkage.mean, verdict.shrinkage.sd), "mm", read)
        )
    tested = Source("measured", f"weld lot {lot.lot}, {len(verdict.coupons)} coupons over parent of the same sheet")
    rows.append(CardFigure("strength_ratio", verdict.comparison.ratio, "1", tested))
    kept = {ring.serial for ring in verdict.rings if ring.state != "rejected"}
    worst = [max(r.mismatch_forward_mm, r.mismatch_middle_mm, r.mismatch_aft_mm) for r in lot.rings if r.serial in kept]
    if worst:
        gauged = Source("measured", f"weld lot {lot.lot}, worst of {len(worst)} rings not rejected")
        rows.append(CardFigure("mismatch_mm", max(worst), "mm", gauged))
    return seam_card_text(material, thickness_mm, f"as lot {lot.lot} showed it", rows, invented)


def seam_card_text(material: str, thickness_mm: float, told: str, rows: Sequence[CardFigure], invented: bool) -> str:
    """A card of some figures; the rest is what usually comes."""
    title = f"Seam of {material}, {thickness_mm:g} mm, {told}"
    return _text(seam_card_id(material, thickness_mm), title, rows, USUAL, invented)


def _text(card_id: str, title: str, rows: Sequence[CardFigure], based_on: str, invented: bool) -> str:
    lines = [
        'schema = "hoopwright-card-1"',
        'kind = "seam"',
        f'id = "{card_id}"',
        f'title = "{title}"',
        *([f'based_on = "{based_on}"'] if based_on else []),
        'entered_by = "hoopwright weld"',
        'checked_by = ""',
    ]
    for row in rows:
        where = row.source.where.replace("\\", "/").replace('"', "'")
        lines += ["", f"[figure.{row.name}]", f"value = {round(row.value, 4)!r}", f'unit = "{row.unit}"']
        lines += [f'basis = "{row.source.basis}"', f'where = "{where}"']
        lines += ["invented = true"] if invented or row.source.invented else []
    return "\n".join(lines) + "\n"
