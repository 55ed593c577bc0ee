"""A study: runs of a design, the stand-in made of them, its measured error, shares inside, and what matters most."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, NotConverged
from hoopwright.kernels.statistics.sensitivity import variance_shares
from hoopwright.plan.shapes import Array
from hoopwright.plan.study.forward import Ran, StudyAsk
from hoopwright.plan.study.journal import Journal
from hoopwright.plan.study.judged import Limit, results
from hoopwright.plan.study.runners import Row, Runner
from hoopwright.plan.study.sampling import DESIGN, HELD_BACK, POPULATION, design_rows, random_rows
from hoopwright.plan.study.surrogate import Surrogate, fitted

Progress = Callable[[int, int], None]

CHUNK = 2000
BLOCK = 10_000_000
"""Numbers of runs of one stream; a journal holds several streams apart."""

REFUSED_MOST = 0.05


@dataclass(frozen=True, slots=True)
class StudyPlan:
    """samples : rings whose scatter is told. runs : of the design the stand-in is made of; held_back : runs it is
    checked by. every_run : every sample is a run of the kernel; the stand-in is for the sensitivities only."""

    samples: int = 20_000
    runs: int = 256
    held_back: int = 96
    seed: int = 1
    every_run: bool = False
    sensitivity: int = 4096

    def __post_init__(self) -> None:
        for name, least, most in (
            ("samples", 100, 1_000_000), ("runs", 16, 100_000), ("held_back", 16, 100_000), ("sensitivity", 64, 10**6)
        ):  # fmt: skip
            value = getattr(self, name)
            if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
                said = name.replace("_", " ")
                raise InputError(said, value, "", f"a whole number from {least} to {most}", f"use {least} or more")


@dataclass(frozen=True, slots=True, eq=False)
class Told:
    """One result of a study. low, middle, high : 5, 50 and 95 % of the samples. inside_pct : share that keeps its
    limit, None without one. first, total : shares of its variance by group. error : root mean square of the stand-in
    on held-back runs, error_most : largest; share_error_pct : its share inside less that of the runs.
    """

    result: str
    low: float
    middle: float
    high: float
    sd: float
    limit: Limit | None
    inside_pct: float | None
    first: tuple[float, ...]
    total: tuple[float, ...]
    error: float
    error_most: float
    share_error_pct: float | None
    counts: tuple[int, ...]
    edges: tuple[float, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Study:
    """groups : inputs that scatter, by name. told : one row a result. inside_pct : share that keeps all limits.

    samples, runs : how many. refused : (run, why) that found no answer. missing : spreads no card gives.
    """

    groups: tuple[str, ...]
    told: tuple[Told, ...]
    inside_pct: float
    samples: int
    runs: int
    held_back: int
    every_run: bool
    seed: int
    refused: tuple[tuple[int, str], ...]
    missing: tuple[str, ...]

    def of(self, result: str) -> Told:
        """A result by name. KeyError where there is none."""
        for one in self.told:
            if one.result == result:
                return one
        raise KeyError(result)


def planned_rows(plan: StudyPlan, inputs: int) -> list[Row]:
    """Every run of a study with its number, design first."""
    rows = [(DESIGN * BLOCK + k, row) for k, row in enumerate(design_rows(plan.seed, plan.runs, inputs))]
    rows += [
        (HELD_BACK * BLOCK + k, row)
        for k, row in enumerate(random_rows(plan.seed, HELD_BACK, 0, plan.held_back, inputs))
    ]
    if plan.every_run:
        drawn = random_rows(plan.seed, POPULATION, 0, plan.samples, inputs)
        rows += [(POPULATION * BLOCK + k, row) for k, row in enumerate(drawn)]
    return rows


def study(
    ask: StudyAsk,
    plan: StudyPlan,
    limits: Iterable[Limit],
    runner: Runner,
    journal: Journal,
    missing: tuple[str, ...] = (),
    progress: Progress | None = None,
) -> Study:
    """Make what runs the journal does not hold yet, then judge.

    Raises
    ------
    NotConverged
        More than one run in twenty finds no answer: the spreads reach where the model does not.
    """
    rows = planned_rows(plan, len(ask.inputs))
    left = [row for row in rows if row[0] not in journal.done]
    made = len(rows) - len(left)
    for ran in runner(ask, left):
        journal.add(ran)
        made += 1
        if progress is not None:
            progress(made, len(rows))
    return _judged(ask, plan, tuple(limits), [(journal.done[number], draw) for number, draw in rows], missing)


def _judged(
    ask: StudyAsk, plan: StudyPlan, limits: tuple[Limit, ...], rows: list[tuple[Ran, Array]], missing: tuple[str, ...]
) -> Study:
    refused = tuple((ran.number, ran.refused) for ran, _draw in rows if ran.refused)
    if len(refused) > REFUSED_MOST * len(rows):
        raise NotConverged(
            f"{len(refused)} of {len(rows)} runs of the study find no answer, the first: {refused[0][1]}",
            remedy="look at the spreads: they reach beyond what a shop would run",
        )
    streams = {stream: _stream(rows, stream) for stream in (DESIGN, HELD_BACK, POPULATION)}
    stand_in = fitted(*streams[DESIGN])
    count = ask.settings.segments.count
    real, drawn = streams[HELD_BACK]
    known, guessed = _of_runs(real, count), _of_stand_in(stand_in, drawn, count)
    told = _of_runs(streams[POPULATION][0], count) if plan.every_run else _population(stand_in, plan, count)
    groups = tuple(dict.fromkeys(one.name for one in ask.inputs))
    first, total = _shares(ask, stand_in, plan, count, groups)
    by_result = {limit.result: limit for limit in limits}
    kept = np.ones(next(iter(told.values())).size, dtype=np.bool_)
    found = []
    for k, (result, values) in enumerate(told.items()):
        limit = by_result.get(result)
        if limit is not None:
            kept = kept & limit.inside(values)
        found.append(_told(result, values, limit, known[result], guessed[result], first[:, k], total[:, k]))
    return Study(
        groups, tuple(found), 100.0 * float(kept.mean()), plan.samples, plan.runs, plan.held_back, plan.every_run,
        plan.seed, refused, missing,
    )  # fmt: skip


def _stream(rows: list[tuple[Ran, Array]], stream: int) -> tuple[list[Ran], Array]:
    picked = [(ran, draw) for ran, draw in rows if ran.number // BLOCK == stream and not ran.refused]
    return [ran for ran, _ in picked], np.array([draw for _, draw in picked])


def _of_runs(runs: list[Ran], count: int) -> dict[str, Array]:
    names = tuple(runs[0].values)
    values = np.array([[run.values[name] for name in names] for run in runs])
    return results(names, values, np.array([run.profile_mm for run in runs]), count)


def _of_stand_in(stand_in: Surrogate, draws: Array, count: int) -> dict[str, Array]:
    parts = [
        results(stand_in.names, *stand_in.predict(draws[k : k + CHUNK]), count) for k in range(0, len(draws), CHUNK)
    ]
    return {name: np.concatenate([part[name] for part in parts]) for name in parts[0]}


def _population(stand_in: Surrogate, plan: StudyPlan, count: int) -> dict[str, Array]:
    return _of_stand_in(stand_in, random_rows(plan.seed, POPULATION, 0, plan.samples, stand_in.inputs), count)


def _shares(
    ask: StudyAsk, stand_in: Surrogate, plan: StudyPlan, count: int, groups: tuple[str, ...]
) -> tuple[Array, Array]:
    columns = [[k for k, one in enumerate(ask.inputs) if one.name == group] for group in groups]
    a, b = (random_rows(plan.seed, stream, 0, plan.sensitivity, stand_in.inputs) for stream in (11, 12))

    def model(draws: Array) -> Array:
        return np.column_stack(list(_of_stand_in(stand_in, draws, count).values()))

    shares = variance_shares(model, a, b, columns)
    return shares.first, shares.total


def _told(
    result: str, values: Array, limit: Limit | None, known: Array, guessed: Array, first: Array, total: Array
) -> Told:
    low, middle, high = (float(v) for v in np.percentile(values, (5.0, 50.0, 95.0)))
    inside = share_error = None
    if limit is not None:
        inside = 100.0 * float(limit.inside(values).mean())
        share_error = 100.0 * float(limit.inside(guessed).mean() - limit.inside(known).mean())
    counts, edges = np.histogram(values, 30)
    miss = guessed - known
    return Told(
        result, low, middle, high, float(values.std()), limit, inside, tuple(map(float, first)),
        tuple(map(float, total)), float(np.sqrt(np.mean(miss * miss))), float(np.abs(miss).max()), share_error,
        tuple(int(c) for c in counts), tuple(float(e) for e in edges),
    )  # fmt: skip
