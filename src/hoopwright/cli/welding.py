"""The command `weld` and its parts: setting, trials, fit-up, angle, coupons, qualify, lot, learn, assembly."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from hoopwright.cli.options import Day, Json, ShopFolder, finish
from hoopwright.cli.show import Report, report_shown, say

app = typer.Typer(
    no_args_is_help=True, rich_markup_mode=None, help="The seam: setting, trials, fit-up, coupons, lot, laps."
)

Out = Annotated[Path | None, typer.Option("--out", help="Folder for the papers; written whole or not at all.")]
Material = Annotated[str, typer.Option("--material", help="Alloy card of the sheet.")]
Thickness = Annotated[float, typer.Option("--thickness", help="Sheet thickness, mm.")]
Machine = Annotated[str, typer.Option("--machine", help="Machine cards, by their common first word.")]
Limits = Annotated[str, typer.Option("--limits", help="Card of house limits.")]
Part = Annotated[str, typer.Option("--part", help="Name of the part, printed on figures and papers.")]
CAUTION = (
    "Laser of class 4 inside the enclosure; dust and fume of nickel, chromium and cobalt are poisonous: extract them. "
    "The cautions are on the papers. A computed pass is no release."
)


def _shown(report: Report, as_json: bool) -> int:
    return report_shown(report, as_json, CAUTION)


@app.command()
def setting(
    power: Annotated[float, typer.Option("--power", help="Laser power on the work, W.")],
    speed: Annotated[float, typer.Option("--speed", help="Welding speed, mm/s.")],
    material: Material,
    thickness: Thickness,
    spot: Annotated[float, typer.Option("--spot", help="Spot diameter at 1/e2, mm.")] = 0.3,
    focus: Annotated[float, typer.Option("--focus", help="Focus over the face, mm.")] = 0.0,
    sections: Annotated[Path | None, typer.Option("--sections", help="The shop's own sections (CSV).")] = None,
    check: Annotated[bool, typer.Option("--check", help="Also by the moving-frame scheme; takes seconds.")] = False,
    radius: Annotated[float | None, typer.Option("--radius", help="Mean radius of the hoop, mm.")] = None,
    inside: Annotated[bool, typer.Option("--from-inside", help="The beam comes from inside the hoop.")] = False,
    shrinkages: Annotated[str | None, typer.Option("--shrinkages", help="Read of rings so welded: 0.06,0.05.")] = None,
    angles: Annotated[str | None, typer.Option("--angles", help="Angles of rings so welded, deg: 0.8,0.6.")] = None,
    prior: Annotated[float | None, typer.Option("--strip-strain", help="Strain of the strip before, natural.")] = None,
    stretch: Annotated[float, typer.Option("--stretch", help="Stretch of the hoop afterwards, natural.")] = 0.015,
    machine: Machine = "demo",
    limits: Limits = "house",
    part: Part = "seam",
    out: Out = None,
    date: Day = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """What one setting does: bead, threshold, cooling, shrinkage, angle, soft zone; procedure sheet, seam card."""
    from hoopwright.desk.planning import paper_date
    from hoopwright.desk.weld import RingsRead, Sheet, weld_setting
    from hoopwright.desk.weld_fit import readings_of

    def run() -> int:
        sheet = Sheet(material, thickness, part, machine, limits, cards)
        wanted = (power, speed, spot, focus)
        worked = None if prior is None else (prior, stretch)
        read = RingsRead(readings_of("--shrinkages", shrinkages), readings_of("--angles", angles))
        report = weld_setting(sheet, wanted, sections, check, worked, out, paper_date(date), radius, not inside, read)
        return _shown(report, json)

    finish(run, json)


@app.command()
def trials(
    material: Material,
    thickness: Thickness,
    file: Annotated[Path | None, typer.Argument(help="Trials made so far (CSV); none at the start.")] = None,
    sections: Annotated[Path | None, typer.Option("--sections", help="The shop's own sections (CSV).")] = None,
    seed: Annotated[int, typer.Option("--seed", help="Seed of the planner; the same gives the same trials.")] = 1,
    budget: Annotated[int, typer.Option("--budget", help="Trials planned for, 8 to 60.")] = 20,
    machine: Machine = "demo",
    limits: Limits = "house",
    part: Part = "seam",
    out: Out = None,
    date: Day = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """Which trials to weld next, or the setting in the middle of the window, or that nothing is known yet."""
    from hoopwright.desk.planning import paper_date
    from hoopwright.desk.weld import Sheet, weld_trials

    def run() -> int:
        sheet = Sheet(material, thickness, part, machine, limits, cards)
        report, plan = weld_trials(sheet, file, seed, budget, out, paper_date(date), sections)
        if not json:
            for number, (p, v, z, g) in enumerate(plan.next, start=len(plan.trials) + 1):
                say(f"trial {number}: {p:.0f} W, {v:.1f} mm/s, focus {z:+.2f} mm, gap {g:.3f} mm")
        return _shown(report, json)

    finish(run, json)


@app.command()
def angle(
    trace: Annotated[Path, typer.Argument(help="Trace of the welded hoop (CSV): theta_deg, deviation_mm.")],
    radius: Annotated[float, typer.Option("--radius", help="Mean radius of the hoop, mm.")],
    material: Material,
    thickness: Thickness,
    out: Out = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """How much a welded hoop is bent at its seam, from its roundness trace before sizing; seam card."""
    from hoopwright.desk.weld_fit import weld_angle

    finish(lambda: _shown(weld_angle(trace, radius, material, thickness, cards, out), json), json)


@app.command()
def coupons(
    material: Material,
    thickness: Thickness,
    scatter: Annotated[float, typer.Option("--scatter", help="Scatter of the strength, percent.")] = 1.5,
    ratio: Annotated[float, typer.Option("--ratio", help="Strength ratio the weld truly has.")] = 0.98,
    power: Annotated[float, typer.Option("--probability", help="Probability of proving it.")] = 0.90,
    part: Part = "seam",
    out: Out = None,
    date: Day = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """How many weld and parent coupons prove that the weld is good enough; qualification record, operator list."""
    from hoopwright.desk.planning import paper_date
    from hoopwright.desk.weld import Sheet, weld_coupons

    def run() -> int:
        sheet = Sheet(material, thickness, part, cards=cards)
        return _shown(weld_coupons(sheet, scatter / 100.0, ratio, power, out, paper_date(date)), json)

    finish(run, json)


@app.command()
def qualify(
    tensile: Annotated[Path, typer.Argument(help="Tensile coupons (CSV): kind, tensile_MPa, ...")],
    material: Material,
    thickness: Thickness,
    lives: Annotated[Path | None, typer.Option("--lives", help="Life tests (CSV), run-outs marked.")] = None,
    design: Annotated[float | None, typer.Option("--design-amplitude", help="Amplitude of the ratio, MPa.")] = None,
    hardness: Annotated[Path | None, typer.Option("--hardness", help="Hardness traverse (CSV).")] = None,
    part: Part = "seam",
    limits: Limits = "house",
    out: Out = None,
    date: Day = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """What coupons prove: strength, proof stress, life, softened width, fracture place; qualification record."""
    from hoopwright.desk.planning import paper_date
    from hoopwright.desk.weld import Sheet, weld_qualify

    def run() -> int:
        sheet = Sheet(material, thickness, part, limits=limits, cards=cards)
        return _shown(weld_qualify(sheet, tensile, lives, design, hardness, out, paper_date(date)), json)

    finish(run, json)


@app.command("fit-up")
def fit_up(
    ring: Annotated[str, typer.Argument(help="Ring of the liner.")],
    liner: Annotated[Path | None, typer.Option("--liner", help="Liner file; the demonstration's if left out.")] = None,
    ends: Annotated[Path | None, typer.Option("--ends", help="Outlines of both ends (CSV).")] = None,
    mismatch: Annotated[
        str | None, typer.Option("--mismatch", help="Read forward, middle, aft: 0.03,0.05,0.02.")
    ] = None,
    gap: Annotated[str | None, typer.Option("--gap", help="Read forward, middle, aft: 0.02,0.01,0.03.")] = None,
    spot: Annotated[float | None, typer.Option("--spot", help="Spot diameter at 1/e2, mm.")] = None,
    level: Annotated[str, typer.Option("--level", help="Limits: house, or level B, C or D.")] = "house",
    out: Out = None,
    date: Day = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """Whether both ends of the strip meet along the contour, before it is welded; fit-up sheet."""
    from hoopwright.desk.planning import paper_date
    from hoopwright.desk.weld_fit import FitUpAsked, level_of, readings_of, weld_fit_up

    def run() -> int:
        read = readings_of("--mismatch", mismatch), readings_of("--gap", gap)
        asked = FitUpAsked(level_of(level), spot, *read, ends)
        return _shown(weld_fit_up(liner, ring, asked, cards, out, paper_date(date)), json)

    finish(run, json)


@app.command()
def lot(
    name: Annotated[str, typer.Argument(help="Weld lot, as in the readings file.")],
    thickness: Thickness,
    file: Annotated[Path | None, typer.Option("--readings", help="Readings file; else the demonstration's.")] = None,
    cut_length: Annotated[float | None, typer.Option("--cut-length", help="Cut length in use, mm.")] = None,
    retest: Annotated[
        str | None, typer.Option("--retest", help="Lot of the file whose coupons are the retest.")
    ] = None,
    specified: Annotated[
        float | None, typer.Option("--specified", help="Strength the specification asks, MPa.")
    ] = None,
    material: Annotated[str | None, typer.Option("--material", help="Alloy card; gives a seam card too.")] = None,
    records: Annotated[str | None, typer.Option("--records", help="Take the lot from the records here.")] = None,
    enter: Annotated[bool, typer.Option("--enter", help="Write a stop and its findings into the records.")] = False,
    by: Annotated[str | None, typer.Option("--by", help="Who writes; else HOOPWRIGHT_BY, else the name here.")] = None,
    limits: Limits = "demo-house",
    out: Out = None,
    date: Day = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """Release or hold a weld lot: one sentence with its reason; lot record, and a seam card of what it has shown."""
    from hoopwright.desk.planning import paper_date
    from hoopwright.desk.weld import weld_lot

    def run() -> int:
        day = paper_date(date)
        if records is not None:
            from hoopwright.desk.weld_records import weld_lot_recorded

            return _shown(
                weld_lot_recorded(records, name, thickness, cut_length, limits, cards, out, day, specified, enter, by),
                json,
            )
        return _shown(
            weld_lot(file, name, thickness, cut_length, limits, cards, out, day, retest, specified, material), json
        )

    finish(run, json)


@app.command()
def learn(
    material: Material,
    thickness: Thickness,
    records: Annotated[str | None, typer.Option("--records", help="Address of the records; else as set.")] = None,
    procedure: Annotated[str | None, typer.Option("--procedure", help="Only lots of this weld procedure.")] = None,
    limits: Limits = "house",
    out: Out = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """What the lots of the records have shown of a seam: shrinkage, strength, mismatch; its card for the plans."""
    from hoopwright.desk.weld_records import weld_learn

    finish(lambda: _shown(weld_learn(records, material, thickness, procedure, limits, cards, out), json), json)


@app.command()
def assembly(
    liner: Annotated[Path | None, typer.Argument(help="Liner file; the demonstration's if left out.")] = None,
    free_length: Annotated[float | None, typer.Option("--free-length", help="Free length at the slip, mm.")] = None,
    nozzle: Annotated[str | None, typer.Option("--nozzle", help="OURS,THEIRS,D1,D2: alloys, diameters.")] = None,
    heights: Annotated[Path | None, typer.Option("--heights", help="Heights before and after each lap (CSV).")] = None,
    datum: Annotated[str, typer.Option("--datum", help="End the fixture holds: aft or forward.")] = "aft",
    out: Out = None,
    date: Day = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """Order, tacks and pull-in of the lap welds, and the joint to the turbine-nozzle ring; assembly weld sheet."""
    from hoopwright.desk.planning import paper_date
    from hoopwright.desk.weld import datum_is_aft, nozzle_joint, weld_assembly

    def run() -> int:
        joint = None if nozzle is None else nozzle_joint(nozzle)
        aft = datum_is_aft(datum)
        return _shown(weld_assembly(liner, free_length, joint, aft, cards, out, paper_date(date), heights), json)

    finish(run, json)
