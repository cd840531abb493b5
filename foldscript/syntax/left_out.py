"""Lines that lack one small word: a unit, 'step', 'onto', 'of', or the way along which a part is meant.

In: a line after the rules of `table_talk.py`. Out: rows of statements that may be meant by it, the likeliest
first. What comes out is tried before it is shown.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from .craft_words import INSTEAD
from .whole_lines import AGAINST, HEIGHTS, LENGTH, NAME, POINT, WAY, Lines, Setting, neighbours

_FOLDS = r"(valley|mountain|crease|pinch)(?: fold)?"
_ENDS = rf"(?:edge {NAME} {NAME}|{WAY}(?: {WAY})? edge)"
_CORNERS = rf"(?:corner {NAME}|{WAY}(?: {WAY})? corner)"
#: Units that a length without one may have had.
_UNITS = ("cm", "mm")


def _onto(plain: str, setting: Setting) -> Iterator[Lines]:
    """'valley bottom edge top edge': two edges, or two corners, and nothing between them."""
    for thing, link in ((_ENDS, "onto"), (_CORNERS, "to")):
        m = re.fullmatch(
            rf"{_FOLDS} ({thing})(?: and)? ({thing})((?: moving .*| \w+ layers?)?)", plain
        )
        if m:
            yield (f"{m[1]} {m[2]} {link} {m[3]}{m[4]}",)


def _unit(plain: str, setting: Setting) -> Iterator[Lines]:
    """'mark P at 3 from A on edge A B': a length without its unit."""
    m = re.fullmatch(
        r"(.*(?<![\d/] )(?<!/)\b\d+(?:\.\d+)?(?: \d+/\d+)?) (?=from\b|short of\b|beyond\b)(.*)",
        plain,
    )
    if m:
        yield from ((f"{m[1]} {unit} {m[2]}",) for unit in _UNITS)


def _part(plain: str, setting: Setting) -> Iterator[Lines]:
    """'valley A to 1/3 from B', 'valley A 1/3 to C': a part of a way that is named by one of its ends."""
    m = re.fullmatch(
        rf"{_FOLDS} ({POINT}) (\d+/\d+)(?: (?:up|down|over|in))*(?: of)?(?: way)? (?:to|towards?) ({POINT})",
        plain,
    )
    if m:
        yield (f"{m[1]} {m[2]} to {m[3]} of {m[2].split()[-1]} {m[4].split()[-1]}",)
    m = re.fullmatch(
        rf"(.* (?:to|at|through) \d+/\d+) (?:away )?from (?:corner |point )?({NAME})", plain
    )
    if m:
        yield from ((f"{m[1]} of {m[2]} {end}",) for end in neighbours(m[2], setting)[::-1])


def _step(plain: str, setting: Setting) -> Iterator[Lines]:
    """'repeat 1 on B': the number of a step."""
    m = re.fullmatch(
        r"repeat (\d+)(?: ?(to|and|[-–—]) ?(\d+))?((?! ?times?\b)(?! more\b).*)", plain
    )
    if m:
        steps = (
            f"steps {m[1]} {'and' if m[2] == 'and' else 'to'} {m[3]}" if m[3] else f"step {m[1]}"
        )
        yield (f"repeat {steps}{m[4] or ' again'}",)


def _in(plain: str, setting: Setting) -> Iterator[Lines]:
    """'tuck A in B': into the pocket there, or under the paper there."""
    m = re.fullmatch(rf"tuck (.+?) (?:in|into|inside|to)(?: pocket)?(?: at| of)? ({POINT})", plain)
    if m:
        yield (f"tuck {m[1]}, into the pocket at {m[2]}",)
        yield (f"tuck {m[1]}, under {m[2]}",)


#: Words that say again what 'inside reverse' says by itself, or which way a tip goes without saying where to.
_IDLE = re.compile(
    r" (?:inwards|outwards|inside|outside|upwards|downwards|backwards|back|in|out)\b(?! (?:in|of)\b)"
)
_TO_A_LINE = r"(?:along|through|to|onto)"


def _reversed(plain: str, setting: Setting) -> Iterator[Lines]:
    """'reverse fold A to P', 'fold A inside along k': a reverse fold, of which the way is said otherwise."""
    m = re.fullmatch(r"(?:(inside|outside) )?reverse( fold)? (.+)", plain)
    if m:
        told = re.search(r" (in|out)(?:side|wards)\b", m[3])
        rest = re.sub(rf"\btip (?={NAME}\b)", "", _IDLE.sub("", f" {m[3]}").strip())
        ways = (m[1],) if m[1] else (f"{told[1]}side",) if told else ("inside", "outside")
        if re.search(rf" {_TO_A_LINE} ", rest):  # else it does not say where
            yield from ((f"{way} reverse{m[2] or ''} {rest}",) for way in ways)
    m = re.fullmatch(
        rf"(?:valley|push)(?: fold)? (.+?) (?:inside|inwards|in between(?: (?:its|two))?(?: layers)?) "
        rf"({_TO_A_LINE} .+)",
        plain,
    )
    if m:
        yield (f"inside reverse {m[1]} {m[2]}",)
        yield (f"tuck {m[1]} {m[2]}, inside",)
    m = re.fullmatch(r"sink(?: fold)? (.+)", plain)
    if m:
        yield (f"open sink {m[1]}",)
        yield (f"closed sink {m[1]}",)


def _one_word(plain: str, setting: Setting) -> Iterator[Lines]:
    """A word too many, or one put otherwise: 'both A and C', 'halfway P Q', 'layer at P'."""
    m = re.fullmatch(rf"(.+?) (?:both|all) ({NAME} and {NAME}\b.*)", plain)
    if m:
        yield (f"{m[1]} {m[2]}",)
    m = re.fullmatch(
        rf"mark ({NAME}) (?:at )?(?:half ?way|middle|centre)(?: of| between)? ({NAME})(?: and)? ({NAME})",
        plain,
    )
    if m:
        yield (f"mark {m[1]} at midpoint of {m[2]} {m[3]}",)
    m = re.fullmatch(rf"pull out (?:flap|layer|corner|paper) (?:at|with|of) ({POINT})(.*)", plain)
    if m:
        yield (f"pull out {m[1]}{m[2]}",)
    m = re.fullmatch(rf"rabbit ear(?: fold)?(?: on| at)? (?:corner )?({NAME})(?: to (.+))?", plain)
    if m:
        ends = neighbours(m[1], setting)
        for end in (m[2],) if m[2] else ends:
            yield (f"rabbit ear {m[1]} between {' and '.join(ends)} to {end}",)


def _seen_so_far(plain: str, setting: Setting) -> Iterator[Lines]:
    """'valley bottom corner up 2 cm': so far on the way to what lies across."""
    way = {"up": "top", "down": "bottom"}
    m = re.fullmatch(
        rf"{_FOLDS} ({WAY}) corner(?: by)? {LENGTH} (up|down|left|right|in)"
        rf"|{_FOLDS} ({WAY}) corner (up|down|left|right|in)(?: by)? {LENGTH}",
        plain,
    )
    if m is None:
        return
    verb, corner, length = m[1] or m[5], m[2] or m[6], m[3] or m[8]
    across = AGAINST[HEIGHTS.get(corner, corner)]
    told = m[4] or m[7]
    if told != "in" and way.get(told, told) != across:
        return
    for end in (f"{across} corner", f"midpoint of {across} edge"):
        yield (
            f"{verb} {corner} corner to {length} from {corner} corner on line {corner} corner {end}",
        )


def _marked_by_eye(plain: str, setting: Setting) -> Iterator[Lines]:
    """'pinch midpoint of bottom edge', 'pleat 8 times': where, and into how many."""
    m = re.fullmatch(rf"pinch (?:at )?(midpoint of ({WAY}) edge)", plain)
    if m:
        pair = "left edge onto right edge" if m[2] in HEIGHTS else "bottom edge onto top edge"
        yield (f"pinch {pair}, at {m[2]} edge",)
    m = re.fullmatch(rf"pinch (?:at )?midpoint of (?:edge )?({NAME}) ({NAME})", plain)
    if m:
        yield (f"pinch {m[1]} to {m[2]}, at edge {m[1]} {m[2]}",)
    m = re.fullmatch(r"pleat (\d+) times(?: (.*))?", plain)
    if m:
        yield (f"pleat into {m[1]} equal parts {m[2] or 'moving right edge'}",)
    m = re.fullmatch(r"pleat into (\d+)(?: equal)?(?: parts| pleats)?", plain)
    if m:
        yield from (
            (f"pleat into {m[1]} equal parts, moving {way} edge",) for way in ("right", "top")
        )


#: A way that names no corner and no edge.
_ANY_WAY = rf"((?:top|bottom|upper|lower) (?:left|right)|{WAY})"
_BARE = re.compile(
    rf"(?<!on )(?<!at )\b{_ANY_WAY}$"
    rf"|(?<!on )\b{_ANY_WAY} (?=(?:up|down|over|out|in|to|onto|along|through)\b)"
)
#: Moves whose words name no places of the figure.
_NO_PLACES = re.compile(r"(?:turn|rotate|repeat|unfold|refold|swing .* (?:left|right)$)")


def _bare_ways(plain: str, setting: Setting) -> Iterator[Lines]:
    """'open the bottom', 'cut from bottom to centre': an edge, a corner, or the middle of an edge."""
    unsaid = any(word in INSTEAD for word in plain.split() if len(word) > 3)
    if unsaid or _NO_PLACES.match(plain) or not _BARE.search(plain):
        return
    for said in ("{} edge", "{} corner", "midpoint of {} edge"):
        yield (
            _BARE.sub(
                lambda m, said=said: said.format(m[1] or m[2]) + (" " if m[2] else ""), plain
            ),
        )


#: What makes rows of statements of a line, in the order in which they are asked.
LEFT_OUT = (
    _onto,
    _unit,
    _part,
    _step,
    _in,
    _reversed,
    _one_word,
    _seen_so_far,
    _marked_by_eye,
    _bare_ways,
)
