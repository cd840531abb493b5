"""Scripts whose images once came out otherwise: each is folded with every image that its words can say.

They are the shortest that the random search had left, and pairs that attacks on the folding had found.
"""

from __future__ import annotations

import pytest

from foldscript.folding.resuming import FoldingCache

from .images import AS_IT_IS, IDENTITY, IMAGES, SHEETS, SQUARE, Image, has_image
from .numbering import numbered_at_random
from .outcomes import broken, outcome, unlike
from .random_scripts import BEGINNINGS, FOUR_FLAPS

_WATERBOMB = (
    *("crease bottom edge onto top edge, as k1", "turn over side to side"),
    *("crease A to C, as k2", "crease B to D, as k3"),
    "collapse mountain k1, valley k2, valley k3, holding A",
)
_CUPBOARD = (
    *("crease left edge onto right edge, as k1", "valley left edge onto k1"),
    "valley right edge onto k1",
)
_PRELIMINARY = (
    *("crease A to C, as k1", "crease B to D, as k2", "turn over side to side"),
    *("crease bottom edge onto top edge, as k3", "crease left edge onto right edge, as k4"),
    "collapse mountain k2, valley k3, valley k4, holding A",
)
#: A bird base, its back flap still down.
_BIRD = BEGINNINGS[-1]
#: Three lines across, a quarter apart, all mountains: two layers could lie either way round.
_QUARTERS = (
    *("mark Y1 at 1/4 of A D", "mark W1 at 1/4 of B C", "mark Y2 at 2/4 of A D"),
    *("mark W2 at 2/4 of B C", "mark Y3 at 3/4 of A D", "mark W3 at 3/4 of B C"),
    "mark O at centre",
)
_ROLLED = (
    *_QUARTERS,
    "collapse mountain line Y1 W1, mountain line Y2 W2, mountain line Y3 W3, holding A, with C over A",
)

KNOWN: dict[str, tuple[str, ...]] = {
    "layers of an ear that nothing holds": (
        *_WATERBOMB,
        "double rabbit ear D between left corner and top corner to bottom left corner",
    ),
    "a corner that a cut has divided": (
        "cut from centre to bottom left corner",
        "valley A to bottom right corner, 1 layer",
    ),
    "a mouth amid the paper": (*_CUPBOARD, "open out B and D"),
    "another mouth amid the paper": (*_CUPBOARD, "open out C and centre"),
    "doors side by side are parted": (*_CUPBOARD, "inside reverse B to D", "unfold"),
    "a crease repeated on other paper": (
        *_WATERBOMB,
        "inside reverse D along centre line",
        "repeat step 4 on the other side",
    ),
    "a folded edge as its own hinge": (
        *("valley A to C", "turn over side to side"),
        "squash right edge onto centre line, along bottom right edge",
    ),
    "a folded edge with two halves": (
        *("valley bottom edge onto top edge", "valley left edge onto right edge"),
        "squash bottom edge onto centre line",
    ),
    "a line on both sides of the point": (
        *(*_PRELIMINARY, "collapse mountain k1, valley k4, holding C"),
        "outside reverse C along horizontal centre line",
        "squash horizontal centre line onto top right edge, along bottom right edge",
    ),
    "another folded edge with two halves": (
        *FOUR_FLAPS,
        "squash top edge onto centre line",
    ),
    "its hinge said": (
        *FOUR_FLAPS,
        "squash bottom edge onto centre line, along centre line",
    ),
    "a crease of halves behind": (
        *("valley bottom edge onto top edge", "valley left edge onto right edge", "unfold"),
        "repeat step 2 behind",
    ),
    "a crease behind a model that stands on a corner": (
        *(*_CUPBOARD, "rotate 45 degrees anticlockwise"),
        "repeat step 1 behind",
    ),
    "a pleat that moves a point on its line": (
        "valley A to C",
        "pleat along right edge and centre line, moving A",
    ),
    "two lines of a pleat that are one": (
        *("mark t1 at 1/3 of D C", "mark t2 at 2/3 of D C", "valley D to B, as k4"),
        *("mark v5 at where k4 meets line t1 A", "mark v7 at where k4 meets line D t2"),
        "pleat along line v5 v7 and k4, moving v7, 1 layer",
    ),
    "a pinch on both faces": (
        "valley A to C",
        "pinch A onto centre line, through bottom right corner, near A, at edge A B",
    ),
    "two layers either way round": (
        *_QUARTERS,
        "collapse mountain line Y1 W1, mountain line Y2 W2, mountain line Y3 W3, holding A",
    ),
    "one of them said": _ROLLED,
    "creased, cut and folded on": (
        *(*_ROLLED, "rotate 90 degrees anticlockwise", "crease Y3 to W2, 1 layer, as k1"),
        *("crease along line O W3, as c2", "cut from A to O, 1 layer"),
        "collapse mountain c2, valley k1",
    ),
    "pulled apart": (
        *(*_ROLLED, "mark v4 at midpoint of B W1", "turn over side to side"),
        *("rotate 45 degrees clockwise", "pull apart B and v4"),
    ),
    "pulled out": (*_ROLLED, "turn over side to side", "pull out Y1"),
    "a crease with as much paper on either side": (
        *("valley A to 3/4 of A C", "mountain C to 1/4 of A C", "crease through B D"),
    ),
    "an edge, and a point on another layer": (
        *("valley bottom edge onto top edge", "valley edge C D onto bottom edge, moving A"),
    ),
    "layers counted that leave the line behind": (
        *FOUR_FLAPS,
        "unfold",
        "valley line V3 A onto top right edge, near S, 3 layers",
    ),
    "flaps side by side": (*FOUR_FLAPS, "swivel centre along left edge"),
    "what stays of flaps side by side": (
        *(*FOUR_FLAPS, "cut from V4 to D to bottom left corner, all layers, keeping centre"),
    ),
    "a point on several edges": (
        *(*FOUR_FLAPS, "turn over side to side", "squash bottom left corner onto right edge"),
    ),
    "a corner over itself": (
        *(*_PRELIMINARY, "collapse mountain k3, valley k4, valley k1, holding B, with A over A"),
    ),
    "doors over each other, one slipped under": (
        *("mark P at 2/3 of A B", "mark Q at 1/3 of A B", "valley A to P", "valley B to Q"),
        *("tuck B under A", "pull out B over A"),
    ),
    "under one of two flaps that share the corner named": (
        *("crease B to D, as k1", "valley edge A B onto k1", "valley edge A D onto k1"),
        "valley C onto centre line, through midpoint of D C",
        "tuck bottom right corner to top left corner, under A",
    ),
    "a number of layers at a point of two flaps side by side": (
        *FOUR_FLAPS,
        "mountain midpoint of B W to V3, 3 layers",
    ),
    "paper whose parts touch along a part of a side": (
        *_BIRD,
        "crease where horizontal centre line meets line B O to top left corner, as k10",
        *("collapse mountain k2, valley k1, valley k3, holding B", "pull out P"),
        "cut from bottom right corner to 1/3 of P D to top right corner, all layers, keeping bottom corner",
    ),
    "flaps side by side, each held otherwise": (
        *(*_BIRD, "valley edge A B onto top edge, near A"),
        "mountain right corner to left corner, 2 layers",
    ),
    "on the other side of a model turned by an eighth": (
        *("crease bottom edge onto top edge, as k2", "rotate 45 degrees anticlockwise"),
        "repeat step 1 on the other side",
    ),
    "a pocket whose inner layers hang on front and back": (
        *(*_WATERBOMB, "open out bottom right corner and bottom left corner"),
    ),
    "the front pocket of two": (*_WATERBOMB, "open out A and B"),
    "the back pocket of two": (*_WATERBOMB, "open out C and D"),
    "wings on both sides of their fold": (
        *("valley bottom edge onto top edge", "valley left edge onto right edge"),
        *("inside reverse centre to B", "squash bottom left edge onto centre line"),
        "pull apart centre and bottom right corner",
    ),
    "a flap of two that share the corner named": (
        *("crease B to D, as k1", "valley edge A B onto k1", "valley edge A D onto k1"),
        "tuck A under C",
    ),
    "a point where two flaps meet that lie side by side, as the second that is brought": (
        *("mark S at midpoint of A B", "mark E at midpoint of B C", "mark N at midpoint of C D"),
        *("mark W at midpoint of D A", "mark O at centre", "mark V1 at 1/4 of S W"),
        *("mark V3 at 1/4 of N E", "valley A to O", "valley B to O", "valley C to O"),
        *("valley D to O", "turn over side to side", "valley bottom corner to centre"),
        *("valley right corner to centre", "valley top corner to centre"),
        *("valley left corner to centre", "turn over side to side", "turn over side to side"),
        "crease midpoint of V1 B onto centre line and 1/3 of V3 S onto centre line, 3 layers",
    ),
}


#: A hat with a brim that is wider than its crown, so that the brims cross where it is opened out.
HAT = (
    *("valley top edge onto bottom edge", "mark K at midpoint of A D", "mark L at midpoint of B C"),
    *("mark T at midpoint of K L", "valley line K T onto centre line"),
    *(
        "valley line L T onto centre line",
        "valley through K perpendicular to centre line, moving C",
    ),
    *(
        "mountain through K perpendicular to centre line, moving A",
        "open out bottom left corner and bottom right corner",
    ),
)


@pytest.mark.parametrize("image", IMAGES[:3], ids=lambda image: image.name)
def test_a_hat_with_brims_opens_alike(image: Image) -> None:
    assert not broken(HAT, image, SHEETS[0])


@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
@pytest.mark.parametrize("name", KNOWN)
def test_the_image_comes_out_as_the_image(name: str, image: Image) -> None:
    if has_image(KNOWN[name], image):
        assert not broken(KNOWN[name], image)


@pytest.mark.parametrize("name", KNOWN)
def test_the_numbers_of_facets_have_no_say(name: str) -> None:
    sheet = SQUARE.line(AS_IT_IS)
    one = outcome(KNOWN[name], sheet)
    for seed in range(3):
        with numbered_at_random(seed):
            other = outcome(KNOWN[name], sheet, FoldingCache())
        assert one.refused == other.refused
        for a, b in zip(one.states, other.states, strict=True):
            assert not unlike(a, b, IDENTITY, False)
