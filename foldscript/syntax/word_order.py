"""Lines whose words stand in another order: the verb at the end, the place before the thing.

In: a line after the rules of `table_talk.py`. Out: rows of statements that may be meant by it, the likeliest
first. What comes out is tried before it is shown.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from .whole_lines import CENTRE, LENGTH, NAME, POINT, WAY, Lines, Setting

_VERB = r"(valley|mountain|crease|pinch|squash|petal|tuck|fold)(?: fold)?"
_LINK = r"(to|onto|along|through)"
_THING = (
    rf"(?:(?:edge|line) {NAME} {NAME}|{WAY}(?: {WAY})? (?:edge|corner)|{POINT}|{CENTRE}(?: line)?)"
)
_COUNT = r"(\d+ layers?|all layers)"


def _said(verb: str, words: str) -> str:
    """A statement of a verb and words; edges go onto edges, and corners to corners."""
    ends = r"\b(edge(?: \S+ \S+)?|line \S+ \S+) to (?=edge\b|line\b|(?:\S+ ){1,2}edge\b)"
    onto = re.sub(ends, r"\1 onto ", words)
    return f"{'valley' if verb == 'fold' else verb} {onto}"


def _verb_later(plain: str, setting: Setting) -> Iterator[Lines]:
    """'valley A to C mountain', 'bottom edge to top edge valley', 'A valley to C'."""
    counted = re.fullmatch(rf"{_COUNT} (.+)", plain)
    if counted:
        yield from ((f"{row[0]} {counted[1]}",) for row in _verb_later(counted[2], setting))
        return
    if (
        plain[1:2] == " " and plain[0].upper() in setting.corners
    ):  # a line begins with a small letter
        plain = plain[0].upper() + plain[1:]
    m = re.fullmatch(
        rf"(?:valley |crease )?({_THING} {_LINK} .+?)(?: as)?(?: [aA])? {_VERB}", plain
    )
    if m:
        yield (_said(m[3], m[1]),)
    m = re.fullmatch(rf"({_THING}) {_VERB} {_LINK} (.+)", plain)
    if m:
        yield (_said(m[2], f"{m[1]} {m[3]} {m[4]}"),)


def _place_first(plain: str, setting: Setting) -> Iterator[Lines]:
    """'valley to C A', 'to C valley A', 'moving A valley along k', 'valley all layers of A to C'."""
    m = re.fullmatch(rf"{_VERB} (?:to|onto) ({_THING}) ({_THING})", plain)
    if m:
        yield (_said(m[1], f"{m[3]} to {m[2]}"),)
    m = re.fullmatch(rf"(?:to|onto) ({_THING}) {_VERB} ({_THING})", plain)
    if m:
        yield (_said(m[2], f"{m[3]} to {m[1]}"),)
    m = re.fullmatch(rf"{_LINK} (.+?) {_VERB}", plain)
    if m:
        yield (_said(m[3], f"{m[1]} {m[2]}"),)
    m = re.fullmatch(rf"(moving {_THING}|{_COUNT}) {_VERB} (.+)", plain)
    if m:
        yield (_said(m[3], f"{m[4]} {m[1]}"),)
    m = re.fullmatch(rf"{_VERB} of (.+ {_COUNT})", plain)  # the number has been put last
    if m:
        yield (_said(m[1], m[2]),)


def _name_first(plain: str, setting: Setting) -> Iterator[Lines]:
    """'crease k along A C', 'as k crease A to C', 'at midpoint of A B mark M', 'midpoint of A B is M'."""
    m = re.fullmatch(r"(crease|valley|mountain|pinch) ([a-z][\w-]*) (along|through) (.+)", plain)
    if m and m[2] not in setting.names and not re.fullmatch(WAY, m[2]):
        way = re.sub(rf"^({NAME} {NAME})$", r"line \1", m[4]) if m[3] == "along" else m[4]
        yield (f"{m[1]} {m[3]} {way}, as {m[2]}",)
    m = re.fullmatch(rf"as ([a-z][\w-]*) {_VERB} (.+)", plain)
    if m:
        yield (f"{_said(m[2], m[3])}, as {m[1]}",)
    m = re.fullmatch(rf"(?:at )?(.+?) (?:mark|is|=|gives) ({NAME})", plain)
    if m:
        yield (f"mark {m[2]} at {m[1]}",)


def _measured_towards(plain: str, setting: Setting) -> Iterator[Lines]:
    """'mark F at 3 cm from B to C', 'mark F from B 3 cm to C': along the line between the two."""
    for pattern in (
        rf"mark ({NAME})(?: at)? {LENGTH} from ({POINT}) to ({POINT})",
        rf"mark ({NAME})(?: at)? from (?P<start>{POINT}) {LENGTH} to (?P<end>{POINT})",
    ):
        m = re.fullmatch(pattern, plain)
        if m:
            start, length, end = (
                (m[3], m[2], m[4]) if "start" not in m.groupdict() else (m[2], m[3], m[4])
            )
            kind = "edge" if setting.edge(start, end) else "line"
            yield (f"mark {m[1]} at {length} from {start} on {kind} {start} {end}",)


def _one_after_the_other(plain: str, setting: Setting) -> Iterator[Lines]:
    """'valley A B to centre': corners that go to one place each for itself."""
    m = re.fullmatch(rf"{_VERB} ({NAME}(?: {NAME}){{1,3}}) to (.+)", plain)
    if m and all(name in setting.corners for name in m[2].split()):
        yield tuple(f"{m[1]} {name} to {m[3]}" for name in m[2].split())


def _turned(plain: str, setting: Setting) -> Iterator[Lines]:
    """'over turn', 'clockwise rotate 90 degrees'."""
    if plain == "over turn":
        yield ("turn over",)
    m = re.fullmatch(r"(clockwise|anticlockwise) (?:rotate|turn)(?: by)? (.+)", plain)
    if m:
        yield (f"rotate {m[2]} {m[1]}",)


def _repeat_later(plain: str, setting: Setting) -> Iterator[Lines]:
    """'step 1 repeat behind', 'behind repeat step 1', 'repeat behind step 1'."""
    steps = r"(steps? \d+(?: to \d+)?)"
    places = r"(behind|on (?:other side|left|right))"
    m = re.fullmatch(rf"{steps} (?:repeat|again)(.*)", plain)
    if m:
        yield (f"repeat {m[1]}{m[2].replace(' on ', ' on the ') or ' again'}",)
    m = re.fullmatch(rf"(?:{places} repeat|repeat {places}) {steps}", plain)
    if m:
        yield (f"repeat {m[3]} {(m[1] or m[2]).replace('on ', 'on the ')}",)


#: What makes rows of statements of a line, in the order in which they are asked.
ORDER = (
    _verb_later,
    _place_first,
    _name_first,
    _measured_towards,
    _one_after_the_other,
    _turned,
    _repeat_later,
)
