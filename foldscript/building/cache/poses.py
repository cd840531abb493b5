"""Poses that were found before, each by what stands for the paper and the goals that it was found from."""

from __future__ import annotations

from typing import Any

from ...paper.state import State
from ...pose import goals
from ...pose.goals import Stages
from ...pose.pose import Amiss, Edge, Fault, Line, Piece, Pose, Proof, Reached, Touching
from .file import values_digest
from .rows import RowsFile
from .version import versions

_KINDS: tuple[type[Any], ...] = (
    Pose,
    Piece,
    Edge,
    Touching,
    Proof,
    Reached,
    goals.Raise,
    goals.Fan,
    goals.Floor,
    goals.Open,
    goals.Blow,
    goals.Spread,
    goals.Bring,
    goals.Stand,
    goals.Turned,
    goals.Curl,
    goals.Part,
    goals.Round,
    goals.Hold,
    goals.Pull,
    goals.Level,
    goals.Close,
    Line,
    Fault,
    Amiss,
)
#: The file, in the folder of the results.
POSES = RowsFile(".foldscript-poses", _KINDS, largest=5_000_000, unpacked=60_000_000)


def key_of(state: State, stages: Stages) -> str:
    """What stands for paper and goals, and for all that a pose is found with."""
    return values_digest((state, stages, versions()))
