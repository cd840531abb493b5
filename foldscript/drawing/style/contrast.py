"""How well inks stand out from what they lie on.

In: colours '#rrggbb', or a whole style. Out: contrast ratios from 1 to 21, and the roles of a style
that fall short. The formula and the bounds are those of WCAG 2.2: relative luminance and contrast
ratio as its glossary defines them; 4.5:1 for text (success criterion 1.4.3) and 3:1 for graphics
needed to understand the content (1.4.11).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from .ink import Style

TEXT, LINES = 4.5, 3.0

#: Ink that is laid under or inside other ink only to part it from what lies beneath.
_BACKING = ("paper", "page", "page.panel", "page.code.ground", "text.halo", "arrow.halo")
#: Text that may stand on the paper; all other text stands on the page.
_ON_PAPER = ("text", "text.label", "text.sign")
_ON_PANEL = ("text.cover",)
#: Squares of a code, which have a ground of their own.
_ON_CODE = ("page.code",)
#: Lines that may lie on paper that stands in the light, in any of its tones.
_ON_STANDING = ("edge", "crease.standing", "arrow")


@dataclass(frozen=True, slots=True)
class Faint:
    """An ink that does not stand out: its role, what it lies on, the ratio and the one needed."""

    role: str
    ground: str
    ratio: float
    needed: float


def luminance(colour: str) -> float:
    """Relative luminance of a colour '#rrggbb', 0 for black and 1 for white."""
    red, green, blue = (_linear(int(colour[i : i + 2], 16) / 255) for i in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, in either order."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def faint(style: Style) -> tuple[Faint, ...]:
    """Every ink of a style that falls short on something it may lie on."""
    return tuple(found for role in sorted(style.roles) for found in _faint(style, role))


def _faint(style: Style, role: str) -> Iterator[Faint]:
    if role in _BACKING or role.startswith("paper."):
        return
    ink = style.ink(role)
    needed = TEXT if role.split(".")[0] == "text" else LINES
    # An open head is a line about its own filling; a stroked letter would be a halo.
    colour = ink.stroke if ink.stroke is not None and needed < TEXT else ink.fill
    if colour is None:
        return
    for ground, name in _grounds(style, role):
        ratio = contrast(colour, ground)
        if ratio < needed:
            yield Faint(role, name, ratio, needed)


def _grounds(style: Style, role: str) -> Iterator[tuple[str, str]]:
    """Colours that a role may lie on, each with its name."""
    if role in _ON_PANEL:
        yield style.ink("page.panel").fill or "#ffffff", "the cover's panel"
        return
    if role in _ON_CODE:
        yield style.ink("page.code.ground").fill or "#ffffff", "the code's ground"
        return
    yield style.ink("page").fill or "#ffffff", "the page"
    family = role.split(".")[0]
    if family == "page" or (family == "text" and role not in _ON_PAPER):
        return
    papers = {side: f"the {side} side of the paper" for side in ("plain", "coloured")}
    papers |= {f"coloured.{name}": f"{name} paper" for name in style.tints}
    for paper, name in papers.items():
        yield style.ink(f"paper.{paper}").fill or "#ffffff", name
    if role in _ON_STANDING or family in _ON_STANDING:
        for paper, name in papers.items():
            darkest = len(style.shades[paper.partition(".")[0]])
            yield style.ink(f"shade.{darkest}.{paper}").fill or "#ffffff", f"{name} in the shade"
