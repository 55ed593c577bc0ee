"""Records of what a liner is and what it is made of: revisions of its file, casts, sheets, weld lots and coupons."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import ClassVar

from hoopwright.errors import InputError
from hoopwright.records.shape import Shape, count, identity, name, number, numbers, one_of, refers, text

MOST_LINER_TEXT = 4_000_000


def digest_of(content: bytes | str) -> str:
    """SHA-256 of a content in hex: the identity of what is known by what it says."""
    return hashlib.sha256(content.encode() if isinstance(content, str) else content).hexdigest()


@dataclass(frozen=True, slots=True, kw_only=True)
class LinerRevision(Shape):
    """A liner file as it was at one revision. id : SHA-256 of `content`. mark : as printed on papers made from it."""

    kind: ClassVar[str] = "liner_revision"
    id: str = identity()
    liner: str = name()
    revision: str = name()
    content: str = text(least=1, most=MOST_LINER_TEXT)
    mark: str = text()
    state: str = one_of("in design", "in force", "superseded", default="in design")
    note: str = text()

    def further(self) -> None:
        """The identity is the digest of the content."""
        if self.id != digest_of(self.content):
            raise InputError("liner_revision.id", self.id, "", "the SHA-256 of its content", "leave it to the program")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cast(Shape):
    """A cast of sheet. card : alloy card that stands for it. certificate : number of the mill's paper."""

    kind: ClassVar[str] = "cast"
    id: str = identity()
    card: str = name("")
    certificate: str = text()
    state: str = one_of("in use", "on hold", "withdrawn", default="in use")
    note: str = text()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet(Shape):
    """A sheet as received."""

    kind: ClassVar[str] = "sheet"
    id: str = identity()
    cast: str = refers("cast", optional=False)
    thickness_mm: float = number("mm", 0.05, 10.0)
    width_mm: float | None = number("mm", 1.0, 20_000.0, None)
    length_mm: float | None = number("mm", 1.0, 20_000.0, None)
    state: str = one_of("received", "accepted", "on hold", "used up", "withdrawn", default="received")
    note: str = text()


@dataclass(frozen=True, slots=True, kw_only=True)
class WeldLot(Shape):
    """A lot of closing welds with its coupons. parent_tensile_MPa : of the sheet itself."""

    kind: ClassVar[str] = "weld_lot"
    id: str = identity()
    cast: str | None = refers("cast")
    procedure: str = text()
    state: str = one_of("open", "released", "not released", "withdrawn", default="open")
    parent_tensile_MPa: tuple[float, ...] = numbers()
    note: str = text()


@dataclass(frozen=True, slots=True, kw_only=True)
class Coupon(Shape):
    """A tensile coupon across a weld. replaces : coupon for which it stands in."""

    kind: ClassVar[str] = "coupon"
    id: str = identity()
    lot: str = refers("weld_lot", optional=False)
    tensile_MPa: float = number("MPa", 1.0, 5000.0)
    mismatch_mm: float | None = number("mm", 0.0, 10.0, None)
    underfill_mm: float | None = number("mm", 0.0, 10.0, None)
    fracture: str = text()
    replaces: str | None = refers("coupon")
    note: str = text()


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceFile(Shape):
    """A file from which readings were taken. id : SHA-256 of its bytes, so that no file is taken twice."""

    kind: ClassVar[str] = "source_file"
    id: str = identity()
    name: str = text(least=1, most=255)
    size_bytes: int = count(0, 1_000_000_000)
    holds: str = text(least=1)
    rows: int = count(0, 1_000_000)
    note: str = text()
