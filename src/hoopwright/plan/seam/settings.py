"""What one weld setting does to sheet and hoop: widths, threshold, cooling, shrinkage, angle, soft zone."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.cards.limits import HouseLimits
from hoopwright.cards.machines import Laser
from hoopwright.errors import require_positive
from hoopwright.findings import Band, Figure, Finding, Input, Source, gravest_first
from hoopwright.kernels.heat_absorbed import (
    CONVENTION,
    Absorption,
    Shot,
    heat_source,
    isotherm_width,
    melt_depth,
    peak_temperature,
    penetrating_power,
)
from hoopwright.kernels.heat_absorbed import Source as HeatSource
from hoopwright.kernels.heat_fit import AbsorptionFit
from hoopwright.kernels.heat_limits import line_source_width, thin_plate_cooling_rate, thin_plate_cooling_time
from hoopwright.kernels.heat_moving_frame import Beam, steady_field
from hoopwright.kernels.seam_shrinkage import Learned
from hoopwright.kernels.softening import ZONE_HOT_DEGC
from hoopwright.plan.seam.heat_card import HeatCard
from hoopwright.plan.seam.machine import WeldSetting, checked_setting, shot_of
from hoopwright.plan.seam.numbers import SeamNumbers
from hoopwright.plan.seam.settings_findings import bead_findings, doubt_findings
from hoopwright.plan.seam.settings_fit import fit_figures, fit_findings
from hoopwright.plan.seam.settings_shape import NOTHING_READ, RingsRead, hoop_figures
from hoopwright.process.working import reckoned, stated

BESIDE_MM = 0.5
RATE_DEGC = 1000.0
ENTERED = Source("given", "entered by the person who asks")


@dataclass(frozen=True, slots=True)
class SeamPlan:
    """One setting judged. figures by order of use; findings gravest first."""

    setting: WeldSetting
    thickness_mm: float
    shot: Shot
    source: HeatSource
    numbers: SeamNumbers
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]

    def figure(self, end: str) -> Figure:
        """The figure whose identity ends so. Raises KeyError."""
        for figure in self.figures:
            if figure.identity.endswith(end):
                return figure
        raise KeyError(end)


def plan_setting(
    part: str,
    setting: WeldSetting,
    thickness_mm: float,
    card: HeatCard,
    laser: Laser,
    limits: HouseLimits,
    fit: AbsorptionFit | None = None,
    learned: Learned | None = None,
    radius_mm: float | None = None,
    face_outside: bool = True,
    read: RingsRead = NOTHING_READ,
) -> SeamPlan:
    """Figures and findings of a weld setting.

    Parameters
    ----------
    fit : AbsorptionFit, optional
        From the shop's own sections; priors are used without it, and the figures say so.
    learned : Learned, optional
        Shrinkage factor of this fixture and alloy.
    radius_mm : float, optional
        Hoop radius: gives the out-of-round of the angle.
    face_outside : bool
        Whether the beam comes from outside: the face then closes against the hoop's bend and the seam is dented.
    read : RingsRead
        Rings welded at this setting, from which both factors are learned.

    Raises
    ------
    InputError
        A setting the machine cannot be set to, or a thickness that is none.
    """
    checked_setting(setting, laser)
    shot = shot_of(setting, require_positive("sheet thickness", thickness_mm, "mm"))
    absorption = fit.absorption if fit else Absorption()
    source = heat_source(shot, absorption, card.metal)
    base = _inputs(part, setting, thickness_mm, source, card, fit)
    widths = _widths(part, shot, source, card, base)
    heat = _heat(part, shot, source, card, base, absorption)
    shape, numbers = hoop_figures(
        part, shot, source, card, base, limits, widths, learned, radius_mm, face_outside, read
    )
    findings = [*bead_findings(limits, thickness_mm, widths, source), *doubt_findings(part, card, fit)]
    taught: tuple[Figure, ...] = ()
    if fit is not None:
        taught = fit_figures(part, fit)
        findings += fit_findings(part, fit)
    figures = (*base.values(), *widths, *heat, *shape, *taught)
    return SeamPlan(setting, thickness_mm, shot, source, numbers, figures, gravest_first(findings))


def _inputs(
    part: str, setting: WeldSetting, t: float, source: HeatSource, card: HeatCard, fit: AbsorptionFit | None
) -> dict[str, Figure]:
    ground = ENTERED
    learnt = (
        Source("measured", "absorption fitted to the shop's own sections")
        if fit
        else Source("practice", "prior of the absorption, assumed; no section of the shop's own yet")
    )
    made = {
        "P": stated(f"{part}/weld/power", "laser power on the work", setting.power_W, "W", ground, 0),
        "v": stated(f"{part}/weld/speed", "welding speed", setting.speed_mm_per_s, "mm_per_s", ground, 1),
        "d": stated(f"{part}/weld/spot", "spot diameter at 1/e²", setting.spot_dia_mm, "mm", ground, 2),
        "z": stated(f"{part}/weld/focus", "focus height over the face", setting.focus_mm, "mm", ground, 1),
        "t": stated(f"{part}/weld/thickness", "sheet thickness", t, "mm", ground, 2),
    }
    share = Input("A", "effective absorptivity with this card", source.absorbed / setting.power_W, "1", learnt)
    made["Pa"] = reckoned(
        f"{part}/weld/absorbed", "absorbed power", source.absorbed, "W", "A P", share, made["P"].as_input("P"), digits=0
    )
    held = Input("ρcΔT", "heat to the liquidus, 20 degC properties", _held(card), "J/mm3", card.source)
    made["B"] = reckoned(
        f"{part}/weld/normalised-enthalpy",
        "normalised enthalpy",
        source.index,
        "1",
        "0.40 P / ( ρcΔT sqrt ( π a v r ^ 3 ) )",
        made["P"].as_input("P"),
        made["v"].as_input("v"),
        held,
        Input("r", "beam radius at 1/e²", 0.5 * setting.spot_dia_mm, "mm", ground),
        Input("a", "diffusivity at 20 degC", _cold_a(card), "mm2/s", card.source),
        digits=1,
        note=f"convention: {CONVENTION}; weld in {source.mode} mode",
    )
    return made


def _held(card: HeatCard) -> float:
    return card.metal.cold_heat * (card.metal.liquidus - card.metal.start)


def _cold_a(card: HeatCard) -> float:
    return card.metal.cold_conductivity / card.metal.cold_heat


def _widths(part: str, shot: Shot, source: HeatSource, card: HeatCard, base: dict[str, Figure]) -> tuple[Figure, ...]:
    melt = card.metal.melt()
    face, root = isotherm_width(shot, source, melt, "face"), isotherm_width(shot, source, melt, "root")
    deep = melt_depth(shot, source, melt)
    zone = card.metal.secant(0.5 * sum(ZONE_HOT_DEGC))
    soft = isotherm_width(shot, source, zone, "face")
    ends = tuple(isotherm_width(shot, source, card.metal.secant(at), "face") for at in ZONE_HOT_DEGC)
    common = (base["Pa"].as_input("Pa"), base["v"].as_input("v"), base["t"].as_input("t"))
    how = "image series with a Gaussian beam, power shared between face and column"
    rows = (
        ("face-width", "face width of the bead", face, None),
        ("root-width", "root width of the bead", root, None),
        ("depth", "depth of the bead", deep, None),
        (
            "softened-width",
            "width of strip that loses its cold work",
            soft,
            Band(min(ends), max(ends), f"peaks of {ZONE_HOT_DEGC[1]:.0f} to {ZONE_HOT_DEGC[0]:.0f} degC, assumed"),
        ),
        (
            "line-source-width",
            "width by the line source, for comparison only",
            line_source_width(source.absorbed, shot.speed, shot.thickness, melt),
            None,
        ),
    )
    return tuple(
        reckoned(f"{part}/weld/{key}", name, value, "mm", f"{key} ( Pa , v , t )", *common, digits=2, band=b, note=how)
        for key, name, value, b in rows
    )


def _heat(
    part: str, shot: Shot, source: HeatSource, card: HeatCard, base: dict[str, Figure], absorption: Absorption
) -> tuple[Figure, ...]:
    q = source.absorbed / shot.speed
    secant = card.metal.secant(800.0)
    cooling = thin_plate_cooling_time(
        q, shot.thickness, secant.conductivity, secant.heat, 1200.0 - card.metal.start, 800.0 - card.metal.start
    )
    edge = 0.5 * isotherm_width(shot, source, card.metal.melt(), "face")
    least = penetrating_power(shot.speed, shot.radius, shot.thickness, absorption, card.metal)
    pa, v, t = (base[k].as_input(k) for k in ("Pa", "v", "t"))
    return (
        reckoned(f"{part}/weld/heat-input", "absorbed energy per length", q, "J_per_mm", "Pa / v", pa, v, digits=2),
        reckoned(
            f"{part}/weld/cooling-time",
            "time from 1200 to 800 °C on the centre line",
            cooling,
            "s",
            "( Pa / ( v t ) ) ^ 2 / ( 4 π k ρc ) ( 1 / 780 ^ 2 - 1 / 1180 ^ 2 )",
            pa,
            v,
            t,
            Input("k", "secant conductivity to 800 degC", secant.conductivity, "W/(mm K)", card.source),
            Input("ρc", "secant heat capacity to 800 degC", secant.heat, "J/(mm3 K)", card.source),
            digits=3,
            note="thin sheet: about 4 % short when fully penetrated, a fifth short for heat on the face only",
        ),
        _cooling_rate(part, q, shot, card, (pa, v, t)),
        reckoned(
            f"{part}/weld/peak-beside",
            f"peak temperature {BESIDE_MM:g} mm from the edge of the bead",
            peak_temperature(shot, source, card.metal, edge + BESIDE_MM),
            "degC",
            "T so that isotherm ( T , Pa , v , t ) = face / 2 + y",
            pa,
            v,
            t,
            Input("face", "face width of the bead", 2.0 * edge, "mm", base["Pa"].source, f"{part}/weld/face-width"),
            Input("y", "distance from its edge", BESIDE_MM, "mm", ENTERED),
            digits=0,
        ),
        reckoned(
            f"{part}/weld/penetrating-power",
            "least power that melts through at this speed and spot",
            least,
            "W",
            "P so that depth = t , A as at this setting",
            v,
            t,
            pa,
            digits=0,
            note="depends on the face share more than on anything else",
        ),
    )


def _cooling_rate(part: str, q: float, shot: Shot, card: HeatCard, inputs: tuple[Input, Input, Input]) -> Figure:
    secant = card.metal.secant(RATE_DEGC)
    rise = RATE_DEGC - card.metal.start
    return reckoned(
        f"{part}/weld/cooling-rate",
        f"cooling rate on the centre line at {RATE_DEGC:.0f} °C",
        thin_plate_cooling_rate(q, shot.thickness, secant.conductivity, secant.heat, rise),
        "K_per_s",
        "2 π k ρc ( t v / Pa ) ^ 2 ΔT ^ 3",
        *inputs,
        Input("k", "secant conductivity to that temperature", secant.conductivity, "W/(mm K)", card.source),
        Input("ρc", "secant heat capacity to it", secant.heat, "J/(mm3 K)", card.source),
        Input("ΔT", "rise to it", rise, "K", card.source),
        digits=0,
        note="thin sheet, fully penetrated",
    )


@dataclass(frozen=True, slots=True)
class SchemeCheck:
    """Image series against the moving-frame scheme. widths [mm] of both; closure of the scheme's power."""

    face_mm: tuple[float, float]
    root_mm: tuple[float, float]
    closure: float
    step_mm: float


def checked_by_scheme(plan: SeamPlan, card: HeatCard, step_mm: float = 0.1) -> SchemeCheck:
    """The same weld by the moving-frame enthalpy scheme: seconds instead of milliseconds."""
    source = plan.source
    step = min(step_mm, 1.8 * _cold_a(card) / plan.shot.speed)
    field = steady_field(
        card.metal,
        Beam(source.absorbed, plan.shot.speed, plan.shot.radius, source.face_share, source.column_depth),
        plan.thickness_mm,
        step,
    )
    edge = card.metal.melt_edge
    return SchemeCheck(
        (plan.figure("/face-width").value, field.width(edge, "face")),
        (plan.figure("/root-width").value, field.width(edge, "root")),
        field.closure,
        step,
    )
