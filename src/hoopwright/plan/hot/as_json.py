"""Growth and seal sheets as plain data, in the shapes of `json_shapes`."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from hoopwright.plan.as_json import figure_row, finding_row, rounded
from hoopwright.plan.hot import json_shapes as shapes
from hoopwright.plan.hot.hot_plan import HotPlan
from hoopwright.plan.hot.stacks import GapStack, mend_words


def grow_data(plan: HotPlan) -> dict[str, Any]:
    """The growth sheet."""
    liner, joints = plan.job.liner, plan.joints
    times = () if joints.times is None else tuple(joints.times.tolist())
    file = shapes.GrowthFile(
        schema=shapes.GROW_SCHEMA,
        liner=liner.id,
        revision=liner.revision,
        invented=liner.invented,
        mark=plan.mark,
        temperatures=joints.said,
        datum=shapes.DatumRow(plan.job.parts[plan.job.datum[0]].id, plan.job.datum[1]),
        stations=tuple(
            shapes.StationRow(**asdict(m), z_hot_mm=m.z_hot_mm, r_hot_mm=m.r_hot_mm) for m in plan.growth.movements
        ),
        gaps=tuple(shapes.GapRow(g.key, g.name, g.cold, times, tuple(g.values.tolist())) for g in joints.gaps),
        stacks=tuple(_stack(s) for s in plan.stacks.stacks if s.key == "groove"),
        figures=tuple(figure_row(f) for f in plan.grow_figures),
        findings=tuple(finding_row(f) for f in plan.grow_findings),
    )
    return _plain(file)


def seal_data(plan: HotPlan) -> dict[str, Any]:
    """The seal sheet."""
    liner = plan.job.liner
    file = shapes.SealFile(
        schema=shapes.SEAL_SCHEMA,
        liner=liner.id,
        revision=liner.revision,
        invented=liner.invented,
        mark=plan.mark,
        stacks=tuple(_stack(s) for s in plan.stacks.stacks if s.key == "float"),
        spring_curve=tuple(shapes.CurveRow(d, c, h) for d, c, h in plan.springs.curve),
        alternatives=tuple(
            shapes.AlternativeRow(
                changes=a.changes,
                deflection_mm=a.deflection_mm,
                thickness_mm=a.form.thickness_mm,
                stiffness_N_per_mm=a.stiffness_N_per_mm,
                load_hot_N=a.load_hot_N,
                load_hot_worst_N=a.load_hot_worst_N,
                stress_worst_MPa=a.stress_worst_MPa,
            )
            for a in plan.alternatives
        ),
        figures=tuple(figure_row(f) for f in plan.seal_figures),
        findings=tuple(finding_row(f) for f in plan.seal_findings),
    )
    return _plain(file)


def data_text(data: dict[str, Any]) -> str:
    """Text of a sheet's JSON: the same plan gives the same bytes."""
    return json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _plain(file: shapes.GrowthFile | shapes.SealFile) -> dict[str, Any]:
    plain: dict[str, Any] = rounded(asdict(file))
    return plain


def _stack(one: GapStack) -> shapes.StackRow:
    told = one.result
    return shapes.StackRow(
        key=one.key,
        name=one.name,
        wanted_mm=one.wanted,
        nominal_mm=told.nominal,
        worst_mm=told.low,
        linear_mm=told.linear_low,
        rss_low_mm=told.rss_low,
        under_pct=one.under_pct,
        contributors=tuple(shapes.ShareRow(**asdict(s)) for s in told.shares),
        mends=tuple(
            shapes.MendRow(words, mend_words(one, done), done.worst[0] + one.wanted) for words, done in one.mends
        ),
    )
