"""Bodies as files and back: STEP (AP242, names and colours) and glb.

A glb is in metres with y up, as its format asks; STEP is in mm, z up.
"""

from __future__ import annotations

import datetime as dt
import math
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from hoopwright.errors import InputError
from hoopwright.tools.solids.library import Body, Colour, attempt, kernel, parts
from hoopwright.tools.solids.mesh import DEFLECTION_MM


def _document(bodies: Sequence[Body]) -> Any:
    """An assembly-free document: every body a product of its own, with name and colour."""
    xcaf, text = kernel("XCAFDoc"), kernel("TCollection").TCollection_ExtendedString
    document = kernel("TDocStd").TDocStd_Document(text("BinXCAF"))
    kernel("XCAFApp").XCAFApp_Application.GetApplication_s().InitDocument(document)
    shapes = xcaf.XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = xcaf.XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    quantity = kernel("Quantity")
    for body in bodies:
        label = shapes.AddShape(body.shape, False)
        kernel("TDataStd").TDataStd_Name.Set_s(label, text(body.name))
        colour = quantity.Quantity_Color(*body.colour, quantity.Quantity_TOC_sRGB)
        colours.SetColor(label, colour, xcaf.XCAFDoc_ColorType.XCAFDoc_ColorSurf)
    return document


def _quiet() -> None:
    """The writer's chatter is kept off standard output."""
    messenger = kernel("Message").Message.DefaultMessenger_s()
    for printer in list(messenger.Printers()):
        messenger.RemovePrinter(printer)


def step_bytes(bodies: Sequence[Body], title: str, date: dt.date) -> bytes:
    """Bodies as STEP AP242, each with its name and colour, stamped with `date`.

    The library numbers things on through the life of a process: two files of one process may differ in such numbers.

    Raises
    ------
    GeometryError
        The writer gave up.
    """
    _quiet()
    static = kernel("Interface").Interface_Static

    def work(path: Path) -> bytes:
        writer = kernel("STEPCAFControl").STEPCAFControl_Writer()
        static.SetCVal_s("write.step.schema", "AP242DIS")
        static.SetCVal_s("write.step.unit", "MM")
        static.SetIVal_s("write.surfacecurve.mode", 0)
        writer.SetColorMode(True)
        writer.SetNameMode(True)
        if not writer.Transfer(_document(bodies), kernel("STEPControl").STEPControl_AsIs):
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
        return path.read_bytes()

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "solids.step"
        made: bytes = attempt(title, "write STEP", lambda: work(path), "check every body of the set")
    return made


def read_step(data: bytes) -> tuple[Body, ...]:
    """The named, coloured bodies of a STEP file, in the order of the file."""
    _quiet()
    xcaf, text = kernel("XCAFDoc"), kernel("TCollection").TCollection_ExtendedString
    document = kernel("TDocStd").TDocStd_Document(text("BinXCAF"))
    kernel("XCAFApp").XCAFApp_Application.GetApplication_s().InitDocument(document)
    reader = kernel("STEPCAFControl").STEPCAFControl_Reader()
    reader.SetColorMode(True)
    reader.SetNameMode(True)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "solids.step"
        path.write_bytes(data)
        if reader.ReadFile(str(path)) != kernel("IFSelect").IFSelect_ReturnStatus.IFSelect_RetDone:
            raise InputError("STEP file", f"{len(data)} bytes", "", "a readable STEP file", "write it again")
        reader.Transfer(document)
    shapes = xcaf.XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = xcaf.XCAFDoc_DocumentTool.ColorTool_s(document.Main())
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


def glb_bytes(bodies: Sequence[Body], deflection_mm: float = DEFLECTION_MM) -> bytes:
    """Bodies as binary glTF: metres, y up, one mesh a body, with its colour."""
    for body in bodies:
        kernel("BRepMesh").BRepMesh_IncrementalMesh(body.shape, deflection_mm, False, 0.3, False)
    _quiet()

    def work(path: Path) -> bytes:
        text = kernel("TCollection").TCollection_AsciiString
        writer = kernel("RWGltf").RWGltf_CafWriter(text(str(path)), True)
        writer.SetMergeFaces(True)
        place = writer.ChangeCoordinateSystemConverter()
        place.SetInputLengthUnit(0.001)
        place.SetInputCoordinateSystem(kernel("RWMesh").RWMesh_CoordinateSystem.RWMesh_CoordinateSystem_Zup)
        info = kernel("collections").IndexedDataMap_TCollection_AsciiString_TCollection_AsciiString()
        if not writer.Perform(_document(bodies), info, kernel("Message").Message_ProgressRange()):
            raise ValueError("glb")
        return path.read_bytes()

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "solids.glb"
        made: bytes = attempt(bodies[0].name, "write glb", lambda: work(path), "check every body of the set")
    return made
