"""Pockets at one place: all that take the flap up are told, and how they are told apart."""

from __future__ import annotations

from ..scripts import folded, layers_at, refused

RABBIT_SHEET = "sheet square 150 mm, coloured side up\n"
#: A balloon rabbit (traditional) as far as its side flaps, that are tucked into pockets next.
RABBIT = (
    "crease left edge onto right edge as v; crease bottom edge onto top edge as h",
    "turn over",
    "crease A to C as d1; crease B to D as d2",
    "mark O at the centre; mark K at midpoint of A B; mark M at midpoint of C D; "
    "collapse valley d1, valley d2, mountain h, holding K",
    "mark L at the left corner; mark R at the right corner; mark E at midpoint of line O L; "
    "mark F at midpoint of line O R; mark X at midpoint of line O K; valley L to O; valley R to O",
    "mark V at 1/4 of edge L M; mark G at midpoint of line O E; "
    "valley E to X, 4 layers; valley F to X, 4 layers",
    "valley L to X; valley R to X",
)
INTO = "mark I at midpoint of line G X; mark Y at midpoint of line I midpoint of line E K; " + (
    "tuck V along line X G, "
)

HAT_SHEET = "sheet rectangle 58 cm by 80 cm, coloured side down\n"
#: A printer's hat (traditional) as far as its peak, that goes into the band.
HAT = (
    "valley top edge onto bottom edge; crease left edge onto right edge, all layers as middle",
    "mark O at midpoint of top edge; valley top left corner onto middle, through O, first, all layers as l; "
    "valley top right corner onto middle, through O, first, all layers as r",
    "mark P at lower end of l; mark Q at lower end of r; valley bottom edge onto line P Q, 1 layer as brim; "
    "mark X at midpoint of brim; valley along line P Q, moving X as band",
    "turn over",
    "valley left edge onto middle, all layers; valley right edge onto middle, all layers",
    "mark S at lower end of left edge; mark U at lower end of right edge; mark Y at left end of band; "
    "mark Z at right end of band; valley S onto band, through Y, all layers; "
    "valley U onto band, through Z, all layers",
    "mark W at bottom layer at midpoint of bottom edge; mark H at right end of brim; "
    "valley along band, moving bottom edge, all layers",
    "tuck W along brim, into the pocket at H",
    "mark K at the top corner",
)


def test_every_pocket_is_told_by_layers_that_can_be_said() -> None:
    """Three pockets lie at the middle, two deeper than ten layers; another point tells one of these."""
    found = refused(*RABBIT, "tuck V along line X G into the pocket at E", sheet=RABBIT_SHEET)
    assert found.code == "several-pockets"
    assert len(found.hints) == 3
    assert all("that closed by the fold " in hint for hint in found.hints)
    ranks = ("the uppermost", "the second from the top", "the undermost")
    assert all(f"for {rank}, that" in hint for rank, hint in zip(ranks, found.hints, strict=True))
    said = [
        hint.removeprefix("say '").split("'")[0] for hint in found.hints if hint.startswith("say ")
    ]
    assert len(said) == 2
    ends = [
        folded(*RABBIT, f"tuck V along line X G, {words}", sheet=RABBIT_SHEET) for words in said
    ]
    assert dict(ends[0].finished.order) != dict(ends[1].finished.order)


def test_another_pocket_at_the_same_place_is_told() -> None:
    """Next to the uppermost layer there the pocket is shut; the one below it is open."""
    found = refused(*RABBIT, INTO + "into the pocket at top layer at Y", sheet=RABBIT_SHEET)
    assert "move 4 of the 14 layers there" in found.message
    hint = "say 'between second layer at Y and third layer at Y'"
    assert hint in [one.removeprefix("or ") for one in found.hints]
    model = folded(
        *RABBIT, INTO + "between second layer at Y and third layer at Y", sheet=RABBIT_SHEET
    )
    assert layers_at(model, 75, 75) > 0


def test_a_pocket_is_what_lies_under_its_front() -> None:
    """The peak reaches under the band beside what lies under it at the point: as 'under' says it."""
    peak = "tuck K to 2 cm short of band, all layers, "
    pocket = folded(*HAT, peak + "into the pocket at H", sheet=HAT_SHEET)
    under = folded(*HAT, peak + "under H", sheet=HAT_SHEET)
    assert dict(pocket.finished.order) == dict(under.finished.order)
    assert pocket.finished.placed == under.finished.placed
