"""What is to be said of the spring plate."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.alloy import Alloy
from hoopwright.design.shapes import SpringPlate
from hoopwright.findings import Check, Figure, Finding, judged, weakest
from hoopwright.kernels.stack_variation import StackResult
from hoopwright.plan.hot.job import HotJob
from hoopwright.plan.hot.spring_form import (
    LEG_IN_FINGERS,
    standing_height,
    yield_of,
)

Vector = NDArray[np.float64]


def asked(job: HotJob, spring: SpringPlate) -> list[Finding]:
    found = []
    lacking = [
        name
        for name, value in (("leg_width_mm", spring.leg_width_mm), ("leg_height_mm", spring.leg_height_mm))
        if value is None
    ]
    if lacking:
        found.append(
            Finding(
                "caution",
                f"{spring.id}: {' and '.join(lacking)} not given; legs "
                f"{LEG_IN_FINGERS * spring.finger_width_mm:g} mm wide are assumed, their height "
                f"{standing_height(job, spring):.2f} mm follows from the drawing's planes.",
                "enter them in [spring_plate]; four clamped beams would be five times stiffer",
                f"{spring.id}/spring/stiffness",
                "ask-legs",
                "the rim between the legs gives way more than the fingers",
            )
        )
    return [*found, *relaxation_asked(spring)]


def relaxation_asked(spring: SpringPlate) -> list[Finding]:
    """Asks for relaxation tests where there are none."""
    if spring.relaxation_tests:
        return []
    return [
        Finding(
            "caution",
            f"{spring.id}: no relaxation test is given; the liner file's {100.0 * spring.relaxation_share:g} "
            "% stands in.",
            "hold springs at temperature and enter spring_plate.relaxation_test readings; never take it "
            "from creep tables",
            f"{spring.id}/spring/loss",
            "ask-relaxation",
            "springs of nickel alloys have lost load one to three orders faster than bar creep predicts",
        )
    ]


def load_findings(spring: SpringPlate, figures: list[Figure], load: StackResult, drawn: Vector) -> list[Finding]:
    found = []
    hot = next(f for f in figures if f.identity.endswith("spring/load-hot"))
    worst = next(f for f in figures if f.identity.endswith("load-hot-worst"))
    for figure, value, said in ((hot, hot.value, "nominal"), (worst, load.low, "at the worst corner")):
        check = Check(
            f"{spring.id}: hot load, {said}",
            value,
            spring.load_min_hot_N,
            ">=",
            "N",
            figure.source,
            "stop",
            "see the alternatives on the spring load sheet, worst case first",
            figure.identity,
        )
        share = 100.0 * float(np.mean(drawn < spring.load_min_hot_N))
        one = judged(
            check,
            f"{spring.id}: the hot load is {value:.1f} N {said}; {spring.load_min_hot_N:g} N is asked for.",
            "spring-load",
            f"{share:.1f} % of samples lie under it",
        )
        if one is not None:
            found.append(one)
    return found


def stress_findings(job: HotJob, spring: SpringPlate, worst_MPa: float, card: Alloy) -> list[Finding]:
    """The stress at the worst corner against the house share of yield."""
    limit = yield_of(card)
    about = f"{spring.id}/spring/stress-worst"
    if limit is None:
        return [
            Finding(
                "caution",
                f"{spring.id}: card {card.id} has no yield; the stress is not judged.",
                "enter a measured yield of the aged strip",
                about,
                "spring-yield-unknown",
            )
        ]
    share = job.limits.spring_stress_share_max
    hot = Finding(
        "note",
        f"{spring.id}: yield at {spring.metal_degC:g} degC is not on card {card.id}; the room temperature value "
        f"of {limit.value:g} MPa stands in.",
        "test aged strip at temperature and enter it on a card of your own",
        about,
        "ask-hot-yield",
        source=limit.source,
    )
    check = Check(
        f"{spring.id}: stress at the worst corner",
        worst_MPa,
        share.value * limit.value,
        "<=",
        "MPa",
        weakest([limit.source, share.source]),
        "caution",
        "thinner or longer fingers, or less deflection",
        about,
    )
    one = judged(
        check,
        f"{spring.id}: {worst_MPa:.0f} MPa at the worst corner, {100.0 * worst_MPa / limit.value:.0f} % "
        f"of the yield of {limit.value:g} MPa; "
        f"{100.0 * share.value:g} % is the house limit.",
        "spring-stress",
    )
    return [hot] + ([one] if one else [])
