"""A start and stop where the file gives none: every wall one temperature, coefficients assumed. Only the order of gaps.

Steady temperatures are kept: the film on the gas side follows from the stated metal temperature. Coefficients that
the file does not give are assumed (no source), and every figure says so.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hoopwright.cards.alloy import Alloy
from hoopwright.errors import CardError, InputError, RangeError
from hoopwright.findings import Source
from hoopwright.kernels.lumped_walls import Wall, followed, hot_film
from hoopwright.plan.hot.history import HotTimes
from hoopwright.plan.hot.job import DRAWING_DEGC, HotJob

Vector = NDArray[np.float64]

ASSUMED = Source("practice", "assumed for the order of events only, common practice, no source")
SHEET_AIR_W_PER_M2K, GROOVE_W_PER_M2K, CASING_W_PER_M2K = 350.0, 400.0, 150.0
FLAME_DEGC = 1400.0
"""Gas beside the sheet before it is mixed down to the exit's mean: assumed, common practice, no source."""
GROOVE_MM, CASING_MM, RAMP_S = 10.0, 3.0, 20.0
HOLD_S, STOP_S = 900.0, 900.0
FACTOR_FILM, FACTOR_THICK = 2.0, 2.0**0.5
NO_CARD = (8000.0, 500.0, 20.0)
"""Density, heat and conductivity where a neighbour's card lacks them. [kg/m3, J/(kg K), W/(m K)]"""


@dataclass(frozen=True, slots=True)
class Assumption:
    """A value the start rests on. given : whether the liner file gives it."""

    name: str
    value: float
    unit: str
    given: bool


@dataclass(frozen=True, slots=True, eq=False)
class Start:
    """Walls of the sheet parts first, then groove, casing and casing mean where there are any. light_off, stop :
    times at
    which gas comes and goes. [s]"""

    walls: tuple[Wall, ...]
    names: tuple[str, ...]
    times: Vector
    hot: Vector
    cold: Vector
    light_off: float
    stop: float
    assumptions: tuple[Assumption, ...]


def start_of(job: HotJob) -> Start | None:
    """The lumped start of a liner; None where it has no operating point.

    Raises
    ------
    InputError
        A part that is hotter than the gas or colder than the air.
    """
    liner = job.liner
    if liner.operating is None:
        return None
    assert liner.thermal is not None
    given = liner.thermal.start_up
    told: list[Assumption] = []

    def value(name: str, unit: str, own: float | None, assumed: float) -> float:
        told.append(Assumption(name, assumed if own is None else own, unit, own is not None))
        return told[-1].value

    ramp = value("ramp of air and gas", "s", given.ramp_s if given else None, RAMP_S)
    film = value(
        "film on the air side of the sheet",
        "W/(m2 K)",
        given.sheet_air_W_per_m2K if given else None,
        SHEET_AIR_W_PER_M2K,
    )
    gas, air = hot_gas_degC(job), liner.operating.inlet_degC
    told.append(Assumption("gas on the hot side", gas, "degC", given is not None and given.hot_gas_degC is not None))
    walls = [_sheet(job, k, film, gas, air) for k in range(len(job.parts))]
    names = [p.id for p in job.parts]
    groove, nozzle = liner.turbine_nozzle, liner.nozzle
    if groove is not None:
        h = value(
            "film on the air side of the groove ring",
            "W/(m2 K)",
            given.groove_W_per_m2K if given else None,
            GROOVE_W_PER_M2K,
        )
        thick = value("wall of the groove ring", "mm", groove.outer_groove_thickness_mm, GROOVE_MM)
        walls.append(_wall("groove", job.metal(groove.material), thick, groove.outer_groove_degC, h, gas, air))
        names.append("groove")
    if nozzle is not None:
        h = value(
            "film on the air side of the casing",
            "W/(m2 K)",
            given.casing_W_per_m2K if given else None,
            CASING_W_PER_M2K,
        )
        thick = value("wall of the casing", "mm", nozzle.casing_thickness_mm, CASING_MM)
        card = job.metal(nozzle.casing_material)
        walls.append(_wall("casing", card, thick, nozzle.casing_degC, h, gas, air))
        walls.append(_wall("casing_mean", card, thick, nozzle.casing_mean_degC, h, gas, air))
        names += ["casing", "casing_mean"]
    fine = np.concatenate((np.arange(0.0, ramp + 120.0, 1.0), np.geomspace(ramp + 120.0, ramp + HOLD_S, 40)))
    stop = float(fine[-1])
    times = np.concatenate((fine, stop + fine[1:][fine[1:] <= STOP_S]))
    rise = np.interp(times, [0.0, ramp, stop, stop + ramp], [0.0, 1.0, 1.0, 0.0])
    # the engine turns down to still air: both streams fall to the drawing's temperature
    hot, cold = DRAWING_DEGC + (gas - DRAWING_DEGC) * rise, DRAWING_DEGC + (air - DRAWING_DEGC) * rise
    return Start(tuple(walls), tuple(names), times, hot, cold, 0.0, stop, tuple(told))


def hot_gas_degC(job: HotJob) -> float:
    """Gas that the hot side of the metal sees: as given, else assumed as that of a flame, never under the exit's."""
    assert job.liner.operating is not None
    given = None if job.liner.thermal is None else job.liner.thermal.start_up
    if given is not None and given.hot_gas_degC is not None:
        return given.hot_gas_degC
    return max(FLAME_DEGC, job.liner.operating.exit_gas_degC)


def _sheet(job: HotJob, part: int, film: float, gas: float, air: float) -> Wall:
    one = job.parts[part]
    mean = float(np.mean([p.metal_degC for p in one.places]))
    try:
        hot = hot_film(film, mean, gas, air)
    except InputError:
        raise InputError(
            f"{one.id}: metal temperature",
            mean,
            "degC",
            f"between air {air:g} and gas {gas:g} for a lumped start",
            "give a history, or correct thermal.start_up.hot_gas_degC",
        ) from None
    heat, conduct = _property(one.alloy, mean)
    return Wall(one.id, one.thickness_mm, one.alloy.density_kg_per_m3().value, heat, conduct, hot, film)


def _wall(name: str, card: Alloy, thick: float, steady: float, film: float, gas: float, air: float) -> Wall:
    share = min(max((steady - air) / (gas - air), 0.0), 0.99)
    try:
        density = card.density_kg_per_m3().value
    except CardError:
        density = NO_CARD[0]
    heat, conduct = _property(card, steady)
    return Wall(name, thick, density, heat, conduct, share / (1.0 - share) * film, film)


def _property(card: Alloy, degC: float) -> tuple[float, float]:
    try:
        heat = card.specific_heat_J_per_kgK(degC, extrapolate=True).value
    except (CardError, RangeError):
        heat = NO_CARD[1]
    try:
        conduct = card.conductivity_W_per_mK(degC, extrapolate=True).value
    except (CardError, RangeError):
        conduct = NO_CARD[2]
    return heat, conduct


def started(job: HotJob, start: Start, samples: int = 0, seed: int = 1) -> tuple[HotTimes, tuple[HotTimes, ...]]:
    """Temperatures through the start, nominal and for samples of the assumed coefficients (log-uniform, films within a
    factor of 2 either way, thick walls within the root of 2)."""
    nominal = _times(job, start, start.walls)
    rng = np.random.default_rng(seed)
    drawn = []
    for _ in range(samples):
        walls = []
        for wall in start.walls:
            film = FACTOR_FILM ** rng.uniform(-1.0, 1.0)
            thick = FACTOR_THICK ** rng.uniform(-1.0, 1.0) if wall.name in ("groove", "casing", "casing_mean") else 1.0
            walls.append(
                replace(
                    wall,
                    film_hot=film * wall.film_hot,
                    film_cold=film * wall.film_cold,
                    thickness=thick * wall.thickness,
                )
            )
        drawn.append(tuple(walls))
    taus = np.array([[w.time_constant for w in walls] for walls in drawn]).ravel() if drawn else np.zeros(0)
    if not drawn:
        return nominal, ()
    share = np.tile(_shares(start.walls), len(drawn))
    whole = followed(taus, share, start.times, start.hot, start.cold, np.full(taus.size, DRAWING_DEGC))
    count = len(start.walls)
    return nominal, tuple(_split(job, start, whole[:, k * count : (k + 1) * count]) for k in range(samples))


def _shares(walls: tuple[Wall, ...]) -> Vector:
    return np.array([w.film_hot / (w.film_hot + w.film_cold) for w in walls])


def _times(job: HotJob, start: Start, walls: tuple[Wall, ...]) -> HotTimes:
    taus = np.array([w.time_constant for w in walls])
    whole = followed(taus, _shares(walls), start.times, start.hot, start.cold, np.full(taus.size, DRAWING_DEGC))
    return _split(job, start, whole)


def _split(job: HotJob, start: Start, whole: Vector) -> HotTimes:
    """Temperature of each place: the wall's course, stretched to the place's own steady temperature."""
    warm = []
    for k, part in enumerate(job.parts):
        mean = float(np.mean([p.metal_degC for p in part.places]))
        course = (whole[:, k] - DRAWING_DEGC) / (mean - DRAWING_DEGC)
        warm += [DRAWING_DEGC + (p.metal_degC - DRAWING_DEGC) * course for p in part.places]
    neighbours = {name: whole[:, k] for k, name in enumerate(start.names) if k >= len(job.parts)}
    return HotTimes(job, start.times, np.array(warm), neighbours, "lumped start, coefficients assumed: order only")
