"""Set of a finger that is bent past yield: a clamped strip, elastic then perfectly plastic. mm, N, MPa.

With M = F L at the root and My = Y w t^2/6, for My <= M <= 1.5 My

    d/dy = (My/M)^2 (5 - (3 + M/My) sqrt(3 - 2 M/My))          20/9 at M = 1.5 My

and after release the part d - dy M/My stays. A finger on a rim that stays elastic: F/k_rim is added to d. Classical
(Prager and Hodge, Theory of Perfectly Plastic Solids, 1951, from memory), re-derived here. Hardening would leave less.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from scipy.optimize import brentq

from hoopwright.errors import InputError, require_positive

LIMIT = 1.5
LARGEST = 20.0 / 9.0


@dataclass(frozen=True, slots=True)
class FingerSet:
    """force : on the finger. [N] set : deflection that stays. [mm] share : root moment over yield moment, 1.5 at
    most."""

    force: float
    set: float
    share: float


def plastic_share(moment: float) -> float:
    """Tip deflection over that at first yield, for the root moment over the yield moment, 0 to 1.5.

    >>> round(plastic_share(1.5), 6)
    2.222222
    """
    if not 0.0 <= moment <= LIMIT:
        raise InputError("moment over yield moment", moment, "", "from 0 to 1.5", "a full hinge carries no more")
    if moment <= 1.0:
        return moment
    return (5.0 - (3.0 + moment) * math.sqrt(3.0 - 2.0 * moment)) / moment**2


def finger_set(finger: float, rim: float, yield_force: float, deflection: float) -> FingerSet:
    """What a deflection of finger and rim together leaves.

    Parameters
    ----------
    finger, rim : stiffness of the clamped finger, and of what it stands on. [N/mm]
    yield_force : force at which the root begins to yield, Y w t^2/(6 L). [N]
    deflection : [mm]

    Raises
    ------
    InputError
        Values not above 0, or a deflection at which the root is a hinge: no set can be told.
    """
    require_positive("finger stiffness", finger, "N/mm")
    require_positive("rim stiffness", rim, "N/mm")
    require_positive("force at first yield", yield_force, "N")
    require_positive("deflection", deflection, "mm")
    first = yield_force / finger

    def bent(moment: float) -> float:
        return first * plastic_share(moment) + yield_force * moment / rim - deflection

    if bent(LIMIT) < 0.0:
        most = bent(LIMIT) + deflection
        raise InputError(
            "deflection", deflection, "mm", f"at most {most:.3f}: beyond the root is a hinge", "press less"
        )
    moment = float(brentq(bent, 0.0, LIMIT, xtol=1e-14))
    stays = first * (plastic_share(moment) - moment)
    return FingerSet(yield_force * moment, max(0.0, stays), moment)
