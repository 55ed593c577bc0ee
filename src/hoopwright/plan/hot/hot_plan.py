"""The hot build of a liner: all chapters, findings gravest first."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from hoopwright.design.mark import input_mark
from hoopwright.design.shapes import Liner
from hoopwright.findings import Figure, Finding, gravest_first
from hoopwright.plan.hot.constraint import Constraint, plan_constraint
from hoopwright.plan.hot.floats import Floats, plan_floats
from hoopwright.plan.hot.gaps import neighbours
from hoopwright.plan.hot.growth import Growth, plan_growth
from hoopwright.plan.hot.history import History, with_history
from hoopwright.plan.hot.job import HotJob, hot_job
from hoopwright.plan.hot.joints import Joints, plan_joints
from hoopwright.plan.hot.leak import Leak, plan_leak
from hoopwright.plan.hot.model import HotModel, hot_model
from hoopwright.plan.hot.resting import resting_said, settled
from hoopwright.plan.hot.spring_search import Alternative, spring_alternatives
from hoopwright.plan.hot.springs import Springs, plan_springs
from hoopwright.plan.hot.stacks import Stacks, plan_stacks


@dataclass(frozen=True, slots=True, eq=False)
class HotPlan:
    """Growth, joints and stacks; with seals also floats, leak, springs and their alternatives. mark : digest of the
    liner
    and its cards."""

    job: HotJob
    model: HotModel
    mark: str
    growth: Growth
    constraint: Constraint
    joints: Joints
    rests: tuple[list[Figure], list[Finding]]
    stacks: Stacks
    floats: Floats
    leak: Leak
    springs: Springs
    alternatives: tuple[Alternative, ...]

    @property
    def grow_figures(self) -> tuple[Figure, ...]:
        """Figures of growth, constraint and joints."""
        groove = tuple(f for f in self.stacks.figures if "/stacks/groove/" in f.identity)
        return (*self.growth.figures, *self.constraint.figures, *self.joints.figures, *self.rests[0], *groove)

    @property
    def seal_figures(self) -> tuple[Figure, ...]:
        """Figures of floats, leak and springs."""
        floats = tuple(f for f in self.stacks.figures if "/stacks/float/" in f.identity)
        return (*self.floats.figures, *self.leak.figures, *self.springs.figures, *floats)

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All figures."""
        return (*self.grow_figures, *self.seal_figures)

    @property
    def grow_findings(self) -> tuple[Finding, ...]:
        """Findings of growth, constraint, joints and groove stack, gravest first."""
        groove = tuple(f for f in self.stacks.findings if f.topic == "stack-groove")
        own = (*self.growth.findings, *self.constraint.findings, *self.joints.findings, *self.rests[1])
        return gravest_first((*own, *groove))

    @property
    def seal_findings(self) -> tuple[Finding, ...]:
        """Findings of floats, leak, springs and float stack, gravest first."""
        floats = tuple(f for f in self.stacks.findings if f.topic == "stack-float")
        return gravest_first((*self.floats.findings, *self.leak.findings, *self.springs.findings, *floats))

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, gravest first."""
        return gravest_first((*self.grow_findings, *self.seal_findings))


def plan_hot(liner: Liner, shop_folder: Path | None = None, history: History | None = None) -> HotPlan:
    """The hot build of a liner.

    Raises
    ------
    InputError
        See `hot_job`, `hot_model` and `with_history`.
    RangeError
        A temperature outside a card's table.
    CardError
        A card, or a figure on it, is not there.
    """
    job = hot_job(liner, shop_folder)
    model, rests = settled(job)
    job = model.job
    met = neighbours(job)
    times = None if history is None else with_history(job, history)
    history_model = None if times is None else hot_model(times.job)
    joints = plan_joints(model, met, times, history_model)
    mark = input_mark(liner, *(p.alloy.digest for p in job.parts), "" if history is None else repr(history.columns))
    return HotPlan(
        job,
        model,
        mark,
        plan_growth(model, met),
        plan_constraint(model),
        joints,
        resting_said(job, rests),
        plan_stacks(job, joints),
        plan_floats(model, joints),
        plan_leak(job),
        plan_springs(job),
        spring_alternatives(job),
    )
