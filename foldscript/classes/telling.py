"""A class plan in words: rows of a heading and what it says, for pages and for plain text.

In: a plan, and a function that gives the rows' words in another language. Out: (heading, lines).
"""

from __future__ import annotations

from collections.abc import Iterator

from ..folding.ending import size_fact
from ..languages.wording import ENGLISH, Template, Translate, decimal, plural
from .cutting import Cut, Cutting
from .plan import ClassPlan, ModelPlan, PaperNeed, SheetNeed, Times

Row = tuple[str, tuple[str, ...]]

BASIS: Template = (
    "Levels, times and spares are rules of thumb, common practice among teachers and not measured: "
    "a minute for each simple fold, three times as long to teach a group, and more for harder moves."
)


def class_rows(plan: ClassPlan, tell: Translate) -> Iterator[Row]:
    """What the class is, and what it takes to get ready for it."""
    yield tell("People"), (str(plan.people),)
    if len(plan.models) > 1:
        yield tell("Models"), (str(len(plan.models)),)
        yield tell("Time"), (_times(plan.times, tell),)
    if plan.tools:
        yield tell("To prepare"), tuple(tell(tool) for tool in plan.tools)
    yield tell("Mind"), tuple(caution.render(tell) for caution in plan.cautions)


def paper_rows(need: PaperNeed, tell: Translate) -> Iterator[Row]:
    """How many sheets of one size, and how they are cut."""
    yield tell("Sheets"), tuple(_amounts(need, tell))
    yield tell("Cutting"), tuple(_cutting(need, tell))


def paper_title(need: PaperNeed, several: bool, tell: Translate = ENGLISH) -> str:
    """'square 15 cm: Cup, Whale'; the models only where there are several."""
    size = f"{size_words(need.sheet.width, need.sheet.height, tell)} mm"
    return f"{size}: {', '.join(need.titles)}" if several else size


def model_rows(plan: ModelPlan, tell: Translate) -> Iterator[Row]:
    """What one model needs, but for cautions and notes, which are paragraphs."""
    yield tell("Level"), tuple(_level(plan, tell))
    steps = plural("{n} step", "{n} steps", plan.steps).render(tell)
    yield tell("Time"), (f"{steps}, {_times(plan.times, tell)}",)
    yield tell("Sheet"), tuple(_sheet(plan.sheet, tell))
    width, height = (length(round(side), tell) for side in plan.finished)
    label, size = size_fact(plan.ending, width, height, tell)
    yield label, (size,)
    if plan.tools:
        yield tell("Tools"), tuple(tell(tool) for tool in plan.tools)


def size_words(width: float, height: float, tell: Translate = ENGLISH) -> str:
    """'150 × 210', without needless decimals."""
    return f"{length(width, tell)} × {length(height, tell)}"


def length(mm: float, tell: Translate = ENGLISH) -> str:
    """A length to a tenth of a millimetre, without needless decimals."""
    return decimal(f"{mm:.1f}".removesuffix(".0"), tell)


def _level(plan: ModelPlan, tell: Translate) -> Iterator[str]:
    words = tell(plan.level.words)
    if plan.hardest:
        words = tell("{level}, because of: {moves}").format(
            level=words, moves=", ".join(tell(verb) for verb in plan.hardest)
        )
    yield words
    if plan.stated is not None and plan.stated is not plan.level:
        yield tell("The script says: {level}.").format(level=tell(plan.stated.words))


def _times(times: Times, tell: Translate) -> str:
    return tell("about {folding} to fold, {teaching} to teach a group").format(
        folding=duration(times.folding, tell), teaching=duration(times.teaching, tell)
    )


def duration(minutes: int, tell: Translate) -> str:
    """'45 min', '1 h 20 min'."""
    hours, rest = divmod(minutes, 60)
    if not hours:
        return tell("{n} min").format(n=minutes)
    if not rest:
        return tell("{n} h").format(n=hours)
    return tell("{hours} h {minutes} min").format(hours=hours, minutes=rest)


def _sheet(sheet: SheetNeed, tell: Translate) -> Iterator[str]:
    side = tell("coloured side up") if sheet.coloured_up else tell("coloured side down")
    yield f"{sheet.words}, {side}" if sheet.words else side
    if sheet.colours:
        yield tell("colours: {colours}").format(colours=", ".join(sheet.colours))


def _amounts(need: PaperNeed, tell: Translate) -> Iterator[str]:
    least, most = need.children
    yield tell("1 for each person and model, and spares: {n}").format(n=need.sheets)
    yield tell("with young children 2 to 3 for each person: {least} to {most}").format(
        least=least, most=most
    )


def _cutting(need: PaperNeed, tell: Translate) -> Iterator[str]:
    sheet, cutting = need.sheet, need.cutting
    if cutting is None:
        yield tell("larger than the usual pages: buy sheets ready cut, or cut them from a roll")
        return
    paper = cutting.paper
    if not cutting.cuts:
        yield tell("{paper} as it is, nothing to cut").format(paper=paper.name)
    else:
        page = f"{paper.name} ({size_words(paper.width, paper.height, tell)} mm)"
        yield tell("{n} from each {page}: {pages} pages").format(
            n=cutting.count, page=page, pages=need.pages
        )
        yield from cut_lines(cutting, tell)
        if cutting.leftovers:
            left = ", ".join(size_words(r.width, r.height, tell) for r in cutting.leftovers[:4])
            yield tell("left over: {sizes} mm").format(sizes=left)
    if sheet.trimmed:
        yield tell("then cut the shape out; the practice sheet shows its outline")
    if need.saving is not None:
        width, height, count = need.saving
        yield tell("saves paper: {size} mm gives {n} from each {page}").format(
            size=size_words(width, height, tell), n=count, page=paper.name
        )


def cut_lines(cutting: Cutting, tell: Translate) -> Iterator[str]:
    """The cuts in order, numbered where there are several."""
    numbered = len(cutting.cuts) > 1
    for number, one in enumerate(cutting.cuts, start=1):
        yield (f"{number}. " if numbered else "") + _cut(one, tell)


def _cut(one: Cut, tell: Translate) -> str:
    at = ", ".join(length(x, tell) for x in one.at)
    piece = size_words(one.width, one.height, tell)
    if one.count > 1:
        words = (
            tell("cut each {piece} piece across, {at} mm from its top")
            if one.across
            else tell("cut each {piece} piece down, {at} mm from its left")
        )
    else:
        words = (
            tell("cut {piece} across, {at} mm from the top")
            if one.across
            else tell("cut {piece} down, {at} mm from the left")
        )
    return words.format(piece=piece, at=at)
