"""How far layers are drawn apart: two layers seen from the side, and the length between them.

It stands beside the place where that is done, clear of all other ink, off the paper if it can.
"""

from __future__ import annotations

from ...languages.wording import ENGLISH, Language, Number
from ...paper.signs import Apart
from ..placement.free_places import placed_beside
from ..scene.groups import Item
from ..scene.outlines import polyline
from ..scene.scene import Path, Text
from ..style.styles import Style
from . import families
from .glyph import ARROWS, LastGlyph, Setting, centred

#: How long the layers are and how far apart, where on them the length is, half of its bars (points).
_LONG, _APART, _AT, _BAR = 13.0, 12.0, 9.0, 2.0
#: How the layer behind comes up to the one in front, at their common end (points).
_BEND = 3.0
#: The number, beside that of letters; how far beyond the layers it stands (points).
_SIZE, _BEYOND = 0.85, 2.5


def apart_sign(number: str, unit: str, style: Style, speech: Language = ENGLISH) -> list[Item]:
    """The sign about its middle."""
    size = _SIZE * style.label
    words = f"{Number(number).render(speech)} {unit}"
    mouth = (
        (_LONG, 0.0),
        (_BEND, 0.0),
        (0.0, _APART / 2),
        (_BEND, _APART),
        (_LONG, _APART),
    )
    return centred(
        [
            Path("sign", polyline(mouth)),
            Path("mark.length", polyline(((_AT, 1.4), (_AT, _APART - 1.4)))),
            *(
                Path("mark.length", polyline(((_AT - _BAR, y), (_AT + _BAR, y))))
                for y in (1.4, _APART - 1.4)
            ),
            Text("text.sign", (_LONG + _BEYOND, _APART / 2 + 0.35 * size), words, size),
        ]
    )


def _draw(setting: Setting) -> list[list[Item]]:
    """Each length once, beside one of the places that it is for."""
    alike: dict[tuple[str, str], list[Apart]] = {}
    for sign in setting.signs:
        if isinstance(sign, Apart):
            alike.setdefault((sign.number, sign.unit), []).append(sign)
    found = (
        placed_beside(
            apart_sign(*value, setting.style, setting.speech),
            [setting.view(sign.at) for sign in some],
            setting.around,
        )
        for value, some in alike.items()
    )
    return [items for items in found if items]


GLYPH = LastGlyph(
    key="mark.apart",
    name="So far apart",
    meaning="The layers here come so far apart, on paper of the size given.",
    heading=ARROWS,
    order=328,
    family=families.APART,
    draw=_draw,
    picture=lambda style: apart_sign("2", "cm", style),
)
