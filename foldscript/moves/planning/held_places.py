"""Where hands hold the paper while the rest is done: the `holding` clause of steps that leave the plane.

In: a `Request`. Out: the places named, the goals that they are held, their signs, and the caption with them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ...geometry.lines import Segment, point_on_segment
from ...languages.wording import Phrase, phrase
from ...paper.signs import PointSign
from ...pose.goals import Hold
from ...source.diagnostics import Refusal
from .at_points import listed, places
from .request import PointValue, Remark, Request


@dataclass(frozen=True)
class Held:
    """What is held: places named, and goals for them."""

    named: tuple[PointValue, ...] = ()
    goals: tuple[Hold, ...] = ()

    @property
    def signs(self) -> tuple[PointSign, ...]:
        """A finger at every place."""
        return tuple(PointSign("hold", value.at) for value in self.named)

    @property
    def letters(self) -> tuple[tuple[str, tuple[float, float]], ...]:
        """Names beside the places."""
        return tuple((value.letter, value.at) for value in self.named if value.letter)

    def remarks(self, creases: Sequence[Segment], parts: Sequence[int]) -> Iterator[Remark]:
        """What a hold leaves open, of paper that is raised along `creases`: on such a line it does not tell
        which side stays, and on paper that is raised beside others on paper that stays it holds nothing.

        `parts` : for each place the number of the part that it is in, of those that turn against each other
        """
        for value in self.named:
            at = value.sheet
            if at is not None and any(point_on_segment(crease, at) for crease in creases):
                yield Remark(
                    "held-on-the-line",
                    f"{value.words.render()} lies on a line that paper is raised along: which side of it "
                    "stays is not said by that",
                    ("name a point beside the line after 'holding'",),
                )
        for value, part in zip(self.named, parts, strict=True):
            if part == parts[0]:
                continue
            yield Remark(
                "held-and-raised",
                f"{value.words.render()} is held, and lies on paper that this raises",
                ("leave it out after 'holding'", "or hold a place on paper that stays"),
            )

    def told(self, words: Phrase) -> Phrase:
        """A caption that begins with what is held."""
        if not self.named:
            return words
        where = listed(list(self.named))
        return phrase("Hold the layers together at {what}. {then}", what=where, then=words)


def held(request: Request) -> Held:
    """What stands after 'holding'. Raises Refusal, 'holding-where', for what is no point of the paper."""
    if request.clause("holding") is None:
        return Held()
    named: list[PointValue] = []
    goals: list[Hold] = []
    for place in places(request, "holding"):
        if not isinstance(place, PointValue) or place.sheet is None or not place.facets:
            raise Refusal(
                "holding-where",
                "after 'holding' come points of the paper",
                *(f"write it like: {form}" for form in request.forms if "holding" in form),
                span=request.span,
            )
        named.append(place)
        goals.append(Hold(place.at, place.sheet))
    return Held(tuple(named), tuple(goals))
