"""Letters in the figures of a step that has a caption of its own: for the points that it speaks of.

In: a folded step with its captions. Out: the same step, its panels with the places of such points. A
letter is a capital, or a capital and a digit, that stands alone and is the name of a point; 'A', 'I' and
their like at the start of a sentence may be words, and are not taken for letters. Other names are those
that the moves gave; without a caption, all of these are lettered.
"""

from __future__ import annotations

import re
from dataclasses import replace

from ..languages.unit_names import letter_of
from .steps import Panel, Step

_LETTER = re.compile(r"(?<![\w'’.-])[A-Z]\d?(?![\w'’-])")
#: Letters that are words in one of the languages, where a sentence starts with them.
_WORDS = frozenset("AEIOUY")
_STARTS = re.compile(r"(?:^|[.!?:;¿¡]\s*)[\"'«“‘(]*$")


def is_letter(name: str) -> bool:
    """Whether a name is one that stands beside a point in a figure: 'P', 'P2'."""
    return _LETTER.fullmatch(name) is not None


def mentioned(caption: str) -> tuple[str, ...]:
    """Letters that a caption speaks of, each once, in order."""
    found: dict[str, None] = {}
    for match in _LETTER.finditer(caption):
        name = match.group()
        if name not in _WORDS or not _STARTS.search(caption[: match.start()]):
            found[name] = None
    return tuple(found)


def lettered(step: Step) -> Step:
    """The step with the letters of its captions; those that no move names are in the first panel."""
    texts = (step.caption, *(text for _, text in step.captions))
    told = tuple(dict.fromkeys(name for text in texts for name in mentioned(text)))
    had = {name for panel in step.panels for name, _ in panel.labels}
    known = dict(step.named)
    missing = [name for name in told if name in known and name not in had]
    panels: list[Panel] = []
    for k, panel in enumerate(step.panels):
        letters = [
            (n, at) for n, at in panel.labels if (p := letter_of(n)) in told or not is_letter(p)
        ]
        if k == 0:
            letters += [(name, panel.state.where(known[name])) for name in missing]
        wanted = tuple(letters) if step.caption else None
        panels.append(panel if panel.lettering == wanted else replace(panel, lettering=wanted))
    same = all(a is b for a, b in zip(panels, step.panels, strict=True))
    return step if same else replace(step, panels=tuple(panels))
