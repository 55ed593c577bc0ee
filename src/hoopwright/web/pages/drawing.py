"""What is wanted? The ring's dimensioned section, its sizes with face and state, and the form that changes them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from hoopwright.desk.page.editing import fields_of
from hoopwright.papers.pictures.ring_drawing import control_name, ring_drawing
from hoopwright.web.drawing import screen
from hoopwright.web.shell import Page, page
from hoopwright.web.state import Shop


@dataclass(frozen=True, slots=True)
class FieldView:
    """One field of the form. theirs : what somebody else saved meanwhile, "" where nobody did."""

    key: str
    words: str
    unit: str
    value: str
    theirs: str


@dataclass(frozen=True, slots=True)
class DrawingView:
    """The drawing and its form."""

    ring: str
    drawing: Markup
    sizes: tuple[tuple[str, ...], ...]
    holes: tuple[tuple[str, ...], ...]
    fields: tuple[FieldView, ...]
    base: str
    action: str
    faults: list[dict[str, Any]]
    by: str
    current: bool
    revisions: tuple[tuple[str, str], ...]
    can_undo: bool


WIDE_MM = 150.0
"""Width of the section on the page, mm on paper."""

WORDS = {
    "thickness_mm": ("sheet thickness", "mm"),
    "metal_degC": ("metal temperature in service", "°C"),
    "seam_theta_deg": ("seam at", "°"),
    "prior_strain_log": ("strain into sizing, the shop's own", ""),
    "diameter_mm": ("Ø", "mm"),
    "tolerance_mm": ("plus or minus", "mm"),
}


def drawing_page(
    shop: Shop,
    ring: str,
    revision: str,
    faults: list[dict[str, Any]] | None = None,
    typed: dict[str, str] | None = None,
    theirs: dict[str, str] | None = None,
    base: str = "",
) -> tuple[Page, DrawingView]:
    """What is wanted of a ring."""
    found = shop.job.revision(revision)
    item = found.liner.ring(ring)
    sizes = tuple(
        (control_name(c), f"{c.z_mm:g}", c.face, f"Ø {c.diameter_mm:.2f}", f"± {c.tolerance_mm:.2f}", c.state,
         c.measured_as.replace("-", " "))
        for c in item.controls
    )  # fmt: skip
    names = ", ".join(f"{control_name(c)} Ø {c.diameter_mm:.2f} {c.face}" for c in item.controls)
    state = item.controls[0].state if item.controls else "free"
    answer = f"{ring} is sheet {item.thickness_mm:g}, held at {names}; cold, {state}."
    if faults:
        answer = "Nothing was saved. What was entered is kept below."
    head = page(shop, "drawing", f"{ring}: what is wanted?", f"What is wanted of {ring}?", answer, found.name, ring)
    scale = round(min(4.0, WIDE_MM / max(item.section.bounds[2] - item.section.bounds[0], 1.0)), 1)
    values = fields_of(found.text, ring)
    entered, other = typed or {}, theirs or {}
    fields = tuple(
        FieldView(key, _words(key), _unit(key), entered.get(key, f"{value:g}"), other.get(key, ""))
        for key, value in values.items()
    )
    holes = tuple(
        (h.kind, f"{h.z_mm:g}", f"{h.count} × {h.diameter_mm:g}", f"{h.first_theta_deg:g}°")
        for h in found.liner.holes_of(ring)
    )
    revisions = tuple((name, f"/{found.liner.id}@{name}/{ring}") for name in shop.job.revisions())
    return head, DrawingView(
        ring, screen(ring_drawing(item, scale), scale), sizes, holes, fields, base or found.digest,
        f"/{found.liner.id}@{found.name}/{ring}", faults or [], entered.get("by", ""),
        found.name == shop.job.current().name,
        revisions, len(revisions) > 1,
    )  # fmt: skip


def _words(key: str) -> str:
    if key.startswith("control."):
        _, name, field = key.split(".")
        return f"{name.replace('_', ' ')}, {WORDS[field][0]}"
    return WORDS[key][0]


def _unit(key: str) -> str:
    return WORDS[key.rpartition(".")[2]][1]


@dataclass(frozen=True, slots=True)
class FileView:
    """The whole liner file in a text field."""

    text: str
    base: str
    action: str
    faults: list[dict[str, Any]]
    by: str
    theirs: str


def file_page(
    shop: Shop, faults: list[dict[str, Any]] | None = None, typed: dict[str, str] | None = None, theirs: str = ""
) -> tuple[Page, FileView]:
    """The liner file as a whole."""
    now = shop.job.current()
    entered = typed or {}
    said = "The liner file as it is kept. Comments stay; what is saved is a new revision."
    if faults:
        said = "Nothing was saved. What was entered is kept below."
    head = page(shop, "drawing", "The liner file", "What is wanted? The liner file", said, wide=True)
    view = FileView(
        entered.get("text", now.text), entered.get("base", now.digest), f"/{now.liner.id}@{now.name}/file",
        faults or [], entered.get("by", ""), theirs,
    )  # fmt: skip
    return head, view
