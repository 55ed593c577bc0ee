"""A node on the segments: which one, how far off, where along it; the force and its tangent. mm, N, MPa, rad.

In the frame of a segment (middle ahead, its turning centre at the origin) the face is the turned arc up to the half
angle `aa`, then the circle of the edge radius about the blend centre. The axis of the hoop rides its height c above
the face, so a node is held against the arc Rm + c and the circle re + c; gap, normal and arc place run on without a
step from one to the other. Pressure p = kn (-gap) per length; friction tau = tau_old + kt (s - s_old), cut off at
mu p. A node that is new on a segment starts without friction. Source: derived here.
"""

from __future__ import annotations

import math

from hoopwright.kernels.compiled import compiled
from hoopwright.kernels.hoop.arrays import NO_SEGMENT, Chain, Matrix, State, Tool

Foot = tuple[int, float, float, float, float, float, float]


@compiled
def foot(tool: Tool, x: float, y: float, height: float, axis_height: float) -> Foot:
    """Nearest point of the segments' offset face.

    Returns
    -------
    (segment, gap, nx, ny, radius, along, rate) : gap and outward normal; distance from the centre of its arc; arc
        place, and its rate of change with a tangential move of the node. [mm, 1]
    """
    count, turned, half_angle, edge, index = (
        tool.figures[0], tool.figures[1], tool.figures[2], tool.figures[3], tool.figures[5],
    )  # fmt: skip
    pitch = 2.0 * math.pi / count
    number = math.floor((math.atan2(y, x) - index) / pitch + 0.5)
    segment = int(number % count)
    middle = index + number * pitch
    co, si = math.cos(middle), math.sin(middle)
    u = x * co + y * si - tool.out[segment]
    v = -x * si + y * co
    flip = 1.0 if v >= 0.0 else -1.0
    v *= flip
    r = math.sqrt(u * u + v * v)
    angle = math.atan2(v, u)
    if angle <= half_angle:
        gap, nu, nv, radius = r - turned - height, u / r, v / r, r
        along, rate = (turned + axis_height) * angle, (turned + axis_height) / r
    else:
        u -= (turned - edge) * math.cos(half_angle)
        v -= (turned - edge) * math.sin(half_angle)
        radius = math.sqrt(u * u + v * v)
        gap, nu, nv = radius - edge - height, u / radius, v / radius
        along = (turned + axis_height) * half_angle + (edge + axis_height) * (math.atan2(v, u) - half_angle)
        rate = (edge + axis_height) / radius
    nv *= flip
    return segment, gap, nu * co - nv * si, nu * si + nv * co, radius, flip * along, rate


@compiled
def smallest_gap(chain: Chain, tool: Tool, state: State) -> float:
    """Smallest gap of all nodes. [mm]"""
    least = 1e300
    for i in range(state.x.shape[0]):
        _s, gap, _nx, _ny, _r, _a, _d = foot(tool, state.x[i, 0], state.x[i, 1], state.height[i], chain.sheet[1])
        least = min(least, gap)
    return least


@compiled
def node_contact(chain: Chain, tool: Tool, old: State, new: State, i: int, k: Matrix) -> tuple[float, float]:
    """Force of the segments on node i, and its tangent taken into k (2, 2) as stiffness.

    Returns
    -------
    (fx, fy) : force on the node [N]. Segment, friction and arc place go into `new`.
    """
    k[:, :] = 0.0
    segment, gap, nx, ny, radius, along, rate = foot(tool, new.x[i, 0], new.x[i, 1], new.height[i], chain.sheet[1])
    if gap >= 0.0:
        new.segment[i], new.drag[i] = NO_SEGMENT, 0.0
        return 0.0, 0.0
    half, normal, mu = chain.half[i], tool.normal, tool.figures[4]
    p = -normal * gap
    tx, ty = -ny, nx
    tau, tau_n, tau_t = 0.0, 0.0, 0.0
    if mu > 0.0 and old.segment[i] == segment:
        tau = old.drag[i] + tool.drag * (along - old.along[i])
        if abs(tau) <= mu * p:
            tau_t = tool.drag * rate
        else:
            sign = 1.0 if tau > 0.0 else -1.0
            tau, tau_n = sign * mu * p, -sign * mu * normal
    new.segment[i], new.drag[i], new.along[i] = segment, tau, along
    # force = half (p n - tau t); k = -d force / dx with dn = t t'dx / radius, dt = -n t'dx / radius
    a, b = -normal, p / radius
    xx = half * (a * nx * nx + b * tx * tx - tx * (tau_n * nx + tau_t * tx) + tau / radius * nx * tx)
    xy = half * (a * nx * ny + b * tx * ty - tx * (tau_n * ny + tau_t * ty) + tau / radius * nx * ty)
    yx = half * (a * ny * nx + b * ty * tx - ty * (tau_n * nx + tau_t * tx) + tau / radius * ny * tx)
    yy = half * (a * ny * ny + b * ty * ty - ty * (tau_n * ny + tau_t * ty) + tau / radius * ny * ty)
    k[0, 0], k[0, 1], k[1, 0], k[1, 1] = -xx, -xy, -yx, -yy
    return half * (p * nx - tau * tx), half * (p * ny - tau * ty)
