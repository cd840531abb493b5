"""A figure or a page as PNG, on white.

In: a scene or a page, a style, and dots an inch. Out: bytes of a PNG that states its resolution,
so that it prints at its true size.
"""

from __future__ import annotations

import struct
import zlib

from ..drawing.scene.scene import Scene
from ..drawing.style.styles import Style
from ..pages.document import Page
from .cairo import png_bytes
from .fonts import fonts_of
from .page_svg import page_svg
from .svg import scene_svg

_SIGNATURE_AND_HEADER = 8 + 25  # PNG (ISO/IEC 15948): signature, then the IHDR chunk
_METRES_PER_INCH = 0.0254


def scene_png(scene: Scene, style: Style, dpi: float) -> bytes:
    """One figure. Raises FoldscriptError ('missing-cairo') where cairo is not installed."""
    return _with_resolution(png_bytes(scene_svg(scene, style), dpi, fonts_of(style)), dpi)


def page_png(page: Page, style: Style, dpi: float) -> bytes:
    """One page. Raises FoldscriptError ('missing-cairo') where cairo is not installed."""
    return _with_resolution(png_bytes(page_svg(page, style), dpi, fonts_of(style)), dpi)


def _with_resolution(png: bytes, dpi: float) -> bytes:
    """The picture with a pHYs chunk (ISO/IEC 15948, 11.3.5.3) after its header: dots per metre."""
    per_metre = round(dpi / _METRES_PER_INCH)
    body = b"pHYs" + struct.pack(">IIB", per_metre, per_metre, 1)
    chunk = struct.pack(">I", len(body) - 4) + body + struct.pack(">I", zlib.crc32(body))
    return png[:_SIGNATURE_AND_HEADER] + chunk + png[_SIGNATURE_AND_HEADER:]
