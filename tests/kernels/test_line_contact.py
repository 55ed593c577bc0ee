import math

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.line_contact import (
    contact_modulus,
    contact_modulus_of_two,
    edge_load,
    effective_radius,
    flat_facet_pressure,
    hoop_pressure,
    line_contact,
    marks,
    solid_compression,
    taper_contact,
)


def test_moduli_of_one_and_of_two_metals_agree() -> None:
    steel = (205000.0, 0.3)
    assert contact_modulus_of_two(steel, steel) == pytest.approx(contact_modulus(*steel))


def test_radius_of_plane_and_hollow() -> None:
    assert effective_radius(5.0) == pytest.approx(5.0)
    assert effective_radius(5.0, 5.0) == pytest.approx(2.5)
    assert effective_radius(60.0, -60.5) == pytest.approx(60.0 * 60.5 / 0.5)


def test_taper_contact_is_the_line_contact_of_its_load() -> None:
    modulus = contact_modulus(210000.0, 0.3)
    one = taper_contact(16277.0, 60.0, 60.0, 60.5, modulus)
    two = line_contact(16277.0 / 60.0, effective_radius(60.0, -60.5), modulus)
    assert one == two


def test_pressure_grows_as_the_root_of_the_load() -> None:
    one, four = line_contact(10.0, 2.0, 1e5), line_contact(40.0, 2.0, 1e5)
    assert four.peak_pressure_MPa == pytest.approx(2.0 * one.peak_pressure_MPa)
    assert four.half_width_mm == pytest.approx(2.0 * one.half_width_mm)


def test_mark_limit() -> None:
    contact = line_contact(4.56, 0.5, contact_modulus(210000.0, 0.3))
    assert marks(contact, 330.0) and not marks(contact, 350.0)
    assert not marks(contact, 330.0, factor=1.8)


def test_plain_pressures() -> None:
    assert flat_facet_pressure(16000.0, 40.0, 20.0) == 20.0
    assert hoop_pressure(504.0, 139.7) == pytest.approx(3.608, abs=5e-4)
    assert edge_load(504.0, 139.7, 2.53) == pytest.approx(4.56, abs=5e-3)
    assert solid_compression(3.608, 139.7, 210000.0, 0.3) == pytest.approx(0.0017, abs=5e-5)


def test_refusals() -> None:
    with pytest.raises(InputError, match="bore radius"):
        taper_contact(1.0, 1.0, 60.0, 60.0, 1e5)
    with pytest.raises(InputError, match="radii"):
        effective_radius(60.0, -59.0)
    with pytest.raises(InputError, match="first radius"):
        effective_radius(0.0)
    with pytest.raises(InputError, match="second radius"):
        effective_radius(1.0, math.nan)
    with pytest.raises(InputError, match="Poisson"):
        contact_modulus(1.0, 0.6)
    with pytest.raises(InputError, match="load"):
        line_contact(-1.0, 1.0, 1.0)
