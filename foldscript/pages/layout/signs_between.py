"""Signs that stand between two figures of a row: turn over, rotate.

In: the figures of a row, and where their columns begin. Out: where every figure stands, moved aside a little
where a sign needs the room, and where the signs stand: between the two figures, near to the one whose words
ask for it, about at its mid height; before the first of a row at its left, after the last at its right.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

from ...drawing.row import BESIDE
from ...drawing.scene.outlines import Box
from ...drawing.scene.scene import Scene
from .. import measures
from ..document import fitted
from ..grid import Grid
from ..trimming import ink, ink_between


class Turned(Protocol):
    """A figure with the signs before and after it."""

    @property
    def scene(self) -> Scene:
        """What is drawn."""
        ...

    @property
    def before(self) -> tuple[Scene, ...]:
        """Signs between it and the one before."""
        ...

    @property
    def after(self) -> tuple[Scene, ...]:
        """Signs between it and the next."""
        ...


@dataclass(frozen=True, slots=True)
class Sign:
    """A sign of the figure `host`: its left side in the row, its upper end from the middle of the frames."""

    host: int
    scene: Scene
    left: float
    top: float


@dataclass(frozen=True, slots=True)
class Between:
    """The left side of every figure's frame in the row, and the signs between them."""

    lefts: tuple[float, ...]
    signs: tuple[Sign, ...]


@dataclass(frozen=True, slots=True)
class _Gap:
    """Signs one below the other in the gap before a figure: `host` is whose they are, the figure `side` of
    them: -1 for left, 1 for right, 0 for signs of both."""

    host: int
    scenes: tuple[Scene, ...]
    side: int

    @property
    def wide(self) -> float:
        """Width that they need, 0 for none."""
        return max((scene.width + 2 * BESIDE for scene in self.scenes), default=0.0)

    @property
    def high(self) -> float:
        """Height of all of them."""
        return sum(scene.height + BESIDE for scene in self.scenes) - BESIDE


def signs_between(
    figures: Sequence[Turned],
    frame: tuple[float, float],
    columns: Sequence[float],
    end: float,
    g: Grid,
    numbers: Callable[[Sequence[float]], Sequence[Box | None]],
    ups: Sequence[float] = (),
) -> Between:
    """Where figures of a row and the signs between them stand.

    `columns` are the left sides of their columns in the row, `end` is where it ends. `numbers` gives the
    box of every figure's number where their frames begin so far left; heights are from the middle of frames,
    above which the figures stand so far `ups`, if they do.
    """
    lefts = centred(figures, frame, columns, g)
    gaps = _gaps(figures)
    if not any(gap.scenes for gap in gaps):
        return Between(tuple(lefts), ())
    raised = ups or [0.0] * len(figures)
    spans = [_Spans(figure, frame, up) for figure, up in zip(figures, raised, strict=True)]
    levels = [
        _level(k, gap, lefts, spans, end, numbers(lefts)) if gap.scenes else 0.0
        for k, gap in enumerate(gaps)
    ]
    moved = _apart(lefts, columns, gaps, levels, spans, end, g)
    labels = numbers(moved)
    signs: list[Sign] = []
    for k, gap in enumerate(gaps):
        if gap.scenes:
            signs += _placed(k, gap, levels[k], moved, spans, end, labels)
    return Between(tuple(moved), tuple(signs))


def centred(
    figures: Sequence[Turned], frame: tuple[float, float], columns: Sequence[float], g: Grid
) -> list[float]:
    """The left sides of figures' frames in the middle of their columns."""
    most = frame[1] * measures.CELL.highest
    return [
        left + (g.column - fitted(figure.scene, frame[0], most)[1]) / 2
        for figure, left in zip(figures, columns, strict=True)
    ]


def _gaps(figures: Sequence[Turned]) -> list[_Gap]:
    """What stands before each figure, and after the last."""
    first = [_Gap(0, figures[0].before, 1)]
    inner = [
        _Gap(
            k + 1 if then.before and not here.after else k,
            (*here.after, *then.before),
            bool(then.before) - bool(here.after),
        )
        for k, (here, then) in enumerate(pairwise(figures))
    ]
    return [*first, *inner, _Gap(len(figures) - 1, figures[-1].after, -1)]


class _Spans:
    """How far a figure's ink reaches in a band of heights, from the left side of its frame, which stands
    so far `up`."""

    def __init__(self, figure: Turned, frame: tuple[float, float], up: float) -> None:
        self.scene = figure.scene
        self.scale, _, self.height = fitted(
            figure.scene, frame[0], frame[1] * measures.CELL.highest
        )
        box = ink(figure.scene)
        self.down = self.height / 2 + up
        self.top, self.bottom = (self.scale * box[k] - self.down for k in (1, 3))

    @property
    def middle(self) -> float:
        """Mid height of the ink."""
        return (self.top + self.bottom) / 2

    def within(self, top: float, bottom: float) -> tuple[float, float] | None:
        """Left and right end of the ink in a band; None where there is none."""
        low, high = ((y + self.down) / self.scale for y in (top, bottom))
        found = ink_between(self.scene, low, high)
        return None if found is None else (found[0] * self.scale, found[1] * self.scale)


def _band(gap: _Gap, level: float, spans: Sequence[_Spans]) -> tuple[float, float]:
    """The heights that a gap's signs take, so far below mid height of their figure."""
    middle = spans[gap.host].middle + level
    return middle - gap.high / 2 - BESIDE, middle + gap.high / 2 + BESIDE


def _level(
    number: int,
    gap: _Gap,
    lefts: Sequence[float],
    spans: Sequence[_Spans],
    end: float,
    labels: Sequence[Box | None],
) -> float:
    """How far below mid height a gap's signs have room where no figure moves for them; 0 where they nearly
    have it there, or at no height."""
    for level in _levels(gap, spans[gap.host]):
        band = _band(gap, level, spans)
        left, right = _beside_labels(number, band, _free(number, band, lefts, spans, end), labels)
        if right - left >= gap.wide - (measures.ROUNDING if level else measures.CELL.sign_moves):
            return level
    return 0.0


def _levels(gap: _Gap, host: _Spans) -> list[float]:
    """The heights at which a gap's signs may stand, from mid height of their figure, nearest first."""
    step = measures.CELL.sign_step
    steps = int(max(0.0, host.bottom - host.top - gap.high) / 2 // step)
    return [0.0, *(way * k * step for k in range(1, steps + 1) for way in (1, -1))]


def _apart(
    lefts: Sequence[float],
    columns: Sequence[float],
    gaps: Sequence[_Gap],
    levels: Sequence[float],
    spans: Sequence[_Spans],
    end: float,
    g: Grid,
) -> list[float]:
    """The figures' left sides, moved as little as leaves room for the signs, within their columns."""
    out = list(lefts)
    for k in reversed(range(len(out))):
        if gaps[k + 1].wide:
            left, right = _free(k + 1, _band(gaps[k + 1], levels[k + 1], spans), out, spans, end)
            out[k] -= max(0.0, gaps[k + 1].wide - (right - left))
    for k in range(len(out)):
        if gaps[k].wide:
            left, right = _free(k, _band(gaps[k], levels[k], spans), out, spans, end)
            out[k] += max(0.0, gaps[k].wide - (right - left))
    for k, one in enumerate(spans):
        over = g.gutter / 2
        least = columns[k] - (over if k > 0 else 0.0)
        most = columns[k] + g.column + (over if k < len(spans) - 1 else 0.0)
        left, right = one.within(one.top, one.bottom) or (0.0, 0.0)
        if right - left <= most - least:
            out[k] = min(max(out[k], least - left), most - right)
        else:
            out[k] = lefts[k]
    return out


def _free(
    number: int,
    band: tuple[float, float],
    lefts: Sequence[float],
    spans: Sequence[_Spans],
    end: float,
) -> tuple[float, float]:
    """The free width of a gap in a band of heights."""
    left, right = 0.0, end
    if number > 0 and (reach := spans[number - 1].within(*band)) is not None:
        left = lefts[number - 1] + reach[1]
    if number < len(spans) and (reach := spans[number].within(*band)) is not None:
        right = lefts[number] + reach[0]
    return left, right


def _beside_labels(
    number: int, band: tuple[float, float], free: tuple[float, float], labels: Sequence[Box | None]
) -> tuple[float, float]:
    """What of the free width of a gap the number of the figure after it leaves, in a band of heights."""
    left, right = free
    label = labels[number] if number < len(labels) else None
    if label is None or label[3] <= band[0] or label[1] >= band[1]:
        return free
    return (max(left, label[2]), right) if number == 0 else (left, min(right, label[0]))


def _placed(
    number: int,
    gap: _Gap,
    level: float,
    lefts: Sequence[float],
    spans: Sequence[_Spans],
    end: float,
    labels: Sequence[Box | None],
) -> list[Sign]:
    """The signs of a gap: at a height where they have room, as near to a level as can be, else on top."""
    host = spans[gap.host]
    found: tuple[float, float, float] | None = None
    for height in sorted(_levels(gap, host), key=lambda one: abs(one - level)):
        band = _band(gap, height, spans)
        left, right = _beside_labels(number, band, _free(number, band, lefts, spans, end), labels)
        if right - left >= gap.wide - measures.ROUNDING:
            found = (left, right, band[0] + BESIDE)
            break
    if found is None:
        reach = host.within(host.top, host.bottom) or (0.0, end)
        right = lefts[gap.host] + reach[1]
        found = (right - gap.wide, right, host.top - gap.high - BESIDE)
    left, right, y = found
    near = gap.wide + 2 * measures.CELL.sign_near
    if gap.side > 0:
        left = max(left, right - near)
    elif gap.side < 0:
        right = min(right, left + near)
    out: list[Sign] = []
    for scene in gap.scenes:
        out.append(Sign(gap.host, scene, (left + right - scene.width) / 2, y))
        y += scene.height + BESIDE
    return out
