"""The seam on its ring: what its numbers make of the welded hoop, what sizing leaves of it, what the joint carries."""

from __future__ import annotations

from hoopwright.errors import CardError
from hoopwright.findings import Band, Check, Figure, Finding, Input, Source, judged
from hoopwright.kernels.seam_angle import kink_harmonic, kink_peak
from hoopwright.plan.seam.numbers import seam_numbers
from hoopwright.plan.shapes import RingJob
from hoopwright.process.working import reckoned

NINE_IN_TEN = 1.6448536269514722
OUT_OF_LINE: Source = Source(
    "memory", "from memory: secondary bending of a butt joint out of line, 3 e/t for equal sheets free to turn"
)
FREE = "inextensional elastic ring; crest or hollow at the seam"


def seam_figures(job: RingJob, radius_mm: float) -> tuple[Figure, ...]:
    """Softened width, angle, the hoop's shape by it, mismatch and strength of the joint; figures of the weld step.

    Parameters
    ----------
    radius_mm : float
        Mean radius of the welded hoop.
    """
    numbers, card = seam_numbers(job), job.seam
    soft = reckoned(
        job.identity("weld/softened-width"),
        "width of strip that loses its cold work",
        numbers.zone_mm,
        "mm",
        "w",
        card.softened_width_mm.as_input("w"),
        digits=1,
        band=card.softened_width_mm.band or _band(card.softened_width_mm.value, card.softened_width_sd_mm),
    )
    angle = reckoned(
        job.identity("weld/angle"),
        "angle across the seam, standing out above 0",
        card.angle_deg.value,
        "deg",
        "φ",
        card.angle_deg.as_input("φ"),
        digits=2,
        band=card.angle_deg.band or _band(card.angle_deg.value, card.angle_sd_deg),
        note="give the fixture as much the other way; learn it from the three-point gauge",
    )
    return (soft, angle, *_shape(job, angle, numbers.angle_rad, radius_mm), *_joint(job))


def _band(value: float, sd: Figure | None) -> Band | None:
    if sd is None:
        return None
    half = NINE_IN_TEN * sd.value
    return Band(value - half, value + half, f"scatter of the seam card, {sd.source.where}")


def _scaled(of: Figure, value: float) -> Band | None:
    """Band of a figure that goes in proportion with another."""
    if of.band is None or not of.value:
        return None
    low, high = sorted((value / of.value * of.band.low, value / of.value * of.band.high))
    return Band(low, high, of.band.how)


def _shape(job: RingJob, angle: Figure, rad: float, radius_mm: float) -> tuple[Figure, ...]:
    phi = Input("φ", angle.name, rad, "rad", angle.source, angle.identity)
    mean = Input("R", "mean radius of the hoop", radius_mm, "mm", Source("derived", "welded hoop of this plan"))
    peak, oval = kink_peak(rad, radius_mm), kink_harmonic(2, rad, radius_mm)
    return (
        reckoned(
            job.identity("weld/seam-peak"),
            "how far the welded hoop stands out at the seam, before sizing",
            peak,
            "mm",
            "3 φ R / ( 4 π )",
            phi,
            mean,
            digits=2,
            band=_scaled(angle, peak),
            note=FREE,
        ),
        reckoned(
            job.identity("weld/seam-ovality"),
            "second harmonic of the welded hoop by the seam's angle, amplitude",
            oval,
            "mm",
            "φ R / ( 3 π )",
            phi,
            mean,
            digits=2,
            band=_scaled(angle, oval),
            note="harmonic n is φ R / ( π ( n ² - 1 ) )",
        ),
    )


def _joint(job: RingJob) -> tuple[Figure, ...]:
    numbers, t = seam_numbers(job), job.thickness_mm
    ground = job.limits.butt_mismatch_max_t.source if job.seam.mismatch_mm is None else job.seam.mismatch_mm.source
    step = Input("e", "mismatch of the edges", numbers.mismatch_mm, "mm", ground)
    bent = reckoned(
        job.identity("weld/mismatch-stress"),
        "stress at the seam over mean stress, edges out of line as far as planned",
        1.0 + 3.0 * numbers.mismatch_mm / t.value,
        "1",
        "1 + 3 e / t",
        step,
        t.as_input("t"),
        Input("3", "secondary bending of sheets free to turn", 3.0, "1", OUT_OF_LINE),
        digits=2,
        note="elastic; for life, not for the stretch",
    )
    strength = _strength(job)
    return (bent,) if strength is None else (bent, strength)


def _strength(job: RingJob) -> Figure | None:
    """What the joint carries in annealed sheet; None where card or coupons do not say."""
    ratio = job.seam.strength_ratio
    if ratio is None:
        return None
    try:
        parent = job.alloy.tensile_MPa()
    except CardError:
        return None
    return reckoned(
        job.identity("weld/joint-strength"),
        "tensile strength of the joint",
        ratio.value * parent.value,
        "MPa",
        "q Rm",
        ratio.as_input("q"),
        parent.as_input("Rm"),
        digits=0,
        note="coupons and parent of the same sheet, as delivered",
    )


def seam_after_sizing(
    job: RingJob, peak: Figure, kept_pct: Figure, tension: Figure, area_mm2: float
) -> tuple[tuple[Figure, ...], list[Finding]]:
    """What the stretch leaves of the seam's peak, and how much of the joint's strength it uses.

    Parameters
    ----------
    peak : Figure
        How far the hoop stands out at the seam as welded.
    kept_pct : Figure
        Share of the out-of-roundness that the stretch leaves.
    tension : Figure
        Hoop tension of the hardest hit [kN].
    area_mm2 : float
        Section of the sheet that carries it, before the stretch.
    """
    remains = peak.value * kept_pct.value / 100.0
    left = reckoned(
        job.identity("size/seam-peak-left"),
        "how far the sized ring stands out at the seam",
        remains,
        "mm",
        "p k / 100",
        peak.as_input("p"),
        kept_pct.as_input("k"),
        digits=3,
        band=_scaled(peak, remains),
        note="wave by wave as other out-of-roundness; right at the seam the soft zone may hold more",
    )
    figures, findings = [left], _peak_finding(job, left)
    strength = _strength(job)
    if strength is not None:
        share, found = _joint_share(job, strength, tension, area_mm2)
        figures.append(share)
        findings += found
    return tuple(figures), findings


def _peak_finding(job: RingJob, left: Figure) -> list[Finding]:
    zone = job.liner.tolerances.roundness_restrained_radial_mm
    allowed = job.limits.lobe_share.value * zone
    check = Check(
        "the seam takes no more of the roundness zone than its share",
        abs(left.value),
        allowed,
        "<=",
        "mm",
        job.limits.lobe_share.source,
        "caution",
        "give the weld fixture the angle the other way; then planish the bead",
        left.identity,
    )
    words = "stands out" if left.value > 0.0 else "is dented"
    sentence = (
        f"{job.ring.id} {words} {abs(left.value):.3f} mm at its seam after sizing; {allowed:.3f} mm is its share."
    )
    found = judged(check, sentence, "seam-peak")
    return [found] if found else []


def _joint_share(job: RingJob, strength: Figure, tension: Figure, area_mm2: float) -> tuple[Figure, list[Finding]]:
    carried = strength.value * area_mm2
    share = reckoned(
        job.identity("size/joint-share"),
        "pull of the hardest hit over what the joint carries",
        1e3 * tension.value / carried,
        "1",
        "1000 T / ( Rj A )",
        tension.as_input("T"),
        strength.as_input("Rj"),
        Input("A", "section before the stretch", area_mm2, "mm2", tension.source),
        digits=2,
    )
    check = Check(
        "the joint carries the stretch",
        share.value,
        1.0,
        "<=",
        "1",
        strength.source,
        "stop",
        "stretch less; or restore the welded hoop in the furnace, if all of its section clears the grain trap",
        share.identity,
    )
    found = judged(
        check,
        f"The pull asks {share.value:.2f} of what the joint of {job.ring.id} carries.",
        "seam-strength",
        "coupons say what the joint carries against parent of the same sheet",
    )
    return share, [found] if found else []
