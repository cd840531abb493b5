"""A script and its image: mirrored, turned by quarter turns, turned over, its corners renamed.

In: statements of a script on a square, and which image is wanted. Out: the statements that say the same
of the image, and how a place of the sheet or of the plane is carried into it. The image is made from
the words alone, with no help of the package, so that it can tell whether the package treats both alike.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

Place = tuple[float, float]
#: The sheet of every script here; corners run counter-clockwise from the bottom left.
CORNERS = "ABCD"
_PLACES: tuple[Place, ...] = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


class Motion(NamedTuple):
    """(x, y) -> (a x + b y + e, c x + d y + f): an isometry of the square from (0, 0) to (1, 1)."""

    a: int
    b: int
    c: int
    d: int
    e: int
    f: int

    def __call__(self, p: Place) -> Place:
        x, y = p
        return self.a * x + self.b * y + self.e, self.c * x + self.d * y + self.f

    def way(self, p: Place) -> Place:
        """A direction carried along."""
        x, y = p
        return self.a * x + self.b * y, self.c * x + self.d * y

    @property
    def mirrors(self) -> bool:
        """Whether left and right hands change places."""
        return self.a * self.d - self.b * self.c < 0


@dataclass(frozen=True)
class Image:
    """One kind of image.

    Attributes
    ----------
    name : for messages
    motion : where a place of the plane comes to lie
    renamed : which corner is called what: 'BADC' calls A B
    over : whether the paper lies on its face: front and behind change places
    """

    name: str
    motion: Motion
    renamed: str = CORNERS
    over: bool = False


IDENTITY = Motion(1, 0, 0, 1, 0, 0)
IMAGES = (
    Image("renamed", IDENTITY, "CDAB"),
    Image("mirrored left to right", Motion(-1, 0, 0, 1, 1, 0)),
    Image("mirrored top to bottom", Motion(1, 0, 0, -1, 0, 1)),
    Image("quarter turn", Motion(0, -1, 1, 0, 1, 0)),
    Image("half turn", Motion(-1, 0, 0, -1, 1, 1)),
    Image("turned over", Motion(-1, 0, 0, 1, 1, 0), over=True),
)

_WAYS: dict[str, Place] = {
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
    "bottom": (0.0, -1.0),
    "top": (0.0, 1.0),
}
#: What is said of the other side of the paper; the words stand for themselves otherwise.
_OVER = {
    "crease mountain": "crease",
    "crease": "crease mountain",
    "valley": "mountain",
    "mountain": "valley",
    "in front": "behind",
    "behind": "in front",
    "top layer": "bottom layer",
    "bottom layer": "top layer",
}
_WORDS = re.compile(
    r"\b(?:(?:top|bottom) layer|(?:top|bottom) (?:left|right)|top to bottom|side to side|turn over"
    r"|horizontal centre line|centre line|left|right|top|bottom|anticlockwise|clockwise"
    r"|crease mountain|crease|valley|mountain|in front|behind|at [\d.]+ degrees to|[A-D]\b)"
)


def image_of(statements: Sequence[str], image: Image) -> list[str]:
    """The statements that say the same of the image."""
    return [
        _turned_over(_WORDS.sub(lambda found: _said(found[0], image), text), image)
        for text in statements
    ]


#: Moves that have a twin on the other side of the paper (`_OVER`); all others work on the front.
_TWO_SIDED = {
    "valley",
    "mountain",
    "crease",
    "pinch",
    "mark",
    "turn",
    "rotate",
    "unfold",
    "refold",
    "collapse",
}


def has_image(statements: Sequence[str], image: Image) -> bool:
    """Whether the words can say the image of these statements.

    'On the other side' is left for right: of an image turned by a quarter nothing says that.
    """
    if image.motion.way((0.0, 1.0))[0] and any("other side" in text for text in statements):
        return False
    return not image.over or all(text.split()[0] in _TWO_SIDED for text in statements)


def sheet_of(image: Image) -> str:
    """The sheet line of the image: its corners lie where those of the script are carried to."""
    names = {
        min(_PLACES, key=lambda q: abs(q[0] - x) + abs(q[1] - y)): image.renamed[k]
        for k, p in enumerate(_PLACES)
        for x, y in (image.motion(p),)
    }
    side = "up" if image.over else "down"
    named = " ".join(names[p] for p in _PLACES)
    return f"sheet square 100 mm, coloured side {side}, corners named {named}\n"


def _said(word: str, image: Image) -> str:
    motion = image.motion
    upright = motion.way((0.0, 1.0))[0] == 0
    if word in CORNERS:
        return image.renamed[CORNERS.index(word)]
    if word in ("clockwise", "anticlockwise"):
        return (
            {"clockwise": "anticlockwise", "anticlockwise": "clockwise"}[word]
            if motion.mirrors
            else word
        )
    if word.startswith("at "):
        degrees = float(word.split()[1])
        return f"at {180 - degrees:g} degrees to" if motion.mirrors else word
    if word in ("centre line", "horizontal centre line"):
        other = {"centre line": "horizontal centre line", "horizontal centre line": "centre line"}
        return word if upright else other[word]
    if word in ("turn over", "top to bottom", "side to side"):
        return word  # scripts here say both: 'turn over side to side'
    if word in _OVER:
        return _OVER[word] if image.over else word
    if all(part in _WAYS for part in word.split()):
        x, y = (sum(_WAYS[part][k] for part in word.split()) for k in (0, 1))
        return _way(motion.way((x, y)))
    return word


def _way(way: Place) -> str:
    x, y = way
    parts = ["top" if y > 0 else "bottom"] if y else []
    parts += ["right" if x > 0 else "left"] if x else []
    return " ".join(parts)


def _turned_over(text: str, image: Image) -> str:
    """'turn over side to side' of a figure that is turned by a quarter is 'top to bottom'."""
    if image.motion.way((0.0, 1.0))[0] == 0:
        return text
    pair = {"side to side": "top to bottom", "top to bottom": "side to side"}
    return re.sub("side to side|top to bottom", lambda found: pair[found[0]], text)
