"""Pieces turned about the lines between them: where everything lies when every fold angle is known.

In: pieces, an angle for each seam, and the piece that stays. Out: places in space, and how far the pieces
then disagree about the places of common points: nothing, when the angles close round every corner.

From the piece that stays, each further piece is reached over one seam, and is the one before it turned
about that seam. Lengths and planes are kept by each turn exactly. Source: the rotation of space about a
line by an angle is the formula of O. Rodrigues (1840), to be found in any text on rigid motions.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence

import numpy as np

from .pieces import Array, Pieces


def flat_motion(pieces: Pieces, piece: int) -> tuple[Array, Array]:
    """Matrix (3 × 3) and shift that take a piece from the sheet to where it lies flat; a piece that shows
    its back is turned over."""
    a, b, tx, c, d, ty = pieces.state.facets[pieces.facets[piece]].place
    over = -1.0 if a * d - b * c < 0 else 1.0
    return np.array([[a, b, 0.0], [c, d, 0.0], [0.0, 0.0, over]]), np.array([tx, ty, 0.0])


def rotation(axis: Array, angle: float) -> Array:
    """Turn of space by an angle (radians) about an axis, right-handed."""
    x, y, z = axis / np.sqrt((axis * axis).sum())
    across = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.eye(3) + np.sin(angle) * across + (1.0 - np.cos(angle)) * across @ across


def turned(
    pieces: Pieces, angles: Sequence[float], still: int, keep: tuple[Array, Array] | None = None
) -> tuple[Array, float]:
    """Places of all points (n × 3, sheet units), and the largest disagreement about one of them.

    `keep` is the motion of the piece that stays, its flat one when None. Pieces that hang together with
    none that is placed stay where they lie flat.
    """
    around: list[list[tuple[int, int]]] = [[] for _ in pieces.rings]
    for k, seam in enumerate(pieces.seams):
        if seam.right >= 0:
            around[seam.left].append((seam.right, k))
            around[seam.right].append((seam.left, k))
    sheet = np.c_[pieces.points, np.zeros(len(pieces.points))]
    motion: dict[int, tuple[Array, Array]] = {}
    for root in (still, *range(len(pieces.rings))):
        if root in motion:
            continue
        given = keep if root == still else None
        motion[root] = given or flat_motion(pieces, root)
        waiting = deque([root])
        while waiting:
            here = waiting.popleft()
            turn, shift = motion[here]
            for other, k in around[here]:
                if other in motion:
                    continue
                seam = pieces.seams[k]
                start, end = sheet[seam.start], sheet[seam.end]
                by = angles[k] if other == seam.left else -angles[k]
                about = rotation(end - start, by)
                motion[other] = turn @ about, turn @ (start - about @ start) + shift
                waiting.append(other)
    places = np.full((len(sheet), 3), np.nan)
    gap = 0.0
    for piece, (turn, shift) in motion.items():  # in the order in which they were reached
        ring = list(pieces.rings[piece])
        here = sheet[ring] @ turn.T + shift
        known = places[ring]
        new = np.isnan(known[:, 0])
        if not new.all():
            gap = max(gap, float(np.abs(known[~new] - here[~new]).max()))
        places[ring] = np.where(new[:, None], here, known)
    return places, gap
