"""Which body hangs on which along one direction: weighted union-find with the datum as a node of its own.

A link says U_a = U_b + d, with d a number or an array over time; the topology is walked once for all times. A link that
closes a loop gives a closure error c: how far the loop misses itself. Bodies that never reach the datum are loose.
Derived here (disjoint sets with weights are textbook matter). Units: whatever d is in (mm).
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError

Vector = NDArray[np.float64]

DATUM = "*"


@dataclass(frozen=True, slots=True, eq=False)
class Closure:
    """A loop closed by a link. name : of the link. path : links of the loop, the closing one last. miss : c = what the
    link says less what the rest of the loop says, in the unit of d."""

    name: str
    path: tuple[str, ...]
    miss: Vector


@dataclass(slots=True, eq=False)
class MotionGraph:
    """Bodies and links in one direction; `link` adds, `position` and `loose` ask."""

    _parent: dict[str, str] = field(default_factory=dict)
    _offset: dict[str, Vector] = field(default_factory=dict)
    _edges: list[tuple[str, str, str]] = field(default_factory=list)
    closures: list[Closure] = field(default_factory=list)

    def add(self, body: str) -> None:
        """A body; adding it twice changes nothing."""
        if body not in self._parent:
            self._parent[body] = body
            self._offset[body] = np.zeros(())

    def link(self, name: str, a: str, b: str, offset: Vector | float) -> None:
        """U_a = U_b + offset.

        Raises
        ------
        InputError
            A link from a body to itself, or an offset that is not finite.
        """
        if a == b:
            raise InputError(f"link {name}", a, "", "between two bodies", "name two bodies")
        d = np.asarray(offset, dtype=np.float64)
        if not np.all(np.isfinite(d)):
            raise InputError(f"link {name}", "not finite", "mm", "finite", "mend the temperatures of its bodies")
        self.add(a)
        self.add(b)
        (root_a, u_a), (root_b, u_b) = self._found(a), self._found(b)
        if root_a == root_b:
            self.closures.append(Closure(name, (*self._path(a, b), name), d + u_b - u_a))
        else:
            # the datum stays a root, so that what hangs on it is told from what does not
            if root_a == DATUM:
                self._parent[root_b], self._offset[root_b] = root_a, u_a - u_b - d
            else:
                self._parent[root_a], self._offset[root_a] = root_b, u_b + d - u_a
        self._edges.append((name, a, b))

    def position(self, body: str) -> Vector:
        """Movement of a body that hangs on the datum.

        Raises
        ------
        InputError
            The body is loose or not there.
        """
        if body not in self._parent:
            raise InputError("body", body, "", "one of " + ", ".join(sorted(self._parent)), "take one of these")
        root, offset = self._found(body)
        if root != DATUM:
            raise InputError("body", body, "", "held by the datum", "link it, or one of what it hangs on, to the datum")
        return offset

    def loose(self) -> tuple[tuple[str, ...], ...]:
        """Groups of bodies that do not reach the datum."""
        groups: dict[str, list[str]] = {}
        for body in self._parent:
            root, _ = self._found(body)
            if root != DATUM:
                groups.setdefault(root, []).append(body)
        return tuple(tuple(sorted(group)) for group in groups.values())

    def _found(self, body: str) -> tuple[str, Vector]:
        offset = np.zeros(())
        while self._parent[body] != body:
            offset = offset + self._offset[body]
            body = self._parent[body]
        return body, offset

    def _path(self, a: str, b: str) -> tuple[str, ...]:
        """Links from a to b, breadth first."""
        seen: dict[str, tuple[str, str] | None] = {a: None}
        front = [a]
        while front:
            body = front.pop(0)
            if body == b:
                break
            for name, one, two in self._edges:
                for near, far in ((one, two), (two, one)):
                    if near == body and far not in seen:
                        seen[far] = (name, body)
                        front.append(far)
        names: list[str] = []
        at = b
        while (step := seen[at]) is not None:
            names.append(step[0])
            at = step[1]
        return tuple(reversed(names))
