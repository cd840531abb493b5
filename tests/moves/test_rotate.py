"""Turns of the model in its plane: amounts that are no number of degrees."""

from __future__ import annotations

from ..scripts import captions, folded, refused


def test_a_part_without_unit_is_a_part_of_a_turn() -> None:
    found = refused("rotate 1/4 clockwise")
    assert found.code == "turn-by"
    assert found.hints == ("say 'quarter turn'",)
    assert captions(folded("rotate quarter turn clockwise")) == captions(
        folded("rotate 90 degrees clockwise")
    )
