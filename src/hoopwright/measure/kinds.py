"""Kinds of readings a file may hold: their columns, units, sensible ranges, and other names a gauge gives a column."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.errors import InputError

UNITS: dict[str, dict[str, float]] = {
    "mm": {"mm": 1.0, "um": 1e-3, "µm": 1e-3, "μm": 1e-3, "cm": 10.0, "m": 1000.0, "in": 25.4, "inch": 25.4},
    "deg": {"deg": 1.0, "°": 1.0, "rad": 57.29577951308232},
    "degC": {"degc": 1.0, "°c": 1.0, "c": 1.0},
    "N": {"n": 1.0, "kn": 1000.0},
    "HV": {"hv": 1.0, "hv0.3": 1.0, "hv0.5": 1.0, "hv1": 1.0},
    "": {},
}
"""Accepted spellings of each unit and the factor into ours; spellings are compared without case."""


@dataclass(frozen=True, slots=True)
class Column:
    """name ends in its unit. low, high : what a value can sensibly be. also : other headings, without case and unit."""

    name: str
    unit: str
    low: float
    high: float
    needed: bool = True
    also: tuple[str, ...] = ()
    word: bool = False


@dataclass(frozen=True, slots=True)
class Kind:
    """name, in words what it is, its columns, least number of rows."""

    name: str
    text: str
    columns: tuple[Column, ...]
    least_rows: int = 1

    def column(self, name: str) -> Column:
        """A column by name."""
        for column in self.columns:
            if column.name == name:
                return column
        raise InputError("column", name, "", ", ".join(c.name for c in self.columns), "name one of these")


def _number(name: str, unit: str, low: float, high: float, *also: str, needed: bool = True) -> Column:
    return Column(name, unit, low, high, needed, also)


def _word(name: str, *also: str, needed: bool = True) -> Column:
    return Column(name, "", 0.0, 0.0, needed, also, True)


KINDS: tuple[Kind, ...] = (
    Kind(
        "girth",
        "diameter by girth tape",
        (
            _word("station", "place", "control"),
            _number("diameter_mm", "mm", 10.0, 3000.0, "girth", "dia", "reading"),
            _number("part_degC", "degC", -10.0, 80.0, "temperature", "part"),
            _number("tension_N", "N", 1.0, 200.0, "pull", "tension", needed=False),
        ),
    ),
    Kind(
        "diameters",
        "two-point or three-point diameters by angle",
        (
            _number("angle_deg", "deg", -360.0, 360.0, "angle", "theta"),
            _number("diameter_mm", "mm", 10.0, 3000.0, "dia"),
        ),
        2,
    ),
    Kind(
        "roundness",
        "radial deviation by angle, one turn",
        (
            _number("angle_deg", "deg", -360.0, 360.0, "angle", "theta"),
            _number("deviation_mm", "mm", -10.0, 10.0, "deviation", "dev", "radius"),
        ),
        5,
    ),
    Kind(
        "trace",
        "points of a section",
        (
            _number("z_mm", "mm", -2000.0, 2000.0, "z", "axial"),
            _number("r_mm", "mm", 5.0, 2000.0, "r", "radius"),
        ),
        5,
    ),
    Kind(
        "thickness",
        "wall thickness by place",
        (
            _word("place", "station", "point"),
            _number("thickness_mm", "mm", 0.05, 10.0, "thickness", "t", "wall"),
        ),
    ),
    Kind(
        "hardness",
        "Vickers hardness by place",
        (
            _word("place", "station", "point"),
            _number("hardness_HV", "HV", 20.0, 1500.0, "hardness", "hv"),
        ),
    ),
    Kind(
        "coordinates",
        "points of a pattern, nominal beside measured",
        (
            _word("feature", "point", "name"),
            _number("nominal_x_mm", "mm", -2000.0, 2000.0, "nominal_x", "nom_x"),
            _number("nominal_y_mm", "mm", -2000.0, 2000.0, "nominal_y", "nom_y"),
            _number("x_mm", "mm", -2000.0, 2000.0, "x", "measured_x"),
            _number("y_mm", "mm", -2000.0, 2000.0, "y", "measured_y"),
        ),
        2,
    ),
)


def kind(name: str) -> Kind:
    """A kind of reading by name."""
    for one in KINDS:
        if one.name == name:
            return one
    raise InputError("kind of reading", name, "", ", ".join(k.name for k in KINDS), "name one of these")
