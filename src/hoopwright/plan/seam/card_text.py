"""A seam card as a file that a shop puts into its card folder: from a setting, from coupons, from what lots have shown.

What the card in use says on a firmer ground than the new figure stays; on an equal one the new figure takes its place.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.cards.quantities import quantities
from hoopwright.cards.seam import SeamCard, seam_card_id
from hoopwright.design.readings import WeldLot
from hoopwright.findings import RANKS, Figure, Source
from hoopwright.kernels.seam_shrinkage import RING_TO_RING
from hoopwright.plan.seam.evaluation import Qualification
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


def setting_card(plan: SeamPlan, material: str, before: SeamCard, invented: bool) -> str:
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
    return seam_card_text(material, plan.thickness_mm, "as planned", rows, before, invented)


def coupon_card(found: Qualification, material: str, thickness_mm: float, before: SeamCard) -> str:
    """Card of what coupons have shown: strength, and the softened width where a traverse was read."""
    tested = Source("measured", "tensile coupons over parent of the same sheet, geometric means")
    rows = [CardFigure("strength_ratio", found.comparison.ratio, "1", tested)]
    if found.traverse is not None and found.traverse.width_mm > 0.0:
        indented = Source("measured", "hardness traverse, half way from parent to least")
        rows.append(CardFigure("softened_width_mm", found.traverse.width_mm, "mm", indented))
    return seam_card_text(material, thickness_mm, "as coupons showed it", rows, before)


def lot_card(
    verdict: LotVerdict, lot: WeldLot, material: str, thickness_mm: float, before: SeamCard, invented: bool
) -> str:
    """Card of what a lot has shown: shrinkage learned, strength, mismatch met with."""
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
    return seam_card_text(material, thickness_mm, f"as lot {lot.lot} showed it", rows, before, invented)


def seam_card_text(
    material: str,
    thickness_mm: float,
    told: str,
    rows: Sequence[CardFigure],
    before: SeamCard,
    invented: bool = False,
) -> str:
    """The card: new figures, and those of the card in use that stand on firmer ground or are not among the new."""
    new = {row.name: row for row in rows}
    kept = [row for name, unit in _units() if (row := _chosen(name, unit, new.get(name), before, invented)) is not None]
    lines = [
        'schema = "hoopwright-card-1"',
        'kind = "seam"',
        f'id = "{seam_card_id(material, thickness_mm)}"',
        f'title = "Seam of {material}, {thickness_mm:g} mm, {told}"',
        'entered_by = "hoopwright weld"',
        'checked_by = ""',
    ]
    for row in kept:
        where = row.source.where.replace("\\", "/").replace('"', "'")
        lines += ["", f"[figure.{row.name}]", f"value = {round(row.value, 4)!r}", f'unit = "{row.unit}"']
        lines += [f'basis = "{row.source.basis}"', f'where = "{where}"']
        lines += ["invented = true"] if row.source.invented else []
    return "\n".join(lines) + "\n"


def _units() -> list[tuple[str, str]]:
    return [(name, quantity.unit) for name, quantity in quantities(SeamCard).items()]


def _chosen(name: str, unit: str, new: CardFigure | None, before: SeamCard, invented: bool) -> CardFigure | None:
    old: Figure | None = getattr(before, name)
    if new is not None and (old is None or RANKS[new.source.basis] <= RANKS[old.source.basis]):
        source = Source(new.source.basis, new.source.where, invented or new.source.invented)
        return CardFigure(name, new.value, unit, source)
    return None if old is None else CardFigure(name, old.value, unit, old.source)
