"""What may be written at a place: moves, words of the language that fit there, names known at that line.

In: a script on the bench, and a place of its text. Out: `Offer`s, the likeliest first. What the grammar does
not let follow is not offered; of its words those come first that the move's forms hold.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..folding.start import base_names
from ..languages.language import languages
from ..languages.levels import LEVELS
from ..moves.registry import verbs
from ..source.diagnostics import Span
from ..source.finding import SUFFIX
from ..syntax.grammar import load_grammar
from ..syntax.heads import HEAD_LINES
from ..syntax.papers import REGULAR, US_NAMES
from .asking import CONNECTING, Asked, asked
from .bench import Bench
from .giving import Kind
from .hovering import forms_of, of_verb, summary_of

#: Other spellings, and words that read well only: they can be read, and are not offered.
_NOT_OFFERED = frozenset(
    (
        *("in front of", "into pocket at", "halfway", "no halfway", "point", "fold", "corner"),
        *("anti-clockwise", "counter-clockwise", "counterclockwise", "center", "center line"),
        *("license", "color", "colors", "colored", "degree", "time", "°"),
        *("millimetre", "millimetres", "millimeter", "millimeters", "inch", "in"),
    )
)
#: What no operand begins with.
_NO_OPERANDS = frozenset((*CONNECTING, "PLACE", "BARE", "AND", "AS", "ALL", "UPDOWN"))
#: Lines that may name a language right after their first word.
_IN_A_LANGUAGE = frozenset(("CAPTION", "LANGUAGE", "MODEL", "NOTE"))
_A_NUMBER = frozenset(("NUMBER",))
#: Sizes of ISO 216 that are folded.
_ISO = ("A3", "A4", "A5", "A6", "B4", "B5")


@dataclass(frozen=True)
class Offer:
    """Something to write: `text` comes in the place of `span`. `kind` is 'move', 'word', 'text' or what
    a name stands for; `order` is a rank, smaller first; `told` is Markdown.
    """

    text: str
    span: Span
    kind: str
    order: int
    detail: str = ""
    told: str = ""


def completions(bench: Bench, offset: int) -> list[Offer]:
    """Everything that may be written at a place."""
    here = asked(bench.written, offset)
    if here is None:
        return []
    found: dict[str, Offer] = {}
    for offer in _offers(bench, here):
        found.setdefault(offer.text, offer)
    return sorted(found.values(), key=lambda offer: (offer.order, offer.text))


def _offers(bench: Bench, here: Asked) -> Iterator[Offer]:
    if here.opens or (not here.verb and here.accepted is None):
        yield from _openers(bench, here)
        return
    first, last = here.before[0], here.before[-1]
    if first.type == "START":
        yield from _starts(bench, here)
    elif first.type == "LEVEL":
        for words in LEVELS if len(here.before) == 1 else ():
            yield Offer(words, here.typed, "word", 1)
    elif first.type in _IN_A_LANGUAGE:
        for tag in languages() if len(here.before) == 1 else ():
            yield Offer(tag, here.typed, "word", 1)
    elif here.accepted == _A_NUMBER and any(t.type in ("STEP", "STEPS") for t in here.before):
        yield from _steps(bench, here)
    elif last.type == "AS" or (here.verb == "mark" and len(here.before) == 1):
        return  # a new name
    elif here.verb == "do" and len(here.before) == 1:
        for name, group in bench.written.names.groups.items():
            head = next(g for g in bench.written.program.groups if g.name.text == name)
            words = " ".join(p.text for p in head.parameters)
            yield Offer(group.name, here.typed, Kind.GROUP.value, 1, words)
    else:
        if here.accepted is None or "NAME" in here.accepted:
            yield from _names(bench, here)
        yield from _words(here)
        yield from _longer_verbs(here)


def _openers(bench: Bench, here: Asked) -> Iterator[Offer]:
    """What a line begins with; the first words of a verb may be there already."""
    start = here.before[0].start_pos if here.before else here.typed.start
    assert start is not None
    span = Span(start, here.typed.end)
    begun = bench.written.source.text[start : here.typed.start]
    begun = " ".join(begun.split()) + " " if begun.strip() else ""
    words = {"head": _head_words(), "step": ("step", "caption", "half way", "no half way")}
    for word in words.get(here.room, ("end",)):
        if word.startswith(begun):
            yield Offer(word, span, "word", 2 if here.room == "step" else 1)
    if here.room != "head":
        for verb in verbs():
            if verb.startswith(begun):
                yield Offer(verb, span, "move", 1, summary_of(verb), of_verb(verb))


def _head_words() -> tuple[str, ...]:
    grammar = load_grammar()
    kinds = [start.removesuffix("_line").upper() for start in sorted(HEAD_LINES)]
    words = [word for kind in kinds for word in grammar.phrases.get(kind, ())]
    return tuple(
        word for word in (*words, "step", "group", "part", "assemble") if word not in _NOT_OFFERED
    )


def _longer_verbs(here: Asked) -> Iterator[Offer]:
    """Verbs that begin with the one that is there: 'open', 'open sink'."""
    if len(here.before) != 1 or not here.verb:
        return
    start = here.before[0].start_pos
    assert start is not None
    for verb in verbs():
        if verb.startswith(f"{here.verb} "):
            span = Span(start, here.typed.end)
            yield Offer(verb, span, "move", 4, summary_of(verb), of_verb(verb))


def _starts(bench: Bench, here: Asked) -> Iterator[Offer]:
    """What a model may start from: bases, and scripts beside this one."""
    if len(here.before) == 1:
        yield Offer("from", here.typed, "word", 1)
        return
    for base in base_names() if len(here.before) == 2 else ():
        yield Offer(f"{base} base", here.typed, "word", 1)
    try:
        files = sorted(p.name for p in bench.path.parent.iterdir() if p.suffix == SUFFIX)
    except OSError:
        files = []
    for name in files[:200] if len(here.before) == 2 else ():
        if name != bench.path.name and '"' not in name:
            yield Offer(f'"{name}"', here.typed, "text", 2)


def _steps(bench: Bench, here: Asked) -> Iterator[Offer]:
    """Numbers of the steps before this one, the latest first."""
    steps = bench.written.program.steps[: max(0, bench.written.step_at(here.typed.start))]
    for back, step in enumerate(reversed(steps)):
        number = str(len(steps) - back)
        said = next((caption.text for caption in step.captions if not caption.language), "")
        yield Offer(number, here.typed, "word", 1 + back, said)


def _words(here: Asked) -> Iterator[Offer]:
    """Words of the language that may follow."""
    grammar = load_grammar()
    likely = {word for form in forms_of(here.verb) for word in form.replace(",", "").split()}
    if here.before[0].type == "SHEET":
        for name in (*_ISO, *US_NAMES) if len(here.before) == 1 else ():
            yield Offer(name, here.typed, "word", 2)
        for name in REGULAR if here.before[-1].type == "REGULAR" else ():
            yield Offer(name, here.typed, "word", 1)
    needed = here.before[-1].type in CONNECTING  # a point, a line or an amount has to follow
    for terminal in (here.accepted or frozenset()) - (_NO_OPERANDS if needed else frozenset()):
        for phrase in grammar.phrases.get(terminal, ()):
            if phrase not in _NOT_OFFERED:
                order = 1 if likely.issuperset(phrase.split()) else 3
                yield Offer(phrase, here.typed, "word", order)


def _names(bench: Bench, here: Asked) -> Iterator[Offer]:
    """Names known at the line."""
    written = bench.written
    at = here.before[0].start_pos or 0
    known = written.names.known_at(at)
    for entity in reversed(known):
        given = entity.given
        line = f", line {written.source.position(given.span.start)[0]}" if given else ""
        yield Offer(entity.name, here.typed, entity.kind.value, 2, f"{entity.kind.value}{line}")
    if written.names.room_at(at).group is not None:
        return
    index = written.step_at(at)
    steps = bench.folded.steps[:index] if index > 0 else ()
    names = steps[-1].folding.names if steps else None
    for name in sorted(bench.folded.begun_with):
        if names is None or name in names.points or name in names.creases:
            yield Offer(name, here.typed, Kind.BEGUN_WITH.value, 3, Kind.BEGUN_WITH.value)
    for name in names.known() if names is not None else ():
        kind = Kind.POINT if names is not None and name in names.points else Kind.CREASE
        yield Offer(name, here.typed, kind.value, 3, f"{kind.value}, an image")
