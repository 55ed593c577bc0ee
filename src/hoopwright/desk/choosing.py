"""Which segment set and which hits for this ring?"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from hoopwright.desk.folders import checked_target, write_whole
from hoopwright.plan.choice.choose import Choice, Ranked, choose
from hoopwright.plan.choice.options import first_options
from hoopwright.plan.ring_plan import RingPlan


@dataclass(frozen=True, slots=True)
class ChoiceRow:
    """One choice, its figures in the units of their names, the limits it goes beyond, and why it stands there."""

    place: int
    words: str
    count: int
    slot_mm: float
    edge_radius_mm: float
    turned_small_mm: float
    hits: str
    index_deg: float
    lowered_mm: float
    stretch_pct: float
    seam_from_segment_deg: float
    out_of_round_mm: float
    lobes_mm: float
    thinnest_mm: float
    strain_peak_pct: float
    seam_strain_pct: float
    pull_kN: float
    edge_pressure_MPa: float
    cuts: int
    rocking_stiffness: float
    limits_exceeded: tuple[str, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class ChoiceReport:
    """All choices of a ring, best first. refused : (choice, reason) that could not be run."""

    ring: str
    mark: str
    sentence: str
    rows: tuple[ChoiceRow, ...]
    refused: tuple[tuple[str, str], ...]
    limits: tuple[tuple[str, float, str], ...]
    files: tuple[Path, ...]


def choose_set(plan: RingPlan, folder: Path | None, progress: Callable[[str], None] | None = None) -> ChoiceReport:
    """Weigh every sensible set and way of hitting of a planned ring.

    Raises
    ------
    InputError
        A ring that no set lets off; a folder that holds other things.
    """
    if folder is not None:
        checked_target(folder)
    whole = len(list(first_options(plan.job, plan.reckoning)))

    def tell(made: int, words: str) -> None:
        if progress is not None and (made % 10 == 0 or made == 1):
            progress(f"{made} of about {whole + 9}: {words}")

    choice = choose(plan.job, plan.settings, plan.reckoning, tell)
    rows = tuple(_row(place, one) for place, one in enumerate(choice.ranked, start=1))
    ring = plan.job.ring.id
    best = rows[0]
    sentence = f"{ring}: {best.words}. It {best.reason}"
    report = ChoiceReport(ring, plan.mark, sentence, rows, choice.refused, choice.limits, ())
    if folder is None:
        return report
    files = write_whole(folder, _files(plan, choice, report))
    return ChoiceReport(ring, plan.mark, sentence, rows, choice.refused, choice.limits, files)


def _row(place: int, ranked: Ranked) -> ChoiceRow:
    one, option = ranked.weighed, ranked.weighed.option
    return ChoiceRow(
        place=place,
        words=option.words(),
        count=option.count,
        slot_mm=option.slot_mm,
        edge_radius_mm=option.edge_radius_mm,
        turned_small_mm=option.under_mm,
        hits=option.hits,
        index_deg=option.index_deg,
        lowered_mm=one.lowered_mm,
        stretch_pct=100.0 * option.stretch_eng,
        seam_from_segment_deg=one.seam_deg,
        out_of_round_mm=one.peak_to_valley_mm,
        lobes_mm=one.lobes_mm,
        thinnest_mm=one.thinnest_mm,
        strain_peak_pct=one.strain_peak_pct,
        seam_strain_pct=100.0 * one.seam_strain_log,
        pull_kN=one.pull_kN,
        edge_pressure_MPa=one.edge_pressure_MPa,
        cuts=option.cuts,
        rocking_stiffness=one.rocking,
        limits_exceeded=ranked.fails,
        reason=ranked.reason,
    )


def _files(plan: RingPlan, choice: Choice, report: ChoiceReport) -> dict[str, bytes]:
    from dataclasses import asdict

    from hoopwright.papers.drawing.svg import svg
    from hoopwright.papers.hooping.choice_picture import trade_offs

    ring = report.ring
    data = {"schema": "hoopwright-choice-1", **{k: v for k, v in asdict(report).items() if k != "files"}}
    text = json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False) + "\n"
    drawn = svg(trade_offs(choice, plan.job.limits.segment_edge_radius_mm.value))
    return {f"{ring}-choice.json": text.encode(), f"{ring}-choice.svg": drawn.encode()}
