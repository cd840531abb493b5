"""What a model asks of a class: level from its moves, times, sheets, cautions."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.classes.cutting import Paper
from foldscript.classes.plan import ClassPlan, ModelPlan, Times
from foldscript.classes.plan_rows import BASIS, class_rows, duration, model_rows, paper_rows
from foldscript.classes.planning import amounts, plan_class, plan_model
from foldscript.languages.levels import LEVELS, Level, level_called
from foldscript.moves.registry import moves
from foldscript.output.class_plan import class_plan_data, class_plan_json, class_plan_text

from ..sample_scripts import sample

ROOT = Path(__file__).parents[2]
A4 = Paper("A4", 210.0, 297.0)
A3 = Paper("A3", 297.0, 420.0)
HEAD = 'model "Card"\ncredit traditional\nsheet square 15 cm\n'
FOLD = "step\n  valley bottom edge onto top edge\n"


def planned(tmp_path: Path, text: str, people: int = 10) -> ModelPlan:
    path = tmp_path / "card.foldscript"
    path.write_text(text, "utf-8")
    return plan_model(Script(path).model, people, (A4, A3))


def class_of(*models: ModelPlan, people: int = 10) -> ClassPlan:
    return plan_class("club", "Club", people, "en", models)


# --- level -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("verb", "level"),
    [
        ("valley", Level.SIMPLE),
        ("mountain", Level.SIMPLE),
        ("crease", Level.SIMPLE),
        ("pleat", Level.SIMPLE),
        ("turn over", Level.SIMPLE),
        ("inside reverse", Level.LOW_INTERMEDIATE),
        ("outside reverse", Level.LOW_INTERMEDIATE),
        ("squash", Level.LOW_INTERMEDIATE),
        ("petal", Level.INTERMEDIATE),
        ("open sink", Level.INTERMEDIATE),
        ("closed sink", Level.HIGH_INTERMEDIATE),
        ("double rabbit ear", Level.HIGH_INTERMEDIATE),
        ("crimp", Level.HIGH_INTERMEDIATE),
    ],
)
def test_levels_of_moves(verb: str, level: Level) -> None:
    """Common practice: simple takes mountains and valleys, low intermediate reverses and squashes,
    intermediate petals and basic sinks, high intermediate double rabbit ears, crimps, closed sinks."""
    assert moves()[verb].level is level


def test_levels_in_words() -> None:
    assert LEVELS == (
        "simple",
        "low intermediate",
        "intermediate",
        "high intermediate",
        "complex",
    )
    assert level_called("high intermediate") is Level.HIGH_INTERMEDIATE
    assert level_called("easy") is None
    assert Level.SIMPLE < Level.COMPLEX


def test_a_model_is_as_hard_as_its_hardest_move(tmp_path: Path) -> None:
    assert planned(tmp_path, HEAD + FOLD).level is Level.SIMPLE
    assert planned(tmp_path, HEAD + FOLD).hardest == ()
    base = planned(tmp_path, "start from waterbomb base\nstep\n  turn over\n")
    assert base.level is Level.LOW_INTERMEDIATE
    assert base.hardest == ("collapse",)


def test_what_the_head_says_is_kept_apart(tmp_path: Path) -> None:
    plan = planned(tmp_path, HEAD + "level complex\n" + FOLD)
    assert (plan.level, plan.stated) == (Level.SIMPLE, Level.COMPLEX)
    lines = dict(model_rows(plan, str))["Level"]
    assert lines == ("simple", "The script says: complex.")
    assert planned(tmp_path, HEAD + FOLD).stated is None


# --- time ------------------------------------------------------------------------------------------


def test_simple_folds_take_a_minute_and_teaching_three_times_as_long(tmp_path: Path) -> None:
    """Common practice: about three minutes a step for beginners. Turning over takes no time."""
    ten = "".join(f"step\n  mark M{k} at midpoint of A B\n" for k in range(5))
    assert planned(tmp_path, HEAD + FOLD + ten).times == Times(1, 5)
    five = "".join(
        f"step\n  crease through A at {10 * k} degrees to edge A B\n" for k in range(1, 6)
    )
    five = five.replace("through A at", "along line through A at")
    assert planned(tmp_path, HEAD + five).times == Times(5, 15)
    assert planned(tmp_path, HEAD + five + "step\n  turn over\n").times == Times(5, 15)


def test_repeats_are_folded_as_often_as_they_say(tmp_path: Path) -> None:
    once = HEAD + "step\n  crease left edge onto right edge as m\nstep\n  valley left edge onto m\n"
    again = once + "step\n  repeat step 2 on the right\n"
    assert planned(tmp_path, again).times.folding == planned(tmp_path, once).times.folding + 1


def test_the_base_is_folded_too(tmp_path: Path) -> None:
    plan = planned(tmp_path, "start from waterbomb base\nstep\n  turn over\n")
    assert plan.steps == 1
    assert plan.times.folding >= 5


@pytest.mark.parametrize(
    ("minutes", "words"), [(5, "5 min"), (60, "1 h"), (75, "1 h 15 min"), (440, "7 h 20 min")]
)
def test_durations(minutes: int, words: str) -> None:
    assert duration(minutes, str) == words


# --- size ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("last", "row"),
    [
        ("turn over", ("Finished", ("about 150 × 75 mm",))),
        ("curl A", ("Finished", ("about 150 × 75 mm",))),
        ("shape", ("Flat", ("about 150 × 75 mm, before it is opened out",))),
        ("inflate at A", ("Flat", ("about 150 × 75 mm, before it is opened out",))),
    ],
)
def test_a_model_that_is_opened_out_is_measured_flat_and_told_so(
    tmp_path: Path, last: str, row: tuple[str, tuple[str, ...]]
) -> None:
    assert row in model_rows(planned(tmp_path, HEAD + FOLD + f"step\n  {last}\n"), str)


# --- sheets ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("people", "all_of_them"), [(1, 2), (5, 6), (12, 15), (30, 36)])
def test_spares(people: int, all_of_them: int) -> None:
    """One for every five; two or three a person with young children (common practice)."""
    need = amounts(people)
    assert need.with_spares == all_of_them
    assert need.children == (2 * people, 3 * people)


def test_sheets_of_one_size_are_counted_together(tmp_path: Path) -> None:
    """Two models of 15 cm and one of A4, however it lies."""
    square = planned(tmp_path, HEAD + FOLD)
    wide = planned(tmp_path, "sheet A4 landscape\n" + FOLD)
    tall = planned(tmp_path, "sheet A4 portrait\n" + FOLD)
    plan = class_of(square, wide, square, tall)
    assert [(n.sheets, n.pages, len(n.titles)) for n in plan.paper] == [(24, 24, 2), (24, 24, 2)]
    assert plan.times == Times(4, 20)


def test_the_first_paper_that_is_large_enough(tmp_path: Path) -> None:
    plans = {
        size: planned(tmp_path, f"sheet {size}\n" + FOLD).sheets[0].cutting
        for size in ("square 21 cm", "square 25 cm", "square 50 cm")
    }
    assert [c.paper.name if c else None for c in plans.values()] == ["A4", "A3", None]


def test_other_shapes_are_cut_out_of_their_box(tmp_path: Path) -> None:
    """A regular hexagon with sides of 8 cm is 16 cm by 8 * sqrt(3) cm."""
    plan = planned(tmp_path, "sheet regular hexagon, side 8 cm\nstep\n  turn over\n")
    sheet = plan.sheets[0].sheet
    assert sheet.trimmed
    assert (sheet.width, sheet.height) == pytest.approx((160, 138.56), abs=0.01)
    (need,) = class_of(plan).paper
    assert any("cut the shape out" in line for line in dict(paper_rows(need, str))["Cutting"])


# --- tools and cautions ----------------------------------------------------------------------------


def told(plan: ModelPlan) -> str:
    return " ".join(c.render() for c in plan.cautions)


def test_scissors(tmp_path: Path) -> None:
    cut = "step\n  mark P at midpoint of A B\n  mark O at the centre\n  cut from P to O, 1 layer\n"
    plan = planned(tmp_path, HEAD + cut)
    assert plan.tools == ("scissors",)
    assert "Scissors" in told(plan)
    assert plan.notes == ()


def test_cuts_are_counted(tmp_path: Path) -> None:
    """Three cuts with scissors, one of them by a repeat; a slit counts as a piece cut off does."""
    plan = planned(
        tmp_path,
        f"{HEAD}step\n  mark P at 1/4 of A B\n  mark Q at 1/4 of A D\n"
        "  cut from P to Q, discarding A\nstep\n  repeat step 1 on the other side\n"
        "step\n  cut from midpoint of C D to midpoint of P D\n",
    )
    assert (plan.tools, plan.uses) == (("scissors",), (3,))
    assert dict(model_rows(plan, lambda text: text))["Tools"] == ("scissors, 3 times",)


@pytest.mark.parametrize("verb", ["inflate at A", "blow into A"])
def test_one_mouth_for_each_model(tmp_path: Path, verb: str) -> None:
    plan = planned(tmp_path, HEAD + f'step "Blow."\n  {verb}\n')
    assert "one mouth for each model" in told(plan)


def test_small_parts(tmp_path: Path) -> None:
    """A model that goes into the gauge of 57.1 mm (16 CFR 1501.4)."""
    small = planned(tmp_path, HEAD.replace("15 cm", "5 cm") + FOLD)
    assert "swallow" in told(small)
    assert "swallow" not in told(planned(tmp_path, HEAD + FOLD))


def test_knives_only_where_sheets_are_cut_and_the_house_rules_always(tmp_path: Path) -> None:
    cut = class_of(planned(tmp_path, HEAD + FOLD))
    whole = class_of(planned(tmp_path, "sheet A4\n" + FOLD))
    assert "craft knife" in cut.tools[0]
    assert whole.tools == ()
    assert [len(p.cautions) for p in (cut, whole)] == [2, 1]
    for plan in (cut, whole):
        assert "rules of its own" in plan.cautions[-1].render()


# --- text and JSON ---------------------------------------------------------------------------------


def test_text_says_what_matters(tmp_path: Path) -> None:
    text = class_plan_text(class_of(planned(tmp_path, HEAD + 'note "Thin paper."\n' + FOLD)))
    for words in (
        "Class plan: Club",
        "1 from each A4 (210 × 297 mm): 12 sheets",
        "left over: 210 × 147, 60 × 150 mm",
        "148 × 148 mm gives 2 from each A4",
        "about 150 × 75 mm",
        "Thin paper.",
        "common practice",
    ):
        assert words in text
    assert max(map(len, text.splitlines())) <= 92


def test_json_has_the_keys_that_the_guide_tells_of(tmp_path: Path) -> None:
    plan = class_of(planned(tmp_path, HEAD + FOLD))
    data = json.loads(class_plan_json(plan))
    assert data == class_plan_data(plan)
    guide = (ROOT / "foldscript" / "classes" / "README.md").read_text("utf-8")
    tables = [
        set(re.findall(r"`(\w+)`", " ".join(re.findall(r"^\| (.*?) \|", table, re.MULTILINE))))
        for table in re.findall(r"\| key \|.*\n\|[-|]+\|\n((?:\|.*\n)+)", guide)
    ]
    assert tables == [set(data), set(data["paper"][0]), set(data["models"][0])]
    words = set(re.findall(r"`(\w+)`", guide))
    cutting = data["paper"][0]["cutting"]
    nested = (cutting, cutting["cuts"][0], cutting["sheets"][0], data["models"][0]["sheet"])
    for part in (*nested, data["models"][0]["sheets"]):
        assert set(part) <= words
    assert data["basis"] == BASIS


def test_same_rows_in_another_language(tmp_path: Path) -> None:
    """Every word of a row passes through the translation."""
    plan = class_of(planned(tmp_path, HEAD + FOLD), planned(tmp_path, "sheet A4\n" + FOLD))
    rows = list(class_rows(plan, lambda text: f"<{text}>"))
    labels = [label for label, _ in rows]
    assert labels == ["<People>", "<Helpers>", "<Models>", "<Time>", "<To prepare>", "<Mind>"]
    said = [lines for label, lines in rows if label not in ("<People>", "<Models>")]
    assert all(line.startswith("<") for lines in said for line in lines)


@pytest.mark.parametrize(
    "path", sorted((ROOT / "samples").glob("*.foldscript")), ids=lambda p: p.stem
)
def test_every_sample_has_a_plan(path: Path) -> None:
    plan = plan_model(sample(path.stem).model, 12, (A4, A3))
    assert plan.sheets[0].cutting is not None
    if all(one.amounts.each == 1 for one in plan.sheets):
        assert plan.times.teaching >= 3 * plan.times.folding


def test_a_pin_is_a_tool_with_a_caution(tmp_path: Path) -> None:
    """Common practice: whatever is sharp is told beforehand, and local rules come first."""
    plan = planned(tmp_path, 'sheet square 15 cm\nstep "Pin it."\n  pin centre\n')
    assert "a pin" in plan.tools
    assert any("Pins" in caution.render() for caution in plan.cautions)
