"""Figures and findings of the flanges and of the plate's blank. mm."""

from __future__ import annotations

from hoopwright.findings import Check, Figure, Finding, Input, Source, judged
from hoopwright.plan.plate.flange_press import lean_reach
from hoopwright.plan.plate.flange_solve import FlangesSolved
from hoopwright.plan.plate.job import PlateJob
from hoopwright.plan.plate.port_figures import proof_figures
from hoopwright.plan.plate.port_findings import BUDGET_SHARE, edge_note
from hoopwright.process.press_figures import edge_strains_log
from hoopwright.process.press_wrinkle import worst_wrinkle
from hoopwright.process.working import reckoned, stated

KERNEL = Source("derived", "press run on the section kernel, plate as a body of revolution without its ports")


def flange_figures(job: PlateJob, solved: FlangesSolved) -> tuple[Figure, ...]:
    """All figures of blank and flanges, in the order of use."""
    return (*blank_figures(job, solved), *tool_figures(job, solved), *formed_figures(job, solved))


def blank_figures(job: PlateJob, solved: FlangesSolved) -> list[Figure]:
    """Blank outside and inside, by kernel and by constant length."""
    setting, shape, ground = solved.setting, job.shape, job.card.ground
    inner, outer = shape.developed()
    trim = job.card.limits.edge_trim_mm
    drawn = job.liner.source(f"{job.plate.id}, section")
    rows = (
        ("inside", setting.blank_inner, inner, "2 ( r - t )"),
        ("outside", setting.blank_outer, outer, "2 ( r + t )"),
    )
    found = []
    for word, radius, developed, formula in rows:
        found.append(
            reckoned(
                job.identity(f"blank/{word}-dia"),
                f"blank, {word} diameter",
                2.0 * radius,
                "mm",
                "2 r",
                Input(
                    "r",
                    f"radius that ends in the drawn flange with its trim, in {solved.closed.rounds} press runs",
                    radius,
                    "mm",
                    ground,
                ),
                digits=2,
            )
        )
        found.append(
            reckoned(
                job.identity(f"blank/{word}-by-length-dia"),
                "the same by constant length, trim on",
                2.0 * (developed + (trim.value if word == "outside" else -trim.value)),
                "mm",
                formula,
                Input("r", "radius of the edge laid flat", developed, "mm", drawn),
                trim.as_input("t"),
                digits=2,
            )
        )
    return found


def tool_figures(job: PlateJob, solved: FlangesSolved) -> list[Figure]:
    """What the flange tool is cut to."""
    setting, t, ground = solved.setting, job.plate.thickness_mm, job.card.ground
    sheet = job.thickness_mm.as_input("t")
    closed = solved.closed
    outer = Input("R", "mid-surface radius closed on the drawing", setting.outer_wall, "mm", ground)
    inner = Input("R", "mid-surface radius closed on the drawing", setting.inner_wall, "mm", ground)
    limits = job.card.limits
    clearance = reckoned(
        job.identity("flanges/clearance"),
        "clearance a side between punch and dies",
        setting.clearance,
        "mm",
        "c t",
        Input("c", "middle of the house's range", setting.clearance / t, "t", limits.die_clearance_min_t.source),
        sheet,
        digits=2,
    )
    gap = clearance.as_input("c")
    return [
        reckoned(
            job.identity("flanges/punch-outer-dia"),
            "punch, outer wall",
            2.0 * setting.outer_wall - t,
            "mm",
            "2 R - t",
            outer,
            sheet,
        ),
        reckoned(
            job.identity("flanges/punch-inner-dia"),
            "punch, inner wall",
            2.0 * setting.inner_wall + t,
            "mm",
            "2 R + t",
            inner,
            sheet,
        ),
        reckoned(
            job.identity("flanges/outer-die-dia"),
            "outer die, bore",
            2.0 * (setting.outer_wall + setting.clearance) - t,
            "mm",
            "2 ( R + c ) - t",
            outer,
            gap,
            sheet,
        ),
        reckoned(
            job.identity("flanges/inner-die-dia"),
            "inner die, outside",
            2.0 * (setting.inner_wall - setting.clearance) + t,
            "mm",
            "2 ( R - c ) + t",
            inner,
            gap,
            sheet,
        ),
        clearance,
        reckoned(
            job.identity("flanges/die-radius"),
            "radius of both dies",
            setting.die_radius,
            "mm",
            "d t",
            Input(
                "d",
                "a quarter up the house's range for a first form",
                setting.die_radius / t,
                "t",
                limits.die_radius_min_t.source,
            ),
            sheet,
            digits=1,
        ),
        *proof_figures(job, "flanges", closed.ratio, closed.bound_mm, closed.rounds),
    ]


def formed_figures(job: PlateJob, solved: FlangesSolved) -> list[Figure]:
    """Flanges as they come off, trimmed."""
    formed, t = solved.closed.last, job.plate.thickness_mm
    where = Source(job.card.ground.basis, KERNEL.where, job.card.ground.invented)
    rows = (
        ("outer-dia", "outer flange outside, trimmed", 2.0 * formed.outer_radius + t, "mm", 3),
        ("inner-dia", "inner flange inside, trimmed", 2.0 * formed.inner_radius - t, "mm", 3),
        ("outer-lean", "outer flange against the axis", formed.outer_lean_deg, "deg", 2),
        ("inner-lean", "inner flange against the axis", formed.inner_lean_deg, "deg", 2),
        ("flat", "flat, highest less lowest, free", formed.flat, "mm", 2),
    )
    notes = {
        "outer-lean": "positive: opening away from the axis towards its edge",
        "inner-lean": "positive: opening away from the axis towards its edge",
        "flat": "a dish all round; ports and pads are left out and would stiffen it",
    }
    return [
        stated(job.identity(f"flanges/{key}"), name, value, unit, where, digits, notes.get(key, ""))
        for key, name, value, unit, digits in rows
    ]


def flange_findings(job: PlateJob, solved: FlangesSolved) -> list[Finding | None]:
    """What is said about flanges beside the findings of the press step."""
    formed, closed, shape = solved.closed.last, solved.closed, job.shape
    edge = max(edge_strains_log(formed.step.record))
    found: list[Finding | None] = [
        edge_note(job, "blank/inside-dia", "edge of the blank", solved.setting.cut_edge, edge)
    ]
    for control in job.plate.controls:
        missed = 2.0 * abs(float(closed.missed_mm[0 if abs(0.5 * control.diameter_mm - shape.inner_rho) < 2.0 else 1]))
        check = Check(
            f"what the tool leaves on {control.name} is a tenth of its tolerance",
            missed,
            BUDGET_SHARE * control.tolerance_mm,
            "<=",
            "mm",
            job.liner.source(f"{job.plate.id}, {control.name}"),
            "caution",
            "close the tool faces further",
            job.identity(f"flanges/{control.name}"),
        )
        found.append(
            judged(
                check,
                f"The tool leaves {missed:.3f} on {control.name}; a tenth of {control.tolerance_mm:g} is allowed.",
                "flange-residual",
            )
        )
    zone = job.liner.tolerances.profile_restrained_mm
    leans = (formed.outer_lean_deg, formed.inner_lean_deg)
    for word, lean, reach in zip(("outer", "inner"), leans, lean_reach(shape, formed), strict=True):
        check = Check(
            f"the {word} flange stands within half the profile zone",
            reach,
            0.5 * zone,
            "<=",
            "mm",
            job.liner.source("tolerances"),
            "caution",
            _lean_remedy(job, solved),
            job.identity(f"flanges/{word}-lean"),
        )
        said = (
            f"The {word} flange leans by {abs(lean):.1f}° when let go: {reach:.2f} at its end, with the control size "
            f"right; half the profile zone is {0.5 * zone:g}."
        )
        found.append(judged(check, said, "flange-lean"))
    check = Check(
        "the flat stays within the profile zone when let go",
        formed.flat,
        zone,
        "<=",
        "mm",
        job.liner.source("tolerances"),
        "caution",
        "measure it restrained as the drawing has it first; then flatten it, ports and all",
        job.identity("flanges/flat"),
    )
    found.append(
        judged(
            check,
            f"The flat dishes by {formed.flat:.2f} when let go; the profile zone, restrained, is {zone:g}.",
            "plate-dish",
            "reckoned without the ports, whose pads stiffen the flat",
        )
    )
    return found


def _lean_remedy(job: PlateJob, solved: FlangesSolved) -> str:
    """What a larger die radius would do, as run."""
    first = "measure it restrained in its lap first"
    wider = solved.wider
    if wider is None:
        return first
    outer, inner = lean_reach(job.shape, wider)
    held = worst_wrinkle(wider.step.record.states, wider.step.record.enclosed, job.card.metal).width_mm
    most = job.card.limits.die_radius_max_t.value * job.plate.thickness_mm
    return (
        f"{first}; dies of radius {most:g} leave {outer:.2f} outside and {inner:.2f} inside, but {held:.0f} mm of the "
        "outer edge then draw in without a holder"
    )
