"""A plan as plain data for plan.json: every figure with identity, unit, band, basis and working; every finding."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from hoopwright.findings import Band, Check, Figure, Finding, Input, Source
from hoopwright.kernels.profile import Profile
from hoopwright.plan import json_shapes as shapes
from hoopwright.plan.json_proof import proof_row
from hoopwright.plan.liner_plan import LinerPlan
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.process.face_radius import face_strain

SIGNIFICANT = 9


def as_json(plan: LinerPlan) -> dict[str, Any]:
    """The plan of a liner as plain data, in the shape of `json_shapes.PlanFile`."""
    liner = plan.liner
    file = shapes.PlanFile(
        schema="hoopwright-plan-1",
        liner=liner.id,
        revision=liner.revision,
        title=liner.title,
        invented=liner.invented,
        mark=plan.mark,
        rings=tuple(ring_row(ring) for ring in plan.rings),
        refused=tuple(shapes.RefusedRow(ring, reason) for ring, reason in plan.refused),
    )
    plain: dict[str, Any] = rounded(asdict(file))
    return plain


def json_text(plan: LinerPlan) -> str:
    """Text of plan.json: the same plan gives the same bytes."""
    return json.dumps(as_json(plan), indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def ring_row(plan: RingPlan) -> shapes.RingRow:
    """One ring."""
    route = plan.reckoning.route
    return shapes.RingRow(
        ring=plan.job.ring.id,
        mark=plan.mark,
        proven=plan.proven,
        proof=None if plan.proof is None else proof_row(plan.proof),
        blank=route.blank,
        rolling=route.rolling,
        stretches=route.stretches,
        hits=route.hits,
        anneal=route.anneal,
        options=tuple(shapes.OptionRow(o.name, o.slip.value, o.chosen, o.reason) for o in route.options),
        restores=tuple(shapes.RestoreRow(r.name, r.chosen, r.reason) for r in route.restores),
        findings=tuple(finding_row(finding) for finding in plan.findings),
        walk=tuple(
            shapes.StepRow(step.kind, step.title, step.subtitle, _names(step.settings), _names(step.figures))
            for step in plan.walk
        ),
        figures=tuple(figure_row(figure) for figure in plan.figures),
        controls=tuple(control.name for control in plan.job.ring.controls),
        stop_table=tuple(
            shapes.StopTableRow(row.stop_mm, row.shim_mm, row.loaded_mm, row.free_mm, row.lobe_mm)
            for row in plan.sizing.table
        ),
        segment_profile=_contour(plan.sizing.surface.profile),
        inner_roll=_contour(plan.passes.rolls.inner),
        outer_roll=_contour(plan.passes.rolls.outer),
        holes=tuple(
            shapes.HoleTableRow(r.pattern, r.number, r.theta_deg, r.from_seam_deg, r.z_mm, r.diameter_mm)
            for r in plan.holes.rows
        ),
        characteristics=tuple(
            shapes.CharacteristicRow(r.number, r.name, r.wanted, r.held_by, r.method, r.support, r.readings)
            for r in plan.characteristics.rows
        ),
        stations=_stations(plan),
    )


def figure_row(figure: Figure) -> shapes.FigureRow:
    """A figure with its working."""
    return shapes.FigureRow(
        identity=figure.identity,
        name=figure.name,
        value=figure.value,
        unit=figure.unit,
        digits=figure.digits,
        source=source_row(figure.source),
        band=None if figure.band is None else _band(figure.band),
        formula=figure.formula,
        inputs=tuple(_input(given) for given in figure.inputs),
        note=figure.note,
    )


def finding_row(finding: Finding) -> shapes.FindingRow:
    """A finding with the check behind it."""
    return shapes.FindingRow(
        level=finding.level,
        topic=finding.topic,
        about=finding.about,
        sentence=finding.sentence,
        remedy=finding.remedy,
        why=finding.why,
        source=source_row(finding.source),
        check=None if finding.check is None else _check(finding.check),
    )


def source_row(source: Source) -> shapes.SourceRow:
    """A ground."""
    return shapes.SourceRow(source.basis, source.where, source.invented)


def _band(band: Band) -> shapes.BandRow:
    return shapes.BandRow(band.low, band.high, band.how, band.inside_pct)


def _input(given: Input) -> shapes.InputRow:
    return shapes.InputRow(given.symbol, given.name, given.value, given.unit, given.figure, source_row(given.source))


def _check(check: Check) -> shapes.CheckRow:
    return shapes.CheckRow(
        check.name, check.value, check.limit, check.sense, check.unit, check.ok, source_row(check.source), check.notes
    )


def _names(figures: Iterable[Figure]) -> tuple[str, ...]:
    return tuple(figure.identity for figure in figures)


def _contour(profile: Profile) -> tuple[shapes.SegmentRow, ...]:
    return tuple(shapes.SegmentRow(one.start, one.end, one.centre, one.ccw) for one in profile)


def _stations(plan: RingPlan) -> tuple[shapes.StationRow, ...]:
    told, sized = plan.reckoning, next(s.workpiece for s in reversed(plan.walk) if s.kind == "size")
    inside, outside = face_strain(sized)
    columns = (
        sized.z_mm,
        sized.r_mm,
        told.hoop.r_mm,
        told.tool_face_mm,
        sized.thickness_mm,
        told.sizing_strain_log,
        inside,
        outside,
    )
    return tuple(shapes.StationRow(*(float(v) for v in row)) for row in zip(*columns, strict=True))


def rounded(value: Any) -> Any:
    """Plain data with every number at nine significant digits, so that the last bit of a machine does not show.

    Examples
    --------
    >>> rounded({"a": (0.1 + 0.2, 3, None)})
    {'a': [0.3, 3, None]}
    """
    if isinstance(value, float):
        if not math.isfinite(value) or value == 0.0:
            return value if value else 0.0
        return float(f"{value:.{SIGNIFICANT}g}")
    if isinstance(value, dict):
        return {key: rounded(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [rounded(item) for item in value]
    return value
