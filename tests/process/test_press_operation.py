"""Press, flange, pierce and trim: what is conserved, what is found, and what is refused."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.errors import GeometryError, InputError
from hoopwright.kernels.press_formulas import punch_force
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_offset import offset
from hoopwright.kernels.section import mesh_line
from hoopwright.process import flange, pierce, press
from hoopwright.process.flange import FlangeHole
from hoopwright.process.pierce import Trim
from hoopwright.process.press import Press, PressStep
from hoopwright.process.press_tools import (
    HolderCushion,
    HolderForce,
    HolderGap,
    PressTool,
    Stroke,
    face_points,
    room_over_sheet,
    shut_gap_mm,
)
from hoopwright.process.press_wrinkle import strip_at, worst_wrinkle
from hoopwright.process.proof_piece import SectionPiece, piece_of, section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.workpiece import Workpiece

T = 1.0
CHANNEL = from_corners([(30.0, 63.0), (0.0, 63.0), (0.0, 119.0), (30.0, 119.0)], [4.0, 4.0])
TRAVEL = 26.0


def plate(elements: int = 160) -> SectionPiece:
    return piece_of("PLATE", mesh_line((0.0, 50.0), (0.0, 133.0), T, elements), 0.0)


def die(inner: bool, clearance: float = 1.1, radius: float = 5.0) -> Profile:
    if inner:
        wall = 63.5 - clearance
        return from_corners([(-45.0, wall), (-0.5, wall), (-0.5, 20.0)], [radius])
    wall = 118.5 + clearance
    return from_corners([(-0.5, 170.0), (-0.5, wall), (-45.0, wall)], [radius])


def tools(clearance: float = 1.1, pad_gap: float = 1.02, radius: float = 5.0) -> tuple[PressTool, ...]:
    pad = from_corners([(-15.5, 112.0), (-0.5, 112.0), (-0.5, 70.0), (-15.5, 70.0)], [2.0, 2.0])
    return (
        PressTool("punch", offset(CHANNEL, -0.5 * T), "aft"),
        PressTool("outer die", die(False, clearance, radius), "forward"),
        PressTool("inner die", die(True, clearance, radius), "forward"),
        PressTool("pad", pad.moved(T - pad_gap, 0.0), "forward"),
    )


def holder_face() -> PressTool:
    return PressTool("holder", from_corners([(30.0, 125.0), (0.5, 125.0), (0.5, 170.0)], [1.5]), "aft")


STROKE = Stroke("draw", (("punch", -TRAVEL), ("pad", -TRAVEL)), 48, 8)


def channel(**changes: object) -> Press:
    return replace(Press("flange", "Press the flanges", tools(), (STROKE,), outer_edge="free"), **changes)  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def step(card: ShopCard) -> PressStep:
    return press.run(plate(), channel(holder=HolderCushion(holder_face(), 2.5)), card)


@pytest.fixture(scope="module")
def bare(card: ShopCard) -> PressStep:
    return press.run(plate(), channel(), card)


def figure(step: PressStep, end: str) -> float:
    return next(f.value for f in step.figures if f.identity == f"PLATE/press-flange/{end}")


def test_forces_are_in_balance_and_work_is_kept(step: PressStep, card: ShopCard) -> None:
    record = step.record
    sides = record.force_N.sum(axis=0)
    assert np.abs(sides).max() < 5e-4 * np.abs(record.force_N).max()
    # plastic work of the shut section at flow stress lies within the work of the tools, friction takes the rest
    shut = record.shut
    law = card.metal.flow
    plastic = shut.plastic_strain
    mean = np.array([[law.stress(0.5 * p) for p in row] for row in plastic])
    inside = 1e-3 * shut.extent * float(np.sum(shut.weight_mm3 * plastic * mean))
    assert 0.7 * record.energy_J < inside < record.energy_J
    # the section keeps its volume but for the elastic part
    assert record.free.volume_mm3() / record.free.volume_start_mm3() == pytest.approx(1.0, abs=1e-3)


def test_edges_strain_as_their_radii(step: PressStep) -> None:
    shut = step.record.shut
    assert figure(step, "inner-edge-strain") == pytest.approx(math.log(shut.y_mm[0] / 50.0), abs=1e-9)
    assert figure(step, "outer-edge-strain") == pytest.approx(math.log(shut.y_mm[-1] / 133.0), abs=1e-9)
    free = step.record.free
    assert figure(step, "inner-edge-draw-in") == pytest.approx(free.y_mm[0] - 50.0, abs=1e-9)
    assert section_of(step.workpiece) is free and step.workpiece.made_by == ("flange",)


def test_laser_edge_is_stopped_and_a_reamed_one_is_not(step: PressStep, card: ShopCard) -> None:
    found = {f.topic: f for f in step.findings}
    assert found["edge-strain"].level == "stop"
    assert found["edge-strain"].remedy.startswith("ream and deburr the edge")
    reamed = press.run(plate(), channel(cut_edge="deburred_reamed"), card)
    assert "edge-strain" not in {f.topic for f in reamed.findings}


def test_holder_keeps_the_flange_from_waving(step: PressStep, bare: PressStep, card: ShopCard) -> None:
    wave = next(f for f in bare.findings if f.topic == "press-wrinkle")
    assert wave.check is not None and wave.check.value > 10.0 and "outer edge" in wave.sentence
    gapped = press.run(plate(), channel(holder=HolderGap(holder_face(), 1.05)), card)
    for held in (step, gapped):
        worst = worst_wrinkle(held.record.states, held.record.enclosed, card.metal)
        # what is left is the edge when it has drawn out from under the holder
        assert worst.width_mm < 0.5 * worst_wrinkle(bare.record.states, bare.record.enclosed, card.metal).width_mm
        assert worst.share < 0.5 * wave.check.value


def test_a_strip_that_nothing_presses_together_does_not_wave(card: ShopCard) -> None:
    section = plate(83).section
    free = np.zeros(section.x_mm.size, dtype=bool)
    assert strip_at(section, free, card.metal, "outer").share == 0.0
    layers = section.layers.copy()
    layers[-20:, :, 1] = -100.0
    pressed = replace(section, layers=layers)
    strip = strip_at(pressed, free, card.metal, "outer")
    assert strip.width_mm == pytest.approx(20.0) and strip.stress_MPa == pytest.approx(100.0)
    # elastic: 6 (1 - nu)/12 E/(1 - nu^2) (t/b)^2, Timoshenko and Gere's long strip with one free edge
    assert strip.critical_MPa == pytest.approx(0.5 * 205e3 / 1.32 / 400.0, rel=1e-9)
    assert strip_at(pressed, ~free, card.metal, "outer").share == 0.0
    assert strip_at(pressed, free, card.metal, "inner").share == 0.0


def test_tight_walls_are_said_to_iron(card: ShopCard) -> None:
    tight = press.run(plate(), channel(tools=tools(clearance=1.02)), card)
    iron = next(f for f in tight.findings if f.topic == "press-ironing")
    assert "less than the sheet" in iron.sentence and iron.level == "caution"


def test_press_too_small_is_a_stop_and_flattening_forms_nothing(bare: PressStep, card: ShopCard) -> None:
    small = replace(card.machines.press.force_max_kN, value=100.0)
    weak = replace(card, machines=replace(card.machines, press=replace(card.machines.press, force_max_kN=small)))
    found = press.run(plate(), channel(flatten_area_mm2=1000.0), weak)
    assert np.array_equal(found.record.free.y_mm, bare.record.free.y_mm)
    assert next(f for f in found.findings if f.topic == "press-force").level == "stop"
    flatten = next(f for f in found.figures if f.identity.endswith("flatten-force"))
    assert flatten.value == pytest.approx(150.0) and flatten.source.basis == "practice"


def test_trim_cuts_flanges_at_a_height(step: PressStep, card: ShopCard) -> None:
    free = step.record.free
    flat = float(np.median(free.x_mm))
    cut = Trim("trim", "Trim the flanges", flat + 12.0, flat + 12.0, "x", "laser")
    done = pierce.run(step.workpiece, cut, card)
    left = section_of(done.workpiece)
    assert left.x_mm[[0, -1]] - np.median(left.x_mm) == pytest.approx([12.0, 12.0], abs=0.3)
    assert not [f for f in done.figures if f.identity.endswith("force")]
    spring = next(f for f in done.figures if f.identity.endswith("outer-spring"))
    assert 0.0 < abs(spring.value) < 1.0


def test_pierced_hole_springs_nowhere_in_a_flat_blank(card: ShopCard) -> None:
    done = pierce.run(plate(166), Trim("pierce", "Pierce", inner_mm=60.0), card)
    left = section_of(done.workpiece)
    assert left.y_mm[0] == pytest.approx(60.0, abs=1e-9)
    force = next(f for f in done.figures if f.identity.endswith("inner-force"))
    # closed form, Kalpakjian and Schmid: 0.7 t L TS; the strength is that of the card's curve
    assert force.value == pytest.approx(1e-3 * punch_force(2.0 * math.pi * 60.0, 1.0, 783.6), rel=1e-3)
    off = pierce.run(plate(40), Trim("pierce", "Pierce", inner_mm=61.0), card)
    assert [f.topic for f in off.findings] == ["trim-place"]


def hole(**changes: object) -> FlangeHole:
    return replace(FlangeHole("lip", 25.0, 12.0, 4.0, 1.1, 20.0), **changes)  # type: ignore[arg-type]


def disc(radius: float = 18.0) -> SectionPiece:
    return piece_of("PLATE", mesh_line((0.0, radius), (0.0, 50.0), T, 60), 0.0)


def test_flanged_edge_is_in_uniaxial_tension(card: ShopCard) -> None:
    done = flange.run(disc(), hole(), card)
    shut = done.record.shut
    stretch = shut.y_mm[0] / 18.0
    assert stretch > 1.3
    thick = shut.thickness_mm
    # Marciniak, Duncan and Hu: t = t0 sqrt(d0/d) at the edge; half an element inside it, 0.5 %
    assert thick[0] + 0.5 * (thick[0] - thick[1]) == pytest.approx(math.sqrt(1.0 / stretch), rel=0.006)


def refused(kind: type[Exception], words: str, card: ShopCard, **changes: object) -> None:
    with pytest.raises(kind, match=words):
        press.run(plate(60), channel(**changes), card)


def test_impossible_tools_are_refused(card: ShopCard) -> None:
    refused(
        GeometryError, "outer die: radius of segment 1.*at least the sheet thickness", card, tools=tools(radius=0.8)
    )
    wide = offset(from_corners([(30.0, 60.0), (0.0, 60.0), (0.0, 122.0), (30.0, 122.0)], [4.0, 4.0]), -0.5)
    cannot_enter = (PressTool("punch", wide, "aft"), *tools()[1:])
    refused(InputError, "punch and outer die|gap between the shut faces", card, tools=cannot_enter)
    refused(InputError, "gap between the shut faces is 1.0 mm; it must be at least", card, tools=tools(pad_gap=1.0))
    loop = from_corners([(-0.5, 170.0), (-0.5, 119.6), (-45.0, 119.6), (-45.0, 140.0), (20.0, 140.0)], [2.0, 2.0, 2.0])
    crossing = (*tools()[:1], PressTool("outer die", loop, "forward"), *tools()[2:])
    refused(GeometryError, "outer die: contour is crossing itself", card, tools=crossing)


def test_settings_are_refused_at_the_door(card: ShopCard) -> None:
    with pytest.raises(InputError, match=r"holder: force is 0\.0 N; it must be above 0"):
        HolderForce(holder_face(), 0.0)
    with pytest.raises(InputError, match="holder: pressure is -1 MPa"):
        HolderCushion(holder_face(), -1)
    with pytest.raises(InputError, match="holder: gap"):
        HolderGap(holder_face(), 1.0).placed(1.0)
    with pytest.raises(InputError, match="holder: rate"):
        HolderCushion(holder_face(), 30.0).placed(1.0)
    with pytest.raises(InputError, match="finite"):
        Stroke("draw", (("punch", math.nan),))
    with pytest.raises(InputError, match="one of punch"):
        channel(strokes=(Stroke("draw", (("ram", 1.0),)),))
    with pytest.raises(InputError, match="edges"):
        Trim("trim", "Trim")
    with pytest.raises(InputError, match="nose_radius_mm"):
        hole(nose_radius_mm=30.0)
    with pytest.raises(InputError, match=r"hole radius.*below the punch radius"):
        flange.run(disc(26.0), hole(), card)
    with pytest.raises(InputError, match="inner before outer"):
        pierce.run(plate(60), Trim("trim", "Trim", inner_mm=120.0, outer_mm=70.0), card)
    with pytest.raises(InputError, match=r"on the plate, from 50\.000 to 133\.000"):
        pierce.run(plate(60), Trim("trim", "Trim", inner_mm=20.0), card)


def test_a_strip_of_stations_is_no_plate(card: ShopCard, flat: Workpiece) -> None:
    with pytest.raises(InputError, match="section"):
        press.run(flat, channel(), card)


def test_rooms_between_faces() -> None:
    one = PressTool("one", from_corners([(-0.55, 100.0), (-0.55, 50.0)], []), "forward")
    two = PressTool("two", from_corners([(0.5, 50.0), (0.5, 100.0)], []), "aft")
    assert shut_gap_mm((one, two), {}, (60.0, 90.0)) == pytest.approx(1.05, abs=1e-12)
    assert shut_gap_mm((one, two), {"one": -1.0}, (60.0, 90.0)) == pytest.approx(2.05, abs=1e-12)
    assert shut_gap_mm((one,), {}, (60.0, 90.0)) == math.inf
    over, radius = room_over_sheet(plate(83).section, [(t.side, t.contour) for t in (one, two)])
    assert over == pytest.approx(0.05, abs=1e-9) and 50.0 <= radius <= 100.0
    assert np.allclose(face_points(two.contour)[:, 2:], (-1.0, 0.0))
