"""Reading a liner file: every fault at once with its line, or the liner."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from hoopwright.cards.reading import with_lines
from hoopwright.design import shapes
from hoopwright.design.liner_meaning import known_names, meaning_faults, shop_folder_fault
from hoopwright.design.liner_schema import SCHEMA, EndPlateTable, LinerFile, RingTable
from hoopwright.design.mapping import as_shape
from hoopwright.design.opening import Opened, open_bytes, open_file, wrong_schema
from hoopwright.design.sections import SheetWords, mid_surface
from hoopwright.design.shape_faults import shape_faults, without_faulty
from hoopwright.design.shapes import Liner
from hoopwright.design.wishes import wish_quantities
from hoopwright.errors import CardError, Fault, FileFaults
from hoopwright.kernels.profile import Profile

PAGE = "docs/files/liner.md"
EARLIER = ("demo-liner-1",)

# What stands in for a faulty table that every liner must have, so that the rest of the file can still be looked at.
# A liner made with it is never handed on as read: it goes with its faults only.
_STAND_INS: Mapping[str, Any] = {
    "liner": {"id": "faulty", "revision": "0", "title": "", "invented": False, "length_mm": 1.0},
    "cards": {
        "limits": "house", "friction": "greased", "spread": "demo-spread", "roll": "demo-roll",
        "expander": "demo-expander", "press": "demo-press", "laser": "demo-laser", "wire": "demo-wire",
        "furnace": "demo-furnace",
    },
    "tolerances": {
        "circumference_diameter_mm": 1.0, "circumference_diameter_other_mm": 1.0,
        "roundness_restrained_radial_mm": 1.0, "roundness_free_state_radial_mm": 1.0, "profile_restrained_mm": 1.0,
        "edge_axial_position_mm": 1.0, "thickness_min_after_forming_mm": 1e-6,
    },
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Read:
    """What reading a file gave.

    liner : the liner; with faults, what of it could still be made sense of, for looking at only, or None.
    faults : in the order of their lines. cards_folder : the shop's own cards, as the file names them.
    """

    liner: Liner | None
    faults: tuple[Fault, ...]
    cards_folder: Path | None


def read_liner(path: Path, shop_folder: Path | None = None) -> Liner:
    """The liner of a file.

    Parameters
    ----------
    path : Path
        Liner file, schema `hoopwright-liner-1`.
    shop_folder : Path, optional
        The shop's own card folder; left out, the one that the file names in `cards.folder`.

    Raises
    ------
    FileFaults
        Every fault of the file, each with line, key, value, unit and remedy.
    """
    return _sound(look_at(path, shop_folder), str(path))


def liner_from_text(text: str, name: str, shop_folder: Path | None = None, folder: Path | None = None) -> Liner:
    """The liner of a text; `folder` is where its DXF files and cards lie. Raises FileFaults as `read_liner`."""
    return _sound(look_at_text(text.encode(), name, shop_folder, folder), name)


def look_at(path: Path, shop_folder: Path | None = None) -> Read:
    """The liner of a file beside all its faults; never raises for what stands in the file."""
    try:
        opened = open_file(path)
    except FileFaults as problem:
        return Read(None, problem.faults, shop_folder)
    return _look(opened, shop_folder, path.parent)


def look_at_text(content: bytes, name: str, shop_folder: Path | None = None, folder: Path | None = None) -> Read:
    """The same for a text in memory."""
    try:
        opened = open_bytes(content, name)
    except FileFaults as problem:
        return Read(None, problem.faults, shop_folder)
    return _look(opened, shop_folder, folder)


def cards_folder(path: Path) -> Path | None:
    """The shop's card folder that a liner file names; None where it names none. Raises FileFaults as `read_liner`."""
    found = look_at(path)
    _sound(found, str(path))
    return found.cards_folder


def _sound(found: Read, name: str) -> Liner:
    if found.faults or found.liner is None:
        raise FileFaults(name, found.faults)
    return found.liner


def _look(opened: Opened, shop_folder: Path | None, folder: Path | None) -> Read:
    other = wrong_schema(opened, SCHEMA, PAGE, EARLIER)
    if other is not None:
        return Read(None, tuple(with_lines([other], opened.text)), shop_folder)
    file, faults = _shape(opened.data)
    if file is None:
        return Read(None, tuple(with_lines(faults, opened.text)), shop_folder)
    cards, card_faults = _own_cards(file.cards.folder, shop_folder, folder)
    faults += card_faults
    try:
        stood_in = {fault.key.partition(".")[0] for fault in faults} & set(_STAND_INS)
        meant = meaning_faults(file, known_names(opened.data, cards))
        faults += [fault for fault in meant if fault.key.partition(".")[0] not in stood_in]
    except FileFaults as problem:
        return Read(None, (*with_lines(faults, opened.text), *of_another_file(problem)), cards)
    liner, section_faults = _assembled(file, Places(folder, cards, _numbers(opened.data, file)))
    faults += section_faults
    return Read(liner, tuple(with_lines(faults, opened.text)) if faults else (), cards)


def of_another_file(problem: FileFaults) -> tuple[Fault, ...]:
    """Faults of a file that a liner file draws on, such as a card: the key says which file and line."""
    return tuple(
        replace(fault, key=f"{problem.path}{_line_words(fault)}: {fault.key}", line=None) for fault in problem.faults
    )


def _line_words(fault: Fault) -> str:
    return "" if fault.line is None else f" line {fault.line}"


def _shape(data: Mapping[str, Any]) -> tuple[LinerFile | None, list[Fault]]:
    """The well-shaped file, or what of it is well shaped, with the faults of the rest."""
    try:
        return LinerFile.model_validate(data), []
    except ValidationError as problem:
        faults = shape_faults(problem, LinerFile, PAGE)
        rest = without_faulty(problem, data)
    for name, table in _STAND_INS.items():
        rest.setdefault(name, table)
    try:
        return LinerFile.model_validate(rest), faults
    except ValidationError:
        return None, faults


def _own_cards(named: str, shop_folder: Path | None, folder: Path | None) -> tuple[Path | None, list[Fault]]:
    if shop_folder is not None or not named:
        return shop_folder, []
    inside = Path(named)
    if inside.is_absolute() or ".." in inside.parts:
        fault = Fault("cards.folder", f'"{named}"', "", "beside or below the liner file", "move the folder there")
        return None, [fault]
    if folder is None or not (folder / inside).is_dir():
        return None, [shop_folder_fault(CardError("there is no such folder"), named)]
    return folder / inside, []


@dataclass(frozen=True, slots=True)
class Places:
    """Where things lie: the liner file's folder, the shop's cards, and the place of each ring in the file (from 1)."""

    folder: Path | None
    cards: Path | None
    numbers: tuple[int, ...]


def _numbers(data: Mapping[str, Any], file: LinerFile) -> tuple[int, ...]:
    """Place in the file of each ring that was kept: rings with faults of shape are no longer in the list."""
    entries = list(data["ring"])
    kept: list[int] = []
    for ring in file.ring:
        after = kept[-1] if kept else 0
        kept.append(next(n for n, raw in enumerate(entries, 1) if n > after and _same_ring(raw, ring)))
    return tuple(kept)


def _same_ring(raw: Any, ring: RingTable) -> bool:
    return isinstance(raw, dict) and raw.get("id") == ring.id and raw.get("order") == ring.order


def _assembled(file: LinerFile, places: Places) -> tuple[Liner | None, list[Fault]]:
    faults: list[Fault] = []
    rings = []
    for number, table in zip(places.numbers, file.ring, strict=True):
        sheet = SheetWords(
            f"ring[{number}].section", table.thickness_mm, table.material, 0, places.folder, places.cards
        )
        section = mid_surface(table.section, sheet)
        if isinstance(section, Profile):
            section = _place_faults(section, sheet) or section
        if isinstance(section, Profile):
            rings.append(_ring(table, section))
        else:
            faults += section
    plate, plate_faults = _end_plate(file.end_plate, places)
    faults += plate_faults
    return (_liner(file, tuple(rings), plate) if rings else None), faults


def _place_faults(section: Profile, sheet: SheetWords) -> list[Fault]:
    least = section.bounds[1]
    if least > 0.5 * sheet.thickness_mm:
        return []
    must = "outside the axis by more than half the thickness"
    return [Fault(sheet.key, f"at a radius of {least:g}", "mm", must, "give points as [z, r] in mm, r from the axis")]


def _ring(table: RingTable, section: Profile) -> shapes.Ring:
    return as_shape(shapes.Ring, table, section=section)


def _end_plate(table: EndPlateTable | None, places: Places) -> tuple[shapes.EndPlate | None, list[Fault]]:
    if table is None:
        return None, []
    words = (table.thickness_mm, table.material, 1, places.folder, places.cards)
    section = mid_surface(table.section, SheetWords("end_plate.section", *words))
    faults = list(section) if isinstance(section, list) else []
    port = None
    if table.port is not None:
        line = mid_surface(table.port.section, SheetWords("end_plate.port.section", *words))
        if isinstance(line, list):
            faults += line
        else:
            port = as_shape(shapes.Port, table.port, section=line)
    if isinstance(section, list):
        return None, faults
    return as_shape(shapes.EndPlate, table, section=section, port=port), faults


def _liner(file: LinerFile, rings: tuple[shapes.Ring, ...], plate: shapes.EndPlate | None) -> Liner:
    head = {name: getattr(file.liner, name) for name in type(file.liner).model_fields}
    head["slip_joints"] = tuple(file.liner.slip_joints)
    units = wish_quantities()
    wished = [(name, getattr(file.process, name)) for name in units]
    wishes = tuple(shapes.Wish(name, value, units[name].unit) for name, value in wished if value is not None)
    return as_shape(Liner, file, rings=rings, end_plate=plate, wishes=wishes, **head)
