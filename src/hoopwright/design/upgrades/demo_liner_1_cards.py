"""From schema `demo-liner-1` to cards: what the file says of machines, spreads and materials, number by number.

A figure that the old format has no word for is taken from the demonstration's card of that kind (`based_on`), and said.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from hoopwright.cards.alloy_words import ALLOY_FIGURES
from hoopwright.cards.library import find_card, list_cards
from hoopwright.cards.quantities import Quantity, quantities
from hoopwright.cards.schema import SCHEMA
from hoopwright.cards.shop import MACHINE_KINDS
from hoopwright.cards.spread import Spread
from hoopwright.design.toml_text import toml_text
from hoopwright.design.upgrades.demo_liner_1_schema import OldFile
from hoopwright.design.upgrades.demo_liner_1_shop import OldMaterial

SPANS = {"speed_m_per_min": ("speed_min_m_per_min", "speed_max_m_per_min"), "power_W": ("power_min_W", "power_max_W"),
         "spot_dia_mm": ("spot_dia_min_mm", "spot_dia_max_mm"),
         "chamber": ("chamber_width_mm", "chamber_height_mm", "chamber_depth_mm")}  # fmt: skip
NAMES = {"temp_max_C": "temp_max_degC"}
MATERIAL_FIGURES = {
    "density_kg_m3": "density_kg_per_m3",
    "E_GPa": "young_modulus_GPa",
    "poisson": "poisson",
    "yield_MPa": "yield_strength_MPa",
    "uts_MPa": "tensile_strength_MPa",
    "uts_min_MPa": "tensile_strength_min_MPa",
    "yield_aged_MPa": "yield_strength_aged_MPa",
    "elongation_pct": "elongation_pct",
}
SPECIAL = ("casing", "turbine_nozzle")


@dataclass(frozen=True, slots=True)
class MadeCards:
    """Texts of card files by their path; what stands for each entry of [cards] and for the two special materials."""

    files: Mapping[str, str]
    chosen: Mapping[str, str]
    assumed: tuple[str, ...]


def cards_of(old: OldFile, invented: bool) -> MadeCards:
    """Cards for everything of the shop that the file states."""
    files: dict[str, str] = {}
    chosen = {"limits": "house", "friction": "greased"}
    assumed = [
        "house limits that [process] and [acceptance] do not set are those of the card house; friction other than "
        "mu_pin and mu_base is that of the card greased"
    ]
    _shop(old, invented, files, chosen, assumed)
    for name, material in old.materials.items():
        _material(name, material, old, invented, files, chosen, assumed)
    assumed += _without_card(old)
    stand_ins = {"casing": ("S32100", old.nozzle), "turbine_nozzle": ("DEMO-NOZZLE", old.turbine_nozzle)}
    for name, (card, user) in stand_ins.items():
        if name not in chosen:
            chosen[name] = card
            if user is not None:
                assumed.append(f"the file has no [materials.{name}]: the card {card} stands in for it")
    folder = {"folder": "cards"} if files else {}
    return MadeCards(files, folder | chosen, tuple(assumed))


def _without_card(old: OldFile) -> list[str]:
    """Materials that parts name, and that neither the file nor the library knows."""
    known = {*old.materials, *(listed.id for listed in list_cards() if listed.kind == "alloy")}
    parts = [*old.ring, *(part for part in (old.end_plate, old.washer, old.spring_plate) if part is not None)]
    unknown = sorted({part.material for part in parts} - known)
    return [f"material {name} is nowhere described: enter a card of it before the liner is read" for name in unknown]


def _shop(old: OldFile, invented: bool, files: dict[str, str], chosen: dict[str, str], assumed: list[str]) -> None:
    kinds: dict[str, tuple[Any, type]] = {"spread": (old.spread, Spread)}
    kinds |= {kind: (getattr(old.machine, kind), view) for kind, view in MACHINE_KINDS.items()}
    for kind, (table, view) in kinds.items():
        if table is None:
            chosen[kind] = f"demo-{kind}"
            assumed.append(f"the file says nothing of {kind}: the demonstration's card demo-{kind} stands in for it")
            continue
        card_id = f"{old.liner.id}-{kind}"
        wanted = quantities(view)
        figures = dict(_figures(table, wanted))
        if kind == "spread" and "flow_stress_pct" in figures:
            figures["flow_stress_within_cast_pct"] = figures["flow_stress_pct"] / 3.0
            assumed.append("the spread of the flow stress within a cast is a third of that between casts")
        missing = [name for name in find_card(kind, f"demo-{kind}").figures if name not in figures]
        if missing:
            assumed.append(f"{kind}: {', '.join(missing)} not in the old format: taken from card demo-{kind}")
        based_on = f"demo-{kind}" if missing else ""
        title = f"{kind} of liner {old.liner.id}"
        files[f"cards/{card_id}.toml"] = _card_text(kind, card_id, title, based_on, figures, wanted, invented)
        chosen[kind] = card_id


def _figures(table: Any, wanted: Mapping[str, Quantity]) -> Iterable[tuple[str, float]]:
    for key in type(table).model_fields:
        value = getattr(table, key)
        if value is None:
            continue
        if key in SPANS:
            yield from zip(SPANS[key], value, strict=True)
        else:
            name = NAMES.get(key, key)
            yield (name if name in wanted else f"{name}_mm"), float(value)


def _card_text(
    kind: str, card_id: str, title: str, based_on: str, figures: Mapping[str, float],
    wanted: Mapping[str, Quantity], invented: bool,
) -> str:  # fmt: skip
    ground = _ground("schema demo-liner-1, as given", invented)
    return toml_text(
        _head(kind, card_id, title, based_on)
        | {"figure": {name: {"value": v, "unit": wanted[name].unit} | ground for name, v in figures.items()}}
    )


def _head(kind: str, card_id: str, title: str, based_on: str) -> dict[str, Any]:
    head = {"schema": SCHEMA, "kind": kind, "id": card_id, "title": title}
    return (
        head
        | ({"based_on": based_on} if based_on else {})
        | {"entered_by": "upgrade from demo-liner-1", "checked_by": ""}
    )


def _ground(where: str, invented: bool) -> dict[str, Any]:
    return {"basis": "given", "where": where} | ({"invented": True} if invented else {})


def _material(
    name: str, material: OldMaterial, old: OldFile, invented: bool,
    files: dict[str, str], chosen: dict[str, str], assumed: list[str],
) -> None:  # fmt: skip
    library = {listed.id for listed in list_cards() if listed.kind == "alloy"}
    card_id = name if name not in library and name not in SPECIAL else f"{old.liner.id}-{name}"
    where = material.source or "schema demo-liner-1, as given"
    ground = _ground(where, invented)
    data = _head("alloy", card_id, f"{name} as liner {old.liner.id} gives it", "")
    if material.form:
        data["condition"] = material.form
    data["figure"] = _alloy_figures(name, material, old, ground)
    data["table"] = _alloy_tables(material, ground)
    if material.swift is not None:
        data["flow"] = {"reyield": _swift(material, ground)}
        assumed.append(
            f"material {name}: the Swift curve is kept as the curve for metal strained before (reyield), good to its "
            "own necking strain n - eps0; as a first-loading curve such fits miss the yield"
        )
    notes = [("specification", material.spec), ("UNS number", material.uns)]
    data["note"] = [{"about": about, "text": text} | ground for about, text in notes if text]
    files[f"cards/{card_id}.toml"] = toml_text({k: v for k, v in data.items() if v not in ({}, [])}, (), ["note"])
    if name in SPECIAL:
        chosen[name] = card_id
    if name in library:
        assumed.append(
            f"material {name}: plans take the card {name} of the library; what the file says of it is kept on the card "
            f"{card_id}, which is used only where a part names it"
        )
    if material.cte_mean is not None:
        assumed.append(f"material {name}: its mean expansion holds from 20 to {_hottest(name, old):g} degC")


def _hottest(name: str, old: OldFile) -> float:
    """Highest temperature that the file asks of a material, and at least 100 degC."""
    asked = [100.0]
    if name == "casing" and old.nozzle is not None:
        asked += [old.nozzle.casing_temp_C, old.nozzle.casing_mean_temp_C]
    if name == "turbine_nozzle" and old.turbine_nozzle is not None:
        asked.append(old.turbine_nozzle.outer_groove_temp_C)
    parts = [*old.ring, *(part for part in (old.end_plate, old.washer, old.spring_plate) if part is not None)]
    return max([*asked, *(part.temp_C for part in parts if part.material == name)])


def _alloy_figures(name: str, material: OldMaterial, old: OldFile, ground: dict[str, Any]) -> dict[str, Any]:
    figures: dict[str, Any] = {}
    for key, figure in MATERIAL_FIGURES.items():
        value = getattr(material, key)
        if value is not None:
            figures[figure] = {"value": value, "unit": ALLOY_FIGURES[figure].unit} | ground
    if material.cte_mean is not None:
        at = {"from_degC": 20.0, "to_degC": _hottest(name, old)}
        figures["mean_expansion_um_per_mK"] = {"value": material.cte_mean, "unit": "um_per_mK", "at": at} | ground
    single = material.E_GPa_by_temp
    if single is not None and len(single) == 1 and material.E_GPa is None:
        at = {"temperature_degC": single[0][0]}
        figures["young_modulus_GPa"] = {"value": single[0][1], "unit": "GPa", "at": at} | ground
    return figures


def _alloy_tables(material: OldMaterial, ground: dict[str, Any]) -> dict[str, Any]:
    tables: dict[str, Any] = {}
    if material.E_GPa_by_temp is not None and len(material.E_GPa_by_temp) > 1:
        columns = {"columns": ["temperature_degC", "young_modulus_GPa"], "units": ["degC", "GPa"]}
        tables["young_modulus"] = columns | {"rows": material.E_GPa_by_temp} | ground
    if material.cte_mean_from is not None:
        columns = {"columns": ["temperature_degC", "mean_expansion_um_per_mK"], "units": ["degC", "um_per_mK"]}
        rows = {"rows": material.cte_mean_from, "reference_degC": material.cte_reference_C}
        tables["mean_expansion"] = columns | rows | ground
    return tables


def _swift(material: OldMaterial, ground: dict[str, Any]) -> dict[str, Any]:
    assert material.swift is not None
    law = material.swift
    constants = {"K_MPa": law.K_MPa, "e0_log": law.eps0, "n": law.n}
    where = material.swift_source or str(ground["where"])
    reach = max(law.n - law.eps0, 0.01)
    return {"law": "swift", "constants": constants, "strain_max_log": reach} | ground | {"where": where}
