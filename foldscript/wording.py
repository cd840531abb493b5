"""Phrases: sentences kept as template and parts, so that they can be translated when shown.

In: templates in English with named holes. Out: text in any language that has a catalogue.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Phrase:
    """An English template such as 'Fold {what} to {where}.' and what fills its holes."""

    template: str
    parts: tuple[tuple[str, Phrase | str], ...] = ()

    def render(self, translate: Callable[[str], str] = lambda text: text) -> str:
        """Text with every template (also those of the parts) passed through `translate`."""
        filled = {
            key: part.render(translate) if isinstance(part, Phrase) else part
            for key, part in self.parts
        }
        return translate(self.template).format_map(filled) if filled else translate(self.template)


def phrase(template: str, **parts: Phrase | str) -> Phrase:
    """`phrase('Fold {what}.', what=...)` without writing the pairs out."""
    return Phrase(template, tuple(parts.items()))
