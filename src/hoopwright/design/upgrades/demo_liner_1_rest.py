"""From schema `demo-liner-1` to register, readings and changes."""

from __future__ import annotations

import datetime
from typing import Any, cast, get_args

from hoopwright.design.changes import Change, Changes, Durations, NewSize
from hoopwright.design.readings import (
    Coupon,
    FitReading,
    LotRing,
    PortLips,
    Readings,
    RoundnessReading,
    SizeReading,
    SizingReading,
    WeldLot,
)
from hoopwright.design.register import Register, Tool, ToolState
from hoopwright.design.upgrades.demo_liner_1_schema import OldFile
from hoopwright.design.upgrades.demo_liner_1_shop import OldChange, OldMeasured, OldTool, OldWeldLot

STATES = get_args(ToolState)


def register_of(old: OldFile, invented: bool) -> Register:
    """The tools; a state in words that the register does not know becomes "in making", the words its stage."""
    return Register(old.liner.id, invented, tuple(_tool(tool) for tool in old.tool))


def _tool(tool: OldTool) -> Tool:
    known = tool.state in STATES
    state = cast(ToolState, tool.state if known else "in making")
    stage = "" if known else tool.state
    return Tool(tool.id, tool.kind, tool.serves, tool.revision, state, tool.hits, stage, tool.note)


def readings_of(old: OldFile, measured: OldMeasured, invented: bool) -> Readings:
    """Everything that was measured."""
    return Readings(
        liner=old.liner.id,
        invented=invented,
        sizing=tuple(
            SizingReading(name, s.ring, s.serial, s.segment_set, s.hit, s.control, s.free, s.loaded, s.thickness)
            for name, s in measured.sizing.items()
        ),
        roundness=tuple(
            RoundnessReading(
                name, r.ring, r.serial, r.segment_set, r.station_z, r.face, r.support, r.theta_zero, r.step_deg,
                tuple(r.deviation),
            )
            for name, r in measured.roundness.items()
        ),
        fits=tuple(
            FitReading(joint, fit.inner_face_of_outer_part, fit.outer_face_of_inner_part)
            for joint, fit in measured.fits.items()
        ),
        sizes=tuple(SizeReading(size.part, size.feature, size.dia) for size in measured.other),
        weld_lots=tuple(_weld_lot(name, lot) for name, lot in measured.weld_lot.items()),
        port_lips=tuple(
            PortLips(name, p.serial, p.pre_hole_edge, tuple(p.split_ports), tuple(p.lip_edge_thickness))
            for name, p in measured.port_lips.items()
        ),
    )  # fmt: skip


def _weld_lot(name: str, lot: OldWeldLot) -> WeldLot:
    return WeldLot(
        name=name,
        lot=name.removeprefix("weld_lot_"),
        sheet_cast=lot.sheet_cast,
        parent_tensile_MPa=tuple(lot.parent_uts),
        coupons=tuple(Coupon(c.id, c.uts, c.mismatch, c.underfill, c.fracture) for c in lot.coupons),
        rings=tuple(
            LotRing(r.serial, r.mismatch_fwd, r.mismatch_mid, r.mismatch_aft, r.length_cut, r.circumference_after_weld)
            for r in lot.rings_in_lot
        ),
    )


def changes_of(old: OldFile, invented: bool) -> Changes:
    """The changes. Raises ValueError where a start date is no day of the calendar."""
    return Changes(old.liner.id, invented, tuple(_change(name, change) for name, change in old.change.items()))


def _change(revision: str, change: OldChange) -> Change:
    days: dict[str, Any] = {
        f"{name}_days": getattr(change.durations_days, name) for name in type(change.durations_days).model_fields
    }
    return Change(
        revision=revision,
        ring=change.ring,
        text=change.text,
        new_sizes=tuple(NewSize(feature, value) for feature, value in change.new.items()),
        finished_parts=tuple(change.finished_parts),
        start_date=None if change.start_date is None else datetime.date.fromisoformat(change.start_date),
        durations=Durations(**days),
        grinder_order=tuple(change.grinder_order),
    )
