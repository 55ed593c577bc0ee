"""Sizes that look like inches or metres beside their neighbours, and sizes that are no family of their neighbours."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from statistics import median

from hoopwright.design.shapes import Liner
from hoopwright.findings import Finding

UNITS = (("inches", 25.4, 1.7), ("metres", 1000.0, 2.0))
FAMILY = 4.0


@dataclass(frozen=True, slots=True)
class Member:
    """A size among its like: where it stands, what it is, its value [mm]."""

    about: str
    words: str
    value: float


def looks_like(value: float, beside: float) -> str:
    """The unit a value seems to be in, when a value beside it is in mm; "" for mm.

    Examples
    --------
    >>> looks_like(0.0315, 0.8), looks_like(0.0008, 0.8), looks_like(0.5, 0.8)
    ('inches', 'metres', '')
    """
    if value <= 0.0 or beside <= 0.0:
        return ""
    ratio = beside / value
    return next((name for name, factor, slack in UNITS if factor / slack <= ratio <= factor * slack), "")


def magnitude_findings(liner: Liner) -> Iterator[Finding]:
    """Findings of sizes against their like, and of a whole liner that is too small to be in mm."""
    whole = _whole_liner(liner)
    if whole is not None:
        yield whole
        return
    for family in _families(liner):
        for member in family:
            others = [other.value for other in family if other is not member]
            if others:
                yield from _against(liner, member, median(others), len(others))


def _against(liner: Liner, member: Member, usual: float, others: int) -> Iterator[Finding]:
    unit = looks_like(member.value, usual)
    source = liner.source(member.words)
    like = "its like are about" if others > 1 else "its like is"
    seen = f"{member.words} is {member.value:g} mm; {like} {usual:g} mm"
    if unit:
        word = "inch" if unit == "inches" else "m"
        remedy = f"enter it in mm: {member.value:g} {word} is {_mm(member.value, unit):g} mm"
        topic = f"looks-like-{unit}"
        yield Finding("stop", f"{seen}: it looks like {unit}.", remedy, member.about, topic, source=source)
    elif not looks_like(usual, member.value) and not 1.0 / FAMILY <= member.value / usual <= FAMILY:
        remedy = "check the number and its unit against the drawing"
        times = max(member.value / usual, usual / member.value)
        size = "larger" if member.value > usual else "smaller"
        sentence = f"{seen}: {times:.1f} times {size}."
        yield Finding("caution", sentence, remedy, member.about, "out-of-family", source=source)


def _mm(value: float, unit: str) -> float:
    return value * (25.4 if unit == "inches" else 1000.0)


def _families(liner: Liner) -> list[list[Member]]:
    rings = liner.rings
    thickness = [Member(f"{r.id}/thickness", f"{r.id}, thickness_mm,", r.thickness_mm) for r in rings]
    if liner.end_plate is not None:
        plate = liner.end_plate
        thickness.append(Member(f"{plate.id}/thickness", f"{plate.id}, thickness_mm,", plate.thickness_mm))
    families = [thickness]
    for side in ("outer", "inner"):
        shell = [ring for ring in rings if ring.side == side]
        families.append(
            [Member(f"{r.id}/section", f"{r.id}, largest radius of the section,", r.section.bounds[3]) for r in shell]
        )
    families.append(
        [
            Member(f"{r.id}/section", f"{r.id}, width of the section,", r.section.bounds[2] - r.section.bounds[0])
            for r in rings
        ]
    )
    kinds = sorted({pattern.kind for pattern in liner.hole_patterns})
    for kind in kinds:
        families.append(
            [
                Member(f"{p.ring}/holes/{p.kind}", f"{p.ring}, diameter of the {p.kind} holes,", p.diameter_mm)
                for p in liner.hole_patterns
                if p.kind == kind
            ]
        )
    return families


def _whole_liner(liner: Liner) -> Finding | None:
    """A liner whose every sheet is thinner than foil was entered in inches or metres."""
    thickest = max(ring.thickness_mm for ring in liner.rings)
    largest = max(ring.section.bounds[3] for ring in liner.rings)
    # thinner than 0.1 mm is foil, and a ring of less than 15 mm radius no liner: common practice, no source
    unit = "metres" if thickest < 0.004 else "inches" if thickest < 0.1 and largest < 15.0 else ""
    if not unit:
        return None
    return Finding(
        "stop",
        f"{liner.id}: the thickest ring is {thickest:g} mm and the largest radius {largest:g} mm: "
        f"the whole file looks like {unit}.",
        "enter every length in mm",
        liner.id,
        f"looks-like-{unit}",
        source=liner.source("thickness and sections"),
    )
