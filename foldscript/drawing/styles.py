"""Styles: what each role looks like, read from data files.

In: the name of a style shipped with foldscript, or the path of a TOML file. Out: a frozen `Style`.
Weights, dashes and type sizes are points on the printed page, whatever the figure's scale. A role
without an entry takes its parent's ('edge.raw.x' -> 'edge.raw' -> 'edge').
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

from ..diagnostics import Diagnostic, FoldscriptError, Hint


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


@dataclass(frozen=True, eq=False)
class Style:
    """A page style, compared and cached as the object it is.

    Attributes
    ----------
    roles : look of each role
    tints : pale colours for sheets whose script names a colour
    family : font family of all text
    label, sign, small : type sizes for letters at points, numbers in signs, and lesser notes
    layer_gap : how far apart coincident layers are drawn
    layer_spread : most that a whole stack may be drawn apart
    crease_inset : how far short of an edge an earlier crease stops
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

    def ink(self, role: str) -> Ink:
        """Look of a role, or of its nearest parent that has one."""
        return _ink(self, role)


@cache
def _ink(style: Style, role: str) -> Ink:
    tint = style.tints.get(role.rpartition(".")[2]) if role.startswith("paper.") else None
    for name in _parents(role):
        if name in style.roles:
            found = style.roles[name]
            if tint and role.count(".") == 2:
                return replace(found, fill=tint)
            return found
    raise KeyError(f"style {style.name!r} says nothing about {role!r}")


def _parents(role: str) -> Iterator[str]:
    while role:
        yield role
        role = role.rpartition(".")[0]


def style_names() -> tuple[str, ...]:
    """Names of the styles that come with foldscript."""
    folder = resources.files(__package__ or "foldscript.drawing") / "styles"
    return tuple(sorted(f.name[:-5] for f in folder.iterdir() if f.name.endswith(".toml")))


def load_style(name_or_path: str | Path = "colour") -> Style:
    """A shipped style by name, or one's own by the path of its file (`*.toml`).

    Raises FoldscriptError when there is no such style or its file cannot be read.
    """
    text = str(name_or_path)
    if text in style_names():
        return _shipped(text)
    path = Path(text)
    if path.suffix == ".toml":
        try:
            return _read(path.stem, path.read_text("utf-8"))
        except (OSError, UnicodeDecodeError) as error:
            raise _wrong(f"the style file {text} cannot be read: {error}") from error
    close = get_close_matches(text, style_names(), 1)
    hints = [Hint(f"did you mean '{close[0]}'?")] if close else []
    hints.append(Hint("styles: " + ", ".join(style_names()) + ", or the path of a .toml file"))
    raise FoldscriptError(
        Diagnostic("unknown-style", f"there is no style called '{text}'", hints=tuple(hints))
    )


@cache
def _shipped(name: str) -> Style:
    folder = resources.files(__package__ or "foldscript.drawing") / "styles"
    return _read(name, (folder / f"{name}.toml").read_text("utf-8"))


def _wrong(message: str) -> FoldscriptError:
    return FoldscriptError(Diagnostic("bad-style", message))


def _read(name: str, text: str) -> Style:
    try:
        data: dict[str, Any] = tomllib.loads(text)
        colours: dict[str, str] = data["colours"]
        layers, sizes = data["layers"], data["text"]
        return Style(
            name=name,
            roles={role: _role(entry, colours) for role, entry in data["roles"].items()},
            tints=dict(data.get("tints", {})),
            family=str(sizes["family"]),
            label=float(sizes["label"]),
            sign=float(sizes["sign"]),
            small=float(sizes["small"]),
            layer_gap=float(layers["gap"]),
            layer_spread=float(layers["spread"]),
            crease_inset=float(layers["crease_inset"]),
        )
    except (tomllib.TOMLDecodeError, KeyError, TypeError, ValueError, AttributeError) as error:
        raise _wrong(f"the style '{name}' is not complete: {error}") from error


def _role(entry: Mapping[str, Any], colours: Mapping[str, str]) -> Ink:
    def colour(key: str) -> str | None:
        value = entry.get(key)
        return None if value is None else colours.get(value, value)

    return Ink(
        stroke=colour("stroke"),
        width=float(entry.get("width", 0.0)),
        dash=tuple(float(x) for x in entry.get("dash", ())),
        fill=colour("fill"),
        cap=str(entry.get("cap", "round")),
        join=str(entry.get("join", "round")),
    )
