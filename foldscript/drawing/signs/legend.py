"""The key of signs: each sign's name in the craft's words and a small picture of it.

In: keys of the signs used (`Scene.signs`) and a style. Out: (name, Scene) pairs in a settled order.
Samples are drawn by the same functions as the figures, so a sign in the key is the sign on the page.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import cache

from ...languages.wording import ENGLISH, Template, Translate
from ...paper.signs import Act, EqualLengths, RepeatSign, Rotate, TurnOver
from ..glyphs import glyph_paths, glyphs
from ..placement.clashes import covered, polylines
from ..placement.obstacles import Obstacles
from ..scene.outlines import arc, circle, item_box, polyline, shifted, union_box
from ..scene.scene import Path, Point, Scene, Text
from ..scene.view import View
from ..sheet.ink_of_paper import paper_role
from ..style.styles import Style
from . import spreading, turns
from .arrows import arrow
from .marks import equal_lengths

Entry = tuple[str, Scene]
Item = Path | Text

#: Size of a sample, in points.
WIDTH, HEIGHT = 46.0, 26.0
#: Paper narrower than this is a hairline (points).
_HAIR = 2.5

_NAMES: dict[str, Template] = {
    "paper.coloured": "Coloured side of the paper",
    "paper.plain": "Plain side of the paper",
    "edge": "Edge of the paper",
    "edge.under": "Layer behind an edge",
    "fold.valley": "Valley fold: fold to the front",
    "fold.mountain": "Mountain fold: fold to the back",
    "fold.pinch": "Pinch: crease only here",
    "fold.hidden": "Fold line behind other layers",
    "crease": "Crease made earlier",
    "line.guide": "Line to go by, not folded",
    "arrow.valley": "Fold to the front",
    "arrow.mountain": "Fold to the back",
    "arrow.fold-unfold": "Fold and unfold",
    "arrow.unfold": "Unfold",
    "arrow.pleat": "Pleat: fold there and back",
    "arrow.crimp": "Crimp: pleat both layers",
    "arrow.tuck": "Tuck in, under or between layers",
    "arrow.pull-out": "Pull out",
    "arrow.swing": "Swing over like a page",
    "arrow.inside-reverse": "Inside reverse fold: push in between the layers",
    "arrow.outside-reverse": "Outside reverse fold: wrap around both sides",
    "arrow.squash": "Squash: open and flatten",
    "arrow.lift": "Lift up",
    "point.open-out": "Open out: it stays open",
    "point.open-flat": "Open out and press flat",
    "point.open-slit": "Open a slit: raise its sides",
    "mark.equal-angles": "Equal angles",
    "mark.equal-lengths": "Equal lengths",
    "mark.right-angle": "Right angle",
    "inset": "Part of the step, drawn larger",
    "rotate": "Rotate: turn the model round by this much",
    "repeat": "Repeat: do these steps here too, once for each tick",
    "repeat.behind": "Repeat behind: do these steps on the back too",
    "scale": "Scale: drawn this many times as large as the first figure",
}
assert all(f"arrow.{act.value}" in _NAMES for act in Act)


def sign_name(key: str) -> Template:
    """A sign's name in the craft's words; KeyError when there is no such sign."""
    if key in _NAMES:
        return _NAMES[key]
    return glyphs()[_glyph(key)].name


def sign_keys() -> tuple[str, ...]:
    """Every key there is, in the order of the page's key."""
    named = list(_NAMES)
    lines = [k for k in named if k.split(".")[0] in ("paper", "edge", "fold", "crease", "line")]
    spots = [f"point.{k}" for k in glyphs() if k != "cut" and not k.startswith("turn-over")]
    spots += [k for k in named if k.startswith("point.")]
    turned = ["turn-over", "turn-over.top-to-bottom"]
    rest = [k for k in named if k not in (*lines, *spots)]
    moves = [k for k in rest if k.startswith("arrow.")]
    others = [
        k
        for k in rest
        if k not in moves and k not in ("rotate", "repeat", "repeat.behind", "scale")
    ]
    return (
        *lines,
        "line.cut",
        *moves,
        *spots,
        *others,
        *turned,
        "rotate",
        "repeat",
        "repeat.behind",
        "scale",
    )


def shown(scene: Scene) -> frozenset[str]:
    """Keys of the signs that a reader finds in a figure.

    A side of the paper that shows only as a hairline, beside an edge, is not to be found.
    """
    return frozenset(
        key for key in scene.signs if not key.startswith("paper.") or _is_wide(key, scene)
    )


def _is_wide(key: str, scene: Scene) -> bool:
    """Whether paper of a side covers a place that is wide enough to see its colour."""
    return any(
        not covered(polylines([item])).buffer(-_HAIR / 2).is_empty
        for item in scene.items
        if isinstance(item, Path) and (item.role == key or item.role.startswith(f"{key}."))
    )


def legend(
    signs: Iterable[str],
    style: Style,
    translate: Translate = ENGLISH,
    colours: tuple[str, str] = ("", ""),
) -> tuple[Entry, ...]:
    """Name and sample of each sign; unknown keys are left out.

    `colours` : names of the paper's colours, coloured side and plain side; '' for the style's own.
    """
    wanted = set(signs)
    keys = (key for key in sign_keys() if key in wanted)
    return tuple(
        (translate(sign_name(key)), _tinted(_sample(key, style, translate), colours))
        for key in keys
    )


def _tinted(sample: Scene, colours: tuple[str, str]) -> Scene:
    """A sample on paper of these colours."""
    roles = {
        paper_role(front, True, "", ""): paper_role(front, True, *colours)
        for front in (True, False)
    }
    if not any(i.role in roles and roles[i.role] != i.role for i in sample.items):
        return sample
    return replace(
        sample, items=tuple(replace(i, role=roles.get(i.role, i.role)) for i in sample.items)
    )


def _glyph(key: str) -> str:
    return (
        key.removeprefix("point.")
        if key.startswith("point.")
        else ("cut" if key == "line.cut" else key)
    )


@cache
def _sample(key: str, style: Style, translate: Translate) -> Scene:
    items = tuple(shifted(item, WIDTH / 2, HEIGHT / 2) for item in _drawn(key, style))
    name = translate(sign_name(key))
    return Scene(WIDTH, HEIGHT, items, name, name, signs=frozenset({key}))


def _drawn(key: str, style: Style) -> list[Item]:
    """A sample about (0, 0)."""
    if key in _SAMPLES:
        return _SAMPLES[key](style)
    if key.startswith("arrow."):
        return _arrow_sample(Act(key.removeprefix("arrow.")))
    if key.startswith("paper."):
        corners = ((-9.0, -9.0), (9.0, -9.0), (9.0, 9.0), (-9.0, 9.0))
        return [
            Path(key, polyline(corners, closed=True)),
            Path("edge.raw", polyline(corners, closed=True)),
        ]
    if key.startswith(("fold.", "line.", "crease")):
        role = "fold.valley" if key == "fold.pinch" else key
        reach = 6.5 if key == "fold.pinch" else 19.0
        line: list[Item] = [Path(role, polyline(((-reach, 0.0), (reach, 0.0))))]
        if key == "crease":
            line += [
                Path("edge.raw", polyline(((x, -6.0), (x, 6.0))))
                for x in (-19.0 - style.crease_inset, 19.0 + style.crease_inset)
            ]
        if key == "line.cut":
            line = [
                Path(role, polyline(((-10.0, 0.0), (19.0, 0.0)))),
                *glyph_paths("cut", (-11.5, 0.0)),
            ]
        if key == "fold.pinch":
            line.insert(0, Path("edge.raw", polyline(((-reach, -6.0), (-reach, 6.0)))))
        return line
    glyph = glyphs()[_glyph(key)]
    paths = glyph_paths(glyph.key, (0.0, 0.0), glyph.towards)
    return _centred(paths)


def _centred(paths: Iterable[Item]) -> list[Item]:
    found = list(paths)
    box = union_box(item_box(i) for i in found)
    if box is None:
        return found
    return [shifted(i, -(box[0] + box[2]) / 2, -(box[1] + box[3]) / 2) for i in found]


def _arrow_sample(act: Act) -> list[Item]:
    import shapely

    reach = 11.0 if act is Act.CRIMP else 17.0
    tail: Point = (-reach, 0.0)
    head: Point = (reach, 0.0)
    if act not in _INTO_PAPER:
        around = Obstacles(shapely.Polygon(), (-WIDTH, -HEIGHT, WIDTH, HEIGHT))
        return _centred(arrow(act, tail, head, False, around))
    sheet = ((-1.0, -10.0), (20.0, -10.0), (20.0, 9.0), (-1.0, 9.0))
    if act is Act.TUCK:  # the upper layer of a pocket
        sheet = ((2.0, -12.0), (20.0, -12.0), (20.0, 12.0), (2.0, 12.0))
    around = Obstacles(shapely.Polygon(sheet), (-WIDTH / 2, -HEIGHT / 2, WIDTH / 2, HEIGHT / 2))
    around.arrows.extend((x, y) for x in range(-16, 3, 2) for y in (5.0, 8.0, 11.0))  # bulge upward
    wide = ((-13.0, -12.0), (20.0, -12.0), (20.0, 12.0), (-13.0, 12.0))
    under = wide if act is Act.TUCK else ()
    return [
        *(
            Path(role, polyline(under, closed=True))
            for role in ("paper.plain", "edge.raw")
            if under
        ),
        Path("paper.coloured", polyline(sheet, closed=True)),
        Path("edge.raw", polyline(sheet, closed=True)),
        *arrow(act, (-19.0, 3.0), (15.0, 3.0), False, around),
    ]


#: Arrows whose end runs behind or between layers: their samples show the paper.
_INTO_PAPER = (Act.MOUNTAIN, Act.TUCK, Act.INSIDE_REVERSE)


def _angles(style: Style) -> list[Item]:
    apex = (-12.0, 8.0)
    out: list[Item] = []
    for k in range(3):
        a = -math.radians(30 * k + 4)
        end = (apex[0] + 27 * math.cos(a), apex[1] + 27 * math.sin(a))
        out.append(Path("crease", polyline((apex, end))))
    for k in range(2):
        start = -math.radians(30 * k + 4)
        out.append(Path("mark.angle", arc(apex, 15.0, start, -math.radians(30))))
        a = start - math.radians(15)
        tick = tuple((apex[0] + r * math.cos(a), apex[1] + r * math.sin(a)) for r in (13.0, 17.0))
        out.append(Path("mark.angle", polyline(tick)))
    return _centred(out)


def _lengths(style: Style) -> list[Item]:
    import shapely

    sheet = ((-1.5, -1.0), (1.5, -1.0), (1.5, 0.0), (-1.5, 0.0))
    parts = tuple(((k - 1.5, 0.0), (k - 0.5, 0.0)) for k in range(3))
    view = View(12.5, (0.0, 0.0))
    paper = shapely.Polygon([view(p) for p in sheet])
    around = Obstacles(paper, (-WIDTH, -HEIGHT, WIDTH, HEIGHT))
    edge = Path("edge.raw", polyline((view(parts[0][0]), view(parts[-1][1]))))
    return _centred([edge, *equal_lengths(EqualLengths(parts), view, around)])


def _right_angle(style: Style) -> list[Item]:
    return [
        Path("edge.raw", polyline(((-8.0, -9.0), (-8.0, 8.0), (10.0, 8.0)))),
        Path("mark.angle", polyline(((-8.0, 2.8), (-2.8, 2.8), (-2.8, 8.0)))),
    ]


def _repeat(style: Style) -> list[Item]:
    return list(turns.repeat_sign(RepeatSign(2, 4, 1, ""), (19.0, 0.0), (1.0, 0.0), style))


def _repeat_behind(style: Style) -> list[Item]:
    sheet = ((0.6, -10.0), (21.4, -10.0), (21.4, 10.0), (0.6, 10.0))
    tip = (0.6 + turns.BEHIND - 0.5, 0.0)
    return [
        Path("paper.coloured", polyline(sheet, closed=True)),
        Path("edge.raw", polyline(sheet, closed=True)),
        *turns.repeat_sign(RepeatSign(4, 4, 1, "behind"), tip, (1.0, 0.0), style),
    ]


def _opening(flat: bool) -> list[Item]:
    """The lower part of a sheet of two layers, open at the edge below."""
    sheet = ((-20.0, -12.0), (20.0, -12.0), (20.0, 0.5), (-20.0, 0.5))
    mouth = spreading.Mouth(20.0, 4.4, flat)
    place = -0.45 if flat else 0.0
    fold = [Path("fold.mountain", polyline(((0.0, -12.0), (0.0, -3.9))))] if flat else []
    signs = (*spreading.mouth_paths(mouth), *spreading.pull_paths(mouth, place, 0.5))
    return [
        Path("paper.coloured", polyline(sheet, closed=True)),
        Path("edge.raw", polyline((sheet[3], sheet[0], sheet[1], sheet[2]))),
        *fold,
        *(shifted(i, 0.0, 0.5) for i in signs),
    ]


def _slit(style: Style) -> list[Item]:
    """Two flaps of one sheet, side by side."""
    sheet = ((-20.0, -10.0), (20.0, -10.0), (20.0, 10.0), (-20.0, 10.0))
    mouth = spreading.Mouth(18.0, 3.4, flat=False, slit=True)
    return [
        Path("paper.coloured", polyline(sheet, closed=True)),
        Path("edge.raw", polyline(sheet, closed=True)),
        Path("edge.raw", polyline(((-20.0, 0.0), (20.0, 0.0)))),
        *spreading.mouth_paths(mouth),
        *spreading.pull_paths(mouth, 0.0, 0.5),
    ]


def _edge(style: Style) -> list[Item]:
    return [Path("edge.raw", polyline(((-19.0, 0.0), (19.0, 0.0))))]


def _edge_under(style: Style) -> list[Item]:
    """The corner of a flap over the corner of a layer behind it."""
    gap = style.layer_gap
    upper = ((-16.0, 9.0), (0.0, -7.0), (16.0, 9.0))
    lower = ((-16.0, 9.0), (0.0, -7.0 - 1.6 * gap), (16.0, 9.0))
    return [
        Path("paper.coloured", polyline(lower, closed=True)),
        Path("edge.under", polyline(lower)),
        Path("paper.plain", polyline(upper, closed=True)),
        Path("edge.raw", polyline(upper)),
    ]


def _inset(style: Style) -> list[Item]:
    return [
        Path("edge.raw", polyline(((-20.0, 10.0), (-6.0, 10.0), (-13.0, 0.0)), closed=True)),
        Path("sign", circle((-13.0, 2.0), 4.0)),
        Path("leader", polyline(((-9.1, 1.2), (1.8, -0.8)))),
        Path("sign", circle((11.5, -1.0), 9.8)),
        Path("edge.raw", polyline(((5.0, 5.4), (11.5, -4.4), (18.0, 5.4)))),
        Path("fold.valley", polyline(((7.8, 1.2), (15.2, 1.2)))),
    ]


def _pinch(style: Style) -> list[Item]:
    return [
        Path("edge.raw", polyline(((-16.0, 7.0), (16.0, 7.0)))),
        Path("fold.valley", polyline(((0.0, 7.0), (0.0, -4.0)))),
    ]


_SAMPLES: dict[str, Callable[[Style], list[Item]]] = {
    "mark.equal-angles": _angles,
    "mark.equal-lengths": _lengths,
    "mark.right-angle": _right_angle,
    "fold.pinch": _pinch,
    spreading.ROUND: lambda style: _opening(False),
    spreading.FLAT: lambda style: _opening(True),
    spreading.SLIT: _slit,
    "edge": _edge,
    "edge.under": _edge_under,
    "inset": _inset,
    "repeat": _repeat,
    "repeat.behind": _repeat_behind,
    "rotate": lambda style: turns.turn(Rotate(90.0), (0.0, 0.0), style),
    "turn-over": lambda style: turns.turn(TurnOver(True), (0.0, 0.0), style),
    "turn-over.top-to-bottom": lambda style: _shrunk(TurnOver(False), style),
    "scale": lambda style: _centred(turns.scale_sign(None, (0.0, 0.0), style)),
}


def _shrunk(sign: TurnOver, style: Style) -> list[Item]:
    """The upright sign is taller than a sample."""
    return list(glyph_paths(turns.turn_key(sign), (0.0, 0.0), size=0.78))
