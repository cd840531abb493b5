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
from ..source.diagnostics import Span
from ..syntax.nodes import Caption, Program
from .side_file import SideFile, read_side_file, side_files
from .speaking import said_in, same_language, tags_of


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
    parts = sum(1 for part in program.parts if part.title)
    return read_side_file(files[found], found, len(program.steps), len(program.head.notes), parts)


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
        own = next((c for c in step.captions if c.language in ("", head.language)), None)
        if side.steps.get(number) or said_in(_pairs(step.captions), tag):
            continue
        if own is not None:
            yield Lacking("step", own.text, own.span, number)
        elif not automatic:
            yield Lacking("step", "", step.span, number)


def _pairs(captions: Iterable[Caption]) -> list[tuple[str, str]]:
    return [(c.language, c.text) for c in captions if c.language]


def side_file_text(lacking: Iterable[Lacking], script: Path, tag: str) -> str:
    """A side file with room for what is untranslated, the script's own words above each line."""
    lines = [
        f"# The words of {script.name} in '{tag}'. Write the translations between the quotes;",
        "# what stays empty is said in foldscript's own words, or as the script says it.",
        "",
    ]
    found = list(lacking)
    for row in found:
        if row.kind == "title":
            lines += [f"# {row.text}", 'title = ""', ""]
    for kind in ("note", "part"):
        rows = [row for row in found if row.kind == kind]
        if rows:
            count = max(row.number for row in rows)
            lines += [f"# {row.what}: {row.text}" for row in rows]
            lines += [f"{kind}s = [", *['  "",'] * count, "]", ""]
    lines.append("[steps]")
    for row in found:
        if row.kind == "step":
            lines += [f"# {row.text}" if row.text else "#", f'{row.number} = ""']
    return "\n".join(lines) + "\n"
