"""Pictures as markup in a page.

In: pictures, and the page that they are for. Out: HTML that Markdown leaves as it is. Sizes are those
on paper.
"""

from __future__ import annotations

import posixpath
from collections.abc import Iterable
from html import escape

from .pictures import Picture

#: Where pictures are on the site.
PICTURES = "pictures"


def picture_uri(picture: Picture) -> str:
    """Where a picture is on the site."""
    return f"{PICTURES}/{picture.file}"


def image(picture: Picture, page: str) -> str:
    """One picture in the page with the uri `page`."""
    way = posixpath.relpath(picture_uri(picture), posixpath.dirname(page) or ".")
    return (
        f'<img src="{way}" alt="{escape(picture.words)}" loading="lazy" '
        f'style="width:{picture.width}pt" width="{picture.width:.0f}" height="{picture.height:.0f}">'
    )


def row(pictures: Iterable[Picture], page: str, captions: bool = True) -> str:
    """Pictures side by side, each with its number and what it says."""
    cells = "".join(_figure(one, page, captions) for one in pictures)
    return f'<div class="figures">{cells}</div>'


def _figure(picture: Picture, page: str, captions: bool) -> str:
    words = [f"<b>{escape(picture.label)}</b>" if picture.label else ""]
    words += [escape(picture.caption)] if captions and picture.caption else []
    below = " ".join(word for word in words if word)
    below = f"<figcaption>{below}</figcaption>" if below else ""
    return f"<figure>{image(picture, page)}{below}</figure>"
