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
#: Up to this they are centimetres more likely than millimetres.
_CENTIMETRES = 60
#: Colours by which a side of the paper is called.
_TINTS = "red|blue|green|yellow|orange|purple|violet|pink|brown|black|grey|gray"
#: Numbers in words, as many as sheets are usually counted so.
_COUNTS = {
    word: number
    for number, word in enumerate(
        [
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
        ],
        start=2,
    )
}
_NUMBERS = frozenset(("one", "first", "last", *_COUNTS))
#: Words of a line that tells how many sheets there are.
_COUNTED = re.compile(r"\b(?:sheets|pieces|units)\b")
#: What opens a line of the sheet.
_OPENERS = ("sheet", "paper", "square", "size")
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
    if not inside:
        line = _opener_first(line)
    elif re.match(r"steps? \d+ (?:repeat|again)\b", line):
        return
    m = re.match(r"(\w+)\b *:?(.*)", line, re.DOTALL)
    opener = m[1].lower() if m else ""
    if m and opener in _TEXTS and not (inside and opener == "name"):
        yield from _text(_TEXTS[opener], m[2])
    if m and not inside and opener in ("level", "difficulty"):
        easy = re.search(r"easy|simple|beginner|basic", m[2].lower())
        yield (f"level {'simple' if easy else m[2].strip().lower()}",)
    if m and not inside and opener == "credit":
        yield (f"credit {m[2].strip()}",)
    if not inside:
        yield from _sheets(line)
    if m and not inside and opener in _OPENERS:
        yield from _sheet(m[2] if opener != "square" else f"square {m[2]}")


def _opener_first(line: str) -> str:
    """'traditional credit', '15 cm square sheet', 'coloured side up sheet square 15 cm' with its first word
    where it belongs."""
    side = re.fullmatch(r"((?:\w+ )?side (?:up|down)),? (?:sheet|paper) (.+)", line, re.IGNORECASE)
    if side:
        return f"sheet {side[2]}, {side[1].lower()}"
    last = re.fullmatch(r"(\S.*) (credit|model|title|sheet|paper)", line, re.IGNORECASE)
    opens = re.match(r"[a-z]+", line)
    if last is None or _COUNTED.search(line) or (opens and opens[0] in (*_TEXTS, *_OPENERS)):
        return line
    return f"{last[2].lower()} {last[1]}"


def _sheets(line: str) -> Iterator[tuple[str, ...]]:
    """'sheets six', 'six sheets', 'sheet 2': how many, in a word or the wrong way round."""
    m = re.fullmatch(
        r"sheets:? (?:of paper )?(\w+)|(\w+) (?:sheets?|pieces|units)(?: of paper)?", line.lower()
    ) or re.fullmatch(r"sheet ([2-4])()", line)  # more are centimetres
    if m is None:
        return
    count = m[1] or m[2]
    if count in _COUNTS or count.isdigit():
        yield (f"sheets {_COUNTS.get(count, count)}",)


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
    if word == "step" and text.lower() in _NUMBERS:  # 'step one': they are numbered by themselves
        text = ""
    quoted = text.replace("\\", "\\\\").replace('"', '\\"')
    if text:
        yield (f'{word} {code}"{quoted}"',)
    elif word == "step":
        yield ("step",)


def _sheet_without_unit(shape: str, number: str) -> Iterator[tuple[str, ...]]:
    """A sheet whose sides have no unit, the first of them a `number`."""
    long = float(_figure(number).split()[0].split("/")[0])
    units = (
        ("inches", "cm")
        if long <= _INCHES
        else ("cm", "inches")
        if long <= _CENTIMETRES
        else ("mm", "cm")
    )
    for unit in units:
        yield from _sheet(f"{shape} {unit}")


def _sheet(rest: str) -> Iterator[tuple[str, ...]]:
    """A sheet's shape and how it lies."""
    rest = re.sub(r"\bside (?:below|under(?:neath)?|downwards?|face down)\b", "side down", rest)
    rest = re.sub(r"\bside (?:above|on top|upwards?|face up)\b", "side up", rest)
    ratio = re.fullmatch(rf" *ratio (?:of )?{_NUMBER} *(?:by|x|×|:) *{_NUMBER}(,.*)?", rest)
    if ratio:
        yield (f"sheet ratio {ratio[1]} to {ratio[2]}{ratio[3] or ''}",)
        return
    shape, *more = (part.strip() for part in rest.split(", "))
    shape, written = shape.lower(), shape
    two = re.search(rf"{_NUMBER} *{_UNIT}? *(?:x|×|\*|by) *{_NUMBER} *{_UNIT}", shape) or re.search(
        rf"{_NUMBER} *{_UNIT}[ ,]+{_NUMBER} *{_UNIT}", shape
    )
    bare = re.fullmatch(rf"(?:rectangle |paper )?{_NUMBER} *(?:x|×|\*|by) *{_NUMBER}", shape)
    if bare and not two:
        yield from _sheet_without_unit(bare[0], bare[1])
        return
    side = re.fullmatch(rf"(?:square )?{_NUMBER}", shape)
    if side:
        yield from _sheet_without_unit(f"square {side[1]}", side[1])
        return
    one = re.search(rf"{_NUMBER} *{_UNIT}", shape)
    shape = re.sub(r"\bhalf (?:an? )?([ab])(\d)\b", _half_of, shape)
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
    tail = written[end:] if said else written
    row = [said] if said else []
    row.extend(lying for part in (tail, *more) for lying in _lying(part))
    tinted = re.search(rf"\b({_TINTS}) side.*\b(up|down)\b", rest.lower())
    if tinted:
        sheet = "sheet " + ", ".join((*row, f"coloured side {tinted[2]}"))
        yield (sheet, f"colours {tinted[1]} and white")
        yield (sheet,)
        return
    tint = re.search(rf"\b({_TINTS})\b", rest.lower())
    if tint and row:
        yield ("sheet " + ", ".join(row), f"colours {tint[1]} and white")
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


def _corner_placed(name: str, height: str, side: str) -> Iterator[str]:
    """A corner of an upright sheet: nothing where it lies as usual, as A does at the bottom left."""
    places = (("bottom", "left"), ("bottom", "right"), ("top", "right"), ("top", "left"))
    here = {"lower": "bottom", "upper": "top"}.get(height, height)
    turned = "ABCD".index(name) - places.index((here, side))
    if turned:
        yield f"corners named {' '.join('ABCD'[(k + turned) % 4] for k in range(4))}"


def _half_of(m: re.Match[str]) -> str:
    """Half a sheet of ISO 216: the next size of its series."""
    return f"{m[1]}{int(m[2]) + 1}"


def _lying(part: str) -> Iterator[str]:
    """How a sheet lies, each thing that is said of it: 'white side up', 'corner A at the bottom'."""
    plain = part.lower()
    face = re.search(r"\b(colou?red|colou?r|white|plain)\b.*?\b(up|down)\b", plain)
    if face:
        side = "coloured" if face[1].startswith("colo") else face[1]
        yield f"{side} side {face[2]}"
    if re.search("upright|vertical|portrait|tall", plain):
        yield "portrait"
    elif re.search(
        "sideways|horizontal|landscape|lying|wide|long(?:er)? (?:edge|side) (?:at|on) (?:the )?bottom",
        plain,
    ):
        yield "landscape"
    elif re.search("short(?:er)? (?:edge|side) (?:at|on) (?:the )?bottom", plain):
        yield "portrait"
    placed = re.search(
        r"\bcorner ([A-D]) (?:(?:at|on|in|to|is|lies|the) )*(bottom|lower|top|upper)[ -](left|right)\b",
        part,
    )
    if placed:
        yield from _corner_placed(*placed.groups())
        return
    named = re.search(
        r"\b(corner [A-Z]\w*|edge [A-Z]\w* [A-Z]\w*)"
        r"(?: (?:at|on|to|towards|facing|pointing|lies|is|the|very))* (?:bottom|below|down|lower)\b",
        part,
    )
    way = re.search(r"\bcorner (?:at|on|to)\b.*\b(bottom|top)", plain)
    if named:
        yield f"{named[1]} at the bottom"
    elif re.search("diamond|on (?:its|a|the) (?:corner|point|tip)", plain):
        yield "corner A at the bottom"
    elif way:
        yield f"corner A at the {way[1]}"
    elif not face and re.match(r"(?:corner|edge) ", plain):
        yield part
    corners = re.search(r"\bcorners (?:named |called )?([A-Z]\w*(?: [A-Z]\w*)+)", part)
    if corners:
        yield f"corners named {corners[1]}"
