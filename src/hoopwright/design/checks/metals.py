"""Whether the card of each ring's sheet carries what a plan is reckoned from."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from hoopwright.cards.alloy import alloy
from hoopwright.design.shapes import Liner
from hoopwright.errors import CardError
from hoopwright.findings import Finding


def metal_findings(liner: Liner, shop_folder: Path | None = None) -> Iterator[Finding]:
    """A stop for each ring whose card lacks a first-loading curve or another figure of the plan.

    Raises
    ------
    FileFaults
        The card is there and cannot be read.
    """
    for ring in liner.rings:
        try:
            card = alloy(ring.material, shop_folder)
            card.flow_curve_first()
            card.young_modulus_MPa()
            card.poisson()
            card.density_kg_per_m3()
            card.uniform_strain_log()
        except CardError as problem:
            what, _, remedy = str(problem).rstrip(".").partition(" Do: ")
            sentence = f"{ring.id} cannot be planned: {what[0].lower()}{what[1:]}"
            about, source = f"{ring.id}/material", liner.source(f"{ring.id}, material")
            yield Finding("stop", sentence, remedy or "complete the card", about, "sheet-card", source=source)
