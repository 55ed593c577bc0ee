"""Look at a liner file: every fault, every geometric finding, and a drawing of the liner and of each section."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from hoopwright.design.check import check_file
from hoopwright.errors import Fault
from hoopwright.findings import Finding


@dataclass(frozen=True, slots=True)
class CheckReport:
    """faults : in the order of their lines. findings : gravest first. drawings : SVG by file name.

    parts : what was understood of the file, a line each.
    """

    path: str
    faults: tuple[Fault, ...]
    findings: tuple[Finding, ...]
    drawings: dict[str, bytes]
    parts: tuple[str, ...]

    @property
    def sound(self) -> bool:
        """Whether a plan may be made of it."""
        return not self.faults and not any(finding.level == "stop" for finding in self.findings)


def check(path: Path, shop_folder: Path | None = None, draw: bool = True) -> CheckReport:
    """Everything that is wrong with a liner file, at once; drawings of what could be understood.

    draw : whether drawings are made too (they take a moment).
    """
    found = check_file(path, shop_folder)
    liner = found.liner
    drawings: dict[str, bytes] = {}
    parts: list[str] = []
    if liner is not None:
        parts = [
            f"{ring.id}: {ring.side} ring {ring.order}, {ring.material} {ring.thickness_mm:g} mm, "
            f"{len(ring.section)} segments, developed {ring.section.length:.3f} mm"
            for ring in liner.rings
        ]
        if draw and liner.rings:
            from hoopwright.papers.drawing.svg import svg
            from hoopwright.papers.pictures.liner_map import liner_map
            from hoopwright.papers.pictures.ring_drawing import ring_drawing

            drawings[f"{liner.id}.svg"] = svg(liner_map(liner), 1.0).encode()
            for ring in liner.rings:
                drawings[f"{ring.id}.svg"] = svg(ring_drawing(ring, 2.0), 2.0).encode()
    return CheckReport(str(path), found.faults, found.findings, drawings, tuple(parts))
