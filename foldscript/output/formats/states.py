"""states: the folded paper after every step as JSON, for other programs to check or use."""

from __future__ import annotations

from collections.abc import Iterator

from ..drawn import Drawn
from ..states import states_json

SUMMARY = "the folded paper after every step, as JSON"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One JSON file."""
    yield f"{drawn.model.name}.states.json", states_json(drawn.model).encode("utf-8")
