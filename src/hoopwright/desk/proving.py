"""Proof runs of a liner's rings: kept beside the job by a digest of their inputs, missing ones run side by side."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, replace
from functools import lru_cache
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from hoopwright.design.shapes import Liner
from hoopwright.errors import HoopwrightError
from hoopwright.findings import Finding, gravest_first
from hoopwright.plan.job import ring_job
from hoopwright.plan.liner_plan import LinerPlan
from hoopwright.plan.prove.key import proof_key
from hoopwright.plan.prove.prove import prove_ring
from hoopwright.plan.prove.record import Proof
from hoopwright.plan.ring_plan import RingPlan, mark_of, plan_ring
from hoopwright.plan.shelf import Shelf

FOLDER = Path(".hoopwright", "proofs")
"""Where proofs lie, below the folder of the job."""

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Proofs:
    """By ring. failed : reason of the rings whose walk the kernels could not follow. kept : how many were at hand."""

    proofs: Mapping[str, Proof]
    failed: Mapping[str, str]
    kept: int


@lru_cache(maxsize=1)
def _shape() -> TypeAdapter[Proof]:
    return TypeAdapter(Proof)


def proof_path(home: Path, ring: str, key: str) -> Path:
    """File of a proof below the folder of the job."""
    return home / FOLDER / f"{ring}-{key}.json"


def kept_proof(home: Path, ring: str, key: str) -> Proof | None:
    """The proof on disk; None where there is none, or none that can be read as one."""
    try:
        proof = _shape().validate_json(proof_path(home, ring, key).read_bytes())
    except (OSError, ValidationError):
        return None
    return proof if (proof.ring, proof.key) == (ring, key) else None


def keep_proof(home: Path, proof: Proof) -> None:
    """Write a proof whole or not at all; a folder that cannot be written leaves it unkept, which costs time only."""
    path = proof_path(home, proof.ring, proof.key)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=f".{path.stem}-", dir=path.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(_shape().dump_json(proof))
        os.replace(name, path)
    except OSError:
        return


def proofs_of(
    liner: Liner,
    shelf: Shelf,
    rings: Iterable[str],
    home: Path,
    progress: Progress | None = None,
    processes: int | None = None,
) -> Proofs:
    """The proofs of some rings: from the folder of the job, else run now and kept there.

    Parameters
    ----------
    home : folder of the job. processes : at most so many at once; one for each core where not given.
    """
    tell = progress or (lambda _: None)
    found: dict[str, Proof] = {}
    failed: dict[str, str] = {}
    missing: list[tuple[str, str]] = []
    for ring in rings:
        try:
            key = proof_key(mark_of(ring_job(liner, ring, shelf)))
        except HoopwrightError as refusal:
            failed[ring] = str(refusal)
            continue
        proof = kept_proof(home, ring, key)
        if proof is None:
            missing.append((ring, key))
        else:
            found[ring] = proof
    kept = len(found)
    for ring, outcome in _run(liner, shelf, missing, tell, processes):
        if isinstance(outcome, Proof):
            found[ring] = outcome
            keep_proof(home, outcome)
        else:
            failed[ring] = outcome
    return Proofs(found, failed, kept)


def _run(
    liner: Liner, shelf: Shelf, missing: list[tuple[str, str]], tell: Progress, processes: int | None
) -> Iterable[tuple[str, Proof | str]]:
    """Each missing proof, or the reason why there is none, as they come."""
    count = min(len(missing), processes or os.cpu_count() or 1)
    left = dict(missing)
    if count > 1:
        try:
            for ring, outcome in _side_by_side(liner, shelf.shop_folder, missing, tell, count):
                left.pop(ring, None)
                yield ring, outcome
        except BrokenProcessPool:
            tell("a second process cannot be had; one ring after the other")
    for ring, key in left.items():
        yield ring, proven_or_why(liner, shelf.shop_folder, ring, key, tell)


def _side_by_side(
    liner: Liner, shop_folder: Path | None, missing: list[tuple[str, str]], tell: Progress, count: int
) -> Iterable[tuple[str, Proof | str]]:
    with ProcessPoolExecutor(count, mp_context=get_context("spawn")) as pool:
        jobs: dict[Any, str] = {}
        for ring, key in missing:
            tell(f"{ring}: proof run")
            jobs[pool.submit(proven_or_why, liner, shop_folder, ring, key)] = ring
        for job in as_completed(jobs):
            tell(f"{jobs[job]}: proof run done")
            yield jobs[job], job.result()


def proven_or_why(
    liner: Liner, shop_folder: Path | None, ring: str, key: str, progress: Progress | None = None
) -> Proof | str:
    """The proof of one ring, or why there is none; what a process of its own runs."""
    try:
        return prove_ring(plan_ring(liner, ring, Shelf(shop_folder)), key, progress)
    except HoopwrightError as refusal:
        return str(refusal)


def told(plan: LinerPlan, proofs: Proofs) -> LinerPlan:
    """The plan with a caution on every ring whose proof run did not come through."""
    rings = tuple(
        _with_failure(ring, proofs.failed[ring.job.ring.id]) if ring.job.ring.id in proofs.failed else ring
        for ring in plan.rings
    )
    return replace(plan, rings=rings, findings=gravest_first(f for ring in rings for f in ring.findings))


def _with_failure(ring: RingPlan, reason: str) -> RingPlan:
    name = ring.job.ring.id
    finding = Finding(
        "caution",
        f"The proof run of {name} does not come through; its plan stays as reckoned.",
        "roll, weld and stretch one trial ring on first tools before the batch is cut",
        ring.job.identity("walk"),
        "proof-failed",
        reason,
    )
    return replace(ring, findings=gravest_first([finding, *ring.findings]))
