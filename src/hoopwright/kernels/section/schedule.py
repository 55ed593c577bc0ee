"""What is done to a section: steps with tools, release, cut. Units mm, N, MPa, K."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from hoopwright.errors import InputError, require_finite, require_range
from hoopwright.kernels.section.tool import STIFF, Contact, Force, Tool

Unknown = Literal["x", "y", "angle"]
UNKNOWNS: tuple[Unknown, ...] = ("x", "y", "angle")


@dataclass(frozen=True, slots=True)
class Support:
    """A held unknown of a node, and how far it is led in the step.

    node : number, negative counts from the end. unknown : "x", "y" or "angle". travel : by how much it is moved over
    the step. [mm or rad]
    """

    node: int
    unknown: Unknown
    travel: float = 0.0

    def __post_init__(self) -> None:
        if isinstance(self.node, bool) or not isinstance(self.node, int):
            raise InputError("support node", self.node, "", "a node number", "enter a whole number")
        if self.unknown not in UNKNOWNS:
            raise InputError("support unknown", self.unknown, "", "x, y or angle", "choose one")
        require_finite("support travel", self.travel)


def clamp(node: int) -> tuple[Support, ...]:
    """All three unknowns of a node, held."""
    return tuple(Support(node, unknown) for unknown in UNKNOWNS)


def symmetry(node: int) -> tuple[Support, ...]:
    """A plane of symmetry square to x: x and angle held, y free."""
    return Support(node, "x"), Support(node, "angle")


@dataclass(frozen=True, slots=True)
class Drift:
    """One of stretch, curl and camber of a strip during a step: led to a value, or free under a given resultant.

    to : value at the end of the step; None leaves it free. resultant : what it is free under at the end of the step,
    reached in line: N for stretch, N mm for curl and camber, per mm of strip.
    """

    to: float | None = None
    resultant: float = 0.0

    def __post_init__(self) -> None:
        if self.to is not None:
            require_finite("to", self.to)
        require_finite("resultant", self.resultant)


FREE = Drift()


@dataclass(frozen=True, slots=True)
class Lead:
    """Load found from a travel: a node is led, or the enclosed volume, and pressure or a nodal load follows from it.

    support : the led unknown with its travel, None to lead the volume. volume_mm3 : change of the volume between the
    section and the axis, whole ring; it keeps growing where a cap's pole turns back. per_unit_MPa : pressure at load
    factor 1, pushing to the left of travel. loads : (node, unknown, N) of the whole ring at load factor 1.
    """

    support: Support | None = None
    volume_mm3: float = 0.0
    per_unit_MPa: float = 0.0
    loads: tuple[tuple[int, Unknown, float], ...] = ()

    def __post_init__(self) -> None:
        require_finite("per_unit_MPa", self.per_unit_MPa, "MPa")
        require_finite("volume_mm3", self.volume_mm3, "mm3")
        if self.per_unit_MPa == 0.0 and not self.loads:
            raise InputError("lead", "no load", "", "a pressure or nodal loads", "say what grows")
        if (self.support is None) == (self.volume_mm3 == 0.0):
            raise InputError("lead", "no travel or two", "", "a support or a volume", "give one of them")


@dataclass(frozen=True, slots=True)
class Step:
    """One piece of the walk.

    Parameters
    ----------
    name : what messages call it.
    moves : travel (dx, dy) of each tool in the step [mm]; every tool named here touches the sheet, others do not.
    force : a tool driven by force instead; it must be in `moves` too (its travel there is added).
    supports : held unknowns.
    stretch, curl, camber : what the strip does along its length (prism only); None keeps them as they are.
    pressure_MPa : pressure at the end of the step, to the left of travel. [MPa]
    loads : (node, unknown, N) reached at the end of the step, whole ring or per mm of strip.
    lead : load found from a travel.
    heat_K : change of temperature over the step.
    free_log : free (thermal) strain that each element grows by over the step, besides heat_K; empty for none.
    contact, contact_end : hardness of contact at start and end; None keeps it. Between them stiffness and rounding go
    in
        equal ratios.
    increments : at least this many; more are made where it does not converge.
    hold : stiffness, as a share of E/t, of a hold of every node to its last state; for a loose strip between rolls
    1e-5.
    """

    name: str
    moves: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    force: Force | None = None
    supports: tuple[Support, ...] = ()
    stretch: Drift | None = None
    curl: Drift | None = None
    camber: Drift | None = None
    pressure_MPa: float = 0.0
    loads: tuple[tuple[int, Unknown, float], ...] = ()
    lead: Lead | None = None
    heat_K: float = 0.0
    free_log: tuple[float, ...] = ()
    contact: Contact = STIFF
    contact_end: Contact | None = None
    increments: int = 60
    hold: float = 0.0

    def __post_init__(self) -> None:
        require_finite(f"{self.name}: pressure_MPa", self.pressure_MPa, "MPa")
        require_finite(f"{self.name}: heat_K", self.heat_K, "K")
        for strain in self.free_log:
            require_range(f"{self.name}: free_log", strain, -0.1, 0.1)
        require_range(f"{self.name}: hold", self.hold, 0.0, 1e-2)
        if (
            isinstance(self.increments, bool)
            or not isinstance(self.increments, int)
            or not 1 <= self.increments <= 100000
        ):
            raise InputError(
                f"{self.name}: increments", self.increments, "", "a whole number from 1 to 100000", "use 60"
            )
        for tool, (dx, dy) in self.moves.items():
            require_finite(f"{self.name}: travel of {tool}", dx, "mm")
            require_finite(f"{self.name}: travel of {tool}", dy, "mm")
        if self.force is not None and self.force.tool not in self.moves:
            raise InputError(
                f"{self.name}: force on",
                self.force.tool,
                "",
                "a tool of this step",
                "add it to moves with travel (0, 0)",
            )


def settled(step: Step) -> tuple[Step, Step, Step]:
    """Three one-increment steps that harden soft contact where `step` ends, for dimensions (not for springback to 1
    um)."""
    still = {name: (0.0, 0.0) for name in step.moves}
    supports = tuple(replace(support, travel=0.0) for support in step.supports)
    force = None if step.force is None else replace(step.force, start_N=step.force.end_N)
    hardness = (Contact(0.1, 0.010), Contact(0.25, 0.004), Contact(1.0, 0.002))
    one, two, three = (
        replace(
            step,
            name=f"{step.name}: settle {k + 1}",
            moves=still,
            supports=supports,
            force=force,
            lead=None,
            heat_K=0.0,
            free_log=(),
            contact=hard,
            contact_end=None,
            increments=1,
        )
        for k, hard in enumerate(hardness)
    )
    return one, two, three


@dataclass(frozen=True, slots=True)
class Release:
    """Let go: frozen tool forces fade while the tools are gone, or (retract) the tools are led away.

    In a strip with curl held the moment fades first with the tools still shut, then the contact.

    supports : held unknowns; None holds only the rigid motion. retract : travel of each tool instead of fading [mm].
    increments : of each phase. held : which of "stretch", "curl" and "camber" a strip keeps (side guides, a section
    that is part of something longer); the others become free.
    """

    name: str = "release"
    supports: tuple[Support, ...] | None = None
    retract: Mapping[str, tuple[float, float]] | None = None
    increments: int = 4
    held: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for name in self.held:
            if name not in ("stretch", "curl", "camber"):
                raise InputError(f"{self.name}: held", name, "", "stretch, curl or camber", "name what the strip keeps")


@dataclass(frozen=True, slots=True)
class Cut:
    """Remove elements with their stress; what is left springs. Keeps the nodes `first` to `last` (both kept)."""

    first: int
    last: int
    name: str = "cut"
    supports: tuple[Support, ...] | None = None
    increments: int = 4


@dataclass(frozen=True, slots=True)
class Schedule:
    """Tools, each standing with its contour where it was drawn, and what is done with them in order."""

    steps: tuple[Step | Release | Cut, ...]
    tools: tuple[Tool, ...] = ()

    def __post_init__(self) -> None:
        names = [tool.name for tool in self.tools]
        if len(set(names)) != len(names):
            raise InputError("tool names", names, "", "different", "rename one")
        if not self.steps:
            raise InputError("steps", 0, "", "at least one", "add a step")
        for step in self.steps:
            used: Mapping[str, tuple[float, float]] = {}
            if isinstance(step, Step):
                used = step.moves
            elif isinstance(step, Release) and step.retract is not None:
                used = step.retract
            for name in used:
                if name not in names:
                    raise InputError(
                        f"{step.name}: tool", name, "", f"one of {', '.join(names) or 'none'}", "add the tool"
                    )
