"""What a person asks of coupons: how many, what they prove, whether a lot is released."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from hoopwright.cards.seam import seam_card_id
from hoopwright.cards.shop import house_limits
from hoopwright.design.demo import demo_text
from hoopwright.design.readings import Readings, WeldLot, read_readings
from hoopwright.desk.weld_common import Sheet, WeldReport, lot_title, papers_in, sheet_title
from hoopwright.errors import InputError
from hoopwright.kernels.seam_stats_life import compare_lives
from hoopwright.kernels.seam_stats_ratio import RatioResult
from hoopwright.plan.seam.card_text import coupon_card, lot_card
from hoopwright.plan.seam.coupon_file import TensileCoupon, read_hardness, read_lives, read_tensile
from hoopwright.plan.seam.coupon_places import coupon_sheet
from hoopwright.plan.seam.evaluation import ProofStress, Qualification, evaluate, hardness_traverse, proof_ratio
from hoopwright.plan.seam.qualification import plan_coupons
from hoopwright.plan.seam.weld_lot import judge_lot
from hoopwright.plan.shelf import Shelf


def weld_coupons(sheet: Sheet, cv: float, ratio: float, power: float, folder: Path | None, date: dt.date) -> WeldReport:
    """How many coupons prove what is asked, and where they lie on the stock sheet."""
    plan = plan_coupons(sheet.part, cv, ratio, power, sheet=coupon_sheet(house_limits(sheet.limits, sheet.cards)))
    n = plan.welds
    sentence = (
        f"{n} weld coupons and {n} of the parent, same sheet, same direction."
        if n is not None
        else "No number of coupons proves it at this scatter."
    )

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.records import operators_pdf, qualification_pdf

        about = sheet_title(sheet, date, repr((cv, ratio, power)), machine=False)
        return {"weld-qualification.pdf": qualification_pdf(about, plan), "weld-operators.pdf": operators_pdf(about)}

    return WeldReport(sentence, plan.figures, plan.findings, papers_in(folder, files))


def weld_qualify(
    sheet: Sheet,
    tensile: Path,
    lives: Path | None,
    design_MPa: float | None,
    hardness: Path | None,
    folder: Path | None,
    date: dt.date,
) -> WeldReport:
    """What coupons prove: tensile coupons, and where given life tests and a hardness traverse.

    Raises
    ------
    InputError, FileFaults
        A faulty file, too few coupons, proof stresses over gauge lengths that differ, lives without a design amplitude.
    """
    found = _evaluated(sheet.part, tensile, lives, design_MPa, hardness)
    proved = not any(f.topic == "qualify-mean" for f in found.findings)
    bound = f"{100.0 * found.comparison.lower:.1f} % of its parent, one-sided bound at 95 %"
    sentence = f"The weld is proved to hold {bound}." if proved else f"The weld is not proved: {bound}."
    plan = plan_coupons(
        sheet.part, max(found.comparison.cv, 1e-3), sheet=coupon_sheet(house_limits(sheet.limits, sheet.cards))
    )

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.records import qualification_pdf

        about = sheet_title(sheet, date, repr((found.comparison, found.life, found.traverse)), machine=False)
        before = Shelf(sheet.cards).seam(sheet.material, sheet.thickness_mm)
        card = coupon_card(found, sheet.material, sheet.thickness_mm, before)
        return {
            "weld-qualification.pdf": qualification_pdf(about, plan, found),
            f"seam-{seam_card_id(sheet.material, sheet.thickness_mm)}.toml": card.encode(),
        }

    return WeldReport(sentence, found.figures, found.findings, papers_in(folder, files))


def _evaluated(
    part: str, tensile: Path, lives: Path | None, design_MPa: float | None, hardness: Path | None
) -> Qualification:
    coupons = read_tensile(tensile)
    life, tests = None, None
    if lives is not None:
        if design_MPa is None:
            raise InputError("design amplitude", "none", "MPa", "a stress amplitude", "give --design-amplitude")
        read = read_lives(lives)
        tests = read["weld"], read["parent"]
        life = compare_lives(*tests, design_MPa)
    traverse = None if hardness is None else hardness_traverse(*read_hardness(hardness))
    return evaluate(
        part,
        [c.tensile_MPa for c in coupons if c.kind == "weld"],
        [c.tensile_MPa for c in coupons if c.kind == "parent"],
        [c.fracture for c in coupons if c.kind == "weld" and c.fracture],
        life,
        traverse,
        lives=tests,
        proof=_proof(coupons),
    )


def _proof(coupons: tuple[TensileCoupon, ...]) -> tuple[RatioResult, float] | None:
    read = [(c.kind, ProofStress(c.proof_MPa, c.gauge_mm)) for c in coupons if c.proof_MPa and c.gauge_mm]
    if not read:
        return None
    return proof_ratio([p for kind, p in read if kind == "weld"], [p for kind, p in read if kind == "parent"])


def weld_lot(
    file: Path | None,
    lot: str,
    thickness_mm: float,
    cut_length_mm: float | None,
    limits: str,
    cards: Path | None,
    folder: Path | None,
    date: dt.date,
    retest: str | None = None,
    specified_MPa: float | None = None,
    material: str | None = None,
) -> WeldReport:
    """Release or hold a weld lot of a readings file; the demonstration's where no file is named.

    retest : lot of the same file whose coupons are the one retest. material : gives a seam card beside the papers.
    """
    readings = read_readings(file) if file is not None else read_readings(demo_text("readings.toml"), "readings.toml")
    found = _lot_of(readings, lot)
    again = () if retest is None else _lot_of(readings, retest).coupons
    verdict = judge_lot(found, thickness_mm, house_limits(limits, cards), cut_length_mm, again, specified_MPa)

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.records import lot_pdf, qualification_pdf

        about = lot_title(readings, found.lot, date, repr((found, again)))
        every = (*found.coupons, *again)
        strengths = [c.tensile_MPa for c in every]
        proved = evaluate(found.lot, strengths, found.parent_tensile_MPa, [c.fracture for c in every])
        plan = plan_coupons(found.lot, max(verdict.comparison.cv, 1e-3))
        made = {
            f"weld-lot-{found.lot}.pdf": lot_pdf(about, verdict),
            f"weld-qualification-{found.lot}.pdf": qualification_pdf(about, plan, proved),
        }
        if material is not None:
            before = Shelf(cards).seam(material, thickness_mm)
            card = lot_card(verdict, found, material, thickness_mm, before, readings.invented)
            made[f"seam-{seam_card_id(material, thickness_mm)}.toml"] = card.encode()
        return made

    said = f"{verdict.sentence} {verdict.reason[0].upper()}{verdict.reason[1:]}."
    return WeldReport(said, verdict.figures, verdict.findings, papers_in(folder, files))


def _lot_of(readings: Readings, lot: str) -> WeldLot:
    found = next((one for one in readings.weld_lots if lot in (one.lot, one.name)), None)
    if found is None:
        known = ", ".join(one.lot for one in readings.weld_lots) or "none"
        raise InputError("weld lot", lot, "", f"one of the file: {known}", "name one of them")
    return found
