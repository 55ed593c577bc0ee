"""From the lobes of a ring to the set that made them: how far the segments ran from their turned radius, and which set.

standing   d = aN b (N^2 - 1)/(2 sin b), crests at segment centres (+): run outside the turned radius
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from hoopwright.design.register import Register, Tool
from hoopwright.errors import require_positive
from hoopwright.findings import Finding
from hoopwright.kernels.arrays import whole_count
from hoopwright.measure.roundness import Roundness

TURNED = re.compile(r"turned radius\s+([0-9]+(?:\.[0-9]+)?)")
CREST_SHARE = 0.125
MATCH_MM = 0.25
NOT_SEEN_P = 0.01


@dataclass(frozen=True, slots=True)
class LobeDiagnosis:
    """standing_mm : + outside the turned radius, - inside, 0 where no lobes are seen; sd_mm of it. tools that explain
    it.

    crest : "segment centre", "slot", "between" or "none".
    """

    amplitude_mm: float
    crest_deg: float
    crest: str
    standing_mm: float
    sd_mm: float
    explained_by: tuple[Tool, ...]
    findings: tuple[Finding, ...]


def standing_of(count: int, amplitude_mm: float) -> float:
    """Standing of the segments that gives an N-th order of this amplitude (signed: + crest at segment centre). [mm]"""
    n = whole_count("segments", count, 3, 400)
    b = math.pi / n
    return amplitude_mm * b * (n * n - 1) / (2.0 * math.sin(b))


def turned_radius(tool: Tool) -> float | None:
    """Turned radius from a register's note; None where it does not say."""
    match = TURNED.search(tool.note)
    return float(match.group(1)) if match else None


def diagnose_lobes(
    roundness: Roundness, register: Register, ring: str, used_set: str, needed_radius_mm: float
) -> LobeDiagnosis:
    """Say what the N-th order means, and whether a set in the register explains it.

    theta zero of the readings is the middle of segment 1. needed_radius_mm : turned radius of the right set there.
    """
    needed = require_positive("needed radius", needed_radius_mm, "mm")
    n = roundness.settings.segments
    order = roundness.orders.order(n)
    pitch = 360.0 / n
    crest_deg = math.degrees(order.crest_rad)
    if order.p_value > NOT_SEEN_P:
        note = Finding("note", f"No lobes of order {n} are seen.", "leave the segments", ring, "no-lobes")
        return LobeDiagnosis(order.amplitude, crest_deg, "none", 0.0, standing_of(n, order.sd), (), (note,))
    place = abs((crest_deg / pitch + 0.5) % 1.0 - 0.5)
    crest = "segment centre" if place < CREST_SHARE else "slot" if place > 0.5 - CREST_SHARE else "between"
    sign = {"segment centre": 1.0, "slot": -1.0}.get(crest, 0.0)
    standing, sd = sign * standing_of(n, order.amplitude), standing_of(n, order.sd)
    sets = [t for t in register.tools if t.kind == "segment set" and t.serves == ring]
    fitting = [
        t for t in sets if (r := turned_radius(t)) is not None and abs(needed - r - standing) < MATCH_MM and abs(needed
        - r) > MATCH_MM
    ]  # fmt: skip
    return LobeDiagnosis(
        order.amplitude, crest_deg, crest, standing, sd, tuple(fitting), _findings(ring, standing, crest, fitting,
        used_set, needed, n)
    )  # fmt: skip


def _findings(
    ring: str, standing: float, crest: str, fitting: list[Tool], used_set: str, needed: float, n: int
) -> tuple[Finding, ...]:
    if crest == "between":
        sentence = f"{n} lobes whose crests lie neither at segment centres nor at slots."
        return (Finding("caution", sentence, "check where theta zero was set, read again", ring, "lobes-unplaced"),)
    side = "outside" if standing > 0.0 else "inside"
    found = []
    for tool in fitting:
        gap = needed - (turned_radius(tool) or needed)
        state = f"{tool.state} " if tool.state in ("superseded", "withdrawn") else ""
        sentence = f"The lobes are those of the {state}segment set {tool.id}: turned {gap:.3f} mm too small."
        why = f"{n} lobes, crest at {crest}: segments ran {abs(standing):.2f} mm {side} their turned radius."
        live = "the last hit on the set of the drawing's revision; no tool change"
        found.append(Finding("stop", sentence, live, ring, "wrong-segment-set", why))
    if not found:
        sentence = f"Segments of {used_set} ran {abs(standing):.2f} mm {side} their turned radius."
        remedy = "check the number on the set and the stop, then index half a pitch"
        found.append(Finding("caution", sentence, remedy, ring, "segments-standing"))
    return tuple(found)
