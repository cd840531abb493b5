"""One script each time it is saved: what is shown, and what is made again for it."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.drawing import asked as drawing
from foldscript.drawing.style.styles import load_style
from foldscript.pages import measures
from foldscript.pages.sizes import page_size
from foldscript.preview.looking import InView
from foldscript.preview.shown import Shown
from foldscript.preview.workbench import Workbench

from .places import CARD


class Bench:
    """A workbench with a script, and everything that it told."""

    def __init__(self, folder: Path, text: str = CARD, language: str = "") -> None:
        self.path = folder / "card.foldscript"
        self.views: list[InView] = []
        self.bench = Workbench(
            self.path, load_style(), page_size("A4"), language, lambda: self.views
        )
        self.told: list[Shown] = []
        self.save(text)

    def save(self, text: str) -> list[Shown]:
        """What is told when this text is saved."""
        self.path.write_text(text, "utf-8")
        return self.again()

    def again(self) -> list[Shown]:
        self.told = []
        self.bench.make(self.told.append)
        return self.told


def test_the_pages_are_shown(tmp_path: Path) -> None:
    (shown,) = Bench(tmp_path).told
    assert (shown.title, len(shown.pages), shown.troubles, shown.old) == ("Card", 1, (), False)
    assert shown.pages[0].svg.startswith(b"<?xml")
    assert shown.pages[0].width == pytest.approx(595.28, abs=0.01)


def test_what_says_the_same_is_not_told_again(tmp_path: Path) -> None:
    assert Bench(tmp_path).again() == []


def test_the_changed_step_comes_first_then_the_pages(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    before = bench.told[-1].pages
    near, *_, last = bench.save(CARD.replace("turn over", "rotate 90 degrees clockwise"))
    assert near.pages == before
    assert [picture.label for picture in near.close] == ["2"]
    assert near.words == "Turn over."
    assert last.pages != before
    assert last.close == near.close


def test_a_caption_is_a_change_of_its_step(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    near, last = bench.save(CARD.replace("in half again", "it once more"))
    assert (near.words, near.close[0].label) == ("Fold it once more.", "3")
    assert "Fold it once more." in last.pages[0].svg.decode()


def test_a_letter_in_a_caption_is_a_change_of_its_step(tmp_path: Path) -> None:
    """The figure letters what its caption speaks of."""
    bench = Bench(tmp_path)
    (lettered, *_) = bench.save(CARD.replace("in half again", "in half again, over C"))
    assert lettered.close[0].label == "3"
    assert b">C<" in lettered.close[0].svg
    (plain, *_) = bench.save(CARD)
    assert b">C<" not in plain.close[0].svg


def test_only_changed_figures_are_drawn(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(tmp_path)
    drawn = []
    compose = drawing.compose
    monkeypatch.setattr(
        drawing, "compose", lambda *given: drawn.append(given[1]) or compose(*given)
    )
    bench.save("# a remark\n" + CARD)
    assert drawn == []
    bench.save(CARD + 'step "Look."\n  turn over\n')
    # The step close up; then, in the row, as usual on the page and in each frame that is tried, the last
    # figure before it, which has the sign that turns it now, and the finished model.
    frames, left = divmod(len(drawn) - 1, 2)
    assert not left
    assert frames <= len(measures.SIZES.gains) + 2
    assert {len(panel.state.facets) for panel in drawn} == {2, 4}


def test_a_page_that_is_the_same_keeps_its_picture(tmp_path: Path) -> None:
    long = CARD + "".join(f'step "Step {k}."\n  turn over\n  show\n' for k in range(20))
    bench = Bench(tmp_path, long)
    before = bench.told[-1].pages
    assert len(before) > 1
    after = bench.save(long.replace("Step 19.", "The last step."))[-1].pages
    assert after[0] is before[0]
    assert after[-1].name != before[-1].name


def test_what_is_in_view_is_made_first(tmp_path: Path) -> None:
    """With the figures of the text; then all pages are, as if they had been made from nothing."""
    long = CARD + "".join(f'step "Step {k}."\n  turn over\n  show\n' for k in range(40))
    new = long.replace("bottom edge onto top", "top edge onto bottom")
    bench, fresh = Bench(tmp_path, long), Bench(tmp_path, new).told[-1]
    pages = len(fresh.pages)
    assert pages > 3
    old = bench.told[-1]
    for page in range(pages):
        bench = Bench(tmp_path, long)
        bench.views[:] = [InView(page, 0, 100)]
        near, first, *_, last = bench.save(new)
        assert near.pages == old.pages
        assert [k for k in range(pages) if first.pages[k] == fresh.pages[k]] == [page]
        assert last.pages == fresh.pages


def test_two_pages_in_view(tmp_path: Path) -> None:
    long = CARD + "".join(f'step "Step {k}."\n  turn over\n  show\n' for k in range(40))
    new = long.replace("bottom edge onto top", "top edge onto bottom")
    fresh, bench = Bench(tmp_path, new).told[-1], Bench(tmp_path, long)
    bench.views[:] = [InView(2, 0, 100), InView(1, 0, 100)]
    told = bench.save(new)[1:]
    right = [[k for k, page in enumerate(one.pages) if page == fresh.pages[k]] for one in told]
    assert right == [[2], [1, 2], [0, 1, 2, 3]]


def test_a_page_before_the_change_waits_for_nothing(tmp_path: Path) -> None:
    """The page of the changed step is made first when the one in view stays as it is."""
    long = CARD + "".join(f'step "Step {k}."\n  turn over\n  show\n' for k in range(27))
    new = long.replace(
        '"Step 26."\n  turn over\n  show', '"Step 26."\n  valley left edge onto right edge'
    )
    bench = Bench(tmp_path, long)
    before = bench.told[-1].pages
    bench.views[:] = [InView(1, 0, 100)]
    _, first, *_ = bench.save(new)
    assert first.pages[1] == before[1]
    assert first.pages[-1] != before[-1]


def test_pages_that_are_not_there_are_not_in_view(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    bench.views[:] = [InView(7, 0, 100), InView(0, 90, 10)]
    new = CARD.replace("bottom edge onto top", "top edge onto bottom")
    assert bench.save(new)[-1].pages == Bench(tmp_path, new).told[-1].pages


def test_a_mistake_is_told_at_once_then_the_steps_before_it_are_shown(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    pages = bench.told[-1].pages
    wrong, *_, folds = bench.save(CARD.replace("turn over", "turn ovr"))
    assert (wrong.pages, wrong.old) == (pages, True)
    assert (folds.troubles, folds.old) == (wrong.troubles, False)
    page = folds.pages[0].svg.decode()
    assert "Fold the bottom edge to the top edge." in page
    assert "Fold in half again." not in page
    assert "Step 2 is refused" in page
    (trouble,) = wrong.troubles
    assert (trouble.line, trouble.error) == (8, True)
    assert "'turn ovr' is no move" in trouble.text
    assert "^^^^^^^^" in trouble.text
    good = bench.save(CARD)[-1]
    assert (good.pages, good.old, good.troubles) == (pages, False, ())


def test_a_caption_too_long_for_its_page_says_its_line(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    bench.bench = Workbench(bench.path, load_style("large"), page_size("A6"))
    bench.again()
    wrong = bench.save(CARD.replace("Fold in half again.", "Fold it in half. " * 110))[-1]
    assert wrong.troubles[0].line == 9
    assert "the caption of step 3 does not fit" in wrong.troubles[0].text


def test_a_fold_that_cannot_be_says_its_step(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    for wrong in bench.save(CARD.replace("left edge onto right", "left edge onto left")):
        assert wrong.troubles[0].line == 10
        assert "in step 3" in wrong.troubles[0].text


def test_what_is_wrong_in_the_head_leaves_the_pages(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    pages = bench.told[-1].pages
    (wrong,) = bench.save(CARD.replace("square 15 cm", "circle 15 cm"))
    assert (wrong.pages, wrong.old) == (pages, True)


def test_nothing_is_old_where_nothing_was_shown(tmp_path: Path) -> None:
    (wrong,) = Bench(tmp_path, "nonsense\n").told
    assert (wrong.pages, wrong.old) == ((), False)
    assert wrong.troubles


def test_a_file_that_goes_and_comes_back(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    bench.path.unlink()
    (gone,) = bench.again()
    assert "there is no file" in gone.troubles[0].text
    back = bench.save(CARD)[-1]
    assert (back.old, back.troubles) == (False, ())


def test_the_last_step_taken_out_is_not_shown_any_more(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    bench.save(CARD.replace("again", "once more"))
    shorter = CARD[: CARD.rindex("step")]
    assert bench.save(shorter)[-1].close == ()


def test_what_it_starts_from_and_side_files_count(tmp_path: Path) -> None:
    (tmp_path / "base.foldscript").write_text(CARD, "utf-8")
    text = 'start from "base.foldscript"\nstep "Turn."\n  turn over\n'
    bench = Bench(tmp_path, text, "es")
    assert bench.bench.ancestors == (tmp_path / "base.foldscript",)
    (tmp_path / "base.foldscript").write_text(CARD.replace("valley", "mountain"), "utf-8")
    before = bench.told[-1].pages
    assert bench.again()[-1].pages != before
    (tmp_path / "card.es.toml").write_text('[steps]\n1 = "Dale la vuelta."\n', "utf-8")
    assert "Dale la vuelta." in bench.again()[-1].pages[0].svg.decode()
    assert tmp_path / "card.es.toml" in bench.bench.sources


def test_another_style(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    before = bench.told[-1].pages
    bench.bench.dress(load_style("dark"))
    assert bench.again()[-1].pages != before


def test_warnings_are_shown_beside_good_pages(tmp_path: Path) -> None:
    (shown,) = Bench(tmp_path, CARD.replace("Turn over", "折る")).told
    assert [(t.error, t.line) for t in shown.troubles] == [(False, 0)]
    assert shown.pages
    assert not shown.old
