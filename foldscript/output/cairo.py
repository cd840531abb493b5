"""The one door to cairo: SVG in, drawn on a cairo surface.

In: SVG bytes as output/svg.py and output/page_svg.py write them. Out: ink on a PDF or PNG surface.
cairosvg is imported only here and only when needed, for it takes a quarter of a second, and it
needs the system's cairo library, which a bare machine has not.
"""

from __future__ import annotations

import io
from functools import cache
from types import ModuleType
from typing import TYPE_CHECKING, Any

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from .fonts import ready_cairo
from .reading import tag_of

if TYPE_CHECKING:
    import cairocffi

_HINTS = (
    Hint("Debian or Ubuntu: apt-get install -y --no-install-recommends libcairo2"),
    Hint("macOS: brew install cairo"),
    Hint("SVG needs no cairo: --format svg still works"),
)


def cairosvg() -> ModuleType:
    """The cairosvg package, with the caption font ready.

    Raises FoldscriptError ('missing-cairo') where the cairo library is not installed.
    """
    try:
        import cairosvg as package

        ready_cairo()
    except (OSError, ImportError) as error:
        raise FoldscriptError(
            Diagnostic(
                "missing-cairo",
                "PDF and PNG are drawn with the cairo library, which this machine does not have",
                hints=_HINTS,
            )
        ) from error
    return package


def draw_on(surface: cairocffi.Surface, svg: bytes) -> None:
    """Draws one SVG on a cairo surface that stays open for more; its size is the caller's matter."""
    tree = cairosvg().parser.Tree(bytestring=svg)
    _shared_surface()(tree, None, 96, shared=surface)


@cache
def _shared_surface() -> Any:
    """cairosvg's PDF writer, but on a surface made by the caller, so that pages share their fonts."""
    writer: Any = cairosvg().surface.PDFSurface

    class Shared(writer):
        def __init__(
            self, tree: object, output: object, dpi: float, *, shared: cairocffi.Surface
        ) -> None:
            self._shared = shared
            super().__init__(tree, output, dpi)

        def _create_surface(
            self, width: float, height: float
        ) -> tuple[cairocffi.Surface, float, float]:
            return self._shared, width, height

        def draw(self, node: Any) -> None:
            """A node; one that bears a run's mark is marked as that run in the PDF."""
            name = tag_of(node.get("id"))
            if name:
                self.context.tag_begin(name)
            super().draw(node)
            if name:
                self.context.tag_end(name)

    return Shared


def png_bytes(svg: bytes, dpi: float) -> bytes:
    """A white picture of an SVG whose size is given in points."""
    out = io.BytesIO()
    cairosvg().svg2png(bytestring=svg, write_to=out, scale=dpi / 96.0, background_color="white")
    return out.getvalue()
