"""Styles: what each role looks like, shipped with foldscript or made by a person.

In: the name of a style shipped with foldscript, or the path of a TOML file. Out: a frozen `Style`.
How style files are read, and what is said about mistakes in them, lies in style_files.py.
"""

from __future__ import annotations

from difflib import get_close_matches
from functools import cache
from importlib import resources
from pathlib import Path

from ...source.diagnostics import Diagnostic, FoldscriptError, Hint
from .ink import Ink, Style
from .style_files import known_roles, own_style, shipped_style

__all__ = ["Ink", "Style", "load_style", "style_names"]


def style_names() -> tuple[str, ...]:
    """Names of the styles that come with foldscript."""
    folder = resources.files(__package__ or "foldscript.drawing.style")
    return tuple(sorted(f.name[:-5] for f in folder.iterdir() if f.name.endswith(".toml")))


def load_style(name_or_path: str | Path = "colour") -> Style:
    """A shipped style by name, or one's own by the path of its file (`*.toml`).

    Raises FoldscriptError when there is no such style, with all that is wrong in its file.
    """
    text = str(name_or_path)
    if text in style_names():
        return _shipped(text)
    if text.endswith(".toml"):
        return own_style(Path(text), {name: _text(name) for name in style_names()})
    close = get_close_matches(text, style_names(), 1)
    hints = [Hint(f"did you mean '{close[0]}'?")] if close else []
    hints.append(Hint("styles: " + ", ".join(style_names()) + ", or the path of a .toml file"))
    raise FoldscriptError(
        Diagnostic("unknown-style", f"there is no style called '{text}'", hints=tuple(hints))
    )


def role_names() -> tuple[str, ...]:
    """Every role that a style may say something about."""
    return known_roles({name: _text(name) for name in style_names()})


def _text(name: str) -> str:
    folder = resources.files(__package__ or "foldscript.drawing.style")
    return (folder / f"{name}.toml").read_text("utf-8")


@cache
def _shipped(name: str) -> Style:
    return shipped_style(name, {name: _text(name) for name in style_names()})
