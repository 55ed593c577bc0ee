"""Does it fit? Laps as measured, which rings to stretch, what the obvious fix would break, where the seams stand."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.correct.fits import Fits
from hoopwright.correct.seams import SeamCheck, check_seams, mid_port_angles
from hoopwright.desk.page.board import Lap, fit_rule, fits_of, laps
from hoopwright.desk.page.job import Job
from hoopwright.findings import Finding, Source, gravest_first


@dataclass(frozen=True, slots=True)
class Fitting:
    """fits is None where no lap has been measured. ports_deg : middles of the ports."""

    laps: tuple[Lap, ...]
    fits: Fits | None
    seams: tuple[SeamCheck, ...]
    sides: tuple[tuple[str, tuple[tuple[str, float], ...]], ...]
    ports_deg: tuple[float, ...]
    findings: tuple[Finding, ...]
    answer: str


def fitting(job: Job, revision: str = "") -> Fitting:
    """Fits and clocking of a revision."""
    liner = job.revision(revision).liner
    rule = fit_rule(liner, job)
    fits = fits_of(job, liner, job.readings(), rule)
    seams = check_seams(liner)
    found = list(fits.findings) if fits is not None else []
    for check in seams:
        if not check.ok:
            sentence = f"The seam of {check.ring} stands too near: neighbour {check.neighbour_deg:.0f}°."
            remedy = "turn the ring to another middle between ports"
            found.append(
                Finding("stop", sentence, remedy, check.ring, "seam-clock", "", None, Source("practice", "house rule"))
            )
    sides = tuple(
        (side, tuple((r.id, r.seam_theta_deg) for r in sorted(liner.rings, key=lambda r: r.order) if r.side == side))
        for side in ("outer", "inner")
    )
    ports = tuple(angle + 180.0 / liner.ports for angle in mid_port_angles(liner)) if liner.ports else ()
    return Fitting(laps(liner, job.readings(), rule), fits, seams, sides, ports, gravest_first(found), _answer(fits))


def _answer(fits: Fits | None) -> str:
    if fits is None:
        return "No lap has been measured yet. Read both faces of each lap and enter them."
    off = [gap for gap in fits.gaps if gap.word != "inside"]
    if not off:
        return f"All {len(fits.gaps)} laps that were measured can be welded as they are."
    best = fits.choices[0] if fits.choices else None
    said = " and ".join(f"{gap.joint} is {gap.word}" for gap in off)
    if best is None or not best.feasible:
        return f"{said}; no stretch of these rings makes every lap fit."
    moved = " and ".join(f"{s.ring} by {s.change_mm:.3f}" for s in best.stretches)
    return f"{said}. Stretch {moved}: then every lap fits."
