"""Paper that gives a little until everything fits: where the points of a net come to rest.

In: a net and what is wanted of it. Out: its points in space. The paper begins flat, its layers a hair
apart, and is pulled to its goals in small steps while it is soft; then its lengths are made hard; then it
is let go, and only lengths and layers are put right.

Each step solves for the least sum of squares with damping. Source: the method of K. Levenberg (1944) and D.
Marquardt (1963). Everything is dense, in one order and without chance, so the same paper comes to the same
place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from .net import Net
from .orbits import Orbits
from .springs import Array, Indices, Patterns, Pull, Wanted, breath, fold_angles, gathered, lengths
from .symmetry import Motion, orbits

#: Largest way of a point in one step (sheet units).
_STEP = 0.05


@dataclass(frozen=True)
class Skin:
    """Triangles that a breath presses on, the way out of each (1 along its front's normal), how strong."""

    triangles: Indices
    outward: Array
    pressure: float


@dataclass(frozen=True)
class Drive:
    """Hinges to be brought to angles (radians)."""

    hinges: Indices
    to: Array
    weight: float


@dataclass(frozen=True)
class Stage:
    """Goals that are pulled at together."""

    wanted: Wanted | None = None
    drive: Drive | None = None
    skin: Skin | None = None


@dataclass
class Work:
    """How much may still be computed, about in milliseconds of a present-day processor.

    It is counted and not measured, so that the same paper is given up at the same point on every machine.
    """

    left: float = 2500.0

    def begin(self, triangles: int) -> None:
        """Counts an attempt: its net, and the look at what came of it."""
        self.left -= 0.6 * triangles

    def gather(self, points: int) -> None:
        """Counts one gathering of all pulls."""
        self.left -= 0.7 + 0.011 * points

    def solve(self, points: int) -> None:
        """Counts one solution for a step, and its trial."""
        self.left -= 0.4 + 0.006 * points + 0.3e-6 * points**3


@dataclass(frozen=True)
class _Springs:
    """Pulls of lengths and folds at some points, and the angles of all hinges there."""

    lengths: Pull
    folds: Pull
    angle: Array


@dataclass
class Elastic:
    """A net on its way to its goals; `x` are its points now, `angle` its hinges', `passed` its points
    shortly before the end of each stage."""

    net: Net
    motions: Sequence[Motion]
    stiff: Array
    rest: Array
    hard: float
    x: Array
    angle: Array = field(init=False)
    orbits: Orbits = field(init=False)
    wanted: Wanted | None = None
    skin: Skin | None = None
    contact: float = 0.0
    work: Work = field(default_factory=Work)
    passed: list[Array] = field(default_factory=list)
    _patterns: Patterns = field(default_factory=dict)
    _held: tuple[Indices, Indices] | None = None

    def __post_init__(self) -> None:
        if self.motions:
            self.x = np.mean([(self.x[m.to] - m.shift) @ m.turn for m in self.motions], axis=0)
        self.orbits = orbits(self.motions, len(self.x))
        self.angle = fold_angles(self.x, self.net.hinges, self.net.flat)[0]

    def go(self, stage: Stage, steps: int, tries: int) -> None:
        """Pulls at a stage's goals, from what is now to what is asked, in equal steps."""
        first = None if stage.wanted is None else stage.wanted.now(self.x)
        kept = self.wanted
        began = None if stage.drive is None else self.angle[stage.drive.hinges].copy()
        for k in range(1, steps + 1):
            share = k / steps
            if k == steps:
                self.passed.append(self.x.copy())
            if stage.wanted is not None and first is not None:
                w = stage.wanted
                value = first + (w.value - first) * share
                now = Wanted(w.points, w.share, w.axis, value, w.weight)
                self.wanted = now if kept is None else kept.and_also(now)
            if stage.drive is not None and began is not None:
                d = stage.drive
                self.rest[d.hinges] = began + (d.to - began) * share
                self.stiff[d.hinges] = d.weight
            if stage.skin is not None:
                s = stage.skin
                self.skin = Skin(s.triangles, s.outward, s.pressure * share)
            self.relax(tries)

    def let_go(self, tries: int) -> None:
        """Drops all goals and keeps what is: only lengths and layers are put right."""
        self.wanted = self.skin = None
        self.rest = self.angle.copy()
        self.stiff = np.where(self.stiff > 0, 0.05, 0.01)
        self.hard, self.contact = 3000.0, 1000.0
        self.relax(tries, 1e-4)

    def relax(self, tries: int, damping: float = 1e-3) -> None:
        """At most so many steps towards rest, as far as there is work left."""
        here = self._springs(self.x)
        for _ in range(tries):
            if self.work.left <= 0:
                return
            self.work.gather(len(self.x))
            self.net.contacts.watch(self.x)
            slope, curve, before = gathered(self._pulls(self.x, here), self.orbits, self._patterns)
            if self.skin is not None:
                volume, push = breath(
                    self.x, self.net.corners[self.skin.triangles], self.skin.outward
                )
                before -= self.skin.pressure * volume
                slope -= self.skin.pressure * self.orbits.gathered(push).ravel()
            went, after = None, before
            for _ in range(16):
                self.work.solve(len(self.orbits.size))
                move = self._move(slope, curve, damping)
                if move is not None:
                    there = self.x + move
                    springs = self._springs(there)
                    after = self._energy(there, springs)
                    if np.isfinite(after) and after < before + 1e-14:
                        went, here = move, springs
                        break
                damping *= 5
            if went is None:
                return
            self.x = self.x + went
            self.angle = here.angle
            damping = max(damping / 5, 1e-7)
            if np.abs(went).max() < 1e-9 or before - after < 1e-10 * (1 + abs(before)):
                return

    def _move(self, slope: Array, curve: Array, damping: float) -> Array | None:
        curve = curve.copy()
        curve[np.diag_indices_from(curve)] += damping * np.repeat(self.orbits.size, 3)
        try:
            solved = np.linalg.solve(curve, slope)
        except np.linalg.LinAlgError:
            return None
        move = self.orbits.carried(-solved.reshape(-1, 3).astype(np.float64))
        far = float(np.abs(move).max())
        return move * (_STEP / far) if far > _STEP else move

    def _springs(self, x: Array) -> _Springs:
        """What lengths and folds pull at these points; the paper is as hard as it is now."""
        net = self.net
        angle, slope = fold_angles(x, net.hinges, self.angle)
        held, hinges = self._resisting()
        w = self.stiff[held]
        misfit = w * (angle[held] - self.rest[held])
        folds = Pull(hinges, misfit, w[:, None, None] * slope[held], lasting=True)
        return _Springs(lengths(x, net.bars, net.rest, self.hard), folds, angle)

    def _resisting(self) -> tuple[Indices, Indices]:
        """Which hinges are stiff, and their points: the same arrays as long as they are the same."""
        held = np.flatnonzero(self.stiff > 0)
        if self._held is None or not np.array_equal(held, self._held[0]):
            self._held = held, self.net.hinges[held]
        return self._held

    def _pulls(self, x: Array, springs: _Springs) -> list[Pull]:
        net = self.net
        pulls = [springs.lengths, springs.folds]
        if len(net.contacts.up):
            pulls.append(net.contacts.pull(x, self.contact))
        if self.wanted is not None:
            pulls.append(self.wanted.pull(x))
        return pulls

    def _energy(self, x: Array, springs: _Springs) -> float:
        misfits = [springs.lengths.misfit, springs.folds.misfit]
        if len(self.net.contacts.up):
            misfits.append(self.net.contacts.misfit(x, self.contact))
        if self.wanted is not None:
            misfits.append(self.wanted.misfit(x))
        energy = sum(0.5 * float(misfit @ misfit) for misfit in misfits)
        if self.skin is not None:
            volume, _ = breath(x, self.net.corners[self.skin.triangles], self.skin.outward)
            energy -= self.skin.pressure * volume
        return energy
