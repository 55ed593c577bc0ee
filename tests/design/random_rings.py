"""Random sound rings, for the claim that at least 95 of 100 of them plan without refusal.

Ranges, all drawn evenly and independently from `random.Random(seed)`:

- forward land diameter 80 to 400 mm (mid-surface), shell outer or inner;
- sheet thickness 0.5 to 1.2 mm in steps of 0.05 mm;
- alloy: one of `ALLOYS`, every wrought alloy of the card library that has a first-loading flow curve;
- width of the section along the axis 20 to 90 mm;
- one joggle of 1 to 3 mm, away from the axis on an outer ring and towards it on an inner one, its flank 15 to 40 deg;
- inside bend radius 2.5 to 5 times the thickness, one draw a ring;
- three kinds, one third each: `straight` (land, joggle, lip), `crowned` (land, joggle, crown, flank back by 0.5 to 1.5
  times the joggle, lip), `conical` (land, joggle, crown, cone of 5 to 40 deg towards the axis on an outer ring and away
  from it on an inner one, lip), the cone taking 20 to 50 % of the width and at most 30 % of the land radius;
- land and lip each at least 5 mm long; seam angle 0 to 359 deg; release direction and metal temperature (500 to 850
  degC) at random; route left to the plan; two control sizes, land and lip, each +/- 0.10 mm, restrained, from the
  circumference.

A draw whose fillets do not fit between its corners, or in which the checks of `geometry_findings` find anything to
stop, is thrown away and drawn again from the same generator, so that every seed gives a sound ring. Diameter,
thickness, alloy and kind are kept when a draw is thrown away; `draws` says how often that happened.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace
from typing import Literal

from hoopwright.cards.shop import house_limits
from hoopwright.design.faces import face_line
from hoopwright.design.geometry_checks import ring_findings
from hoopwright.design.shapes import CardChoice, ControlSize, Face, Liner, Ring, Side, Tolerances
from hoopwright.errors import GeometryError
from hoopwright.kernels.profile import Point, Profile
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_crossing import levels_at

ALLOYS = ("N06002", "N06230", "N06617", "N06625", "N07263", "N07718", "R30605", "S30400", "S32100")
Kind = Literal["straight", "crowned", "conical"]
KINDS: tuple[Kind, ...] = ("straight", "crowned", "conical")

CARDS = CardChoice(
    limits="house", friction="greased", spread="demo-spread", roll="demo-roll", expander="demo-expander",
    press="demo-press", laser="demo-laser", wire="demo-wire", furnace="demo-furnace",
)  # fmt: skip
TOLERANCES = Tolerances(
    circumference_diameter_mm=0.10,
    circumference_diameter_other_mm=0.20,
    roundness_restrained_radial_mm=0.15,
    roundness_free_state_radial_mm=0.80,
    profile_restrained_mm=0.20,
    edge_axial_position_mm=0.20,
    thickness_min_after_forming_mm=0.4,
)
MOST_DRAWS = 500


def random_ring(seed: int) -> Ring:
    """The sound ring of a seed."""
    return _drawn(seed)[0]


def draws(seed: int) -> int:
    """How many draws the ring of a seed took."""
    return _drawn(seed)[1]


def random_liner(seed: int) -> Liner:
    """A liner that holds the ring of a seed and nothing else."""
    return _around(random_ring(seed), seed)


def _drawn(seed: int) -> tuple[Ring, int]:
    dice = random.Random(seed)
    kept = _kept(dice)
    limits = house_limits("house")
    for count in range(1, MOST_DRAWS + 1):
        try:
            ring = _ring(dice, seed, kept)
        except GeometryError:
            continue
        findings = ring_findings(_around(ring, seed), ring, limits)
        if not any(finding.level == "stop" for finding in findings):
            return ring, count
    raise AssertionError(f"seed {seed} gives no sound ring in {MOST_DRAWS} draws")


def _around(ring: Ring, seed: int) -> Liner:
    return Liner(
        id=f"RANDOM-{seed}",
        revision="0",
        title="one random ring, invented",
        invented=True,
        length_mm=ring.section.end[0],
        axial_datum="",
        radial_datum="",
        slip_joints=(),
        ports=0,
        port_pitch_radius_mm=0.0,
        first_port_theta_deg=0.0,
        cards=CARDS,
        tolerances=TOLERANCES,
        rings=(ring,),
    )


def _kept(dice: random.Random) -> tuple[float, float, str, Kind, Side]:
    radius = 0.5 * dice.uniform(80.0, 400.0)
    thickness = round(0.05 * dice.randint(10, 24), 2)
    return radius, thickness, dice.choice(ALLOYS), dice.choice(KINDS), dice.choice(("outer", "inner"))


def _ring(dice: random.Random, seed: int, kept: tuple[float, float, str, Kind, Side]) -> Ring:
    radius, thickness, alloy, kind, side = kept
    bend = (dice.uniform(2.5, 5.0) + 0.5) * thickness
    corners = _corners(dice, radius, kind, 1.0 if side == "outer" else -1.0)
    section = from_corners(corners, [bend] * (len(corners) - 2))
    ring = Ring(
        id=f"R-{seed}",
        side=side,
        order=1,
        material=alloy,
        thickness_mm=thickness,
        metal_degC=float(dice.randint(500, 850)),
        seam_theta_deg=float(dice.randint(0, 359)),
        release_direction=dice.choice(("forward", "aft", "either")),
        section=section,
        controls=(),
    )
    return replace(ring, controls=_controls(ring))


def _corners(dice: random.Random, radius: float, kind: Kind, out: float) -> list[Point]:
    """Corner points from the forward edge aft; `out` is +1 away from the axis and -1 towards it."""
    width = dice.uniform(20.0, 90.0)
    joggle = dice.uniform(1.0, 3.0)
    flank = joggle / math.tan(math.radians(dice.uniform(15.0, 40.0)))
    crown = radius + out * joggle
    if kind == "straight":
        land = dice.uniform(0.2, 0.5) * width
        return [(0.0, radius), (land, radius), (land + flank, crown), (width, crown)]
    land = dice.uniform(0.15, 0.3) * width
    if kind == "crowned":
        back = dice.uniform(0.5, 1.5) * joggle
        length = back / math.tan(math.radians(dice.uniform(15.0, 40.0)))
    else:
        length = dice.uniform(0.2, 0.5) * width
        back = min(length * math.tan(math.radians(dice.uniform(5.0, 40.0))), 0.3 * radius)
    begin = land + flank + dice.uniform(0.1, 0.3) * width
    lip = crown - out * back
    points = [(0.0, radius), (land, radius), (land + flank, crown), (begin, crown), (begin + length, lip), (width, lip)]
    return points


def _controls(ring: Ring) -> tuple[ControlSize, ...]:
    """Land and lip on the face that meets a neighbour: the face towards the joggle's hollow side comes last."""
    land: Face = "inside" if ring.side == "outer" else "outside"
    lip: Face = "outside" if ring.side == "outer" else "inside"
    first, last = ring.section.segments[0], ring.section.segments[-1]
    ends: tuple[tuple[str, float, float, Face], ...] = (
        ("land", first.start[0], first.end[0], land),
        ("lip", last.start[0], last.end[0], lip),
    )
    for _, begin, end, _ in ends:
        if end - begin < 5.0:
            raise GeometryError("land or lip", round(end - begin, 3), "mm", "5 or longer", "draw again")
    return tuple(_control(ring, name, 0.5 * (begin + end), face) for name, begin, end, face in ends)


def _control(ring: Ring, name: str, z: float, face: Face) -> ControlSize:
    diameter = 2.0 * levels_at(face_line(ring, face), z)[0]
    return ControlSize(name, z, face, diameter, 0.10, "restrained", "circumference")


def shape_of(section: Profile) -> tuple[float, float, float]:
    """Width along the axis, smallest and largest mid-surface radius. [mm]"""
    z_low, r_low, z_high, r_high = section.bounds
    return z_high - z_low, r_low, r_high
