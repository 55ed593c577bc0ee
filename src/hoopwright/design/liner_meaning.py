"""What a well-shaped liner file must still be to make sense: parts that exist, names used once, cards there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from hoopwright.cards.library import list_cards
from hoopwright.design.liner_schema import LinerFile
from hoopwright.errors import CardError, Fault

CARD_KINDS = {"friction": "lubricant"}
TAKEN_NAMES = frozenset({"plan.json", "read-me.txt", "hot", "demo"})
"""What a plan's folder holds beside the folders of its rings."""
DEVICE_NAMES = frozenset({"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))})
"""Names that Windows keeps for devices and refuses to files."""


@dataclass(frozen=True, slots=True)
class Known:
    """Names that a file may use: numbers of its rings, of all parts that can be welded, and cards by kind."""

    rings: tuple[str, ...]
    parts: tuple[str, ...]
    cards: Mapping[str, tuple[str, ...]]


def known_names(data: Mapping[str, Any], shop_folder: Path | None) -> Known:
    """What the data of a file name, faulty parts included, so that one fault does not make others.

    Raises
    ------
    FileFaults
        A card of the shop's folder is faulty.
    CardError
        There is no such folder.
    """
    entries = data.get("ring", ())
    rings = (
        tuple(str(ring.get("id")) for ring in entries if isinstance(ring, Mapping)) if isinstance(entries, list) else ()
    )
    plate = data.get("end_plate")
    parts = (*rings, str(plate.get("id"))) if isinstance(plate, Mapping) else rings
    cards: dict[str, tuple[str, ...]] = {}
    for card in list_cards(shop_folder):
        cards[card.kind] = (*cards.get(card.kind, ()), card.id)
    return Known(rings, parts, cards)


def meaning_faults(file: LinerFile, known: Known) -> Iterator[Fault]:
    """Every fault of a well-shaped file except those of its sections; lines are added by the reader."""
    yield from _repeats(file)
    yield from _folder_names(file)
    yield from _references(file, known)
    yield from _card_faults(file, known)
    yield from _ports(file)
    yield from _orders(file)


def _repeats(file: LinerFile) -> Iterator[Fault]:
    parts = [(f"ring[{n}].id", ring.id) for n, ring in enumerate(file.ring, 1)]
    for name in ("end_plate", "washer", "spring_plate"):
        table = getattr(file, name)
        if table is not None:
            parts.append((f"{name}.id", table.id))
    yield from _doubled(parts, "a number no other part has", "give each part its own number")
    joints = [(f"joint[{n}].id", joint.id) for n, joint in enumerate(file.joint, 1)]
    yield from _doubled(joints, "a name no other joint has", "give each joint its own name")
    places = [(f"ring[{n}].order", f"{ring.side} {ring.order}") for n, ring in enumerate(file.ring, 1)]
    yield from _doubled(
        places, "a place no other ring of its shell has", "number the rings of a shell from forward aft"
    )
    controls = [(f"ring[{n}]", ring.control) for n, ring in enumerate(file.ring, 1)]
    if file.end_plate is not None:
        controls.append(("end_plate", file.end_plate.control))
    for key, sizes in controls:
        named = [(f"{key}.control[{m}].name", size.name) for m, size in enumerate(sizes, 1)]
        yield from _doubled(named, "a name no other size of this part has", "give each size its own name")


def _folder_names(file: LinerFile) -> Iterator[Fault]:
    """Each ring gets a folder of its own name: it must be one on every system, and none that the plan itself uses."""
    taken: set[str] = set()
    for number, ring in enumerate(file.ring, 1):
        name = ring.id.casefold()
        if name in TAKEN_NAMES or name.partition(".")[0] in DEVICE_NAMES or name.endswith("."):
            must = "a name that can be a folder of its own beside plan.json"
            yield Fault(f"ring[{number}].id", f'"{ring.id}"', "", must, "give the ring its drawing number")
        elif name in taken and ring.id not in {other.id for other in file.ring[: number - 1]}:
            must = "a name no other part has, capitals and small letters taken as one"
            yield Fault(f"ring[{number}].id", f'"{ring.id}"', "", must, "give each part its own number")
        taken.add(name)


def _doubled(named: list[tuple[str, str]], must: str, remedy: str) -> Iterator[Fault]:
    counts = Counter(name for _, name in named)
    seen: set[str] = set()
    for key, name in named:
        if counts[name] > 1 and name in seen:
            yield Fault(key, f'"{name}"', "", must, remedy)
        seen.add(name)


def _references(file: LinerFile, known: Known) -> Iterator[Fault]:
    for n, joint in enumerate(file.joint, 1):
        yield from unknown_name(f"joint[{n}].outer", joint.outer, known.parts, "a ring or the end plate")
        yield from unknown_name(f"joint[{n}].inner", joint.inner, known.parts, "a ring or the end plate")
        if joint.outer == joint.inner:
            must = "another part than the outer one"
            yield Fault(f"joint[{n}].inner", f'"{joint.inner}"', "", must, "name the part that lies inside")
    for n, holes in enumerate(file.hole_pattern, 1):
        yield from unknown_name(f"hole_pattern[{n}].ring", holes.ring, known.rings, "a ring")
    if file.thermal is not None:
        for side in ("inner_path", "outer_path"):
            for n, link in enumerate(getattr(file.thermal, side), 1):
                key = f"thermal.{side}[{n}].part"
                yield from unknown_name(key, link.part, known.parts, "a ring or the end plate")
        for n, station in enumerate(file.thermal.station, 1):
            key = f"thermal.station[{n}].part"
            yield from unknown_name(key, station.part, known.parts, "a ring or the end plate")
        datum = file.thermal.datum_part
        if datum is not None:
            yield from unknown_name("thermal.datum_part", datum, known.parts, "a ring or the end plate")


def unknown_name(key: str, name: str, known: Iterable[str], what: str) -> Iterator[Fault]:
    """A fault where a name is none of those known."""
    choice = sorted(known)
    if name not in choice:
        near = get_close_matches(name, choice, n=2, cutoff=0.7)
        listed = ", ".join(choice) or "none"
        remedy = f"write {' or '.join(near)}" if near else "take one of these, or enter the missing one"
        yield Fault(key, f'"{name}"', "", f"{what} that there is: {listed}", remedy)


def _card_faults(file: LinerFile, known: Known) -> Iterator[Fault]:
    for name in type(file.cards).model_fields:
        if name != "folder":
            kind = CARD_KINDS.get(name, name)
            yield from _card(f"cards.{name}", getattr(file.cards, name), kind, known)
    for n, ring in enumerate(file.ring, 1):
        yield from _card(f"ring[{n}].material", ring.material, "alloy", known)
    for table in ("end_plate", "washer", "spring_plate", "turbine_nozzle"):
        part = getattr(file, table)
        if part is not None:
            yield from _card(f"{table}.material", part.material, "alloy", known)
    if file.nozzle is not None:
        yield from _card("nozzle.casing_material", file.nozzle.casing_material, "alloy", known)
        if file.nozzle.barrel_material is not None:
            yield from _card("nozzle.barrel_material", file.nozzle.barrel_material, "alloy", known)


def _card(key: str, name: str, kind: str, known: Known) -> Iterator[Fault]:
    for fault in unknown_name(key, name, known.cards.get(kind, ()), f"a card of kind {kind}"):
        remedy = fault.remedy if fault.remedy.startswith("write") else "take one of these, or enter a card of your own"
        yield Fault(fault.key, fault.value, fault.unit, fault.must, remedy)


def _ports(file: LinerFile) -> Iterator[Fault]:
    liner = file.liner
    if liner.ports and liner.port_pitch_radius_mm == 0.0:
        yield Fault(
            "liner.port_pitch_radius_mm", "0", "mm", "above 0 with ports", "enter the radius of the port circle"
        )
    has_ports = file.end_plate is not None and file.end_plate.port is not None
    if has_ports and not liner.ports:
        yield Fault(
            "liner.ports", "0", "", "1 or more: the end plate has [end_plate.port]", "enter the number of ports"
        )
    for table in ("washer", "spring_plate"):
        part = getattr(file, table)
        if part is not None and liner.ports and part.count != liner.ports:
            must = f"the number of ports, {liner.ports}"
            yield Fault(f"{table}.count", str(part.count), "", must, "correct the count, or liner.ports")
    spring = file.spring_plate
    if spring is not None and spring.fingers != len(spring.finger_theta_local_deg):
        must = f"the number of its angles, {len(spring.finger_theta_local_deg)}"
        yield Fault("spring_plate.fingers", str(spring.fingers), "", must, "correct the number, or the angles")


def _orders(file: LinerFile) -> Iterator[Fault]:
    """Pairs of values of which one must be the larger."""
    pairs: list[tuple[str, float, str, float]] = []
    if file.end_plate is not None:
        plate = file.end_plate
        pairs.append(("end_plate.flat_to_r_mm", plate.flat_to_r_mm, "flat_from_r_mm", plate.flat_from_r_mm))
    if file.spring_plate is not None:
        spring = file.spring_plate
        pairs.append(("spring_plate.rim_rho_to_mm", spring.rim_rho_to_mm, "rim_rho_from_mm", spring.rim_rho_from_mm))
        feet = spring.foot_weld_rho_mm
        pairs.append(("spring_plate.foot_edge_rho_mm", spring.foot_edge_rho_mm, "foot_weld_rho_mm", feet))
    if file.washer is not None:
        pairs.append(("washer.outside_diameter_mm", file.washer.outside_diameter_mm, "bore_mm", file.washer.bore_mm))
    for key, high, other, low in pairs:
        if high <= low:
            yield Fault(key, f"{high:g}", "mm", f"above {other}, {low:g}", "exchange the two, or correct one")
    for n, ring in enumerate(file.ring, 1):
        if ring.thickness_mm < file.tolerances.thickness_min_after_forming_mm:
            least = file.tolerances.thickness_min_after_forming_mm
            must = f"at least tolerances.thickness_min_after_forming_mm, {least:g}"
            yield Fault(f"ring[{n}].thickness_mm", f"{ring.thickness_mm:g}", "mm", must, "correct one of the two")


def shop_folder_fault(problem: CardError, folder: str) -> Fault:
    """The fault of a card folder that is not there."""
    reason = str(problem).partition(" Do: ")[0]
    return Fault(
        "cards.folder", f'"{folder}"', "", f"a folder beside the liner file ({reason})", "make it, or remove the key"
    )
