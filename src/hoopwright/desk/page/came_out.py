"""What came out? A turn of readings taken in or looked up, what it says, what explains it, what to do."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hoopwright.correct.lobes import LobeDiagnosis, diagnose_lobes
from hoopwright.design.register import Register
from hoopwright.desk.page.job import Job
from hoopwright.desk.page.press import ring_of_serial
from hoopwright.desk.page.store import store_of
from hoopwright.errors import InputError, require_range
from hoopwright.findings import Check, Finding, Level, Source, gravest_first
from hoopwright.kernels.circles.orders import fit_orders
from hoopwright.measure.roundness import Roundness, RoundnessSettings, evaluate_roundness
from hoopwright.measure.table import read_readings_file
from hoopwright.records.making import Part, Reading

WAVES = tuple(range(1, 13))


@dataclass(frozen=True, slots=True)
class TurnTaken:
    """A turn of radial deviations as entered. content : the table as bytes (CSV, TSV or XLSX)."""

    serial: str
    content: bytes
    z_mm: float
    face: str
    segment_set: str
    held: str
    by: str
    file: str = "pasted readings"


@dataclass(frozen=True, slots=True)
class CameOut:
    """A turn of readings evaluated. waves : (order, cosine, sine) up to 12, for drawing."""

    record: str
    serial: str
    ring: str
    segment_set: str
    z_mm: float
    face: str
    held: str
    angle_deg: tuple[float, ...]
    deviation_mm: tuple[float, ...]
    roundness: Roundness
    lobes: LobeDiagnosis
    waves: tuple[tuple[int, float, float], ...]
    mean_mm: float
    radius_mm: float
    free_limit_mm: float
    restrained_limit_mm: float
    seam_deg: float | None
    findings: tuple[Finding, ...]
    answer: str


def take_turn(job: Job, taken: TurnTaken) -> str:
    """Take a turn of readings into the records; a faulty table stores nothing. Gives the record's number.

    Raises
    ------
    FileFaults
        Every fault of the table, with line and column.
    InputError
        A serial, set, face or place that cannot be.
    """
    ring = ring_of_serial(job, taken.serial)
    section = job.current().liner.ring(ring).section
    require_range("z_mm", taken.z_mm, section.bounds[0], section.bounds[2], "mm")
    if taken.face not in ("inside", "outside"):
        raise InputError("face", taken.face[:20], "", "inside or outside", "say which face was probed")
    if taken.held not in ("free", "restrained"):
        raise InputError("held", taken.held[:20], "", "free or restrained", "say how the ring stood")
    found = read_readings_file(taken.content, "roundness", taken.file)
    angles, deviations = found.numbers["angle_deg"], found.numbers["deviation_mm"]
    segments = int(job.plan(ring).sizing.segments.count)
    evaluate_roundness(angles, deviations, RoundnessSettings(segments, job.plan(ring).job.section.bounds[3]))
    liner = job.current().liner
    reading = Reading(
        liner=liner.id, what="roundness", characteristic=f"z {taken.z_mm:g} {taken.face}", unit="mm",
        series=tuple(v for pair in zip(angles, deviations, strict=True) for v in pair),
        more=(("columns", "angle_deg deviation_mm"), ("station_z_mm", taken.z_mm), ("face", taken.face),
              ("segment_set", taken.segment_set)),
        serial=taken.serial, part=ring, held=taken.held, taken_by=taken.by, note=taken.file[:200],
    )  # fmt: skip
    with store_of(job).writing(taken.by, "roundness entered at the page") as write:
        if write.find(Part, taken.serial) is None:
            write.add(Part(id=taken.serial, liner=liner.id, part=ring, revision=liner.revision), again_ok=True)
        write.add(reading)
    job.changed()
    return reading.id


def turns_of(job: Job, serial: str) -> tuple[Reading, ...]:
    """Every turn read of a ring that still stands, newest first."""
    kept = store_of(job).list(Reading, serial=serial, what="roundness", standing="stands", newest_first=True)
    return tuple(k.thing for k in kept)


def came_out(job: Job, serial: str, z_mm: float | None = None) -> CameOut:
    """The newest turn of a ring, at one place or at any, and what it says.

    Raises
    ------
    InputError
        There is none.
    """
    ring = ring_of_serial(job, serial)
    turns = [t for t in turns_of(job, serial) if z_mm is None or abs(_more(t, "station_z_mm", 0.0) - z_mm) < 0.5]
    if not turns:
        raise InputError("roundness", f"none of {serial}", "", "read", "enter a turn of readings")
    return _evaluated(job, ring, serial, turns[0])


def _more(reading: Reading, name: str, default: float) -> float:
    value = dict(reading.more).get(name, default)
    return float(value)


def _word(reading: Reading, name: str) -> str:
    return str(dict(reading.more).get(name, ""))


def _evaluated(job: Job, ring: str, serial: str, reading: Reading) -> CameOut:
    plan, liner = job.plan(ring), job.current().liner
    count = plan.sizing.segments.count
    angles, deviations = reading.series[0::2], reading.series[1::2]
    z, face, used = (
        _more(reading, "station_z_mm", 0.0),
        _word(reading, "face") or "outside",
        _word(reading, "segment_set"),
    )
    control = min(plan.job.ring.controls, key=lambda c: abs(c.z_mm - z))
    radius = 0.5 * control.diameter_mm
    roundness = evaluate_roundness(angles, deviations, RoundnessSettings(count, radius, reading.held or "free"))
    needed = plan.figure(f"segments/radius-{control.name.split('_')[0]}").value
    register = job.register()
    lobes = diagnose_lobes(roundness, register, ring, used, needed)
    waves = fit_orders(np.deg2rad(angles), deviations, tuple(k for k in WAVES if 2 * k + 1 < len(angles)))
    limits = liner.tolerances
    free, restrained = limits.roundness_free_state_radial_mm, limits.roundness_restrained_radial_mm
    findings = [*roundness.findings, *lobes.findings, *_judged(serial, roundness, free, restrained, reading.held)]
    ranked = gravest_first(findings)
    return CameOut(
        reading.id, serial, ring, used, z, face, reading.held or "free", angles, deviations, roundness, lobes,
        tuple((o.order, o.cosine, o.sine) for o in waves.orders), waves.mean, radius, free, restrained,
        plan.figure("stop/seam-angle").value, ranked, _answer(serial, register, lobes, roundness, free),
    )  # fmt: skip


def _judged(serial: str, found: Roundness, free: float, restrained: float, held: str) -> list[Finding]:
    basis = Source("given", "tolerances of the liner")
    rows = []
    if held != "restrained":
        check = Check(
            "free roundness",
            found.left_after("1"),
            free,
            "<=",
            "mm",
            basis,
            "stop",
            "size it again, index half a pitch",
        )
        word = "in" if check.ok else "out"
        sentence = f"Free roundness is {word}: {check.value:.3f} of {free:.3f}."
        level: Level = "note" if check.ok else "stop"
        remedy = "store the ring on its plug" if check.ok else check.remedy
        rows.append(Finding(level, sentence, remedy, serial, "free-roundness", "", check))
        left = found.left_after("1,2")
        if left > restrained:
            sentence = f"Held round, it would read about {left:.3f}; {restrained:.3f} is allowed."
            why = "this is an estimate from the free reading"
            remedy = "after the final hit, read it again on the restraining plug"
            rows.append(Finding("stop", sentence, remedy, serial, "restrained-roundness", why))
    return rows


def _answer(serial: str, register: Register, lobes: LobeDiagnosis, found: Roundness, free: float) -> str:
    count = found.settings.segments
    if lobes.explained_by:
        tool = lobes.explained_by[0]
        live = next(
            (t.id for t in register.tools if t.kind == tool.kind and t.serves == tool.serves and t.state == "proven"),
            "the live set",
        )
        return (
            f"{_count(count)} lobes with their crests on the segments: {serial} was sized on the {tool.state} set "
            f"{tool.id}. One hit on {live} can save it."
        )
    if lobes.crest != "none":
        return (
            f"{_count(count)} lobes, crest at {lobes.crest}: the segments ran {abs(lobes.standing_mm):.2f} "
            f"{'outside' if lobes.standing_mm > 0 else 'inside'} their turned radius."
        )
    left = found.left_after("1")
    word = "inside" if left <= free else "outside"
    return f"{serial} is {word} its free roundness, {left:.3f} of {free:.2f}, and the segments have left no lobes."


def _count(n: int) -> str:
    words = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve")
    return words[n] if n < len(words) else str(n)


def delta_working(found: CameOut) -> tuple[str, str]:
    """How far the segments stood off, in symbols and in numbers."""
    n = found.roundness.settings.segments
    beta = math.pi / n
    return (
        "δ = a_N · β (N² − 1) / (2 sin β), β = π / N",
        f"{found.lobes.amplitude_mm:.3f} · {beta:.4f} · {n * n - 1} / {2 * math.sin(beta):.4f} = "
        f"{abs(found.lobes.standing_mm):.2f}",
    )
