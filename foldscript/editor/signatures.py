"""How the move that is being written may be said, with the part of it that is being written.

In: what is written, and a place. Out: the protocol's signature help, from the move's forms.
"""

from __future__ import annotations

from collections.abc import Sequence

from lsprotocol import types

from ..syntax.grammar import load_grammar
from .asking import CONNECTING, asked
from .hovering import forms_of, summary_of
from .written import Written

#: Words that begin a further part of a statement.
_OPENING = frozenset((*CONNECTING, "PLACE", "AS"))


def signatures(written: Written, offset: int) -> types.SignatureHelp | None:
    """The forms of the statement's move; the one that the words up to here fit best is the active one."""
    here = asked(written, offset)
    if here is None or not here.verb:
        return None
    forms = forms_of(here.verb)
    if not forms:
        return None
    said = [str(token) for token in here.before if token.type in _OPENING]
    parts = [_parts(here.verb, form) for form in forms]
    fits = [_fit(said, [word for word, _, _ in row]) for row in parts]
    best = max(range(len(forms)), key=lambda k: (fits[k], -k))
    at = len(said)
    return types.SignatureHelp(
        [
            types.SignatureInformation(
                form,
                documentation=summary_of(here.verb),
                parameters=[types.ParameterInformation((start, end)) for _, start, end in row],
                active_parameter=at if at < len(row) else None,
            )
            for form, row in zip(forms, parts, strict=True)
        ],
        active_signature=best,
        active_parameter=at if at < len(parts[best]) else None,
    )


def _parts(verb: str, form: str) -> list[tuple[str, int, int]]:
    """The parts of a form: the word that connects, '' for what follows the verb, and where it stands."""
    found: list[tuple[str, int, int]] = []
    for token in load_grammar().lex(form[len(verb) :]):
        start, end = len(verb) + (token.start_pos or 0), len(verb) + (token.end_pos or 0)
        if token.type == "COMMA":
            continue
        if token.type in _OPENING or not found:
            if not found and token.type in _OPENING:
                found.append(("", len(verb), len(verb)))
            word = str(token) if token.type in _OPENING else ""
            found.append((word, start, end))
        else:
            found[-1] = (found[-1][0], found[-1][1], end)
    return found


def _fit(said: Sequence[str], words: Sequence[str]) -> int:
    """How many of the connecting words a form has, in their order; fewer where it lacks one."""
    count, at = 0, 0
    for word in said:
        if word in words[at:]:
            at = words.index(word, at) + 1
            count += 1
        else:
            count -= 1
    return count
