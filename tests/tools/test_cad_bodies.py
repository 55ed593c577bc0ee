"""Bodies made, measured, written and read back by a second way; refusals."""

from __future__ import annotations

import datetime as dt
import json
import math
import os
import re
import struct
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from demo_tools import solids as demo_solids

import hoopwright
from hoopwright.errors import GeometryError, InputError
from hoopwright.kernels.profile import Profile, arc, line
from hoopwright.kernels.profile_integrals import region
from hoopwright.tools import solids
from hoopwright.tools.solids import glb_bytes, library, mesh, read_step, read_stl, step_bytes, stl_bytes
from hoopwright.tools.turned import full_circle

DAY = dt.date(2031, 3, 1)
BEAD = Profile(
    (
        line((0.0, 20.0), (0.0, 40.0)),
        line((0.0, 40.0), (10.0, 40.0)),
        arc((10.0, 40.0), (20.0, 40.0), (15.0, 40.0), False),
        line((20.0, 40.0), (30.0, 40.0)), line((30.0, 40.0), (30.0, 20.0)), line((30.0, 20.0), (0.0, 20.0)),
    )
)  # fmt: skip


def test_revolved_volume_is_pappus() -> None:
    body = solids.revolved("bead", BEAD)
    assert solids.volume(body) == pytest.approx(region(BEAD).revolved_volume, rel=1e-12)
    assert solids.is_valid(body) and solids.solid_count(body) == 1
    part = solids.revolved("part", BEAD, 0.7)
    assert solids.volume(part) == pytest.approx(region(BEAD).revolved_volume * 0.7 / (2.0 * math.pi), rel=1e-12)


def test_ring_of_round_section() -> None:
    body = solids.revolved("band", Profile(full_circle((5.0, 100.0), 2.0)))
    assert solids.volume(body) == pytest.approx(2.0 * math.pi**2 * 100.0 * 4.0, rel=1e-12)


def test_cut_join_overlap_distance() -> None:
    one = solids.box("one", (0.0, 0.0, 0.0), (10.0, 10.0, 10.0))
    two = solids.moved(one, 5.0, 0.0, 0.0)
    assert solids.volume(solids.cut(one, two)) == pytest.approx(500.0, rel=1e-12)
    assert solids.volume(solids.joined(one, two)) == pytest.approx(1500.0, rel=1e-12)
    assert solids.overlap(one, two) == pytest.approx(500.0, rel=1e-12)
    assert solids.overlap(one, solids.moved(one, 20.0, 0.0, 0.0)) == 0.0
    far = solids.moved(solids.turned(one, 0.5 * math.pi), 0.0, 0.0, 13.0)
    assert solids.distance(one, far) == pytest.approx(3.0, abs=1e-9)
    assert solids.centre(two) == pytest.approx((10.0, 5.0, 5.0))


def test_rounded_edge_takes_a_quarter_round() -> None:
    one = solids.box("one", (0.0, 0.0, 0.0), (10.0, 10.0, 10.0))
    made = solids.rounded(one, 2.0, lambda x, y, z: x == pytest.approx(10.0) and y == pytest.approx(10.0))
    assert solids.volume(made) == pytest.approx(1000.0 - (4.0 - math.pi) * 10.0, rel=1e-12)


def test_what_cannot_be_built_is_refused_by_part_and_operation() -> None:
    one = solids.box("plate", (0.0, 0.0, 0.0), (10.0, 10.0, 10.0))
    with pytest.raises(GeometryError) as refusal:
        solids.rounded(one, 50.0, lambda x, y, z: z == pytest.approx(10.0))
    assert refusal.value.field == "plate: round edges to R 50"
    assert "smaller edge radius" in refusal.value.remedy
    with pytest.raises(GeometryError, match="none"):
        solids.faces_on(one, lambda x, y, z: False, "slot faces")
    with pytest.raises(InputError, match="size along z"):
        solids.box("flat", (0.0, 0.0, 0.0), (1.0, 1.0, 0.0))


def test_missing_library_names_the_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    def gone(name: str) -> None:
        raise ImportError(name)

    monkeypatch.setattr(library.importlib, "import_module", gone)
    library.kernel.cache_clear()
    try:
        with pytest.raises(InputError, match=r"hoopwright\[cad\]"):
            solids.require_library()
        assert not solids.available()
    finally:
        library.kernel.cache_clear()
        monkeypatch.undo()
    assert solids.available()


def test_step_keeps_names_colours_and_volumes() -> None:
    bodies = (
        solids.revolved("bead one", BEAD).named("bead one", (0.8, 0.2, 0.1)),
        solids.moved(solids.box("block", (0.0, 0.0, 0.0), (10.0, 20.0, 30.0)), 100.0, 0.0, 0.0).named(
            "block", (0.1, 0.3, 0.9)
        ),
    )
    data = step_bytes(bodies, "two", DAY)
    assert b"AP242" in data and b"2031-03-01T00:00:00" in data
    back = read_step(data)
    assert [b.name for b in back] == ["bead one", "block"]
    for made, read in zip(bodies, back, strict=True):
        assert read.colour == pytest.approx(made.colour, abs=1e-6)
        assert solids.volume(read) == pytest.approx(solids.volume(made), rel=1e-9)
    assert step_bytes(bodies, "two", DAY) == data


STEP_ELSEWHERE = """
import datetime, sys
from hoopwright.tools import solids
colours = [(0.1 * k, 0.3, 0.9 - 0.1 * k) for k in range(6)]
bodies = [
    solids.moved(solids.box(f"block {k}", (0, 0, 0), (1.0, 2.0, 3.0 + k)), 9.0 * k, 0.0, 0.0).named(f"b{k}", colour)
    for k, colour in enumerate(colours)
]
kind = {"step": lambda: solids.step_bytes(bodies, "six", datetime.date(2031, 3, 1)),
        "glb": lambda: solids.glb_bytes(bodies), "stl": lambda: solids.stl_bytes(bodies)}
sys.stdout.buffer.write(b"|||".join(made() for made in kind.values()))
"""


def test_two_processes_write_the_same_bytes() -> None:
    """Another seed of Python's hashes, another layout of memory: STEP, glb and STL stay the same."""
    made = [
        subprocess.run(
            [sys.executable, "-c", STEP_ELSEWHERE],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2024")
    ]
    assert made[0] == made[1] and len(made[0].split(b"|||")) == 3
    colours = [body.colour for body in read_step(made[0].split(b"|||")[0])]
    assert colours == [pytest.approx((0.1 * k, 0.3, 0.9 - 0.1 * k), abs=1e-5) for k in range(6)]


def test_a_body_moved_about_is_measured_from_the_triangles_made_once() -> None:
    one = solids.revolved("bead", BEAD, 0.7)
    far = solids.turned(solids.moved(solids.turned(one, 0.4), 3.0, -2.0, 11.0), -1.1, "x", (0.0, 5.0, 2.0))
    first, there = mesh(one), mesh(far)
    assert there.triangles is first.triangles
    own = mesh(solids.Body("same, made anew", far.shape))
    assert there.volume_mm3 == pytest.approx(own.volume_mm3, rel=1e-12)
    low, high = own.points_mm.min(axis=0), own.points_mm.max(axis=0)
    assert there.points_mm.min(axis=0) == pytest.approx(low, abs=1e-9)
    assert there.points_mm.max(axis=0) == pytest.approx(high, abs=1e-9)
    cut = solids.cut(far, solids.box("half", (-99.0, -99.0, -99.0), (99.0, 99.0, 9.0)))
    assert mesh(cut).volume_mm3 < 0.9 * there.volume_mm3


def test_triangles_measure_the_same_body() -> None:
    exact = region(BEAD).revolved_volume
    # triangles stay on a body once made, so each deflection gets its own; numbers of chords are whole, so
    # halving the deflection does not quite halve the miss
    misses = [abs(mesh(solids.revolved("bead", BEAD), d).volume_mm3 / exact - 1.0) for d in (0.2, 0.1, 0.05)]
    assert misses[0] > 1.5 * misses[1] and misses[1] > 1.5 * misses[2] and misses[2] < 2e-3
    body = solids.revolved("bead", BEAD)
    made = stl_bytes((body,))
    assert read_stl(made).volume_mm3 == pytest.approx(mesh(body).volume_mm3, rel=1e-5)
    assert stl_bytes((body,)) == made
    with pytest.raises(InputError, match="whole binary STL"):
        read_stl(made[:-7])


def glb_parts(data: bytes) -> tuple[dict, bytes]:  # type: ignore[type-arg]
    assert data[:4] == b"glTF"
    size = struct.unpack("<I", data[12:16])[0]
    return json.loads(data[20 : 20 + size]), data[20 + size + 8 :]


def glb_volume(data: bytes) -> float:
    """Volume of every mesh of a glb, from its own buffers. [mm3]"""
    head, blob = glb_parts(data)
    total = 0.0
    for shape in head["meshes"]:
        for part in shape["primitives"]:
            views = [head["accessors"][part["attributes"]["POSITION"]], head["accessors"][part["indices"]]]
            arrays = []
            for view, kinds in zip(views, ({5126: "<f4"}, {5123: "<u2", 5125: "<u4"}), strict=True):
                where = head["bufferViews"][view["bufferView"]]
                start = where.get("byteOffset", 0) + view.get("byteOffset", 0)
                width = 3 if view["type"] == "VEC3" else 1
                arrays.append(np.frombuffer(blob, kinds[view["componentType"]], view["count"] * width, start))
            points, corners = arrays[0].reshape(-1, 3).astype(float), arrays[1].reshape(-1, 3).astype(int)
            a, b, c = (points[corners[:, k]] for k in range(3))
            total += float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0)
    return total * 1e9


def test_glb_is_metres_and_has_one_mesh_a_body() -> None:
    bodies = (
        solids.revolved("bead", BEAD),
        solids.moved(solids.box("block", (0, 0, 0), (10.0, 20.0, 30.0)), 100.0, 0.0, 0.0),
    )
    data = glb_bytes(bodies, 0.02)
    head, _ = glb_parts(data)
    assert len(head["meshes"]) == 2
    highest = max(a["max"][1] for a in head["accessors"] if a["type"] == "VEC3" and "max" in a)
    assert highest == pytest.approx(0.030, abs=1e-6)
    # chords cut the rounds a little
    assert glb_volume(data) == pytest.approx(sum(map(solids.volume, bodies)), rel=5e-3)
    assert glb_bytes(bodies, 0.02) == data


@pytest.mark.parametrize("kind", ["R", "S", "B", "T", "W"])
def test_a_tools_files_measure_as_its_bodies(kind: str) -> None:
    for stem, bodies in demo_solids("HD-411", kind).files[:1]:
        back = read_step(step_bytes(bodies, stem, DAY))
        assert [b.name for b in back] == [b.name for b in bodies]
        for made, read in zip(bodies, back, strict=True):
            assert solids.volume(read) == pytest.approx(solids.volume(made), rel=1e-7)
        # 0.05 of chord on radii of 10 and more: a thousandth of the volume or less
        total = sum(mesh(b).volume_mm3 for b in bodies)
        assert total == pytest.approx(sum(map(solids.volume, bodies)), rel=4e-3)
        assert read_stl(stl_bytes(bodies)).volume_mm3 == pytest.approx(total, rel=1e-4)


def test_only_the_solids_package_reaches_the_cad_library() -> None:
    """No module outside names the library or the function that brings it in."""
    root = Path(hoopwright.__file__).parent
    reach = re.compile(r"\b(OCP|build123d)\b|solids\.library\b")
    outside = [path for path in sorted(root.rglob("*.py")) if path.parent != root / "tools" / "solids"]
    assert len(outside) > 100
    assert [p.name for p in outside if reach.search(p.read_text(encoding="utf-8"))] == []
    assert any(reach.search(p.read_text(encoding="utf-8")) for p in (root / "tools" / "solids").glob("*.py"))
