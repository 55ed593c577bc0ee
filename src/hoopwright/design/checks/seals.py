"""Ports, washers, spring plates and the slip joint: what must fit, cover, stay apart and stay open when hot."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

from hoopwright.cards.alloy import alloy
from hoopwright.cards.limits import HouseLimits
from hoopwright.design.checks.sheets import ROUNDING_MM
from hoopwright.design.shapes import EndPlate, Liner, Port, Ring, SpringPlate, TurbineNozzle, Washer
from hoopwright.errors import CardError, FileFaults, RangeError
from hoopwright.findings import Check, Finding, Level, judged, weakest


def seal_findings(liner: Liner, limits: HouseLimits, shop_folder: Path | None = None) -> Iterator[Finding]:
    """Findings of ports, seals and the aft slip joint."""
    plate = liner.end_plate
    if plate is not None:
        yield from _flat(liner, plate)
        if plate.port is not None:
            yield from _port(liner, plate, plate.port)
            if liner.washer is not None:
                yield from _washer(liner, plate.port, liner.washer, limits)
        if liner.spring_plate is not None:
            yield from _springs(liner, plate, liner.spring_plate)
    if liner.washer is not None and liner.nozzle is not None:
        bore, barrel = liner.washer.bore_mm, liner.nozzle.barrel_diameter_mm
        if bore <= barrel:
            yield _stop(liner, f"{liner.washer.id}: the least bore is {bore:g} mm, the largest barrel {barrel:g} mm.",
                        "open the bore of the washer", f"{liner.washer.id}/bore", "washer-bore")  # fmt: skip
    if liner.turbine_nozzle is not None:
        yield from _slip_joint(liner, liner.turbine_nozzle, shop_folder)
    yield from _paths(liner)


def _stop(liner: Liner, sentence: str, remedy: str, about: str, topic: str, level: Level = "stop") -> Finding:
    return Finding(level, sentence, remedy, about, topic, source=liner.source(about))


def flat_of(plate: EndPlate) -> tuple[float, float] | None:
    """Radii between which the section of the plate is flat: its longest upright line. [mm]"""
    upright = [s for s in plate.section if not s.is_arc and abs(s.end[0] - s.start[0]) <= ROUNDING_MM]
    if not upright:
        return None
    longest = max(upright, key=lambda s: s.length)
    return min(longest.start[1], longest.end[1]), max(longest.start[1], longest.end[1])


def pad_of(port: Port) -> tuple[float, float] | None:
    """Distances from the port axis between which the pad, the most forward upright line, is flat. [mm]"""
    upright = [s for s in port.section if not s.is_arc and abs(s.end[0] - s.start[0]) <= ROUNDING_MM]
    if not upright:
        return None
    forward = min(upright, key=lambda s: s.start[0])
    return min(forward.start[1], forward.end[1]), max(forward.start[1], forward.end[1])


def _flat(liner: Liner, plate: EndPlate) -> Iterator[Finding]:
    found = flat_of(plate)
    if found is None:
        yield _stop(liner, f"{plate.id}: the section has no flat across the axis.", "correct the section",
                    f"{plate.id}/flat", "plate-flat")  # fmt: skip
        return
    said = (plate.flat_from_r_mm, plate.flat_to_r_mm)
    if max(abs(a - b) for a, b in zip(found, said, strict=True)) > ROUNDING_MM:
        yield _stop(
            liner,
            f"{plate.id}: the flat of the section runs from r {found[0]:.3f} to {found[1]:.3f} mm; flat_from_r_mm and "
            f"flat_to_r_mm say {said[0]:g} and {said[1]:g} mm.",
            "correct the two radii, or the section",
            f"{plate.id}/flat",
            "plate-flat",
        )


def _port(liner: Liner, plate: EndPlate, port: Port) -> Iterator[Finding]:
    about = f"{plate.id}/port"
    low_z, low_rho, _, foot = port.section.bounds
    bore = 2.0 * (low_rho - 0.5 * plate.thickness_mm)
    if abs(bore - port.lip_bore_mm) > ROUNDING_MM:
        yield _stop(
            liner,
            f"{plate.id}: the port's section gives a bore of {bore:.3f} mm; lip_bore_mm is {port.lip_bore_mm:g} mm.",
            "correct lip_bore_mm, or the section",
            about,
            "port-bore",
        )
    if abs(-low_z - port.pad_height_mm) > ROUNDING_MM:
        yield _stop(
            liner,
            f"{plate.id}: the port's section stands {-low_z:.3f} mm forward; pad_height_mm is {port.pad_height_mm:g}.",
            "correct pad_height_mm, or the section",
            about,
            "pad-height",
        )
    arcs = [s for s in port.section if s.is_arc]
    end = max((point[1] for s in arcs for point in (s.start, s.end)), default=foot)
    yield from _inside_flat(liner, plate, end, "the foot of the pad", about)
    chord = 2.0 * liner.port_pitch_radius_mm * math.sin(math.pi / liner.ports) if liner.ports > 1 else math.inf
    if chord <= 2.0 * end:
        yield _stop(liner, f"{plate.id}: ports stand {chord:.2f} mm apart, the pads need {2.0 * end:.2f} mm.",
                    "use fewer ports, or a larger port circle", about, "ports-apart")  # fmt: skip


def _inside_flat(liner: Liner, plate: EndPlate, reach: float, what: str, about: str) -> Iterator[Finding]:
    low, high = liner.port_pitch_radius_mm - reach, liner.port_pitch_radius_mm + reach
    if low <= plate.flat_from_r_mm or high >= plate.flat_to_r_mm:
        yield _stop(
            liner,
            f"{plate.id}: {what} reaches from r {low:.2f} to {high:.2f} mm; the flat runs from "
            f"{plate.flat_from_r_mm:g} to {plate.flat_to_r_mm:g} mm.",
            "make it smaller, or the flat wider",
            about,
            "off-the-flat",
        )


def _washer(liner: Liner, port: Port, washer: Washer, limits: HouseLimits) -> Iterator[Finding]:
    pad = pad_of(port)
    if pad is None:
        yield _stop(liner, "The port's section has no flat pad.", "correct the section", f"{washer.id}/pad", "pad")
        return
    reach = 0.5 * washer.outside_diameter_mm
    ends = (
        ("inner", reach - washer.float_radial_max_mm - pad[0]),
        ("outer", pad[1] - reach - washer.float_radial_max_mm),
    )
    for name, left in ends:
        figure = limits.washer_overlap_min_mm
        check = Check(
            name=f"{washer.id}, overlap on the {name} edge of the pad at full float",
            value=round(left, 6),
            limit=figure.value,
            sense=">=",
            unit="mm",
            source=weakest([liner.source(f"{washer.id} and port"), figure.source]),
            level="stop" if left <= 0.0 else "caution",
            remedy="lessen float_radial_max_mm, or widen the pad on that side",
            about=f"{washer.id}/overlap-{name}",
        )
        sentence = (
            f"{washer.id}: at full float {left:.3f} mm of the pad is left on its {name} side; "
            f"the house limit is {figure.value:g} mm."
        )
        found = judged(check, sentence, "washer-overlap")
        if found is not None:
            yield found


def _springs(liner: Liner, plate: EndPlate, spring: SpringPlate) -> Iterator[Finding]:
    about = f"{spring.id}/feet"
    if liner.ports > 1:
        chord = 2.0 * liner.port_pitch_radius_mm * math.sin(math.pi / liner.ports)
        # rims a millimetre apart can be put in by hand: common practice, no source
        if chord <= 2.0 * spring.rim_rho_to_mm + 1.0:
            yield _stop(
                liner,
                f"{spring.id}: ports stand {chord:.2f} mm apart, rims need {2.0 * spring.rim_rho_to_mm + 1.0:.2f} mm.",
                "make the rim smaller",
                f"{spring.id}/rim",
                "springs-apart",
            )
        for angle in spring.legs_theta_local_deg:
            across = abs(math.sin(math.radians(angle))) * spring.foot_edge_rho_mm
            if across >= 0.5 * chord:
                yield _stop(liner, f"{spring.id}: the foot at {angle:g} deg reaches past the middle between two ports.",
                            "turn the legs, or bring the feet in", about, "springs-apart")  # fmt: skip
    for angle in spring.legs_theta_local_deg:
        along = math.cos(math.radians(angle)) * spring.foot_edge_rho_mm
        radius = liner.port_pitch_radius_mm + along
        if not plate.flat_from_r_mm < radius < plate.flat_to_r_mm:
            yield _stop(
                liner,
                f"{spring.id}: the foot at {angle:g} deg reaches r {radius:.2f} mm; the flat runs from "
                f"{plate.flat_from_r_mm:g} to {plate.flat_to_r_mm:g} mm.",
                "turn the legs, or bring the feet in",
                about,
                "off-the-flat",
            )


def last_outer_ring(liner: Liner) -> Ring | None:
    """The aft ring of the outer shell."""
    return max((ring for ring in liner.rings if ring.side == "outer"), key=lambda ring: ring.order, default=None)


def _slip_joint(liner: Liner, groove: TurbineNozzle, shop_folder: Path | None) -> Iterator[Finding]:
    """The radial gap of the outer shell in its groove in steady service."""
    ring = last_outer_ring(liner)
    if ring is None:
        return
    about = f"{ring.id}/slip-joint"
    outside = ring.section.end[1] + 0.5 * ring.thickness_mm
    try:
        grown = alloy(groove.material, shop_folder).thermal_growth_eng(groove.outer_groove_degC).value
        out = alloy(ring.material, shop_folder).thermal_growth_eng(ring.metal_degC).value
    except (CardError, RangeError, FileFaults) as problem:
        reason = str(problem).partition(" Do: ")[0]
        yield _stop(liner, f"{ring.id}: the hot gap of the slip joint is not known: {reason}",
                    "enter the expansion on a card of your own", about, "slip-joint-unknown", "caution")  # fmt: skip
        return
    hot = groove.outer_groove_cold_radial_gap_mm + groove.outer_groove_radius_mm * grown - outside * out
    # a sliding gap under 0.05 mm seizes on scale and out-of-round: common practice, no source
    if hot <= 0.05:
        yield _stop(
            liner,
            f"{ring.id}: the radial gap of the aft slip joint is {groove.outer_groove_cold_radial_gap_mm:g} mm cold "
            f"and {hot:.3f} mm in steady service; it must stay above 0.05 mm.",
            "open the cold gap",
            about,
            "slip-joint-closes",
        )
    yield _stop(
        liner,
        f"{ring.id}: the radial gap of the aft slip joint is {hot:.3f} mm in steady service; start-up and shut-down "
        "are not judged, the file gives no temperatures for them.",
        "ask the designer for metal temperatures through start-up and shut-down",
        about,
        "slip-joint-transient",
        "note",
    )


def _paths(liner: Liner) -> Iterator[Finding]:
    if liner.thermal is None:
        return
    for name, path in (("inner_path", liner.thermal.inner_path), ("outer_path", liner.thermal.outer_path)):
        total = math.fsum(link.length_mm for link in path)
        if abs(total - liner.length_mm) > 0.01:
            yield _stop(
                liner,
                f"{liner.id}: the links of {name} add up to {total:g} mm; the liner is {liner.length_mm:g} mm long.",
                "correct the lengths of the path",
                f"{liner.id}/{name}",
                "path-length",
                "caution",
            )
