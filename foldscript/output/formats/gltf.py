"""gltf: the finished model in space, to be turned and looked at."""

from __future__ import annotations

from collections.abc import Iterator

from ...drawing.signs.paper_sides import paper_role
from ...pose.raising import raised
from ..drawn import Drawn
from ..gltf import gltf

SUMMARY = "the finished model in space, for programs that show models (glTF 2.0)"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One file; a model that lies flat lies flat there too."""
    model, style = drawn.model, drawn.style
    pose = model.standing or raised(model.finished, [])
    front, back = (
        style.ink(
            paper_role(side, model.sheet.front_coloured, model.front_colour, model.back_colour)
        ).fill
        for side in (True, False)
    )
    colours = (front or "#ffffff", back or "#ffffff", style.ink("edge").stroke or "#000000")
    owed = ", ".join(words for words in (model.credit, model.licence) if words.strip())
    yield f"{model.name}.gltf", gltf(pose, colours, model.title or model.name, owed, "foldscript")
