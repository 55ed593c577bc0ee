"""What a sheet is made of, as the section kernel needs it. Units: MPa, per kelvin."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.flow import FlowCurve, Vector, flow_stress


@dataclass(frozen=True, slots=True)
class Metal:
    """Elastic and plastic behaviour of a sheet.

    Parameters
    ----------
    curve : flow stress against plastic strain (the isotropic part).
    young_MPa, poisson : elastic constants.
    anisotropy_r : ratio of width to thickness strain in tension, the same in every direction of the sheet; 1 is
    isotropic. kinematic_MPa : modulus of the back stress in tension (Armstrong and Frederick); 0 for none. [MPa]
    recovery : rate at which the back stress saturates; the back stress in tension tends to kinematic_MPa / recovery.
    expansion_per_K : linear thermal expansion.

    Raises
    ------
    InputError
        When a figure is not finite or outside its range, or when the flow stress at zero plastic strain is not above 0.
    """

    curve: FlowCurve
    young_MPa: float
    poisson: float
    anisotropy_r: float = 1.0
    kinematic_MPa: float = 0.0
    recovery: float = 0.0
    expansion_per_K: float = 0.0

    def __post_init__(self) -> None:
        require_positive("young_MPa", self.young_MPa, "MPa")
        require_range("poisson", self.poisson, 0.0, 0.499)
        require_range("anisotropy_r", self.anisotropy_r, 0.1, 10.0)
        require_range("kinematic_MPa", self.kinematic_MPa, 0.0, self.young_MPa, "MPa")
        require_range("recovery", self.recovery, 0.0, 1e5)
        require_finite("expansion_per_K", self.expansion_per_K, "1/K")
        first = float(flow_stress(self.curve.vector(), 0.0))
        if not first > 0.0:
            raise InputError(
                "flow curve at zero plastic strain",
                first,
                "MPa",
                "above 0",
                "use Swift's law; for a pure power law its offset strain is (K/E)^(1/(1-n))",
            )

    def vector(self) -> Vector:
        """Packed figures as compiled code takes them: E, nu, ca, cb, H, g, expansion, 5/6 G; shape (8,)."""
        r = self.anisotropy_r
        shear = 5.0 / 6.0 * self.young_MPa / (2.0 * (1.0 + self.poisson))
        return np.array(
            [
                self.young_MPa,
                self.poisson,
                1.0 / (1.0 + r),
                (1.0 + 2.0 * r) / (1.0 + r),
                self.kinematic_MPa,
                self.recovery,
                self.expansion_per_K,
                shear,
            ],
            dtype=np.float64,
        )
