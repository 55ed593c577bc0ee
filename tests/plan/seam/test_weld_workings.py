"""Figures of the weld commands can be followed: identities plain and once, arithmetic formulas that give the figure."""

from __future__ import annotations

import datetime as dt
import math
import re
import sys
from pathlib import Path

import pytest

from hoopwright.desk.weld import (
    RingsRead,
    Sheet,
    nozzle_joint,
    weld_assembly,
    weld_coupons,
    weld_lot,
    weld_qualify,
    weld_setting,
    weld_trials,
)
from hoopwright.desk.weld_common import WeldReport
from hoopwright.desk.weld_fit import FitUpAsked, weld_angle, weld_fit_up

sys.path.insert(0, str(Path(__file__).parents[1]))
from formula_reading import value_of

FILES = Path(__file__).parents[3] / "examples" / "weld"
DAY = dt.date(2031, 3, 1)
SHEET = Sheet("N06002", 0.8)


@pytest.fixture(scope="module")
def reports() -> dict[str, WeldReport]:
    setting, hardness = (600.0, 40.0, 0.3, 0.0), FILES / "hardness.csv"
    return {
        "setting": weld_setting(
            SHEET,
            setting,
            FILES / "sections.csv",
            False,
            (0.03, 0.015),
            None,
            DAY,
            122.3,
            True,
            RingsRead((0.05,), (0.6,)),
        ),
        "trials": weld_trials(SHEET, FILES / "trials.csv", 1, 20, None, DAY)[0],
        "fit-up": weld_fit_up(
            None,
            "HD-402",
            FitUpAsked("house", None, (0.03,) * 3, (0.01,) * 3, FILES / "ends-HD-402.csv"),
            None,
            None,
            DAY,
        ),
        "angle": weld_angle(FILES / "trace.csv", 122.3, "N06002", 0.8, None, None),
        "coupons": weld_coupons(SHEET, 0.015, 0.98, 0.90, None, DAY),
        "qualify": weld_qualify(SHEET, FILES / "tensile.csv", FILES / "lives.csv", 310.0, hardness, None, DAY),
        "lot": weld_lot(None, "W07", 0.8, 764.01, "demo-house", None, None, DAY),
        "assembly": weld_assembly(
            None, 1.0, nozzle_joint("N06002,N06625,247.0,247.2"), True, None, None, DAY, FILES / "heights.csv"
        ),
    }


def test_identities_are_plain_and_come_once(reports: dict[str, WeldReport]) -> None:
    for name, report in reports.items():
        identities = [figure.identity for figure in report.figures]
        assert len(identities) == len(set(identities)), name
        assert all(re.fullmatch(r"[A-Za-z0-9_./-]+", identity) for identity in identities), name
        assert all(math.isfinite(figure.value) for figure in report.figures)


def test_arithmetic_gives_the_figure(reports: dict[str, WeldReport]) -> None:
    followed = 0
    for report in reports.values():
        for figure in report.figures:
            found = value_of(figure) if figure.formula else None
            if found is None:
                continue
            followed += 1
            # a kink's angle is printed in degrees; its formula is in radians
            value = math.radians(figure.value) if figure.identity.endswith("/weld/angle") else figure.value
            assert found == pytest.approx(value, rel=1e-6, abs=1e-9), figure.identity
    # of some ninety; the others are fits, posteriors, tests and isotherms
    assert followed >= 20


def test_every_finding_says_what_to_do(reports: dict[str, WeldReport]) -> None:
    for report in reports.values():
        for finding in report.findings:
            assert finding.remedy and not finding.remedy.endswith("."), finding
            assert finding.sentence.endswith("."), finding
            assert "!" not in finding.sentence + finding.remedy + finding.why
            assert "please" not in finding.remedy.lower()
