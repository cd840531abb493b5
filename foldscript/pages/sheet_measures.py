"""Measures of the sheets beside the handout, as data: at true size, poster and class plan.

Like `measures`, which has them all: nothing reads them from here.
"""

from __future__ import annotations

from dataclasses import dataclass

from .sizes import POINTS_PER_MM

# --- sheets at true size ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class TrueSizeMeasures:
    """What pages with the sheet at true size share: the ruler, names and numbers on lines."""

    ruler: int = 50  # mm
    ruler_step: int = 10  # mm from tick to tick
    tick: float = 6.0  # pt, at both ends of the ruler
    tick_small: float = 3.5  # pt
    ruler_label: float = 8.0  # pt, type size
    ruler_label_at: float = 13.0  # pt below the ruler
    ruler_height: float = 15.0  # pt
    shortest: float = 0.2  # pt; shorter parts of lines are left out
    number_places: tuple[float, ...] = (0.3, 0.7, 0.5, 0.2, 0.8, 0.4, 0.6, 0.1, 0.9)  # × line
    number_clear: float = 9.0  # pt that a number keeps from lines
    number_apart: float = 1.6  # × that, from other numbers
    number_beside: float = 0.75  # × its size, from its line
    text_clear: float = 0.7  # × size: from a letter's middle to any line
    name_reaches: tuple[float, ...] = (
        1.0,
        1.3,
        1.7,
        2.2,
        3.0,
        4.0,
    )  # × usual distance from its corner
    name_turns: tuple[float, ...] = (
        0,
        22.5,
        -22.5,
        33,
        -33,
        11,
        -11,
        39.5,
        -39.5,
    )  # degrees about it
    number_line: float = 2.0  # × its size: shorter lines go without
    leading: float = 1.25  # × type size
    between: float = 0.25  # × type size, between paragraphs


TRUE_SIZE = TrueSizeMeasures()


@dataclass(frozen=True, slots=True)
class CreaseMeasures:
    """The page of the crease pattern."""

    margin: float = 12 * POINTS_PER_MM
    gap: float = 20.0  # pt between sheet, ruler, words and samples
    words: float = 9.0  # pt, as all type sizes
    title: float = 14.0
    letter: float = 11.0
    letter_away: float = 1.1  # × its size, outside the sheet
    narrowest: float = 120 * POINTS_PER_MM  # page that ruler and words stand side by side on
    below_title: float = 6.0  # pt
    below_samples: float = 8.0  # pt
    above_ruler: float = 3.0  # pt
    beside_sample: float = 4.0  # pt
    sample_rows: float = 0.7  # × height of a sample, from row to row


CREASES = CreaseMeasures()


@dataclass(frozen=True, slots=True)
class PracticeMeasures:
    """The practice sheet: one page, or tiles that overlap."""

    margin: float = 10 * POINTS_PER_MM
    unprinted: float = 5 * POINTS_PER_MM  # left white by home printers (common practice: 4 to 5 mm)
    same: float = 0.3 * POINTS_PER_MM  # a sheet that differs less from a page is as large as it
    overlap: float = 10 * POINTS_PER_MM
    tile_overlaps: float = 3.0  # overlaps that a tile is high, at least
    pages_most: int = 100
    gap: float = 12.0  # pt between sheet, ruler, words and map
    words: float = 9.0  # pt, as all type sizes
    words_small: float = 8.0  # of the note on a sheet that fills its page
    letter: float = 12.0
    letter_away: float = 1.4  # × its size, inside the sheet
    letter_away_full: float = 2.8  # the same on a sheet that fills its page
    letter_window: float = 5.0  # pt from a tile's edge: letters nearer to it are left out
    above_ruler: float = 3.0  # pt
    below_ruler: float = 4.0  # pt
    note_clear: float = 4.0  # pt about the note, where it is looked for crossing lines
    note_step: float = 4 * POINTS_PER_MM  # between the places that are tried
    seam_words: float = 6.5  # pt, type size
    seam_words_in: float = 3.0  # pt right of where the seam begins
    seam_words_up: float = 4.0  # pt above the foot of an upright seam
    seam_words_down: float = 8.0  # pt below a level seam
    marks: tuple[float, ...] = (0.2, 0.8)  # × seam: where the register marks stand
    mark_ring: float = 4.5  # pt, radius
    mark_cross: float = 8.0  # pt, half its width
    scissors: float = 22.0  # pt from where a seam begins
    map: float = 46.0  # pt, longer side
    map_number: float = 8.0  # pt, type size, at most
    map_number_height: float = 0.7  # × height of a tile, at most
    map_number_width: float = 0.9  # × width of a tile, at most


PRACTICE = PracticeMeasures()


# --- poster and class plan -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PosterMeasures:
    """The poster of signs."""

    narrowest: float = 17.0  # em; as many columns as are no narrower
    sample: float = 4.3  # em, width of a sample
    sample_drawn: float = 12.0  # pt; size of captions that samples are drawn for
    beside_sample: float = 0.6  # em
    name: float = 0.95  # em, type size
    meaning: float = 0.77  # em, type size
    below_name: float = 0.12  # em
    title_rule: float = 0.3  # em
    below_heading: float = 0.4  # em
    above_heading: float = 0.5  # em
    between: float = 0.18  # em


POSTER = PosterMeasures()


@dataclass(frozen=True, slots=True)
class ClassPlanMeasures:
    """The class plan, and its drawings of cuts."""

    aside: float = 0.24  # × width between margins: drawings at the right
    aside_height: float = 0.8  # × their width
    label: float = 4.9  # em; the column of labels is wider only for longer words
    beside_label: float = 0.8  # em
    above_section: float = 0.6  # em
    below_section_title: float = 0.35  # em
    below_title_line: float = 0.2  # em between a heading and a credit below it
    one_line: float = 1.5  # × its size: a heading that is higher has several lines
    head: float = 0.5  # em between the lines of the head
    below_model: float = 0.4  # em
    below_paragraph: float = 0.3  # em
    cut_label: float = 7.0  # pt, type size
    cut_label_air: float = 5.0  # pt of a piece's width kept free
    cut_one_line: float = 1.3  # × its size: least height of a piece with a label on one line
    cut_two_lines: float = 2.4  # × its size: the same on two
    cut_first_line: float = 0.2  # × its size, first of two baselines above the middle
    cut_second_line: float = 0.9  # × its size, second one below it


CLASS_PLAN = ClassPlanMeasures()


@dataclass(frozen=True, slots=True)
class LessonMeasures:
    """The steps of a model on a class plan."""

    narrowest: float = 38 * POINTS_PER_MM  # as many columns as are no narrower
    frame_height: float = 0.72  # × column
    box: float = 0.95  # em; side of a box to tick
    beside_box: float = 0.45  # em
    below_head: float = 0.3  # em
    below_figure: float = 0.25  # em
    between: float = 0.25  # em
    mark: float = 1.15  # × small size: room of the mark of a hard step
    mark_box: tuple[float, float, float] = (
        0.18,
        0.95,
        0.8,
    )  # × small size: its top, foot and width
    bar: float = 2.2  # pt; where the class waits
    below_bar: float = 0.15  # em
    below_row: float = 0.9  # em


LESSON = LessonMeasures()
