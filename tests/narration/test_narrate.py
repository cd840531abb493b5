"""What is told is true: the words of every sample, read back, put the corners where they lie."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from foldscript.folding.fold import fold
from foldscript.geometry import polygons
from foldscript.geometry.lines import Point
from foldscript.languages.wording import Phrase, sentences
from foldscript.moves.registry import verbs
from foldscript.narration.description import StateDescription
from foldscript.narration.narrate import narrate
from foldscript.narration.narration import Listing, Paragraph
from foldscript.narration.stacks import depth_of, regions
from foldscript.output.words import words_text
from foldscript.paper.state import State
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse

from ..moves.test_open_out import HAT
from ..moves.test_open_out import SHEET as HAT_SHEET
from ..sample_scripts import sample
from ..scripts import folds, script
from .reading import CornerTold, corners_told, on_table, steps_told, understood

ROOT = Path(__file__).parents[2]
SAMPLES = sorted(p.stem for p in (ROOT / "samples").glob("*.foldscript"))
EXAMPLES = re.findall(
    r"^```foldscript\n(.*?)^```$",
    (ROOT / "grammar" / "README.md").read_text("utf-8"),
    re.MULTILINE | re.DOTALL,
)


def titled(example: str) -> str:
    found = re.search(r'^model "(.*)"', example, re.MULTILINE)
    return found[1] if found else "untitled"


@cache
def corners_of(name: str) -> tuple[CornerTold, ...]:
    return tuple(corners_told(sample(name).model))


def told(*steps: str, sheet: str = "sheet square 100 mm\n") -> dict[int, list[str]]:
    return steps_told(folds(script(*steps, sheet=sheet)))


@pytest.mark.parametrize("name", SAMPLES)
def test_the_corners_lie_where_the_words_put_them(name: str) -> None:
    """Read back by another reader than wrote them, to the millimetre that a ruler has."""
    model = sample(name).model
    states = {step.number: step.after for step in model.steps}
    checked = 0
    for said in corners_of(name):
        spot = understood(states[said.step], said.where)
        if spot is None:
            continue
        true = on_table(states[said.step], said.corner)
        assert true == pytest.approx(spot, abs=0.6), f"step {said.step}: {said}"
        checked += 1
    assert checked >= len(model.sheet.corner_names)


@pytest.mark.parametrize("name", SAMPLES)
def test_every_corner_is_told_after_every_step_that_moves_paper(name: str) -> None:
    model = sample(name).model
    by_step: dict[int, list[str]] = {}
    for said in corners_of(name):
        by_step.setdefault(said.step, []).append(said.corner)
        assert said.level, said
    assert by_step
    left = {step.number: step.after.sheet.all_corners for step in model.steps}
    together = {step.number for step in model.steps if step.after.sheet.others}
    for number, names in by_step.items():
        corners = {name for name, _ in left.get(number, model.start.sheet.corners)}
        assert len(names) == len({*names})
        if number in together:  # of units put together, only corners that the last one has covered
            assert {*names} <= corners
        else:
            assert {*names} == corners


@pytest.mark.parametrize("name", SAMPLES)
def test_what_lies_on_top_or_underneath_is_told_so(name: str) -> None:
    model = sample(name).model
    for step in model.steps:
        for corner, at in step.after.sheet.all_corners:
            depth = depth_of(step.after, at)
            assert _over(step.after, at) == depth.over, f"step {step.number}, corner {corner}"


def _over(state: State, at: Point) -> int:
    """Layers over a corner of the sheet, counted at a spot just beside it in each piece that holds it."""
    counts = []
    for k in state.facets_on_sheet(at):
        x, y = state.where(at)
        for part in (0.02, -0.02, 0.05):  # a little off, lest an edge of another layer lies there
            cx, cy = polygons.centroid(state.placed[k])
            dx, dy = (cx - x) * 1e-3, (cy - y) * 1e-3
            spot = (x + dx - part * dy, y + dy + part * dx)
            if any(abs(polygons.depth(ring, spot)) < 1e-9 for ring in state.placed):
                continue
            here = [i for i, ring in enumerate(state.placed) if polygons.inside(ring, spot)]
            if k in here:
                counts.append(sum(bool(state.above(i, k)) for i in here if i != k))
                break
    return min(counts)


@pytest.mark.parametrize("name", SAMPLES)
def test_layers_cover_all_the_paper(name: str) -> None:
    """Area times layers, over all regions, is the area of the sheet without its holes."""
    state = sample(name).model.finished
    total = sum(r.area * len(r.stack) for r in regions(state))
    rings = [ring for one in state.sheet.all for ring in (one.outline, *one.holes)]
    assert total == pytest.approx(sum(map(polygons.area, rings)), abs=1e-5)


@pytest.mark.parametrize("name", SAMPLES)
def test_captions_have_no_part_in_it(name: str) -> None:
    """What the author says comes first; everything after it is as it would be without."""
    model = sample(name).model
    steps = tuple(
        replace(s, caption="Look at the picture.", wording=(Phrase("No."),)) for s in model.steps
    )
    said = narrate(replace(model, steps=steps)).chapters
    silent = narrate(
        replace(model, steps=tuple(replace(s, caption="") for s in model.steps))
    ).chapters
    for one, other in zip(said, silent, strict=True):
        if one.step:
            first = one.blocks[0]
            assert isinstance(first, Paragraph)
            assert sentences(first.sentences) == "Look at the picture."
            one = replace(one, blocks=one.blocks[1:])
        assert one == other


def test_a_symmetry_is_one_of_the_outline() -> None:
    """Corners that mirror each other are no mirror image where the edges between them do not.

    The windmill's sails all turn one way, so a quarter turn keeps it and no mirror does.
    """
    for chapter in narrate(sample("windmill").model).chapters:
        told = " ".join(sentences(b.sentences) for b in chapter.blocks if isinstance(b, Paragraph))
        if chapter.heading.render() == "The finished model":
            assert "It looks the same after a quarter turn." in told
        assert "mirrors" not in told


@pytest.mark.parametrize("text", EXAMPLES, ids=titled)
def test_every_example_of_the_reference_can_be_told(text: str) -> None:
    """Whole sentences, without holes left open and without the words of people who see a page."""
    model = fold(parse(Source("example.foldscript", text), verbs()))
    captions = {s.caption for s in model.steps if s.caption}
    for chapter in narrate(model).chapters:
        for block in chapter.blocks:
            if isinstance(block, Paragraph) and sentences(block.sentences) in captions:
                continue
            rows = block.rows if isinstance(block, Listing) else (block.sentences,)
            for row in rows:
                text = sentences(row)
                assert "{" not in text
                assert not re.search(r"  |,,|\.\.| ,| \.", text), text
                if chapter.step:
                    text = text.replace("the upper and the lower half of the flap's layers", "")
                    assert not re.search(
                        r"\b(bottom (edge|corner)|top (edge|corner)|upper|lower)\b", text
                    ), text


def test_a_book_fold() -> None:
    (step,) = told("valley bottom edge onto top edge").values()
    assert step[0] == (
        "Take the near edge and fold it away from you, over on top, until it lies along the far edge. "
        "The near left corner (corner A of the sheet) then lies at the far left corner. "
        "The fold runs from the middle of the left edge to the middle of the right edge. "
        "Press the fold flat and leave it folded. This fold is now the near edge."
    )
    assert "Corners A and D lie together at the far left corner: A on top; D underneath" in step[2]
    assert "The near edge consists of one folded edge. There are two layers everywhere." in step[3]


def test_a_crease_is_undone_and_felt_again() -> None:
    first, second = told("crease A to C", "valley B to D").values()
    assert "open it again: only a crease stays" in first[0]
    assert first[1] == (
        "The paper lies as it lay before this step. "
        "A new crease runs from the far left corner to the near right corner."
    )
    assert "crease from step 1" not in second[0]  # it is an end of it that moves


def test_an_earlier_crease_is_a_landmark() -> None:
    steps = told("crease left edge onto right edge", "valley A to midpoint of A B")
    assert "to the point where the crease from step 1 meets the near edge" in steps[2][0]


def test_the_layers_that_move_are_counted() -> None:
    steps = told("valley A to C", "valley A to centre, 1 layer", "valley B to D, all layers")
    assert "(corner A of the sheet), only the top layer, and fold" in steps[2][0]
    assert "together, and fold" in steps[3][0]


def test_a_mountain_fold_goes_underneath() -> None:
    (step,) = told("mountain A to C").values()
    assert "away underneath the paper, to the far right corner." in step[0]


def test_turning_over_says_what_becomes_what() -> None:
    steps = told("valley A to B", "turn over", "turn over top to bottom")
    assert "like the page of a book: left and right change places" in steps[2][0]
    assert "What was the right edge is now the left edge." in steps[2][0]
    assert "near and far change places" in steps[3][0]
    assert "What was the far edge is now the near edge." in steps[3][0]


def test_turning_round_says_what_is_nearest() -> None:
    steps = told("rotate 45 degrees clockwise", "rotate quarter turn anticlockwise")
    assert "an eighth of a turn, with the clock" in steps[1][0]
    assert "a quarter turn, against the clock" in steps[2][0]
    assert "What was the near right corner is now the nearest corner." in steps[1][0]


def test_a_pinch_is_told_where_it_is_pressed() -> None:
    (step,) = told("pinch A to B, at edge A B").values()
    assert "pinch it only at the middle of the near edge" in step[0]
    assert "A short crease can be felt at the middle of the near edge." in step[1]


def test_unfolding_tells_who_goes_back() -> None:
    steps = told("valley A to C", "unfold")
    assert (
        "Corner A of the sheet, now at the far right corner, comes to lie at the near left corner"
        in (steps[2][0])
    )


def test_tips_beside_each_other_are_told_apart() -> None:
    """Both tips of a square base lie on top at one corner: one on the left, one on the right."""
    diamond = "sheet square 100 mm, corner A at the bottom\n"
    steps = told(
        "valley C to A",
        "valley left corner to A; valley right corner to A",
        "valley D to top corner",
        sheet=diamond,
    )
    assert re.search(r"D on the left,? on top", steps[2][3]) or "on the left on top" in steps[2][3]
    assert "the flap on the left" in steps[3][0]


def test_a_point_that_sticks_out_says_how_far() -> None:
    (step,) = told(
        "mark P at 1/4 of A B; mark Q at 1/4 of A D; valley through P Q, moving C"
    ).values()
    assert re.search(r"sticks out \d+ mm beyond", step[0])


def test_a_step_without_moves_has_only_its_own_words() -> None:
    text = 'sheet square 100 mm\nstep "Admire it."\n'
    (step,) = steps_told(folds(text)).values()
    assert step == ["Nothing is folded in this step."]


def test_a_repeat_is_told_in_full() -> None:
    steps = told("valley A to centre", "repeat step 1 on C")
    assert steps[2][0].startswith("This does step 1 once more, in another place.")
    assert "(corner C of the sheet)" in steps[2][1]


def test_collapsing_tells_lines_and_journeys() -> None:
    base = next(t for t in EXAMPLES if 'model "Preliminary base"' in t)
    model = fold(parse(Source("base.foldscript", base), verbs()))
    text = steps_told(model)[4][0]
    assert text.count("A valley fold, whose line sinks, follows the crease from step 3") == 2
    assert text.count("A mountain fold, whose line rises, follows the crease from step 1") == 1
    for name in "BCD":
        assert re.search(
            rf"Corner {name} of the sheet, now at .+?, comes to lie at the nearest corner", text
        )
    assert "Corner A of the sheet stays where it is." in text


def test_a_base_is_told_from_the_flat_sheet_on() -> None:
    text = "start from preliminary base\nstep\n  mark T at the top corner\n  valley T to the bottom corner\n"
    chapters = narrate(folds(text)).chapters
    headings = [c.heading.render() for c in chapters]
    assert headings[4].startswith("The base, step 1 of ")
    assert headings[-3:] == ["The base", "Step 1 of 1", "The end"]
    first = chapters[3].blocks[0]
    assert isinstance(first, Paragraph)
    assert sentences(first.sentences).startswith("Lay the sheet before you")
    said = " ".join(
        sentences(b.sentences) for c in chapters for b in c.blocks if isinstance(b, Paragraph)
    )
    assert "from step 1 of the base" in said


def test_cautions_are_told_before_anything_is_done() -> None:
    model = folds(script("mark M at midpoint of A B; cut M to centre"))
    needs = [
        sentences(b.sentences)
        for b in narrate(model).chapters[0].blocks
        if isinstance(b, Paragraph)
    ]
    assert model.notes
    assert set(model.notes) <= set(needs)


def test_sizes_are_in_millimetres_and_centimetres() -> None:
    chapters = narrate(folds(script("valley A to C", sheet="sheet square 15 cm\n"))).chapters
    needs, finished = chapters[0].blocks[0], chapters[2].blocks[0]
    assert isinstance(needs, Paragraph)
    assert isinstance(finished, Paragraph)
    assert "150 mm (15.0 cm) along each edge" in sentences(needs.sentences)
    assert "150 mm (15.0 cm) from left to right" in sentences(finished.sentences)


def test_words_are_phrases_that_a_catalogue_can_translate() -> None:
    """Templates reach the translator with their holes open, and numbers and names never do."""
    seen: list[str] = []

    def watch(template: str) -> str:
        seen.append(template)
        return template

    words_text(narrate(folds(script("valley A to C"))), watch)
    assert "Take {what}{layers} and fold it {way}, {over}, to {where}." in seen
    assert not any(re.search(r"\d+ mm", t) for t in seen)
    assert "A" not in seen


def test_a_small_model_in_full(snapshot: SnapshotAssertion) -> None:
    """Accept only after reading it: every sentence has to be true and to be followed by touch."""
    text = script(
        "crease left edge onto right edge",
        "valley A to midpoint of A B; valley B to midpoint of A B",
        "turn over",
        "valley top edge onto bottom edge, all layers",
    )
    assert words_text(narrate(folds(text))).decode() == snapshot


def test_the_middle_of_the_paper_is_found_in_a_lie() -> None:
    lie = StateDescription(folds(script("crease A to C; crease B to D")).finished)
    assert lie.centre == pytest.approx((0.5, 0.5))


SHAPED = "At the very end it is shaped by hand and is no longer flat."


def finished_words(*steps: str, sheet: str = "sheet square 100 mm\n") -> str:
    (end,) = [
        c
        for c in narrate(folds(script(*steps, sheet=sheet))).chapters
        if c.heading.template == "The finished model"
    ]
    return " ".join(sentences(b.sentences) for b in end.blocks if isinstance(b, Paragraph))


@pytest.mark.parametrize("last", ["shape", "shape A to the centre", "curl B", "squeeze B and D"])
def test_a_model_that_is_shaped_in_the_end_is_told_flat(last: str) -> None:
    assert SHAPED in finished_words("valley A to C", last)


def test_a_pocket_that_is_pressed_flat_shapes_nothing() -> None:
    """It has the sign of opening too, but the model stays flat."""
    assert SHAPED not in finished_words(*HAT, "open out E and F", sheet=HAT_SHEET)
    assert SHAPED not in finished_words("valley A to C", "hold D")


@pytest.mark.parametrize(
    ("mm", "told"), [(75.0, "75"), (10.4, "10"), (4.43, "4.4"), (7.0, "7"), (9.96, "10")]
)
def test_short_lengths_are_told_in_tenths(mm: float, told: str) -> None:
    """Two folds of a crimp a few millimetres apart: half a millimetre turns the beak a long way."""
    lie = StateDescription(folds(script("crease A to C")).finished)
    assert lie.mm(mm / lie.unit_mm).render() == told


def test_a_flap_told_by_its_side_ends_in_one_comma() -> None:
    bird = "start from bird base\nstep\n  valley bottom corner to left corner\n"
    said = words_text(narrate(fold(parse(Source("bird.foldscript", bird), verbs()))))
    assert ", the flap on the left, and fold it" in " ".join(said.decode().split())
