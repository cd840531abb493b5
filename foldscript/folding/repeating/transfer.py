"""What words stood for on one part of the paper, carried over to its image under a symmetry.

In: values that words stood for when a statement was carried out, an isometry of the sheet, and the
paper as it lies now. Out: the values for the image, as if the words had been said of it. Points go
through the sheet (everything is paper); lines through the motion of the folded plane that belongs to
the isometry.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ...geometry import polygons
from ...geometry.isometries import Isometry, inverse, map_line, map_segment
from ...geometry.lines import Point, distance, midpoint
from ...geometry.tolerance import same_point
from ...moves.planning import called
from ...moves.planning.request import Clause, LineValue, PointValue, Value
from ...paper.signs import Landmark, landmark_moved
from ...paper.state import State
from ...source.diagnostics import Refusal
from ..resolving.names import Names

_TURNED = {"clockwise": "anticlockwise", "anticlockwise": "clockwise"}
_AXES: dict[str, Point] = {
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
    "up": (0.0, 1.0),
    "down": (0.0, -1.0),
}


@dataclass(frozen=True)
class Transfer:
    """Carries values over from the original to its image.

    Attributes
    ----------
    then : the paper on which the words were resolved
    now : the paper that their image lies on
    sheet : place of the original -> place of the image
    motion : where the original lay then -> where the image lies now
    names : everything the script has named
    renamed : names given inside the repeated steps -> what the repeat calls their images
    """

    then: State
    now: State
    sheet: Isometry
    motion: Isometry
    names: Names
    renamed: Mapping[str, str]

    def clause(self, clause: Clause) -> Clause:
        """A clause, said of the image."""
        return Clause(
            self._word(clause.word), tuple(self.value(v) for v in clause.values), clause.span
        )

    def value(self, value: Value) -> Value:
        """A value as it is for the image."""
        if isinstance(value, PointValue):
            return self._point(value)
        if isinstance(value, LineValue):
            return self._line(value)
        return value

    def _word(self, word: str) -> str:
        m = self.motion
        if word in _TURNED:
            return _TURNED[word] if m.flips else word
        if word in _AXES:
            x, y = _AXES[word]
            image = (m.a * x + m.b * y, m.c * x + m.d * y)
            return next((w for w, at in _AXES.items() if distance(at, image) < 1e-6), word)
        return word

    def _point(self, value: PointValue) -> PointValue:
        if value.sheet is None:
            return replace(value, at=self.motion(value.at), found=self._found(value))
        sheet = self.sheet(value.sheet)
        try:
            at, facets = max(  # of two sides of a cut, the one meant
                ((at, self._carriers(value.facets, value.at, at)) for at in self.now.places(sheet)),
                key=lambda one: len(one[1]),
            )
        except ValueError:
            raise Refusal(
                "cut-off",
                f"the paper where {value.words.render()} would be repeated has been cut off",
                "repeat before that piece is cut off, or write the moves out",
                span=value.span,
            ) from None
        letter = next((n for n, p in self.names.points.items() if same_point(p, sheet)), "")
        words = called.point(letter) if letter else value.words
        if self.now.sheet.is_corner(letter):
            words = called.corner(letter)
        return replace(
            value,
            at=at,
            facets=facets,
            sheet=sheet,
            letter=letter,
            words=words,
            found=self._found(value),
        )

    def _found(self, value: PointValue | LineValue) -> tuple[Landmark, ...]:
        return tuple(landmark_moved(sign, self.motion) for sign in value.found)

    def _line(self, value: LineValue) -> LineValue:
        segment = None if value.segment is None else map_segment(self.motion, value.segment)
        facets: list[int] = []
        for f in value.facets:
            part = polygons.clip_line(self.then.placed[f], value.line)
            if part is not None and value.segment is not None:
                part = polygons.clip_segment(self.then.placed[f], value.segment) or part
            if part is not None:
                spot = midpoint(*part)
                facets.extend(self._carriers((f,), spot, self.motion(spot)))
        return replace(
            value,
            line=map_line(self.motion, value.line),
            segment=segment,
            facets=tuple(dict.fromkeys(facets)),
            letters=(),
            others=tuple(map_line(self.motion, line) for line in value.others),
            name=self.renamed.get(value.name, ""),
            creases=tuple(map_segment(self.sheet, s) for s in value.creases),
            found=self._found(value),
        )

    def _carriers(self, facets: Sequence[int], spot: Point, image: Point) -> tuple[int, ...]:
        """Facets now that are the image of given ones where they held a spot, in the same order."""
        found: list[int] = []
        for f in facets:
            old = self.then.facets[f]
            p = self.sheet(inverse(old.place)(spot))
            outline = polygons.counter_clockwise(tuple(self.sheet(q) for q in old.outline))
            for k in self.now.top_down(self.now.facets_on_sheet(p)):
                new = self.now.facets[k]
                if polygons.overlap(outline, new.outline) and distance(new.place(p), image) < 1e-7:
                    found.append(k)
        return tuple(dict.fromkeys(found))
