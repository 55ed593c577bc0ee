"""Inspection plan of a ring: characteristic, method, free or restrained and how, gauge, sample, guard band, sheet
rows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from hoopwright.design.shapes import Liner, Ring
from hoopwright.kernels.circles.alike import readings_needed
from hoopwright.kernels.statistics.uncertainty import Budget, Term, budget
from hoopwright.measure.decision import Rule
from hoopwright.measure.gauge_doubt import roundness_budget, trace_budget

TURN_READINGS = 37
"""Readings a turn that the standard budget is made for; more of them change little."""
SAFE_SHARE = 0.25
"""A gauge is good where U is at most this share of the tolerance's whole width (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Characteristic:
    """One line of an inspection plan; limits in the unit, `empty_rows` how many boxes its sheet prints."""

    number: int
    part: str
    name: str
    nominal: float | None
    low: float | None
    high: float | None
    unit: str
    method: str
    state: str
    held_how: str
    gauge: str
    readings: int
    expanded: float
    guard: float
    when: str
    note: str = ""

    @property
    def accept_low(self) -> float | None:
        """Lowest reading that is accepted."""
        return None if self.low is None else self.low + self.guard

    @property
    def accept_high(self) -> float | None:
        """Highest reading that is accepted."""
        return None if self.high is None else self.high - self.guard


@dataclass(frozen=True, slots=True)
class InspectionPlan:
    """All characteristics of a part; `notes` hold for the whole sheet."""

    part: str
    revision: str
    characteristics: tuple[Characteristic, ...]
    rule: str
    notes: tuple[str, ...]


def gauge_budgets() -> dict[str, Budget]:
    """Standard budgets of the gauges a plan names [mm]; a shop replaces them by its own gauge studies."""
    return {
        "girth tape, read twice": budget(
            [Term("tape accuracy", 0.015, dof=50.0), Term("repeat", 0.010, dof=1.0e6), Term("temperature", 0.003)]
        ),
        "indicator on a turntable": roundness_budget(TURN_READINGS),
        "contour tracer": trace_budget(),
        "ball micrometer": budget([Term("micrometer", 0.005, "uniform"), Term("repeat", 0.002)]),
        "height gauge": budget([Term("height gauge", 0.02, "uniform"), Term("edge", 0.02, "uniform")]),
    }


def inspection_plan(liner: Liner, ring_id: str, segments: int = 8, rule: Rule | None = None) -> InspectionPlan:
    """The plan of a ring: sizes, roundness free and restrained, profile before and after sizing, wall, edges."""
    ring = liner.ring(ring_id)
    used = rule if rule is not None else Rule()
    budgets = gauge_budgets()
    rows: list[Characteristic] = []

    def add(
        name: str, nominal: float | None, low: float | None, high: float | None, gauge: str, **more: str | int
    ) -> None:
        expanded = budgets[gauge].expanded(used.coverage)
        rows.append(
            Characteristic(
                len(rows) + 1, ring_id, name, nominal, low, high, "mm", str(more["method"]), str(more["state"]),
                str(more["held"]), gauge, int(more["readings"]), expanded, used.guard * expanded, str(more["when"]),
                str(more.get("note", "")),
            )
        )  # fmt: skip

    _profile_rows(add, liner, "rolled strip, before closing", "look before sizing: sizing hides a bad roll pass")
    _sizes(add, ring)
    _shape(add, liner, segments)
    _profile_rows(add, liner, "after sizing", "")
    t = liner.tolerances
    add("wall, seam, slot place and middle of a segment", None, t.thickness_min_after_forming_mm, None,
        "ball micrometer", method="ball anvil inside", state="free", held="on the bench", readings=6,
        when="after sizing")  # fmt: skip
    e = t.edge_axial_position_mm
    add("edge position along the axis", 0.0, -e, e, "height gauge", method="height over the datum edge", state="free",
        held="datum edge on a surface plate", readings=4, when="after trimming")  # fmt: skip
    notes = ("Size is the circumference diameter at 20 degC; temperature and tape pull are recorded.",
             "The ring is handled by its lip; a dropped ring is measured anew.")  # fmt: skip
    return InspectionPlan(ring_id, liner.revision, tuple(rows), used.words, notes)


def _sizes(add: _Add, ring: Ring) -> None:
    for size in ring.controls:
        low, high = size.diameter_mm - size.tolerance_mm, size.diameter_mm + size.tolerance_mm
        add(size.name, size.diameter_mm, low, high, "girth tape, read twice",
            method=f"tape on the {size.face} face at z {size.z_mm:g}, twice, opposite directions"
            if size.face == "outside" else f"inside girth at z {size.z_mm:g}: outside tape less twice the wall",
            state="free", held="on a surface plate", readings=2, when="after each hit")  # fmt: skip


def _shape(add: _Add, liner: Liner, segments: int) -> None:
    count = readings_needed(segments)
    t = liner.tolerances
    add("roundness, free", 0.0, None, t.roundness_free_state_radial_mm, "indicator on a turntable",
        method="least squares and minimum zone, orders listed", state="free", held="forward edge on a surface plate",
        readings=count, when="after the last hit")  # fmt: skip
    add("roundness, restrained", 0.0, None, t.roundness_restrained_radial_mm, "indicator on a turntable",
        method="minimum zone", state="restrained", held="on a plug of the lip's size, light push, six points",
        readings=count, when="after the last hit")  # fmt: skip


def _profile_rows(add: _Add, liner: Liner, when: str, note: str) -> None:
    add("profile of the section", 0.0, None, liner.tolerances.profile_restrained_mm, "contour tracer",
        method="best fit, free along and turned, held across", state="restrained", held="clamped flat beside the trace",
        readings=1, when=when, note=note)  # fmt: skip


class _Add(Protocol):
    """Shape of the function that adds a characteristic."""

    def __call__(
        self, name: str, nominal: float | None, low: float | None, high: float | None, gauge: str, **more: str | int
    ) -> None: ...
