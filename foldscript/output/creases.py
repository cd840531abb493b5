"""The crease pattern as lines in millimetres, for cutters and drawing programs: DXF.

In: a folded model. Out: bytes of a DXF file (release 2010): one layer for each kind of line, called
by the craft's words; lengths in millimetres, the sheet's front towards the reader, its lower left
corner at the origin. Same model, same bytes: the file says no date and no random identifier.
ezdxf is imported only here and only when needed; it comes with the extra 'dxf'.
"""

from __future__ import annotations

import io
from types import ModuleType

from ..folding.steps import Model
from ..geometry.lines import Point
from ..geometry.polygons import bounds
from ..paper.creases import Kind, crease_pattern
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint

#: Millimetres of dash and gap; a gap is negative. Mountain and valley differ by pattern.
_PATTERNS: dict[Kind, tuple[float, ...]] = {
    Kind.VALLEY: (3.0, -1.5),
    Kind.MOUNTAIN: (5.0, -1.2, 0.4, -1.2, 0.4, -1.2),
}
#: Black or white, by the ground (colour index 7, DXF reference): kinds differ by layer and pattern.
_INK = 7
_DIGITS = 6


def creases_dxf(model: Model) -> bytes:
    """The finished model's crease pattern. Raises FoldscriptError ('missing-ezdxf')."""
    ezdxf = _ezdxf()
    was = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        return _document(ezdxf, model)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = was


def _document(ezdxf: ModuleType, model: Model) -> bytes:
    document = ezdxf.new("R2010")
    document.units = 4  # millimetres (DXF reference, $INSUNITS)
    document.header["$MEASUREMENT"] = 1
    for kind, pattern in _PATTERNS.items():
        length = sum(abs(part) for part in pattern)
        name = kind.value.upper()
        document.linetypes.add(name, pattern=[length, *pattern], description=kind.value)
    for kind in Kind:
        layer = document.layers.add(kind.value, color=_INK)
        if kind in _PATTERNS:
            layer.dxf.linetype = kind.value.upper()
    space = document.modelspace()
    sheet = model.finished.sheet
    left, low, _, _ = bounds(sheet.outline)

    def mm(p: Point) -> Point:
        x, y = (p[0] - left) * sheet.unit_mm, (p[1] - low) * sheet.unit_mm
        return round(x, _DIGITS) + 0.0, round(y, _DIGITS) + 0.0

    for ring in (sheet.outline, *sheet.holes):
        outline = [mm(p) for p in ring]
        space.add_lwpolyline(outline, close=True, dxfattribs={"layer": Kind.EDGE.value})
    for kind, (start, end) in crease_pattern(model.finished).segments():
        if kind is not Kind.EDGE:
            space.add_line(mm(start), mm(end), dxfattribs={"layer": kind.value})
    for name in sorted(document.entitydb.dxf_types_in_use()):  # else in the order of a set
        document.classes.add_class(name)
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode(document.output_encoding, "dxfreplace")


def _ezdxf() -> ModuleType:
    try:
        import ezdxf
    except ImportError as error:
        raise FoldscriptError(
            Diagnostic(
                "missing-ezdxf",
                "DXF is written with the package ezdxf, which is not installed here",
                hints=(
                    Hint("pip install 'foldscript[dxf]'"),
                    Hint("the crease pattern as SVG and PDF needs nothing more"),
                ),
            )
        ) from error
    return ezdxf
