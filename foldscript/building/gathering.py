"""The models of a booklet, folded and in its order.

In: a `Plan`. Out: every script that it lists with its folded model, or FoldscriptError with all that is
wrong in any of them, each fault in the script or at the line of the booklet file that names it.
"""

from __future__ import annotations

from dataclasses import replace

from ..folding.steps import Model
from ..languages.levels import LEVELS
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from .booklet_plan import Listed, Plan
from .handout import Doing, check

#: A script as listed, and its model.
Bound = tuple[Listed, Model]


def gathered(plan: Plan, doing: Doing) -> list[Bound]:
    """Every model folded, as listed or by level. Raises FoldscriptError."""
    return _ordered(plan, _folded(plan, doing))


def _folded(plan: Plan, doing: Doing) -> list[Bound]:
    """Every model folded; raises FoldscriptError with what is wrong in any of them."""
    models: list[Bound] = []
    faults: list[Diagnostic] = []
    titles: dict[str, Bound] = {}
    for listed in plan.models:
        try:
            model = check(
                listed.script, lambda stage, said=listed: doing(f"{stage} {said.name} for")
            )
        except FoldscriptError as error:
            faults += (
                fault if fault.source else replace(fault, span=place.span, source=place.source)
                for fault in error.diagnostics
                for place in (listed.place,)
            )
            continue
        model = replace(model, title=model.title or model.name)
        models.append((listed, model))
        first = titles.setdefault(model.title.casefold(), (listed, model))
        if first[0] is not listed:
            what = f"'{first[0].script}' and '{listed.script}' have one title, '{model.title}'"
            hint = Hint(
                "say in a title what tells them apart: a reader looks for them in the contents"
            )
            faults.append(listed.place.diagnostic("same-title", what, hint))
    if faults:
        raise FoldscriptError(*faults)
    return models


def _ordered(plan: Plan, models: list[Bound]) -> list[Bound]:
    """As listed; or simple models first, and of one level those with few steps first."""
    if not plan.by_level:
        return models

    def difficulty(bound: Bound) -> tuple[int, int]:
        level = bound[1].level
        rank = LEVELS.index(level) if level in LEVELS else len(LEVELS)
        return rank, len(bound[1].steps)

    return sorted(models, key=difficulty)
