"""What a sheet is called, in another language.

In: the words that the script's head gives it ('square 15 cm', 'A4 portrait (210 x 297 mm)'). Out: the same
in a language; words that are not known here stay as they are.
"""

from __future__ import annotations

import re

from ..languages.wording import Language, Number, Phrase, Template, phrase

_SIZE = r"(?P<size>[0-9.]+(?: x [0-9.]+)* (?:mm|cm|inches))"
_KINDS: dict[str, Template] = {
    rf"square {_SIZE}": "square {size}",
    rf"rectangle {_SIZE}": "rectangle {size}",
    rf"strip {_SIZE}": "strip {size}",
    rf"ratio (?P<a>\S+) to (?P<b>\S+), long side {_SIZE}": "ratio {a} to {b}, long side {size}",
    rf"ratio (?P<a>\S+) to (?P<b>\S+), short side {_SIZE}": "ratio {a} to {b}, short side {size}",
    rf"regular (?P<shape>\S+), side {_SIZE}": "regular {shape}, side {size}",
    rf"regular (?P<shape>\S+), width {_SIZE}": "regular {shape}, width {size}",
    r"sheet with (?P<n>\d+) corners": "sheet with {n} corners",
    rf"(?P<name>.+) portrait \({_SIZE}\)": "{name} upright ({size})",
    rf"(?P<name>.+) landscape \({_SIZE}\)": "{name} lying ({size})",
    r"(?P<sheet>.+), portrait": "{sheet}, upright",
    r"(?P<sheet>.+), landscape": "{sheet}, lying",
    rf"(?P<name>.+) \({_SIZE}\)": "{name} ({size})",
}
_SHAPES: dict[str, Template] = {
    "triangle": "triangle",
    "pentagon": "pentagon",
    "hexagon": "hexagon",
    "heptagon": "heptagon",
    "octagon": "octagon",
    "nonagon": "nonagon",
    "decagon": "decagon",
    "dodecagon": "dodecagon",
}


def sheet_words(shape: str, language: Language) -> str:
    """The words in a language."""
    if language.tag.partition("-")[0] == "en":
        return shape
    return _words(shape).render(language)


def _words(shape: str) -> Phrase:
    for pattern, template in _KINDS.items():
        match = re.fullmatch(pattern, shape)
        if match is not None:
            return Phrase(template, tuple((k, _part(k, v)) for k, v in match.groupdict().items()))
    return phrase("{sheet}", sheet=shape)


def _part(key: str, text: str) -> Phrase | Number:
    if key == "size":
        return _size(text)
    if key == "sheet":
        return _words(text)
    if key == "shape":
        if text in _SHAPES:
            return Phrase(_SHAPES[text])
        return phrase("{n}-gon", n=text.removesuffix("-gon"))
    return Number(text)


def _size(text: str) -> Phrase:
    size = text.replace(" x ", " × ")
    if size.endswith(" inches"):
        return phrase("{n} inches", n=Number(size.removesuffix(" inches")))
    return phrase("{size}", size=Number(size))
