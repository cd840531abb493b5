"""The before/after page: every step that is different, as it was and as it is, side by side.

In: model changes and a style. Out: the bytes of a web page that stands alone and prints cleanly; it
has no script, and asks for nothing. Steps that only have another number are not shown. Below the steps stand
the lines of the script that are different (`text_diff.py`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from importlib import resources

from ..drawing.draw import DrawnFigure
from ..drawing.scene.scene import Scene
from ..drawing.style.styles import Style
from ..output import web
from ..output.svg import ground, item_elements, number
from ..pages.trimming import trimmed_to_ink
from ..source.reporting import render
from .comparing import Fate, Kind, ModelChange, StepChange
from .reprinting import Reprint
from .telling import changes_text, step_words
from .text_diff import text_diff


def changes_html(
    changes: Sequence[ModelChange],
    reprints: Sequence[Reprint],
    style: Style,
    before: str,
    after: str,
) -> bytes:
    """The page; `before` and `after` are what the two versions are called."""
    body = [
        "<main>",
        f"<h1>{web.text(f'Changes from {before} to {after}')}</h1>",
        f"<pre>{web.text(changes_text(changes, reprints))}</pre>",
    ]
    for change in changes:
        if change.fate in (Fate.CHANGED, Fate.NEW, Fate.BROKEN):
            body += _model(change, style, before, after)
    body.append("</main>")
    looks = f":root {{ --ground: {ground(style)}; }}\n{_sheet()}"
    return web.page(f"Changes from {before} to {after}", "en", "\n".join(body), looks)


@cache
def _sheet() -> str:
    folder = resources.files(__package__ or "foldscript.changes")
    return (folder / "changes.css").read_text("utf-8")


def _model(change: ModelChange, style: Style, before: str, after: str) -> Iterator[str]:
    yield f"<section><h2>{web.text(change.title)} <small>{web.text(change.name)}</small></h2>"
    if change.faults:
        yield f'<pre class="wrong">{web.text(render(change.faults))}</pre>'
    if change.head:
        yield f"<p>Different at the head: {web.text(', '.join(change.head))}.</p>"
    shown = [step for step in change.changed if step.kind is not Kind.NUMBER]
    if shown or change.finished:
        yield f'<table><thead><tr><th scope="col">{web.text(before)}</th>'
        yield f'<th scope="col">{web.text(after)}</th></tr></thead>'
        for step in shown:
            yield from _step(step, style)
        if change.finished:
            yield "<tbody>" + _title("the finished model changed")
            cells = "".join(
                f"<td>{_figure('', scene, '', style)}</td>" for scene in change.finished
            )
            yield f"<tr>{cells}</tr></tbody>"
        yield "</table>"
    yield text_diff(*change.texts)
    yield "</section>"


def _step(step: StepChange, style: Style) -> Iterator[str]:
    yield f'<tbody class="{step.kind.name.lower()}">{_title(step_words(step))}<tr>'
    for figures in (step.before, step.after):
        yield f"<td>{''.join(_figures(figures, style))}</td>"
    yield "</tr></tbody>"


def _title(words: str) -> str:
    return f'<tr><th colspan="2" scope="rowgroup">{web.text(words)}</th></tr>'


def _figures(figures: Iterable[DrawnFigure], style: Style) -> Iterator[str]:
    for figure in figures:
        yield _figure(figure.label, figure.scene, figure.caption, style)


def _figure(label: str, scene: Scene, caption: str, style: Style) -> str:
    """A figure at the size that it has on the page."""
    small = trimmed_to_ink(scene)
    wide, high = number(small.width), number(small.height)
    drawn = "".join(e.tostring() for e in item_elements(small.items, style))
    head = f"<b>{web.text(label)}</b> " if label else ""
    spoken = web.text(scene.description or scene.title)
    own = f' lang="{web.text(scene.language)}"'
    return (
        f'<figure{own}><svg role="img" aria-label="{spoken}" viewBox="0 0 {wide} {high}" '
        f'width="{wide}pt" height="{high}pt">{drawn}</svg>'
        f"<figcaption>{head}{web.text(caption)}</figcaption></figure>"
    )
