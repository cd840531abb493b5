"""The narration itself: chapters with headings, made of paragraphs and lists.

In: phrases. Out: frozen data that a writer of text or of HTML goes through from top to bottom. Every
sentence is a `Phrase`, so that all of it can be translated when it is written.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..languages.wording import Number, Phrase


@dataclass(frozen=True)
class Paragraph:
    """Sentences that stand together; `label` says in a word or two what they are about."""

    sentences: tuple[Phrase, ...]
    label: Phrase | None = None


@dataclass(frozen=True)
class Listing:
    """Rows of a list, each one or more sentences."""

    rows: tuple[tuple[Phrase, ...], ...]


Block = Paragraph | Listing


@dataclass(frozen=True)
class Chapter:
    """A heading and what stands under it."""

    heading: Phrase
    blocks: tuple[Block, ...]
    step: int = 0  # number of the step that it narrates, 0 for the other chapters


@dataclass(frozen=True)
class Narration:
    """A whole model in words. `title` and `credit` are the script's own, in its `language`."""

    title: str
    credit: str
    language: str
    chapters: tuple[Chapter, ...]


def unique(phrases: Iterable[Phrase]) -> tuple[Phrase, ...]:
    """Without repetitions, in the order of first use."""
    return tuple(dict.fromkeys(phrases))


_COUNT = {
    1: Phrase("one"),
    2: Phrase("two"),
    3: Phrase("three"),
    4: Phrase("four"),
    5: Phrase("five"),
    6: Phrase("six"),
    7: Phrase("seven"),
    8: Phrase("eight"),
    9: Phrase("nine"),
    10: Phrase("ten"),
    11: Phrase("eleven"),
    12: Phrase("twelve"),
}


def count(n: int) -> Phrase:
    """Small numbers as words."""
    return _COUNT.get(n, Phrase(str(n)))


def centimetres(mm: float) -> Number:
    """A length of so many millimetres in centimetres, to the millimetre."""
    return Number(f"{mm / 10:.1f}")
