"""What standing checks of solids share: `Checked`, and the claims that all tools make.

A volume is the analytic one, partners stand off by their gap, nothing is thinner than its process allows. Each is a
`Check`; a failed one is a finding with a stop. Units mm, mm^3.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hoopwright.findings import Check, Finding, Source, judged
from hoopwright.tools import solids
from hoopwright.tools.solids import Body

HERE = Source("derived", "standing check of the solid, taken on the CAD body")
VOLUME_SHARE = 1e-7
"""The library integrates cut faces by its own rule; a wrong size shows at 1e-4 and above."""
GAP_MM = 1e-6
OVERLAP_MM3 = 1e-3


@dataclass(frozen=True, slots=True, eq=False)
class Checked:
    """Bodies of one tool with the checks made on them."""

    tool: str
    bodies: tuple[Body, ...]
    checks: tuple[Check, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What failed."""
        return tuple(
            f
            for f in (
                judged(c, f"{c.name}: {c.value:.6g} {c.unit} against {c.limit:.6g}.", "solid") for c in self.checks
            )
            if f
        )


def same(tool: str, what: str, value: float, wanted: float, within: float, unit: str, remedy: str) -> Check:
    """A claim that two ways of measuring agree."""
    return Check(f"{tool}: {what}", abs(value - wanted), within, "<=", unit, HERE, "stop", remedy, tool)


def at_least(tool: str, what: str, value: float, limit: float, source: Source, remedy: str) -> Check:
    """A claim that metal, room or clearance is left."""
    return Check(f"{tool}: {what}", value, limit, ">=", "mm", source, "stop", remedy, tool)


def volume_check(tool: str, body: Body, wanted: float) -> Check:
    """Volume of the body against the exact one, as a share."""
    share = solids.volume(body) / wanted
    return same(
        tool,
        f"volume of {body.name} is the analytic one",
        share,
        1.0,
        VOLUME_SHARE,
        "1",
        "report this; the solid is not what was planned",
    )


def sound(tool: str, bodies: Iterable[Body]) -> Check:
    """Every body is one valid solid."""
    bad = [body.name for body in bodies if solids.solid_count(body) != 1 or not solids.is_valid(body)]
    return Check(
        f"{tool}: every body is one sound solid",
        float(len(bad)),
        0.0,
        "<=",
        "",
        HERE,
        "stop",
        f"look at {', '.join(bad) or 'the tool'}",
        tool,
    )
