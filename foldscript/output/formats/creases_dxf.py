"""creases-dxf: the finished model's crease pattern for cutters and drawing programs."""

from __future__ import annotations

from collections.abc import Iterator

from ..creases import creases_dxf
from ..drawn import Drawn

SUMMARY = "the crease pattern for cutters, in layers (needs the extra 'dxf')"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One DXF file for each kind of sheet. Raises FoldscriptError where ezdxf is not installed."""
    for model in drawn.alone():
        yield f"{model.name}-creases.dxf", creases_dxf(model)
