"""Records of making: tools, parts by serial number, operations as done, readings, builds."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import ClassVar

from hoopwright.errors import InputError
from hoopwright.records.shape import (
    Pairs,
    Shape,
    count,
    given_identity,
    identity,
    moment,
    name,
    number,
    numbers,
    one_of,
    pairs,
    refers,
    text,
)

TOOL_STATES = ("in design", "in making", "trial", "proven", "worn", "superseded", "withdrawn")
DEAD_STATES = ("superseded", "withdrawn")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool(Shape):
    """A tool. serves : part it is for. place : where it lies. stock_mm : metal left to grind, on radius. hits : parts
    made on it. settings : those that work. replaced_by : tool that takes its place."""

    kind: ClassVar[str] = "tool"
    id: str = identity()
    liner: str = name()
    what: str = text(least=1)
    serves: str = text(least=1)
    revision: str = name()
    state: str = one_of(*TOOL_STATES)
    place: str = text()
    stock_mm: float | None = number("mm", 0.0, 100.0, None)
    hits: int = count(default=0)
    settings: Pairs = pairs()
    stage: str = text()
    replaced_by: str | None = refers("tool")
    note: str = text()

    @property
    def dead(self) -> bool:
        """Whether it may no longer go on a machine."""
        return self.state in DEAD_STATES


@dataclass(frozen=True, slots=True, kw_only=True)
class Build(Shape):
    """A liner put together; its parts name it (`Part.build`)."""

    kind: ClassVar[str] = "build"
    id: str = identity()
    liner: str = name()
    revision: str = name()
    state: str = one_of("in work", "complete", "released", "taken apart", default="in work")
    note: str = text()


@dataclass(frozen=True, slots=True, kw_only=True)
class Part(Shape):
    """A part by serial number. part : what it is one of ("HD-402"). place : in its build ("HD-402")."""

    kind: ClassVar[str] = "part"
    id: str = identity()
    liner: str = name()
    part: str = name()
    revision: str = name()
    state: str = one_of("in work", "on hold", "finished", "released", "scrapped", default="in work")
    sheet: str | None = refers("sheet")
    cast: str | None = refers("cast")
    weld_lot: str | None = refers("weld_lot")
    build: str | None = refers("build")
    place: str = name("")
    note: str = text()

    def further(self) -> None:
        """A place is a place in a build, and a build has a place for each part."""
        if (self.build is None) != (self.place == ""):
            raise InputError("part.place", self.place, "", "given together with part.build", "name both, or neither")


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation(Shape):
    """One step of the walk as it was done. done_by : who stood at the machine."""

    kind: ClassVar[str] = "operation"
    serial: str = refers("part", optional=False)
    step: str = text(least=1, most=200)
    tool: str | None = refers("tool")
    settings: Pairs = pairs()
    done_by: str = text(least=1, most=200)
    note: str = text()
    done_at: dt.datetime = moment()
    id: str = given_identity()


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading(Shape):
    """What was measured, of what, with what, how held, by whom.

    what : kind of reading. characteristic : place or size ("lip_od"). value and unit : where it is one number;
    expanded : its U at 95 %. series : where it is many (deviations by angle; details in `more`). replaces : reading
    that this one corrects; the older one then stands as superseded. One at least of serial, sheet, tool, lot, joint
    or part says what it belongs to; part : what the serial is one of ("HD-402").
    """

    kind: ClassVar[str] = "reading"
    liner: str = name()
    what: str = name()
    characteristic: str = text(least=1, most=200)
    unit: str = text(most=20)
    value: float | None = number("", -1e9, 1e9, None)
    expanded: float | None = number("", 0.0, 1e9, None)
    series: tuple[float, ...] = numbers()
    more: Pairs = pairs()
    serial: str | None = refers("part")
    sheet: str | None = refers("sheet")
    tool: str | None = refers("tool")
    lot: str | None = refers("weld_lot")
    joint: str = name("")
    part: str = name("")
    operation: str | None = refers("operation")
    gauge: str = text()
    part_degC: float | None = number("degC", -50.0, 1200.0, None)
    tension_N: float | None = number("N", 0.0, 10_000.0, None)
    held: str = one_of("", "free", "restrained", default="")
    held_how: str = text()
    taken_by: str = text(least=1, most=200)
    file: str | None = refers("source_file")
    line: int | None = count(1, 10_000_000, None)
    standing: str = one_of("stands", "superseded", "doubted", default="stands")
    replaces: str | None = refers("reading")
    note: str = text()
    taken_at: dt.datetime = moment()
    id: str = given_identity()

    def further(self) -> None:
        """It holds a number or a series, and belongs to something."""
        if self.value is None and not self.series:
            raise InputError(
                "reading.value", "none", self.unit, "a number, or a series of numbers", "enter the reading"
            )
        if not (self.serial or self.sheet or self.tool or self.lot or self.joint or self.part):
            must = "of a serial, sheet, tool, lot, joint or part"
            raise InputError("reading", "of nothing", "", must, "say of what it is")


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation(Shape):
    """What a plan lets expect of one hit at one control size; diameters at 20 degC. mark : of the plan's inputs.

    stop_mm : pin stroke from collapsed. low_mm, high_mm : band of the free size. girth_per_mm, free_per_mm : what a
    millimetre of pin adds to the size on the segments and to the free size. segments : in the set.
    """

    kind: ClassVar[str] = "expectation"
    liner: str = name()
    revision: str = name()
    part: str = name()
    mark: str = text(most=40)
    hit: int = count(1, 20)
    control: str = name()
    stop_mm: float = number("mm", 0.0, 500.0)
    loaded_mm: float = number("mm", 1.0, 5000.0)
    free_mm: float = number("mm", 1.0, 5000.0)
    low_mm: float | None = number("mm", 1.0, 5000.0, None)
    high_mm: float | None = number("mm", 1.0, 5000.0, None)
    girth_per_mm: float = number("mm_per_mm", 0.001, 5.0)
    free_per_mm: float = number("mm_per_mm", 0.001, 5.0)
    across_per_mm: float = number("mm_per_mm", 0.001, 5.0)
    segments: int = count(2, 400)
    state: str = one_of("in force", "superseded", default="in force")
    id: str = given_identity()
