"""What of scripts and booklets is not translated yet.

In: scripts, folders or booklet files, and languages. Out: lines that name every sentence without a
translation with its place, and side files with room for them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from ..captions.choosing import ALL, languages_of
from ..captions.side_file import SUFFIX, side_files, with_sentences
from ..captions.speaking import same_language
from ..captions.untranslated import Lacking, original, side_file_text, untranslated
from ..languages.language import languages, load_language
from ..output.writing import rewrite
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Severity, Source, Span
from ..source.finding import scripts_below
from ..source.reading import read_file
from ..source.toml_table import Table
from ..syntax.nodes import Program
from .booklet.file import BOOKLET_SUFFIX, read_booklet
from .booklet.plan import BookletPlan
from .script import Doing, Script, unheard

_SHOWN = 60


@dataclass
class Report:
    """Lines to print, how many sentences they name in each language, what went wrong, files written."""

    lines: list[str] = field(default_factory=list)
    counts: dict[str, int] = field(default_factory=dict)
    faults: list[Diagnostic] = field(default_factory=list)
    written: list[Path] = field(default_factory=list)


def report(
    paths: Sequence[Path],
    asked: Sequence[str],
    write: bool = False,
    doing: Doing = unheard,
) -> Report:
    """What is untranslated, in the languages asked for or in those that any of the scripts has words in.

    `write` makes side files for scripts that have none in a language, and puts into the others the sentences
    that they translate. Raises FoldscriptError where a
    booklet file is wrong or a language is none.
    """
    found = Report()
    booklets = [read_booklet(path) for path in paths if path.suffix == BOOKLET_SUFFIX]
    programs: dict[Path, Program] = {}
    for path in _scripts(paths, booklets, found.faults):
        script = Script(path, lambda stage, name=path.name: doing(f"{stage} {name} for"))
        try:
            programs.setdefault(path, script.program)
        except FoldscriptError as error:
            found.faults += error.diagnostics
    tags = _tags(asked, programs, booklets)
    if not tags:
        hint = Hint("name one: --language es")
        what = "no script here has words in another language"
        found.faults.append(Diagnostic("no-languages", what, None, (hint,), Severity.WARNING))
    for tag in tags:
        found.counts[tag] = 0
        for booklet in booklets:
            _tell(
                found,
                tag,
                Source(booklet.source.name, booklet.source.text),
                _of_booklet(booklet, tag),
            )
        for script, program in programs.items():
            try:
                rows = untranslated(program, script, tag)
            except FoldscriptError as error:
                found.faults += (f for f in error.diagnostics if f not in found.faults)
                continue
            _tell(found, tag, program.source, rows)
            if write:
                _write(found, script, tag, rows, program)
    return found


def _scripts(
    paths: Iterable[Path], booklets: Iterable[BookletPlan], faults: list[Diagnostic]
) -> Iterator[Path]:
    for path in paths:
        if path.is_dir():
            yield from scripts_below(path, faults)
        elif path.suffix != BOOKLET_SUFFIX:
            yield path
    for booklet in booklets:
        yield from (listed.script for listed in booklet.models)


def _tags(
    asked: Sequence[str], programs: dict[Path, Program], booklets: Iterable[BookletPlan]
) -> tuple[str, ...]:
    tags = {tag for script, program in programs.items() for tag in languages_of(program, script)}
    tags |= {tag for booklet in booklets for tag in booklet.languages}
    tags |= {tag for booklet in booklets for tag, _ in booklet.translated}
    named = [load_language(name).tag for name in asked if name != ALL]
    if not asked:
        own = {program.head.language for program in programs.values()}
        return tuple(sorted(tags - own if len(own) == 1 else tags))
    return tuple(dict.fromkeys([*named, *(sorted(tags | {*languages()}) if ALL in asked else ())]))


def _of_booklet(plan: BookletPlan, tag: str) -> list[Lacking]:
    """The booklet's own texts."""
    if same_language(tag, plan.languages[0]):
        return []
    table = Table(read_file(Path(plan.source.name), plan.source.name, "booklet file"))
    there, here = plan.in_language(tag), plan
    return [
        Lacking(name, getattr(here, name), table.span(name))
        for name in ("title", "subtitle", "introduction", "credits", "licence")
        if getattr(here, name) and getattr(here, name) == getattr(there, name)
    ]


def _tell(found: Report, tag: str, source: Source, rows: Iterable[Lacking]) -> None:
    for row in rows:
        line, column = source.position((row.span or Span(0, 0)).start)
        text = " ".join(row.text.split())
        short = text if len(text) <= _SHOWN else f"{text[: _SHOWN - 1].rstrip()}…"
        said = f': "{short}"' if short else ""
        found.lines.append(f"{source.name}:{line}:{column}: {tag}: {row.what}{said}")
        found.counts[tag] += 1


def _write(
    found: Report, script: Path, tag: str, rows: Sequence[Lacking], program: Program
) -> None:
    """A side file with room for what is lacking; one that is there gets the sentences that it translates."""
    place = side_files(script).get(tag, script.with_name(f"{script.stem}.{tag}{SUFFIX}"))
    try:
        if place.exists():
            text = read_file(place, str(place), "side file").text
            renewed = with_sentences(place, original(program))
        else:
            text, renewed = "", side_file_text(rows, script, tag) if rows else ""
        if renewed != text:
            rewrite(place, renewed)
            found.written.append(place)
    except FoldscriptError as error:
        found.faults += error.diagnostics
