"""Lines of a step: verbs, phrases, operands."""

from __future__ import annotations

import pytest

from foldscript.syntax import nodes
from tests.syntax.scripts import VERBS, faults, move, parsed, phrases, words


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("valley A to C as base", [("", ["A"]), ("to", ["C"]), ("as", ["base"])]),
        ("repeat steps 5 to 6 behind", [("", ["steps 5 to 6"]), ("behind", [])]),
        ("repeat step 3 on A B", [("", ["step 3"]), ("on", ["A", "B"])]),
        ("repeat step 4, 3 times", [("", ["step 4", "3 times"])]),
        ("unfold base", [("", ["base"])]),
        ("unfold to step 3", [("to", ["step 3"])]),
        ("unfold", []),
        ("mark G where guide meets edge D A", [("", ["G", "where guide meets edge D A"])]),
        ("mark M at midpoint of A B", [("", ["M"]), ("at", ["midpoint of A B"])]),
        (
            "pinch edge B A onto base, at edge D A",
            [("", ["edge B A"]), ("onto", ["base"]), ("at", ["edge D A"])],
        ),
        ("rotate 45 degrees clockwise", [("", ["45 degrees"]), ("clockwise", [])]),
        ("rotate clockwise 45 degrees", [("clockwise", []), ("", ["45 degrees"])]),
        ("rotate quarter turn counter-clockwise", [("quarter turn", []), ("anticlockwise", [])]),
        ("valley bottom edge onto top edge", [("", ["bottom edge"]), ("onto", ["top edge"])]),
        (
            "valley top corner to bottom edge, through M, 2 layers, as k1",
            [
                ("", ["top corner"]),
                ("to", ["bottom edge"]),
                ("through", ["M"]),
                ("layers", ["2"]),
                ("as", ["k1"]),
            ],
        ),
        (
            "valley A onto edge C D and B onto edge A D, second",
            [
                ("", ["A"]),
                ("onto", ["edge C D"]),
                ("and", ["B"]),
                ("onto", ["edge A D"]),
                ("second", []),
            ],
        ),
        ("valley through P Q moving A", [("through", ["P", "Q"]), ("moving", ["A"])]),
        ("pleat along k1 and k2 moving A", [("along", ["k1"]), ("and", ["k2"]), ("moving", ["A"])]),
        ("crease mountain A to C", [("mountain", ["A"]), ("to", ["C"])]),
        (
            "collapse mountain d2, valley h, valley v, holding A",
            [("mountain", ["d2"]), ("valley", ["h"]), ("valley", ["v"]), ("holding", ["A"])],
        ),
        ("turn over top to bottom", [("top to bottom", [])]),
        ("turn over side  to\tside", [("side to side", [])]),
        ("valley through P perpendicular to L", [("through", ["P"]), ("perpendicular to", ["L"])]),
        ("valley A to C, all layers", [("", ["A"]), ("to", ["C"]), ("layers", [])]),
        ("valley the A, to the C", [("", ["A"]), ("to", ["C"])]),
        ("valley fold A to C", [("", ["A"]), ("to", ["C"])]),
        ("valley A to C in front of B", [("", ["A"]), ("to", ["C"]), ("in front", ["B"])]),
        ("mark A' at B", [("", ["A'"]), ("at", ["B"])]),
    ],
)
def test_phrases(line: str, expected: list[tuple[str, list[str]]]) -> None:
    assert words(line) == expected


def test_longest_verb_wins() -> None:
    assert move("open out A").verb == "open out"
    assert move("open A").verb == "open"
    assert move("inside   reverse A").verb == "inside reverse"
    assert move("turn over").verb_span.end - move("turn over").verb_span.start == len("turn over")


def test_verbs_are_words_only_where_a_line_begins() -> None:
    (name,) = phrases("valley along crease")[0][1]
    assert isinstance(name, nodes.Name)
    assert name.text == "crease"


@pytest.mark.parametrize(
    ("written", "kind", "toward"),
    [
        ("bottom edge", "edge", ("bottom",)),
        ("lower left edge", "edge", ("bottom", "left")),
        ("upper right corner", "corner", ("top", "right")),
        ("the left corner", "corner", ("left",)),
        ("centre", "centre", ()),
        ("center line", "centre line", ()),
        ("vertical centre line", "centre line", ("vertical",)),
        ("horizontal center line", "centre line", ("horizontal",)),
    ],
)
def test_what_the_eye_sees(written: str, kind: str, toward: tuple[str, ...]) -> None:
    (seen,) = phrases(f"valley A onto {written}")[1][1]
    assert isinstance(seen, nodes.Seen)
    assert (seen.kind, seen.toward) == (kind, toward)


@pytest.mark.parametrize(
    ("written", "node"),
    [
        ("edge A B", nodes.EdgeOf),
        ("line A B", nodes.LineThrough),
        ("line through A and B", nodes.LineThrough),
        ("line through P perpendicular to L", nodes.LineSquareTo),
        ("line through P parallel to edge A B", nodes.LineParallelTo),
        ("line through P at 22.5 degrees to L", nodes.LineAtAngle),
        ("line bisecting L and edge A B", nodes.LineBisecting),
        ("midpoint of A B", nodes.Fraction),
        ("midpoint of A and B", nodes.Fraction),
        ("1/3 of edge A B", nodes.Fraction),
        ("1/3 of line A B", nodes.Fraction),
        ("1/4 of the top edge", nodes.FractionOfLine),
        ("2 cm from A on edge A B", nodes.FromEnd),
        ("the point 1 1/2 inches from A along A B", nodes.FromEnd),
        ("line 2 cm from the bottom edge", nodes.LineApart),
        ("where L meets M", nodes.Meeting),
        ("the point where L meets M", nodes.Meeting),
        ("top layer at P", nodes.OuterLayerAt),
        ("bottom layer at P", nodes.OuterLayerAt),
        ("corner A", nodes.Name),
        ("point P", nodes.Name),
        ("2 cm", nodes.Amount),
    ],
)
def test_operands(written: str, node: type) -> None:
    ((_, (first, second)),) = phrases(f"valley {written}, Z")
    assert type(first) is node
    assert isinstance(second, nodes.Name)


def test_a_crease_may_be_measured() -> None:
    """Two names in a row are the two ends of a way; one is a crease."""
    for written, node in (
        ("midpoint of k", nodes.FractionOfLine),
        ("25 mm from A on k", nodes.FromEnd),
    ):
        ((_, (point,)), *rest) = phrases(f"valley {written} to Z, 1 layer")
        assert type(point) is node
        assert isinstance(point.line, nodes.Name)
        assert [word for word, _ in rest] == ["to", "layers"]
    words = [word for word, _ in phrases("valley Z to 1/4 of k, 1 layer")]
    assert words == ["", "to", "layers"]


def test_angles_and_amounts() -> None:
    (line,) = phrases("crease along line through P at 30° to edge A B")[0][1]
    assert isinstance(line, nodes.LineAtAngle)
    assert line.degrees == pytest.approx(30)
    for written, value, unit in [
        ("3 1/2 inches", 88.9, "mm"),
        ("2.5 cm", 25, "mm"),
        ("12mm", 12, "mm"),
        ("1/2 in", 12.7, "mm"),
        ("3 times", 3, "times"),
        ("7", 7, ""),
    ]:
        (amount,) = phrases(f"valley A by {written}")[1][1]
        assert isinstance(amount, nodes.Amount)
        assert amount.value == pytest.approx(value)
        assert amount.unit == unit


def test_nesting() -> None:
    (point,) = phrases("mark M at midpoint of 1/3 of A B where line C D meets base")[1][1]
    assert isinstance(point, nodes.Fraction)
    assert isinstance(point.start, nodes.Fraction)
    assert isinstance(point.end, nodes.Meeting)
    assert isinstance(point.end.first, nodes.LineThrough)


def test_spans_are_exact() -> None:
    text = "step\n  valley  A to edge B C  # away\n"
    (statement,) = parsed(text).steps[0].body
    assert text[statement.span.start : statement.span.end] == "valley  A to edge B C"
    (_, to) = statement.phrases
    assert text[to.span.start : to.span.end] == "to edge B C"
    assert text[to.operands[0].span.start : to.operands[0].span.end] == "edge B C"


def test_lines_go_on_after_a_comma() -> None:
    text = "step\nvalley A to C,   # a remark\n\n  # another\n  2 layers,\n  as k\n"
    (statement,) = parsed(text).steps[0].body
    assert [p.word for p in statement.phrases] == ["", "to", "layers", "as"]


def test_words_of_the_head_may_be_names() -> None:
    assert words("valley square to level") == [("", ["square"]), ("to", ["level"])]


def test_names_that_look_equal_are_equal() -> None:
    """A letter with its accent typed apart, and a curly prime."""
    ((_, (first, second)),) = phrases("valley e\u0301 \u00e9")
    assert isinstance(first, nodes.Name)
    assert isinstance(second, nodes.Name)
    assert first.text == second.text
    (prime,) = phrases("valley A’ to B")[0][1]
    assert isinstance(prime, nodes.Name)
    assert prime.text == "A'"


def test_groups_are_kept() -> None:
    program = parsed("group ear P Q\n  valley P to Q\nend\nstep\n  turn over\n")
    (group,) = program.groups
    assert group.name.text == "ear"
    assert [p.text for p in group.parameters] == ["P", "Q"]
    assert group.body[0].verb == "valley"
    assert len(program.steps) == 1


def test_no_verbs_at_all() -> None:
    assert "valley" in VERBS
    assert faults("step\nvalley") == []
