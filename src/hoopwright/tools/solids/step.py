"""Bodies as STEP (AP242) and back, with names and colours; mm, z up.

The library writes shapes and names; it lists colours in an order that differs from process to process, so the colours
are written here, in the order of the bodies: same bodies, same bytes.
"""

from __future__ import annotations

import datetime as dt
import math
import re
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from hoopwright.errors import InputError
from hoopwright.tools.solids.library import Body, Colour, attempt, kernel, parts, quiet


def document(bodies: Sequence[Body]) -> Any:
    """An assembly-free document: every body a product of its own, with its name."""
    text = kernel("TCollection").TCollection_ExtendedString
    made = _empty()
    shapes = kernel("XCAFDoc").XCAFDoc_DocumentTool.ShapeTool_s(made.Main())
    for body in bodies:
        label = shapes.AddShape(body.shape, False)
        kernel("TDataStd").TDataStd_Name.Set_s(label, text(body.name))
    return made


def _empty() -> Any:
    text = kernel("TCollection").TCollection_ExtendedString
    made = kernel("TDocStd").TDocStd_Document(text("BinXCAF"))
    kernel("XCAFApp").XCAFApp_Application.GetApplication_s().InitDocument(made)
    return made


def step_bytes(bodies: Sequence[Body], title: str, date: dt.date) -> bytes:
    """Bodies as STEP AP242, each with its name and colour, stamped with `date`; same input, same bytes.

    Raises
    ------
    GeometryError
        The writer gave up.
    """
    quiet()
    static = kernel("Interface").Interface_Static

    def work(path: Path) -> bytes:
        writer = kernel("STEPCAFControl").STEPCAFControl_Writer()
        static.SetCVal_s("write.step.schema", "AP242DIS")
        static.SetCVal_s("write.step.unit", "MM")
        static.SetIVal_s("write.surfacecurve.mode", 0)
        writer.SetColorMode(False)
        writer.SetNameMode(True)
        if not writer.Transfer(document(bodies), kernel("STEPControl").STEPControl_AsIs):
            raise ValueError("transfer")
        ascii_ = kernel("TCollection").TCollection_HAsciiString
        header = kernel("APIHeaderSection").APIHeaderSection_MakeHeader(writer.ChangeWriter().Model())
        header.SetName(ascii_(title))
        header.SetTimeStamp(ascii_(f"{date.isoformat()}T00:00:00"))
        header.SetAuthorValue(1, ascii_(""))
        header.SetOrganizationValue(1, ascii_(""))
        header.SetOriginatingSystem(ascii_("hoopwright"))
        if writer.Write(str(path)) != kernel("IFSelect").IFSelect_ReturnStatus.IFSelect_RetDone:
            raise ValueError("write")
        return coloured(path.read_text(encoding="utf-8"), bodies).encode()

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "solids.step"
        made: bytes = attempt(title, "write STEP", lambda: work(path), "check every body of the set")
    return made


_ENTITY = re.compile(
    r"#(\d+) = (?:(PRODUCT)\(|(MANIFOLD_SOLID_BREP|BREP_WITH_VOIDS)\(|"
    r"ADVANCED_BREP_SHAPE_REPRESENTATION\([^;]*#(\d+)\);)"
)


def coloured(text: str, bodies: Sequence[Body]) -> str:
    """The file with a style of its own for every body: surfaces in its colour, on both sides.

    Raises
    ------
    ValueError
        The file does not hold one product a body.
    """
    solids: list[list[int]] = []
    contexts: list[int] = []
    for number, product, solid, context in _ENTITY.findall(text):
        if product:
            solids.append([])
        elif solid:
            solids[-1].append(int(number))
        else:
            contexts.append(int(context))
    if len(solids) != len(bodies) or len(contexts) != len(bodies) or not all(solids):
        raise ValueError("products")
    head, end, tail = text.rpartition("ENDSEC;")
    at = max(map(int, re.findall(r"^#(\d+) =", text, re.MULTILINE))) + 1
    lines: list[str] = []
    for body, own, context in zip(bodies, solids, contexts, strict=True):
        made = _style(at, body.colour, own, context)
        lines += [f"#{at + k} = {entity};\n" for k, entity in enumerate(made)]
        at += len(made)
    return head + "".join(lines) + end + tail


def _style(at: int, colour: Colour, solids: Sequence[int], context: int) -> list[str]:
    """Entities of one body's style, numbered from `at`."""
    red, green, blue = (f"{part:.6f}" for part in colour)
    items = [f"STYLED_ITEM('color',(#{at + 6}),#{solid})" for solid in solids]
    listed = ",".join(f"#{at + 7 + k}" for k in range(len(items)))
    return [
        f"COLOUR_RGB('',{red},{green},{blue})",
        f"FILL_AREA_STYLE_COLOUR('',#{at})",
        f"FILL_AREA_STYLE('',(#{at + 1}))",
        f"SURFACE_STYLE_FILL_AREA(#{at + 2})",
        f"SURFACE_SIDE_STYLE('',(#{at + 3}))",
        f"SURFACE_STYLE_USAGE(.BOTH.,#{at + 4})",
        f"PRESENTATION_STYLE_ASSIGNMENT((#{at + 5}))",
        *items,
        f"MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',({listed}),#{context})",
    ]


def read_step(data: bytes) -> tuple[Body, ...]:
    """The named, coloured bodies of a STEP file, in the order of the file."""
    quiet()
    xcaf = kernel("XCAFDoc")
    made = _empty()
    reader = kernel("STEPCAFControl").STEPCAFControl_Reader()
    reader.SetColorMode(True)
    reader.SetNameMode(True)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "solids.step"
        path.write_bytes(data)
        if reader.ReadFile(str(path)) != kernel("IFSelect").IFSelect_ReturnStatus.IFSelect_RetDone:
            raise InputError("STEP file", f"{len(data)} bytes", "", "a readable STEP file", "write it again")
        reader.Transfer(made)
    shapes = xcaf.XCAFDoc_DocumentTool.ShapeTool_s(made.Main())
    colours = xcaf.XCAFDoc_DocumentTool.ColorTool_s(made.Main())
    labels = kernel("collections").Sequence_TDF_Label()
    shapes.GetFreeShapes(labels)
    found = []
    for k in range(1, labels.Length() + 1):
        label = labels.Value(k)
        shape = xcaf.XCAFDoc_ShapeTool.GetShape_s(label)
        found.append(Body(_name(label), shape, _colour(colours, shape)))
    return tuple(found)


def _name(label: Any) -> str:
    attribute = kernel("TDataStd").TDataStd_Name()
    if not label.FindAttribute(kernel("TDataStd").TDataStd_Name.GetID_s(), attribute):
        return ""
    return str(attribute.Get().ToExtString())


def _colour(colours: Any, shape: Any) -> Colour:
    quantity, kinds = kernel("Quantity"), kernel("XCAFDoc").XCAFDoc_ColorType
    colour = quantity.Quantity_Color()

    for thing in (shape, *parts(shape, "SOLID")):
        for kind in (kinds.XCAFDoc_ColorSurf, kinds.XCAFDoc_ColorGen):
            if colours.GetColor(thing, kind, colour):
                return _srgb(colour.Red()), _srgb(colour.Green()), _srgb(colour.Blue())
    return (0.0, 0.0, 0.0)


def _srgb(linear: float) -> float:
    """A linear colour value as the usual one."""
    return 12.92 * linear if linear <= 0.0031308 else 1.055 * math.pow(linear, 1.0 / 2.4) - 0.055
