"""What a line in a teacher's own words may have been meant for: its text in, statements of the language out.

The words of books and of the table are many, and the language has one way for each thing. A line that
could not be read is put into the language's words by the rules below, one after the other. Whether what
comes out can be read is for whoever asks to find out: a rule may be bold, for nothing that cannot be read
is ever shown.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from .craft_words import INSTEAD, OPENERS
from .everyday_words import EVERYDAY
from .grammar import load_grammar
from .head_talk import head_lines
from .left_out import LEFT_OUT
from .loose_lines import LOOSE
from .table_rules import FOLDING, OPENINGS, STRETCHES, VERBS
from .whole_lines import ROWS, Lines, Setting, in_pairs
from .word_order import ORDER

#: Characters of a line that one says at the table.
_LONGEST = 300


#: What stands after 'a' and 'an' where these are no corners: a thing, and not where corner A goes.
_THING = (
    r"(?!(?:to|onto|along|through|and|at|on|under|over|between|near|in|from|up|down|of|until|meets|inside"
    r"|outside|behind|moving|beyond|short|into|with|for|by|is|or|as|it)\b)[a-z][a-z-]+"
)
_ARTICLE = re.compile(rf"[aA]n? (?={_THING})")


def without_articles(line: str) -> str:
    """A line without 'a' and 'an', where these are no corners."""
    return re.sub(rf"\b{_ARTICLE.pattern}", "", line)


_PLAIN_FOLD = r"(?:valley|mountain|crease) (?:the )?[\w' ]+? (?:to|onto|through|along)\b"


def _in_two(line: str) -> tuple[str, str] | None:
    """What one line says of two moves, if it does; 'and unfold' belongs to a fold."""
    if line.startswith("collapse"):  # one move of many folds
        return None
    m = re.search(rf"(?:,? and(?: then)?|,? then|[,;]) (?={VERBS}\b)", line)
    if m is None and re.match(_PLAIN_FOLD, line):  # 'valley A to O valley B to O'
        m = re.search(rf"(?<=\w) (?={_PLAIN_FOLD})", line)
    return (line[: m.start()], line[m.end() :]) if m and m.start() else None


def said_otherwise(line: str, setting: Setting) -> list[Lines]:
    """What a line that cannot be read may have been meant for, the likeliest first; statements in rows."""
    line = re.sub(r"\s+", " ", line[: _LONGEST + 1]).strip(" ,.;")
    if len(line) > _LONGEST:
        return []
    found: list[Lines] = list(head_lines(line, inside=setting.inside))
    whole, line = line, re.sub(r"^(?:same )?as (?:before|above)\b", "repeat", line, flags=re.I)
    remark = re.search(r" *//+ *", line)
    if remark and setting.inside:
        found.append((f"{line[: remark.start()]}  # {line[remark.end() :]}",))
    bullet = re.match(r"[-*•–—]+ *(?=[a-z])", line, re.IGNORECASE)
    if bullet:
        line = line[bullet.end() :]
        if setting.inside:
            found.append((line,))
    numbered = re.match(r"\d+[.):]? +(?!layers?\b)(?=[a-z])", line, re.IGNORECASE)
    if numbered:
        rest = line[numbered.end() :]
        found.extend(("step", f"  {row[0]}", *row[1:]) for row in [(rest,), *_moves(rest, setting)])
    elif setting.inside:
        found.extend(_moves(line, setting))
    else:
        found.extend(("step", *(f"  {one}" for one in row)) for row in _moves(line, setting))
    return list(dict.fromkeys(row for row in found if row != (whole,)))


def _moves(line: str, setting: Setting) -> Iterator[Lines]:
    both = re.match(
        r"((?:valley|mountain) (?:fold )?(?:the )?)both (top|bottom) corners(?= )(.*)", line
    )
    if both is not None:
        rest = re.sub(r"\bthe ", "", both[3])
        yield tuple(f"{both[1]}{both[2]} {side} corner{rest}" for side in ("left", "right"))
    two = _in_two(line)
    if two is not None:
        rows = [[(part,), *_one_move(part, setting)][:3] for part in two]
        yield from (first + second for first in rows[0] for second in rows[1])
    yield from _one_move(line, setting)


def _one_move(line: str, setting: Setting) -> Iterator[Lines]:
    for pattern, said in EVERYDAY:
        line = re.sub(pattern, said, line)
    named = re.fullmatch(r"mark (?:the )?(.+) as (\w+)", line)
    line, naming = (f"mark {named[2]} at {named[1]}", "") if named else _naming(line)
    plain = _in_small_letters(line, setting)
    given = {f"Given{n}": name for n, name in enumerate(setting.names) if len(name) > 2}
    for held, name in given.items():  # so that no rule takes a name for a word of the table
        said = re.escape(name).replace(r"\-", "[- ]")
        plain = re.sub(rf"(?<![\w'-]){said}(?: crease| line| fold)?(?![\w'-])", held, plain)
    for pattern, said in STRETCHES:
        plain = re.sub(pattern, said, plain)
    plain = " ".join(plain.replace(",", " ").split()).strip()
    for pattern, said in OPENINGS:
        plain = re.sub(pattern, said, plain)
    plain = " ".join(plain.split())
    found = [row for rows in (*ROWS, *LOOSE, *ORDER, *LEFT_OUT) for row in rows(plain, setting)]
    if not found:
        found = [*in_pairs(plain, setting), (plain,)]
        if re.search(r"(?<!^turn) (?:up|down|over|in)$", plain):  # where to is left open still
            return
    for row in found:
        lines = [with_commas(one) + naming for one in row]
        yield tuple(re.sub(r"\bGiven\d+\b", lambda m: given[m[0]], one) for one in lines)


def _in_small_letters(line: str, setting: Setting) -> str:
    """Words with a capital made small, and letters that stand alone made capital."""

    known = {"fold", *INSTEAD, *OPENERS, *load_grammar().words_of("move_line")}

    def one(m: re.Match[str]) -> str:
        word = m[0]
        if not m.start():
            return word.lower()
        if len(word) > 1:
            return word.lower() if word.lower() in known else word
        if _ARTICLE.match(line, m.start()):
            return word
        known_as = word not in setting.names and word.upper() in setting.corners
        return word.upper() if known_as else word

    return re.sub(r"(?<![\w'-])[A-Za-z]+(?![\w'-])", one, line)


def _naming(line: str) -> tuple[str, str]:
    """A line without the name that it gives at its end, and that, in one word: ', as middle-crease'."""
    line = re.sub(rf"^(\w[\w-]*) ?[:=] ?({FOLDING} .*)$", r"\2 as \1", line)  # 'd = crease A to C'
    line = re.sub(rf"^({FOLDING}) as (\w+) (.+)$", r"\1 \3 as \2", line)
    line = re.sub(rf"^({FOLDING}) (\w+): (.*)$", r"\1 \3 as \2", line)  # 'crease d: A to C'
    line = re.sub(
        r",? (?:and |then )?(?:called|named|name(?: it)?|call it|label(?: it)?) (\w+)$",
        r" as \1",
        line,
    )
    line = re.sub(
        r"\bas (?:number |no\.? ?)?(\d+)$", r"as k\1", line
    )  # a name begins with a letter
    m = re.search(r",? as ([A-Za-z][a-z][\w']*(?:[ -]\w+){,2}|[a-z]\d*|[A-Z]\w?)$", line)
    if m is None or re.search(r"\b(?:of|at|where|midpoint)\b", m[1]):
        return line, ""
    return line[: m.start()], f", as {m[1].replace(' ', '-')}"


def with_commas(said: str) -> str:
    """A statement with commas where one draws breath."""
    said = re.sub(
        r"(?<=\w) (moving|\d+ layers?\b|all layers\b|near|holding|discarding|keeping)",
        r", \1",
        said,
    )
    if said.startswith("collapse "):
        said = re.sub(r"(?<=\w)(?<!^collapse) (valley|mountain)\b", r", \1", said)
    return said
