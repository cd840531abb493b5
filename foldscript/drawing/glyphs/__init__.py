"""Small fixed signs, one data file each (`*.toml`), registered by lying here.

In: the name of a glyph and where it goes. Out: `Path`s by role. A file gives the sign's name in the
craft's words for the page's key, how a sample of it looks best there (`towards`), and its paths:
a role and path data (M, L, C, Z in points, x along the sign's direction, y down). A glyph with
`upright = true` is never turned.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib import resources

from ..scene.outlines import mapped, placed_at
from ..scene.scene import Close, Curve, Draw, Move, Path, Point, Segment


@dataclass(frozen=True, slots=True)
class Glyph:
    """name : in the craft's words; paths : (role, segments) about the origin."""

    key: str
    name: str
    upright: bool
    towards: Point
    paths: tuple[tuple[str, tuple[Segment, ...]], ...]


@cache
def glyphs() -> dict[str, Glyph]:
    """Every glyph by the stem of its file."""
    found: dict[str, Glyph] = {}
    for file in sorted(resources.files(__name__).iterdir(), key=lambda f: f.name):
        if file.name.endswith(".toml"):
            key = file.name[:-5]
            found[key] = _read(key, file.read_text("utf-8"))
    return found


def _read(key: str, text: str) -> Glyph:
    data = tomllib.loads(text)
    x, y = data.get("towards", (1.0, 0.0))
    return Glyph(
        key,
        data["name"],
        bool(data.get("upright", False)),
        (float(x), float(y)),
        tuple((p["role"], tuple(segments(p["d"]))) for p in data["paths"]),
    )


def segments(data: str) -> Iterator[Segment]:
    """Path data with absolute M, L, C and Z as segments; ValueError for anything else."""
    tokens = re.findall(r"[A-Za-z]|-?\d*\.?\d+", data)
    k = 0

    def point() -> Point:
        nonlocal k
        k += 2
        return (float(tokens[k - 2]), float(tokens[k - 1]))

    letter = ""
    while k < len(tokens):
        if tokens[k].isalpha():
            letter = tokens[k]
            k += 1
        if letter == "M":
            yield Move(point())
            letter = "L"
        elif letter == "L":
            yield Draw(point())
        elif letter == "C":
            yield Curve(point(), point(), point())
        elif letter == "Z":
            yield Close()
            letter = ""
        else:
            raise ValueError(f"path data may hold M, L, C and Z, not {letter!r}")


def glyph_paths(
    key: str, at: Point, towards: Point = (1.0, 0.0), size: float = 1.0
) -> tuple[Path, ...]:
    """A glyph's paths with its origin at `at`, turned so that its x axis runs `towards`."""
    glyph = glyphs()[key]
    to = placed_at(at, (1.0, 0.0) if glyph.upright else towards, size)
    return tuple(Path(role, mapped(shape, to)) for role, shape in glyph.paths)
