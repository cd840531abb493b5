"""A style in light lines, for sheets that are folded from and should not look drawn upon.

In: a style. Out: the same with fold lines, creases and letters halfway to white; patterns stay.
"""

from __future__ import annotations

from dataclasses import replace

from .styles import Ink, Style

_LIGHT = ("fold.valley", "fold.mountain", "crease", "line.cut", "edge.raw")
_LETTERS = ("text.soft",)
#: How far a colour goes towards white. Black becomes a grey with 3.9:1 on white (WCAG 2.2 asks 3:1 of lines,
#: and 4.5:1 of letters).
_WHITER, _LETTERS_WHITER = 0.5, 0.2


def lighter(style: Style) -> Style:
    """The style for printing on the paper that is folded; nothing is enlarged."""
    roles = dict(style.roles)
    for role in _LIGHT:
        roles[role] = _paler(style.ink(role), _WHITER)
    for role in _LETTERS:
        roles[role] = _paler(style.ink(role), _LETTERS_WHITER)
    return replace(style, roles=roles, enlarged=1.0)


def _paler(ink: Ink, whiter: float) -> Ink:
    stroke = _mixed(ink.stroke, whiter) if ink.stroke else None
    fill = _mixed(ink.fill, whiter) if ink.fill else None
    return replace(ink, stroke=stroke, fill=fill, width=min(ink.width, 0.6))


def _mixed(colour: str, whiter: float) -> str:
    parts = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return "#" + "".join(f"{round(p + (255 - p) * whiter):02x}" for p in parts)
