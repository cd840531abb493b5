"""What of a script has no words in a language yet.

In: a parsed script and a language. Out: every title, note and caption that would be said in another one, with
its place; and a side file with room for them. Steps without a caption of their own are not among them as
long as foldscript speaks the language: their captions are written from the moves.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from ..languages.language import load_language, speaks
from ..languages.said_in import said_in, tags_of
from ..source.diagnostics import Span
from ..syntax.nodes import Caption, Program, Step
from .side_file import Original, SideFile, read_side_file, side_files, toml_text
from .speaking import same_language


@dataclass(frozen=True)
class Lacking:
    """Something untranslated: which kind of text it is, of which number, its text and where it stands.

    `text` is '' for a step whose caption is automatic, in a language that foldscript does not speak.
    """

    kind: str  # 'title', 'note', 'part', 'step', or the name of a text that there is only one of
    text: str
    span: Span | None
    number: int = 0

    @property
    def what(self) -> str:
        """'title', 'note 1', 'step 3'."""
        return f"{self.kind} {self.number}" if self.number else self.kind


def untranslated(program: Program, script: Path, tag: str) -> tuple[Lacking, ...]:
    """What has no words in a language. Raises FoldscriptError where the side file is wrong."""
    if same_language(tag, program.head.language):
        return ()
    side = _side(program, script, tag)
    return tuple(_lacking(program, side, tag))


def _side(program: Program, script: Path, tag: str) -> SideFile:
    files = side_files(script)
    found = next((t for t in tags_of(tag) if t in files), "")
    if not found:
        return SideFile(tag)
    return read_side_file(files[found], found, original(program))


def original(program: Program) -> Original:
    """What a script says itself."""
    head = program.head
    return Original(
        head.title,
        head.credit,
        head.licence,
        tuple(head.notes),
        tuple(part.title for part in program.parts if part.title),
        tuple(next((c.text for c in _own(step, program)), "") for step in program.steps),
    )


def _own(step: Step, program: Program) -> Iterator[Caption]:
    """The captions of a step in the script's own language."""
    return (c for c in step.captions if c.language in ("", program.head.language))


def _lacking(program: Program, side: SideFile, tag: str) -> Iterator[Lacking]:
    head = program.head
    if head.title and not side.title and not said_in(_pairs(head.titles), tag):
        yield Lacking("title", head.title, head.title_span)
    here = sum(note.language in tags_of(tag) for note in head.translated_notes)
    done = [bool(text) for text in side.notes]
    for k, note in enumerate(head.notes):
        if k >= here and not (not here and k < len(done) and done[k]):
            yield Lacking("note", note, head.note_spans[k], k + 1)
    titled = [part for part in program.parts if part.title]
    for k, part in enumerate(titled):
        if not (k < len(side.parts) and side.parts[k]):
            yield Lacking("part", part.title, part.span, k + 1)
    automatic = speaks(load_language(tag))
    for number, step in enumerate(program.steps, start=1):
        own = next(_own(step, program), None)
        if side.steps.get(number) or said_in(_pairs(step.captions), tag):
            continue
        if own is not None:
            yield Lacking("step", own.text, own.span, number)
        elif not automatic:
            yield Lacking("step", "", step.span, number)


def _pairs(captions: Iterable[Caption]) -> list[tuple[str, str]]:
    return [(c.language, c.text) for c in captions if c.language]


def side_file_text(lacking: Iterable[Lacking], script: Path, tag: str) -> str:
    """A side file with room for what is untranslated, beside the script's own words."""
    lines = [
        f"# The words of {script.name} in '{tag}'. Write each translation between the empty quotes;",
        "# what stays empty is said in foldscript's own words, or as the script says it.",
        "",
    ]
    found = list(lacking)
    for row in found:
        if row.kind == "title":
            lines += [f"title = {_room(row)}", ""]
    for kind in ("note", "part"):
        rows = {row.number: row for row in found if row.kind == kind}
        if rows:
            each = (_room(rows[k]) if k in rows else '""' for k in range(1, max(rows) + 1))
            lines += [f"{kind}s = [", *(f"  {one}," for one in each), "]", ""]
    lines.append("[steps]")
    lines += [f"{row.number} = {_room(row)}" for row in found if row.kind == "step"]
    return "\n".join(lines) + "\n"


def _room(row: Lacking) -> str:
    """The sentence, and room for its translation."""
    return f'{{ of = {toml_text(" ".join(row.text.split()))}, says = "" }}'
