"""Phrases: sentences kept as template and parts, so that they can be translated when shown.

In: templates in English with named holes. Out: text in any language that has a catalogue. Whoever shows
text is given a `Translate`; a `Language` is one that also knows plurals, cases and numbers, and plain
functions do where nothing is translated.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from string import Formatter
from typing import TypeAlias

from .said_in import said_in

#: A sentence in English, with holes such as {what}: what a catalogue is looked up by. Literals that
#: stand where a Template is wanted are found by `python -m foldscript.languages`.
Template: TypeAlias = str
Translate = Callable[[Template], str]


class Language:
    """How one language says things; this one is English, where every template is said as it stands.

    Attributes
    ----------
    tag : BCP 47 tag
    decimal_mark : between the whole and the decimals of a number
    """

    tag = "en"
    decimal_mark = "."

    def __call__(self, template: Template) -> str:
        """The template in this language, as it stands alone."""
        return self.say(template)

    def say(self, template: Template, case: str = "") -> str:
        """The template in this language, in the case that a sentence around it wants."""
        return template

    def plural(self, one: Template, many: Template, n: int) -> str:
        """The template for that many things."""
        return one if n == 1 else many

    def joined(self, before: str, after: str) -> tuple[str, str]:
        """Two texts that come to stand side by side ('de', 'le' in French), as they are written so."""
        return before, after


ENGLISH = Language()


@dataclass(frozen=True, slots=True)
class Number:
    """A number, with the decimal mark of the language that it is shown in."""

    text: str

    def render(self, translate: Translate = ENGLISH, case: str = "") -> str:
        """The number as text."""
        return decimal(self.text, translate)


@dataclass(frozen=True, slots=True)
class Name:
    """What a script calls something, and `others`: what it is called in other languages (tag, name)."""

    text: str
    others: tuple[tuple[str, str], ...] = ()

    def render(self, translate: Translate = ENGLISH, case: str = "") -> str:
        """The name in a language, the script's own where it has none there."""
        tag = translate.tag if isinstance(translate, Language) else ENGLISH.tag
        return said_in(self.others, tag) or self.text


@dataclass(frozen=True, slots=True)
class Phrase:
    """An English template such as 'Fold {what} to {where}.' and what fills its holes.

    Attributes
    ----------
    many, count : another template, for more than one of something, and how many there are
    again : what is said instead once the same template has been read (a term is explained once)
    alike : what is said instead in a row of like sentences, without what only tells one side from another
    """

    template: Template
    parts: tuple[tuple[str, Phrase | Number | Name | str], ...] = ()
    many: Template = ""
    count: int = 1
    again: Phrase | None = None
    alike: Phrase | None = None

    def render(self, translate: Translate = ENGLISH, case: str = "") -> str:
        """Text with every template (also those of the parts) passed through `translate`."""
        language = translate if isinstance(translate, Language) else None
        if self.many:
            found = (language or ENGLISH).plural(self.template, self.many, self.count)
        elif language is not None:
            found = language.say(self.template, case)
        else:
            found = translate(self.template)
        return self._filled(found, translate, case) if self.parts else found

    def _filled(self, template: str, translate: Translate, case: str) -> str:
        """With the holes filled; a template without words of its own hands its case on."""
        parts = dict(self.parts)
        pieces = list(Formatter().parse(template))
        passed_on = case if not any(text.strip() for text, _, _, _ in pieces) else ""
        out = ""
        for text, hole, wanted, _ in pieces:
            out += text
            if hole is None:
                continue
            part = parts[hole]
            said = part if isinstance(part, str) else part.render(translate, wanted or passed_on)
            if isinstance(translate, Language):
                out, said = translate.joined(out, said)
            out += said
        return out


def phrase(template: Template, **parts: Phrase | Number | Name | str) -> Phrase:
    """`phrase('Fold {what}.', what=...)` without writing the pairs out."""
    return Phrase(template, tuple(parts.items()))


def plural(
    one: Template,
    many: Template,
    n: int,
    said: Phrase | None = None,
    **parts: Phrase | Number | Name | str,
) -> Phrase:
    """A phrase with a template for one thing and one for several; {n} is how many, or `said`."""
    return Phrase(one, (("n", said or str(n)), *parts.items()), many, n)


def own_text(text: str) -> Phrase:
    """A text of the script's own, which is never looked up in a catalogue."""
    return phrase("{text}", text=text)


def briefly(words: Phrase, again: Phrase) -> Phrase:
    """A phrase that explains a term, with what is said when the reader knows the term."""
    return Phrase(words.template, words.parts, words.many, words.count, again)


def decimal(text: str, translate: Translate = ENGLISH) -> str:
    """A number written with a point, with the decimal mark of a language."""
    mark = translate.decimal_mark if isinstance(translate, Language) else "."
    return text if mark == "." else text.replace(".", mark)


def listed(things: Sequence[Phrase]) -> Phrase:
    """'a', 'a and b', 'a, b and c'."""
    words = things[0]
    for k, more in enumerate(things[1:], start=2):
        template = "{some} and {more}" if k == len(things) else "{some}, {more}"
        words = phrase(template, some=words, more=more)
    return words


def sentences(phrases: Iterable[Phrase], translate: Translate = ENGLISH) -> str:
    """Sentences in a row, each with a capital."""
    shown = (p.render(translate) for p in phrases)
    return " ".join(s[:1].upper() + s[1:] for s in shown if s)
