"""The next ring predicted from all trials so far: mean, band, chance inside; springback, machine and metal shares."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hoopwright.correct.trials import Station, Trial, all_readings
from hoopwright.errors import InputError
from hoopwright.findings import Band
from hoopwright.kernels.wayback.levels import Place, Posterior, Scatter, Shares, posterior, shares_of_error


@dataclass(frozen=True, slots=True)
class Predicted:
    """A station of the next ring: free diameter with its band [mm], sd, chance inside target +- tolerance."""

    station: str
    free_mm: float
    sd_mm: float
    band: Band


@dataclass(frozen=True, slots=True, eq=False)
class NextRing:
    """stations as predicted; errors : posterior of (true free less target) for drawing; rings measured so far."""

    stations: tuple[Predicted, ...]
    posterior: Posterior
    shift_mm: tuple[float, ...]
    rings: int

    def station(self, name: str) -> Predicted:
        """One station by name."""
        for one in self.stations:
            if one.station == name:
                return one
        raise InputError("station", name, "", ", ".join(s.station for s in self.stations), "name one of these")


def predict_next(
    trials: Sequence[Trial], ask: Trial, target_mm: Sequence[float], tolerance_mm: float, sd: Scatter | None = None
) -> NextRing:
    """Free sizes of the ring that `ask` describes (its readings are not looked at), from all `trials`.

    target_mm : of each station of `ask`.
    """
    if len(target_mm) != len(ask.stations):
        raise InputError("targets", len(target_mm), "", f"{len(ask.stations)}, one a station", "enter them all")
    places = [ask.place(s, sd=sd) for s in ask.stations]
    found = posterior(all_readings(trials, sd), places, sd)
    rows = []
    for n, (station, target) in enumerate(zip(ask.stations, target_mm, strict=True)):
        base = station.predicted_free_mm
        low, high = found.band(n)
        inside = found.inside(n, target - tolerance_mm - base, target + tolerance_mm - base)
        how = f"{len(trials)} trials; springback in levels, machine offset, 3 x 3 scales of scatter"
        band = Band(base + low, base + high, how, 100.0 * inside)
        rows.append(Predicted(station.name, base + float(found.mean[n]), float(found.sd[n]), band))
    shift = tuple(s.predicted_free_mm - t for s, t in zip(ask.stations, target_mm, strict=True))
    return NextRing(tuple(rows), found, shift, len({t.serial for t in trials}))


def springback_ratio(trials: Sequence[Trial], cast: str, sd: Scatter | None = None) -> tuple[float, float]:
    """True over predicted springback for a new ring of this cast: mean and sd of the ratio [1].

    Asked as the difference of two places that are alike but for their springback.
    """
    first = trials[0]
    scatter = sd if sd is not None else Scatter()
    unit = 1.0
    high = Place(1.0 + unit, cast, "next", first.segment_set, "s", 0.0, 10_000, first.machine)
    low = Place(1.0, cast, "next", first.segment_set, "s", 0.0, 10_000, first.machine)
    found = posterior(all_readings(trials, sd), [high, low], scatter)
    mean = -(float(found.mean[0]) - float(found.mean[1])) / unit
    cov = found.cov
    var = float(cov[0, 0] + cov[1, 1] - 2.0 * cov[0, 1]) / unit**2
    return float(np.exp(mean)), float(np.exp(mean) * np.sqrt(max(var, 0.0)))


@dataclass(frozen=True, slots=True)
class MetalShare:
    """What metal may take of an error that rings agree on: radius change of the segments [mm], and why not all of
    it."""

    error_radius_mm: float
    recut_mm: float
    shares: Shares
    casts: int
    why: str


def metal_share(
    radius_error_mm: float,
    springback_mm: float,
    casts: int,
    rings: int,
    offset_measured: bool,
    sd: Scatter | None = None,
) -> MetalShare:
    """Only the shop's share of an error goes into metal: a cast's own goes into its card, the stop's to the stop.

    Rings of three casts or more that agree have shown the shop's share: all of the error that the offset leaves.
    """
    if rings < 3:
        raise InputError("rings that agree", rings, "", "3 or more", "stretch more rings before metal is touched")
    shares = shares_of_error(springback_mm, casts, rings, sd, offset_measured)
    if casts >= 3 and offset_measured:
        return MetalShare(
            radius_error_mm, radius_error_mm, shares, casts, "three casts agree: the shop's own springback"
        )
    rest = shares.shop / (shares.shop + shares.cast) if offset_measured else shares.shop
    why = f"{casts} cast{'s' if casts != 1 else ''}: {100 * rest:.0f} % of the error is the shop's, the rest the cast's"
    return MetalShare(radius_error_mm, rest * radius_error_mm, shares, casts, why)


def next_station_like(station: Station, free_mm: float) -> Station:
    """The same station asked of another ring."""
    return Station(station.name, station.axis, station.loaded_mm, station.springback_mm, (free_mm,))
