"""Lines before the first step, and captions, in a teacher's own words: text in, lines of the language out.

What comes out may be nonsense and is tried before it is shown, as in `table_talk.py`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_NUMBER = r"(\d+ \d+/\d+|\d+(?:[.,/]\d+)?)"
_UNIT = r"""(mm|cm|inches|inch|in\b|"|″|''|”)"""
#: Sides up to this, without a unit, are inches more likely than centimetres.
_INCHES = 9
#: Colours by which a side of the paper is called.
_TINTS = "red|blue|green|yellow|orange|purple|violet|pink|brown|black|grey|gray"
#: What surrounds a text in one land or another.
_QUOTES = "\"'„“”‚‘’«»‹›`´"
_TEXTS = {
    "title": "model",
    "model": "model",
    "name": "model",
    "note": "note",
    "step": "step",
    "caption": "caption",
}


def head_lines(line: str, *, inside: bool) -> Iterator[tuple[str, ...]]:
    """What a line may have been meant for, if it is one of the head or gives a text; `inside` a step."""
    m = re.match(r"(\w+)\b *:?(.*)", line, re.DOTALL)
    opener = m[1].lower() if m else ""
    if m and opener in _TEXTS and not (inside and opener == "name"):
        yield from _text(_TEXTS[opener], m[2])
    if m and not inside and opener in ("level", "difficulty"):
        easy = re.search(r"easy|simple|beginner|basic", m[2].lower())
        yield (f"level {'simple' if easy else m[2].strip().lower()}",)
    if m and not inside and opener in ("sheet", "paper", "square", "size"):
        yield from _sheet(m[2] if opener != "square" else f"square {m[2]}")


def _text(word: str, rest: str) -> Iterator[tuple[str, ...]]:
    """A title or a caption between quotes of the language."""
    if word == "step":
        rest = re.sub(r"^ *\d+ *[.:)]? *", "", rest)
    language = re.match(r" *([a-z]{2}(?:-[A-Z]{2})?) (?=[" + _QUOTES + "])", rest)
    code = f"{language[1]} " if language else ""
    maker = re.fullmatch(r' *"([^"]+)",? (?:by|from) (.+)', rest)
    if maker and word == "model":
        yield (f'model "{maker[1]}"', f'credit "{maker[2].strip(_QUOTES)}"')
        return
    text = rest[language.end() if language else 0 :].strip(" -–—:" + _QUOTES)
    quoted = text.replace("\\", "\\\\").replace('"', '\\"')
    if text:
        yield (f'{word} {code}"{quoted}"',)
    elif word == "step":
        yield ("step",)


def _sheet(rest: str) -> Iterator[tuple[str, ...]]:
    """A sheet's shape and how it lies."""
    shape, *more = (part.strip() for part in rest.lower().split(", "))
    two = re.search(rf"{_NUMBER} *{_UNIT}? *(?:x|×|\*|by) *{_NUMBER} *{_UNIT}", shape)
    bare = re.fullmatch(rf"(?:rectangle |paper )?{_NUMBER} *(?:x|×|\*|by) *{_NUMBER}", shape)
    if bare and not two:
        for unit in (
            ("cm", "inches")
            if float(_figure(bare[1]).split()[0].split("/")[0]) > _INCHES
            else ("inches", "cm")
        ):
            yield from _sheet(f"{bare[0]} {unit}")
        return
    one = re.search(rf"{_NUMBER} *{_UNIT}", shape)
    iso = re.search(r"\b([ab]\d|letter|legal|tabloid)\b", shape)
    end = 0
    if two:
        width, height, unit = _figure(two[1]), _figure(two[3]), _unit(two[4], two[3])
        said = (
            f"square {width} {unit}"
            if width == height
            else f"rectangle {width} {unit} by {height} {unit}"
        )
        end = two.end()
    elif one:
        kind = next((k for k in ("hexagon", "pentagon", "octagon", "triangle") if k in shape), "")
        size = f"{_figure(one[1])} {_unit(one[2], one[1])}"
        said = f"regular {kind}, side {size}" if kind else f"square {size}"
        end = one.end()
    elif iso:
        said = iso[1].upper() if iso[1][1:].isdigit() else iso[1]
        end = iso.end()
    else:
        said = ""
    tail = shape[end:] if said else shape
    row = [said] if said else []
    row.extend(lying for part in (tail, *more) if (lying := _lying(part)))
    tinted = re.search(rf"\b({_TINTS}) side.*\b(up|down)\b", rest.lower())
    if tinted:
        sheet = "sheet " + ", ".join((*row, f"coloured side {tinted[2]}"))
        yield (sheet, f"colours {tinted[1]} and white")
        yield (sheet,)
        return
    faced = any(" side " in part for part in row)
    if not faced and re.search(r"\b(?:colou?r(?:ed)?|white|plain)\b", rest.lower()):
        for way in ("up", "down"):  # which of the two 'inside' is depends on the folds
            yield ("sheet " + ", ".join((*row, f"coloured side {way}")),)
    elif row:
        yield ("sheet " + ", ".join(row),)


def _figure(number: str) -> str:
    return number.replace(",", ".")


def _unit(unit: str, number: str) -> str:
    if unit in ("mm", "cm"):
        return unit
    return "inch" if number == "1" else "inches"


def _lying(part: str) -> str:
    """How a sheet lies: 'white side up'."""
    face = re.search(r"\b(colou?red|colou?r|white|plain)\b.*\b(up|down)\b", part)
    if face:
        side = "coloured" if face[1].startswith("colo") else face[1]
        return f"{side} side {face[2]}"
    if re.search("diamond|on (?:its|a|the) (?:corner|point|tip)", part):
        return "corner A at the bottom"
    if re.search("upright|vertical|portrait|tall", part):
        return "portrait"
    if re.search("sideways|horizontal|landscape|lying|wide", part):
        return "landscape"
    if re.match(r"corner (?:at|on|to)\b.*\b(?:bottom|top)", part):
        return f"corner A at the {'top' if 'top' in part else 'bottom'}"
    return part if re.match(r"(?:corner|edge|corners) ", part) else ""
