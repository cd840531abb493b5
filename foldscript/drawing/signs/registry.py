"""Finds the signs: every module in this folder that has a `GLYPH`, or `GLYPHS`. Adding a file adds a sign.

In: nothing. Out: glyphs by key, in the order of the key of a page. What a file says is checked here, as soon
as it is loaded, so that a sign with a missing part is noticed by whoever writes it.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Sequence
from functools import cache
from typing import TypeVar, cast

from ...paper.signs import Sign
from .families import Family
from .glyph import Glyph

#: Modules of this folder that are no signs.
TOOLS = ("families", "glyph", "grip", "key", "registry", "rows")

G = TypeVar("G", bound=Glyph)


class SignFault(Exception):
    """A file of this folder does not say all that has to be known of its sign."""


@cache
def glyphs() -> dict[str, Glyph]:
    """All signs by key, in the order of the key. Raises SignFault where a file lacks something."""
    package = importlib.import_module(__package__ or "foldscript.drawing.signs")
    found: dict[str, Glyph] = {}
    for info in pkgutil.iter_modules(package.__path__):
        if info.name in TOOLS:
            continue
        for glyph in _read(package.__name__, info.name):
            if glyph.key in found:
                raise SignFault(f"signs/{info.name}.py: there is a sign {glyph.key!r} already")
            found[glyph.key] = glyph
    return {g.key: g for g in sorted(found.values(), key=lambda g: (g.order, g.key))}


def _read(package: str, name: str) -> tuple[Glyph, ...]:
    try:
        module = importlib.import_module(f"{package}.{name}")
    except (TypeError, ValueError) as error:  # a part that is missing, or says nothing
        raise SignFault(f"signs/{name}.py: {error}") from error
    one = getattr(module, "GLYPH", None)
    found = getattr(module, "GLYPHS", () if one is None else (one,))
    if not found or not all(isinstance(glyph, Glyph) for glyph in found):
        raise SignFault(f"signs/{name}.py: it has no GLYPH that says what its sign is")
    return tuple(found)


def glyphs_of(kind: type[G]) -> tuple[G, ...]:
    """The glyphs of one class, in the order of the key."""
    return cast("tuple[G, ...]", of_class(kind))


@cache
def of_class(kind: type[Glyph]) -> tuple[Glyph, ...]:
    """The same, found once."""
    return tuple(glyph for glyph in glyphs().values() if isinstance(glyph, kind))


def glyph_for(sign: Sign, kind: type[G], signs: Sequence[Sign] = ()) -> G:
    """The glyph of this class for a sign in a figure with all these `signs`.

    Raises LookupError where no file tells of it.
    """
    for glyph in glyphs_of(kind):
        if glyph.stands_for(sign, signs):
            return glyph
    raise LookupError(f"no file of drawing/signs says how this is drawn: {sign}")


@cache
def families() -> dict[str, Family]:
    """Every family of signs, by the kind of its groups."""
    found: dict[str, Family] = {}
    for glyph in glyphs().values():
        family = found.setdefault(glyph.family.kind, glyph.family)
        if family != glyph.family:
            raise SignFault(f"{glyph.key!r}: there is another family {family.kind!r}")
    return found
