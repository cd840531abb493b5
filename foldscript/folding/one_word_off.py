"""Lines that differ from what was said by one word that is easily taken for another.

In: where a script was refused. Out: changes of that line, or of one before it, each with its hint; the
likeliest first. They say nothing by themselves: whoever asks folds the script with each, to its end.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches

from ..source.diagnostics import Edit, Hint
from .earlier_lines import OPPOSITE, Place, as_a_word, lacks, statements_before
from .script_tells import marked_and_not_used
from .statements import AND_UNFOLD

#: Lines before the one that was refused, of which one may be wrong.
_LINES_BACK = 8
_POINT = re.compile(r"(?<![\w'-])[A-Z]\w?(?![\w'-])")
#: A point that a line gives its name.
_GIVEN = re.compile(r"mark (\S+)")
_SAID_TWICE = re.compile(r"\b(left|right|top|bottom)\b.*\b\1\b")
_FOLDS = ("valley", "mountain")
_POINTED = ("petal", "squash", "inside reverse", "outside reverse")
_KINDS = {
    "squash": "a squash fold",
    "petal": "a petal fold",
    "inside reverse": "an inside reverse fold",
    "outside reverse": "an outside reverse fold",
}
#: Connecting words that slips are made in, and how near one has to be (share of letters).
_LINKS = ("to", "onto", "through", "along", "between", "at", "moving", "into", "where", "meets")
_NEARLY = 0.5
#: What a line is told that does not cross the flap.
_MISSED = frozenset(("locked-layers", "fold-misses-flap", "on-the-line"))
_COUNT = re.compile(r",? *\b(?:all layers|\d+ layers?)\b")
_STEP = re.compile(r"(?<=^repeat step )\d+\b")
_EDGE = re.compile(r"\bedge ([A-Z]\w?) ([A-Z]\w?)(?![\w'-])")


def in_this_line(place: Place) -> Iterator[Hint]:
    """The line that was refused with one other word."""
    for line in _near(place.said, place):
        yield Hint(f"say '{line}'", edit=Edit(place.span, line))


def in_a_line_before(place: Place) -> Iterator[Hint]:
    """A line before it with one other word, the last first."""
    text = place.source.text
    for one in statements_before(place)[: -_LINES_BACK - 1 : -1]:
        words = text[one.span.start : one.span.end]
        line, _ = place.source.position(one.span.start)
        for other in _near(words, place):
            yield lacks(f"in line {line} say '{other}'", Edit(one.span, other))


def at_odds_with_itself(place: Place) -> Iterator[Hint]:
    """The line with one word changed of those that cannot be right: a side where both are the same, an end of
    no edge, the step of a repeat, the move of words that are another's, the flap that a line misses.
    """
    lines: list[str] = []
    if place.code == "unknown-name":
        lines += _links(place)
    if place.code == "several-ways" and place.verb == "collapse":
        lines += _fewer_creases(place.said)
    if place.code in ("cannot-reach", "same-point") and _SAID_TWICE.search(place.said):
        lines += reversed([*_sides(place.said)])
    if place.code in ("not-an-edge", "same-point"):
        lines += _ends(place.said, place)
    if place.verb == "repeat" and place.code != "repeat-inside-itself":
        lines += _steps(place.said, place)
    if place.code == "how-many-repeats":
        lines.append(
            re.sub(r" (?:behind|on [a-z ]+|at the [a-z]+)(?=, \d+ times$)", " again", place.said)
        )
    if place.code == "cuts-off":
        lines += _shorter_cuts(place)
    if place.code == "open-point" and place.verb.endswith("sink"):
        lines += _other_mover(place)
    if place.code == "unknown-name" and place.verb == "place":
        lines += _of_the_unit(place.said)
    if place.verb == "pleat":
        lines += _other_way_of_one(place.said)
    if place.code in _MISSED:
        lines += _turned_line(place.said)
    for line in dict.fromkeys(lines):
        yield Hint(f"say '{line}'", edit=Edit(place.span, line))
    if place.code.endswith("-what") and place.verb in _POINTED:
        for line in _verbs(place.said):
            move = next(verb for verb in _POINTED if line.startswith(f"{verb} "))
            yield Hint(f"if {_KINDS[move]} is meant, say '{line}'", edit=Edit(place.span, line))
    yield from _said_about(place)


def _links(place: Place) -> Iterator[str]:
    """A connecting word for one that is spelt nearly so and is no name."""
    at = place.said.find(f" {place.amiss} ")
    for link in get_close_matches(place.amiss, _LINKS, 2, _NEARLY) if at > 0 else ():
        yield f"{place.said[:at]} {link} {place.said[at + len(place.amiss) + 2 :]}"


def _other_mover(place: Place) -> Iterator[str]:
    """The move at another point that has a name, where the line speaks of the first only once."""
    said = re.match(rf"({place.verb} )([A-Z]\w?)(?![\w'-])", place.said)
    if said is None or said[2] in _POINT.findall(place.said[said.end() :]):
        return
    for name in place.folding.names.points:
        if name not in (said[2], *place.folding.state.sheet.corner_names):
            yield f"{said[1]}{name}{place.said[said.end() :]}"


def _shorter_cuts(place: Place) -> Iterator[str]:
    """A cut that ends at another named point, of which lines further down speak."""
    later = place.source.text[place.span.end :]
    end = re.search(r"(?<= to )([A-Z]\w?)(?=,|$)", place.said)
    for name in place.folding.names.points if end is not None else ():
        use = as_a_word(name)
        if end is not None and use.search(later) and not use.search(place.said):
            yield f"{place.said[: end.start()]}{name}{place.said[end.end() :]}"


def another_point(place: Place) -> Iterator[Hint]:
    """A point that has a name for one that has none, and that nothing else in the script speaks of."""
    name = place.amiss
    if place.code != "unknown-name" or not re.fullmatch(r"[A-Z]\w?", name):
        return
    use = as_a_word(name)
    if len(use.findall(place.source.text)) > 1:
        return
    for other in place.folding.names.points:
        line = use.sub(other, place.said)
        yield Hint(f"say '{line}'", edit=Edit(place.span, line))


def _fewer_creases(words: str) -> Iterator[str]:
    """A collapse without one of the creases that it names."""
    for at in re.finditer(
        r"(?<= )([a-z][\w-]*) and (?=[a-z])|(?: and|,) ([a-z][\w-]*)(?=,| and |$)", words
    ):
        if (at[1] or at[2]) not in _FOLDS:
            yield words[: at.start()] + words[at.end() :]


def _of_the_unit(words: str) -> Iterator[str]:
    """Points of the unit that is placed, where they say nothing of whose they are."""
    unit = re.match(r"place (unit \d+)\b", words)
    if unit is not None:
        yield re.sub(r"(?<= )([A-Z]\w?)(?= to )", rf"\1 of {unit[1]}", words)


def _other_way_of_one(words: str) -> Iterator[str]:
    """A pleat of two folds alike with one of them the other way, the second first."""
    folds = [*re.finditer(r"\b(?:valley|mountain)\b", words)]
    if len(folds) == 2 and folds[0][0] == folds[1][0]:
        other = "valley" if folds[0][0] == "mountain" else "mountain"
        for at in reversed(folds):
            yield f"{words[: at.start()]}{other}{words[at.end() :]}"


def _turned_line(words: str) -> Iterator[str]:
    """A line parallel to one for one that is perpendicular to it, and the other way round."""
    for one, other in (("perpendicular", "parallel"), ("parallel", "perpendicular")):
        if f" {one} to " in words:
            yield words.replace(f" {one} to ", f" {other} to ", 1)


def _said_about(place: Place) -> Iterator[Hint]:
    """The line with what moves and where it goes changed about."""
    said = re.fullmatch(rf"({place.verb}) (.+?) (onto|to) (.+?)(,.*)?", place.said)
    if said is not None and place.verb in _POINTED:
        line = f"{said[1]} {said[4]} {said[3]} {said[2]}{said[5] or ''}"
        yield Hint(f"for the other way round say '{line}'", edit=Edit(place.span, line))


def flap_there(place: Place) -> Iterator[Hint]:
    """Another corner of the sheet, or another crease, for a flap that the line of the fold does not cross."""
    if place.code not in _MISSED:
        return
    along = re.search(r"\balong ([a-z][\w-]*)$", place.said)
    creases = place.folding.names.creases
    for name in creases if along is not None and along[1] in creases else ():
        if along is not None and name != along[1]:
            line = f"{place.said[: along.start(1)]}{name}"
            why = f"'{name}' crosses that flap: say '{line}'"
            yield Hint(why, edit=Edit(place.span, line))
    if place.verb not in (*_FOLDS, *_POINTED):
        return
    said = re.match(rf"{place.verb} (?:the )?([A-Z]\w?)(?![\w'-])", place.said)
    corners = place.folding.state.sheet.corner_names
    for corner in corners if said is not None and said[1] in corners else ():
        if said is not None and not as_a_word(corner).search(place.said):
            line = f"{place.said[: said.start(1)]}{corner}{place.said[said.end(1) :]}"
            why = f"the flap with corner {corner} crosses that line: say '{line}'"
            yield Hint(why, edit=Edit(place.span, line))


def _near(words: str, place: Place) -> Iterator[str]:
    rows = (
        _sides(words),
        _ends(words, place),
        _points(words, place),
        _counts(words),
        _verbs(words),
        _steps(words, place),
    )
    seen = {words}
    for row in rows:
        for line in row:
            if line not in seen:
                seen.add(line)
                yield line


def _sides(words: str) -> Iterator[str]:
    """One side for the other, in one place."""
    for at in re.finditer(r"\b(?:left|right|top|bottom)\b", words):
        yield f"{words[: at.start()]}{OPPOSITE[at[0]]}{words[at.end() :]}"


def _ends(words: str, place: Place) -> Iterator[str]:
    """An edge of the sheet for two corners that have none between them."""
    corners = place.folding.state.sheet.corner_names
    for said in _EDGE.finditer(words):
        for kept in (1, 2):
            if said[kept] not in corners:
                continue
            k = corners.index(said[kept])
            for other in (corners[k - 1], corners[(k + 1) % len(corners)]):
                pair = (said[1], other) if kept == 1 else (other, said[2])
                yield f"{words[: said.start()]}edge {' '.join(pair)}{words[said.end() :]}"


def _points(words: str, place: Place) -> Iterator[str]:
    """One point for another, in one place: points that were marked and not used first, then corners; for the
    name that a point is given, one that is said further down.
    """
    if words.startswith("cut "):
        return  # other points are another cut: it cannot be undone
    names, said = place.folding.names.points, set(_POINT.findall(words))
    given = _GIVEN.match(words)
    if given is not None:
        later = place.source.text[place.span.end :]
        for name in dict.fromkeys(_POINT.findall(re.sub(r'"[^"\n]*"', "", later))):
            if name not in names and name not in said:
                yield f"{words[: given.start(1)]}{name}{words[given.end(1) :]}"
    places = [at for at in _POINT.finditer(words) if given is None or at.start() != given.start(1)]
    for some in (marked_and_not_used(place), place.folding.state.sheet.corner_names, names):
        for at in places:
            for name in some:
                if name not in said:
                    yield f"{words[: at.start()]}{name}{words[at.end() :]}"


def _counts(words: str) -> Iterator[str]:
    """Another number of layers, or none."""
    said = _COUNT.search(words)
    if words.split()[0] not in _FOLDS:
        return
    if said is None:
        yield from (f"{words}, {count}" for count in ("1 layer", "all layers"))
        return
    for count in (", 1 layer", ", all layers", ""):
        yield f"{words[: said.start()]}{count}{words[said.end() :]}"


def _verbs(words: str) -> Iterator[str]:
    """Another move of the same form; a crease for a fold, and the other way round."""
    for row in (_FOLDS, _POINTED):
        verb = next((verb for verb in row if words.startswith(f"{verb} ")), None)
        if verb is not None:
            yield from (other + words[len(verb) :] for other in row if other != verb)
    if words.split()[0] in _FOLDS:
        opened = words.removesuffix(AND_UNFOLD).rstrip(", ")
        yield opened if opened != words else f"{words}, {AND_UNFOLD}"


def _steps(words: str, place: Place) -> Iterator[str]:
    """The step before or after the one that is to be repeated, the last first."""
    said = _STEP.search(words)
    if said is not None:
        for number in (place.number - 1, int(said[0]) + 1, int(said[0]) - 1):
            if 0 < number < place.number:
                yield f"{words[: said.start()]}{number}{words[said.end() :]}"
