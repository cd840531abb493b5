"""What has changed, in plain words for a terminal, and as JSON for other programs.

In: model changes and what is to be printed again. Out: text, without a closing line feed. The JSON is
described in README.md beside this file.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from pathlib import Path

from .comparing import Fate, Kind, ModelChange, StepChange
from .reprinting import Reprint


def changes_text(changes: Sequence[ModelChange], reprints: Sequence[Reprint]) -> str:
    """A line for each model, one for each step that is different, then the pages."""
    lines = [line for change in changes if _different(change) for line in _model(change)]
    same = sum(not _different(change) for change in changes)
    if same:
        others = "other " if same < len(changes) else ""
        lines.append(f"{same} {others}model{'' if same == 1 else 's'} as before")
    for reprint in reprints:
        lines += _pages(reprint, named=len(reprints) > 1)
    return "\n".join(lines)


def changes_json(
    changes: Sequence[ModelChange], reprints: Sequence[Reprint], page: Path | None
) -> str:
    """The same as JSON; `page` shows both versions."""
    whole = {
        "format": "foldscript-changes",
        "version": 2,
        "changed": page is not None,
        "page": None if page is None else page.as_posix(),
        "models": [_model_data(change) for change in changes],
        "booklets": [_booklet_data(reprint) for reprint in reprints],
    }
    return json.dumps(whole, ensure_ascii=False, indent=2)


def _model_data(change: ModelChange) -> dict[str, object]:
    return {
        "name": change.name,
        "was": change.was,
        "title": change.title,
        "fate": change.fate.name.lower(),
        "head": list(change.head),
        "languages": list(change.languages),
        "steps": [
            {"number": step.new, "was": step.old, "change": step.kind.name.lower()}
            for step in change.changed
        ],
    }


def _booklet_data(reprint: Reprint) -> dict[str, object]:
    return {
        "name": reprint.name,
        "language": reprint.language,
        "pages": list(reprint.pages),
        "page_count": reprint.count,
        "page_count_before": reprint.before,
        "sheets": list(reprint.sheets),
        "sheet_count": reprint.sheet_count,
    }


def _different(change: ModelChange) -> bool:
    return change.fate is not Fate.SAME or change.name != change.was


def _model(change: ModelChange) -> Iterable[str]:
    name = change.name if change.name == change.was else f"{change.name} (was {change.was})"
    if change.fate is not Fate.CHANGED:
        yield f"{name}: {change.fate.value}{_count(change)}"
        return
    total = sum(1 for step in change.steps if step.new is not None)
    parts = [f"{len(change.changed)} of {total} steps" if change.changed else ""]
    parts += [", ".join(change.head)]
    parts += [f"captions in {', '.join(change.languages)}" if change.languages else ""]
    yield f"{name}: changed: {'; '.join(part for part in parts if part)}"
    for step in change.changed:
        yield f"  {step_words(step)}"


def _count(change: ModelChange) -> str:
    if change.fate is Fate.NEW:
        return f", {len(change.steps)} step{'' if len(change.steps) == 1 else 's'}"
    return ""


def step_words(step: StepChange) -> str:
    """'step 5 (was 4): the paper changed'."""
    if step.kind is Kind.GONE:
        return f"step {step.old} of before: gone"
    was = f" (was {step.old})" if step.old not in (None, step.new) else ""
    return f"step {step.new}{was}: {step.kind.value}"


def _pages(reprint: Reprint, named: bool) -> Iterable[str]:
    """A booklet's lines; `named` tells its language."""
    name = f"{reprint.name} ({reprint.language})" if named else reprint.name
    fewer = f" ({reprint.before} before)" if reprint.before != reprint.count else ""
    if reprint.pages:
        yield f"{name}: print again {_rows('page', reprint.pages)} of {reprint.count}{fewer}"
    elif fewer:
        yield f"{name}: {reprint.count} pages, {reprint.before} before; those left are as before"
    else:
        yield f"{name}: no page changed"
    if reprint.sheets:
        numbers = [str(n) for n in reprint.sheets]
        yield (
            f"{name}, imposed: {_rows('sheet', numbers)} of {reprint.sheet_count}, "
            "the outermost first"
        )


def _rows(thing: str, labels: Sequence[str]) -> str:
    """'page 3', 'pages 3, 7 to 9': neighbours in a row are put together."""
    parts: list[str] = []
    k = 0
    while k < len(labels):
        end = k
        while end + 1 < len(labels) and _next(labels[end], labels[end + 1]):
            end += 1
        parts.append(labels[k] if end == k else f"{labels[k]} to {labels[end]}")
        if end == k + 1:
            parts[-1:] = [labels[k], labels[end]]
        k = end + 1
    return f"{thing}{'' if len(labels) == 1 else 's'} {', '.join(parts)}"


def _next(one: str, other: str) -> bool:
    return one.isdigit() and other.isdigit() and int(other) == int(one) + 1
