"""Serials and stretches chosen together, against every choice of serials with the coupled stretches of each."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from hoopwright.correct.fits import Expander, FitChoice, FitRule, choose_fits, controls_of_part, lap_control
from hoopwright.correct.stock_choice import (
    SerialChoice,
    Stocked,
    chain_of,
    choose_for_liners,
    choose_serials,
)
from hoopwright.design.demo import demo_liner
from hoopwright.design.readings import FitReading, Readings, SizeReading
from hoopwright.errors import InputError

LINER = demo_liner()
PRESS = Expander(math.radians(7.0), 8)
RULE = FitRule()
SHELL = ("HD-401", "HD-402", "HD-403", "HD-404")


def stock_of(parts: tuple[str, ...], serials: int, seed: int, sd: float = 0.05) -> list[Stocked]:
    """Serials whose sizes scatter about their nominal, inside their limits."""
    rng = np.random.default_rng(seed)
    found = []
    for part in parts:
        for n in range(serials):
            sizes = {
                c.name: c.diameter_mm + float(np.clip(sd * rng.standard_normal(), -0.9, 0.9) * 1.0)
                for c in controls_of_part(LINER, part)
            }
            for c in controls_of_part(LINER, part):
                low, high = c.diameter_mm - c.tolerance_mm, c.diameter_mm + c.tolerance_mm
                sizes[c.name] = min(max(sizes[c.name], low + 0.002), high - 0.002)
            found.append(Stocked(f"{part}.{n}", part, sizes))
    return found


def readings_of(chosen: list[Stocked]) -> Readings:
    """The laps and remaining sizes of these serials as a file of readings has them."""
    of = {s.part: s for s in chosen}
    fits, lapped = [], set()
    for j in LINER.joints:
        if j.outer in of and j.inner in of:
            names = [(p, lap_control(LINER, p, j).name) for p in (j.outer, j.inner)]
            lapped |= set(names)
            fits.append(FitReading(j.id, *(of[p].sizes[name] for p, name in names)))
    sizes = [SizeReading(s.part, n, v) for s in chosen for n, v in s.sizes.items() if (s.part, n) not in lapped]
    return Readings("HD-400", True, fits=tuple(fits), sizes=tuple(sizes))


def counted(choice: FitChoice) -> float:
    """Smallest margin that counts: laps, sizes of stretched rings, and whatever does not hold."""
    moved = {s.ring for s in choice.stretches if s.change_mm > 1e-6}
    return min(m for name, m in choice.margins if " " not in name or name.split()[0] in moved or m < -1e-6)


def every_choice(stock: list[Stocked]) -> tuple[int, float]:
    """Fewest stretched rings with which some choice of serials holds, and its largest smallest margin."""
    parts = list(dict.fromkeys(s.part for s in stock))
    best: tuple[int, float] | None = None
    for chosen in itertools.product(*([s for s in stock if s.part == p] for p in parts)):
        for choice in choose_fits(LINER, readings_of(list(chosen)), PRESS, RULE).choices[:1]:
            rings = sum(s.change_mm > 1e-6 for s in choice.stretches)
            if choice.feasible and (best is None or (rings, -counted(choice)) < (best[0], -best[1])):
                best = (rings, counted(choice))
    return best if best is not None else (99, -np.inf)


@pytest.mark.parametrize("seed", range(6))
def test_as_good_as_every_choice_of_serials(seed: int) -> None:
    """A grid of 0.005 on diameter is 0.0025 of gap, 0.05 of a margin (half width 0.05): half of it at the most."""
    stock = stock_of(SHELL[:3], 2, seed, 0.07)
    rings, margin = every_choice(stock)
    found = choose_serials(LINER, stock)[0]
    assert found.feasible == (rings < 99)
    if found.feasible:
        assert found.stretched == rings
        assert found.smallest == pytest.approx(margin, abs=0.026)


def smallest_by_hand(choice: SerialChoice, stock: list[Stocked]) -> float:
    """Smallest margin of the laps of a choice, worked out again from the sizes."""
    of = {s.serial: s for s in stock}
    at = {p: (of[serial], x) for p, serial, x in zip(choice.parts, choice.serials, choice.stretch_mm, strict=True)}
    margins = []
    for j in LINER.joints:
        if j.outer in at and j.inner in at:
            (a, xa), (b, xb) = at[j.outer], at[j.inner]
            gap = 0.5 * (
                a.sizes[lap_control(LINER, j.outer, j).name] + xa - b.sizes[lap_control(LINER, j.inner, j).name] - xb
            )
            margins.append(min(gap + 0.02, 0.08 - gap) / 0.05)
    return min(margins)


def test_story_6_by_swapping_instead_of_stretching() -> None:
    """The four rings of story 6, and one more HD-402 and HD-404 that fit: nothing has to be stretched."""
    stock = [
        Stocked("420-01", "HD-420", {"outer_flange_od": 239.02}),
        Stocked("401-01", "HD-401", {"land_id": 239.12, "lip_od": 246.84}),
        Stocked("402-03", "HD-402", {"land_id": 246.85, "lip_od": 247.52}),
        Stocked("403-01", "HD-403", {"land_id": 247.80, "lip_od": 232.86}),
        Stocked("404-01", "HD-404", {"land_id": 232.80, "aft_od": 190.78}),
    ]
    alone = choose_serials(LINER, stock)[0]
    assert {p: round(x, 3) for p, x in zip(alone.parts, alone.stretch_mm, strict=True) if x} == {
        "HD-402": 0.135, "HD-404": 0.07,
    }  # fmt: skip
    more = [*stock, Stocked("402-09", "HD-402", {"land_id": 246.95, "lip_od": 247.68}),
            Stocked("404-09", "HD-404", {"land_id": 232.93, "aft_od": 190.80})]  # fmt: skip
    swapped = choose_serials(LINER, more)[0]
    assert swapped.stretched == 0 and swapped.feasible
    assert set(swapped.serials) >= {"402-09", "404-09"}
    assert swapped.smallest == pytest.approx(smallest_by_hand(swapped, more))


def test_what_cannot_be_mended_is_said() -> None:
    stock = [
        Stocked("a", "HD-402", {"land_id": 246.9, "lip_od": 247.69}),
        Stocked("b", "HD-403", {"land_id": 247.61, "lip_od": 232.89}),
    ]
    found = choose_serials(LINER, stock)
    assert len(found) == 1 and not found[0].feasible and found[0].smallest < 0.0


def test_several_liners_share_the_stock() -> None:
    stock = stock_of(SHELL, 4, 11, 0.03)
    found = choose_for_liners(LINER, stock, 3)
    used = [serial for choice in found for serial in choice.serials]
    assert len(used) == len(set(used)) == 12
    for choice in found:
        assert choice.smallest == pytest.approx(min(1.0, smallest_by_hand(choice, stock)), abs=1e-9)
    # taking the best liner first leaves the last one no better off
    first = choose_for_liners(LINER, stock, 1)[0]
    rest = [s for s in stock if s.serial not in first.serials]
    greedy = choose_for_liners(LINER, rest, 2)
    assert min(c.smallest for c in found) >= min(c.smallest for c in greedy) - 1e-9


def test_a_chain_is_put_in_order_and_a_broken_one_refused() -> None:
    order, joints = chain_of(LINER, ("HD-403", "HD-401", "HD-402", "HD-420"))
    assert order in (("HD-403", "HD-402", "HD-401", "HD-420"), ("HD-420", "HD-401", "HD-402", "HD-403"))
    assert sorted(j.id for j in joints) == ["J1", "J2", "J3"]
    for parts in (("HD-401", "HD-403"), ("HD-401",), ("HD-401", "HD-402", "HD-404")):
        with pytest.raises(InputError, match="one after another"):
            chain_of(LINER, parts)
    with pytest.raises(InputError, match="not measured"):
        choose_serials(LINER, [Stocked("a", "HD-402", {"land_id": 246.9}), Stocked("b", "HD-403", {"land_id": 247.7})])
