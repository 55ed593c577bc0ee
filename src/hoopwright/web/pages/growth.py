"""How does it grow? Cold and hot outlines, gaps through a start, floats, leak and springs at their worst."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from hoopwright.desk.grow import FIRST as GROW_FIRST
from hoopwright.desk.hot_build import headline
from hoopwright.desk.seal import FIRST as SEAL_FIRST
from hoopwright.findings import Figure, gravest_first
from hoopwright.papers.hot.growth_sheet import gap_picture, overlay_of
from hoopwright.papers.numbers import figure_text, written
from hoopwright.web.answers import Missing
from hoopwright.web.drawing import screen
from hoopwright.web.evidence import Evidence, Section, Table, table
from hoopwright.web.shell import Page, page
from hoopwright.web.shown import figure_shown, findings_shown
from hoopwright.web.state import Shop
from hoopwright.web.words import count_of

GAPS = ("aft-radial-gap", "nozzle-slide", "port-shift")


def growth_page(shop: Shop, revision: str) -> tuple[Page, Evidence]:
    """Growth, joints, seals and springs of a revision."""
    found = shop.job.revision(revision)
    if found.liner.thermal is None:
        raise Missing(f"{found.liner.id} has no metal temperatures yet", "the liner file, and enter [thermal] in it")
    plan = shop.job.hot(revision)
    at = (found.liner.id, found.name)
    rings = tuple(ring.id for ring in found.liner.rings)
    head = page(
        shop, "growth", f"{found.liner.id}: how does it grow?", "How does it grow when hot, and does anything close?",
        _answer(plan.figures), found.name, on=rings,
    )  # fmt: skip
    first = headline(plan.grow_figures, GROW_FIRST)
    seals = headline(plan.seal_figures, SEAL_FIRST)
    sections = (
        Section("Cold and hot, steady running", (screen(overlay_of(plan), 1.28),)),
        Section("Growth and gaps", figures=tuple(figure_shown(f, at) for f in first)),
        Section(
            f"Gaps through a start; {plan.joints.said}",
            tuple(screen(gap_picture(plan, gap)) for gap in plan.joints.gaps if gap.key in GAPS),
        ),
        Section("Washers, leak and springs", figures=tuple(figure_shown(f, at) for f in seals)),
        Section("Other springs, worst case first", tables=(_alternatives(plan.alternatives),)),
        Section("Every station, mm", tables=(_stations(plan.growth.movements),)),
    )
    findings = gravest_first((*plan.grow_findings, *plan.seal_findings))
    foot = "Movement is drawn enlarged as the drawing says; gaps are drawn apart, to their own scale."
    return head, Evidence(sections, findings_shown(findings), count_of(findings, ""), foot=foot)


def _answer(figures: tuple[Figure, ...]) -> str:
    known = {f.identity.partition("/")[2]: f for f in figures}
    said = []
    if "growth/ports-axial" in known:
        value = known["growth/ports-axial"].value
        said.append(f"The ports move {written(abs(value), 2)} {'aft' if value > 0 else 'forward'}")
    if "joints/aft-radial-gap/steady" in known:
        said.append(f"the aft slip joint keeps {figure_text(known['joints/aft-radial-gap/steady'])} in steady running")
    if "joints/aft-radial-gap/least" in known and known["joints/aft-radial-gap/least"].value < 0:
        said.append("but closes during a start")
    return ", ".join(said) + "." if said else "The liner grows as the figures below say."


def _alternatives(rows: Sequence[Any]) -> Table:
    return table(
        "Forms whose worst case holds",
        ("what differs", "stiffness N/mm", "hot N", "worst hot N", "worst stress MPa"),
        [
            (
                ", ".join(row.changes), written(row.stiffness_N_per_mm, 1), written(row.load_hot_N, 1),
                written(row.load_hot_worst_N, 1), written(row.stress_worst_MPa, 0),
            )
            for row in rows
        ],
        (1, 2, 3, 4),
    )  # fmt: skip


def _stations(rows: Sequence[Any]) -> Table:
    return table(
        "Movement from the datum",
        ("part", "station", "°C", "z cold", "r cold", "axial", "radial"),
        [
            (
                m.part, m.name, written(m.metal_degC, 0), written(m.z_cold_mm, 2), written(m.r_cold_mm, 3),
                written(m.axial_mm, 3, True), written(m.radial_mm, 3, True),
            )
            for m in rows
        ],
        (2, 3, 4, 5, 6),
    )  # fmt: skip
