import math

import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.strip_blank import StripRule, hoop_length, radius_range_log, strip_blank

RULE = StripRule(0.015, 0.12, 25.0, 3.0, 1.0, 0.5)


def test_a_plain_hoop_needs_only_its_stretch() -> None:
    strip = strip_blank(40.0, 100.0, 100.0, 100.0, 1.0, RULE)
    assert strip.hoop_length_mm == pytest.approx(2.0 * math.pi * 100.0 / 1.015)
    assert strip.mean_strain_log == strip.largest_strain_log == pytest.approx(math.log(1.015))
    # volume: what the strip gains in length it loses in width and thickness
    net = strip.width_net_mm - 2.0 * RULE.edge_trim_mm
    before, after = net * 1.0 * strip.hoop_length_mm, 40.0 * strip.sized_thickness_mm * 2.0 * math.pi * 100.0
    assert before == pytest.approx(after, rel=1e-12)


def test_steps_round_up_and_only_up() -> None:
    strip = strip_blank(40.0, 100.0, 101.0, 102.0, 1.0, RULE)
    assert 0.0 <= strip.rough_length_mm - strip.cut_length_mm - 50.0 < 1.0
    assert 0.0 <= strip.width_mm - strip.width_net_mm < 0.5
    exact = StripRule(0.015, 0.12, 25.0, 3.0, 1.0, strip.width_net_mm / 4.0)
    assert strip_blank(40.0, 100.0, 101.0, 102.0, 1.0, exact).width_mm == pytest.approx(strip.width_net_mm)


def test_mass() -> None:
    strip = strip_blank(40.0, 100.0, 101.0, 102.0, 1.0, RULE)
    assert strip.mass_kg(1.0, 8000.0) == pytest.approx(strip.rough_length_mm * strip.width_mm * 8e-6)


def test_radius_range() -> None:
    assert radius_range_log(100.0, 104.0) == pytest.approx(math.log(1.04))
    with pytest.raises(InputError, match="largest radius"):
        radius_range_log(104.0, 100.0)


def test_refusals() -> None:
    with pytest.raises(InputError, match="least stretch"):
        StripRule(-1.0, 0.12, 25.0, 3.0, 1.0, 0.5)
    with pytest.raises(InputError, match="end_trim_mm"):
        StripRule(0.015, 0.12, -25.0, 3.0, 1.0, 0.5)
    with pytest.raises(InputError, match="width step"):
        StripRule(0.015, 0.12, 25.0, 3.0, 1.0, 0.0)
    with pytest.raises(InputError, match="mean radius"):
        strip_blank(40.0, 100.0, 99.0, 102.0, 1.0, RULE)
    with pytest.raises(InputError, match="1 \\+ e"):
        hoop_length(100.0, -1.5)
