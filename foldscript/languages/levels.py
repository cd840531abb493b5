"""How hard a model is: five levels, from the moves that it needs.

Common practice (books print their own scales, these words are the usual ones): simple takes mountain and
valley folds only, every one at a landmark; low intermediate adds reverse folds and squashes;
intermediate the bird base, petal folds and basic sinks; high intermediate double rabbit ears, crimps
and closed sinks; everything past that is complex. How many steps there are is a rough guide only.
"""

from __future__ import annotations

from enum import IntEnum

from .wording import Template


class Level(IntEnum):
    """A level; a harder one compares greater."""

    SIMPLE = 0
    LOW_INTERMEDIATE = 1
    INTERMEDIATE = 2
    HIGH_INTERMEDIATE = 3
    COMPLEX = 4

    @property
    def words(self) -> str:
        """As a script's head and a page say it: 'low intermediate'."""
        return LEVELS[self]


#: Every level in words, simplest first.
LEVELS: tuple[Template, ...] = (
    "simple",
    "low intermediate",
    "intermediate",
    "high intermediate",
    "complex",
)


def level_called(words: str) -> Level | None:
    """The level of these words; None when there is no such level."""
    return Level(LEVELS.index(words)) if words in LEVELS else None
