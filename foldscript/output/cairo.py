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
from .cairo_headers import declared
from .cairo_text import draw_shaped, ready_cairo
from .fonts import Fonts
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
        declared()
        import cairosvg as package

        ready_cairo()
        _teach_letters(package)
    except (OSError, ImportError) as error:
        raise FoldscriptError(
            Diagnostic(
                "missing-cairo",
                "PDF and PNG are drawn with the cairo library, which this machine does not have",
                hints=_HINTS,
            )
        ) from error
    return package


def _teach_letters(package: Any) -> None:
    """Has cairosvg leave the text that its own way of setting cannot write to us, on our surfaces.

    cairosvg asks for each text twice: for its outline, and then for its ink. Only a halo's outline is
    stroked; that of other texts is left out.
    """
    surfaces = package.surface
    usual = surfaces.text

    def text(surface: Any, node: Any, draw_as_text: bool = False) -> None:
        if not draw_as_text and node.get("stroke", "none") == "none":
            return
        fonts = getattr(surface, "fonts", None)
        if fonts is None or not draw_shaped(surface, node, fonts, outline=not draw_as_text):
            usual(surface, node, draw_as_text)

    if surfaces.text.__module__ != __name__:
        surfaces.text = surfaces.TAGS["text"] = text


def draw_on(surface: cairocffi.Surface, svg: bytes, fonts: Fonts) -> None:
    """Draws one SVG on a cairo surface that stays open for more; its size is the caller's matter."""
    tree = cairosvg().parser.Tree(bytestring=svg)
    _shared_surface()(tree, None, 96, shared=surface, fonts=fonts)


@cache
def _shared_surface() -> Any:
    """cairosvg's PDF writer, but on a surface made by the caller, so that pages share their fonts."""
    writer: Any = cairosvg().surface.PDFSurface

    class Shared(writer):
        def __init__(
            self,
            tree: object,
            output: object,
            dpi: float,
            *,
            shared: cairocffi.Surface,
            fonts: Fonts,
        ) -> None:
            self._shared, self.fonts = shared, fonts
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


def png_bytes(svg: bytes, dpi: float, fonts: Fonts) -> bytes:
    """A white picture of an SVG whose size is given in points."""
    out = io.BytesIO()
    _picture(cairosvg(), fonts).convert(
        bytestring=svg, write_to=out, scale=dpi / 96.0, background_color="white"
    )
    return out.getvalue()


@cache
def _picture(package: ModuleType, fonts: Fonts) -> Any:
    """cairosvg's PNG writer, with fonts for what its own way of setting cannot write."""
    return type("Picture", (package.surface.PNGSurface,), {"fonts": fonts})
