"""A statement between being read and being carried out: what its words stand for on the paper."""

from __future__ import annotations

from dataclasses import dataclass

from ...moves.planning.request import Clause
from ...source.diagnostics import Span


@dataclass(frozen=True)
class ResolvedStatement:
    """A statement whose words have been looked up on the paper as it lay.

    `preparation` marks what only prepared a repeat (the model turned in the mind, a flap turned like a
    page): it is no move of the script. `local` tells that the name given is known in a group only.
    """

    verb: str
    clauses: tuple[Clause, ...]
    span: Span
    new_name: str
    name_span: Span
    preparation: bool = False
    local: bool = False
