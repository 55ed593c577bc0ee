"""What each way of measuring may be wrong by: a budget by the GUM for every kind of reading, with its corrections.

Accuracies are a shop's own, from its gauges' certificates and studies; the values that stand as defaults are common
practice, no source, and each can be replaced. Lengths in mm, hardness in HV.

    two-point gauge   a free ring gives way under the measuring force: dD = (pi/4 - 2/pi) F R^3 / (E I), added back
    three-point V     D = 2 m / (1 + 1/sin(a/2)): a doubt of m counts 2 / (1 + 1/sin(a/2)); order n counts as it reads
    roundness         largest less least of n readings: each with the indicator's doubt and the table's
    hardness          HV = 0.1891 F / d^2 (ISO 6507-1, from memory): a doubt of d counts twice
    coordinates       A + L/K of the machine's length error, and its probing error

Source of the ring's give: thin ring under two opposite forces, inextensible (textbook of strength of materials, from
memory; derived again and checked against the hoop kernel in tests/exact/test_gauge_doubt.py). A section that is
contoured gives by its own second moment about the axis along the ring.
"""

from __future__ import annotations

import math

from hoopwright.errors import InputError, require_positive, require_range
from hoopwright.kernels.arrays import whole_count
from hoopwright.kernels.statistics.uncertainty import Budget, Term, budget

RING_GIVE = math.pi / 4.0 - 2.0 / math.pi
GIVE_DOUBT = 0.2
"""Half width of the doubt of a reckoned give: seam, anvils and the section's own roll with it are left out."""
PLAIN_DOF = 50.0


def squeeze_mm(force_N: float, radius_mm: float, modulus_MPa: float, second_moment_mm4: float) -> float:
    """What a free ring's diameter gives way under two opposite forces. [mm]

    Raises
    ------
    InputError
        A force below 0; radius, modulus or second moment not above 0.
    """
    force = require_range("measuring force", force_N, 0.0, 1e4, "N")
    radius = require_positive("ring radius", radius_mm, "mm")
    stiff = require_positive("modulus", modulus_MPa, "MPa") * require_positive(
        "second moment", second_moment_mm4, "mm4"
    )
    return RING_GIVE * force * radius**3 / stiff


def two_point_budget(
    give_mm: float,
    accuracy_mm: float = 0.01,
    repeat_sd_mm: float = 0.005,
    readings: int = 2,
    odd_lobes_mm: float = 0.0,
) -> Budget:
    """A diameter across two anvils, the give of the ring added back.

    Parameters
    ----------
    give_mm : of `squeeze_mm`, 0 for a ring held on a plug. odd_lobes_mm : peak to valley of orders 3, 5, ..., to which
        two anvils are blind; known from a roundness trace.

    Raises
    ------
    InputError
        A value below 0, or no reading.
    """
    count = whole_count("readings", readings, 1, 10_000)
    lines = [
        Term("gauge", _at_least_0("accuracy", accuracy_mm), "uniform"),
        Term("repeat", _at_least_0("repeat", repeat_sd_mm) / math.sqrt(count), dof=max(1.0, count - 1.0)),
        Term("give of the ring", GIVE_DOUBT * _at_least_0("give of the ring", give_mm), "uniform"),
    ]
    if odd_lobes_mm:
        lines.append(Term("odd lobes", 0.5 * _at_least_0("odd lobes", odd_lobes_mm), "arcsine"))
    return budget(lines)


def three_point_budget(
    included_angle_deg: float,
    accuracy_mm: float = 0.005,
    repeat_sd_mm: float = 0.004,
    readings: int = 3,
    angle_doubt_deg: float = 0.05,
    radius_mm: float = 100.0,
    lobes: tuple[tuple[int, float], ...] = (),
) -> Budget:
    """A diameter in a V, apex to far side.

    Parameters
    ----------
    lobes : (order, amplitude on radius [mm]) known of the ring. Each reads, in the V, as its amplitude times
        1 + cos-sum over the two flanks (below), and any phase is as likely as another.

    Raises
    ------
    InputError
        An angle outside 10 to 170 deg, a value below 0, an order below 2.
    """
    half = 0.5 * math.radians(require_range("included angle", included_angle_deg, 10.0, 170.0, "deg"))
    count = whole_count("readings", readings, 1, 10_000)
    share = 2.0 / (1.0 + 1.0 / math.sin(half))
    # D = 2 m / (1 + 1/sin h): dD/dh at a true circle, m = R (1 + 1/sin h)
    turn = 2.0 * radius_mm * math.cos(half) / (math.sin(half) ** 2 * (1.0 + 1.0 / math.sin(half)))
    lines = [
        Term("indicator", _at_least_0("accuracy", accuracy_mm), "uniform", share),
        Term("repeat", _at_least_0("repeat", repeat_sd_mm) / math.sqrt(count), "normal", share, max(1.0, count - 1.0)),
        Term("angle of the V", math.radians(_at_least_0("angle doubt", angle_doubt_deg)), "uniform", 0.5 * turn),
    ]
    for order, amplitude in lobes:
        read = v_gain(order, included_angle_deg)
        lines.append(Term(f"order {order}", _at_least_0(f"order {order}", amplitude) * abs(read) * share, "arcsine"))
    return budget(lines)


def v_gain(order: int, included_angle_deg: float) -> float:
    """Apex-to-far-side reading of a V for a lobe of one unit on radius at the far side, extreme over its phase. [1]

    The flanks touch at half a turn less, and more, a = 90 deg - half the angle either side of the apex direction; a
    radius change r there moves the centre. reading = r(0) + (r(pi - a) + r(pi + a)) / (2 sin(angle/2)), for small r.

    Raises
    ------
    InputError
        An order below 2, or an angle outside 10 to 170 deg.
    """
    n = whole_count("order", order, 2, 1000)
    half = 0.5 * math.radians(require_range("included angle", included_angle_deg, 10.0, 170.0, "deg"))
    off = 0.5 * math.pi - half
    # r = cos(n t + p): the flanks' sum is 2 cos(n pi + p) cos(n a), so the phase only scales the whole
    return 1.0 + (-1.0) ** n * math.cos(n * off) / math.sin(half)


def roundness_budget(
    readings: int, indicator_mm: float = 0.005, table_mm: float = 0.002, repeat_sd_mm: float = 0.003
) -> Budget:
    """Peak to valley of one turn: two readings are compared; the table's own error counts once.

    Raises
    ------
    InputError
        Fewer than 5 readings, or a value below 0.
    """
    count = whole_count("readings", readings, 5, 1_000_000)
    two = math.sqrt(2.0)
    return budget(
        [
            Term("indicator", _at_least_0("indicator", indicator_mm), "uniform", two),
            Term("repeat of a reading", _at_least_0("repeat", repeat_sd_mm), "normal", two, max(1.0, count - 1.0)),
            Term("run-out of the table", _at_least_0("table", table_mm), "uniform"),
        ]
    )


def order_budget(readings: int, indicator_mm: float = 0.005, repeat_sd_mm: float = 0.003) -> Budget:
    """Amplitude of one order fitted to equal steps: noise counts sqrt(2/n). Raises as `roundness_budget`."""
    count = whole_count("readings", readings, 5, 1_000_000)
    spread = math.sqrt(2.0 / count)
    return budget(
        [
            Term("indicator", _at_least_0("indicator", indicator_mm), "uniform", spread),
            Term("repeat of a reading", _at_least_0("repeat", repeat_sd_mm), "normal", spread, max(1.0, count - 3.0)),
        ]
    )


def trace_budget(tracer_mm: float = 0.01, stylus_mm: float = 0.003, clamp_mm: float = 0.01) -> Budget:
    """Profile of a section: tracer, stylus radius, how the clamps bend a thin section. Raises InputError below 0."""
    return budget(
        [
            Term("tracer", _at_least_0("tracer", tracer_mm), "uniform"),
            Term("stylus radius", _at_least_0("stylus", stylus_mm), "uniform"),
            Term("clamped shape", _at_least_0("clamped shape", clamp_mm), "uniform"),
        ]
    )


def hardness_budget(
    mean_HV: float,
    repeat_sd_HV: float,
    readings: int,
    diagonal_mm: float,
    diagonal_doubt_mm: float = 0.0005,
    block_pct: float = 2.0,
    force_pct: float = 1.0,
) -> Budget:
    """A mean Vickers hardness [HV].

    Parameters
    ----------
    diagonal_mm : mean diagonal of the dents. block_pct : doubt of the reference block, standard, from its certificate.

    Raises
    ------
    InputError
        A value not above 0, or fewer than two readings.
    """
    mean = require_positive("mean hardness", mean_HV, "HV")
    count = whole_count("readings", readings, 2, 10_000)
    diagonal = require_positive("diagonal", diagonal_mm, "mm")
    return budget(
        [
            Term("repeat", _at_least_0("repeat", repeat_sd_HV) / math.sqrt(count), dof=count - 1.0),
            Term(
                "reading of the diagonal",
                _at_least_0("diagonal doubt", diagonal_doubt_mm),
                "uniform",
                2.0 * mean / diagonal,
            ),
            Term("reference block", _at_least_0("block", block_pct) / 100.0 * mean, dof=PLAIN_DOF),
            Term("force", _at_least_0("force", force_pct) / 100.0 * mean, "uniform"),
        ]
    )


def coordinate_budget(
    length_mm: float,
    constant_mm: float = 0.003,
    per_length: float = 1.0 / 300_000.0,
    probing_mm: float = 0.003,
    part_expansion_per_K: float = 13e-6,
    temperature_doubt_K: float = 1.0,
) -> Budget:
    """Distance of two measured points on a coordinate machine, A + L/K as half width.

    Raises
    ------
    InputError
        A length not above 0, or a value below 0.
    """
    length = require_positive("length", length_mm, "mm")
    machine = _at_least_0("constant part", constant_mm) + _at_least_0("length part", per_length) * length
    return budget(
        [
            Term("length error of the machine", machine, "uniform"),
            Term("probing, each point", _at_least_0("probing", probing_mm), "uniform", math.sqrt(2.0)),
            Term(
                "part temperature",
                _at_least_0("temperature doubt", temperature_doubt_K),
                "uniform",
                length * _at_least_0("expansion", part_expansion_per_K),
            ),
        ]
    )


def _at_least_0(field: str, value: float) -> float:
    if not (math.isfinite(value) and value >= 0.0):
        raise InputError(field, value, "", "0 or above", "enter what the gauge's certificate or study says")
    return float(value)
