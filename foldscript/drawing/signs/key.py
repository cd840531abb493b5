"""The key of signs: each sign's name in the craft's words and a small picture of it.

In: keys of the signs used (`Scene.signs`) and a style. Out: (name, Scene) pairs in a settled order.
Samples are drawn by the same functions as the figures, so a sign in the key is the sign on the page.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache

from ...languages.wording import ENGLISH, Template, Translate
from ..scene.outlines import shifted
from ..scene.scene import Path, Scene
from ..scene.strokes import covered, polylines
from ..style.styles import Style
from .glyph import HEADINGS, HEIGHT, WIDTH, Glyph
from .paper_sides import paper_role
from .registry import glyphs

KeyEntry = tuple[str, Scene]

#: Paper narrower than this is a hairline (points).
_HAIR = 2.5


def meaning(key: str) -> Template:
    """What a sign tells the folder to do, or where it stands; KeyError when there is no such sign."""
    return glyphs()[key].meaning


def sign_keys() -> tuple[str, ...]:
    """Every key there is, in the order of the page's key."""
    return tuple(glyphs())


def sections() -> list[tuple[Template, list[str]]]:
    """Headings of the symbol poster, each with the keys of its signs; every sign stands under one."""
    return [
        (heading, [key for key, glyph in glyphs().items() if glyph.heading == heading])
        for heading in HEADINGS
    ]


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
) -> tuple[KeyEntry, ...]:
    """Name and sample of each sign; unknown keys are left out.

    `colours` : names of the paper's colours, coloured side and plain side; '' for the style's own.
    """
    wanted = set(signs)
    return tuple(
        (translate(glyph.name), _tinted(_sample(glyph, style, translate), colours))
        for key, glyph in glyphs().items()
        if key in wanted
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


@cache
def _sample(glyph: Glyph, style: Style, translate: Translate) -> Scene:
    items = tuple(shifted(item, WIDTH / 2, HEIGHT / 2) for item in glyph.sample(style))
    name = translate(glyph.name)
    return Scene(WIDTH, HEIGHT, items, name, name, signs=frozenset({glyph.key}))
