"""The plans of all rings of a liner."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from hoopwright.design.mark import input_mark
from hoopwright.design.shapes import Liner
from hoopwright.errors import HoopwrightError
from hoopwright.findings import Finding, gravest_first
from hoopwright.plan.prove.record import Proof
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.shelf import Shelf

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True, eq=False)
class LinerPlan:
    """Plans in the order of the liner file.

    mark : digest of the liner and all cards. refused : (ring, reason) of rings that cannot be planned at all.
    findings : of all rings together, gravest first.
    """

    liner: Liner
    mark: str
    rings: tuple[RingPlan, ...]
    refused: tuple[tuple[str, str], ...]
    findings: tuple[Finding, ...]

    def ring(self, ring_id: str) -> RingPlan:
        """The plan of a ring. Raises KeyError where there is none."""
        for plan in self.rings:
            if plan.job.ring.id == ring_id:
                return plan
        raise KeyError(ring_id)


def plan_liner(
    liner: Liner,
    shelf: Shelf | None = None,
    rings: Iterable[str] | None = None,
    progress: Progress | None = None,
    proofs: Mapping[str, Proof] | None = None,
) -> LinerPlan:
    """Plan every ring of a liner, one after the other (a second process costs more to start than it saves).

    Parameters
    ----------
    rings : numbers of the rings to plan; all of them where not given.
    progress : told the number of each ring before it is planned.
    proofs : proof runs by ring; the plans they belong to are planned with them.

    Raises
    ------
    InputError
        A ring that the liner does not have. A ring that cannot be planned stands in `refused` instead.
    """
    cards = shelf if shelf is not None else Shelf()
    wanted = [ring.id for ring in liner.rings] if rings is None else [liner.ring(name).id for name in rings]
    plans: list[RingPlan] = []
    refused: list[tuple[str, str]] = []
    for name in wanted:
        if progress is not None:
            progress(name)
        try:
            plans.append(plan_ring(liner, name, cards, proof=(proofs or {}).get(name)))
        except HoopwrightError as refusal:
            refused.append((name, str(refusal)))
    mark = input_mark(liner, *(plan.mark for plan in plans), *(reason for _, reason in refused))
    findings = gravest_first(finding for plan in plans for finding in plan.findings)
    return LinerPlan(liner, mark, tuple(plans), tuple(refused), findings)
