"""What a repeat can choose from: the symmetries of the paper before the steps, and where they lead.

In: the folding and the original steps. Out: a `Survey` of candidates, leaves turned where that is
wanted; and those of the original paper alone on a model without symmetry (`local_symmetries`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ...geometry.isometries import IDENTITY, Isometry, compose, nearly_same
from ...paper.silhouette import over_side_to_side
from ...paper.symmetry import Symmetry, congruences
from ..performing.perform import Folding
from .leaf_turning import Leaves
from .local_symmetries import local_symmetries
from .repeated_steps import RepeatedSteps, trace_of, turn_since
from .traces import Trace, lines_made, moved_paper

#: Which mirror image is likelier than the paper as it was, if any.
Mirror = Literal["", "across", "upright"]
#: Kinds of views (see `_kind`), the likeliest first.
_KINDS: dict[Mirror, tuple[int, ...]] = {
    "": (0, 1, 2, 3, 4, 5),
    "across": (1, 0, 3, 2, 4, 5),
    "upright": (3, 0, 1, 2, 4, 5),
}


@dataclass(frozen=True)
class Candidate:
    """A symmetry and what it means for a repeat now.

    Attributes
    ----------
    rounds : how often leaves were turned until the paper looked as before; 0 for a symmetry of the paper
    local : whether it carries only the paper of the original onto such paper, not the whole model
    hidden : whether the image lies on the face that is away from the reader now
    view : where the original lay -> where the image lies, seen from the image's own face
    trace : where on the sheet the image is
    """

    symmetry: Symmetry
    rounds: int
    hidden: bool
    view: Isometry
    trace: Trace
    local: bool = False

    def rank(self, mirror: Mirror = "") -> tuple:
        """Smaller is likelier: the same side of the paper, no leaves turned, as seen then.

        With `mirror`, a mirror image left for right ('across') or top for bottom ('upright') comes first.
        """
        kind = _KINDS[mirror].index(_kind(self.view))
        angle = math.atan2(self.view.c, self.view.a) % (2 * math.pi)
        return (
            self.symmetry.swaps_colours,
            abs(self.rounds),
            kind,
            round(angle, 6) % round(2 * math.pi, 6),
            self.rounds < 0,
        )

    def likely(self, mirror: Mirror = "") -> tuple:
        """The rank but for the way round: clockwise is as likely as counter-clockwise."""
        *first, angle, _ = self.rank(mirror)
        return (*first, min(angle, round(2 * math.pi - angle, 6)))


def _kind(view: Isometry) -> int:
    """0 as it was, 1 left for right, 2 half round, 3 top for bottom, 4 otherwise turned, 5 mirrored."""
    linear = (view.a, view.b, view.c, view.d)
    plain = ((1, 0, 0, 1), (-1, 0, 0, 1), (-1, 0, 0, -1), (1, 0, 0, -1))
    for k, other in enumerate(plain):
        if all(abs(x - y) < 1e-7 for x, y in zip(linear, other, strict=True)):
            return k
    return 5 if view.flips else 4


@dataclass(frozen=True)
class Destination:
    """One repetition: the image meant, and the symmetries that lead to it, the likeliest first."""

    options: tuple[Candidate, ...]

    @property
    def best(self) -> Candidate:
        """The likeliest way there."""
        return self.options[0]


@dataclass(frozen=True)
class Survey:
    """Everything a repeat can choose from.

    Attributes
    ----------
    trace : where the original is
    turn : how the model has been turned since the paper before the original
    candidates : every symmetry whose image is other paper than the original
    idle : those, but for the identity, that carry the original onto itself
    leaves : those of the paper before the original
    """

    folding: Folding
    original: RepeatedSteps
    trace: Trace
    turn: Isometry
    candidates: tuple[Candidate, ...]
    idle: tuple[Candidate, ...]
    leaves: Leaves


def local_candidates(survey: Survey) -> tuple[list[Candidate], list[Candidate]]:
    """Local symmetries, the same side up, that lead to other paper, and to the original's own."""
    original = survey.original
    records = survey.folding.history[original.start : original.end]
    first = next((d for d in records if d.turn is None and (lines_made(d) or d.folded)), None)
    if first is None or any(d.turn is not None for d in records):
        return [], []
    ways = local_symmetries(
        original.before, moved_paper(first.before, first.after), lines_made(first)
    )
    known = [*survey.candidates, *survey.idle]
    ways = [
        w
        for w in ways
        if not (w.is_identity or w.swaps_colours or any(_same(w, c.symmetry) for c in known))
    ]
    return _candidates(
        survey.folding, survey.trace, survey.turn, [(w, 0) for w in ways], local=True
    )


def _same(one: Symmetry, other: Symmetry) -> bool:
    return nearly_same(one.sheet, other.sheet) and one.behind == other.behind


def survey_symmetries(folding: Folding, original: RepeatedSteps, *, with_leaves: bool) -> Survey:
    """All symmetries of the paper before the original; on demand also with its leaves turned."""
    trace = trace_of(folding, original)
    turn = turn_since(folding, original.start)
    ways = [(symmetry, 0) for symmetry in congruences(original.before, original.before)]
    leaves = Leaves(original.before, [symmetry for symmetry, _ in ways])
    if with_leaves:
        ways += _with_leaves(leaves)
    found, idle = _candidates(folding, trace, turn, ways)
    return Survey(folding, original, trace, turn, tuple(found), tuple(idle), leaves)


def _candidates(
    folding: Folding,
    trace: Trace,
    turn: Isometry,
    ways: Sequence[tuple[Symmetry, int]],
    *,
    local: bool = False,
) -> tuple[list[Candidate], list[Candidate]]:
    """Symmetries, with the rounds of leaves they take, that lead to other paper, and to the same."""
    face = over_side_to_side(folding.state)
    found: list[Candidate] = []
    idle: list[Candidate] = []
    for symmetry, rounds in ways:
        if symmetry.is_identity:
            continue
        image = trace.mapped(symmetry.sheet)
        hidden = symmetry.behind != turn.flips
        motion = compose(turn, symmetry.motion)
        view = compose(face, motion) if hidden else motion
        one = Candidate(symmetry, rounds, hidden, view, image, local)
        (idle if image.same(trace) else found).append(one)
    return found, idle


def _with_leaves(leaves: Leaves) -> list[tuple[Symmetry, int]]:
    """Congruences with the paper after its leaves have been turned some way."""
    found: list[tuple[Symmetry, int]] = []
    for way in (1, -1):
        for rounds, state in enumerate(leaves.turned(way), 1):
            congruent = congruences(leaves.before, state)
            if any(s.is_identity and nearly_same(s.motion, IDENTITY) for s in congruent):
                return found  # once round
            found.extend((s, way * rounds) for s in congruent)
    return found


def grouped(candidates: Sequence[Candidate], mirror: Mirror = "") -> list[Destination]:
    """Candidates with one image together, the likeliest image first."""
    ordered = sorted(candidates, key=lambda c: c.rank(mirror))
    groups: list[list[Candidate]] = []
    for one in ordered:
        home = next((g for g in groups if g[0].trace.same(one.trace)), None)
        if home is None:
            groups.append([one])
        else:
            home.append(one)
    return [Destination(tuple(g)) for g in groups]
