"""Lines that leave out what the language wants said: which edge, from where, one thing at a time.

In: a line after the rules of `table_talk.py`. Out: rows of statements that may be meant by it, the likeliest
first. What comes out is tried before it is shown.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from .whole_lines import (
    AGAINST,
    HEIGHTS,
    LENGTH,
    NAME,
    PARTS,
    POINT,
    WAY,
    Lines,
    Setting,
    neighbours,
)

_FOLDS = r"(valley|mountain|crease)(?: fold)?"
_HEIGHTS = ("top", "bottom")
#: Where a place lies that is so far from another: 'above' it is up.
_BESIDE = {
    "above": "up",
    "over": "up",
    "below": "down",
    "under": "down",
    "left": "left",
    "right": "right",
}
_ALONG = {"left": "bottom", "right": "bottom", "top": "left", "bottom": "left"}


def _whole_way(plain: str, setting: Setting) -> Iterator[Lines]:
    """'top half down', 'left over', 'horizontally': an edge onto the one across."""
    m = re.fullmatch(
        rf"{_FOLDS} ({WAY})(?: half| part| edge)?(?: (?:up|down|over|across|in|behind))+", plain
    )
    if m:
        way = HEIGHTS.get(m[2], m[2])
        yield (f"{m[1]} {way} edge onto {AGAINST[way]} edge",)
        across = f"line through {AGAINST[way]} corner parallel to {way} edge"
        yield (f"{m[1]} {way} edge onto {across}",)
    m = re.fullmatch(rf"{_FOLDS} (horizontally|vertically|lengthwise|crosswise)", plain)
    if m:
        level = m[2] in ("horizontally", "crosswise")
        way = "bottom edge onto top edge" if level else "left edge onto right edge"
        yield (f"{m[1]} {way}",)


def _several(plain: str, setting: Setting) -> Iterator[Lines]:
    """Several things in one line, each of which has one of its own."""
    m = re.fullmatch(
        rf"{_FOLDS} (?:corners|points) ({NAME}(?: (?:and )?{NAME}){{1,3}})"
        r"((?: up| down| in| over)? (?:to|onto) .+)",
        plain,
    )
    if m:
        yield tuple(f"{m[1]} {who}{m[3]}" for who in m[2].replace(" and ", " ").split())
    m = re.fullmatch(rf"{_FOLDS} ({POINT} to {POINT}) and(?: then)? ({POINT} to {POINT})", plain)
    if m:
        yield (f"{m[1]} {m[2]}", f"{m[1]} {m[3]}")
    m = re.fullmatch(
        rf"{_FOLDS} (.+ (?:to|onto) .+?) and(?: then)? ((?:edge|corner|line) .+ (?:to|onto) .+)",
        plain,
    )
    if m:
        yield (f"{m[1]} {m[2]}", f"{m[1]} {m[3]}")
    m = re.fullmatch(
        rf"{_FOLDS} edges ({NAME} {NAME}) and ({NAME} {NAME})((?: up| down| in| over)? (?:to|onto) .+)",
        plain,
    )
    if m:
        yield tuple(f"{m[1]} edge {ends}{m[4]}" for ends in (m[2], m[3]))
    m = re.fullmatch(rf"mark ({NAME})(?: and)? ({NAME}) at 1/3 of (.+)", plain)
    if m:
        yield (f"mark {m[1]} at 1/3 of {m[3]}", f"mark {m[2]} at 2/3 of {m[3]}")
    m = re.fullmatch(rf"crease(?: lines?)? ({NAME}) ({NAME})(?: and)? ({NAME}) ({NAME})", plain)
    if m:
        yield (f"crease along line {m[1]} {m[2]}", f"crease along line {m[3]} {m[4]}")


def _to_parts(plain: str, setting: Setting) -> Iterator[Lines]:
    """An edge to a third of the way, or a third of the figure folded over; past a place, or short of it."""
    m = re.fullmatch(
        rf"{_FOLDS} ({WAY}) edge(?: up| down| over| in)*( to| onto| by)? (\d+/\d+)(?: of)?", plain
    )
    if m:
        way = HEIGHTS.get(m[2], m[2])
        part = Fraction(m[4]) if way in ("left", "bottom") else 1 - Fraction(m[4])
        line = f"line through {part} of {_ALONG[way]} edge parallel to {way} edge"
        over = f"{m[1]} along {line}, moving {way} edge"
        onto = f"{m[1]} {way} edge onto {line}"
        yield from ((onto,), (over,)) if m[3] in (" to", " onto") else ((over,), (onto,))
    m = re.fullmatch(
        rf"{_FOLDS} ({WAY}) edge(?: up| down| over)? leaving {LENGTH}(?: free| open)?", plain
    )
    if m:
        way = HEIGHTS.get(m[2], m[2])
        yield (f"{m[1]} {way} edge onto {m[3]} short of {AGAINST[way]} edge",)
    m = re.fullmatch(rf"{_FOLDS} (.+?) (?:over|past|beyond) (.+) by {LENGTH}", plain)
    if m:
        yield (f"{m[1]} {m[2]} to {m[4]} beyond {m[3]}",)
    m = re.fullmatch(rf"{_FOLDS} (?:corner )?({NAME}) to opposite corner", plain)
    if m and len(setting.corners) == 4 and m[2] in setting.corners:
        yield (f"{m[1]} {m[2]} to {setting.corners[setting.corners.index(m[2]) - 2]}",)
    m = re.fullmatch(rf"{_FOLDS} ({WAY})(?: ({WAY}))? corner to opposite corner(.*)", plain)
    if m:
        seen = " ".join(word for word in (m[2], m[3]) if word)
        across = " ".join(AGAINST[HEIGHTS.get(word, word)] for word in seen.split())
        yield (f"{m[1]} {seen} corner to {across} corner{m[4]}",)
    a_c, b_d = (" ".join(setting.corners[k::2]) for k in (0, 1))
    m = re.fullmatch(rf"mark ({NAME})(?: at)? where diagonals (?:meet|cross|to)", plain)
    if m and len(setting.corners) == 4:
        yield (f"mark {m[1]} where line {a_c} meets line {b_d}",)


def _by_lengths(plain: str, setting: Setting) -> Iterator[Lines]:
    """How far a corner goes or a mark lies, without along which edge; lines at a distance or at a part."""
    m = re.fullmatch(
        rf"mark ({NAME}) on ((?:edge|line) {NAME} {NAME}) {LENGTH} from ({NAME})", plain
    )
    if m:
        yield (f"mark {m[1]} at {m[3]} from {m[4]} on {m[2]}",)
    m = re.fullmatch(
        rf"(mark {NAME}(?: at)?|{_FOLDS} (?:corner )?{NAME} to) {LENGTH} "
        rf"(?:(up|down|left|right|in|over) )?(from|beside|above|below|over|under|left of|right of) ({NAME})",
        plain,
    )
    if m:
        way = _BESIDE.get(m[5].split()[0], m[4] or "")
        head = re.sub(r"^(mark \S+)(?: at)?$", r"\1 at", m[1])
        ends = _way_on(m[6], way, setting) or neighbours(m[6], setting)
        for end in ends if m[2] is None else ends[::-1]:
            kind = "edge" if setting.edge(m[6], end) else "line"
            yield (f"{head} {m[3]} from {m[6]} on {kind} {m[6]} {end}",)
        return
    m = re.fullmatch(
        rf"{_FOLDS} (?:corner )?({NAME})(?: up| down| over| in| by)* {LENGTH}(?: \w+)?", plain
    )
    if m:
        told = re.search(r"\b(up|down|left|right)\b", plain)
        ends = _way_on(m[2], told[1], setting) if told else ()
        for end in ends or neighbours(m[2], setting):
            kind = "edge" if setting.edge(m[2], end) else "line"
            yield (f"{m[1]} {m[2]} to {m[3]} from {m[2]} on {kind} {m[2]} {end}",)
    m = re.fullmatch(
        rf"{_FOLDS} (top|upper|bottom|lower) (left|right) corner(?: by)? {LENGTH}"
        " (up|down|left|right|in|over)",
        plain,
    )
    if m:
        edge = m[3] if m[5] in ("up", "down") else HEIGHTS[m[2]]
        corner = f"{m[2]} {m[3]} corner"
        yield (f"{m[1]} {corner} to {m[4]} from {corner} on {edge} edge",)
    m = re.fullmatch(
        rf"{_FOLDS}(?: at| along)?(?: line)? ({LENGTH[1:-1]}|\d+/\d+) (from|of) ({WAY}) edge",
        plain,
    )
    if m:
        way = HEIGHTS.get(m[4], m[4])
        if m[3] == "of" and m[2][-1].isdigit() and "line" not in plain:
            yield (_across(m[1], m[2], way),)
            return
        moving = "" if m[1] == "crease" else f", moving {way} edge"
        if m[2][-1].isdigit():
            part = Fraction(m[2]) if way in ("left", "bottom") else 1 - Fraction(m[2])
            line = f"line through {part} of {_ALONG[way]} edge parallel to {way} edge"
        else:
            line = f"line {m[2]} from {way} edge"
        yield (f"{m[1]} along {line}{moving}",)
    m = re.fullmatch(rf"{_FOLDS} edge ({NAME}) ({NAME}) (?:to|onto) ({NAME})", plain)
    if m:
        yield (f"{m[1]} {m[2]} to {m[4]}",)
        yield (f"{m[1]} {m[3]} to {m[4]}",)


def _across(verb: str, part: str, way: str) -> str:
    """A fold square to an edge at a part of it; of the paper the smaller piece moves."""
    near, far = ("left", "right") if way in _HEIGHTS else ("bottom", "top")
    said = f"{verb} through {part} of {way} edge perpendicular to {way} edge"
    top, _, under = part.partition("/")
    smaller = near if 2 * int(top) <= int(under) else far
    return said if verb == "crease" else f"{said}, moving {smaller} edge"


def _way_on(corner: str, way: str, setting: Setting) -> tuple[str, ...]:
    """The corners towards which a corner may go so, of a square with an edge or a corner at the bottom."""
    if corner not in setting.corners or len(setting.corners) != 4:
        return ()
    if setting.lowest in setting.corners:
        at = setting.corners.index(corner) - setting.corners.index(setting.lowest)
        goes = ("up", "left", "down", "right")[at % 4] == way
        return (setting.corners[setting.corners.index(corner) - 2],) if goes else ()
    at = setting.corners.index(corner)
    to = {"up": (3, 2), "down": (None, None, 1, 0), "right": (1, None, None, 2)}
    row = {**to, "left": (None, 0, 3)}.get(way, ())
    aim = row[at] if at < len(row) else None
    return () if aim is None else (setting.corners[aim],)


def _strips(plain: str, setting: Setting) -> Iterator[Lines]:
    """'valley 3 cm strip at bottom', 'valley up 2 cm hem along bottom edge'."""
    m = re.fullmatch(
        rf"{_FOLDS}(?: up| over| down| in)?(?: [aA])? {LENGTH}(?: wide)? (?:strip|hem|border|band|margin)"
        rf"(?: up| over| down| in)?(?: (?:at|along|on|of|from))? ({WAY})(?: edge| side)?",
        plain,
    )
    if m:
        yield (f"{m[1]} along line {m[2]} from {m[3]} edge, moving {m[3]} edge",)


def _crossings(plain: str, setting: Setting) -> Iterator[Lines]:
    """'valley A to where creases cross', where the script has named two."""
    named = [name for name in setting.names if name[0].islower()]
    said = r"(?:intersection|crossing|where (?:two |both )?(?:creases|lines|folds|they) (?:cross|meet|to))$"
    if len(named) == 2 and re.search(said, plain):
        yield (re.sub(said, f"where {named[0]} meets {named[1]}", plain),)


def _repeated(plain: str, setting: Setting) -> Iterator[Lines]:
    """A repeat on all corners, or on more than two flaps."""
    m = re.fullmatch(
        r"repeat steps? (\d+)(?: (?:on|for|with|at|to))?(?: all| other| three| four| remaining)*"
        r" (?:corners|sides|edges|flaps)",
        plain,
    )
    if m:
        yield (f"repeat step {m[1]}, 3 times",)
    if setting.step and re.fullmatch(r"repeat (?:all|everywhere|all around)", plain):
        yield (f"repeat step {setting.step}, 3 times",)
    m = re.fullmatch(r"repeat steps? (\d+) (?:(?:on|at|for) )?(?:back|reverse)(?: side)?", plain)
    if m:
        yield (f"repeat step {m[1]} behind",)
    m = re.fullmatch(r"repeat steps? (\d+) (?:twice|two times)(?: more)?", plain)
    if m:
        yield (f"repeat step {m[1]}, 2 times",)
        yield (f"repeat step {m[1]} again",)
    m = re.fullmatch(
        rf"repeat(?: steps? (\d+)| it| same)? (?:on|with|for|at) (?:corners? |flaps? )?"
        rf"({NAME}(?: (?:and )?{NAME})+)",
        plain,
    )
    if m and (m[1] or setting.step):
        names = m[2].replace(" and ", " ").split()
        yield (f"repeat step {m[1] or setting.step} on {', '.join(names[:-1])} and {names[-1]}",)


def _ways(plain: str, setting: Setting) -> Iterator[Lines]:
    """A way without a corner or an edge; a page turned; a pleat by its parts."""
    m = re.fullmatch(r"(valley|mountain)( \d+ layers?)? (up|down|left|right)( \d+ layers?)?", plain)
    if m and (m[2] or m[4]):
        way = {"up": "top", "down": "bottom"}.get(m[3], m[3])
        for thing, link in (("corner", "to"), ("edge", "onto")):
            yield (f"{m[1]} {AGAINST[way]} {thing} {link} {way} {thing}{m[2] or m[4]}",)
    if re.fullmatch(r"(?:turn|flip)(?: [aA]| one)? (?:page|flap)(?: over)?", plain):
        yield ("swing right corner to left corner",)
        yield ("swing left corner to right corner",)
    m = re.fullmatch(
        r"pleat(?: it| paper)? (?:in|into|to) (thirds|quarters|fourths|fifths|sixths|eighths|\d+)"
        r"(?: equal)?(?: parts)?",
        plain,
    )
    if m:
        parts = int(m[1]) if m[1].isdigit() else PARTS[m[1].rstrip("s")]
        yield (f"pleat into {parts} equal parts, moving right edge",)
        yield (f"pleat into {parts} equal parts, moving bottom edge",)


#: What makes rows of statements of a line, in the order in which they are asked.
LOOSE = (_strips, _crossings, _ways, _whole_way, _several, _to_parts, _by_lengths, _repeated)
