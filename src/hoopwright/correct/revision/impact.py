"""Impact of a new revision of the liner file: both are planned, and their differences followed to tool and part.

A ring whose own data and cards are the same in both is left alone. Of every other ring both plans stand side by side:
segment profile against profile, roll contours against contours, figures against figures. So whatever was changed
(a size, the sheet, a temperature behind a hot size, a limit) is judged by what it does to the tools, not by its name.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from hoopwright.correct.change import (
    DEAD,
    Impact,
    NewControl,
    PartImpact,
    ToolImpact,
    change_findings,
    change_plans,
    stock_of,
)
from hoopwright.correct.change_graph import slot_height
from hoopwright.correct.recut import LOBE_SHARE
from hoopwright.correct.revision.contours import ToolVerdict, apart, roll_verdict, segment_verdict
from hoopwright.correct.revision.differences import Difference, differences
from hoopwright.correct.revision.finished import finished_verdict
from hoopwright.design.changes import Change, Durations
from hoopwright.design.checks.laps import lap_of
from hoopwright.design.geometry_checks import geometry_findings
from hoopwright.design.register import Register, Tool
from hoopwright.design.shapes import Liner
from hoopwright.errors import HoopwrightError, InputError
from hoopwright.findings import Figure, Finding, gravest_first
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.shelf import Shelf

PAPERS: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
    (("blank", "strip"), ("blank-nest", "blank cutting program")),
    (("roll", "curl", "close"), ("pass-card",)),
    (("weld",), ("weld sheet",)),
    (("segments",), ("set-blank", "set-wire", "set-ground", "wire program", "segment grind program")),
    (("size", "press", "stop"), ("machine-card", "sizing-record")),
    (("trim", "holes"), ("trim-holes", "hole program")),
    (("inspect",), ("inspection",)),
)
"""First words of a figure's identity, and the papers and programs that print or hold it."""

ROLL_SHARE = 0.1
"""A roll contour that moves the part by less than this share of its profile zone is left: a tenth, as in proof runs."""


@dataclass(frozen=True, slots=True)
class RevisionImpact:
    """differences of the files; impact as of any change; laps : (joint, old, new) radial gaps [mm] that differ;
    figures : (ring, old, new) that print another value; untouched : rings that are the same in both."""

    differences: tuple[Difference, ...]
    impact: Impact
    laps: tuple[tuple[str, float, float], ...]
    figures: tuple[tuple[str, Figure, Figure], ...]
    untouched: tuple[str, ...]


def impact_of_revision(
    old: Liner,
    new: Liner,
    register: Register,
    change: Change | None = None,
    shelf: Shelf | None = None,
    largest_restretch_log: float = 0.01,
) -> RevisionImpact:
    """What a new revision does to tools, finished parts, papers, sizes, gaps and reports.

    Parameters
    ----------
    change : finished parts, dates and days for the plan of the change; its new sizes are not read, the file has them.

    Raises
    ------
    InputError
        Two liners of different numbers, or two files that say the same.
    """
    if old.id != new.id:
        raise InputError("liner", new.id, "", f"{old.id}, as in the older file", "give two revisions of one liner")
    found = differences(old, new)
    if not found:
        raise InputError("revision", new.revision, "", "one in which something differs", "give the changed file")
    cards = shelf if shelf is not None else Shelf()
    twins = {ring.id: _Twins(old, new, ring.id, cards) for ring in old.rings if _touched(old, new, ring.id)}
    planning = change if change is not None else _bare(new)
    planning = replace(planning, revision=new.revision)
    tools = tuple(_tool(tool, twins, old, new) for tool in register.tools)
    parts = tuple(_part(serial, old, new, largest_restretch_log) for serial in planning.finished_parts)
    plans = change_plans(planning, tools, parts, register)
    findings = [*change_findings(tools, parts, planning, plans), *_new_findings(old, new)]
    findings += [finding for twin in twins.values() for finding in twin.findings()]
    impact = Impact(
        revision=new.revision,
        tools=tools,
        parts=parts,
        controls=tuple(_controls(old, new)),
        slots=tuple(_slots(old, new)),
        papers=tuple(paper for twin in twins.values() for paper in twin.papers()),
        first_article=tuple(line for twin in twins.values() for line in twin.first_article()),
        plans=plans,
        findings=gravest_first(list({(f.topic, f.sentence): f for f in findings}.values())),
    )
    figures = tuple((name, one, two) for name, twin in twins.items() for one, two in twin.figures())
    same = tuple(ring.id for ring in old.rings if ring.id not in twins)
    return RevisionImpact(found, impact, tuple(_gaps(old, new)), figures, same)


class _Twins:
    """Both plans of one ring; None where one cannot be made, with the reason."""

    def __init__(self, old: Liner, new: Liner, ring_id: str, shelf: Shelf) -> None:
        self.ring, self.reason = ring_id, ""
        self.old = self._plan(old, shelf)
        self.gone = all(ring.id != ring_id for ring in new.rings)
        self.new = None if self.gone else self._plan(new, shelf)
        if self.gone:
            self.reason = f"revision {new.revision} has no {ring_id}"

    def _plan(self, liner: Liner, shelf: Shelf) -> RingPlan | None:
        try:
            return plan_ring(liner, self.ring, shelf)
        except HoopwrightError as problem:
            self.reason = f"{self.ring} of revision {liner.revision} cannot be planned: {problem}"
            return None

    def figures(self) -> Iterator[tuple[Figure, Figure]]:
        if self.old is None or self.new is None:
            return
        now = {figure.identity: figure for figure in self.new.figures}
        for figure in self.old.figures:
            then = now.get(figure.identity)
            if then is not None and str(then) != str(figure):
                yield figure, then

    def papers(self) -> Iterator[tuple[str, str, str]]:
        """Each paper that prints something else, with the first figure by which it does."""
        if self.new is None:
            yield self.ring, "every paper", self.reason
            return
        first: dict[str, str] = {"definition": "the drawing's revision", "route-card": "its papers are of the new mark"}
        for one, two in self.figures():
            word = one.identity.removeprefix(f"{self.ring}/").split("/")[0]
            for words, names in PAPERS:
                if word in words:
                    for name in names:
                        first.setdefault(name, f"{one.name}: {one} → {two}")
        if self.contours_differ():
            first.setdefault("roll-pair", "the contours differ")
        yield from ((self.ring, name, why) for name, why in first.items())

    def contours_differ(self) -> bool:
        if self.old is None or self.new is None:
            return True
        was, now = self.old.passes.rolls, self.new.passes.rolls
        return max(apart(was.inner, now.inner).largest_mm, apart(was.outer, now.outer).largest_mm) > 1e-4

    def first_article(self) -> Iterator[tuple[str, str]]:
        """Lines of the characteristics list that are new or want something else."""
        if self.new is None:
            return
        was = {} if self.old is None else {row.name: row.wanted for row in self.old.characteristics.rows}
        for row in self.new.characteristics.rows:
            if was.get(row.name) != row.wanted:
                yield self.ring, f"{row.name} {row.wanted}"

    def findings(self) -> Iterator[Finding]:
        if self.reason:
            yield Finding("stop", self.reason, "mend the new revision first", self.ring, "not-planned")
            return
        before = {f.topic for f in self.old.findings} if self.old is not None else set()
        for finding in self.new.findings if self.new is not None else ():
            if finding.level == "stop" and finding.topic not in before:
                yield finding

    def verdict(self, tool: Tool, old: Liner, new: Liner) -> ToolVerdict:
        """What becomes of a tool that serves this ring."""
        if self.new is None or self.old is None:
            return ToolVerdict("replace" if self.gone else "note", 0.0, None, self.reason)
        stock = stock_of(tool)
        if tool.kind == "segment set":
            if self.new.sizing.segments.count != self.old.sizing.segments.count:
                count = self.new.sizing.segments.count
                return ToolVerdict("replace", 0.0, None, f"the ring now wants {count} segments")
            profiles = apart(self.old.sizing.surface.profile, self.new.sizing.surface.profile)
            keep = self.new.job.spread.segment_radius_mm.value
            zone, count = new.tolerances.roundness_restrained_radial_mm, self.new.sizing.segments.count
            return segment_verdict(profiles, keep, count, stock, zone, LOBE_SHARE)
        if tool.kind == "roll pair":
            was, now = self.old.passes.rolls, self.new.passes.rolls
            keep = ROLL_SHARE * new.tolerances.profile_restrained_mm
            # each roll is turned about its own axis, so the contours are compared there; a tilt is set on the machine
            found = roll_verdict(apart(was.inner, now.inner), apart(was.outer, now.outer), keep, stock, was.run_out_mm)
            if abs(was.cone_deg - now.cone_deg) > 0.005:
                tilt = f"tilt of the axes {was.cone_deg:.2f}° → {now.cone_deg:.2f}°"
                found = replace(found, reason=f"{found.reason}; {tilt}")
            return found
        return ToolVerdict("note", 0.0, None, f"{self.ring} differs: look whether the {tool.kind} does")


def _touched(old: Liner, new: Liner, ring_id: str) -> bool:
    """Whether anything a ring's plan rests on differs."""
    if all(ring.id != ring_id for ring in new.rings):
        return True
    shared = ("cards", "tolerances", "wishes")
    if any(getattr(old, name) != getattr(new, name) for name in shared):
        return True
    return old.ring(ring_id) != new.ring(ring_id) or old.holes_of(ring_id) != new.holes_of(ring_id)


def _tool(tool: Tool, twins: Mapping[str, _Twins], old: Liner, new: Liner) -> ToolImpact:
    stock = stock_of(tool)

    def impact(verdict: str, change: float, reason: str) -> ToolImpact:
        return ToolImpact(tool.id, tool.kind, verdict, change, stock, None, reason)

    if tool.state in DEAD:
        return impact("unaffected", 0.0, f"{tool.state}: never to the press")
    if tool.serves in twins:
        found = twins[tool.serves].verdict(tool, old, new)
        if tool.state == "in design" and found.verdict != "unaffected":
            return impact("note", found.change_mm, f"in design: use the new sizes ({found.reason})")
        return ToolImpact(tool.id, tool.kind, found.verdict, found.change_mm, stock, found.recut, found.reason)
    shared = [d for d in differences(old, new) if d.thing == tool.serves and tool.serves != old.id]
    if shared:
        return impact("note", 0.0, f"{shared[0].sentence}: look whether the {tool.kind} still serves")
    if tool.serves == old.id and twins and "weld" in tool.kind:
        return impact("note", 0.0, f"seats {', '.join(twins)}: look at its seats")
    return impact("unaffected", 0.0, "nothing it is made to differs")


def _part(serial: str, old: Liner, new: Liner, largest: float) -> PartImpact:
    ring = next((r.id for r in old.rings if r.id.split("-")[-1] == serial.split("-")[0]), "")
    if not ring:
        raise InputError("finished part", serial, "", "a serial of a ring of this liner", "correct the list of parts")
    if not _touched(old, new, ring):
        return PartImpact(serial, ring, "", "use", 0.0, "its ring is the same in both revisions")
    found = finished_verdict(old, new, ring, largest)
    return PartImpact(serial, ring, found.zone, found.verdict, found.strain_log, found.reason)


def _controls(old: Liner, new: Liner) -> Iterator[NewControl]:
    known = {ring.id: ring for ring in new.rings}
    for ring in old.rings:
        sizes = {c.name: c for c in known[ring.id].controls} if ring.id in known else {}
        for control in ring.controls:
            now = sizes.get(control.name)
            if now is not None and now.diameter_mm != control.diameter_mm:
                yield NewControl(ring.id, control.name, control.diameter_mm, now.diameter_mm)


def _gaps(old: Liner, new: Liner) -> Iterator[tuple[str, float, float]]:
    """Radial gap of every lap that is another one now [mm]."""
    then = {joint.id: joint for joint in new.joints}
    for joint in old.joints:
        if joint.id not in then:
            continue
        was, now = lap_of(old, joint), lap_of(new, then[joint.id])
        if was is not None and now is not None and abs(was.gap - now.gap) > 1e-6:
            yield joint.id, was.gap, now.gap


def _slots(old: Liner, new: Liner) -> Iterator[tuple[str, float, float]]:
    """Height of every film slot that is another one now [mm]."""
    then = {joint.id: joint for joint in new.joints}
    for joint in old.joints:
        if joint.id in then:
            was, now = slot_height(old, joint), slot_height(new, then[joint.id])
            if was is not None and now is not None and abs(was - now) > 1e-6:
                yield joint.id, was, now


def _new_findings(old: Liner, new: Liner) -> Iterator[Finding]:
    """What geometry says of the new revision and did not say of the old one."""
    before = {(f.topic, f.about, f.sentence) for f in geometry_findings(old)}
    yield from (f for f in geometry_findings(new) if (f.topic, f.about, f.sentence) not in before)


def _bare(new: Liner) -> Change:
    """A change without finished parts, dates or days."""
    return Change(new.revision, "", "", (), (), None, Durations(), ())
