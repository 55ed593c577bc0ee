"""A file of readings (`hoopwright-readings-1`) taken into the records: parts, operations, readings, weld lots."""

from __future__ import annotations

from pathlib import Path

from hoopwright.design.readings import Readings, RoundnessReading, SizingReading, WeldLot, read_readings
from hoopwright.desk.in_force import revision_in_force
from hoopwright.errors import InputError
from hoopwright.records import Store, Writing
from hoopwright.records.making import Operation, Part, Reading, Tool
from hoopwright.records.material import Cast, Coupon, SourceFile, digest_of
from hoopwright.records.material import WeldLot as KeptLot

FROM_STOP = (("from", "stop"),)
"""Says that a loaded size was reckoned from the pin stop and not measured."""


def take_readings(store: Store, write: Writing, file: Path, _: Path | None) -> tuple[str, ...]:
    """Take every reading of a file; serials and casts that are new are entered with it."""
    content = file.read_bytes()
    readings = read_readings(file)
    digest = digest_of(content)
    there = write.find(SourceFile, digest)
    if there is not None:
        when = f"{there.entered_at:%Y-%m-%d %H:%M} by {there.entered_by}"
        raise InputError("file", file.name, "", f"new; it was taken {when}", "name the file with the new readings")
    revision = revision_in_force(store, readings.liner)
    taker = _Taker(write, readings, digest, revision.revision if revision is not None else "unknown")
    rows = sum(len(getattr(readings, name)) for name in ("sizing", "roundness", "fits", "sizes", "weld_lots"))
    write.add(SourceFile(id=digest, name=file.name[:255], size_bytes=len(content), holds="readings", rows=rows))
    # the seam is welded before the ring is sized: entered in this order, a genealogy reads as the walk went
    for lot in readings.weld_lots:
        taker.lot(lot)
    for sizing in readings.sizing:
        taker.sizing(sizing)
    for turn in readings.roundness:
        taker.roundness(turn)
    taker.laps()
    taker.lips()
    write.add_all(taker.found)
    return (
        f"{len(taker.found)} readings of {rows} entries",
        f"{taker.parts} serials and {taker.lots} weld lots entered",
    )


class _Taker:
    def __init__(self, write: Writing, readings: Readings, digest: str, revision: str) -> None:
        self.write, self.readings, self.digest, self.revision = write, readings, digest, revision
        self.found: list[Reading] = []
        self.parts = self.lots = 0

    def _serial(self, serial: str, ring: str) -> str:
        if self.write.find(Part, serial) is None:
            self.write.add(
                Part(id=serial, liner=self.readings.liner, part=ring, revision=self.revision, note="from readings")
            )
            self.parts += 1
        return serial

    def _tool(self, tool: str) -> str | None:
        return tool if self.write.find(Tool, tool) is not None else None

    def _add(self, what: str, characteristic: str, unit: str, **more: object) -> None:
        given = {"liner": self.readings.liner, "file": self.digest, "taken_by": self.write.by, **more}
        self.found.append(Reading(what=what, characteristic=characteristic, unit=unit, **given))  # type: ignore[arg-type]

    def sizing(self, read: SizingReading) -> None:
        """One hit: an operation, and what was read after it."""
        serial = self._serial(read.serial, read.ring)
        operation = self.write.add(
            Operation(
                id=f"{serial}.hit-{read.hit}",
                serial=serial,
                step=f"sizing hit {read.hit}",
                tool=self._tool(read.segment_set),
                settings=(("segment_set", read.segment_set),),
                done_by=self.write.by,
            )
        ).id
        more = {"serial": serial, "part": read.ring, "operation": operation, "note": read.name}
        self._add("girth", read.control, "mm", value=read.free_diameter_mm, held="free", **more)
        self._add("loaded", read.control, "mm", value=read.loaded_diameter_from_stop_mm, more=FROM_STOP, **more)
        self._add("thickness", read.control, "mm", value=read.thickness_mm, **more)

    def roundness(self, read: RoundnessReading) -> None:
        """One turn: angle and deviation by turns."""
        serial = self._serial(read.serial, read.ring)
        series = tuple(v for k, d in enumerate(read.deviation_mm) for v in (k * read.step_deg, d))
        more = (
            ("columns", "angle_deg deviation_mm"), ("station_z_mm", read.station_z_mm), ("face", read.face),
            ("theta_zero", read.theta_zero), ("segment_set", read.segment_set),
        )  # fmt: skip
        held = "free" if "free" in read.support else "restrained" if "restrained" in read.support else ""
        self._add(
            "roundness", f"z {read.station_z_mm:g} {read.face}", "mm", series=series, more=more, serial=serial,
            part=read.ring, tool=self._tool(read.segment_set), held=held, held_how=read.support, note=read.name,
        )  # fmt: skip

    def laps(self) -> None:
        """Faces of laps, and sizes that belong to none."""
        for fit in self.readings.fits:
            for name in ("inner_face_of_outer_part", "outer_face_of_inner_part"):
                self._add("lap", name, "mm", value=getattr(fit, f"{name}_mm"), joint=fit.joint)
        for size in self.readings.sizes:
            self._add("girth", size.feature, "mm", value=size.diameter_mm, part=size.part)

    def lot(self, lot: WeldLot) -> None:
        """A weld lot with its coupons; the rings welded with it as operations."""
        if self.write.find(Cast, lot.sheet_cast) is None:
            self.write.add(Cast(id=lot.sheet_cast, note="from readings"))
        self.write.add(KeptLot(id=lot.lot, cast=lot.sheet_cast, parent_tensile_MPa=lot.parent_tensile_MPa))
        self.lots += 1
        for coupon in lot.coupons:
            self.write.add(
                Coupon(
                    id=coupon.id,
                    lot=lot.lot,
                    tensile_MPa=coupon.tensile_MPa,
                    mismatch_mm=coupon.mismatch_mm,
                    underfill_mm=coupon.underfill_mm,
                    fracture=coupon.fracture,
                )
            )
        for ring in lot.rings:
            serial = self._serial(ring.serial, self._ring_of(ring.serial))
            there = self.write.find(Part, serial)
            if there is not None and there.thing.weld_lot is None:
                self.write.change(there, weld_lot=lot.lot, cast=lot.sheet_cast)
            names = ("mismatch_forward_mm", "mismatch_middle_mm", "mismatch_aft_mm", "length_cut_mm",
                     "circumference_after_weld_mm")  # fmt: skip
            settings = tuple((name, float(getattr(ring, name))) for name in names)
            self.write.add(
                Operation(
                    id=f"{serial}.closing-weld",
                    serial=serial,
                    step="closing weld",
                    settings=settings,
                    done_by=self.write.by,
                    note=f"lot {lot.lot}",
                )
            )

    def _ring_of(self, serial: str) -> str:
        """Ring of a serial that no other reading names: the liner's letters with the serial's first number."""
        letters = self.readings.liner.rpartition("-")[0]
        return f"{letters}-{serial.partition('-')[0]}" if letters else serial.partition("-")[0]

    def lips(self) -> None:
        """Port lips of a pressed end plate."""
        for lips in self.readings.port_lips:
            serial = self._serial(lips.serial, self._ring_of(lips.serial))
            more = (("pre_hole_edge", lips.pre_hole_edge), ("split_ports", " ".join(str(p) for p in lips.split_ports)))
            self._add("port-lips", "lip edge thickness", "mm", series=lips.lip_edge_thickness_mm, more=more,
                      serial=serial, part=self._ring_of(lips.serial), note=lips.name)  # fmt: skip
