"""Sheets that no hand folds: a program in, a warning for each of its sheet lines that says such a size out.

A millimetre written for a centimetre folds as well in the computer, and is found out at the printer.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..geometry.polygons import bounds
from ..source.diagnostics import Diagnostic, Edit, Hint, Severity, Span
from ..syntax import nodes
from ..syntax.operands import MM_PER

#: Longer side of the smallest and the largest sheet that is folded by hand (common practice).
_SMALLEST_MM, _LARGEST_MM = 30.0, 2000.0
#: Units as they are written, with their keys in `MM_PER`, the likeliest to be meant first.
_UNITS = {"cm": "CM", "mm": "MM", "inches": "INCH"}
_UNIT = re.compile(
    r"(?<=[\d ])(?P<MM>mm|millimet(?:er|re)s?)\b|(?<=[\d ])(?P<CM>cm|centimet(?:er|re)s?)\b"
    r"|(?<=[\d ])(?P<INCH>in|inch|inches)\b"
)


def unusual_sizes(program: nodes.Program) -> Iterator[Diagnostic]:
    """A warning for every sheet line with a sheet that is too small or too large for hands."""
    heads = (program.head, *(part.head for part in program.parts))
    for sheet in dict.fromkeys(head.sheet for head in heads if head.sheet is not None):
        x0, y0, x1, y1 = bounds(sheet.outline)
        longer = max(x1 - x0, y1 - y0)
        if _SMALLEST_MM <= longer <= _LARGEST_MM:
            continue
        small = longer < _SMALLEST_MM
        size = f"{longer:.3g} mm" if small else f"{longer / 1000:.3g} m"
        yield Diagnostic(
            "sheet-size",
            f"this sheet is {size} long: no hand folds one as {'small' if small else 'large'}",
            sheet.span,
            tuple(_in_another_unit(program.source.text, sheet.span, longer)),
            Severity.WARNING,
            program.source,
        )


def _in_another_unit(text: str, span: Span, longer: float) -> Iterator[Hint]:
    """The same numbers in the unit that makes a sheet of them which hands fold."""
    said = list(_UNIT.finditer(text, span.start, span.end))
    kinds = {m.lastgroup for m in said}
    own = MM_PER[kinds.pop() or ""] if len(kinds) == 1 else 0.0
    for unit, key in _UNITS.items():
        if own and MM_PER[key] != own and _SMALLEST_MM <= longer / own * MM_PER[key] <= _LARGEST_MM:
            words = text[span.start : span.end]
            for m in reversed(said):
                words = words[: m.start() - span.start] + unit + words[m.end() - span.start :]
            yield Hint(f"if {unit} are meant, say '{words}'", edit=Edit(span, words))
            return
    yield Hint("the usual sheet for teaching is 15 cm long")
