import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.arrays import (
    finite_vector,
    positive_vector,
    rising_vector,
    rounded_down,
    rounded_up,
    same_length,
    whole_count,
)


def test_lists_come_back_as_float64() -> None:
    assert finite_vector("x", [1, 2], "mm").dtype == np.float64
    assert rising_vector("x", (1, 2), "mm").tolist() == [1.0, 2.0]


@pytest.mark.parametrize(
    ("check", "values", "word"),
    [
        (finite_vector, [], "x is of shape"),
        (finite_vector, [[1.0]], "x is of shape"),
        (finite_vector, [1.0, np.inf], r"x\[1\]"),
        (positive_vector, [1.0, 0.0], r"x\[1\]"),
        (rising_vector, [1.0, 1.0], r"x\[1\]"),
        (rising_vector, [1.0], "x is of shape"),
    ],
)
def test_refusals_name_the_place(check, values, word) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(InputError, match=word):
        check("x", values, "mm")


def test_lengths_and_counts() -> None:
    with pytest.raises(InputError, match="as long as y"):
        same_length("x", np.ones(2), "y", np.ones(3))
    assert whole_count("n", np.int64(3), 1, 5) == 3
    for wrong in (0, 6, 2.0, True):
        with pytest.raises(InputError, match="n is"):
            whole_count("n", wrong, 1, 5)  # type: ignore[arg-type]


def test_rounding_to_steps() -> None:
    assert rounded_up(814.01, 1.0) == 815.0
    assert rounded_up(815.0 + 1e-12, 1.0) == 815.0
    assert rounded_down(54.99, 0.5) == 54.5
