"""Where are we? How far every part has come, what state each tool is in, which laps fit, what stops the next step."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from hoopwright.correct.fits import FitRule, Fits, choose_fits, lap_control
from hoopwright.design.readings import Readings
from hoopwright.design.register import Register, Tool
from hoopwright.design.shapes import Liner
from hoopwright.design.wishes import limits_for
from hoopwright.desk.page.job import Job
from hoopwright.desk.page.pressing import expanders
from hoopwright.desk.page.welding import verdicts
from hoopwright.errors import HoopwrightError
from hoopwright.findings import Finding, gravest_first

Firmness = Literal["pencil", "outline", "hatched", "solid"]
LADDER = ("drawn", "ordered", "soft", "hard", "finish", "trial", "proven")
"""Life of a tool, in the order it is lived."""

STAGES = {
    "ordered": 2,
    "turned, not hardened": 3,
    "hardened": 4,
    "finish grinding": 5,
    "wire cut, not fitted": 5,
}
"""Step of the ladder that a tool in making has reached, by the words of its stage; others stand at "soft"."""


@dataclass(frozen=True, slots=True)
class ToolStand:
    """A tool on its ladder. step : of `LADDER`, counted from 1. word : state in the register's words."""

    tool: Tool
    step: int
    word: str


@dataclass(frozen=True, slots=True)
class Lap:
    """Radial gap of a lap [mm]: limits, where drawing tolerances let it fall, and as measured (None: not yet)."""

    joint: str
    weld_z_mm: float
    r_mm: float
    side: str
    low_mm: float
    high_mm: float
    nominal_mm: float
    drawn_low_mm: float
    drawn_high_mm: float
    measured_mm: float | None


@dataclass(frozen=True, slots=True)
class Board:
    """Everything on the board. firmness : how far each part has come. answer : what stops the next step."""

    liner: Liner
    firmness: dict[str, Firmness]
    tools: tuple[ToolStand, ...]
    laps: tuple[Lap, ...]
    findings: tuple[Finding, ...]
    answer: str
    mark: str


def board(job: Job, revision: str = "") -> Board:
    """The board of a revision."""
    found: Board = job.remembered(("board", revision, job.files_state()), lambda: _board(job, revision))
    return found


def _board(job: Job, revision: str) -> Board:
    liner = job.revision(revision).liner
    register, readings = job.register(), job.readings()
    tools = tuple(tool_stand(tool) for tool in register.tools)
    rule = fit_rule(liner, job)
    fits = fits_of(job, liner, readings, rule)
    found = [*(fits.findings if fits else ()), *_without_tools(liner, register), *_weld_findings(job)]
    found += _hot_findings(job, revision) + _plan_findings(job, revision)
    findings = gravest_first(found)
    return Board(
        liner,
        {part: firmness_of(part, register, readings, liner) for part in _parts(liner)},
        tools,
        laps(liner, readings, rule),
        findings,
        answer_of(findings),
        job.plans(revision).mark,
    )


def _parts(liner: Liner) -> list[str]:
    return [ring.id for ring in liner.rings] + ([liner.end_plate.id] if liner.end_plate else [])


def tool_stand(tool: Tool) -> ToolStand:
    """Where a tool stands on the ladder."""
    step = {"in design": 1, "trial": 6, "proven": 7, "superseded": 7, "withdrawn": 7}.get(tool.state)
    if step is None:
        step = STAGES.get(tool.stage, 3)
    return ToolStand(tool, step, tool.stage if tool.state == "in making" and tool.stage else tool.state)


def firmness_of(part: str, register: Register, readings: Readings, liner: Liner) -> Firmness:
    """Pencil: only drawn; outline: tools in the making; hatched: proven; solid: a part measured within its drawing."""
    own = [t for t in register.tools if t.serves == part and t.state not in ("superseded", "withdrawn")]
    states = {tool.state for tool in own}
    if not own or states <= {"in design"} or states == {"in making"}:
        return "pencil"
    if not states <= {"proven", "trial"} or "proven" not in states:
        return "outline"
    return "solid" if _measured_inside(part, readings, liner) else "hatched"


def _measured_inside(part: str, readings: Readings, liner: Liner) -> bool:
    """Whether every control size of a ring that belongs to a measured lap, or was read, is inside its tolerance."""
    if part not in {ring.id for ring in liner.rings}:
        return False
    seen: dict[str, bool] = {}
    for fit in readings.fits:
        joint = next((j for j in liner.joints if j.id == fit.joint), None)
        if joint is None or part not in (joint.outer, joint.inner):
            continue
        control = lap_control(liner, part, joint)
        value = fit.inner_face_of_outer_part_mm if joint.outer == part else fit.outer_face_of_inner_part_mm
        seen[control.name] = abs(value - control.diameter_mm) <= control.tolerance_mm + 1e-9
    for size in readings.sizes:
        for control in liner.ring(part).controls:
            if size.part == part and size.feature == control.name:
                seen[control.name] = abs(size.diameter_mm - control.diameter_mm) <= control.tolerance_mm + 1e-9
    return all(seen.get(control.name, False) for control in liner.ring(part).controls)


def fit_rule(liner: Liner, job: Job) -> FitRule:
    """Limits of every lap by the house card: the weld's share of the thinnest sheet, and the lightest press."""
    limits = limits_for(liner, job.shop_folder)
    thinnest = min(ring.thickness_mm for ring in liner.rings)
    return FitRule(limits.lap_gap_min_mm.value, limits.lap_gap_max_t.value * thinnest)


def fits_of(job: Job, liner: Liner, readings: Readings, rule: FitRule) -> Fits | None:
    """Fits of the laps that were measured; None where none was, or where a reading names no lap of this liner."""
    if not readings.fits:
        return None
    key = ("fits", liner, readings, rule)
    try:
        found: Fits = job.remembered(key, lambda: choose_fits(liner, readings, expanders(job, liner), rule))
    except HoopwrightError:
        return None
    return found


def laps(liner: Liner, readings: Readings, rule: FitRule) -> tuple[Lap, ...]:
    """Every lap with its limits and where it stands."""
    measured = {f.joint: 0.5 * (f.inner_face_of_outer_part_mm - f.outer_face_of_inner_part_mm) for f in readings.fits}
    rows = []
    for joint in liner.joints:
        try:
            outer, inner = lap_control(liner, joint.outer, joint), lap_control(liner, joint.inner, joint)
        except HoopwrightError:
            continue
        nominal = 0.5 * (outer.diameter_mm - inner.diameter_mm)
        reach = 0.5 * (outer.tolerance_mm + inner.tolerance_mm)
        side = next((ring.side for ring in liner.rings if ring.id in (joint.outer, joint.inner)), "outer")
        rows.append(
            Lap(
                joint.id,
                joint.weld_z_mm,
                0.5 * inner.diameter_mm,
                side,
                rule.gap_low_mm,
                rule.gap_high_mm,
                nominal,
                nominal - reach,
                nominal + reach,
                measured.get(joint.id),
            )
        )
    return tuple(rows)


def _without_tools(liner: Liner, register: Register) -> list[Finding]:
    found = []
    for ring in liner.rings:
        own = [t for t in register.tools if t.serves == ring.id and t.state not in ("superseded", "withdrawn")]
        if own and any(t.state in ("trial", "proven") for t in own):
            continue
        words = "; ".join(f"{t.id} {tool_stand(t).word}" for t in own) or "none is in the register"
        sentence = f"{ring.id} has no finished tool."
        remedy = f"confirm the dates of its tools; nothing else can start {ring.id}"
        found.append(Finding("caution", sentence, remedy, ring.id, "no-finished-tool", words))
    return found


def _weld_findings(job: Job) -> list[Finding]:
    found = []
    for verdict in verdicts(job):
        first = next((f for f in verdict.findings if f.level == "stop"), None)
        if verdict.decision != "released":
            remedy = first.remedy if first is not None else "see the lot"
            sentence = f"Weld lot {verdict.lot} is {verdict.decision}."
            found.append(Finding("stop", sentence, remedy, f"lot/{verdict.lot}", "lot-not-released", verdict.reason))
    return found


def _hot_findings(job: Job, revision: str) -> list[Finding]:
    if job.revision(revision).liner.thermal is None:
        return []
    return [f for f in job.hot(revision).findings if f.level == "stop"]


def _plan_findings(job: Job, revision: str) -> list[Finding]:
    """Stops of the ring plans, the same topic once, with the rings it concerns."""
    by_topic: dict[str, list[Finding]] = {}
    plans = job.plans(revision)
    for finding in plans.findings:
        if finding.level == "stop":
            by_topic.setdefault(finding.topic, []).append(finding)
    found = []
    for rows in by_topic.values():
        others = list(dict.fromkeys(f.about.partition("/")[0] for f in rows[1:] if f.about[:6] != rows[0].about[:6]))
        why = rows[0].why + (f"; {', '.join(others)} too" if others else "")
        found.append(replace(rows[0], why=why))
    for ring, reason in plans.refused:
        remedy = "mend the drawing or a card, then plan again"
        found.append(Finding("stop", f"{ring} cannot be planned.", remedy, ring, "ring-refused", reason))
    return found


def answer_of(findings: tuple[Finding, ...]) -> str:
    """The board's answer: what stops the next step, or that nothing does."""
    stops = [f for f in findings if f.level == "stop"]
    if not stops:
        return "Nothing stops the next step."
    topics = [f.topic for f in stops]
    laps_off = sum(topic.startswith("lap-") for topic in topics)
    parts: list[str] = []
    if laps_off:
        counted = {1: "One lap", 2: "Two laps", 3: "Three laps"}.get(laps_off, f"{laps_off} laps")
        parts.append(f"{counted} cannot be welded as measured")
    parts += [f.sentence.rstrip(".") for f in stops if f.topic == "lot-not-released"]
    if any(topic.startswith("spring") for topic in topics):
        parts.append("the springs go slack hot")
    if any(topic == "stack-groove" for topic in topics):
        parts.append("the aft groove may bind")
    known = ("lap-", "lot-", "spring", "stack-groove")
    rest = [f for f in stops if not f.topic.startswith(known)]
    rings = list(dict.fromkeys(f.about.partition("/")[0] for f in rest))
    if rings:
        parts.append(f"{_listed(rings)} {'has' if len(rings) == 1 else 'have'} a stop in the plan")
    return _joined(parts)


def _joined(parts: list[str]) -> str:
    small = [parts[0], *(_lower(part) for part in parts[1:])]
    return _listed(small) + "."


def _lower(part: str) -> str:
    return part[0].lower() + part[1:] if part.split(" ")[0] in ("Weld", "The") else part


def _listed(parts: list[str]) -> str:
    return parts[0] if len(parts) == 1 else ", ".join(parts[:-1]) + " and " + parts[-1]
