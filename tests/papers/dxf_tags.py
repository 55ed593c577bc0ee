"""A plain reader of DXF tags, for tests: group code and value in turn, and what can be measured from them.

It shares nothing with the writer: no library, no knowledge of styles, only the tags of the published format.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

Tag = tuple[int, str]


def tags(content: bytes) -> list[Tag]:
    """All tags of a file."""
    lines = content.decode("utf-8").splitlines()
    assert len(lines) % 2 == 0, "a DXF file is pairs of lines"
    return [(int(code), value.strip()) for code, value in zip(lines[0::2], lines[1::2], strict=True)]


@dataclass(frozen=True)
class Entity:
    """An entity: its kind and its tags."""

    kind: str
    tags: tuple[Tag, ...]

    def value(self, code: int, default: str = "") -> str:
        return next((v for c, v in self.tags if c == code), default)

    def number(self, code: int, default: float = 0.0) -> float:
        return float(self.value(code, str(default)))

    @property
    def layer(self) -> str:
        return self.value(8)


@dataclass(frozen=True)
class Document:
    """Header variables, layers with their descriptions, entities of the model space, and of each block."""

    header: dict[str, tuple[Tag, ...]]
    layers: tuple[str, ...]
    entities: tuple[Entity, ...]
    blocks: dict[str, tuple[Entity, ...]]

    def of_kind(self, kind: str, layer: str | None = None) -> list[Entity]:
        return [e for e in self.entities if e.kind == kind and layer in (None, e.layer)]

    def header_value(self, name: str) -> str:
        return self.header[name][0][1]

    def dimension_texts(self) -> list[str]:
        """What every dimension prints, read from its block."""
        return [self.dimension_text(e) for e in self.of_kind("DIMENSION")]

    def dimension_text(self, dimension: Entity) -> str:
        shown = [plain(e) for e in self.blocks[dimension.value(2)] if e.kind in ("MTEXT", "TEXT")]
        assert len(shown) == 1, shown
        return shown[0]


def plain(entity: Entity) -> str:
    """Text of a TEXT or MTEXT without its formatting codes."""
    text = "".join(v for c, v in entity.tags if c in (1, 3))
    text = re.sub(r"\\[ACHQTWfp][^;]*;", "", text)
    return text.replace("\\P", " ").replace("{", "").replace("}", "").replace("%%c", "Ø")


def _entities(part: list[Tag]) -> Iterator[Entity]:
    kind, own = "", []
    for code, value in part:
        if code == 0:
            if kind:
                yield Entity(kind, tuple(own))
            kind, own = value, []
        else:
            own.append((code, value))
    if kind:
        yield Entity(kind, tuple(own))


def document(content: bytes) -> Document:
    """Everything a test looks at."""
    sections: dict[str, list[Tag]] = {}
    name = ""
    every = tags(content)
    for k, (code, value) in enumerate(every):
        if code == 0 and value == "SECTION":
            name = every[k + 1][1]
            sections[name] = []
        elif code == 0 and value == "ENDSEC":
            name = ""
        elif name:
            sections[name].append((code, value))
    assert every[-1] == (0, "EOF")
    return Document(
        _header(sections["HEADER"]),
        tuple(e.value(2) for e in _entities(sections["TABLES"]) if e.kind == "LAYER"),
        tuple(_entities(sections["ENTITIES"][1:])),
        _blocks(sections["BLOCKS"][1:]),
    )


def _header(part: list[Tag]) -> dict[str, tuple[Tag, ...]]:
    found: dict[str, list[Tag]] = {}
    name = ""
    for code, value in part:
        if code == 9:
            name = value
            found[name] = []
        elif name:
            found[name].append((code, value))
    return {k: tuple(v) for k, v in found.items()}


def _blocks(part: list[Tag]) -> dict[str, tuple[Entity, ...]]:
    found: dict[str, list[Entity]] = {}
    name = ""
    for entity in _entities(part):
        if entity.kind == "BLOCK":
            name = entity.value(2)
            found[name] = []
        elif entity.kind == "ENDBLK":
            name = ""
        elif name:
            found[name].append(entity)
    return {k: tuple(v) for k, v in found.items()}


@dataclass(frozen=True)
class Chain:
    """A polyline: its points (x, y, bulge of the piece that follows) and whether it is closed."""

    points: tuple[tuple[float, float, float], ...]
    closed: bool

    @property
    def pieces(self) -> list[tuple[tuple[float, float, float], tuple[float, float, float]]]:
        ahead = (*self.points[1:], self.points[0]) if self.closed else self.points[1:]
        return list(zip(self.points, ahead, strict=False))

    @property
    def length(self) -> float:
        """Length, arcs by their turn 4 atan(bulge)."""
        total = 0.0
        for (x0, y0, bulge), (x1, y1, _) in self.pieces:
            chord, turn = math.hypot(x1 - x0, y1 - y0), 4.0 * math.atan(abs(bulge))
            total += chord if turn == 0.0 else chord * 0.5 * turn / math.sin(0.5 * turn)
        return total

    @property
    def area(self) -> float:
        """Enclosed area: shoelace, and the cap r^2 (turn - sin turn) / 2 of every arc."""
        total = 0.0
        for (x0, y0, bulge), (x1, y1, _) in self.pieces:
            total += 0.5 * (x0 * y1 - x1 * y0)
            turn = 4.0 * math.atan(bulge)
            if turn:
                radius = 0.5 * math.hypot(x1 - x0, y1 - y0) / abs(math.sin(0.5 * turn))
                total += 0.5 * radius * radius * (turn - math.sin(turn))
        return abs(total)

    @property
    def radii(self) -> list[float]:
        """Radius of every arc."""
        found = []
        for (x0, y0, bulge), (x1, y1, _) in self.pieces:
            if bulge:
                found.append(0.5 * math.hypot(x1 - x0, y1 - y0) / abs(math.sin(2.0 * math.atan(bulge))))
        return found


def chain(entity: Entity) -> Chain:
    """An LWPOLYLINE as a chain."""
    assert entity.kind == "LWPOLYLINE"
    points: list[list[float]] = []
    for code, value in entity.tags:
        if code == 10:
            points.append([float(value), 0.0, 0.0])
        elif code == 20:
            points[-1][1] = float(value)
        elif code == 42:
            points[-1][2] = float(value)
    return Chain(tuple((x, y, b) for x, y, b in points), bool(int(entity.value(70, "0")) & 1))
