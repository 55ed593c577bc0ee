"""Readings as a file, schema `hoopwright-readings-1`: what was measured, before it is taken into a store.

Sizes are diameters in mm at 20 degC, strengths MPa.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from hoopwright.design.file_types import FaceWord, FromOne, Name, NotNegative, Number, Positive, Said, Table, key
from hoopwright.design.mapping import as_shape, as_table
from hoopwright.design.plain_reading import opened_from, refuse, repeated, validated
from hoopwright.design.toml_text import toml_text
from hoopwright.errors import Fault

SCHEMA = "hoopwright-readings-1"
PAGE = "docs/files/readings.md"
EdgeState = Literal["laser_as_cut", "laser_deburred_reamed", "machined"]


@dataclass(frozen=True, slots=True)
class SizingReading:
    """One hit on a segment set: a control size free and as the stop set it, thickness at that size."""

    name: str
    ring: str
    serial: str
    segment_set: str
    hit: int
    control: str
    free_diameter_mm: float
    loaded_diameter_from_stop_mm: float
    thickness_mm: float


@dataclass(frozen=True, slots=True)
class RoundnessReading:
    """Radial deviations round one circle, first at theta zero, then step by step."""

    name: str
    ring: str
    serial: str
    segment_set: str
    station_z_mm: float
    face: Literal["inside", "outside"]
    support: str
    theta_zero: str
    step_deg: float
    deviation_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class FitReading:
    """Circumference diameters of the two faces that meet in a lap."""

    joint: str
    inner_face_of_outer_part_mm: float
    outer_face_of_inner_part_mm: float


@dataclass(frozen=True, slots=True)
class SizeReading:
    """A circumference diameter that belongs to no lap."""

    part: str
    feature: str
    diameter_mm: float


@dataclass(frozen=True, slots=True)
class Coupon:
    """A tensile coupon across a weld."""

    id: str
    tensile_MPa: float
    mismatch_mm: float
    underfill_mm: float
    fracture: str


@dataclass(frozen=True, slots=True)
class LotRing:
    """A ring welded with a lot: mismatch at three places, length of the strip, circumference of the hoop."""

    serial: str
    mismatch_forward_mm: float
    mismatch_middle_mm: float
    mismatch_aft_mm: float
    length_cut_mm: float
    circumference_after_weld_mm: float


@dataclass(frozen=True, slots=True)
class WeldLot:
    """Coupons and rings of one weld lot."""

    name: str
    lot: str
    sheet_cast: str
    parent_tensile_MPa: tuple[float, ...]
    coupons: tuple[Coupon, ...]
    rings: tuple[LotRing, ...]


@dataclass(frozen=True, slots=True)
class PortLips:
    """Port lips of one pressed end plate, port 1 first; split_ports count from 1."""

    name: str
    serial: str
    pre_hole_edge: EdgeState
    split_ports: tuple[int, ...]
    lip_edge_thickness_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Readings:
    """Everything that one file of readings holds."""

    liner: str
    invented: bool
    sizing: tuple[SizingReading, ...] = ()
    roundness: tuple[RoundnessReading, ...] = ()
    fits: tuple[FitReading, ...] = ()
    sizes: tuple[SizeReading, ...] = ()
    weld_lots: tuple[WeldLot, ...] = ()
    port_lips: tuple[PortLips, ...] = ()


class SizingTable(Table):
    """One hit on a segment set."""

    name: Name = key("name of the reading")
    ring: Name = key("ring")
    serial: Name = key("serial number of the part")
    segment_set: Name = key("segment set it was stretched on")
    hit: FromOne = key("which hit, 1 the first")
    control: Name = key("control size that was measured")
    free_diameter_mm: Positive = key("size after the hit, ring off the segments")
    loaded_diameter_from_stop_mm: Positive = key("size under load, reckoned from the pin stop")
    thickness_mm: Positive = key("sheet thickness there")


class RoundnessTable(Table):
    """Radial deviations round one circle."""

    name: Name = key("name of the reading")
    ring: Name = key("ring")
    serial: Name = key("serial number of the part")
    segment_set: Name = key("segment set it was last stretched on")
    station_z_mm: Number = key("where the circle lies")
    face: FaceWord = key("face that was probed")
    support: Said = key("how the part stood")
    theta_zero: Said = key("what lies at the first reading")
    step_deg: Annotated[float, Field(gt=0.0, le=120.0, allow_inf_nan=False)] = key("angle from reading to reading")
    deviation_mm: Annotated[list[Number], Field(min_length=3, max_length=100_000)] = key(
        "radial deviations, one full turn"
    )


class FitTable(Table):
    """Circumference diameters of the two faces of a lap."""

    joint: Name = key("joint")
    inner_face_of_outer_part_mm: Positive = key("diameter of the inside face of the outer part")
    outer_face_of_inner_part_mm: Positive = key("diameter of the outside face of the inner part")


class SizeTable(Table):
    """A circumference diameter that belongs to no lap."""

    part: Name = key("part")
    feature: Name = key("control size")
    diameter_mm: Positive = key("diameter")


class CouponTable(Table):
    """A tensile coupon across a weld."""

    id: Name = key("name of the coupon")
    tensile_MPa: Positive = key("tensile strength")
    mismatch_mm: NotNegative = key("mismatch of the edges")
    underfill_mm: NotNegative = key("underfill")
    fracture: Said = key("where it broke")


class LotRingTable(Table):
    """A ring welded with a lot."""

    serial: Name = key("serial number of the part")
    mismatch_forward_mm: NotNegative = key("mismatch at the forward edge")
    mismatch_middle_mm: NotNegative = key("mismatch at the middle")
    mismatch_aft_mm: NotNegative = key("mismatch at the aft edge")
    length_cut_mm: Positive = key("length of the strip before welding")
    circumference_after_weld_mm: Positive = key("circumference after welding, on the same fibre")


class WeldLotTable(Table):
    """Coupons and rings of one weld lot."""

    name: Name = key("name of the reading")
    lot: Name = key("lot")
    sheet_cast: Name = key("cast of the sheet")
    parent_tensile_MPa: Annotated[list[Positive], Field(min_length=1, max_length=1000)] = key(
        "tensile strengths of the sheet itself"
    )
    coupon: Annotated[list[CouponTable], Field(max_length=1000)] = key("coupons")
    ring: Annotated[list[LotRingTable], Field(max_length=1000)] = key("rings of the lot", [])


class PortLipsTable(Table):
    """Port lips of one pressed end plate."""

    name: Name = key("name of the reading")
    serial: Name = key("serial number of the part")
    pre_hole_edge: EdgeState = key("how the edge of the pre-hole was made")
    split_ports: list[FromOne] = key("ports that split, port 1 is 1")
    lip_edge_thickness_mm: Annotated[list[Positive], Field(min_length=1, max_length=1000)] = key(
        "thickness of the lip's edge, port 1 first"
    )


class ReadingsFile(Table):
    """A whole file of readings."""

    schema_: Literal["hoopwright-readings-1"] = Field(alias="schema", description="`hoopwright-readings-1`")
    liner: Name = key("liner the readings belong to")
    invented: bool = key("true when nobody measured anything")
    sizing: list[SizingTable] = key("hits on segment sets", [])
    roundness: list[RoundnessTable] = key("roundness", [])
    fit: list[FitTable] = key("laps", [])
    size: list[SizeTable] = key("other diameters", [])
    weld_lot: list[WeldLotTable] = key("weld lots", [])
    port_lips: list[PortLipsTable] = key("port lips", [])


READING_LISTS = ("sizing", "roundness", "fit", "size", "weld_lot", "port_lips")


def read_readings(source: Path | str, name: str = "") -> Readings:
    """The readings of a file (a path) or of a text.

    Raises
    ------
    FileFaults
        Every fault of the file, each with line, key, value, unit and remedy.
    """
    opened = opened_from(source, name)
    file = validated(opened, SCHEMA, ReadingsFile, PAGE)
    refuse(opened, [*_names(file), *_turns(file), *_ports(file)])
    return as_shape(Readings, file)


def _names(file: ReadingsFile) -> Iterator[Fault]:
    for kind in ("sizing", "roundness", "weld_lot", "port_lips"):
        named = ((f"{kind}[{n}].name", entry.name) for n, entry in enumerate(getattr(file, kind), 1))
        yield from repeated(named, "reading of this kind")
    yield from repeated(((f"fit[{n}].joint", fit.joint) for n, fit in enumerate(file.fit, 1)), "fit")
    for n, lot in enumerate(file.weld_lot, 1):
        coupons = ((f"weld_lot[{n}].coupon[{m}].id", coupon.id) for m, coupon in enumerate(lot.coupon, 1))
        yield from repeated(coupons, "coupon of this lot")


def _turns(file: ReadingsFile) -> Iterator[Fault]:
    for n, reading in enumerate(file.roundness, 1):
        turn = reading.step_deg * len(reading.deviation_mm)
        if abs(turn - 360.0) > 1e-6 * 360.0:
            must = "one full turn: readings times step_deg is 360"
            remedy = "enter the missing readings, or correct step_deg"
            yield Fault(f"roundness[{n}].deviation_mm", f"{len(reading.deviation_mm)} readings", "", must, remedy)


def _ports(file: ReadingsFile) -> Iterator[Fault]:
    for n, lips in enumerate(file.port_lips, 1):
        ports = len(lips.lip_edge_thickness_mm)
        for m, port in enumerate(lips.split_ports, 1):
            if port > ports:
                must = f"at most {ports}, the number of thicknesses"
                yield Fault(f"port_lips[{n}].split_ports[{m}]", str(port), "", must, "correct one of the two")


def write_readings(readings: Readings) -> str:
    """Readings as the text of their file."""
    head = [f"Readings of liner {readings.liner}."]
    if readings.invented:
        head.append("All data in this file are invented for demonstration and test: nobody measured anything.")
    return toml_text({"schema": SCHEMA, **as_table(readings)}, head, READING_LISTS)
