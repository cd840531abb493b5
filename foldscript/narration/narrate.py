"""A folded model narrated: the stage from `Model` to `Narration`.

In: a folded model. Out: chapters: what is needed, how the words are meant, the finished model, how the
sheet lies, then a chapter a step. A step begins with the caption of the script's author, where it has
one: what the others in the room hear. It speaks to people who see a drawing, so all that hands need is
written from the moves and from the paper as it lies, and does without it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from ..folding.ending import Ending, ending, last_words
from ..folding.part_words import heading_of
from ..folding.steps import Model, Part, Step
from ..geometry.lines import distance
from ..languages.unit_names import said
from ..languages.wording import Phrase, Template, listed, own_text, phrase, plural
from ..paper.signs import RepeatSign
from ..paper.state import State, flat
from .actions import Action, action, moved_corners, new_creases, with_creases_in_one
from .description import KnownCreases, StateDescription
from .edges import openings
from .narration import Block, Chapter, Listing, Narration, Paragraph, centimetres, count
from .places import place
from .shapes import shape
from .situation import finished_sentences, situation, tips_of_corners
from .standing import standing_sentences

_FRAME = (
    Phrase(
        "Sit at a table. Its front edge runs from left to right before you. The paper lies flat on it."
    ),
    Phrase(
        "Near and nearest mean toward your body, far and farthest mean away from you. Left and right are "
        "your own. Clockwise is the way from far over right to near and back over left, seen from above."
    ),
    Phrase(
        "Corners and edges of the shape are named by where they lie now: the farthest corner, the near "
        "left edge. After every fold these names are given anew."
    ),
    Phrase(
        "Where a shape has too many corners for such names, they are numbered clockwise, starting at the "
        "left: corner 1, notch 2. A notch is a corner that points inward. These numbers hold until a new "
        "shape is told."
    ),
    Phrase(
        "The middle line runs from near to far, halfway between left and right, where the left half of "
        "the shape mirrors its right half. Often no crease marks it. The middle of the paper is the point "
        "halfway between left and right and halfway between near and far, as the shape lies now."
    ),
    Phrase(
        "The corners of the sheet itself have letters, which they keep wherever they go, so that you can "
        "follow them. There is no need to write them on the paper."
    ),
    Phrase(
        "To fold means to fold and leave it folded. To crease means to fold, to press, and to open "
        "again, so that only a line stays that a fingernail can find. To pinch means to press only a "
        "short piece of it."
    ),
    Phrase(
        "An open edge is an edge of the sheet itself: the paper ends there. A folded edge is closed: the "
        "paper goes round it."
    ),
    Phrase(
        "Over on top means that the paper comes to lie on the side that faces up. Away underneath means "
        "that it comes to lie on the side that faces the table; lift the paper for it, or turn it over "
        "and back."
    ),
    Phrase(
        "On top is the layer that faces up, underneath is the layer on the table, and inside is between "
        "other layers. A folded tip is a corner where the paper goes round a fold, so that several layers "
        "end in it together."
    ),
    Phrase(
        "Seen from above, a valley fold sinks like a ditch and a mountain fold rises like a ridge. A line "
        "that runs level runs from left to right and comes no nearer to you at either end."
    ),
)


#: Of one step or several, once or several times.
_REPEATED: dict[tuple[bool, bool], Template] = {
    (True, True): "This does step {first} once more, in another place. It is told in full.",
    (
        True,
        False,
    ): "This does step {first} {times} times more, in other places. It is told in full.",
    (
        False,
        True,
    ): "This does steps {first} to {last} once more, in another place. It is told in full.",
    (
        False,
        False,
    ): "This does steps {first} to {last} {times} times more, in other places. It is told in full.",
}


def narrate(model: Model) -> Narration:
    """The whole model in words, from the flat sheet on: a base that it starts from comes first."""
    flat_sheet = model.begun[0].before if model.begun else model.start
    memory = _creases_of(flat_sheet)
    chapters = [
        Chapter(Phrase("What you need"), _needs(model)),
        Chapter(Phrase("How the words are meant"), (Listing(tuple((row,) for row in _FRAME)),)),
        Chapter(Phrase("The finished model"), _finished(model))
        if model.refused is None
        else Chapter(Phrase("How far it goes"), (Paragraph((last_words(model),)),)),
        Chapter(
            Phrase("Before the first step"), _before(model, StateDescription(flat_sheet, memory))
        ),
    ]
    based, memory = _base(model.begun, model.start, memory)
    chapters += based
    for step in model.steps:
        part = next((p for p in model.parts[1:] if p.first == step.number), None)
        if part is not None:
            begun, memory = _part_begins(model, part)
            chapters += begun
        heading = phrase("Step {n} of {total}", n=str(step.number), total=str(len(model.steps)))
        blocks, memory = _step(step, step.number, memory)
        pose = model.poses.get(step.number)
        if pose is not None and pose is not model.poses.get(step.number - 1):
            blocks = (
                *blocks,
                Paragraph((Phrase("Now the model is no longer flat."), *standing_sentences(pose))),
            )
        chapters.append(Chapter(heading, blocks, step.number))
    chapters.append(
        Chapter(
            Phrase("The end"),
            (Paragraph((Phrase("This was the last step. The model is finished."),)),),
        )
    )
    return Narration(model.title or model.name, model.credit, model.language, tuple(chapters))


def _base(
    begun: Sequence[Step], start: State, memory: KnownCreases
) -> tuple[list[Chapter], KnownCreases]:
    """The steps of the base that a sheet is folded to first, and how that lies when it is ready."""
    chapters: list[Chapter] = []
    for k, step in enumerate(begun, start=1):
        heading = phrase("The base, step {n} of {total}", n=str(k), total=str(len(begun)))
        blocks, memory = _step(step, -k, memory)
        chapters.append(Chapter(heading, blocks))
    if begun:
        memory = (*memory, *_creases_of(start))
        ready = Paragraph((Phrase("The base is ready. Turn it so that it lies as told here."),))
        told = (ready, *situation(StateDescription(start, memory)))
        chapters.append(Chapter(Phrase("The base"), told))
    return chapters, memory


def _part_begins(model: Model, part: Part) -> tuple[list[Chapter], KnownCreases]:
    """What a further part is, and how its paper lies before its first step."""
    title = own_text(part.title) if part.title else Phrase("Putting the units together")
    first = part.begun[0].before if part.begun else part.start
    memory = _creases_of(first)
    description = StateDescription(first, memory)
    if part.assembles:
        lies = Paragraph((Phrase("Unit 1 lies before you as it was finished."),))
        return [Chapter(title, (lies, *situation(description)))], memory
    alone = replace(model, sheet=part.sheet, parts=())
    begins = Chapter(title, (*_copies(part), *_before(alone, description)))
    chapters, memory = _base(part.begun, part.start, memory)
    return [begins, *chapters], memory


def _copies(part: Part) -> tuple[Block, ...]:
    """How often the steps of a part are done."""
    if len(part.colours) < 2:
        return ()
    once: Template = "Step {first} folds one unit. Do it {n} times, each with a sheet of its own."
    row: Template = (
        "Steps {first} to {last} fold one unit. Do them {n} times, each with a sheet of its own."
    )
    first, last, n = str(part.first), str(part.last), str(len(part.colours))
    words = phrase(once if first == last else row, first=first, last=last, n=n)
    return (Paragraph((words,)),)


def _creases_of(state: State) -> KnownCreases:
    """Creases and folds that are there before anything is narrated; they belong to no step."""
    creases = [*state.creases, *(j.segment for j in state.joints if j.folded)]
    return tuple((0, s) for s in creases)


def _needs(model: Model) -> tuple[Block, ...]:
    sheet = model.sheet
    description = StateDescription(flat(sheet))
    lengths = {round(e.length * sheet.unit_mm, 1) for e in description.outline.edges}
    x0, y0, x1, y1 = description.bounds
    if len(lengths) == 1 and len(sheet.outline) == 4:
        size = lengths.pop()
        words = phrase(
            "One square sheet of paper, {mm} mm ({cm} cm) along each edge.",
            mm=f"{size:.0f}",
            cm=centimetres(size),
        )
    else:
        words = phrase(
            "One sheet of paper, {shape}, {w} mm by {h} mm ({wc} cm by {hc} cm).",
            shape=shape(description.outline),
            w=description.mm(x1 - x0),
            h=description.mm(y1 - y0),
            wc=centimetres((x1 - x0) * sheet.unit_mm),
            hc=centimetres((y1 - y0) * sheet.unit_mm),
        )
    facts = [
        words,
        Phrase(
            "It is best if its two sides can be told apart; they are"
            " called the coloured side and the plain side."
        ),
    ]
    if model.front_colour and model.back_colour:
        facts.append(
            phrase(
                "In the drawings the coloured side is {one} and the plain side {two}.",
                one=own_text(model.front_colour),
                two=own_text(model.back_colour),
            )
        )
    blocks: list[Block] = [Paragraph(tuple(facts)), *_other_sheets(model)]
    steps = plural("The model has one step.", "The model has {n} steps.", len(model.steps))
    level = [phrase("Level: {level}.", level=Phrase(model.level))] if model.level else []
    licence = (
        [phrase("Licence: {licence}.", licence=own_text(model.licence))] if model.licence else []
    )
    blocks.append(Paragraph((steps, *level, *licence)))
    blocks += [Paragraph((own_text(note),)) for note in model.notes]
    return tuple(blocks)


def _other_sheets(model: Model) -> tuple[Block, ...]:
    """How many sheets there are, where there are more than the one told of."""
    if model.sheets == 1:
        return ()
    rows = [heading_of(part) for part in model.folded_parts]
    many = phrase("In all there are {n} sheets, for these parts:", n=str(model.sheets))
    return (Paragraph((many,)), Listing(tuple((row,) for row in rows)))


def _finished(model: Model) -> tuple[Block, ...]:
    description = StateDescription(model.finished)
    more = tips_of_corners(description) if description.outline.numbered else openings(description)
    blocks: list[Block] = [Paragraph((*finished_sentences(description), *more))]
    if model.standing is not None:
        stands = Paragraph(
            (Phrase("The finished model is not flat."), *standing_sentences(model.standing))
        )
        before = Paragraph((Phrase("Before it stands, it lies flat, and this tells of that."),))
        return (stands, before, *blocks)
    if ending(model) is not Ending.FLAT:
        blocks.append(
            Paragraph(
                (
                    Phrase("At the very end it is shaped by hand and is no longer flat."),
                    Phrase("This tells of the flat paper before that."),
                )
            )
        )
    return tuple(blocks)


def _before(model: Model, description: StateDescription) -> tuple[Block, ...]:
    coloured_up = model.sheet.front_coloured
    first = (
        Phrase("Lay the sheet before you with its coloured side up.")
        if coloured_up
        else Phrase("Lay the sheet before you with its coloured side down, on the table.")
    )
    if len(description.state.facets) > 1:
        return (
            Paragraph(
                (
                    Phrase(
                        "The model starts from paper that is folded already, not from a flat sheet."
                    ),
                )
            ),
            *situation(description),
        )
    corners = [
        phrase(
            "{name} is {where}", name=said(name), where=place(description, at, letters=False).words
        )
        for name, at in description.corners
    ]
    return (
        *(_copies(model.parts[0]) if model.parts else ()),
        Paragraph((first, phrase("It lies as {shape}.", shape=shape(description.outline)))),
        Paragraph((phrase("Of the corners of the sheet, {corners}.", corners=listed(corners)),)),
    )


def _step(step: Step, number: int, memory: KnownCreases) -> tuple[tuple[Block, ...], KnownCreases]:
    """A step's paragraphs; `number` is what its creases are remembered by, below zero for a base."""
    done: list[Action] = []
    for record in with_creases_in_one(step.records):
        one, memory = action(record, number, memory)
        if one is not None:
            done.append(one)
    blocks: list[Block] = [*_caption(step), *_repeated(step)]
    for k, one in enumerate(done, start=1):
        label = phrase("Part {k} of {n}:", k=str(k), n=str(len(done))) if len(done) > 1 else None
        after = moved_corners(one) if one.moves and k < len(done) else ()
        blocks += one.laid
        blocks.append(Paragraph((*one.sentences, *after), label))
    if not done:
        blocks.append(_nothing())
    elif _lies_elsewhere(step.before, step.after):
        blocks += situation(done[-1].after, done[0].before)
    else:
        same = (
            Phrase("Apart from this shaping, corners and folds stay where they were.")
            if _shapes(step)
            else Phrase("The paper lies as it lay before this step.")
        )
        blocks.append(Paragraph((same, *new_creases(number, StateDescription(step.after, memory)))))
    return tuple(blocks), memory


def _shapes(step: Step) -> bool:
    return any(record.solid is not None for record in step.records)


def _lies_elsewhere(before: State, after: State) -> bool:
    if before.sheet != after.sheet or len(before.facets) != len(after.facets):
        return True
    return any(
        distance(f.place(p), g.place(p)) > 1e-6
        for f, g in zip(before.facets, after.facets, strict=True)
        for p in f.outline
    ) or any(after.above(i, j) != over for (i, j), over in before.order.items())


def _caption(step: Step) -> Iterable[Block]:
    """What the script's author says of the step."""
    if step.caption:
        yield Paragraph((own_text(step.caption),), Phrase("In the author's words:"))


def _repeated(step: Step) -> list[Block]:
    """What a repeat repeats; its moves are narrated one by one all the same."""
    signs = [s for p in step.panels for s in p.signs if isinstance(s, RepeatSign)]
    out: list[Block] = []
    for sign in dict.fromkeys(signs):
        template = _REPEATED[sign.first == sign.last, sign.times == 1]
        words = phrase(
            template, first=str(sign.first), last=str(sign.last), times=count(sign.times)
        )
        out.append(Paragraph((words,)))
    return out


def _nothing() -> Paragraph:
    """A step without moves."""
    return Paragraph((Phrase("Nothing is folded in this step."),))
