"""Each characteristic of a part held against its readings; what the parts made so far say, honest about few parts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from hoopwright.design.shapes import Liner
from hoopwright.desk.in_force import expectations
from hoopwright.desk.sizes import hit_of, newest_mean
from hoopwright.kernels.statistics.small_samples import capability, two_sided_factor
from hoopwright.kernels.statistics.summary import summary
from hoopwright.kernels.statistics.uncertainty import Budget, Term, budget
from hoopwright.measure.decision import Rule, decide
from hoopwright.measure.inspection import Characteristic, gauge_budgets, inspection_plan
from hoopwright.measure.roundness import RoundnessSettings, evaluate_roundness
from hoopwright.papers.release.shapes import Row, Statement, Verdict
from hoopwright.records import Store
from hoopwright.records.judging import Concession
from hoopwright.records.making import Part, Reading

FEW = 5
"""Fewer parts than this bear no capability figure at all (common practice, no source)."""

SHARE, CONFIDENCE = 0.95, 0.95
MOST_PARTS = 250
"""Newest parts that a statement is made of; a process of years ago says little of today's."""


def rows_of(store: Store, liner: Liner, serial: str, segments: int, rule: Rule) -> tuple[Row, ...]:
    """Every characteristic of the inspection plan with what was read of it."""
    part = store.get(Part, serial).thing
    readings = [k.thing for k in store.list(Reading, serial=serial, standing="stands")]
    granted = {k.thing.characteristic for k in store.list(Concession, serial=serial, state="granted")}
    plan = inspection_plan(liner, part.part, segments, rule)
    controls = {c.name for c in liner.ring(part.part).controls}
    rows = []
    for line in plan.characteristics:
        found = _readings(line, readings, controls)
        value, count, doubt = _result(line, found, segments, liner, part.part)
        rows.append(_row(line, value, count, doubt, rule, line.name in granted))
    return tuple(rows)


def _readings(line: Characteristic, readings: Sequence[Reading], controls: set[str]) -> list[Reading]:
    """Readings that belong to a line of the plan; of a control size those after the newest hit."""
    if line.name in controls:
        found = [r for r in readings if r.what == "girth" and r.characteristic == line.name]
        last = max((hit_of(r) for r in found), default=0)
        return [r for r in found if hit_of(r) == last]
    if line.name.startswith("roundness"):
        return [r for r in readings if r.what == "roundness" and r.held == line.state][-1:]
    if line.name.startswith("profile"):
        word = "after-sizing" if line.when == "after sizing" else "rolled"
        return [r for r in readings if r.what == "profile" and r.characteristic == word]
    if line.name.startswith("wall"):
        return [r for r in readings if r.what == "thickness"]
    return [r for r in readings if r.what == "height"]


def _result(
    line: Characteristic, found: Sequence[Reading], segments: int, liner: Liner, ring: str
) -> tuple[float | None, int, float | None]:
    """The value that is held against the limits, how many readings it rests on, and its recorded U if there is one."""
    if not found:
        return None, 0, None
    if line.name.startswith("roundness"):
        series = found[-1].series
        base = max(c.diameter_mm for c in liner.ring(ring).controls) / 2.0
        turn = evaluate_roundness(series[0::2], series[1::2], RoundnessSettings(segments, base, line.state))
        return turn.minimum_zone.zone, turn.readings, None
    values = [r.value for r in found if r.value is not None]
    if not values:
        return None, 0, None
    if line.name.startswith("wall"):
        return min(values), len(values), None
    if line.name.startswith("edge"):
        return max(values, key=abs), len(values), None
    doubts = [r.expanded for r in found if r.expanded is not None]
    return sum(values) / len(values), len(values), max(doubts) if doubts else None


def _row(line: Characteristic, value: float | None, count: int, doubt: float | None, rule: Rule, conceded: bool) -> Row:
    verdict: Verdict = "not measured"
    note, expanded = "", None
    if value is not None:
        used = _budget(line, doubt)
        expanded = used.expanded(rule.coverage)
        low = line.low if line.low is not None else float("-inf")
        high = line.high if line.high is not None else float("inf")
        verdict = decide(value, low, high, used, rule).verdict
        if count < line.readings and verdict == "accepted":
            verdict, note = "undecided", f"{count} of {line.readings} readings"
    if conceded and verdict in ("refused", "undecided"):
        verdict = "conceded"
    return Row(
        line.number, line.name + (f", {line.when}" if line.name.startswith("profile") else ""), line.low, line.high,
        line.unit, line.method, line.state, line.gauge, line.readings, count, value, expanded, verdict, note,
    )  # fmt: skip


def _budget(line: Characteristic, doubt: float | None) -> Budget:
    if doubt is None:
        return gauge_budgets()[line.gauge]
    return budget([Term("as recorded with the reading", 0.5 * doubt)])


def statements_of(store: Store, liner: Liner, ring: str) -> tuple[Statement, ...]:
    """What the finished sizes of every serial of a ring say, with the limits of what so few can say."""
    found = []
    for control in liner.ring(ring).controls:
        means = list(finished_sizes(store, ring, control.name).values())
        if means:
            low, high = control.diameter_mm - control.tolerance_mm, control.diameter_mm + control.tolerance_mm
            found.append(statement(control.name, means, low, high))
    return tuple(found)


def finished_sizes(store: Store, ring: str, control: str) -> dict[str, float]:
    """Mean of a control size after the newest hit, of each serial that has had its last planned hit. [mm]"""
    hits = max((e.hit for e in expectations(store, ring)), default=0)
    done = {k.id for k in store.list(Part, MOST_PARTS, newest_first=True, part=ring, state=("finished", "released"))}
    found: dict[str, list[Reading]] = {}
    where: dict[str, Any] = {"part": ring, "what": "girth", "characteristic": control, "standing": "stands"}
    for kept in store.list(Reading, 4 * MOST_PARTS, newest_first=True, **where):
        if kept.thing.serial is not None and kept.thing.value is not None:
            found.setdefault(kept.thing.serial, []).append(kept.thing)
    sizes = {}
    for serial, readings in found.items():
        mean = newest_mean(readings)
        if mean is not None and (serial in done or (hits and max(hit_of(r) for r in readings) >= hits)):
            sizes[serial] = mean
    return sizes


def statement(name: str, values: Sequence[float], low: float, high: float) -> Statement:
    """One statement from finished sizes.

    One part says nothing of scatter. From two on there is a tolerance interval, as wide as so few make it; from five
    on a capability with its limits, which are what it is good for.
    """
    if len(values) < 2:
        says = "one part says nothing of the next; measure more parts before any is taken as shown"
        return Statement(name, len(values), values[0], None, None, low, high, None, None, None, says)
    s = summary(values)
    k = two_sided_factor(s.count, SHARE, CONFIDENCE)
    interval = (s.mean - k * s.sd, s.mean + k * s.sd)
    inside = low <= interval[0] and interval[1] <= high
    word = "inside" if inside else "not inside"
    says = (
        f"{s.count} parts: 95 % of all parts lie, with 95 % confidence, in an interval that is {word} the limits "
        f"(factor {k:.2f})"
    )
    if s.count < FEW or s.sd <= 0.0:
        why = "too few for a capability figure" if s.count < FEW else "no scatter read, which no process has"
        return Statement(name, s.count, s.mean, s.sd, interval, low, high, None, None, None, f"{says}; {why}")
    cpk = capability(s.mean, s.sd, low, high, s.count)
    says += f"; capability {cpk.cpk:.2f} may be anything from {cpk.cpk_limits[0]:.2f} to {cpk.cpk_limits[1]:.2f}"
    return Statement(name, s.count, s.mean, s.sd, interval, low, high, cpk.cpk, *cpk.cpk_limits, says)
