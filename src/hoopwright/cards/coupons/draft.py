"""A card made from tensile tests: means with their scatter, the best first-loading curve, and the TOML to sign."""

from __future__ import annotations

import math
import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.card import Card
from hoopwright.cards.coupons.choosing import Tried, choose, exact_fit, least_squares_fits, tried
from hoopwright.cards.coupons.evaluate import Coupon, evaluate
from hoopwright.cards.coupons.specimen import Specimen
from hoopwright.cards.coupons.text import Mean, Titles, card_text
from hoopwright.cards.curves import first_curve_faults, fitted_curve
from hoopwright.cards.fit import PROOF_STRAIN, LawFit
from hoopwright.cards.reading import card_from_text
from hoopwright.errors import FileFaults, InputError

Vector = NDArray[np.float64]

POINTS_PER_TEST = 60


@dataclass(frozen=True, slots=True)
class Draft:
    """The text of a new card, the card it reads as, every law tried, the one chosen, and the evaluated tests."""

    text: str
    card: Card
    chosen: Tried
    tried: tuple[Tried, ...]
    coupons: tuple[Coupon, ...]


def draft_card(specimens: Sequence[Specimen], titles: Titles) -> Draft:
    """Evaluate tensile tests and draft a card from them.

    The flow curve is fitted to the specimens along the rolling direction (else to those of the smallest angle given):
    Swift, Voce and Ludwik by least squares; the closest of those that reproduce proof stress, strength and uniform
    strain is taken, and where none does, the Swift law solved exactly from the three figures.

    Raises
    ------
    FileFaults
        A file is faulty.
    InputError
        No specimen, or the tests carry no flow curve.
    """
    if not specimens:
        raise InputError("specimens", "none", "", "one or more", "name the test files")
    coupons = tuple(evaluate(specimen) for specimen in specimens)
    angle = min(coupon.specimen.direction_deg for coupon in coupons)
    along = [coupon for coupon in coupons if coupon.specimen.direction_deg == angle]
    strain, stress = _pooled(along)
    reach = float(strain.max())
    fits = least_squares_fits(strain, stress)
    figures = _means(coupons, along)
    if "yield_strength_MPa" not in figures:
        figures |= _read_off(fits[0], reach)
    proof, strength = figures["yield_strength_MPa"].value, figures["tensile_strength_MPa"].value
    uniform = math.log1p(figures["uniform_elongation_pct"].value / 100.0)
    all_tried = [tried(fit, False, proof, strength, uniform, reach) for fit in fits]
    exact = exact_fit(proof, strength, uniform, strain, stress)
    all_tried.append(tried(exact, True, proof, strength, uniform, reach))
    chosen = choose(all_tried)
    text = card_text(titles, figures, chosen, coupons, along, reach)
    card = card_from_text(text.encode(), f"{titles.card_id}.toml")
    faults = first_curve_faults(card)
    if faults:
        raise FileFaults(f"{titles.card_id}.toml", faults)
    return Draft(text, card, chosen, tuple(all_tried), coupons)


def write_draft(draft: Draft, folder: Path, overwrite: bool = False) -> Path:
    """Write the card into a shop's card folder, complete or not at all.

    Raises
    ------
    InputError
        There is such a file, and `overwrite` is not set.
    """
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{draft.card.id}.toml"
    if path.exists() and not overwrite:
        raise InputError("card file", str(path), "", "a new file", "name the card otherwise, or ask to overwrite")
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    beside.write_text(draft.text, encoding="utf-8", newline="\n")
    os.replace(beside, path)
    return path


def _means(coupons: Sequence[Coupon], along: Sequence[Coupon]) -> dict[str, Mean]:
    found: dict[str, Mean] = {}

    def add(name: str, unit: str, of: Sequence[Coupon], value: Callable[[Coupon], float | None]) -> None:
        kept = [(coupon.specimen.file.name, number) for coupon in of if (number := value(coupon)) is not None]
        if kept:
            numbers = np.array([number for _, number in kept])
            u = float(numbers.std(ddof=1) / math.sqrt(numbers.size)) if numbers.size > 1 else None
            found[name] = Mean(unit, float(numbers.mean()), u, tuple(name for name, _ in kept))

    add("yield_strength_MPa", "MPa", along, lambda c: c.proof_MPa)
    add("tensile_strength_MPa", "MPa", along, lambda c: c.tensile_MPa)
    add("uniform_elongation_pct", "pct", along, lambda c: None if c.uniform_eng is None else 100.0 * c.uniform_eng)
    add("elongation_pct", "pct", along, lambda c: c.specimen.elongation_pct)
    add("hardening_exponent_n", "1", along, lambda c: c.n)
    for angle in (0, 45, 90):
        at_angle = [coupon for coupon in coupons if coupon.specimen.direction_deg == angle]
        add(f"r_value_{angle}", "1", at_angle, lambda c: c.r_value)
    return found


def _pooled(along: Sequence[Coupon]) -> tuple[Vector, Vector]:
    """Points of all tests, as many from each, evenly spaced in strain, so that no test outweighs another."""
    strains, stresses = [], []
    for coupon in along:
        p, s = np.array(coupon.plastic_strain), np.array(coupon.true_stress_MPa)
        if p.size < 5:
            raise InputError(coupon.specimen.file.name, f"{p.size} plastic points", "", "5 or more", "record faster")
        grid = np.linspace(p[0], p[-1], POINTS_PER_TEST) if p.size > POINTS_PER_TEST else p
        strains.append(grid)
        stresses.append(np.interp(grid, p, s))
    return np.concatenate(strains), np.concatenate(stresses)


def _read_off(fit: LawFit, reach: float) -> dict[str, Mean]:
    """Strength figures of files that hold a true curve only: read off the closest law."""
    from hoopwright.kernels.flow import instability_strain, tensile_strength

    curve = fitted_curve(fit, reach)
    ground = (f"the {fit.law} law fitted to the true curve",)
    proof = curve.stress(PROOF_STRAIN) * math.exp(-PROOF_STRAIN)
    return {
        "yield_strength_MPa": Mean("MPa", proof, None, ground, "derived"),
        "tensile_strength_MPa": Mean("MPa", tensile_strength(curve), None, ground, "derived"),
        "uniform_elongation_pct": Mean("pct", 100.0 * math.expm1(instability_strain(curve)), None, ground, "derived"),
    }
