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

from .sheet_measures import CLASS_PLAN, CREASES, LESSON, POSTER, PRACTICE, TRUE_SIZE
from .sizes import POINTS_PER_MM, PageSize

__all__ = [
    "CLASS_PLAN",
    "CREASES",
    "LESSON",
    "POSTER",
    "PRACTICE",
    "TRUE_SIZE",
]  # stand with the others

#: pt; sums that come to a page's height but for rounding still fit on it.
ROUNDING = 1e-6


# --- the page and its type -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PageMeasures:
    """One kind of page: margins, columns, the frame of a figure, and sizes of type."""

    margin: float = 42.0  # pt; left, right and head
    folio_height: float = 0.62  # × margin: baseline of the running foot above the edge of the paper
    foot: float = 25.2  # pt from the end of the columns down to that baseline
    narrowest: float = 150.0  # pt; as many columns as are no narrower
    gutter: float = 16.0  # pt between columns
    frame_height: float = 1.02  # × width of the frame, which is as wide as the column
    frame_most: float = 0.3  # × height of the columns: no frame is higher
    row_gap: float = 6 * POINTS_PER_MM  # between rows, at least
    row_gap_most: float = 12 * POINTS_PER_MM  # how far a page may stretch it to its foot
    caption_gap: float = 3 * POINTS_PER_MM  # between a figure and its caption
    figures_most: int = 12  # on a page
    figure: float = 50 * POINTS_PER_MM  # longest side that a figure should have
    least: float = 45 * POINTS_PER_MM  # no page is worth figures that are smaller in the middle
    smallest: float = 30 * POINTS_PER_MM  # no figure should be smaller when it is printed
    closer_heads: bool = True  # where that saves a page
    title: float = 24.0  # pt, as all type sizes
    heading: float = 12.0
    caption: float = 10.0
    key: float = 8.5
    small: float = 8.5
    key_most: float = 30 * POINTS_PER_MM  # height of a key, where that can be
    key_lines: float = (
        1.4  # × its letters, from line to line of all columns; higher samples are reduced to it
    )
    number: float = 17.0
    leading: float = 1.25  # × type size from baseline to baseline


#: A4, Letter, and what is like them.
USUAL = PageMeasures()
#: A5, half letter.
SMALL = replace(
    USUAL,
    margin=34.0,
    figures_most=8,
    figure=42 * POINTS_PER_MM,
    least=36 * POINTS_PER_MM,
    title=20.0,
    heading=11.0,
    caption=9.0,
    key=8.0,
    small=8.0,
    leading=1.28,
)
#: A6.
TINY = replace(
    SMALL,
    margin=24.0,
    figure=34 * POINTS_PER_MM,
    least=0.0,
    closer_heads=False,  # letters are small already
)

#: Any of these in large print, which is printed larger still, and sheets of words such as posters.
LARGE_LETTERS = replace(
    USUAL,
    row_gap=10.0,
    row_gap_most=24.0,
    caption_gap=6.0,
    heading=13.0,
    caption=12.0,
    key=11.0,
    key_lines=1.2,
    small=10.0,
    number=20.0,
)
#: × their longest side otherwise: how long figures should be beside such letters, before they are printed.
LARGE_FIGURES = 0.9
#: × that length: how long they should be in the middle, at least; tiny pages are content with less.
LARGE_LEAST = 0.8

#: pt; pages whose short side is no longer than these are small, and tiny ones.
_SMALL_TO, _TINY_TO = 450.0, 350.0
#: pt; from this short side on (a poster, large print) a page is a usual one enlarged, whose short side
#: is so long.
_LARGE_FROM, _LARGE_BASE = 700.0, 595.0


def measures_of(page: PageSize, large_letters: bool = False) -> tuple[PageMeasures, float]:
    """The measures of a page, and by how much all that is in points is enlarged on it."""
    short = min(page.width, page.height)
    if short >= _LARGE_FROM:
        found, scale = USUAL, short / _LARGE_BASE
    elif short > _SMALL_TO:
        found, scale = USUAL, 1.0
    else:
        found, scale = SMALL if short > _TINY_TO else TINY, 1.0
    if large_letters:
        most, figure = 3 * found.figures_most // 4, LARGE_FIGURES * found.figure
        least = 0.0 if found is TINY else LARGE_LEAST * figure
        found = replace(
            LARGE_LETTERS, margin=found.margin, figures_most=most, figure=figure, least=least
        )
    return found, scale


@dataclass(frozen=True, slots=True)
class TypeMeasures:
    """What is true of the type at every size."""

    ascent: float = 0.75  # × size, from a block's top to its first baseline
    descent: float = 0.25  # × size, from its last baseline to its foot
    capital: float = 0.72  # × size, height of capitals and figures
    centred: float = 0.35  # × size, from the middle of a space down to the baseline
    slack: float = 1.025  # × width: lines end early, for a reader's font may be wider
    slack_alone: float = 1.03  # × width of a text that must not be broken
    last_line: float = 0.37  # × longest line: a last line should be no shorter
    narrowing: float = 0.97  # × width: steps in which lines are set narrower for its sake
    narrowest: float = 0.6  # × width: no further
    note_lines: int = 8  # of a note that hold together over a page break
    bookmark: int = 60  # letters of an entry in the outline, at most
    kept: int = 4096  # blocks of text that are kept for when they are asked for again


TYPE = TypeMeasures()

#: pt; areas of paper that are no farther apart than twice that are one piece.
HAIR = 0.05
#: pt kept about a figure's ink when its frame is trimmed: half of the heaviest line, and a little air.
TRIM = 2.0


# --- a model's pages: head, figures, key, foot -----------------------------------------------------


@dataclass(frozen=True, slots=True)
class CellMeasures:
    """A figure with its number and caption."""

    number_air: float = 4.0  # pt that a number keeps from the ink of its figure
    number_far: float = 6 * POINTS_PER_MM  # how far a figure may stand below its number
    caption_far: float = 6 * POINTS_PER_MM  # how far a caption may go down to be level with others
    level_costs: float = 0.6  # em by which a row may become higher for level captions
    sign_near: float = (
        6.0  # pt more than it needs, either side, that a sign is from its figure at most
    )
    sign_moves: float = (
        6.0  # pt that figures move aside for a sign at mid height, rather than it goes lower
    )
    sign_step: float = 6.0  # pt between the heights at which a sign between figures is tried
    below_heading: float = 0.9  # em between the heading of a row and its figures
    highest: float = 1.8  # × height of the frame: a higher figure is reduced
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
    """The key of signs, and the notes. An em is the size of the key's letters."""

    columns: int = 6  # at most
    gutter: float = 0.9  # em between columns, at least
    apart: float = 4.0  # em more, at most, where they leave room
    #: How much wider a column may be for columns of one height: × the square of its height, in em; the first
    #: that fits counts.
    even: tuple[float, ...] = (1.0, 0.3, 0.1, 0.03, 0.0)
    length_step: float = 0.4  # em between lengths to which names are broken into lines
    breaking: float = 0.07  # lines that a name must save to be broken
    above: float = 0.65  # × the space between rows: that between the last of them and the key
    below_heading: float = 0.3  # em
    drawn_for: float = 12.5  # pt; letters beside which samples stand as they are drawn
    sample_most: float = 0.72  # × size as drawn: no sample is larger
    beside_sample: float = 0.45  # em between a sample and its name
    between_notes: float = 0.4  # em between the parts of notes
    highest: float = 0.45  # × height of the columns: a higher key may be broken
    held: int = 3  # fewest rows on either page of a key that is broken
    overleaf: int = 6  # fewest rows that go over, where so many can be spared


KEY = KeyMeasures()


@dataclass(frozen=True, slots=True)
class FootMeasures:
    """The running foot: a rule, the title, the folio."""

    rule: float = 0.7  # × way from the columns' end to the baseline
    rule_lift: float = 2.0  # pt above that


FOOT = FootMeasures()


# --- what makes a good page ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PageCosts:
    """What makes pages poor, beside the squares of the parts left empty; in pages.

    Ways to break a model's rows into pages are compared by the number of pages, then by this sum.
    """

    foot: float = 4.0  # for each page that is left empty at the foot, beyond this part of it:
    foot_free: float = 0.06
    last: float = 0.3  # × all that, on a model's last page
    poor: float = 3.0  # for a page inside a model, of which more is empty than this part of it:
    poor_from: float = 0.38
    tail_alone: float = 0.8  # the key alone, or a single figure, on the last page
    half_parted: float = 0.15  # a page that begins with a figure half way, away from its step
    single: float = 0.8  # a single figure on any page but the first and the last
    key_higher: float = 0.3  # a key beside the last row, and higher than
    key_aside: float = 1.1  # × the height of that
    key_high: float = 0.35  # for each time that it is higher by what a key should be at most
    key_early: float = 0.08  # a key at the foot of any page but the last
    key_broken: float = 0.3  # a key that runs on to the next page
    key_alone: float = 0.8  # a page with a key alone
    head_alone: float = 4.0  # with a head alone
    finished_alone: float = 0.4  # with the finished model alone
    finished_with_key: float = 0.1  # with it and the key
    head_close: float = 0.25  # a head set closer


COSTS = PageCosts()

#: Space above a model that shares a page with the one before it, in spaces between rows.
SHARED_GAP = 2.0


@dataclass(frozen=True, slots=True)
class FigureSizes:
    """The frames in which figures may be drawn, and what their size is worth.

    Amounts are in pages; logarithms are natural ones.
    """

    widths: tuple[float, ...] = tuple(1.0 - 0.025 * k for k in range(16))  # × column
    heights: tuple[float, ...] = (1.0, 1.15, 1.35)  # × usual height of a frame of that width
    highest: float = 0.5  # × height of the columns: no frame is higher
    digits: int = 3  # to which scales count as alike, in sizes of figures wanted
    left_steps: tuple[float, ...] = (
        1.0,
        0.85,
        0.7,
        0.55,
    )  # × distance of a number from the middle:
    # how far in the left side of a figure is looked at, for larger ones
    gains: tuple[float, ...] = (
        0.02,
        0.02,
        0.02,
        0.02,
    )  # how much less a frame has to promise to cost to be
    # drawn as the first, second, ...; no more are drawn
    looks: int = 1  # at so many sizes are figures with circles drawn before all others
    smaller: float = 3.2  # for each 1.0 by which the logarithm of the size is below what is wanted
    larger: float = 0.35  # gained for each 1.0 by which it rises above that
    poor: float = 13.0  # for each 1.0 of the logarithm below the least worth a page
    one_page: float = (
        0.25  # gained where a model stands on one page: one sheet to copy and to hand out
    )
    small_figure: float = 1.4  # for each that is; less where it is smaller by less than
    small_by: float = 0.08  # of the logarithm of its size


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
    plate: float = 0.86  # × height between margins: the picture on a page before a model
    below_plate: float = 2.2  # × size of headings: from it to the line of its name
    code_square: float = (
        0.5 * POINTS_PER_MM
    )  # of a code with a link, at least (common practice: 0.4 mm)
    code_width: float = 25 * POINTS_PER_MM  # of the whole code, at least
    code_border: int = 4  # squares of white about it (ISO/IEC 18004, 'quiet zone')


COVER = CoverMeasures()


@dataclass(frozen=True, slots=True)
class ThumbMeasures:
    """Marks at the outer edge of a booklet's pages."""

    width: float = 3.5 * POINTS_PER_MM
    narrowest: float = 1.5 * POINTS_PER_MM  # where the margin has less room, there are none
    air: float = 1.5 * POINTS_PER_MM  # between a mark and what stands on the page
    step: float = 14 * POINTS_PER_MM  # from one model to the next, at most
    part: float = 0.8  # × step: height of a mark
    most: int = 24  # models from top to bottom; the next one stands at the top again


THUMB = ThumbMeasures()


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
