"""What a person asks of the weld: this setting, the next trial, how many coupons, this lot, the assembly welds."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from hoopwright.cards.alloy import alloy
from hoopwright.cards.machines import Laser
from hoopwright.cards.shop import house_limits, machines
from hoopwright.design.checks.laps import lap_of
from hoopwright.design.demo import demo_liner, demo_text
from hoopwright.design.liner_reading import read_liner
from hoopwright.design.mark import input_mark
from hoopwright.design.readings import Readings, read_readings
from hoopwright.design.shapes import Liner
from hoopwright.desk.folders import checked_target, write_whole
from hoopwright.errors import InputError
from hoopwright.findings import Figure, Finding, gravest_first
from hoopwright.kernels.heat_fit import AbsorptionFit, fit_absorption
from hoopwright.plan.seam.assembly import NozzleJoint, plan_assembly
from hoopwright.plan.seam.fit_up import fixture_words
from hoopwright.plan.seam.heat_card import HeatCard, heat_card
from hoopwright.plan.seam.machine import WeldSetting
from hoopwright.plan.seam.qualification import evaluate, plan_coupons
from hoopwright.plan.seam.settings import checked_by_scheme, plan_setting
from hoopwright.plan.seam.soft_zone import plan_soft_zone
from hoopwright.plan.seam.trial_file import read_sections, read_trials
from hoopwright.plan.seam.trials import TrialJob, TrialPlan, plan_trials
from hoopwright.plan.seam.weld_lot import judge_lot

if TYPE_CHECKING:
    from hoopwright.papers.weld.common import WeldTitle


@dataclass(frozen=True, slots=True)
class WeldReport:
    """What a command shows. sentence : the answer; files : written, empty where no folder was named."""

    sentence: str
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    files: tuple[Path, ...]

    @property
    def stops(self) -> int:
        """How many findings say stop."""
        return sum(finding.level == "stop" for finding in self.findings)


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a weld is made in, and with which cards."""

    material: str
    thickness_mm: float
    part: str = "seam"
    machine: str = "demo"
    limits: str = "house"
    cards: Path | None = None

    @property
    def heat(self) -> HeatCard:
        """The alloy as heat sees it."""
        return heat_card(alloy(self.material, self.cards))

    @property
    def laser(self) -> Laser:
        """The welding laser."""
        return machines(self.machine, self.cards).laser


def weld_setting(
    sheet: Sheet,
    wanted: tuple[float, float, float, float],
    sections: Path | None,
    check: bool,
    worked: tuple[float, float] | None,
    folder: Path | None,
    date: dt.date,
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
    plan = plan_setting(sheet.part, setting, sheet.thickness_mm, heat, sheet.laser, house, fit)
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

        about = _about(sheet, date, repr(setting))
        return {"weld-procedure.pdf": procedure_pdf(about, plan, fixture_words(sheet.thickness_mm))}

    return WeldReport(sentence, plan.figures, plan.findings, _written(folder, files))


def weld_trials(
    sheet: Sheet, file: Path | None, seed: int, budget: int, folder: Path | None, date: dt.date
) -> tuple[WeldReport, TrialPlan]:
    """The next trial, the setting, or that nothing is known yet."""
    trials = read_trials(file) if file is not None else ()
    if not 8 <= budget <= 60:
        raise InputError("budget of trials", budget, "", "from 8 to 60", "plan for 20")
    house = house_limits(sheet.limits, sheet.cards)
    job = TrialJob(sheet.part, sheet.thickness_mm, sheet.heat, sheet.laser, house, budget=budget, seed=seed)
    plan = plan_trials(job, trials)

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.procedure_sheet import procedure_pdf, trials_pdf

        about = _about(sheet, date, repr((trials, seed)))
        made = {"weld-trials.pdf": trials_pdf(about, plan)}
        if plan.state == "name" and plan.verdict is not None:
            power, speed, focus, _ = map(float, plan.verdict.settings)
            setting = WeldSetting(power, speed, sheet.laser.spot_dia_min_mm.value, focus)
            seam = plan_setting(sheet.part, setting, sheet.thickness_mm, job.card, sheet.laser, house)
            made["weld-procedure.pdf"] = procedure_pdf(about, seam, fixture_words(sheet.thickness_mm), plan)
        return made

    return WeldReport(plan.sentence, plan.figures, plan.findings, _written(folder, files)), plan


def weld_coupons(sheet: Sheet, cv: float, ratio: float, power: float, folder: Path | None, date: dt.date) -> WeldReport:
    """How many coupons prove what is asked."""
    plan = plan_coupons(sheet.part, cv, ratio, power)
    n = plan.welds
    sentence = (
        f"{n} weld coupons and {n} of the parent, same sheet, same direction."
        if n is not None
        else "No number of coupons proves it at this scatter."
    )

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.records import operators_pdf, qualification_pdf

        about = _about(sheet, date, repr((cv, ratio, power)))
        return {"weld-qualification.pdf": qualification_pdf(about, plan), "weld-operators.pdf": operators_pdf(about)}

    return WeldReport(sentence, plan.figures, plan.findings, _written(folder, files))


def weld_lot(
    file: Path | None, lot: str, thickness_mm: float, cut_length_mm: float | None, limits: str, cards: Path | None,
    folder: Path | None, date: dt.date,
) -> WeldReport:  # fmt: skip
    """Release or hold a weld lot of a readings file; the demonstration's where no file is named."""
    readings = read_readings(file) if file is not None else read_readings(demo_text("readings.toml"), "readings.toml")
    found = next((one for one in readings.weld_lots if lot in (one.lot, one.name)), None)
    if found is None:
        known = ", ".join(one.lot for one in readings.weld_lots) or "none"
        raise InputError("weld lot", lot, "", f"one of the file: {known}", "name one of them")
    verdict = judge_lot(found, thickness_mm, house_limits(limits, cards), cut_length_mm)

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.records import lot_pdf, qualification_pdf

        about = _lot_about(readings, found.lot, date, repr(found))
        strengths = [c.tensile_MPa for c in found.coupons]
        proved = evaluate(found.lot, strengths, found.parent_tensile_MPa, [c.fracture for c in found.coupons])
        plan = plan_coupons(found.lot, max(verdict.comparison.cv, 1e-3))
        return {
            f"weld-lot-{found.lot}.pdf": lot_pdf(about, verdict),
            f"weld-qualification-{found.lot}.pdf": qualification_pdf(about, plan, proved),
        }

    said = f"{verdict.sentence} {verdict.reason[0].upper()}{verdict.reason[1:]}."
    return WeldReport(said, verdict.figures, verdict.findings, _written(folder, files))


def weld_assembly(
    file: Path | None,
    free_length_mm: float | None,
    nozzle: NozzleJoint | None,
    datum_aft: bool,
    cards: Path | None,
    folder: Path | None,
    date: dt.date,
) -> WeldReport:
    """Order, tacks and pull-in of the lap welds of a liner; the demonstration's where no file is named."""
    liner = read_liner(file, cards) if file is not None else demo_liner()
    house = house_limits(liner.cards.limits, cards)
    plan = plan_assembly(liner, joint_radii(liner), house, None, free_length_mm, nozzle, datum_aft)
    order = ", ".join(lap.joint.id for lap in plan.laps)

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.common import WeldTitle
        from hoopwright.papers.weld.records import assembly_pdf

        said = f"{liner.id} rev {liner.revision}"
        about = WeldTitle(liner.id, said, liner.revision, input_mark(liner), date, liner.invented)
        return {"assembly-welds.pdf": assembly_pdf(about, plan)}

    return WeldReport(f"Weld {order} in this order.", plan.figures, plan.findings, _written(folder, files))


def joint_radii(liner: Liner) -> dict[str, float]:
    """Radius of each lap's weld circle, midway between the two sheets; laps off their part are left out. [mm]"""
    found = ((joint.id, lap_of(liner, joint)) for joint in liner.joints)
    return {name: 0.5 * (lap.outer_mid + lap.inner_mid) for name, lap in found if lap is not None}


def _about(sheet: Sheet, date: dt.date, inputs: str) -> WeldTitle:
    from hoopwright.papers.weld.common import WeldTitle

    mark = input_mark(sheet.heat.alloy.digest, repr(sheet.laser), inputs)
    said = f"{sheet.material}, {sheet.thickness_mm:g} mm"
    return WeldTitle(sheet.part, said, "-", mark, date, sheet.laser.power_max_W.source.invented)


def _lot_about(readings: Readings, lot: str, date: dt.date, inputs: str) -> WeldTitle:
    from hoopwright.papers.weld.common import WeldTitle

    return WeldTitle(f"Lot {lot}", f"readings of {readings.liner}", "-", input_mark(inputs), date, readings.invented)


def _fit(sheet: Sheet, heat: HeatCard, sections: Path | None) -> AbsorptionFit | None:
    return None if sections is None else fit_absorption(read_sections(sections, sheet.thickness_mm), heat.metal)


def _written(folder: Path | None, files: Callable[[], dict[str, bytes]]) -> tuple[Path, ...]:
    """Files in a folder, whole or not at all; none where no folder is named."""
    if folder is None:
        return ()
    checked_target(folder)
    return write_whole(folder, files())


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
