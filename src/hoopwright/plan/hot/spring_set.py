"""Set that the fingers take at the worst corner, beside what they lose by relaxation."""

from __future__ import annotations

from hoopwright.cards.alloy import Alloy
from hoopwright.design.shapes import SpringPlate
from hoopwright.errors import InputError
from hoopwright.findings import Figure, Finding, Input
from hoopwright.kernels.spring_finger import finger_stiffness
from hoopwright.kernels.spring_set import finger_set
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.spring_form import SpringForm, bar_of, plate_of, yield_of
from hoopwright.process.working import reckoned

SEEN_MM = 0.0005


def set_figure(
    job: HotJob, spring: SpringPlate, form: SpringForm, figures: list[Figure], young: Figure, nu: Figure, card: Alloy
) -> list[Finding]:
    """Set of a finger at the thickest sheet and deepest deflection; nothing where the card has no yield."""
    limit = yield_of(card)
    if limit is None:
        return []
    thick = spring.thickness_mm + spring.thickness_tolerance_mm
    deep = spring.preload_deflection_mm + spring.preload_deflection_tolerance_mm
    grown = (thick / spring.thickness_mm) ** 3
    whole = grown * plate_of(form, young.value, nu.value).stiffness
    finger = finger_stiffness(young.value, nu.value, form.finger_width_mm, thick, form.finger_length_mm)
    rim = 1.0 / max(1.0 / whole - 1.0 / finger, 1e-9)
    first = limit.value * form.finger_width_mm * thick**2 / (6.0 * form.finger_length_mm)
    about = f"{spring.id}/spring/set"
    try:
        told = finger_set(finger, rim, first, deep)
    except InputError as problem:
        return [
            Finding(
                "stop",
                f"{spring.id}: pressed {deep:.2f} mm deep the finger roots are plastic hinges: "
                f"{str(problem).partition(' Do: ')[0]}.",
                "press it less, or make fingers longer or thinner",
                about,
                "spring-hinge",
            )
        ]
    given = job.source("spring plate")
    root = 6.0 * form.finger_length_mm / (form.finger_width_mm * form.thickness_mm**2)
    rim_first = bar_of(form, young.value, nu.value).stress > 1.01 * root
    figures.append(
        reckoned(
            about,
            "set of the tips at the first press to the worst corner",
            told.set,
            "mm",
            "d - F / k_f - F / k_r",
            Input("d", "deepest deflection", deep, "mm", given),
            Input("F", "force on a finger", told.force, "N", young.source),
            Input("k_f", "clamped finger, thickest sheet", finger, "N_per_mm", young.source),
            Input("k_r", "rim and legs, thickest sheet", rim, "N_per_mm", young.source),
            limit.as_input("Y"),
            digits=3,
            note="root of the finger, elastic then perfectly plastic; set by relaxation comes besides"
            + ("; the rim is stressed more than the root, its yielding is not in it" if rim_first else ""),
        )
    )
    if told.set <= SEEN_MM:
        return []
    return [
        Finding(
            "caution",
            f"{spring.id}: the tips take a set of {told.set:.3f} mm when they are first pressed to the worst corner.",
            "press it less, or make fingers longer or thinner",
            about,
            "spring-set",
            f"the root carries {told.share:.2f} of its yield moment",
        )
    ]
