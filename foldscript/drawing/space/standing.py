"""A figure whose paper stands in space: where the places of the flat model are seen now.

In: a panel, and how its paper stands. Out: the same panel with its places as they are seen, in sheet units
about the middle of the picture (x right, y up), so that framing and signs treat it as any other. Signs of
flat folding are left out: what is done to a standing model is shown at its places.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ...folding.steps import Panel
from ...geometry import polygons
from ...geometry.isometries import inverse
from ...geometry.lines import Point, Segment
from ...paper.signs import (
    Apart,
    FoldLine,
    PointSign,
    RaisedAngle,
    RepeatSign,
    Rotate,
    Sign,
    TurnOver,
)
from ...paper.state import State
from ...pose.pose import Pose
from .camera import Camera
from .views import chosen


def standing(panel: Panel, pose: Pose) -> Panel:
    """The panel with its paper standing so."""
    places = Places(panel.state, pose, chosen(pose))

    def seen(sign: Sign) -> Sign | None:
        if isinstance(sign, PointSign):
            return replace(
                sign,
                at=places(sign.at) if sign.foot is None else places.on_sheet(sign.foot),
                toward=None if sign.toward is None else places(sign.toward),
                opens=None if sign.opens is None else _both(places, sign.opens),
            )
        if isinstance(sign, FoldLine):
            parts = tuple((facet, _both(places, segment, facet)) for facet, segment in sign.parts)
            return replace(sign, parts=parts)
        if isinstance(sign, Apart):
            return replace(sign, at=places(sign.at))
        if isinstance(sign, RaisedAngle):
            return replace(sign, tip=places(sign.tip), foot=places(sign.foot), away=False)
        if isinstance(sign, RepeatSign):
            return replace(sign, at=None if sign.at is None else places(sign.at))
        return sign if isinstance(sign, TurnOver | Rotate) else None

    signs = tuple(s for s in map(seen, panel.signs) if s is not None)
    lettering = panel.lettering
    return replace(
        panel,
        signs=signs,
        labels=tuple((name, places.named(name, at)) for name, at in panel.labels),
        lettering=None
        if lettering is None
        else tuple((name, places.named(name, at)) for name, at in lettering),
        pose=pose,
    )


def _both(places: Places, segment: Segment, facet: int | None = None) -> Segment:
    return places(segment[0], facet), places(segment[1], facet)


def outline(pose: Pose) -> list[Point]:
    """Every point of the pose as it is seen, in mm about the middle of the picture (x right, y up)."""
    at = _page(pose, chosen(pose))
    return [(float(x), float(y)) for x, y in at]


def _page(pose: Pose, camera: Camera) -> np.ndarray:
    at = camera.page(np.array(pose.space, dtype=float))[:, :2] * (1.0, -1.0)
    return at - (at.min(axis=0) + at.max(axis=0)) / 2


class Places:
    """Where places of the flat model are seen once it stands."""

    def __init__(self, state: State, pose: Pose, camera: Camera) -> None:
        self._state, self._pose = state, pose
        self._unit = state.sheet.unit_mm
        self._page = _page(pose, camera)
        self._rings = [tuple(pose.sheet[k] for k in piece.corners) for piece in pose.pieces]

    def __call__(self, at: Point, facet: int | None = None) -> Point:
        """A place of the folded plane, on the facet named, else on the uppermost layer there; what is off the
        paper keeps its way from the nearest corner.
        """
        on = self._state.facets_at(at) if facet is None else (facet,)
        if on:
            return self.on_sheet(inverse(self._state.facets[on[0]].place)(at))
        x, y = min((p for ring in self._state.placed for p in ring), key=lambda p: math.dist(at, p))
        here = self((x, y), next(k for k, ring in enumerate(self._state.placed) if (x, y) in ring))
        return (here[0] + at[0] - x, here[1] + at[1] - y)

    def named(self, name: str, at: Point) -> Point:
        """A place that has a name; a corner of the sheet is that corner, whatever lies over it."""
        sheet = self._state.sheet
        if (
            name in sheet.corner_names
            and math.dist(self._state.where(sheet.corner(name)), at) < 1e-6
        ):
            return self.on_sheet(sheet.corner(name))
        return self(at)

    def on_sheet(self, at: Point) -> Point:
        """A point of the sheet."""
        mm = (at[0] * self._unit, at[1] * self._unit)
        depths = [polygons.depth(ring, mm) for ring in self._rings]
        k = max(range(len(depths)), key=lambda k: depths[k])
        corners = list(self._pose.pieces[k].corners)
        flat = np.c_[np.array(self._rings[k]), np.ones(len(corners))]
        affine, *_ = np.linalg.lstsq(flat, self._page[corners], rcond=None)
        x, y = np.array([*mm, 1.0]) @ affine / self._unit
        return (round(float(x), 9), round(float(y), 9))
