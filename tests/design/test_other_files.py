"""Register, readings and changes: the demonstration's, and every fault of a broken one."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from hoopwright.design.changes import read_changes
from hoopwright.design.demo import demo_text
from hoopwright.design.plain_reading import repeated
from hoopwright.design.readings import read_readings
from hoopwright.design.register import read_register
from hoopwright.errors import FileFaults

REGISTER, READINGS, CHANGES = (demo_text(f"{name}.toml") for name in ("register", "readings", "changes"))


def test_register_of_the_demonstration() -> None:
    register = read_register(REGISTER)
    tools = {tool.id: tool for tool in register.tools}
    assert len(tools) == 22
    assert register.invented
    assert tools["HT-402-S0"].state == "superseded"
    assert (tools["HT-412-S"].state, tools["HT-412-S"].stage) == ("in making", "wire cut, not fitted")
    assert (tools["HT-400-P"].serves, tools["HT-400-P"].hits) == ("all rings", 96)


def test_readings_of_the_demonstration() -> None:
    readings = read_readings(READINGS)
    assert readings.sizing[0].control == "lip_od"
    assert readings.sizing[0].loaded_diameter_from_stop_mm == 248.372
    assert len(readings.roundness[0].deviation_mm) == 36
    assert [fit.joint for fit in readings.fits] == ["J1", "J2", "J3", "J4"]
    assert readings.sizes[0].diameter_mm == 190.78
    lot = readings.weld_lots[0]
    assert (lot.lot, len(lot.coupons), lot.coupons[2].tensile_MPa, len(lot.rings)) == ("W07", 6, 731.0, 3)
    assert readings.port_lips[0].split_ports == (2, 5, 8)


def test_changes_of_the_demonstration() -> None:
    change = read_changes(CHANGES).changes[0]
    assert (change.revision, change.ring, change.start_date) == ("B", "HD-403", datetime.date(2031, 3, 3))
    assert (change.new_sizes[0].feature, change.new_sizes[0].new_mm) == ("lip_mid_radius", 116.4)
    assert change.durations.new_segment_set_days == 15.0
    assert change.grinder_order[0] == "HT-403-S"


@pytest.mark.parametrize(
    ("read", "text", "old", "new", "key", "must"),
    [
        (read_register, REGISTER, "hits = 14", "hits = -1", "tool[1].hits", "0 or more"),
        (read_register, REGISTER, "hits = 14", "hits = true", "tool[1].hits", "a whole number"),
        (read_register, REGISTER, 'state = "proven"', 'state = "good"', "tool[1].state", "one of in design"),
        (read_register, REGISTER, 'id = "HT-402-R"', 'id = "HT-401-R"', "tool[2].id", "no other tool"),
        (read_register, REGISTER, "invented = true\n", "", "invented", "there"),
        (read_register, REGISTER, "serves = ", "for = ", "tool[1].for", "a key this table knows"),
        (read_register, REGISTER, "hoopwright-register-1", "demo-liner-1", "schema", "hoopwright-register-1"),
        (read_readings, READINGS, "hit = 1", "hit = 0", "sizing[1].hit", "1 or more"),
        (read_readings, READINGS, "247.48", "nan", "sizing[1].free_diameter_mm", "a finite number"),
        (read_readings, READINGS, "step_deg = 10.0", "step_deg = 11.0", "roundness[1].deviation_mm", "one full turn"),
        (read_readings, READINGS, '"J2"', '"J1"', "fit[2].joint", "no other fit"),
        (read_readings, READINGS, '"W07-2"', '"W07-1"', "weld_lot[1].coupon[2].id", "no other coupon"),
        (read_readings, READINGS, "[2, 5, 8]", "[2, 5, 18]", "port_lips[1].split_ports[3]", "at most 9"),
        (read_readings, READINGS, '"laser_as_cut"', '"sheared"', "port_lips[1].pre_hole_edge", "one of laser_as_cut"),
        (read_readings, READINGS, "mismatch_mm = 0.05, ", "", "weld_lot[1].coupon[1].mismatch_mm", "there, in mm"),
        (read_changes, CHANGES, "2031-03-03", '"2031-03-03"', "change[1].start_date", "a date"),
        (read_changes, CHANGES, "new_mm = 116.4", "new_mm = -1.0", "change[1].new_sizes[1].new_mm", "above 0"),
        (read_changes, CHANGES, "restretch_days", "restrech_days", "change[1].durations.restrech_days", "a key this"),
        (read_changes, CHANGES, 'schema = "hoopwright-changes-1"', "", "schema", "hoopwright-changes-1"),
    ],
)
def test_every_fault_by_key(
    read: Callable[[str, str], Any], text: str, old: str, new: str, key: str, must: str
) -> None:
    assert old in text
    with pytest.raises(FileFaults) as caught:
        read(text.replace(old, new, 1), "broken.toml")
    found = [fault for fault in caught.value.faults if fault.key == key]
    assert found, str(caught.value)
    assert must in found[0].must and found[0].remedy
    assert found[0].line is not None or "schema" in key or key == "invented"


def test_a_misspelt_key_says_what_was_meant() -> None:
    with pytest.raises(FileFaults, match="write restretch_days, or remove it"):
        read_changes(CHANGES.replace("restretch_days", "restrech_days"))


def test_files_that_are_not_there(tmp_path: Path) -> None:
    for read in (read_register, read_readings, read_changes):
        with pytest.raises(FileFaults, match="missing"):
            read(tmp_path / "none.toml")


def test_files_on_disk(tmp_path: Path) -> None:
    (tmp_path / "register.toml").write_text(REGISTER, encoding="utf-8")
    assert read_register(tmp_path / "register.toml") == read_register(REGISTER)


def test_repeated_names() -> None:
    assert [fault.key for fault in repeated([("a", "x"), ("b", "y"), ("c", "x"), ("d", "x")], "thing")] == ["c", "d"]
