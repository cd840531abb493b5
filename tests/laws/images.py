"""A script and its image: mirrored, turned by quarter turns, turned over, its corners renamed.

In: statements of a script, its sheet, and which image is wanted. Out: the statements that say the same
of the image, and how a place of the sheet or of the plane is carried into it. The image is made from
the words alone, with no help of the package, so that it can tell whether the package treats both alike.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

Place = tuple[float, float]
#: Names of corners, as many as a sheet needs; they run counter-clockwise from the bottom left.
CORNERS = "ABCDEF"


class Motion(NamedTuple):
    """(x, y) -> (a x + b y + e, c x + d y + f): an isometry of the plane."""

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float

    def __call__(self, p: Place) -> Place:
        x, y = p
        return self.a * x + self.b * y + self.e, self.c * x + self.d * y + self.f

    def way(self, p: Place) -> Place:
        """A direction carried along."""
        x, y = p
        return self.a * x + self.b * y, self.c * x + self.d * y

    @property
    def undone(self) -> Motion:
        """The motion back."""
        (a, b), (c, d) = (self.a, self.c), (self.b, self.d)  # the transpose turns back
        return Motion(a, b, c, d, -(a * self.e + b * self.f), -(c * self.e + d * self.f))

    @property
    def mirrors(self) -> bool:
        """Whether left and right hands change places."""
        return self.a * self.d - self.b * self.c < 0


@dataclass(frozen=True)
class Sheet:
    """The sheet of a script: how it is said, and its corners in millimetres.

    `said` is the line without side and names; `turned` the same of the sheet turned by a quarter. A polygon
    has neither: it is said by its corners.
    """

    corners: tuple[Place, ...]
    said: str = ""
    turned: str = ""

    @property
    def names(self) -> str:
        """What the corners are called."""
        return CORNERS[: len(self.corners)]

    def line(self, image: Image) -> str:
        """The sheet line of the image: its corners lie where those of the script are carried to."""
        motion = self.motion(image)
        unit = self.unit
        moved = [motion((x / unit, y / unit)) for x, y in self.corners]
        if motion.mirrors:
            moved.reverse()
        called = [image.renamed[k] for k in range(len(moved))]
        if motion.mirrors:
            called.reverse()
        first = min(range(len(moved)), key=lambda k: (round(moved[k][1], 6), round(moved[k][0], 6)))
        moved, called = moved[first:] + moved[:first], called[first:] + called[:first]
        upright = motion.way((0.0, 1.0))[0] == 0
        said = self.said if upright else self.turned
        if not said:
            said = (
                "polygon " + ", ".join(f"{x * unit:.4f} {y * unit:.4f}" for x, y in moved) + " mm"
            )
        side = "up" if image.over else "down"
        return f"sheet {said}, coloured side {side}, corners named {' '.join(called)}\n"

    @property
    def unit(self) -> float:
        """The longer side of the box around the sheet, in millimetres."""
        return max(self._box)

    @property
    def _box(self) -> Place:
        xs, ys = zip(*self.corners, strict=True)
        return max(xs) - min(xs), max(ys) - min(ys)

    def motion(self, image: Image) -> Motion:
        """Where a place of the plane comes to lie, in sheet units; the image's box begins at (0, 0)."""
        a, b, c, d = image.way
        w, h = (side / self.unit for side in self._box)
        return Motion(a, b, c, d, max(0.0, -a * w, -b * h), max(0.0, -c * w, -d * h))


@dataclass(frozen=True)
class Image:
    """One kind of image.

    Attributes
    ----------
    name : for messages
    way : a, b, c, d of its motion
    renamed : which corner is called what: 'BADCEF' calls A B
    over : whether the paper lies on its face: front and behind change places
    """

    name: str
    way: tuple[int, int, int, int]
    renamed: str = CORNERS
    over: bool = False


#: Where nothing is carried elsewhere.
IDENTITY = Motion(1, 0, 0, 1, 0, 0)
SQUARE = Sheet(
    ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)), "square 100 mm", "square 100 mm"
)
SHEETS = (
    Sheet(((0.0, 0.0), (210.0, 0.0), (210.0, 297.0), (0.0, 297.0)), "A4 portrait", "A4 landscape"),
    Sheet(
        ((0.0, 0.0), (200.0, 0.0), (200.0, 70.0), (0.0, 70.0)),
        "rectangle 200 mm by 70 mm",
        "rectangle 70 mm by 200 mm",
    ),
    Sheet(((0.0, 0.0), (200.0, 0.0), (240.0, 120.0), (110.0, 170.0), (40.0, 140.0))),
    Sheet(((0.0, 0.0), (120.0, 0.0), (150.0, 100.0))),
    Sheet(((0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (100.0, 160.0), (0.0, 100.0))),
)
AS_IT_IS = Image("as it is", (1, 0, 0, 1))
IMAGES = (
    Image("renamed", (1, 0, 0, 1), "CDABFE"),
    Image("mirrored left to right", (-1, 0, 0, 1)),
    Image("mirrored top to bottom", (1, 0, 0, -1)),
    Image("quarter turn", (0, -1, 1, 0)),
    Image("half turn", (-1, 0, 0, -1)),
    Image("turned over", (-1, 0, 0, 1), over=True),
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
    "pinch mountain": "pinch",
    "pinch": "pinch mountain",
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
    r"|(?:crease|pinch) mountain|crease|pinch|valley|mountain|in front|behind|at [\d.]+ degrees to|[A-F]\b)"
)


def image_of(statements: Sequence[str], image: Image) -> list[str]:
    """The statements that say the same of the image."""
    said = [
        _turned_over(_WORDS.sub(lambda found: _said(found[0], image), text), image)
        for text in statements
    ]
    if not image.over:
        return said
    return [re.sub(r"\bwith (\w+) over\b", r"with \1 under", text) for text in said]


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

    'On the other side' is left for right, and 'behind' what hands find after turning the model over side to
    side, as units are turned over: of an image turned by a quarter nothing says that.
    """
    turned = image.way[1] != 0
    sided = ("other side", "behind", "turned over")
    if turned and any(word in text for text in statements for word in sided):
        return False
    to_front = any(text.startswith("turn inside out") for text in statements)
    return not image.over or (
        not to_front and all(text.split()[0] in _TWO_SIDED for text in statements)
    )


def _said(word: str, image: Image) -> str:
    motion = Motion(*image.way, 0, 0)
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
    if image.way[1] == 0:
        return text
    pair = {"side to side": "top to bottom", "top to bottom": "side to side"}
    return re.sub("side to side|top to bottom", lambda found: pair[found[0]], text)
