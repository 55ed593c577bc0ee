"""The TOML of a card made from tensile tests: every figure with basis, files and their marks."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from hoopwright.cards.coupons.choosing import Tried
from hoopwright.cards.coupons.evaluate import Coupon
from hoopwright.cards.schema import SCHEMA


@dataclass(frozen=True, slots=True)
class Titles:
    """Words of a new card. `based_on` names the card that gives what the tests do not (modulus, expansion, ...)."""

    card_id: str
    entered_by: str
    title: str = ""
    based_on: str = ""
    cast: str = ""
    condition: str = "sheet, as tested"
    tested_on: str = ""


@dataclass(frozen=True, slots=True)
class Mean:
    """Mean of a figure over tests with its standard uncertainty (None for one test), and what it came from."""

    unit: str
    value: float
    u: float | None
    files: tuple[str, ...]
    basis: str = "measured"


def card_text(
    titles: Titles,
    figures: Mapping[str, Mean],
    chosen: Tried,
    coupons: Sequence[Coupon],
    along: Sequence[Coupon],
    strain_max_log: float,
) -> str:
    """The whole card as TOML."""
    lines = _head(titles)
    for name, mean in figures.items():
        lines += _figure(name, mean, titles)
    lines += _flow(chosen, along, strain_max_log)
    for coupon in coupons:
        lines += _note(coupon)
    return "\n".join(lines) + "\n"


def _head(titles: Titles) -> list[str]:
    lines = [
        f"schema = {_text(SCHEMA)}",
        'kind = "alloy"',
        f"id = {_text(titles.card_id)}",
        f"title = {_text(titles.title or f'{titles.card_id}, own tensile tests')}",
        f"condition = {_text(', '.join(part for part in (titles.condition, titles.cast) if part))}",
        f"entered_by = {_text(titles.entered_by)}",
        'checked_by = ""',
    ]
    if titles.based_on:
        lines.append(f"based_on = {_text(titles.based_on)}")
    return lines


def _figure(name: str, mean: Mean, titles: Titles) -> list[str]:
    count = len(mean.files)
    tests = "own tensile test" if count == 1 else f"mean of {count} own tensile tests"
    parts = [tests if mean.basis == "measured" else "read off", titles.cast, titles.tested_on, ", ".join(mean.files)]
    lines = ["", f"[figure.{name}]", f"value = {_number(mean.value)}", f"unit = {_text(mean.unit)}"]
    if mean.u is not None:
        lines.append(f"u = {_number(mean.u)}")
    lines += [
        "at = { temperature_degC = 20.0 }",
        f"basis = {_text(mean.basis)}",
        f"where = {_text('; '.join(part for part in parts if part))}",
    ]
    return lines


def _flow(chosen: Tried, along: Sequence[Coupon], strain_max_log: float) -> list[str]:
    fit = chosen.fit
    constants = ", ".join(f"{name} = {_number(value, 6)}" for name, value in fit.constants.items())
    known = {name: error for name, error in fit.errors.items() if math.isfinite(error)}
    how = "solved exactly from the three figures above" if chosen.exact else "least squares in stress"
    files = ", ".join(coupon.specimen.file.name for coupon in along)
    lines = ["", "[flow.first]", f"law = {_text(fit.law)}", f"constants = {{ {constants} }}"]
    if known:
        errors = ", ".join(f"{name} = {_number(error)}" for name, error in known.items())
        lines.append(f"u = {{ {errors} }}")
    lines += [
        f"strain_max_log = {_number(strain_max_log)}",
        f"rms_MPa = {_number(fit.rms_MPa)}",
        'basis = "derived"',
        f"where = {_text(f'{how}, {fit.points} points of {files}')}",
        f"note = {_text('; '.join(f'{one.name} misses by {100 * one.miss:+.2f} %' for one in chosen.meets))}",
    ]
    return lines


def _note(coupon: Coupon) -> list[str]:
    specimen = coupon.specimen
    mark = hashlib.sha256(specimen.file.read_bytes()).hexdigest()[:16]
    parts = [f"{specimen.direction_deg:g} deg to the rolling direction"]
    if coupon.proof_MPa is not None and coupon.tensile_MPa is not None and coupon.uniform_eng is not None:
        parts.append(
            f"proof stress {coupon.proof_MPa:.1f} MPa, tensile strength {coupon.tensile_MPa:.1f} MPa, uniform "
            f"elongation {100 * coupon.uniform_eng:.2f} %"
        )
    if coupon.r_value is not None:
        parts.append(f"r {coupon.r_value:.3f}")
    if coupon.n is not None:
        parts.append(f"n {coupon.n:.3f}")
    parts += [*coupon.notes, f"sha256 begins {mark}"]
    return [
        "",
        "[[note]]",
        f"about = {_text(f'tensile test {specimen.file.name}')}",
        f"text = {_text('; '.join(parts))}",
        'basis = "measured"',
        f"where = {_text(specimen.file.name)}",
    ]


def _text(value: str) -> str:
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def _number(value: float, digits: int = 5) -> str:
    """A number with so many significant digits, always as a TOML float."""
    return repr(float(f"{value:.{digits}g}"))
