"""What each file of this folder says: all that is known of one sign, in one `Glyph`.

In: nothing. Out: the classes that the files fill in. A sign's meaning for the folding is a value that a move
leaves (`paper/signs.py`); its glyph says how it is called, what it tells the reader, and how it is drawn.
Each class stands for a way in which signs come into a figure:

    LineGlyph    a line of a role, drawn with the paper (or paper itself, which is drawn elsewhere)
    PointGlyph   at one point; `FixedGlyph` where it has the same shape everywhere
    ArrowGlyph   a movement, which finds its own way
    MarkGlyph    helps where there is room, and gives way to arrows
    TurnGlyph    stands between two figures
    LastGlyph    finds its place when all others have theirs

A part that is left out, or a heading that there is not, is refused when the file is loaded.
"""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from ...languages.wording import ENGLISH, Language, Template
from ...paper.signs import Arrow, PointSign, Rotate, Sign, TurnOver
from ...paper.state import State
from ..placement.obstacles import Obstacles
from ..scene.groups import Group, Item
from ..scene.outlines import Box, item_box, polyline, shifted, toward, union_box
from ..scene.scene import Path, Point
from ..scene.shapes import Shape
from ..scene.view import View
from ..style.styles import Style
from . import families
from .families import Family

#: Size of a sample for the key, in points.
WIDTH, HEIGHT = 46.0, 26.0

PAPER_AND_EDGES: Template = "Paper and edges"
LINES: Template = "Lines"
ARROWS: Template = "Arrows"
PLACES: Template = "Places"
HANDS: Template = "What hands, eye and breath do"
BETWEEN: Template = "Between figures"
#: Headings of the symbol poster, in order.
HEADINGS = (PAPER_AND_EDGES, LINES, ARROWS, PLACES, HANDS, BETWEEN)

_KEY = re.compile(r"[a-z]+(-[a-z]+)*(\.[a-z]+(-[a-z]+)*)*")
#: Half the length of a line in the key (points).
_REACH = 19.0

Picture = Callable[[Style], Sequence[Item]]
#: Whether a glyph stands for a sign in a figure with all these.
When = Callable[[Sign, Sequence[Sign]], bool]


@dataclass(frozen=True)
class Setting:
    """What a sign is drawn into.

    view : folded plane to points about the figure's middle; around : what lies there, which learns of
    everything drawn; signs : all of the figure; parting : where two arrows leave side by side; speech : the
    language of numbers; lettered : points on the page that have letters
    """

    view: View
    state: State
    style: Style
    around: Obstacles
    signs: tuple[Sign, ...]
    parting: tuple[Point, ...] = ()
    speech: Language = ENGLISH
    lettered: tuple[Point, ...] = ()


def _never(sign: Sign, signs: Sequence[Sign]) -> bool:
    return False


@dataclass(frozen=True, kw_only=True, eq=False)
class Glyph(ABC):
    """All that is known of a sign.

    Attributes
    ----------
    key : of the sign, in `Scene.signs` and everywhere ('point.hold')
    name : in the craft's words, for the key of a page
    meaning : what it tells the folder to do, or where it stands, for the symbol poster
    heading : under which it stands there
    order : its place in the key and under its heading; those of one number stand by their keys
    family : what its ink may share with other ink
    fingers : the sentence for those who cannot see it, with a hole `{where}`; '' where the narration
        tells from the paper itself what happens
    when : whether it stands for a sign that a move has left

    Raises ValueError where a part says nothing.
    """

    key: str
    name: Template
    meaning: Template
    heading: Template
    order: int
    family: Family
    fingers: Template = ""
    when: When = _never

    def __post_init__(self) -> None:
        if not _KEY.fullmatch(self.key):
            raise ValueError(f"{self.key!r} is no key: write it like 'point.hold'")
        for part in ("name", "meaning"):
            if not getattr(self, part):
                raise ValueError(f"the sign {self.key!r} says no {part}")
        if self.heading not in HEADINGS:
            raise ValueError(
                f"the sign {self.key!r} stands under no heading of the poster, but {self.heading!r}"
            )
        if self.fingers and "{where}" not in self.fingers:
            raise ValueError(f"the sign {self.key!r} does not tell fingers where: no {{where}}")

    def stands_for(self, sign: Sign, signs: Sequence[Sign]) -> bool:
        """Whether it is the glyph of a sign in a figure with all these."""
        return self.when(sign, signs)

    @abstractmethod
    def sample(self, style: Style) -> Sequence[Item]:
        """The sign by itself about (0, 0), for the key: drawn as it is drawn in figures."""


@dataclass(frozen=True, kw_only=True, eq=False)
class LineGlyph(Glyph):
    """A line whose role is its key. `picture` where its sample shows more than the line."""

    heading: Template = LINES
    family: Family = families.FOLD
    picture: Picture | None = None

    def sample(self, style: Style) -> Sequence[Item]:
        """A level line, or its picture."""
        if self.picture is not None:
            return self.picture(style)
        return [Path(self.key, polyline(((-_REACH, 0.0), (_REACH, 0.0))))]


@dataclass(frozen=True, kw_only=True, eq=False)
class PointGlyph(Glyph):
    """A sign at a point: the `kind` of its `PointSign`s is its key without 'point.'.

    aimed : whether fingers are told, too, which place it is aimed at
    """

    heading: Template = HANDS
    order: int = 400
    family: Family = families.POINT
    aimed: bool = False

    def stands_for(self, sign: Sign, signs: Sequence[Sign]) -> bool:
        """Signs of its kind."""
        return isinstance(sign, PointSign) and f"point.{sign.kind}" == self.key

    @abstractmethod
    def draw(self, sign: PointSign, setting: Setting) -> list[Group]:
        """Its ink; the obstacles learn of it."""

    @abstractmethod
    def reach(self, sign: PointSign, view: View, scale: float) -> Box | None:
        """How far it stands out from its point at so many points a unit, if that needs room (points).

        `view` puts the figure's middle at (0, 0), in sheet units.
        """


@dataclass(frozen=True, kw_only=True, eq=False)
class FixedGlyph(PointGlyph):
    """A sign of one shape, aimed the way its sign says, else from outside the figure inwards.

    leaves : whether it leads away from its point; others come to it
    roomy : whether other ink may stand within it, and out of the frame with it
    paper : outline of the paper that its sample shows it on; () for the sign by itself
    """

    shape: Shape
    leaves: bool = False
    roomy: bool = False
    paper: tuple[Point, ...] = ()

    def draw(self, sign: PointSign, setting: Setting) -> list[Group]:
        """Its shape; rings leave room for what stands in them."""
        at = setting.view(sign.at)
        towards = self._towards(sign, setting.view)
        group = Group(self.family.kind, self.shape.at(at, towards))
        around = setting.around
        if not self.shape.upright:
            side = 1.0 if self.leaves else -1.0
            around.arrows.extend(
                (at[0] + side * k * towards[0], at[1] + side * k * towards[1]) for k in (3, 7, 11)
            )
        if group.box is not None and not self.roomy and self.family is not families.RING:
            around.taken.append(group.box)
        return [group]

    def reach(self, sign: PointSign, view: View, scale: float) -> Box | None:
        """Box about its shape."""
        if self.roomy:
            return None
        return _box_of(self, self._towards(sign, view))

    def _towards(self, sign: PointSign, view: View) -> Point:
        return toward(view(sign.at), (0.0, 0.0) if sign.toward is None else view(sign.toward))

    def sample(self, style: Style) -> Sequence[Item]:
        """Its shape, aimed to the right."""
        return centred([*(sheet(self.paper) if self.paper else ()), *self.shape.at((0.0, 0.0))])


@lru_cache(maxsize=1024)
def _box_of(glyph: FixedGlyph, towards: Point) -> Box | None:
    """Box about a glyph's shape that is aimed some way; it is asked for in many sizes of a figure."""
    return union_box(item_box(item) for item in glyph.shape.at((0.0, 0.0), towards))


#: Tail, head, whether it ends behind or between layers, and what lies around, which learns where it runs.
DrawArrow = Callable[[Point, Point, bool, Obstacles], list[Path]]


@dataclass(frozen=True, kw_only=True, eq=False)
class ArrowGlyph(Glyph):
    """A movement: the `act` of its `Arrow`s is its key without 'arrow.'.

    Attributes
    ----------
    draw : from tail to head
    paper, below : outlines of the paper that its sample shows, where it runs into paper, and of a layer
        below; () for an arrow by itself
    reach : half the length of a sample by itself (points)
    on_line : whether it stands at the lines that it folds, not at what they move
    parting : whether two shafts leave its tail side by side
    """

    draw: DrawArrow
    heading: Template = ARROWS
    family: Family = families.ARROW
    paper: tuple[Point, ...] = ()
    below: tuple[Point, ...] = ()
    reach: float = 17.0
    on_line: bool = False
    parting: bool = False

    def stands_for(self, sign: Sign, signs: Sequence[Sign]) -> bool:
        """Arrows of its act."""
        return isinstance(sign, Arrow) and f"arrow.{sign.act}" == self.key

    def sample(self, style: Style) -> Sequence[Item]:
        """The arrow from left to right."""
        import shapely

        if not self.paper:
            around = Obstacles(shapely.Polygon(), (-WIDTH, -HEIGHT, WIDTH, HEIGHT))
            return centred(self.draw((-self.reach, 0.0), (self.reach, 0.0), False, around))
        frame = (-WIDTH / 2, -HEIGHT / 2, WIDTH / 2, HEIGHT / 2)
        around = Obstacles(shapely.Polygon(self.paper), frame)
        low = [(float(x), y) for x in range(-16, 3, 2) for y in (5.0, 8.0, 11.0)]
        around.arrows.extend(low)  # so that it bulges upward
        return [
            *(sheet(self.below, "paper.plain") if self.below else ()),
            *sheet(self.paper),
            *self.draw((-19.0, 3.0), (15.0, 3.0), False, around),
        ]


@dataclass(frozen=True, kw_only=True, eq=False)
class PicturedGlyph(Glyph):
    """A sign with a picture for the key; by itself one that is drawn elsewhere, such as the paper."""

    picture: Picture

    def sample(self, style: Style) -> Sequence[Item]:
        """Its picture."""
        return self.picture(style)


@dataclass(frozen=True, kw_only=True, eq=False)
class MarkGlyph(PicturedGlyph):
    """A sign that helps. Unless it is `needed`, because a fold is found by it, it is left out where there is
    no room, and taken away where an arrow's head covers it.

    draw : the marks of all its signs in a figure, each as its ink
    """

    draw: Callable[[Setting], Sequence[Sequence[Item]]]
    needed: bool = False
    heading: Template = PLACES
    family: Family = families.MARK


@dataclass(frozen=True, kw_only=True, eq=False)
class TurnGlyph(PicturedGlyph):
    """A sign between two figures, drawn about its middle; `size` is the width and height that it takes."""

    draw: Callable[[TurnOver | Rotate, Point, Style], Sequence[Item]]
    size: tuple[float, float]
    heading: Template = BETWEEN
    family: Family = families.TURN


@dataclass(frozen=True, kw_only=True, eq=False)
class LastGlyph(PicturedGlyph):
    """A sign that looks for a place when all others of the figure have theirs.

    draw : its ink for each of its signs in a figure
    after_letters : whether letters have theirs, too
    """

    draw: Callable[[Setting], list[list[Item]]]
    after_letters: bool = False
    heading: Template = BETWEEN


def centred(items: Iterable[Item]) -> list[Item]:
    """Items with the middle of their box at (0, 0)."""
    found = list(items)
    box = union_box(item_box(i) for i in found)
    if box is None:
        return found
    return [shifted(i, -(box[0] + box[2]) / 2, -(box[1] + box[3]) / 2) for i in found]


def sheet(corners: Sequence[Point], role: str = "paper.coloured") -> list[Item]:
    """A piece of paper for a sample: its area, and its edge all round."""
    return [
        Path(role, polyline(corners, closed=True)),
        Path("edge.raw", polyline(corners, closed=True)),
    ]
