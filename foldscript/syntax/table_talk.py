"""What a line in a teacher's own words may have been meant for: its text in, statements of the language out.

The words of books and of the table are many, and the language has one way for each thing. A line that
could not be read is put into the language's words by the rules below, one after the other. Whether what
comes out can be read is for whoever asks to find out: a rule may be bold, for nothing that cannot be read
is ever shown.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from .head_talk import head_lines

#: Statements that stand in the place of one line, in their order.
Lines = tuple[str, ...]


@dataclass(frozen=True)
class Setting:
    """Where a line stands: what the sheet's corners are called, and the number of the last finished step."""

    corners: tuple[str, ...] = ("A", "B", "C", "D")
    step: int = 0
    inside: bool = True  # under a step, not in the head

    def edge(self, p: str, q: str) -> bool:
        """Whether two corners are the ends of one edge."""
        if p not in self.corners or q not in self.corners:
            return False
        apart = abs(self.corners.index(p) - self.corners.index(q))
        return apart in (1, len(self.corners) - 1)


_COUNTS = {"one": 1, "a": 1, "single": 1, "both": 2, "two": 2, "three": 3, "four": 4}
_PARTS = {"half": 2, "third": 3, "quarter": 4, "fourth": 4, "fifth": 5, "sixth": 6, "eighth": 8}
_WAY = r"(?:left|right|top|bottom|upper|lower)"
_CENTRE = r"(?:the )?(?:centre|center|middle)"
_NAME = r"[A-Z][\w']*"
#: A point in one word or two: 'A', 'corner A', 'point P'.
_POINT = rf"(?:(?:corner|point) )?{_NAME}"

Rule = tuple[str, str | Callable[[re.Match[str]], str]]


def _fraction(m: re.Match[str]) -> str:
    part = Fraction(m[1]) / (100 if "%" in m[0] or "cent" in m[0] else 1)
    return f"{part.numerator}/{part.denominator} of "


def _part(m: re.Match[str]) -> str:
    return f"{_COUNTS[m[1]]}/{_PARTS[m[2].rstrip('s')]} of "


def _layers(m: re.Match[str]) -> str:
    count = _COUNTS.get(m[1], 1)
    return f"{count} layer{'s' if count > 1 else ''}"


def _turned(m: re.Match[str]) -> str:
    way = "anticlockwise" if re.search("left|anti|counter", m[0]) else "clockwise"
    return f"rotate {m[1]} degrees {way}"


#: What a stretch of a line is in the language's words, wherever it stands; one rule after the other.
_STRETCHES: tuple[Rule, ...] = (
    (r"^(?:please|now|then|next) ", ""),
    (r"\bthe ", ""),
    (r"\bonly$", ""),
    # numbers, parts, lengths
    (r"(\d),(\d)", r"\1.\2"),
    (r'\b1(?:"|″|”| in\b\.?)', "1 inch"),
    (r'(\d)(?:"|″|”)', r"\1 inches"),
    (r"(\d+(?:\.\d+)?) ?(?:%|per ?cent)(?: of)? ?", _fraction),
    (r"\b(0\.\d+) of ", _fraction),
    (
        r"\b(one|two|three|a)[ -](half|third|quarter|fourth|fifth|sixth|eighth)s? "
        r"(?:of|along|on|up) ",
        _part,
    ),
    (
        r"\b(?:half ?way|mid ?way|half|middle|centre|center) (?:between|of|along|on) ",
        "midpoint of ",
    ),
    (r"\bmidpoint between ", "midpoint of "),
    (rf"\b(midpoint of {_NAME}) and ({_NAME})", r"\1 \2"),
    # where things lie
    (rf"\b(edge|corner) ((?:top|bottom|upper|lower) (?:left|right)|{_WAY})\b", r"\2 \1"),
    (rf"\b({_WAY}) (?:hand )?sides?\b", r"\1 edge"),
    (rf"\b({_WAY}) (to|onto) ({_WAY})$", r"\1 edge onto \3 edge"),
    (rf"^(\w+) ({_WAY}) (to|onto) ({_CENTRE}(?: line)?)$", r"\1 \2 edge onto \4"),
    (
        rf"\b(?:edge|fold)((?: up| down| over| in)?) (?:to|onto) {_CENTRE}(?: line| crease)?$",
        r"edge\1 onto centre line",
    ),
    (r"\bmiddle (?:line|crease)\b|\bcent(?:re|er) crease\b", "centre line"),
    (r"\bmiddle\b", "centre"),
    (
        r"\b(?:intersection|crossing|crossing point|meeting point) (?:of|between) (\S+) and (\S+)",
        r"where \1 meets \2",
    ),
    (r"\bwhere (\S+) (?:crosses|intersects|cuts|touches) ", r"where \1 meets "),
    (r"\bwhere (\S+) and (\S+) (?:cross|meet|intersect)\b", r"where \1 meets \2"),
    # how many
    (
        r"\b(?:only )?(one|single|top|front|first|upper) (?:single )?layers?\b(?! at)(?: only)?",
        _layers,
    ),
    (r"\b(both|two|three|four) layers\b", _layers),
    (r"\bthrough all layers\b", "all layers"),
    # ways
    (r"\b(?:towards?|until|till|upto|into) (?!(?:thirds|quarters|fourths|half|two)\b)", "to "),
    (r"\b(?:to )?meet ", "to "),
)

#: What opens a line, after the stretches.
_OPENINGS: tuple[Rule, ...] = (
    (r"^(?:pre-?crease|score|mark a crease)\b", "crease"),
    (r"^(?:fold and unfold|fold & unfold)\b", "crease"),
    (r"^(?:valley|mountain|fold)( .*) and (?:then )?unfold(?: it| again)?$", r"crease\1"),
    (r"^(?:bring|bend|take|put|move|lift|place)\b", "fold"),
    (r"^(?:valley )?fold (?:away |over )?(?:behind|backwards?|back|away)\b(.*)$", r"mountain\1"),
    (r"^(?:valley )?(?:fold )?(.*) (?:away behind|behind|backwards?|to back)$", r"mountain \1"),
    (r"^fold\b", "valley"),
    (r"^flip(?: it| paper| model)?(?: over)?$", "turn over"),
    (r"^turn (?:it|paper|model|sheet)(?: over)?$", "turn over"),
    (r"^(?:turn|rotate|spin)(?: it| paper| model)?(?: by)? (\d+)(?: ?°| ?degrees?)?\b.*$", _turned),
    (
        r"^(?:turn|rotate|spin)(?: it| paper| model)?(?: by)?(?: a| one)? half(?: turn)?$",
        "rotate half turn",
    ),
    (r"^(?:open|open it|undo|unfold it|unfold again|unfold last fold|undo last fold)$", "unfold"),
    (
        r"^(?:open|unfold|undo) (?:everything|all|it all|completely|fully|paper|whole model)$",
        "unfold to step 0",
    ),
)


def said_otherwise(line: str, setting: Setting) -> list[Lines]:
    """What a line that cannot be read may have been meant for, the likeliest first; statements in rows."""
    line = re.sub(r"\s+", " ", line).strip(" ,.;")
    found: list[Lines] = list(head_lines(line, inside=setting.inside))
    numbered = re.match(r"\d+[.):]? +(?=[a-z])", line, re.IGNORECASE)
    if numbered:
        rest = line[numbered.end() :]
        found.extend(("step", f"  {row[0]}", *row[1:]) for row in [(rest,), *_moves(rest, setting)])
    elif setting.inside:
        found.extend(_moves(line, setting))
    else:
        found.extend(("step", *(f"  {one}" for one in row)) for row in _moves(line, setting))
    return list(dict.fromkeys(row for row in found if row != (line,)))


def _moves(line: str, setting: Setting) -> Iterator[Lines]:
    plain = _in_small_letters(line, setting)
    for pattern, said in _STRETCHES:
        plain = re.sub(pattern, said, plain)
    plain = " ".join(plain.replace(",", " ").split()).strip()
    for pattern, said in _OPENINGS:
        plain = re.sub(pattern, said, plain)
    plain = " ".join(plain.split())
    for rows in (_halves, _parts, _corners, _both, _diagonals, _again, _turn):
        yield from rows(plain, setting)
    yield from _pairs(plain, setting)
    yield (_named(plain),)


def _in_small_letters(line: str, setting: Setting) -> str:
    """Words with a capital made small, and letters that stand alone made capital."""

    def one(m: re.Match[str]) -> str:
        word = m[0]
        if len(word) > 1:
            return word.lower() if word[1:].islower() else word
        return word.upper() if word.upper() in setting.corners else word

    return re.sub(r"(?<![\w'-])[A-Za-z]+(?![\w'-])", one, line)


def _named(plain: str) -> str:
    """A name of several words made one: 'as middle-crease'."""
    m = re.search(r" as (\w+(?: \w+)+)$", plain)
    return plain if m is None else f"{plain[: m.start()]} as {m[1].replace(' ', '-')}"


_SHEET = r"(?: (?:it|paper|sheet|square|rectangle|model))?"
_LEVEL = re.compile("horizontal|sideways|crosswise|bottom")
_UPRIGHT = re.compile("vertical|lengthwise|book|left")


def _halves(plain: str, setting: Setting) -> Iterator[Lines]:
    """'fold in half', and what may be meant by it."""
    m = re.fullmatch(
        rf"(valley|mountain|crease)(?: fold)?{_SHEET} (?:in half|in two|half)(.*)", plain
    )
    if m is None and re.match("book( fold)?$", plain):
        yield ("valley left edge onto right edge",)
    if m is None:
        return
    verb, how = m[1], m[2]
    upward, across = f"{verb} bottom edge onto top edge", f"{verb} left edge onto right edge"
    if re.search("diagonal|corner|triangle", how):
        yield from (
            (f"{verb} {p} to {q}",)
            for p, q in zip(setting.corners[:2], setting.corners[2:4], strict=False)
        )
        return
    yield from ((across,), (upward,)) if _UPRIGHT.search(how) else ((upward,), (across,))
    if not how and len(setting.corners) == 4:
        yield (f"{verb} {setting.corners[0]} to {setting.corners[2]}",)


def _parts(plain: str, setting: Setting) -> Iterator[Lines]:
    """'crease in thirds' of a sheet with four corners."""
    m = re.fullmatch(
        rf"(?:crease|valley|pinch){_SHEET} (?:in|into|to) "
        r"(three|four|thirds|quarters|fourths|fifths|sixths|eighths)(.*)",
        plain,
    )
    if m is None or len(setting.corners) != 4:
        return
    parts = _PARTS.get(m[1].rstrip("s"), 0) or _COUNTS[m[1]]
    a, b, _, d = setting.corners
    across = [
        tuple(
            f"crease through {k}/{parts} of {p} {q} perpendicular to edge {p} {q}"
            for k in range(1, parts)
        )
        for p, q in ((a, b), (a, d))
    ]
    yield from reversed(across) if _LEVEL.search(m[2]) else across


def _corners(plain: str, setting: Setting) -> Iterator[Lines]:
    """A blintz, or all corners to the middle: one corner after the other."""
    every = (
        r"(valley|mountain|crease)(?: fold)? "
        r"(?:all|four|every|each)(?: four)?(?: of)? corners?(?: in)? to (\S+)"
    )
    m = re.fullmatch(every, plain)
    if m is None and not re.fullmatch("blintz(?: fold)?|valley blintz", plain):
        return
    verb, to = (m[1], m[2]) if m else ("valley", "centre")
    yield tuple(f"{verb} {corner} to {to}" for corner in setting.corners)


def _both(plain: str, setting: Setting) -> Iterator[Lines]:
    """Both sides to the middle line."""
    both = (
        r"(valley|crease)(?: fold)? both (?:left and right )?(?:edges|sides|doors)"
        r"(?: in)? (?:to|onto) (.+)"
    )
    m = re.fullmatch(both, plain)
    if m:
        to = re.sub("^(centre|center)$", "centre line", m[2])
        yield tuple(f"{m[1]} {side} edge onto {to}" for side in ("left", "right"))
    elif re.fullmatch("(?:cupboard|gate|cabinet|door)(?: door)?s?(?: fold)?", plain):
        yield tuple(f"valley {side} edge onto centre line" for side in ("left", "right"))
    elif re.fullmatch("kite(?: fold)?", plain):
        yield tuple(f"valley bottom {side} edge onto centre line" for side in ("left", "right"))


def _diagonals(plain: str, setting: Setting) -> Iterator[Lines]:
    if len(setting.corners) != 4:
        return
    a, b, c, d = setting.corners
    if re.fullmatch("(?:crease|valley)(?: both| two| all)? diagonals", plain):
        yield (f"crease {a} to {c}", f"crease {b} to {d}")
    elif re.fullmatch("(?:crease|valley)(?: along)?(?: a| one)? diagonal", plain):
        yield (f"crease {a} to {c}",)
        yield (f"crease {b} to {d}",)
    elif re.fullmatch(
        "(?:valley) corner to opposite corner|valley opposite corners together", plain
    ):
        yield (f"valley {a} to {c}",)
        yield (f"valley {b} to {d}",)


_PLACES: tuple[tuple[str, str], ...] = (
    (r"other side and behind|all around", "on the other side and behind"),
    (r"other side|both sides|opposite side|other one", "on the other side"),
    (r"right", "on the right"),
    (r"left", "on the left"),
    (r"behind|back|underneath", "behind"),
)


def _again(plain: str, setting: Setting) -> Iterator[Lines]:
    """A step done again: which one is said by its number."""
    dashed = re.match(r"repeat steps? (\d+) ?[-–—] ?(\d+)(.*)", plain)
    if dashed:
        rest = dashed[3] if dashed[3].strip() else " again"
        yield (f"repeat steps {dashed[1]} to {dashed[2]}{rest}",)
    m = re.fullmatch(
        r"(?:repeat|do|same)"
        r"(?: same| it| this| that| last| previous| step| thing| fold| move| above| again)*(?: (.*))?",
        plain,
    )
    if m is None or not setting.step:
        return
    rest = m[1] or ""
    if re.search(r"\d", rest):
        return
    where = next((said for pattern, said in _PLACES if re.search(pattern, rest)), "")
    on = re.fullmatch(
        rf"(?:on|with|for|at) (?:corners? |flaps? )?({_POINT}(?: and {_POINT})?)", rest
    )
    if not where and on:
        where = f"on {on[1]}"
    if where or not rest:
        yield (f"repeat step {setting.step} {where or 'again'}",)


def _turn(plain: str, setting: Setting) -> Iterator[Lines]:
    if re.fullmatch("(?:turn|spin)(?: around| round| about| upside down)?", plain):
        yield ("rotate half turn",)
        yield ("turn over",)
    m = re.fullmatch(
        "(?:open|undo|unfold) (?:last |previous )?(two|three|four|2|3|4)(?: last| previous)? (?:folds|steps)",
        plain,
    )
    if m:
        count = _COUNTS.get(m[1]) or int(m[1])
        yield ("unfold",) * count


def _pairs(plain: str, setting: Setting) -> Iterator[Lines]:
    """Two things moved by one line; letters that stand for edges."""
    m = re.fullmatch(
        rf"(valley|mountain|crease|pinch)(?: fold)? (?:corners |points )?({_POINT}) and ({_POINT})"
        r"((?: up| down| in| over)? (?:to|onto) .+)",
        plain,
    )
    if m:
        yield tuple(f"{m[1]} {who}{m[4]}" for who in (m[2], m[3]))

    def joined(m: re.Match[str]) -> str:
        kind = m[1] or ("edge " if setting.edge(m[2], m[3]) else "line ")
        return f"{kind}{m[2]} {m[3]}"

    letters = "".join(corner for corner in setting.corners if len(corner) == 1)
    if letters:
        yield (re.sub(rf"\b(edge |line )?([{letters}]) ?([{letters}])\b", joined, plain),)
