"""Operations that make a tool, with hours on each machine and their cost, all from the tool room's card."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.cards.toolroom import ToolRoom


@dataclass(frozen=True, slots=True)
class Work:
    """One operation on one tool. text : what the route card says."""

    number: int
    machine: str
    title: str
    text: str
    hours: float


@dataclass(frozen=True, slots=True)
class Amounts:
    """What a tool's making is reckoned from.

    turned_cm3 : metal off the lathe. ground_cm2 : profile ground. wire_cm2 : faces cut. steel_kg : bar bought.
    """

    turned_cm3: float
    ground_cm2: float
    wire_cm2: float
    steel_kg: float


@dataclass(frozen=True, slots=True)
class Cost:
    """Hours and cost of one tool, in the shop's own unit."""

    hours: float
    steel: float
    work: float

    @property
    def total(self) -> float:
        """All together."""
        return self.steel + self.work


def cost_of(works: tuple[Work, ...], amounts: Amounts, room: ToolRoom) -> Cost:
    """Cost of a tool."""
    hours = sum(work.hours for work in works)
    return Cost(hours, amounts.steel_kg * room.steel_per_kg.value, hours * room.rate_per_h.value)


def numbered(steps: list[tuple[str, str, str, float]]) -> tuple[Work, ...]:
    """Operations by tens, as route cards number them."""
    return tuple(
        Work(10 * k, machine, title, text, round(hours, 2)) for k, (machine, title, text, hours) in enumerate(steps, 1)
    )


def roll_works(amounts: Amounts, room: ToolRoom, hardness: str) -> tuple[Work, ...]:
    """Route of one roll."""
    setup = room.setup_h.value
    finish, profile = room.finish_stock_side_mm.value, room.roll_profile_mm.value
    return numbered(
        [
            (
                "lathe",
                "rough",
                "Rough turn and bore, profile included.",
                setup + amounts.turned_cm3 / room.turn_cm3_per_h.value,
            ),
            ("furnace", "stress relieve", "Stress relieve, slow cool.", 0.4 * room.heat_treat_h.value),
            (
                "lathe",
                "finish-turn",
                f"Finish turn; leave {finish:g} a side on profile, bore, faces (stock).",
                setup + 2.0,
            ),
            ("mill", "keyway", "Mill or broach the keyway; drill for lifting; stamp the number.", room.mill_h.value),
            (
                "furnace",
                "harden, temper",
                f"Harden, temper twice: {hardness} HRC (heat-treat order).",
                room.heat_treat_h.value,
            ),
            ("grinder", "bore and faces", "Grind bore, then both faces square to it in one setting.", setup + 2.0),
            (
                "grinder",
                "profile",
                f"Grind the profile from bore and face, ± {profile:g}; no burn.",
                setup + amounts.ground_cm2 / room.grind_cm2_per_h.value,
            ),
            (
                "bench",
                "polish",
                f"Polish along the rolling direction, Ra {room.roll_finish_um.value:g} or better; break edges.",
                2.0,
            ),
            (
                "gauge",
                "inspect",
                "Trace the profile, test hardness, record; etch number and revision.",
                room.inspect_h.value,
            ),
        ]
    )


def set_works(amounts: Amounts, room: ToolRoom, hardness: str, slot_mm: float, count: int) -> tuple[Work, ...]:
    """Route of a segment set."""
    setup, finish = room.setup_h.value, room.finish_stock_side_mm.value
    return numbered(
        [
            (
                "lathe",
                "rough",
                "Rough turn from bar or forged ring, taper bore included.",
                setup + amounts.turned_cm3 / room.turn_cm3_per_h.value,
            ),
            ("furnace", "stress relieve", "Stress relieve, slow cool.", 0.4 * room.heat_treat_h.value),
            (
                "lathe",
                "finish-turn",
                f"Finish turn; leave {finish:g} a side on profile and bore (table of stock).",
                setup + 3.0,
            ),
            (
                "mill",
                "tongues",
                f"Mill {count} tongues; drill start holes and lifting threads; stamp 1 to {count}.",
                room.mill_h.value,
            ),
            (
                "furnace",
                "harden, temper",
                f"Harden, temper twice: {hardness} HRC (heat-treat order).",
                room.heat_treat_h.value,
            ),
            (
                "grinder",
                "faces and bore",
                "Grind faces parallel within 0.01, then tongues and taper bore to the pin.",
                setup + 4.0,
            ),
            (
                "wire",
                "slots",
                "Wire-cut the slots, opposite slots in turn (wire sheet).",
                setup + amounts.wire_cm2 / room.wire_cm2_per_h.value,
            ),
            (
                "bench",
                "assemble",
                f"Assemble on {count} spacers {slot_mm:.2f} ± {room.spacer_tolerance_mm.value:g}, bands on.",
                2.0,
            ),
            (
                "grinder",
                "profile",
                f"Grind the profile as assembled, ± {room.segment_profile_mm.value:g}, Ra "
                f"{room.segment_finish_um.value:g}.",
                setup + amounts.ground_cm2 / room.grind_cm2_per_h.value,
            ),
            ("bench", "edges", "Round every slot edge along the profile; polish along the turning.", 3.0),
            ("gauge", "inspect", "Trace every segment at the control radii; record.", room.inspect_h.value),
        ]
    )


def plain_works(amounts: Amounts, room: ToolRoom, kind: str, hardness: str = "") -> tuple[Work, ...]:
    """Route of a simple turned or milled tool; hardened and ground where a hardness is given."""
    setup = room.setup_h.value
    steps = [
        ("lathe", "turn", f"Turn the {kind}.", setup + amounts.turned_cm3 / room.turn_cm3_per_h.value),
        ("mill", "mill, drill", "Mill slots, drill and stamp the number.", room.mill_h.value),
    ]
    if hardness:
        steps += [
            (
                "furnace",
                "harden, temper",
                f"Harden, temper twice: {hardness} HRC (heat-treat order).",
                room.heat_treat_h.value,
            ),
            ("grinder", "grind", "Grind working faces.", setup + amounts.ground_cm2 / room.grind_cm2_per_h.value),
        ]
    return numbered([*steps, ("gauge", "inspect", "Measure and record.", 0.5 * room.inspect_h.value)])


def plate_works(amounts: Amounts, room: ToolRoom, kind: str, tolerance_mm: float) -> tuple[Work, ...]:
    """Route of ground plates."""
    setup = room.setup_h.value
    return numbered(
        [
            ("mill", "cut out", f"Saw and mill the {kind} from plate; stamp the number.", room.mill_h.value),
            (
                "grinder",
                "grind",
                f"Grind both faces to thickness, ± {tolerance_mm:g}, together.",
                setup + amounts.ground_cm2 / room.grind_cm2_per_h.value,
            ),
            ("gauge", "inspect", "Measure and record.", 0.5 * room.inspect_h.value),
        ]
    )
