"""Figures of one hit on real segments: sizes, roundness, strain, contact, drive; each with its working."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.findings import Figure, Input
from hoopwright.kernels.line_contact import contact_modulus, line_contact
from hoopwright.kernels.stored_energy import hoop_energy
from hoopwright.kernels.taper_drive import DriveForces, drive_forces
from hoopwright.process.face_radius import radius_at
from hoopwright.process.hooping.measures import Round, equivalent_tension, held_peak_to_valley
from hoopwright.process.hooping.operation import Hooped, HoopedHit, SizeOnSegments
from hoopwright.process.shop import ShopCard
from hoopwright.process.size_figures import control_word
from hoopwright.process.working import reckoned, stated

RUN = "hoop run"


def size_figures(place: str, hit: HoopedHit, operation: SizeOnSegments, card: ShopCard) -> list[Figure]:
    """Control sizes on and off the segments: what the section does, and what the segments add."""
    found = []
    rows = (("loaded", hit.loaded, hit.added_loaded_mm), ("free", hit.free, hit.added_free_mm))
    for control in operation.controls:
        said = control.name.replace("_", " ")
        for word, workpiece, added in rows:
            value = 2.0 * radius_at(workpiece, control.z_mm, control.face)
            state = "on the segments" if word == "loaded" else "free"
            plain = Input("D_round", f"the same on a round tool, {state}", value - added, "mm", card.ground)
            more = Input("segments", "what segments, friction, seam and oval add", added, "mm", card.ground)
            found.append(
                reckoned(
                    f"{place}/{word}-{control_word(control)}",
                    f"{said}, {state}",
                    value,
                    "mm",
                    "D_round + segments",
                    plain,
                    more,
                    note=f"{control.face} face at z {control.z_mm:g}, as a girth tape reads",
                )
            )
    return found


def roundness_figures(place: str, hit: HoopedHit, card: ShopCard) -> list[Figure]:
    """Lobes, flats, what is left of the oval, peak to valley."""
    free = hit.hoop.free

    def told(word: str, name: str, value: float, note: str = "") -> Figure:
        return stated(f"{place}/{word}", name, value, "mm", card.ground, 3, note)

    lobe_note = "above 0 with crests over segment middles, below 0 over slots"
    return [
        told("peak-to-valley", "free, largest less smallest radius", free.peak_to_valley_mm),
        told(
            "held-peak-to-valley",
            "the same held round, without its two lobes",
            held_peak_to_valley(free),
            "estimate: a plug presses two lobes out of a thin ring",
        ),
        told("lobes", "lobes of the segments left, amplitude", free.lobe_mm, lobe_note),
        told("flat", "deepest flat at a slot, free", float(free.flat_mm.max())),
        told("two-lobes", "two lobes left, amplitude", free.wave(2)),
        told("three-lobes", "three lobes left, amplitude", free.wave(3)),
    ]


def strain_figures(place: str, hit: HoopedHit, around: Round, card: ShopCard) -> list[Figure]:
    """Strain and thickness round the girth, peaks at slots and seam."""
    peak = around.peak
    parent = np.where(around.parent, around.strain_log, -np.inf)
    thin = np.where(around.parent, around.least_thickness_mm, np.inf)
    at = math.degrees(float(around.angle_rad[int(np.argmax(parent))]))
    found = [
        stated(
            f"{place}/strain-peak",
            "largest stretch beside the seam",
            100.0 * float(parent.max()),
            "pct",
            card.ground,
            2,
            f"at {at % 360.0:.0f} degrees from the middle of segment 1",
        ),
        stated(
            f"{place}/strain-least",
            "least stretch",
            100.0 * float(around.strain_log[around.parent].min()),
            "pct",
            card.ground,
            2,
        ),
        stated(
            f"{place}/thinnest",
            "least thickness round the ring, beside the seam",
            float(thin.min()),
            "mm",
            card.ground,
            4,
        ),
        stated(
            f"{place}/limit-used",
            "largest share of its strain limit used round the ring",
            float(around.share_pct[peak]),
            "pct",
            card.ground,
            0,
            "in the seam" if around.seam[peak] else "in the parent",
        ),
    ]
    if hit.hoop.loaded.weld_strain_log is not None:
        value = 100.0 * hit.hoop.loaded.weld_strain_log
        found.append(stated(f"{place}/seam-strain", "stretch of the seam", value, "pct", card.ground, 2))
    return found


def contact_figures(place: str, run: Hooped, hit: HoopedHit, card: ShopCard) -> list[Figure]:
    """Pressure on each segment, load and pressure along its edges."""
    load = hit.hoop.segments
    edge = stated(
        f"{place}/edge-load",
        "largest load along a segment's edge",
        float(load.edge_N_per_mm.max()),
        "N_per_mm",
        card.ground,
        1,
        "the string's T w / ( 2 R ) is less: beside a wide slot the ring lifts off before the edge",
    )
    radius = Input("r_e", "edge radius of the segments", run.tool.edge_radius_mm, "mm", card.ground)
    nu = Input("nu", "Poisson's ratio", card.metal.poisson, "", card.ground)
    pressure = line_contact(
        edge.value, run.tool.edge_radius_mm, contact_modulus(card.metal.youngs_modulus_MPa, card.metal.poisson)
    )
    return [
        stated(
            f"{place}/pressure", "pressure on a segment, mean", float(load.pressure_MPa.mean()), "MPa", card.ground, 2
        ),
        stated(
            f"{place}/segment-force",
            "largest radial force on a segment",
            float(load.force_N.max()) * 1e-3,
            "kN",
            card.ground,
            2,
            f"least {float(load.force_N.min()) * 1e-3:.2f}",
        ),
        edge,
        reckoned(
            f"{place}/edge-pressure",
            "peak pressure along a segment's edge",
            pressure.peak_pressure_MPa,
            "MPa",
            "sqrt ( q E / ( 2 ( 1 - nu ^ 2 ) pi r_e ) )",
            edge.as_input("q"),
            card.young_MPa.as_input("E"),
            nu,
            radius,
            digits=0,
            note="segments taken as stiff as the sheet",
        ),
    ]


def drive_figures(place: str, run: Hooped, hit: HoopedHit, operation: SizeOnSegments, card: ShopCard) -> list[Figure]:
    """Tension, pin pull to size, to hold and to withdraw, and what is stored."""
    tension = equivalent_tension(run, hit.number)
    forces = drive_forces(operation.drive, tension)
    pulled = stated(
        f"{place}/tension",
        "hoop tension, by the sum of all segment forces",
        tension * 1e-3,
        "kN",
        card.ground,
        2,
        f"over the slots {hit.hoop.gap_tension_N * 1e-3:.2f} mean",
    )
    sum_N = Input("F", "radial force of all segments", forces.radial_sum_N * 1e-3, "kN", card.ground)
    angle = Input("a", "half angle of the pin", math.degrees(operation.drive.half_angle_rad), "deg", card.ground)
    mu, base = card.friction.mu_pin.as_input("mu"), card.friction.mu_base.as_input("mu_b")
    spring = 0.5 * (hit.hoop.loaded.mean_diameter_mm - hit.hoop.free.mean_diameter_mm)
    return [
        pulled,
        _drive(f"{place}/pull", "pin pull, to this position", forces.pull_N, _PULL, sum_N, angle, mu, base),
        _drive(f"{place}/hold", "pin pull, to hold", forces.hold_N, _hold(forces), sum_N, angle, mu, base),
        _drive(
            f"{place}/withdraw", "force to pull the pin out", forces.withdraw_N, _out(forces), sum_N, angle, mu, base
        ),
        reckoned(
            f"{place}/stored-energy",
            "energy held by the ring",
            hoop_energy(tension, spring),
            "J",
            "pi T u",
            pulled.as_input("T"),
            Input("u", "springback on radius", spring, "mm", card.ground),
            digits=1,
        ),
    ]


_PULL = "F tan ( a + atan mu ) / ( 1 - mu_b tan ( a + atan mu ) )"


def _hold(forces: DriveForces) -> str:
    if forces.hold_N == 0.0:
        return "0 , the pin locks"
    return "F tan ( a - atan mu ) / ( 1 + mu_b tan ( a - atan mu ) )"


def _out(forces: DriveForces) -> str:
    if forces.withdraw_N == 0.0:
        return "0 , the pin comes by itself"
    return "F tan ( atan mu - a ) / ( 1 + mu_b tan ( atan mu - a ) )"


def _drive(identity: str, name: str, newton: float, formula: str, *inputs: Input) -> Figure:
    return reckoned(identity, name, newton * 1e-3, "kN", formula, *inputs, digits=2)
