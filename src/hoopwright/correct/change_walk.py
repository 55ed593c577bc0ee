"""A design change walked along its dependencies: what it touches, by which path, and what stays as it is.

Nodes are (thing, feature). An edge carries the change of a size on to another node, as a function that gives the new
change or None where it stops. Breadth first; the first path to a node is kept and printed as the reason.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass

Node = tuple[str, str]
Effect = Callable[[float], float | None]


@dataclass(frozen=True, slots=True)
class Edge:
    """From one node to another; effect of a change [mm] there; why, in the shop's words."""

    start: Node
    end: Node
    effect: Effect
    why: str


@dataclass(frozen=True, slots=True)
class Touched:
    """A node that the change reaches: by how much [mm], and the path of reasons."""

    thing: str
    feature: str
    change_mm: float
    path: tuple[str, ...]

    @property
    def reason(self) -> str:
        """The path as one line."""
        return ", so ".join(self.path)


def same(change: float) -> float | None:
    """The change goes on as it is."""
    return change


def walk(starts: Sequence[tuple[Node, float, str]], edges: Sequence[Edge]) -> tuple[Touched, ...]:
    """Everything reached from the starts (node, change, reason), nearest first."""
    leaving: dict[Node, list[Edge]] = {}
    for edge in edges:
        leaving.setdefault(edge.start, []).append(edge)
    found: dict[Node, Touched] = {}
    line: deque[Node] = deque()
    for node, change, why in starts:
        if node not in found:
            found[node] = Touched(*node, change, (why,))
            line.append(node)
    while line:
        node = line.popleft()
        here = found[node]
        for edge in leaving.get(node, ()):
            then = edge.effect(here.change_mm)
            if then is not None and edge.end not in found:
                found[edge.end] = Touched(*edge.end, then, (*here.path, edge.why))
                line.append(edge.end)
    return tuple(found.values())
