"""A class plan in words: rows of a heading and what it says, for pages and for plain text.

In: a plan, and a function that gives the rows' words in another language. Out: (heading, lines).
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..folding.ending import size_fact
from ..languages.wording import ENGLISH, Phrase, Template, Translate, decimal, phrase, plural
from .cutting import Cut, Cutting
from .plan import ClassPlan, ModelPlan, PaperNeed, SheetNeed, Sheets, Times

#: Most people that one teacher looks after alone (common practice).
_ALONE = 8

Row = tuple[str, tuple[str, ...]]

BASIS: Template = (
    "Levels, times and spares are rules of thumb, common practice among teachers and not measured: "
    "a minute for each simple fold, three times as long to teach a group, and more for harder moves."
)


def class_rows(plan: ClassPlan, translate: Translate) -> Iterator[Row]:
    """What the class is, and what it takes to get ready for it."""
    yield translate("People"), (str(plan.people),)
    if plan.people > _ALONE:
        yield translate("Helpers"), (_helpers(plan.people).render(translate),)
    if len(plan.models) > 1:
        yield translate("Models"), (str(len(plan.models)),)
        yield translate("Time"), (_times(plan.times, translate),)
    if plan.tools:
        yield translate("To prepare"), tuple(translate(tool) for tool in plan.tools)
    yield translate("Mind"), tuple(caution.render(translate) for caution in plan.cautions)


def _helpers(people: int) -> Phrase:
    """How many helpers so many beginners want: common practice, and said to be a rule of thumb."""
    words: Template = "about {n}: as a rule of thumb, one for every six to eight beginners"
    return phrase(words, n=str(math.ceil(people / _ALONE)))


def paper_rows(need: PaperNeed, translate: Translate) -> Iterator[Row]:
    """How many sheets of one size, and how they are cut."""
    yield translate("Sheets"), tuple(_amounts(need, translate))
    yield translate("Cutting"), tuple(_cutting(need, translate))


def paper_title(need: PaperNeed, several: bool, translate: Translate = ENGLISH) -> str:
    """'square 15 cm: Cup, Whale'; the models only where there are several."""
    size = f"{size_words(need.sheet.width, need.sheet.height, translate)} mm"
    return f"{size}: {', '.join(need.titles)}" if several else size


def model_rows(plan: ModelPlan, translate: Translate) -> Iterator[Row]:
    """What one model needs, but for cautions and notes, which are paragraphs."""
    yield translate("Level"), tuple(_level(plan, translate))
    steps = plural("{n} step", "{n} steps", plan.steps).render(translate)
    yield translate("Time"), (f"{steps}, {_times(plan.times, translate)}",)
    if len(plan.sheets) == 1 and plan.sheets[0].amounts.each == 1:
        yield translate("Sheet"), tuple(_sheet(plan.sheets[0].sheet, translate))
    else:
        yield (
            translate("Sheets"),
            tuple(line for one in plan.sheets for line in _several(one, translate)),
        )
    sides = [length(round(side), translate) for side in plan.finished]
    label, size = size_fact(plan.ending, sides, translate)
    yield label, (size,)
    if plan.tools:
        yield translate("Tools"), tuple(_tools(plan, translate))
    hard = [(step.number, step.hard) for step in plan.lesson if step.hard]
    if hard:
        yield (
            translate("Hard"),
            tuple(
                translate("step {n}: {moves}").format(
                    n=number, moves=", ".join(translate(verb) for verb in verbs)
                )
                for number, verbs in hard
            ),
        )


def waiting_row(plan: ModelPlan, begins: int, translate: Translate) -> Row:
    """After which steps the class waits, and when the next one comes; `begins` as of the whole class."""
    told: list[str] = []
    for step, after in zip(plan.lesson, plan.lesson[1:], strict=False):
        if step.waits:
            when = duration(begins + after.starts, translate)
            told.append(
                translate("after step {n}, at about {time}").format(n=step.number, time=when)
            )
    return translate("Wait"), (*told, translate("at the end, until the last one is done"))


def _tools(plan: ModelPlan, translate: Translate) -> Iterator[str]:
    """Each tool, and how often it is used."""
    for tool, times in zip(plan.tools, plan.uses, strict=True):
        named = translate(tool)
        yield plural("{tool}, once", "{tool}, {n} times", times, tool=named).render(translate)


def size_words(width: float, height: float, translate: Translate = ENGLISH) -> str:
    """'150 × 210', without needless decimals."""
    return f"{length(width, translate)} × {length(height, translate)}"


def length(mm: float, translate: Translate = ENGLISH) -> str:
    """A length to a tenth of a millimetre, without needless decimals."""
    return decimal(f"{mm:.1f}".removesuffix(".0"), translate)


def _level(plan: ModelPlan, translate: Translate) -> Iterator[str]:
    words = translate(plan.level.words)
    if plan.hardest:
        words = translate("{level}, because of: {moves}").format(
            level=words, moves=", ".join(translate(verb) for verb in plan.hardest)
        )
    yield words
    if plan.stated is not None and plan.stated is not plan.level:
        yield translate("The script says: {level}.").format(level=translate(plan.stated.words))


def _times(times: Times, translate: Translate) -> str:
    return translate("about {folding} to fold, {teaching} to teach a group").format(
        folding=duration(times.folding, translate), teaching=duration(times.teaching, translate)
    )


def duration(minutes: int, translate: Translate) -> str:
    """'45 min', '1 h 20 min'."""
    hours, rest = divmod(minutes, 60)
    if not hours:
        return translate("{n} min").format(n=minutes)
    if not rest:
        return translate("{n} h").format(n=hours)
    return translate("{hours} h {minutes} min").format(hours=hours, minutes=rest)


def _sheet(sheet: SheetNeed, translate: Translate) -> Iterator[str]:
    side = translate("coloured side up") if sheet.coloured_up else translate("coloured side down")
    yield f"{sheet.words}, {side}" if sheet.words else side
    if sheet.colours:
        yield translate("colours: {colours}").format(colours=", ".join(sheet.colours))


def _several(one: Sheets, translate: Translate) -> Iterator[str]:
    """The same of one of several, or of several alike."""
    first, *rest = _sheet(one.sheet, translate)
    yield translate("{n} for each person: {sheet}").format(n=one.amounts.each, sheet=first)
    yield from rest


def _amounts(need: PaperNeed, translate: Translate) -> Iterator[str]:
    least, most = need.children
    if set(need.each) == {1}:
        yield translate("1 for each person and model, and spares: {n}").format(n=need.sheets)
        yield translate("with young children 2 to 3 for each person: {least} to {most}").format(
            least=least, most=most
        )
        return
    yield translate("{each} for each person, and spares: {n}").format(
        each=sum(need.each), n=need.sheets
    )
    yield translate(
        "with young children 1 to 2 more for each person and size: {least} to {most}"
    ).format(least=least, most=most)


def _cutting(need: PaperNeed, translate: Translate) -> Iterator[str]:
    sheet, cutting = need.sheet, need.cutting
    if cutting is None:
        yield translate(
            "larger than the usual pages: buy sheets ready cut, or cut them from a roll"
        )
        return
    paper = cutting.paper
    if not cutting.cuts:
        yield translate("{paper} as it is, nothing to cut").format(paper=paper.name)
    else:
        page = f"{paper.name} ({size_words(paper.width, paper.height, translate)} mm)"
        yield translate("{n} from each {page}: {pages} sheets").format(
            n=cutting.count, page=page, pages=need.pages
        )
        yield from cut_lines(cutting, translate)
        if cutting.leftovers:
            left = ", ".join(
                size_words(r.width, r.height, translate) for r in cutting.leftovers[:4]
            )
            yield translate("left over: {sizes} mm").format(sizes=left)
    if sheet.trimmed:
        yield translate("then cut the shape out; the practice sheet shows its outline")
    if need.saving is not None:
        width, height, count = need.saving
        yield translate("saves paper: {size} mm gives {n} from each {page}").format(
            size=size_words(width, height, translate), n=count, page=paper.name
        )


def cut_lines(cutting: Cutting, translate: Translate) -> Iterator[str]:
    """The cuts in order, numbered where there are several."""
    numbered = len(cutting.cuts) > 1
    for number, one in enumerate(cutting.cuts, start=1):
        yield (f"{number}. " if numbered else "") + _cut(one, translate)


def _cut(one: Cut, translate: Translate) -> str:
    at = ", ".join(length(x, translate) for x in one.at)
    piece = size_words(one.width, one.height, translate)
    if one.count > 1:
        words = (
            translate("cut each {piece} piece across, {at} mm from its top")
            if one.across
            else translate("cut each {piece} piece down, {at} mm from its left")
        )
    else:
        words = (
            translate("cut {piece} across, {at} mm from the top")
            if one.across
            else translate("cut {piece} down, {at} mm from the left")
        )
    return words.format(piece=piece, at=at)
