"""Families of signs: what their ink may share with other ink in a figure.

Data only. `kind` names a family's groups in a `Sketch`; what two kinds may share is said once, by either of
them. Some meetings are the craft's own: an arrow crosses its fold line once, its head ends in the ring of
its landing place, two creases made in one step have arrows that cross.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal


@dataclass(frozen=True)
class Family:
    """Signs that are placed alike.

    Attributes
    ----------
    kind : of their groups in a figure
    shares : kind of other ink -> what the two may have in common: points of length (lines over areas) or
        square points (areas); what is not named here nor there may be shared without end
    extent : what a group of them fills: the 'lines' it is drawn with, the area of its 'ink', its 'box', or
        the 'disc' that its first outline encloses
    alone : whether no other ink but paper and creases may come where it is
    """

    kind: str
    shares: Mapping[str, float] = field(default_factory=dict)
    extent: Literal["lines", "ink", "box", "disc"] = "lines"
    alone: bool = False


PAPER = Family("paper")
CREASE = Family("crease")
EDGE = Family("edge", {"label": 9.0, "repeat": 15.0})
FOLD = Family("fold", {"label": 1.0, "leader": 4.0})
ARROW = Family(
    "arrow",
    {
        "arrow": 12.0,
        "label": 2.5,
        "ring": 7.0,
        "fold": 11.0,
        "mark": 8.0,  # an arrow that lands on a row beside its line crosses it
        "point": 6.0,
        "circled": 3.0,
    },
)
RING = Family("ring", {"label": 2.0, "fold": 14.0, "mark": 4.0}, "disc")
POINT = Family("point", {"label": 2.0}, "ink")
MOUTH = Family("mouth")
MARK = Family("mark", {"mark": 12.0, "label": 4.0})
INSET = Family("inset", {"leader": 2.0}, "disc", alone=True)
TURN = Family("turn", {}, "box", alone=True)
SCALE = Family("scale", {}, "box", alone=True)
UNIT = Family("unit", {"fold": 2.0, "crease": 100.0}, "box")
LAYERS = Family("layers", {"paper": 1000.0}, "box", alone=True)
TABLE = Family("table", {"paper": 1000.0}, "box", alone=True)
OPENED = Family("opened", {"paper": 1000.0}, "box", alone=True)
OPENING = Family("opening", {"paper": 1000.0}, "box", alone=True)
APART = Family("apart", {"paper": 1000.0}, "box", alone=True)
RAISED = Family("raised", {"paper": 1000.0}, "box", alone=True)
REPEAT = Family("repeat", {}, "ink", alone=True)
