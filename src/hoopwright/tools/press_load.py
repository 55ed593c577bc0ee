"""Taper pin and press of one hit: forces, stroke, whether the pin lets go, what is stored, against the machine card."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.cards.friction import Friction
from hoopwright.cards.machines import Expander
from hoopwright.findings import Check, Figure, Finding, Input, Source, judged
from hoopwright.kernels.stored_energy import hoop_energy
from hoopwright.kernels.taper_drive import DriveForces, TaperDrive, drive_forces
from hoopwright.process.working import reckoned


@dataclass(frozen=True, slots=True)
class PressLoad:
    """What one set asks of the press. drive : pin and friction; forces : at full size."""

    drive: TaperDrive
    forces: DriveForces
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]

    def figure(self, ending: str) -> Figure:
        """The figure whose identity ends so ("pull")."""
        return next(figure for figure in self.figures if figure.identity.endswith("/" + ending))


@dataclass(frozen=True, slots=True)
class PressAsk:
    """What the press is asked for.

    part : drawing number. tension : of the whole section, in a gap. travel : radial,
    of the segments. springback_mm : on
    radius. half_angle_deg, release_margin_deg : of the pin, and the least by which it must pass the friction angle.
    """

    part: str
    count: int
    tension: Figure
    travel: Figure
    springback_mm: float
    half_angle_deg: Figure
    release_margin_deg: Figure


def press_load(ask: PressAsk, friction: Friction, machine: Expander) -> PressLoad:
    """Forces, stroke and findings of one segment set on one press.

    Raises
    ------
    InputError
        A drive that jams whatever the force.
    """
    drive = TaperDrive(ask.count, math.radians(ask.half_angle_deg.value), friction.mu_pin.value, friction.mu_base.value)
    forces = drive_forces(drive, ask.tension.value * 1e3)
    figures = _figures(ask, friction, drive, forces)
    by_end = {figure.identity.rpartition("/")[2]: figure for figure in figures}
    return PressLoad(drive, forces, tuple(figures), tuple(_findings(ask, machine, drive, by_end)))


def _count(ask: PressAsk) -> Input:
    return Input("N", "segments", float(ask.count), "", Source("derived", "segment set of this plan"))


def _figures(ask: PressAsk, friction: Friction, drive: TaperDrive, forces: DriveForces) -> list[Figure]:
    loads = _forces(ask, friction, drive, forces)
    return [*loads, *_way(ask, friction, drive), *_work(ask, forces, loads[0], loads[1])]


def _forces(
    ask: PressAsk, friction: Friction, drive: TaperDrive, forces: DriveForces
) -> tuple[Figure, Figure, Figure, Figure]:
    """Radial force, and the pin's pull to full size, to hold and to withdraw."""
    place, n = f"{ask.part}/press", _count(ask)
    angle, mu, base = (
        ask.half_angle_deg.as_input("a"),
        friction.mu_pin.as_input("mu"),
        friction.mu_base.as_input("mu_b"),
    )
    radial = reckoned(
        f"{place}/radial-sum",
        "radial force of all segments",
        forces.radial_sum_N * 1e-3,
        "kN",
        "2 N T sin ( 180 / N )",
        ask.tension.as_input("T"),
        n,
        digits=1,
    )
    f = radial.as_input("F")
    pull = reckoned(
        f"{place}/pull",
        "pin pull, to full size",
        forces.pull_N * 1e-3,
        "kN",
        "F tan ( a + atan mu ) / ( 1 - mu_b tan ( a + atan mu ) )",
        f,
        angle,
        mu,
        base,
        digits=1,
    )
    hold = reckoned(
        f"{place}/hold",
        "pin pull, to hold at size",
        forces.hold_N * 1e-3,
        "kN",
        "0 , the pin locks" if drive.self_locking else "F tan ( a - atan mu ) / ( 1 + mu_b tan ( a - atan mu ) )",
        f,
        angle,
        mu,
        base,
        digits=2,
    )
    withdraw = reckoned(
        f"{place}/withdraw",
        "force to pull the pin out",
        forces.withdraw_N * 1e-3,
        "kN",
        "F tan ( atan mu - a ) / ( 1 + mu_b tan ( atan mu - a ) )"
        if drive.self_locking
        else "0 , the pin comes by itself",
        f,
        angle,
        mu,
        base,
        digits=2,
    )
    return radial, pull, hold, withdraw


def _way(ask: PressAsk, friction: Friction, drive: TaperDrive) -> tuple[Figure, Figure]:
    """Stroke of the pin, and how far its angle stands above friction's."""
    place, angle = f"{ask.part}/press", ask.half_angle_deg.as_input("a")
    stroke = reckoned(
        f"{place}/stroke",
        "pin stroke, collapsed to full size",
        drive.stroke(ask.travel.value),
        "mm",
        "travel / tan a",
        ask.travel.as_input("travel"),
        angle,
        digits=1,
    )
    margin = reckoned(
        f"{place}/release-margin",
        "half angle above the friction angle",
        math.degrees(drive.release_margin_rad),
        "deg",
        "a - atan mu",
        angle,
        friction.mu_pin.as_input("mu"),
        digits=2,
    )
    return stroke, margin


def _work(ask: PressAsk, forces: DriveForces, radial: Figure, pull: Figure) -> tuple[Figure, Figure]:
    """Energy that the stretched ring stores, and the share of the pin's work that reaches it."""
    place = f"{ask.part}/press"
    spring = Input("u", "springback on radius", ask.springback_mm, "mm", Source("derived", "the walk of this plan"))
    stored = reckoned(
        f"{place}/stored-energy",
        "energy stored in the stretched ring",
        hoop_energy(ask.tension.value * 1e3, ask.springback_mm),
        "J",
        "pi T u",
        ask.tension.as_input("T"),
        spring,
        digits=1,
        note="pin and frame hold more, by their own stiffness",
    )
    yield_ = reckoned(
        f"{place}/efficiency",
        "work into the ring over work of the pin",
        100.0 * forces.efficiency,
        "pct",
        "100 F tan a / P",
        radial.as_input("F"),
        ask.half_angle_deg.as_input("a"),
        pull.as_input("P"),
        digits=0,
    )
    return stored, yield_


def _findings(ask: PressAsk, machine: Expander, drive: TaperDrive, by_end: dict[str, Figure]) -> list[Finding]:
    pull, stroke, withdraw, margin = (by_end[name] for name in ("pull", "stroke", "withdraw", "release-margin"))
    found: list[Finding | None] = [
        judged(
            Check(
                "the press pulls the pin in",
                pull.value,
                machine.pull_max_kN.value,
                "<=",
                "kN",
                machine.pull_max_kN.source,
                "stop",
                "lubricate pin and base, or size in a larger press",
                pull.identity,
            ),
            f"{ask.part} asks {pull.value:.1f} kN of the pin; the press gives {machine.pull_max_kN.value:g}.",
            "press-pull",
        ),
        judged(
            Check(
                "the press has the stroke",
                stroke.value,
                machine.stroke_max_mm.value,
                "<=",
                "mm",
                machine.stroke_max_mm.source,
                "stop",
                "turn the blank with spacers so that less travel is needed, or grind a wider pin angle",
                stroke.identity,
            ),
            f"{ask.part} asks {stroke.value:.1f} mm of pin stroke; the press has {machine.stroke_max_mm.value:g}.",
            "press-stroke",
        ),
        judged(
            Check(
                "the press pulls the pin out",
                withdraw.value,
                machine.retract_kN.value,
                "<=",
                "kN",
                machine.retract_kN.source,
                "stop",
                "grind a wider pin angle, or lubricate the pin",
                withdraw.identity,
            ),
            f"The pin of {ask.part} locks; {withdraw.value:.1f} kN pull it out and the press has "
            f"{machine.retract_kN.value:g}.",
            "press-retract",
        ),
    ]
    if drive.self_locking:
        sentence = f"The pin of {ask.part} locks with the ring stretched; its half angle is {-margin.value:.2f}° short."
        why = f"pulling it lifts the segments off the base; the ring holds {by_end['stored-energy'].value:.0f} J"
    else:
        sentence = f"The pin of {ask.part} will not let go reliably: {margin.value:.2f}° above the friction angle."
        why = f"friction varies; the stretched ring holds {by_end['stored-energy'].value:.0f} J"
    found.append(
        judged(
            Check(
                "the pin lets go by itself",
                margin.value,
                ask.release_margin_deg.value,
                ">=",
                "deg",
                ask.release_margin_deg.source,
                "caution",
                "fit the positive retract and a hold-down, and treat the set as loaded until slack is measured",
                margin.identity,
            ),
            sentence,
            "pin-release",
            why,
        )
    )
    return [finding for finding in found if finding is not None]
