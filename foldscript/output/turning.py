"""A model in space for `turning.js`, which lets people turn it in slides and in the preview.

In: a pose and a style. Out: JSON: points in hundredths of a millimetre, triangles (a piece and three points,
counter-clockwise on the front), lines (a piece, the one beyond, two points, and whether it is an edge from
wherever it is seen, not only where the paper turns away), colours, and the standpoint of the still
picture, from which the turning starts. `deeper` is, for each piece, where it is taken to lie when it is asked
what hides what: layers of a stack, which lie in one place, are told apart by it.
"""

from __future__ import annotations

import json
import math
from functools import cache
from importlib import resources

import numpy as np

from ..drawing.signs.paper_sides import paper_role
from ..drawing.space.apart import by_layers
from ..drawing.space.seen import extent
from ..drawing.space.views import chosen
from ..drawing.style.styles import Style
from ..folding.steps import Model
from ..pose.crossing import triangles
from ..pose.pose import Line, Pose
from ..pose.upright import upright

#: How far layers are drawn apart, and a whole stack at most (mm).
_LAYER, _STACK = 0.6, 3.0
#: Folded by less than this, a line is no edge (radians); bent by less, paper is round there.
_SHARP, _BENT = math.radians(12), math.radians(40)


@cache
def script() -> str:
    """`turning.js`."""
    return (
        resources.files(__package__ or "foldscript.output")
        .joinpath("turning.js")
        .read_text("utf-8")
    )


def solid(model: Model, style: Style) -> str:
    """The finished model as it stands, '' where it lies flat, and for units in colours of their own."""
    pose = model.standing
    units = {sheet.colours for sheet in model.finished.sheet.all}
    return (
        ""
        if pose is None or len(units) > 1
        else json.dumps(_solid(pose, model, style), separators=(",", ":"))
    )


def _solid(pose: Pose, model: Model, style: Style) -> dict[str, object]:
    space = np.array(pose.space, dtype=float)
    space -= (space.min(axis=0) + space.max(axis=0)) / 2
    sheet = np.array(pose.sheet, dtype=float)
    corners = [
        (k, *triple)
        for k, piece in enumerate(pose.pieces)
        for triple in triangles(piece.corners, sheet)
    ]
    lines: list[int] = []
    for edge in pose.edges:
        least = _BENT if edge.kind is Line.BEND else _SHARP
        always = edge.right is None or abs(edge.angle) >= least
        for piece, other in ((edge.left, edge.right), (edge.right, edge.left)):
            if piece is not None:
                lines += [
                    piece,
                    piece if other is None else other,
                    edge.start,
                    edge.end,
                    int(always),
                ]
    camera = chosen(pose)
    front, back = (
        paper_role(side, model.sheet.front_coloured, model.front_colour, model.back_colour)
        for side in (True, False)
    )
    return {
        "points": [round(100 * float(v)) for v in space.ravel()],
        "deeper": [round(100 * float(v)) for v in by_layers(pose, _LAYER, _STACK).ravel()],
        "triangles": [v for triple in corners for v in triple],
        "lines": lines,
        "front": style.ink(front).fill,
        "back": style.ink(back).fill,
        "ink": style.ink("edge").stroke,
        "shades": [style.shades[role.split(".")[1]][-1] for role in (front, back)],
        "width": style.ink("edge").width,
        "axes": [camera.right, camera.up, camera.toward],
        "up": upright(pose)[0],
        "wide": round(extent(pose, camera)[0], 2),
        "reach": round(float(np.sqrt((space**2).sum(axis=1)).max()), 2),
    }
