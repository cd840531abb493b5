"""Every measure of a page, as data: what a designer of pages would want to change, and nothing else.

In: nothing; `measures_of` picks by the size of the paper. Out: frozen values which all of `pages/` reads
and none repeats (`tests/pages/test_measures.py` holds it to that). Units, where a comment names none:
pt  points of 1/72 inch, on a page that is not enlarged
em  multiples of the type size of captions, or of the size that the comment names
×   a part or a multiple of what the comment names
What signs and figures measure inside their frames is no business of pages: see `drawing/`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from .sizes import POINTS_PER_MM, PageSize

#: pt; sums that come to a page's height but for rounding still fit on it.
ROUNDING = 1e-6


# --- the page and its type -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PageMeasures:
    """One kind of page: margins, columns, the frame of a figure, and sizes of type."""

    margin: float = 42.0  # pt; left, right and head
    folio_height: float = 0.72  # × margin: baseline of the running foot above the edge of the paper
    foot: float = 21.0  # pt from the end of the columns down to that baseline
    narrowest: float = 150.0  # pt; as many columns as are no narrower
    gutter: float = 16.0  # pt between columns
    number_column: float = 26.0  # pt kept free left of a figure for its number
    frame_height: float = 1.02  # × width of the frame
    frame_most: float = 0.3  # × height of the columns: no frame is higher
    row_gap: float = 10.0  # pt between rows, at least
    row_gap_most: float = 44.0  # pt; how far a sparse page may stretch it
    figures_most: int = 9  # on a page
    title: float = 24.0  # pt, as all type sizes
    heading: float = 13.0
    caption: float = 12.0
    key: float = 11.0
    small: float = 10.0
    number: float = 20.0
    leading: float = 1.25  # × type size from baseline to baseline


#: A4, Letter, and what is like them.
USUAL = PageMeasures()
#: A5, half letter.
SMALL = replace(USUAL, margin=34.0, figures_most=6)
#: A6.
TINY = replace(SMALL, margin=24.0)

#: pt; pages whose short side is no longer than these are small, and tiny ones.
_SMALL_TO, _TINY_TO = 450.0, 350.0
#: pt; from this short side on (a poster, large print) a page is a usual one enlarged, whose short side
#: is so long.
_LARGE_FROM, _LARGE_BASE = 700.0, 595.0


def measures_of(page: PageSize) -> tuple[PageMeasures, float]:
    """The measures of a page, and by how much all that is in points is enlarged on it."""
    short = min(page.width, page.height)
    if short >= _LARGE_FROM:
        return USUAL, short / _LARGE_BASE
    if short > _SMALL_TO:
        return USUAL, 1.0
    return SMALL if short > _TINY_TO else TINY, 1.0


@dataclass(frozen=True, slots=True)
class TypeMeasures:
    """What is true of the type at every size."""

    ascent: float = 0.75  # × size, from a block's top to its first baseline
    descent: float = 0.25  # × size, from its last baseline to its foot
    capital: float = 0.72  # × size, height of capitals and figures
    centred: float = 0.35  # × size, from the middle of a space down to the baseline
    slack: float = 1.025  # × width: lines end early, for a reader's font may be wider
    slack_alone: float = 1.03  # × width of a text that must not be broken
    note_lines: int = 8  # of a note that hold together over a page break
    bookmark: int = 60  # letters of an entry in the outline, at most


TYPE = TypeMeasures()

#: pt kept about a figure's ink when its frame is trimmed: half of the heaviest line, and a little air.
TRIM = 2.0
#: pt; frames whose heights differ by more are not trimmed alike.
SAME_FRAME = 0.01


# --- a model's pages: head, figures, key, foot -----------------------------------------------------


@dataclass(frozen=True, slots=True)
class CellMeasures:
    """A figure with its number and caption."""

    number: float = 0.94  # × number column: a wider number is set smaller
    caption_gap: float = 0.4  # em between figure and caption
    highest: float = 1.6  # × height of the frame: a higher figure is reduced
    caption_most: float = 0.9  # × height of the frame: a higher caption stands beside its figure
    caption_most_alone: float = 0.5  # × height of the columns: the same on a page of one column
    beside: float = 0.4  # × column: width of a figure with its caption beside it, on such a page
    closing_width: float = 0.5  # × width between margins: the finished model that closes a chapter
    closing_height: float = 0.25  # × height of the columns


CELL = CellMeasures()


@dataclass(frozen=True, slots=True)
class HeadMeasures:
    """What stands above a model's first figure."""

    picture_width: float = 0.3  # × width between margins, at most
    picture_height: float = 0.9  # × that width, at most
    picture_height_ems: float = 7.5  # em, at most
    below_title: float = 0.25  # em
    below_credit: float = 0.7  # em
    below_picture: float = 0.5  # em, where the facts stand below it
    between_facts: float = 0.5  # × their size, between label and value of a second one on a line
    above_rule: float = 0.75  # em
    fine_to_mm: float = 300.0  # finished sizes are told in whole mm below this
    coarse_mm: int = 5  # mm; from there on, in multiples of this
    notes: int = 5  # lines of notes that the head takes in; longer ones stand below it
    notes_width: float = 0.75  # × room beside the picture, in which those lines are counted


HEAD = HeadMeasures()


@dataclass(frozen=True, slots=True)
class KeyMeasures:
    """The key of signs, and the notes."""

    below_heading: float = 0.4  # em
    beside_sample: float = 0.5  # em between a sample and its name
    between: float = 0.4  # em between entries
    between_close: float = 0.1  # em between them where they are set close
    held: int = 3  # fewest entries on either page of a key that is broken


KEY = KeyMeasures()


@dataclass(frozen=True, slots=True)
class FootMeasures:
    """The running foot: a rule, the title, the folio."""

    rule: float = 0.55  # × way from the columns' end to the baseline
    rule_lift: float = 2.0  # pt above that


FOOT = FootMeasures()


# --- what makes a good page ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PageCosts:
    """What makes pages poor, beside the squares of the parts left empty; in pages.

    Ways to break a model's rows into pages are compared by the number of pages, then by this sum.
    """

    tail_alone: float = 0.3  # the key alone, or a single figure, on the last page
    single: float = 0.05  # a single figure on any page between the first and the last
    key_higher: float = 0.03  # a key beside the last row, and higher than that
    key_early: float = 0.08  # a key below the first page's rows
    key_broken: float = 0.12  # a key that runs on to the next page
    key_close: float = 0.02  # entries set closer
    key_alone: float = 0.15  # a page with a key alone
    head_alone: float = 0.7  # with a head alone
    finished_alone: float = 0.4  # with the finished model alone
    finished_with_key: float = 0.1  # with it and the key
    head_close: float = 0.25  # a head set closer


COSTS = PageCosts()

#: Space above a model that shares a page with the one before it, in spaces between rows.
SHARED_GAP = 2.0


@dataclass(frozen=True, slots=True)
class FigureSizes:
    """How much smaller or larger than usual figures may be drawn, and what that is worth.

    Scales are multiples of the usual frame. The least is 38 mm for a figure on A4.
    """

    smaller: tuple[float, ...] = (0.94, 0.88, 0.82)
    smaller_in_booklets: tuple[float, ...] = (0.94, 0.88, 0.82, 0.77)
    larger: tuple[float, ...] = (1.6, 1.45, 1.3, 1.2)  # in one column less
    large_print: tuple[float, ...] = (1.9, 1.75, 1.6, 1.45, 1.3, 1.2, 1.1)
    highest: float = 0.55  # × height of the columns, for the frames of large print
    few_pages: int = 2  # most on which figures are drawn larger in fewer columns
    tries: int = 2  # most scales that are drawn for real
    tries_large_print: int = 4  # the same in large print, where fewer keep what they promise
    shrinking: float = 1.2  # pages to be gained, for each 1.0 that the scale falls
    growing: float = 0.05  # pages that it is worth, for each page and each 1.0 that the scale rises
    growing_large_print: float = 0.35


SIZES = FigureSizes()


# --- booklets --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class CoverMeasures:
    """Front and back cover."""

    panel: float = 0.38  # × height of the page
    titles: tuple[float, ...] = (0.105, 0.095, 0.085, 0.075, 0.065, 0.055, 0.046)  # × its width
    subtitle: float = 0.4  # × size of the title, but no smaller than captions
    below_title: float = 0.3  # × size of the title
    above_title: float = 1.2  # × margin, at least
    title_foot: float = 0.6  # × margin, from the subtitle to the panel's edge
    balancing: float = 0.96  # × width: steps in which a title's lines are set narrower
    narrowest: float = 0.3  # × width: no title is set narrower
    frame: tuple[float, float] = (0.5, 0.3)  # × width, height of the page: pictures as drawn
    rows: tuple[tuple[int, ...], ...] = ((), (1,), (1, 1), (1, 2), (2, 2), (2, 3), (3, 3))
    above_pictures: float = 0.7  # × widest gap between rows
    picture_gap: float = 1.6  # gutters
    picture_width: float = 0.62  # × width between margins, at most
    publisher_room: float = 3.2  # × size of headings, kept above the foot of the front
    publisher_rule: float = 1.6  # × size of headings, above the first line
    back_picture: float = 0.11  # × width of the page: height of a picture
    back_gap: float = 0.045  # × width of the page
    back_aspect: float = 1.55  # × its height: width of a picture
    back_foot: float = 4.0  # × size of headings, kept free above the foot
    back_least: float = 0.3  # × height of a picture: lower ones are left out


COVER = CoverMeasures()


@dataclass(frozen=True, slots=True)
class ContentsMeasures:
    """The contents, and the other pages of words."""

    heading: float = 0.8  # × size of titles
    heading_rule: float = 0.45  # em
    below_heading: float = 0.9  # × gap between rows
    picture_width: float = 4.4  # em
    picture_heights: tuple[float, ...] = (2.9, 2.6, 2.3, 2.05)  # em; tried from the first on
    below: float = 0.45  # pt below an entry, at the first of these heights
    above_level: float = 0.5  # em
    beside_picture: float = 1.0  # em
    below_title: float = 0.25  # × small size
    widest_folio: str = "000"  # the room that page numbers take
    beside_leader: float = 0.6  # em before and after the dots
    leader_lift: float = 0.8  # pt above the baseline
    between_paragraph_parts: float = 0.25  # em


CONTENTS = ContentsMeasures()

#: pt; two A5 pages are a millimetre narrower than A4 is high (ISO 216 rounds down).
SAME_PAPER = 4.0


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
    number_beside: float = 0.62  # × its size, from its line
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
    sample: float = 4.6  # em, width of a sample
    sample_drawn: float = 12.0  # pt; size of captions that samples are drawn for
    beside_sample: float = 0.8  # em
    name: float = 1.0  # em, type size
    meaning: float = 0.83  # em, type size
    below_name: float = 0.12  # em
    title_rule: float = 0.4  # em
    below_heading: float = 0.5  # em
    between: float = 0.75  # em


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
