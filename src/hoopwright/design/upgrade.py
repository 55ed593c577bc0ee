"""Any earlier format into today's files, with everything that had to be assumed on the way.

Numbers are carried over as they stand: nothing is rounded, closed up or converted.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from pydantic import ValidationError

from hoopwright.cards.reading import card_from_text, with_lines
from hoopwright.design import changes, readings, register
from hoopwright.design.liner_schema import SCHEMA, LinerFile
from hoopwright.design.liner_writing import NOTICE, liner_file_text
from hoopwright.design.opening import Opened, open_bytes
from hoopwright.design.shape_faults import shape_faults
from hoopwright.design.upgrades.demo_liner_1_cards import cards_of
from hoopwright.design.upgrades.demo_liner_1_keys import one_form, place_in_file
from hoopwright.design.upgrades.demo_liner_1_liner import OPERATING, liner_data
from hoopwright.design.upgrades.demo_liner_1_rest import changes_of, readings_of, register_of
from hoopwright.design.upgrades.demo_liner_1_schema import OldFile
from hoopwright.errors import Fault, FileFaults

CURRENT = (SCHEMA, register.SCHEMA, readings.SCHEMA, changes.SCHEMA)
EARLIER = ("demo-liner-1",)
PAGE = "docs/files/liner.md"


@dataclass(frozen=True, slots=True)
class UpgradeResult:
    """New files by their path below the new folder ("liner.toml", "cards/HD-400-roll.toml"), and what was assumed."""

    files: Mapping[str, str]
    assumed: tuple[str, ...]


def upgrade_text(text: str, name: str = "text") -> UpgradeResult:
    """Today's files from the text of an earlier format.

    Raises
    ------
    FileFaults
        The text is of no earlier format, or faulty in it: every fault with line, key, value, unit and remedy.
    """
    opened = open_bytes(text.encode(), name)
    if opened.schema in CURRENT:
        must = "an earlier schema: " + ", ".join(EARLIER)
        fault = Fault("schema", f'"{opened.schema}"', "", must, "use the file as it is; it is of today's format")
        raise FileFaults(name, with_lines([fault], opened.text))
    if opened.schema not in EARLIER:
        shown = f'"{opened.data["schema"]}"' if "schema" in opened.data else "missing"
        fault = Fault("schema", shown, "", "one of " + ", ".join(EARLIER), "correct the word, or enter the file anew")
        raise FileFaults(name, with_lines([fault], opened.text))
    return _from_demo_liner_1(opened)


def _from_demo_liner_1(opened: Opened) -> UpgradeResult:
    data, renamed = one_form(opened.data)
    try:
        old = OldFile.model_validate(data)
    except ValidationError as problem:
        _refuse(opened, shape_faults(problem, OldFile, "the demonstration's file"), renamed)
        raise
    _refuse(opened, _own_faults(old), renamed)
    invented = old.measured.invented if old.measured is not None else False
    cards = cards_of(old, invented)
    liner = liner_data(old, dict(cards.chosen), invented)
    assumed = (*_assumed(old, invented), *cards.assumed)
    files = {"liner.toml": liner_file_text(liner, _head(old, invented, assumed))}
    if old.tool:
        files["register.toml"] = register.write_register(register_of(old, invented))
    if old.measured is not None:
        files["readings.toml"] = readings.write_readings(readings_of(old, old.measured, invented))
    if old.change:
        files["changes.toml"] = changes.write_changes(changes_of(old, invented))
    files |= cards.files
    _refuse(opened, _faults_of_result(liner, files), {})
    return UpgradeResult(files, assumed)


def _refuse(opened: Opened, faults: Iterable[Fault], renamed: Mapping[str, str]) -> None:
    placed = [replace(fault, key=place_in_file(fault.key, renamed)) for fault in faults]
    if placed:
        raise FileFaults(opened.name, with_lines(placed, opened.text))


def _own_faults(old: OldFile) -> list[Fault]:
    """What the shape of the old format cannot say."""
    given = [key for key in OPERATING if getattr(old.liner, key) is not None]
    faults = [
        Fault(f"liner.{key}", "missing", "", f"there beside {given[0]}", "enter it, or remove the operating point")
        for key in OPERATING
        if given and key not in given
    ]
    for name, change in old.change.items():
        if change.start_date is not None and not _is_day(change.start_date):
            must = "a day of the calendar, as 2031-03-03"
            faults.append(Fault(f"change.{name}.start_date", f'"{change.start_date}"', "", must, "correct the date"))
    return faults


def _is_day(text: str) -> bool:
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _faults_of_result(liner: Mapping[str, object], files: Mapping[str, str]) -> list[Fault]:
    """Values that the old format let pass and today's does not, under today's keys."""
    faults: list[Fault] = []
    try:
        LinerFile.model_validate(liner)
    except ValidationError as problem:
        faults += shape_faults(problem, LinerFile, PAGE)
    for path, text in files.items():
        if path.startswith("cards/"):
            try:
                card_from_text(text.encode(), path)
            except FileFaults as problem:
                faults += [replace(fault, key=f"{path}: {fault.key}", line=None) for fault in problem.faults]
    for path, read in (("readings.toml", readings.read_readings), ("register.toml", register.read_register),
                       ("changes.toml", changes.read_changes)):  # fmt: skip
        try:
            read(files[path], path) if path in files else None
        except FileFaults as problem:
            faults += [replace(fault, key=f"{path}: {fault.key}", line=None) for fault in problem.faults]
    return faults


def _assumed(old: OldFile, invented: bool) -> tuple[str, ...]:
    said = [
        "sections are mid-surfaces, cold, at 20 degC (the format says so)",
        "control sizes are circumference diameters, judged on the restrained part, at 20 degC",
    ]
    if old.measured is None:
        said.append("the liner is real (invented = false): the file has no [measured] that says otherwise")
    else:
        said.append(f"the whole file is {'invented' if invented else 'real'}, as [measured] says of itself")
    if old.process.prior_plastic_strain is not None:
        said.append(
            f"prior_plastic_strain = {old.process.prior_plastic_strain:g} is not carried over: the strain into sizing "
            "is reckoned station by station; a shop's own value goes to prior_strain_log of a ring"
        )
    if old.process.min_hoop_stretch is not None:
        said.append("min_hoop_stretch is the least stretch and the stretch planned: stretch_min_eng, stretch_plan_eng")
    if any(value is not None for _, value in old.process.edge_strain_allow):
        said.append("edge_strain_allow holds natural strains")
    if old.end_plate is not None and old.end_plate.port is not None:
        said.append("lip_bore_tol is plus or minus, like every tol of the format")
    return (*said, *_assumed_of_the_shop(old))


def _assumed_of_the_shop(old: OldFile) -> list[str]:
    said: list[str] = []
    unknown = sorted({tool.stage for tool in register_of(old, False).tools if tool.stage})
    if unknown:
        said.append(f"tools that are {'; '.join(unknown)} are in making, with these words as their stage")
    if old.measured is not None and old.measured.sizing:
        said.append("in sizing readings the control size is the one that the keys name")
    return said


def _head(old: OldFile, invented: bool, assumed: Iterable[str]) -> list[str]:
    head = [f"Liner {old.liner.id}, revision {old.liner.revision}, upgraded from schema demo-liner-1."]
    head += [NOTICE] if invented else []
    return [*head, "", "Assumed on the way:", *(f"- {line}" for line in assumed)]
