"""What a line that cannot be read is told: broken lines in, refusals in the craft's words out.

The grammar only knows which terminals would have fitted. Here that becomes 'after onto a point or a
line should follow', with a guess at a misspelt word where there is a near one.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from ..source.diagnostics import Diagnostic, Hint, Refusal, Span, write
from .craft_words import FREE_NAMES, OPENERS, SIGNS, WHICH, instead
from .grammar import LITERALS, Grammar, UnexpectedWord
from .script_lines import token_span

if TYPE_CHECKING:
    from lark import Token

_NAMED = {
    "NAME": "a name",
    "NUMBER": "a number",
    "FRACTION": "a fraction",
    "STRING": "a quoted text",
    "NGON": "a number of corners such as 7-gon",
    "$END": "the end of the line",
}

#: How a word with several spellings is said in a message.
_SAID = {
    "HEIGHT": ("top", "bottom"),
    "FLANK": ("left", "right"),
    "UPDOWN": ("up", "down"),
    "DEGREES": ("degrees",),
    "LAYERS": ("layers",),
    "TIMES": ("times",),
    "PERPENDICULAR_TO": ("perpendicular to",),
    "PARALLEL_TO": ("parallel to",),
}

#: What to say about a word that stands where it cannot, by its terminal.
_USES = {
    "OF": "say '1/3 of A B' or 'midpoint of A B'",
    "MEETS": "say 'where L meets M'",
    "BISECTING": "say 'line bisecting L and M'",
    "LAYERS": "say '2 layers', 'all layers' or 'top layer at P'",
    "DEGREES": "a number comes before it: '45 degrees'",
    "TIMES": "a number comes before it: '3 times'",
    "MM": "a number comes before it: '20 mm'",
    "CM": "a number comes before it: '2 cm'",
    "INCH": "a number comes before it: '2 inches'",
    "UPRIGHT": "say 'vertical centre line' or 'horizontal centre line'",
}

#: What a place by a length looks like.
_MEASURED = (
    "a point is measured off on a line: '2 cm from A on edge A B'",
    "a line is said with 'line': 'line 2 cm from the bottom edge'",
)

#: What to say about a kind of line, whatever is wrong in it.
_SHAPES = {
    "model_line": 'the title stands in quotes: model "Tea cup"',
    "credit_line": "say 'credit traditional', or put the words in quotes: credit \"...\"",
    "licence_line": 'put the words in quotes: licence "CC BY-SA 4.0"',
    "colours_line": "say the coloured side, then the plain one: colours red and white",
    "language_line": "say a language code: language es",
    "note_line": 'the note stands in quotes: note "..."',
    "start_line": "say 'start from preliminary base', or name a file: start from \"base.foldscript\"",
    "caption_line": 'say the language and the text: caption es "..."',
    "step_line": 'the caption stands in quotes: step "Fold in half."',
    "group_line": "say a name and the points it takes: group ear P Q",
}


def instead_of(word: str, verbs: Iterable[str], span: Span) -> tuple[Hint, ...]:
    """Hints for a word of the craft that opens no line: 'sink' is said with one more word."""
    word = word.lower()
    if word in OPENERS:
        return tuple(Hint(hint) for hint in OPENERS[word])
    verbs = sorted(verb for verb in verbs if len(word) > 2 and word in verb.split())
    return did_you_mean(verbs, span)


@dataclass(frozen=True)
class Guess:
    """What the first words of a line, which open none, may have been meant for.

    `near` are words spelt alike, the likeliest first; `craft` hints for a word of the craft that is
    said otherwise here.
    """

    word: str
    span: Span
    near: list[str]
    craft: tuple[Hint, ...]


def guess_opening(
    tokens: list[Token], known: Collection[str], verbs: Collection[str] | None
) -> Guess:
    """Guesses what should have opened a line.

    `known` are the words that could; `verbs` those of moves, None where no move may stand.
    """
    word, span = str(tokens[0]), token_span(tokens[0])
    near: list[str] = []
    craft: tuple[Hint, ...] = ()
    for count in (3, 2, 1):  # 'turn ovr' is nearer to 'turn over' than 'turn' is to anything
        start = tokens[:count]
        if count == 2 and str(start[-1]).lower() in ("it", "them", "up"):
            continue
        if count == 1 and verbs is not None:
            craft = () if near else instead_of(word, verbs, span)
        if len(start) == count and not near and not craft:
            spelling = " ".join(start)
            near = suggestions(spelling, (k for k in known if len(k.split()) == count), 0.8)
            if near:
                word, span = spelling, token_span(start[0]).cover(token_span(start[-1]))
    near = near or (suggestions(word, known) if not craft else [])
    return Guess(word, span, near, craft)


def suggestions(word: str, known: Iterable[str], near: float = 0.7) -> list[str]:
    """The nearest known words, best first, at most two."""
    known = sorted(set(known))
    lower = word.lower()
    if lower != word and lower in known:
        return [lower]
    return get_close_matches(lower, known, n=2, cutoff=near)


def did_you_mean(words: list[str], span: Span | None = None) -> tuple[Hint, ...]:
    """One hint, or none; its change writes the first of the words in the place of what stands in `span`."""
    if not words:
        return ()
    return (Hint(one_of(words)) if span is None else write(span, words[0], one_of(words)),)


def one_of(choices: Iterable[str]) -> str:
    """'a, b or c'."""
    items = list(choices)
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} or {items[-1]}"


def quoted(word: str) -> str:
    """A word of the script inside a message, kept short."""
    word = " ".join(word.split())
    return f"'{word if len(word) <= 40 else word[:39] + '…'}'"


def broken_token(token: Token, start: str = "") -> Refusal | None:
    """What is wrong with a token that no line can use; None for any other."""
    span = token_span(token)
    if token.type == "OPEN_STRING":
        return Refusal(
            "unclosed-quote",
            "this text has no closing quote on its line",
            'put a " at its end; inside a text write \\" for a quote',
            span=span,
        )
    if token.type == "DECIMAL_COMMA":
        return Refusal(
            "decimal-comma",
            f"{quoted(token)} can be read in two ways",
            f"{token.replace(',', '.')}, or with a blank: {token.replace(',', ', ')}",
            span=span,
        )
    if token.type == "STRING":
        bad = next((at for at, ch in enumerate(token) if not _printable(ch)), None)
        if bad is None:
            return None
        return Refusal(
            "strange-character",
            f"an unprintable character (U+{ord(token[bad]):04X}) stands in this text",
            "delete it and type the text anew",
            span=Span(span.start + bad, span.start + bad + 1),
        )
    if token.type == "NAME" and not (token[0].isalpha() or token[0] == "_"):
        span, token = Span(span.start, span.start + 1), token.update(value=token[0])
        return _strange(token, span)
    if token.type == "STRAY":
        return _strange(token, span, *([_SHAPES[start]] if start in _SHAPES else ()))
    return None


def _printable(ch: str) -> bool:
    return ch == "\t" or (
        unicodedata.category(ch) not in ("Cc", "Cs") and ord(ch) & 0xFFFE != 0xFFFE
    )


def _strange(token: Token, span: Span, *hints: str) -> Refusal:
    if not _printable(token):
        return Refusal(
            "strange-character",
            f"an unprintable character (U+{ord(token):04X}) stands here",
            "delete it",
            span=span,
        )
    number = unicodedata.numeric(token, None)
    name = unicodedata.name(token, "a character without a name").lower()
    if number is not None:
        part = Fraction(number).limit_denominator(12)
        part = part if 0 < part < 1 else Fraction(1, 2)
        hints = (f"write fractions with figures and a stroke: {part.numerator}/{part.denominator}",)
    elif token in SIGNS:
        hints = (SIGNS[token],)
    elif token == "%":
        hints = ("write the part with figures and a stroke: 1/2 of A B",)
    elif not hints:
        hints = ("leave it out; only texts in quotes may hold any character",)
    return Refusal(
        "strange-character", f"{quoted(token)} ({name}) has no meaning here", *hints, span=span
    )


def misspelt(
    token: Token, vocabulary: Collection[str], counts: dict[str, int], near: float
) -> Refusal | None:
    """A name that is used once only and looks like a word of the language."""
    if token.type != "NAME" or len(token) < 4 or counts.get(str(token), 0) > 1:
        return None
    close = suggestions(str(token), (w for w in vocabulary if len(w) > 2), near)
    if not close or str(token) in vocabulary:
        return None
    known = instead(str(token))
    # whoever mistypes a word mostly has its first letter: 'small' is no 'all', and 'hand' no 'and'
    meant = [word for word in close if word[0] == token[0].lower()]
    return Refusal(
        "unknown-word",
        f"{quoted(token)} is no word of the language and no name of this script",
        *(
            (known,)
            if known
            else did_you_mean(meant, token_span(token)) or ("leave it out, or say it otherwise",)
        ),
        span=token_span(token),
    )


def unexpected(
    grammar: Grammar,
    start: str,
    tokens: list[Token],
    trouble: UnexpectedWord,
    counts: dict[str, int],
) -> Refusal:
    """The refusal for a line that breaks the grammar at a token."""
    index, accepted = trouble.index, trouble.accepted
    before = tokens[index - 1] if index else tokens[0]
    for token in tokens[1 : index + 1]:
        guess = misspelt(token, grammar.words_of(start), counts, 0.75)
        if guess is not None:
            return guess
    hints: list[str] = []
    if measures(tokens[:index]):
        hints.extend(_MEASURED)
    wanted = expected(grammar, accepted)
    if index == len(tokens):
        if start in _SHAPES:
            hints.append(_SHAPES[start])
        elif before.type in WHICH:
            hints.append(WHICH[before.type])
        name = next(k for k in FREE_NAMES if k not in counts)
        named = [write(token_span(before), f"as {name}", f"say a name of your own: 'as {name}'")]
        return Refusal(
            "unfinished-line",
            f"the line stops too early: after {quoted(before)} {wanted or 'more'} should follow",
            *hints,
            *(named if before.type == "AS" else ()),
            span=token_span(before),
        )
    token = tokens[index]
    span = token_span(token)
    seen = index > 1 and tokens[index - 2].type in ("HEIGHT", "FLANK")  # 'the top corner'
    naming = set(accepted) == {"NAME"} or any(t.type == "CORNERS" for t in tokens[:index])
    if token.type not in LITERALS and naming and "NAME" in accepted and before.type not in WHICH:
        return reserved(token)
    if start == "step_line" and token.type == "NUMBER":
        hints.append("leave the number out: steps are numbered in the order of the script")
    elif before.type == "LINE" and token.type in ("PARALLEL_TO", "PERPENDICULAR_TO"):
        hints.append(f"say 'line through P {token} L'")
        if token.type == "PARALLEL_TO":
            hints.append("say 'line 2 cm from the bottom edge' for one at a distance")
    elif token.type == "OF" and before.type == "NUMBER":
        hints.append("write the part with figures and a stroke: 1/2 of A B")
    elif before.type in WHICH and not seen and token.type not in ("OF", "NAME"):
        hints.append(WHICH[before.type])
    elif token.type == "STRING":
        hints.append(f"a caption stands behind 'step', above the moves of the step: step {token}")
    elif token == "in":
        hints.append("leave 'in' out, or say where it goes with 'to' or 'onto'")
    elif token.type == "OF" and before.type in ("EDGE", "CORNER"):
        hints.append(
            f"{quoted(before)} by eye is one of the whole figure; of a flap say its ends or its name"
        )
    elif token.type in _USES:
        hints.append(_USES[token.type])
    elif start in _SHAPES:
        hints.append(_SHAPES[start])
    elif token == "x" and "BY" in accepted:
        hints.append("say 'by': 20 cm by 10 cm")
    elif "CM" in accepted and token.type == "NAME" and before.type in ("NUMBER", "FRACTION"):
        hints.append("mm, cm or inches")
    elif "PERPENDICULAR_TO" in accepted and "LINK" not in accepted:
        hints.append("say 'line through P Q', or 'line through P perpendicular to L'")
    if before.type in ("HEIGHT", "FLANK", "CENTRE", "LAYERS") and not measures(tokens[:index]):
        hints.append(f"{quoted(before)} is a word of the language and cannot be a name")
    if "\n" in _between(before, token):
        hints.append("the line above ends in a comma, so it goes on here: is that meant?")
    if set(accepted) == {"$END"}:
        message = f"the line should end before {quoted(token)}"
    elif wanted:
        message = f"after {quoted(before)} {wanted} should follow, not {quoted(token)}"
    else:
        message = f"{quoted(token)} does not fit after {quoted(before)}"
    return Refusal("unexpected-word", message, *hints, span=span)


def measures(tokens: list[Token]) -> bool:
    """Whether a length and 'from' stand among the last words, as in '2 cm from A'."""
    kinds = [token.type for token in tokens[-5:]]
    return any(unit in ("MM", "CM", "INCH") and word == "FROM" for unit, word in pairwise(kinds))


CENTRES = ("centre", "center")


def reserved(token: Token) -> Refusal:
    """A word of the language where a name should stand."""
    return Refusal(
        "reserved-name",
        f"{quoted(token)} is a word of the language and cannot be a name",
        *(
            ("call it 'middle', or say 'centre line' for the line you see",)
            if token in CENTRES
            else ()
        ),
        "choose another name, such as a letter or a letter and a figure: P, k1",
        span=token_span(token),
    )


#: Words that only scripts with several units need, and no hint offers.
_OF_UNITS = ("OF_UNIT", "UNIT")


def expected(grammar: Grammar, accepted: frozenset[str]) -> str:
    """What may follow, in words; '' when almost anything may."""
    if "LINK" in accepted or {"SIDE", "CORNERS"} <= accepted:
        return ""
    point, line = "MIDPOINT" in accepted, "CENTRE_LINE" in accepted
    if point or line:
        return "a point or a line" if point and line else "a point" if point else "a line"
    if {"STRING", "NAME", "FRACTION"} <= accepted:
        return "a quoted text or plain words"
    if accepted >= {"NUMBER", "FRACTION"} and "NAME" not in accepted:
        return "a number" if "$END" in accepted else "a length such as 15 cm"
    untold = ("$END", "FRACTION", *_OF_UNITS)
    rest = [t for t in sorted(accepted) if t not in untold or len(accepted) == 1]
    words: list[str] = []
    for terminal in rest:
        if terminal in _NAMED:
            words.append(_NAMED[terminal])
        elif terminal in ("CM", "MM", "INCH"):
            words.append("a unit (mm, cm, inches)")
        elif terminal in grammar.spellings:
            said = _SAID.get(terminal) or grammar.spellings[terminal][:1]
            words.extend(f"'{word}'" for word in said)
    words = list(dict.fromkeys(words))
    return one_of(words) if 0 < len(words) <= 5 else ""


def _between(before: Token, token: Token) -> str:
    """A line feed when two tokens stand on different lines."""
    return "\n" if before.line != token.line else ""


def goes_with_another(at: Span, found: Iterable[Diagnostic], text: str) -> bool:
    """Whether a mistake stands beside a word that was refused as a name above: it goes with that one."""
    spans = [one.span for one in found if one.code == "reserved-name" and one.span]
    end = text.find("\n", at.end)
    line = text[text.rfind("\n", 0, at.start) + 1 : end if end >= 0 else len(text)]
    words = (text[one.start : one.end] for one in spans)
    return any(re.search(rf"\b{re.escape(word)}\b", line) for word in words)
