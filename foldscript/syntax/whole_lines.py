"""Whole lines in a teacher's own words: 'fold in half', 'both sides to the middle', 'do the same behind'.

In: a line after the rules of `table_talk.py`. Out: rows of statements that may be meant by it, the likeliest
first. What comes out is tried before it is shown.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

#: Statements that stand in the place of one line, in their order.
Lines = tuple[str, ...]


@dataclass(frozen=True)
class Setting:
    """Where a line stands: what the sheet's corners are called, and the number of the last finished step."""

    corners: tuple[str, ...] = ("A", "B", "C", "D")
    step: int = 0
    inside: bool = True  # under a step, not in the head
    names: tuple[str, ...] = ()  # those that the script has given
    lowest: str = ""  # the corner that lies at the bottom, where one alone does

    def free(self, count: int) -> list[str]:
        """Names for points that the script has not."""
        letters = (c for c in "PQRSTUVWXYZ" if c not in self.corners and c not in self.names)
        return [*letters, *(f"P{n}" for n in range(2, 2 + count))][:count]

    def edge(self, p: str, q: str) -> bool:
        """Whether two corners are the ends of one edge."""
        if p not in self.corners or q not in self.corners:
            return False
        apart = abs(self.corners.index(p) - self.corners.index(q))
        return apart in (1, len(self.corners) - 1)


def neighbours(corner: str, setting: Setting) -> tuple[str, ...]:
    """The corners at the other ends of a corner's edges."""
    if corner not in setting.corners:
        return ()
    at, count = setting.corners.index(corner), len(setting.corners)
    return (setting.corners[(at + 1) % count], setting.corners[at - 1])


COUNTS = {"one": 1, "a": 1, "single": 1, "both": 2, "two": 2, "three": 3, "four": 4}
PARTS = {"half": 2, "third": 3, "quarter": 4, "fourth": 4, "fifth": 5, "sixth": 6, "eighth": 8}
WAY = r"(?:left|right|top|bottom|upper|lower)"
CENTRE = r"(?:the )?(?:centre|center|middle)"
NAME = r"[A-Z][\w']*"
#: A point in one word or two: 'A', 'corner A', 'point P'.
POINT = rf"(?:(?:corner|point) )?{NAME}"

LENGTH = r"((?:\d+(?:\.\d+)?|\d+/\d+) (?:mm|cm|inch|inches))"

AGAINST = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
_SHEET = r"(?: (?:it|paper|sheet|square|rectangle|model))?"
_LEVEL = re.compile("horizontal|sideways|crosswise|bottom")
_UPRIGHT = re.compile("vertical|lengthwise|book|left")


def _halves(plain: str, setting: Setting) -> Iterator[Lines]:
    """'fold in half', and what may be meant by it."""
    m = re.fullmatch(
        rf"(valley|mountain|crease)(?: fold)?{_SHEET} (?:in half|in two|half)(.*)", plain
    )
    alone = re.fullmatch(
        r"(valley|mountain)(?: fold)? (?:over )?(?:to )?(up|down|left|right)", plain
    )
    if alone:
        way = {"up": "top", "down": "bottom"}.get(alone[2], alone[2])
        yield (f"{alone[1]} {AGAINST[way]} edge onto {way} edge",)
    if re.fullmatch("book(?: fold)?", plain):
        yield ("valley left edge onto right edge",)
    level, upright = r"horizontal(?:ly)?", r"vertical(?:ly)?"
    if re.fullmatch(rf"crease (?:{level} and {upright}|{upright} and {level})", plain):
        yield ("crease bottom edge onto top edge", "crease left edge onto right edge")
    if re.fullmatch(r"crease(?: along)? centre line", plain):
        yield from (("crease left edge onto right edge",), ("crease bottom edge onto top edge",))
    if m is None:
        return
    verb, how = m[1], m[2]
    told = re.fullmatch(rf" from ({WAY})(?: edge)? (?:to|onto) ({WAY})(?: edge)?", how)
    if told:
        yield (f"{verb} {told[1]} edge onto {told[2]} edge",)
        return
    upward, across = f"{verb} bottom edge onto top edge", f"{verb} left edge onto right edge"
    if re.search("diagonal|corner|triangle", how):
        yield from (
            (f"{verb} {p} to {q}",)
            for p, q in zip(setting.corners[:2], setting.corners[2:4], strict=False)
        )
        return
    if re.search(r"\b(?:both|each|two)\b", how) and verb == "crease":
        yield (upward, across)
        return
    yield from ((across,), (upward,)) if _UPRIGHT.search(how) else ((upward,), (across,))
    if not how and len(setting.corners) == 4:
        yield (f"{verb} {setting.corners[0]} to {setting.corners[2]}",)


def _parts(plain: str, setting: Setting) -> Iterator[Lines]:
    """'crease in thirds' of a sheet with four corners."""
    m = re.fullmatch(
        rf"(?:crease|valley|pinch){_SHEET} (?:in|into|to) "
        r"(three|four|thirds|quarters|fourths|fifths|sixths|eighths|[2-9]|1\d)(?: equal)?(?: parts)?(.*)",
        plain,
    )
    if m is None or len(setting.corners) != 4:
        return
    parts = int(m[1]) if m[1].isdigit() else PARTS.get(m[1].rstrip("s"), 0) or COUNTS[m[1]]
    a, b, _, d = setting.corners
    if parts == 3 and plain.startswith("valley"):  # a letter: both ends are folded in
        for p, q in ((a, b), (a, d)) if _UPRIGHT.search(m[2]) else ((a, d), (a, b)):
            low, high = setting.free(2)
            yield (
                f"mark {low} at 1/3 of {p} {q}",
                f"mark {high} at 2/3 of {p} {q}",
                f"valley {p} to {high}",
                f"valley {q} to {low}",
            )
        return
    across = [
        tuple(
            f"crease through {Fraction(k, parts)} of {p} {q} perpendicular to edge {p} {q}"
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


#: The two heights under all their words.
HEIGHTS = {"top": "top", "upper": "top", "bottom": "bottom", "lower": "bottom"}


def _pair(way: str) -> tuple[str, str]:
    """The two that face one way: those at the bottom are left and right, those on the left top and bottom."""
    if way in HEIGHTS:
        return f"{HEIGHTS[way]} left", f"{HEIGHTS[way]} right"
    return f"bottom {way}", f"top {way}"


def _both(plain: str, setting: Setting) -> Iterator[Lines]:
    """Both sides to the middle line, the two lower edges or corners to one place."""
    both = (
        r"(valley|crease|mountain)(?: fold)?(?: both| two| all)?(?: left and right)?"
        r"(?: (top|upper|bottom|lower|left|right))?(?: side)? (edges|sides|doors|corners)"
        r"(?: up| down| in| over)? (?:to|onto) (.+?)(?: again)?"
    )
    m = re.fullmatch(both, plain)
    if m:
        verb, way, things, to = m[1], m[2], m[3], m[4]
        corners = things == "corners"
        if not corners:
            to = re.sub("^(centre|center)$", "centre line", to)
        if (
            corners
            and way in HEIGHTS
            and re.search(r"line$|^Given|^[a-z][\w-]*$", to)
            and to != "centre"
        ):
            (mid,) = setting.free(1)  # the fold starts between the two
            yield (
                f"mark {mid} at midpoint of {HEIGHTS[way]} edge",
                *(f"{verb} {pair} corner onto {to}, through {mid}" for pair in _pair(way)),
            )
            return
        kind, link = ("corner", "to") if corners else ("edge", "onto")
        apart = not way and re.search(" left and right | side ", plain.partition(" to ")[0])
        for pairs in (
            [("left", "right")]
            if apart and corners
            else [_pair(way)]
            if way
            else []
            if corners
            else [("left", "right"), _pair("bottom")]
        ):
            yield tuple(f"{verb} {pair} {kind} {link} {to}" for pair in pairs)
    elif re.fullmatch("(?:cupboard|gate|cabinet|door)(?: door)?s?(?: fold)?", plain):
        yield tuple(f"valley {side} edge onto centre line" for side in ("left", "right"))
    elif re.fullmatch("kite(?: fold)?", plain):
        yield tuple(f"valley bottom {side} edge onto centre line" for side in ("left", "right"))


def _diagonals(plain: str, setting: Setting) -> Iterator[Lines]:
    if len(setting.corners) != 4:
        return
    a, b, c, d = setting.corners
    if re.fullmatch(
        "(?:crease|valley)(?: both| two| all)? diagonals|crease diagonally both ways", plain
    ):
        yield (f"crease along line {a} {c}", f"crease along line {b} {d}")
    elif m := re.fullmatch(
        rf"(crease|valley)(?: both| two)? diagonals ({NAME}) ({NAME}) and ({NAME}) ({NAME})", plain
    ):
        yield (f"crease along line {m[2]} {m[3]}", f"crease along line {m[4]} {m[5]}")
    elif re.fullmatch("(?:valley|mountain)(?: fold)?(?: along| on)? diagonal", plain):
        yield (f"{plain.split()[0]} {a} to {c}",)
        yield (f"{plain.split()[0]} {b} to {d}",)
    elif re.fullmatch("crease(?: along)?(?: a| one)? diagonal", plain):
        yield (f"crease along line {a} {c}",)
        yield (f"crease along line {b} {d}",)
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
    often = re.fullmatch(
        r"(?:with |on |for )?(?:all |other )*(two|three|four|2|3|4)(?: more| other)?"
        r" (?:times|corners|flaps|sides)",
        rest,
    )
    if often:
        count = COUNTS.get(often[1]) or int(often[1])
        yield (f"repeat step {setting.step}, {min(count, 3)} times",)
    if re.search(r"\d", rest):
        return
    where = next((said for pattern, said in _PLACES if re.search(pattern, rest)), "")
    on = re.fullmatch(
        rf"(?:on|with|for|at|to) (?:corners? |flaps? )?({POINT}(?: and {POINT})?)", rest
    )
    if not where and on:
        where = f"on {on[1]}"
    places = [where] if where else [] if rest else ["on the other side", "behind", "again"]
    yield from ((f"repeat step {setting.step} {place}",) for place in places)


def _turn(plain: str, setting: Setting) -> Iterator[Lines]:
    if re.fullmatch(
        "(?:turn|rotate|spin)(?: it| paper| model)? (?:around|round|about|upside[- ]down)|turn",
        plain,
    ):
        yield ("rotate half turn",)
        yield ("turn over",)
    m = re.fullmatch(
        "(?:open|undo|unfold) (?:last |previous )?(both|two|three|four|2|3|4)"
        "(?: last| previous)?(?: folds| steps| flaps)?",
        plain,
    )
    if m:
        count = COUNTS.get(m[1]) or int(m[1])
        yield ("unfold",) * count


def _lines(plain: str, setting: Setting) -> Iterator[Lines]:
    """Strips by their width, gaps, and lines by their angle."""
    strip = re.fullmatch(
        rf"(valley|mountain|crease) (?:fold )?(?:over |in |up |down )?({WAY}) (?:edge )?"
        rf"(?:up |down |over |in |by )*{LENGTH}(?: up| in| over)?",
        plain,
    )
    if strip:
        yield (f"{strip[1]} along line {strip[3]} from {strip[2]} edge, moving {strip[2]} edge",)
    gap = re.search(
        rf"^((?!cut )\w+ .*\w) (?:to|onto) {LENGTH} (?:below|above|from|beside|away from) (.*)$",
        plain,
    )
    if gap:
        yield (f"{gap[1]} onto line {gap[2]} from {gap[3]}",)
    raised = re.fullmatch(
        r"(?:valley|mountain)(?: fold)? .*?\b(?:(\d+) ?(?:degrees?|°)|upright|right angles?)"
        r"(?: .*)?\balong (\S+)",
        plain,
    )
    if raised:
        yield (f"raise along {raised[2]}" + (f" to {raised[1]} degrees" if raised[1] else ""),)
    angle = re.fullmatch(
        rf"(valley|mountain|crease) (?:at |along )?(?:line )?(?:at )?(\d+) ?(?:degrees?|°)"
        rf"(?: line)? (?:from|at|through) (?:corner )?({NAME})",
        plain,
    )
    if angle and angle[3] in setting.corners:
        p = angle[3]
        q = setting.corners[(setting.corners.index(p) + 1) % len(setting.corners)]
        moving = "" if angle[1] == "crease" else f", moving {q}"
        yield (f"{angle[1]} along line through {p} at {angle[2]} degrees to edge {p} {q}{moving}",)


def _flaps(plain: str, setting: Setting) -> Iterator[Lines]:
    """A flap that is named by no point: by where it points."""
    m = re.fullmatch(
        r"(valley|mountain)(?: fold)? (?:(?:top|front|back|upper|first|one|a) )?(?:flap|layer|point)"
        rf"(?: back)? (up|down|left|right)(?: to {WAY}(?: edge| corner)?)?",
        plain,
    )
    if m:
        way = {"up": "top", "down": "bottom"}.get(m[2], m[2])
        for thing in ("corner", "edge"):
            yield (f"{m[1]} {AGAINST[way]} {thing} to {way} {thing}",)
        yield (f"{m[1]} {AGAINST[way]} corner to midpoint of {way} edge",)


def in_pairs(plain: str, setting: Setting) -> Iterator[Lines]:
    """Two things moved by one line; letters that stand for edges."""
    told = re.fullmatch("(mark|crease|valley|mountain) (.*)", plain)
    if told and told[1] == "mark":
        yield (
            re.sub(
                r"^mark (?:centre|center|corner|point|top|bottom|left|right) (?=at |where |midpoint )",
                "mark P ",
                plain,
            ),
        )
    m = re.fullmatch(
        rf"(valley|mountain|crease|pinch)(?: fold)? (?:corners |points )?({POINT}) and ({POINT})"
        r"((?: up| down| in| over)? (?:to|onto) .+)",
        plain,
    )
    if m:
        yield (f"{m[1]} {m[2]} and {m[3]}{m[4]}",)

    def joined(m: re.Match[str]) -> str:
        kind = m[1] or ("edge " if setting.edge(m[2], m[3]) else "line ")
        return f"{kind}{m[2]} {m[3]}"

    letters = "".join(corner for corner in setting.corners if len(corner) == 1)
    if letters:
        operand = rf"(?<!of )(?<!through )(?<!from )\b(edge |line )?([{letters}]) ?([{letters}])\b"
        said = re.sub(operand, joined, plain)
        said = re.sub(r"(?<= )to (?=(?:edge|line) )", "onto ", said)
        along = re.sub(r"^(\w+) ((?:edge|line) \w+ \w+)$", r"\1 along \2", said)
        ways = [along, " to ".join(plain.rsplit(" ", 1))]
        if not re.fullmatch(rf"\w+ [{letters}] [{letters}]", plain):
            ways.pop()
        yield from ((way,) for way in (ways if plain.startswith("crease") else reversed(ways)))


#: What makes rows of statements of a line, in the order in which they are asked.
ROWS = (_halves, _parts, _corners, _both, _diagonals, _again, _turn, _lines, _flaps)
