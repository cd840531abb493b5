"""Which single crease of a collapse to change, where what was named does not fold: found by trying.

In: the refusal, the named lines, the places where they do not fold flat, and a way to try other lines. Out:
the refusal with what to change first: a mountain for a valley, a line left out, a crease that is missing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from ...geometry.lines import line_through, point_on_segment
from ...languages.wording import Phrase
from ...paper.signs import OPPOSITE, Sense
from ...paper.vertices import Vertex
from ...source.diagnostics import Edit, Hint, Refusal, Span, add
from .named_creases import Named, Wanted
from .request import LineValue, Request

#: Changes that are tried, and shown.
_MOST_TRIED, _MOST_SHOWN = 40, 3
#: Refusals that another sense or another crease may mend.
MENDED = ("not-flat", "layers-collide")

#: So many lines are named that collide by themselves; of so many it is looked for them.
_FEW, _MANY = 3, 12

#: Tries other lines: whether all of them fold, and the code of what refuses them.
Folds = Callable[[list[Wanted]], bool]
Refused = Callable[[list[Wanted]], str]


def mended(
    request: Request,
    refusal: Refusal,
    wanted: list[Wanted],
    named: Named,
    amiss: Sequence[Vertex],
    folds: Folds,
    refused: Refused,
) -> Refusal:
    """The refusal with the single changes of which each lets the rest fold, as the first of its hints.

    Where there is none, the few lines are named whose layers collide by themselves. `amiss` are the vertices
    where the lines do not all fold, `folds` and `refused` try other lines.
    """
    found: dict[str, Hint] = {}
    ways = (*_flips(request, wanted), *_added(request, wanted, amiss), *_left_out(wanted))
    at_all = _at_all(named, amiss)
    tried = 0
    for crease, line, others, hint in ways:
        if line is not None and amiss and line not in at_all:
            continue  # another place would not fold flat still
        tried += 1
        if tried > _MOST_TRIED or len(found) >= _MOST_SHOWN:
            break
        if crease not in found and folds(others):
            found[crease] = hint
    if not found:
        return _colliding(refusal, wanted, refused)
    first, *more = found.values()
    more = [Hint(f"or {hint.text}", edit=hint.edit) for hint in more]
    others = [hint for hint in refusal.hints if "all layers" in hint.text]
    return refusal.with_hints(first, *more, *others)


def _colliding(refusal: Refusal, wanted: list[Wanted], refused: Refused) -> Refusal:
    """The refusal with the lines of which none can be left out, or the rest does not collide any more."""
    if refusal.code != "layers-collide" or not _FEW < len(wanted) <= _MANY:
        return refusal
    left = list(wanted)
    for want in wanted:
        fewer = [other for other in left if other is not want]
        if len(fewer) > 1 and refused(fewer) == refusal.code:
            left = fewer
    if len(left) > _FEW:
        return refusal
    *some, last = (_said(want.line) for want in left)
    lines = f"{', '.join(some)} and {last}"
    return Refusal(
        refusal.code,
        f"{refusal.message}; {lines} collide so even without the others",
        *refusal.hints,
        span=refusal.span,
    )


def _at_all(named: Named, amiss: Sequence[Vertex]) -> set[int]:
    """The lines that run to every one of these vertices."""
    rows = [{named[k][0] for k in v.joints if k in named} for v in amiss]
    return set.intersection(*rows) if rows else set()


#: The crease that is changed, which of the lines it is (None for one more), the lines then, what to say.
Way = tuple[str, int | None, list[Wanted], Hint]


def _flips(request: Request, wanted: list[Wanted]) -> Iterator[Way]:
    for n, want in enumerate(wanted):
        if want.sense is None:
            continue
        other = OPPOSITE[want.sense]
        text = (
            f"make {_said(want.line)} a {other.value} instead of a {want.sense.value}: "
            "then they fold together"
        )
        spot = _word_of(request, want, want.sense.value)
        edit = Edit(spot, other.value) if spot is not None else None
        yield (
            _said(want.line),
            n,
            [*wanted[:n], replace(want, sense=other), *wanted[n + 1 :]],
            Hint(text, edit=edit),
        )


def _word_of(request: Request, want: Wanted, word: str) -> Span | None:
    """Where the sense of one line is written, if it is that of no other."""
    for clause, after in zip(request.clauses, (*request.clauses[1:], None), strict=True):
        alone = len(clause.values) == 1 and clause.values[0].span == want.line.span
        if alone and clause.word == word and (after is None or after.word != "and"):
            return Span(clause.span.start, clause.span.start + len(clause.word))
    return None


def _left_out(wanted: list[Wanted]) -> Iterator[Way]:
    for n, want in enumerate(wanted if len(wanted) > 1 else ()):
        text = f"leave out {_said(want.line)}: the others fold without it"
        yield _said(want.line), n, [*wanted[:n], *wanted[n + 1 :]], Hint(text)


def _added(request: Request, wanted: list[Wanted], amiss: Sequence[Vertex]) -> Iterator[Way]:
    """Creases with names that run through a place where something is missing, and are not named here."""
    said = {want.line.name for want in wanted}
    for v in amiss[:1]:
        here = [seg for seg in request.state.creases if point_on_segment(seg, v.at)]
        names = dict.fromkeys(name for seg in here if (name := request.called([seg])))
        for name in names:
            if name in said:
                continue
            parts = tuple(seg for seg in request.state.creases if request.called([seg]) == name)
            line = LineValue(
                line_through(*parts[0]),
                None,
                (),
                Phrase(""),
                request.span,
                name=name,
                creases=parts,
            )
            for sense in (Sense.VALLEY, Sense.MOUNTAIN):
                words = f"{sense.value} {name}"
                hint = add(request.span, words, f"add '{words}': then they fold together")
                yield name, None, [*wanted, Wanted(line, sense)], hint


def _said(line: LineValue) -> str:
    return f"'{line.name}'" if line.name else line.words.render()
