"""What do I set? The card of one ring at the press: the next stop, what to expect, which set, what to look out for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.correct.gates import WINDOW
from hoopwright.correct.same_ring import Hit, next_hit
from hoopwright.design.shapes import ControlSize
from hoopwright.desk.page.job import Job
from hoopwright.desk.page.pressing import expanders
from hoopwright.desk.page.store import store_of
from hoopwright.desk.page.welding import verdicts
from hoopwright.errors import InputError
from hoopwright.findings import Finding
from hoopwright.kernels.taper_drive import TaperDrive
from hoopwright.kernels.wayback.gains import same_ring_gain, stop_change
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.ring_tools import pull_never_above_kN
from hoopwright.process.size import control_word
from hoopwright.records.making import Operation, Part, Reading, Tool

GAUGE_DIGITS = 2
"""Decimals that the girth tape shows."""


@dataclass(frozen=True, slots=True)
class SetShown:
    """A segment set that may lie at hand. refusal : why it does not go on the press, "" where it does."""

    id: str
    revision: str
    place: str
    refusal: str
    remedy: str


@dataclass(frozen=True, slots=True)
class HitRead:
    """One hit as read. stop_mm : pin stroke it was made with, None where nobody wrote it down."""

    record: str
    hit: int
    free_mm: float
    loaded_mm: float | None
    stop_mm: float | None
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class StopRow:
    """One line of the stop table at the control size. inside : whether every control size ends in tolerance."""

    stop_mm: float
    shim_mm: float
    loaded_mm: float
    free_mm: float
    inside: bool
    note: str


@dataclass(frozen=True, slots=True)
class PressCard:
    """Everything the press needs, and enough to go on while the network is away.

    hit : the next one. stop_mm, loaded_mm, free_mm : to set and to expect. low_mm, high_mm : band of the free size.
    per_mm : millimetres of pin for one of free size still lacking. may_low_mm, may_high_mm : free sizes after this
    hit for which a next stop may be offered. finding : why nothing is to be set, None where something is.
    """

    serial: str
    ring: str
    liner: str
    revision: str
    mark: str
    control: str
    control_words: str
    target_mm: float
    tolerance_mm: float
    segments: int
    sets: tuple[SetShown, ...]
    hit: int
    hits: int
    read: tuple[HitRead, ...]
    stop_mm: float
    change_mm: float | None
    loaded_mm: float
    free_mm: float
    low_mm: float
    high_mm: float
    per_mm: float
    may_low_mm: float
    may_high_mm: float
    girth_per_mm: float
    pull_kN: float
    never_kN: float
    hold_s: float
    seam_deg: float
    index_deg: float
    table: tuple[StopRow, ...]
    cautions: tuple[tuple[str, str], ...]
    finding: Finding | None


def ring_of_serial(job: Job, serial: str) -> str:
    """The ring that a serial belongs to: as recorded, else by its first number.

    Raises
    ------
    InputError
        No ring of this liner; a serial that was scrapped, or that its weld lot rejects.
    """
    liner = job.current().liner
    rings = [ring.id for ring in liner.rings]
    there = store_of(job).find(Part, serial)
    if there is not None and there.thing.state == "scrapped":
        raise InputError("serial", serial, "", "of a ring that was not scrapped", "read the number on the ring again")
    if there is not None:
        if there.thing.part in rings:
            return there.thing.part
        raise InputError("serial", serial, "", f"of a ring; this is {there.thing.part}", "read the number again")
    head, dash, number = serial.partition("-")
    fitting = [ring for ring in rings if ring.rpartition("-")[2] == head]
    if not dash or not fitting or not number.isdigit() or len(number) > 4:
        known = ", ".join(f"{ring.rpartition('-')[2]}-01" for ring in rings)
        raise InputError("serial", serial[:40], "", f"a serial of this liner, such as {known}", "read the number again")
    return fitting[0]


def press_card(job: Job, serial: str) -> PressCard:
    """The card of one ring, as it stands now.

    Raises
    ------
    InputError
        No serial of this liner.
    """
    found: PressCard = job.remembered(("card", serial, job.state()), lambda: _card(job, serial))
    return found


def _card(job: Job, serial: str) -> PressCard:
    ring = ring_of_serial(job, serial)
    plan = job.plan(ring)
    control = plan.job.ring.controls[-1]
    read = reads_of(job, serial, control.name)
    target = _Target(plan, control, job)
    return target.card(serial, ring, read, _held(job, serial))


def reads_of(job: Job, serial: str, control: str) -> tuple[HitRead, ...]:
    """Every hit that was read and still stands, oldest first."""
    store = store_of(job)
    operations = {kept.id: kept.thing for kept in store.list(Operation, serial=serial)}
    loaded: dict[str | None, float | None] = {
        kept.thing.operation: kept.thing.value
        for kept in store.list(Reading, serial=serial, what="loaded", characteristic=control, standing="stands")
    }
    rows: list[HitRead] = []
    for kept in store.list(Reading, serial=serial, what="girth", characteristic=control, standing="stands"):
        reading = kept.thing
        done = operations.get(reading.operation or "")
        settings = dict(done.settings) if done is not None else {}
        stop = settings.get("stop_mm")
        if reading.value is not None:
            rows.append(
                HitRead(
                    kept.id,
                    len(rows) + 1,
                    reading.value,
                    loaded.get(reading.operation),
                    float(stop) if stop is not None else None,
                    reading.taken_by,
                    reading.taken_at.isoformat(),
                )
            )
    return tuple(rows)


def _held(job: Job, serial: str) -> tuple[str, str] | None:
    """State and reason of a ring that its weld lot holds back."""
    for verdict in verdicts(job):
        for ring in verdict.rings:
            if ring.serial == serial and ring.state != "released":
                return ring.state, f"lot {verdict.lot}: {ring.reason}"
    return None


class _Target:
    """A plan seen from the press: its stop table at one control size."""

    def __init__(self, plan: RingPlan, control: ControlSize, job: Job) -> None:
        self.plan, self.control, self.job = plan, control, job
        self.place = plan.job.ring.controls.index(control)
        self.word = control_word(control)
        self.drive: TaperDrive = plan.settings.drive
        self.hits = len(plan.settings.stops)
        self.hardening = expanders(job, plan.job.liner).hardening_share
        self.gain = same_ring_gain(0.075, 0.015)

    def figure(self, hit: int, what: str) -> float:
        """A figure of a planned hit."""
        return self.plan.figure(f"size/hit-{min(hit, self.hits)}/{what}").value

    def card(self, serial: str, ring: str, read: Sequence[HitRead], held: tuple[str, str] | None) -> PressCard:
        """The card after these readings."""
        finding = self._refusal(serial, held)
        stop, change, offered = self._next(read)
        finding = finding or offered
        loaded, free = self._at(stop, read)
        last = self.plan.figure(f"size/hit-{self.hits}/free-{self.word}").band
        half = 0.5 * (last.high - last.low) if last is not None else self.control.tolerance_mm
        if read:
            # what this ring has told of itself leaves the gauge and the landing
            half *= 1.0 - self.gain + 0.25
        springback = self.figure(len(read) + 1, "springback")
        sizing, limits = self.plan.sizing, self.plan.job.limits
        return PressCard(
            serial, ring, self.plan.job.liner.id, self.plan.job.liner.revision, self.plan.mark, self.control.name,
            f"{self.control.name.split('_')[0]} Ø", self.control.diameter_mm, self.control.tolerance_mm,
            sizing.segments.count, self._sets(), len(read) + 1, self.hits, tuple(read), stop, change, loaded, free,
            free - half, free + half,
            stop_change(self.gain, self.drive.half_angle_rad, self.drive.count, self.hardening),
            loaded - (1.0 + WINDOW) * springback, loaded - (1.0 - WINDOW) * springback,
            self.plan.figure("stop/girth-per-mm").value, self.plan.figure("press/pull").value,
            pull_never_above_kN(self.plan), limits.hold_s.value, self._seam(len(read)), 90.0 / sizing.segments.count,
            self._table(stop, read), self._cautions(held), finding,
        )  # fmt: skip

    def _refusal(self, serial: str, held: tuple[str, str] | None) -> Finding | None:
        if held is None or held[0] != "rejected":
            return None
        sentence = f"{serial} is rejected."
        return Finding("stop", sentence, "set it aside and take another ring", serial, "serial-rejected", held[1])

    def _next(self, read: Sequence[HitRead]) -> tuple[float, float | None, Finding | None]:
        """Stop of the next hit, how much further that is, and why none is offered."""
        stops = self.plan.settings.stops
        if not read:
            return stops[0].stop_mm, None, None
        last = read[-1]
        before = last.stop_mm if last.stop_mm is not None else stops[min(last.hit, self.hits) - 1].stop_mm
        loaded = last.loaded_mm if last.loaded_mm is not None else self._loaded(before)
        young = self.plan.job.metal.youngs_modulus_MPa
        predicted = young * self.figure(last.hit, "springback") / self.figure(last.hit, f"free-{self.word}")
        try:
            hit = Hit(loaded, last.free_mm, self.control.diameter_mm, self.control.tolerance_mm, predicted, young)
        except InputError as refused:
            finding = Finding("stop", str(refused), "read the ring again", self.control.name, "reading-impossible")
            return before, 0.0, finding
        found = next_hit(hit, self.drive, self.hardening, about=self.plan.job.ring.id)
        if found.finding is not None:
            return before, 0.0, found.finding
        return before + found.stop_mm, found.stop_mm, None

    def _loaded(self, stop: float) -> float:
        """Size on the segments at a stop, by the girth that a millimetre of pin adds."""
        rows = self.plan.sizing.table
        near = min(rows, key=lambda row: abs(row.stop_mm - stop))
        return near.loaded_mm[self.place] + (stop - near.stop_mm) * self.plan.figure("stop/girth-per-mm").value

    def _at(self, stop: float, read: Sequence[HitRead]) -> tuple[float, float]:
        """Loaded and free size to expect at a stop; a ring that was read is reckoned with its own springback."""
        loaded = self._loaded(stop)
        springback = self.figure(len(read) + 1, "springback")
        if read:
            last = read[-1]
            before = last.loaded_mm
            if before is None:
                before = self._loaded(last.stop_mm if last.stop_mm is not None else stop)
            springback = self.gain * (before - last.free_mm) + (1.0 - self.gain) * springback
        return loaded, loaded - springback

    def _table(self, stop: float, read: Sequence[HitRead]) -> tuple[StopRow, ...]:
        """Ten settings about the one to take."""
        low, high = (self.control.diameter_mm + s * self.control.tolerance_mm for s in (-1.0, 1.0))
        full = self.plan.sizing.table[-1].stop_mm
        rows = []
        for k in range(-5, 6):
            at = round(stop, 2) + 0.1 * k
            loaded, free = self._at(at, read)
            rows.append(
                StopRow(at, max(0.0, full - at), loaded, free, low <= free <= high, "this hit" if k == 0 else "")
            )
        return tuple(rows)

    def _seam(self, made: int) -> float:
        """Where the seam stands at the next hit: a quarter pitch, mirrored from hit to hit."""
        quarter = 90.0 / self.plan.sizing.segments.count
        return quarter if made % 2 == 0 else -quarter

    def _sets(self) -> tuple[SetShown, ...]:
        ring = self.plan.job.ring.id
        store = store_of(self.job)
        rows = []
        sets = [kept.thing for kept in store.list(Tool, what="segment set")]
        live = next((tool.id for tool in sets if tool.serves == ring and not tool.dead), "")
        for tool in sets:
            refusal, remedy = "", ""
            if tool.serves != ring:
                refusal, remedy = f"It is for {tool.serves}, not for {ring}.", f"take {live}"
            elif tool.dead:
                refusal, remedy = f"It is {tool.state}; {live or 'another set'} takes its place.", f"take {live}"
            elif tool.state in ("in design", "in making"):
                refusal, remedy = (
                    f"It is {tool.stage or tool.state}, not ready for the press.",
                    "wait until it is tried",
                )
            rows.append(SetShown(tool.id, tool.revision, tool.place, refusal, remedy))
        return tuple(sorted(rows, key=lambda row: (bool(row.refusal), row.id)))

    def _cautions(self, held: tuple[str, str] | None) -> tuple[tuple[str, str], ...]:
        """Cautions of sizing, and of this ring; (head, text)."""
        from hoopwright.papers.cautions import belonging

        rows = [(f.sentence, f.remedy) for f in self.plan.findings if f.topic in ("pin-release", "pull-over-machine")]
        if held is not None:
            rows.insert(0, (f"This ring is {held[0]}.", held[1]))
        return (*rows, *((caution.head, caution.text) for caution in belonging(["size"])))
