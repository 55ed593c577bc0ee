"""Coupons from files: strength, proof stress of one gauge length, lives with run-outs, hardness; their places."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from hoopwright.cards.shop import house_limits
from hoopwright.errors import FileFaults, InputError
from hoopwright.kernels.seam_stats_life import LifeTests, compare_lives
from hoopwright.plan.seam.coupon_file import read_hardness, read_heights, read_lives, read_tensile
from hoopwright.plan.seam.coupon_places import coupon_sheet
from hoopwright.plan.seam.evaluation import ProofStress, evaluate, proof_ratio
from hoopwright.plan.seam.qualification import plan_coupons

GOOD = ([770.0, 768.0, 772.0, 771.0], [771.0, 774.0, 769.0, 772.0])


def written(folder: Path, text: str) -> Path:
    path = folder / "table.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_tensile_file(tmp_path: Path) -> None:
    head = "kind,tensile_MPa,fracture,proof_MPa,gauge_mm\n"
    found = read_tensile(written(tmp_path, head + "weld,771,parent,398,50\nParent,780,,,\n"))
    assert (found[0].kind, found[0].fracture, found[0].gauge_mm) == ("weld", "parent", 50.0)
    assert (found[1].kind, found[1].proof_MPa) == ("parent", None)
    with pytest.raises(FileFaults) as caught:
        read_tensile(written(tmp_path, head + "seam,771,,,\nweld,-3,,,\nweld,770,,398,\nweld,x,,,\n"))
    assert [(fault.key, fault.line) for fault in caught.value.faults] == [
        ("kind", 2),
        ("tensile_MPa", 3),
        ("proof_MPa", 4),
        ("tensile_MPa", 5),
    ]


def test_proof_stresses_of_different_gauges_are_never_compared() -> None:
    weld, parent = [ProofStress(398.0, 50.0), ProofStress(392.0, 50.0)], [ProofStress(405.0, 50.0)] * 2
    parent[1] = ProofStress(409.0, 50.0)
    ratio, gauge = proof_ratio(weld, parent)
    assert gauge == 50.0 and ratio.ratio == pytest.approx(395.0 / 407.0, rel=1e-3)
    with pytest.raises(InputError, match="gauge lengths is 50 and 80 mm"):
        proof_ratio(weld, [parent[0], ProofStress(409.0, 80.0)])
    found = evaluate("X-1", *GOOD, proof=(ratio, gauge))
    assert any("both over 50 mm" in figure.name for figure in found.figures)


def test_lives_with_run_outs_are_marked_and_counted(tmp_path: Path) -> None:
    rng = np.random.default_rng(4)
    rows = ["kind,amplitude_MPa,cycles,run_out"]
    for kind, share in (("weld", 0.8), ("parent", 1.0)):
        for amplitude in np.repeat([260.0, 300.0, 350.0, 420.0], 4):
            life = share * 10.0 ** (17.0 - 4.5 * np.log10(amplitude) + 0.12 * rng.normal())
            rows.append(f"{kind},{amplitude},{min(life, 1e6):.0f},{int(life > 1e6)}")
    tests = read_lives(written(tmp_path, "\n".join(rows) + "\n"))
    life = compare_lives(tests["weld"], tests["parent"], 320.0)
    assert min(life.run_outs) > 0 and life.counts == (16, 16)
    assert life.lower < life.ratio and 0.55 < life.ratio < 1.15
    found = evaluate("X-1", *GOOD, life=life, lives=(tests["weld"], tests["parent"]))
    said = next(f for f in found.findings if f.topic == "qualify-run-outs")
    assert f"{life.run_outs[0]} of 16 weld tests" in said.sentence
    assert "ran out" in next(f.note for f in found.figures if f.identity.endswith("/life-ratio"))
    # as failures they would make another claim
    plain = compare_lives(
        LifeTests(tests["weld"].amplitude, tests["weld"].cycles),
        LifeTests(tests["parent"].amplitude, tests["parent"].cycles),
        320.0,
    )
    assert plain.lines != life.lines
    with pytest.raises(FileFaults, match="run_out"):
        read_lives(written(tmp_path, rows[0] + "\nweld,300,1000,perhaps\n"))


def test_hardness_and_heights(tmp_path: Path) -> None:
    places, values = read_hardness(written(tmp_path, "place_mm,hardness_HV\n-1,240\n0,180\n1,238\n"))
    assert places == (-1.0, 0.0, 1.0) and values[1] == 180.0
    read = read_heights(written(tmp_path, "joint,before_mm,after_mm\nJ4,120.40,120.25\nJ4,120.44,120.28\n"))
    assert read == {"J4": pytest.approx((0.15, 0.16))}
    with pytest.raises(FileFaults, match="joint"):
        read_heights(written(tmp_path, "joint,before_mm,after_mm\n,120.40,120.25\n"))
    with pytest.raises(FileFaults, match="without hardness_HV"):
        read_hardness(written(tmp_path, "place_mm,HRC\n-1,240\n"))


def test_coupons_lie_on_the_stock_sheet_along_the_hoop() -> None:
    sheet = coupon_sheet(house_limits())
    plan = plan_coupons("X-1", 0.015, sheet=sheet)
    assert [p.kind for p in plan.places] == ["weld", "parent"] * 5
    assert all(p.x_mm + p.length_mm <= sheet.length_mm - sheet.border_mm + 1e-9 for p in plan.places)
    assert all(p.length_mm > p.width_mm for p in plan.places)
    narrow = replace(sheet, width_mm=200.0)
    crowd = plan_coupons("X-1", 0.015, sheet=narrow)
    said = next(f for f in crowd.findings if f.topic == "coupons-sheet")
    assert crowd.places == () and "5 weld and 5 parent coupons do not lie on one sheet" in said.sentence
    assert "second sheet" in said.remedy
