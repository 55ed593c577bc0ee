"""Growth and seal sheets as plain data: figures with working, findings, stations, gap courses, stacks, alternatives."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from hoopwright.plan.as_json import figure_row, finding_row, rounded
from hoopwright.plan.hot.hot_plan import HotPlan
from hoopwright.plan.hot.stacks import GapStack, mend_words

GROW_SCHEMA, SEAL_SCHEMA = "hoopwright-growth-1", "hoopwright-seal-1"


def grow_data(plan: HotPlan) -> dict[str, Any]:
    """The growth sheet."""
    liner, joints = plan.job.liner, plan.joints
    return _rounded(
        {
            "schema": GROW_SCHEMA,
            "liner": liner.id,
            "revision": liner.revision,
            "invented": liner.invented,
            "mark": plan.mark,
            "temperatures": joints.said,
            "datum": {"part": plan.job.parts[plan.job.datum[0]].id, "along_mm": plan.job.datum[1]},
            "stations": [asdict(m) | {"z_hot_mm": m.z_hot_mm, "r_hot_mm": m.r_hot_mm} for m in plan.growth.movements],
            "gaps": [
                {
                    "key": g.key,
                    "name": g.name,
                    "cold_mm": g.cold,
                    "times_s": joints.times.tolist(),
                    "gap_mm": g.values.tolist(),
                }
                for g in joints.gaps
                if joints.times is not None
            ],
            "stacks": [_stack(s) for s in plan.stacks.stacks if s.key == "groove"],
            "figures": [asdict(figure_row(f)) for f in plan.grow_figures],
            "findings": [asdict(finding_row(f)) for f in plan.grow_findings],
        }
    )


def seal_data(plan: HotPlan) -> dict[str, Any]:
    """The seal sheet."""
    liner = plan.job.liner
    return _rounded(
        {
            "schema": SEAL_SCHEMA,
            "liner": liner.id,
            "revision": liner.revision,
            "invented": liner.invented,
            "mark": plan.mark,
            "stacks": [_stack(s) for s in plan.stacks.stacks if s.key == "float"],
            "spring_curve": [{"deflection_mm": d, "cold_N": c, "hot_N": h} for d, c, h in plan.springs.curve],
            "alternatives": [
                {
                    "changes": list(a.changes),
                    "deflection_mm": a.deflection_mm,
                    "thickness_mm": a.form.thickness_mm,
                    "stiffness_N_per_mm": a.stiffness_N_per_mm,
                    "load_hot_N": a.load_hot_N,
                    "load_hot_worst_N": a.load_hot_worst_N,
                    "stress_worst_MPa": a.stress_worst_MPa,
                }
                for a in plan.alternatives
            ],
            "figures": [asdict(figure_row(f)) for f in plan.seal_figures],
            "findings": [asdict(finding_row(f)) for f in plan.seal_findings],
        }
    )


def data_text(data: dict[str, Any]) -> str:
    """Text of a sheet's JSON: the same plan gives the same bytes."""
    return json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _rounded(data: dict[str, Any]) -> dict[str, Any]:
    plain: dict[str, Any] = rounded(data)
    return plain


def _stack(one: GapStack) -> dict[str, Any]:
    told = one.result
    return {
        "key": one.key,
        "name": one.name,
        "wanted_mm": one.wanted,
        "nominal_mm": told.nominal,
        "worst_mm": told.low,
        "linear_mm": told.linear_low,
        "rss_low_mm": told.rss_low,
        "under_pct": one.under_pct,
        "contributors": [asdict(s) for s in told.shares],
        "mends": [
            {"words": words, "changes": mend_words(one, done), "worst_mm": done.worst[0] + one.wanted}
            for words, done in one.mends
        ],
    }
