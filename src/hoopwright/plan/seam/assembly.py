"""Assembly welds: order of the laps from the datum end, tacks, pull-in, the turbine-nozzle joint, and free length left.

The order, the pairs of tacks and the allowances are common practice, no source; every one can be overwritten by what
the shop has learned.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from hoopwright.cards.limits import HouseLimits
from hoopwright.design.shapes import Joint, Liner
from hoopwright.errors import InputError, require_finite, require_positive
from hoopwright.findings import Band, Check, Figure, Finding, Input, Source, gravest_first, judged
from hoopwright.kernels.seam_shrinkage import Learned, posterior
from hoopwright.process.working import reckoned, stated

PULL_IN: Final = Source("practice", "common practice, no source: 0.05 to 0.20 mm a lap weld")
PULL_IN_MM: Final = (0.05, 0.20)
PULL_IN_MEAN_MM: Final = 0.125
PULL_IN_SD_MM: Final = 0.0456
"""The range taken as 5 to 95 %."""
PULL_IN_READING_MM: Final = 0.03
STEP: Final = Source("practice", "common practice, no source: gas-path step 0.1 to 0.2 mm, one-sided")
STEP_MM: Final = 0.15
TACKS: Final = Source("practice", "common practice, no source: opposite pairs, about 40 mm apart")
TACK_PITCH_MM: Final = 40.0


@dataclass(frozen=True, slots=True)
class LapWeld:
    """One lap in its place in the order. tacks_deg : angles in the order they are set, opposite pairs first."""

    number: int
    joint: Joint
    tacks_deg: tuple[float, ...]
    start_deg: float
    pull_in_mm: Figure


@dataclass(frozen=True, slots=True)
class AssemblyPlan:
    """Welds in order, the sum of the pull-in, what stands at the slip joint and the nozzle ring."""

    laps: tuple[LapWeld, ...]
    procedure: tuple[str, ...]
    nozzle_steps: tuple[str, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class NozzleJoint:
    """The joint to the turbine-nozzle ring. alloys : of liner and ring; faces : gas-path diameters of both [mm]."""

    liner_alloy: str
    ring_alloy: str
    liner_face_dia_mm: float
    ring_face_dia_mm: float
    step_max_mm: float = STEP_MM


def plan_assembly(
    liner: Liner,
    radius_of: Mapping[str, float],
    limits: HouseLimits,
    heights: Mapping[str, Sequence[float]] | None = None,
    free_length_mm: float | None = None,
    nozzle: NozzleJoint | None = None,
    datum_aft: bool = True,
) -> AssemblyPlan:
    """Order, tacks, pull-in and checks of the lap welds.

    Parameters
    ----------
    radius_of : mapping
        Radius of each joint's weld circle [mm], by joint.
    heights : mapping, optional
        Pull-in measured so far [mm], by joint.
    free_length_mm : float, optional
        Free length of the slip joint before welding.
    datum_aft : bool
        Whether the fixture holds the aft end; the laps are welded from there.

    Raises
    ------
    InputError
        No joint; a joint without its radius.
    """
    welded = [j for j in liner.joints if j.hold in (None, "welded")]
    if not welded:
        raise InputError("joints", "none", "", "one lap weld or more", "enter the joints of the liner")
    ordered = sorted(welded, key=lambda j: (-j.weld_z_mm if datum_aft else j.weld_z_mm, j.id))
    laps = tuple(
        _lap(k, joint, _radius(radius_of, joint.id), (heights or {}).get(joint.id, ()), liner.id)
        for k, joint in enumerate(ordered, start=1)
    )
    figures: list[Figure] = [lap.pull_in_mm for lap in laps]
    totals = [_total(liner.id, chain) for chain in chains_of(liner, laps)]
    figures += totals
    findings: list[Finding] = []
    if free_length_mm is not None:
        left, found = _free_length(liner.id, free_length_mm, max(totals, key=lambda total: total.value))
        figures.append(left)
        findings += found
    steps: tuple[str, ...] = ()
    if nozzle is not None:
        step, found, steps = _nozzle(liner.id, nozzle)
        figures.append(step)
        findings += found
    bare = [lap for lap in laps if not (heights or {}).get(lap.joint.id)]
    findings += [_unlearned(bare, liner.id)] if bare else []
    return AssemblyPlan(laps, _procedure(laps, limits), steps, tuple(figures), gravest_first(findings))


def tack_order(count: int) -> tuple[float, ...]:
    """Angles of tacks in opposite pairs, each pair in the widest space left. [deg]

    >>> tack_order(8)
    (0.0, 180.0, 90.0, 270.0, 45.0, 225.0, 135.0, 315.0)
    """
    if count < 2 or count % 2:
        raise InputError("tacks", count, "", "an even number, 2 or more", "set them in opposite pairs")
    half = count // 2
    left, taken = list(range(1, half)), [0]
    while left:
        best = max(left, key=lambda k: (min(min(abs(k - m), half - abs(k - m)) for m in taken), -k))
        taken.append(best)
        left.remove(best)
    pitch = 360.0 / count
    return tuple(a for k in taken for a in (k * pitch, k * pitch + 180.0))


def learned_pull_in(readings: Sequence[float]) -> Learned:
    """Pull-in of a joint from height before less height after, mean of four places. [mm]"""
    return posterior(PULL_IN_MEAN_MM, PULL_IN_SD_MM, readings, [PULL_IN_READING_MM] * len(readings))


def _radius(radius_of: Mapping[str, float], joint: str) -> float:
    if joint not in radius_of:
        raise InputError(f"radius of joint {joint}", "none", "mm", "the radius of its weld circle", "give it")
    return require_positive(f"radius of joint {joint}", radius_of[joint], "mm")


def _lap(number: int, joint: Joint, radius: float, readings: Sequence[float], liner: str) -> LapWeld:
    count = max(8, 2 * round(3.14159265 * radius / TACK_PITCH_MM))
    learned = learned_pull_in(readings)
    source = Source("measured", f"{learned.count} stacks measured") if readings else PULL_IN
    figure = reckoned(
        f"{liner}/assembly/{joint.id}/pull-in",
        f"axial pull-in of {joint.id}",
        learned.mean,
        "mm",
        "posterior of p0",
        Input("p0", "pull-in allowed for", PULL_IN_MEAN_MM, "mm", source),
        digits=2,
        band=Band(learned.mean - 1.645 * learned.sd, learned.mean + 1.645 * learned.sd, "normal about practice"),
    )
    # each weld starts a step further round, so that the skews of several laps do not add up
    start = (number - 1) * 137.5 % 360.0
    return LapWeld(number, joint, tack_order(count), start, figure)


def chains_of(liner: Liner, laps: Sequence[LapWeld]) -> tuple[tuple[LapWeld, ...], ...]:
    """Laps that pull on one another along the axis: shells, held apart by the end plate."""
    plate = liner.end_plate.id if liner.end_plate is not None else ""
    group: dict[str, int] = {}
    for number, lap in enumerate(laps):
        parts = [part for part in (lap.joint.outer, lap.joint.inner) if part != plate]
        met = {group[part] for part in parts if part in group}
        for part, key in list(group.items()):
            if key in met:
                group[part] = number
        group.update(dict.fromkeys(parts, number))
    keys = [group[lap.joint.outer if lap.joint.outer != plate else lap.joint.inner] for lap in laps]
    return tuple(tuple(lap for lap, k in zip(laps, keys, strict=True) if k == key) for key in dict.fromkeys(keys))


def _total(liner: str, laps: Sequence[LapWeld]) -> Figure:
    mean = sum(lap.pull_in_mm.value for lap in laps)
    var = sum(((lap.pull_in_mm.band.high - lap.pull_in_mm.value) / 1.645) ** 2 for lap in laps if lap.pull_in_mm.band)
    inputs = [lap.pull_in_mm.as_input(f"p{lap.number}") for lap in laps]
    return reckoned(
        f"{liner}/assembly/pull-in-of-{'-'.join(lap.joint.id for lap in laps)}",
        f"pull-in of {', '.join(lap.joint.id for lap in laps)} together",
        mean,
        "mm",
        " + ".join(i.symbol for i in inputs),
        *inputs,
        digits=2,
        band=Band(mean - 1.645 * var**0.5, mean + 1.645 * var**0.5, "laps independent"),
    )


def _free_length(liner: str, free: float, total: Figure) -> tuple[Figure, list[Finding]]:
    require_finite("free length of the slip joint", free, "mm")
    given = stated(
        f"{liner}/assembly/free-length-before",
        "free length before welding",
        free,
        "mm",
        Source("given", "plan of the hot build"),
        2,
    )
    left = reckoned(
        f"{liner}/assembly/free-length",
        "free length left at the slip joint after welding",
        free - total.value,
        "mm",
        "L - p",
        given.as_input("L"),
        total.as_input("p"),
        digits=2,
    )
    high = total.band.high if total.band else total.value
    check = Check(
        "the slip joint keeps its free length",
        free - high,
        0.0,
        ">=",
        "mm",
        left.source,
        "stop",
        "stretch the stack by spacers before tacking, or shorten the slip end",
        left.identity,
    )
    found = judged(
        check, f"The slip joint is left {free - high:.2f} mm when the laps pull in most.", "assembly-free-length"
    )
    return left, [found] if found else []


def _nozzle(liner: str, joint: NozzleJoint) -> tuple[Figure, list[Finding], tuple[str, ...]]:
    ours = require_positive("liner gas-path diameter", joint.liner_face_dia_mm, "mm")
    theirs = require_positive("nozzle ring gas-path diameter", joint.ring_face_dia_mm, "mm")
    gauged = Source("measured", "circumference of both faces")
    step = reckoned(
        f"{liner}/assembly/nozzle-step",
        "gas-path step at the nozzle ring",
        0.5 * (theirs - ours),
        "mm",
        "( D2 - D1 ) / 2",
        Input("D2", "nozzle ring", theirs, "mm", gauged),
        Input("D1", "liner", ours, "mm", gauged),
        digits=2,
        note="positive steps down into the flow; the flow must not meet an edge",
    )
    checks = (
        (
            Check(
                "the step is small",
                step.value,
                joint.step_max_mm,
                "<=",
                "mm",
                STEP,
                "stop",
                "stretch the liner end, or take the matched nozzle ring",
                step.identity,
            ),
            f"The step is {step.value:.2f} mm; {joint.step_max_mm:.2f} mm is allowed.",
        ),
        (
            Check(
                "the flow meets no edge",
                step.value,
                0.0,
                ">=",
                "mm",
                STEP,
                "stop",
                "stretch the nozzle ring's mate, never the flow's edge; or dress the edge if the wall allows",
                step.identity,
            ),
            f"The nozzle ring stands {-step.value:.2f} mm into the flow.",
        ),
    )
    found = [f for check, sentence in checks if not check.ok and (f := judged(check, sentence, "assembly-step"))]
    steps = (
        "Transfer the datum: face and pilot of the nozzle ring indicated before and after tacking.",
        "Tack in opposite pairs; indicate after every pair; weld in four quarters, opposite quarters in turn.",
        f"{joint.liner_alloy} to {joint.ring_alloy}: "
        + (
            "same alloy, procedure as qualified."
            if joint.liner_alloy == joint.ring_alloy
            else "two alloys; qualified by itself with coupons of both, filler and heat treatment stated."
        ),
        "Distortion: roundness and face run-out after cooling, against the record of before.",
        "Penetrant after dressing; root seen by mirror or scope all round.",
    )
    if joint.liner_alloy != joint.ring_alloy:
        found.append(
            Finding(
                "caution",
                f"{joint.liner_alloy} meets {joint.ring_alloy}: the butt procedure of the seams does not cover it.",
                "qualify this joint by itself",
                f"{liner}/assembly/nozzle-step",
                "assembly-two-alloys",
            )
        )
    return step, found, steps


def _procedure(laps: Sequence[LapWeld], limits: HouseLimits) -> tuple[str, ...]:
    return (
        f"Fixture holds the datum end; weld {', '.join(lap.joint.id for lap in laps)} in this order.",
        f"Gap under each lap from {limits.lap_gap_min_mm.value:g} mm to {limits.lap_gap_max_t.value:g} t, at eight "
        "places before tacking.",
        "All tacks of a lap before its weld; copper heat sink under the lap; weld on cold metal, 40 °C or less.",
        "Height at four places after every lap; write it down: it is the pull-in of this joint.",
        "A first harmonic in the four heights means the start point pulls: move the start of the next weld opposite.",
        "The slip joint stays free: no tack, no spatter, spacer in place until the last lap is cold.",
    )


def _unlearned(laps: Sequence[LapWeld], liner: str) -> Finding:
    return Finding(
        "caution",
        f"Pull-in of {', '.join(lap.joint.id for lap in laps)} rests on practice: no stack is measured there.",
        "measure the height at four places before and after every lap of the next stack",
        f"{liner}/assembly/{laps[0].joint.id}/pull-in",
        "assembly-pull-in",
        "",
        None,
        PULL_IN,
    )
