"""What a person asks before the seam is welded, and of the hoop after: do both ends meet, is it bent at its seam."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from hoopwright.cards.seam import seam_card_id
from hoopwright.design.demo import demo_liner
from hoopwright.design.liner_reading import cards_folder, read_liner
from hoopwright.design.mark import input_mark
from hoopwright.desk.weld_common import WeldReport, papers_in
from hoopwright.errors import InputError
from hoopwright.plan.job import ring_job
from hoopwright.plan.seam.fit_up import Level
from hoopwright.plan.seam.fit_up_plan import plan_fit_up, read_ends
from hoopwright.plan.seam.kink_read import kink_card, read_kink, read_trace
from hoopwright.plan.shelf import Shelf


@dataclass(frozen=True, slots=True)
class FitUpAsked:
    """What was read in the fixture. mismatch_mm, gap_mm : three places or more, () where not read. ends : file."""

    level: Level = "house"
    spot_dia_mm: float | None = None
    mismatch_mm: tuple[float, ...] = ()
    gap_mm: tuple[float, ...] = ()
    ends: Path | None = None


def weld_fit_up(
    file: Path | None, ring: str, asked: FitUpAsked, cards: Path | None, folder: Path | None, date: dt.date
) -> WeldReport:
    """Fit-up of a ring of a liner; of the demonstration's where no file is named.

    Raises
    ------
    InputError, FileFaults, CardError
        No such ring, a faulty file or reading, a card that lacks something.
    """
    liner = read_liner(file, cards) if file is not None else demo_liner()
    shelf = Shelf(cards or (cards_folder(file) if file is not None else None))
    job = ring_job(liner, ring, shelf)
    ends = None if asked.ends is None else read_ends(asked.ends)
    sheet = plan_fit_up(job, asked.level, asked.spot_dia_mm, asked.mismatch_mm, asked.gap_mm, ends)
    stops = sum(finding.level == "stop" for finding in sheet.findings)
    if stops:
        sentence = f"Do not weld {ring}: {sheet.findings[0].sentence}"
    elif asked.ends is None and not asked.mismatch_mm:
        expected = sheet.figures[0]
        sentence = (
            f"From the metal alone the ends of {ring} meet within {expected.value:.3f} mm in 9 of 10 strips; "
            f"{sheet.allowed_mm:.2f} mm is allowed. Nothing is measured yet."
        )
    else:
        sentence = f"Fit-up of {ring} is inside {sheet.allowed_mm:.2f} mm mismatch."

    def files() -> dict[str, bytes]:
        from hoopwright.papers.weld.common import WeldTitle
        from hoopwright.papers.weld.fit_up_sheet import fit_up_pdf

        mark = input_mark(job.liner, job.alloy.digest, repr(job.limits), repr(job.spread), repr(asked))
        about = WeldTitle(ring, f"{liner.id} rev {liner.revision}", liner.revision, mark, date, liner.invented)
        return {f"weld-fit-up-{ring}.pdf": fit_up_pdf(about, sheet)}

    return WeldReport(sentence, sheet.figures, sheet.findings, papers_in(folder, files))


def weld_angle(
    trace: Path, radius_mm: float, material: str, thickness_mm: float, cards: Path | None, folder: Path | None
) -> WeldReport:
    """How much a welded hoop is bent at its seam, and the seam card of it.

    Raises
    ------
    InputError, FileFaults
        A faulty file, too few places, a radius that is none.
    """
    before = Shelf(cards).seam(material, thickness_mm)
    found = read_kink(read_trace(trace), radius_mm, seam_card_id(material, thickness_mm))

    def files() -> dict[str, bytes]:
        card = kink_card(found, material, thickness_mm, before)
        return {f"seam-{seam_card_id(material, thickness_mm)}.toml": card.encode()}

    return WeldReport(found.sentence, found.figures, found.findings, papers_in(folder, files))


def readings_of(option: str, text: str | None) -> tuple[float, ...]:
    """Numbers with commas between.

    Raises
    ------
    InputError
        A word that is no number.
    """
    if text is None:
        return ()
    try:
        return tuple(float(word) for word in text.split(","))
    except ValueError:
        must = "numbers with commas between"
        raise InputError(option, text, "mm", must, "write 0.03,0.05,0.02: forward, middle, aft") from None


def level_of(word: str) -> Level:
    """A quality level, or the house card's.

    Raises
    ------
    InputError
        Another word.
    """
    levels: Sequence[Level] = ("house", "B", "C", "D")
    for level in levels:
        if word.lower() == level.lower():
            return level
    raise InputError("--level", word, "", "house, B, C or D", "name the level of the drawing")
