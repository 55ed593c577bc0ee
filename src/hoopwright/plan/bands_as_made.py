"""Bands of what the walk does not touch: settings as the shop keeps them, and what follows from one banded figure.

The walk is run again for every entry of the spread card (`bands`); a tool, a setting or a drawing size stays as planned
in those runs. What is left for such a figure is one of three things. It is *made*, and the spread card says how well
(a cut length, a ground radius, a gap, a stop). It *follows* from the sheet or from a banded figure by a known power.
Or nothing on the card moves it: then its band has no width, and says so.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from fnmatch import fnmatchcase

from hoopwright.findings import Figure
from hoopwright.plan.bands import Deviation
from hoopwright.plan.shapes import RingJob

Deviations = Mapping[str, Deviation]
Rule = Callable[[RingJob, Figure, Deviations, Mapping[str, float]], float]


def _sheet(power: float) -> Rule:
    """Goes with a power of the sheet's thickness."""

    def rule(job: RingJob, figure: Figure, found: Deviations, values: Mapping[str, float]) -> float:
        return abs(power * figure.value) * job.spread.sheet_thickness_mm.value / job.thickness_mm.value

    return rule


def _mass(job: RingJob, figure: Figure, found: Deviations, values: Mapping[str, float]) -> float:
    length = values[job.identity("strip/cut-length")]
    return math.hypot(_sheet(1.0)(job, figure, found, values), figure.value * job.spread.cut_length_mm.value / length)


def _pulled(power: float, stiffness_power: float) -> Rule:
    """Goes with a power of the hoop tension of the last hit, and of Young's modulus."""

    def rule(job: RingJob, figure: Figure, found: Deviations, values: Mapping[str, float]) -> float:
        tension = job.identity("press/tension")
        share = found[tension].sd / values[tension] if tension in found and values[tension] else 0.0
        soft = job.spread.modulus_pct.value / 100.0
        return abs(figure.value) * math.hypot(power * share, stiffness_power * soft)

    return rule


def _neutral_length(job: RingJob, figure: Figure, found: Deviations, values: Mapping[str, float]) -> float:
    height = found.get(job.identity("curl/neutral-height"))
    return 2.0 * math.pi * height.sd if height is not None else 0.0


def _narrowed(job: RingJob, figure: Figure, found: Deviations, values: Mapping[str, float]) -> float:
    """A width across the sheet, which narrows by half the stretch."""
    hits = [one for name, one in found.items() if name.endswith("/stretch-loaded")]
    return 0.5 * abs(figure.value) * max((one.sd for one in hits), default=0.0) / 100.0


def _from_seam(job: RingJob, figure: Figure, found: Deviations, values: Mapping[str, float]) -> float:
    """An arc on the outside face, half a sheet off the mid-surface."""
    turn = next(float(item.value) for item in figure.inputs if item.symbol == "θ")
    return 0.5 * job.spread.sheet_thickness_mm.value * turn


def _made(entry: str) -> Rule:
    """As well as the shop makes it, by an entry of the spread card."""

    def rule(job: RingJob, figure: Figure, found: Deviations, values: Mapping[str, float]) -> float:
        return float(getattr(job.spread, entry).value)

    return rule


STILL = 1e-9
"""Share of a figure below which a difference of two runs is round-off."""

MADE = "as the shop makes it, spread card {card}"
FOLLOWS = "follows from the sheet or from banded figures, spread card {card}"
KEPT = "stays as planned: no entry of spread card {card} moves it"

RULES: tuple[tuple[str, str, Rule], ...] = (
    ("blank/rough-length", MADE, _made("cut_length_mm")),
    ("strip/cut-length", MADE, _made("cut_length_mm")),
    ("roll/set-gap", MADE, _made("roll_gap_mm")),
    ("roll/running-gap", MADE, _made("roll_gap_mm")),
    ("roll/pass-*/depth", MADE, _made("roll_gap_mm")),
    ("size/hit-*/stop", MADE, _made("pin_stop_mm")),
    ("segments/radius-*", MADE, _made("segment_radius_mm")),
    ("strip/neutral-length", FOLLOWS, _neutral_length),
    ("blank/mass", FOLLOWS, _mass),
    ("blank/net-width", FOLLOWS, _narrowed),
    ("trim/*-metal-off", FOLLOWS, _narrowed),
    ("roll/*-zone", FOLLOWS, _sheet(-0.5)),
    ("roll/*-edge-strain", FOLLOWS, _sheet(1.0)),
    ("holes/*/edge-to-seam", FOLLOWS, _from_seam),
    ("segments/edge-load", FOLLOWS, _pulled(1.0, 0.0)),
    ("segments/edge-pressure", FOLLOWS, _pulled(0.5, 0.5)),
)
"""Pattern of the identity without the ring's number, how the band was obtained, and its standard deviation."""


def as_made(job: RingJob, figures: Iterable[Figure], found: Deviations) -> tuple[dict[str, Deviation], dict[str, str]]:
    """Standard deviation of every figure that the walk's runs did not move, and how each was obtained.

    Returns
    -------
    tuple
        By identity; a figure that nothing moves has deviation 0 and says so.
    """
    all_figures = list(figures)
    values = {figure.identity: figure.value for figure in all_figures}
    deviation: dict[str, Deviation] = {}
    how: dict[str, str] = {}
    for figure in all_figures:
        known = found.get(figure.identity)
        if known is not None and known.sd > STILL * max(1.0, abs(figure.value)):
            continue
        own = figure.identity.removeprefix(job.ring.id + "/")
        words, sd = KEPT, 0.0
        for pattern, said, rule in RULES:
            if fnmatchcase(own, pattern):
                words, sd = said, rule(job, figure, found, values)
                break
        deviation[figure.identity] = Deviation(sd, min(0.0, figure.value))
        how[figure.identity] = words.format(card=job.spread.card_id)
    return deviation, how
