"""Numbers are written by the house's rules, ends of range included."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.findings import Band, Figure, Source
from hoopwright.papers import numbers
from hoopwright.papers.numbers import (
    MINUS,
    NO_BREAK,
    THIN,
    band_text,
    digits_within,
    figure_text,
    from_to,
    three_figures,
    unit_sign,
    with_unit,
    written,
)


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (0.0, 2, "0.00"),
        (-0.0, 1, "0.0"),
        (-0.004, 2, "0.00"),
        (-0.005001, 2, MINUS + "0.01"),
        (9999.4, 0, "9999"),
        (9999.5, 0, "10" + THIN + "000"),
        (205000.0, 0, "205" + THIN + "000"),
        (-1234567.25, 1, MINUS + "1" + THIN + "234" + THIN + "567.2"),
        (123.3955, 3, "123.395"),
    ],
)
def test_written(value: float, digits: int, text: str) -> None:
    assert written(value, digits) == text


def test_differences_show_their_sign() -> None:
    assert written(0.12, 2, sign=True) == "+0.12"
    assert written(-0.12, 2, sign=True) == MINUS + "0.12"
    assert written(0.0, 2, sign=True) == "0.00"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, True, "5"])
def test_no_number_is_refused(value: object) -> None:
    with pytest.raises(InputError):
        written(value, 2)  # type: ignore[arg-type]


@pytest.mark.parametrize("digits", [-1, 10, True, 1.0])
def test_odd_digits_are_refused(digits: object) -> None:
    with pytest.raises(InputError, match="digits"):
        written(1.0, digits)  # type: ignore[arg-type]


@given(st.floats(-1e7, 1e7), st.integers(0, 6))
def test_what_is_written_reads_back(value: float, digits: int) -> None:
    text = written(value, digits).replace(THIN, "").replace(MINUS, "-")
    assert abs(float(text) - value) <= 0.5 * 10.0**-digits * (1.0 + 1e-9) + 1e-9


def test_units() -> None:
    assert with_unit(7.0, 3, "deg") == "7.000°"
    assert with_unit(20.0, 0, "degC") == "20" + NO_BREAK + "°C"
    assert with_unit(12.0, 1, "N_per_mm") == "12.0" + NO_BREAK + "N/mm"
    assert unit_sign("J_per_mm") == "J/mm"
    assert from_to(-1.0, 1.0, 1) == f"{MINUS}1.0{NO_BREAK}…{NO_BREAK}1.0"


def test_loads_have_three_figures() -> None:
    assert three_figures(0.0, "kN") == "0.00" + NO_BREAK + "kN"
    assert three_figures(1540.0, "N") == "1540" + NO_BREAK + "N"
    assert three_figures(40.27, "kN") == "40.3" + NO_BREAK + "kN"


@pytest.mark.parametrize(
    ("low", "high", "digits"), [(247.5, 247.7, 2), (31.0, 41.0, 0), (0.0, 0.05, 3), (0.0, 2000.0, 0), (1.0, 1.0, 3)]
)
def test_digits_stay_within_one_of_the_band(low: float, high: float, digits: int) -> None:
    assert digits_within(3, low, high) == digits


def figure(value: float, low: float, high: float, digits: int) -> Figure:
    return Figure("a/b", "b", value, "mm", Source("derived", "here"), digits, Band(low, high, "by hand"))


def test_band_is_told_about_its_value_or_by_its_ends() -> None:
    assert band_text(figure(247.6, 247.55, 247.65, 2)) == f"±{NO_BREAK}0.05"
    assert band_text(figure(35.8, 31.0, 41.0, 1)) == f"±{NO_BREAK}5"
    assert band_text(figure(35.8, 34.0, 44.0, 1)) == f"34{NO_BREAK}…{NO_BREAK}44"
    assert figure_text(figure(35.8, 31.0, 41.0, 1)) == f"36{NO_BREAK}mm"
    assert band_text(Figure("a", "a", 1.0, "mm", Source("read", "t"))) == ""


def test_every_use_has_digits() -> None:
    assert numbers.USE_DIGITS["control size"] == 2
    assert numbers.USE_DIGITS["tool radius"] == 3
    assert numbers.USE_DIGITS["stop"] == 2
    assert numbers.USE_DIGITS["pin angle"] == 3
