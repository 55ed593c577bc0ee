"""What came out? Roundness of a ring with segments and seam, what it is a sign of; and where readings go in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from hoopwright.desk.page.came_out import CameOut, came_out, delta_working
from hoopwright.desk.page.serials import SerialShown, serials
from hoopwright.papers.pictures.polar import Strip, Turn, amplitudes, polar, unrolled
from hoopwright.web.drawing import screen
from hoopwright.web.shell import Page, page
from hoopwright.web.shown import FindingShown, findings_shown
from hoopwright.web.state import Shop
from hoopwright.web.words import count_of, whole


@dataclass(frozen=True, slots=True)
class RoundView:
    """Roundness of one ring."""

    serial: str
    polar: Markup
    unrolled: Markup
    amplitudes: Markup
    findings: tuple[FindingShown, ...]
    heading: str
    working: tuple[str, str]
    rows: tuple[tuple[str, str], ...]
    orders: tuple[tuple[int, str], ...]
    how: str


@dataclass(frozen=True, slots=True)
class ReadingsView:
    """Where readings of a ring go in. typed : what was entered and refused."""

    ring: str
    serials: tuple[SerialShown, ...]
    next_serial: str
    sets: tuple[str, ...]
    controls: tuple[tuple[str, str], ...]
    faults: list[dict[str, Any]]
    typed: dict[str, str]
    action: str
    lots: tuple[str, ...]


def round_page(shop: Shop, serial: str, z_mm: float | None) -> tuple[Page, RoundView]:
    """Roundness of a ring."""
    found = came_out(shop.job, serial, z_mm)
    head = page(
        shop,
        "readings",
        f"{serial}: what came out?",
        f"What came out? Roundness of {serial} at z {found.z_mm:g}",
        found.answer,
        "",
        found.ring,
    )
    turn = turn_of(found)
    return head, RoundView(
        serial,
        screen(polar(turn)),
        screen(unrolled(turn, strips(found))),
        screen(amplitudes(turn)),
        findings_shown(found.findings),
        count_of(found.findings, " on this reading"),
        delta_working(found),
        tuple((f"{a:g}", f"{d:+.3f}") for a, d in zip(found.angle_deg, found.deviation_mm, strict=True)),
        tuple((k, f"{(a * a + b * b) ** 0.5:.4f}") for k, a, b in found.waves),
        f"Read {found.held} on the {found.face} face; 0° at the middle of segment 1, clockwise seen from forward.",
    )


def turn_of(found: CameOut) -> Turn:
    """The turn as its picture wants it."""
    words = (f"z {found.z_mm:g}, {found.face} face", f"{len(found.angle_deg)} readings, {found.held}")
    return Turn(
        found.serial, found.angle_deg, found.deviation_mm, found.roundness.settings.segments,
        tuple(w for w in found.waves if w[0] in (1, 2, 3, found.roundness.settings.segments) or w[0] <= 12),
        found.mean_mm, found.radius_mm, found.seam_deg, words,
    )  # fmt: skip


def strips(found: CameOut) -> tuple[Strip, ...]:
    """Order after order taken out."""
    n = found.roundness.settings.segments
    left = found.roundness.left_after
    free, restrained = left("1"), left("1,2")
    return (
        Strip("as read", (), left("0")),
        Strip("less 1: position on the table", (1,), free,
              f"free limit {found.free_limit_mm:.2f}: {'in' if free <= found.free_limit_mm else 'over'}"),
        Strip("less 1 and 2: oval, set by handling", (1, 2), restrained,
              f"held limit {found.restrained_limit_mm:.2f}: "
              f"{'in' if restrained <= found.restrained_limit_mm else 'over'}",
              found.restrained_limit_mm),
        Strip(f"less 1, 2 and {n}: what is not the tool", (1, 2, n), left("1,2,N")),
    )  # fmt: skip


def readings_page(
    shop: Shop,
    ring: str,
    revision: str,
    faults: list[dict[str, Any]] | None = None,
    typed: dict[str, str] | None = None,
) -> tuple[Page, ReadingsView]:
    """Where readings of a ring go in."""
    rows, following = serials(shop.job, ring)
    found = shop.job.revision(revision)
    read = sum(row.roundness for row in rows)
    said = f"{len(rows)} rings of {ring} are in the records; roundness was read of {read} of them."
    if faults:
        said = "Nothing was stored: the table has faults. What was entered is kept below."
    head = page(
        shop, "readings", f"{ring}: what came out?", f"What came out of {ring}?", said, found.name, ring, wide=True
    )
    sets = tuple(t.id for t in shop.job.register().tools if t.serves == ring and t.kind == "segment set")
    controls = tuple((f"{c.z_mm:g}", c.name.replace("_", " ")) for c in found.liner.ring(ring).controls)
    return head, ReadingsView(
        ring,
        rows,
        following,
        sets,
        controls,
        faults or [],
        typed or {},
        f"/{found.liner.id}@{found.name}/{ring}/readings",
        tuple(lot.lot for lot in shop.job.readings().weld_lots),
    )


def words(text: str) -> Markup:
    """Words in which numbers do not break."""
    return whole(text)
