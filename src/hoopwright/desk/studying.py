"""How do the rings of this shop scatter, how many keep every limit, and what matters most?"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path

from hoopwright import __version__
from hoopwright.design.mark import input_mark
from hoopwright.errors import InputError
from hoopwright.plan.hooping.ask import Incoming
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.study.forward import StudyAsk, study_ask
from hoopwright.plan.study.inputs import scattered
from hoopwright.plan.study.journal import Journal
from hoopwright.plan.study.limits import limits_of, name_of, unit_of
from hoopwright.plan.study.runners import runner
from hoopwright.plan.study.study import Study, StudyPlan, Told, study

__all__ = ["StudyPlan", "StudyReport", "StudyRow", "study_mark", "study_ring"]

SHOWN = ("held-peak-to-valley", "peak-to-valley", "thinnest", "pull")


@dataclass(frozen=True, slots=True)
class StudyRow:
    """One result: 5, 50 and 95 % of the rings, share inside its limit, the stand-in's error on held-back runs, and the
    inputs by their total share of the scatter, largest first."""

    result: str
    name: str
    unit: str
    low: float
    middle: float
    high: float
    limit_low: float | None
    limit_high: float | None
    inside_pct: float | None
    stand_in_rms: float
    stand_in_most: float
    stand_in_share_pct: float | None
    matters: tuple[tuple[str, float, float], ...]


@dataclass(frozen=True, slots=True)
class StudyReport:
    """A study in plain numbers. matters : (input, first-order share, total share)."""

    ring: str
    mark: str
    sentence: str
    samples: int
    runs: int
    held_back: int
    every_run: bool
    seed: int
    inside_pct: float
    rows: tuple[StudyRow, ...]
    refused: tuple[tuple[int, str], ...]
    missing: tuple[str, ...]
    files: tuple[Path, ...]


def study_ring(
    plan: RingPlan,
    wanted: StudyPlan,
    incoming: Incoming,
    folder: Path | None,
    processes: int | None = None,
    scheduler: str | None = None,
    progress: Callable[[str], None] | None = None,
) -> StudyReport:
    """Study a planned ring. With a folder its journal lies there, and a study that was killed goes on from it.

    Raises
    ------
    InputError
        A folder with another study in it; a wrong count, seed or scheduler.
    NotConverged
        More than one run in twenty finds no answer.
    """
    inputs, missing = scattered(plan.job, plan.settings.segments.count)
    ask = study_ask(plan.job, plan.settings, incoming, inputs)
    mark = study_mark(plan, ask, wanted)
    ring = plan.job.ring.id

    def tell(made: int, whole: int) -> None:
        if progress is not None and (made % max(1, whole // 50) == 0 or made == whole):
            progress(f"{ring}: {made} of {whole} runs")

    path = None if folder is None else _checked(folder) / f"{ring}-study.jsonl"
    with Journal(path, mark) as journal:
        if journal.done and progress is not None:
            progress(f"{ring}: {len(journal.done)} runs are there already")
        found = study(ask, wanted, limits_of(plan.job), runner(processes, scheduler), journal, missing, tell)
    report = _report(plan, mark, found, ())
    if folder is None:
        return report
    return _report(plan, mark, found, (*_write(folder, ring, found, report), *([path] if path else [])))


def study_mark(plan: RingPlan, ask: StudyAsk, wanted: StudyPlan) -> str:
    """Digest of everything the runs depend on; how many samples are told does not change a run."""
    spreads = [(one.key, one.sd) for one in ask.inputs]
    return input_mark(plan.mark, repr(ask.incoming), repr(spreads), repr(wanted.seed), __version__)


def _checked(folder: Path) -> Path:
    target = folder.absolute()
    if target.is_file():
        raise InputError("output folder", str(folder), "", "a folder, not a file", "name another folder")
    return target


def _write(folder: Path, ring: str, found: Study, report: StudyReport) -> tuple[Path, ...]:
    from hoopwright.papers.drawing.svg import svg
    from hoopwright.papers.hooping.spread_picture import spread_picture

    sizes = tuple(one.result for one in found.told if one.result.startswith("free-"))
    data = {"schema": "hoopwright-study-1", **{k: v for k, v in asdict(report).items() if k != "files"}}
    text = json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False) + "\n"
    files = {
        f"{ring}-study.json": text.encode(),
        f"{ring}-study.svg": svg(spread_picture(found, (*sizes, *SHOWN))).encode(),
    }
    target = _checked(folder)
    paths = []
    for name, content in files.items():
        beside = target / f".{name}.part"
        beside.write_bytes(content)
        beside.replace(target / name)
        paths.append(target / name)
    return tuple(paths)


def _report(plan: RingPlan, mark: str, found: Study, files: tuple[Path, ...]) -> StudyReport:
    worst = min((one for one in found.told if one.inside_pct is not None), key=lambda one: one.inside_pct or 0.0)
    by_share = sorted(zip(found.groups, worst.total, strict=True), key=lambda row: -row[1])
    how = "each run on the hoop kernel" if found.every_run else f"a stand-in made of {found.runs} runs"
    sentence = (
        f"{found.inside_pct:.1f} % of {found.samples} rings of {plan.job.ring.id} keep every limit ({how}); the "
        f"tightest is {name_of(worst.result)}, {worst.inside_pct:.1f} % inside, and {by_share[0][0]} matters most "
        "to it."
    )
    return StudyReport(
        plan.job.ring.id, mark, sentence, found.samples, found.runs, found.held_back, found.every_run, found.seed,
        found.inside_pct, tuple(_row(found, one) for one in found.told), found.refused, found.missing, files,
    )  # fmt: skip


def _row(found: Study, one: Told) -> StudyRow:
    def finite(value: float | None) -> float | None:
        return value if value is not None and abs(value) < 1e300 else None

    matters = sorted(zip(found.groups, one.first, one.total, strict=True), key=lambda row: -row[2])
    return StudyRow(
        one.result, name_of(one.result), unit_of(one.result), one.low, one.middle, one.high,
        finite(one.limit.low) if one.limit else None, finite(one.limit.high) if one.limit else None,
        one.inside_pct, one.error, one.error_most, one.share_error_pct,
        tuple((name, first, total) for name, first, total in matters),
    )  # fmt: skip
