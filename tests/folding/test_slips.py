"""What a first script is full of: each slip is either understood or told what to write, where it stands."""

from __future__ import annotations

import pytest

from ..scripts import captions, folded, refused


@pytest.mark.parametrize(
    ("line", "words", "hint"),
    [
        # letters and directions
        ("valley a to C", "a", "'valley A to C'"),
        ("valley A to c", "c", "'valley A to C'"),
        ("valley edge AB onto edge CD", "onto", "'valley edge A B onto edge C D'"),
        ("valley AC to B", "AC", "'A C'"),
        ("valley right top corner to A", "right top corner", "top right corner"),
        ("valley left bottom edge onto edge C D", "left bottom edge", "bottom left edge"),
        ("valley topright corner to A", "topright", "top right corner"),
        ("valley the left side onto right edge", "side", "left edge"),
        # middles
        ("valley A to the middle", "middle", "'valley A to centre'"),
        ("mark M at the middle of edge A B", "of", "midpoint of edge A B"),
        ("mark M at half of A B", "of", "midpoint of A B"),
        ("mark M at halfway A B", "halfway", "midpoint of A B"),
        ("mark M at 0.5 of A B", "of", "1/2 of A B"),
        ("mark M at 50% of A B", "%", "1/2 of A B"),
        ("mark M at intersection of edge A B and edge B C", "of", "where L meets M"),
        ("mark M as midpoint of A B", "midpoint", "mark M at midpoint of A B"),
        ("mark K at the bottom edge", "bottom edge", "mark K at midpoint of the bottom edge"),
        ("mark K at edge A B", "edge A B", "mark K at midpoint of edge A B"),
        # how many
        ("valley both corners to the centre", "both", "one thing at a time"),
        ("valley corners A and B to centre", "corners", "'valley B to centre'"),
        ("valley A to C, both layers", "layers", "2 layers"),
        ("valley A to C, one layer", "layer", "'valley A to C, 1 layer'"),
        ("valley A C", "A C", "valley A to C"),
        ("valley A B onto C D", "A B", "edge A B"),
        # lines
        ("valley along A C", "along A C", "along line A C"),
        ("crease the diagonal A C", "diagonal", "line A C"),
        ("crease in half", "in", "bottom edge onto top edge"),
        ("crease horizontally", "horizontally", "bottom edge onto top edge"),
        # verbs
        ("fold in half", "fold", "valley A to C"),
        ("book fold", "book", "left edge onto right edge"),
        ("cupboard fold", "cupboard", "left edge onto centre line"),
        ("gate fold", "gate", "start from cupboard base"),
        ("blintz", "blintz", "valley A to centre"),
        ("waterbomb base", "waterbomb", "start from waterbomb base"),
        ("flip", "flip", "turn over"),
        ("turn the paper over", "turn", "turn over"),
        ("turn over sideways", "sideways", "side to side"),
        ("spin", "spin", "rotate 90 degrees clockwise"),
        ("unfold everything", "everything", "unfold to step 0"),
        ("unfold it", "it", "say 'unfold'"),
        ("unfold all", "all", "unfold to step 0"),
        ("valley A backwards to C", "backwards", "mountain"),
        ("valley A to C twice", "twice", "repeat step 1 again"),
    ],
)
def test_what_to_write_instead(line: str, words: str, hint: str) -> None:
    found = refused(line)
    assert found.words == words
    assert any(hint in h for h in found.hints), found.hints
    assert len(found.hints) <= 8


@pytest.mark.parametrize(
    "line",
    [
        "valley A to the center",
        "valley left edge onto center line",
        "valley the bottom edge up to the top edge",
        "valley the top edge down onto the bottom edge",
        "valley the left edge over to the right edge",
        "valley upper right corner to lower left corner",
        "valley fold the corner A to the corner C",
        "valley A up along line B D",
        "mark M midpoint of A B; valley M to C",
        "rotate 90 clockwise",
        "rotate by 90 degrees clockwise",
    ],
)
def test_understood(line: str) -> None:
    folded(line)


def test_up_and_down_add_nothing() -> None:
    """The caption says by itself which way it goes."""
    assert captions(folded("valley the top edge down to the bottom edge")) == [
        "Fold the top edge down to the bottom edge."
    ]


def test_a_word_that_the_script_uses_is_a_name() -> None:
    model = folded("crease left edge onto right edge as middle", "valley left edge onto middle")
    assert len(model.steps) == 2
