"""The one place that knows the CAD library: bodies made, checked, written and read.

Everything else speaks of `Body` and of the functions named here; a test holds that no other module reaches the library.
It is heavy and optional (extra `cad`), so it is brought in when the first body is made. Lengths mm; bodies stand with
their axis along z: a profile's x becomes z, its y the radius.

library : the library, and what it cannot do said in words. build : bodies made. measure : bodies measured.
mesh : triangles and STL. step, glb : those files.
"""

from hoopwright.tools.solids.build import (
    below,
    box,
    common,
    cut,
    extruded,
    joined,
    moved,
    revolved,
    rounded,
    surface,
    turned,
)
from hoopwright.tools.solids.glb import glb_bytes
from hoopwright.tools.solids.library import Body, Colour, available, require_library
from hoopwright.tools.solids.measure import centre, distance, faces_on, is_valid, overlap, solid_count, volume
from hoopwright.tools.solids.mesh import Mesh, mesh, read_stl, stl_bytes
from hoopwright.tools.solids.step import read_step, step_bytes

__all__ = [
    "Body",
    "Colour",
    "Mesh",
    "available",
    "below",
    "box",
    "centre",
    "common",
    "cut",
    "distance",
    "extruded",
    "faces_on",
    "glb_bytes",
    "is_valid",
    "joined",
    "mesh",
    "moved",
    "overlap",
    "read_step",
    "read_stl",
    "require_library",
    "revolved",
    "rounded",
    "solid_count",
    "step_bytes",
    "stl_bytes",
    "surface",
    "turned",
    "volume",
]
