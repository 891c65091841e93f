"""A drawing as DXF for a mill, a laser or a drawing program: millimetres, named layers, closed polylines.

Written by ezdxf (https://ezdxf.mozman.at), which is loaded only when a drawing is asked for. Cut along
LENS; RIM is an outline too; every other layer is there to be read.
"""

import io
from functools import cache
from typing import TYPE_CHECKING

from app.documents.drawing import LAYERS, Arc, Circle, Drawing, Line, Polyline, Text
from app.documents.drawing_dimension import Plain, plain

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

VERSION = "R2000"
"""The oldest version with light polylines: read by every machine that reads a later one. AutoCAD 2000 DXF."""
MILLIMETRES = 4
METRIC = 1
PLAIN_SIGNS = str.maketrans({"−": "-", "→": ">", "←": "<", "–": "-", "×": "x"})
"""Signs that the letters of that version lack."""
CAPITALS = 0.65
"""Height of a DXF text is that of its capitals: this part of the em of a book letter."""


def to_dxf(drawing: Drawing) -> bytes:
    """The drawing as DXF text, x to the observer's right, y up, one unit to a millimetre.

    The same drawing gives the same bytes: no clock and no chance identity stand in it.
    """
    document = _document()
    space = document.modelspace()
    for layer in LAYERS:
        document.layers.add(layer.name, color=layer.index)
    for shape in plain(drawing.shapes):
        _add(space, shape)
    stream = io.StringIO()
    document.write(stream)
    return document.encode(stream.getvalue())


def _document() -> "Document":
    ezdxf = _library()
    document: Document = ezdxf.new(VERSION)
    document.units = MILLIMETRES
    document.header["$MEASUREMENT"] = METRIC
    return document


@cache
def _library():  # type: ignore[no-untyped-def]
    """The library, told once to leave clock and chance out of what it writes."""
    import ezdxf
    from ezdxf._options import options

    options.write_fixed_meta_data_for_testing = True
    return ezdxf


def _add(space: "Modelspace", shape: Plain) -> None:
    look = {"layer": shape.layer.name}
    match shape:
        case Line(start, end):
            space.add_line(start, end, dxfattribs=look)
        case Polyline(points, closed=closed):
            space.add_lwpolyline(points, close=closed, dxfattribs=look)
        case Circle(centre, radius):
            space.add_circle(centre, radius, dxfattribs=look)
        case Arc(centre, radius, start_deg, end_deg):
            space.add_arc(centre, radius, start_deg, end_deg, dxfattribs=look)
        case Text():
            _add_text(space, shape)


def _add_text(space: "Modelspace", text: Text) -> None:
    from ezdxf.enums import TextEntityAlignment

    alignments = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }
    entity = space.add_text(
        text.words.translate(PLAIN_SIGNS),
        height=round(CAPITALS * text.height_mm, 3),
        rotation=text.turned_deg,
        dxfattribs={"layer": text.layer.name},
    )
    entity.set_placement(text.at, align=alignments[text.anchor])
