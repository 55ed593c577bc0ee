"""What a person asks of a ring on its segments: how does it come off, which set, how do rings scatter."""

from __future__ import annotations

import csv
import datetime as dt
import io
import json
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hoopwright.design.demo import demo_liner
from hoopwright.design.liner_reading import cards_folder, read_liner
from hoopwright.desk.folders import checked_target, write_whole
from hoopwright.errors import InputError
from hoopwright.findings import Figure, Finding
from hoopwright.plan.hooping.ask import Incoming, on_segments
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.shelf import Shelf
from hoopwright.plan.solve import shop_card
from hoopwright.process.hooping.findings import Drawing
from hoopwright.process.hooping.operation import Hooped, SizeOnSegments, hooped
from hoopwright.process.hooping.run import step_of
from hoopwright.process.step import Step

RING_SCALE = 0.4


@dataclass(frozen=True, slots=True)
class SizingReport:
    """How a ring comes off its segments. files : written, empty where no folder was named."""

    ring: str
    mark: str
    sentence: str
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    files: tuple[Path, ...]

    @property
    def stops(self) -> int:
        """How many findings say stop."""
        return sum(finding.level == "stop" for finding in self.findings)


def planned(ring: str, of: Path | None, cards: Path | None) -> RingPlan:
    """The plan of one ring of a liner file; of the demonstration liner where none is named.

    Raises
    ------
    InputError, FileFaults, CardError
        As planning does.
    """
    if of is None:
        return plan_ring(demo_liner(), ring, Shelf(cards))
    return plan_ring(read_liner(of, cards), ring, Shelf(cards or cards_folder(of)))


def incoming_of(
    waves: tuple[str, ...], seam_deg: float | None, zone_mm: float | None, strength: float | None, errors: str | None
) -> Incoming:
    """What comes to the segments, from the words of a command: waves "2,0.5,30", errors "0.01,0,...".

    Raises
    ------
    InputError
        Words that are no numbers.
    """
    return Incoming(zone_mm, strength, tuple(_wave(wave) for wave in waves), seam_deg, _numbers("--errors", errors))


def _wave(text: str) -> tuple[int, float, float]:
    try:
        order, amplitude, crest = text.split(",")
        return int(order), float(amplitude), float(crest)
    except ValueError:
        must = "order, amplitude [mm] and place of a crest [deg] with commas between"
        raise InputError("--wave", text, "", must, "write 2,0.5,30") from None


def _numbers(option: str, text: str | None) -> tuple[float, ...]:
    try:
        return tuple(float(part) for part in text.split(",")) if text else ()
    except ValueError:
        raise InputError(option, text, "", "numbers with commas between", "write one for each segment") from None


def size_ring(plan: RingPlan, incoming: Incoming, folder: Path | None, date: dt.date | None = None) -> SizingReport:
    """All hits of a planned ring on its real segments, with pictures and tables where a folder is named.

    Raises
    ------
    InputError, NotConverged
        As `hooped`; a folder that holds other things.
    """
    if folder is not None:
        checked_target(folder)
    operation, done = run_of(plan, incoming)
    job, liner = plan.job, plan.job.liner
    step = step_of(done, operation, shop_card(job), Drawing(liner.tolerances, liner.source("tolerances")))
    files: tuple[Path, ...] = ()
    if folder is not None:
        files = write_whole(folder, _files(plan, done, operation, step, date or dt.date.today()))
    return SizingReport(job.ring.id, plan.mark, _sentence(step.figures, done), step.figures, step.findings, files)


def figures_on_segments(plan: RingPlan) -> tuple[Figure, ...]:
    """Every figure of a planned ring on its segments, nothing said about out-of-round; see `size_ring`."""
    return size_ring(plan, Incoming(), None).figures


def run_of(plan: RingPlan, incoming: Incoming) -> tuple[SizeOnSegments, Hooped]:
    """The sizing of a planned ring, and its run."""
    operation = on_segments(plan.job, plan.settings, plan.reckoning.hoop, incoming)
    return operation, hooped(plan.reckoning.hoop, operation, plan.job.metal)


def _sentence(figures: tuple[Figure, ...], done: Hooped) -> str:
    part, last = done.incoming.part, done.last.number
    known = {figure.identity: figure for figure in figures}

    def of(word: str) -> Figure:
        return known[f"{part}/segments-run/hit-{last}/{word}"]

    seam = f"{of('seam-strain').value:.2f} %" if done.weld is not None else "as the parent"
    return (
        f"{part} comes off {done.tool.count} segments after {last} hit{'s' if last > 1 else ''}, "
        f"{of('peak-to-valley')} out of round free and {of('held-peak-to-valley')} held; "
        f"pin pull {of('pull')}, seam stretched {seam}."
    )


def _files(plan: RingPlan, done: Hooped, operation: SizeOnSegments, step: Step, date: dt.date) -> dict[str, bytes]:
    # the drawing libraries are heavy: only who writes needs them
    from hoopwright.papers.drawing.svg import svg
    from hoopwright.papers.hooping.girth_strain import girth_strain
    from hoopwright.papers.hooping.pull_picture import pull_picture
    from hoopwright.papers.hooping.ring import exaggeration, ring_on_segments
    from hoopwright.papers.hooping.roundness import polar_roundness
    from hoopwright.papers.hooping.sheet import segments_run_pdf
    from hoopwright.papers.hooping.view import views

    ring = plan.job.ring.id
    found: dict[str, bytes] = {
        f"{ring}-size.json": _json(plan, step.figures, step.findings),
        f"{ring}-size.pdf": segments_run_pdf(plan, done, operation, step, date),
        f"{ring}-pull.svg": svg(pull_picture(done, operation)).encode(),
    }
    for view in views(done, operation, shop_card(plan.job)):
        stem = f"{ring}-hit-{view.number}"
        found[f"{stem}-on-segments.svg"] = svg(ring_on_segments(view), RING_SCALE).encode()
        for state in ("incoming", "loaded", "free") if view.number == 1 else ("loaded", "free"):
            drawn = ring_on_segments(view, state, exaggeration(view, state))
            found[f"{stem}-{state}-drawn-out.svg"] = svg(drawn, RING_SCALE).encode()
        found[f"{stem}-roundness.svg"] = svg(polar_roundness(view, ("loaded", "free"))).encode()
        found[f"{stem}-strain.svg"] = svg(girth_strain(view)).encode()
        found[f"{stem}-round.csv"] = _table(view.free.clock_rad, view.free.radius_mm, ("clock_deg", "radius_mm"))
    return found


def _json(plan: RingPlan, figures: tuple[Figure, ...], findings: tuple[Finding, ...]) -> bytes:
    data = {
        "schema": "hoopwright-size-1",
        "ring": plan.job.ring.id,
        "inputs": plan.mark,
        "figures": [
            {"identity": f.identity, "name": f.name, "value": f.value, "unit": f.unit, "basis": f.source.basis,
             "invented": f.source.invented, "note": f.note}
            for f in figures
        ],
        "findings": [
            {"level": f.level, "topic": f.topic, "sentence": f.sentence, "remedy": f.remedy, "about": f.about}
            for f in findings
        ],
    }  # fmt: skip
    return (json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode()


def _table(clock_rad: NDArray[np.float64], values: NDArray[np.float64], heads: tuple[str, str]) -> bytes:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(heads)
    writer.writerows((f"{np.degrees(a):.4f}", f"{b:.5f}") for a, b in zip(clock_rad, values, strict=True))
    return text.getvalue().encode()
