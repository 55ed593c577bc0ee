"""Laps of a stack from the readings in the records: gaps, which rings to stretch, seams clear of ports and holes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from hoopwright.correct.fits import Expander, FitRule, Fits, choose_fits, controls_of_part, lap_control
from hoopwright.correct.seams import SeamCheck, check_seams
from hoopwright.correct.stock_choice import SerialChoice, Stocked, choose_for_liners, choose_serials
from hoopwright.design.readings import FitReading, Readings, SizeReading
from hoopwright.design.shapes import Joint, Liner
from hoopwright.desk.in_force import expectations, needed_liner
from hoopwright.desk.record_book import records
from hoopwright.desk.sizes import size_now
from hoopwright.errors import InputError
from hoopwright.records import Store
from hoopwright.records.making import Part, Reading

INNER, OUTER = "inner_face_of_outer_part", "outer_face_of_inner_part"
HALF_ANGLE_RAD, SEGMENTS, HARDENING = math.radians(7.0), 8, 0.017


@dataclass(frozen=True, slots=True)
class FitShown:
    """Fits of the laps, the seams against their rules, and where the readings came from."""

    fits: Fits
    seams: tuple[SeamCheck, ...]
    notes: tuple[str, ...]


def fit(
    address: str | Path | None,
    serials: tuple[str, ...] = (),
    rule: FitRule | None = None,
    face_sd_mm: float = 0.015,
    landing_sd_mm: float = 0.02,
) -> FitShown:
    """Gaps of every lap that is measured, and the stretches that mend them.

    Parameters
    ----------
    serials : parts of the stack; a lap of two of them is made from their own girths. Without, laps as read are taken.

    Raises
    ------
    InputError
        No lap is measured.
    """
    with records(address) as store:
        liner = needed_liner(store)
        laps, notes = _laps(store, liner, serials)
        sizes = _sizes(store, liner, serials)
        expanders = {ring.id: _expander(store, ring.id, notes) for ring in liner.rings}
    if not laps:
        raise InputError("laps", "none measured", "", "one or more", "enter the girths of both faces of each lap")
    readings = Readings(liner.id, liner.invented, fits=tuple(laps), sizes=tuple(sizes))
    found = choose_fits(liner, readings, expanders, rule, face_sd_mm, landing_sd_mm)
    return FitShown(found, check_seams(liner), tuple(dict.fromkeys(notes)))


@dataclass(frozen=True, slots=True)
class StackChoice:
    """Serials that make one stack, and the coupled stretches of those serials."""

    choice: SerialChoice
    fits: Fits


@dataclass(frozen=True, slots=True)
class StockShown:
    """Choices from the stock: fewest stretches first, or one a liner; left_out : serials that lack a size."""

    stacks: tuple[StackChoice, ...]
    left_out: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]


FREE_STATES = ("in work", "finished", "released")


def fit_from_stock(address: str | Path | None, liners: int = 1, rule: FitRule | None = None) -> StockShown:
    """Choose serials from everything that is measured and in no build.

    Parameters
    ----------
    liners : how many liners to make at once; one is chosen with stretches, several without.

    Raises
    ------
    InputError
        Nothing to choose from, or the measured parts do not form one stack.
    """
    notes: list[str] = []
    with records(address) as store:
        liner = needed_liner(store)
        stock, left_out = _stock(store, liner)
        expanders = {ring.id: _expander(store, ring.id, notes) for ring in liner.rings}
    if len({s.part for s in stock}) < 2:
        raise InputError("stock", len(stock), "serials", "two parts or more, measured", "enter their girths")
    choices = choose_serials(liner, stock, rule) if liners == 1 else choose_for_liners(liner, stock, liners, rule)
    of = {s.serial: s for s in stock}
    stacks = []
    for choice in choices:
        readings = _as_readings(liner, [of[serial] for serial in choice.serials])
        stacks.append(StackChoice(choice, choose_fits(liner, readings, expanders, rule)))
    return StockShown(tuple(stacks), left_out, tuple(dict.fromkeys(notes)))


def _stock(store: Store, liner: Liner) -> tuple[list[Stocked], tuple[tuple[str, str], ...]]:
    """Serials in no build with every size of their laps measured; the others with the size they lack."""
    needed: dict[str, set[str]] = {}
    for joint in liner.joints:
        for part, name in _lap_names(liner, joint):
            needed.setdefault(part, set()).add(name)
    stock, left_out = [], []
    for part, laps in needed.items():
        for kept in store.list(Part, part=part, state=FREE_STATES, build=None):
            names = [c.name for c in controls_of_part(liner, part)]
            sizes = {name: size for name in names if (size := size_now(store, kept.id, name)) is not None}
            lack = sorted(laps - set(sizes))
            if lack:
                left_out.append((kept.id, ", ".join(lack)))
            else:
                stock.append(Stocked(kept.id, part, sizes))
    return stock, tuple(left_out)


def _as_readings(liner: Liner, chosen: list[Stocked]) -> Readings:
    """Laps and other sizes of chosen serials."""
    of = {s.part: s for s in chosen}
    laps, used = [], set()
    for joint in liner.joints:
        if joint.outer in of and joint.inner in of:
            names = dict(_lap_names(liner, joint))
            used |= set(names.items())
            faces = [of[part].sizes[names[part]] for part in (joint.outer, joint.inner)]
            laps.append(FitReading(joint.id, *faces))
    sizes = [SizeReading(s.part, n, v) for s in chosen for n, v in s.sizes.items() if (s.part, n) not in used]
    return Readings(liner.id, liner.invented, fits=tuple(laps), sizes=tuple(sizes))


def _laps(store: Store, liner: Liner, serials: tuple[str, ...]) -> tuple[list[FitReading], list[str]]:
    notes: list[str] = []
    found = []
    of_part = {store.get(Part, serial).thing.part: serial for serial in serials}
    for joint in liner.joints:
        faces = _from_serials(store, liner, joint, of_part) if of_part else _as_read(store, joint)
        if faces is not None:
            found.append(FitReading(joint.id, *faces))
            if of_part:
                notes.append(f"{joint.id} from the girths of {of_part[joint.outer]} and {of_part[joint.inner]}")
    return found, notes


def _as_read(store: Store, joint: Joint) -> tuple[float, float] | None:
    """Newest reading of each face of a lap."""
    faces = []
    for name in (INNER, OUTER):
        newest = store.list(
            Reading, 1, newest_first=True, joint=joint.id, what="lap", characteristic=name, standing="stands"
        )
        if not newest or newest[0].thing.value is None:
            return None
        faces.append(newest[0].thing.value)
    return faces[0], faces[1]


def _from_serials(store: Store, liner: Liner, joint: Joint, of_part: dict[str, str]) -> tuple[float, float] | None:
    """Faces of a lap from the newest girths of the two serials that meet in it."""
    if joint.outer not in of_part or joint.inner not in of_part:
        return None
    faces = []
    for part in (joint.outer, joint.inner):
        control = lap_control(liner, part, joint)
        now = size_now(store, of_part[part], control.name)
        if now is None:
            must = f"measured on {of_part[part]} for {joint.id}"
            raise InputError(control.name, "not", "", must, "enter its girth: hoopwright read girth")
        faces.append(now)
    return faces[0], faces[1]


def _sizes(store: Store, liner: Liner, serials: tuple[str, ...]) -> list[SizeReading]:
    """Sizes that belong to no lap but move with a ring: of the serials, or those read of a part without one."""
    lap_names = {(p, c) for j in liner.joints for p, c in _lap_names(liner, j)}
    found = []
    asked: list[tuple[str, dict[str, str | None]]] = [
        (store.get(Part, s).thing.part, {"serial": s}) for s in serials
    ] or [(r.id, {"part": r.id, "serial": None}) for r in liner.rings]
    for part, where in asked:
        for control in liner.ring(part).controls if part in {r.id for r in liner.rings} else ():
            if (part, control.name) in lap_names:
                continue
            newest = _newest(store, control.name, where)
            if newest is not None:
                found.append(SizeReading(part, control.name, newest))
    return found


def _newest(store: Store, name: str, where: dict[str, str | None]) -> float | None:
    kept = store.list(
        Reading, 1, newest_first=True, what="girth", characteristic=name, standing="stands", **where  # type: ignore[arg-type]
    )  # fmt: skip
    return kept[0].thing.value if kept else None


def _lap_names(liner: Liner, joint: Joint) -> list[tuple[str, str]]:
    names = []
    for part in (joint.outer, joint.inner):
        try:
            names.append((part, lap_control(liner, part, joint).name))
        except InputError:
            continue
    return names


def _expander(store: Store, ring: str, notes: list[str]) -> Expander:
    """Press of a ring from its plan; where there is none, the shop's usual one, and that is said."""
    found = expectations(store, ring)
    if not found:
        notes.append(f"{ring}: no plan in the records, stops by half angle 7 deg and {SEGMENTS} segments")
        return Expander(HALF_ANGLE_RAD, SEGMENTS, HARDENING)
    e = found[-1]
    return Expander(math.atan(0.5 * e.across_per_mm), e.segments, 1.0 - e.free_per_mm / e.girth_per_mm)
