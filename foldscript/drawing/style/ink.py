"""What a style is: the look of every role, as plain data.

In: nothing. Out: `Ink` and `Style`, which styles.py loads. Weights, dashes and type sizes are points
on the printed page, whatever the figure's scale (times `enlarged`, for large print). A role without
an entry takes its parent's ('edge.raw.x' -> 'edge.raw' -> 'edge').
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache

from ...source.diagnostics import Diagnostic


@dataclass(frozen=True, slots=True)
class Ink:
    """How one role is painted. Colours are '#rrggbb'; None paints nothing.

    Attributes
    ----------
    stroke, width : line colour, and weight in points
    dash : lengths of dash and gap in points, () for a solid line; dashes are fitted to each line so
        that both its ends lie on ink
    fill : colour of the area, or of letters
    cap, join : SVG names for line ends and corners
    """

    stroke: str | None = None
    width: float = 0.0
    dash: tuple[float, ...] = ()
    fill: str | None = None
    cap: str = "round"
    join: str = "round"


@dataclass(frozen=True, slots=True)
class OwnFont:
    """A font file by its path; the digest (SHA-256) stands for what is in it."""

    path: str
    digest: str


@dataclass(frozen=True, eq=False)
class Style:
    """A page style, compared and cached as the object it is.

    Attributes
    ----------
    roles : look of each role
    tints : pale colours for sheets whose script names a colour
    shades : for either side of the paper, 'plain' and 'coloured', how much darker than lying flat it is
        where it stands: a share of its light for each tone, lightest first
    family : font family of all text
    fonts : files that write what the caption font lacks, in their order
    label, sign, small : type sizes for letters at points, numbers in signs, and lesser notes
    layer_gap : how far apart coincident layers are drawn
    layer_spread : most that a whole stack may be drawn apart
    crease_inset : how far short of an edge an earlier crease stops
    enlarged : how much larger everything is printed than its measures say
    notes : what to know about a style of one's own, such as lines too pale to see
    """

    name: str
    roles: Mapping[str, Ink]
    tints: Mapping[str, str]
    family: str
    label: float
    sign: float
    small: float
    layer_gap: float
    layer_spread: float
    crease_inset: float
    shades: Mapping[str, tuple[float, ...]]
    enlarged: float = 1.0
    fonts: tuple[OwnFont, ...] = ()
    notes: tuple[Diagnostic, ...] = ()

    def ink(self, role: str) -> Ink:
        """Look of a role, or of its nearest parent that has one."""
        return _ink(self, role)


@cache
def _ink(style: Style, role: str) -> Ink:
    family, _, rest = role.partition(".")
    if family == "shade":
        return _shaded(style, *rest.split(".", 1))
    tint = style.tints.get(role.rpartition(".")[2]) if role.startswith("paper.") else None
    for name in _parents(role):
        if name in style.roles:
            found = style.roles[name]
            if tint and role.count(".") == 2:
                return replace(found, fill=tint)
            return found
    raise KeyError(f"style {style.name!r} says nothing about {role!r}")


def _shaded(style: Style, tone: str, paper: str) -> Ink:
    """A side of the paper, 'coloured.red', in its tone of this number, from 1 on."""
    flat = style.ink(f"paper.{paper}")
    shades = style.shades[paper.partition(".")[0]]
    share = shades[min(int(tone), len(shades)) - 1] if shades else 0.0
    return replace(flat, fill=darker(flat.fill, share) if flat.fill else None)


def darker(colour: str, share: float) -> str:
    """A colour '#rrggbb' with less of its light."""
    parts = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return "#" + "".join(f"{round(p * (1 - share)):02x}" for p in parts)


def _parents(role: str) -> Iterator[str]:
    while role:
        yield role
        role = role.rpartition(".")[0]
