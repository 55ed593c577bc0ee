"""What was done and read at a machine, taken into the records: once, however often it is sent."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass

from hoopwright.desk.page.job import Job
from hoopwright.desk.page.press import ring_of_serial
from hoopwright.desk.page.store import store_of
from hoopwright.errors import InputError, require_range
from hoopwright.records.making import Operation, Part, Reading, Tool

IDENTITY = re.compile(r"^[A-Za-z0-9-]{8,64}$")


@dataclass(frozen=True, slots=True)
class HitMade:
    """One hit as the press man entered it. id : made on the tablet; the same hit sent twice has the same.

    at : when, as the tablet's clock had it. over : he used a set that is refused, and says so.
    """

    id: str
    serial: str
    control: str
    segment_set: str
    stop_mm: float
    free_mm: float
    by: str
    at: dt.datetime
    gauge: str = ""
    part_degC: float = 20.0
    over: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of it. again : it was there already."""

    id: str
    again: bool
    pulse: int


def take_hit(job: Job, made: HitMade) -> Taken:
    """Take a hit into the records: operation and reading together, or neither.

    Raises
    ------
    InputError
        A serial or set that does not fit, or a size that is none.
    """
    ring = ring_of_serial(job, made.serial)
    if not IDENTITY.match(made.id):
        raise InputError("id", made.id[:80], "", "8 to 64 letters, digits and -", "send the tablet's own number")
    require_range("stop_mm", made.stop_mm, 0.0, 500.0, "mm")
    control = next((c for c in job.plan(ring).job.ring.controls if c.name == made.control), None)
    if control is None:
        known = ", ".join(c.name for c in job.plan(ring).job.ring.controls)
        raise InputError("control", made.control[:40], "", f"one of {known}", "take one of these")
    require_range("free_mm", made.free_mm, 0.9 * control.diameter_mm, 1.1 * control.diameter_mm, "mm")
    store = store_of(job)
    tool = store.find(Tool, made.segment_set)
    _refuse_set(made, ring, tool.thing if tool is not None else None)
    there = store.find(Reading, made.id)
    liner = job.current().liner
    operation = Operation(
        id=f"{made.id}.hit", serial=made.serial, step="sizing hit", tool=made.segment_set,
        settings=(("stop_mm", made.stop_mm), ("segment_set", made.segment_set)), done_by=made.by,
        note=("set used over its refusal; " if made.over else "") + made.note, done_at=made.at,
    )  # fmt: skip
    reading = Reading(
        id=made.id, liner=liner.id, what="girth", characteristic=made.control, unit="mm", value=made.free_mm,
        serial=made.serial, part=ring, operation=operation.id, gauge=made.gauge, part_degC=made.part_degC,
        held="free", taken_by=made.by, taken_at=made.at, note=made.note,
    )  # fmt: skip
    if there is not None:
        if there.thing.value == made.free_mm and there.thing.serial == made.serial:
            return Taken(made.id, True, job.pulse)
        raise InputError("id", made.id, "", "new, or the same hit again", "send it under a number of its own")
    with store.writing(made.by, "entered at the press") as write:
        if write.find(Part, made.serial) is None:
            write.add(
                Part(id=made.serial, liner=liner.id, part=ring, revision=liner.revision, note="entered at the press"),
                again_ok=True,
            )
        write.add(operation, again_ok=True)
        write.add(reading, again_ok=True)
    return Taken(made.id, False, job.changed())


def _refuse_set(made: HitMade, ring: str, tool: Tool | None) -> None:
    if tool is None:
        raise InputError(
            "segment_set", made.segment_set[:40], "", "a set of the register", "read the number on the set"
        )
    wrong = tool.serves != ring or tool.dead or tool.state in ("in design", "in making")
    if wrong and not made.over:
        what = f"{tool.id} ({tool.state}, for {tool.serves})"
        raise InputError(
            "segment_set", what, "", f"a live set for {ring}", "take the right set, or say that it was used"
        )


def undo(job: Job, identity: str, by: str) -> Taken:
    """Take back a reading: it stays in the records, superseded. The same undo sent twice is taken once."""
    store = store_of(job)
    seen = store.get(Reading, identity)
    if seen.thing.standing == "superseded":
        return Taken(identity, True, job.pulse)
    with store.writing(by, "taken back at the press") as write:
        write.change(seen, standing="superseded")
    return Taken(identity, False, job.changed())
