"""What an operation hands on: the changed workpiece, the figures of the step and its findings."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.findings import Figure, Finding
from hoopwright.process.workpiece import Workpiece


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a ring's walk.

    kind : stable word ("cut", "roll", "curl", "close", "weld", "anneal", "size", "trim", "drill").
    title : as the shop says it ("Roll, pass 2 of 4"). subtitle : tool, machine, state.
    settings : what the operator sets, in order of use; figures : everything else worth knowing.
    """

    kind: str
    title: str
    subtitle: str
    workpiece: Workpiece
    settings: tuple[Figure, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
