"""The hand formulas of the spring plate as figures: four bare beams, printed beside the plate."""

from __future__ import annotations

from hoopwright.design.shapes import SpringPlate
from hoopwright.findings import Figure, Input
from hoopwright.plan.hot import by_hand
from hoopwright.plan.hot.job import HotJob
from hoopwright.process.working import reckoned


def hand_figures(job: HotJob, spring: SpringPlate, figures: list[Figure], cold: Figure, hot: Figure) -> None:
    """Stiffness, loads and stress of bare beams."""
    stiff, load, stress = by_hand.spring(
        spring.fingers,
        cold.value,
        spring.finger_width_mm,
        spring.thickness_mm,
        spring.finger_length_mm,
        spring.preload_deflection_mm,
    )
    given = job.source("spring plate")
    base = (
        Input("w", "finger width", spring.finger_width_mm, "mm", given),
        Input("t", "thickness", spring.thickness_mm, "mm", given),
        Input("L", "finger length", spring.finger_length_mm, "mm", given),
        Input("n", "fingers", float(spring.fingers), "", given),
    )
    note = "hand formula: four clamped beams; the rim and legs are not in it"
    figures.append(
        reckoned(
            f"{spring.id}/by-hand/stiffness",
            "stiffness of bare beams",
            stiff,
            "N_per_mm",
            "n E w t^3 / ( 4 L^3 )",
            *base,
            cold.as_input("E"),
            digits=2,
            note=note,
        )
    )
    figures.append(
        reckoned(
            f"{spring.id}/by-hand/load-cold",
            "cold load of bare beams",
            load,
            "N",
            "k d",
            figures[-1].as_input("k"),
            Input("d", "deflection", spring.preload_deflection_mm, "mm", given),
            digits=1,
            note=note,
        )
    )
    figures.append(
        reckoned(
            f"{spring.id}/by-hand/load-hot",
            "hot load of bare beams",
            load * hot.value / cold.value * (1.0 - spring.relaxation_share),
            "N",
            "F E_hot / E ( 1 - s )",
            figures[-1].as_input("F"),
            hot.as_input("E_hot"),
            cold.as_input("E"),
            Input("s", "relaxation", spring.relaxation_share, "", given),
            digits=1,
            note=note,
        )
    )
    figures.append(
        reckoned(
            f"{spring.id}/by-hand/stress",
            "root stress of bare beams",
            stress,
            "MPa",
            "3 E d t / ( 2 L^2 )",
            cold.as_input("E"),
            *base[1:3],
            Input("d", "deflection", spring.preload_deflection_mm, "mm", given),
            digits=0,
            note=note,
        )
    )
