"""What if? A ring planned with a lever moved, the estimate from derivatives beside it. Nothing of it is recorded."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from hoopwright.design.shapes import Liner, Wish
from hoopwright.design.wishes import friction_for, limits_for, wish_quantities
from hoopwright.desk.page.job import Job
from hoopwright.errors import HoopwrightError, InputError, require_range
from hoopwright.findings import Figure
from hoopwright.plan.ring_plan import RingPlan, control_limits

SMALL_SHARE = 0.02
"""Step of a lever for its derivative, as a share of its range: small beside the range, large beside rounding."""


@dataclass(frozen=True, slots=True)
class Lever:
    """One thing to move. value : as the liner and cards have it, in the unit shown. digits : to print.

    whole : only whole numbers make sense (segments).
    """

    name: str
    words: str
    unit: str
    value: float
    low: float
    high: float
    step: float
    digits: int
    whole: bool = False


@dataclass(frozen=True, slots=True)
class LiveFigure:
    """A figure that follows the levers, with the drawing's limits where it has any."""

    key: str
    figure: Figure
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The plan under the moved levers. moved : lever and value, in the order of the levers; empty: as recorded."""

    plan: RingPlan
    levers: tuple[Lever, ...]
    moved: tuple[tuple[str, float], ...]
    figures: tuple[LiveFigure, ...]


def levers_of(job: Job, liner: Liner, ring: str) -> tuple[Lever, ...]:
    """What can be moved for a ring."""
    limits, friction = limits_for(liner, job.shop_folder), friction_for(liner, job.shop_folder)
    thick = liner.ring(ring).thickness_mm
    return (
        Lever("stretch", "stretch kept in the ring", "%", 100 * limits.stretch_plan_eng.value, 0.8, 2.4, 0.02, 2),
        Lever("t", "sheet thickness", "mm", thick, round(0.9 * thick, 3), round(1.1 * thick, 3), 0.002, 3),
        Lever("mu", "friction, pin on segments", "", friction.mu_pin.value, 0.04, 0.2, 0.005, 3),
        Lever("n", "segments of the set", "", limits.segments.value, 6.0, 16.0, 1.0, 0, True),
        Lever("pin", "half angle of the pin", "°", limits.pin_half_angle_deg.value, 4.0, 12.0, 0.1, 1),
        Lever("pitch", "pitch radius of the rolls", "mm", limits.roll_pitch_radius_mm.value, 30.0, 90.0, 1.0, 0),
    )


WISHES: Mapping[str, tuple[str, float]] = {
    "stretch": ("stretch_plan_eng", 0.01),
    "mu": ("mu_pin", 1.0),
    "n": ("segments", 1.0),
    "pin": ("pin_half_angle_deg", 1.0),
    "pitch": ("roll_pitch_radius_mm", 1.0),
}
"""Wish that a lever sets, and the factor from the unit shown into the wish's own."""

LIVE = (
    "close/cut-length",
    "size/{hit}/stop",
    "size/{hit}/springback",
    "size/least-thickness",
    "budget/worst",
    "press/pull",
    "press/release-margin",
    "segments/flat",
    "segments/travel",
    "roll/{slip}",
)
"""Figures that follow the levers, after the control sizes."""


def parsed(text: str) -> tuple[tuple[str, float], ...]:
    """Levers moved, from an address ("t:0.82,mu:0.12").

    Raises
    ------
    InputError
        Not of that form, or a number that is none.
    """
    found: dict[str, float] = {}
    for part in filter(None, (piece.strip() for piece in text[:400].split(","))):
        name, colon, number = part.partition(":")
        try:
            found[name] = float(number)
        except ValueError:
            raise InputError("if", part, "", "a lever and its value, as t:0.82", "write if=t:0.82,mu:0.12") from None
        if not colon:
            raise InputError("if", part, "", "a lever and its value, as t:0.82", "write if=t:0.82,mu:0.12")
    return tuple(found.items())


def what_if(job: Job, ring: str, revision: str = "", moved: tuple[tuple[str, float], ...] = ()) -> WhatIf:
    """The plan of a ring with levers moved.

    Raises
    ------
    InputError
        No such lever, or a value outside its range.
    """
    liner = job.revision(revision).liner
    levers = levers_of(job, liner, ring)
    known = {lever.name: lever for lever in levers}
    for name, value in moved:
        if name not in known:
            raise InputError("lever", name, "", f"one of {', '.join(known)}", "take one of these")
        lever = known[name]
        require_range(lever.words, value, lever.low, lever.high, lever.unit)
        if lever.whole and value != int(value):
            raise InputError(lever.words, value, lever.unit, "a whole number", "round it")
    really = tuple((n, v) for n, v in moved if abs(v - known[n].value) > 1e-9)
    order = [lever.name for lever in levers]
    really = tuple(sorted(really, key=lambda pair: order.index(pair[0])))
    plan = job.plan(ring, revision, changed(liner, ring, really) if really else None)
    return WhatIf(plan, levers, really, live_figures(plan))


def changed(liner: Liner, ring: str, moved: tuple[tuple[str, float], ...]) -> Liner:
    """The liner with the moved levers put in, for planning only."""
    units = {name: quantity.unit for name, quantity in wish_quantities().items()}
    wishes = {wish.name: wish for wish in liner.wishes}
    rings = liner.rings
    for name, value in moved:
        if name == "t":
            rings = tuple(replace(r, thickness_mm=value) if r.id == ring else r for r in rings)
            continue
        wish, factor = WISHES[name]
        wishes[wish] = Wish(wish, value * factor, units[wish])
    return replace(liner, rings=rings, wishes=tuple(wishes.values()))


def live_figures(plan: RingPlan) -> tuple[LiveFigure, ...]:
    """The figures that follow the levers: control sizes first."""
    hits = len(plan.settings.stops)
    known = {figure.identity: figure for figure in plan.figures}
    rows = []
    for identity, ends in control_limits(plan.job, hits).items():
        if identity in known:
            rows.append(LiveFigure(identity.rpartition("/")[2], known[identity], *ends))
    limits = {f.check.about: f.check for f in plan.findings if f.check is not None and f.check.about}
    slip = next((i for i in known if i.endswith("/slip")), "")
    for pattern in LIVE:
        identity = slip if "{slip}" in pattern else plan.job.identity(pattern.format(hit=f"hit-{hits}", slip=""))
        figure = known.get(identity)
        if figure is None:
            continue
        check = limits.get(identity)
        low = check.limit if check is not None and check.sense == ">=" else None
        high = check.limit if check is not None and check.sense == "<=" else None
        key = "slip" if identity == slip else pattern.format(hit="last", slip="").replace("/", "-")
        rows.append(LiveFigure(key, figure, low, high))
    return tuple(rows)


def derivatives(
    job: Job, ring: str, revision: str = "", moved: tuple[tuple[str, float], ...] = ()
) -> dict[str, dict[str, float]]:
    """How far each live figure moves for one unit of each lever, by central differences; levers in whole steps too.

    A figure that a moved lever does away with is left out; so is a lever whose plan is refused on either side.
    """
    liner = job.revision(revision).liner
    levers = levers_of(job, liner, ring)
    at = {lever.name: lever.value for lever in levers} | dict(moved)
    found: dict[str, dict[str, float]] = {}
    for lever in levers:
        step = 1.0 if lever.whole else SMALL_SHARE * (lever.high - lever.low)
        ends = [min(max(at[lever.name] + sign * step, lever.low), lever.high) for sign in (-1.0, 1.0)]
        try:
            low, high = (
                {
                    f.key: f.figure.value
                    for f in what_if(job, ring, revision, tuple({**at, lever.name: end}.items())).figures
                }
                for end in ends
            )
        except HoopwrightError:
            continue
        found[lever.name] = {
            key: (high[key] - low[key]) / (ends[1] - ends[0]) for key in low if key in high and ends[1] > ends[0]
        }
    return found
