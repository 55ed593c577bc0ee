"""What a person asks of the weld: this setting, the next trial, how many coupons, this lot, the assembly welds."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

from hoopwright.cards.seam import seam_card_id
from hoopwright.cards.shop import house_limits
from hoopwright.design.checks.laps import lap_of
from hoopwright.design.demo import demo_liner
from hoopwright.design.liner_reading import read_liner
from hoopwright.design.mark import input_mark
from hoopwright.design.shapes import Liner
from hoopwright.desk.weld_common import Sheet, WeldReport, papers_in, sheet_title
from hoopwright.desk.weld_proof import weld_coupons, weld_lot, weld_qualify
from hoopwright.errors import InputError
from hoopwright.findings import gravest_first
from hoopwright.kernels.heat_fit import AbsorptionFit, fit_absorption
from hoopwright.kernels.melt_trial import TrialPrior
from hoopwright.plan.seam.assembly import NozzleJoint, plan_assembly
from hoopwright.plan.seam.card_text import setting_card
from hoopwright.plan.seam.coupon_file import read_heights
from hoopwright.plan.seam.fit_up import fixture_words
from hoopwright.plan.seam.heat_card import HeatCard
from hoopwright.plan.seam.machine import WeldSetting
from hoopwright.plan.seam.settings import checked_by_scheme, plan_setting
from hoopwright.plan.seam.settings_fit import planner_prior
from hoopwright.plan.seam.settings_shape import NOTHING_READ, RingsRead
from hoopwright.plan.seam.soft_zone import plan_soft_zone
from hoopwright.plan.seam.trial_file import read_sections, read_trials
from hoopwright.plan.seam.trials import TrialJob, TrialPlan, plan_trials
from hoopwright.plan.shelf import Shelf


def weld_setting(
    sheet: Sheet,
    wanted: tuple[float, float, float, float],
    sections: Path | None,
    check: bool,
    worked: tuple[float, float] | None,
    folder: Path | None,
    date: dt.date,
    radius_mm: float | None = None,
    face_outside: bool = True,
    read: RingsRead = NOTHING_READ,
) -> WeldReport:
    """Judge a setting: power W, speed mm/s, spot mm, focus mm.

    `sections` fits the absorption, `check` runs the moving-frame scheme beside it;
    `worked` is the strain of the strip before and its stretch after: what they ask of the softened seam.

    Raises
    ------
    InputError, CardError, FileFaults
        A setting the machine cannot be set to; a card that lacks something; a faulty file.
    """
    heat, setting = sheet.heat, WeldSetting(*wanted)
    fit = _fit(sheet, heat, sections)
    house = house_limits(sheet.limits, sheet.cards)
    plan = plan_setting(
        sheet.part, setting, sheet.thickness_mm, heat, sheet.laser, house, fit, None, radius_mm, face_outside, read
    )
    if worked is not None:
        zone = plan_soft_zone(sheet.part, heat.alloy, *worked, plan.numbers.zone_mm, house)
        both = gravest_first([*plan.findings, *zone.findings])
        plan = replace(plan, figures=(*plan.figures, *zone.figures), findings=both)
    sentence = f"Face {plan.figure('/face-width')}, root {plan.figure('/root-width')}, {plan.source.mode} mode."
    if check:
        scheme = checked_by_scheme(plan, heat)
        sentence += (
            f" By the moving-frame scheme: face {scheme.face_mm[1]:.2f} mm, root {scheme.root_mm[1]:.2f} mm, "
            f"power closed to {100.0 * abs(scheme.closure - 1.0):.2f} %."
        )

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.procedure_sheet import procedure_pdf

        about = sheet_title(sheet, date, repr(setting))
        before = Shelf(sheet.cards).seam(sheet.material, sheet.thickness_mm)
        card = setting_card(plan, sheet.material, before, sheet.laser.power_max_W.source.invented)
        return {
            "weld-procedure.pdf": procedure_pdf(about, plan, fixture_words(sheet.thickness_mm)),
            f"seam-{seam_card_id(sheet.material, sheet.thickness_mm)}.toml": card.encode(),
        }

    return WeldReport(sentence, plan.figures, plan.findings, papers_in(folder, files))


def weld_trials(
    sheet: Sheet,
    file: Path | None,
    seed: int,
    budget: int,
    folder: Path | None,
    date: dt.date,
    sections: Path | None = None,
) -> tuple[WeldReport, TrialPlan]:
    """The next trial, the setting, or that nothing is known yet; `sections` teach the planner's melt model first."""
    trials = read_trials(file) if file is not None else ()
    if not 8 <= budget <= 60:
        raise InputError("budget of trials", budget, "", "from 8 to 60", "plan for 20")
    house = house_limits(sheet.limits, sheet.cards)
    heat = sheet.heat
    fit = _fit(sheet, heat, sections)
    prior = TrialPrior() if fit is None else planner_prior(fit)
    job = TrialJob(sheet.part, sheet.thickness_mm, heat, sheet.laser, house, prior, budget, seed)
    plan = plan_trials(job, trials)

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.procedure_sheet import procedure_pdf, trials_pdf

        about = sheet_title(sheet, date, repr((trials, seed)))
        made = {"weld-trials.pdf": trials_pdf(about, plan)}
        if plan.state == "name" and plan.verdict is not None:
            power, speed, focus, _ = map(float, plan.verdict.settings)
            setting = WeldSetting(power, speed, sheet.laser.spot_dia_min_mm.value, focus)
            seam = plan_setting(sheet.part, setting, sheet.thickness_mm, job.card, sheet.laser, house, fit)
            made["weld-procedure.pdf"] = procedure_pdf(about, seam, fixture_words(sheet.thickness_mm), plan)
        return made

    return WeldReport(plan.sentence, plan.figures, plan.findings, papers_in(folder, files)), plan


def weld_assembly(
    file: Path | None,
    free_length_mm: float | None,
    nozzle: NozzleJoint | None,
    datum_aft: bool,
    cards: Path | None,
    folder: Path | None,
    date: dt.date,
    heights: Path | None = None,
) -> WeldReport:
    """Order, tacks and pull-in of the lap welds of a liner; the demonstration's where no file is named.

    heights : file of stack heights before and after each lap, from which the pull-in is learned.
    """
    liner = read_liner(file, cards) if file is not None else demo_liner()
    house = house_limits(liner.cards.limits, cards)
    read = None if heights is None else _known_joints(liner, read_heights(heights))
    plan = plan_assembly(liner, joint_radii(liner), house, read, free_length_mm, nozzle, datum_aft)
    order = ", ".join(lap.joint.id for lap in plan.laps)

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.common import WeldTitle
        from hoopwright.papers.weld.records import assembly_pdf

        said = f"{liner.id} rev {liner.revision}"
        about = WeldTitle(liner.id, said, liner.revision, input_mark(liner), date, liner.invented)
        return {"assembly-welds.pdf": assembly_pdf(about, plan)}

    return WeldReport(f"Weld {order} in this order.", plan.figures, plan.findings, papers_in(folder, files))


def _known_joints(liner: Liner, heights: dict[str, tuple[float, ...]]) -> dict[str, tuple[float, ...]]:
    known = [joint.id for joint in liner.joints]
    for joint in heights:
        if joint not in known:
            raise InputError("joint", joint, "", f"one of {', '.join(known)}", "correct the file of heights")
    return heights


def joint_radii(liner: Liner) -> dict[str, float]:
    """Radius of each lap's weld circle, midway between the two sheets; laps off their part are left out. [mm]"""
    found = ((joint.id, lap_of(liner, joint)) for joint in liner.joints)
    return {name: 0.5 * (lap.outer_mid + lap.inner_mid) for name, lap in found if lap is not None}


def _fit(sheet: Sheet, heat: HeatCard, sections: Path | None) -> AbsorptionFit | None:
    return None if sections is None else fit_absorption(read_sections(sections, sheet.thickness_mm), heat.metal)


def nozzle_joint(text: str) -> NozzleJoint:
    """The joint to the nozzle ring from OURS,THEIRS,D1,D2.

    Raises
    ------
    InputError
        Not two alloys and two numbers.
    """
    parts = [part.strip() for part in text.split(",")]
    try:
        ours, theirs, first, second = parts
        return NozzleJoint(ours, theirs, float(first), float(second))
    except ValueError:
        must = "two alloys and two diameters, with commas between"
        raise InputError("--nozzle", text, "", must, "write N06002,N06625,247.0,247.2") from None


def datum_is_aft(word: str) -> bool:
    """Whether the fixture holds the aft end.

    Raises
    ------
    InputError
        Neither `aft` nor `forward`.
    """
    if word not in ("aft", "forward"):
        raise InputError("--datum", word, "", "aft or forward", "name the end the fixture holds")
    return word == "aft"


__all__ = [
    "RingsRead",
    "Sheet",
    "WeldReport",
    "datum_is_aft",
    "joint_radii",
    "nozzle_joint",
    "weld_assembly",
    "weld_coupons",
    "weld_lot",
    "weld_qualify",
    "weld_setting",
    "weld_trials",
]
