"""A shop and a strip for the operations: the demonstration's metal and limits, a hat section."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoopwright.cards.alloy import alloy
from hoopwright.cards.shop import friction, house_limits, machines
from hoopwright.kernels.flow import swift
from hoopwright.kernels.layers import midpoint_layers
from hoopwright.kernels.metal import Metal
from hoopwright.kernels.profile import Stations
from hoopwright.kernels.profile_build import from_corners
from hoopwright.process.roll import Contour
from hoopwright.process.sheet import sheet
from hoopwright.process.shop import ShopCard
from hoopwright.process.workpiece import Workpiece

HAT = [(0.0, 123.85), (9.0, 123.85), (12.5, 125.75), (22.0, 125.75), (28.0, 123.4), (53.0, 123.4)]
FILLETS = [3.0, 3.0, 3.0, 4.0]


def shop_card() -> ShopCard:
    """The demonstration's house with the method papers' law, so that their figures can be met."""
    sheet_card = alloy("N06002")
    return ShopCard(
        Metal(swift(1630.0, 0.020, 0.385), 205_000.0, 0.32),
        sheet_card.young_modulus_MPa(),
        sheet_card.uniform_strain_log(),
        house_limits("demo-house"),
        machines("demo"),
        friction("demo-friction"),
    )


@pytest.fixture(scope="session")
def card() -> ShopCard:
    """The same, made once."""
    return shop_card()


@pytest.fixture(scope="session")
def stations() -> Stations:
    """Stations of the hat section, mid-surface."""
    return from_corners(HAT, FILLETS).stations(1.0)


@pytest.fixture(scope="session")
def contour(stations: Stations) -> Contour:
    """What its rolls make, heights from their mean."""
    height = stations.y - float(np.average(stations.y, weights=stations.weight))
    return Contour(stations.x, height, stations.angle, stations.curvature)


@pytest.fixture
def flat(stations: Stations) -> Workpiece:
    """The flat strip, 0.8 thick."""
    return sheet("HAT", stations.s, stations.weight, 0.8, midpoint_layers(21), 770.0)


@pytest.fixture
def hoop(flat: Workpiece, stations: Stations) -> Workpiece:
    """A stress-free hoop 1.5 % below the drawing at its smallest radius."""
    return flat.after(
        "weld",
        form="hoop",
        z_mm=stations.x,
        r_mm=stations.y - 123.4 * 0.015 / 1.015,
        angle_rad=stations.angle,
        curvature_per_mm=stations.curvature,
        length_mm=2.0 * math.pi * 122.0,
    )
