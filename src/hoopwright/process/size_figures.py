"""Figures of one hit: tension, springback, control sizes, stretch, thickness, each with its working."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.design.shapes import ControlSize
from hoopwright.findings import Figure, Input
from hoopwright.kernels.chain_contour import SizedContour
from hoopwright.process.face_radius import radius_at
from hoopwright.process.shop import ShopCard
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Workpiece


def control_word(control: ControlSize) -> str:
    """A control size in an identity: "lip_od" is "lip-dia"; the face stands in the figure's note."""
    return word_of_control(control.name)


def word_of_control(name: str) -> str:
    """The same from the name alone."""
    name = name.lower()
    for end in ("_od", "_id", "_dia"):
        name = name.removesuffix(end)
    return name.replace("_", "-").replace(" ", "-") + "-dia"


def tension_figure(place: str, loaded: Workpiece, sized: SizedContour, card: ShopCard) -> Figure:
    """Hoop tension of the whole section on the segments."""
    area = loaded.area_mm2
    stress = Input("s", "hoop stress on the segments, mean", sized.hoop_tension_N / area, "MPa", card.ground)
    return reckoned(
        f"{place}/tension",
        "hoop tension of the section, edge trims on",
        sized.hoop_tension_N * 1e-3,
        "kN",
        "s A / 1000",
        stress,
        Input("A", "area of the section on the segments", area, "mm2", card.ground),
        digits=2,
        note="summed by station and layer",
    )


def springback_figure(place: str, loaded: Workpiece, sized: SizedContour, pull: Figure, card: ShopCard) -> Figure:
    """Springback on diameter: all stations move by one and the same amount."""
    per_radius = float(np.sum(loaded.weight_mm * loaded.thickness_mm / loaded.r_mm))
    return reckoned(
        f"{place}/springback",
        "springback on diameter",
        2.0 * sized.springback_mm,
        "mm",
        "2000 T / ( E K )",
        pull.as_input("T"),
        card.young_MPa.as_input("E"),
        Input("K", "area over radius, summed over the section", per_radius, "mm", card.ground),
        digits=3,
        note="T / ( E K ) to first order; solved layer by layer; all of the section moves alike",
    )


def control_figures(
    place: str, control: ControlSize, loaded: Workpiece, free: Workpiece, spring: Figure, card: ShopCard
) -> tuple[Figure, Figure]:
    """One control size on the segments and off them."""
    word, said = control_word(control), control.name.replace("_", " ")
    on_tool = 2.0 * radius_at(loaded, control.z_mm, control.face)
    off_tool = 2.0 * radius_at(free, control.z_mm, control.face)
    face = 2.0 * radius_at(loaded, control.z_mm, "inside")
    segments = Input("D_seg", "diameter of the segments there", face, "mm", card.ground)
    sheet = Input("t", "sheet on the segments", 0.5 * (on_tool - face), "mm", card.ground)
    where = f"{control.face} face at z {control.z_mm:g}"
    outside = control.face == "outside"
    held = reckoned(
        f"{place}/loaded-{word}",
        f"{said}, on the segments",
        on_tool,
        "mm",
        "D_seg + 2 t" if outside else "D_seg",
        segments,
        *((sheet,) if outside else ()),
        digits=3,
        note=where,
    )
    back = Input(
        "g", "what the sheet's own spring in thickness adds", off_tool - on_tool + spring.value, "mm", card.ground
    )
    let_off = reckoned(
        f"{place}/free-{word}",
        f"{said}, free",
        off_tool,
        "mm",
        "D_loaded - spring + g",
        held.as_input("D_loaded"),
        spring.as_input("spring"),
        back,
        digits=3,
        note=f"{where}, as a girth tape reads",
    )
    return held, let_off


def stretch_figures(
    place: str, least_in_mm: float, loaded: Workpiece, free: Workpiece, card: ShopCard
) -> tuple[Figure, Figure]:
    """Stretch at the smallest mid-surface radius, kept and on the segments."""
    incoming = Input("R_in", "least mid-surface radius as welded", least_in_mm, "mm", card.ground)
    kept, held = float(free.r_mm.min()), float(loaded.r_mm.min())
    total = reckoned(
        f"{place}/stretch",
        "stretch kept, at the smallest mid-surface radius",
        100.0 * (kept / least_in_mm - 1.0),
        "pct",
        "100 ( R_free / R_in - 1 )",
        Input("R_free", "the same, free", kept, "mm", card.ground),
        incoming,
        digits=2,
    )
    on_tool = reckoned(
        f"{place}/stretch-loaded",
        "stretch on the segments, at the smallest mid-surface radius",
        100.0 * (held / least_in_mm - 1.0),
        "pct",
        "100 ( R_loaded / R_in - 1 )",
        Input("R_loaded", "the same, on the segments", held, "mm", card.ground),
        incoming,
        digits=2,
    )
    return total, on_tool


def thickness_figure(place: str, before: Workpiece, after: Workpiece, card: ShopCard) -> Figure:
    """Mean thickness after the hit."""
    was, now = (float(w.weight_mm @ w.thickness_mm / w.weight_mm.sum()) for w in (before, after))
    return reckoned(
        f"{place}/thickness",
        "thickness, mean",
        now,
        "mm",
        "t exp ( e_t )",
        Input("t", "sheet before this hit, mean", was, "mm", card.ground),
        Input("e_t", "thickness strain, mean", math.log(now / was), "log", card.ground),
        digits=4,
    )
