"""The rings of one number: what was read of each, and whether it is in its drawing."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.desk.page.job import Job
from hoopwright.desk.page.store import store_of
from hoopwright.desk.page.welding import verdicts
from hoopwright.records.making import Part, Reading


@dataclass(frozen=True, slots=True)
class SerialShown:
    """One ring. said : where it stands. readings : kinds of reading taken of it."""

    serial: str
    said: str
    finished: bool
    roundness: bool


def serials(job: Job, ring: str) -> tuple[tuple[SerialShown, ...], str]:
    """Every ring of a number, and the serial that comes after them."""
    store = store_of(job)
    held = {r.serial: f"{r.state} by lot {v.lot}: {r.reason}" for v in verdicts(job) for r in v.rings}
    control = job.current().liner.ring(ring).controls
    last = control[-1] if control else None
    rows, most = [], 0
    for kept in store.list(Part, part=ring):
        serial = kept.id
        number = serial.rpartition("-")[2]
        most = max(most, int(number) if number.isdigit() else 0)
        read = [k.thing for k in store.list(Reading, serial=serial, standing="stands")]
        girths = [r for r in read if r.what == "girth" and last is not None and r.characteristic == last.name]
        said, finished = "no hit read yet", kept.thing.state in ("finished", "released", "scrapped")
        if girths and last is not None and girths[-1].value is not None:
            off = girths[-1].value - last.diameter_mm
            inside = abs(off) <= last.tolerance_mm
            wanted = f"{last.diameter_mm:.2f} ± {last.tolerance_mm:.2f}"
            said = f"hit {len(girths)}: {girths[-1].value:.2f}, {'in' if inside else 'not yet in'} {wanted}"
            finished = finished or inside
        if serial in held and "released by" not in held[serial]:
            said += f"; {held[serial]}"
        rows.append(SerialShown(serial, said, finished, any(r.what == "roundness" for r in read)))
    rows.sort(key=lambda row: row.serial)
    return tuple(rows), f"{ring.rpartition('-')[2]}-{most + 1:02d}"
