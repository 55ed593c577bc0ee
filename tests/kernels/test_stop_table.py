import math

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.segment_hull import girth_factor
from hoopwright.kernels.stop_table import girth_per_stroke, shim_across, shim_for_girth, stop_table
from hoopwright.kernels.taper_drive import TaperDrive

DRIVE = TaperDrive(8, math.radians(7.0), 0.10, 0.12)


def test_rows_of_a_stop_table() -> None:
    table = stop_table(DRIVE, 123.395, 4.6, [-2.0, 0.0, 2.0])
    assert table.across_mm == pytest.approx(2.0 * 123.395 + DRIVE.diameter_per_stroke * np.array([-2.0, 0.0, 2.0]))
    assert np.diff(table.girth_mm) == pytest.approx(2.0 * girth_per_stroke(DRIVE) * np.ones(2), rel=1e-12)
    assert table.lobe_mm[1] < table.lobe_mm[2]


def test_shims_undo_the_table() -> None:
    assert girth_per_stroke(DRIVE) == pytest.approx(DRIVE.diameter_per_stroke * girth_factor(8))
    assert shim_for_girth(DRIVE, 0.1) * girth_per_stroke(DRIVE) == pytest.approx(0.1)
    assert shim_across(DRIVE, -0.12) == pytest.approx(-0.12 / 0.2456, rel=1e-3)
    assert shim_for_girth(DRIVE, 0.1) > shim_across(DRIVE, 0.1)


def test_a_stroke_that_shuts_the_slots_is_refused() -> None:
    with pytest.raises(InputError, match="standing"):
        stop_table(DRIVE, 123.395, 0.5, [-20.0])
