"""Laps of a whole stack from measured sizes: gaps, which rings to stretch by how much, what the obvious fix would
break.

A stretch moves every station of a ring by the same change of diameter (the segments move all stations by one radius).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from hoopwright.design.readings import Readings
from hoopwright.design.shapes import ControlSize, Joint, Liner
from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.findings import Finding
from hoopwright.kernels.wayback.gains import stop_change
from hoopwright.kernels.wayback.stretch_choice import Choice, Row, chance_inside, choose_stretches

Own = tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class FitRule:
    """Radial gap limits of every lap [mm], largest stretch of a finished ring on diameter [mm]."""

    gap_low_mm: float = -0.02
    gap_high_mm: float = 0.08
    largest_stretch_mm: float = 0.4

    def __post_init__(self) -> None:
        require_range("largest stretch", self.largest_stretch_mm, 0.0, 5.0, "mm")
        if not self.gap_low_mm < self.gap_high_mm:
            raise InputError("gap_low_mm", self.gap_low_mm, "mm", f"below {self.gap_high_mm:g}", "exchange the limits")


@dataclass(frozen=True, slots=True)
class Gap:
    """A lap's radial gap as measured [mm], and in words whether it is in its limits."""

    joint: str
    gap_mm: float
    word: str
    parts_inside: bool


@dataclass(frozen=True, slots=True)
class RingStretch:
    """One ring to stretch: change of diameter, range that keeps everything inside, strain, stop by hand and ours
    [mm]."""

    ring: str
    change_mm: float
    strain_share: float
    stop_by_hand_mm: float
    stop_mm: float


@dataclass(frozen=True, slots=True)
class FitChoice:
    """A choice of stretches: sizes and gaps after, margins [1], chance that all is truly inside."""

    stretches: tuple[RingStretch, ...]
    after: tuple[tuple[str, float], ...]
    margins: tuple[tuple[str, float], ...]
    chances: tuple[tuple[str, float], ...]
    chance_all: float
    feasible: bool


@dataclass(frozen=True, slots=True)
class Rejected:
    """The obvious fix of one lap, and the lap or size it breaks."""

    joint: str
    ring: str
    change_mm: float
    breaks: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Fits:
    """gaps now; choices, fewest rings first; the obvious fixes and what they break; findings."""

    gaps: tuple[Gap, ...]
    choices: tuple[FitChoice, ...]
    rejected: tuple[Rejected, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Expander:
    """What turns a stretch into a stop: half angle, segments, the ring's hardening share Et/E."""

    half_angle_rad: float
    segments: int
    hardening_share: float = 0.017


def controls_of_part(liner: Liner, part: str) -> tuple[ControlSize, ...]:
    """Control sizes of a ring or of the end plate."""
    if liner.end_plate is not None and liner.end_plate.id == part:
        return liner.end_plate.controls
    return liner.ring(part).controls


def lap_control(liner: Liner, part: str, joint: Joint) -> ControlSize:
    """The control size with which a part takes part in a lap: inside face of the outer part, outside of the inner."""
    face = "inside" if joint.outer == part else "outside"
    found = [c for c in controls_of_part(liner, part) if c.face == face]
    if not found:
        raise InputError(
            f"{part} controls", "none", "", f"one on the {face} face near {joint.id}", "add it to the liner"
        )
    return min(found, key=lambda c: abs(c.z_mm - joint.weld_z_mm))


def _rows(
    liner: Liner, readings: Readings, rule: FitRule
) -> tuple[list[str], list[Row], list[Gap], dict[str, float], list[Own]]:
    """Movable rings, rows of the programme, gaps now, size a ring's strain refers to, faces that each row is made
    of."""
    measured = {f.joint: f for f in readings.fits}
    joints = [j for j in liner.joints if j.id in measured]
    unknown = sorted(set(measured) - {j.id for j in joints})
    if unknown:
        raise InputError("joint", ", ".join(unknown), "", ", ".join(j.id for j in liner.joints), "correct the name")
    ring_ids = {r.id for r in liner.rings}
    movable = [r.id for r in liner.rings if any(r.id in (j.outer, j.inner) for j in joints)]
    number = {ring: k for k, ring in enumerate(movable)}
    rows: list[Row] = []
    sizes: list[tuple[str, ControlSize, float]] = []
    gaps: list[Gap] = []
    for joint in joints:
        fit = measured[joint.id]
        gap = 0.5 * (fit.inner_face_of_outer_part_mm - fit.outer_face_of_inner_part_mm)
        touch = [(number[p], c) for p, c in ((joint.outer, 0.5), (joint.inner, -0.5)) if p in ring_ids]
        rows.append(Row(joint.id, gap, rule.gap_low_mm, rule.gap_high_mm, tuple(touch)))
        inside = True
        for part, value in (
            (joint.outer, fit.inner_face_of_outer_part_mm),
            (joint.inner, fit.outer_face_of_inner_part_mm),
        ):
            control = lap_control(liner, part, joint)
            inside &= abs(value - control.diameter_mm) <= control.tolerance_mm + 1e-9
            sizes.append((part, control, value))
        gaps.append(Gap(joint.id, gap, _word(gap, rule), inside))
    for size in readings.sizes:
        matching = [c for c in controls_of_part(liner, size.part) if c.name == size.feature]
        if not matching:
            raise InputError(f"{size.part} feature", size.feature, "", "a control size of it", "correct the name")
        sizes.append((size.part, matching[0], size.diameter_mm))
    rows += [
        Row(f"{part} {c.name}", value, c.diameter_mm - c.tolerance_mm, c.diameter_mm + c.tolerance_mm,
            ((number[part], 1.0),) if part in number else ())
        for part, c, value in sizes
    ]  # fmt: skip
    last = {part: value for part, _, value in sizes}
    faces: list[Own] = [((2 * k, 0.5), (2 * k + 1, -0.5)) for k in range(len(joints))]
    faces += [((n, 1.0),) for n in range(len(sizes))]
    return movable, rows, gaps, last, faces


def _word(gap: float, rule: FitRule) -> str:
    if gap > rule.gap_high_mm + 1e-9:
        return "loose"
    return "tight" if gap < rule.gap_low_mm - 1e-9 else "inside"


def choose_fits(
    liner: Liner,
    readings: Readings,
    expanders: Mapping[str, Expander] | Expander,
    rule: FitRule | None = None,
    face_sd_mm: float = 0.015,
    landing_sd_mm: float = 0.02,
) -> Fits:
    """Gaps of every measured lap, the stretches that mend them, and the obvious single fixes with what they break.

    Parameters
    ----------
    expanders : of each ring, or one for all.
    face_sd_mm : sd of a measured diameter; landing_sd_mm : of where a stretch lands.
    """
    used = rule if rule is not None else FitRule()
    require_positive("sd of a face", face_sd_mm, "mm")
    movable, rows, gaps, last, faces = _rows(liner, readings, used)
    found = choose_stretches(rows, len(movable), [used.largest_stretch_mm] * len(movable))
    choices = []
    for choice in found:
        single, every = chance_inside(rows, choice, faces, face_sd_mm, landing_sd_mm)
        choices.append(_choice(choice, movable, rows, single, every, expanders, last))
    rejected = _obvious(liner, rows, gaps, movable)
    return Fits(tuple(gaps), tuple(choices), rejected, tuple(_findings(liner.id, gaps, choices, rejected)))


def _expander(expanders: Mapping[str, Expander] | Expander, ring: str) -> Expander:
    if isinstance(expanders, Expander):
        return expanders
    if ring not in expanders:
        raise InputError("expander of", ring, "", ", ".join(expanders), "name the press of this ring")
    return expanders[ring]


def _choice(
    choice: Choice,
    movable: Sequence[str],
    rows: Sequence[Row],
    single: tuple[float, ...],
    every: float,
    expanders: Mapping[str, Expander] | Expander,
    last: Mapping[str, float],
) -> FitChoice:
    stretches = []
    for j in choice.rings:
        ring, change = movable[j], choice.stretch[j]
        x = _expander(expanders, ring)
        hand = stop_change(change, x.half_angle_rad, x.segments, girth=False)
        ours = stop_change(change, x.half_angle_rad, x.segments, x.hardening_share)
        stretches.append(RingStretch(ring, change, change / last[ring], hand, ours))
    names = [r.name for r in rows]
    return FitChoice(
        tuple(stretches), tuple(zip(names, choice.values, strict=True)), tuple(zip(names, choice.margins, strict=True)),
        tuple(zip(names, single, strict=True)), every, choice.feasible,
    )  # fmt: skip


def allowed_range(liner: Liner, readings: Readings, ring: str, rule: FitRule | None = None) -> tuple[float, float]:
    """Stretches of one ring alone [mm] that keep every row it touches inside; low above high where there is none."""
    movable, rows, _, _, _ = _rows(liner, readings, rule if rule is not None else FitRule())
    if ring not in movable:
        raise InputError("ring", ring, "", ", ".join(movable), "name a measured ring")
    j, low, high = movable.index(ring), 0.0, float("inf")
    for row in rows:
        for k, c in row.rings:
            if k == j:
                ends = sorted(((row.low - row.value) / c, (row.high - row.value) / c))
                low, high = max(low, ends[0]), min(high, ends[1])
    return low, high


def _obvious(liner: Liner, rows: Sequence[Row], gaps: Sequence[Gap], movable: Sequence[str]) -> tuple[Rejected, ...]:
    """Each lap outside its limits brought to its nominal gap by one ring alone, where that breaks something."""
    found = []
    for gap in gaps:
        if gap.word == "inside":
            continue
        joint = next(j for j in liner.joints if j.id == gap.joint)
        ring = joint.inner if gap.word == "loose" else joint.outer
        if ring not in movable:
            continue
        wanted = joint.gap_mm if joint.gap_mm is not None else 0.0
        change = 2.0 * abs(gap.gap_mm - wanted)
        x = np.zeros(len(movable))
        x[movable.index(ring)] = change
        touched = [r for r in rows if any(k == movable.index(ring) for k, _ in r.rings)]
        broken = tuple((r.name, r.at(x)) for r in touched if r.margin(x) < -1e-9)
        if broken:
            found.append(Rejected(gap.joint, ring, change, broken))
    return tuple(found)


def _findings(
    about: str, gaps: Sequence[Gap], choices: Sequence[FitChoice], rejected: Sequence[Rejected]
) -> list[Finding]:
    found = []
    for gap in gaps:
        if gap.word != "inside":
            both = " though both parts are in tolerance" if gap.parts_inside else ""
            sentence = f"{gap.joint} is {gap.word}: {gap.gap_mm:.3f} mm{both}."
            remedy = _remedy(choices)
            found.append(Finding("stop", sentence, remedy, about, f"lap-{gap.word}"))
    for fix in rejected:
        name, value = fix.breaks[0]
        sentence = f"Stretching {fix.ring} by {fix.change_mm:.3f} for {fix.joint} alone breaks {name}: {value:.3f} mm."
        found.append(Finding("caution", sentence, "take the coupled choice", about, "obvious-fix-rejected"))
    if choices and choices[0].feasible and choices[0].stretches and choices[0].chance_all < 0.9:
        sentence = f"All limits are truly met with a chance of {100 * choices[0].chance_all:.0f} % only."
        found.append(
            Finding("caution", sentence, "measure each face four times before stretching", about, "fit-chance")
        )
    return found


def _remedy(choices: Sequence[FitChoice]) -> str:
    if not choices or not choices[0].feasible:
        return "exchange serials, or ask for a concession: no stretch makes every lap fit"
    parts = [f"{s.ring} by {s.change_mm:.3f}" for s in choices[0].stretches]
    return "stretch " + " and ".join(parts)
