"""From the readings of a tensile test to proof stress, tensile strength, uniform elongation and the true curve.

By the definitions of ISO 6892-1 (from memory): Rp0.2 by the offset line, Rm the largest force over the first area,
Ag the plastic elongation at largest force. Stresses in MPa, strains plain numbers.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.coupons.csv_file import Readings, read_readings
from hoopwright.cards.coupons.ratios import hardening_exponent, plastic_strain_ratio
from hoopwright.cards.coupons.specimen import Specimen
from hoopwright.errors import Fault, FileFaults

Vector = NDArray[np.float64]

OFFSET = 0.002
SOFT_MPA = 100_000.0
"""An elastic slope below this is no nickel, cobalt or steel: machine and grips give as well."""
LEAST_POINTS = 20


@dataclass(frozen=True, slots=True)
class Coupon:
    """One evaluated test. `plastic_strain`, `true_stress_MPa` reach from the proof stress to largest force.

    Strength figures and exponent are None for a file that holds a true curve only; `r_value` is None without width.
    """

    specimen: Specimen
    plastic_strain: tuple[float, ...]
    true_stress_MPa: tuple[float, ...]
    proof_MPa: float | None
    tensile_MPa: float | None
    uniform_eng: float | None
    slope_GPa: float | None
    n: float | None
    r_value: float | None
    notes: tuple[str, ...]


def evaluate(specimen: Specimen) -> Coupon:
    """Evaluate one specimen from its file.

    Raises
    ------
    FileFaults
        The file is faulty, its columns are exchanged, or the test does not hold what is needed.
    InputError
        A size of the specimen that the columns make necessary is missing.
    """
    test = read_readings(specimen.file)
    if {"true_stress", "plastic_strain"} <= set(test.columns):
        return _true_curve(specimen, test)
    stress, strain = _engineering(specimen, test)
    _look_exchanged(test, stress, strain)
    slope, shift, notes = _elastic_line(specimen, test, stress, strain)
    strain = strain - shift
    proof = _proof_stress(test, stress, strain, slope)
    strain, modulus = _without_machine(specimen, stress, strain, slope)
    tensile, at_most = _maximum(test, stress, strain)
    uniform = at_most - tensile / modulus
    plastic, true = _plastic_part(stress, strain, modulus, uniform)
    r_value, more = plastic_strain_ratio(specimen, test, stress, strain, modulus)
    return Coupon(
        specimen,
        tuple(plastic.tolist()),
        tuple(true.tolist()),
        proof,
        tensile,
        uniform,
        slope / 1000.0,
        hardening_exponent(plastic, true),
        r_value,
        (*notes, *more, *_ignored(test)),
    )


def _engineering(specimen: Specimen, test: Readings) -> tuple[Vector, Vector]:
    if "stress" in test.columns and "strain" in test.columns:
        stress, strain = test.columns["stress"], test.columns["strain"]
    else:
        why = "the file gives force and extension"
        area = specimen.need("width_mm", why) * specimen.need("thickness_mm", why)
        stress = test.columns["force"] / area
        strain = test.columns["extension"] / specimen.need("gauge_length_mm", why)
    if stress.size < LEAST_POINTS:
        fault = Fault("rows", f"{stress.size}", "", f"{LEAST_POINTS} or more", "export the whole test")
        raise FileFaults(test.path, [fault])
    return stress, strain


def _look_exchanged(test: Readings, stress: Vector, strain: Vector) -> None:
    """Refuse a file whose columns are exchanged or in another unit than they say."""
    stress_name = "stress" if "stress" in test.headers else "force"
    strain_name = "strain" if "strain" in test.headers else "extension"
    top, reach = float(stress.max()), float(strain.max())
    faults = []
    if top < 10.0 and reach > 3.0:
        must = "the large one of the two; they look exchanged"
        remedy = "exchange the two headers"
        faults.append(Fault(f"column {test.headers[stress_name].text}", f"at most {top:.4g}", "MPa", must, remedy))
    elif not 20.0 <= top <= 4000.0:
        must = "a largest stress from 20 to 4000 MPa"
        remedy = "check the column's unit and the specimen's width and thickness"
        faults.append(Fault(f"column {test.headers[stress_name].text}", f"{top:.4g}", "MPa", must, remedy))
    elif not 0.004 <= reach <= 3.0:
        must = "a largest strain from 0.004 to 3"
        remedy = "check the column's unit (% or plain) and the gauge length"
        faults.append(Fault(f"column {test.headers[strain_name].text}", f"{reach:.4g}", "", must, remedy))
    if faults:
        raise FileFaults(test.path, faults)


def _elastic_line(
    specimen: Specimen, test: Readings, stress: Vector, strain: Vector
) -> tuple[float, float, tuple[str, ...]]:
    """Slope [MPa] of the elastic part and the strain at which it meets zero stress."""
    early = strain <= strain[0] + 0.006
    guess = float(stress[early].max())
    rising = np.arange(stress.size) <= int(np.argmax(stress >= 0.55 * guess))
    window = rising & (stress >= 0.15 * guess) & (stress <= 0.55 * guess)
    if np.count_nonzero(window) >= 5 and float(np.ptp(strain[window])) > 0.0:
        slope, _ = (float(c) for c in np.polyfit(strain[window], stress[window], 1))
        if slope > 600_000.0 or slope <= 0.0:
            must = "an elastic slope above 0 and at most 600 GPa"
            name = test.headers["strain" if "strain" in test.headers else "extension"].text
            fault = Fault(f"column {name}", f"slope {slope / 1000.0:.4g}", "GPa", must, "check units and gauge length")
            raise FileFaults(test.path, [fault])
        shift = float(np.mean(strain[window]) - np.mean(stress[window]) / slope)
        note = f"elastic slope {slope / 1000.0:.4g} GPa from {np.count_nonzero(window)} readings"
        if slope < SOFT_MPA:
            note += ": low, so the extension holds machine or grip, which is taken out with this slope"
        return slope, shift, (note,)
    if specimen.modulus_GPa is None:
        must = "5 or more between 15 and 55 % of yield, or a modulus given"
        shown = f"{np.count_nonzero(window)} elastic readings"
        fault = Fault("rows", shown, "", must, "record faster at the start, or enter modulus_GPa of the specimen")
        raise FileFaults(test.path, [fault])
    return specimen.modulus_GPa * 1000.0, 0.0, (f"elastic slope given, {specimen.modulus_GPa:g} GPa",)


def _proof_stress(test: Readings, stress: Vector, strain: Vector, slope: float) -> float:
    above = stress - slope * (strain - OFFSET)
    crossings = np.flatnonzero((above[:-1] > 0.0) & (above[1:] <= 0.0))
    if crossings.size == 0:
        must = "a curve that crosses the 0.2 % offset line"
        fault = Fault("rows", "no crossing", "", must, "record past yield, and check units")
        raise FileFaults(test.path, [fault])
    i = int(crossings[0])
    share = float(above[i] / (above[i] - above[i + 1]))
    return float(stress[i] + share * (stress[i + 1] - stress[i]))


def _without_machine(specimen: Specimen, stress: Vector, strain: Vector, slope: float) -> tuple[Vector, float]:
    """Strain of the specimen alone and its modulus [MPa] (infinite, a rigid-plastic sheet, where it is not given)."""
    if slope >= SOFT_MPA:
        return strain, slope
    modulus = math.inf if specimen.modulus_GPa is None else 1000.0 * specimen.modulus_GPa
    return strain - stress / slope + stress / modulus, modulus


def _maximum(test: Readings, stress: Vector, strain: Vector) -> tuple[float, float]:
    """Largest stress and the strain there, by a cubic through the readings within 1 % of it."""
    top = int(np.argmax(stress))
    if top >= stress.size - 1 or float(stress[-1]) > 0.9995 * float(stress[top]):
        must = "a force that falls again before the last reading"
        line = test.lines[top]
        fault = Fault("rows", "still rising at the end", "", must, "record to fracture, or give a true curve", line)
        raise FileFaults(test.path, [fault])
    near = np.flatnonzero(stress >= 0.99 * stress[top])
    near = near[(near >= top - 4000) & (near <= top + 4000)]
    if near.size < 8:
        return float(stress[top]), float(strain[top])
    middle, width = float(strain[top]), float(np.ptp(strain[near]))
    x = (strain[near] - middle) / width
    cubic = np.polynomial.Polynomial.fit(x, stress[near], 3).convert()
    roots = [float(r.real) for r in cubic.deriv().roots() if abs(r.imag) < 1e-12 and x.min() <= r.real <= x.max()]
    tops = [r for r in roots if cubic.deriv(2)(r) < 0.0]
    if not tops:
        return float(stress[top]), middle
    return float(cubic(tops[0])), middle + tops[0] * width


def _plastic_part(stress: Vector, strain: Vector, slope: float, uniform: float) -> tuple[Vector, Vector]:
    """Plastic natural strain and true stress between 0.2 % offset and largest force, strictly rising."""
    true = stress * (1.0 + strain)
    with np.errstate(invalid="ignore"):
        plastic = np.log1p(strain) - true / slope
    inside = (plastic >= OFFSET) & (plastic <= math.log1p(uniform))
    plastic, true = plastic[inside], true[inside]
    if plastic.size == 0:
        return plastic, true
    highest = np.maximum.accumulate(plastic)
    keep = np.concatenate(([True], plastic[1:] > highest[:-1]))
    return plastic[keep], true[keep]


def _true_curve(specimen: Specimen, test: Readings) -> Coupon:
    plastic, true = test.columns["plastic_strain"], test.columns["true_stress"]
    faults = []
    if float(true.max()) < 10.0 and float(plastic.max()) > 3.0:
        name = test.headers["true_stress"].text
        must = "the large one of the two; they look exchanged"
        faults.append(Fault(f"column {name}", f"at most {true.max():.4g}", "MPa", must, "exchange the two headers"))
    elif not 20.0 <= float(true.max()) <= 6000.0:
        name = test.headers["true_stress"].text
        must = "a largest stress from 20 to 6000 MPa"
        faults.append(Fault(f"column {name}", f"{true.max():.4g}", "MPa", must, "check the column's unit"))
    else:
        name = test.headers["plastic_strain"].text
        if float(plastic.max()) > 3.0:
            must = "a largest strain of at most 3"
            faults.append(Fault(f"column {name}", f"{plastic.max():.4g}", "", must, "check the unit (% or plain)"))
        for i in np.flatnonzero((np.diff(plastic) <= 0.0) | (plastic[1:] < 0.0)):
            shown = f"{plastic[i + 1]:.6g}"
            fault = Fault(f"column {name}", shown, "", "0 or more and rising", "sort the rows", test.lines[i + 1])
            faults.append(fault)
    if faults:
        raise FileFaults(test.path, faults)
    exponent = hardening_exponent(plastic, true)
    points = tuple(plastic.tolist()), tuple(true.tolist())
    return Coupon(specimen, *points, None, None, None, None, exponent, None, _ignored(test))


def _ignored(test: Readings) -> tuple[str, ...]:
    return (f"columns not used: {', '.join(test.ignored)}",) if test.ignored else ()
