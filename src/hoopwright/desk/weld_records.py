"""Weld lots out of the records, and what they say back into them and into the seam card that plans take."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path

from hoopwright.cards.seam import seam_card_id
from hoopwright.cards.shop import house_limits
from hoopwright.design.mark import input_mark
from hoopwright.design.readings import Coupon, LotRing, WeldLot
from hoopwright.desk.record_book import records, writer_or_default
from hoopwright.desk.weld_common import WeldReport, papers_in
from hoopwright.errors import InputError
from hoopwright.findings import Finding
from hoopwright.plan.seam.learning import learn_seam, learned_card
from hoopwright.plan.seam.weld_lot import LotVerdict, judge_lot
from hoopwright.plan.shelf import Shelf
from hoopwright.records import Store
from hoopwright.records.judging import KeptFinding
from hoopwright.records.making import Operation, Part
from hoopwright.records.material import Cast
from hoopwright.records.material import Coupon as KeptCoupon
from hoopwright.records.material import WeldLot as KeptLot

STEP = "closing weld"
LENGTHS = ("length_cut_mm", "circumference_after_weld_mm")
PLACES = ("mismatch_forward_mm", "mismatch_middle_mm", "mismatch_aft_mm")


def lot_in(store: Store, name: str) -> tuple[WeldLot, tuple[Coupon, ...]]:
    """A lot as it stands in the records, and the coupons of its retest: those that stand in for another.

    Raises
    ------
    InputError
        No such lot.
    """
    kept = store.get(KeptLot, name).thing
    coupons = store.list(KeptCoupon, lot=name)
    first = tuple(_coupon(c.thing) for c in coupons if c.thing.replaces is None)
    again = tuple(_coupon(c.thing) for c in coupons if c.thing.replaces is not None)
    rings = tuple(ring for part in store.list(Part, weld_lot=name) for ring in _rings(store, part.id))
    return WeldLot(name, name, kept.cast or "", kept.parent_tensile_MPa, first, rings), again


def lots_of(store: Store, material: str, procedure: str | None = None) -> tuple[WeldLot, ...]:
    """Lots of an alloy, oldest first: by the card of their cast; of one procedure where it is named."""
    casts = {c.id for c in store.list(Cast) if c.thing.card == material}
    lots = [
        lot.id
        for lot in store.list(KeptLot)
        if lot.thing.cast in casts
        and lot.thing.state != "withdrawn"
        and (procedure is None or lot.thing.procedure == procedure)
    ]
    return tuple(lot_in(store, name)[0] for name in lots)


def weld_lot_recorded(
    address: str | Path | None,
    name: str,
    thickness_mm: float,
    cut_length_mm: float | None,
    limits: str,
    cards: Path | None,
    folder: Path | None,
    date: dt.date,
    specified_MPa: float | None = None,
    enter: bool = False,
    by: str | None = None,
) -> WeldReport:
    """Judge a lot of the records; `enter` writes a stop and its findings back. A release is signed elsewhere.

    Raises
    ------
    InputError, StoreError
        No records, no such lot, too few coupons.
    """
    with records(address) as store:
        lot, again = lot_in(store, name)
        verdict = judge_lot(lot, thickness_mm, house_limits(limits, cards), cut_length_mm, again, specified_MPa)
        if enter:
            _enter(store, verdict, writer_or_default(by))

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.common import WeldTitle
        from hoopwright.papers.weld.records import lot_pdf

        mark = input_mark(repr((lot, again)))
        about = WeldTitle(f"Lot {name}", f"records, cast {lot.sheet_cast or 'not said'}", "-", mark, date)
        return {f"weld-lot-{name}.pdf": lot_pdf(about, verdict)}

    said = f"{verdict.sentence} {verdict.reason[0].upper()}{verdict.reason[1:]}."
    return WeldReport(said, verdict.figures, verdict.findings, papers_in(folder, files))


def weld_learn(
    address: str | Path | None,
    material: str,
    thickness_mm: float,
    procedure: str | None,
    limits: str,
    cards: Path | None,
    folder: Path | None,
) -> WeldReport:
    """What the lots of the records have shown of a seam, and its card.

    Raises
    ------
    InputError, StoreError
        No records; no lot of this alloy.
    """
    with records(address) as store:
        lots = lots_of(store, material, procedure)
    if not lots:
        must = f"of a cast whose card is {material}"
        remedy = f"enter the card of the cast: hoopwright record cast NUMBER card={material}"
        raise InputError("weld lots in the records", "none", "", must, remedy)
    name = seam_card_id(material, thickness_mm)
    learned = learn_seam(name, lots, thickness_mm, house_limits(limits, cards))
    count = f"{len(learned.lots)} lot{'s' if len(learned.lots) != 1 else ''}"
    sentence = f"{count}, {learned.rings} rings, {learned.coupons} coupons of {material}, {thickness_mm:g} mm."

    before = Shelf(cards).seam(material, thickness_mm)

    def files() -> dict[str, bytes]:
        return {f"seam-{name}.toml": learned_card(learned, material, thickness_mm, before).encode()}

    return WeldReport(sentence, learned.figures, learned.findings, papers_in(folder, files))


def _coupon(kept: KeptCoupon) -> Coupon:
    return Coupon(kept.id, kept.tensile_MPa, kept.mismatch_mm or 0.0, kept.underfill_mm or 0.0, kept.fracture)


def _rings(store: Store, serial: str) -> Sequence[LotRing]:
    """The ring as its closing weld was recorded; none where lengths or mismatch are not there."""
    for operation in store.list(Operation, serial=serial, step=STEP, newest_first=True):
        read = dict(operation.thing.settings)
        values = [read.get(name) for name in (*PLACES, *LENGTHS)]
        if all(isinstance(value, (int, float)) for value in values):
            return (LotRing(serial, *(float(value) for value in values)),)  # type: ignore[arg-type]
    return ()


def _enter(store: Store, verdict: LotVerdict, by: str) -> None:
    """The lot's state where it is not released, and its findings; a computed pass leaves the state to a signatory."""
    with store.writing(by, verdict.sentence) as write:
        kept = write.find(KeptLot, verdict.lot)
        if kept is None:
            raise InputError("weld lot", verdict.lot, "", "in the records", "enter it first")
        # what a signatory has released stays so: the finding stands beside it until it is answered
        if verdict.decision != "released" and kept.thing.state == "open":
            write.change(kept, state="not released")
        known = {f.thing.sentence for f in store.list(KeptFinding, about=f"lot/{verdict.lot}", state="open")}
        liner = next((part.thing.liner for part in store.list(Part, weld_lot=verdict.lot)), "")
        for finding in verdict.findings:
            if finding.level != "note" and finding.sentence not in known and liner:
                write.add(_kept(finding, liner, verdict.lot))


def _kept(finding: Finding, liner: str, lot: str) -> KeptFinding:
    return KeptFinding(
        liner=liner,
        level=finding.level,
        sentence=finding.sentence,
        remedy=finding.remedy,
        about=f"lot/{lot}",
        topic=finding.topic,
        why=finding.why,
    )
