"""What a weld setting does to the hoop: shrinkage, angle and the shape it gives, and what rings teach of both."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.cards.limits import HouseLimits
from hoopwright.errors import require_positive
from hoopwright.findings import Band, Figure, Input, Source
from hoopwright.kernels.heat_absorbed import Shot
from hoopwright.kernels.heat_absorbed import Source as HeatSource
from hoopwright.kernels.seam_angle import KP_LOG_SD, KP_MEDIAN, kink_angle, kink_peak, learned_angle_factor
from hoopwright.kernels.seam_shrinkage import KAPPA_MEAN, KAPPA_SD, Learned, free_shrinkage, learned_factor
from hoopwright.plan.seam.heat_card import HeatCard
from hoopwright.plan.seam.numbers import SeamNumbers
from hoopwright.process.working import reckoned

NINE_IN_TEN = 1.6448536269514722
ENTERED = Source("given", "entered by the person who asks")


@dataclass(frozen=True, slots=True)
class RingsRead:
    """Rings welded at the setting: strip length taken [mm], size of the angle across the seam [deg], face closing."""

    shrinkages_mm: tuple[float, ...] = ()
    angles_deg: tuple[float, ...] = ()


NOTHING_READ = RingsRead()


@dataclass(frozen=True, slots=True)
class AngleFactor:
    """kp and its doubt as logarithm, from so many welds."""

    median: float = KP_MEDIAN
    log_sd: float = KP_LOG_SD
    count: int = 0


def hoop_figures(
    part: str,
    shot: Shot,
    source: HeatSource,
    card: HeatCard,
    base: dict[str, Figure],
    limits: HouseLimits,
    widths: tuple[Figure, ...],
    learned: Learned | None,
    radius_mm: float | None,
    face_outside: bool,
    read: RingsRead = NOTHING_READ,
) -> tuple[tuple[Figure, ...], SeamNumbers]:
    """Shrinkage, angle and peak of a setting, and its numbers for the ring.

    Raises
    ------
    InputError
        A reading that is none.
    """
    hot = card.alloy.mean_expansion_per_K(538.0)
    heat = card.metal.secant(538.0).heat
    s0 = free_shrinkage(source.absorbed, shot.speed, shot.thickness, hot.value, heat)
    if read.shrinkages_mm:
        learned = learned_factor(read.shrinkages_mm, [s0] * len(read.shrinkages_mm))
    factor = learned or Learned(KAPPA_MEAN, KAPPA_SD, None, 0)
    ground = (
        Source("measured", f"learned from {factor.count} rings of this fixture and alloy")
        if factor.count
        else Source("practice", "prior of the shrinkage factor, our clamped-bar model and judgement")
    )
    shrink, sd = factor.mean * s0, factor.sd * s0
    band = Band(shrink - NINE_IN_TEN * sd, shrink + NINE_IN_TEN * sd, "posterior of the shrinkage factor")
    face, root = widths[0].value, widths[1].value
    kp = _angle_factor(read, kink_angle(shrink, face, root, shot.thickness, 1.0))
    angle = kink_angle(shrink, face, root, shot.thickness, kp.median)
    shown = reckoned(
        f"{part}/weld/shrinkage",
        "shrinkage across the seam, taken off the girth",
        shrink,
        "mm",
        "κ α Pa / ( ρc v t )",
        Input("κ", "shrinkage factor", factor.mean, "1", ground),
        hot.as_input("α"),
        base["Pa"].as_input("Pa"),
        Input("ρc", "secant heat capacity to 538 degC", heat, "J/(mm3 K)", card.source),
        base["v"].as_input("v"),
        base["t"].as_input("t"),
        digits=3,
        band=band,
        note=f"house first estimate {limits.weld_shrink_mm.value:g} mm",
    )
    turned = reckoned(
        f"{part}/weld/angle",
        "angle across the seam, face side closing",
        math.degrees(angle),
        "deg",
        "kp s / wm ( face - root ) / t",
        Input("kp", "angle factor", kp.median, "1", _angle_ground(kp)),
        shown.as_input("s"),
        widths[0].as_input("face"),
        widths[1].as_input("root"),
        Input("wm", "mean width", 0.5 * (face + root), "mm", widths[0].source),
        base["t"].as_input("t"),
        digits=2,
        band=_angle_band(math.degrees(angle), kp),
    )
    figures = [shown, turned]
    kink = -angle if face_outside else angle
    if radius_mm is not None:
        figures.append(
            reckoned(
                f"{part}/weld/peak-at-seam",
                "how far the closed hoop stands out at the seam",
                kink_peak(kink, require_positive("hoop radius", radius_mm, "mm")),
                "mm",
                "3 φ R / ( 4 π )",
                Input("φ", "angle across the seam, standing out", kink, "rad", turned.source, turned.identity),
                Input("R", "hoop radius", radius_mm, "mm", ENTERED),
                digits=2,
                note="face outside: dented; face inside: standing out. Sizing removes most of it",
            )
        )
    numbers = SeamNumbers(shrink, sd, kink, widths[3].value, limits.butt_mismatch_max_t.value * shot.thickness)
    return tuple(figures), numbers


def _angle_factor(read: RingsRead, unit_rad: float) -> AngleFactor:
    if not read.angles_deg:
        return AngleFactor()
    angles = [math.radians(angle) for angle in read.angles_deg]
    return AngleFactor(*learned_angle_factor(angles, [unit_rad] * len(angles)), len(angles))


def _angle_ground(kp: AngleFactor) -> Source:
    if kp.count:
        return Source("measured", f"learned from {kp.count} angles of this fixture")
    return Source("practice", "prior of the angle factor, assumed; no source")


def _angle_band(angle_deg: float, kp: AngleFactor) -> Band:
    spread = math.exp(NINE_IN_TEN * kp.log_sd)
    how = "posterior of the angle factor" if kp.count else "prior of the angle factor, to be learned"
    return Band(angle_deg / spread, angle_deg * spread, how)
