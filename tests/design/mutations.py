"""The demonstration's liner file, broken in one place at a time: what was done, and the key it is reported under.

`key` is the key of a fault, or what a finding is about; `topic` is given where a finding is expected.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache

from hoopwright.design.check import Checked, check_text
from hoopwright.design.demo import demo_text

TEXT = demo_text("liner.toml")


@dataclass(frozen=True)
class Mutation:
    """One broken file."""

    name: str
    text: str | bytes
    key: str
    topic: str = ""


@cache
def outcome(mutation: Mutation) -> Checked:
    """The check of a broken file, done once in a test run."""
    return check_text(mutation.text, "broken.toml")


def block(text: str, header: str, number: int = 1) -> tuple[int, int]:
    """Where the n-th table with this header stands, its header included, up to the next table that is no part of it."""
    places = [m.start() for m in re.finditer(rf"^{re.escape(header)}$", text, re.MULTILINE)]
    begin = places[number - 1]
    after = re.compile(r"^\[", re.MULTILINE).search(text, begin + len(header))
    return begin, after.start() if after else len(text)


def in_block(header: str, number: int, change: Callable[[str], str], text: str = TEXT) -> str:
    """The text with one table changed."""
    begin, end = block(text, header, number)
    part = text[begin:end]
    changed = change(part)
    assert changed != part, (header, number)
    return text[:begin] + changed + text[end:]


def value(key: str, new: str) -> Callable[[str], str]:
    """Puts another value behind a key."""
    return lambda part: re.sub(rf"^{key} = .*$", f"{key} = {new}", part, count=1, flags=re.MULTILINE)


def renamed(key: str, new: str) -> Callable[[str], str]:
    """Writes a key otherwise."""
    return lambda part: re.sub(rf"^{key} = ", f"{new} = ", part, count=1, flags=re.MULTILINE)


def without(key: str) -> Callable[[str], str]:
    """Leaves a key out."""
    return lambda part: re.sub(rf"^{key} = .*\n", "", part, count=1, flags=re.MULTILINE)


def swap(old: str, new: str) -> Callable[[str], str]:
    """Puts one piece of text for another."""

    def change(part: str) -> str:
        assert old in part, old
        return part.replace(old, new, 1)

    return change


NUMBERS = (
    ("[liner]", 1, "liner", "length_mm"),
    ("[liner]", 1, "liner", "ports"),
    ("[operating]", 1, "operating", "air_flow_kg_per_s"),
    ("[tolerances]", 1, "tolerances", "circumference_diameter_mm"),
    ("[[ring]]", 2, "ring[2]", "thickness_mm"),
    ("[[ring]]", 3, "ring[3]", "order"),
    ("[[ring]]", 7, "ring[7]", "metal_degC"),
    ("[end_plate]", 1, "end_plate", "flat_from_r_mm"),
    ("[end_plate.port]", 1, "end_plate.port", "lip_bore_mm"),
    ("[[joint]]", 4, "joint[4]", "weld_z_mm"),
    ("[[hole_pattern]]", 6, "hole_pattern[6]", "diameter_mm"),
    ("[[hole_pattern]]", 6, "hole_pattern[6]", "count"),
    ("[nozzle]", 1, "nozzle", "barrel_diameter_mm"),
    ("[washer]", 1, "washer", "float_radial_max_mm"),
    ("[spring_plate]", 1, "spring_plate", "finger_length_mm"),
    ("[turbine_nozzle]", 1, "turbine_nozzle", "outer_groove_radius_mm"),
)
MAY_BE_NEGATIVE = ("weld_z_mm",)
MAY_BE_LEFT_OUT = ("ports",)


def number_mutations() -> Iterator[Mutation]:
    """Every kind of wrong value behind numbers of every table."""
    for header, number, path, key in NUMBERS:
        place = f"{path}.{key}"
        wrong = {"text": '"8.0"', "true": "true", "nan": "nan", "inf": "inf", "a list": "[1.0]", "a table": "{}"}
        if key not in MAY_BE_NEGATIVE:
            wrong["negative"] = "-300.0" if key not in ("order", "count", "ports") else "-3"
        for what, new in wrong.items():
            yield Mutation(f"{place} {what}", in_block(header, number, value(key, new)), place)
        if key not in MAY_BE_LEFT_OUT:
            yield Mutation(f"{place} missing", in_block(header, number, without(key)), place)
        misspelt = key[:3] + key[4:]
        changed = in_block(header, number, renamed(key, misspelt))
        yield Mutation(f"{place} misspelt", changed, f"{path}.{misspelt}")


def word_mutations() -> Iterator[Mutation]:
    """Wrong words, names used twice, names of nothing."""
    ring2 = "[[ring]]", 2
    yield Mutation("side", in_block(*ring2, value("side", '"outr"')), "ring[2].side")
    yield Mutation("route", in_block(*ring2, value("route", '"strip"')), "ring[2].route")
    yield Mutation("release", in_block(*ring2, value("release_direction", '"up"')), "ring[2].release_direction")
    yield Mutation("id a number", in_block(*ring2, value("id", "402")), "ring[2].id")
    yield Mutation("id empty", in_block(*ring2, value("id", '""')), "ring[2].id")
    yield Mutation("id with a space", in_block(*ring2, value("id", '"HD 402"')), "ring[2].id")
    yield Mutation("id twice", in_block(*ring2, value("id", '"HD-401"')), "ring[2].id")
    yield Mutation("order twice", in_block(*ring2, value("order", "1")), "ring[2].order")
    yield Mutation("material unknown", in_block(*ring2, value("material", '"N06022"')), "ring[2].material")
    yield Mutation("washer material", in_block("[washer]", 1, value("material", '"steel"')), "washer.material")
    yield Mutation("casing", in_block("[nozzle]", 1, value("casing_material", '"S3210"')), "nozzle.casing_material")
    for name in ("limits", "friction", "spread", "roll", "expander", "press", "laser", "wire", "furnace"):
        yield Mutation(f"card {name}", in_block("[cards]", 1, value(name, '"no-such"')), f"cards.{name}")
    yield Mutation("card folder", in_block("[cards]", 1, swap("[cards]", '[cards]\nfolder = "none"')), "cards.folder")
    outside = in_block("[cards]", 1, swap("[cards]", '[cards]\nfolder = "../cards"'))
    yield Mutation("card folder outside", outside, "cards.folder")
    yield Mutation("joint outer", in_block("[[joint]]", 2, value("outer", '"HD-409"')), "joint[2].outer")
    yield Mutation("joint inner", in_block("[[joint]]", 2, value("inner", '"401"')), "joint[2].inner")
    yield Mutation("joint itself", in_block("[[joint]]", 2, value("inner", '"HD-402"')), "joint[2].inner")
    yield Mutation("joint id twice", in_block("[[joint]]", 2, value("id", '"J1"')), "joint[2].id")
    yield Mutation(
        "holes of nothing", in_block("[[hole_pattern]]", 3, value("ring", '"HD-444"')), "hole_pattern[3].ring"
    )
    yield Mutation("path of nothing", TEXT.replace('790.0, part = "HD-413"', '790.0, part = "HD-499"'),
                   "thermal.inner_path[1].part")  # fmt: skip
    yield Mutation("control twice", in_block(*ring2, swap('"lip_od"', '"land_id"')), "ring[2].control[2].name")
    yield Mutation(
        "control face", in_block(*ring2, swap('face = "inside"', 'face = "inner"')), "ring[2].control[1].face"
    )
    yield Mutation("control face missing", in_block(*ring2, swap('face = "inside", ', "")), "ring[2].control[1].face")
    yield Mutation("control state", in_block(*ring2, swap('"restrained"', '"held"')), "ring[2].control[1].state")
    two_point = swap('"circumference"', '"two point"')
    yield Mutation("control way", in_block(*ring2, two_point), "ring[2].control[1].measured_as")
    yield Mutation("washer count", in_block("[washer]", 1, value("count", "8")), "washer.count")
    yield Mutation("fingers", in_block("[spring_plate]", 1, value("fingers", "3")), "spring_plate.fingers")
    yield Mutation(
        "flat exchanged", in_block("[end_plate]", 1, value("flat_to_r_mm", "60.0")), "end_plate.flat_to_r_mm"
    )
    yield Mutation(
        "rim exchanged", in_block("[spring_plate]", 1, value("rim_rho_to_mm", "20.0")), "spring_plate.rim_rho_to_mm"
    )
    yield Mutation(
        "no port circle", in_block("[liner]", 1, without("port_pitch_radius_mm")), "liner.port_pitch_radius_mm"
    )
    yield Mutation("no ports", in_block("[liner]", 1, without("ports")), "liner.ports")
    yield Mutation("thinner than its least", in_block(*ring2, value("thickness_mm", "0.6")), "ring[2].thickness_mm")
    yield Mutation("revision a number", in_block("[liner]", 1, value("revision", "1")), "liner.revision")
    yield Mutation("unknown table", TEXT + "\n[colour]\nof = 1\n", "colour")
    yield Mutation(
        "ring as a table", TEXT.replace("[[ring]]", "[[rings]]").replace("[ring.section]", "[rings.section]"), "rings"
    )
    yield Mutation("no cards", in_block("[cards]", 1, lambda part: ""), "cards")
    yield Mutation("no tolerances", in_block("[tolerances]", 1, lambda part: ""), "tolerances")
    yield Mutation("wish unknown", TEXT + "\n[process]\nsegment = 8\n", "process.segment")
    yield Mutation("wish out of bounds", TEXT + "\n[process]\nsegments = 2\n", "process.segments")
    yield Mutation("wish as text", TEXT + '\n[process]\nmu_pin = "0.1"\n', "process.mu_pin")


def section_mutations() -> Iterator[Mutation]:
    """Broken sections: gaps, kinks, arcs that are none, lines of no face."""
    section = "[ring.section]", 2
    chain = "ring[2].section.chain"
    lines = {
        "gap": ("p0_mm = [35.6695, 124.2134]", "p0_mm = [35.7695, 124.2134]", "[3].p0_mm"),
        "kink": ("p1_mm = [47.4335, 125.75]}", "p1_mm = [47.4335, 125.7]}", "[6].p0_mm"),
        "arc radius": ("c_mm = [34.2382, 126.85]", "c_mm = [34.2382, 126.95]", "[2].c_mm"),
        "printed radius": ("rad_mm = 4.0", "rad_mm = 4.5", "[8].rad_mm"),
        "arc sense": ("rad_mm = 4.0, ccw = true", "rad_mm = 4.0, ccw = false", "[8].ccw"),
        "sense as text": ("rad_mm = 4.0, ccw = true", 'rad_mm = 4.0, ccw = "yes"', "[8].ccw"),
        "one coordinate": ("p0_mm = [29.0, 123.85]", "p0_mm = [29.0]", "[1].p0_mm"),
        "three coordinates": ("p0_mm = [29.0, 123.85]", "p0_mm = [29.0, 123.85, 0.0]", "[1].p0_mm"),
        "nan coordinate": ("p0_mm = [29.0, 123.85]", "p0_mm = [29.0, nan]", "[1].p0_mm[2]"),
        "no length": ("p0_mm = [29.0, 123.85]", "p0_mm = [34.2382, 123.85]", "[1].p1_mm"),
        "element of a kind": ('type = "line", p0_mm = [29.0', 'type = "spline", p0_mm = [29.0', "[1].type"),
        "element of no kind": ('type = "line", p0_mm = [29.0', "p0_mm = [29.0", "[1]"),
        "centre missing": (", c_mm = [34.2382, 126.85]", "", "[2].c_mm"),
    }
    for name, (old, new, place) in lines.items():
        yield Mutation(f"section, {name}", in_block(*section, swap(old, new)), chain + place)
    start = '{type = "line", p0_mm = [29.0, 123.85], p1_mm = [34.2382, 123.85]}'
    turned = '{type = "line", p0_mm = [34.2382, 123.85], p1_mm = [29.0, 123.85]}'
    yield Mutation("section, element turned", in_block(*section, swap(start, turned)), chain + "[2].p0_mm")
    yield Mutation("section, face missing", in_block(*section, without("face")), "ring[2].section.face")
    yield Mutation("section, face of a plate", in_block(*section, value("face", '"forward"')), "ring[2].section.face")
    yield Mutation("section, state missing", in_block(*section, without("state")), "ring[2].section.state")
    yield Mutation("section, hot", in_block(*section, value("state", '"hot"')), "ring[2].section.hot_degC")
    hot = swap('state = "cold"', 'state = "cold"\nhot_degC = 700.0')
    yield Mutation("section, cold at 700", in_block(*section, hot), "ring[2].section.hot_degC")
    far = swap('state = "cold"', 'state = "hot"\nhot_degC = 1500.0\nhot_fixed_z_mm = 0.0')
    yield Mutation("section, hotter than its card", in_block(*section, far), "ring[2].section.hot_degC")
    no_chain = in_block(*section, lambda part: re.sub(r"chain = \[\n(?:  .*\n)*\]\n", "", part))
    yield Mutation("section, nothing in it", no_chain, "ring[2].section.chain")
    both = swap('state = "cold"', 'state = "cold"\ncorners = [{at_mm = [29.0, 123.85]}, {at_mm = [76.0, 123.4]}]')
    yield Mutation("section, two ways", in_block(*section, both), "ring[2].section.corners")
    empty = in_block(*section, lambda part: re.sub(r"chain = \[\n(?:  .*\n)*\]", "chain = []", part))
    yield Mutation("section, empty chain", empty, chain)

    def corners(listed: str) -> str:
        return in_block(*section, lambda part: re.sub(r"chain = \[\n(?:  .*\n)*\]", f"corners = [{listed}]", part))

    sharp = "{at_mm = [29.0, 123.85]}, {at_mm = [50.0, 123.85]}, {at_mm = [76.0, 123.4]}"
    yield Mutation("corners, no fillet", corners(sharp), "ring[2].section.corners[2].fillet_mm")
    at_end = "{at_mm = [29.0, 123.85], fillet_mm = 2.0}, {at_mm = [76.0, 123.85]}"
    yield Mutation("corners, fillet at the end", corners(at_end),
                   "ring[2].section.corners[1].fillet_mm")  # fmt: skip
    huge = "{at_mm = [29.0, 123.85]}, {at_mm = [50.0, 123.85], fillet_mm = 9000.0}, {at_mm = [76.0, 120.0]}"
    yield Mutation("corners, fillet too wide", corners(huge), "ring[2].section: straight between corners 0 and 1")
    twice = "{at_mm = [29.0, 123.85]}, {at_mm = [29.0, 123.85]}, {at_mm = [76.0, 123.85]}"
    yield Mutation("corners, one twice", corners(twice), "ring[2].section.corners[2].at_mm")
    dxf = in_block(
        *section, lambda part: re.sub(r"chain = \[\n(?:  .*\n)*\]", 'dxf = "none.dxf"\ndxf_layer = "A"', part)
    )
    yield Mutation("dxf not there", dxf, "ring[2].section.dxf")
    yield Mutation("dxf without a layer", dxf.replace('dxf_layer = "A"\n', ""), "ring[2].section.dxf_layer")
    yield Mutation("dxf outside", dxf.replace("none.dxf", "../none.dxf"), "ring[2].section.dxf")
    unit = swap('state = "cold"', 'state = "cold"\ndxf_unit = "mm"')
    yield Mutation("dxf unit without a dxf", in_block(*section, unit), "ring[2].section.dxf_unit")
    plate = in_block("[end_plate.section]", 1, value("face", '"outside"'))
    yield Mutation("plate, face of a ring", plate, "end_plate.section.face")
    port = in_block("[end_plate.port.section]", 1, swap("c_mm = [0.0, 13.0]", "c_mm = [0.0, 13.5]"))
    yield Mutation("port, arc radius", port, "end_plate.port.section.chain[2].c_mm")
    loop = "{at_mm = [29.0, 123.85]}, {at_mm = [60.0, 123.85], fillet_mm = 3.0}, "
    loop += "{at_mm = [60.0, 140.0], fillet_mm = 3.0}, "
    loop += "{at_mm = [40.0, 140.0], fillet_mm = 3.0}, {at_mm = [40.0, 110.0]}"
    yield Mutation("section through itself", corners(loop), "HD-402/section", "self-crossing")
    inside = in_block(*section, lambda part: re.sub(r"(p[01]_mm|c_mm) = \[([\d.]+), ([\d.]+)\]",
                      lambda m: f"{m[1]} = [{m[2]}, {float(m[3]) - 123.5:.4f}]", part))  # fmt: skip
    yield Mutation("section at the axis", inside, "ring[2].section")


def file_mutations() -> Iterator[Mutation]:
    """Files that are no liner file at all."""
    yield Mutation("empty", "", "file")
    yield Mutation("blank", "\ufeff \n\n", "file")
    yield Mutation("no TOML", TEXT.replace("[liner]", "[liner", 1), "text")
    yield Mutation("quote left open", TEXT.replace('revision = "A"', 'revision = "A', 1), "text")
    yield Mutation("key twice", TEXT.replace('revision = "A"', 'revision = "A"\nrevision = "B"', 1), "text")
    yield Mutation("comma for a point", TEXT.replace("length_mm = 152.0", "length_mm = 152,0", 1), "text")
    yield Mutation("Latin-1", TEXT.replace("farm", "f\xe4rm", 1).encode("latin-1"), "text")
    yield Mutation("UTF-16", TEXT.encode("utf-16"), "text")
    yield Mutation("zeros", b"\x00" * 100, "text")
    yield Mutation("deep", 'schema = "hoopwright-liner-1"\na = ' + "[" * 3000, "text")
    yield Mutation("digits", TEXT.replace("length_mm = 152.0", "length_mm = " + "9" * 5000, 1), "text")
    yield Mutation(
        "large whole number", TEXT.replace("length_mm = 152.0", "length_mm = 1" + "0" * 400, 1), "liner.length_mm"
    )
    yield Mutation("beyond any number", TEXT.replace("length_mm = 152.0", "length_mm = 1e999", 1), "liner.length_mm")
    yield Mutation("JSON", '{"schema": "hoopwright-liner-1"}', "text")
    yield Mutation("no schema", TEXT.replace('schema = "hoopwright-liner-1"\n', "", 1), "schema")
    yield Mutation("schema of tomorrow", TEXT.replace("hoopwright-liner-1", "hoopwright-liner-9", 1), "schema")
    yield Mutation("schema a number", TEXT.replace('"hoopwright-liner-1"', "1", 1), "schema")
    yield Mutation("schema of another kind", demo_text("register.toml"), "schema")
    yield Mutation("schema of before", TEXT.replace("hoopwright-liner-1", "demo-liner-1", 1), "schema")


def scaled(part: str, factor: float) -> str:
    """Every coordinate and radius of a section in another unit."""
    numbers = re.compile(r"(?<==\s)-?\d+\.\d+|(?<=\[)-?\d+\.\d+|(?<=, )-?\d+\.\d+(?=\])")
    return numbers.sub(lambda m: f"{float(m[0]) * factor:.7f}", part)


def finding_mutations() -> Iterator[Mutation]:
    """Files that can be read and do not fit."""
    ring2, hole1 = ("[[ring]]", 2), ("[[hole_pattern]]", 1)
    size = swap("diameter_mm = 247.6", "diameter_mm = 247.9")
    yield Mutation("size off the section", in_block(*ring2, size), "HD-402/control/lip_od", "control-size")
    near = swap("diameter_mm = 247.6", "diameter_mm = 247.65")
    yield Mutation("size nearly right", in_block(*ring2, near), "HD-402/control/lip_od", "control-size")
    face = swap('face = "outside", diameter_mm = 247.6', 'face = "inside", diameter_mm = 247.6')
    yield Mutation("size of the other face", in_block(*ring2, face), "HD-402/control/lip_od", "control-size")
    off = swap("z_mm = 66.0", "z_mm = 96.0")
    yield Mutation("size off the ring", in_block(*ring2, off), "HD-402/control/lip_od", "control-off-section")
    inch = swap("diameter_mm = 247.6", "diameter_mm = 9.748")
    yield Mutation("size in inches", in_block(*ring2, inch), "HD-402/control/lip_od", "control-size")
    spring_sheet = in_block(*ring2, swap('material = "N06002"', 'material = "N07750"'))
    yield Mutation("sheet without a flow curve", spring_sheet, "HD-402/material", "sheet-card")
    thin = "0.0315", "0.0008"
    for what, new in zip(("inches", "metres"), thin, strict=True):
        lenient = TEXT.replace("thickness_min_after_forming_mm = 0.68", "thickness_min_after_forming_mm = 0.0001")
        text = in_block(*ring2, value("thickness_mm", new), lenient)
        yield Mutation(f"thickness in {what}", text, "HD-402/thickness", f"looks-like-{what}")
    yield Mutation(
        "thickness of a plate", in_block(*ring2, value("thickness_mm", "8.0")), "HD-402/thickness", "out-of-family"
    )
    for what, factor in (("inches", 1 / 25.4), ("metres", 1e-3)):
        part = in_block("[ring.section]", 2, lambda text, f=factor: scaled(text, f))  # type: ignore[misc]
        if what == "metres":
            yield Mutation("section in metres", part, "ring[2].section")
        else:
            yield Mutation("section in inches", part, "HD-402/section", "looks-like-inches")
    holes = in_block("[[hole_pattern]]", 6, value("diameter_mm", "0.2756"))
    other = in_block("[[hole_pattern]]", 7, value("diameter_mm", "0.2756"))
    yield Mutation("holes in inches", holes, "HD-402/holes/dilution", "looks-like-inches")
    yield Mutation("holes of another ring in inches", other, "HD-412/holes/dilution", "looks-like-inches")
    lip = in_block("[ring.section]", 2, lambda p: p.replace("123.4]", "123.6]").replace("127.4]", "127.6]"))
    moved = lip.replace("[53.2966, 123.6755]", "[52.7860, 123.8755]").replace("54.7554", "54.2448")
    yield Mutation("lip moved outward", moved, "HD-402/HD-403", "overlap")
    gap = in_block("[[joint]]", 3, value("gap_mm", "0.10"))
    yield Mutation("gap not as drawn", gap, "J3/gap", "lap-gap-nominal")
    weld = in_block("[[joint]]", 2, value("weld_z_mm", "34.0"))
    yield Mutation("weld at a bend", weld, "J2/weld", "lap-not-cylindrical")
    off_weld = in_block("[[joint]]", 2, value("weld_z_mm", "90.0"))
    yield Mutation("weld off its parts", off_weld, "J2/weld", "lap-off-part")
    edge = in_block("[[joint]]", 2, value("weld_z_mm", "30.2"))
    yield Mutation("weld near an edge", edge, "J2/weld", "edge-to-weld")
    exchanged = in_block(
        "[[joint]]", 2, lambda p: p.replace("HD-402", "X").replace("HD-401", "HD-402").replace("X", "HD-401")
    )
    yield Mutation("joint exchanged", exchanged, "J2/parts", "lap-exchanged")
    bend = in_block(*hole1, value("z_mm", "38.9"))
    yield Mutation("hole on a bend", bend, "HD-402/holes/film", "hole-not-on-cylinder")
    yield Mutation("hole off its ring", in_block(*hole1, value("z_mm", "140.0")), "HD-402/holes/film", "hole-off-ring")
    yield Mutation("hole over the edge", in_block(*hole1, value("z_mm", "75.8")), "HD-402/holes/film", "hole-off-ring")
    yield Mutation(
        "hole on the seam", in_block(*hole1, value("first_theta_deg", "100.0")), "HD-402/holes/film", "hole-seam"
    )
    yield Mutation("hole at a weld", in_block(*hole1, value("z_mm", "66.0")), "HD-402/holes/film", "hole-weld")
    yield Mutation("hole under a lap", in_block(*hole1, value("z_mm", "67.8")), "HD-402/holes/film", "hole-under-lap")
    many = in_block(*hole1, value("count", "480"))
    yield Mutation("holes into each other", many, "HD-402/holes/film", "hole-ligament")
    igniter = in_block("[[hole_pattern]]", 8, value("first_theta_deg", "50.0"))
    yield Mutation("igniter in a dilution hole", igniter, "HD-402/holes/dilution", "hole-ligament")
    by_seam = in_block("[[hole_pattern]]", 8, value("first_theta_deg", "90.0"))
    yield Mutation("igniter at the seam", by_seam, "HD-402/holes/igniter", "seam-igniter")
    seam = in_block(*ring2, value("seam_theta_deg", "80.0"))
    yield Mutation("seam over a port", seam, "HD-402/seam", "seam-port")
    seams = in_block(*ring2, value("seam_theta_deg", "20.0"))
    yield Mutation("seams in line", seams, "HD-402/seam", "seam-seam")
    tight = "[process]\nbend_radius_inside_min_t = 3.5\n"
    yield Mutation("bend under the limit", TEXT + "\n" + tight, "HD-402/section", "bend-radius")
    route = in_block("[[ring]]", 4, value("route", '"straight"'))
    yield Mutation("straight strip for a cone", route, "HD-404/route", "route-wish")
    arc = in_block("[[ring]]", 1, value("route", '"arc"'))
    yield Mutation("arc blank for a cylinder", arc, "HD-401/route", "route-wish")
    order = in_block("[[ring]]", 1, value("order", "5"))
    yield Mutation("order", order, "HD-401/order", "order")
    long = in_block("[liner]", 1, value("length_mm", "252.0"))
    yield Mutation("length", long, "HD-400/length", "length")
    yield Mutation("path", long, "HD-400/inner_path", "path-length")
    floats = in_block("[washer]", 1, value("float_radial_max_mm", "1.7"))
    yield Mutation("washer off its pad", floats, "HD-430/overlap-outer", "washer-overlap")
    bore = in_block("[washer]", 1, value("bore_mm", "16.9"))
    yield Mutation("washer bore", bore, "HD-430/bore", "washer-bore")
    slip = in_block("[turbine_nozzle]", 1, value("outer_groove_cold_radial_gap_mm", "0.35"))
    yield Mutation("slip joint", slip, "HD-404/slip-joint", "slip-joint-closes")
    hot = in_block("[turbine_nozzle]", 1, value("outer_groove_degC", "1900.0"))
    yield Mutation("groove beyond its card", hot, "HD-404/slip-joint", "slip-joint-unknown")
    lip_bore = in_block("[end_plate.port]", 1, value("lip_bore_mm", "20.0"))
    yield Mutation("lip bore", lip_bore, "HD-420/port", "port-bore")
    pad = in_block("[end_plate.port]", 1, value("pad_height_mm", "2.5"))
    yield Mutation("pad height", pad, "HD-420/port", "pad-height")
    flat = in_block("[end_plate]", 1, value("flat_from_r_mm", "65.0"))
    yield Mutation("flat", flat, "HD-420/flat", "plate-flat")
    circle = in_block("[liner]", 1, value("port_pitch_radius_mm", "80.0"))
    yield Mutation("pads off the flat", circle, "HD-420/port", "off-the-flat")
    feet = in_block("[spring_plate]", 1, value("foot_edge_rho_mm", "36.0"))
    yield Mutation("feet off the flat", feet, "HD-440/feet", "off-the-flat")
    rim = in_block("[spring_plate]", 1, value("rim_rho_to_mm", "30.9"))
    yield Mutation("springs touch", rim, "HD-440/rim", "springs-apart")
    thick = in_block(*ring2, value("thickness_mm", "1.0"))
    yield Mutation("thicker sheet", thick, "HD-401/HD-402", "overlap")


def all_mutations() -> tuple[Mutation, ...]:
    """Every broken file."""
    groups = (number_mutations, word_mutations, section_mutations, file_mutations, finding_mutations)
    return tuple(mutation for group in groups for mutation in group())
