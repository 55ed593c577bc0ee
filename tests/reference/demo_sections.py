"""Mid-surface sections of the invented demonstration rings, as corner points (z, r) with fillet radii. mm"""

import numpy as np

from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_build import from_corners

CORNERS: dict[str, tuple[list[tuple[float, float]], list[float]]] = {
    "HD-401": ([(4, 119.95), (13, 119.95), (21, 123), (42, 123)], [4, 4]),
    "HD-402": ([(29, 123.85), (35, 123.85), (38.5, 125.75), (48, 125.75), (54, 123.4), (76, 123.4)], [3, 3, 3, 4]),
    "HD-403": ([(63, 124.25), (69, 124.25), (72.5, 126.15), (81, 126.15), (98, 116), (113, 116)], [3, 3, 3, 8]),
    "HD-404": ([(102, 116.85), (107, 116.85), (110.3, 118.6), (115.5, 118.6), (141, 95), (152, 95)], [3, 3, 3, 8]),
    "HD-411": ([(4, 62.05), (13, 62.05), (20, 60.5), (46, 60.5)], [4, 4]),
    "HD-412": ([(33, 59.65), (39, 59.65), (42.5, 57.75), (52, 57.75), (58, 60.1), (88, 60.1)], [3, 3, 3, 4]),
    "HD-413": ([(76, 59.25), (82, 59.25), (85.5, 57.35), (94, 57.35), (126, 69), (152, 69)], [3, 3, 3, 8]),
}


def section(ring: str) -> Profile:
    """The section of one ring."""
    return from_corners(*CORNERS[ring], name=ring)


def stations(ring: str, step: float = 0.05) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Developed distance, z and r at the ends of all lines and arcs and every `step` between, shapes (n,). mm"""
    profile = section(ring)
    s = np.union1d(np.linspace(0.0, profile.length, int(profile.length / step) + 1), profile.breaks)
    s = s[np.concatenate([[True], np.diff(s) > 1e-9])]
    points = np.array([profile.point_at(min(float(place), profile.length)) for place in s])
    return s, points[:, 0], points[:, 1]
