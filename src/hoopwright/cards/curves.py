"""Flow curves of an alloy card: the first-loading curve and, kept apart from it, the re-yield curve.

First loading starts from annealed sheet. It must reproduce its card: proof stress within 5 %, tensile strength
(Considere maximum) within 3 %, uniform strain within 10 % where it is known. A re-yield curve holds for metal that was
strained before: it is fitted to the proof stress after cold reduction and misses the tensile strength by far.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from hoopwright.cards.alloy_words import LAW_CONSTANTS
from hoopwright.cards.card import Card, CardFlow
from hoopwright.cards.fit import PROOF_STRAIN, LawFit, solve_law
from hoopwright.cards.strength import cold_strength, uniform_strain
from hoopwright.errors import CardError, Fault, InputError
from hoopwright.findings import Source, weakest

if TYPE_CHECKING:
    from hoopwright.kernels.flow import FlowCurve

PROOF_TOLERANCE, STRENGTH_TOLERANCE, UNIFORM_TOLERANCE = 0.05, 0.03, 0.10
KNOWN = ("measured", "read", "given")


@dataclass(frozen=True, slots=True)
class CardCurve:
    """A flow curve with the ground it stands on.

    curve : for the kernels. use : "first" or "reyield". constants : by name ("K_MPa", "e0_log", "n").
    rms_MPa : misfit of a fitted curve to its points; None for one solved exactly.
    """

    curve: FlowCurve
    use: Literal["first", "reyield"]
    law: str
    constants: Mapping[str, float]
    source: Source
    rms_MPa: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Reproduction:
    """How a curve meets one figure of its card. `miss` is relative."""

    name: str
    unit: str
    of_curve: float
    of_card: float
    tolerance: float

    @property
    def miss(self) -> float:
        """Curve over card, less one."""
        return self.of_curve / self.of_card - 1.0

    @property
    def ok(self) -> bool:
        """Whether the miss is inside the tolerance."""
        return abs(self.miss) <= self.tolerance


def first_loading(card: Card, law: str = "swift") -> CardCurve:
    """The first-loading curve: the card's own, else the law solved from proof stress, strength and uniform strain.

    Raises
    ------
    CardError
        The card carries no curve and not enough to solve one; the message says what to enter.
    """
    if "first" in card.flows:
        flow = card.flows["first"]
        return CardCurve(flow_curve(flow), "first", flow.law, flow.constants, flow.source, flow.rms_MPa, flow.note)
    try:
        proof = cold_strength(card, "yield_strength_MPa")
        strength = cold_strength(card, "tensile_strength_MPa")
        uniform = uniform_strain(card)
    except CardError as problem:
        raise CardError(_cannot_plan(card, str(problem).partition(". Do:")[0])) from None
    try:
        fit = solve_law(law, proof.value, strength.value, uniform.value)
    except InputError as problem:
        raise CardError(_cannot_plan(card, str(problem).partition(". Do:")[0])) from None
    ground = weakest([proof.source, strength.source, uniform.source])
    where = (
        f"{law} law solved from proof stress {proof.value:g} MPa, tensile strength {strength.value:g} MPa and uniform "
        f"strain {uniform.value:.4f} of card {card.id}"
    )
    source = Source(ground.basis, f"{where}; {ground.where}", ground.invented)
    return CardCurve(fitted_curve(fit, uniform.value), "first", law, fit.constants, source, None, uniform.note)


def _cannot_plan(card: Card, reason: str) -> str:
    return (
        f"Card {card.id} gives no first-loading flow curve, and a plan needs one ({reason}). Do: enter "
        f"yield_strength_MPa, tensile_strength_MPa and uniform_elongation_pct of the sheet as it is formed, or "
        f"[flow.first], or make a card from your own tensile tests."
    )


def reyield(card: Card) -> CardCurve:
    """The re-yield curve of the card, for metal strained before. Raises CardError where the card has none."""
    if "reyield" not in card.flows:
        raise CardError(
            f"Card {card.id} carries no re-yield curve. Do: enter [flow.reyield] fitted to proof stresses after cold "
            f"reduction, or use the first-loading curve and say so."
        )
    flow = card.flows["reyield"]
    return CardCurve(flow_curve(flow), "reyield", flow.law, flow.constants, flow.source, flow.rms_MPa, flow.note)


def flow_curve(flow: CardFlow) -> FlowCurve:
    """A card's flow entry as the kernels take it."""
    import numpy as np

    from hoopwright.kernels import flow as laws

    known, reach = flow.constants, flow.strain_max_log
    if flow.law == "swift":
        return laws.swift(known["K_MPa"], known["e0_log"], known["n"], reach)
    if flow.law == "voce":
        return laws.voce(known["s0_MPa"], known["Q_MPa"], known["b"], reach)
    if flow.law == "ludwik":
        return laws.ludwik(known["s0_MPa"], known["K_MPa"], known["n"], reach)
    return laws.tabulated(np.array([p for p, _ in flow.points]), np.array([s for _, s in flow.points]))


def fitted_curve(fit: LawFit, strain_max_log: float) -> FlowCurve:
    """A fitted or solved law as the kernels take it."""
    return flow_curve(CardFlow(fit.law, fit.constants, (), strain_max_log, Source("derived", "fitted")))


def given_curve(
    law: str, constants: Mapping[str, float], strain_max_log: float, source: Source, note: str = ""
) -> CardCurve:
    """A first-loading curve given beside the card (a liner file's own law), shown as given.

    Raises
    ------
    InputError
        A constant of the law is missing or not above zero.
    """
    for name in LAW_CONSTANTS[law]:
        if name not in constants:
            raise InputError(f"flow.{name}", "missing", "", f"there for the law {law}", "enter it")
    flow = CardFlow(law, constants, (), strain_max_log, source, note=note)
    return CardCurve(flow_curve(flow), "first", law, constants, source, None, note)


def reproductions(card: Card, curve: FlowCurve) -> tuple[Reproduction, ...]:
    """How a first-loading curve meets the card: proof stress, tensile strength, and uniform strain where known.

    Raises
    ------
    CardError
        Proof stress or tensile strength is not on the card.
    InputError
        The curve never necks.
    """
    known = "uniform_elongation_pct" in card and card.entry("uniform_elongation_pct").source.basis in KNOWN
    return reproduced(
        curve,
        cold_strength(card, "yield_strength_MPa").value,
        cold_strength(card, "tensile_strength_MPa").value,
        uniform_strain(card).value if known else None,
    )


def reproduced(
    curve: FlowCurve, proof_MPa: float, strength_MPa: float, uniform_log: float | None
) -> tuple[Reproduction, ...]:
    """How a curve meets proof stress, tensile strength and uniform strain (None: not known, not compared).

    Raises
    ------
    InputError
        The curve never necks.
    """
    from hoopwright.kernels.flow import instability_strain, tensile_strength

    proof = curve.stress(PROOF_STRAIN) * math.exp(-PROOF_STRAIN)
    found = [
        Reproduction("proof stress at 0.002", "MPa", proof, proof_MPa, PROOF_TOLERANCE),
        Reproduction("tensile strength", "MPa", tensile_strength(curve), strength_MPa, STRENGTH_TOLERANCE),
    ]
    if uniform_log is not None:
        necks = instability_strain(curve)
        found.append(Reproduction("uniform strain", "log", necks, uniform_log, UNIFORM_TOLERANCE))
    return tuple(found)


def first_curve_faults(card: Card) -> list[Fault]:
    """Faults of a card whose own first-loading curve does not reproduce it."""
    try:
        found = reproductions(card, flow_curve(card.flows["first"]))
    except CardError as problem:
        remedy = "enter it beside the curve, so that the curve can be held against it"
        return [Fault("flow.first", "without its strength figures", "", f"beside them ({problem})", remedy)]
    except InputError as problem:
        return [Fault("flow.first", str(problem), "", "a curve that necks", "check its constants or points")]
    remedy = "fit it again to first loading, or move it to [flow.reyield] if it was fitted after cold reduction"
    return [
        Fault(
            "flow.first",
            f"{meets.name} {meets.of_curve:.4g}",
            meets.unit,
            f"within {100 * meets.tolerance:g} % of the card's {meets.of_card:.4g} {meets.unit}".rstrip(),
            remedy,
        )
        for meets in found
        if not meets.ok
    ]
