"""Impact of a design change: every tool keep, rework or replace; every finished part use, re-stretch or scrap; every
paper, program, fixture, gauge and report line; the plan and what the alternatives cost."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from hoopwright.correct.change_graph import edges_of, slot_height, zone_control
from hoopwright.correct.change_plan import ChangePlan, PartWork, ToolWork, best_plans
from hoopwright.correct.change_walk import Touched, walk
from hoopwright.correct.recut import LOBE_SHARE, Recut, Regrind, recut
from hoopwright.design.changes import Change
from hoopwright.design.register import Register, Tool
from hoopwright.design.shapes import Liner
from hoopwright.errors import InputError, require_range
from hoopwright.findings import Finding

STOCK = re.compile(r"regrind stock\s+([0-9]+(?:\.[0-9]+)?)\s*mm")
FEATURES = {"lip_mid_radius": "lip", "land_mid_radius": "land"}
DEAD = ("superseded", "withdrawn")


@dataclass(frozen=True, slots=True)
class ToolImpact:
    """verdict : "unaffected", "rework", "replace" or "note". change_mm on radius; recut of a segment set."""

    tool: str
    kind: str
    verdict: str
    change_mm: float
    stock_mm: float | None
    recut: Recut | None
    reason: str


@dataclass(frozen=True, slots=True)
class PartImpact:
    """verdict : "use", "re-stretch", "rework" (trim, drill) or "scrap". strain_log : of the changed zone. reason."""

    serial: str
    ring: str
    zone: str
    verdict: str
    strain_log: float
    reason: str


@dataclass(frozen=True, slots=True)
class NewControl:
    """A control size of the new revision [mm]."""

    part: str
    name: str
    old_mm: float
    new_mm: float


@dataclass(frozen=True, slots=True)
class Impact:
    """The whole list, nearest first, with its plans (given order first, better one after it)."""

    revision: str
    tools: tuple[ToolImpact, ...]
    parts: tuple[PartImpact, ...]
    controls: tuple[NewControl, ...]
    slots: tuple[tuple[str, float, float], ...]
    papers: tuple[tuple[str, str, str], ...]
    first_article: tuple[tuple[str, str], ...]
    plans: tuple[ChangePlan, ...]
    findings: tuple[Finding, ...]

    def tool(self, name: str) -> ToolImpact:
        """Impact on a tool."""
        return next(t for t in self.tools if t.tool == name)


@dataclass(frozen=True, slots=True)
class ChangeRule:
    """springback_share : stress over modulus, by which a segment radius exceeds the part's. segments of every set.

    largest_restretch_log : strain a finished part may still take.
    """

    springback_share: float = 0.0032
    segments: int = 8
    largest_restretch_log: float = 0.01
    lobe_share: float = LOBE_SHARE

    def __post_init__(self) -> None:
        require_range("springback share", self.springback_share, 0.0, 0.05)
        require_range("largest re-stretch", self.largest_restretch_log, 0.0, 0.2)


def impact_of(liner: Liner, register: Register, change: Change, rule: ChangeRule | None = None) -> Impact:
    """Walk a change through everything that hangs on it.

    Raises
    ------
    InputError
        An unknown ring or feature, or a size that does not change.
    """
    used = rule if rule is not None else ChangeRule()
    starts = _starts(liner, change)
    touched = walk(starts, edges_of(liner, register, change.finished_parts))
    tools = _tools(liner, register, touched, used)
    parts = _parts(liner, change, touched, used)
    controls = _controls(liner, touched)
    slots = _slots(liner, touched)
    papers = tuple((t.thing, t.feature, t.reason) for t in touched if _is_paper(t))
    first = tuple(
        (t.thing, t.feature.removeprefix("first article ")) for t in touched if t.feature.startswith("first art")
    )
    first += tuple((liner.id, f"{t.thing} {t.feature}") for t in touched if t.feature in ("gap", "slot"))
    plans = change_plans(change, tools, parts, register)
    findings = tuple(change_findings(tools, parts, change, plans))
    return Impact(change.revision, tools, parts, controls, slots, papers, first, plans, findings)


def _starts(liner: Liner, change: Change) -> list[tuple[tuple[str, str], float, str]]:
    ring = liner.ring(change.ring)
    found = []
    for size in change.new_sizes:
        if size.feature not in FEATURES:
            raise InputError("feature", size.feature, "", ", ".join(FEATURES), "name a feature this walk knows")
        zone = FEATURES[size.feature]
        old = old_mid_radius(liner, change.ring, zone)
        delta = size.new_mm - old
        if abs(delta) < 1e-6:
            raise InputError(size.feature, size.new_mm, "mm", f"other than today's {old:g}", "correct the new size")
        found.append(((ring.id, zone), delta, f"{ring.id} {zone} goes from {old:g} to {size.new_mm:g} on radius"))
    return found


def old_mid_radius(liner: Liner, ring_id: str, zone: str) -> float:
    """Mid-surface radius of a ring's land or lip, from its control size. [mm]"""
    ring = liner.ring(ring_id)
    control = zone_control(liner, ring, zone)
    half = 0.5 * ring.thickness_mm
    return 0.5 * control.diameter_mm + (half if control.face == "inside" else -half)


def stock_of(tool: Tool) -> float | None:
    """Metal left for regrinding, as the register's note says it [mm]; None where it says nothing."""
    match = STOCK.search(tool.note)
    return float(match.group(1)) if match else None


def _tools(liner: Liner, register: Register, touched: tuple[Touched, ...], rule: ChangeRule) -> tuple[ToolImpact, ...]:
    reached: dict[str, list[Touched]] = {}
    names = {t.id for t in register.tools}
    for node in touched:
        if node.thing in names:
            reached.setdefault(node.thing, []).append(node)
    return tuple(_tool(liner, tool, reached.get(tool.id, []), rule) for tool in register.tools)


def _tool(liner: Liner, tool: Tool, nodes: list[Touched], rule: ChangeRule) -> ToolImpact:
    stock = stock_of(tool)
    if tool.state in DEAD:
        return ToolImpact(tool.id, tool.kind, "unaffected", 0.0, stock, None, f"{tool.state}: never to the press")
    if not nodes:
        return ToolImpact(tool.id, tool.kind, "unaffected", 0.0, stock, None, "no path leads to it")
    change, reason = nodes[0].change_mm, nodes[0].reason
    if tool.state == "in design":
        return ToolImpact(tool.id, tool.kind, "note", change, stock, None, f"in design: use the new sizes ({reason})")
    have = stock if stock is not None else 0.0
    if tool.kind == "segment set":
        wanted = {n.feature: n.change_mm * (1.0 + rule.springback_share) for n in nodes}
        zones = ("land", "crown", "lip")
        zone_mm = liner.tolerances.roundness_restrained_radial_mm
        found = recut(zones, [wanted.get(z, 0.0) for z in zones], rule.segments, have, zone_mm, rule.lobe_share)
        verdict = "rework" if found.possible else "replace"
        return ToolImpact(tool.id, tool.kind, verdict, change, stock, found, f"{reason}: {found.why}")
    ground = Regrind(max(abs(n.change_mm) for n in nodes), have)
    verdict = "rework" if ground.possible else "replace"
    text = f"{ground.growth_mm:.3f} of {have:g} mm stock" if stock is not None else "the register states no stock"
    return ToolImpact(tool.id, tool.kind, verdict, change, stock, None, f"{reason}: {text}")


def _parts(liner: Liner, change: Change, touched: tuple[Touched, ...], rule: ChangeRule) -> tuple[PartImpact, ...]:
    found = []
    for node in touched:
        if node.thing not in change.finished_parts:
            continue
        ring = next(r.id for r in liner.rings if r.id.split("-")[-1] == node.thing.split("-")[0])
        old = old_mid_radius(liner, ring, node.feature)
        strain = math.log((old + node.change_mm) / old)
        if strain < 0.0:
            verdict = "scrap"
        else:
            verdict = "re-stretch" if strain <= rule.largest_restretch_log else "scrap"
        found.append(PartImpact(node.thing, ring, node.feature, verdict, strain, node.reason))
    reached = {p.serial for p in found}
    for serial in change.finished_parts:
        if serial not in reached:
            found.append(PartImpact(serial, "", "", "use", 0.0, "no path leads to it"))
    return tuple(found)


def _controls(liner: Liner, touched: tuple[Touched, ...]) -> tuple[NewControl, ...]:
    found = []
    for node in touched:
        if node.feature.startswith("control "):
            name = node.feature.removeprefix("control ")
            old = next(c.diameter_mm for c in liner.ring(node.thing).controls if c.name == name)
            found.append(NewControl(node.thing, name, old, old + node.change_mm))
    return tuple(found)


def _slots(liner: Liner, touched: tuple[Touched, ...]) -> tuple[tuple[str, float, float], ...]:
    found = []
    for node in touched:
        if node.feature == "slot":
            joint = next(j for j in liner.joints if j.id == node.thing)
            height = slot_height(liner, joint)
            if height is not None:
                found.append((joint.id, height, height + node.change_mm))
    return tuple(found)


def _is_paper(node: Touched) -> bool:
    words = ("program", "drawing", "gauge", "nest", "blank", "walk sheet", "strip length", "seat of")
    return any(w in node.feature for w in words)


def change_plans(
    change: Change, tools: tuple[ToolImpact, ...], parts: tuple[PartImpact, ...], register: Register
) -> tuple[ChangePlan, ...]:
    """Plans of the work, the given order of the grinder first; none without a start date or work."""
    if change.start_date is None:
        return ()
    serves: Mapping[str, str] = {t.id: t.serves for t in register.tools}
    work = [ToolWork(t.tool, t.kind, serves[t.tool]) for t in tools if t.verdict == "rework"]
    if not work:
        return ()
    rings = dict.fromkeys(p.ring for p in parts if p.verdict == "re-stretch")
    again = [PartWork(r, tuple(p.serial for p in parts if p.ring == r and p.verdict == "re-stretch")) for r in rings]
    given = [name for name in change.grinder_order if any(w.tool == name for w in work)]
    given = given if len(given) == len(work) else []
    return best_plans(work, again, change.durations, change.start_date, given)


def change_findings(
    tools: tuple[ToolImpact, ...], parts: tuple[PartImpact, ...], change: Change, plans: tuple[ChangePlan, ...]
) -> list[Finding]:
    """Dead tools and parts, sets run over-open, and a better order."""
    found = []
    for tool in tools:
        if tool.verdict == "replace":
            days = change.durations.new_segment_set_days
            cost = f", {days:g} working days" if days is not None and tool.kind == "segment set" else ""
            sentence = f"{tool.kind} {tool.tool} cannot be reworked to revision {change.revision}."
            found.append(Finding("stop", sentence, f"order a new one{cost}", tool.tool, "tool-dead", tool.reason))
        elif tool.recut is not None:
            r = tool.recut
            sentence = (
                f"{tool.tool}: grind all but the changed zone by {max(r.grind_mm):.3f} "
                f"and run {r.open_mm:.3f} over-open; "
                f"lobes {r.lobes_mm:.3f} of {r.limit_mm:.3f} mm."
            )
            days = change.durations.new_segment_set_days
            saved = f" against {days:g} working days for a new set" if days is not None else ""
            found.append(Finding("note", sentence, f"accept the lobes{saved}", tool.tool, "set-over-open", tool.reason))
    for part in parts:
        if part.verdict == "scrap":
            sentence = f"{part.serial} cannot follow revision {change.revision}."
            found.append(
                Finding("stop", sentence, "find it a mate of its own revision, or scrap it", part.serial, "part-dead")
            )
    if len(plans) > 1:
        one, two = plans[0], plans[1]
        sooner = one.mean_finish_days - two.mean_finish_days
        sentence = (
            f"In the order {', '.join(two.order)} everything is done {sooner:.1f} days sooner on average, "
            f"the end {'stays' if two.end_days == one.end_days else 'moves'}."
        )
        found.append(
            Finding("note", sentence, "ask whether the grinder may change its order", "grinder", "better-order")
        )
    return found


def refuse_superseded(register: Register, tool_id: str) -> Finding | None:
    """The finding that keeps a superseded or withdrawn tool off the press; None for a live one.

    Raises
    ------
    InputError
        A tool that is not in the register.
    """
    for tool in register.tools:
        if tool.id == tool_id:
            if tool.state not in DEAD:
                return None
            live = [
                t.id for t in register.tools if t.serves == tool.serves and t.kind == tool.kind and t.state not in DEAD
            ]
            remedy = f"take {live[0]}" if live else "ask which tool replaces it"
            sentence = f"{tool.kind} {tool.id} is {tool.state}: it does not go on the press."
            return Finding("stop", sentence, remedy, tool_id, "tool-superseded", tool.note)
    raise InputError("tool", tool_id, "", ", ".join(t.id for t in register.tools), "read the number on the tool")
