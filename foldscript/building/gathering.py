"""The scripts of a booklet, folded and in its order.

In: a `BookletPlan`. Out: a `Script` for each that it lists, or FoldscriptError with all that is wrong in any
of them, each fault in the script or at the line of the booklet file that names it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from ..languages.levels import LEVELS
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from .booklet.plan import BookletPlan, Listed
from .script import Doing, Script


@dataclass(frozen=True)
class ListedScript:
    """A script, and where the booklet file lists it."""

    listed: Listed
    script: Script

    @property
    def name(self) -> str:
        """What the script is called by in messages."""
        return self.listed.name

    @property
    def title(self) -> str:
        """The model's title in the script's own language; its name where it has none."""
        return self.script.model.title or self.script.model.name


def listed_scripts(plan: BookletPlan, doing: Doing) -> list[ListedScript]:
    """Every script as listed; nothing is read yet."""
    return [
        ListedScript(
            listed,
            Script(listed.script, lambda stage, name=listed.name: doing(f"{stage} {name} for")),
        )
        for listed in plan.models
    ]


def folded(scripts: Iterable[ListedScript], by_level: bool) -> list[ListedScript]:
    """The same, all of them folded: as listed, or simple models first. Raises FoldscriptError."""
    found = list(scripts)
    faults: list[Diagnostic] = []
    titles: dict[str, ListedScript] = {}
    for one in found:
        location = one.listed.location
        try:
            title = one.title
        except FoldscriptError as error:
            faults += (
                fault
                if fault.source
                else replace(fault, span=location.span, source=location.source)
                for fault in error.diagnostics
            )
            continue
        first = titles.setdefault(title.casefold(), one)
        if first is not one:
            what = f"'{first.script.path}' and '{one.script.path}' have one title, '{title}'"
            hint = Hint(
                "say in a title what tells them apart: a reader looks for them in the contents"
            )
            faults.append(location.diagnostic("same-title", what, hint))
    if faults:
        raise FoldscriptError(*faults)
    return sorted(found, key=_difficulty) if by_level else found


def _difficulty(one: ListedScript) -> tuple[int, int]:
    """The level; of one level, models with few steps come first."""
    level = one.script.model.level
    rank = LEVELS.index(level) if level in LEVELS else len(LEVELS)
    return rank, len(one.script.model.steps)
