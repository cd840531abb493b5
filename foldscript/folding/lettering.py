"""Letters in figures: for the points that the words under a figure speak of, and for no others.

In: a folded step, with its captions or with the words of one language. Out: the same step, its panels with
the places of such points. A letter is a capital, or a capital and a digit, that stands alone and is the
name of a point, or several in a row that all are ('line OK'); 'A', 'I' and their like at the start of a
sentence may be words, and are not taken for letters unless another one follows ('E and F'). Before it is
said in a language, a step without a caption letters all points that its moves name.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import replace

from ..geometry.lines import Point
from ..languages.unit_names import letter_of
from .steps import Panel, Step

#: Letters in a row, each of them a point.
_ROW = re.compile(r"(?<![\w'’.-])(?:[A-Z]\d?){2,}(?![\w'’-])")
_PIECE = re.compile(r"[A-Z]\d?")
_LETTER = re.compile(r"(?<![\w'’.-])[A-Z]\d?(?![\w'’-])")
#: Letters that are words in one of the languages, where a sentence starts with them.
_WORDS = frozenset("AEIOUY")
#: What follows one of them that is a letter all the same: another letter, 'E and F'.
_PAIR = re.compile(r"(?:,| (?:and|or|und|oder|et|ou|y|e|o|u|en|of)) [A-Z]\d?(?![\w'’-])")
_STARTS = re.compile(r"(?:^|[.!?:;¿¡]\s*)[\"'«“‘(]*$")


def is_letter(name: str) -> bool:
    """Whether a name is one that stands beside a point in a figure: 'P', 'P2'."""
    return _LETTER.fullmatch(name) is not None


def mentioned(caption: str, known: Collection[str] = ()) -> tuple[str, ...]:
    """Points that a caption speaks of, each once, in order; in a row, and names, only where `known`."""
    found = _letters_in(caption, known)
    for name in known:
        if not is_letter(name) and (at := re.search(rf"(?<!\w){re.escape(name)}(?!\w)", caption)):
            found.setdefault(at.start(), name)
    return tuple(dict.fromkeys(found[at] for at in sorted(found)))


def mentioned_at(caption: str, letter: str, known: Collection[str]) -> tuple[int, ...]:
    """Where a caption speaks of the point with a letter; `known` are the names of all points."""
    return tuple(at for at, name in sorted(_letters_in(caption, known).items()) if name == letter)


def _letters_in(caption: str, known: Collection[str]) -> dict[int, str]:
    """The letters of points in a caption, by where they stand."""
    found: dict[int, str] = {}
    for match in _LETTER.finditer(caption):
        name = match.group()
        word = name in _WORDS and _STARTS.search(caption[: match.start()])
        if not word or _PAIR.match(caption, match.end()):
            found[match.start()] = name
    for row in _ROW.finditer(caption):
        pieces = list(_PIECE.finditer(row.group()))
        if all(piece.group() in known for piece in pieces):
            found |= {row.start() + piece.start(): piece.group() for piece in pieces}
    return found


def _known(step: Step) -> frozenset[str]:
    """Names of points that a figure of the step may show; of a unit's points as they stand in figures."""
    labels = (letter_of(name) for panel in step.panels for name, _ in panel.labels)
    return frozenset((*(name for name, _ in step.named), *labels))


def lettered(step: Step) -> Step:
    """The step with the letters of its captions; those that no move names are in the first panel."""
    known = _known(step)
    texts = (step.caption, *(text for _, text in step.captions))
    told = tuple(dict.fromkeys(name for text in texts for name in mentioned(text, known)))
    if not step.caption:
        return _with(step, [None] * len(step.panels))
    return _with(step, _shared_out(step, told))


def lettered_as_told(step: Step, told: Sequence[str]) -> Step:
    """The step with the letters of what stands under each of its figures, a text a panel."""
    known = _known(step)
    if step.caption:
        return _with(step, _shared_out(step, mentioned(step.caption, known)))
    names = (mentioned(text, known) for text in told)
    return _with(
        step, [_letters(step, panel, some) for panel, some in zip(step.panels, names, strict=True)]
    )


#: Points that are lettered in a panel, None for those of its moves.
_Letters = tuple[tuple[str, Point], ...] | None


def _shared_out(step: Step, told: Sequence[str]) -> list[_Letters]:
    """The letters of a caption under all figures: where moves name the point, else in the first."""
    had = {name for panel in step.panels for name, _ in panel.labels}
    missing = [name for name in told if name not in had]
    return [
        _letters(step, panel, [name for name in told if k == 0 or name not in missing], add=k == 0)
        for k, panel in enumerate(step.panels)
    ]


def _letters(step: Step, panel: Panel, told: Sequence[str], *, add: bool = True) -> _Letters:
    """Of the points told those that the panel's moves name, and with `add` the others that are known.

    A point of one of several units has a longer name, 'A of unit 2', and its letter is not another's.
    """
    here = [(name, at) for name, at in panel.labels if letter_of(name) in told]
    short = {letter_of(name) for name, _ in here}
    known = dict(step.named)
    more = [(n, panel.state.where(known[n])) for n in told if n in known and n not in short]
    return (*here, *(more if add else ()))


def _with(step: Step, wanted: Sequence[_Letters]) -> Step:
    panels = tuple(
        panel if panel.lettering == letters else replace(panel, lettering=letters)
        for panel, letters in zip(step.panels, wanted, strict=True)
    )
    same = all(a is b for a, b in zip(panels, step.panels, strict=True))
    return step if same else replace(step, panels=panels)
