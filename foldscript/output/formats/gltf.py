"""gltf: the finished model in space, to be turned and looked at."""

from __future__ import annotations

from collections.abc import Iterator

from ...drawing.signs.paper_sides import role_on
from ...pose.raising import raised
from ..drawn import Drawn
from ..gltf import gltf

SUMMARY = "the finished model in space, for programs that show models (glTF 2.0)"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One file; a model that lies flat lies flat there too."""
    model, style = drawn.model, drawn.style
    pose = model.standing or raised(model.finished, [])
    colours = (model.front_colour, model.back_colour)

    def paint(facet: int, front: bool) -> str:
        return style.ink(role_on(model.finished, colours, facet, front)).fill or "#ffffff"

    ink = style.ink("edge").stroke or "#000000"
    owed = ", ".join(words for words in (model.credit, model.licence) if words.strip())
    yield (
        f"{model.name}.gltf",
        gltf(pose, paint, ink, model.title or model.name, owed, "foldscript"),
    )
